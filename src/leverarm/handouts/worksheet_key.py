"""The key to the worksheets of one unit system: answers, what counts, working, what to ask.

Every number is worked out by the bank from the problem itself; what stands under "If you see" are
the listed slips with this problem's numbers.
"""

import math
from collections.abc import Iterator
from html import escape

from leverarm.exercises import Problem
from leverarm.exercises.choices import ChoiceKind
from leverarm.exercises.expressions.simplest import simplest
from leverarm.exercises.expressions.tree import (
    compiled,
    formula_text,
    letters_in,
    value_at,
    written_out,
)
from leverarm.exercises.formulas import FormulaKind
from leverarm.exercises.mistakes import listed_mistakes
from leverarm.exercises.number_reader import printed_unit, significant
from leverarm.exercises.numbers import NumberKind
from leverarm.exercises.problem import SolutionLine
from leverarm.exercises.suspects import listed_turns
from leverarm.exercises.typeset import typeset
from leverarm.handouts.sheet import filled, heading, sheet_html, system_words
from leverarm.handouts.worksheets import CHOSEN, SEED, TITLES, problems_of, short_principle
from leverarm.quantities import show_number, to_unit

_MOST_SEEN = 3
_FOOT = "Any correct route counts. With two slips in one answer, mark the first wrong step."


def worksheets_key(system: str, seed: int = SEED) -> str:
    """The key as HTML: a section a lesson."""
    under = f"Set {seed}, in {system_words(system)}. For the instructor. {_FOOT}"
    lessons = "".join(_lesson(lesson, system, seed) for lesson in CHOSEN)
    title = "Key to the worksheets"
    return sheet_html(f"{title} ({system})", heading(title, under) + lessons, kind="key")


def _lesson(lesson: int, system: str, seed: int) -> str:
    entries = "".join(
        _entry(number, problem)
        for number, problem in enumerate(problems_of(lesson, system, seed), 1)
    )
    return f"<section><h2>{lesson:02d}\u2002{escape(TITLES[lesson])}</h2>{entries}</section>"


def _entry(number: int, problem: Problem) -> str:
    """One problem: what is right and why; beside it what is wrong, and what to ask."""
    given = ", ".join(f"{typeset(letter)} {value}" for letter, value in problem.given.items())
    given = f'<p class="given">{given}</p>' if problem.style == "number" and given else ""
    counts = what_counts(problem)
    counts = f' <span class="counts">(count {counts})</span>' if counts else ""
    wrong = _seen(problem)
    kind = "solved keep" if wrong else "solved keep alone"
    return (
        f'<section class="{kind}"><div class="top"><h3>{number}\u2002{escape(problem.title)}</h3> '
        f'{given} <p class="right-answer"><b>{typeset_answer(problem)}</b>{counts}</p></div>'
        f'<ul class="steps">{_steps(problem)}</ul>{wrong}</section>'
    )


def answer(problem: Problem) -> str:
    """The right answer as the key prints it; a change keeps its plus."""
    if problem.style == "number":
        shown = problem.solution[-1].result
        signed = isinstance(problem.source, NumberKind) and problem.source.sign == "change"
        return f"+{shown}" if signed and problem.answer > 0 else shown
    if problem.style == "body":
        return "free body and equation"
    return str(problem.answer)


def typeset_answer(problem: Problem) -> str:
    """The same as HTML: a formula with its fractions."""
    return typeset(problem.answer) if problem.style == "symbol" else escape(answer(problem))


def what_counts(problem: Problem) -> str:
    """From which number to which an answer counts, rounded inward; "" where it is no number."""
    if not isinstance(problem.source, NumberKind):
        return ""
    rule, numbers = problem.source.method.rule, problem.drawn
    room = problem.source.nearness(numbers, problem.system).room
    ends = [numbers.right - room, numbers.right + room]
    if not rule.raw:
        ends = [to_unit(end, rule.kind, problem.unit) for end in ends]
    low, high = sorted(ends)
    if low >= high:
        return significant(problem.answer)
    places = 1 - math.floor(math.log10(high - low))
    step = 10.0**places
    bounds = math.ceil(low * step - 1e-6) / step, math.floor(high * step + 1e-6) / step
    return " to ".join(show_number(end, max(places, 0)) for end in bounds)


def _steps(problem: Problem) -> str:
    """The lines of the working, a principle before the first line that it is used in."""
    lines, before = [], ""
    for line in problem.solution:
        name = "" if line.principle in (before, "definition") else line.principle
        tag = f'<span class="principle">{escape(short_principle(name))}</span> ' if name else ""
        before = line.principle
        lines.append(f"<li>{tag}{_step(line)}</li>")
    return "".join(lines)


def _step(line: SolutionLine) -> str:
    """A line of the working: what is worked out, in numbers where there are numbers."""
    if line.mark == ": ":
        return f"{escape(line.words)} {typeset(line.left)}: {escape(line.result)}"
    if line.equation:
        shown = line.numbers or f"{line.left} = {line.letters}"
        return f'<span class="one-line">{typeset(shown)}</span>'
    working = line.numbers or line.letters
    result = escape(line.result) if line.numbers else typeset(line.result)
    parts = [typeset(part) for part in dict.fromkeys((line.left, working)) if part]
    return f'<span class="one-line">{" = ".join([*parts, result])}</span>'


def _seen(problem: Problem) -> str:
    """The list of wrong answers, each with what it is and what to ask."""
    lines = "".join(
        f"<li><b>{shown}</b>: {filled(_sentence(what))} Ask: {filled(question)}</li>"
        for shown, what, question in seen(problem)
    )
    return f'<div><b>If you see</b><ul class="seen">{lines}</ul></div>' if lines else ""


def _sentence(words: str) -> str:
    return words if words[-1:] in ".?!" else f"{words}."


def seen(problem: Problem) -> list[tuple[str, str, str]]:
    """At most three wrong answers that classes give: as HTML, what it is, what to ask."""
    found: dict[str, tuple[str, str, str]] = {}
    for shown, what, question in _slips(problem):
        found.setdefault(shown, (shown, what, question))
    return list(found.values())[:_MOST_SEEN]


def _slips(problem: Problem) -> Iterator[tuple[str, str, str]]:
    """The listed slips of a problem with its own numbers or letters; a choice's wrong options."""
    kind = problem.source
    if isinstance(kind, NumberKind):
        names: set[str] = set()
        for turn in listed_turns(kind.method, problem.system):
            value = value_at(compiled(turn.tree), problem.drawn.shown)
            if turn.name not in names and abs(value) < 1e7:
                names.add(turn.name)
                shown = f"{significant(value)} {printed_unit(problem.unit)}".rstrip()
                yield escape(shown), turn.words, turn.question
    elif isinstance(kind, FormulaKind) and problem.drawn is None:
        letters = kind.letters
        for group in listed_mistakes(kind.method):
            one = group.mistakes[0]
            tree = simplest(written_out(group.tree))
            if set(letters_in(tree)) <= set(letters):
                yield typeset(formula_text(tree, letters)), one.what, one.question
    elif isinstance(kind, ChoiceKind):
        for (letter, text), option in zip(problem.options, problem.drawn, strict=True):
            if option.mistake:
                yield letter, f"“{text.rstrip('.')}”", option.reply
