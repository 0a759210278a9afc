"""What each graph says to who can't see it: the same words whoever draws it."""

from leverarm.quantities import show_number


def waterfall(start, steps, unit, start_name, end_name):
    """Every step with its sign, and where they lead."""
    end = start + sum(change for _, change in steps)
    return (
        f"Waterfall: {start_name} {start:.1f} {unit}; "
        + "; ".join(f"{name} {show_number(change, 1, sign=True)}" for name, change in steps)
        + f"; {end_name} {end:.1f} {unit}."
    )


def intervals(rows, unit):
    """Every value with what it may be."""
    return (
        "Intervals: "
        + "; ".join(
            f"{name} {value:.4g}, from {low:.4g} to {high:.4g}"
            for name, value, low, high, *_ in rows
        )
        + f" {unit}."
    )


def histogram(ordered, unit, interval, interval_name):
    """Where the middle of the draws lies, beside the other route's interval."""
    low, high = ordered[int(0.025 * len(ordered))], ordered[int(0.975 * len(ordered))]
    return (
        f"Histogram of {len(ordered)} draws: the middle 95 % lie from {low:.4g} to {high:.4g} {unit}"
        + (f"; {interval_name}: {interval[0]:.4g} to {interval[1]:.4g}." if interval else ".")
    )


def lines(curves, x_name, y_name):
    """Where every curve begins and ends."""
    return (
        f"{y_name} over {x_name}: "
        + "; ".join(
            f"{name} runs from {values[0]:.4g} to {values[-1]:.4g}" for name, values, _ in curves
        )
        + "."
    )


def bars(rows, unit):
    """Every length."""
    return (
        "Bars: "
        + "; ".join(f"{name} {show_number(length, 1)}" for name, length in rows)
        + f" {unit}."
    )


def dots(groups, unit):
    """How many readings each group has, how far they spread, and their mean."""
    return (
        "Dots: "
        + "; ".join(
            f"{name}: {len(r)} readings from {min(r):.4g} to {max(r):.4g}, mean {sum(r) / len(r):.4g}"
            for name, r in groups
        )
        + f" {unit}."
    )
