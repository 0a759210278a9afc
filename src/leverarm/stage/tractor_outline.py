"""The one machine on a sheet of the stage: its outline as elements, what hangs on it hatched.

Places are meters ahead of the front axle and meters up.
"""

from leverarm import outline
from leverarm.numerals import Numeric
from leverarm.outline import Area, Disk, Part, Place
from leverarm.stage.elements import Element, corners, element, px
from leverarm.stage.sheet import area, stroke
from leverarm.stage.stand import Stand, platform

# What hangs there now; drawn as anything else it has no hatching.
_HATCHED = ("hung-bucket", "piece")


def platforms(stand: Stand) -> Element:
    """The two scales, as wide as their wheels need."""
    return element(
        "g",
        platform(stand, "front", outline.FRONT_RADIUS_M),
        platform(stand, "rear", 0.65 * outline.REAR_RADIUS_M),
    )


def drawn_part(stand: Stand, part: Part, kind: str = "") -> Element:
    """A part of the outline; ``kind`` draws it as something else."""
    kind = kind or part.kind
    if isinstance(part, Area):
        return area([stand.place(point) for point in part.points], kind)
    if isinstance(part, Disk):
        x, y = stand.place(part.at)
        return element(
            "circle",
            class_=f"st-area-{kind}",
            cx=px(x),
            cy=px(y),
            r=f"{part.radius * stand.sheet.per_m:.1f}",
            stroke_width="1.6",
        )
    return stroke([stand.place(point) for point in part.points], "body", part.wide)


def hatched_part(stand: Stand, part: Area, hatching: str, kind: str, wide: float) -> Element:
    """A part that hangs on the machine, hatched unless its kind says that it does not."""
    return element(
        "polygon",
        class_=f"st-area-{kind}",
        points=corners(stand.place(point) for point in part.points),
        stroke_width=f"{wide:g}",
        fill=f"url(#st@-{stand.sheet.name}-{hatching})" if kind in _HATCHED else "none",
    )


def tractor_parts(stand: Stand) -> Element:
    """The bare tractor with its operator, gray: only scales carry color."""
    return element("g", (drawn_part(stand, part) for part in outline.tractor(stand.apart_m)))


def loader_part(stand: Stand, hung: Place, pale: Numeric, kind: str = "machine") -> Element:
    """The loader frame: mast and arms, reaching for what they carry.

    pale    1 draws it faintly
    kind    "piece" draws it as what hangs on the tractor, "ghost" as what is not there now
    """
    parts = []
    for part in outline.loader(stand.apart_m, hung):
        if kind == "piece" and isinstance(part, Area):
            parts.append(hatched_part(stand, part, "frame", kind, 2.2))
        else:
            parts.append(drawn_part(stand, part, "ghost" if kind == "ghost" else "machine"))
    return element("g", parts, opacity=f"{1 - 0.6 * pale:.2f}")


def forks_part(stand: Stand, at: Place) -> Element:
    """Pallet forks round their center of gravity."""
    return hatched_part(stand, outline.forks(at), "hung", "hung-bucket", 2.2)


def bucket_part(stand: Stand, at: Place, kind: str = "hung-bucket") -> Element:
    """The bucket round its center of gravity; kind "ghost" draws what is not there now."""
    return hatched_part(stand, outline.bucket(at), "hung", kind, 2.2)


def hitch_part(stand: Stand, hung: Place, pale: Numeric) -> Element:
    """The three-point hitch, reaching back to a piece; pale 1 draws it faintly."""
    links = [drawn_part(stand, part) for part in outline.hitch(stand.apart_m, hung)]
    return element("g", links, opacity=f"{1 - 0.6 * pale:.2f}")


def ballast_part(stand: Stand, at: Place, kind: str = "hung-bucket") -> Element:
    """A ballast box round its center of gravity; kind "ghost" draws what is not there now."""
    return hatched_part(stand, outline.ballast(at), "ballast", kind, 2.2)


def deck_part(stand: Stand, ahead_m: Numeric) -> Element:
    """What mows between the axles, hatched upright."""
    return hatched_part(stand, outline.deck(ahead_m), "deck", "piece", 1.6)
