"""The screens that tell: what came off and why, a claim, what to say, and what to hand over."""

from collections.abc import Iterator

from leverarm import statics
from leverarm.data import toml_file
from leverarm.handouts.page_words import page_words
from leverarm.numerals import Numeric
from leverarm.quantities import show_number
from leverarm.stage.controls import hidden_unless
from leverarm.stage.elements import Element, element
from leverarm.stage.recorder import first_so, where
from leverarm.weighing.results import NO_SCALES
from leverarm.yard_page.controls import (
    back,
    chips,
    facts,
    go,
    line_box,
    number_box,
    screen,
    worded,
)
from leverarm.yard_page.picture import SidePicture
from leverarm.yard_page.readings import BOXES
from leverarm.yard_page.told import ONE_WEIGHT, YardTold

CLAIMS = (("half", 0.5), ("one time", 1.0), ("1½ times", 1.5), ("twice", 2.0), ("3 times", 3.0))
SURE = "Each ± holds the truth in 95 of 100 weighings."
# What stands on the page to hand over, with the letters that fit.
LINES = (
    ("dealer", "Dealer", 50),
    ("customer", "Customer", 40),
    ("model", "Model", 40),
    ("serial", "Serial", 40),
    ("hours", "Hours", 20),
    ("weighed_by", "Weighed by", 40),
)


def telling_screens(told: YardTold) -> Iterator[Element]:
    """The screens from the result on."""
    yield _came(told)
    yield _why(told)
    yield _claim(told)
    yield _say(told)
    yield _hand()


def came_off_words(told: YardTold) -> str:
    """What came off, as a heading."""
    return f"{told.digits.headline.text()} {told.unit} came off the front axle."


def _came(told: YardTold) -> Element:
    """The result, its ±, and what stands beside it."""
    results = told.results
    known, sure = results.weight_known, results.sure
    picture = SidePicture(told.seen, f"What came off: {told.front_said} off the front axle")
    weighed = where(results.rear_known, lambda: "", lambda: ", told")
    rear = where(told.rear_gains, lambda: "onto the rear", lambda: "off the rear")
    times = f"That is {told.digits.times} times what the {told.piece} weighs."
    add = {"data_go": "scales", "hidden": hidden_unless(1 - sure), "class_": "yp-link"}
    numbers = [
        ("off the front", told.front_said, 1.0),
        (rear, f"{told.digits.rear_gain.size.text()} {told.unit}", results.rear_known),
        (f"{told.piece}{weighed}", told.weight_said, known),
        ("its overhang", told.overhang_said, known),
        ("times its weight", told.factor_said, known),
    ]
    body = [
        worded(times, "lead", known),
        worded("How many times its weight? Not told: the rear was not read.", "lead", 1 - known),
        element("div", picture.came_off(), class_="yp-picture"),
        facts(numbers),
        _one_more(told),
        worded(NO_SCALES, "note", 1 - sure),
        element("button", "Add the scales", **add),
        *(worded(text, "note", so) for text, so in _beside(told)),
    ]
    bar = [
        back("off"),
        go("Why", "why", second=True, hidden=hidden_unless(known)),
        go("Check a claim", "claim"),
    ]
    return screen("came", 3, came_off_words(told), body, bar)


def _beside(told: YardTold) -> list[tuple[str, Numeric]]:
    """What belongs beside the numbers, each with whether it does."""
    same = told.v["same"]
    return [
        (SURE, told.results.sure),
        (
            "Each load was read once: the ± takes the usual scatter of such scales.",
            told.results.sure,
        ),
        (
            "Fuel, operator or mower changed between the weighings: part of this may come from it.",
            same >= 2,
        ),
        ("What was not told may have changed between the weighings.", same <= 0),
        (
            "One axle at a time stood on the pads: the tilt is put back and counted in the ±.",
            told.v["raised"],
        ),
    ]


def _one_more(told: YardTold) -> Element:
    """Where the rear was not read: one more number tells the rest."""
    boxes = []
    words = {
        "told_weight": f"What it weighs, {told.unit}",
        "told_ahead": f"Or its overhang, {told.length}",
    }
    for name, kind, low, high in BOXES[1:]:
        unit = told.typed.unit(kind)
        ends = told.typed.shown(low, kind), told.typed.shown(high, kind)
        least, largest = (show_number(end, 0) for end in ends)
        refusal = f"A number from {least} to {largest} {unit} is allowed; look it up in the manual."
        boxes.append(number_box(name, words[name], unit, *ends, refusal))
    return element(
        "div",
        element("h2", "One more number tells it:"),
        element("div", *boxes, class_="yp-row"),
        hidden=hidden_unless(1 - told.results.rear_known),
    )


def _why(told: YardTold) -> Element:
    piece = told.piece
    picture = SidePicture(told.seen, f"Why: the {piece}, and what came over from the rear axle")
    reason = where(
        told.rear_gains,
        lambda: f"The {piece} hangs ahead of the front axle and takes load off the rear, too.",
        lambda: f"The {piece} sits between the axles, so each axle carries part of it.",
    )
    title = where(
        told.rear_gains, lambda: "Why more than its weight?", lambda: "Why less than its weight?"
    )
    return screen(
        "why",
        3,
        title,
        [
            worded(reason),
            element("div", picture.why(), class_="yp-picture"),
            element("div", *(worded(line) for line in told.working), class_="yp-work"),
            worded("Level ground, standing still, nothing else changed.", "note"),
        ],
        [back("came"), go("Check a claim", "claim")],
    )


def _claim(told: YardTold) -> Element:
    """The claim by its chips, and the answer."""
    v, unit = told.v, told.unit
    number = [
        (text, {"claim": factor, "claim_weighs": 0, "claim_known": 1}) for text, factor in CLAIMS
    ]
    other = [
        (f"a weight, {unit}", {"claim_weighs": 1, "claim_known": 0}),
        ("another factor", {"claim_weighs": 0, "claim_known": 0}),
    ]
    places = [(one, {"claim_axle": n}) for n, one in enumerate(("front", "rear", "machine"))]
    known, refusal = _claim_known(told), "A number above 0 is allowed; type it in digits."
    more = "That takes one more number: what the piece weighs, or the rear scale."
    body = [
        worded(f"Taking the {told.piece} off changes the"),
        chips("claim_axle", "Where?", places),
        chips("claim", "by how many times its own weight?", [*number, *other]),
        number_box("claim", "that number", "", 0.01, 100_000, refusal),
        worded("Choose a number, and the readings answer.", "note", 1 - v["claim_known"]),
        worded(more, "note", v["claim_known"] * (1 - known)),
        element(
            "div",
            worded(_verdict(told), "verdict"),
            worded(_answer(told)),
            worded(_needed(told), "note", told.results.weight_known * (v["claim_axle"] <= 0)),
            worded(NO_SCALES, "note", 1 - told.results.sure),
            class_="yp-answer",
            hidden=hidden_unless(v["claim_known"] * known),
            role="status",
        ),
    ]
    bar = [back("came"), go("What can I say?", "say")]
    return screen("claim", 4, "Is the claim true?", body, bar)


def _of_front(told: YardTold, so: Numeric, otherwise: Numeric) -> Numeric:
    """One mark for a weight off the front, which needs the front alone; another for the rest."""
    front = told.v["claim_weighs"] * (told.v["claim_axle"] <= 0)
    return where(front, lambda: so, lambda: otherwise)


def _claim_known(told: YardTold) -> Numeric:
    """1 where the readings hold what the claim is about."""
    return _of_front(told, 1.0, told.results.weight_known)


def _verdict(told: YardTold) -> str:
    """Whether the claim is so, where a ± stands behind the answer."""
    sure = _of_front(told, told.results.sure, told.results.all_sure)
    return first_so(
        [(1 - sure, "These readings cannot say."), (told.claim.fits, "So on this machine.")],
        "Not on this machine.",
    )


def _answer(told: YardTold) -> str:
    """What was found, beside what was said."""
    found, v = told.claim, told.v
    change = show_number(abs(told.in_unit(found.change)), 0)
    half = where(
        v["claim_axle"] <= 0,
        lambda: told.if_sure(told.weight_half(told.results.front.half), told.results.sure),
        lambda: "",
    )
    axle = first_so(
        [
            (v["claim_axle"] <= 0, "The front axle lost"),
            (v["claim_axle"] > 1, "The machine lost"),
            (told.rear_gains, "The rear axle gained"),
        ],
        "The rear axle lost",
    )
    times = where(
        told.results.weight_known,
        lambda: f", {show_number(abs(found.ratio), 2)} times what the {told.piece} weighs",
        lambda: "",
    )
    said = show_number(told.in_unit(found.said_kg), 0)
    return f"{axle} {change}{half} {told.unit}{times}. The claim would be {said} {told.unit}."


def _needed(told: YardTold) -> str:
    """The overhang with which the claim about the front axle would be so."""
    claimed = told.claim.said_kg / told.results.weight.value
    needs = statics.overhang_for(claimed, told.v["wheelbase"])
    length = show_number(abs(needs), 1 if told.length == "in" else 2)
    side = where(needs >= 0, lambda: "ahead of", lambda: "behind")
    return (
        f"It would need the center of gravity of the {told.piece} {length} {told.length} {side} "
        f"the front axle. It hangs {told.overhang_said} ahead of it."
    )


def said_to_customer(told: YardTold) -> str:
    """The one sentence to say."""
    half = told.if_sure("", 0.0)
    give = where(
        told.results.sure,
        lambda: f", give or take {told.weight_half(told.results.front.half)},",
        lambda: half,
    )
    return (
        f"On your tractor, as we weighed it today, taking the {told.piece} off took "
        f"{told.digits.headline.text()} {ONE_WEIGHT[told.unit]}{give} off the front axle."
    )


def _say(told: YardTold) -> Element:
    unit, results = told.unit, told.results
    rear = where(told.rear_gains, lambda: "gained", lambda: "lost")
    decides = page_words().who_decides.items[0].text
    cautions = toml_file("cautions").texts("decision")
    too = [
        (f"The rear axle {rear} {told.digits.rear_gain.size.text()} {unit}. The machine lost "
         f"{told.digits.weight.text()}.", results.rear_known),
        (f"That is {told.digits.times} times what the {told.piece} weighs.", results.weight_known),
        ("The manual decides if it may run without an attachment.", 1.0),
        (f"{NO_SCALES}", 1 - results.sure),
    ]  # fmt: skip
    not_meant = page_words().does_not_mean
    return screen(
        "say",
        5,
        "Say this to the customer",
        [
            element("blockquote", f"“{said_to_customer(told)}”"),
            element("h2", "Say this too"),
            element("ul", *(element("li", text, hidden=hidden_unless(so)) for text, so in too)),
            element("h2", "Do not promise"),
            element("ul", *(element("li", item.text) for item in not_meant.items)),
            element("h2", "Who decides"),
            worded(decides),
            element("ul", *(element("li", text) for text in cautions)),
        ],
        [back("claim"), go("Share or print", "hand")],
    )


def _hand() -> Element:
    def choice(text: str, small: str, do: str) -> Element:
        return element(
            "li",
            element(
                "button", element("b", text), element("span", small), data_do=do, class_="yp-choice"
            ),
        )

    lines = [line_box(name, label, most) for name, label, most in LINES]
    return screen(
        "hand",
        5,
        "Hand it over",
        [
            element(
                "ul",
                choice("Share the customer’s page", "one sheet, black and white", "share_page"),
                choice("Send this weigh day as a file", "the workbook opens it", "share_file"),
                choice("Keep it on this phone", "kept until you delete it", "keep"),
                choice("Delete this machine from this phone", "asks first", "forget"),
                class_="yp-list",
            ),
            worded("", "alert", role="status", data_text="done"),
            element("h2", "On the page"),
            element("div", *lines, class_="yp-lines"),
            worded("What you leave empty is printed as a line to write on.", "note"),
        ],
        [back("say"), go("Print the page", "", data_do="print")],
    )
