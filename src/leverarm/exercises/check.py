"""Checking an answer: what it was read as, whether it is right, and which wrong turns lead to it."""

from dataclasses import dataclass

from leverarm.exercises.answers import in_unit, read_number
from leverarm.exercises.evaluate import value
from leverarm.exercises.grammar import Unreadable
from leverarm.exercises.kinds import working

TOLERANCE = 0.005
WINDOW = 0.005


@dataclass(frozen=True)
class Suspect:
    """A wrong turn that leads to this answer: its name, what the number is, the question to ask."""

    name: str
    what: str
    ask: str


@dataclass(frozen=True)
class Verdict:
    """What a check found.

    right       whether the answer is right
    reading     the answer as it was read
    suspects    possible wrong turns, the commoner first
    message     what to tell: the goal, what the number is, the next question
    case        "right", "wrong", "unclear" (two readings), "unread"
    counts      whether it is an attempt: what could not be read is none
    """

    right: bool
    reading: str
    suspects: tuple
    message: str
    case: str
    goal: str = ""
    finding: str = ""
    question: str = ""

    @property
    def counts(self):
        """Whether this was an attempt at all."""
        return self.case in ("right", "wrong")


def check_number(problem, typed, tolerance=None):
    """The Verdict on a typed number."""
    work = working(problem.source)
    try:
        got = read_number(typed, work.rule.kind, problem.unit)
    except Unreadable as sentence:
        return Verdict(False, "", (), str(sentence), "unread")
    if len(got.values) > 1:
        return Verdict(False, got.shown, (), f"{typed.strip()} can mean {got.shown}. Type it without the comma, "
                       "or with a decimal point.", "unclear")
    number = got.values[0]
    if _is_right(problem, number, tolerance or TOLERANCE):
        return Verdict(True, got.shown, (), f"{got.shown}: that is it.", "right")
    suspects = tuple(_suspects(work, problem, number))
    return _wrong(problem, work, got, suspects)


def _is_right(problem, number, tolerance):
    """Within the tolerance; where the statement says which way, either sign."""
    right = problem.base
    if problem.source.sign == "size":
        number, right = abs(number), abs(right)
    return abs(number - right) <= tolerance * abs(right) * (1 + 1e-9)


def _suspects(work, problem, number):
    """Every wrong turn whose number this is."""
    for turn, compute in zip(work.turns, work.values):
        wrong = value(compute, problem.numbers)
        if abs(number - wrong) <= WINDOW * abs(wrong):
            yield Suspect(turn.name, turn.what, turn.ask)


def _wrong(problem, work, got, suspects):
    """The three parts of a reply to a wrong answer."""
    goal = f"Asked is {work.rule.words}, in {problem.unit or 'no unit'}."
    if not suspects:
        finding, question = f"{got.shown} is not it yet.", work.rule.why
    elif len(suspects) == 1:
        finding, question = f"{got.shown} is {suspects[0].what}.", suspects[0].ask
    else:
        finding = f"{got.shown} can be " + ", or ".join(s.what for s in suspects) + "."
        question = "Which of these did you do? " + suspects[0].ask
    return Verdict(False, got.shown, suspects, " ".join((goal, finding, question)), "wrong", goal, finding, question)
