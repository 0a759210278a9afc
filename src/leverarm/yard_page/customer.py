"""The customer's page as the phone prints it: the words of the page to hand over."""

from leverarm.handouts.page_words import page_words
from leverarm.quantities import show_number
from leverarm.stage.case import AXLES
from leverarm.stage.controls import hidden_unless
from leverarm.stage.elements import Element, element
from leverarm.stage.recorder import first_so, where
from leverarm.weighing.results import NO_SCALES
from leverarm.yard_page.controls import worded
from leverarm.yard_page.telling import LINES, SURE
from leverarm.yard_page.told import YardTold


def customer_sheet(told: YardTold) -> Element:
    """One sheet: what came off, both pictures, the working, what it does not mean, who decides."""
    digits, results, unit, piece = told.digits, told.results, told.unit, told.piece
    known, off = results.weight_known, digits.headline.text()
    said = f": {digits.times} times what the {piece} weighs"
    times = where(known, lambda: said, lambda: "")
    sure = f"Off the front {told.front_said}."
    all_sure = f"{sure} {piece[:1]}{piece[1:]} {told.weight_said}. Times {told.factor_said}."
    return element(
        "article",
        _head(),
        element(
            "h1",
            f"Taking the {piece} off took {off} {unit} off the front axle{times}.",
        ),
        element(
            "p", element("span", "", data_text="machine"), element("span", "", data_text="mowing")
        ),
        element(
            "div", *(element("div", "", data_copy=one) for one in ("why", "came")), class_="yp-pair"
        ),
        element(
            "div",
            element("div", *(worded(line) for line in told.working), hidden=hidden_unless(known)),
            _table(told),
            class_="yp-pair",
        ),
        worded(all_sure, "", results.all_sure),
        worded(sure, "", results.sure * (1 - results.all_sure)),
        worded(
            "The weight or overhang was told, not weighed.", "", known * (1 - results.rear_known)
        ),
        worded(SURE, "", results.sure),
        worded(NO_SCALES, "", 1 - results.sure),
        _columns(told),
        _record(),
        worded(f"This machine, this day, standing still on level ground. {_same(told)}"),
        data_sheet_of="customer",
        class_="yp-sheet",
    )


def _head() -> Element:
    """The dealer and the day."""
    return element(
        "p",
        element("b", "", data_line_text="dealer"),
        element("span", "", data_text="date"),
        class_="yp-head",
    )


def _same(told: YardTold) -> str:
    """What is known of fuel, operator and mower."""
    changed = told.v["same"]
    return where(
        changed >= 2,
        lambda: (
            "Fuel, operator or mower changed between the weighings. Part of the change may "
            "come from that."
        ),
        lambda: where(
            changed >= 1,
            lambda: "Fuel, operator and mower were the same both times.",
            lambda: "What was not told may have changed between the weighings.",
        ),
    )


def _record() -> Element:
    """The lines to write on."""
    return element(
        "dl",
        *(
            element("div", element("dt", label), element("dd", "", data_line_text=name))
            for name, label, _ in LINES[1:]
        ),
        class_="yp-record",
    )


def _table(told: YardTold) -> Element:
    heads = (told.unit, f"{told.piece} on", "off", "change")
    rows = []
    for axle in AXLES:
        on, off = told.axles["on", axle], told.axles["off", axle]
        cells = [show_number(on, 0), show_number(off, 0), show_number(off - on, 0, sign=True)]
        if axle == "rear":
            read = told.results.rear_known
            cells = [first_so([(read, cell)], "not read") for cell in cells]
        row = [element("th", axle, scope="row"), *(element("td", cell) for cell in cells)]
        rows.append(element("tr", *row))
    head = element("tr", *(element("th", one, scope="col") for one in heads))
    caption = element("caption", "What the scales showed")
    return element("table", caption, head, *rows, class_="yp-table")


def _columns(told: YardTold) -> Element:
    words = page_words()
    bucket = told.v["piece"] <= 0
    parts = []
    for column in (words.does_not_mean, words.before_mowing, words.who_decides):
        items = [
            element(
                "li",
                item.text,
                hidden=hidden_unless(
                    1.0 if not item.piece else bucket if item.piece == "bucket" else 1 - bucket
                ),
            )
            for item in column.items
            if not item.ballast
        ]
        parts.append(element("div", element("h2", column.title), element("ul", *items)))
    return element("div", *parts, class_="yp-three")
