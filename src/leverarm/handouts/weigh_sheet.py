"""The weigh-day sheet: cautions, set-up and readings on the first page, the working on the second.

``python -m leverarm.handouts`` writes it, in pounds and inches and in kilograms and meters.
"""

from html import escape

from leverarm.data import cautions
from leverarm.handouts.drawing import machine_drawing
from leverarm.handouts.sheet import (
    EMPTY_CELL,
    blanks,
    filled,
    heading,
    items,
    paragraph,
    sheet_html,
    system_words,
)
from leverarm.quantities import known_system, unit_of

CAUTIONS = cautions("weigh_sheet")
_HEAD = (
    ("Date", 1.2),
    ("Machine", 2.6),
    ("Wheelbase, {length}", 1.2),
    ("Scales: step, good to ±", 1.9),
    ("One set moved, or a pad under each wheel", 2.7),
    ("Operator on or off", 1.3),
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
_PARTS = ("left", "right", "axle")
UNCHANGED = "Fuel, operator and mower the same in all set-ups?   □ yes   □ no: ____________________"
BETS = (
    "My bets, before I read:   bucket weighs ______ {weight}   front changes by ______   "
    "rear by ______"
)
WORK = (
    (
        "1  Changes",
        "front: after − before = ________ {weight}    rear: after − before = ________ {weight}"
        "    (keep the signs)",
    ),
    ("2  Weight", "front change + rear change = ________ {weight}"),
    (
        "3  Overhang",
        "− wheelbase × rear change ÷ weight = ________ {length} ahead of the front axle",
    ),
    (
        "4  Factor",
        "front change ÷ weight = ________      check: 1 + overhang ÷ wheelbase = ________",
    ),
    (
        "5  How sure",
        (
            "u of one reading: ________ {weight}    u of the weight: "
            "2 × u = ________ {weight}    ± 2 × that = ________ {weight}"
        ),
    ),
    (
        "6  By tape",
        (
            "overhang to the middle of the bucket = ________ ± ________ {length}    do the two "
            "agree?  yes\u00a0/\u00a0no"
        ),
    ),
    (
        "7  Your bets",
        "weight off by ________    front off by ________    rear off by ________    ({weight})",
    ),
    (
        "8  A claim heard",
        (
            '"____________________________"   percent of what? ________________   it would '
            "need: ________"
        ),
    ),
)
DETACHED = (
    ("Pins' side on the scale, far edge on a pipe", "reads ________ {weight}"),
    ("The two exchanged", "reads ________ {weight}"),
    ("Weight", "both together = ________ {weight}"),
    (
        "From the pins to the center of gravity",
        "edge to edge × second reading ÷ weight = ________ {length}",
    ),
)
CHECK = (
    "Wheels off and on again between two readings of one set-up; wait until the display is still.",
    "An axle as one number, or its left and right wheel: either is enough.",
    "Same fuel, same mower, same person on the seat or nobody, for every set-up.",
    "Bucket clear of the ground.",
    "A wrong reading is struck out once and written again beside it, never overwritten.",
)
FIVE_TIMES = (
    "One front axle, bare, five times:  ______   ______   ______   ______   ______   mean ______"
)
OFF = (
    "Edge to edge: ________ {length}.  The bucket lies as it hangs. "
    "Lift it with rated gear, hands and feet clear."
)
HONEST = (
    "Taking the ____________ off takes ________ ± ________ {weight} off the front axle. "
    "That is ________ % of what the front axle carried with it on. "
    "The machine loses ________ ± ________ {weight}."
)
LEFT_OUT = (
    "A level, still, rigid machine on two supports. Tires squash, pads tilt, fuel and people move "
    "weight. No reading here says what a slope, a turn or a wet lawn will do. The operator's "
    "manual and the loader's manual decide."
)


def weigh_sheet(system: str) -> str:
    """The sheet as HTML, its units those of a system."""
    units = {kind: unit_of(kind, known_system(system)) for kind in ("weight", "length")}
    return sheet_html(
        f"Weigh-day sheet ({system})", _readings(units, system), _working(units), kind="weigh"
    )


def _readings(units: dict[str, str], system: str) -> str:
    """Cautions, set-up, readings."""
    return "".join(
        (
            heading("Weigh-day sheet", f"In {system_words(system)}"),
            "<h2>Before you start</h2>",
            items(CAUTIONS),
            blanks((name.format(**units), wide) for name, wide in _HEAD),
            paragraph(BETS.format(**units)),
            "<h2>Readings</h2>",
            _table(units["weight"]),
            paragraph(UNCHANGED),
            items(CHECK, "boxes"),
            paragraph(FIVE_TIMES),
        )
    )


def _table(unit: str) -> str:
    """Two lines a set-up, a cell for each wheel and each axle."""
    axles = "".join(f'<th colspan="3" scope="colgroup">{axle}</th>' for axle in ("Front", "Rear"))
    parts = "".join(f'<th scope="col">{part}</th>' for part in _PARTS * 2)
    head = (
        '<tr><th rowspan="2" scope="col">Set-up: what hangs on it</th>'
        f'<th rowspan="2" scope="col">No.</th>{axles}</tr><tr>{parts}</tr>'
    )
    rows = "".join(
        f'<tr><th rowspan="2" scope="rowgroup">{escape(setup) or "other:"}</th>'
        f'<th scope="row">1</th>{EMPTY_CELL * 6}</tr>'
        f'<tr><th scope="row">2</th>{EMPTY_CELL * 6}</tr>'
        for setup in _SETUPS
    )
    return (
        f"<table><caption>Each in {unit}, each set-up twice</caption>"
        f"<thead>{head}</thead>{rows}</table>"
    )


def _working(units: dict[str, str]) -> str:
    """From readings to weight, overhang and an honest sentence."""
    drawing = machine_drawing(
        "A tractor with its bucket on two scales, seen from its left side, the front at the left. "
        "To fill in: the overhang from the bucket to the front axle, and the wheelbase.",
        ((1.15, "bucket"), (0.0, "front axle"), (-1.65, "rear axle")),
        ((1.15, 0.0, "overhang ______"), (0.0, -1.65, "wheelbase ________")),
    )
    return "".join(
        (
            "<h2>The working, for one piece put on or taken off</h2>",
            f'<div class="drawing">{drawing}</div>',
            _lines(WORK, units),
            "<h2>A bucket off the machine</h2>",
            paragraph(OFF.format(**units)),
            _lines(DETACHED, units),
            "<h2>Say it honestly</h2>",
            paragraph(HONEST.format(**units)),
            "<h2>What this leaves out</h2>",
            paragraph(LEFT_OUT),
        )
    )


def _lines(lines: tuple[tuple[str, str], ...], units: dict[str, str]) -> str:
    """Each step with its name and its lines to write on."""
    inside = "".join(
        f"<li><b>{escape(name)}</b>{filled(blank.format(**units))}</li>" for name, blank in lines
    )
    return f'<ul class="work">{inside}</ul>'
