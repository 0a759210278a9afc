"""The tractor with a loader on its lift, arms at any height, drawn with what is in the bucket."""

from collections.abc import Sequence

from leverarm.numerals import Numeric
from leverarm.stability import Loader
from leverarm.stability.formulas import turned_ahead, turned_up
from leverarm.stage import tractor_outline as machine
from leverarm.stage.arms_case import Places
from leverarm.stage.elements import Element, angle, corners, element, px
from leverarm.stage.stand import Stand

# The arms in shares of their length, along and across the line from pivot to bucket pin.
_ARMS = ((0.0, 0.035), (0.55, 0.20), (1.0, 0.035), (1.0, -0.035), (0.56, 0.11), (0.0, -0.035))
# The heap in the bucket, meters ahead and up from the bucket's center of gravity.
_HEAP = ((-0.06, 0.22), (-0.02, 0.02), (0.06, -0.04), (0.34, -0.12), (0.26, 0.10), (0.08, 0.26))


def standing_at(stand: Stand, place: tuple[Numeric, Numeric]) -> tuple[Numeric, Numeric]:
    """A place ahead of the front axle and up, in meters, on the sheet."""
    return stand.sheet.x(place[0]), stand.ground - place[1] * stand.sheet.per_m


def lifting_tractor(
    loader: Loader,
    stand: Stand,
    at: Places,
    turn: tuple[Numeric, Numeric],
    pale: Numeric = 0.0,
    *,
    tilted_deg: float = 0.0,
    empty: bool = False,
    others: Sequence[Element] = (),
) -> list[Element]:
    """Platforms, tractor, mast, arms, bucket and load, with the lean of its stand.

    at      the places of the loader's parts;  turn  cosine and sine of the arms' angle
    pale    1 draws the arms faintly
    tilted_deg   how far the bucket floor has turned;  empty  whether the bucket is
    others       what else hangs on the tractor
    """
    sheet = stand.sheet
    pivot = loader.pivot_ahead_m
    mast = [
        standing_at(stand, (pivot + ahead, up))
        for ahead, up in (
            (0.07, 0.56),
            (0.07, loader.pivot_height_m + 0.06),
            (-0.07, loader.pivot_height_m + 0.06),
            (-0.07, 0.56),
        )
    ]
    arms = _piece(_arms(loader, stand, turn), f"url(#st@-{sheet.name}-frame)")
    parts = [
        _piece(mast, f"url(#st@-{sheet.name}-frame)"),
        machine.tractor_parts(stand),
        element("g", arms, opacity=f"{1 - 0.6 * pale:.2f}"),
        *_bucket(stand, at, tilted_deg, empty),
        *others,
    ]
    return [machine.platforms(stand), element("g", parts, transform=stand.lean)]


def _bucket(stand: Stand, at: Places, tilted_deg: float, empty: bool) -> list[Element]:
    """The bucket and the heap in it, turned about the bucket's center of gravity."""
    scale, bucket = stand.sheet.per_m, standing_at(stand, at["bucket"])
    held = [machine.bucket_part(stand, bucket, "machine")]
    if not empty:
        heap = [(bucket[0] - dx * scale, bucket[1] - dy * scale) for dx, dy in _HEAP]
        held.insert(0, _piece(heap, f"url(#st@-{stand.sheet.name}-hung)"))
    if tilted_deg:
        about = f"rotate({angle(tilted_deg)} {px(bucket[0])} {px(bucket[1])})"
        held = [element("g", held, transform=about)]
    return held


def _arms(
    loader: Loader, stand: Stand, turn: tuple[Numeric, Numeric]
) -> list[tuple[Numeric, Numeric]]:
    """The outline of the arms, turned about their pivot."""
    points = []
    for along, across in _ARMS:
        x, y = along * loader.arm_m, across * loader.arm_m
        ahead = loader.pivot_ahead_m + turned_ahead(x, y, *turn)
        points.append(standing_at(stand, (ahead, loader.pivot_height_m + turned_up(x, y, *turn))))
    return points


def _piece(points: list[tuple[Numeric, Numeric]], fill: str) -> Element:
    return element(
        "polygon", class_="st-area-piece", points=corners(points), stroke_width="2", fill=fill
    )
