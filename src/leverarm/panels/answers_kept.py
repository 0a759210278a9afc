"""What a student sees of the answer file: where it lies, a copy to take along, what it holds."""

from base64 import b64encode
from hashlib import sha1
from html import escape
from pathlib import Path

import ipywidgets as w

from leverarm.panels.base import IN_BROWSER, button, html, set_if_changed, show_if

OPEN, CLOSED = "Close the file", "Show what the file holds"


class AnswersKept:
    """The lines under a problem that say what is kept.

    said    where the answers are, and a link to save a copy
    look    the button that opens the file's own words;  held  those words
    """

    def __init__(self, *, spare: bool) -> None:
        """A file of practice, which goes away, is ``spare``."""
        self._spare, self._data = spare, b""
        self._open = False
        self.said, self.held = html(), html()
        self.look = button(CLOSED, self.turn)
        self.widget = w.VBox([self.said, self.look, self.held])

    def turn(self) -> None:
        """Open what the file holds, or close it again."""
        self._open = not self._open
        self.look.description = self.look.tooltip = OPEN if self._open else CLOSED
        self._draw()

    def show(self, path: Path, *, fresh: bool) -> None:
        """Tell of the file as it is now; fresh: an answer was written to it in this visit."""
        self._data = path.read_bytes() if path.is_file() else b""
        set_if_changed(self.said, self._said(path, fresh))
        self._draw()

    def _draw(self) -> None:
        show_if(self._data, self.look)
        show_if(self._data and self._open, self.held)
        if self._data and self._open:
            text = escape(self._data.decode("utf-8", "replace"))
            set_if_changed(self.held, f'<pre class="lv-file">{text}</pre>')

    def _said(self, path: Path, fresh: bool) -> str:
        """Where the answers are, and a copy to take along.

        In a browser's tab the copy is the only thing that lasts.  The page reads the stamp, and
        asks before it closes on answers whose stamp no download had.
        """
        if self._spare:
            return "<p>This is practice. Its answers are gone when you close the notebook.</p>"
        if not self._data:
            where = "" if IN_BROWSER else ", beside this notebook"
            return f"<p>Your first check starts your answer file{where}.</p>"
        name = escape(path.name)
        link = (
            f'<a style="text-decoration:underline" download="{name}" '
            f'href="data:text/plain;base64,{b64encode(self._data).decode()}">Save a copy</a>'
        )
        if not IN_BROWSER:
            return (
                f"<p>Every check is kept in <b>{name}</b>, beside this notebook. That is the file "
                f"to hand in. {link}</p>"
            )
        stamp = sha1(self._data).hexdigest()[:12] if fresh else ""
        return (
            f'<p class="lv-answers" data-file="{name}" data-stamp="{stamp}"><b>Your answers are '
            "in this tab only, until you save a copy.</b> Save it again after your last answer. "
            f"<b>{name}</b> is the file to hand in. {link}</p>"
        )
