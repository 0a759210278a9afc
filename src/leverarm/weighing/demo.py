"""An invented weigh day of the invented Fernhollow grounds crew: readings to practice on."""

from leverarm.machine import demo_tractor
from leverarm.weighing.record import record_row
from leverarm.weighing.scales import Scales

DAY = "2025-05-14"
# One front axle, bare, weighed five times: rolled off and on again each time.
FIVE_READINGS_KG = (601.0, 599.0, 600.0, 602.0, 600.0)
# What the crew believes of its bucket before weighing: a stamped plate, and a tape held against it.
BELIEVED = {"weight": 105.0, "u_weight": 4.0, "ahead": 1.22, "u_ahead": 0.02}
U_TAPE_M = 0.003
_READINGS = (
    ("bare", (601, 600), (799, 801)),
    ("loader frame", (829, 828), (781, 782)),
    ("loader frame + bucket", (1019, 1021), (700, 701)),
    ("ballast", (464, 463), (1186, 1188)),
    ("loader frame + bucket + ballast", (883, 882), (1087, 1086)),
)


def demo_scales():
    """Their portable scales: steps of 1 kg, half a percent, one set for both axles."""
    return Scales(graduation="1 kg", accuracy="0.5 %", zero="1 kg")


def demo_rows():
    """Five states, each weighed twice, as rows of a record.

    >>> len(demo_rows()), demo_rows()[0].state
    (10, 'bare')
    """
    tractor = demo_tractor()
    return tuple(
        record_row(
            tractor.name,
            tractor.wheelbase_m,
            state,
            front,
            rear,
            repeat=i,
            date=DAY,
            note="invented",
        )
        for state, fronts, rears in _READINGS
        for i, (front, rear) in enumerate(zip(fronts, rears), 1)
    )


def demo_pair(state):
    """(front readings, rear readings) of one state, as lists in kg."""
    return next(
        ([float(x) for x in fronts], [float(x) for x in rears])
        for name, fronts, rears in _READINGS
        if name == state
    )
