"""A button that takes a file from the student's computer: in a browser's Python there is no other way in."""

from html import escape

import ipywidgets as w

from leverarm.marking import add_file
from leverarm.panels.base import html, set_if_changed


class Bring:
    """The button and what it says.

    widget  the two together;  take(data)  what the button does with the bytes of a file
    """

    def __init__(self, folder, attempt, done):
        self._folder, self._attempt, self._done = folder, attempt, done
        self.button = w.FileUpload(
            accept=".txt", multiple=True, description="Bring a slip or saved answers", tooltip=""
        )
        self.button.layout.width = "auto"
        self.said = html("", "lv-say")
        self.button.observe(self._chosen, "value")
        self.widget = w.VBox([self.button, self.said])

    def _chosen(self, change):
        files = change["new"]
        if files:
            self._attempt(lambda: self.take(*(bytes(one["content"]) for one in files)))
            self.button.value = ()

    def take(self, *files):
        """Keep the files, then let the page look again."""
        set_if_changed(
            self.said,
            "<p>" + escape(" ".join(add_file(data, self._folder) for data in files)) + "</p>",
        )
        self._done()
