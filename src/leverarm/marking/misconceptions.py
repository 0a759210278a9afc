"""Misconceptions: slips at different problems that are one idea, and a question for the board.

They stand in data/misconceptions.toml.  The numbers of the board questions are worked out here
from statics, so that no answer is typed.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache

from leverarm import statics
from leverarm.data import Entry, toml_file
from leverarm.exercises import Mistake, Problem, known_mistakes
from leverarm.exercises.expressions.simplest import simplest
from leverarm.exercises.expressions.tree import Letter
from leverarm.exercises.numbers import NumberKind
from leverarm.quantities import from_unit, known_system, show

BOARD_WEIGHT = {"kg": 100.0, "lb": 200.0}  # in the unit of the system
BOARD_READING = 5  # the reading before is so many times that weight
WEIGHT_ALONE = "weight alone"  # the slip of a weight as it stands
FAR_AND_BASE = {"kg": (1.2, 1.5), "lb": (1.2192, 1.524)}  # meters: 1.2 m, 150 cm; 4 ft, 60 in


@dataclass(frozen=True)
class Misconception:
    """One idea behind several slips.

    name        what the data file calls it
    does        what they do, as a heading
    slips       names of the slips, classes of wrong turns and wrong options that are this idea
    ask, answer a question for the board and what to hear, with fields to be filled in
    lessons     the lessons where the question fits; empty for all
    """

    name: str
    does: str
    slips: frozenset[str]
    ask: str
    answer: str
    lessons: tuple[int, ...] = ()

    def fits(self, lesson: int) -> bool:
        """Whether its board question fits a lesson."""
        return not self.lessons or lesson in self.lessons


def board_numbers(system: str | None = None) -> dict[str, str]:
    """The numbers that board questions use, as printed in a unit system.

    >>> found = board_numbers("lb")
    >>> found["W"], found["front_one"], found["rear_one"], found["front_half"]
    ('200 lb', '400 lb', '\u2212200 lb', '300 lb')
    """
    system = known_system(system)
    W = from_unit(BOARD_WEIGHT[system], "weight", system)
    one, half = statics.front_gain(W, 1.0, 1.0), statics.front_gain(W, 0.5, 1.0)
    before = BOARD_READING * W
    after = before + one
    weights = {
        "W": W,
        "twice": 2 * W,
        "front_one": one,
        "rear_one": statics.rear_change(W, 1.0, 1.0),
        "front_half": half,
        "lost_half": -statics.rear_change(W, 0.5, 1.0),
        "two_pieces": one + statics.front_gain(2 * W, 0.0, 1.0),
        "before": before,
        "after": after,
        "error": W / 100,
        "error_two": 2**0.5 * W / 100,
    }
    shown = {
        name: show(weight, "weight", system, decimals=0 if abs(weight) >= W / 2 else 1)
        for name, weight in weights.items()
    }
    far, base = FAR_AND_BASE[system]
    units = ("ft", "in") if system == "lb" else ("m", "cm")
    for name, length, unit in (("far", far, units[0]), ("base", base, units[1])):
        number = length / from_unit(1.0, "length", unit)
        shown[name] = f"{number:g} {unit}"
    return shown | {
        "ratio": f"{far / base:g}",
        "more": f"{100 * (after - before) / before:.0f} percent",
        "less": f"{100 * (after - before) / after:.0f} percent",
    }


def read_misconceptions(entry: Entry) -> tuple[Misconception, ...]:
    """The misconceptions of a data file, each checked: no slip is unknown or in two of them."""
    known, fields = known_mistakes(), board_numbers("kg")
    found: list[Misconception] = []
    taken: dict[str, str] = {}
    for row in entry.rows("misconception"):
        one = _misconception(row, fields)
        for slip in sorted(one.slips):
            if slip not in known:
                raise row.unknown("slips", slip, sorted(known))
            if slip in taken:
                raise row.refusal("slips", slip, f"a slip not in {taken[slip]}", "take it out")
            taken[slip] = one.name
        found.append(one)
    entry.done()
    return tuple(found)


def _misconception(row: Entry, fields: Iterable[str]) -> Misconception:
    names = tuple(fields)
    named = row.texts("lessons", ())
    for text in named:
        if not text.isdecimal():
            raise row.refusal("lessons", text, "numbers of lessons, each in quotes", "mend it")
    one = Misconception(
        row.text("name"),
        row.text("does"),
        frozenset(row.texts("slips")),
        row.template("ask", names),
        row.template("answer", names),
        tuple(map(int, named)),
    )
    row.done()
    return one


@cache
def misconceptions() -> Mapping[str, Misconception]:
    """Slip name -> the Misconception that it is one of."""
    found = read_misconceptions(toml_file("misconceptions"))
    return {slip: one for one in found for slip in one.slips}


def misconception_of(problem: Problem, mistake: Mistake) -> Misconception | None:
    """The misconception that a mistake is one of, or None.

    Where a lever is asked for, a given weight as it stands is one without a name of its own.
    """
    found = misconceptions().get(mistake.name)
    kind = problem.source
    if found or mistake.tree is None or not isinstance(kind, NumberKind):
        return found
    tree, letters = simplest(mistake.tree), kind.method.letters
    lever = any(letters[name].kind == "length" for name in kind.given)
    if lever and isinstance(tree, Letter) and letters[tree.name].kind == "weight":
        return misconceptions()[WEIGHT_ALONE]
    return None
