"""Reasons for each side of a question, written before any number and kept beside the notebook."""

import ipywidgets as w

from leverarm.data import Entry
from leverarm.panels.base import Panel, button, html, set_if_changed
from leverarm.panels.lesson_work import MOST_LETTERS, as_sentence, keep_work, kept_work
from leverarm.quantities import Refusal
from leverarm.stage.controls import entry

SIDES = ("off", "on")


class BothSides(Panel):
    """Two boxes, one a side.

    reasons     what was kept last, by side: "off" and "on"
    """

    def __init__(self, lesson: str) -> None:
        self._lesson, self.reasons = lesson, dict[str, str]()
        super().__init__()
        self.attempt(self._fetch)

    @property
    def _words(self) -> Entry:
        return entry("setups")

    def build(self) -> list[w.Widget]:
        self.boxes = {
            side: w.Textarea(
                description=self._words.text(f"reasons_{side}"),
                placeholder=self._words.text("reasons_hint"),
                style={"description_width": "initial"},
            )
            for side in SIDES
        }
        self.keep_button = button(self._words.text("reasons_keep"), self.keep, primary=True)
        self.reply = html("", "lv-say")
        return [*self.boxes.values(), self.keep_button, self.reply]

    def draw(self) -> None:
        set_if_changed(self.reply, self._words.text("reasons_kept") if self.reasons else "")

    def write(self, off: str, on: str) -> None:
        """Write and keep both sides from code."""
        self.boxes["off"].value, self.boxes["on"].value = off, on
        self.keep()

    def keep(self) -> None:
        """Keep what stands in both boxes."""
        self.attempt(self._keep_now)

    def _keep_now(self) -> None:
        reasons = {side: box.value.strip()[:MOST_LETTERS] for side, box in self.boxes.items()}
        missing = [self._words.text(f"reasons_{side}") for side in SIDES if not reasons[side]]
        if missing:
            raise Refusal(
                "your reasons",
                "one side or none",
                "a sentence for each side",
                f"write: {missing[0]}",
            )
        self.reasons = reasons
        self.redraw()
        keep_work(self._lesson, {f"reasons_{side}": text for side, text in reasons.items()})

    def _fetch(self) -> None:
        work = kept_work(self._lesson)
        found = {side: as_sentence(work.get(f"reasons_{side}")) for side in SIDES}
        for side, text in found.items():
            self.boxes[side].value = text
        self.reasons = found if all(found.values()) else {}
        self.redraw()


def both_sides(lesson: str) -> BothSides:
    """Reasons for each side, kept for a lesson by its number: both_sides("12").

    In code: panel.write(off="…", on="…"), panel.reasons.
    """
    return BothSides(lesson)
