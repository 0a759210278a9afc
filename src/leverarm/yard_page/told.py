"""Everything the screens say of what is typed: the results once, and their words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cached_property

from leverarm.numerals import Numeric
from leverarm.quantities import show_number
from leverarm.stage.case import AXLES
from leverarm.stage.recorder import first_so, where
from leverarm.yard_page.claim import ClaimFound, claim_found
from leverarm.yard_page.digits import ResultDigits, result_digits, up_to
from leverarm.yard_page.doubts import Doubts, doubts
from leverarm.yard_page.picture import Seen
from leverarm.yard_page.readings import ROWS, YardInputs, known_axle, raw_axles
from leverarm.yard_page.weighed import YardResults, yard_results

# What may have come off, in the order of its chips, as the day's file and the pages name it.
PIECES = ("bucket", "loader frame", "whole loader")
LENGTH_PLACES = {"in": 1, "m": 2}
ONE_WEIGHT = {"lb": "pounds", "kg": "kilograms"}


class YardTold:
    """What is typed in one unit system, and what follows from it."""

    def __init__(self, typed: YardInputs, v: Mapping[str, Numeric]) -> None:
        self.typed, self.v = typed, v
        self.unit, self.length = typed.units.weight, typed.units.length
        self.results: YardResults = yard_results(typed, v)
        self.axles = raw_axles(v)
        self.known = {(row, axle): known_axle(v, row, axle) for row in ROWS for axle in AXLES}
        self.digits: ResultDigits = self._digits()
        self.doubts: Doubts = doubts(typed, v, self.results.rear_known)
        self.claim: ClaimFound = claim_found(typed, v, self.results)

    def _digits(self) -> ResultDigits:
        per = self.typed.base(1.0, "weight")
        loads = {key: load / per for key, load in self.results.loads.items()}
        weight = self.results.weight.value / per
        known, wheelbase = self.results.rear_known, self.v["wheelbase"]
        return result_digits(loads, weight, known, wheelbase, LENGTH_PLACES[self.length])

    @cached_property
    def piece(self) -> str:
        """What came off."""
        return self._named(PIECES)

    @cached_property
    def piece_first(self) -> str:
        """The same at the start of a sentence."""
        return self._named([one.capitalize() for one in PIECES])

    def _named(self, names: Sequence[str]) -> str:
        *first, last = names
        return first_so([(self.v["piece"] <= n, name) for n, name in enumerate(first)], last)

    def in_unit(self, kg: Numeric) -> Numeric:
        """A weight in the unit shown."""
        return kg / self.typed.base(1.0, "weight")

    def weight_half(self, kg: Numeric) -> str:
        """The ± of a weight in the digits of the headline."""
        return up_to(self.in_unit(kg), self.digits.places)

    def if_sure(self, half: str, sure: Numeric) -> str:
        """A ± where it is known."""
        return where(sure, lambda: f" ± {half}", lambda: "")

    @cached_property
    def front_said(self) -> str:
        """What came off the front axle, with its ± where it is known."""
        half = self.if_sure(self.weight_half(self.results.front.half), self.results.sure)
        return f"{self.digits.headline.text()}{half} {self.unit}"

    @cached_property
    def weight_said(self) -> str:
        """What the piece weighs, with its ± where it was weighed."""
        half = self.if_sure(self.weight_half(self.results.weight.half), self.results.all_sure)
        return f"{self.digits.weight.text()}{half} {self.unit}"

    @cached_property
    def overhang_said(self) -> str:
        """How far ahead of the front axle the piece hangs, with its ±."""
        places = LENGTH_PLACES[self.length]
        half = up_to(self.results.ahead.half / self.typed.base(1.0, "length"), float(places))
        shown = show_number(self.digits.overhang.value, places)
        return f"{shown}{self.if_sure(half, self.results.all_sure)} {self.length}"

    @cached_property
    def factor_said(self) -> str:
        """How many times its own weight came off, with its ±."""
        half = up_to(self.results.factor.half, 2.0)
        shown = show_number(self.digits.factor_to(2), 2)
        return f"{shown}{self.if_sure(half, self.results.all_sure)}"

    @property
    def rear_gains(self) -> Numeric:
        """1 where the rear gained as the piece came off."""
        return self.digits.rear_gain.value >= 0

    @cached_property
    def working(self) -> tuple[str, str, str]:
        """Three lines that anyone can check with a pencil."""
        digits, unit, length = self.digits, self.unit, self.length
        sign = where(self.rear_gains, lambda: "+", lambda: "−")
        side = where(digits.overhang.value >= 0, lambda: "+", lambda: "−")
        weight, factor = digits.weight.text(), digits.factor.text()
        overhang, wheelbase = digits.overhang.size.text(), digits.wheelbase.text()
        gain = digits.rear_gain.size.text()
        return (
            f"{weight} {unit} {sign} {gain} {unit} = {digits.came_off.text()} {unit}",
            f"{weight} {unit} × {factor} = {digits.headline.text()} {unit}",
            f"{factor} = 1 {side} {overhang} {length} ÷ {wheelbase} {length}",
        )

    @cached_property
    def seen(self) -> Seen:
        """What the pictures show."""
        on, off = ({axle: self.axles[row, axle] for axle in AXLES} for row in ROWS)
        digits = self.digits
        texts = {
            f"{axle}_way": f"{show_number(on[axle], 0)} → {show_number(off[axle], 0)}"
            for axle in AXLES
        }
        texts |= {
            f"{axle}_change": show_number(off[axle] - on[axle], 0, sign=True) for axle in AXLES
        }
        texts["piece_weight"] = digits.weight.text()
        texts["from_rear"] = f"{digits.rear_gain.text()} from the rear"
        return Seen(
            self.unit,
            on,
            off,
            self.in_unit(self.results.weight.value),
            digits.rear_gain.value,
            self.results.ahead.value,
            self.typed.base(self.v["wheelbase"], "length"),
            self.results.rear_known,
            self.results.weight_known,
            self.v["piece"] <= 0,
            texts,
        )
