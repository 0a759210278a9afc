"""Mow or unhook: one machine and one job, every set-up side by side, the other side too, and
nothing recommended.

Told        case(name, wheelbase, front, rear, ...) -> Case; from_fit(name, fit, wheelbase, ...) ->
            Case from a weigh day
            case_of_day(day) from a WeighDay; case_from_record(folder, machine=, date=)
            piece(name, weight, ahead, ...), behind(name, weight, distance, wheelbase, ...) -> Piece
            Mower(kind, carried, at_work), Tires(front, rear), FrontDrive(drive, squash_m, mowing),
            Job(...), Manual(...)
Set-ups     setups(case) -> Setup(.front .rear .total .front_share .least_share(axle) .minutes
            .length_m); stops(setup)
Rows        decide(case) -> Table(.setups .rows .row(key) .value(key, setup) .stopped);
            Row(.name(system) .cells(system) .meaning)
Order       order(table, "front", "minutes") -> Ranking; steps(table) -> Steps;
            most_per_minute(table)
Other side  counters(table) -> Counters; manual_questions(case); CAUTIONS, LEFT_OUT
Claims      CLAIMS, true_number(claim, case, system), letters_of(case) -> Letters; NEVER_PROMISE,
            RED_LINES
Answers     check_answer(text, claim, case) -> Points: an answer to a customer held against this
            machine
Invented    demo_case(mower="mid", weighed=False), demo_mower(kind)

>>> table = decide(demo_case())
>>> [f"{load.value:.0f}" for load in table.row("front").values]
['974', '770', '541', '668']
"""

from leverarm.decision.against import (
    CAUTIONS,
    LEFT_OUT,
    Counter,
    Question,
    counters,
    manual_questions,
    without,
)
from leverarm.decision.case import (
    BASES,
    MOWERS,
    Case,
    FrontDrive,
    Job,
    Manual,
    Mower,
    Piece,
    Tires,
    behind,
    case,
    piece,
)
from leverarm.decision.claim_numbers import Letters, letters_of
from leverarm.decision.claims import (
    CLAIMS,
    NEVER_PROMISE,
    RED_LINES,
    SpokenClaim,
    facts_of,
    holds_for,
    true_number,
)
from leverarm.decision.customer_reply import (
    MANUAL_DECIDES,
    ReplyPoint,
    check_answer,
    numbers_said,
    quantities_in,
)
from leverarm.decision.demo import demo_case, demo_mower, demo_rear_patch
from leverarm.decision.order import (
    MATTERS,
    Ranking,
    Step,
    most_per_minute,
    order,
    per_mowing,
    steps,
    why_most,
)
from leverarm.decision.record_case import (
    case_from_record,
    case_of_day,
    from_fit,
)
from leverarm.decision.setups import (
    MOWER_POSITIONS,
    Setup,
    rating_checks,
    setups,
    share_text,
    stops,
)
from leverarm.decision.table import Row, Table, decide, squash_at, value_text
from leverarm.decision.words import GROUPS, MEANINGS

__all__ = [
    "BASES",
    "CAUTIONS",
    "CLAIMS",
    "GROUPS",
    "LEFT_OUT",
    "MANUAL_DECIDES",
    "MATTERS",
    "MEANINGS",
    "MOWERS",
    "MOWER_POSITIONS",
    "NEVER_PROMISE",
    "RED_LINES",
    "Case",
    "Counter",
    "FrontDrive",
    "Job",
    "Letters",
    "Manual",
    "Mower",
    "Piece",
    "Question",
    "Ranking",
    "ReplyPoint",
    "Row",
    "Setup",
    "SpokenClaim",
    "Step",
    "Table",
    "Tires",
    "behind",
    "case",
    "case_from_record",
    "case_of_day",
    "check_answer",
    "counters",
    "decide",
    "demo_case",
    "demo_mower",
    "demo_rear_patch",
    "facts_of",
    "from_fit",
    "holds_for",
    "letters_of",
    "manual_questions",
    "most_per_minute",
    "numbers_said",
    "order",
    "per_mowing",
    "piece",
    "quantities_in",
    "rating_checks",
    "setups",
    "share_text",
    "squash_at",
    "steps",
    "stops",
    "true_number",
    "value_text",
    "why_most",
    "without",
]
