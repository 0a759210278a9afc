"""Factors of units that are left in, left out, taken twice, or taken for another."""

import math

from leverarm.quantities import KG_PER_LB, KPA_PER_PSI, M_PER_IN, G

_G, _LB, _IN, _PSI = map(float, (G, KG_PER_LB, M_PER_IN, KPA_PER_PSI))
_POINT_MOVED: tuple[tuple[float, float, str], ...] = tuple(
    (factor, 0.3, f"with the decimal point moved {places}")
    for factor, places in (
        *((10.0, "one place"), (0.1, "one place")),
        *((100.0, "two places"), (0.01, "two places")),
    )
)
_NEWTONS = "multiplied by g, as if newtons were asked and not a scale reading"
_WITHOUT_G = "divided by g"
_THOUSANDS = (
    (1000.0, 1.0, "times 1000"),
    (0.001, 1.0, "divided by 1000"),
)
_FACTORS: dict[str, tuple[tuple[float, float, str], ...]] = {
    "weight": (
        (_G, 2.0, _NEWTONS),
        (1 / _G, 1.0, _WITHOUT_G),
    ),
    "length": (
        (100.0, 1.0, "times 100: meters and centimeters mixed up"),
        (0.01, 1.0, "divided by 100: meters and centimeters mixed up"),
        *_THOUSANDS,
    ),
    "share": ((100.0, 0.5, "times 100 once too often"),),
    "number": ((100.0, 2.0, "in percent, where a plain number is asked"),),
    "pressure": (
        (_G, 1.0, "multiplied by g once too often"),
        (1 / _G, 2.0, "divided by g, or with a g left out"),
        (1000.0, 1.0, "times 1000: pascals and kilopascals mixed up"),
        (0.001, 1.0, "divided by 1000: pascals and kilopascals mixed up"),
    ),
    "moment": (
        (_G, 2.0, "multiplied by g, as if newtons were asked and not a scale's unit"),
        (1 / _G, 0.5, _WITHOUT_G),
    ),
    "angle": (
        (math.radians(1), 2.0, "in radians, where degrees are asked"),
        (math.degrees(1), 1.0, "turned from radians into degrees once too often"),
    ),
    "area": (
        (_G, 1.0, "multiplied by g once too often"),
        (1 / _G, 2.0, "divided by g, or with a g left out"),
        (1e-4, 1.0, "divided by 10 000: square centimeters and meters mixed up"),
        (1e4, 1.0, "times 10 000: square centimeters and meters mixed up"),
        *_THOUSANDS,
    ),
    "force": _THOUSANDS,
}
_FEET = (
    (12.0, 1.0, "times 12: feet and inches mixed up"),
    (1 / 12, 1.0, "divided by 12: feet and inches mixed up"),
)
# Seldom where all units of the problem are metric: who turns kilograms into pounds for kilograms?
SELDOM = 0.1
_BETWEEN_SYSTEMS: dict[str, tuple[tuple[float, float, str], ...]] = {
    "weight": (
        (1 / _LB, 1.0, "divided by 0.4536: kilograms turned into pounds once too often"),
        (_LB, 1.0, "multiplied by 0.4536: pounds turned into kilograms once too often"),
    ),
    "length": (
        (1 / _IN, 1.0, "multiplied by 39.37: meters turned into inches once too often"),
        (_IN, 1.0, "divided by 39.37: inches turned into meters once too often"),
        *_FEET,
    ),
    "pressure": (
        (1 / _PSI, 1.0, "divided by 6.895: kPa turned into psi once too often"),
        (_PSI, 1.0, "multiplied by 6.895: psi turned into kPa once too often"),
    ),
    "moment": (
        (1 / _LB, 0.5, "divided by 0.4536: kilograms turned into pounds once too often"),
        (_LB, 1.0, "multiplied by 0.4536: pounds turned into kilograms once too often"),
        *_FEET,
    ),
    "force": (
        (_LB, 1.0, "multiplied by 0.4536: pounds and kilograms mixed up"),
        (1 / _LB, 1.0, "divided by 0.4536: pounds and kilograms mixed up"),
    ),
}


def unit_slips(asked: str, metric: bool) -> tuple[tuple[float, float, str], ...]:
    """Wrong factors on a right result: (factor, how common, words) each.

    asked   the kind of quantity
    metric  whether every unit of the problem is metric
    """
    seldom = SELDOM if metric else 1.0
    between = [
        (size, seldom * share, said) for size, share, said in _BETWEEN_SYSTEMS.get(asked, ())
    ]
    return (*_FACTORS.get(asked, ()), *between, *_POINT_MOVED)


# Factors that stand in an expression, and others of their own sort that are taken for them: what is
# of two sorts counts as a power of ten.
_ALIKE = (
    (0.01, 0.1, 100.0, 1000.0, 10_000.0),
    (_IN, 2.54, 0.3048, 1 / 12, 1 / _IN, 12.0, 0.01, 0.1, 100.0, 1000.0),
    (_LB, 1 / _LB),
    (_PSI, 1 / _PSI),
)


def other_unit_factors(value: float) -> set[float]:
    """What is taken for a factor of units in an expression; nothing for any other number."""
    if value == _G:
        return {10.0}
    for sort in _ALIKE:
        if any(abs(value - unit) < 1e-6 for unit in sort):
            return {*sort, 10 * value, value / 10, 2 * value}
    return set()
