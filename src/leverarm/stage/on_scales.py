"""What every picture of something on two scales shares: columns, tape, rings, hatching, why."""

from collections.abc import Iterable, Mapping

from leverarm.numerals import Numeric
from leverarm.stage import sheet as paper
from leverarm.stage.case import AXLES, HungCase, Progress, SaidCase, Units, ahead_of_front
from leverarm.stage.controls import entry
from leverarm.stage.elements import Element, corners, element, px
from leverarm.stage.recorder import least, most, where, within
from leverarm.stage.recording import Handle, start_of
from leverarm.stage.sheet import LoadColumn, Paper, shown, words


def columns_of(
    case: HungCase, sheet: Paper, v: Mapping[str, Numeric], **now: Numeric
) -> dict[str, LoadColumn]:
    """Both columns; ``now`` tells what they read now where that differs from the bare reading."""
    behind = {"front": 0.0, "rear": -case.meters(v["wheelbase"])}
    return {
        axle: LoadColumn(
            sheet, sheet.x(behind[axle]), axle, case.full, v[axle], now.get(axle, v[axle])
        )
        for axle in AXLES
    }


def drawn(sheet: Paper, name: str, parts: list[Element]) -> Element:
    """One size of the picture: an image with a name."""
    return element(
        "svg",
        hatchings(sheet),
        *parts,
        class_=f"st-sheet st-{sheet.name}",
        data_sheet=sheet.name,
        viewBox=f"0 0 {sheet.width:g} {sheet.height:g}",
        role="img",
        aria_label=name,
    )


def hatchings(sheet: Paper) -> Element:
    """The patterns of hung pieces and of load that came from the other scale."""

    def pattern(name: str, slant: int, kind: str) -> Element:
        return element(
            "pattern",
            element("rect", width="8", height="8", class_=f"st-area-{kind}-back"),
            element("path", d="M0 0V8", class_=f"st-line-{kind}", stroke_width="3"),
            id=f"st@-{sheet.name}-{name}",
            width="8",
            height="8",
            patternUnits="userSpaceOnUse",
            patternTransform=f"rotate({slant})",
        )

    dots = element(
        "pattern",
        element("rect", width="6", height="6", class_="st-area-hatch-back"),
        element("circle", cx="2", cy="2", r="1.1", class_="st-solid-ink"),
        id=f"st@-{sheet.name}-frame",
        width="6",
        height="6",
        patternUnits="userSpaceOnUse",
    )
    return element(
        "defs",
        dots,
        pattern("hung", 45, "hatch"),
        pattern("ballast", 90, "hatch"),
        pattern("deck", 0, "hatch"),
        pattern("from-rear", -45, "from-rear"),
        pattern("from-front", -45, "from-front"),
    )


def weight_arrow(
    sheet: Paper, full: float, tip: tuple[Numeric, Numeric], weight: Numeric, name: str
) -> tuple[list[Element], Numeric]:
    """The arrow of a hung weight, as long as its piece of a column; and where it begins."""
    x, top = tip
    tail = top - 14 - weight / full * sheet.reach
    arrow = element(
        "polygon",
        class_="st-solid-ink",
        points=corners(
            [
                (x, top),
                (x - 8, top - 10),
                (x - 3, top - 10),
                (x - 3, tail),
                (x + 3, tail),
                (x + 3, top - 10),
                (x + 8, top - 10),
            ]
        ),
    )
    # Far out, its words stop at the edge of the paper: about 13 letters.
    within_paper = most(x, 4.2 * sheet.label)
    return [arrow, words(within_paper, tail - 16, name, sheet.label, bold=True)], tail


def tag_grip(one: LoadColumn, load: Numeric) -> tuple[Numeric, Numeric]:
    """Where the ring of a tag stands: at its far end."""
    side = -1 if one.axle == "front" else 1
    edge = one.left - 3 if side < 0 else one.right + 3
    return edge + side * (one.sheet.tag + 8), one.y(load)


def grip_parts(at: tuple[Numeric, Numeric], moves: str, *, upright: bool) -> list[Element]:
    """A ring to take hold of, and the larger round place that a finger may hit."""
    return [
        element(
            "g",
            paper.ring(at[0], at[1], upright),
            element("circle", class_="st-hit", cx=px(at[0]), cy=px(at[1]), r="24"),
            data_hold=moves,
            class_="st-hold",
        )
    ]


def asked_tag(
    one: LoadColumn, moves: str, said: Numeric, known: Numeric, text: str
) -> tuple[list[Element], Handle]:
    """The tag of a change from what the column reads: its place dashed, its ring, the handle.

    moves   the input it moves;  said  the change;  known  whether it was said
    """
    load = within(one.now + said, 0, one.full * 1.1)
    grip = tag_grip(one, load)
    return [
        paper.outline(one, least(one.now, load), most(one.now, load), "ghost"),
        paper.tag(one, load, entry("labels").text("you_say"), text, old=1 - known),
        *grip_parts(grip, moves, upright=True),
    ], Handle(moves, one.sheet.name, grip)


def asked_columns(
    case: SaidCase,
    columns: Iterable[LoadColumn],
    v: Mapping[str, Numeric],
    tags: Mapping[str, str],
) -> tuple[list[Element], list[Handle]]:
    """Before the lock: the columns with their readings and the tags of what the reader says.

    tags    by axle the words of its tag
    """
    parts, handles = list[Element](), []
    for one in columns:
        moves, known = f"{one.axle}_said", v[f"{one.axle}_known"]
        tag, handle = asked_tag(one, moves, v[moves], known, tags[one.axle])
        name, reading = entry("labels").text(one.axle), case.units.show_weight(one.now)
        parts += [paper.column(one, name, reading), *tag]
        handles.append(handle)
    return parts, handles


def read_column(
    one: LoadColumn, side: str, told: Mapping[str, str], step: Progress, reading: str = ""
) -> list[Element]:
    """After the lock: a column with its gain or loss, and its change in words once it was read.

    They stand over the tag of what was said, whose point may reach under a long change.
    """
    change = paper.change_words(one, told[f"{side}_change"], told[f"{side}_way"])
    return [
        *gain_and_loss(one, entry("labels").text(side), reading, step.explaining),
        element("g", change, display=shown(step.done)),
    ]


def kept_tag(
    case: SaidCase, one: LoadColumn, before: Numeric, v: Mapping[str, Numeric], text: str
) -> Element:
    """The tag keeps what the reader said; dashed once the numbers are others.

    before      the reading that the change was said of
    """
    start = start_of(case.inputs)
    moved = sum(abs(v[name] - start[name]) for name in case.moves) > 0
    load = within(before + v[f"{one.axle}_said"], 0, 1.1 * one.full)
    return paper.tag(one, load, entry("labels").text("you_said"), text, old=moved)


def named_where_it_fits(
    sheet: Paper,
    units: Units,
    ends: tuple[Numeric, Numeric],
    texts: tuple[str, str],
    may: Numeric = 1.0,
) -> tuple[str, Numeric]:
    """The words of a dimension, with its name where they fit between its ends; and their room.

    texts   a length, and the words for one with its name;  may  whether it has a name here
    """
    (alone, named), longest = texts, units.long_length
    room, wide = paper.room_for(sheet, longest), paper.room_for(sheet, named.format(length=longest))
    fits = may * (ends[1] - ends[0] > wide + 20)
    return (
        where(fits, lambda: named.format(length=alone), lambda: alone),
        where(fits, lambda: wide, lambda: room),
    )


def tape(case: HungCase, sheet: Paper, overhang: Numeric, wheelbase: Numeric) -> list[Element]:
    """The dimension lines of overhang and wheelbase, and the center lines of both axles."""
    label, units = entry("labels"), case.units
    ahead = ahead_of_front({"overhang": overhang, "wheelbase": wheelbase}, case.behind)
    load, front, rear = (sheet.x(case.meters(x)) for x in (ahead, 0.0, -wheelbase))
    past = (rear, load) if case.behind else (load, front)
    brief = sheet.narrow or sheet.large

    def measured(name: str, value: Numeric, ends: tuple[Numeric, Numeric]) -> Element:
        # A length alone, where the word before it would reach into the rings or the arrowheads.
        alone, named = units.show_length(value), label.text(name)
        if brief:
            return paper.dimension(sheet, *ends, alone, paper.room_for(sheet, units.long_length))
        return paper.dimension(
            sheet, *ends, *named_where_it_fits(sheet, units, ends, (alone, named))
        )

    lines = [
        paper.stroke([(x, sheet.floor - 40), (x, sheet.tape + 8)], "center", 1)
        for x in (load, front, rear)
    ]
    return [
        *lines,
        measured("past" if case.behind else "overhang", overhang, past),
        measured("wheelbase", wheelbase, (front, rear)),
    ]


def gain_and_loss(one: LoadColumn, name: str, reading: str, explaining: Numeric) -> list[Element]:
    """A column; its gain solid until it is explained, its loss the dashed place where it was.

    reading     what stands inside it;  explaining  how much of the why has been shown, 0 to 1
    """
    more, less = most(one.now, one.before), least(one.now, one.before)
    gained = where(one.now > one.before, lambda: 1.0, lambda: 0.0)
    return [
        paper.column(one, name, reading),
        element(
            "g",
            one.band(one.before, more, one.axle + "-solid"),
            opacity=f"{gained * (1 - explaining):.2f}",
        ),
        element(
            "g",
            paper.outline(one, less, one.before, one.axle + "-ghost"),
            display=shown(one.now < one.before),
        ),
    ]


def _piece(sheet: Paper, hatching: str, at: tuple[Numeric, Numeric], high: Numeric) -> Element:
    return element(
        "rect",
        class_="st-area-piece",
        fill=f"url(#st@-{sheet.name}-{hatching})",
        x=px(at[0]),
        y=px(at[1]),
        width=px(sheet.column),
        height=px(high),
        stroke_width="1.2",
    )


def hung_piece(
    one: LoadColumn,
    load: Numeric,
    explaining: Numeric,
    *,
    top: Numeric | None = None,
    hatching: str = "hung",
) -> Element:
    """What of a hung piece this column carries, under ``top`` or what it read before."""
    high = load / one.full * one.sheet.reach * explaining
    begins = one.y(one.before if top is None else top)
    return _piece(one.sheet, hatching, (one.left, begins), high)


def moved_piece(
    source: LoadColumn, target: LoadColumn, load: Numeric, lands: Numeric, explaining: Numeric
) -> Element:
    """What one column lost, on its way to its place in the other.

    lands       the load at which it begins there
    """
    there, here = source.y(source.before - load), target.y(lands)
    x = source.left + (target.left - source.left) * explaining
    y = there + (here - there) * explaining
    high = most(load / source.full * source.sheet.reach, 0)
    return _piece(source.sheet, f"from-{source.axle}", (x, y), high)


def moved_arrow(
    source: LoadColumn, target: LoadColumn, load: Numeric, lands: Numeric, told: str
) -> list[Element]:
    """The curved arrow from what one column lost to its place in the other, with its words.

    told        its words, an upright line between two lines of them; none on narrow paper, and
                in large type the first word alone: the number
    """
    sheet, way = source.sheet, -1 if source.axle == "rear" else 1
    inner = {-1: ("left", "right"), 1: ("right", "left")}[way]
    begins, ends = source.y(source.before - load) + 4, target.y(lands + load / 2)
    size = sheet.label
    # Its words stay above those of what both gained together.
    low = sheet.height - 1.7 * sheet.body - sheet.label - 1.9 * size
    dip = least(most(begins, ends) + (12 if sheet.narrow else 1.2 * sheet.change), low)
    x0 = getattr(source, inner[0]) + way * 4
    x1 = getattr(target, inner[1]) - way * 6
    path = (
        f"M{px(x0)} {px(begins)}C{px(x0 + way * 10)} {px(dip)} {px(x1 - way * 24)} {px(dip)} "
        f"{px(x1 - way * 7)} {px(ends + 3)}"
    )
    head = corners([(x1, ends), (x1 - way * 12, ends - 4), (x1 - way * 9, ends + 8)])
    parts = [
        element("path", class_=f"st-line-{source.axle}", d=path, stroke_width="3"),
        element("polygon", class_=f"st-solid-{source.axle}", points=head),
    ]
    if sheet.narrow:
        return parts
    x = (source.x + target.x) / 2
    lines = [
        words(
            x,
            dip + (0.5 + 1.2 * n) * size,
            part,
            size,
            f"{source.axle}-words",
            bold=True,
            halo=True,
        )
        for n, part in enumerate([told.partition(" ")[0]] if sheet.large else told.split("|"))
    ]
    return [*parts, *lines]


def moments(sheet: Paper, about: str, lines: tuple[str, str]) -> list[Element]:
    """At the bottom right: two moments about one point, which are equal.

    They stand at the edge, beside the marks of the scale, so that no tag lies over them.
    """
    low, pitch = (0.35, 1.2) if sheet.large else (0.5, 1.3)
    base = sheet.height - (low + 0.1 + 2 * pitch) * sheet.body
    x = sheet.width - (6 if sheet.large else 54)
    room = 12 * sheet.small
    return [
        paper.box(x - room, base - sheet.small, room, 1.3 * sheet.small, "paper"),
        paper.note(sheet, x, base, about, anchor="end"),
        *(
            words(x, base + (0.1 + pitch * (1 + n)) * sheet.body, text, sheet.body, anchor="end")
            for n, text in enumerate(lines)
        ),
    ]


def together_words(sheet: Paper, x: Numeric, change: str) -> list[Element]:
    """At the bottom, between the columns: what both gained together."""
    low, name = sheet.height - 0.5 * sheet.body, entry("labels").text("together")
    if sheet.large:
        # The readings reach down beside it, so it has one line only.
        return [words(x, low, f"{name} {change}", sheet.body, bold=True, halo=True)]
    return [
        words(x, low - 1.2 * sheet.body, name, sheet.label, "muted", halo=True),
        words(x, low, change, sheet.body, bold=True, halo=True),
    ]
