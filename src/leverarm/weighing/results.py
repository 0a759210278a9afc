"""What one weigh day says of one piece: every number that a page or a claim may use, with its ±.

Two set-ups are compared, with the piece and without it.  Nothing is borrowed: without
the scales' step or accuracy no ± is known, and what only the rear axle could tell is None
where it was not read.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from leverarm import statics
from leverarm.quantities import Refusal
from leverarm.uncertainty import Measured, from_half_width, uncertain
from leverarm.weighing.day import WeighDay
from leverarm.weighing.fit import Fit, SetupReadings, least_squares, readings_by_name
from leverarm.weighing.formulas import weight_from_front
from leverarm.weighing.infer import InferredPiece, piece_from_changes
from leverarm.weighing.scales import AXLES, Scales, Session, read_measured, totals_of, wheelbase_of

# Heights that were not told lie somewhere between these, in meters: above the line through the
# axle centers, and above the ground.  Common practice, no source.
ABOVE_AXLES_M = {"bare": (0.1, 0.6), "piece": (-0.4, 0.9)}
ABOVE_GROUND_M = {"bare": (0.5, 1.0), "piece": (0.1, 1.2)}
AXLE_HEIGHT_M = (0.25, 0.45)
PAD_M = (0.02, 0.08)
# What hangs on a tractor, as part of the whole.  Common practice, no source.
HUNG_PART = (0.05, 0.3)
# A tape held to both hubs, where its error was not told.
TAPE_M = 0.003

USUAL = (
    "Each load was read once, so its scatter is not known: the ± takes what scales of this step "
    "and accuracy usually do. Wind or a rough floor can do worse. Read each twice to know."
)
LONE = "One reading is limited by the scales' step, so this ± may be wider than it has to be."
NO_SCALES = "The scales' step and accuracy were not told, so there is no ±."
TILTED = (
    "One axle at a time stood on the pads. What that tilt moves is put back and counted in the ±."
)


@dataclass(frozen=True)
class DayResults:
    """What came off (or went on) with one piece, on one machine and day.

    piece               its name; several pieces that came off together are joined by " + "
    with_it, without    the names of the two set-ups
    front_with, rear_with, front_without, rear_without      loads; the rear's None where not read
    front_change, rear_change   with it less without it
    weight, ahead, factor       None where only the front was read and nothing else was told
    share_with, share_without   percent of the total on the front axle
    given               "weight" or "ahead" where that was told and not weighed
    notes               sentences that belong beside the ±
    """

    day: WeighDay
    piece: str
    with_it: str
    without: str
    front_with: Measured
    rear_with: Measured | None
    front_without: Measured
    rear_without: Measured | None
    front_change: Measured
    rear_change: Measured | None
    weight: Measured | None
    ahead: Measured | None
    factor: Measured | None
    share_with: Measured | None
    share_without: Measured | None
    given: str
    notes: tuple[str, ...]

    @property
    def has_plus_minus(self) -> bool:
        """True where a ± can be printed."""
        return not math.isnan(self.front_change.u)

    @property
    def front_only(self) -> bool:
        """True where the rear axle was not read."""
        return self.rear_change is None


def results(
    day: WeighDay,
    piece: str = "bucket",
    *,
    weight: str | float | Measured | None = None,
    u_weight: str | float | None = None,
    ahead: str | float | Measured | None = None,
    u_ahead: str | float | None = None,
    scales: Scales | None = None,
) -> DayResults:
    """The DayResults of a piece; Refusal where no two set-ups part it from the rest.

    weight, ahead   told beside the readings, where only the front axle was read: at most one
    scales          where more is known of them than the day says, such as what a reading is off by
    """
    return _results(_Weighed(day, scales), piece, weight, u_weight, ahead, u_ahead)


def _results(
    made: _Weighed,
    piece: str,
    weight: str | float | Measured | None = None,
    u_weight: str | float | None = None,
    ahead: str | float | Measured | None = None,
    u_ahead: str | float | None = None,
) -> DayResults:
    """The DayResults of a piece; those from one _Weighed share what errs in all of them alike."""
    day = made.day
    on, off = _pair(day, piece)
    front_on, front_off = (made.level("front", one, piece, off) for one in (on, off))
    rear_on, rear_off = (made.level("rear", one, piece, off) for one in (on, off))
    assert front_on is not None and front_off is not None  # the pair was chosen so
    front = front_on - front_off
    rear = None if rear_on is None or rear_off is None else rear_on - rear_off
    told, given = _told(weight, u_weight, ahead, u_ahead, rear)
    found = _inferred(front, rear, made.tilts.base, told, given)
    return DayResults(
        day,
        piece,
        on.name,
        off.name,
        front_on,
        rear_on,
        front_off,
        rear_off,
        front,
        rear,
        *found,
        None if rear_on is None else statics.share(front_on, front_on + rear_on),
        None if rear_off is None else statics.share(front_off, front_off + rear_off),
        given,
        _notes(day, made.session, made.tilts),
    )


@dataclass(frozen=True)
class MachineAndPieces:
    """A day's bare machine and everything that hung on it, by the numbers of :func:`results`.

    pieces      {name: InferredPiece};  wheelbase  the one that they all share
    """

    front: Measured
    rear: Measured
    pieces: dict[str, InferredPiece]
    wheelbase: Measured


def machine_and_pieces(day: WeighDay) -> MachineAndPieces:
    """The MachineAndPieces of a day whose set-ups were read on both axles.

    Where the bare machine, or a piece, was never read apart, all set-ups are fitted together.
    """
    made, bare = _Weighed(day), next((one for one in day.setups if not one.pieces), None)
    base, names = made.tilts.base, [name for one in day.setups for name in one.pieces]
    if bare is None or not set(names) <= set(pieces_apart(day)):
        fit = fitted(day, base)
        return MachineAndPieces(fit.front, fit.rear, fit.pieces, base)
    front, rear = (made.level(axle, bare, "", bare) for axle in AXLES)
    assert front is not None and rear is not None  # the door of a decision asks for both
    pieces = {}
    for name in dict.fromkeys(names):
        one = _results(made, name)
        assert one.rear_change is not None
        pieces[name] = piece_from_changes(one.front_change, one.rear_change, base, name=name)
    return MachineAndPieces(front, rear, pieces, base)


def _loads(session: Session, *setups: SetupReadings) -> dict[tuple[str, str], Measured]:
    """{(axle, set-up): load} of what was read."""
    return {
        (axle, one.name): session.reading(axle, getattr(one, axle), f"{axle} reading, {one.name}")
        for one in setups
        for axle in AXLES
        if totals_of(getattr(one, axle))
    }


def _pair(day: WeighDay, piece: str) -> tuple[SetupReadings, SetupReadings]:
    """The two set-ups that part a piece from the rest; with the fewest other pieces on."""
    setups = day.setups
    wanted = {part.strip().casefold() for part in piece.split("+")}
    folded = [({p.casefold() for p in one.pieces}, one) for one in setups if totals_of(one.front)]
    found = [
        (on, off)
        for names, on in folded
        for others, off in folded
        if wanted <= names and others == names - wanted
    ]
    if not found:
        raise Refusal(
            "set-ups",
            ", ".join(one.name for one in setups) or "none",
            f"one with the {piece} and the same without it, front axle read in both",
            f"weigh the machine with the {piece} on and off",
        )
    both = [pair for pair in found if all(totals_of(one.rear) for one in pair)]
    return min(both or found, key=lambda pair: len(pair[0].pieces))


def pieces_apart(day: WeighDay) -> tuple[str, ...]:
    """What came off (or went on) between two set-ups of a day whose front axle was read: each piece
    by itself first, then what only came off together, joined by " + ".

    >>> from leverarm.weighing.demo import demo_day
    >>> pieces_apart(demo_day())[:4]
    ('loader frame', 'bucket', 'ballast', 'loader frame + bucket')
    """
    read = [one for one in day.setups if totals_of(one.front)]
    names = {piece.casefold(): piece for one in day.setups for piece in one.pieces}
    folded = [{piece.casefold() for piece in one.pieces} for one in read]
    apart = {
        tuple(name for name in names if name in on - off)
        for on in folded
        for off in folded
        if off < on
    }
    places = list(names)
    ordered = sorted(apart, key=lambda gone: (len(gone), [places.index(name) for name in gone]))
    return tuple(" + ".join(names[name] for name in gone) for gone in ordered)


def base_of(day: WeighDay) -> Measured:
    """The wheelbase of a day's machine with the error of the tape, told or usual."""
    told = day.machine.u_wheelbase_m
    return wheelbase_of(day.machine.wheelbase_m, TAPE_M if told is None else told)


def fitted(day: WeighDay, wheelbase: Measured | None = None) -> Fit:
    """All set-ups of a day together, what pads and slope moved put back as in :func:`results`.

    Its residuals are those of the readings as they were shown.
    """
    base = wheelbase or base_of(day)
    fit = least_squares(day.setups, base, scales=day.scales.scales)
    tilts = DayTilts(day, base)

    def level(name: str, front: Measured, rear: Measured) -> tuple[Measured, Measured]:
        kg = front.value + rear.value
        return front + tilts.moved("front", name, kg), rear + tilts.moved("rear", name, kg)

    bare = level("bare", fit.front, fit.rear)
    pieces = {
        name: piece_from_changes(*level(name, hung.front_change, hung.rear_change), base, name=name)
        for name, hung in fit.pieces.items()
    }
    return replace(fit, front=bare[0], rear=bare[1], pieces=pieces)


def _told(
    weight: str | float | Measured | None,
    u_weight: str | float | None,
    ahead: str | float | Measured | None,
    u_ahead: str | float | None,
    rear: Measured | None,
) -> tuple[Measured | None, str]:
    """What was told beside the readings, and which of the two it is."""
    if (weight is not None and ahead is not None) or (rear is not None and (weight or ahead)):
        raise Refusal(
            "told beside the readings",
            "more than the readings leave open",
            "the weight or the overhang, where only the front axle was read",
            "leave one out",
        )
    if weight is not None:
        return read_measured(weight, "weight", "weight told", u_weight, low=0), "weight"
    if ahead is not None:
        return read_measured(ahead, "length", "overhang told", u_ahead, low=-20, high=20), "ahead"
    return None, ""


def _inferred(
    front: Measured, rear: Measured | None, base: Measured, told: Measured | None, given: str
) -> tuple[Measured | None, Measured | None, Measured | None]:
    """(weight, overhang, factor), each None where nothing says it."""
    if rear is None and told is None:
        return None, None, None
    if rear is None and told is not None:
        weight = told if given == "weight" else weight_from_front(front, told, base)
        rear = weight - front
    assert rear is not None  # one of the two told it
    hung = piece_from_changes(front, rear, base)
    return hung.weight, hung.ahead, hung.factor


class _Weighed:
    """The loads of a day, each once, put back level: what is shared by them stays shared."""

    def __init__(self, day: WeighDay, scales: Scales | None = None) -> None:
        unknown = None if day.scales.known or scales is not None else math.nan
        self.day, self.tilts = day, DayTilts(day, base_of(day))
        self.session = Session(scales or day.scales.scales, unknown, readings_by_name(day.setups))
        self._loads = _loads(self.session, *day.setups)

    def level(
        self, axle: str, setup: SetupReadings, piece: str, without: SetupReadings
    ) -> Measured | None:
        """The load of a set-up as it were level; None where it was not read.

        piece, without  what is hung on, beside another set-up, where that one is not known better
        """
        load = self._loads.get((axle, setup.name))
        if load is None:
            return None
        back = Measured(0.0)
        for name, kg, hung in self._parts(setup, piece, without):
            back = back + self.tilts.moved(axle, name, kg, hung)
        return load + back

    def _parts(
        self, setup: SetupReadings, piece: str, without: SetupReadings
    ) -> list[tuple[str, float, Sequence[str]]]:
        """(name, kg, what hangs on it) of the masses that a set-up is made of, near enough for a
        correction: piece by piece where the day tells each, else the two of the pair.
        """
        bare = next((one for one in self.day.setups if not one.pieces), None)
        if bare is not None and set(setup.pieces) <= set(pieces_apart(self.day)):
            parts: list[tuple[str, float, Sequence[str]]] = [("bare", self._mass(bare), ())]
            for name in setup.pieces:
                on, off = _pair(self.day, name)
                parts.append((name, self._mass(on) - self._mass(off), ()))
            return parts
        kg = self._mass(without)
        parts = [("bare", kg, without.pieces)]
        if setup is not without:
            parts.append((piece, self._mass(setup) - kg, ()))
        return parts

    def _mass(self, setup: SetupReadings) -> float:
        """What a set-up weighs; twice the front where only that was read."""
        front, rear = (self._loads.get((axle, setup.name)) for axle in AXLES)
        if front is None or rear is None:
            return 2 * sum(one.value for one in (front, rear) if one is not None)
        return front.value + rear.value


class DayTilts:
    """What pads under one axle and a yard off level do to the loads, put back with its error."""

    def __init__(self, day: WeighDay, base: Measured) -> None:
        self.base, self.heights, scales = base, day.machine.heights_m, day.scales
        self.on_pads = scales.placed == "moved" and scales.ground == "on the ground"
        if scales.pad_height_m is not None:
            self.pad = uncertain(scales.pad_height_m, 0.002, "height of a pad", cause="tilt")
        else:
            self.pad = _between("height of a pad", PAD_M)
        limit = math.tan(math.radians(scales.off_level_deg or 0.0))
        self.slope = Measured(0.0)
        if limit:
            source = from_half_width("slope of the yard", limit, cause="tilt")
            self.slope = Measured(0.0, {source: 1.0})
        self._known: dict[tuple[str, str], Measured] = {}

    def moved(self, axle: str, name: str, kg: float, hung: Sequence[str] = ()) -> Measured:
        """What the tilt took from this axle's reading of one mass, to be put back.

        hung    pieces that are part of that mass, beside the one that is named
        """
        back = Measured(0.0)
        if self.on_pads:
            back = back + kg * self._joined(name, "axles", hung) * self.pad / (
                self.base * self.base
            )
        if self.slope.u:
            along = kg * self._joined(name, "ground", hung) * self.slope / self.base
            back = back + along if axle == "front" else back - along
        return back

    def _joined(self, name: str, above: str, hung: Sequence[str]) -> Measured:
        """Height of a machine with pieces on it, of which only the whole weight is known."""
        height = self._height(name, above)
        if not hung:
            return height
        if ("part", "") not in self._known:
            self._known["part", ""] = _between("part of the weight that is hung on", HUNG_PART)
        pieces = sum(self._height(one, above) for one in hung) / len(hung)
        return height + self._known["part", ""] * (pieces - height)

    def _height(self, name: str, above: str) -> Measured:
        """Height of a center of gravity, told or between the bounds; one error for all its uses."""
        if (name, above) not in self._known:
            self._known[name, above] = self._worked_out(name, above)
        return self._known[name, above]

    def _worked_out(self, name: str, above: str) -> Measured:
        told = self.heights.get(name)
        kind = "bare" if name == "bare" else "piece"
        if told is None:
            bounds = (ABOVE_AXLES_M if above == "axles" else ABOVE_GROUND_M)[kind]
            return _between(f"height of the {name}", bounds)
        height = uncertain(told, 0.05, f"height of the {name}", cause="tilt")
        if above == "ground":
            return height
        if ("axles", "") not in self._known:
            self._known["axles", ""] = _between("height of the axles", AXLE_HEIGHT_M)
        return height - self._known["axles", ""]


def _between(name: str, bounds: tuple[float, float]) -> Measured:
    """Somewhere between two bounds, all values alike."""
    low, high = bounds
    source = from_half_width(name, (high - low) / 2, cause="tilt")
    return Measured((low + high) / 2, {source: 1.0})


def _notes(day: WeighDay, session: Session, tilts: DayTilts) -> tuple[str, ...]:
    """Sentences that belong beside the ±."""
    if not day.scales.known:
        return (NO_SCALES,)
    read = [totals_of(getattr(one, axle)) for one in day.setups for axle in AXLES]
    lone = all(len(kgs) < 2 for kgs in read)
    notes = [USUAL] if session.pool is None and lone else []
    # The step sets the ± only where the heaviest reading scatters less than half of it.
    heaviest = max((kg for kgs in read for kg in kgs), default=0.0)
    step = day.scales.step_kg
    if lone and step and session.scales.usual_scatter(heaviest) < step / 2:
        notes.append(LONE)
    if tilts.on_pads:
        notes.append(TILTED)
    return tuple(notes)
