"""What is worked out by mistake: other measures of repeated readings, other functions of an angle.

Each prints itself as a student would write it.
"""

import math
from collections.abc import Callable
from statistics import median, pstdev, stdev

from leverarm.exercises.expressions.tree import over_100, printed_as
from leverarm.numerals import Numeric


def _in(words: str) -> Callable[..., str]:
    return lambda *readings: f"{words}({', '.join(readings)})"


@printed_as(lambda *readings: "the variance s^2")
def variance(*readings: Numeric) -> Numeric:
    """The mean of the squared distances, over one less than their number."""
    return stdev(readings) ** 2


@printed_as(lambda *readings: "the sum of the squared distances")
def squares(*readings: Numeric) -> Numeric:
    """The sum of the squared distances from the mean."""
    return (len(readings) - 1) * stdev(readings) ** 2


@printed_as(lambda *readings: "the root of the sum of the squared distances")
def root_of_squares(*readings: Numeric) -> Numeric:
    """The root of the sum of the squared distances, not divided."""
    return math.sqrt(squares(*readings))


@printed_as(lambda *readings: "the mean of the squared distances")
def mean_square(*readings: Numeric) -> Numeric:
    """The mean of the squared distances, over their number."""
    return pstdev(readings) ** 2


@printed_as(lambda *readings: f"s with {len(readings)} in place of {len(readings) - 1}")
def over_their_number(*readings: Numeric) -> Numeric:
    """The standard deviation with their number in place of one less."""
    return pstdev(readings)


@printed_as(
    lambda *readings: (
        f"s/sqrt({len(readings)}) with {len(readings)} in place of {len(readings) - 1} in s"
    )
)
def over_their_number_of_mean(*readings: Numeric) -> Numeric:
    """The same, divided by the root of their number."""
    return pstdev(readings) / math.sqrt(len(readings))


@printed_as(lambda *readings: "the mean distance from the mean")
def mean_distance(*readings: Numeric) -> Numeric:
    """The mean distance from the mean, without squares."""
    middle = sum(readings) / len(readings)
    return sum(abs(one - middle) for one in readings) / len(readings)


@printed_as(lambda *readings: f"the sum of the distances over {len(readings) - 1}")
def mean_distance_less_one(*readings: Numeric) -> Numeric:
    """The sum of the distances from the mean, over one less than their number."""
    return mean_distance(*readings) * len(readings) / (len(readings) - 1)


@printed_as(lambda *readings: "the median")
def middle(*readings: Numeric) -> Numeric:
    """The middle one of the readings."""
    return median(readings)


@printed_as(lambda *readings: f"({readings[0]} + {readings[-1]})/2")
def first_and_last(*readings: Numeric) -> Numeric:
    """The mean of the first and the last reading."""
    return (readings[0] + readings[-1]) / 2


@printed_as(lambda *readings: "(r_max + r_min)/2")
def middle_of_ends(*readings: Numeric) -> Numeric:
    """The mean of the largest and the smallest reading."""
    return (max(readings) + min(readings)) / 2


@printed_as(lambda *readings: "the largest reading")
def largest(*readings: Numeric) -> Numeric:
    """The largest reading."""
    return max(readings)


@printed_as(lambda *readings: "the smallest reading")
def smallest(*readings: Numeric) -> Numeric:
    """The smallest reading."""
    return min(readings)


@printed_as(lambda *readings: "the largest distance from the mean")
def largest_distance(*readings: Numeric) -> Numeric:
    """The largest distance from the mean."""
    mean = sum(readings) / len(readings)
    return max(abs(one - mean) for one in readings)


@printed_as(lambda *readings: f"({readings[-1]} − {readings[0]})")
def last_less_first(*readings: Numeric) -> Numeric:
    """The last reading less the first."""
    return readings[-1] - readings[0]


@printed_as(lambda *readings: f"(r_max − r_min)/sqrt({len(readings)})")
def span_over_root(*readings: Numeric) -> Numeric:
    """The largest less the smallest, over the root of their number."""
    return (max(readings) - min(readings)) / math.sqrt(len(readings))


@printed_as(lambda *readings: "(r_max − r_min)/sqrt(12)")
def span_as_limits(*readings: Numeric) -> Numeric:
    """The largest less the smallest, taken as limits."""
    return (max(readings) - min(readings)) / math.sqrt(12)


@printed_as(lambda *readings: f"s/sqrt({len(readings) - 1})")
def over_root_of_one_less(*readings: Numeric) -> Numeric:
    """The standard deviation over the root of one less than their number."""
    return stdev(readings) / math.sqrt(len(readings) - 1)


@printed_as(lambda *readings: f"s × sqrt({len(readings)})")
def times_root(*readings: Numeric) -> Numeric:
    """The standard deviation times the root of their number."""
    return stdev(readings) * math.sqrt(len(readings))


@printed_as(lambda *readings: f"({' + '.join(readings[:-1])})/{len(readings) - 1}")
def all_but_last(*readings: Numeric) -> Numeric:
    """The mean of all readings but the last."""
    return sum(readings[:-1]) / (len(readings) - 1)


@printed_as(lambda *readings: f"({' + '.join(readings[1:])})/{len(readings) - 1}")
def all_but_first(*readings: Numeric) -> Numeric:
    """The mean of all readings but the first."""
    return sum(readings[1:]) / (len(readings) - 1)


@printed_as(lambda *readings: f"(r_max − r_min)/{len(readings)}")
def span_over_number(*readings: Numeric) -> Numeric:
    """The largest less the smallest, over their number."""
    return (max(readings) - min(readings)) / len(readings)


@printed_as(lambda *readings: f"(r_max − r_min)/{len(readings) - 1}")
def span_over_one_less(*readings: Numeric) -> Numeric:
    """The largest less the smallest, over one less than their number."""
    return (max(readings) - min(readings)) / (len(readings) - 1)


MEASURES = (
    *(span_over_number, span_over_one_less),
    *(variance, squares, root_of_squares, mean_square, over_their_number),
    *(over_their_number_of_mean, mean_distance, mean_distance_less_one, middle, first_and_last),
    *(middle_of_ends, largest, smallest, largest_distance, last_less_first, span_over_root),
    *(span_as_limits, over_root_of_one_less, times_root, all_but_last, all_but_first),
)


def _of(name: str, unit: str = "°") -> Callable[..., str]:
    return lambda angle: f"{name}({angle}{unit})" if angle[:1].isdigit() else f"{name}({angle})"


@printed_as(_of("tan"))
def tan(degrees: Numeric) -> Numeric:
    """Tangent of an angle in degrees."""
    return math.tan(math.radians(degrees))


@printed_as(_of("sin", " rad"))
def sin_of_radians(number: Numeric) -> Numeric:
    """Sine with the calculator set to radians."""
    return math.sin(number)


@printed_as(_of("cos", " rad"))
def cos_of_radians(number: Numeric) -> Numeric:
    """Cosine with the calculator set to radians."""
    return math.cos(number)


@printed_as(_in("arcsin"))
def arcsin(sine: Numeric) -> Numeric:
    """Angle in degrees of a sine."""
    return math.degrees(math.asin(sine))


@printed_as(_in("arccos"))
def arccos(cosine: Numeric) -> Numeric:
    """Angle in degrees of a cosine."""
    return math.degrees(math.acos(cosine))


@printed_as(_in("arctan in radians "))
def arctan_in_radians(tangent: Numeric) -> Numeric:
    """Angle in radians of a tangent."""
    return math.atan(tangent)


@printed_as(over_100("arcsin"))
def arcsin_of_percent(percent: Numeric) -> Numeric:
    """The percent of a slope taken for a sine."""
    return arcsin(percent / 100)


@printed_as(over_100("arccos"))
def arccos_of_percent(percent: Numeric) -> Numeric:
    """The percent of a slope taken for a cosine."""
    return arccos(percent / 100)


@printed_as(over_100("arctan in radians "))
def arctan_of_percent_in_radians(percent: Numeric) -> Numeric:
    """The angle of a slope in radians."""
    return math.atan(percent / 100)
