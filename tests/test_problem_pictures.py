"""The drawing with a problem: every given in it, to scale, and nothing that answers."""

import re
from html import unescape
from itertools import combinations

import pytest

from leverarm import exercises, outline
from leverarm.exercises.letters import things
from leverarm.marking import pages
from leverarm.panels import exercise
from leverarm.problem_pictures import paper_view, picture_views, problem_picture, problem_scene
from leverarm.scene import place
from leverarm.scene.layout import Frame, overlap
from leverarm.scene.machine_drawing import PAD_M
from leverarm.scene.shapes import Arrow, Dimension, Label, Line, Polygon

KINDS = exercises.problems()
# One number turned into another, or readings that scatter: nothing stands anywhere.
WITHOUT = (
    "pounds kilograms newtons psi mean_reading scatter mean_uncertainty total_uncertainty "
    "expanded_uncertainty from_certificate from_limits formula_uncertainty"
)
DRAWN = [kind for kind in KINDS if kind.style != "choice" and kind.name not in WITHOUT.split()]
SEEDS = range(3)


def words_in(scene):
    """Every text that is drawn."""
    return [shape.text for shape in scene.shapes if isinstance(shape, (Label, Dimension))]


def numbers_in(text):
    return {one.replace(",", "") for one in re.findall(r"\d[\d,]*(?:\.\d+)?", text)}


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_a_problem_with_a_geometry_has_a_drawing(kind):
    scene = problem_scene(exercises.make(kind, 1, "lb"))
    assert (scene is not None) == (kind in DRAWN)
    assert problem_picture(exercises.make(kind, 1, "lb")).startswith("<svg") == (kind in DRAWN)


@pytest.mark.parametrize("system", ["kg", "lb"])
@pytest.mark.parametrize("kind", DRAWN, ids=lambda kind: kind.name)
def test_givens_stand_in_it_and_in_its_words_and_no_answer(kind, system):
    for seed in SEEDS:
        problem = exercises.make(kind, seed, system)
        scene = problem_scene(problem)
        drawn, told = " ".join(words_in(scene)), scene.desc
        if kind.style != "number":
            for letter in set(problem.given) - {"k"}:  # a factor is no length and no weight
                assert letter.replace("_", "")[0] in drawn and "=" not in drawn
            continue
        given = {one for text in problem.given.values() for one in numbers_in(text)}
        # What only says where a sketch would be crowded may stand in the statement alone.
        told_in = set(kind.given) - {"k", "u", "y"}
        shown = dict(zip(kind.given, problem.given.values(), strict=True))
        for name in told_in:
            assert shown[name] in told, (name, told)
            assert shown[name] in drawn.replace("\n", " "), (name, drawn)
        answer = abs(problem.answer)
        results = {f"{answer:.{n}g}" for n in (3, 4)} | {f"{answer:.0f}", f"{answer:.1f}"}
        results |= {f"{line.claim:.4g}" for line in problem.solution if line.kind}
        extra = (numbers_in(drawn) | numbers_in(told)) - given
        assert not extra & results, extra & results
        assert not extra, extra


PIECES = {
    "bucket": outline.bucket,
    "pallet fork": outline.forks,
    "weight box": outline.weight_box,
    "stone rake": outline.rake,
}


def hung_on(problem):
    """The corners of the piece on the loader round the point of its arrow, rounded."""
    scene = problem_scene(problem)
    shapes = {
        tuple((round(x, 6), round(y, 6)) for x, y in one.points)
        for one in scene.shapes
        if isinstance(one, Polygon)
    }
    at = next(one.tip for one in scene.shapes if isinstance(one, Arrow))
    size = outline.size_for(problem.drawn.values["L"])

    def drawn(piece):
        return tuple((round(x, 6), round(y, 6)) for x, y in piece(at, size).points) in shapes

    return [name for name, piece in PIECES.items() if drawn(piece)]


@pytest.mark.parametrize("kind", ["front_gain", "rear_change", "front_when_off"])
def test_the_piece_that_the_statement_names_is_drawn_and_no_other(kind):
    named = set()
    for seed in range(16):
        problem = exercises.make(kind, seed, "lb")
        names = [name for name in PIECES if name in problem.statement]
        assert hung_on(problem) == names
        named |= {*names}
    assert named == set(PIECES) == set(things())


def sheets_of(scene):
    """Every sheet a drawing is put on: a screen, a worksheet, an assignment on paper."""
    return *picture_views(scene), paper_view(scene), paper_view(scene, *pages.DRAWING)


def columns_on(scene, view):
    """Boxes of the columns under the scales that are closed, on a sheet."""
    frame = Frame(scene, view)
    if "on two scales" not in scene.desc:
        return
    for shape in scene.shapes:
        if not isinstance(shape, Polygon) or shape.role not in ("front", "rear"):
            continue
        if min(y for _, y in shape.points) < -0.1:
            xs, ys = zip(*map(frame, shape.points))
            yield min(xs), min(ys), max(xs), max(ys)


@pytest.mark.parametrize("system", ["kg", "lb"])
@pytest.mark.parametrize("kind", DRAWN, ids=lambda kind: kind.name)
def test_words_cover_no_column(kind, system):
    for seed in SEEDS:
        scene = problem_scene(exercises.make(kind, seed, system))
        for view in sheets_of(scene):
            for column in columns_on(scene, view):
                for one in place(scene, view):
                    assert not overlap(one.box, column), (one.text, view)


@pytest.mark.parametrize("kind", DRAWN, ids=lambda kind: kind.name)
def test_words_stand_on_the_sheet_and_off_each_other(kind):
    for seed in SEEDS:
        scene = problem_scene(exercises.make(kind, seed, "kg"))
        for view in sheets_of(scene):
            placed = place(scene, view)
            for one, other in combinations(placed, 2):
                assert not overlap(one.box, other.box), (one.text, other.text, view.name)
            for one in placed:
                left, top, right, bottom = one.box
                assert left >= -1 and right <= view.width + 1, (one.text, view.name)
                assert top >= -1 and bottom <= view.height + 1, (one.text, view.name)


@pytest.mark.parametrize("kind", DRAWN, ids=lambda kind: kind.name)
def test_two_lines_beside_a_column_stand_under_the_ground(kind):
    for seed in SEEDS:
        scene = problem_scene(exercises.make(kind, seed, "lb"))
        for view in sheets_of(scene):
            _, ground = Frame(scene, view)((0.0, -PAD_M))
            for one in place(scene, view):
                if one.label.role in ("front", "rear") and "\n" in one.label.text:
                    assert one.box[1] > ground, (one.text, view)


def closed(scene, role):
    """Columns of a role below the ground that are closed: shapes that reach far down."""
    boxes = [shape for shape in scene.shapes if isinstance(shape, Polygon) and shape.role == role]
    return sum(min(y for _, y in shape.points) < -0.1 for shape in boxes)


def open_edges(scene, role):
    lines = [shape for shape in scene.shapes if isinstance(shape, Line) and shape.role == role]
    return sum(shape.points[1][1] < -0.3 for shape in lines)


@pytest.mark.parametrize(
    ("name", "front", "rear"),
    [  # (closed columns, edges of open ones) of each axle
        ("front_gain", (0, 2), (0, 2)),
        ("machine_weight", (1, 0), (1, 0)),
        ("new_front_reading", (1, 2), (0, 2)),
        ("front_gain_among_readings", (1, 2), (1, 2)),
        ("weight_from_readings", (2, 0), (2, 0)),
        ("plank_left", (0, 2), (0, 2)),
    ],
)
def test_a_column_is_open_where_its_reading_is_not_given(name, front, rear):
    scene = problem_scene(exercises.make(name, 2, "kg"))
    for role, (full, edges) in (("front", front), ("rear", rear)):
        assert (closed(scene, role), open_edges(scene, role)) == (full, edges)
    assert ("open at the bottom" in scene.desc) == bool(front[1] or rear[1])


@pytest.mark.parametrize("system", ["kg", "lb"])
@pytest.mark.parametrize("name", ["front_gain", "ballast_front", "feet_and_inches", "between_rear"])
def test_lengths_are_drawn_to_scale(name, system):
    for seed in range(8):
        problem = exercises.make(name, seed, system)
        drawn = {}
        for shape in problem_scene(problem).shapes:
            if isinstance(shape, Dimension):
                drawn[shape.text.split()[0]] = abs(shape.a[0] - shape.b[0])
        meters = {"m": 1.0, "mm": 0.001, "in": 0.0254, "ft": 0.3048}
        for letter, length in drawn.items():
            number, unit = problem.given[letter].split()
            assert length == pytest.approx(float(number.replace(",", "")) * meters[unit], rel=1e-6)


def test_a_length_that_is_asked_is_not_drawn_as_long_as_it_is():
    seen = set()
    for seed in range(6):
        problem = exercises.make("overhang_for_factor", seed, "kg")
        scene = problem_scene(problem)
        (asked,) = [s for s in scene.shapes if isinstance(s, Dimension) and s.text == "?"]
        seen.add(abs(asked.a[0] - asked.b[0]))
        assert "Not to scale." not in problem.statement
    assert len(seen) == 1


def test_the_exercise_shows_it_and_a_board_draws_its_own():
    box = exercise("front_gain", 3)
    given = [unescape(text) for text in box.problem.given.values()]
    drawing = box.statement.value.partition("<svg")[2]
    assert all(text in drawing for text in given)
    box.new()
    assert drawing not in box.statement.value
    assert "<svg" not in exercise("mean_reading").statement.value
    assert "<svg" not in exercise("body_tractor").statement.value
