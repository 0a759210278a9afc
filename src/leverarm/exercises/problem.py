"""A problem with its own numbers: made from a kind and a seed, the same every time.

A drawn set of numbers is kept only if no listed wrong turn comes within three
per cent of the right answer, so that a slip and a right answer never look alike.
"""

from dataclasses import dataclass, field

from leverarm.exercises.draw import Stream
from leverarm.exercises.evaluate import value
from leverarm.exercises.kinds import TOO_NEAR, Kind, working
from leverarm.quantities import Refusal, from_unit, to_unit, unit_of

MOST_DRAWS = 400
# Here the lever upside down, the load in the middle or plain doubling give the right answer.
BLIND_SPOTS = (0.5, 0.618034, 1.0)
SPOT = 0.03
SCENES = {"machine": ("plot tractor", "yard tractor", "orchard tractor", "pitch tractor"),
          "thing": ("bucket", "pallet fork", "weight block", "stone rake")}


@dataclass(frozen=True)
class Problem:
    """One problem.

    kind, seed, system, lesson, title   where it comes from; system is "kg" or "lb"
    statement   the text to show; given  letter -> number with unit, as in the text
    unit        the unit asked for; answer  the right number in it
    numbers     name -> given number in the base unit
    redraws     how many drawn sets were put back
    """

    kind: str
    seed: object
    system: str
    lesson: int
    title: str
    statement: str
    given: dict
    unit: str
    answer: float
    numbers: dict = field(repr=False)
    base: float = field(repr=False)
    redraws: int = 0
    source: Kind = field(default=None, repr=False)


def make_number(kind, seed, system=None):
    """A numeric problem of a kind."""
    system = system or Stream(kind.name, seed, "units").one_of(("kg", "kg", "lb"))
    work = working(kind)
    for redraws in range(MOST_DRAWS):
        stream = Stream(kind.name, seed, system, redraws)
        shown, numbers = _drawn(work, stream, system)
        right = value(work.answer, numbers)
        if _fit(kind, numbers, right) and not _crowded(work, numbers, right):
            return _told(work, stream, seed, system, shown, numbers, right, redraws)
    raise Refusal("seed", seed, "a seed that leaves room between right and wrong", "take another seed")


def _drawn(work, stream, system):
    """Numbers for every letter: as shown, in the unit of the system, and in the base unit."""
    shown = {name: work.letters[name].draw(stream, system) for name in work.drawn}
    numbers = {name: work.letters[name].base(number, system) for name, number in shown.items()}
    for name, follows in work.derived.items():
        shown[name] = work.letters[name].snapped(value(follows, numbers), system)
    return shown, {name: work.letters[name].base(number, system) for name, number in shown.items()}


def _fit(kind, numbers, right):
    """Whether a real machine allows this answer, and the lever is not at a blind spot."""
    ratio = numbers["a"] / numbers["L"] if "a" in numbers and "L" in numbers else 0.0
    return kind.low <= right <= kind.high and all(abs(ratio - spot) > SPOT for spot in BLIND_SPOTS)


def _crowded(work, numbers, right):
    """Whether a listed wrong turn comes too near to the right answer."""
    return any(abs(value(turn, numbers) - right) < TOO_NEAR * abs(right) for turn in work.values[:work.listed])


def _told(work, stream, seed, system, shown, numbers, right, redraws):
    """The problem in words."""
    kind, unit = work.kind, unit_of(work.rule.kind, system)
    given = {name: work.letters[name].printed(shown[name], system) for name in kind.given}
    scene = {part: stream.one_of(choices) for part, choices in SCENES.items()}
    return Problem(kind.name, seed, system, kind.lesson, kind.title, kind.statement.format(**scene, **given),
                   {work.letters[n].shown: text for n, text in given.items()}, unit,
                   to_unit(right, work.rule.kind, unit), numbers, right, redraws, kind)


def base_of(problem, number):
    """A number in the unit of the problem, in the base unit."""
    return from_unit(number, working(problem.source).rule.kind, problem.unit)
