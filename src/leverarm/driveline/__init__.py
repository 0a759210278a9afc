"""Front drive: lead, turning, what slips, a relative wear index.

A loader squashes the front tires and so lowers the lead; in a tight turn the front is
dragged, not over-driven.

>>> off = demo_drive()
>>> on = off.squashed(front="10 mm", rear="-2 mm")
>>> turning = off.mismatch(2.5)
>>> f"lead {off.lead:.1f} %, with loader {on.lead:.1f} %; in a turn of 2.5 m {turning:.0f} %"
'lead 3.1 %, with loader 1.9 %; in a turn of 2.5 m -17 %'
"""

from leverarm.driveline.drive import (
    AREAS,
    CAUTIONS,
    M2_PER_ACRE,
    M2_PER_HECTARE,
    ROLLING_SHARE,
    WEAR_EXPONENT,
    WEAR_LAW,
    Drive,
    Mowing,
    demo_drive,
    demo_mowing,
    lighter_axle,
    wear_beside,
    wear_of_lighter_axle,
)
from leverarm.driveline.formulas import (
    fitting_radius,
    front_for,
    front_path_ratio,
    lead,
    path_over,
    roll_out_lead,
    rolling_circumference,
    slip_distance,
    squashed,
    turn_mismatch,
    turning_path,
    turns_ratio,
    turns_to_count,
    wear_index,
)
from leverarm.driveline.measure import ACCEPTED, WANTED, RollOut, Window, lead_verdict

__all__ = [
    "ACCEPTED",
    "AREAS",
    "CAUTIONS",
    "M2_PER_ACRE",
    "M2_PER_HECTARE",
    "ROLLING_SHARE",
    "WANTED",
    "WEAR_EXPONENT",
    "WEAR_LAW",
    "Drive",
    "Mowing",
    "RollOut",
    "Window",
    "demo_drive",
    "demo_mowing",
    "fitting_radius",
    "front_for",
    "front_path_ratio",
    "lead",
    "lead_verdict",
    "lighter_axle",
    "path_over",
    "roll_out_lead",
    "rolling_circumference",
    "slip_distance",
    "squashed",
    "turn_mismatch",
    "turning_path",
    "turns_ratio",
    "turns_to_count",
    "wear_beside",
    "wear_index",
    "wear_of_lighter_axle",
]
