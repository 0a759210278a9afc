"""A picture of two acts: changes are said and locked in, then what answers them is shown."""

import math
from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any

from leverarm.machine import Tractor, demo_tractor
from leverarm.panels.lesson_work import as_sentence, keep_work, kept_work
from leverarm.panels.on_stage import TwoActs, started
from leverarm.quantities import Refusal, from_unit, read, to_unit, unit_of
from leverarm.stability import Loader, demo_arms
from leverarm.stage.case import AXLES, EXPLAINED, WEIGHED, WEIGHING
from leverarm.stage.recording import Draw, Input

MOST_LOAD_KG = 5000.0


class SaidFirst(TwoActs):
    """Changes of axle readings are said and locked in; then the scales are read.

    A panel of your own tells its case, its two acts and the largest change to say; ``asked``
    names the axles it asks about, or whatever else it asks for.

    locked      whether everything asked is locked in
    said        what was said: by axle the changes in kg; of a choice the value
    seen        the reader's own sentence
    """

    # What draws the act that asks, and the one that answers, of a case.
    acts: tuple[Callable[[Any], Any], Callable[[Any], Any]]
    asked: tuple[str, ...] = AXLES
    # What kind of quantity is asked for, where it is not a weight.
    kinds: Mapping[str, str] = MappingProxyType({})
    # What is chosen instead of said in numbers: each way's word in code, and its value.
    ways: Mapping[str, Mapping[str, float]] = MappingProxyType({})

    def __init__(self, lesson: str = "") -> None:
        self.locked, self.said, self.seen = False, dict[str, float](), ""
        self._part, self._lesson = 0.0, lesson
        super().__init__()
        if lesson:
            self.attempt(self._fetch)

    @property
    def case(self) -> Any:
        """What the picture starts with."""
        raise NotImplementedError

    def guess(self) -> tuple[Draw, tuple[Input, ...]]:
        """The act that asks, and its inputs."""
        draw = self.acts[0](self.case)
        return draw, draw.inputs

    def weighed(self) -> tuple[Draw, tuple[Input, ...]]:
        """The act that answers, and its inputs."""
        draw = self.acts[1](self.case)
        return draw, draw.inputs

    @property
    def most_kg(self) -> float:
        """The largest change that can be said."""
        raise NotImplementedError

    def limits(self, _name: str) -> tuple[float, float]:
        """From where to where what is asked for can be said, in kg or m."""
        return -self.most_kg, self.most_kg

    def _unit(self, name: str) -> tuple[str, str]:
        """(kind, unit shown) of what is asked for."""
        kind = self.kinds.get(name, "weight")
        return kind, unit_of(kind, self.system)

    def _shown(self, name: str, value: float) -> float:
        """What was said, in the unit shown."""
        return value if name in self.ways else to_unit(value, *self._unit(name))

    def _base(self, name: str, shown: float) -> float:
        """What was said in the unit shown, in its base unit."""
        if name in self.ways:
            return min(self.ways[name].values(), key=lambda way: abs(way - shown))
        return from_unit(shown, *self._unit(name))

    def _read(self, name: str, text: str) -> float:
        """What was said in code."""
        if name not in self.ways:
            return read(text, self._unit(name)[0], self._name(name), *self.limits(name))
        if text not in self.ways[name]:
            raise Refusal(name, text, ", ".join(self.ways[name]), "choose one")
        return self.ways[name][text]

    def act(self) -> tuple[Draw, tuple[Input, ...], dict[str, Any]]:
        if not self.locked:
            return *self.guess(), {}
        draw, inputs = self.weighed()
        said = {f"{name}_said": self._shown(name, one) for name, one in self.said.items()}
        plays = {} if self._part else {"plays": WEIGHING}
        return draw, started(inputs, {**said, "part": self._part}), plays

    def moved(self) -> None:
        self._part = self.state.get("part", 0.0)

    def did(self, what: str, written: Mapping[str, str]) -> None:
        if what == "locked":
            if not all(self.state[f"{axle}_known"] for axle in self.asked):
                raise self._not_all_said("nothing" if len(self.asked) == 1 else "one change")
            self._lock({name: self._base(name, self.state[f"{name}_said"]) for name in self.asked})
            self._keep()
        else:
            super().did(what, written)

    def _not_all_said(self, given: str) -> Refusal:
        if len(self.asked) > 1:
            return Refusal("prediction", given, "a change for both scales", "say both first")
        return Refusal(
            "prediction", given, f"a change of the {self.asked[0]} scale", "say it first"
        )

    def _name(self, asked: str) -> str:
        """How what is asked for is called."""
        return f"{asked} change" if asked in AXLES else asked

    def _lock(self, said: dict[str, float]) -> None:
        self.said, self.locked, self._part = said, True, 0.0
        self.redraw()

    def lock_in(self, **said: str) -> None:
        """Lock in from code: lock_in(front="+448 lb", rear="-188 lb")."""
        if set(said) != set(self.asked):
            raise self._not_all_said(", ".join(said) or "nothing")
        self._lock({name: self._read(name, said[name]) for name in self.asked})

    def _go_to(self, part: float) -> None:
        if self._displayed and not self.led:
            self._part = part
            self.move(part=part)
        else:
            super()._go_to(part)

    def again(self) -> None:
        """Start over with a new prediction."""
        self.locked, self.said, self.seen, self._part = False, {}, "", 0.0
        self.redraw()
        self._keep()

    def _fetch(self) -> None:
        """Go on where the reader was: what was locked in and written is kept in a file."""
        work = kept_work(self._lesson)
        said = {name: work.get(self._key(name)) for name in self.asked}
        known = {
            name: float(one)
            for name, one in said.items()
            if isinstance(one, (int, float)) and math.isfinite(one)
        }
        if len(known) < len(self.asked):
            return
        self.seen = as_sentence(work.get("seen"))
        self._lock(known)
        self._part = EXPLAINED if self.seen else WEIGHED
        self.redraw()

    def _key(self, name: str) -> str:
        """What it is kept under."""
        if name in self.ways:
            return f"{name}_said"
        base = {"length": "m", "pressure": "kpa"}.get(self.kinds.get(name, "weight"), "kg")
        return f"{name}_said_{base}"

    def _keep(self) -> None:
        """Keep what was locked in and written."""
        if self._lesson:
            said = {self._key(name): self.said.get(name) for name in self.asked}
            keep_work(self._lesson, {**said, "seen": self.seen})


class SaidOfLoader(SaidFirst):
    """The same of a tractor whose loader holds a load."""

    def __init__(
        self, tractor: Tractor | None, loader: Loader | None, load: str | float, lesson: str
    ) -> None:
        self._tractor, self._loader = tractor or demo_tractor(), loader or demo_arms()
        self._load_kg = read(load, "weight", "load in the bucket", 0, MOST_LOAD_KG, open_low=True)
        super().__init__(lesson)
