"""The invented case: the Fernhollow plot tractor mowing a lawn."""

from leverarm.decision.case import Case, FrontDrive, Job, Manual, Mower, Tires, behind, piece
from leverarm.decision.record_case import U_TAPE_M, from_fit
from leverarm.driveline import demo_drive, demo_mowing
from leverarm.ground import Print, demo_print
from leverarm.machine import demo_tractor
from leverarm.stability import demo_arms, demo_stance
from leverarm.uncertainty import uncertain
from leverarm.weighing import demo_rows, demo_scales, least_squares, setup_readings


def _wheelbase():
    return uncertain(demo_tractor().wheelbase_m, U_TAPE_M, "wheelbase", cause="tape")


def demo_mower(kind="mid", wheelbase=None):
    """The invented crew's mowers: a mid-mounted deck, a rear-mounted mower on its own wheels at work, a trailed one.

    >>> demo_mower("rear").carried.weight.value, demo_mower("rear").at_work.weight.value
    (230.0, 60.0)
    """
    L = wheelbase or _wheelbase()
    sure = {"u_weight": 3}
    if kind == "mid":
        deck = piece("deck", "140 kg", "-0.85 m", "0.30 m", u_ahead=0.03, **sure)
        return Mower("mid", deck, deck)
    if kind == "rear":
        return Mower(
            "rear",
            behind("rear mower", "230 kg", "1.05 m", L, "0.60 m", u_distance=0.03, **sure),
            behind("rear mower", "60 kg", "0.60 m", L, "0.45 m", u_distance=0.03, **sure),
        )
    drawbar = behind("drawbar load", "40 kg", "0.45 m", L, "0.40 m", u_distance=0.02, **sure)
    return Mower(kind, drawbar, drawbar)


def demo_rear_print():
    """A rear tire's print of the invented plot tractor, without its loader: invented too."""
    return Print(length="28 cm", width="16.5 cm", shape=0.85, load="400 kg", inflation="80 kPa")


def demo_case(mower="mid", *, weighed=False, **more):
    """The invented case.

    mower       "mid", "rear", "trailed", or None
    weighed     True takes weights and overhangs from the invented weigh day's readings;
                False takes the numbers that the crew's machine was invented with

    >>> f"{demo_case(weighed=True).bucket.weight.value:.0f} {demo_case().bucket.weight.value:.0f}"
    '110 110'
    """
    t = demo_tractor()
    heights = {"machine": t.height_m, "loader frame": 0.80, "bucket": 0.35, "ballast": 0.50}
    reaches = {"loader frame": 1.00, "bucket": 1.65}
    base = _wheelbase()
    about = {
        "mower": mower and demo_mower(mower, base),
        "tires": Tires(demo_print(), demo_rear_print()),
        "drive": FrontDrive(demo_drive(), 0.010, demo_mowing()),
        "job": Job(slope="6 deg", mowings=2),
        "manual": Manual(front_least=20, rear_least=20),
        "stance": demo_stance(),
        "arms": demo_arms(),
        "nose_m": 0.45,
        **more,
    }
    if weighed:
        fit = least_squares(setup_readings(demo_rows()), base, scales=demo_scales())
        return from_fit(t.name, fit, base, heights=heights, reaches=reaches, **about)
    sure = {"u_weight": 2, "u_ahead": 0.02}
    pieces = [
        piece(name, kg, ahead, heights[name], reach=reaches.get(name), **sure)
        for name, kg, ahead in (("loader frame", 210, 0.15), ("bucket", 110, 1.20))
    ]
    ballast = behind(
        "ballast", 250, "0.90 m", base, heights["ballast"], u_weight=2, u_distance=0.02
    )
    return Case(
        t.name,
        base,
        uncertain(t.front_kg, 1.5, "front reading"),
        uncertain(t.rear_kg, 1.5, "rear reading"),
        t.height_m,
        *pieces,
        ballast,
        **about,
    )
