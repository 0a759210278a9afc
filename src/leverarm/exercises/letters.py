"""The letters of the problems: what each stands for, and the range its numbers come from.

Ranges are in the base unit (kg, m, kPa); the grid is what a scale or a tape
shows in each system, always with three digits or more, so that an answer
rounded as the data are rounded lies within half a percent of the right one.
"""

from dataclasses import dataclass

from leverarm.quantities import from_unit, to_unit, unit_of


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

    @property
    def shown(self):
        """The letter as printed."""
        return SHOWN.get(self.name, self.name)

    def unit(self, system):
        """The unit it is told in."""
        return (self.lb_unit if system == "lb" else self.kg_unit) or unit_of(self.kind, system)

    def step(self, system):
        """The grid step in the unit of the system."""
        return self.kg_step if system == "kg" else self.lb_step

    def draw(self, stream, system):
        """A number on the grid, in the unit of the system."""
        low, high = (to_unit(end, self.kind, self.unit(system)) for end in (self.low, self.high))
        return stream.on_grid(low, high, self.step(system))

    def snapped(self, base, system):
        """A base value as the nearest number on the grid, in the unit of the system."""
        step = self.step(system)
        return round(round(to_unit(base, self.kind, self.unit(system)) / step) * step, 6)

    def printed(self, number, system):
        """A grid number with its unit, as a statement shows it."""
        return f"{digits(number, self.step(system))} {self.unit(system).replace('2', '²')}".strip()

    def base(self, number, system):
        """A grid number in the base unit."""
        return from_unit(number, self.kind, self.unit(system))


def digits(number, step):
    """A grid number with as many decimals as its grid has, and a true minus."""
    places = next(n for n in range(7) if abs(step * 10**n - round(step * 10**n)) < 1e-9)
    return f"{number:.{places}f}".replace("-", "−")


def _letters(kind, *rows):
    return [Quantity(name, words, kind, *numbers) for name, words, *numbers in rows]


# Names that stand apart in the table and are printed as people write them.
SHOWN = {
    "x0": "x",
    "i": "d",
    "g1": "i",
    "h2": "h",
    "e": "lead",
    "n1": "n_in",
    "n0": "n_out",
    "nr": "n_r",
    "nt": "n",
    "a_in": "a",
    "a_ft": "a",
    "a_mm": "a",
    "Bm": "B",
    "bm": "b",
    "nin": "n_in",
    "slow": "P",
    "dFr": "ΔF",
    "dRr": "ΔR",
    "j": "φ",
    "o": "φ",
    "O": "R",
}

# Steps of tapes and scales: kg and lb, m and in; fine ones where the number is small.
_TAPE, _FINE = (0.01, 0.5), (0.005, 0.25)
_KITCHEN = (0.1, 0.2)

LETTERS = {
    letter.name: letter
    for letter in (
        *_letters(
            "weight",
            ("W", "the hung weight", 100, 240),
            ("F0", "the front reading", 480, 720),
            ("R0", "the rear reading", 660, 940),
            ("T", "the weight of the machine", 1150, 1650),
            ("P", "the weight of the plank", 10, 19, *_KITCHEN),
            ("J", "the weight of the jug", 10, 24, *_KITCHEN),
            ("W1", "the weight of the bucket", 100, 135),
            ("W2", "the weight of the arms", 100, 125),
            ("W3", "the weight of the frame", 210, 300),
            ("B", "the weight of the ballast", 120, 320),
            ("Bm", "the weight of the implement", 380, 560),
            ("Q0", "the load on the tire before", 240, 360),
            ("Q1", "the load on the tire after", 380, 540),
            ("Q", "the load in the bucket", 150, 380),
            ("u", "the standard uncertainty of one reading", 1.0, 4.5, 0.05, 0.05),
            ("U", "the expanded uncertainty on the certificate", 1.0, 6.0, 0.05, 0.05),
            ("h2", "the half-width of the limits", 1.0, 6.0, 0.05, 0.05),
            ("m", "the middle of the readings", 560, 690),
            *((f"e{i}", "a scatter", -4.0, 4.0, 0.5, 1.0) for i in range(1, 6)),
        ),
        *_letters(
            "length",
            ("a", "the overhang", 1.00, 1.60, *_TAPE),
            ("i", "the distance behind the front axle", 0.30, 1.15, *_FINE),
            ("L", "the wheelbase", 1.45, 1.95, *_TAPE),
            ("d", "the distance of the jug from the left scale", 0.45, 1.60, *_FINE),
            ("S", "the distance between the scales", 1.80, 2.60, *_TAPE),
            (
                "x0",
                "the distance of the center of gravity behind the front axle",
                0.70,
                1.10,
                *_FINE,
            ),
            ("a1", "the overhang of the bucket", 1.05, 1.55, *_TAPE),
            ("a2", "the overhang of the arms", 0.40, 0.70, *_FINE),
            ("a3", "the overhang of the frame", 0.255, 0.40, *_FINE),
            ("b", "the distance of the ballast behind the rear axle", 0.65, 1.25, *_FINE),
            ("bm", "the distance of the implement behind the rear axle", 0.90, 1.30, *_FINE),
            ("a_in", "the overhang", 1.00, 1.60, 0.5, 0.5, "in", "in"),
            ("a_ft", "the overhang", 1.00, 1.60, 0.01, 0.01, "ft", "ft"),
            ("a_mm", "the overhang", 1.00, 1.60, 5, 5, "mm", "mm"),
            ("w", "the distance of the front weights ahead of the front axle", 0.50, 0.90, *_FINE),
            ("h", "the height of the center of gravity", 0.60, 0.95, *_FINE),
            ("t", "the track", 1.00, 1.40, *_TAPE),
            ("p", "the distance of the arm pivot behind the front axle", 0.45, 0.80, *_FINE),
            ("r", "the reach of the arm, pivot to load", 1.70, 2.40, *_TAPE),
            ("z", "the depth", 0.255, 0.50, 0.5, 0.25, "in", "cm"),
            ("l", "the length of the print", 0.150, 0.250, 0.1, 0.05, "in", "cm"),
            ("v", "the width of the print", 0.105, 0.185, 0.1, 0.05, "in", "cm"),
            ("Cr", "the rear rolling circumference", 2.60, 3.00, *_FINE),
            ("s", "the straight distance", 40.0, 60.0, 0.1, 0.5, "ft"),
            ("D", "the distance driven", 2000, 9000, 10, 100, "ft"),
            ("O", "the radius of the turn", 2.60, 4.80, *_TAPE),
        ),
        *_letters(
            "number",
            ("k", "the factor", 1.25, 2.75, 0.05, 0.05),
            ("q", "the part of the print that grows", 0.60, 0.90, 0.005, 0.005),
            ("c", "the shape of the print", 0.785, 0.95, 0.005, 0.005),
            ("n1", "front turns, drive in", 26.5, 28.5, 0.05, 0.05),
            ("n0", "front turns, drive out", 26.0, 28.0, 0.05, 0.05),
            ("nr", "rear turns", 20.0, 20.0, 0.1, 0.1),
            ("nt", "turns of the wheel", 20.0, 25.0, 0.1, 0.1),
            ("g1", "the gear ratio, front turns to rear turns", 1.35, 1.49, 0.001, 0.001),
            ("y", "the slowing over gravity", 0.105, 0.30, 0.005, 0.005),
        ),
        *_letters(
            "share",
            ("G", "the slope in percent", 10.5, 32.0, 0.5, 0.5),
            ("e", "the lead", 1.25, 5.0, 0.05, 0.05),
            ("e0", "the slip in the first case", 1.25, 2.75, 0.05, 0.05),
            ("e1", "the slip in the second case", 3.00, 5.00, 0.05, 0.05),
        ),
        *_letters(
            "angle",
            ("j", "the slope angle", 10.0, 16.0, 0.1, 0.1),
            ("o", "the angle of the arm", 15.0, 50.0, 0.5, 0.5),
        ),
        *_letters("area", ("A", "the print of one tire", 0.0130, 0.0300, 1.0, 0.1)),
        *_letters(
            "pressure",
            ("I", "the inflation pressure", 100, 240, 1.0, 0.1),
            ("K", "the carcass share", 18, 45, 0.1, 0.05),
            ("N", "the mean pressure", 120, 260, 1.0, 0.1),
        ),
    )
}

# What a given number that follows from hidden ones is rounded to: by its kind, or by its own name.
GRID = {
    "weight": (1.0, 2.0),
    "length": _TAPE,
    "pressure": (1.0, 0.1),
    "share": (0.1, 0.1),
    "number": (0.01, 0.01),
    "Cf": (0.001, 0.05),
    "nin": (0.05, 0.05),
    "Jr": (0.02, 0.05),
}


def follows(name, words, kind):
    """A letter for a given number that follows from hidden ones, on the usual grid of its kind."""
    return Quantity(name, words, kind, 0.0, 0.0, *GRID.get(name, GRID[kind]))
