"""What every style of problem has in common: Problem, Verdict, Suspect."""

from dataclasses import dataclass, field


@dataclass(frozen=True)
class Problem:
    """A problem with its own numbers.

    kind, lesson, title, style   the kind it was made from; style is "number", "symbol", "choice" or "body"
    seed, system    what it was made with; system is "kg" or "lb"
    statement   the text to show
    given       letter -> number with unit, as they stand in the text
    unit        the unit asked for, "" where none is
    answer      the right answer: a number in that unit, a formula, the letter of an option, or lines of text
    options     for a choice: (letter, text) pairs; for a body: what can be chosen, see bodies
    redraws     how many drawn sets of numbers were put back
    """

    kind: str
    lesson: int
    title: str
    style: str
    seed: object
    system: str
    statement: str
    given: dict
    unit: str
    answer: object
    options: tuple = ()
    redraws: int = 0
    source: object = field(default=None, repr=False, compare=False)
    inner: object = field(default=None, repr=False, compare=False)

    @property
    def hints(self):
        """Four hints, one rung at a time: a question, a picture, the step, the step worked."""
        return self.source.hints(self)

    @property
    def solution(self):
        """The worked solution with this problem's own numbers: a tuple of lines, each with its principle."""
        return self.source.solution(self)


@dataclass(frozen=True)
class Suspect:
    """A wrong turn that leads to an answer: its name, what the number is, the question to ask."""

    name: str
    what: str
    ask: str


@dataclass(frozen=True)
class Verdict:
    """What a check found.

    right       whether the answer is right
    reading     the answer as it was read
    suspects    every wrong turn that leads to it, the commoner first
    message     what to tell, in three parts: goal, finding, question
    case        "right", "wrong", "unclear" (two readings, or a formula where a number is asked),
                "unread" (nothing that could be read)
    remarks     what is worth saying about a right answer: another unit, a stated sign, too many digits
    how         for a formula: how it was compared
    """

    right: bool
    reading: str
    suspects: tuple = ()
    case: str = "wrong"
    goal: str = ""
    finding: str = ""
    question: str = ""
    remarks: tuple = ()
    how: str = ""

    @property
    def message(self):
        """The reply as one text."""
        return " ".join(
            part for part in (self.goal, self.finding, *self.remarks, self.question) if part
        )

    @property
    def counts(self):
        """Whether this was an attempt: what could not be read, or left two readings open, is none."""
        return self.case in ("right", "wrong")


def unread(sentence):
    """The Verdict on text that is no answer."""
    return Verdict(False, "", case="unread", finding=str(sentence))


def unclear(reading, sentence):
    """The Verdict on text that leaves two readings open."""
    return Verdict(False, reading, case="unclear", finding=sentence)
