"""What hangs on the tractor, drawn with it: ahead on its loader, or behind on its hitch."""

from leverarm.numerals import Numeric
from leverarm.outline import BALLAST_HEIGHT_M, BUCKET_HEIGHT_M, Place
from leverarm.stage import tractor_outline as machine
from leverarm.stage.case import HungCase
from leverarm.stage.elements import Element, element
from leverarm.stage.stand import Stand

# How a piece is hatched, on the machine and in its column, by its table of words.
HATCHINGS = {"tractor": "hung", "behind": "ballast"}


def piece_place(case: HungCase, ahead_m: Numeric) -> Place:
    """Where the center of gravity of the piece is."""
    return ahead_m, BALLAST_HEIGHT_M if case.behind else BUCKET_HEIGHT_M


def above_piece(case: HungCase, stand: Stand, at: Place) -> Place:
    """Where on the sheet the arrow of its weight ends."""
    return stand.place((at[0], at[1] + (0.28 if case.behind else 0.30)))


def machine_parts(
    case: HungCase, stand: Stand, at: Place, *, pale: Numeric = 0.0, ghost: bool = False
) -> list[Element]:
    """The tractor on its platforms, with what hangs on it already, and the piece.

    pale    1 draws what holds the piece faintly;  ghost  True draws the piece dashed
    """
    kind = "ghost" if ghost else "hung-bucket"
    if not case.behind:
        parts = [
            machine.loader_part(stand, at, pale),
            machine.tractor_parts(stand),
            machine.bucket_part(stand, at, kind),
        ]
    else:
        parts = [machine.hitch_part(stand, at, pale), machine.tractor_parts(stand)]
        if case.held:
            out = max(one.ahead_m for one in case.held)
            bucket = out, BUCKET_HEIGHT_M
            parts.insert(1, machine.loader_part(stand, bucket, 0.0, "piece"))
            parts.append(machine.bucket_part(stand, bucket))
        parts.append(machine.ballast_part(stand, at, kind))
    return [machine.platforms(stand), element("g", parts, transform=stand.lean)]
