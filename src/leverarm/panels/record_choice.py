"""Which machine and day of a weigh-day record a panel shows, and what its scales can read."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

from leverarm import decision, weighing
from leverarm.decision import RECORD
from leverarm.panels.base import row, shared
from leverarm.panels.controls import dropdown, offer, text_box
from leverarm.panels.gate import with_unit

_NONE_CHOSEN = ("choose one", "")


class RecordChoice:
    """A record file, the machine and day chosen from it, and its scales.

    path        of the record
    widget      a list of machines and days, shown where there are several, and the scales' boxes
    demo        True takes the invented readings, marked so, until the record holds any
    In code: choose("Plot tractor", "2025-05-14"); step.value = "1 lb", accuracy.value = "0.5 %".
    """

    def __init__(
        self, path: Path | str, on_change: Callable[[], None], *, demo: bool = True
    ) -> None:
        self.path, self._demo, self._offering = Path(path), demo, False

        def told(_):
            return None if self._offering else on_change()

        self.days = dropdown("Machine and day", [_NONE_CHOSEN], on_change=told)
        self.days.layout.display = "none"
        self.step = text_box("Scales' smallest step", placeholder="such as 1 lb", on_change=told)
        self.accuracy = text_box("Scales' accuracy", placeholder="such as 0.5 %", on_change=told)
        self.widget = row(self.days, self.step, self.accuracy)

    def choose(self, machine: str, date: str) -> None:
        """Choose a machine and a day in code; a Refusal where the record does not hold them."""
        days = decision.read_days(self.path)
        chosen = decision.one_day(days, machine, date)
        self._offer(days)
        self.days.value = chosen.name

    @property
    def day(self) -> decision.MachineDay:
        """The machine and day shown; the file is read once for it."""
        days = decision.read_days(self.path)
        self._offer(days)
        if not days and self._demo:
            return decision.demo_day()
        if not days:
            raise decision.no_readings(self.path)
        return decision.one_day([one for one in days if self.days.value in ("", one.name)])

    def look(self) -> None:
        """Read the file and offer its machines and days."""
        self._offer(decision.read_days(self.path))

    @property
    def scales(self) -> weighing.Scales | None:
        """What was told about the scales; None where nothing was."""
        step = self.step.value.strip()
        return decision.scales_told(
            step and with_unit(step, "weight", shared.system), self.accuracy.value
        )

    def case(self, **about: Any) -> decision.Case:
        """The Case of the machine and day shown, with these scales."""
        return decision.case_of_day(self.day, scales=self.scales, **about)

    def _offer(self, days: tuple[decision.MachineDay, ...]) -> None:
        """Offer what the record holds; what was chosen stays chosen while it is there."""
        names = [one.name for one in days]
        if list(self.days.options) != [_NONE_CHOSEN, *((name, name) for name in names)]:
            at = names.index(self.days.value) + 1 if self.days.value in names else 0
            self._offering = True
            offer(self.days, [_NONE_CHOSEN, *((name, name) for name in names)], at)
            self._offering = False
        self.days.layout.display = "" if len(names) > 1 else "none"


__all__ = ["RECORD", "RecordChoice"]
