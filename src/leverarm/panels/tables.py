"""A small table of numbers, named row by row, that a narrow page scrolls in a box of its own."""


def table(head, rows, caption=""):
    """A table from ready HTML cells; the first cell of each row names it.

    >>> table(["", "front"], [["bucket off", "+190.0 kg"]]).endswith('<th scope="row">bucket off</th><td>+190.0 kg</td></tr></table></div>')
    True
    """
    # A cell that names nothing is no heading.
    top = "".join(f'<th scope="col">{cell}</th>' if cell else "<td></td>" for cell in head)
    body = "".join(
        f'<tr><th scope="row">{first}</th>' + "".join(f"<td>{cell}</td>" for cell in rest) + "</tr>"
        for first, *rest in rows
    )
    named = f"<caption>{caption}</caption>" if caption else ""
    # The page takes the box from the keyboard again where it has nothing to scroll.
    return f'<div class="lv-wide" tabindex="0" role="group" aria-label="Table, scrolls sideways"><table class="lv-table">{named}<tr>{top}</tr>{body}</table></div>'
