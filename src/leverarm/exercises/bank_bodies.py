"""Free bodies to build, lessons 01 to 07.  Arms are measured from the best pivot."""

from leverarm.exercises.free_body import Force, FreeBodyKind

_CUT = "Inside the body forces come in pairs and cancel. Which body outside does it?"
_PIN = Force("P", "the force of the pins between loader and bucket", "down", "pins", inside=_CUT)
_TIRE = Force(
    "N",
    "the force with which the front tires press on the ground",
    "down",
    "front axle",
    inside="That force acts on the ground, not on the machine. What does the ground do to the machine?",
)
_SHAFT = Force(
    "S", "the pull of the frame between front and rear axle", "back", "middle", inside=_CUT
)
_FRONT, _REAR = "front axle", "rear axle"
_F_AT_REAR = Force("F", "the reaction of the ground at the front axle", "up", _FRONT, arm="L")
_R_AT_REAR = Force("R", "the reaction of the ground at the rear axle", "up", _REAR, arm="0")
_F_AT_FRONT = Force("F", "the reaction of the ground at the front axle", "up", _FRONT, arm="0")
_R_AT_FRONT = Force("R", "the reaction of the ground at the rear axle", "up", _REAR, arm="L")
_CG = "center of gravity"
_BODIES = ("tractor", "bucket", "tractor and bucket", "ground")
_ASKED_FRONT = {
    _FRONT: "About the front axle F has no arm and drops out, and F is asked.",
    _CG: "About the center of gravity both F and R have an arm: two unknowns in one equation.",
}
_ASKED_REAR = {
    _REAR: "About the rear axle R has no arm and drops out, and R is asked.",
    _CG: "About the center of gravity both F and R have an arm: two unknowns in one equation.",
}

KINDS = (
    FreeBodyKind(
        "body_plank",
        1,
        "Free body: the plank",
        "An even plank lies on two bathroom scales, a distance S apart. A jug of weight J stands d from the left scale; the plank weighs P. "
        "Build the free body that gives the right scale's reading B in one equation.",
        "plank and jug",
        ("plank", "jug", "plank and jug", "scales"),
        (
            Force("P", "the weight of the plank", "down", "middle", arm="S/2"),
            Force("J", "the weight of the jug", "down", "jug", arm="d"),
            Force("A", "the push of the left scale", "up", "left scale", arm="0"),
            Force("B", "the push of the right scale", "up", "right scale", arm="S"),
            Force("N", "the push of the plank on the jug", "up", "jug", inside=_CUT),
        ),
        "left scale",
        {
            "right scale": "About the right scale B has no arm and drops out, and B is asked.",
            "middle": "About the middle both A and B have an arm: two unknowns in one equation.",
        },
        ("B", "A"),
        ("S", "d"),
    ),
    FreeBodyKind(
        "body_tractor",
        1,
        "Free body: the bare tractor",
        "The {machine} of weight T stands on level ground, its center of gravity x behind the front axle, wheelbase L. "
        "Build the free body that gives the rear reaction R in one equation.",
        "tractor",
        ("tractor", "front wheels", "rear wheels", "ground"),
        (
            Force("T", "the weight of the tractor", "down", _CG, arm="x"),
            _F_AT_FRONT,
            _R_AT_FRONT,
            _TIRE,
            _SHAFT,
        ),
        _FRONT,
        _ASKED_REAR,
        ("R", "F"),
        ("x", "L"),
    ),
    FreeBodyKind(
        "body_bucket",
        2,
        "Free body: tractor and bucket, front asked",
        "A bucket of weight W hangs on the {machine}, a ahead of the front axle. The tractor weighs T, its center of gravity x behind the front axle, "
        "wheelbase L. Build the free body that gives the front reaction F in one equation.",
        "tractor and bucket",
        _BODIES,
        (
            Force("W", "the weight of the bucket", "down", "bucket", arm="a + L"),
            Force("T", "the weight of the tractor", "down", _CG, arm="L - x"),
            _F_AT_REAR,
            _R_AT_REAR,
            _PIN,
            _TIRE,
        ),
        _REAR,
        _ASKED_FRONT,
        ("F", "R"),
        ("a", "x", "L"),
    ),
    FreeBodyKind(
        "body_bucket_rear",
        3,
        "Free body: tractor and bucket, rear asked",
        "A bucket of weight W hangs on the {machine}, a ahead of the front axle. The tractor weighs T, its center of gravity x behind the front axle, "
        "wheelbase L. Build the free body that gives the rear reaction R in one equation.",
        "tractor and bucket",
        _BODIES,
        (
            Force("W", "the weight of the bucket", "down", "bucket", arm="-a"),
            Force("T", "the weight of the tractor", "down", _CG, arm="x"),
            _F_AT_FRONT,
            _R_AT_FRONT,
            _PIN,
            _TIRE,
        ),
        _FRONT,
        _ASKED_REAR,
        ("R", "F"),
        ("a", "x", "L"),
    ),
    FreeBodyKind(
        "body_loader",
        4,
        "Free body: the loader in two pieces",
        "On the {machine} of weight T hang a bucket W1, a1 ahead of the front axle, and a loader frame W2, a2 ahead. The center of gravity of the tractor is x "
        "behind the front axle, wheelbase L. Build the free body that gives the front reaction F in one equation.",
        "tractor and loader",
        ("tractor", "loader", "tractor and loader", "ground"),
        (
            Force("W1", "the weight of the bucket", "down", "bucket", arm="a1 + L"),
            Force("W2", "the weight of the frame", "down", "frame", arm="a2 + L"),
            Force("T", "the weight of the tractor", "down", _CG, arm="L - x"),
            _F_AT_REAR,
            _R_AT_REAR,
            Force(
                "P", "the force of the bolts between tractor and frame", "up", "bolts", inside=_CUT
            ),
        ),
        _REAR,
        _ASKED_FRONT,
        ("F", "R"),
        ("a1", "a2", "x", "L"),
    ),
    FreeBodyKind(
        "body_ballast",
        7,
        "Free body: a counterweight",
        "A counterweight B hangs b behind the rear axle of the {machine}. The tractor weighs T, its center of gravity x behind the front axle, "
        "wheelbase L. Build the free body that gives the front reaction F in one equation.",
        "tractor and counterweight",
        ("tractor", "counterweight", "tractor and counterweight", "ground"),
        (
            Force("B", "the weight of the counterweight", "down", "counterweight", arm="-b"),
            Force("T", "the weight of the tractor", "down", _CG, arm="L - x"),
            _F_AT_REAR,
            _R_AT_REAR,
            Force("H", "the pull of the hitch on the counterweight", "up", "hitch", inside=_CUT),
            _TIRE,
        ),
        _REAR,
        _ASKED_FRONT,
        ("F", "R"),
        ("b", "x", "L"),
    ),
)
