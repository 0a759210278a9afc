"""Free bodies and concept questions: what a check names, lines of text, the order of options."""

from dataclasses import replace

import pytest

from leverarm import exercises, statics
from leverarm.exercises.choices import defended
from leverarm.exercises.expressions.grammar import Unreadable, read_formula
from leverarm.exercises.expressions.tree import compiled
from leverarm.exercises.free_body import FreeBody, read_free_body

BODIES = [kind for kind in exercises.problems() if kind.style == "body"]
CHOICES = [kind for kind in exercises.problems() if kind.style == "choice"]
P = exercises.make("body_bucket", 1)
RIGHT = P.source.right()
by_body = pytest.mark.parametrize("kind", BODIES, ids=lambda kind: kind.name)
by_choice = pytest.mark.parametrize("kind", CHOICES, ids=lambda kind: kind.name)


def swapped(arrows, letter, **change):
    return tuple(
        (a, change.get("way", way), change.get("at", at)) if a == letter else (a, way, at)
        for a, way, at in arrows
    )


@pytest.mark.parametrize(
    "built, name, says",
    [
        (replace(RIGHT, body="tractor"), "body", "another body: tractor"),
        (replace(RIGHT, body=""), "body", "no body named"),
        (
            replace(RIGHT, arrows=tuple(a for a in RIGHT.arrows if a[0] != "R")),
            "missing R",
            "no arrow for the reaction of the ground at the rear axle",
        ),
        (
            replace(RIGHT, arrows=tuple(a for a in RIGHT.arrows if a[0] != "W")),
            "missing W",
            "no arrow for the weight of the bucket",
        ),
        (
            replace(RIGHT, arrows=(*RIGHT.arrows, ("P", "down", "pins"))),
            "inside P",
            "does not act on the body from outside",
        ),
        (
            replace(RIGHT, arrows=(*RIGHT.arrows, ("N", "down", "front axle"))),
            "inside N",
            "press on the ground",
        ),
        (replace(RIGHT, arrows=(*RIGHT.arrows, ("Z", "down", "pins"))), "unknown Z", "an arrow Z"),
        (replace(RIGHT, arrows=(*RIGHT.arrows, RIGHT.arrows[0])), "twice", "one arrow twice"),
        (replace(RIGHT, arrows=swapped(RIGHT.arrows, "R", way="down")), "way R", "pointing down"),
        (
            replace(RIGHT, arrows=swapped(RIGHT.arrows, "W", at="front axle")),
            "place W",
            "at the front axle",
        ),
        (replace(RIGHT, pivot="front axle"), "pivot", "its pivot at the front axle"),
        (replace(RIGHT, pivot="center of gravity"), "pivot", "its pivot at the center of gravity"),
        (
            replace(RIGHT, arms=tuple((f, "a") if f == "W" else (f, arm) for f, arm in RIGHT.arms)),
            "arm W",
            "the arm a for the weight of the bucket",
        ),
        (replace(RIGHT, arms=RIGHT.arms[1:]), "arm W", "no arm for the weight of the bucket"),
        (
            replace(
                RIGHT, arms=tuple((f, "W(") if f == "W" else (f, arm) for f, arm in RIGHT.arms)
            ),
            "arm W",
            "the arm W(",
        ),
    ],
)
def test_one_fault_is_named_for_what_it_is(built, name, says):
    for form in (built, built.lines):
        verdict = exercises.check(P, form)
        assert not verdict.right and [s.name for s in verdict.suspects] == [name]
        assert says in verdict.message and verdict.question.rstrip().endswith((".", "?"))


def test_a_wrong_pivot_is_told_why():
    assert (
        "F has no arm and drops out"
        in exercises.check(P, replace(RIGHT, pivot="front axle")).message
    )
    assert (
        "have an arm. About which point"
        in exercises.check(P, replace(RIGHT, pivot="center of gravity")).message
    )


@by_body
def test_right_as_data_as_lines_in_any_order_and_case(kind):
    p, right = exercises.make(kind, 3), kind.right()
    lines = right.lines.split("\n")
    for form in (
        right,
        right.lines,
        "; ".join(reversed(lines)),
        "\r\n".join(lines).upper() if kind.name == "body_tractor" else right.lines,
        right.lines.replace(" + L", "+L").replace("L - x", "(L−x)"),
    ):
        verdict = exercises.check(p, form)
        assert verdict.right, (form, verdict.message)
    assert "Moments about the" in verdict.message


@by_body
def test_what_is_offered_holds_the_right_answer_and_more(kind):
    offered = dict(exercises.make(kind, 3).options)
    right = kind.right()
    assert (
        right.body in offered["bodies"]
        and right.pivot in offered["pivots"]
        and len(offered["pivots"]) > 1
    )
    assert {letter for letter, *_ in right.arrows} < {letter for letter, _ in offered["forces"]}
    assert {at for *_, at in right.arrows} <= set(offered["places"]) and {
        way for _, way, _ in right.arrows
    } <= set(offered["ways"])


LENGTHS = {"a": 1.2, "a1": 1.3, "a2": 0.4, "x": 0.9, "L": 1.6, "b": 0.8, "S": 2.0, "d": 0.7}
STATIONS = {
    "bucket": "a",
    "frame": "a2",
    "center of gravity": "-x",
    "counterweight": "-L-b",
    "jug": "-d",
    "middle": "-S/2",
}


@by_body
def test_the_moment_equation_as_printed_gives_the_reactions_of_statics(kind):
    """The text shown to the student, read back, against statics.reactions with made-up weights."""

    def length(formula):
        return compiled(read_formula(formula, list(LENGTHS))[0])(LENGTHS)

    loads = [
        force for force in kind.forces if not force.inside and force.letter not in kind.unknowns
    ]
    weights = {force.letter: 100.0 + 37 * at for at, force in enumerate(loads)}
    stations = [
        length("a1" if force.at == "bucket" and "a1" in kind.letters else STATIONS[force.at])
        for force in loads
    ]
    front, rear = statics.reactions(
        list(weights.values()), stations, LENGTHS["S" if "S" in kind.letters else "L"]
    )
    at = LENGTHS | weights | {"F": front, "R": rear, "A": front, "B": rear} | weights
    along, against = (compiled(read_formula(side, list(at))[0])(at) for side in kind.moments())
    assert along == pytest.approx(against, rel=1e-12)
    assert kind.unknowns[1] not in "".join(kind.moments())


def test_a_load_beyond_the_pivot_turns_the_other_way():
    kinds = {kind.name: kind for kind in BODIES}
    assert kinds["body_bucket_rear"].moments() == ("R × L + W × a", "T × x")
    assert kinds["body_ballast"].moments() == ("F × L + B × b", "T × (L − x)")
    assert kinds["body_bucket"].moments() == ("F × L", "W × (a + L) + T × (L − x)")


@pytest.mark.parametrize(
    "typed, says",
    [
        ("", "Nothing was drawn"),
        ("hello", "cannot be read as a line"),
        ("body: plank\nW sideways at x", "cannot be read as a line"),
        ("W down at bucket" * 500, "8000 characters long; up to 2000"),
        ("W down at a;" * 41, "41 lines long; up to 40"),
    ],
)
def test_text_that_is_no_free_body(typed, says):
    with pytest.raises(Unreadable, match=says):
        read_free_body(typed)


def test_lines_read_back_as_what_they_say():
    assert read_free_body(RIGHT.lines) == FreeBody(
        RIGHT.body, RIGHT.arrows, RIGHT.pivot, RIGHT.arms
    )


@by_choice
def test_options_come_in_an_order_of_their_own_and_are_all_different(kind):
    orders = {exercises.make(kind, seed).answer for seed in range(12)}
    assert len(orders) > 1
    p = exercises.make(kind, 1)
    assert len({text for _, text in p.options}) == len(p.options) >= 3
    right = len(defended(p))  # one, or as many as can be defended; these stand first in the file
    mistakes = [option.mistake for option in kind.options]
    assert mistakes.count("") == right >= 1 and not any(mistakes[:right])
    assert len({*mistakes[right:]}) == len(mistakes) - right


@by_choice
def test_an_option_is_chosen_by_letter_number_or_words(kind):
    p = exercises.make(kind, 2)
    for at, (label, text) in enumerate(p.options):
        found = {
            exercises.check(p, typed).reading
            for typed in (
                label,
                label.lower(),
                f"({label})",
                f"{label}.",
                f" option {label} ",
                str(at + 1),
                text,
                text[:-1].upper(),
            )
        }
        assert found == {f"{label}: {text}"}
        verdict = exercises.check(p, label)
        assert verdict.right == (label in defended(p))
        assert verdict.right or (
            verdict.goal and verdict.finding and verdict.question and len(verdict.suspects) == 1
        )


@pytest.mark.parametrize("typed", ["", "G", "7", "yes", "A B", "the"])
def test_what_names_no_option_is_no_attempt(typed):
    verdict = exercises.check(exercises.make("which_pivot", 1), typed)
    assert (
        verdict.case == "unread"
        and not verdict.counts
        and "Type one letter: A, B, C, D." in verdict.message
    )
