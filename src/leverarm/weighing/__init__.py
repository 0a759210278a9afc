"""Weigh day: from readings to weight, overhang and center of gravity, with honest uncertainty.

Readings    infer(before=, after=, wheelbase=, ...) -> InferredPiece
            least_squares(setups, wheelbase, ...) -> Fit, from SetupReadings(pieces, front, rear)
            Scales(graduation=, accuracy=, zero=), Wheels(left, right), Tilt(rise=, ...)
Places      center_of_gravity(readings, wheelbase, ...) -> Center
            height_by_lifting(level, raised, lift, ...) -> Height
            detached(pin_edge, far_edge, span, ...) -> Detached
Before      forecast(before, weight, ahead, wheelbase, ...) -> Forecast
How sure    improvements(number) -> what would shrink an interval most
Claims      audit(claim, with_it=, without=, wheelbase=, ...) -> Audit; read_claim(text) -> Claim
Set-up      everyday_errors(), effect_of_error(error, tractor, piece, others) -> Effect
            readings_with_errors(tractor, pieces, errors)
Record      record_row(...) -> RecordRow; append_rows(path, *rows) -> Saved
            read_record(path) -> Record; correction(row, front=...)
            setup_readings(rows) for least_squares; next_repeat(rows, machine, state)
Invented    demo_day(), demo_scales(), demo_rows(), demo_pair(state), FIVE_READINGS_KG
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
from leverarm.weighing.claims import Audit, Claim, audit, read_claim
from leverarm.weighing.demo import FIVE_READINGS_KG, demo_day, demo_pair, demo_rows, demo_scales
from leverarm.weighing.fit import Fit, SetupReadings, least_squares
from leverarm.weighing.forecast import Forecast, forecast
from leverarm.weighing.infer import Improvement, InferredPiece, improvements, infer
from leverarm.weighing.record import (
    COLUMNS,
    RecordRow,
    correction,
    next_repeat,
    record_row,
    setup_readings,
)
from leverarm.weighing.record_file import Record, RecordFault, Saved, append_rows, read_record
from leverarm.weighing.scales import Scales, Tilt, Wheels, repeats
from leverarm.weighing.setup_errors import (
    Effect,
    SetupError,
    effect_of_error,
    everyday_errors,
    readings_with_errors,
)

__all__ = [
    "COLUMNS",
    "FIVE_READINGS_KG",
    "Audit",
    "Center",
    "Claim",
    "Detached",
    "Effect",
    "Fit",
    "Forecast",
    "Height",
    "Improvement",
    "InferredPiece",
    "Record",
    "RecordFault",
    "RecordRow",
    "Saved",
    "Scales",
    "SetupError",
    "SetupReadings",
    "Tilt",
    "Wheels",
    "append_rows",
    "audit",
    "center_of_gravity",
    "correction",
    "demo_day",
    "demo_pair",
    "demo_rows",
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
    "next_repeat",
    "read_claim",
    "read_record",
    "readings_with_errors",
    "record_row",
    "repeats",
    "setup_readings",
]
