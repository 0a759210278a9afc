"""Small pieces that the panels of the instructor's desk share."""

from html import escape


def files_html(rows):
    """Files and what each is for."""
    return (
        "<ul>"
        + "".join(f"<li><b>{escape(name)}</b>: {escape(use)}</li>" for name, use in rows)
        + "</ul>"
    )
