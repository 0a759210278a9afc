"""Weigh day: from readings to weight, overhang and center of gravity, with honest uncertainty.

Readings    infer(before=, after=, wheelbase=, ...) -> InferredPiece
            least_squares(setups, wheelbase, ...) -> Fit, from SetupReadings(pieces, front, rear)
            Scales(graduation=, accuracy=, zero=), Wheels(left, right), Tilt(rise=, ...)
Places      center_of_gravity(readings, wheelbase, ...) -> Center
            height_by_lifting(level, raised, lift, ...) -> Height
            detached(pin_edge, far_edge, span, ...) -> Detached
Before      forecast(before, weight, ahead, wheelbase, ...) -> Forecast
How sure    improvements(number) -> what would shrink an interval most
Claims      read_claim(text) -> Claim
            audit_spoken(text, day) -> SpokenAudit; claim_cards(day) -> ClaimCards
Set-up      everyday_errors(), effect_of_error(error, tractor, piece, others) -> Effect
            readings_with_errors(tractor, pieces, errors)
Day         weigh_day(machine, date, scales) -> WeighDay in ``weighing.day``; its files in
            ``weighing.day_file``: files_at(folder), one_day(files), add_rows(day, *rows)
            machine(...), scale_facts(...) in ``weighing.facts``; weighing(setup, front, rear) in
            ``weighing.readings``
Invented    demo_day(), demo_scales(), demo_pair(setup), FIVE_READINGS_KG
"""

from leverarm.uncertainty import mean
from leverarm.weighing.center_of_gravity import (
    Center,
    Detached,
    Height,
    center_of_gravity,
    detached,
    height_by_lifting,
)
from leverarm.weighing.claim_audit import SpokenAudit, audit_spoken
from leverarm.weighing.claim_cards import ClaimCard, claim_cards
from leverarm.weighing.claims import Claim, read_claim
from leverarm.weighing.demo import FIVE_READINGS_KG, demo_day, demo_pair, demo_scales
from leverarm.weighing.fit import Fit, SetupReadings, least_squares
from leverarm.weighing.forecast import Forecast, forecast
from leverarm.weighing.infer import Improvement, InferredPiece, improvements, infer
from leverarm.weighing.scales import Scales, Tilt, Wheels, repeats
from leverarm.weighing.setup_errors import (
    Effect,
    SetupError,
    effect_of_error,
    everyday_errors,
    readings_with_errors,
)

__all__ = [
    "FIVE_READINGS_KG",
    "Center",
    "Claim",
    "ClaimCard",
    "Detached",
    "Effect",
    "Fit",
    "Forecast",
    "Height",
    "Improvement",
    "InferredPiece",
    "Scales",
    "SetupError",
    "SetupReadings",
    "SpokenAudit",
    "Tilt",
    "Wheels",
    "audit_spoken",
    "center_of_gravity",
    "claim_cards",
    "demo_day",
    "demo_pair",
    "demo_scales",
    "detached",
    "effect_of_error",
    "everyday_errors",
    "forecast",
    "height_by_lifting",
    "improvements",
    "infer",
    "least_squares",
    "mean",
    "read_claim",
    "readings_with_errors",
    "repeats",
]
