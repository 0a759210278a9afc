"""Front drive in a turn: the mismatch against the radius."""

from leverarm.driveline import Drive
from leverarm.quantities import show, show_number, system_shown, to_unit
from leverarm.scene.chart import OFF_AND_ON, OFF_AND_ON_ROLES, Axis, Curve, Mark, line_chart
from leverarm.scene.shapes import (
    Scene,
)

# The chart's radii, in meters.
RADII = (1.5, 15.0)
LOWEST = -30.0


def length_words(meters: float, system: str | None = None) -> str:
    """A turning radius as people say it: meters or feet.

    >>> length_words(2.5, "kg"), length_words(2.5, "lb")
    ('2.50 m', '8.2 ft')
    """
    return (
        show(meters, "length", "kg")
        if system_shown(system) == "kg"
        else f"{to_unit(meters, 'length', 'ft'):.1f} ft"
    )


def mismatch_chart(
    off: Drive,
    on: Drive,
    radius: float,
    *,
    system: str | None = None,
) -> Scene:
    """Mismatch in percent of the rear path, against the turning radius, for two Drives."""
    system = system_shown(system)

    def length(m):
        return to_unit(m, "length", "m" if system == "kg" else "ft")

    shown = list(zip((off, on), OFF_AND_ON, OFF_AND_ON_ROLES, ("right", "left")))
    low, high = RADII
    steps = [low * (high / low) ** (i / 60) for i in range(61)]
    curves = [
        Curve(
            name,
            tuple((length(r), y) for r in steps if (y := drive.mismatch(r)) >= LOWEST),
            role,
            5,
            end,
        )
        for drive, name, role, end in shown
    ]
    marks = [Mark("this turn", length(min(max(radius, low), high)))]
    fits = off.fitting_radius_m
    if fits and low < fits < high:
        marks.append(Mark("fits here", length(fits), 0.0, "front"))
    unit = "m" if system == "kg" else "ft"
    return line_chart(
        "Mismatch against turning radius",
        _chart_desc(shown, radius, system),
        Axis(f"turning radius, {unit}", 0, length(high)),
        Axis("mismatch, % of the rear path", LOWEST, 10),
        curves,
        marks=marks,
    )


def _chart_desc(shown: list[tuple[Drive, str, str, str]], radius: float, system: str) -> str:
    sentences = [
        (
            "Above zero the front is over-driven, below zero it is dragged; "
            "the curves rise toward the lead as the turn widens."
        )
    ]
    for drive, name, _, _ in shown:
        fits = drive.fitting_radius_m
        where = (
            f"the lead just fits a turn of {length_words(fits, system)}" if fits else "no turn fits"
        )
        sentences.append(
            f"With the {name}: {where}; in the turn of {length_words(radius, system)} "
            "the mismatch is "
            f"{show_number(drive.mismatch(radius), 1, sign=True)} %."
        )
    return " ".join(sentences)
