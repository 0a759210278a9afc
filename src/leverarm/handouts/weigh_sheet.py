"""The weigh-day sheet: cautions, set-up and readings on the first page, the working on the second.

``python -m leverarm.handouts`` writes it for A4 and for Letter.
"""

from textwrap import wrap

PAPERS = {"A4": (8.27, 11.69), "Letter": (8.5, 11.0)}
EDGE = 0.6
LINE = 0.19

CAUTIONS = (
    "Roll bar up, seat belt on; bar folded, no belt, and put it up again. One driver, from the seat, at walking pace; helpers in sight.",
    "Level, hard ground. All four wheels at one height: pads under one axle alone tilt the machine.",
    "On the scales: brakes released, and the machine kept from rolling by chocks that do not touch the scales.",
    "Bucket a hand above the ground for the reading, then down. Nobody under, beside or in front of a raised loader.",
    "Before getting off: bucket down, engine off. Relieve the hydraulic pressure before any coupler is opened.",
    "Loader off only as its manual says, on its own stands. Not every machine may run without its bucket.",
    "Where this sheet and the operator's manual, local rules or a qualified person disagree, this sheet is wrong.",
)
HEAD = (
    ("Date", 1.5),
    ("Machine", 3.0),
    ("Wheelbase", 1.6),
    ("Scales: step, good to ±", 2.4),
    ("Fuel (same for all)", 1.9),
    ("Operator on or off", 1.8),
)
STATES = (
    "bare",
    "loader frame",
    "loader frame + bucket",
    "ballast",
    "loader frame + bucket + ballast",
    "",
)
COLUMNS = ("State: what hangs on it", "Front 1", "Front 2", "Rear 1", "Rear 2", "Unit")
WIDTHS = (2.55, 0.9, 0.9, 0.9, 0.9, 0.65)
BETS = "What you expect, written before you read:  bucket weighs ______   front changes by ______   rear changes by ______"
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
        "u of one reading: ________      u of the weight: 2 × u = ________      ± 2 × that = ________",
    ),
    (
        "6  By tape",
        "overhang to the middle of the bucket = ________ ± ________      do the two agree?  yes / no",
    ),
    ("7  Your bets", "weight off by ________      front off by ________      rear off by ________"),
    (
        "8  A claim heard",
        '"____________________________"   percent of what? ________________   it would need: ________',
    ),
)
DETACHED = (
    ("Pins' side on the scale, far edge on a pipe", "reads ________"),
    ("The two exchanged", "reads ________"),
    ("Weight", "both together = ________"),
    ("From the pins to the center of gravity", "edge to edge × second reading ÷ weight = ________"),
)
CHECK = (
    "Wheels off and on again between two readings of one state.",
    "Wait until the display stands still.",
    "Same fuel, same person on the seat or nobody, for every state.",
    "Bucket clear of the ground.",
    "A wrong reading is struck out once and written again beside it, never overwritten.",
)


class Sheet:
    """One page in inches, y downwards, written from the top."""

    def __init__(self, size):
        from leverarm.graphs import figure

        self.width, self.height = size
        self.page, self.axes = figure(*size)
        self.page.set_layout_engine("none")
        self.axes.set(position=(0, 0, 1, 1), xlim=(0, self.width), ylim=(self.height, 0))
        self.axes.axis("off")
        self.y = EDGE

    def write(self, text, size=9.5, x=EDGE, bold=False, gap=0.0):
        """Lines of text as wide as the page; moves down."""
        letters = int((self.width - EDGE - x) / (size * 0.0074))
        for line in wrap(text, letters) or [""]:
            self.axes.text(
                x, self.y, line, fontsize=size, weight="bold" if bold else "normal", va="top"
            )
            self.y += LINE * size / 9.5
        self.y += gap

    def items(self, lines, mark="•", size=9.5):
        """A list with its marks hanging."""
        for line in lines:
            self.axes.text(EDGE, self.y, mark, fontsize=size, va="top")
            self.write(line, size, x=EDGE + 0.2, gap=0.03)

    def rule(self, x0, x1, y, width=0.8):
        """A level line."""
        self.axes.plot((x0, x1), (y, y), color="#1A1A1A", linewidth=width)

    def table(self, heads, widths, rows, height=0.36):
        """An empty table to write into; the first cell of each row is printed."""
        left, right = EDGE, EDGE + sum(widths)
        edges = [left + sum(widths[:i]) for i in range(len(widths) + 1)]
        top = self.y
        for i, cells in enumerate([heads, *([row] for row in rows)]):
            self.rule(left, right, self.y)
            for x, text in zip(edges, cells):
                self.axes.text(
                    x + 0.06,
                    self.y + height / 2,
                    text,
                    fontsize=9,
                    weight="bold" if i == 0 else "normal",
                    va="center",
                )
            self.y += height
        self.rule(left, right, self.y)
        for x in edges:
            self.axes.plot((x, x), (top, self.y), color="#1A1A1A", linewidth=0.8)
        self.y += 0.15

    def blanks(self, fields):
        """Named lines to fill in, as many beside each other as fit."""
        x = EDGE
        for name, width in fields:
            if x + width > self.width - EDGE + 0.01:
                x, self.y = EDGE, self.y + 0.42
            self.axes.text(x, self.y, name, fontsize=8, va="top", color="#5A6067")
            self.rule(x, x + width - 0.15, self.y + 0.36)
            x += width
        self.y += 0.52


def readings_page(size):
    """Cautions, set-up, readings."""
    sheet = Sheet(size)
    sheet.write("Weigh-day sheet", 17, bold=True, gap=0.05)
    sheet.write("Before you start", 11, bold=True)
    sheet.items(CAUTIONS)
    sheet.y += 0.1
    sheet.blanks(HEAD)
    sheet.write("Readings", 11, bold=True)
    sheet.table(COLUMNS, WIDTHS, STATES)
    sheet.write(BETS, 9.5, gap=0.12)
    sheet.items(CHECK, "□")
    sheet.write(
        "One front axle, bare, five times:  ______   ______   ______   ______   ______   mean ______",
        9.5,
        gap=0.05,
    )
    _arms(sheet)
    return sheet.page


def _arms(sheet):
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


def working_page(size):
    """From readings to weight, overhang and an honest sentence."""
    sheet = Sheet(size)
    sheet.write("The working, for one piece put on or taken off", 13, bold=True, gap=0.1)
    for name, blank in WORK:
        sheet.write(name, 10, bold=True)
        sheet.write(blank, 10, x=EDGE + 0.2, gap=0.27)
    sheet.write("A bucket off the machine", 11, bold=True, gap=0.03)
    sheet.write(
        "Edge to edge: ________      The bucket lies as it hangs. Lift it with rated gear, hands and feet clear.",
        9.5,
        gap=0.1,
    )
    for name, blank in DETACHED:
        sheet.write(f"{name}:  {blank}", 10, x=EDGE + 0.2, gap=0.13)
    sheet.write("Say it honestly", 11, bold=True, gap=0.05)
    sheet.write(
        "Taking the ____________ off takes ________ ± ________ off the front axle. That is ________ % of what the front axle "
        "carried with it on. The machine loses ________ ± ________.",
        10,
        gap=0.15,
    )
    sheet.write("What this leaves out", 11, bold=True)
    sheet.write(
        "A level, still, rigid machine on two supports. Tires squash, pads tilt, fuel and people move weight. No reading here says "
        "what a slope, a turn or a wet lawn will do. The operator's manual and the loader's manual decide.",
        9.5,
    )
    return sheet.page


def pages(size):
    """Figures of both pages on paper of a size in inches."""
    return [readings_page(size), working_page(size)]


def weigh_sheet(path, paper="A4"):
    """Write the weigh-day sheet as a PDF of two pages; returns its path.  paper "A4" or "Letter"."""
    from leverarm.graphs import pdf
    from leverarm.quantities import Refusal

    if paper not in PAPERS:
        raise Refusal("paper", paper, " or ".join(PAPERS), "name one of them")
    return pdf(path, pages(PAPERS[paper]))
