"""The listed slips: wrong steps that students are known to take, by what is asked.

They stand in the lessons' data files as [[slip]].  A formula uses letters of problems
and names of rules (front_gain is what the front gains), so that no right formula is
written twice.  A slip is looked for in every problem that gives the letters it needs;
the more common stand first: weight is seen before distance (Filion and Sirois 2021), and
force or moment is used, seldom both (Newcomer 2013).
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cached_property

from leverarm.data import Entry, OnDemand, lesson_file, lessons, lessons_with
from leverarm.exercises.expressions.grammar import Unreadable, read_formula
from leverarm.exercises.expressions.tree import Tree
from leverarm.exercises.letters import LETTERS
from leverarm.exercises.rules import RULES
from leverarm.quantities import SYSTEMS, Refusal


@dataclass(frozen=True)
class ListedMistake:
    """A slip as it is listed.

    of          what is asked where it can happen: the name of a rule
    name        a few words that tables call it by
    what        what its number is; question  what to ask whoever made it
    formula     what it computes
    systems     the unit systems in which it can happen
    row         where it stands
    """

    of: str
    name: str
    what: str
    question: str
    formula: str
    systems: tuple[str, ...]
    row: Entry = field(repr=False, compare=False)

    @cached_property
    def tree(self) -> Tree:
        """The formula as an expression; one that cannot be read in one way is refused."""
        try:
            return read_formula(self.formula, [*LETTERS, *RULES])[-1]
        except Unreadable as why:
            raise self.row.refusal(
                "formula", self.formula, "a formula in letters and names of rules", str(why)
            ) from None

    def same_as_right(self) -> Refusal:
        """The refusal of a slip that leads to the right answer."""
        return self.row.refusal(
            "formula", self.formula, f"another formula than that of {self.of}", "mend the formula"
        )


def read_listed_mistakes(entries: Iterable[Entry]) -> dict[str, tuple[ListedMistake, ...]]:
    """Slips by what is asked, from the [[slip]] tables of lessons, each checked."""
    found: dict[str, list[ListedMistake]] = {}
    for row in (row for entry in entries for row in entry.rows("slip")):
        slip = ListedMistake(
            row.one_of("of", RULES),
            row.text("name"),
            row.text("what"),
            row.text("question"),
            row.text("formula"),
            tuple(row.words_of("systems", SYSTEMS, "")) or tuple(SYSTEMS),
            row,
        )
        row.done()
        others = found.setdefault(slip.of, [])
        if slip.name in [other.name for other in others]:
            raise row.refusal("name", slip.name, f"a name once for {slip.of}", "choose another")
        others.append(slip)
    return {name: tuple(slips) for name, slips in found.items()}


LISTED_MISTAKES = OnDemand(
    lambda: read_listed_mistakes(lessons().values()),
    # A slip names what is asked, so that the other lessons need not be read.
    lambda asked: read_listed_mistakes(map(lesson_file, lessons_with("of", asked)))[asked],
)
