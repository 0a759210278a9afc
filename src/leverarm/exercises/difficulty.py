"""How hard a problem of a kind is: round numbers, ordinary ones, or with a twist.

The same seed gives the same problem at each step.  A twist stands in the lesson's data where the
kind has one of its own ([number.hard]); any other kind gets a number that is not needed, and one
of its lengths in another unit of the same system.

>>> round_step(1.0, 1.6, 0.01), round_step(39.5, 62.5, 0.5), round_step(20.0, 20.0, 0.1)
(0.2, 5.0, 0.1)
"""

from collections.abc import Collection
from dataclasses import replace

from leverarm.data import Entry
from leverarm.exercises.letters import Quantity
from leverarm.quantities import Refusal

STEPS = ("easy", "ordinary", "hard")
ORDINARY = "ordinary"
# What a student and an instructor read for each.
STEP_WORDS = {"easy": "round numbers", "ordinary": "ordinary", "hard": "with a twist"}
FEWEST = 4  # so many round numbers are left to draw from
# Another unit that a tape shows, by the unit of the statement: its name and its step.
_OTHER_UNIT = {"m": ("cm", 1.0), "in": ("ft", 0.01)}


def round_step(low: float, high: float, step: float) -> float:
    """The coarsest of 1, 2, 5 times a power of ten that leaves enough numbers, else the own step.

    low, high   the range, in the unit of the grid;  step  its usual step
    """
    for power in range(3, -4, -1):
        for digit in (5, 2, 1):
            coarse = digit * 10.0**power
            times = coarse / step
            on_grid = times > 1 - 1e-9 and abs(times - round(times)) < 1e-6
            if on_grid and high // coarse + -low // coarse + 1 >= FEWEST:
                return coarse
    return step


def told_in_another_unit(quantity: Quantity) -> Quantity:
    """A length as another mark of the same tape tells it: centimeters, or feet."""
    (cm, cm_step), (ft, ft_step) = _OTHER_UNIT["m"], _OTHER_UNIT["in"]
    return replace(quantity, kg_unit=cm, kg_step=cm_step, lb_unit=ft, lb_step=ft_step)


def can_be_retold(quantity: Quantity) -> bool:
    """Whether a given number is a length in the usual units."""
    usual = quantity.unit("kg") == "m" and quantity.unit("lb") == "in"
    return quantity.kind == "length" and usual


def not_needed(statement: str, sentences: Entry) -> str:
    """The sentence with a number that the answer does not need, as it fits a statement."""
    if "{machine}" in statement:
        return sentences.text("driver_beside", "")
    return sentences.text("reader_beside" if "scale" in statement else "person_beside", "")


def allowed_step(step: object, name: str, steps: Collection[str]) -> str:
    """The step if a kind has it; else a Refusal."""
    if isinstance(step, str) and step in steps:
        return step
    allowed = " or ".join(steps) + f" for {name}"
    raise Refusal("difficulty", step, allowed, "choose one of these")
