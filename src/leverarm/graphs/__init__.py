"""Graphs for the page and for print, drawn by matplotlib on Figure() objects, never pyplot.

figure(width, height)          a Figure and its Axes in the house style (inches)
picture(figure, words)         a Picture: shows itself in a notebook with its words for a screen reader;
                               .svg text, .png(dpi) bytes
pdf(path, figures)             pages of one PDF file, the same bytes every time
waterfall(start, steps, ...)   a reading built up or stripped down piece by piece
intervals(rows, ...)           values with their +/- on one scale
histogram(values, ...)         draws, with the law's interval over them
lines(x, curves, ...)          curves over one axis
bars(rows, ...)                named lengths, such as an uncertainty budget
dots(groups, ...)              each reading a dot, its group's mean a bar
scene_print.draw_scene(axes, scene, ...)   a scene's own shapes on a printed page
"""

try:
    from leverarm.graphs.charts import bars, dots, histogram, intervals, lines, waterfall
    from leverarm.graphs.style import Picture, color, figure, pdf, picture
except ModuleNotFoundError as missing:  # a browser's own Python has neither of the two
    if missing.name not in ("numpy", "matplotlib"):
        raise
    from leverarm.graphs.without import Stand as Picture
    from leverarm.graphs.without import (
        bars,
        color,
        dots,
        figure,
        histogram,
        intervals,
        lines,
        pdf,
        picture,
        waterfall,
    )

__all__ = [
    "Picture",
    "bars",
    "color",
    "dots",
    "figure",
    "histogram",
    "intervals",
    "lines",
    "pdf",
    "picture",
    "waterfall",
]
