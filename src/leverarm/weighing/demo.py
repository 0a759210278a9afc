"""An invented weigh day of the invented Fernhollow grounds crew: readings to practice on."""

from dataclasses import replace

from leverarm.machine import Attachment, demo_tractor
from leverarm.quantities import from_unit
from leverarm.weighing.day import WeighDay, weigh_day
from leverarm.weighing.facts import machine, scale_facts
from leverarm.weighing.readings import weighing
from leverarm.weighing.scales import Scales

DAY = "2025-05-14"
# One front axle, bare, weighed five times: rolled off and on again each time.
FIVE_READINGS_LB = (1322.0, 1318.0, 1320.0, 1324.0, 1320.0)
FIVE_READINGS_KG = tuple(from_unit(reading, "weight", "lb") for reading in FIVE_READINGS_LB)
# What the crew believes of its bucket before weighing: a stamped plate, and a tape held against it.
BELIEVED = {
    "weight": from_unit(250, "weight", "lb"),
    "u_weight": from_unit(8, "weight", "lb"),
    "ahead": from_unit(48, "length", "in"),
    "u_ahead": from_unit(1, "length", "in"),
}
U_TAPE_M = 0.003
# Front and rear readings in pounds, each set-up weighed twice.
_READINGS_LB = (
    ("bare", (1322, 1320), (1758, 1762)),
    ("loader frame", (1828, 1826), (1714, 1716)),
    ("loader frame + bucket", (2272, 2276), (1524, 1526)),
    ("ballast", (1042, 1040), (2558, 2562)),
    ("loader frame + bucket + ballast", (1996, 1994), (2328, 2326)),
)

# How far off one reading typically is on the scales of the two lessons about trust and claims.
READING_ERROR_KG = from_unit(3, "weight", "lb")
# The bucket weighed once with them, front and rear, and forks instead of it, as they truly are.
_BUCKET_LB = (("loader frame", 1827, 1714), ("loader frame + bucket", 2274, 1527))
FORKS = Attachment("pallet forks", "325 lb", "39 in")


def demo_day() -> WeighDay:
    """The invented weigh day: five set-ups, each weighed twice, and what the crew told.

    >>> demo_day().name, len(demo_day().rows), demo_day().invented
    ('Plot tractor on 2025-05-14', 10, True)
    """
    tractor = demo_tractor()
    told = machine(tractor.name, tractor.wheelbase_m, wheelbase_error=U_TAPE_M)
    rows = (
        weighing(setup, front, rear, "lb", i, "invented")
        for setup, fronts, rears in _READINGS_LB
        for i, (front, rear) in enumerate(zip(fronts, rears), 1)
    )
    facts = scale_facts("2 lb", "0.5 %", "2 lb", placed="moved")
    made = weigh_day(told, DAY, facts, rows, unchanged=True, system="lb")
    return replace(made, invented=True)


def bucket_day() -> WeighDay:
    """The invented crew's bucket, weighed on and off once: one machine on one day.

    >>> [row.front.total for row in bucket_day().rows], bucket_day().invented
    ([1827.0, 2274.0], True)
    """
    tractor = demo_tractor()
    told = machine(tractor.name, tractor.wheelbase_m, wheelbase_error=U_TAPE_M)
    rows = (weighing(setup, front, rear, "lb", 1, "invented") for setup, front, rear in _BUCKET_LB)
    facts = scale_facts("1 lb", placed="moved")
    made = weigh_day(told, DAY, facts, rows, unchanged=True, system="lb")
    return replace(made, invented=True)


def demo_scales() -> Scales:
    """Their portable scales: steps of 2 lb, half a percent, one set for both axles."""
    return Scales(graduation="2 lb", accuracy="0.5 %", zero="2 lb")


def demo_pair(setup: str) -> tuple[list[float], list[float]]:
    """(front readings, rear readings) of one set-up, as lists in kg."""
    fronts, rears = next(readings[1:] for readings in _READINGS_LB if readings[0] == setup)

    def kg(readings):
        return [from_unit(one, "weight", "lb") for one in readings]

    return kg(fronts), kg(rears)
