"""The letters of the problems: what each stands for, and the range its numbers come from.

Ranges are in the base unit (kg, m, kPa); the grid is what a scale or a tape
shows in each system, always with three digits or more, so that an answer
rounded as the data are rounded lies within half a per cent.
"""

from dataclasses import dataclass

from leverarm.quantities import KINDS, from_unit, to_unit, unit_of


@dataclass(frozen=True)
class Quantity:
    """A given letter: words, kind, range in the base unit, grid step in each unit system."""

    name: str
    shown: str
    words: str
    kind: str
    low: float = 0.0
    high: float = 0.0
    kg_step: float = 1.0
    lb_step: float = 1.0

    def step(self, system):
        """The grid step in the unit of the system."""
        return self.kg_step if system == "kg" else self.lb_step

    def draw(self, stream, system):
        """A number on the grid, in the unit of the system."""
        unit = unit_of(self.kind, system)
        return stream.on_grid(to_unit(self.low, self.kind, unit), to_unit(self.high, self.kind, unit),
                              self.step(system))

    def snapped(self, base, system):
        """A base value as the nearest number on the grid, in the unit of the system."""
        step = self.step(system)
        return round(round(to_unit(base, self.kind, unit_of(self.kind, system)) / step) * step, 6)

    def printed(self, number, system):
        """A grid number with its unit, as a statement shows it."""
        return f"{digits(number, self.step(system))} {unit_of(self.kind, system)}".strip()

    def base(self, number, system):
        """A grid number in the base unit."""
        return from_unit(number, self.kind, unit_of(self.kind, system))


def digits(number, step):
    """A grid number with as many decimals as its grid has, and a true minus."""
    places = next(n for n in range(7) if abs(step * 10**n - round(step * 10**n)) < 1e-9)
    return f"{number:.{places}f}".replace("-", "−")


def _weights(*rows):
    return [Quantity(name, shown, words, "weight", *rest) for name, shown, words, *rest in rows]


def _lengths(*rows):
    return [Quantity(name, shown, words, "length", *rest) for name, shown, words, *rest in rows]


LETTERS = {letter.name: letter for letter in (
    *_weights(
        ("W", "W", "the hung weight", 100, 240),
        ("F0", "F", "the front reading before", 480, 720),
        ("R0", "R", "the rear reading before", 660, 940),
        ("T", "T", "the weight of the machine", 1150, 1650),
        ("P", "P", "the weight of the plank", 10, 19, 0.1, 0.2),
        ("J", "J", "the weight of the jug", 10, 24, 0.1, 0.2),
        ("W1", "W1", "the weight of the bucket", 100, 160),
        ("W2", "W2", "the weight of the arms", 100, 150),
        ("W3", "W3", "the weight of the frame", 100, 190),
    ),
    *_lengths(
        ("a", "a", "the overhang", 1.00, 1.60, 0.01, 0.5),
        ("L", "L", "the wheelbase", 1.45, 1.95, 0.01, 0.5),
        ("d", "d", "the distance of the jug from the left scale", 0.45, 1.60, 0.005, 0.25),
        ("S", "S", "the distance between the scales", 1.80, 2.60, 0.01, 0.5),
        ("x0", "x", "the distance of the centre of gravity behind the front axle", 0.70, 1.10, 0.005, 0.25),
        ("a1", "a1", "the overhang of the bucket", 1.05, 1.55, 0.01, 0.5),
        ("a2", "a2", "the overhang of the arms", 0.40, 0.70, 0.005, 0.25),
        ("a3", "a3", "the overhang of the frame", 0.255, 0.40, 0.005, 0.25),
    ),
    Quantity("k", "k", "the factor", "number", 1.25, 2.75, 0.05, 0.05),
)}

# What a given number worked out from hidden ones is rounded to, where no letter above says more.
GRID = {"weight": (1.0, 2.0), "length": (0.01, 0.5), "pressure": (1.0, 0.1), "share": (0.1, 0.1),
        "number": (0.01, 0.01), "moment": (1.0, 1.0), "angle": (0.1, 0.1), "area": (1.0, 0.1),
        "force": (10.0, 1.0), "speed": (0.1, 0.1)}


def on_default_grid(name, shown, words, kind):
    """A letter for a given number that follows from hidden ones, on the usual grid of its kind."""
    return Quantity(name, shown, words, kind, 0.0, 0.0, *GRID[kind])


assert GRID.keys() <= KINDS.keys()
