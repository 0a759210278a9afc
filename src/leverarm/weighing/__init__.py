"""Weigh day: from readings to weight, overhang and center of gravity, with honest uncertainty.

Readings    infer(before=, after=, wheelbase=, ...) -> Hung; least_squares(states, wheelbase, ...) -> Fit
            Scales(graduation=, accuracy=, zero=), Wheels(left, right), Tilt(rise=, ...), State(pieces, front, rear)
Places      center_of_gravity(readings, wheelbase, ...) -> Center; height_by_lifting(level, raised, lift, ...) -> Height
            detached(pin_edge, far_edge, span, ...) -> Detached
Before      forecast(before, weight, ahead, wheelbase, ...) -> Forecast
How sure    improvements(number) -> what would shrink an interval most
Claims      audit(claim, with_it=, without=, wheelbase=, ...) -> Audit; read_claim(text) -> Claim
Set-up      everyday_errors(), effect(error, tractor, piece, others) -> Effect, shown(tractor, pieces, errors)
Record      row(...) -> Row; append(path, *rows) -> Saved; read_record(path) -> Record; correction(row, front=...);
            states(rows) for least_squares; next_repeat(rows, machine, state)
Invented    demo_scales(), demo_rows(), demo_pair(state), FIVE_READINGS_KG
"""

from leverarm.uncertainty import mean
from leverarm.weighing.center import (
    Center,
    Detached,
    Height,
    center_of_gravity,
    detached,
    height_by_lifting,
)
from leverarm.weighing.claims import Audit, audit
from leverarm.weighing.demo import FIVE_READINGS_KG, demo_pair, demo_rows, demo_scales
from leverarm.weighing.fit import Fit, State, least_squares
from leverarm.weighing.forecast import Forecast, forecast
from leverarm.weighing.hung import Hung, infer
from leverarm.weighing.improve import Improvement, improvements
from leverarm.weighing.readings import Scales, Wheels, repeats
from leverarm.weighing.record import COLUMNS, Row, correction, next_repeat, row, states
from leverarm.weighing.record_file import Problem, Record, Saved, append, read_record
from leverarm.weighing.setup_errors import Effect, SetupError, effect, everyday_errors, shown
from leverarm.weighing.spoken import Claim, read_claim
from leverarm.weighing.tilt import Tilt

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
    "Hung",
    "Improvement",
    "Problem",
    "Record",
    "Row",
    "Saved",
    "Scales",
    "SetupError",
    "State",
    "Tilt",
    "Wheels",
    "append",
    "audit",
    "center_of_gravity",
    "correction",
    "demo_pair",
    "demo_rows",
    "demo_scales",
    "detached",
    "effect",
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
    "repeats",
    "row",
    "shown",
    "states",
]
