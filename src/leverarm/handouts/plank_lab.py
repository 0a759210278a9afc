"""The plank lab: two bathroom scales, a plank and a jug, predictions before readings.

One page to fill in, one to work on.
"""

from leverarm.data import cautions
from leverarm.handouts.sheet import EDGE, Figure, Sheet, Size

CAUTIONS = cautions("plank")
SET_UP = (
    (
        "Lay a pipe across the middle of each scale, and the plank on the pipes. "
        "The pipes are the two supports."
    ),
    "Leave 18 in (45 cm) of plank past the left pipe, and little past the right one.",
    "Measure from pipe to pipe, and from the nearest pipe to the middle of the jug.",
)
STEPS = (
    "Write both predictions of a row, and hand the pencil on. Only then put the jug down.",
    (
        "Read both scales when they stand still. Write what you see. "
        "A wrong entry is struck out once, never rubbed out."
    ),
    "Lift the jug off between two rows, and look whether the plank alone reads as before.",
)
_JUG_PLACES = (
    "plank alone",
    "jug over the right pipe",
    "jug midway",
    "jug over the left pipe",
    "jug beyond the left pipe",
    "jug farther beyond",
    "your own place:",
)
HEADS = ("Where the jug is", "Predict left", "Predict right", "Read left", "Read right", "Both")
_WIDTHS = (2.15, 0.98, 0.98, 0.98, 0.98, 0.98)
QUESTIONS = (
    (
        "Which rows did you predict with the right direction for both scales? "
        "______________________________"
    ),
    (
        "Jug beyond the left pipe: by how much did the left scale change? ________   and "
        "the right? ________"
    ),
    (
        "Is the left scale's change larger than the jug's weight? By how much? ________   "
        "Where did it come from?"
    ),
    "Weight of the jug from the two changes, each with its sign: ________ + ________ = ________",
    (
        "Distance beyond the left pipe, from the readings: "
        "pipe to pipe × right scale's loss ÷ jug = ________   by tape: ________"
    ),
    (
        "Moments about the left pipe: jug × its distance = ________    right scale's loss × "
        "pipe to pipe = ________"
    ),
    (
        "Do the two agree? What would have to be read better for a closer match? "
        "______________________________"
    ),
    (
        "The same row five times, jug lifted off between:  ______  ______  ______  ______  "
        "______   How far apart? ________"
    ),
)
SAME = (
    ("left scale", "front axle"),
    ("right scale", "rear axle"),
    ("jug", "bucket"),
    ("pipe to pipe", "wheelbase"),
    ("beyond the left pipe", "overhang"),
)


def plank_lab(size: Size) -> list[Figure]:
    """Figures of the laboratory sheet on paper of a size in inches."""
    return [_readings(size), _working(size)]


def _readings(size: Size) -> Figure:
    """Cautions, set-up, the table with its predictions first."""
    sheet = Sheet(size)
    sheet.write("Plank lab", 17, bold=True, gap=0.05)
    sheet.items(CAUTIONS)
    sheet.blanks(
        (("Names or codes", 3.2), ("Date", 1.2), ("Pipe to pipe", 1.2), ("Jug alone", 1.2))
    )
    _lever(sheet)
    sheet.write("Set up", 11, bold=True)
    sheet.items(SET_UP, "□")
    sheet.y += 0.08
    sheet.write("Predict, then read", 11, bold=True)
    sheet.items(STEPS)
    sheet.y += 0.05
    sheet.table(HEADS, _WIDTHS, [[place] for place in _JUG_PLACES], height=0.4)
    sheet.write("What I saw, in one sentence, before anyone explains:", 10, gap=0.25)
    _lines(sheet, 2)
    return sheet.page


def _lever(sheet: Sheet) -> None:
    """The plank as a line on two pipes, with lengths to fill in."""
    jug, left, right, y = sheet.width * 0.22, sheet.width * 0.4, sheet.width * 0.8, sheet.y + 0.5
    sheet.rule(jug - 0.4, right + 0.2, y, 2.5)
    for x, mark, name in ((left, "s", "left scale"), (right, "o", "right scale")):
        sheet.axes.plot(x, y + 0.1, mark, color="#1A1A1A", markersize=9)
        sheet.axes.text(x, y - 0.12, name, fontsize=9, ha="center", va="bottom")
    sheet.axes.annotate(
        "",
        (jug, y),
        (jug, y - 0.3),
        arrowprops={"arrowstyle": "-|>", "linewidth": 1.4, "color": "#1A1A1A"},
    )
    sheet.axes.text(jug, y - 0.32, "jug", fontsize=9, ha="center", va="bottom")
    for a, b, name in ((left, right, "pipe to pipe ________"), (jug, left, "beyond ________")):
        sheet.axes.annotate(
            "", (a, y + 0.3), (b, y + 0.3), arrowprops={"arrowstyle": "<->", "linewidth": 0.8}
        )
        sheet.axes.text((a + b) / 2, y + 0.36, name, fontsize=9, ha="center", va="top")
    sheet.y = y + 0.7


def _lines(sheet: Sheet, count: int) -> None:
    """Empty lines to write on."""
    for _ in range(count):
        sheet.rule(EDGE, sheet.width - EDGE, sheet.y)
        sheet.y += 0.34


def _working(size: Size) -> Figure:
    """Questions from the readings, and the plank beside the machine."""
    sheet = Sheet(size)
    sheet.write("Plank lab: what the readings say", 13, bold=True, gap=0.1)
    for number, question in enumerate(QUESTIONS, 1):
        sheet.axes.text(EDGE, sheet.y, f"{number}", fontsize=10, va="top", weight="bold")
        sheet.write(question, 10, x=EDGE + 0.25, gap=0.42)
    sheet.write("The same lever with wheels", 11, bold=True)
    for here, there in SAME:
        sheet.write(f"{here}  is the  {there}", 10, x=EDGE + 0.2)
    sheet.y += 0.1
    sheet.write(
        "In two sentences: what does a bucket ahead of the front axle do to each axle, "
        "and why? Use the word arm.",
        10,
        gap=0.3,
    )
    _lines(sheet, 4)
    return sheet.page
