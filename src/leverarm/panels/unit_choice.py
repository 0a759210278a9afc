"""The one choice of units, kept in a small file in the workbook's folder.

Pounds come first until somebody chooses.  The file holds one line, ``units: lb`` or
``units: kg``; any other text is refused in a sentence and counts as no choice.  On the class
site files go with the page: there the page's script keeps the choice in the browser, and the
note about that shows where the browser keeps nothing.
"""

from html import escape
from pathlib import Path

import ipywidgets as w

from leverarm.files import explain_os_error, write_whole
from leverarm.panels.base import IN_BROWSER, html, set_if_changed, shared
from leverarm.panels.controls import choice
from leverarm.quantities import SYSTEMS, Refusal

UNITS_FILE = "unit_choice.txt"
NAMES = [("pounds, inches, psi", "lb"), ("kilograms, meters, kPa", "kg")]
# What the file may hold; no more of it is read than a little over that.
LINES = {f"units: {system}": system for system in SYSTEMS}
_MOST_BYTES = 100

FOLLOWS = "Panels and pictures follow. For printed lines, run the notebook again."
NOT_KEPT = (
    "This browser keeps nothing, so the choice of units holds only while this page is open. "
    "Make it again on the next page."
)


def remembered_units() -> str | None:
    """The unit system that the folder's file holds, or None; a Refusal where it is spoiled."""
    try:
        with Path(UNITS_FILE).open("rb") as file:
            held = file.read(_MOST_BYTES + 1)
    except FileNotFoundError:
        return None
    text = held.decode("utf-8-sig", "replace").strip()
    if len(held) > _MOST_BYTES or text not in LINES:
        raise Refusal(
            UNITS_FILE,
            text,
            " or ".join(f'the line "{line}"' for line in LINES),
            "choose the units again, and the file is written anew",
        )
    return LINES[text]


def choose_units(system: str) -> None:
    """Show everything in this system from now on, and remember it in the folder.

    Raises OSError where the folder takes no file: the choice then holds for this notebook.
    """
    shared.set(system=system)
    write_whole(Path(UNITS_FILE), f"units: {shared.system}\n".encode())


class UnitChoice:
    """The control of the units: what is chosen here is followed everywhere and remembered.

    units   the two radio buttons;  note  what there is to say about the choice
    """

    def __init__(self, system: str | None = None) -> None:
        self.note = html("", "lv-say")
        shared.set(system=system or self._remembered())
        self.units = choice("Units", NAMES, shared.system, on_change=self.choose)
        self.widget = w.VBox([self.units, self.note])
        if IN_BROWSER:
            self.widget.add_class("lv-by-page")
            self.widget.children += (html(NOT_KEPT, "lv-not-kept"),)
        shared.follow(self)

    def _remembered(self) -> str | None:
        try:
            return remembered_units()
        except Refusal as refusal:
            self._say(f"{refusal} Until then nothing is chosen.")
        except OSError as error:
            self._say(explain_os_error(error))
        return None

    def choose(self, system: str) -> None:
        """Follow this choice from now on, and remember it."""
        if system == shared.system:
            return
        try:
            choose_units(system)
            self._say(FOLLOWS)
        except OSError as error:
            self._say(
                f"{FOLLOWS} The choice holds for this notebook only. {explain_os_error(error)}"
            )

    def catch_up(self) -> None:
        """Show a choice that was made elsewhere."""
        set_if_changed(self.units, shared.system)

    def _say(self, words: str) -> None:
        set_if_changed(self.note, escape(words))
