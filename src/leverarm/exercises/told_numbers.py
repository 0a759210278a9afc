"""Numbers that a question with options tells: drawn by its seed, or worked out of those drawn."""

from collections.abc import Mapping
from dataclasses import dataclass

from leverarm.data import Entry
from leverarm.exercises.expressions.grammar import Unreadable, read_formula
from leverarm.exercises.expressions.tree import Tree, compiled, value_at
from leverarm.exercises.letters import grid_digits
from leverarm.exercises.number_reader import printed_unit
from leverarm.exercises.random_numbers import RandomStream
from leverarm.quantities import KINDS, to_unit, unit_of


@dataclass(frozen=True)
class ToldNumber:
    """A number of a question.

    name    its name in braces
    kind    of quantity
    steps   the grid it is told on, in kg and in lb
    low, high   where it is drawn, in the base unit
    tree    how it follows from numbers before it, where it is not drawn
    """

    name: str
    kind: str
    steps: tuple[float, float]
    low: float = 0.0
    high: float = 0.0
    tree: Tree | None = None


def read_told_numbers(row: Entry) -> tuple[ToldNumber, ...]:
    """The numbers under [[concept.number]]; what cannot be used is refused in one sentence."""
    found: list[ToldNumber] = []
    for part in row.rows("number"):
        name, formula = part.text("name"), part.text("formula", "")
        kind, steps = part.one_of("kind", KINDS), part.pair("steps")
        if min(steps) <= 0:
            raise part.refusal("steps", min(steps), "numbers above zero", "write such as [1, 2]")
        if formula:
            before = [one.name for one in found]
            try:
                (tree,) = read_formula(formula, before)
            except (Unreadable, ValueError) as why:
                allowed = f"a formula of {', '.join(before)}"
                raise part.refusal("formula", formula, allowed, str(why)) from None
            found.append(ToldNumber(name, kind, steps, tree=tree))
        else:
            low, high = part.pair("range")
            if low > high:
                raise part.refusal("range", low, f"a number up to {high:g} first", "swap the two")
            found.append(ToldNumber(name, kind, steps, low, high))
        part.done()
    return tuple(found)


def drawn_numbers(
    numbers: tuple[ToldNumber, ...], stream: RandomStream, system: str
) -> Mapping[str, float]:
    """The numbers of a seed in the units of a system, those worked out not rounded."""
    at: dict[str, float] = {}
    for one in numbers:
        if one.tree is not None:
            at[one.name] = value_at(compiled(one.tree), at)
            continue
        unit = unit_of(one.kind, system)
        low, high = (to_unit(end, one.kind, unit) for end in (one.low, one.high))
        at[one.name] = stream.on_grid(low, high, one.steps[system == "lb"])
    return at


def printed_numbers(
    numbers: tuple[ToldNumber, ...], at: Mapping[str, float], system: str
) -> dict[str, str]:
    """Each number with its unit, on the grid that it is told on."""
    told = {}
    for one in numbers:
        step = one.steps[system == "lb"]
        number = round(at[one.name] / step) * step
        unit = printed_unit(unit_of(one.kind, system))
        told[one.name] = f"{grid_digits(number, step)} {unit}".strip()
    return told
