"""What two weighings say of the piece that came off, worked out from what may still be typed.

The same as :func:`leverarm.weighing.results.results`, with each way a machine may have been
weighed told by a mark of 0 or 1, so that one set of rows holds for all.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from leverarm import statics
from leverarm.numerals import Numeric
from leverarm.stage.case import AXLES
from leverarm.stage.recorder import both_ways, root, where
from leverarm.uncertainty import Measured, Source, from_graduation, from_half_width
from leverarm.weighing.day import WeighDay
from leverarm.weighing.facts import Machine, ScaleFacts
from leverarm.weighing.formulas import usual_scatter, weight_from_front
from leverarm.weighing.readings import SIDES
from leverarm.weighing.results import DayTilts
from leverarm.yard_page.coverage import expanded
from leverarm.yard_page.readings import ROWS, YardInputs, box_name, known_axle

Loads = dict[tuple[str, str], Measured]


@dataclass(frozen=True)
class Found:
    """A number of a result and its ±, kg or meters; the ± means nothing where it is not known."""

    value: Numeric
    half: Numeric


@dataclass(frozen=True)
class YardResults:
    """Everything the readings say.

    front, rear         what came off the front axle, and what the rear gained; a loss is negative
    weight, ahead, factor   of the piece, weighed or told
    loads               {(row, axle): load, put back level}, kg
    rear_known          1 where both axles were read both times
    weight_known        1 where weight, ahead and factor are known
    sure, all_sure      1 where the front's ± is known; where those of the piece are known too
    """

    front: Found
    rear: Found
    weight: Found
    ahead: Found
    factor: Found
    loads: Mapping[tuple[str, str], Numeric]
    measured: Mapping[str, Measured]
    base: Measured
    rear_known: Numeric
    weight_known: Numeric
    sure: Numeric
    all_sure: Numeric


def yard_results(typed: YardInputs, v: Mapping[str, Numeric]) -> YardResults:
    """The YardResults of what is typed."""
    tape = Source("wheelbase", typed.base(v["tape"], "length"), cause="tape")
    base = Measured(typed.base(v["wheelbase"], "length"), {tape: 1.0})
    rear_known = known_axle(v, "on", "rear") * known_axle(v, "off", "rear")
    loads = _level(v, _loads(typed, v), base, rear_known)
    front = loads["on", "front"] - loads["off", "front"]
    rear = loads["on", "rear"] - loads["off", "rear"]
    weight = statics.hung_weight(front, rear)
    ahead = statics.overhang_of(front, rear, base)
    factor = statics.amplification(ahead, base)
    sure = v["step_known"] + v["accuracy_known"] > 0
    told = v["has_told_weight"] + v["has_told_ahead"] > 0
    told_weight = where(
        v["has_told_weight"],
        lambda: typed.base(v["told_weight"], "weight"),
        lambda: weight_from_front(front.value, typed.base(v["told_ahead"], "length"), base.value),
    )
    told_rear = told_weight - front.value
    told_place = statics.overhang_of(front.value, told_rear, base.value)
    told_factor = statics.amplification(told_place, base.value)

    def either(weighed: Measured, otherwise: Numeric) -> Found:
        value = where(rear_known, lambda: weighed.value, lambda: otherwise)
        return Found(value, expanded(weighed))

    return YardResults(
        Found(front.value, expanded(front)),
        either(-rear, -told_rear),
        either(weight, told_weight),
        either(ahead, told_place),
        either(factor, told_factor),
        {where_: one.value for where_, one in loads.items()},
        {"front": front, "rear": -rear, "weight": weight, "ahead": ahead, "factor": factor},
        base,
        rear_known,
        rear_known + told > 0,
        sure,
        sure * rear_known,
    )


def _loads(typed: YardInputs, v: Mapping[str, Numeric]) -> Loads:
    """Each load behind its readings: the errors of the scales, and one of each reading's own."""
    step, limit = (typed.base(v[name], "weight") for name in ("step", "limit"))
    gain = v["accuracy"] / 100
    one, apart = v["one_set"], 1 - v["one_set"]
    errors = {}
    shared = {name: from_half_width(name, of) for name, of in (("gain", gain), ("zero", limit))}
    for axle in AXLES:
        own = {name: from_half_width(name, of) for name, of in (("gain", gain), ("zero", limit))}
        errors[axle] = {
            name: Measured(0.0, {shared[name]: one, own[name]: apart}) for name in shared
        }
    found: Loads = {}
    for row in ROWS:
        for axle in AXLES:
            load = Measured(0.0)
            for side in SIDES:
                name = box_name(row, axle, side)
                shown, there = typed.base(v[name], "weight"), v[f"has_{name}"]
                scatter = _usual(step, shown, gain)
                own_u = root(scatter**2 + from_graduation("", step).u ** 2)
                reading = Measured(shown, {Source(name, own_u, cause="scatter"): there})
                load = load + reading * (1 + errors[axle]["gain"]) + errors[axle]["zero"] * there
            found[row, axle] = load
    return found


def _usual(step: Numeric, shown: Numeric, gain: Numeric) -> Numeric:
    return both_ways(lambda: usual_scatter(step, shown, gain))


def _level(
    v: Mapping[str, Numeric],
    loads: Loads,
    base: Measured,
    rear_known: Numeric,
) -> Loads:
    """The loads as they were level, where pads raised one axle at a time."""
    scales = ScaleFacts(placed="moved", ground="on the ground")
    tilts = DayTilts(WeighDay(Machine("", 1.0), "", scales), base)
    frame, raised = v["piece"] <= 0, v["raised"]

    def kg(row: str) -> Numeric:
        front, rear = (loads[row, axle].value for axle in AXLES)
        return where(rear_known, lambda: front + rear, lambda: 2 * front)

    found: Loads = {}
    for row, axle in loads:
        hung, alone = (tilts.moved(axle, "bare", kg("off"), on) for on in (("frame",), ()))
        back = hung * frame + alone * (1 - frame)
        if row == "on":
            back = back + tilts.moved(axle, "piece", kg("on") - kg("off"))
        found[row, axle] = loads[row, axle] + back * raised
    return found
