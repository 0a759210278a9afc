"""One size of the picture of a machine in its set-ups: small machines, columns on one scale."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial

from leverarm.decision import Setup
from leverarm.numerals import Numeric
from leverarm.outline import BALLAST_HEIGHT_M, BUCKET_HEIGHT_M
from leverarm.stage import sheet as paper
from leverarm.stage import tractor_outline as machine
from leverarm.stage.case import AXLES, Progress
from leverarm.stage.controls import entry
from leverarm.stage.elements import Element, corners, element
from leverarm.stage.on_scales import (
    asked_tag,
    drawn,
    gain_and_loss,
    hung_piece,
    moved_piece,
)
from leverarm.stage.recorder import least, where, within
from leverarm.stage.recording import Handle
from leverarm.stage.setups_case import PAPERS, SetupsCase
from leverarm.stage.sheet import LoadColumn, Paper, shown, words
from leverarm.stage.stand import Stand

Loads = tuple[Numeric, Numeric]


@dataclass(frozen=True)
class LeastLoad:
    """What the manual asks of one axle in one set-up.

    load            its least load, in the unit shown;  told  whether a share was told
    under, close    whether its share is under that, or too close to call
    """

    load: Numeric
    told: Numeric
    under: Numeric
    close: Numeric

    def said(self, under: str, close: str) -> str:
        """One text or the other, or nothing."""
        either = where(self.close, lambda: close, lambda: "")
        return where(self.under, lambda: under, partial(str, either))


class SetupsPicture:
    """One size of the picture.

    loads       what front and rear read in each set-up; the last may move
    asked       whether the last is asked about: it is seen against the one before it
    """

    def __init__(
        self,
        case: SetupsCase,
        sheet: Paper,
        told: Mapping[str, str],
        loads: Sequence[Loads],
        *,
        asked: bool = True,
    ) -> None:
        self.case, self.sheet, self.told = case, sheet, told
        self.places = case.places(sheet)
        self.whole = replace(PAPERS[sheet.name], height=self.places[-1].height)
        before = [*loads[:-1], loads[-2] if asked else loads[-1]]
        self.columns = [
            tuple(
                LoadColumn(small, small.x(behind), axle, case.full, was[k], now[k])
                for k, (axle, behind) in enumerate(
                    zip(AXLES, (0.0, -case.machine.wheelbase.value), strict=True)
                )
            )
            for small, was, now in zip(self.places, before, loads, strict=True)
        ]

    def _standing(self, small: Paper, setup: Setup) -> list[Element]:
        """A machine in a set-up; what is off is dashed."""
        told = self.case.machine
        stand = Stand(small, told.wheelbase.value, 0.0, 0.0)

        def kind(part: str) -> str:
            return "hung-bucket" if part in setup.parts else "ghost"

        bucket = told.bucket or told.loader
        hand = bucket.ahead.value, BUCKET_HEIGHT_M
        if told.bucket is None:
            hand = told.loader.ahead.value + 0.9, BUCKET_HEIGHT_M
        loader = "piece" if "loader" in setup.parts else "ghost"
        parts = [machine.platforms(stand)]
        if told.ballast:
            behind = told.ballast.ahead.value, BALLAST_HEIGHT_M
            parts += [
                machine.hitch_part(stand, behind, 0.0),
                machine.ballast_part(stand, behind, kind("ballast")),
            ]
        parts += [machine.loader_part(stand, hand, 0.0, loader), machine.tractor_parts(stand)]
        if told.bucket:
            parts.append(machine.bucket_part(stand, hand, kind("bucket")))
        at_work = told.mower and told.mower.at_work
        if at_work:
            parts.append(machine.deck_part(stand, at_work.ahead.value))
        return parts

    def _ground(self) -> list[Element]:
        """The one scale, once a row; and the name of each set-up."""
        case, rows = self.case, {small.floor: small for small in self.places}
        grids = [paper.load_grid(small, case.full, case.units.weight) for small in rows.values()]
        return [*grids, *(self._name(n) for n in range(len(case.setups)))]

    def _name(self, n: int) -> Element:
        """The name of a set-up, under its machine; in two lines where four large ones stand."""
        front, rear = self.columns[n]
        x, small, name = (front.x + rear.x) / 2, front.sheet, self.case.setups[n].name
        lines = _lines(name) if small.name == paper.PROJECTOR.name else [name]
        made = [
            words(x, small.tape + 1.1 * k * small.label, line, small.label, bold=True, halo=True)
            for k, line in enumerate(lines)
        ]
        return element("g", made)

    def _read(self, n: int) -> list[Element]:
        """What both scales of a set-up read, under their columns, and both together."""
        parts = [
            words(
                one.x,
                one.end + 1.05 * one.sheet.body,
                self.told[f"{one.axle}_{n}"],
                one.sheet.body,
                bold=True,
                halo=True,
            )
            for one in self.columns[n]
        ]
        front, rear = self.columns[n]
        small, middle = front.sheet, (front.x + rear.x) / 2
        low, together = small.height - 0.5 * small.body, self.told[f"together_{n}"]
        return [*parts, words(middle, low, together, small.label, "muted", halo=True)]

    def _changes(self, n: int) -> list[Element]:
        """The changes of a set-up, under its readings."""
        return [
            words(
                one.x,
                one.end + 1.05 * (one.sheet.body + one.sheet.change),
                self.told[f"{one.axle}_{n}_change"],
                one.sheet.change,
                f"{one.axle}-words",
                bold=True,
                halo=True,
            )
            for one in self.columns[n]
        ]

    def _reading(self, n: int) -> list[Element]:
        """A set-up on its two scales, as they read."""
        label = entry("labels")
        columns = [paper.column(one, label.text(one.axle), "") for one in self.columns[n]]
        standing = self._standing(self.places[n], self.case.setups[n])
        return [*standing, *columns, *self._read(n)]

    def _known(self) -> list[Element]:
        """All set-ups but the last, as they read."""
        return [part for n in range(len(self.columns) - 1) for part in self._reading(n)]

    def still(
        self, names: Sequence[str], lines: Sequence[Sequence[LeastLoad]], *, read: int
    ) -> list[Element]:
        """A picture for each set-up, one under the other, with nothing asked.

        names   what each picture is called;  read  of how many, from the first, readings are shown
        """
        case, pictures, high = self.case, [], PAPERS[self.sheet.name].height
        for n, (small, name) in enumerate(zip(self.places, names, strict=True)):
            parts = [paper.load_grid(small, case.full, case.units.weight), self._name(n)]
            if n < read:
                parts += self._reading(n)
                parts += self._changes(n) if n else []
                parts += self._asked_by_manual(lines, n)
            else:
                parts += self._standing(small, case.setups[n])
            picture = drawn(small, name, parts)
            box = f"0 {small.height - high:g} {small.width:g} {high:g}"
            told = ((key, box if key == "viewBox" else value) for key, value in picture.attributes)
            pictures.append(Element(picture.tag, tuple(told), picture.inside))
        return pictures

    def asked(
        self, question: str, tag: str, said: Numeric, known: Numeric
    ) -> tuple[Element, list[Handle]]:
        """Before the lock: the last set-up stands there, its columns dashed where they were."""
        label, last = entry("labels"), self.columns[-1]
        ghosts = []
        for one in last:
            small = one.sheet
            name, low = label.text(one.axle), small.top + 1.25 * small.label
            ghosts += [
                paper.outline(one, 0.0, one.before, f"{one.axle}-ghost"),
                words(one.x, low, name, small.label, f"{one.axle}-words"),
            ]
        parts, handle = asked_tag(last[0], "front_said", said, known, tag)
        return drawn(
            self.whole,
            question,
            [
                *self._ground(),
                *self._known(),
                *self._standing(self.places[-1], self.case.setups[-1]),
                *ghosts,
                *parts,
            ],
        ), [handle]

    def weighed(
        self, part: Numeric, said: Numeric, lines: Sequence[Sequence[LeastLoad]], chosen: Numeric
    ) -> Element:
        """After the lock: what the last set-up reads, why, and what the manual asks."""
        step, told, label = Progress.of(part), self.told, entry("labels")
        (front, rear), last = self.columns[-1], len(self.columns) - 1
        moving = [
            piece
            for one in (front, rear)
            for piece in gain_and_loss(one, label.text(one.axle), "", step.explaining)
        ]
        load = within(front.before + said, 0, 1.1 * self.case.full)
        tag = paper.tag(front, load, label.text("you_said"), told["front_said"], old=step.free)
        asked = [part for n in range(last + 1) for part in self._asked_by_manual(lines, n)]
        parts = [
            *self._ground(),
            *self._known(),
            *self._standing(self.places[-1], self.case.setups[-1]),
            *moving,
            element("g", self._why(step), display=shown(part > 1)),
            element("g", self._read(last), self._changes(last), display=shown(step.done)),
            element("g", *map(self._changes, range(1, last)), display=shown(step.free)),
            tag,
            element("g", asked, display=shown(step.free)),
            *self._chosen(chosen),
        ]
        return drawn(self.whole, told["name"], parts)

    def _why(self, step: Progress) -> list[Element]:
        """What came off the rear: the ballast itself, and what goes back to the front."""
        front, rear = self.columns[-1]
        gone = least(self.case.gives_back, rear.before)
        weight = self.case.ballast[0]
        pieces = [
            hung_piece(rear, weight, step.explaining, top=rear.now, hatching="ballast"),
            moved_piece(rear, front, gone, front.before, step.explaining),
        ]
        if self.sheet.narrow or gone < 0.5:
            return pieces
        # A straight arrow: the columns stand too close for a curve with words.
        x0, y0 = rear.left - 4, rear.y(rear.before - gone / 2)
        x1, y1 = front.right + 6, front.y(front.before + gone / 2)
        long = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
        dx, dy = (x1 - x0) / long, (y1 - y0) / long
        foot = x1 - 11 * dx, y1 - 11 * dy
        head = [
            (x1, y1),
            (foot[0] - 5 * dy, foot[1] + 5 * dx),
            (foot[0] + 5 * dy, foot[1] - 5 * dx),
        ]
        arrow = [
            paper.stroke([(x0, y0), foot], "rear", 3),
            element("polygon", class_="st-solid-rear", points=corners(head)),
        ]
        return [*pieces, element("g", arrow, display=shown(step.explained))]

    def _asked_by_manual(self, lines: Sequence[Sequence[LeastLoad]], n: int) -> list[Element]:
        """A black line across each column at the least load, and words where it ends above."""
        parts, said = [], (entry("setups").text("under"), entry("setups").text("close"))
        for one, line in zip(self.columns[n], lines[n], strict=True):
            small, y = one.sheet, one.y(line.load)
            across = paper.stroke([(one.left - 6, y), (one.right + 6, y)], "ink", 3)
            low = one.end + 1.05 * (small.body + small.change + small.small)
            parts += [
                element("g", across, display=shown(line.told)),
                words(one.x, low, line.said(*said), small.small, bold=True, halo=True),
            ]
        return parts

    def _chosen(self, chosen: Numeric) -> list[Element]:
        """A frame round the set-up that the reader chose."""
        parts = []
        for n, (front, rear) in enumerate(self.columns, 1):
            small = front.sheet
            half = (small.width / (2 if small.narrow else len(self.columns)) - 6) / 2
            middle = (front.x + rear.x) / 2
            top, low = small.tape - 1.1 * small.label, small.height - 2
            edge = [
                (middle - half, top),
                (middle + half, top),
                (middle + half, low),
                (middle - half, low),
                (middle - half, top),
            ]
            frame = paper.stroke(edge, "ink", 2.2)
            parts.append(element("g", frame, display=shown(abs(chosen - n) < 0.5)))
        return parts


def _lines(name: str) -> list[str]:
    """A name of several words in two lines of about one length.

    >>> _lines("Bucket and loader on")
    ['Bucket and', 'loader on']
    """
    parts = name.split()
    half = max(1, (len(parts) + 1) // 2)
    return [line for line in (" ".join(parts[:half]), " ".join(parts[half:])) if line]
