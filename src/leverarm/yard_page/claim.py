"""A claim put together from chips, held against what was weighed."""

from collections.abc import Mapping
from dataclasses import dataclass

from leverarm.numerals import Numeric
from leverarm.stage.recorder import first_so, least, most, nearest, where
from leverarm.uncertainty import Measured, from_half_width
from leverarm.weighing.claims import COARSEST
from leverarm.yard_page.coverage import expanded
from leverarm.yard_page.readings import YardInputs
from leverarm.yard_page.weighed import YardResults


@dataclass(frozen=True)
class ClaimFound:
    """What the readings say to a claim.

    ratio               the change of its axle, times what the piece weighs
    change              the same as a weight, kg
    said_kg             what the claim would be as a weight, kg
    fits                1 where the claim is so within its ± and the rounding of speech
    """

    ratio: Numeric
    change: Numeric
    said_kg: Numeric
    fits: Numeric


def rounding_of(number: Numeric) -> Numeric:
    """What a spoken number may be rounded by, by the rules of a typed claim.

    Half of its last place that is not zero, at most a tenth of it; a number that ends in five is
    taken as one of fives.

    >>> [rounding_of(x) for x in (2.0, 1.7, 150.0, 25.0, 34.0)]
    [0.2, 0.05, 5.0, 2.5, 0.5]
    """

    def whole(by: float) -> Numeric:
        return abs(number / by - nearest(number / by)) < 1e-9

    fives = whole(5.0) * (1 - whole(10.0)) * (number >= 10)
    places = [(whole(by), by) for by in (10000.0, 1000.0, 100.0, 10.0, 1.0, 0.1)]
    place = first_so([(fives, 5.0), *places], 0.01)
    return least(place / 2, number * COARSEST)


def claim_found(typed: YardInputs, v: Mapping[str, Numeric], found: YardResults) -> ClaimFound:
    """The ClaimFound of the chips that are chosen."""
    number, weighs = v["claim"], v["claim_weighs"]
    said = Measured(number, {from_half_width("rounding of the claim", rounding_of(number)): 1.0})
    per_unit = typed.base(1.0, "weight")
    axle = v["claim_axle"]
    of_front, of_machine = 1 - least(axle, 1.0), most(axle - 1, 0.0)
    marks = {"front": of_front, "rear": 1 - of_front - of_machine, "weight": of_machine}
    change = Measured(0.0)
    for name, mark in marks.items():
        change = change + found.measured[name] * mark
    size = change * where(change.value >= 0, lambda: 1.0, lambda: -1.0)
    ratio = size / found.measured["weight"]
    asked = size * weighs + ratio * (1 - weighs)
    apart = said * where(weighs, lambda: per_unit, lambda: 1.0) - asked
    told: Numeric = 0.0
    for name, mark in marks.items():
        told = told + getattr(found, name).value * mark
    return ClaimFound(
        told / found.weight.value,
        told,
        where(weighs, lambda: number * per_unit, lambda: number * found.weight.value),
        abs(apart.value) <= expanded(apart),
    )
