"""The tractor with a loader on its lift, arms at any height, drawn with what is in the bucket."""

from collections.abc import Sequence

from leverarm import outline
from leverarm.numerals import Numeric
from leverarm.outline import Place
from leverarm.stability import Loader
from leverarm.stage import tractor_outline as machine
from leverarm.stage.arms_case import Places
from leverarm.stage.elements import Element, angle, element, px
from leverarm.stage.stand import Stand


def lifting_tractor(
    loader: Loader,
    stand: Stand,
    at: Places,
    turn: Place,
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
    pivot = loader.pivot_ahead_m, loader.pivot_height_m
    arms = outline.lift_arms(pivot, loader.arm_m, turn)
    parts = [
        machine.hatched_part(stand, outline.lift_mast(pivot), "frame", "piece", 2),
        machine.tractor_parts(stand),
        element(
            "g",
            machine.hatched_part(stand, arms, "frame", "piece", 2),
            opacity=f"{1 - 0.6 * pale:.2f}",
        ),
        *_bucket(stand, at["bucket"], tilted_deg, empty),
        *others,
    ]
    return [machine.platforms(stand), element("g", parts, transform=stand.lean)]


def _bucket(stand: Stand, at: Place, tilted_deg: float, empty: bool) -> list[Element]:
    """The bucket and the heap in it, turned about the bucket's center of gravity."""
    held = [machine.bucket_part(stand, at, "machine")]
    if not empty:
        held.insert(0, machine.hatched_part(stand, outline.heap(at), "hung", "piece", 2))
    if tilted_deg:
        x, y = stand.place(at)
        held = [element("g", held, transform=f"rotate({angle(tilted_deg)} {px(x)} {px(y)})")]
    return held
