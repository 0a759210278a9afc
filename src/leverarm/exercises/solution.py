"""Worked solutions by the route the lesson taught, with the problem's own numbers; hints.

Every line keeps the tree it was printed from and the number it claims, so that a test can work it
out again.
"""

from collections.abc import Iterable
from typing import Any

from leverarm.exercises.expressions.tree import Letter, Num, Tree, formula_text, letters_in
from leverarm.exercises.method import Method
from leverarm.exercises.number_reader import (
    UNIT_WORDS,
    printed_unit,
    significant,
    without_end_zeros,
)
from leverarm.exercises.problem import Problem, SolutionLine
from leverarm.exercises.rules import RULES, Rule
from leverarm.exercises.solution_units import SolutionUnits
from leverarm.exercises.ways import PlannedStep, steps_to
from leverarm.quantities import KINDS


def solution_in_numbers(method: Method, problem: Problem) -> tuple[SolutionLine, ...]:
    """The worked solution of a numeric problem."""
    units = SolutionUnits(method, problem)
    lines = [_conversion(units, name) for name in units.used if units.is_converted(name)]
    lines += [
        _equation_line(units, step) if step.sides else _result_line(units, step)
        for step in units.steps
    ]
    last = units.steps[-1]
    if not method.rule.raw and units.unit_of_result(last) != problem.unit:
        lines.append(_last_conversion(units, last))
    return tuple(lines)


def solution_in_letters(
    method: Method, problem: Problem, put_in: Tree | None = None, multiple: str = ""
) -> tuple[SolutionLine, ...]:
    """The worked solution of a formula, each step in letters.

    put_in      the answer where one letter is a multiple of another; a last line shows it
    """
    steps = steps_to(method, problem.lesson, problem.system)
    letters = method.printed_letters() | {step.name: step.shown for step in steps if not step.sides}
    lines = []
    for step in steps:
        if step.sides:
            left, right = (formula_text(side, letters) for side in step.sides)
            lines.append(_line(step, left, right, equation=True))
        else:
            lines.append(_line(step, step.shown, result=formula_text(step.tree, letters)))
    rule, unfinished = method.rule, set(letters_in(steps[-1].tree)) - set(method.given)
    words = f"Put {multiple} in." if put_in is not None else "Put in what stands above."
    if put_in is not None or unfinished:
        result = problem.answer if put_in is None else formula_text(put_in, letters)
        tree = steps[-1].tree if put_in is None else put_in
        lines.append(
            SolutionLine("definition", words, rule.shown, result=result, tree=tree, name=rule.words)
        )
    return tuple(lines)


def _line(step: PlannedStep, left: str, letters: str = "", **more: Any) -> SolutionLine:
    return SolutionLine(
        step.principle, step.why, left, letters, tree=step.tree, name=step.words, **more
    )


def _equation_line(units: SolutionUnits, step: PlannedStep) -> SolutionLine:
    """The equation that the next steps are solved from, in letters and in numbers."""
    known = units.numbers.keys() - {step.name}
    unknown = {name: units.letters[name] for name in letters_in(step.tree) if name not in known}
    in_letters = [formula_text(side, units.letters) for side in step.sides]
    in_numbers = [formula_text(side, units.numbers | unknown) for side in step.sides]
    return _line(step, *in_letters, numbers=" = ".join(in_numbers), at=units.at, equation=True)


def _result_line(units: SolutionUnits, step: PlannedStep) -> SolutionLine:
    """A line that works out a result, in letters and in numbers."""
    number, unit = units.at[step.name], units.unit_of_result(step)
    numbers = formula_text(step.tree, units.numbers)
    mean = step.name in RULES and RULES[step.name].figures == "mean"
    # A mean of readings tells a digit more than one of them; what is given stands as it is.
    result = significant(number, 5 if mean else 4)
    if isinstance(step.tree, Letter):
        numbers, result = "", numbers
    return _line(
        step,
        step.shown,
        formula_text(step.tree, units.letters),
        numbers=numbers,
        result=_with_unit(result, unit),
        at=units.at,
        claim=number,
        kind=step.kind,
        unit=unit,
        makes=step.name,
    )


def _with_unit(number: str, unit: str) -> str:
    return f"{number} {printed_unit(unit)}".strip()


def _conversion(units: SolutionUnits, name: str) -> SolutionLine:
    """The line that converts a given number into the unit that the formula needs."""
    letter, unit = units.method.letters[name], units.unit(name)
    factors = KINDS[letter.kind].units
    tree = Letter(name) * Num(factors[letter.unit(units.system)] / factors[unit])
    number = units.at[name]
    return SolutionLine(
        "units",
        f"{letter.words.capitalize()} in {UNIT_WORDS.get(unit, printed_unit(unit))}, "
        "as the formula needs it.",
        letter.shown,
        "",
        formula_text(tree, units.method.given_numbers(units.problem)),
        _with_unit(without_end_zeros(number), unit),
        tree,
        {name: units.problem.drawn.shown[name]},
        number,
        name=letter.words,
        kind=letter.kind,
        unit=unit,
        makes=name,
    )


def _last_conversion(units: SolutionUnits, step: PlannedStep) -> SolutionLine:
    """The line that converts the result into the unit asked."""
    unit, factors = units.problem.unit, KINDS[step.kind].units
    tree = Letter(step.name) / Num(factors[unit] / factors[units.unit_of_result(step)])
    answer = units.problem.answer
    return SolutionLine(
        "units",
        f"In {UNIT_WORDS.get(unit, printed_unit(unit))}, as asked.",
        step.shown,
        "",
        formula_text(tree, units.numbers),
        f"{significant(answer)} {printed_unit(unit)}",
        tree,
        units.at,
        answer,
        name=step.words,
        kind=step.kind,
        unit=unit,
        makes="the answer",
    )


# --- hints ----------------------------------------------------------------------------------

_QUESTIONS = {
    "forces": "What pushes up and what pulls down? They must be equal.",
    "definition": "In your own words: what is {words}?",
    "units": (
        "Which unit is given, which is asked, and is the one bigger or smaller than the other?"
    ),
    "tires": (
        "Seen from behind: which forces have an arm about the tire line, and how long is each?"
    ),
}
_ABOUT = {
    "front": "front axle",
    "rear": "rear axle",
    "left": "left scale",
    "right": "right scale",
}


def step_question(line: SolutionLine) -> str:
    """The question that leads to a step, without its formula."""
    if line.principle in _ABOUT:
        return (
            f"Take moments about the {_ABOUT[line.principle]}: "
            "which forces have an arm there, and how long is each?"
        )
    return _QUESTIONS[line.principle].format(words=line.name)


def hints_in_numbers(method: Method, problem: Problem, step: int | None) -> tuple[str, ...]:
    """Four hints at a step: a question, a picture, the step, the step worked.

    step    the place of its line; None, where nothing was typed yet, for the first that is no
            change of units
    """
    lines = problem.solution
    first = (
        lines[step]
        if step is not None
        else next((line for line in lines if line.principle != "units"), lines[0])
    )
    given = ", ".join(f"{letter} = {number}" for letter, number in problem.given.items())
    return (
        step_question(first),
        f"{drawing_hint(method.given, method.rule.principle)} Write on it: {given}.",
        f"Principle: {first.tag}. {first.words} {first.left} = {first.letters or first.result}",
        first.text,
    )


def principle_question(rule: Rule) -> str:
    """The question that a principle asks."""
    if rule.principle in _ABOUT:
        return (
            f"Take moments about the {_ABOUT[rule.principle]}: "
            "which forces have an arm there, and how long is each?"
        )
    return _QUESTIONS[rule.principle].format(words=rule.words)


_SIDE_VIEW = (
    "Draw the machine as a line with an arrow up at each axle and an arrow down at each weight, "
    "arms measured from one axle."
)
# What to draw, by a letter that is given: the first that fits.
_PICTURES = (
    (
        "S P d",
        "Draw the plank as a line with an arrow up at each scale and an arrow down at each weight, "
        "arms measured from one scale.",
    ),
    ("r1", "Draw a line and a dot on it for each reading."),
    ("A N l I Q0", "Draw one tire on its contact patch: the arrow down on it, the area under it."),
    ("O", "Draw the machine from above, its two axles, and the point about which both turn."),
    (
        "Cf Cr n1 n0 nt s D e e0",
        "Draw a front and a rear wheel side by side, and the distance each rolls "
        "for one turn of the rear one.",
    ),
    (
        "R1",
        "Draw two columns, before and after, with a row for each axle "
        "and the change at the end of each row.",
    ),
    (
        "u U h2",
        "Draw a reading as a dot on a line, and a bar to each side as long as its uncertainty.",
    ),
    ("G", "Draw a right triangle: 100 along, the rise up."),
    (
        "t",
        "Draw the machine from behind, its wheels, its center of gravity, "
        "and the line from there to a wheel.",
    ),
    ("o", "Draw the arm from its pivot to the load, and the level line under it."),
    (
        "j",
        "Draw the machine on its slope, one arrow for each weight, "
        "split into a part along the slope and a part square to it.",
    ),
    (
        "y slow",
        "Draw the machine from the side with a level arrow at its center of gravity, "
        "and its height.",
    ),
    ("b bm", f"{_SIDE_VIEW} What hangs behind the rear axle pulls on that side."),
)


def drawing_hint(given: Iterable[str], principle: str) -> str:
    """What to draw for a problem with these letters."""
    letters = set(given)
    if principle == "units" and "G" not in letters:
        return "Draw two bars of one length, one for each unit, and mark which unit is bigger."
    return next((words for names, words in _PICTURES if letters & set(names.split())), _SIDE_VIEW)
