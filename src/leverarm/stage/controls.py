"""Boxes, sliders and buttons beside a stage picture, as elements.

Every value has a box and a slider of one name.  A refused number is refused beside its box.
"""

import json
import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import cache, partial

from leverarm.data import Entry, toml_file
from leverarm.numerals import Numeric
from leverarm.quantities import show_number
from leverarm.stage.case import AXLES, EXPLAINED, FREE, SECONDS, WEIGHED, SaidCase, Shown
from leverarm.stage.elements import Element, element
from leverarm.stage.recorder import where
from leverarm.stage.recording import Drawing, Handle, Input
from leverarm.stage.sheet import Paper


@cache
def entry(name: str) -> Entry:
    """Words of the stage: a table that its pictures share, or the file of one picture."""
    shared = toml_file("stage")
    return shared.part(name) if name in shared else toml_file(f"stage_{name}")


def control(
    one: Input,
    label: str,
    unit: str,
    value: str,
    *,
    kind: str = "ink",
    known: str | None = None,
) -> Element:
    """A box and a slider for an input; ``value`` is its value in words, for the ear.

    kind    the color of its label: ink, front-words, rear-words
    known   the input that becomes 1 once a value was said; until then the box is empty
    """
    words = entry("controls")
    places = 0 if one.step >= 1 else one.decimals
    low, high = (show_number(end, places, sign=one.sign) for end in (one.low, one.high))
    moves = {"data_moves": one.name, "data_known": known}
    typed = element(
        "input",
        type="text",
        inputmode="text" if one.low < 0 else "decimal",
        autocomplete="off",
        data_unit=unit,
        data_refusal=words.text("refusal").format(low=low, high=f"{high} {unit}"),
        **moves,
    )
    slider = element(
        "input",
        type="range",
        min=f"{one.low:g}",
        max=f"{one.high:g}",
        step=f"{one.step:g}",
        value=f"{one.start:g}",
        aria_label=words.text("slider").format(label=label),
        aria_valuetext=value,
        **moves,
    )
    name = element("span", label, class_=f"st-name st-text-{kind}")
    return _with_refusal(
        element("label", name, typed, element("span", unit, class_="st-unit")), slider
    )


def _with_refusal(*parts: Element) -> Element:
    """A control with the place beside it where a refusal is shown."""
    refusal = element("span", "", class_="st-refusal", role="alert")
    return element("div", *parts, refusal, class_="st-control")


def sentence_box(name: str, words: Entry | None = None) -> Element:
    """A box for a sentence of the reader's own; ``words`` has its name, its hint, its refusal."""
    words = words or entry("controls")
    box = element(
        "textarea",
        data_name=name,
        rows="2",
        placeholder=words.text(f"{name}_hint"),
        data_refusal=words.text(f"{name}_refusal"),
    )
    return _with_refusal(element("label", element("span", words.text(name), class_="st-name"), box))


def push_button(
    text: str,
    *,
    bold: bool = False,
    disabled: str = "",
    hidden: str = "",
    sets: Mapping[str, float] | None = None,
    **does: str,
) -> Element:
    """A button.  ``does`` names what it does: tell, open, plays, goal, seconds, needs, checks.

    sets    inputs it sets
    """
    return element(
        "button",
        text,
        type="button",
        class_="st-button" + (" st-bold" if bold else ""),
        disabled=disabled,
        hidden=hidden,
        data_next="1" if bold else None,
        data_set=json.dumps(dict(sets)) if sets else None,
        **{f"data_{name}": value for name, value in does.items()},
    )


def choice_of(
    moves: str, label: str, ways: Mapping[float, str], value: Numeric, known: Numeric | None = None
) -> Element:
    """One of a few: a button for each, pressed for the one that was chosen.

    moves   the input;  ways  its values and their words;  value  the one it has
    known   whether one was chosen, where there is an input MOVES_known for it; None for always
    """
    chosen = 1.0 if known is None else known
    buttons = [
        element(
            "button",
            text,
            type="button",
            class_="st-button st-choice",
            aria_pressed=where(chosen * (abs(value - way) < 0.5), lambda: "true", lambda: "false"),
            data_set=json.dumps(
                {f"{moves}_said": way, f"{moves}_known": 1} if known is not None else {moves: way}
            ),
        )
        for way, text in ways.items()
    ]
    return element(
        "div",
        element("div", label, class_="st-name"),
        *buttons,
        role="group",
        aria_label=label,
        class_="st-control",
    )


def one_of_three(value: Numeric, more: str, same: str, less: str) -> str:
    """The words of a choice among three ways: above zero, at it, below it."""
    low = where(value < -0.5, lambda: less, lambda: same)
    return where(value > 0.5, lambda: more, lambda: low)


def said_words(known: Numeric, number: str) -> tuple[str, str]:
    """What a tag shows and what is heard of a change: its number, once it was said."""
    label = entry("labels")
    return (
        where(known, lambda: number, lambda: label.text("drag")),
        where(known, lambda: number, lambda: label.text("unsaid")),
    )


def question_controls(boxes: list[Element], known: Numeric, hint: str) -> list[Element]:
    """What stands beside a question: its boxes, the lock, and how to say it.

    known   whether everything asked was said
    """
    lock = push_button(
        entry("controls").text("lock_in"),
        bold=True,
        enter="1",
        checks="1",
        tell="locked",
        open="next",
        disabled=where(known, lambda: "", lambda: "disabled"),
    )
    return [*boxes, lock, element("p", hint, class_="st-hint")]


def axles_asked(
    case: Shown,
    said: Sequence[Input],
    v: Mapping[str, Numeric],
    hint: str,
    also: Sequence[Element] = (),
    also_known: Numeric = 1.0,
) -> tuple[dict[str, str], dict[str, str], list[Element]]:
    """What asks for a change of one axle or both: by axle tags and words heard, the controls.

    said    the inputs, front first
    also    what is asked besides;  also_known  whether that was said
    """
    tags, heard, boxes = {}, {}, []
    for axle, one in zip(AXLES, said, strict=False):
        number, known = show_number(v[f"{axle}_said"], 0, sign=True), f"{axle}_known"
        tags[axle], heard[axle] = said_words(v[known], number)
        label, kind = entry("controls").text(one.name), f"{axle}-words"
        boxes.append(control(one, label, case.units.weight, heard[axle], kind=kind, known=known))
    every = math.prod(v[f"{axle}_known"] for axle in tags)
    return tags, heard, question_controls([*boxes, *also], every * also_known, hint)


def act_drawing(
    case: Shown,
    picture: Callable[[Paper], tuple[Element, list[Handle]]],
    question: str,
    controls: list[Element],
    live: str,
    *,
    below: Sequence[Element] = (),
    latches: Mapping[str, Numeric] | None = None,
) -> Drawing:
    """Everything of an act in reading order: question, picture, controls, what stands below.

    picture     draws one size of paper;  live  what is read aloud when something has changed
    """
    drawn = [picture(sheet) for sheet in case.sheets]
    page = element(
        "div",
        element("div", element("p", question, class_="st-question"), class_="st-ask"),
        element("div", [one for one, _ in drawn], class_="st-paper"),
        element("div", controls, class_="st-controls"),
        *below,
        element("p", "", class_="st-alone", role="alert"),
        element("div", "", class_="st-live", role="status"),
        class_="st st-projector" if case.large else "st",
        data_says=live,
    )
    handles = tuple(handle for _, held in drawn for handle in held)
    return Drawing(page, handles, latches or {})


def moved_behind_more(
    case: SaidCase, v: Mapping[str, Numeric], first: Sequence[Element] = (), name: str = "{axle}"
) -> list[Element]:
    """What else moves, behind More: ``first``, then both readings, and all of it back again.

    name    the name of a reading's words
    """
    words, inputs = entry("controls"), {one.name: one for one in case.inputs}
    readings = [
        control(
            inputs[axle],
            words.text(name.format(axle=axle)),
            case.units.weight,
            case.units.show_weight(v[axle]),
        )
        for axle in AXLES
    ]
    start = {moved: inputs[moved].start for moved in case.moves}
    return [*first, *readings, push_button(words.text("back"), sets=start)]


def more_of(part: Numeric, table: Element, free: list[Element] | None = None) -> Element:
    """What stands behind More: what else moves once it is free to, and the readings."""
    parts = [element("div", table, class_="st-part", hidden=until(part, WEIGHED))]
    if free:
        grid = element("div", free, class_="st-part st-grid", hidden=until(part, FREE))
        parts.insert(0, grid)
    summary = element("summary", entry("controls").text("more"))
    return element("details", summary, parts, class_="st-more")


def after_steps(
    name: str, told: Mapping[str, str], part: Numeric, lifted: Numeric = 0.0
) -> Element:
    """The paragraphs under a picture, each from its step on.

    name    the table of words;  told  its numbers
    lifted  whether an axle is off the ground: a paragraph may have other words for that
    """
    steps = {"weighed": WEIGHED, "explained": EXPLAINED, "free": FREE}
    parts = []
    for one in entry(name).rows("after", named_by="step"):
        inside: list[Element] = []
        if "title" in one:
            inside.append(element("b", one.text("title") + " "))
        if "text" in one:
            text = one.text("text").format(**told)
            if "lifted" in one:
                other = one.text("lifted").format(**told)
                text = where(lifted, partial(str, other), partial(str, text))
            inside.append(element("span", text))
        if "items" in one:
            items = (element("li", item.format(**told)) for item in one.texts("items"))
            inside.append(element("ol", items))
        kind = "st-after st-caution" if one.flag("caution") else "st-after"
        hidden = until(part, steps[one.one_of("step", list(steps))])
        parts.append(element("div", inside, class_=kind, hidden=hidden))
    return element("div", parts)


def until(part: Numeric, begins: float, ends: float = math.inf) -> str:
    """The attribute that hides something but from one part of an act on, and until another."""
    inside = part >= begins if math.isinf(ends) else (part >= begins) * (part < ends)
    return hidden_unless(inside)


def hidden_unless(shown: Numeric) -> str:
    """The hidden attribute of what stands there only sometimes."""
    return where(shown, lambda: "", lambda: "hidden")


def exact_line(
    v: Mapping[str, Numeric], changes: Mapping[str, Numeric], said: str, near: float = 0.5
) -> Element:
    """Says so when every change was said to the unit shown; gone once things can be moved.

    changes     by what was asked;  said  what was said, in words
    near        how near counts: half of the last digit shown
    """
    exact: Numeric = (v["part"] >= WEIGHED) * (v["part"] < FREE)
    for axle, change in changes.items():
        exact = exact * (abs(v[f"{axle}_said"] - change) <= near)
    text = entry("controls").text("exact").format(said=said)
    return element("p", text, class_="st-hint", hidden=hidden_unless(exact))


def steps_after_weighing(part: Numeric, hint: str, moving: list[Element]) -> list[Element]:
    """What stands beside a picture once it is weighed: a sentence, why, and what moves.

    hint    said beside the explanation;  moving  the controls of what is free to move
    """
    words = entry("controls")
    weighed, explained = until(part, WEIGHED, EXPLAINED), until(part, EXPLAINED, FREE)
    return [
        element("div", sentence_box("seen"), class_="st-part", hidden=weighed),
        push_button(
            words.text("show_why"),
            bold=True,
            hidden=weighed,
            needs="seen",
            plays="part",
            goal=f"{EXPLAINED:g}",
            seconds=f"{SECONDS:g}",
            tell="explained",
        ),
        push_button(
            words.text("try_it"),
            bold=True,
            hidden=explained,
            plays="part",
            goal=f"{FREE:g}",
            seconds="0",
            tell="free",
        ),
        element("p", hint, class_="st-hint", hidden=explained),
        element("div", moving, class_="st-part", hidden=until(part, FREE)),
        push_button(words.text("again"), hidden=until(part, WEIGHED), tell="again"),
    ]


def load_table(
    rows: Mapping[str, tuple[Numeric, Numeric]], unit: str, last: tuple[str, str] | None = None
) -> Element:
    """The readings before and now and their change, then those of all together; one decimal.

    rows    name of a scale to what it read before and reads now
    last    one more line: its name and its number
    """
    words, lines = entry("more"), []
    together = sum(before for before, _ in rows.values()), sum(now for _, now in rows.values())
    for name, (before, now) in {**rows, "together": together}.items():
        numbers = (before, False), (now, False), (now - before, True)
        cells = [f"{show_number(number, 1, sign=sign)} {unit}" for number, sign in numbers]
        lines.append((words.text(name), *cells))
    if last:
        lines.append((last[0], "", "", last[1]))
    return table_of(words.text("caption"), words.texts("head"), lines)


def table_of(caption: str, head: Iterable[str], lines: Iterable[tuple[str, ...]]) -> Element:
    """A table; each line begins with its name, and the head with what stands over the names."""
    over = (element("th", name, scope="col") if name else element("td", "") for name in head)
    rows = (
        element("tr", element("th", name, scope="row"), [element("td", cell) for cell in cells])
        for name, *cells in lines
    )
    return element(
        "table",
        element("caption", caption),
        element("thead", element("tr", over)),
        element("tbody", rows),
    )


def read_aloud(name: str, told: Mapping[str, str]) -> dict[str, str]:
    """What is read aloud of an act, "live", and the words of its picture, "picture", with it.

    name    the table of words;  told  its numbers
    """
    live, picture = (entry(name).text(key).format(**told) for key in ("live", "picture"))
    return {"live": live, "picture": f"{picture} {live}"}


def once_done(name: str, told: Mapping[str, str], done: Numeric) -> dict[str, str]:
    """The same once it is weighed; until then that it goes on."""
    goes_on = entry(name).text("goes_on")
    return {
        key: where(done, partial(str, one), lambda: goes_on)
        for key, one in read_aloud(name, told).items()
    }
