"""How much of what came back under one code is worked out."""

from leverarm.exercises import Problem, Verdict
from leverarm.marking.answer_file import Answer
from leverarm.marking.assignment import Item, Ticket

# Working out what a student typed takes under a millisecond for a number, up to fifteen for a
# formula made to be slow.  Each file has that much for itself, so that no other file can use it
# up; all files of one code together have FILES_WORTH times as much.
MOST_WORKED, MOST_FORMULAS, FORMULAS_EACH, FILES_WORTH = 2_000, 200, 5, 5


class Budget:
    """What may be worked out for one code.

    It is a count, not a clock, so a file gets the same mark on every computer.  Each file has its
    own bound.  All files of a code have a larger one together; the shortest file comes first, so
    that long files made to be slow leave what a person can type untouched.  An answer that stands
    in several files is worked out once.
    """

    def __init__(self, ticket: Ticket) -> None:
        self.formulas = {item.name for item in ticket.assignment.items if asks_formula(item)}
        self.most = MOST_WORKED
        self.most_formulas = max(MOST_FORMULAS, FORMULAS_EACH * len(self.formulas))
        self._left, self._formulas_left = (
            FILES_WORTH * self.most,
            FILES_WORTH * self.most_formulas,
        )
        self._paid: set[tuple[str, int, str]] = set()
        self.verdicts: dict[tuple[str, int, str, str], tuple[Problem, Verdict]] = {}

    def affordable(self, answers: list[Answer]) -> list[Answer]:
        """The answers of one file that are worked out, first tries first."""
        kept: list[Answer] = []
        formulas = 0
        for answer in sorted(answers, key=lambda one: one.number):
            formula = answer.item in self.formulas
            formulas += formula
            fits = len(kept) < self.most and not (formula and formulas > self.most_formulas)
            if fits and self._pay((answer.item, answer.number, answer.typed), formula):
                kept.append(answer)
        return kept

    def _pay(self, key: tuple[str, int, str], formula: bool) -> bool:
        """Whether an answer is known already or can be afforded."""
        if key in self._paid:
            return True
        if not self._left or (formula and not self._formulas_left):
            return False
        self._left -= 1
        self._formulas_left -= formula
        self._paid.add(key)
        return True


def asks_formula(item: Item) -> bool:
    """Whether the answer of an item is a formula."""
    return item.in_bank.style == "symbol"
