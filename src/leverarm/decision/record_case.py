"""A weigh day as the Case of a decision: one machine on one day, and nothing lent.

What was not told of the machine (tires, heights, arms, a manual) is absent from the Case,
and the rows that need it say so.  Without the scales' step or accuracy no plus or minus is
known.
"""

import math
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from leverarm import weighing
from leverarm.decision.case import Case, FrontDrive, Manual, Piece, Tires
from leverarm.driveline import Drive, Mowing
from leverarm.ground import ContactPatch
from leverarm.quantities import Refusal
from leverarm.uncertainty import Measured, uncertain
from leverarm.weighing.day import WeighDay
from leverarm.weighing.day_file import FOLDER, files_at, no_readings, one_day
from leverarm.weighing.facts import Machine, Tire
from leverarm.weighing.results import MachineAndPieces, machine_and_pieces
from leverarm.weighing.scales import AXLES, wheelbase_of


def case_of_day(
    day: WeighDay,
    *,
    heights: Mapping[str, float | None] | None = None,
    mowing: Mowing | None = None,
    **about: Any,
) -> Case:
    """The Case of one machine on one day; without a plus or minus where no scales were told.

    heights     {piece name: meters}, "machine" for the bare machine: for the rows on slopes
    mowing      how it mows, beside the front drive that was told with the machine
    about       mower=, tires=, drive=, job=, manual=, stance=, arms=, nose_m=; nothing is lent
    What was told with the machine counts where these have nothing: the manual's rear share and
    axle ratings, contact patches, counted turns.
    """
    told, scales = day.machine, day.scales.scales
    ratings = (told.ratings_kg.get(axle) for axle in AXLES)
    about["manual"] = about.get("manual", Manual()).or_told(told.rear_share_least, *ratings)
    about["tires"] = about.get("tires") or Tires(
        told_patch(told.front_tires), told_patch(told.rear_tires)
    )
    about["drive"] = about.get("drive") or told_drive(told, mowing)
    known: dict[str, float | None] = {
        "machine" if piece == "bare" else piece: h for piece, h in told.heights_m.items()
    }
    _refuse_one_axle(day)
    read = machine_and_pieces(day)
    known |= heights or {}
    made = from_fit(told.name, read, read.wheelbase, heights=known, **about)
    return made if scales is not None else _without_plus_minus(made)


def _refuse_one_axle(day: WeighDay) -> None:
    """A Refusal where nothing was read, or an axle of a set-up was not."""
    if not day.rows:
        raise no_readings(day.file_name)
    for one in day.setups:
        for axle, readings in (("front", one.front), ("rear", one.rear)):
            if not readings:
                raise Refusal(
                    f"{axle} axle, {one.name}",
                    "no reading",
                    "a reading of both axles in every set-up",
                    "weigh that axle too",
                )


def told_patch(fitted: Tire | None) -> ContactPatch | None:
    """The contact patch that was told with a machine; None where part of it was not."""
    if fitted is None or fitted.patch_m is None:
        return None
    length, width = fitted.patch_m
    shape, load, pressure = fitted.patch_shape, fitted.patch_load_kg, fitted.pressure_kpa
    if shape is None or load is None or pressure is None:
        return None
    return ContactPatch(length, width, shape, load, pressure)


def told_drive(told: Machine, mowing: Mowing | None = None) -> FrontDrive | None:
    """The front drive by the turns that were counted; None where they were not.

    No squash was told, so its lead is the counted one in every set-up.
    """
    if told.turns is None or told.turns_driven is None:
        return None
    counted = Drive.from_turns(told.turns_driven, *told.turns, told.wheelbase_m)
    return FrontDrive(counted, mowing=mowing)


def case_from_record(
    place: Path | str = FOLDER,
    *,
    machine: str | None = None,
    date: str | None = None,
    **about: Any,
) -> Case:
    """The Case of a folder or file; machine and day must be said where it holds several.

    about   as for :func:`case_of_day`
    """
    return case_of_day(one_day(files_at(place), machine, date), **about)


def _without_plus_minus(made: Case) -> Case:
    """A Case whose weights and places carry no uncertainty that could be printed."""

    def bare(number):
        return uncertain(number.value, math.nan, "scales not told")

    def piece(one):
        return one and replace(one, weight=bare(one.weight), ahead=bare(one.ahead))

    return replace(
        made,
        front=bare(made.front),
        rear=bare(made.rear),
        loader=piece(made.loader),
        bucket=piece(made.bucket),
        ballast=piece(made.ballast),
    )


def from_fit(
    name: str,
    fit: weighing.Fit | MachineAndPieces,
    wheelbase: Measured | float | str,
    *,
    loader: str = "loader frame",
    bucket: str = "bucket",
    ballast: str = "ballast",
    heights: Mapping[str, float | None] | None = None,
    reaches: Mapping[str, float | None] | None = None,
    **more: Any,
) -> Case:
    """A Case from a weigh day's Fit: bare loads, weights and overhangs, each with its plus or
    minus.

    loader, bucket, ballast   what those pieces were called in the record; only the loader must be
                              there
    heights, reaches    {piece name: meters}, for slopes and for the length ahead; "machine" is the
                        bare machine
    more        mower=, tires=, drive=, job=, manual=, stance=, arms=, nose_m=
    """
    heights, reaches = heights or {}, reaches or {}
    if loader not in fit.pieces:
        raise Refusal(
            "record",
            ", ".join(fit.pieces) or "no piece",
            f"one with a {loader}",
            "weigh the machine with the loader on and off",
        )
    weighed = {
        name: Piece(name, hung.weight, hung.ahead, heights.get(name), reaches.get(name))
        for name, hung in fit.pieces.items()
    }
    return Case(
        name,
        wheelbase_of(wheelbase),
        fit.front,
        fit.rear,
        heights.get("machine"),
        weighed[loader],
        weighed.get(bucket),
        weighed.get(ballast),
        **more,
    )
