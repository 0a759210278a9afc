"""Invented classes whose gain is known, to see whether what is worked out finds it.

A student has a chance of their own to be right, higher at easy questions and lower at hard ones.
The course turns a wrong answer right with another probability of their own; its mean over students
is the gain that the class has, exactly, since it is drawn apart from what was known before.

Nothing here was measured on anybody.
"""

import math
from dataclasses import dataclass
from random import Random

from leverarm.concept_check.questions import FORMS, form, how_many_questions
from leverarm.concept_check.statistics import Gain, class_gain

# How hard a question is against the others of a form, in logits: spread from easy to hard.
_SPREAD = 1.2


@dataclass(frozen=True)
class Imagined:
    """What an imagined class is drawn from.

    pre         mean share right before;  gain  the normalized gain of the class
    alike       how alike students are in what they know: 3 hardly, 30 nearly the same
    even        how evenly they gain: 2 very unevenly, 30 nearly the same
    harder      how many logits form B is harder than form A
    """

    pre: float = 0.4
    gain: float = 0.3
    alike: float = 6.0
    even: float = 6.0
    harder: float = 0.0


@dataclass(frozen=True)
class ImaginedStudent:
    """One imagined student: which form came first, and right or wrong in both rounds."""

    first: str
    before: tuple[bool, ...]
    after: tuple[bool, ...]

    @property
    def percents(self) -> tuple[float, float]:
        """Percent right before and after."""
        return percent(self.before), percent(self.after)


def percent(right: tuple[bool, ...]) -> float:
    """Percent right of a sheet."""
    return 100 * sum(right) / len(right)


def imagined_class(random: Random, students: int, like: Imagined) -> list[ImaginedStudent]:
    """So many students, the forms dealt by turns."""
    return [_student(random, FORMS[at % 2], like) for at in range(students)]


def _student(random: Random, first: str, like: Imagined) -> ImaginedStudent:
    knows = _share(random, like.pre, like.alike)
    gains = _share(random, like.gain, like.even)
    other = FORMS[1 - FORMS.index(first)]
    before = tuple(random.random() < p for p in _chances(knows, first, like))
    after = tuple(random.random() < p + gains * (1 - p) for p in _chances(knows, other, like))
    return ImaginedStudent(first, before, after)


def _share(random: Random, mean: float, concentration: float) -> float:
    """A share drawn round a mean."""
    if not 0 < mean < 1:
        return mean
    return random.betavariate(mean * concentration, (1 - mean) * concentration)


def _chances(knows: float, name: str, like: Imagined) -> list[float]:
    """The chance of a right answer to each question: what is known, easier or harder."""
    count = how_many_questions()
    level = math.log(max(knows, 1e-6) / max(1 - knows, 1e-6))
    level -= like.harder if name == FORMS[1] else 0.0
    steps = (_SPREAD * (2 * at / (count - 1) - 1) for at in range(count))
    return [1 / (1 + math.exp(-(level - step))) for step in steps]


def letters(random: Random, name: str, right: tuple[bool, ...]) -> str:
    """What an imagined student marked on a form: the key where right, else a wrong option."""
    return "".join(
        question.key
        if good
        else random.choice([one for one in question.letters if one != question.key])
        for question, good in zip(form(name, "lb"), right)
    )


@dataclass(frozen=True)
class Recovered:
    """How often the interval held the gain that the classes had.

    students, classes   in each class, and how many classes
    inside      percent of the classes whose interval held it, of those that had an interval
    stated      the same for the gain and its ±
    no_number   percent of the classes where no interval could be given
    mean_gain, plus_minus   means over the classes
    """

    students: int
    classes: int
    inside: float
    stated: float
    no_number: float
    mean_gain: float
    plus_minus: float


def recovered(seed: object, students: int, classes: int, like: Imagined) -> Recovered:
    """Draw classes, work out the gain of each, and count the intervals that hold the true one."""
    random = Random(repr(seed))
    found: list[tuple[float, float, float, float]] = []
    for _ in range(classes):
        one = class_gain([pupil.percents for pupil in imagined_class(random, students, like)])
        if ends := _ends(one):
            found.append(ends)
    held = sum(low <= like.gain <= high for _, low, high, _ in found)
    near = sum(abs(like.gain - gain) <= half for gain, _, _, half in found)
    count = max(1, len(found))
    return Recovered(
        students,
        classes,
        100 * held / count,
        100 * near / count,
        100 * (classes - len(found)) / classes,
        sum(gain for gain, _, _, _ in found) / count,
        sum(half for _, _, _, half in found) / count,
    )


def _ends(one: Gain) -> tuple[float, float, float, float] | None:
    """(gain, low, high, ±), or None where there is no interval."""
    if one.gain is None or one.low is None or one.high is None or one.plus_minus is None:
        return None
    return one.gain, one.low, one.high, one.plus_minus
