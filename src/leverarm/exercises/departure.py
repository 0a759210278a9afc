"""At which step of the worked way a wrong number leaves it, and what the number says of that step.

If all lines but one were worked right, the number tells what that one came to: the lines after it
are followed back.  Where that is the right result with a slip of the pen (a digit wrong, two
swapped, the sign, a factor of 2 or of 10, too few digits kept), the slip may have happened there.
A number alone cannot tell more, so what is said is what comes out, and never what somebody did.
"""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from leverarm.exercises.evidence import Typed, background, digits_of, written_wrong
from leverarm.exercises.expressions.tree import Named, Tree, compiled, value_at, walk
from leverarm.exercises.number_reader import printed_unit, without_end_zeros
from leverarm.exercises.problem import Problem, SolutionLine
from leverarm.exercises.search import WrongTurn

FACTORS = (-1.0, 2.0, 0.5, 10.0, 0.1, 100.0, 0.01, 1000.0, 0.001)
# What part of all slips of the pen each sort is; one of a sort must outweigh any number at all.
FACTOR, TOO_FEW_DIGITS, DIGIT, SWAP = 0.3, 0.2, 0.3, 0.2
OUTWEIGHS = 8.0
FEWEST, KEPT, DIGITS_OF_A_LINE = 1, 3, 4
ROOM = 2e-5  # digits that were not kept on the way
AROUND, TRIES, SAME, STEP = (1.3, 0.8), 5, 1e-9, 1e-6


@dataclass(frozen=True)
class Departure:
    """Where a wrong number leaves the worked way.

    step        the place of the line; the first line where nothing can be told
    finding     what is true of the number there, without its beginning, "" where nothing is
    question    what to do about it
    earliest    the first line where a slip of the pen could give the number, however weakly it
                speaks for one; None where there is none
    """

    step: int = 0
    finding: str = ""
    question: str = ""
    earliest: int | None = None


def departure(problem: Problem, typed: Typed) -> Departure:
    """Where a wrong number leaves the worked way of its problem: the earliest line that fits.

    A step is named only where its slip outweighs any number at all, and no step before can be it.
    """
    lines = problem.solution
    results = [at for at, line in enumerate(lines) if line.makes]
    for at in results[:-1]:
        line = lines[at]
        if line.unit == problem.unit and line.principle != "units" and typed.fits(line.claim):
            found = f"is what {line.name} comes to, a result on the way."
            return Departure(at + 1, found, "What comes next?", at + 1)
    enough = OUTWEIGHS * background(typed, problem.answer) * abs(typed.number)
    for at in results:
        slip = _slip_at(lines, at, typed)
        if slip is None:
            continue
        line, (came_to, weight) = lines[at], slip
        if weight < enough:
            return Departure(earliest=at)
        if at == results[-1]:
            return Departure(
                at, "can be a slip in the last step.", f"Work out {line.name} again.", at
            )
        if printed := _printed(lines, at, came_to, typed):
            found = f"is what comes out with {line.left} = {printed}."
            asks = (
                f"Did you have that? Then work out {line.name} again. "
                "If not, check the steps after it."
            )
            return Departure(at, found, asks, at)
        return Departure(earliest=at)
    return Departure()


def departure_of(turns: Sequence[WrongTurn], right: Tree, problem: Problem) -> int:
    """The first line whose result a wrong turn does not work out as it should be.

    right   the right expression, of which the wrong turns keep what they do not change
    """
    steps = {node for node in walk(right) if isinstance(node, Named)}
    kept = {node.name for node in steps}
    for turn in turns:
        kept &= {node.name for node in walk(turn.tree) if isinstance(node, Named) and node in steps}
    names = {node.name for node in steps}
    lines = enumerate(problem.solution)
    wrong = (at for at, line in lines if line.makes.split(":")[0] in names - kept)
    return next(wrong, len(problem.solution) - 1)


def _slip_at(lines: tuple[SolutionLine, ...], at: int, typed: Typed) -> tuple[float, float] | None:
    """What a line came to if a slip there and nothing else gives the number, and its weight."""
    right, after = lines[at].claim, _what_follows(lines, at)
    found = _followed_back(after, right, typed.like(lines[-1].claim))
    return found and _slip(found[0], abs(typed.coarse / found[1]), right)


def _printed(lines: tuple[SolutionLine, ...], at: int, came_to: float, typed: Typed) -> str:
    """A result with its unit, in so few digits that the number typed still comes out."""
    after, number = _what_follows(lines, at), typed.like(lines[-1].claim)
    for digits in (4, 5, 6):
        printed = without_end_zeros(came_to, digits)
        out = after(float(printed.replace(",", "").replace("−", "-")))
        if abs(out - number) <= typed.coarse * (1 + SAME):
            return f"{printed} {printed_unit(lines[at].unit)}".strip()
    return ""


def _what_follows(lines: tuple[SolutionLine, ...], at: int) -> Callable[[float], float]:
    """The answer as a function of what one line comes to."""
    known = lines[-1].at or {}
    later = [
        (line.makes, compiled(line.tree))
        for line in lines[at + 1 :]
        if line.makes and line.tree is not None and line.at is known
    ]

    def answer(number: float) -> float:
        now, found = {**known, lines[at].makes: number}, number
        for name, compute in later:
            found = now[name] = value_at(compute, now)
        return found

    return answer


def _followed_back(
    after: Callable[[float], float], right: float, wanted: float
) -> tuple[float, float] | None:
    """What a line must have come to for a number to come out, and how steep the way is there.

    Through three points goes one fraction (pv + q)/(rv + s): most of what follows a line is one,
    and the rest is tried again from nearer points.  None where none is found.
    """
    side = math.copysign(right, wanted * after(right) * right)
    tried = [(at, after(at)) for at in (right, *(near * side for near in AROUND))]
    for _ in range(TRIES):
        guess = _where(tried[-3:], wanted)
        came = after(guess)
        if not math.isfinite(came):
            return None
        if abs(came - wanted) <= SAME * abs(wanted):
            slope = (after(guess * (1 + STEP)) - came) / (guess * STEP) if guess else 0.0
            return (guess, slope) if slope and math.isfinite(slope) else None
        tried.append((guess, came))
    return None


def _where(points: Sequence[tuple[float, float]], wanted: float) -> float:
    """Where the fraction through three points is what is wanted; NaN where nowhere.

    Its cross-ratio of four values is that of where it has them.

    >>> round(_where([(1.0, 6.0), (2.0, 3.0), (3.0, 2.0)], 1.0), 9)
    6.0
    """
    (one, at_one), (two, at_two), (three, at_three) = points
    try:
        part = (wanted - at_one) * (at_two - at_three) / ((wanted - at_three) * (at_two - at_one))
        part *= (two - one) / (two - three)
        return (one - part * three) / (1 - part)
    except ZeroDivisionError:
        return math.nan


def _slip(came_to: float, off: float, right: float) -> tuple[float, float] | None:
    """The slip of the pen in a right result that gives this, within so much, and its weight."""
    off += ROOM * abs(right)
    share, slip = max(
        (
            (share, slip)
            for share, slip in _slips(right)
            if abs(slip - came_to) <= off < abs(slip - right)
        ),
        default=(0.0, 0.0),
    )
    return (slip, share * abs(came_to) / (2 * off)) if share else None


def _slips(right: float) -> Iterator[tuple[float, float]]:
    """Slips of the pen in a result: the share of each among all, and what it comes to."""
    for factor in FACTORS:
        yield FACTOR / len(FACTORS), factor * right
    kept = range(FEWEST, KEPT + 1)
    for digits in kept:
        yield TOO_FEW_DIGITS / len(kept), float(f"{right:.{digits}g}")
    rounded = float(f"{right:.{DIGITS_OF_A_LINE}g}")
    for share, slips in zip((DIGIT, SWAP), written_wrong(digits_of(right, DIGITS_OF_A_LINE))):
        for slip in slips:
            yield share / len(slips), right + slip - rounded
