"""Graphs of data, drawn by matplotlib on Figure() objects, never pyplot.

histogram(values, ...)         simulated values, the interval of the formula over them: a Picture,
                               which shows itself in a notebook and has words for a screen reader
figure(width, height)          a Figure and its Axes in the house style (inches)
color(role)                    a role's color on white paper

Where there is no matplotlib, as in a browser's own Python, ``histogram`` is drawn by
:mod:`leverarm.scene`, and a Figure is refused.
"""

try:
    from leverarm.graphs.histogram import histogram
    from leverarm.graphs.style import Picture, color, figure
except ModuleNotFoundError as missing:  # a browser's own Python has neither of the two
    if missing.name not in ("numpy", "matplotlib"):
        raise
    from leverarm.graphs.without import (  # type: ignore[assignment]  # stand-ins of the same use
        SceneGraph as Picture,
    )
    from leverarm.graphs.without import color, figure, histogram  # type: ignore[assignment]  # as above

__all__ = ["Picture", "color", "figure", "histogram"]
