"""What each row of the decision means: what is wanted, the reason, how sure it is, what it leaves
out.
"""

from dataclasses import dataclass

GROUPS = ("Load", "Least share", "Ground", "Front drive", "Slope", "Room and work")
SCALES = "good: scales and the lever, each with its ±"
PRINT = "fair: one outline on paper, which gives the tire body's share low"
DEPTH = "rough: a band between two theories of the soil"
STANDING = "level, standing still; no load in the bucket"
RIGID = (
    "tires and ground that give, bumps, holes, turns, a load that swings: "
    "all of them work the wrong way"
)


@dataclass(frozen=True)
class Meaning:
    """One row before it has numbers.

    wanted      "less" or "more" is better for mowing grass; "" where neither is
    coarse      the smallest part of a value that means a difference, where the value has no plus or
                minus of its own: judgment
    """

    group: str
    name: str
    kind: str
    wanted: str
    reason: str
    confidence: str
    leaves_out: str
    coarse: float = 0.0


MEANINGS = {
    "front": Meaning(
        "Load",
        "Front axle, mowing",
        "weight",
        "less",
        "A load ahead of the front axle puts more than its own weight there.",
        SCALES,
        STANDING,
    ),
    "rear": Meaning(
        "Load",
        "Rear axle, mowing",
        "weight",
        "less",
        "What hangs ahead lifts the rear; ballast behind loads it with more than its own weight.",
        SCALES,
        STANDING,
    ),
    "total": Meaning(
        "Load",
        "Whole machine, mowing",
        "weight",
        "less",
        "All that hangs on the machine is carried by the ground somewhere.",
        SCALES,
        STANDING,
    ),
    "front_share": Meaning(
        "Load",
        "Front share, mowing",
        "share",
        "",
        "Where the weight sits decides how it steers and brakes.",
        SCALES,
        "a share alone says nothing about the ground",
    ),
    "front_least": Meaning(
        "Least share",
        "Front axle at its lightest",
        "share",
        "more",
        "A front axle that is too light does not steer. A carried mower behind lifts it.",
        SCALES,
        "braking, uphill starts, a mower that hooks",
    ),
    "rear_least": Meaning(
        "Least share",
        "Rear axle at its lightest",
        "share",
        "more",
        "Rear brakes and most of the pull need a loaded rear axle.",
        SCALES,
        "a full or raised bucket takes far more off the rear than an empty one",
    ),
    "front_pressure": Meaning(
        "Ground",
        "Pressure under a front tire",
        "pressure",
        "less",
        "Tire pressure sets it more than load: the contact patch grows with the load.",
        PRINT,
        "a mean: lugs and edges press harder",
        0.05,
    ),
    "rear_pressure": Meaning(
        "Ground",
        "Pressure under a rear tire",
        "pressure",
        "less",
        "Tire pressure sets it more than load: the contact patch grows with the load.",
        PRINT,
        "a mean: lugs and edges press harder",
        0.05,
    ),
    "front_stress_1": Meaning(
        "Ground",
        "Stress {0} under a front tire",
        "pressure",
        "less",
        "Near the surface it follows the tire's pressure.",
        DEPTH,
        "wetness, passes, layers; no rut is predicted",
        0.10,
    ),
    "front_stress_2": Meaning(
        "Ground",
        "Stress {1} under a front tire",
        "pressure",
        "less",
        "Deeper down it follows the load.",
        DEPTH,
        "wetness, passes, layers; no rut is predicted",
        0.10,
    ),
    "rear_stress_1": Meaning(
        "Ground",
        "Stress {0} under a rear tire",
        "pressure",
        "less",
        "Near the surface it follows the tire's pressure.",
        DEPTH,
        "wetness, passes, layers; no rut is predicted",
        0.10,
    ),
    "rear_stress_2": Meaning(
        "Ground",
        "Stress {1} under a rear tire",
        "pressure",
        "less",
        "Deeper down it follows the load.",
        DEPTH,
        "wetness, passes, layers; no rut is predicted",
        0.10,
    ),
    "scuff": Meaning(
        "Front drive",
        "Scuff index (100 with everything on)",
        "number",
        "less",
        "With the front drive in, something must slip. "
        "Rubber wears as load times distance slipped.",
        "rough: lead and squash as told; the axle that carries less slips, and wears as its load",
        "hours, money, torn grass",
        0.10,
    ),
    "grade": Meaning(
        "Slope",
        "Nose downhill: slides or tips at",
        "angle",
        "more",
        "Rear brakes hold by the load on the rear axle. Nose downhill that load is smaller.",
        "rough: friction is a guess until it is tried",
        RIGID,
        0.05,
    ),
    "uphill": Meaning(
        "Slope",
        "Nose uphill: front axle empty at",
        "angle",
        "more",
        "Uphill the load goes to the rear. A light front axle runs out first.",
        "fair: depends on heights as told",
        RIGID,
        0.05,
    ),
    "sideways": Meaning(
        "Slope",
        "Across: tipping line crossed at",
        "angle",
        "more",
        "The machine tips about a line from a rear tire to the front axle's pin.",
        "fair: depends on heights, track and pin as told",
        RIGID,
        0.05,
    ),
    "length": Meaning(
        "Room and work",
        "Reach ahead of the front axle",
        "length",
        "less",
        "A long nose is in the way at trees, beds and gates.",
        "good: tape",
        "what the driver can see",
        0.01,
    ),
    "minutes": Meaning(
        "Room and work",
        "Minutes, off and on again",
        "minutes",
        "less",
        "The minutes are the ones you stated.",
        "yours",
        "the walk, the helper, a place to stand the loader",
        0.01,
    ),
}
