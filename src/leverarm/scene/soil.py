"""Under the tire: two wheels on a cut through the soil, and the stress with depth as a chart.

The nested lines under each wheel carry one stress each.  Loader off stands left,
loader on right.
"""

import math
from collections.abc import Iterable
from dataclasses import replace
from typing import TypeAlias

from leverarm.ground import LEAST_FACTOR, MOST_FACTOR, SUBSOIL_DEPTH_M, SUBSOIL_STRESS_KPA, Contact
from leverarm.quantities import from_unit, show, system_shown, to_unit, unit_of
from leverarm.scene.chart import OFF_AND_ON, OFF_AND_ON_ROLES, Axis, Band, Curve, Mark, line_chart
from leverarm.scene.layout import NARROW, WIDE
from leverarm.scene.shapes import Label, Line, Points, Polygon, Scene, Shape

# Stresses whose lines are drawn, in the pressure unit of each system.
LEVELS = {"kg": (100, 50, 20), "lb": (15, 7, 3)}
APART_M = 0.72
WHEEL_RADIUS_M = 0.30
SHOWN_M = 0.16
# Two wheels side by side are wide: on a narrow page a low sheet wastes no paper.
SECTION_VIEWS = (WIDE, replace(NARROW, height=250.0))
DEEPEST_M = 0.6

Bulb: TypeAlias = tuple[float, Points]  # stress in kPa, line of (offset, depth)
Side: TypeAlias = tuple[Contact, float, str, str]  # contact, place, name, role
_Shown: TypeAlias = tuple[Contact, str, str]  # contact, name, role


def levels_kpa(system: str) -> tuple[float, ...]:
    """The stresses whose lines are drawn, in kPa.

    >>> levels_kpa("kg")
    (100.0, 50.0, 20.0)
    """
    return tuple(
        from_unit(level, "pressure", unit_of("pressure", system)) for level in LEVELS[system]
    )


def soil_section(
    off: Contact,
    on: Contact,
    *,
    factor: float = 4,
    system: str | None = None,
    hidden: bool = False,
) -> Scene:
    """Two Contacts side by side over the soil, with lines of equal stress, as a Scene.

    factor  concentration factor, 3 to 6; hidden True keeps back what lies under the second wheel
    """
    system = system_shown(system)
    sides = list(zip((off, on), (-APART_M / 2, APART_M / 2), OFF_AND_ON, OFF_AND_ON_ROLES))
    bulbs = {
        name: _bulbs(contact, factor, system) for contact, _, name, _ in sides[: 1 if hidden else 2]
    }
    deep = _depth_shown(bulbs.values())
    edge = APART_M / 2 + 0.31
    shapes: list[Shape] = [
        Polygon(((-edge, 0), (edge, 0), (edge, -deep), (-edge, -deep)), "ground", width=0),
        *_depths(edge, deep, system),
    ]
    for contact, x, name, role in sides:
        shapes += [
            *_lines(bulbs.get(name, ()), x, role),
            *_wheel(contact, x, role),
            *_words(contact, x, name, role, system, name not in bulbs),
        ]
    shapes += _reach(bulbs, sides, system)
    shapes.append(Line(((-edge, 0), (edge, 0)), "ground", 0.2))
    return Scene(
        tuple(shapes),
        (-edge, -deep, edge, SHOWN_M),
        "The soil under a front tire, loader off and on",
        _desc(sides, factor, system, hidden),
        (3.6, 0.8, 2.9, 0.8),
    )


def _bulbs(contact: Contact, factor: float, system: str) -> tuple[Bulb, ...]:
    """(stress, line) for each level that the ground under this tire reaches."""
    lines = ((kpa, contact.bulb(kpa, factor)) for kpa in levels_kpa(system))
    return tuple((kpa, line) for kpa, line in lines if line)


def _depth_shown(bulbs: Iterable[tuple[Bulb, ...]]) -> float:
    """Depth of the picture in steps of 20 cm, so that a small move does not rescale it."""
    deepest = max((line[0][1] for lines in bulbs for _, line in lines), default=0.0)
    return max(0.4, math.ceil(deepest / 0.2 + 0.15) * 0.2)


def _lines(bulbs: tuple[Bulb, ...], x: float, role: str) -> list[Shape]:
    """Closed lines of equal stress, the outer one first."""
    shapes: list[Shape] = []
    for _, line in reversed(bulbs):
        right = [(x + offset, -depth) for offset, depth in line]
        left = [(x - offset, -depth) for offset, depth in reversed(line[1:])]
        shapes.append(Polygon((*left, *right), role, width=0.12))
    return shapes


def _wheel(contact: Contact, x: float, role: str) -> tuple[Shape, ...]:
    """The lower part of a wheel, flat where it stands, and the contact patch as a bar."""
    half, center = (
        min(contact.radius_m, 0.9 * WHEEL_RADIUS_M),
        math.sqrt(WHEEL_RADIUS_M**2 - min(contact.radius_m, 0.9 * WHEEL_RADIUS_M) ** 2),
    )
    low, high = (
        math.asin(half / WHEEL_RADIUS_M),
        math.acos(max(-1.0, min(1.0, (center - SHOWN_M) / WHEEL_RADIUS_M))),
    )
    angles = [low + (high - low) * i / 12 for i in range(13)]
    right = [
        (x + WHEEL_RADIUS_M * math.sin(t), center - WHEEL_RADIUS_M * math.cos(t)) for t in angles
    ]
    left = [(2 * x - px, y) for px, y in reversed(right)]
    return (
        Polygon((*left, *right), "body", width=0.12),
        Line(((x - half, 0.008), (x + half, 0.008)), role, 0.5, dash=False),
    )


def _words(
    contact: Contact, x: float, name: str, role: str, system: str, hidden: bool
) -> tuple[Shape, ...]:
    """What stands on the ground: name and load above the wheel, patch and pressure on it."""
    area, pressure = (
        show(contact.area_m2, "area", system),
        show(contact.pressure_kpa, "pressure", system),
    )
    inside = "?" if hidden else f"patch {area}\n{pressure} on it"
    short = "?" if hidden else pressure
    return (
        Label(
            (x, SHOWN_M),
            f"{name}: {show(contact.load_kg, 'weight', system, decimals=0)}",
            role,
            "up",
            0.5,
            short=f"{name}\n{show(contact.load_kg, 'weight', system, decimals=0)}",
            fixed=True,
            bold=True,
        ),
        Label((x, 0.1), inside, "ink", "over", 0.0, short=short, fixed=True, size=0.9),
    )


def _depths(edge: float, deep: float, system: str) -> list[Shape]:
    """A depth scale at the left edge."""
    step = 0.1 if system == "kg" else from_unit(4, "length", "in")
    unit, count = "cm" if system == "kg" else "in", int(deep / step + 1e-9)
    ticks = [
        Label(
            (-edge, -i * step),
            f"{to_unit(i * step, 'length', unit):.0f}",
            "ground",
            "left",
            0.4,
            fixed=True,
            size=0.9,
        )
        for i in range(1, count + 1)
    ]
    rules = [
        Line(((-edge, -i * step), (edge, -i * step)), "muted", 0.04, dash=False)
        for i in range(1, count + 1)
    ]
    return [*rules, *ticks, Label((-edge, 0), unit, "ground", "left", 0.4, fixed=True, size=0.9)]


def _reach(bulbs: dict[str, tuple[Bulb, ...]], sides: list[Side], system: str) -> list[Shape]:
    """Each line's stress at its lowest point."""
    shapes: list[Shape] = []
    for _, x, name, role in sides:
        for kpa, line in bulbs.get(name, ()):
            text = show(kpa, "pressure", system)
            shapes.append(
                Label(
                    (x, -line[0][1]),
                    text,
                    role,
                    "down",
                    0.1,
                    short=text.split()[0],
                    size=0.9,
                    bold=True,
                )
            )
    return shapes


def _desc(sides: list[Side], factor: float, system: str, hidden: bool) -> str:
    """The picture in sentences, from its numbers."""
    sentences = [
        (
            "A cut through the soil under a front tire, twice: loader off at the left, "
            "loader on at the right."
        )
    ]
    for contact, _, name, _ in sides[: 1 if hidden else 2]:
        reached = [
            (
                f"{show(kpa, 'pressure', system)} reaches "
                f"{depth_words(contact.reach_m(kpa, factor), system)} deep"
            )
            for kpa, _ in _bulbs(contact, factor, system)
        ]
        sentences.append(
            f"With the {name} the tire carries "
            f"{show(contact.load_kg, 'weight', system, decimals=0)} on a contact patch of "
            f"{show(contact.area_m2, 'area', system)}, "
            f"{show(contact.pressure_kpa, 'pressure', system)} at the surface. "
            + "; ".join(reached)
            + "." * bool(reached)
        )
    if hidden:
        sentences.append(
            f"With the {sides[1][2]} it carries "
            f"{show(sides[1][0].load_kg, 'weight', system, decimals=0)}; "
            "what lies under it then "
            "is kept back until you have predicted it."
        )
    return " ".join(sentences)


def depth_words(meters: float, system: str | None = None) -> str:
    """A depth as gardeners say it: centimeters or inches.

    >>> depth_words(0.234, "kg"), depth_words(0.234, "lb")
    ('23 cm', '9.2 in')
    """
    metric = system_shown(system) == "kg"
    return f"{100 * meters:.0f} cm" if metric else show(meters, "length", "lb")


def depth_chart(
    off: Contact, on: Contact, *, system: str | None = None, hidden: bool = False
) -> Scene:
    """Stress with depth for two Contacts as a chart, each a band over the published factors."""
    system = system_shown(system)
    unit, length = unit_of("pressure", system), "cm" if system == "kg" else "in"
    shown = list(zip((off, on), OFF_AND_ON, OFF_AND_ON_ROLES))[: 1 if hidden else 2]
    most = math.ceil(max(c.pressure_kpa for c in (off, on)) * 1.08 / 50) * 50
    bands, curves = [], []
    for contact, _, role in shown:
        points = _depths_of(contact, unit, length)
        bands.append(Band(tuple((x, low, high) for x, low, _, high in points), role))
        curves.append(Curve("", tuple((x, middle) for x, _, middle, _ in points), role, 6))
    stress = to_unit(SUBSOIL_STRESS_KPA, "pressure", unit)
    depth = to_unit(SUBSOIL_DEPTH_M, "length", length)
    chart = line_chart(
        "Stress straight under the tire, with depth",
        _chart_desc(shown, system),
        Axis(f"stress, {unit}", 0, to_unit(most, "pressure", unit)),
        Axis(f"depth, {length}", to_unit(DEEPEST_M, "length", length), 0),
        curves,
        bands=bands,
        marks=[Mark("", stress, depth, "rear")],
    )
    words, short = "published subsoil mark", "subsoil mark"
    labels = [
        *(
            _name(band, name, role, side)
            for band, (_, name, role), side in zip(bands, shown, ("left", "right"))
        ),
        Label((stress, depth), words, "rear", "right", 0.7, short=short),
    ]
    return replace(chart, shapes=(*chart.shapes, *labels))


def _depths_of(contact: Contact, unit: str, length: str) -> list[tuple[float, float, float, float]]:
    """(stress, depth by the least, the middle and the greatest factor), in the chart's units."""

    def depth(kpa: float, factor: float) -> float:
        return to_unit(min(contact.reach_m(kpa, factor), DEEPEST_M), "length", length)

    return [
        (
            to_unit(kpa, "pressure", unit),
            depth(kpa, LEAST_FACTOR),
            depth(kpa, 4),
            depth(kpa, MOST_FACTOR),
        )
        for kpa in _stresses(contact)
    ]


def _name(band: Band, name: str, role: str, side: str) -> Label:
    """A curve's name beside its band: at the left where it bends, or at the right, deeper."""
    x, low, high = band.points[34 if side == "left" else 27]
    return Label((x, low if side == "left" else high), name, role, side, 0.9, bold=True)


def _stresses(contact: Contact) -> list[float]:
    """Stresses met on the way down by the middle factor, evenly in depth."""
    return [contact.stress_kpa(DEEPEST_M * i / 40, 4) for i in range(40, 0, -1)] + [
        contact.pressure_kpa * 0.99999
    ]


def _chart_desc(shown: list[_Shown], system: str) -> str:
    sentences = [
        (
            "Two curves fall from the surface pressure to nearly nothing at depth; "
            "each is a band, since soils differ."
        )
    ]
    for contact, name, _ in shown:
        low, high = contact.band_kpa(0.2)
        sentences.append(
            f"With the {name}: {show(contact.pressure_kpa, 'pressure', system)} at the surface, "
            f"{show(low, 'pressure', system)} to {show(high, 'pressure', system)} at "
            f"{depth_words(0.2, system)}."
        )
    return " ".join(sentences)
