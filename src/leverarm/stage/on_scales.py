"""What every picture of the tractor on two scales shares: columns, tape, rings, hatching."""

from collections.abc import Mapping

from leverarm.numerals import Numeric
from leverarm.stage import sheet as paper
from leverarm.stage.case import AXLES, HungCase
from leverarm.stage.controls import entry
from leverarm.stage.elements import Element, corners, element, px
from leverarm.stage.sheet import LoadColumn, Paper, words


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
    """The patterns of hung pieces and of load that came from the rear."""

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

    return element("defs", pattern("hung", 45, "hatch"), pattern("moved", -45, "moved"))


def weight_arrow(
    case: HungCase,
    sheet: Paper,
    at: tuple[Numeric, Numeric],
    weight: Numeric,
    told: Mapping[str, str],
) -> tuple[list[Element], Numeric]:
    """The arrow of a hung weight, longer for a heavier one, with its name; and where it begins."""
    x, top = at[0], at[1] - 0.30 * sheet.per_m
    tail = top - 14 - weight / case.full * sheet.reach
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
    return [
        arrow,
        words(x, tail - 16, f"{told['piece']} {told['weight']}", sheet.label, bold=True),
    ], tail


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


def tape(case: HungCase, sheet: Paper, overhang: Numeric, wheelbase: Numeric) -> list[Element]:
    """The dimension lines of overhang and wheelbase, and the center lines of both axles."""
    label, units = entry("labels"), case.units
    load, front, rear = (sheet.x(case.meters(x)) for x in (overhang, 0.0, -wheelbase))
    narrow = sheet.narrow

    def text(name: str, value: Numeric) -> str:
        length = units.show_length(value)
        return length if narrow else label.text(name).format(length=length)

    room = sheet.label * (3.6 if narrow else 8.2)
    lines = [
        paper.stroke([(x, sheet.floor - 40), (x, sheet.tape + 8)], "center", 1)
        for x in (load, front, rear)
    ]
    return [
        *lines,
        paper.dimension(sheet, load, front, text("overhang", overhang), room),
        paper.dimension(sheet, front, rear, text("wheelbase", wheelbase), 1.1 * room),
    ]
