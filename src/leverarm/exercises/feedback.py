"""What to say about a wrong number: the goal, what the number is, the next question.

The number is shown as the expression that gives it, in letters, and one question is asked.  Two
suspects are told apart by a second try with another number.  Where the digits speak for nothing,
nothing is claimed.  Feedback that explains helps most, right or wrong alone hardly at all
(Van der Kleij et al. 2015).
"""

import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from leverarm.exercises.change_classes import CLASSES, OF_THE_WHOLE, question_about
from leverarm.exercises.departure import departure, departure_of
from leverarm.exercises.evidence import DIGITS_OF_SURETY, NEAR, Typed
from leverarm.exercises.expressions.simplest import simplest
from leverarm.exercises.expressions.tree import Letter, Num, Tree, formula_text
from leverarm.exercises.method import Method, words_of
from leverarm.exercises.number_reader import UNIT_WORDS, printed_unit, significant
from leverarm.exercises.problem import Mistake, Problem, SolutionLine, Verdict
from leverarm.exercises.search import WrongTurn
from leverarm.exercises.solution import step_question
from leverarm.exercises.suspects import search_for
from leverarm.exercises.values import Values

# How far apart two results must come, to be told apart with so many digits.
APART = ((0.05, 3), (0.004, 4))
STRETCHED = (1.5, 2.0, 0.75)
NO_DIRECTION = "Can this quantity be negative?"
_LONG = re.compile(r"(?<![\w.])\d*\.\d{5,}(?![\w.])")
_KNOWN = (
    (math.pi, "π"),
    (2 * math.pi, "(2π)"),
    *((math.sqrt(number), f"sqrt({number})") for number in (2, 3, 6, 12)),
)
# A longer expression says less than what was changed in it.
LONGEST = 80
UNSURE = 0.2  # so much of everything must speak for wrong turns before more digits are asked for


def explained(
    method: Method, problem: Problem, shown: str, typed: Typed, short: tuple[Mistake, ...] = ()
) -> Verdict:
    """The Verdict on a wrong number, with at most two suspects that it speaks for.

    short   that it is the right number with too few digits, where it can be that
    """
    search = search_for(method, problem.system)
    numbers = {name: problem.drawn.shown[name] for name in method.given}
    turns, part = search.judged(typed, numbers)
    turns = tuple(turn for turn in turns if _tells_something(turn, typed))
    if short:
        turns = turns[:1]
    if turns or short:
        plain = getattr(problem.source, "sign", "") == "plain"
        turns, retry = _told_apart(method, problem, turns)
        suspects = (*short, *(as_mistake(method, turn, plain) for turn in turns))
        told = wrong_number(method, problem, shown, suspects, retry)
        return replace(told, step=_first_step(turns, search.right, problem, typed))
    right, goal = problem.answer, goal_of(method, problem)
    there = departure(problem, typed)
    if abs(typed.number - right) <= NEAR * abs(right):
        finding = f"{shown} is close: check the arithmetic and the rounding."
        question = "Was a number rounded on the way? Keep every digit until the last step."
        if there.finding:
            finding, question = f"{finding} It {there.finding}", there.question
        return Verdict(False, shown, (), "wrong", goal, finding, question, step=there.step)
    finding, question = f"{shown} {there.finding}", there.question
    if not there.finding:
        finding, question = cause_unknown(shown, problem.solution)
    if typed.number and typed.digits < DIGITS_OF_SURETY and part > UNSURE:
        more = "four digits" if typed.half == typed.coarse else "one digit more"
        question = f"Type it with {more}, with nothing rounded on the way. {question}"
    return Verdict(False, shown, (), "wrong", goal, finding, question, step=there.step)


def _first_step(turns: Sequence[WrongTurn], right: Tree, problem: Problem, typed: Typed) -> int:
    """The first step where it may have happened: twice the answer may be twice any step before."""
    step, earliest = departure_of(turns, right, problem), departure(problem, typed).earliest
    return step if earliest is None else min(step, earliest)


def explained_together(
    method: Method, problem: Problem, tries: Sequence[tuple[Problem, str, Typed]], alone: Verdict
) -> Verdict:
    """The Verdict on a wrong number after others with other numbers: what explains them all.

    tries   (problem, number as read, number typed), the present one last
    alone   what the last number says by itself, which stands where nothing explains them all
    """
    search = search_for(method, problem.system)
    turns = search.judged_together(
        [(typed, {name: at.drawn.shown[name] for name in method.given}) for at, _, typed in tries]
    )
    if not turns:
        return alone
    turns, retry = _told_apart(method, problem, turns)
    suspects = tuple(as_mistake(method, turn) for turn in turns)
    shown = " and ".join(read for _, read, _ in tries)
    told = wrong_number(method, problem, shown, suspects, retry)
    finding = told.finding.replace(f"{shown} is ", f"{shown} are both ", 1)
    return replace(told, reading=alone.reading, finding=f"The same again: {finding}")


def _tells_something(turn: WrongTurn, typed: Typed) -> bool:
    """Whether a wrong turn says more than the number itself: "1 is the number 1" does not.

    What rounds to 0 says nothing; what is 0 may.
    """
    number = isinstance(simplest(turn.tree), Num)
    return (bool(turn.question) or not number) and (typed.number != 0 or number)


def _short(expression: str) -> str:
    """An expression with its long numbers cut to four digits, or as they are known.

    >>> _short("W × 0.45359237 + A/3.141592654")
    'W × 0.4536 + A/π'
    """
    return _LONG.sub(lambda number: _known_number(float(number[0])), expression)


def _known_number(number: float) -> str:
    for known, printed in _KNOWN:
        if abs(number - known) < 1e-6:
            return printed
    return significant(number, 4)


def as_mistake(method: Method, turn: WrongTurn, plain: bool = False) -> Mistake:
    """A wrong turn in words: a listed one in its own, any other as its expression in letters.

    plain   whether the answer is a quantity that has no direction
    """
    names = method.given_letters
    if turn.question:
        return Mistake(turn.name, turn.words, turn.question, turn.tree)
    if turn.name in OF_THE_WHOLE:
        what = _change_in_words(turn, names)
        asks = NO_DIRECTION if plain and turn.name == "sign" else question_about(turn.name)
        return Mistake(turn.name, what, asks, turn.tree, 1)
    tree = simplest(turn.tree)
    expression = _short(formula_text(tree, names))
    if isinstance(tree, Num):
        what = f"the number {expression}"
    elif isinstance(tree, Letter):
        what = f"{words_of(tree.name)}, {expression}"
    elif expression.startswith("the "):
        what = expression
    else:
        what = f"what {expression} gives"
        if len(expression) > LONGEST:
            what = min(what, _change_in_words(turn, names), key=len)
    return Mistake(turn.name, what, _question(turn, method), turn.tree, 1)


def _change_in_words(turn: WrongTurn, names: dict[str, str]) -> str:
    """What a wrong turn changes, with the parts that it is about."""
    return (turn.words or CLASSES[turn.name].words).format(*_parts(turn, names))


def _parts(turn: WrongTurn, names: dict[str, str]) -> tuple[str, ...]:
    """The parts that a wrong turn is about, in letters."""
    return tuple(_short(formula_text(simplest(part), names)) for part in turn.parts)


def _question(turn: WrongTurn, method: Method) -> str:
    """What to ask about a wrong turn, with the kind of quantity that was taken wrongly."""
    if turn.name == "function" and method.rule.figures:
        return "Which measure of the readings is asked for?"
    first = turn.parts[0] if turn.parts else None
    letter = method.letters.get(first.name) if isinstance(first, Letter) else None
    kind = letter.kind if letter and letter.placed else None
    return question_about(turn.name, kind, _parts(turn, method.given_letters))


def goal_of(method: Method, problem: Problem) -> str:
    """What the question asks for, and in which unit."""
    unit = UNIT_WORDS.get(problem.unit, printed_unit(problem.unit))
    unit = "" if not unit or method.rule.raw or unit in method.rule.words else f", in {unit}"
    return f"The question asks for {method.rule.words}{unit}."


def wrong_number(
    method: Method, problem: Problem, shown: str, suspects: tuple[Mistake, ...], retry: str = ""
) -> Verdict:
    """The Verdict on a wrong number with its suspects.

    retry       a second try that tells two of them apart
    """
    names = method.given_letters
    # Two mistakes may have the same words: each is said once.
    said = list(dict.fromkeys(_said(suspect, names) for suspect in suspects))
    finding = f"{shown} {'can be' if len(said) > 1 else 'is'} {'; or '.join(said)}."
    question = suspects[0].question
    if len(said) > 1:
        question = f"Which of these was it? {retry or question}"
    return Verdict(False, shown, suspects, "wrong", goal_of(method, problem), finding, question)


def _said(suspect: Mistake, names: dict[str, str]) -> str:
    """What a suspect is; a listed one with its expression, where its words leave it out."""
    if suspect.tree is None or suspect.rank:
        return suspect.what
    tree = simplest(suspect.tree)
    expression = _short(formula_text(tree, names))
    if isinstance(tree, Num) or expression in suspect.what:
        return suspect.what
    return f"{suspect.what}: {expression}"


def cause_unknown(shown: str, lines: Sequence[SolutionLine]) -> tuple[str, str]:
    """Finding and question where no known mistake leads to the answer: no formula in either.

    lines   the worked solution, whose first step is to be checked
    """
    first = step_question(lines[0])
    if sum(not line.equation for line in lines) == 1:
        return f"I don't see how {shown} came about.", f"Check this step: {first}"
    return (
        f"I don't see how {shown} came about, or at which step.",
        f"Start at the first: {first}",
    )


def _told_apart(
    method: Method, problem: Problem, turns: tuple[WrongTurn, ...]
) -> tuple[tuple[WrongTurn, ...], str]:
    """Wrong turns with the second try that tells two of them apart.

    Where no number does, the first is the likelier, and the other is next to the same.
    """
    retry = _second_try(method, problem, turns) if len(turns) > 1 else ""
    return (turns if retry else turns[:1]), retry


def _second_try(method: Method, problem: Problem, turns: Sequence[WrongTurn]) -> str:
    """Another value of one given number that tells two wrong turns apart, and both results."""
    unit = f" {printed_unit(problem.unit)}" if problem.unit else ""
    for apart, digits in APART:
        for name, moved in _other_numbers(method, problem):
            values = Values([problem.drawn.shown | {name: moved}])
            # In order of size, so that the order does not give the answer away.
            low, high = sorted(values(turn.tree)[0] for turn in turns[:2])
            if high - low > apart * max(abs(low), abs(high), 1e-12):
                return (
                    f"Work yours again with {words_of(name)} at "
                    f"{method.letters[name].printed(moved, problem.system)}: do you get "
                    f"{significant(low, digits)} or {significant(high, digits)}{unit}?"
                )
    return ""


def _other_numbers(method: Method, problem: Problem) -> Iterator[tuple[str, float]]:
    """Each given letter with another number in the place of its own."""
    for name in method.given:
        letter = method.letters[name]
        size = 1.0 if method.rule.raw else letter.base(1.0, problem.system)
        base = size * problem.drawn.shown[name]
        for factor in STRETCHED:
            yield name, letter.snapped(base * factor, problem.system)
