"""Who is suspected of a wrong number, and small readers around it: each at its edges, by hand."""

import math
from dataclasses import replace
from fractions import Fraction
from types import SimpleNamespace

import pytest

from leverarm import Refusal, exercises
from leverarm.data import parsed
from leverarm.exercises.alike import like_changes
from leverarm.exercises.changes import Context
from leverarm.exercises.evidence import Typed
from leverarm.exercises.expressions.grammar import read_formula
from leverarm.exercises.expressions.tree import (
    Call,
    Letter,
    Named,
    Num,
    compiled,
    formula_text,
    product,
    total,
    value_at,
)
from leverarm.exercises.room import (
    RoomQuestion,
    RoomSaid,
    room_questions,
    said_from_file,
    said_to_keep,
)
from leverarm.exercises.rules import cos, sin
from leverarm.exercises.suspects import Search, cut_short
from leverarm.exercises.together import typed_as
from leverarm.exercises.typeset import typeset

AT = {"W": 417.3, "a": 1.937, "L": 2.361, "V": 188.8, "b": 0.7219}
KINDS = {name: "weight" if name in "WV" else "length" for name in AT}


def read(text):
    return read_formula(text, tuple(AT))[0]


def worth(tree):
    return value_at(compiled(tree), AT)


def two_digits(number):
    return float(f"{number:.1e}")


def test_each_step_on_the_way_is_cut_to_two_digits_in_turn():
    """Cut once at W a/L and once at V b; what is asked itself is never cut."""
    w, a, length, v, b = AT.values()
    found = sorted(map(worth, cut_short(read("W*a/L + V*b"))))
    by_hand = [two_digits(w * a / length) + v * b, w * a / length + two_digits(v * b)]
    assert found == pytest.approx(sorted(by_hand))
    assert cut_short(read("W*a")) == () or worth(cut_short(read("W*a"))[0]) == pytest.approx(
        two_digits(w * a)
    )
    named = Named("gain", total(read("W*a/L"), Named("other", read("V*b/L"))))
    assert len(cut_short(named)) == len(set(cut_short(named)))
    for one in cut_short(named):
        assert worth(one) != pytest.approx(worth(named), rel=1e-9)


@pytest.mark.parametrize(
    "values, signless, named",
    [
        ((5.0, -5.0), True, (0,)),
        ((5.0, -5.0), False, (0, 1)),
        ((5.0, 5.0 * (1 + 1e-10)), True, (0,)),
        ((5.0, 5.0 * (1 + 1e-8)), True, (0, 1)),
        ((5.0, 7.0), True, (0, 1)),
        ((-0.3, 0.4), True, (0, 1)),
    ],
)
def test_of_one_size_with_either_sign_one_is_named_where_the_sign_says_nothing(
    values, signless, named
):
    search = object.__new__(Search)
    search.table = SimpleNamespace(turns=("first", "second"))
    search.values = lambda shown: list(values)
    found = search._turns((0, 1), Typed(5.0, 0.5, 0.5, 1, signless), {})
    assert found == tuple(search.table.turns[at] for at in named)
    assert search._turns((1,), Typed(5.0, 0.5, 0.5, 1, signless), {}) == ("second",)


@pytest.mark.parametrize(
    "kind, typed, number, digits",
    [
        ("rear_change", "80.5 kg lost", -80.5, 3),
        ("rear_change", "100 lb", 45.359237, 3),
        ("rear_change", "+1.20e2", 120.0, 3),
        ("relief_percent", "20.5 % lost", 20.5, 3),
        ("relief_percent", "-20.50 percent", -20.5, 4),
        ("relief_percent", "nothing", None, 0),
        ("relief_percent", "", None, 0),
    ],
)
def test_words_of_direction_count_where_a_change_is_asked(kind, typed, number, digits):
    """A typed number in the unit asked; of a relief the question says which way it goes."""
    problem = exercises.make(kind, 3, "kg")
    found = typed_as(problem, typed)
    if number is None:
        assert found is None
        return
    assert (found.number, found.digits) == (pytest.approx(number), digits)
    assert found.signless is (kind == "relief_percent")


@pytest.mark.parametrize(
    "tree, text",
    [
        (product((Num(Fraction(1, 3)), Letter("W"))), "1/3 × W"),
        (product((Letter("W"), Num(Fraction(1, 3)))), "W × (1/3)"),
        (product((Letter("W"),), (Num(Fraction(1, 3)),)), "W/(1/3)"),
    ],
)
def test_a_fraction_stands_bare_in_front_of_a_product_alone(tree, text):
    assert formula_text(tree) == text


def added(tree):
    """Expressions that have factors added where they are multiplied."""
    found = like_changes(tree, Context(KINDS, {}, {}, "weight", True))
    return [worth(one.tree) for one in found if "added, not multiplied" in one.words]


def test_factors_are_added_where_there_are_two():
    w, a, length, _, b = AT.values()
    assert added(read("100*W*a/L")) == pytest.approx([100 * (w + a) / length])
    assert added(read("W*a/(L*b)")) == pytest.approx([(w + a) / (length + b)])
    assert added(read("W/(L*b)")) == [] and added(read("100/(L*b)")) == []
    assert added(read("100*W/L")) == []


def test_all_functions_are_exchanged_where_there_are_two_or_more():
    """One alone is a single change; sine and cosine of 20 degrees, and of 20 radians."""
    angle = Num(20)
    both = total(
        product((Letter("W"), Call(sin, (angle,)))), product((Letter("V"), Call(cos, (angle,))))
    )
    w, v = AT["W"], AT["V"]
    s, c = math.sin(math.radians(20)), math.cos(math.radians(20))
    context = Context(KINDS, {}, {}, "weight", True)
    found = [worth(one.tree) for one in like_changes(both, context)]
    for by_hand in (w * c + v * s, w * math.sin(20) + v * math.cos(20), w + v):
        assert any(one == pytest.approx(by_hand) for one in found), by_hand
    alone = product((Letter("W"), Call(sin, (angle,))))
    words = [one.words for one in like_changes(alone, context)]
    assert not any("swapped" in one or "radians" in one or "left out" in one for one in words)


@pytest.mark.parametrize("text", ["12.5 × W", "2/3", "100 %", "W + 3"])
def test_numbers_are_set_upright_and_letters_as_letters(text):
    """What marks a letter stands around letters alone."""
    mark = typeset("W").partition("W")[0]
    assert mark and typeset(text).count(mark) == text.count("W")
    for number in ("12.5", "2", "3", "100"):
        assert f"{mark}{number}" not in typeset(text)


HANDS = RoomQuestion("front", "Front", ("more", "less", "same"))
CALLED = RoomQuestion("left", "Left", ("yes", "no"), kind="weight")
WHY = RoomQuestion("why", "Why", (), kind="words")
ASKED = (HANDS, CALLED, WHY)
SAID = {
    "front": RoomSaid((3, 2, 0)),
    "left": RoomSaid((4, 1), (120.0, -40.5)),
    "why": RoomSaid((), (), "the lever is longer"),
}


def test_what_a_class_said_is_read_back():
    assert (
        said_from_file(ASKED, said_to_keep(SAID)) == SAID or said_from_file(ASKED, kept()) == SAID
    )


def kept(**changed):
    """What the file holds, as JSON gives it back."""
    found = {
        name: {"hands": list(one.hands), "numbers": list(one.numbers), "words": one.words}
        for name, one in SAID.items()
    }
    for name, part in changed.items():
        found[name] = {**found[name], **part}
    return found


@pytest.mark.parametrize(
    "changed",
    [
        {"front": {"hands": [3, 2]}},
        {"front": {"hands": [3, 2, 0, 1]}},
        {"front": {"hands": [3, -1, 0]}},
        {"front": {"hands": [301, 0, 0]}},
        {"front": {"hands": [3, 2.0, 0]}},
        {"front": {"hands": [True, 2, 0]}},
        {"front": {"hands": [0, 0, 0]}},
        {"left": {"numbers": []}},
        {"left": {"numbers": [1.0] * 61}},
        {"left": {"numbers": ["120"]}},
        {"left": {"numbers": [math.inf]}},
        {"left": {"numbers": [math.nan, 3]}},
        {"left": {"numbers": [True]}},
        {"left": {"hands": [4]}},
        {"why": {"words": ""}},
        {"why": {"words": "x" * 161}},
        {"why": {"words": 7}},
        {"why": {"words": None}},
    ],
)
def test_what_nobody_can_have_said_is_not_read(changed):
    assert said_from_file(ASKED, kept()) == SAID
    assert said_from_file(ASKED, kept(**changed)) is None


@pytest.mark.parametrize(
    "changed, found",
    [
        ({"front": {"hands": [300, 0, 0]}}, {"front": RoomSaid((300, 0, 0))}),
        ({"left": {"numbers": [1] * 60, "hands": []}}, {"left": RoomSaid((), (1.0,) * 60)}),
        ({"why": {"words": "x" * 160}}, {"why": RoomSaid((), (), "x" * 160)}),
    ],
)
def test_what_a_class_said_is_read_up_to_its_bounds(changed, found):
    assert said_from_file(ASKED, kept(**changed)) == SAID | found


@pytest.mark.parametrize("kept", [None, [], {}, {"front": None}, {"other": {}}, 7, "front"])
def test_a_file_that_holds_anything_else_is_not_read(kept):
    assert said_from_file(ASKED, kept) is None
    assert replace(HANDS, plain=True).plain


@pytest.mark.parametrize(
    "ways, kind, fits",
    [
        *((0, "", False), (1, "", False), (2, "", True), (4, "weight", True), (5, "", False)),
        *((0, "words", True), (1, "weight", False)),
    ],
)
def test_a_class_has_two_to_four_ways_to_answer_or_gives_a_reason(ways, kind, fits):
    text = f'[[room]]\nname = "front"\nlabel = "Front"\nkind = "{kind}"\n'
    text += f"ways = {[f'way {at}' for at in range(ways)]}\n" if ways else ""
    if fits:
        (found,) = room_questions(parsed(text, "own.toml"))
        assert (len(found.ways), found.kind) == (ways, kind)
    else:
        with pytest.raises(Refusal, match="two to four ways"):
            room_questions(parsed(text, "own.toml"))
