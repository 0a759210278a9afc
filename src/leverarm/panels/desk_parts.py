"""Small pieces that the panels of the instructor's desk share."""

from html import escape

import ipywidgets as w

# Tables of words: each cell stands left, unlike the tables of numbers on other panels.
STYLE = (
    "<style>.lv-panel .wide{overflow-x:auto}.lv-panel .wide table{border-collapse:collapse}"
    ".lv-panel .wide :is(td,th){text-align:left;vertical-align:top;padding:3px 12px 3px 0;"
    "border-bottom:1px solid var(--lv-muted-line);white-space:normal;overflow-wrap:break-word}"
    ".lv-panel .wide th{overflow-wrap:normal}.lv-panel h2{font-size:1.15em;margin:.8em 0 .2em}</style>"
)


def dropdown(label, options, value=None):
    """A named drop-down list; options are texts or (text, value) pairs."""
    made = w.Dropdown(
        description=label,
        options=options,
        style={"description_width": "initial"},
        **({} if value is None else {"value": value}),
    )
    made.add_class("lv-ask")
    return made


def files_html(rows):
    """Files and what each is for."""
    return (
        "<ul>"
        + "".join(f"<li><b>{escape(name)}</b>: {escape(use)}</li>" for name, use in rows)
        + "</ul>"
    )


def offer(made, options, at=-1):
    """Offer these options in a list, the one at a place chosen; nothing moves where they are the same."""
    if list(made.options) != list(options):
        made.options = options
        made.index = range(len(options))[at] if options else None
