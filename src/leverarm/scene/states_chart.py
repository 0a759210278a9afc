"""What each axle carries in every state, as pairs of level bars with their words: read without color, wide or narrow."""

from leverarm.quantities import show
from leverarm.scene.shapes import Label, Line, Marker, Polygon, Scene

# In rows: the state's name, the front bar, the rear bar, and a gap.
ROWS = 3.3


def states_chart(rows, system="kg", *, title="What each axle carries", hidden=()):
    """Rows of (name, front kg, rear kg) as a Scene, first on top.

    hidden  names of rows whose bars are kept back
    """
    most = max(max(front, rear, 1.0) for _, front, rear in rows)
    shapes = [Line(((0.0, 0.0), (0.0, -ROWS * len(rows))), "ink", 0.08)]
    for i, (name, *loads) in enumerate(rows):
        top = -ROWS * i
        shapes.append(Label((0.0, top - 0.5), name, "ink", "right", 0.3, fixed=True, bold=True))
        for j, (axle, kg) in enumerate(zip(("front", "rear"), loads)):
            shapes += _bar(axle, max(kg, 0.0), top - 1.1 - j, system, name in hidden)
    return Scene(
        tuple(shapes),
        (0.0, -ROWS * len(rows), most, 0.0),
        title,
        _desc(rows, system, hidden),
        (0.6, 8.6, 0.2, 0.3),
        "fill",
    )


def _bar(axle, kg, top, system, hidden):
    """A bar with the mark of its axle at the end, and its words."""
    middle, words = top - 0.4, "?" if hidden else show(kg, "weight", system, decimals=0)
    kg = 0.0 if hidden else kg
    corners = ((0.0, top), (kg, top), (kg, top - 0.8), (0.0, top - 0.8))
    return [
        Polygon(corners, axle, width=0.14),
        Marker((kg, middle), axle, size=0.7),
        Label((kg, middle), f"{axle} {words}", axle, "right", 0.7, fixed=True, bold=True),
    ]


def _desc(rows, system, hidden):
    kg = lambda value: show(value, "weight", system, decimals=0)
    return " ".join(
        f"{name}: kept back until you have predicted."
        if name in hidden
        else f"{name}: front {kg(front)}, rear {kg(rear)}."
        for name, front, rear in rows
    )
