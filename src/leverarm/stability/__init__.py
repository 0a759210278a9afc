"""Arms up, downhill, sideways: where a machine on two axles stops being one.

``loader`` turns a lift angle into overhangs and heights, ``lift`` into axle loads
along the whole lift and loads that lighten the rear axle, ``braking`` asks each
braked axle for friction on a grade, ``sideways`` finds the line a machine tips
about and the tilt that crosses it.  ``formulas`` holds the bare arithmetic.

Every number here is of a rigid machine on smooth, firm ground.  Bumps, holes,
soft tires and a swinging load come on top, and all of them work the wrong way.
The operator's manual, local rules and qualified people decide.
"""

from leverarm.data import cautions
from leverarm.stability.braking import BRAKES, FRICTION, Braking, Grip, Holding, brake, holding
from leverarm.stability.lift import (
    KEEP_SHARE,
    RATED_SHARE,
    LiftPoint,
    LoadLimits,
    arc,
    lift_point,
    limits,
    load_for_share,
    peak,
)
from leverarm.stability.loader import Loader, Part, demo_arms
from leverarm.stability.sideways import (
    SIDE_FORCE,
    SideTilt,
    Stance,
    demo_stance,
    side_tilt,
    tilt_about,
    turning_speed,
)

LIFT_CAUTIONS = cautions("lifting")
SLOPE_CAUTIONS = cautions("slopes")
CAUTIONS = LIFT_CAUTIONS + SLOPE_CAUTIONS
LEFT_OUT = cautions("slopes, left out")

# Majdan et al. 2021, Applied Sciences 11:381 (abstract): percent by which the sideways angle that
# was measured on a sub-compact tractor falls short of the rigid one, with 0 to 122 kg of ballast,
# and of the one with the tires' squash counted.
RIGID_FLATTERS_PERCENT = (2.57, 2.80, 3.04, 3.42, 3.88)
WITH_SQUASH_PERCENT = (0.95, 1.11, 1.29, 1.85, 1.42)
RIGID_FLATTERS = (
    "A rigid machine's angle is too favorable. Sideways, the angle measured on a sub-compact "
    f"tractor was {min(RIGID_FLATTERS_PERCENT):.1f} to {max(RIGID_FLATTERS_PERCENT):.1f} percent "
    f"smaller than the rigid one, and still {min(WITH_SQUASH_PERCENT):.1f} to "
    f"{max(WITH_SQUASH_PERCENT):.1f} percent smaller than one that counts how the tires squash "
    "(Majdan et al. 2021). The angles here are rigid ones."
)

__all__ = [
    "BRAKES",
    "CAUTIONS",
    "FRICTION",
    "KEEP_SHARE",
    "LEFT_OUT",
    "LIFT_CAUTIONS",
    "RATED_SHARE",
    "RIGID_FLATTERS",
    "RIGID_FLATTERS_PERCENT",
    "SIDE_FORCE",
    "SLOPE_CAUTIONS",
    "WITH_SQUASH_PERCENT",
    "Braking",
    "Grip",
    "Holding",
    "LiftPoint",
    "LoadLimits",
    "Loader",
    "Part",
    "SideTilt",
    "Stance",
    "arc",
    "brake",
    "demo_arms",
    "demo_stance",
    "holding",
    "lift_point",
    "limits",
    "load_for_share",
    "peak",
    "side_tilt",
    "tilt_about",
    "turning_speed",
]
