"""The other side: when leaving the loader on is reasonable, what removing it costs, what the
manuals must say.
"""

from dataclasses import dataclass

from leverarm import stability, statics
from leverarm.data import cautions
from leverarm.decision.case import BASES, Case
from leverarm.decision.order import per_mowing
from leverarm.decision.setups import Setup, mower_words, share_text
from leverarm.decision.table import Table
from leverarm.decision.words import ARGUMENTS, MANUAL_QUESTIONS
from leverarm.quantities import Refusal, show, show_number
from leverarm.uncertainty import plus_minus

HIGHER_M = 1.0


@dataclass(frozen=True)
class Counter:
    """One argument against taking it off, or against a half measure: a title and a sentence with
    this machine's numbers.
    """

    title: str
    said: str


def _kg(number, system):
    return plus_minus(number, "weight", system, brief=True)


def counters(table: Table, system: str | None = None) -> tuple[Counter, ...]:
    """The Counters of a Table, those that this machine gives a number for.

    >>> from leverarm.decision.demo import demo_case
    >>> from leverarm.decision.table import decide
    >>> [one.title for one in counters(decide(demo_case()))][:2]
    ['Leave it on for a short job', 'Firm, dry ground']
    """
    made = []
    for name, argument in ARGUMENTS.items():
        if numbers := _NUMBERS[name](table, system):
            said = " ".join(argument.sentences[key].format(**of) for key, of in numbers.items())
            made.append(Counter(argument.title, said))
    return tuple(made)


def _setup(table, key):
    return next((one for one in table.setups if one.key == key), None)


def _short_job(table, system):
    off = _setup(table, "loader_off")
    minutes = {"minutes": off.minutes, "for_each": per_mowing(off)}
    return {"text": {name: show_number(number, 0) for name, number in minutes.items()}}


def _firm_ground(table, system):
    if table.row("front_pressure").values[0] is None:
        return None
    pressures = {
        name: show(table.value("front_pressure", key), "pressure", system)
        for name, key in (("on", "on"), ("off", "loader_off"))
    }
    return {"text": pressures}


def _carried_low(table, system):
    angles = table.case.bucket and _raised_angles(table)
    if not angles:
        return {"text": {}}
    low, high = (show_number(angle, 1) for angle in angles)
    rise = show(HIGHER_M, "length", system)
    return {"text": {}, "heights_told": {"low": low, "high": high, "rise": rise}}


def _raised_angles(table):
    """Sideways tipping angle with the bucket as told and a meter higher; None where something was
    not told.
    """
    setup, bucket = table.setups[0], table.case.bucket
    if table.case.stance is None or bucket.height_m is None:
        return None
    low = bucket.attachment
    high = type(low)(low.name, low.weight_kg, low.ahead_m, low.height_m + HIGHER_M)
    hung = setup.attachments()
    try:
        return tuple(
            stability.side_tilt(
                table.case.tractor,
                *(one if piece == low else piece for piece in hung),
                stance=table.case.stance,
            ).line_deg
            for one in (low, high)
        )
    except Refusal:
        return None


def without(setup: Setup, part: str) -> Setup:
    """The same set-up with one of its parts taken away: loader on, ballast forgotten."""
    return Setup(
        setup.key,
        f"{setup.name}, no {part}",
        tuple(one for one in setup.parts if one != part),
        setup.case,
    )


def _ballast_stays(table, system):
    """What happens when the loader goes on again and the ballast does not."""
    if table.case.ballast is None or table.case.bucket is None:
        return None
    on = table.setups[0]
    bare = without(on, "ballast")
    rear = {"without": _kg(bare.rear, system), "with_it": _kg(on.rear, system)}
    loads = {"load_without": emptying_load(bare), "load_with": emptying_load(on)}
    shown = {
        name: show(kg, "weight", system, decimals=0) for name, kg in loads.items() if kg is not None
    }
    if len(shown) < len(loads):
        return {"text": rear, "arms_not_told": {}, "last": {}}
    return {"text": rear, "arms_told": shown, "last": {}}


def emptying_load(setup: Setup) -> float | None:
    """Load in the bucket that leaves the rear axle nothing, kg, at the worst position of the arms.

    None where the arms were not told, or where no load does it.
    """
    case, parts = setup.case, ("loader", "bucket")
    if case.arms is None:
        return None
    moved = {getattr(case, part).attachment for part in parts if getattr(case, part)}
    others = tuple(one for one in setup.attachments() if one not in moved)
    return stability.limits(case.tractor, case.arms, others=others).tipping_kg


def _ballast_off_front(table, system):
    bare, off = _setup(table, "all_off"), _setup(table, "loader_off")
    if bare is None:
        return None
    taken, gained = off.total - bare.total, bare.front - off.front
    if gained.value <= 0:
        return {"front_keeps": {"taken": _kg(taken, system)}}
    return {"front_gains": {"taken": _kg(taken, system), "gained": _kg(gained, system)}}


def _next_job(table, system):
    n = show_number(table.case.job.mowings, 0)
    return {"text": {"mowings": f"{n} mowing{'s' if n != '1' else ''}"}}


def _light_steering(table, system):
    off = _setup(table, "loader_off")
    share, mower_at = off.least_share("front")
    base = BASES[table.case.manual.front_base] + mower_words(off, mower_at)
    return {"text": {"share": share_text(share), "base": base}}


def _half_measure(table, system):
    half, on, off = (_setup(table, key) for key in ("bucket_off", "on", "loader_off"))
    if half is None:
        return None
    stays = statics.share(half.front - off.front, on.front - off.front)
    return {"text": {"share": share_text(stays)}}


# {sentence: what to fill in}, one after another; None where this machine gives no number.
_NUMBERS = {
    "short_job": _short_job,
    "firm_ground": _firm_ground,
    "carried_low": _carried_low,
    "ballast_stays": _ballast_stays,
    "ballast_off_front": _ballast_off_front,
    "next_job": _next_job,
    "light_steering": _light_steering,
    "half_measure": _half_measure,
}


@dataclass(frozen=True)
class Question:
    """What only a manual can answer: the question, and the answer read there, or None."""

    asked: str
    answer: str | None


def manual_questions(case: Case, system: str | None = None) -> tuple[Question, ...]:
    """What the manuals must decide, with what was read so far.

    >>> from leverarm.decision.demo import demo_case
    >>> from leverarm.decision.table import decide
    >>> sum(one.answer is None for one in manual_questions(demo_case()))
    9
    """
    m = case.manual

    def kg(value):
        return None if value is None else show(value, "weight", system)

    def share(axle):
        return None if m.least(axle)[0] is None else f"{m.least(axle)[0]:g} %"

    answers = {
        "front_least": share("front"),
        "rear_least": share("rear"),
        "front_axle": kg(m.front_axle_kg),
        "rear_axle": kg(m.rear_axle_kg),
        "machine": kg(m.machine_kg),
        "bucket_may_come_off": {True: "yes", False: "no", None: None}[m.bucket_may_come_off],
    }
    return tuple(Question(asked, answers.get(name)) for name, asked in MANUAL_QUESTIONS.items())


CAUTIONS = cautions("decision")
LEFT_OUT = cautions("decision, left out")
