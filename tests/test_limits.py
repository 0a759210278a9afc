"""Every limit that a number is held to: let in where it stands, refused a millionth beyond.

The limits are typed here.  A list made from the source sees to it that no call is left out.
"""

import ast
from pathlib import Path

import pytest

import leverarm
from leverarm import Attachment, Refusal, Tractor, axles, ballast, stability
from leverarm.decision import Job, Manual, behind, case, piece
from leverarm.stability.braking import Grip
from leverarm.weighing import (
    detached,
    facts,
    forecast,
    height_by_lifting,
    results,
    scales,
    setup_errors,
)
from leverarm.weighing.day import weigh_day
from leverarm.weighing.infer import infer
from leverarm.weighing.readings import axle_reading, weighing

PACKAGE = Path(leverarm.__file__).parent
A_LITTLE = 1e-6
TRACTOR = Tractor("Hand-worked tractor", 1.5, 600, 900, 0.7)
LOADS = axles.AxleLoads(600, 900)
BUCKET = Attachment("bucket", 1e-4, 1.2)  # so light that a millionth of a meter will do
FRAME = piece("frame", 100, 0.1)


def part(**more):
    return stability.Part("arms", **{"weight": 100, "along": 1, "across": 0, **more})


def loader(**more):
    given = {
        "pivot_ahead": -0.5,
        "pivot_height": 1.4,
        "arm": 1.9,
        "low": 0.3,
        "high": 2.5,
    }
    return stability.Loader(**{**given, "arms": part(), "bucket": part(), **more})


def stance(**told):
    usual = {"front_track": 1.1, "rear_track": 1.1, "pin": 0.4, "swing": 8}
    return stability.Stance(**{**usual, **told})


def told(**more):
    return facts.machine("Hand-worked tractor", 1.5, **more)


def needing(**more):
    return ballast.steering_need(TRACTOR, **{"ahead": 0.6, "share": 20, **more})


def lifting(lift=0.4, wheelbase=1.65, **more):
    return height_by_lifting((600, 800), 885, lift, wheelbase, **more)


def weighed_in_front(**more):
    rows = [weighing("bare", 600, None, "kg"), weighing("bucket", 790, None, "kg")]
    return results.results(weigh_day(told(), "2026-05-02", rows=rows), "bucket", **more)


def an_infer(**more):
    return infer((600, 800), (700, 780), 1.65, **more)


TILT = stability.side_tilt(TRACTOR, stance=stance())
AT = 10.0  # degrees of lift, within its travel

# {where the call stands: [(what a refusal names, how it is made, lowest, highest, open_low)]}
DOORS = {
    "ballast.counterweight": [
        (
            "behind the rear axle",
            lambda x: ballast.counterweight(TRACTOR, 10, x),
            0,
            10,
        ),
    ],
    "ballast.cancel": [
        (
            "behind the rear axle",
            lambda x: ballast.cancel(TRACTOR, BUCKET, x),
            0,
            10,
            True,
        ),
    ],
    "ballast.rear_need": [
        ("behind the rear axle", lambda x: ballast.rear_need(TRACTOR, behind=x), 0, 10),
    ],
    "ballast.center_need": [
        (
            "center of gravity ahead of the rear axle",
            lambda x: ballast.center_need(TRACTOR, center=x, behind=1),
            0,
            1.5,
        ),
    ],
    "ballast._need": [
        ("place of the ballast", lambda x: needing(ahead=x), None, 10),
        ("share to keep", lambda x: needing(share=x), 0, None),
        (
            "share to keep",
            lambda x: ballast.rear_need(TRACTOR, behind=1, share=x),
            0,
            None,
        ),
    ],
    "ballast.limit": [
        (
            words,
            lambda x, key=key: ballast.limit_checks(LOADS, **{key: x}),
            0,
            50_000,
            True,
        )
        for key, words in (
            ("front_axle", "front axle rating"),
            ("rear_axle", "rear axle rating"),
            ("front_tire", "front tire rating"),
            ("rear_tire", "rear tire rating"),
            ("machine", "permitted total weight"),
        )
    ],
    "axles.read_slowing": [("slowing over gravity", axles.read_slowing, -1, 1)],
    "axles.read_pull": [
        ("pull on the drawbar", lambda x: axles.read_pull(x, 1), -20_000, 20_000),
        ("height of the drawbar", lambda x: axles.read_pull(1, x), 0, 10),
    ],
    "axles._grade": [("grade", lambda x: axles.predict(TRACTOR, grade_deg=x), None, None)],
    "machine._weight": [
        ("front reading", lambda x: Tractor("x", 1.5, x, 900), 0, 50_000, True),
        ("rear reading", lambda x: Tractor("x", 1.5, 600, x), 0, 50_000, True),
        ("weight of the x", lambda x: Attachment("x", x, 1), 0, 50_000, True),
    ],
    "machine._height": [
        ("height", lambda x: Tractor("x", 1.5, 600, 900, x), 0, 10),
        ("height of the x", lambda x: Attachment("x", 10, 1, x), 0, 10),
    ],
    "machine._wheelbase": [
        ("wheelbase", lambda x: Tractor("x", x, 600, 900), 0.5, 5),
        (
            "wheelbase",
            lambda x: Tractor("x", x, 600, 900, unusual_wheelbase=True),
            0,
            50,
            True,
        ),
    ],
    "machine.__init__": [("overhang of the x", lambda x: Attachment("x", 10, x), -20, 20)],
    "stability.braking.holding": [
        (
            "friction there is",
            lambda x: stability.holding(TRACTOR, friction=x, brakes="rear", nose="down"),
            0,
            3,
            True,
        ),
    ],
    "stability.braking._grade": [
        ("grade", lambda x: stability.brake(TRACTOR, grade_deg=x), -45, 45),
    ],
    "stability.braking.slides": [
        ("friction there is", lambda x: Grip("rear", 900, 100, 0.1).slides(x), 0, 3),
    ],
    "stability.lift.peak": [],  # no limit of its own; the loader's stand below
    "stability.lift.load_for_share": [
        (
            "share of the rear axle",
            lambda x: stability.lift.load_for_share(TRACTOR, loader(), AT, x),
            0,
            100,
        ),
    ],
    "stability.lift._per_kg": [],
    "stability.lift.limits": [
        (
            "rated share",
            lambda x: stability.lift.limits(TRACTOR, loader(), rated_share=x),
            0,
            100,
        ),
    ],
    "stability.loader.place": [
        (f"place {word} of the arms", lambda x, word=word: part(**{word: x}), -5, 5)
        for word in ("along", "across")
    ],
    "stability.loader.__init__": [
        ("weight of the arms", lambda x: part(weight=x), 0, 50_000, True),
    ],
    "stability.loader.length": [
        ("arm pivot ahead", lambda x: loader(pivot_ahead=x), -20, 20),
        (
            "height of the arm pivot",
            lambda x: loader(pivot_height=x, low=x - 0.1, high=x),
            None,
            10,
        ),
        (
            "arm, pivot to bucket pin",
            lambda x: loader(arm=x, low=1.4, high=1.4 + x),
            0,
            5,
            True,
        ),
        ("load ahead of the bucket pin", lambda x: loader(load_along=x), -5, 5),
        ("load above the bucket pin", lambda x: loader(load_across=x), -5, 5),
    ],
    "stability.loader.angle_at": [
        ("height of the bucket pin", lambda x: loader(low=x), 0, None),
        ("height of the bucket pin", lambda x: loader(high=x), None, 3.3),
        ("height of the bucket pin", lambda x: loader(arm=1, low=x, high=2), 0.4, None),
    ],
    "stability.loader.at": [
        ("load in the bucket", lambda x: loader().at(AT, x), 0, 50_000),
    ],
    "stability.loader._angle": [
        ("lift angle", lambda x: loader(low=1.4).at(x), 0, None),
        ("lift angle", lambda x: loader(high=1.4).at(x), None, 0),
    ],
    "stability.sideways.side_tilt": [
        (
            "center of gravity aside",
            lambda x: stability.side_tilt(TRACTOR, stance=stance(), aside=x),
            -5,
            5,
        ),
    ],
    "stability.sideways.turning_speed": [
        (
            "radius of the turn",
            lambda x: stability.turning_speed(TILT, x),
            0,
            10_000,
            True,
        ),
        (
            "side slope",
            lambda x: stability.turning_speed(TILT, 4, side_deg=x),
            -90,
            90,
        ),
    ],
    "stability.sideways.track": [
        ("front track", lambda x: stance(front_track=x), 0, 5, True),
        ("rear track", lambda x: stance(rear_track=x), 0, 5, True),
    ],
    "stability.sideways.__init__": [
        ("height of the pivot pin", lambda x: stance(pin=x), 0, 10),
        ("swing of the front axle", lambda x: stance(swing=x), 0, 45),
    ],
    "weighing.center_of_gravity.height_by_lifting": [
        ("lift", lambda x: lifting(x, wheelbase=3), 0, 2, True),
        ("lift", lifting, 0, None, True),
    ],
    "weighing.center_of_gravity._axle_heights": [
        (
            f"height of the {axle} axle center",
            lambda x, axle=axle: lifting(axle_heights=(x, 0.5) if axle == "front" else (0.5, x)),
            0,
            None,
        )
        for axle in ("front", "rear")
    ],
    "weighing.center_of_gravity.detached": [
        ("span", lambda x: detached(70, 40, x), 0.01, 10),
        (
            "overhang of the pins",
            lambda x: detached(70, 40, 1, pins_ahead=x),
            -20,
            20,
        ),
    ],
    "weighing.center_of_gravity._both_edges": [
        (
            "weight of the piece",
            lambda x: detached(0, None, 1, weight=x),
            0,
            None,
            True,
        ),
    ],
    "weighing.facts._told": [
        ("error of the wheelbase", lambda x: told(wheelbase_error=x), 0, 0.2),
        ("track", lambda x: told(track=(x, 1)), 0.3, 4),
        ("track", lambda x: told(track=(1, x)), 0.3, 4),
        ("wheel turns", lambda x: told(turns=(x, 10)), 0.1, 1000),
        (
            "front wheel turns, front drive in",
            lambda x: told(turns_driven=x),
            0.1,
            1000,
        ),
        ("least share on the rear axle", lambda x: told(rear_share_least=x), 0, 100),
        ("front axle rating", lambda x: told(ratings={"front": x}), 1, 50_000),
        ("rear axle rating", lambda x: told(ratings={"rear": x}), 1, 50_000),
        ("pressure of the front tires", lambda x: facts.tire(pressure=x), 20, 500),
        (
            "contact patch of the front tires",
            lambda x: facts.tire(patch=(x, 1)),
            0.01,
            2,
        ),
        (
            "contact patch of the rear tires",
            lambda x: facts.tire(patch=(1, x), axle="rear"),
            0.01,
            2,
        ),
        ("shape of the front contact patch", lambda x: facts.tire(shape=x), 0.5, 1),
        ("load on the front contact patch", lambda x: facts.tire(load=x), 1, 50_000),
        (
            "smallest step of the scales",
            lambda x: facts.scale_facts(step=x),
            0.001,
            1000,
        ),
        ("accuracy of the scales", lambda x: facts.scale_facts(accuracy=x), 0.005, 50),
        ("accuracy of the scales", lambda x: facts.scale_facts(accuracy=x), None, 50),
        ("limit on the certificate", lambda x: facts.scale_facts(limit=x), 0, 1000),
        ("height of a pad", lambda x: facts.scale_facts(pad_height=x), 0, 0.5),
        ("slope of the yard", lambda x: facts.scale_facts(off_level=x), 0, 10),
    ],
    "weighing.facts.machine": [
        ("wheelbase", lambda x: facts.machine("Hand-worked tractor", x), 0.5, 5),
    ],
    "weighing.facts._heights": [
        ("height of the bare", lambda x: told(heights={"bare": x}), 0, 10),
    ],
    "weighing.forecast.forecast": [
        (
            "hung weight",
            lambda x: forecast((600, 800), x, 1, 1.65),
            -50_000,
            50_000,
        ),
        ("overhang", lambda x: forecast((600, 800), 100, x, 1.65), -20, 20),
    ],
    "weighing.infer._given_beside": [
        (
            "weight",
            lambda x: infer((600, None), (700, None), 1.65, weight=x),
            None,
            50_000,
        ),
        (
            "overhang",
            lambda x: infer((600, None), (700, None), 1.65, ahead=x),
            None,
            20,
        ),
    ],
    "weighing.results._told": [
        ("weight told", lambda x: weighed_in_front(weight=x), 0, None, True),
        ("overhang told", lambda x: weighed_in_front(ahead=x), -20, 20),
    ],
    "weighing.readings._in_range": [
        ("front reading", lambda x: axle_reading(x, "kg", "front"), -50, 50_000),
        ("rear reading", lambda x: axle_reading(x, "kg", "rear"), -50, 50_000),
    ],
    "weighing.scales.__init__": [
        ("graduation of the scale", lambda x: scales.Scales(graduation=x), 0, 1000),
        (
            "accuracy of the scale in percent",
            lambda x: scales.Scales(accuracy=x),
            0,
            50,
        ),
        ("zero of the scale", lambda x: scales.Scales(zero=x), 0, 1000),
        ("rise of the front wheels", lambda x: scales.Tilt(rise=x), -1, 1),
        (
            "height above the axle centers",
            lambda x: scales.Tilt(height_above_axles=x),
            -1,
            5,
        ),
    ],
    "weighing.scales._uncertainty": [
        ("uncertainty of the reading", lambda x: scales.Scales(u_reading=x), 0, None),
        ("uncertainty of the reading", lambda x: an_infer(u_reading=x), 0, None),
        ("uncertainty of the wheelbase", lambda x: an_infer(u_wheelbase=x), 0, None),
    ],
    "weighing.scales.read_measured": [],  # hands on the limits of whoever calls it
    "weighing.scales.wheelbase_of": [("wheelbase", scales.wheelbase_of, 0.5, 50)],
    "weighing.scales.repeats": [
        ("rear", lambda x: scales.repeats([600, x], "rear"), -50, 50_000),
    ],
    "weighing.setup_errors.pads_under": [
        (
            "thickness of the pads",
            lambda x: setup_errors.pads_under("front", x),
            0,
            0.5,
        ),
        (
            "height of an axle center",
            lambda x: setup_errors.pads_under("front", 0.1, (x, 0.5)),
            0,
            3,
        ),
        (
            "height of an axle center",
            lambda x: setup_errors.pads_under("front", 0.1, (0.5, x)),
            0,
            3,
        ),
    ],
    "weighing.setup_errors.on_grade": [("grade", setup_errors.on_grade, -20, 20)],
    "weighing.setup_errors.brakes_on": [("bound for the brakes", setup_errors.brakes_on, 0, 1000)],
    "weighing.setup_errors.bucket_down": [
        (
            "weight the ground carries",
            lambda x: setup_errors.bucket_down(x, 1),
            0,
            50_000,
        ),
        ("place where it touches", lambda x: setup_errors.bucket_down(10, x), -20, 20),
    ],
    "weighing.setup_errors.operator_off": [
        ("weight of the operator", lambda x: setup_errors.operator_off(x, -1), 0, 300),
        ("place of the seat", lambda x: setup_errors.operator_off(80, x), -20, 20),
    ],
    "weighing.setup_errors.fuel_burned": [
        ("liters of fuel", lambda x: setup_errors.fuel_burned(x, -1), 0, 1000),
        ("place of the tank", lambda x: setup_errors.fuel_burned(10, x), -20, 20),
    ],
    "weighing.setup_errors.unsettled": [
        ("what the reading was short by", setup_errors.unsettled, 0, 50),
    ],
    "decision.case.piece": [
        ("weight of the x", lambda x: piece("x", x, 1), 0, 50_000, True),
        ("overhang of the x", lambda x: piece("x", 10, x), -20, 20),
    ],
    "decision.case.behind": [
        ("behind the rear axle", lambda x: behind("x", 10, x, 1.5), 0, 10),
    ],
    "decision.case._length": [
        ("height of the x", lambda x: piece("x", 10, 1, x), 0, 10),
        ("farthest point of the x", lambda x: piece("x", 10, 1, reach=x), -20, 20),
        (
            "height of the machine's center of gravity",
            lambda x: case("x", 1.5, 600, 900, x, loader=FRAME),
            0,
            10,
        ),
        (
            "nose of the machine",
            lambda x: case("x", 1.5, 600, 900, loader=FRAME, nose=x),
            -1,
            5,
        ),
    ],
    "decision.case.read_off": [
        (
            "front reading",
            lambda x: case("x", 1.5, x, 900, loader=FRAME),
            0,
            50_000,
            True,
        ),
        (
            "rear reading",
            lambda x: case("x", 1.5, 600, x, loader=FRAME),
            0,
            50_000,
            True,
        ),
    ],
    "decision.case.minutes": [
        (
            f"minutes for the {what}",
            lambda x, what=what: Job(**{f"{what}_minutes": x}),
            0,
            10_000,
            True,
        )
        for what in ("bucket", "loader", "ballast")
    ],
    "decision.case.__init__": [
        ("slope of the job", lambda x: Job(slope=x), 0, 40),
        ("mowings before the loader goes on again", lambda x: Job(mowings=x), 1, 1000),
    ],
    "decision.case.share": [
        (
            f"least share of the {axle} axle",
            lambda x, axle=axle: Manual(**{f"{axle}_least": x}),
            0,
            100,
        )
        for axle in ("front", "rear")
    ],
    "decision.case.kg": [
        ("front axle rating", lambda x: Manual(front_axle=x), 0, 50_000, True),
        ("rear axle rating", lambda x: Manual(rear_axle=x), 0, 50_000, True),
        ("permitted total weight", lambda x: Manual(machine=x), 0, 50_000, True),
    ],
    "decision.demo.demo_case": [],  # the demo's own readings: nobody types them
}
ROOMS = (
    "ballast.py",
    "axles.py",
    "machine.py",
    "stability/*.py",
    "weighing/*.py",
    "decision/*.py",
)
READS = {"read", "read_measured", "read_as_typed"}


def calls():
    """Where every limit is told, by function."""
    found = set()
    for pattern in ROOMS:
        for path in PACKAGE.glob(pattern):
            where = ".".join(path.relative_to(PACKAGE).with_suffix("").parts)
            found |= {f"{where}.{one}" for one in reading_in(ast.parse(path.read_text("utf-8")))}
    return found


def reading_in(tree, inside=""):
    """Names of the functions in which a number is held to its limits."""
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") in READS:
            yield inside
        own = node.name if isinstance(node, ast.FunctionDef) else inside
        yield from reading_in(node, own)


def test_no_limit_is_left_out():
    assert calls() == set(DOORS)


ROWS = [(where, *row) for where, rows in DOORS.items() for row in rows]


@pytest.mark.parametrize(
    "where, named, make, low, high, open_low",
    [(*row, False)[:6] for row in ROWS],
    ids=[f"{where}, {named}, {i}" for i, (where, named, *_) in enumerate(ROWS)],
)
def test_a_number_is_let_in_up_to_its_limit_and_refused_beyond(
    where, named, make, low, high, open_low
):
    """The refusal names what it is about; of a weight of nothing, that nothing was gained."""
    within = [] if low is None else [low + A_LITTLE * open_low]
    beyond = [] if low is None else [low - A_LITTLE, *[low] * open_low]
    if high is not None:
        within.append(high)
        beyond.append(high + max(A_LITTLE, 1e-12 * high))
    for value in within:
        make(value)
    for value in beyond:
        with pytest.raises(Refusal) as why:
            make(value)
        assert named in str(why.value) or "nothing gained" in str(why.value), value
