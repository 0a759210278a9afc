"""The screen that stops: what cannot be as it was typed, why, and what to do."""

from leverarm.numerals import Numeric
from leverarm.quantities import show_number
from leverarm.stage.case import AXLES
from leverarm.stage.controls import hidden_unless
from leverarm.stage.elements import Element, element
from leverarm.stage.recorder import first_so, where
from leverarm.yard_page.controls import go, screen, worded
from leverarm.yard_page.readings import ROWS
from leverarm.yard_page.told import YardTold

# What the page's script is to exchange, by cause.
SWAPS = {"swapped on": "on", "swapped off": "off", "both swapped": "both", "rows exchanged": "rows"}


def stop_screen(told: YardTold) -> Element:
    """The refusal: the set-up is named, and the page waits."""
    marks = told.doubts.marks
    texts = [worded(text, "alert", marks[name]) for name, text in _said(told).items()]
    can_swap = sum(marks[name] for name in SWAPS)
    *swaps, rows = SWAPS.items()
    which = first_so([(marks[name], boxes) for name, boxes in swaps], rows[1])
    weighs = told.doubts.weighs
    texts.append(worded("It cannot be kept as typed: no piece weighs nothing.", "note", 1 - weighs))
    bar = [
        go("Keep as typed", "came", second=True, hidden=hidden_unless(weighs)),
        go("Swap them", "off", data_do="swap", data_which=which, hidden=hidden_unless(can_swap)),
        go("Look again", "on", hidden=hidden_unless(1 - can_swap)),
    ]
    return screen("stop", 3, "Stop: look at the readings again.", [*texts, _as_typed(told)], bar)


def _said(told: YardTold) -> dict[str, str]:
    """What is said to each cause."""
    piece, unit = told.piece, told.unit

    def moved(change: Numeric, axle: str) -> str:
        size = show_number(abs(change), 0)
        return where(
            change < 0,
            lambda: f"put {size} {unit} on the {axle}",
            lambda: f"took {size} {unit} off the {axle}",
        )

    front, rear = moved(told.doubts.front, "front"), moved(told.doubts.rear, "rear")
    typed = f"As typed, taking the {piece} off {front} and {rear}."
    cannot = f"{typed} A {piece} ahead of the front axle cannot do that."
    swapped = f"Front and rear look swapped in “{piece}"
    weighs = told.digits.weight.text()
    return {
        "swapped on": f"{swapped} on”. {cannot} Look at the other weighing, too.",
        "swapped off": f"{swapped} off”. {cannot} Look at the other weighing, too.",
        "both swapped": f"Front and rear look swapped in both weighings. {cannot}",
        "rows exchanged": f"The two weighings look exchanged: on is off, and off is on. {cannot}",
        "cannot be": f"{cannot} Look at each box again.",
        "too heavy": (
            f"The {piece} would weigh {weighs} {unit}: such a piece on such a machine weighs less. "
            "Look at each box again."
        ),
        "nothing on it": (
            "One axle carries next to nothing. If a wheel is light or lifts: bucket down, stop, "
            "nobody near, and read the manual on ballast. Else look at each box again."
        ),
        "uneven": (
            "Left and right wheel of an axle are far apart. Look whether both stand whole on "
            "their pads, and look at each box again."
        ),
    }


def _as_typed(told: YardTold) -> Element:
    """What was typed, axle by axle."""
    heads = (" ", *AXLES)
    rows = [
        element(
            "tr",
            element("th", f"{told.piece} {row}", scope="row"),
            *(element("td", show_number(told.axles[row, axle], 0)) for axle in AXLES),
        )
        for row in ROWS
    ]
    return element(
        "table",
        element("caption", f"As typed, {told.unit}"),
        element("tr", *(element("th", one, scope="col") for one in heads)),
        *rows,
        class_="yp-table",
    )
