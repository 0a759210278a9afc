"""The plank lab: two bathroom scales, a plank and a jug, predictions before readings.

One page to fill in, one to work on.
"""

from leverarm.data import cautions
from leverarm.handouts.drawing import plank_drawing
from leverarm.handouts.sheet import (
    blanks,
    head_row,
    heading,
    items,
    paragraph,
    sheet_html,
    system_words,
    table,
    writing_lines,
)
from leverarm.quantities import unit_of

CAUTIONS = cautions("plank")
SET_UP = (
    (
        "Lay a pipe across the middle of each scale, and the plank on the pipes. "
        "The pipes are the two supports."
    ),
    "Leave {past} of plank past the left pipe, and little past the right one.",
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
PAST = {"lb": "18 in", "kg": "0.45 m"}
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


def plank_lab(system: str) -> str:
    """The laboratory sheet as HTML, its units those of a system."""
    return sheet_html(f"Plank lab ({system})", _readings(system), _working(), kind="lab")


def _readings(system: str) -> str:
    """Cautions, set-up, the table with its predictions first."""
    weight, length = unit_of("weight", system), unit_of("length", system)
    drawing = plank_drawing(
        "A plank on two pipes, each on a scale, and a jug beyond the left pipe. To fill in: how "
        "far beyond the left pipe the jug stands, and the distance from pipe to pipe.",
        ((0.22, "jug"), (0.0, "left scale"), (-1.2, "right scale")),
        ((0.22, 0.0, ""), (0.0, -1.2, "pipe to pipe ________")),
    )
    fields = (
        ("Names or codes", 2.8),
        ("Date", 1.0),
        (f"Pipe to pipe, {length}", 1.2),
        (f"Jug alone, {weight}", 1.2),
    )
    return "".join(
        (
            heading("Plank lab", f"In {system_words(system)}"),
            items(CAUTIONS),
            blanks(fields),
            f'<div class="drawing">{drawing}</div>',
            "<h2>Set up</h2>",
            items((line.format(past=PAST[system]) for line in SET_UP), "boxes"),
            "<h2>Predict, then read</h2>",
            items(STEPS),
            table(
                f"Predictions and readings, in {weight}",
                head_row(HEADS),
                ((place,) for place in _JUG_PLACES),
                wide=len(HEADS) - 1,
            ),
            paragraph("What I saw, in one sentence, before anyone explains:"),
            writing_lines(2),
        )
    )


def _working() -> str:
    """Questions from the readings, and the plank beside the machine."""
    return "".join(
        (
            "<h2>What the readings say</h2>",
            items(QUESTIONS, tag="ol"),
            table("The same lever with wheels", head_row(("Plank", "Machine")), SAME, "same"),
            paragraph(
                "In two sentences: what does a bucket ahead of the front axle do to each axle, "
                "and why? Use the word arm."
            ),
            writing_lines(4),
        )
    )
