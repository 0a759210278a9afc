"""The screens that ask: which machine, which scales, what they read with the piece on and off."""

from collections.abc import Iterator, Mapping

from leverarm.numerals import Numeric
from leverarm.quantities import show_number
from leverarm.stage.case import AXLES
from leverarm.stage.elements import Element, element
from leverarm.stage.recorder import where
from leverarm.yard_page.controls import (
    back,
    chips,
    go,
    line_box,
    number_box,
    screen,
    worded,
)
from leverarm.yard_page.picture import above_boxes, columns_below
from leverarm.yard_page.readings import BOXES, box_name
from leverarm.yard_page.stop import stop_screen
from leverarm.yard_page.told import PIECES, YardTold

MOST_NAME = 40
STEPS = {"lb": (1, 2, 5, 10), "kg": (0.5, 1, 2, 5)}
ACCURACIES = (0.1, 0.2, 0.5, 1)
NOT_TOLD = "not told"
# Said before each weighing.  Common practice; the operator's manual decides.
ON_SAFE = (
    "Level hard ground. Bucket down. Kept from rolling. Nobody near while it moves. "
    "Hands off the pads."
)
OFF_SAFE = {
    "bucket": "As the loader manual says: bucket flat on the ground, pressure let off.",
    "loader": (
        "Loader off only as its manual says, on its own stands, pressure let off, nobody near."
    ),
}


def asking_screens(told: YardTold) -> Iterator[Element]:
    """The screens up to the result."""
    yield _machine()
    yield _own(told)
    yield _scales(told)
    yield _readings(told, "on")
    yield _readings(told, "off")
    yield stop_screen(told)


def _machine() -> Element:
    units: list[tuple[str, dict[str, float]]] = [("lb, in", {}), ("kg, m", {})]
    return screen(
        "machine",
        1,
        "Which machine stands on the scales?",
        [
            element("ul", "", data_text="machines", class_="yp-list"),
            worded(
                "This page works without a network and sends nothing. A machine is kept on this "
                "phone only when you ask for it at the end.",
                "note",
            ),
            chips("units", "Units", units),
            worded("", "note", data_text="storage", role="status"),
            element(
                "label",
                element("span", "Open a weigh day’s file"),
                element("input", type="file", accept=".csv,text/csv", data_do="open"),
                class_="yp-file",
            ),
            worded("", "alert", role="alert", data_text="opened"),
        ],
        [go("New machine", "own", data_do="new")],
    )


def _own(told: YardTold) -> Element:
    unit = told.length
    _, kind, low, high = BOXES[0]
    low, high = told.typed.shown(low, kind), told.typed.shown(high, kind)
    ends = f"{show_number(low, 1)} to {show_number(high, 1)} {unit}"
    refusal = f"Wheelbase: a number from {ends} is allowed; measure front axle to rear axle."
    return screen(
        "own",
        1,
        "What is it, and how long?",
        [
            line_box("machine", "What you call it", MOST_NAME, "such as Compact tractor 3"),
            number_box(
                "wheelbase", f"Wheelbase, {unit}: front axle to rear axle", unit, low, high, refusal
            ),
            chips(
                "piece", "What comes off?", [(one, {"piece": n}) for n, one in enumerate(PIECES)]
            ),
            line_box("mower", "Mower, and how it stands", MOST_NAME, "such as deck, on and raised"),
            worded("", "alert", role="alert", data_text="needed"),
        ],
        [
            back("machine"),
            go(
                "To the scales",
                where(told.v["has_wheelbase"], lambda: "scales", lambda: ""),
                data_needs="Type the wheelbase first.",
            ),
        ],
    )


def _scales(told: YardTold) -> Element:
    unit, v = told.unit, told.v
    steps = [(f"{one:g} {unit}", {"step": one, "step_known": 1}) for one in STEPS[unit]]
    good = [(f"{one:g} %", {"accuracy": one, "accuracy_known": 1}) for one in ACCURACIES]
    placed = [
        ("one under each wheel", {"one_set": 0, "placed_known": 1, "raised": 0}),
        ("one set, moved, pads on the ground", {"one_set": 1, "placed_known": 1, "raised": 1}),
        ("one set, moved, pads let in level", {"one_set": 1, "placed_known": 1, "raised": 0}),
        (NOT_TOLD, {"one_set": 1, "placed_known": 0, "raised": 0}),
    ]
    return screen(
        "scales",
        2,
        "What do the scales tell you?",
        [
            chips("step", "Smallest step", [*steps, (NOT_TOLD, {"step": 0, "step_known": 0})]),
            chips(
                "accuracy",
                "Good to, on their certificate",
                [*good, (NOT_TOLD, {"accuracy": 0, "accuracy_known": 0})],
            ),
            chips("placed", "How do they stand?", placed),
            worded(
                "Not told is fine. If step and certificate are both not told, the page gives no ±.",
                "note",
            ),
            worded("The scales were not told: no ± will be given.", "note", 1 - _sure(v)),
        ],
        [back("own"), go("To the readings", "on")],
    )


def _sure(v: Mapping[str, Numeric]) -> Numeric:
    return v["step_known"] + v["accuracy_known"] > 0


def _readings(told: YardTold, row: str) -> Element:
    """The boxes under the machine, and its columns under its boxes."""
    on, piece, bucket = row == "on", told.piece, told.v["piece"] <= 0
    known = {axle: told.known[row, axle] for axle in AXLES}
    loader = where(bucket, lambda: OFF_SAFE["bucket"], lambda: OFF_SAFE["loader"])
    picture = f"The machine from above, front left, with the {piece} {row}"
    columns = f"Load on each axle, {piece} {row}"
    plan = element(
        "div",
        _boxes(told, row, "right"),
        above_boxes(bucket, picture, on=on),
        _boxes(told, row, "left"),
        columns_below(told.seen, columns, told.seen.on if on else told.seen.off, known),
        class_="yp-plan",
    )
    body = [worded(ON_SAFE if on else loader, "safe"), plan]
    title, bar = _first_bar(told) if on else _second_bar(told)
    if on:
        same = "Same fuel, operator and mower both times. Rear not on a scale? Leave it empty."
        body.append(worded(same, "note"))
    else:
        alike = [("yes", {"same": 1}), ("no", {"same": 2}), ("not sure", {"same": 0})]
        body.append(chips("same", "Fuel, operator and mower the same as before?", alike))
    body += [
        worded("One number for a whole axle goes in either of its boxes.", "note"),
        worded("", "alert", role="alert", data_text="needed"),
    ]
    return screen(row, 3, title, body, bar)


def _first_bar(told: YardTold) -> tuple[str, list[Element]]:
    """The title and the bar of the first weighing."""
    to = where(told.known["on", "front"], lambda: "off", lambda: "")
    needs = "Type what the front axle reads first."
    again = go(f"{told.piece_first} off, weigh again", to, data_needs=needs)
    return f"{told.piece_first} on: what do they read?", [back("scales"), again]


def _second_bar(told: YardTold) -> tuple[str, list[Element]]:
    """The title and the bar of the second weighing: it stops where something cannot be."""
    known = told.known
    once = abs(known["off", "rear"] - known["on", "rear"])
    ready = known["off", "front"] * known["on", "front"]
    to = where(
        ready * (1 - once),
        lambda: where(told.doubts.any, lambda: "stop", lambda: "came"),
        lambda: "",
    )
    needs = where(
        ready,
        lambda: "The rear was read once only: type it both times, or leave it empty both times.",
        lambda: "Type what the front axle reads first, both times.",
    )
    bar = [back("on"), go("What came off?", to, data_needs=needs)]
    return f"{told.piece_first} off: what do they read now?", bar


def _boxes(told: YardTold, row: str, side: str) -> Element:
    most = told.typed.most_reading
    refusal = (
        f"A reading from 0 to {show_number(most, 0)} {told.unit} is allowed, digits alone or with "
        "a comma between thousands; type it again."
    )
    return element(
        "div",
        *(
            number_box(
                box_name(row, axle, side),
                f"{side} {axle}",
                told.unit,
                0,
                most,
                refusal,
                f"yp-{axle}",
            )
            for axle in AXLES
        ),
        class_="yp-row",
    )
