"""Worked solutions from the method itself, with the problem's own numbers; hints.

Every line keeps the tree it was printed from and the number it claims, so that a
test can work it out again.  A lever's line stands on its moment equation, taken
from the sympy derivation.
"""

from collections.abc import Iterable, Mapping
from functools import cache

from leverarm import statics
from leverarm.exercises.expressions.grammar import read_formula
from leverarm.exercises.expressions.tree import (
    Letter,
    Named,
    Num,
    Tree,
    children,
    compiled,
    formula_text,
    rebuilt,
    value_at,
)
from leverarm.exercises.letters import LETTERS
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
from leverarm.quantities import KINDS


def solution_in_numbers(method: Method, problem: Problem) -> tuple[SolutionLine, ...]:
    """The worked solution of a numeric problem."""
    units = SolutionUnits(method, problem)
    if method.rule.at_once:
        return (_at_once(units, method.rule),)
    lines = [_conversion(units, name) for name in units.used if units.is_converted(name)]
    for step in units.steps:
        rule = RULES[step.name]
        if rule.name in _SCATTER:
            lines += _scatter_lines(units, rule)
            continue
        if rule.derived:
            step = Named(step.name, _own(rule, "solved"))
            lines.append(_equation_line(units, rule))
        if rule.balance:
            tree = _moment_equation(rule)
            numbers = formula_text(tree, units.numbers | {step.name: rule.shown})
            letters = formula_text(tree, units.letters)
            lines.append(_moment_line(rule, letters, numbers, tree, units.at))
        words = rule.reason(problem.system)
        lines.append(_result_line(units, rule, step.of, rule.principle, words))
    rule = method.rule
    if not rule.raw and units.unit_of_result(rule) != problem.unit:
        lines.append(_last_conversion(units, rule))
    return tuple(lines)


def solution_in_letters(
    method: Method,
    letters: Mapping[str, str],
    system: str,
    put_in: Tree | None = None,
    multiple: str = "",
) -> tuple[SolutionLine, ...]:
    """The worked solution of a formula, each step in letters.

    system      the unit system of its reader
    put_in      the answer where one letter is a multiple of another; a last line shows it
    """
    lines = []
    for step in method.steps:
        rule = RULES[step.name]
        if rule.balance:
            tree = _moment_equation(rule)
            lines.append(_moment_line(rule, formula_text(tree, letters), "", tree, None))
        result = formula_text(step.of, letters)
        tree = _results_as_letters(step.of)
        lines.append(
            SolutionLine(
                rule.principle,
                rule.reason(system),
                rule.shown,
                result=result,
                tree=tree,
                name=rule.words,
            )
        )
    if put_in is not None:
        result, words = formula_text(put_in, letters), f"Put {multiple} in."
        lines.append(
            SolutionLine(
                "definition",
                words,
                method.rule.shown,
                result=result,
                tree=put_in,
                name=method.rule.words,
            )
        )
    return tuple(lines)


def _moment_line(
    rule: Rule, letters: str, numbers: str, tree: Tree, at: dict[str, float] | None
) -> SolutionLine:
    """The moment equation that a lever's line stands on."""
    words = (
        f"Take moments about the {rule.balance[0]} axle. A change of a reading acts like a force."
    )
    return SolutionLine(rule.principle, words, letters, "", numbers, "0", tree, at)


def _own(rule: Rule, key: str) -> Tree:
    """A formula of a rule's data, in names of letters and rules."""
    found = {**rule.derived, **rule.at_once}[key]
    return read_formula(found, [*LETTERS, *RULES])[-1]


def _equation_line(units: SolutionUnits, rule: Rule) -> SolutionLine:
    """The equation that a result is solved from."""
    tree, own = _own(rule, "equation"), {rule.name: rule.shown}
    letters = formula_text(tree, units.letters | own)
    numbers = formula_text(tree, units.numbers | own)
    return SolutionLine(
        rule.principle, rule.derived["why"], letters, "", numbers, "0", tree, units.at
    )


def _at_once(units: SolutionUnits, rule: Rule) -> SolutionLine:
    """The one line of a result that needs no steps."""
    return _result_line(units, rule, _own(rule, "formula"), "forces", rule.at_once["why"])


def _result_line(
    units: SolutionUnits, rule: Rule, tree: Tree, principle: str, words: str
) -> SolutionLine:
    """A line that works out a result, in letters and in numbers."""
    number, unit = units.at[rule.name], units.unit_of_result(rule)
    return SolutionLine(
        principle,
        words,
        rule.shown,
        formula_text(tree, units.letters),
        formula_text(tree, units.numbers),
        # A mean of readings tells a digit more than one of them.
        _with_unit(significant(number, 5 if rule.figures == "mean" else 4), unit),
        _results_as_letters(tree),
        units.at,
        number,
        name=rule.words,
        kind=rule.kind,
        unit=unit,
    )


# Rules whose formula hides the mean and the sum of squares in one word.
_SCATTER = {"scatter", "mean_uncertainty"}


def _scatter_lines(units: SolutionUnits, asked: Rule) -> list[SolutionLine]:
    """The mean, the standard deviation from it, and its share where the mean's is asked."""
    readings = units.method.given
    count, lines = len(readings), []
    squares = "+".join(f"({one}-mean_reading)^2" for one in readings)
    ways = {
        "mean_reading": f"({'+'.join(readings)})/{count}",
        "scatter": f"sqrt(({squares})/{count - 1})",
        "mean_uncertainty": f"scatter/sqrt({count})",
    }
    for name, way in ways.items():
        rule, tree = RULES[name], read_formula(way, [*readings, *ways])[-1]
        units.at[name] = value_at(compiled(tree), units.at)
        units.numbers[name] = without_end_zeros(units.at[name])
        units.letters[name] = rule.shown
        lines.append(_result_line(units, rule, tree, rule.principle, rule.reason(units.system)))
        if name == asked.name:
            break
    return lines


@cache
def _moment_equation(rule: Rule) -> Tree:
    """The left side of the derived moment equation, in a problem's own letters."""
    pivot, weight, arm = rule.balance
    equation = statics.derive(about=pivot).equations[0]
    letters = {"W": weight, "a": arm, "L": "L", "F": rule.name, "R": rule.name}
    return read_formula(str(equation.lhs), letters)[0]


def _with_unit(number: str, unit: str) -> str:
    return f"{number} {printed_unit(unit)}".strip()


def _results_as_letters(tree: Tree) -> Tree:
    """The tree with results on the way as letters, so that a line uses the numbers it shows."""
    if isinstance(tree, Named):
        return Letter(tree.name)
    parts = children(tree)
    return rebuilt(tree, [_results_as_letters(part) for part in parts]) if parts else tree


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
    )


def _last_conversion(units: SolutionUnits, rule: Rule) -> SolutionLine:
    """The line that converts the result into the unit asked."""
    unit, factors = units.problem.unit, KINDS[rule.kind].units
    tree = Letter(rule.name) / Num(factors[unit] / factors[units.unit_of_result(rule)])
    answer = units.problem.answer
    return SolutionLine(
        "units",
        f"In {UNIT_WORDS.get(unit, printed_unit(unit))}, as asked.",
        rule.shown,
        "",
        formula_text(tree, units.numbers),
        f"{significant(answer)} {printed_unit(unit)}",
        tree,
        units.at,
        answer,
        name=rule.words,
        kind=rule.kind,
        unit=unit,
    )


# --- hints ----------------------------------------------------------------------------------

ON_THE_WAY = 0.005  # how near a typed number is to a result on the way
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


def step_reached(problem: Problem, number: float) -> int:
    """The place of the solution's line at which a wrong number stops fitting.

    A number that is a result on the way, in the unit that the solution gives it, ends there: the
    line after it is next.  Any other number stops fitting at the first line that is no change of
    units.

    number  as typed, in the unit that is asked
    """
    lines = problem.solution
    for at, line in enumerate(lines[:-1]):
        is_result = line.kind and line.unit == problem.unit and line.principle != "units"
        if is_result and abs(number - line.claim) <= ON_THE_WAY * abs(line.claim):
            return at + 1
    return next((at for at, line in enumerate(lines) if line.principle != "units"), 0)


def step_question(line: SolutionLine) -> str:
    """The question that leads to a step, without its formula."""
    if line.principle in _ABOUT:
        return (
            f"Take moments about the {_ABOUT[line.principle]}: "
            "which forces have an arm there, and how long is each?"
        )
    return _QUESTIONS[line.principle].format(words=line.name)


def hints_in_numbers(method: Method, problem: Problem, step: int) -> tuple[str, ...]:
    """Four hints at a step: a question, a picture, the step, the step worked."""
    first = problem.solution[step]
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
