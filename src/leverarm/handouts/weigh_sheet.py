"""The weigh-day sheet: cautions, set-up and readings on the first page, the working on the second.

``python -m leverarm.handouts`` writes it for A4 and for Letter.
"""

from pathlib import Path

from leverarm.data import cautions
from leverarm.handouts.sheet import EDGE, Figure, Sheet, Size, paper_size

CAUTIONS = cautions("weigh_sheet")
_HEAD = (
    ("Date", 1.5),
    ("Machine", 3.0),
    ("Wheelbase", 1.6),
    ("Scales: step, good to ±", 2.4),
    ("One set moved, or a pad under each wheel", 2.9),
    ("Operator on or off", 1.6),
)
_SETUPS = (
    "bare",
    "loader frame",
    "loader frame + bucket",
    "ballast",
    "loader frame + bucket + ballast",
    "",
)
# Two lines a set-up, since each is read twice; an axle's wheels, or the axle as a whole.
_COLUMNS = (
    "Set-up: what hangs on it",
    "",
    *(f"{axle}\n{part}" for axle in ("Front", "Rear") for part in ("left", "right", "axle")),
    "Unit",
)
_WIDTHS = (2.15, 0.28, *6 * (0.69,), 0.45)
_READINGS = [(setup * (number == "1"), number) for setup in _SETUPS for number in ("1", "2")]
UNCHANGED = "Fuel, operator and mower the same in all set-ups?   □ yes   □ no: ____________________"
BETS = "My bets, before I read:   bucket weighs ______   front changes by ______   rear by ______"
WORK = (
    (
        "1  Changes",
        "front: after − before = ________    rear: after − before = ________    (keep the signs)",
    ),
    ("2  Weight", "front change + rear change = ________"),
    ("3  Overhang", "− wheelbase × rear change ÷ weight = ________   ahead of the front axle"),
    (
        "4  Factor",
        "front change ÷ weight = ________      check: 1 + overhang ÷ wheelbase = ________",
    ),
    (
        "5  How sure",
        (
            "u of one reading: ________      u of the weight: "
            "2 × u = ________      ± 2 × that = ________"
        ),
    ),
    (
        "6  By tape",
        (
            "overhang to the middle of the bucket = ________ ± ________      do the two "
            "agree?  yes / no"
        ),
    ),
    ("7  Your bets", "weight off by ________      front off by ________      rear off by ________"),
    (
        "8  A claim heard",
        (
            '"____________________________"   percent of what? ________________   it would '
            "need: ________"
        ),
    ),
)
DETACHED = (
    ("Pins' side on the scale, far edge on a pipe", "reads ________"),
    ("The two exchanged", "reads ________"),
    ("Weight", "both together = ________"),
    ("From the pins to the center of gravity", "edge to edge × second reading ÷ weight = ________"),
)
CHECK = (
    "Wheels off and on again between two readings of one set-up; wait until the display is still.",
    "An axle as one number, or its left and right wheel: either is enough.",
    "Same fuel, same mower, same person on the seat or nobody, for every set-up.",
    "Bucket clear of the ground.",
    "A wrong reading is struck out once and written again beside it, never overwritten.",
)


def readings_page(size: Size) -> Figure:
    """Cautions, set-up, readings."""
    sheet = Sheet(size)
    sheet.write("Weigh-day sheet", 17, bold=True, gap=0.05)
    sheet.write("Before you start", 11, bold=True)
    sheet.items(CAUTIONS)
    sheet.y += 0.1
    sheet.blanks(_HEAD)
    sheet.write(BETS, 9.5, gap=0.1)
    sheet.write("Readings", 11, bold=True)
    sheet.table(_COLUMNS, _WIDTHS, _READINGS, 0.26)
    sheet.write(UNCHANGED, 9.5, gap=0.12)
    sheet.items(CHECK, "□")
    sheet.write(
        "One front axle, bare, five times:  ______   ______   ______   ______   ______   "
        "mean ______",
        9.5,
    )
    return sheet.page


def _arms(sheet: Sheet) -> None:
    """The lever as a line: bucket, front axle, rear axle, with lengths to fill in."""
    y, front, rear, bucket = (
        sheet.y + 0.55,
        sheet.width * 0.42,
        sheet.width * 0.80,
        sheet.width * 0.16,
    )
    sheet.rule(bucket, rear, y, 2.0)
    for x, name in ((bucket, "bucket"), (front, "front axle"), (rear, "rear axle")):
        sheet.axes.plot(x, y, "s" if x == rear else "o", color="#1A1A1A", markersize=9)
        sheet.axes.text(x, y - 0.16, name, fontsize=9, ha="center", va="bottom")
    for a, b, name in ((bucket, front, "overhang ________"), (front, rear, "wheelbase ________")):
        sheet.axes.annotate(
            "", (a, y + 0.28), (b, y + 0.28), arrowprops={"arrowstyle": "<->", "linewidth": 0.8}
        )
        sheet.axes.text((a + b) / 2, y + 0.34, name, fontsize=9, ha="center", va="top")
    sheet.y = y + 0.6


def working_page(size: Size) -> Figure:
    """From readings to weight, overhang and an honest sentence."""
    sheet = Sheet(size)
    sheet.write("The working, for one piece put on or taken off", 13, bold=True)
    _arms(sheet)
    for name, blank in WORK:
        sheet.write(name, 10, bold=True)
        sheet.write(blank, 10, x=EDGE + 0.2, gap=0.19)
    sheet.write("A bucket off the machine", 11, bold=True, gap=0.03)
    sheet.write(
        "Edge to edge: ________      The bucket lies as it hangs. "
        "Lift it with rated gear, hands and feet clear.",
        9.5,
        gap=0.1,
    )
    for name, blank in DETACHED:
        sheet.write(f"{name}:  {blank}", 10, x=EDGE + 0.2, gap=0.13)
    sheet.write("Say it honestly", 11, bold=True, gap=0.05)
    sheet.write(
        "Taking the ____________ off takes ________ ± ________ off the front axle. "
        "That is ________ % of what the front axle "
        "carried with it on. The machine loses ________ ± ________.",
        10,
        gap=0.15,
    )
    sheet.write("What this leaves out", 11, bold=True)
    sheet.write(
        "A level, still, rigid machine on two supports. Tires squash, pads tilt, "
        "fuel and people move weight. No reading here says "
        "what a slope, a turn or a wet lawn will do. The operator's manual and the "
        "loader's manual decide.",
        9.5,
    )
    return sheet.page


def pages(size: Size) -> list[Figure]:
    """Figures of both pages on paper of a size in inches."""
    return [readings_page(size), working_page(size)]


def weigh_sheet(path: str | Path, paper: str = "A4") -> Path:
    """Write the weigh-day sheet as a PDF of two pages, "A4" or "Letter"; returns its path."""
    from leverarm.graphs import pdf

    return pdf(path, pages(paper_size(paper)))
