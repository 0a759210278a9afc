"""What statements are told with: letters and the ranges of their numbers, invented machines.

They stand in `data/letters.toml` and `data/common.toml`.  Ranges are in the base unit
(kg, m, kPa); the grid is what a scale or a tape shows in each system, always with three
digits or more, so that an answer rounded as the data are rounded lies within half a
percent of the right one.
"""

from dataclasses import dataclass
from functools import cache

from leverarm.data import Entry, OnDemand, toml_file
from leverarm.exercises.random_numbers import RandomStream
from leverarm.quantities import KINDS, from_unit, show_number, to_unit, unit_of


@dataclass(frozen=True)
class Quantity:
    """A given letter: words, kind, range in the base unit, grid step in each unit system."""

    name: str
    words: str
    kind: str
    low: float = 0.0
    high: float = 0.0
    kg_step: float = 1.0
    lb_step: float = 1.0
    lb_unit: str = ""
    kg_unit: str = ""
    shown: str = ""

    @property
    def placed(self) -> bool:
        """Whether it belongs somewhere: a length from here to there, the weight of a piece."""
        belongs = toml_file("letters").part("belongs")
        words, without = belongs.texts("somewhere"), belongs.texts("nowhere")
        return any(one in self.words for one in words) and not any(
            one in self.words for one in without
        )

    def unit(self, system: str) -> str:
        """The unit it is told in."""
        return (self.lb_unit if system == "lb" else self.kg_unit) or unit_of(self.kind, system)

    def step(self, system: str) -> float:
        """The grid step in the unit of the system."""
        return self.kg_step if system == "kg" else self.lb_step

    def draw(self, stream: RandomStream, system: str) -> float:
        """A number on the grid, in the unit of the system."""
        low, high = (to_unit(end, self.kind, self.unit(system)) for end in (self.low, self.high))
        return stream.on_grid(low, high, self.step(system))

    def snapped(self, base: float, system: str) -> float:
        """A base value as the nearest number on the grid, in the unit of the system."""
        step = self.step(system)
        return round(round(to_unit(base, self.kind, self.unit(system)) / step) * step, 6)

    def printed(self, number: float, system: str) -> str:
        """A grid number with its unit, as a statement shows it."""
        unit = self.unit(system).replace("2", "²")
        return f"{grid_digits(number, self.step(system))} {unit}".strip()

    def base(self, number: float, system: str) -> float:
        """A grid number in the base unit."""
        return from_unit(number, self.kind, self.unit(system))


def grid_digits(number: float, step: float) -> str:
    """A grid number with as many decimals as its grid has."""
    places = next(n for n in range(7) if abs(step * 10**n - round(step * 10**n)) < 1e-9)
    return show_number(number, places)


def read_letters(entry: Entry) -> dict[str, Quantity]:
    """Letters by name from the tables [letters.KIND]; what cannot be used is refused."""
    found: dict[str, Quantity] = {}
    kinds, grid = entry.part("letters"), entry.part("grid")
    for kind in kinds:
        if kind not in KINDS:
            raise kinds.refusal("", f"the kind {kind}", ", ".join(KINDS), "write one of these")
        of_kind = kinds.part(kind)
        for name in of_kind:
            if name in found:
                raise of_kind.refusal(name, name, "each letter once", "choose another letter")
            found[name] = _letter(of_kind.part(name), name, kind)
    for name in grid:
        grid.pair(name)
    for name in (belongs := entry.part("belongs")):
        belongs.texts(name)
    entry.done()
    return found


def _letter(row: Entry, name: str, kind: str) -> Quantity:
    kg_step, lb_step = row.pair("steps", (1.0, 1.0))
    units = row.part("units")
    low, high = row.number("low"), row.number("high")
    if low > high:
        raise row.refusal("low", low, f"a number up to {high:g}", "swap low and high")
    letter = Quantity(
        name,
        row.text("words"),
        kind,
        low,
        high,
        kg_step,
        lb_step,
        units.one_of("lb", KINDS[kind].units, unit_of(kind, "lb")) if "lb" in units else "",
        units.one_of("kg", KINDS[kind].units, unit_of(kind, "kg")) if "kg" in units else "",
        row.text("shown", name),
    )
    units.done()
    row.done()
    return letter


LETTERS = OnDemand(lambda: read_letters(toml_file("letters")))


# What a sentence for both unit systems says, and what each of them reads.
_BOTH = {
    "kilogram for kilogram or pound for pound": ("kilogram for kilogram", "pound for pound"),
    "kilogram or pound": ("kilogram", "pound"),
    "meter or foot": ("meter", "foot"),
}


def in_one_system(sentence: str, system: str) -> str:
    """A sentence that names the units of both systems, for a reader of one of them.

    >>> in_one_system("Each kilogram or pound counts the same.", "lb")
    'Each pound counts the same.'
    """
    for both, (metric, pounds) in _BOTH.items():
        sentence = sentence.replace(both, pounds if system == "lb" else metric)
    return sentence


def follows(name: str, words: str, kind: str, shown: str) -> Quantity:
    """A letter for a given number that follows from hidden ones, on the usual grid of its kind."""
    grid = toml_file("letters").part("grid")
    return Quantity(
        name, words, kind, 0.0, 0.0, *grid.pair(name if name in grid else kind), shown=shown
    )


def scene(stream: RandomStream) -> dict[str, str]:
    """The invented machine and the thing hung on it that a statement is told with."""
    return {part: stream.one_of(choices) for part, choices in _scenes()}


def things() -> tuple[str, ...]:
    """Every thing that a statement may hang on a machine."""
    return dict(_scenes())["thing"]


@cache
def _scenes() -> tuple[tuple[str, tuple[str, ...]], ...]:
    scenes = toml_file("common").part("scenes")
    return tuple((part, scenes.texts(part)) for part in scenes)
