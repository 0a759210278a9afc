"""A tractor in a turn, seen from above, and the tracks of one turn of its rear tire unrolled.

Above stands the machine; the center of its turn slides along a rail.  Below lie four tracks at
one scale: what the rear rolls, what the front tires lay down with the loader off and on, and what
the front axle has to travel.  The machine is a plan of two axles and four wheels, since the front
ones are steered; a body as on weigh day would lie over the paths.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from leverarm.numerals import Numeric
from leverarm.stage.case import FREE, WEIGHED
from leverarm.stage.controls import entry
from leverarm.stage.elements import Element, corners, element, px
from leverarm.stage.lead_case import LeadCase, OneTurn
from leverarm.stage.on_scales import drawn, grip_parts
from leverarm.stage.recorder import cosine, root, sine, within
from leverarm.stage.recording import Handle
from leverarm.stage.sheet import (
    DESK,
    PHONE,
    PROJECTOR,
    Paper,
    box,
    note,
    shown,
    stroke,
    under_floor,
    words,
)

# Of the machine seen from above, in meters: half its track, its wheels, half their width.
_HALF_TRACK, _REAR_WHEEL, _FRONT_WHEEL, _HALF_WIDTH = 0.52, 0.85, 0.58, 0.12
TRACKS = ("rolls", "off", "on", "way")
_KINDS = {"rolls": "rear", "off": "front", "on": "front", "way": "front"}
# How many times the ends of the tracks are enlarged beside them.
ENLARGED = 8


@dataclass(frozen=True)
class TurnSheet:
    """Where things stand on one size of paper.

    rear_x, rail    where the rear axle stands;  per_wheelbase  units for a wheelbase
    left, rear      where tracks begin, and how long one turn of the rear tire is
    tops            the upper edge of each track;  high  of each
    detail          where the enlarged ends begin; None for none
    """

    paper: Paper
    rear_x: float
    rail: float
    per_wheelbase: float
    left: float
    rear: float
    tops: tuple[float, ...]
    high: float
    detail: float | None


_SHEETS = {
    DESK.name: TurnSheet(
        DESK, 652, 262, 88, 190, 420, tuple(338.0 + 62 * n for n in range(4)), 18, 770
    ),
    PROJECTOR.name: TurnSheet(
        replace(PROJECTOR, floor=300.0),
        742,
        272,
        100,
        250,
        520,
        tuple(336.0 + 60 * n for n in range(4)),
        18,
        960,
    ),
    PHONE.name: TurnSheet(
        replace(PHONE, height=460.0, floor=172.0),
        354,
        155,
        47,
        8,
        232,
        tuple(212.0 + 63 * n for n in range(4)),
        14,
        None,
    ),
}


class TurnPicture:
    """One size of the picture.

    turn    one turn of the rear tire; None in the first act, which knows nothing that answers
    radius  of the turn drawn, m
    """

    def __init__(
        self, case: LeadCase, sheet: Paper, radius_m: Numeric, told: Mapping[str, str]
    ) -> None:
        self.case, self.at, self.told = case, _SHEETS[sheet.name], told
        self.sheet, self.radius_m = self.at.paper, radius_m
        self.per_m = self.at.per_wheelbase / case.drive.wheelbase_m

    def asked(self) -> Element:
        """The first act: the rear axle's path, and the tracks that are known."""
        case, drive = self.case, self.case.drive
        off = drive.rear_m * (1 + drive.lead / 100)
        parts = [
            *self._ground(),
            *self._machine(),
            *self._rear_path(),
            *self._track("rolls", drive.rear_m, self.told["rolls"]),
            *self._track("off", off, self.told["off"]),
            *self._waits("on", self.told["lead_tag"]),
            *self._waits("way", self.told["turn_tag"]),
            *self._rear_end(),
            *self._enlarged("off", off - case.drive.rear_m),
        ]
        return drawn(self.sheet, self.told["picture"], parts)

    def seen(self, v: Mapping[str, Numeric], turn: OneTurn) -> tuple[Element, list[Handle]]:
        """The second act."""
        case, at = self.case, self.at
        done, free = v["part"] >= WEIGHED, v["part"] >= FREE
        grip = (self._center, at.rail)
        parts = [
            *self._ground(),
            *self._machine(),
            *self._rear_path(),
            element("g", self._front_path(), display=shown(done)),
            *(part for name in TRACKS for part in self._track(name, getattr(turn, name), "")),
            *self._missing(turn),
            *self._rear_end(),
            *self._enlarged("off", turn.off - turn.rolls),
            *self._enlarged("on", turn.on - turn.rolls),
            *(self._track_words(name, self.told[name]) for name in ("rolls", "off")),
            element(
                "g",
                [
                    self._track_words("on", self.told["on"]),
                    self._track_words("way", self.told["way"]),
                    *self._tags(),
                ],
                display=shown(done),
            ),
            element("g", grip_parts(grip, "radius", upright=False), display=shown(free)),
            *self._fits(v, turn),
        ]
        handles = [Handle("radius", self.sheet.name, grip)]
        assert case.drive.lead > 0
        return drawn(self.sheet, self.told["picture"], parts), handles

    # What stands in the picture.

    @property
    def _center(self) -> Numeric:
        """Where the center of the turn is, across the sheet."""
        return self.at.rear_x - self.radius_m * self.per_m

    def _ground(self) -> list[Element]:
        """The paper of the tracks, and the rail of the center."""
        sheet, at = self.sheet, self.at
        unrolled = entry("lead").text("unrolled")
        top = sheet.floor + (1.2 if sheet.narrow else 1.5) * sheet.small
        return [
            *under_floor(sheet),
            words(at.left, top, unrolled, sheet.small, "muted", anchor="start"),
            stroke([(8, at.rail), (at.rear_x, at.rail)], "grid", 1.4),
        ]

    def _wheel(
        self, x: Numeric, y: Numeric, long: float, along: tuple[Numeric, Numeric], kind: str
    ) -> Element:
        """A wheel from above, its length along a direction on the sheet."""
        (ax, ay), half, wide = along, long / 2 * self.per_m, _HALF_WIDTH * self.per_m
        ends = [(half, wide), (half, -wide), (-half, -wide), (-half, wide)]
        points = [(x + on * ax - by * ay, y + on * ay + by * ax) for on, by in ends]
        return element(
            "polygon", class_=f"st-area-{kind}", points=corners(points), stroke_width="1.6"
        )

    def _machine(self) -> list[Element]:
        """Both axles and four wheels, nose up, the front ones steered round the center."""
        at, k = self.at, self.per_m
        front_y, half = at.rail - at.per_wheelbase, _HALF_TRACK * k
        # The front wheels stand square to the line from the center.
        wheelbase, radius = self.case.drive.wheelbase_m, self.radius_m
        far = root(radius * radius + wheelbase * wheelbase)
        along = (-wheelbase / far, -radius / far)
        body = [
            (at.rear_x - 0.2 * k, at.rail + 0.25 * k),
            (at.rear_x + 0.2 * k, at.rail + 0.25 * k),
            (at.rear_x + 0.2 * k, front_y - 0.3 * k),
            (at.rear_x - 0.2 * k, front_y - 0.3 * k),
        ]
        parts = [
            element("polygon", class_="st-area-machine", points=corners(body), stroke_width="1.6")
        ]
        for y, long, ahead in ((at.rail, _REAR_WHEEL, (0.0, -1.0)), (front_y, _FRONT_WHEEL, along)):
            parts.append(stroke([(at.rear_x - half, y), (at.rear_x + half, y)], "body", 2))
            parts += [
                self._wheel(at.rear_x + side * half, y, long, ahead, "tire") for side in (-1, 1)
            ]
        return parts

    def _arc(self, start: tuple[Numeric, Numeric], kind: str) -> Element:
        """A path about the center, as long as one turn of the rear tire lets its axle go.

        start   from the center, meters to the right and up
        """
        (right, up), k = start, self.per_m
        turned = self.case.drive.rear_m / self.radius_m
        c, s = cosine(turned), sine(turned)
        own = root(right * right + up * up) * k
        x0, y0 = self._center + right * k, self.at.rail - up * k
        x1 = self._center + (right * c - up * s) * k
        y1 = self.at.rail - (right * s + up * c) * k
        return element(
            "path",
            class_=f"st-line-{kind}",
            d=f"M{px(x0)} {px(y0)}A{px(own)} {px(own)} 0 0 0 {px(x1)} {px(y1)}",
            stroke_width="3.5",
        )

    def _rear_path(self) -> list[Element]:
        """The rear axle's path, its radius, and the center of the turn."""
        sheet, at, center = self.sheet, self.at, self._center
        low = at.rail - 6
        return [
            stroke([(center, at.rail), (at.rear_x, at.rail)], "rear-ghost", 1.6),
            self._arc((self.radius_m, 0.0), "rear"),
            element("circle", class_="st-solid-ink", cx=px(center), cy=px(at.rail), r="4"),
            words(
                (center + at.rear_x) / 2,
                low,
                self.told["radius"],
                sheet.label,
                "rear-words",
                bold=True,
                halo=True,
            ),
        ]

    def _front_path(self) -> list[Element]:
        """The front axle's path and its radius."""
        sheet, at, center = self.sheet, self.at, self._center
        up = at.per_wheelbase
        line = [(center, at.rail), (at.rear_x, at.rail - up)]
        x, y = (center + 2 * at.rear_x) / 3, at.rail - 2 * up / 3
        return [
            stroke(line, "front-ghost", 1.6),
            self._arc((self.radius_m, self.case.drive.wheelbase_m), "front"),
            words(
                x - 8,
                y - 4,
                self.told["front_radius"],
                sheet.label,
                "front-words",
                anchor="end",
                bold=True,
                halo=True,
            ),
        ]

    def _fits(self, v: Mapping[str, Numeric], turn: OneTurn) -> list[Element]:
        """On the rail: where nothing slips, once it was found."""
        sheet, parts = self.sheet, []
        for name, lead in (("off", turn.lead_off), ("on", turn.lead_on)):
            x = self.at.rear_x - self.case.fits_m(lead) * self.per_m
            down = 6 if name == "off" else 6 + 1.2 * sheet.small
            mark = [
                stroke([(x, self.at.rail - 7), (x, self.at.rail + 7)], "front", 3),
                note(sheet, x, self.at.rail - 6 - down, self.told[f"fits_{name}"]),
            ]
            parts.append(element("g", mark, display=shown(v[f"found_{name}"] * (x > 8))))
        return parts

    def _long(self, m: Numeric) -> Numeric:
        """A path as a length on the paper."""
        return m / self.case.drive.rear_m * self.at.rear

    def _name(self, name: str) -> Element:
        """A track's name: left of it, or above it on narrow paper."""
        at, sheet = self.at, self.sheet
        y = at.tops[TRACKS.index(name)]
        text = entry("lead").text(f"track_{name}")
        if sheet.narrow:
            return words(at.left, y - 4, text, sheet.label, anchor="start", halo=True)
        return words(
            at.left - 8, y + 0.5 * at.high + 0.35 * sheet.label, text, sheet.label, anchor="end"
        )

    def _track_words(self, name: str, text: str) -> Element:
        """What stands under a track."""
        at, sheet = self.at, self.sheet
        y = at.tops[TRACKS.index(name)] + at.high + 1.15 * sheet.label
        return words(at.left, y, text, sheet.label, anchor="start", halo=True)

    def _track(self, name: str, m: Numeric, text: str) -> list[Element]:
        """A track as long as its path: solid past the end of the rear's."""
        at, kind = self.at, _KINDS[name]
        y, long = at.tops[TRACKS.index(name)], self._long(m)
        more = within(long - at.rear, 0, 1e4)
        fill = "front-solid" if name != "way" else "ghost"
        return [
            self._name(name),
            box(at.left, y, within(long, 0, at.rear), at.high, f"{kind}-fill"),
            box(at.left + at.rear, y, more, at.high, fill, 1.2 if name == "way" else 0),
            box(at.left, y, long, at.high, "outline", 1.4),
            *([self._track_words(name, text)] if text else []),
        ]

    def _missing(self, turn: OneTurn) -> list[Element]:
        """On the front axle's way: what the gears lay down with the loader off."""
        at = self.at
        y = at.tops[TRACKS.index("way")]
        laid = at.left + within(self._long(turn.off), 0, self._long(turn.way))
        end = at.left + self._long(turn.way)
        return [
            element(
                "rect",
                class_="st-area-piece",
                fill=f"url(#st@-{self.sheet.name}-from-front)",
                x=px(laid),
                y=px(y),
                width=px(within(end - laid, 0, 1e4)),
                height=px(at.high),
                stroke_width="1.2",
            )
        ]

    def _waits(self, name: str, tag: str) -> list[Element]:
        """A track that is not drawn yet, with what the reader says of it."""
        at, sheet = self.at, self.sheet
        y = at.tops[TRACKS.index(name)]
        return [
            self._name(name),
            box(at.left, y, at.rear, at.high, "ghost", 1.2),
            words(
                at.left + at.rear / 2,
                y + 0.82 * at.high,
                "?",
                1.1 * sheet.label,
                "muted",
                bold=True,
            ),
            words(
                at.left,
                y + at.high + 1.15 * sheet.label,
                tag,
                sheet.label,
                anchor="start",
                bold=True,
            ),
        ]

    def _tags(self) -> list[Element]:
        """What was said, beside both tracks that were asked about, and the way's second line."""
        at, sheet = self.at, self.sheet
        second = at.tops[-1] + at.high + 2.3 * sheet.label
        parts = [
            words(at.left, second, self.told["own_way"], sheet.label, anchor="start", halo=True)
        ]
        for name, key in (("on", "lead_tag"), ("way", "turn_tag")):
            y = (
                at.tops[TRACKS.index(name)]
                + at.high
                + (2.3 if sheet.narrow else 1.15) * sheet.label
            )
            x, anchor = (sheet.width - 6, "end") if sheet.narrow else (at.detail, "start")
            parts.append(
                words(
                    x, y, self.told[key], sheet.small, "muted", anchor=anchor, bold=True, halo=True
                )
            )
        return parts

    def _rear_end(self) -> list[Element]:
        """The end of the rear's path, through all tracks."""
        at = self.at
        x = at.left + at.rear
        return [stroke([(x, at.tops[0] - 6), (x, at.tops[-1] + at.high + 6)], "center", 1)]

    def _enlarged(self, name: str, more_m: Numeric) -> list[Element]:
        """How far a track reaches past the rear's, drawn larger beside it."""
        at, sheet = self.at, self.sheet
        if at.detail is None:
            return []
        y = at.tops[TRACKS.index(name)]
        text = entry("lead").text("enlarged").format(times=ENLARGED)
        long = within(ENLARGED * self._long(more_m), 0, sheet.width - at.detail - 8)
        x = min(at.detail, sheet.width - 13.4 * sheet.small)
        head = words(x, at.tops[1] - 8, text, sheet.small, "muted", anchor="start")
        return [
            *([head] if name == "off" else []),
            stroke([(at.detail, y - 4), (at.detail, y + at.high + 4)], "center", 1),
            box(at.detail, y, long, at.high, "front-solid"),
        ]
