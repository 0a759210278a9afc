"""A machine with its front drive in: lead, turns, and what slips while it mows.

:class:`Drive` is the machine as it rolls, :class:`Mowing` the work.  With the drive in
something must slip whenever the lead does not fit.  The axle that carries less gives way
first: without a loader the front, with a loaded front the rear.
"""

from dataclasses import dataclass

import leverarm.driveline.formulas as formulas
from leverarm.axles import AxleLoads
from leverarm.data import cautions
from leverarm.driveline.measure import RollOut
from leverarm.machine import demo_tractor
from leverarm.quantities import Refusal, Sourced, read, set_fields

M2_PER_HECTARE = Sourced(10_000, "m2", "SI brochure, exact")
M2_PER_ACRE = Sourced(
    4046.8564224, "m2", "international acre, 43 560 square feet of 0.3048 m, exact"
)
AREAS = {"kg": ("hectare", M2_PER_HECTARE), "lb": ("acre", M2_PER_ACRE)}
ROLLING_SHARE = Sourced(
    1 / 3, "", "Jazar, Vehicle Dynamics, ch. 1: rolling radius loses a third of the squash"
)
MOST_LEAD = 30
REAR_M = 2.0
WEAR_EXPONENT = (Sourced(1, "", "Persson et al. 2025, J. Chem. Phys. 162: wear as the load"), 2.0)
WEAR_LAW = (
    "The wear law was found with rubber that slid on concrete at 1 cm/s (Persson et al. 2025). "
    "On turf and at mowing speed it is a guess."
)

CAUTIONS = cautions("front_drive")


@dataclass(frozen=True, init=False)
class Drive:
    """A machine with mechanical front drive, as its loaded tires roll.

    front, rear     rolling circumferences, m
    ratio           front turns for one rear turn, drive locked
    wheelbase       m

    >>> plot = demo_drive()
    >>> f"{plot.lead:.2f} % straight on, fits a turn of {plot.fitting_radius_m:.1f} m"
    '3.11 % straight on, fits a turn of 6.6 m'
    """

    front_m: float
    rear_m: float
    ratio: float
    wheelbase_m: float

    def __init__(
        self, front: str | float, rear: str | float, ratio: str | float, wheelbase: str | float
    ) -> None:
        set_fields(
            self,
            front_m=_round(front, "front rolling circumference"),
            rear_m=_round(rear, "rear rolling circumference"),
            ratio=read(
                ratio,
                "number",
                "ratio",
                0.5,
                3,
                do="count front turns for one rear turn, drive locked",
            ),
            wheelbase_m=read(wheelbase, "length", "wheelbase", 0.5, 5),
        )
        if abs(self.lead) > MOST_LEAD:
            raise Refusal(
                "front drive",
                f"a lead of {self.lead:.0f} %",
                f"a lead within {MOST_LEAD} %",
                "check circumferences and ratio: front turns per rear turn, "
                "not the other way around",
            )

    @classmethod
    def from_turns(
        cls, engaged: float, free: float, rear: float, wheelbase: str | float
    ) -> "Drive":
        """A Drive from counted turns, as RollOut counts them: its lead and ratio.

        Turns tell how the two circumferences compare and not how long they are: the rear one is
        called 2 m, which cancels in all that a lead and a wheelbase tell.  With a squash in
        meters, tell the circumferences.

        >>> f"{Drive.from_turns(13.5, 13.11, 10, 1.65).lead:.2f}"
        '2.97'
        """
        counted = RollOut(engaged, free, rear, step=1)
        return cls(REAR_M * counted.rear / counted.free, REAR_M, counted.ratio, wheelbase)

    @property
    def lead(self) -> float:
        """Percent by which the front tires want to travel farther than the rear ones."""
        return formulas.lead(self.front_m, self.rear_m, self.ratio)

    @property
    def fitting_radius_m(self) -> float | None:
        """Turning radius at which nothing slips; None where only straight ahead fits."""
        return formulas.fitting_radius(self.lead, self.wheelbase_m) if self.lead > 0 else None

    def mismatch(self, radius: str | float | None = None) -> float:
        """Percent of the rear path that does not fit, in a turn of this radius; straight ahead
        without one.
        """
        if radius is None:
            return self.lead
        return formulas.turn_mismatch(self.lead, _radius(radius), self.wheelbase_m)

    def squashed(
        self, front: str | float, rear: str | float = 0.0, share: float = ROLLING_SHARE
    ) -> "Drive":
        """The machine under more front load: hubs down by these amounts (m); a hub that rises is
        negative.

        A heavier front lowers the lead.

        >>> f"{demo_drive().squashed(front='10 mm', rear='-2 mm').lead:.2f}"
        '1.90'
        """
        share = read(share, "number", "share of the squash", 0, 1)
        down = [
            read(value, "length", f"squash of the {end} tire", -0.2, 0.2)
            for value, end in ((front, "front"), (rear, "rear"))
        ]
        front_m, rear_m = (
            formulas.squashed(c, d, share) for c, d in zip((self.front_m, self.rear_m), down)
        )
        return Drive(front_m, rear_m, self.ratio, self.wheelbase_m)


def _round(value, field):
    return read(value, "length", field, 0.5, 10)


def _radius(value):
    return read(value, "length", "turning radius", 0, 1e9, open_low=True)


@dataclass(frozen=True, init=False)
class Mowing:
    """Strip beside strip, each ended by a half turn.

    width   of a strip, overlap taken off; run  length of a strip; radius  of the half turns

    >>> lawn = demo_mowing()
    >>> straight, turning = lawn.slip_m(demo_drive(), M2_PER_HECTARE)
    >>> f"{straight:.0f} m straight on, {turning:.0f} m in turns"
    '208 m straight on, -175 m in turns'
    """

    width_m: float
    run_m: float
    radius_m: float

    def __init__(self, width: str | float, run: str | float, radius: str | float) -> None:
        set_fields(
            self,
            width_m=read(width, "length", "mowing width", 0, 20, open_low=True),
            run_m=read(run, "length", "length of a run", 1, 10_000),
            radius_m=_radius(radius),
        )

    def paths_m(self, area_m2: float) -> tuple[float, float]:
        """(straight, turning) distance over an area."""
        straight = formulas.path_over(area_m2, self.width_m)
        return straight, formulas.turning_path(straight, self.run_m, self.radius_m)

    def slip_m(self, drive: Drive, area_m2: float = M2_PER_HECTARE) -> tuple[float, float]:
        """(straight, turning) distance that some tire slips over an area, drive in; dragged is
        negative.
        """
        straight, turning = self.paths_m(area_m2)
        return (
            formulas.slip_distance(straight, drive.mismatch()),
            formulas.slip_distance(turning, drive.mismatch(self.radius_m)),
        )

    def slipped_m(self, drive: Drive) -> float:
        """Whole distance slipped on a hectare, over-driven and dragged together."""
        return sum(abs(part) for part in self.slip_m(drive))


def wear_beside(
    mowing: Mowing, first: tuple[Drive, float], second: tuple[Drive, float], exponent: float = 1.0
) -> float:
    """Wear index in the second case, the first called 100, of the axle that does all the slipping.

    first, second   (Drive, load in kg on the axle that slips)
    exponent        of the load, 1 to 2
    Raises Refusal where the first case slips nothing.

    Were the front axle to do all of it, loader off and on:

    >>> off, on = (demo_drive(), 600), (demo_drive().squashed("10 mm", "-2 mm"), 1019)
    >>> round(wear_beside(demo_mowing(), off, on))
    140
    """
    exponent = read(exponent, "number", "wear exponent", *WEAR_EXPONENT)
    loads = [
        read(load, "weight", "load on the slipping axle", 0, 100_000, open_low=True)
        for _, load in (second, first)
    ]
    slips = [mowing.slipped_m(drive) for drive, _ in (second, first)]
    if not slips[1]:
        raise Refusal(
            "first case",
            "no slip at all",
            "a case in which something slips",
            "compare with another case",
        )
    return formulas.wear_index(loads[0], slips[0], loads[1], slips[1], exponent)


def lighter_axle(loads: AxleLoads) -> tuple[str, float]:
    """The axle that carries less, and so gives way when something must slip, with its load in kg.

    >>> lighter_axle(AxleLoads(600, 800)), lighter_axle(AxleLoads(1019, 701))
    (('front', 600), ('rear', 701))
    """
    if loads.front_kg <= loads.rear_kg:
        return "front", loads.front_kg
    return "rear", loads.rear_kg


def wear_of_lighter_axle(
    mowing: Mowing,
    first: tuple[Drive, AxleLoads],
    second: tuple[Drive, AxleLoads],
    exponent: float = 1.0,
) -> float:
    """Wear index as wear_beside, of whichever axle carries less: rubber in all, front or rear.

    first, second   (Drive, AxleLoads)

    >>> off, on = AxleLoads(600, 800), AxleLoads(1019, 701)
    >>> squashed = demo_drive().squashed("10 mm", "-2 mm")
    >>> round(wear_of_lighter_axle(demo_mowing(), (demo_drive(), off), (squashed, on)))
    96
    """
    (a, loads_a), (b, loads_b) = first, second
    slipping = (a, lighter_axle(loads_a)[1]), (b, lighter_axle(loads_b)[1])
    return wear_beside(mowing, *slipping, exponent)


def demo_drive() -> Drive:
    """The invented plot tractor without its loader: rolling circumferences invented too."""
    return Drive(front="2.04 m", rear="2.75 m", ratio=1.39, wheelbase=demo_tractor().wheelbase_m)


def demo_mowing() -> Mowing:
    """The invented grounds crew's lawn."""
    return Mowing(width="1.5 m", run="50 m", radius="2.5 m")
