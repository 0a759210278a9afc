"""A small table of numbers, named row by row, that a narrow page scrolls in a box of its own."""


def table(head, rows, caption=""):
    """A table from ready HTML cells; the first cell of each row names it.

    >>> table(["", "front"], [["bucket off", "+190.0 kg"]])[:36]
    '<div class="lv-wide"><table class="l'
    """
    # A cell that names nothing is no heading.
    top = "".join(f'<th scope="col">{cell}</th>' if cell else "<td></td>" for cell in head)
    body = "".join(f'<tr><th scope="row">{first}</th>' + "".join(f"<td>{cell}</td>" for cell in rest) + "</tr>" for first, *rest in rows)
    named = f"<caption>{caption}</caption>" if caption else ""
    return f'<div class="lv-wide"><table class="lv-table">{named}<tr>{top}</tr>{body}</table></div>'
