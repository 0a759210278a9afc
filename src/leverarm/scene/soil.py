"""Under the tire: two wheels side by side on a cut through the soil, and the stress with depth as a chart.

The nested lines under each wheel carry one stress each.  Loader off stands left,
loader on right.
"""

import math
from dataclasses import replace

from leverarm.ground import LEAST_FACTOR, MOST_FACTOR, SUBSOIL_DEPTH_M, SUBSOIL_STRESS_KPA
from leverarm.quantities import from_unit, show, to_unit, unit_of
from leverarm.scene.chart import Axis, Band, Curve, Mark, line_chart
from leverarm.scene.layout import NARROW, WIDE
from leverarm.scene.shapes import Label, Line, Polygon, Scene

NAMES = ("loader off", "loader on")
ROLES = ("front", "load")
# Stresses whose lines are drawn, in the pressure unit of each system.
LEVELS = {"kg": (100, 50, 20), "lb": (15, 7, 3)}
APART_M = 0.72
WHEEL_M = 0.30
SHOWN_M = 0.16
# Two wheels side by side are wide: on a narrow page a low sheet wastes no paper.
SECTION_VIEWS = (WIDE, replace(NARROW, height=250.0))


def levels_kpa(system):
    """The stresses whose lines are drawn, in kPa.

    >>> levels_kpa("kg")
    (100.0, 50.0, 20.0)
    """
    return tuple(
        from_unit(level, "pressure", unit_of("pressure", system)) for level in LEVELS[system]
    )


def soil_section(off, on, *, factor=4, system="kg", names=NAMES, hidden=False):
    """Two Contacts side by side over the soil, with the lines of equal stress under each, as a Scene.

    factor  concentration factor, 3 to 6; hidden True keeps back what lies under the second wheel
    """
    sides = list(zip((off, on), (-APART_M / 2, APART_M / 2), names, ROLES))
    bulbs = {
        name: _bulbs(contact, factor, system) for contact, _, name, _ in sides[: 1 if hidden else 2]
    }
    deep = _depth_shown(bulbs.values())
    edge = APART_M / 2 + 0.31
    shapes = [
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


def _bulbs(contact, factor, system):
    """(stress, line) for each level that the ground under this tire reaches."""
    lines = ((kpa, contact.bulb(kpa, factor)) for kpa in levels_kpa(system))
    return tuple((kpa, line) for kpa, line in lines if line)


def _depth_shown(bulbs):
    """Depth of the picture in steps of 20 cm, so that a small move does not rescale it."""
    deepest = max((line[0][1] for lines in bulbs for _, line in lines), default=0.0)
    return max(0.4, math.ceil(deepest / 0.2 + 0.15) * 0.2)


def _lines(bulbs, x, role):
    """Closed lines of equal stress, the outer one first."""
    shapes = []
    for _, line in reversed(bulbs):
        right = [(x + offset, -depth) for offset, depth in line]
        left = [(x - offset, -depth) for offset, depth in reversed(line[1:])]
        shapes.append(Polygon((*left, *right), role, width=0.12))
    return shapes


def _wheel(contact, x, role):
    """The lower part of a wheel, flat where it stands, and the print as a bar."""
    half, center = (
        min(contact.radius_m, 0.9 * WHEEL_M),
        math.sqrt(WHEEL_M**2 - min(contact.radius_m, 0.9 * WHEEL_M) ** 2),
    )
    low, high = (
        math.asin(half / WHEEL_M),
        math.acos(max(-1.0, min(1.0, (center - SHOWN_M) / WHEEL_M))),
    )
    angles = [low + (high - low) * i / 12 for i in range(13)]
    right = [(x + WHEEL_M * math.sin(t), center - WHEEL_M * math.cos(t)) for t in angles]
    left = [(2 * x - px, y) for px, y in reversed(right)]
    return (
        Polygon((*left, *right), "body", width=0.12),
        Line(((x - half, 0.008), (x + half, 0.008)), role, 0.5, dash=False),
    )


def _words(contact, x, name, role, system, hidden):
    """What stands on the ground: name and load above the wheel, print and pressure on it."""
    area, pressure = (
        show(contact.area_m2, "area", system),
        show(contact.pressure_kpa, "pressure", system),
    )
    inside = "?" if hidden else f"print {area}\n{pressure} on it"
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


def _depths(edge, deep, system):
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


def _reach(bulbs, sides, system):
    """Each line's stress at its lowest point."""
    shapes = []
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


def _desc(sides, factor, system, hidden):
    """The picture in sentences, from its numbers."""
    said = [
        "A cut through the soil under a front tire, twice: loader off at the left, loader on at the right."
    ]
    for contact, _, name, _ in sides[: 1 if hidden else 2]:
        reached = [
            f"{show(kpa, 'pressure', system)} reach {depth_words(contact.reach_m(kpa, factor), system)} deep"
            for kpa, _ in _bulbs(contact, factor, system)
        ]
        said.append(
            f"With the {name} the tire carries {show(contact.load_kg, 'weight', system, decimals=0)} on a print of "
            f"{show(contact.area_m2, 'area', system)}, {show(contact.pressure_kpa, 'pressure', system)} at the surface. "
            + "; ".join(reached)
            + "." * bool(reached)
        )
    if hidden:
        said.append(
            f"With the {sides[1][2]} it carries {show(sides[1][0].load_kg, 'weight', system, decimals=0)}; what lies under it then "
            "is kept back until you have predicted it."
        )
    return " ".join(said)


def depth_words(meters, system):
    """A depth as gardeners say it: centimeters or inches.

    >>> depth_words(0.234, "kg"), depth_words(0.234, "lb")
    ('23 cm', '9.2 in')
    """
    return f"{100 * meters:.0f} cm" if system == "kg" else show(meters, "length", "lb")


def depth_chart(off, on, *, system="kg", names=NAMES, hidden=False, deepest=0.6):
    """Stress with depth for two Contacts, each a band from the least to the greatest factor, as a chart."""
    unit, length = unit_of("pressure", system), "cm" if system == "kg" else "in"

    def stress(kpa):
        return to_unit(kpa, "pressure", unit)

    def depth(m):
        return to_unit(m, "length", length)

    shown = list(zip((off, on), names, ROLES))[: 1 if hidden else 2]
    most = math.ceil(max(c.pressure_kpa for c in (off, on)) * 1.08 / 50) * 50
    bands, curves = [], []
    for contact, name, role in shown:
        points = [
            (
                stress(kpa),
                *(
                    min(depth(contact.reach_m(kpa, f)), depth(deepest))
                    for f in (LEAST_FACTOR, 4, MOST_FACTOR)
                ),
            )
            for kpa in _stresses(contact, deepest)
        ]
        bands.append(Band(tuple((x, low, high) for x, low, _, high in points), role))
        curves.append(Curve("", tuple((x, middle) for x, _, middle, _ in points), role, 6))
    mark = Mark("", stress(SUBSOIL_STRESS_KPA), depth(SUBSOIL_DEPTH_M), "rear")
    chart = line_chart(
        "Stress straight under the tire, with depth",
        _chart_desc(shown, system),
        Axis(f"stress, {unit}", 0, stress(most)),
        Axis(f"depth, {length}", depth(deepest), 0),
        curves,
        bands=bands,
        marks=[mark],
    )
    names = [
        _name(points, name, role, side)
        for points, (_, name, role), side in zip(bands, shown, ("left", "right"))
    ]
    names.append(
        Label(
            (mark.x, mark.y), "published subsoil mark", "rear", "right", 0.7, short="subsoil mark"
        )
    )
    return replace(chart, shapes=(*chart.shapes, *names))


def _name(band, name, role, side):
    """A curve's name beside its band: the first at the left where it bends, the other at the right, deeper."""
    x, low, high = band.points[34 if side == "left" else 27]
    return Label((x, low if side == "left" else high), name, role, side, 0.9, bold=True)


def _stresses(contact, deepest):
    """Stresses met on the way down by the middle factor, evenly in depth."""
    return [contact.stress_kpa(deepest * i / 40, 4) for i in range(40, 0, -1)] + [
        contact.pressure_kpa * 0.99999
    ]


def _chart_desc(shown, system):
    said = [
        "Two curves fall from the surface pressure to nearly nothing at depth; each is a band, since soils differ."
    ]
    for contact, name, _ in shown:
        low, high = contact.band_kpa(0.2)
        said.append(
            f"With the {name}: {show(contact.pressure_kpa, 'pressure', system)} at the surface, "
            f"{show(low, 'pressure', system)} to {show(high, 'pressure', system)} at {depth_words(0.2, system)}."
        )
    return " ".join(said)
