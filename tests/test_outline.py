"""The one machine: round wheels on the ground, arms that reach, numbers or recorded quantities, and
the same corners on the stage, in a problem, in the concept check and on the customer's page.
"""

import re

import pytest
import test_customer_page

from leverarm import exercises, outline
from leverarm.concept_check.pictures import drawing
from leverarm.concept_check.questions import form
from leverarm.handouts.customer_page import page_html
from leverarm.outline import Area, Disk
from leverarm.problem_pictures import problem_scene
from leverarm.scene.shapes import Circle, Polygon
from leverarm.stage.elements import as_text
from leverarm.stage.recorder import Recorded, Recorder
from leverarm.stage.sheet import DESK
from leverarm.stage.stand import Stand
from leverarm.stage.tractor_outline import bucket_part, loader_part, tractor_parts

HUNG = (1.2, outline.BUCKET_HEIGHT_M)


@pytest.mark.parametrize("wheelbase", [1.2, 1.65, 2.4])
@pytest.mark.parametrize("size", [0.5, 1.0, 1.5])
def test_wheels_are_round_under_their_axles_and_stand_on_the_ground(wheelbase, size):
    tires = [
        one
        for one in outline.tractor(wheelbase, size)
        if isinstance(one, Disk) and one.kind == "tire"
    ]
    assert sorted(one.at[0] for one in tires) == [-wheelbase, 0.0]
    assert [one.at[1] - one.radius for one in tires] == pytest.approx([0.0, 0.0])


def test_only_what_is_told_by_a_share_stretches_with_the_wheelbase():
    short, long = outline.tractor(1.5), outline.tractor(2.0)
    for one, other in zip(short, long, strict=True):
        places = (one.at,) if isinstance(one, Disk) else one.points
        others = (other.at,) if isinstance(other, Disk) else other.points
        for (x, y), (far_x, far_y) in zip(places, others, strict=True):
            # Between none of the half meter (at the front) and all of it (at the rear).
            assert y == far_y and -1e-9 <= x - far_x <= 0.5 + 1e-9


@pytest.mark.parametrize("ahead", [0.8, 1.2, 2.6])
def test_arms_reach_from_the_mast_to_the_bucket(ahead):
    place = ahead, outline.BUCKET_HEIGHT_M
    mast, arms, pin = outline.loader(1.65, place)
    (pin_x, pin_y), edge = pin.at, outline.bucket(place).points
    assert min(x for x, _ in mast.points) < pin_x < max(x for x, _ in mast.points)
    assert min(y for _, y in mast.points) < pin_y < max(y for _, y in mast.points)
    # Their ends: round the pin, and on the back of the bucket.
    (x0, y0), (x1, y1) = arms.points[0], arms.points[-1]
    assert ((x0 + x1) / 2, (y0 + y1) / 2) == pytest.approx((pin_x, pin_y))
    hand = [sum(point[k] for point in arms.points[2:4]) / 2 for k in (0, 1)]
    low, high = min(y for _, y in edge), max(y for _, y in edge)
    assert min(x for x, _ in edge) < hand[0] < ahead and low < hand[1] < high


def test_a_loader_on_its_lift_keeps_its_length_and_turns():
    def far(arms):
        return [sum(point[k] for point in arms.points[2:4]) / 2 for k in (0, 1)]

    pivot = (-0.4, 1.2)
    assert far(outline.lift_arms(pivot, 2.0, (1.0, 0.0))) == pytest.approx((1.6, 1.2))
    assert far(outline.lift_arms(pivot, 2.0, (0.0, 1.0))) == pytest.approx((-0.4, 3.2))
    # 3-4-5: 0.6 and 0.8 of two meters.
    assert far(outline.lift_arms(pivot, 2.0, (0.6, 0.8))) == pytest.approx((0.8, 2.8))


@pytest.mark.parametrize(("a", "b"), [(0.66, 0.2), (0.2, 0.66), (-1.0, -3.0), (0.5, 0.5)])
def test_the_larger_of_two(a, b):
    assert outline.larger(a, b) == pytest.approx(max(a, b))


def lengths_of(parts):
    """How far ahead and how far up every place of the parts is, one after the other."""
    places = [(one.at,) if isinstance(one, Disk) else one.points for one in parts]
    return [length for some in places for place in some for length in place]


@pytest.mark.parametrize(("wheelbase", "ahead"), [(1.4, 0.9), (1.65, 1.2), (2.2, 2.9)])
def test_recorded_quantities_come_out_as_numbers_do(wheelbase, ahead):
    recorder = Recorder()
    moving = recorder.input("wheelbase", 1, 3), (recorder.input("ahead", 0, 3), HUNG[1])
    still = wheelbase, (ahead, HUNG[1])

    def drawn(base, hung):
        parts = [*outline.tractor(base), *outline.loader(base, hung), outline.bucket(hung)]
        return lengths_of([*parts, *outline.hitch(base, (-3.0, 0.5)), outline.deck(-0.4 * base)])

    recorded, numbers = drawn(*moving), drawn(*still)
    rows = recorder.work_out({"wheelbase": wheelbase, "ahead": ahead})

    def value(one):
        return rows[one.row] if isinstance(one, Recorded) else one

    assert [value(one) for one in recorded] == pytest.approx(numbers)
    assert any(isinstance(one, Recorded) for one in recorded)


# --- the same machine everywhere -----------------------------------------------------------------


def corners(points, near_x, ground, per_m):
    """Places on a sheet in meters ahead and up, as exactly as a sheet prints them."""
    pairs = [[float(n) for n in pair.split(",")] for pair in points.split()]
    return [((near_x - x) / per_m, (ground - y) / per_m) for x, y in pairs]


def same(some, others, within):
    """Whether each area of the one is an area of the other."""

    def near(a, b):
        return len(a) == len(b) and all(
            abs(p[0] - q[0]) < within and abs(p[1] - q[1]) < within
            for p, q in zip(a, b, strict=True)
        )

    return all(any(near(one, other) for other in others) for one in some)


def machine_of(wheelbase, hung, size=1.0):
    parts = [
        *outline.tractor(wheelbase, size),
        *outline.loader(wheelbase, hung, size),
        outline.bucket(hung, size),
    ]
    return [one.points for one in parts if isinstance(one, Area)]


def test_the_stage_draws_it():
    stand = Stand(DESK, 1.65, 0.0, 0.0)
    parts = (tractor_parts(stand), loader_part(stand, HUNG, 0.0), bucket_part(stand, HUNG))
    points = re.findall(r'<polygon[^>]* points="([^"]*)"', "".join(map(as_text, parts)))
    found = [corners(one, DESK.near_x, stand.ground, DESK.per_m) for one in points]
    assert len(found) == len(machine_of(1.65, HUNG))
    assert same(machine_of(1.65, HUNG), found, 0.06 / DESK.per_m)


@pytest.mark.parametrize("system", ["kg", "lb"])
def test_a_problem_draws_it(system):
    told = (exercises.make("front_gain", seed, system) for seed in range(99))
    scene = problem_scene(next(one for one in told if "bucket" in one.statement))
    areas = [one.points for one in scene.shapes if isinstance(one, Polygon)]
    rear = min(one.at[0] for one in scene.shapes if isinstance(one, Circle))
    size = outline.size_for(-rear)
    (marked,) = [one.at for one in scene.shapes if type(one).__name__ == "Marker"]
    assert same(machine_of(-rear, marked, size), areas, 1e-6)


@pytest.mark.parametrize(("which", "number"), [("A", 3), ("A", 8), ("A", 11)])
def test_the_concept_check_draws_it(which, number):
    question = form(which, "lb")[number - 1]
    areas = [one.points for one in drawing(question).shapes if isinstance(one, Polygon)]
    hung = (0.95, 0.45) if number == 8 else (1.1, 0.35)
    assert same(machine_of(1.65, hung), areas, 1e-6)


def test_the_customers_page_draws_it():
    page = page_html(test_customer_page.FULL)
    for kind, picture in zip(("hung", "gone"), page.split("<svg")[1:3], strict=True):
        circles = re.findall(
            r'<circle class="tire" cx="([\d.]+)" cy="([\d.]+)" r="([\d.]+)"', picture
        )
        (rear_x, rear_y, radius), (front_x, _, _) = [[float(n) for n in one] for one in circles]
        per_m = (rear_x - front_x) / 1.65
        ground = rear_y + radius
        points = re.findall(r'<polygon class="(?:machine|operator)" points="([^"]*)"', picture)
        bucket = re.findall(rf'<polygon class="{kind}" points="([^"]*)"', picture)
        found = [corners(one, front_x, ground, per_m) for one in points + bucket]
        # Where the bucket hangs: 45.4 in of the 65 in between the axles, which are drawn 1.65 m.
        hung = (45.4 / 65 * 1.65, outline.BUCKET_HEIGHT_M)
        assert same(machine_of(1.65, hung), found, 0.2 / per_m)
