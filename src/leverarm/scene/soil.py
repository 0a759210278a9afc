"""Under the tire: the stress with depth as a chart, loader off and on."""

import math
from dataclasses import replace
from typing import TypeAlias

from leverarm.ground import LEAST_FACTOR, MOST_FACTOR, SUBSOIL_DEPTH_M, SUBSOIL_STRESS_KPA, Contact
from leverarm.quantities import from_unit, show, system_shown, to_unit, unit_of
from leverarm.scene.chart import OFF_AND_ON, OFF_AND_ON_ROLES, Axis, Band, Curve, Mark, line_chart
from leverarm.scene.shapes import Label, Scene

# Stresses whose lines are drawn, in the pressure unit of each system.
LEVELS = {"kg": (100, 50, 20), "lb": (15, 7, 3)}
DEEPEST_M = 0.6

_Shown: TypeAlias = tuple[Contact, str, str]  # contact, name, role


def levels_kpa(system: str) -> tuple[float, ...]:
    """The stresses whose lines are drawn, in kPa.

    >>> levels_kpa("kg")
    (100.0, 50.0, 20.0)
    """
    return tuple(
        from_unit(level, "pressure", unit_of("pressure", system)) for level in LEVELS[system]
    )


def depth_words(meters: float, system: str | None = None) -> str:
    """A depth as gardeners say it: centimeters or inches.

    >>> depth_words(0.234, "kg"), depth_words(0.234, "lb")
    ('23 cm', '9.2 in')
    """
    metric = system_shown(system) == "kg"
    return f"{100 * meters:.0f} cm" if metric else show(meters, "length", "lb")


def depth_chart(off: Contact, on: Contact, *, system: str | None = None) -> Scene:
    """Stress with depth for two Contacts as a chart, each a band over the published factors."""
    system = system_shown(system)
    unit, length = unit_of("pressure", system), "cm" if system == "kg" else "in"
    shown = list(zip((off, on), OFF_AND_ON, OFF_AND_ON_ROLES))
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
