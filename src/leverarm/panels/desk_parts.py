"""Small pieces that the panels of the instructor's desk share."""

from html import escape

# Tables of words: each cell stands left, unlike the tables of numbers on other panels.
STYLE = (
    "<style>.lv-panel .wide{overflow-x:auto}.lv-panel .wide table{border-collapse:collapse}"
    ".lv-panel .wide :is(td,th){text-align:left;vertical-align:top;padding:3px 12px 3px 0;"
    "border-bottom:1px solid var(--lv-muted-line);white-space:normal;overflow-wrap:break-word}"
    ".lv-panel .wide th{overflow-wrap:normal}.lv-panel h2{font-size:1.15em;margin:.8em 0 .2em}</style>"
)


def files_html(rows):
    """Files and what each is for."""
    return (
        "<ul>"
        + "".join(f"<li><b>{escape(name)}</b>: {escape(use)}</li>" for name, use in rows)
        + "</ul>"
    )
