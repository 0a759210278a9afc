"""What cannot be as it was typed: the page stops and asks, and nothing is lost."""

from collections.abc import Mapping
from dataclasses import dataclass

from leverarm.numerals import Numeric
from leverarm.stage.recorder import least, most, where
from leverarm.weighing.plausible import LEAST_AXLE_SHARE, MOST_UNEVEN
from leverarm.weighing.readings import SIDES
from leverarm.weighing.usual import KINDS
from leverarm.yard_page.readings import ROWS, YardInputs, box_name, raw_axles

# What is asked about, in the order in which it is asked: the plainest cause first.
CAUSES = (
    *("nothing on it", "uneven", "swapped on", "swapped off", "both swapped"),
    *("rows exchanged", "cannot be", "too heavy"),
)


@dataclass(frozen=True)
class Doubts:
    """Which cause is likely, as a mark of 0 or 1 for each, at most one of them 1.

    front, rear     the changes as typed, with it on less with it off, in the unit shown
    weighs          1 where what came off weighs more than nothing: only then has it a lever arm
    """

    marks: Mapping[str, Numeric]
    front: Numeric
    rear: Numeric
    weighs: Numeric

    @property
    def any(self) -> Numeric:
        """1 where there is something to ask."""
        total: Numeric = 0.0
        for mark in self.marks.values():
            total = total + mark
        return total > 0


def doubts(typed: YardInputs, v: Mapping[str, Numeric], rear_known: Numeric) -> Doubts:
    """The Doubts of what is typed."""
    axle = raw_axles(v)
    f_on, r_on, f_off, r_off = (axle[row, one] for row in ROWS for one in ("front", "rear"))
    # What these scales may be off by, so that a small loss at the rear is no gain.
    slack = 3 * most(v["step"], 0.005 * most(f_on, r_on))

    def likely(front: Numeric, rear: Numeric) -> Numeric:
        """1 where changes are those of a loader's piece: it weighs, and hangs ahead."""
        weight = front + rear
        frame = where(v["piece"] <= 0, lambda: 0.0, lambda: 1.0)
        behind = where(frame, lambda: -KINDS["frame"].least_ahead, lambda: 0.0)
        share = behind / _wheelbase_m(typed, v)
        return (front > 0) * (weight > 0) * (rear <= share * weight + slack)

    typed_so = likely(f_on - f_off, r_on - r_off)
    ways = {
        "swapped on": likely(r_on - f_off, f_on - r_off),
        "swapped off": likely(f_on - r_off, r_on - f_off),
        "both swapped": likely(r_on - r_off, f_on - f_off),
        "rows exchanged": likely(f_off - f_on, r_off - r_on),
    }
    known = rear_known
    weight = f_on - f_off + r_on - r_off
    piece = KINDS["front"].most_weight + where(
        v["piece"] <= 0, lambda: 0.0, lambda: KINDS["frame"].most_weight
    )
    asked = {
        "nothing on it": known * _bare(axle),
        "uneven": _uneven(v),
        **{name: known * (1 - typed_so) * so for name, so in ways.items()},
        "cannot be": where(known, lambda: 1 - typed_so, lambda: f_on <= f_off),
        "too heavy": known * (weight > piece * (f_off + r_off)),
    }
    left: Numeric = 1.0
    marks = {}
    for name in CAUSES:
        marks[name] = left * asked[name]
        left = left * (1 - marks[name])
    weighs = where(known, lambda: weight > 0, lambda: f_on > f_off)
    return Doubts(marks, f_on - f_off, r_on - r_off, weighs)


def _wheelbase_m(typed: YardInputs, v: Mapping[str, Numeric]) -> Numeric:
    return typed.base(v["wheelbase"], "length")


def _bare(axle: Mapping[tuple[str, str], Numeric]) -> Numeric:
    """1 where an axle carries next to nothing."""
    marks: Numeric = 0.0
    for row in ROWS:
        front, rear = axle[row, "front"], axle[row, "rear"]
        marks = marks + (least(front, rear) < LEAST_AXLE_SHARE * (front + rear))
    return marks > 0


def _uneven(v: Mapping[str, Numeric]) -> Numeric:
    """1 where left and right wheel of an axle are far apart."""
    marks: Numeric = 0.0
    for row in ROWS:
        for axle in ("front", "rear"):
            left, right = (v[box_name(row, axle, side)] for side in SIDES)
            known_left, known_right = (v[f"has_{box_name(row, axle, side)}"] for side in SIDES)
            both = known_left * known_right
            marks = marks + both * (abs(left - right) > MOST_UNEVEN * (left + right))
    return marks > 0
