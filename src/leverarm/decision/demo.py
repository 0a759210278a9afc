"""The invented case: the Fernhollow plot tractor mowing a lawn."""

from typing import Any

from leverarm.decision.case import Case, FrontDrive, Job, Manual, Mower, Piece, Tires, behind, piece
from leverarm.decision.record_case import from_fit
from leverarm.driveline import demo_drive, demo_mowing
from leverarm.ground import ContactPatch, demo_patch
from leverarm.machine import demo_ballast, demo_loader, demo_tractor
from leverarm.quantities import from_unit
from leverarm.stability import demo_arms, demo_stance
from leverarm.uncertainty import Measured, uncertain
from leverarm.weighing.demo import U_TAPE_M, demo_day
from leverarm.weighing.results import machine_and_pieces
from leverarm.weighing.scales import read_measured


def _wheelbase() -> Measured:
    return uncertain(demo_tractor().wheelbase_m, U_TAPE_M, "wheelbase", cause="tape")


def demo_mower(kind: str = "mid", wheelbase: Measured | None = None) -> Mower:
    """The crew's mowers, invented: a mid-mounted deck, a rear-mounted one on its own wheels at
    work, a trailed one.

    >>> mower = demo_mower("rear")
    >>> f"{mower.carried.weight.value:.1f} {mower.at_work.weight.value:.1f}"
    '226.8 59.0'
    """
    L, about = wheelbase or _wheelbase(), {"u_weight": "6 lb", "u_distance": "1 in"}
    if kind == "mid":
        deck = piece("deck", "310 lb", "-33 in", "12 in", u_weight="6 lb", u_ahead="1 in")
        return Mower("mid", deck, deck)
    if kind == "rear":
        return Mower(
            "rear",
            behind("rear mower", "500 lb", "42 in", L, "24 in", **about),
            behind("rear mower", "130 lb", "24 in", L, "18 in", **about),
        )
    drawbar = behind("drawbar load", "90 lb", "18 in", L, "16 in", **about)
    return Mower(kind, drawbar, drawbar)


def demo_rear_patch() -> ContactPatch:
    """A rear tire's contact patch on the invented plot tractor, no loader: invented too."""
    return ContactPatch(
        length="28 cm", width="16.5 cm", shape=0.85, load="400 kg", inflation="80 kPa"
    )


def demo_case(mower: str | None = "mid", *, weighed: bool = False, **more: Any) -> Case:
    """The invented case.

    mower       "mid", "rear", "trailed", or None
    weighed     True takes weights and overhangs from the invented weigh day's readings;
                False takes the numbers that the crew's machine was invented with

    >>> f"{demo_case(weighed=True).bucket.weight.value:.0f} {demo_case().bucket.weight.value:.0f}"
    '117 118'
    """
    t, read = demo_tractor(), machine_and_pieces(demo_day()) if weighed else None
    base = read.wheelbase if read else _wheelbase()
    about = {
        "mower": mower and demo_mower(mower, base),
        "tires": Tires(demo_patch(), demo_rear_patch()),
        "drive": FrontDrive(demo_drive(), 0.010, demo_mowing()),
        "job": Job(slope="6 deg", mowings=2),
        "manual": Manual(front_least=20, rear_least=20),
        "stance": demo_stance(),
        "arms": demo_arms(),
        "nose_m": from_unit(18, "length", "in"),
        **more,
    }
    frame, bucket, ballast = _pieces(base)
    if read:
        hung = {one.name: one for one in (frame, bucket, ballast)}
        heights = {name: one.height_m for name, one in hung.items()} | {"machine": t.height_m}
        reaches = {name: one.reach_m for name, one in hung.items()}
        return from_fit(t.name, read, base, heights=heights, reaches=reaches, **about)
    front, rear = (
        read_measured(kg, "weight", f"{axle} reading", "3 lb")
        for axle, kg in (("front", t.front_kg), ("rear", t.rear_kg))
    )
    return Case(t.name, base, front, rear, t.height_m, frame, bucket, ballast, **about)


def _pieces(base: Measured) -> tuple[Piece, Piece, Piece]:
    """Loader frame, bucket and ballast as invented, with what a tape and a scale leave open."""
    frame, bucket = (
        piece(
            one.name,
            one.weight_kg,
            one.ahead_m,
            one.height_m,
            reach=reach,
            u_weight="4 lb",
            u_ahead="1 in",
        )
        for one, reach in zip(demo_loader(), ("40 in", "65 in"))
    )
    hung = demo_ballast()
    ballast = behind(
        hung.name,
        hung.weight_kg,
        -hung.ahead_m - demo_tractor().wheelbase_m,
        base,
        hung.height_m,
        u_weight="4 lb",
        u_distance="1 in",
    )
    return frame, bucket, ballast
