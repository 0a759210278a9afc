"""The other side: when leaving the loader on is reasonable, what removing it costs, what the
manuals must say.
"""

from dataclasses import dataclass

from leverarm import stability, statics
from leverarm.decision.case import BASES, Case
from leverarm.decision.order import per_mowing
from leverarm.decision.setups import Setup, mower_words, share_text
from leverarm.decision.table import Table
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


def counters(table: Table, system: str = "kg") -> tuple[Counter, ...]:
    """The Counters of a Table, those that this machine gives a number for.

    >>> from leverarm.decision.demo import demo_case
    >>> from leverarm.decision.table import decide
    >>> [one.title for one in counters(decide(demo_case()))][:2]
    ['Leave it on for a short job', 'Firm, dry ground']
    """
    makers = (
        _short_job,
        _firm_ground,
        _carried_low,
        _ballast_stays,
        _ballast_off_front,
        _next_job,
        _light_steering,
        _half_measure,
    )
    return tuple(made for make in makers if (made := make(table, system)) is not None)


def _state(table, key):
    return next((one for one in table.setups if one.key == key), None)


def _short_job(table, system):
    off = _state(table, "loader_off")
    said = (
        "Taking the loader off and putting it on again takes "
        f"{show_number(off.minutes, 0)} minutes as you stated them: "
        f"{show_number(per_mowing(off), 0)} for each mowing. "
        "For a few strips that may be more than the job. "
        "A loader half hitched or badly parked is a danger of its own."
    )
    return Counter("Leave it on for a short job", said)


def _firm_ground(table, system):
    pressures = table.row("front_pressure").values
    if pressures[0] is None:
        return None
    on, off = (
        show(table.value("front_pressure", key), "pressure", system) for key in ("on", "loader_off")
    )
    return Counter(
        "Firm, dry ground",
        f"The pressure under a front tire goes from {on} to {off}: "
        "the surface notices less than the "
        "scale does. On firm dry ground, with few passes, "
        "the difference may not be seen. Wetness and passes decide.",
    )


def _carried_low(table, system):
    bucket = table.case.bucket
    said = (
        "If it stays on, carry it low and empty. Raised straight up it changes no level "
        "reading, and lifts the center of gravity."
    )
    angles = bucket and _raised_angles(table)
    if angles:
        said += (
            " Across a slope the tipping line is crossed at "
            f"{show_number(angles[0], 1)}° with the bucket low and at "
            f"{show_number(angles[1], 1)}° with it {show(HIGHER_M, 'length', system)} higher."
        )
    return Counter("Carry it low", said)


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
    return Counter(
        "Ballast off must come on again",
        f"With the loader on again and the ballast forgotten, the rear axle has "
        f"{_kg(bare.rear, system)} instead of {_kg(on.rear, system)}. "
        f"{_lets_go(bare, on, system)} The loader manual says what ballast it needs.",
    )


def _lets_go(bare, on, system):
    """The load that empties the rear axle at the worst position of the arms, or what it takes to
    know it.
    """
    without_kg, with_kg = emptying_load(bare), emptying_load(on)
    if without_kg is None or with_kg is None:
        return (
            "The bucket reaches farther out on its way up, so that less load empties the rear axle "
            "there than with the arms low. For a number, measure the loader's pivot and arms."
        )
    without_it, with_it = (show(kg, "weight", system, decimals=0) for kg in (without_kg, with_kg))
    return (
        f"With the arms in their worst position, a load of {without_it} in the bucket would empty "
        f"it, instead of {with_it}."
    )


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
    bare, off = _state(table, "all_off"), _state(table, "loader_off")
    if bare is None:
        return None
    change = bare.front - off.front
    said = (
        (
            f"Ballast off takes {_kg(off.total - bare.total, system)} off the ground, "
            f"and puts {_kg(change, system)} back on the front axle."
        )
        if change.value > 0
        else f"Ballast off takes {_kg(off.total - bare.total, system)} off the ground."
    )
    return Counter("Ballast off is two things at once", said)


def _next_job(table, system):
    n = show_number(table.case.job.mowings, 0)
    return Counter(
        "The next job",
        f"You stated {n} mowing{'s' if n != '1' else ''} before the loader is wanted "
        "again. If it is wanted every "
        "day, the work is done every day. If it is wanted twice a year, it is done twice.",
    )


def _light_steering(table, system):
    off = _state(table, "loader_off")
    share, mower_at = off.least_share("front")
    return Counter(
        "A light front axle",
        f"With the loader off the front axle keeps {share_text(share)} of "
        f"{BASES[table.case.manual.front_base]}{mower_words(off, mower_at)}. "
        "Steering needs some. A heavy mower carried behind takes more.",
    )


def _half_measure(table, system):
    half, on, off = (_state(table, key) for key in ("bucket_off", "on", "loader_off"))
    if half is None:
        return None
    stays = statics.share(half.front - off.front, on.front - off.front)
    return Counter(
        "Bucket off is not loader off",
        f"With the bucket off, {share_text(stays)} of what the loader put on the front axle stays. "
        "And not every loader may be driven without an attachment: the loader manual decides.",
    )


@dataclass(frozen=True)
class Question:
    """What only a manual can answer: the question, and the answer read there, or None."""

    asked: str
    answer: str | None


def manual_questions(case: Case, system: str = "kg") -> tuple[Question, ...]:
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

    yes = {True: "yes", False: "no", None: None}[m.bucket_may_come_off]
    return (
        Question("Least share on the front axle, to steer", share("front")),
        Question("Least share on the rear axle", share("rear")),
        Question("Front axle rating", kg(m.front_axle_kg)),
        Question("Rear axle rating", kg(m.rear_axle_kg)),
        Question("Permitted total weight", kg(m.machine_kg)),
        Question("May the loader be driven without its bucket?", yes),
        Question("How the loader comes off, and on which stands", None),
        Question("Ballast: how much, with and without the loader", None),
        Question("Front drive: in or out on grass and on hard ground", None),
        Question("Steepest slope, up and across", None),
        Question("Tire pressures for these loads (tire table)", None),
    )


CAUTIONS = (
    (
        "No set-up is called free of danger here, and none is recommended. The manuals, "
        "local rules and qualified people decide."
    ),
    (
        "A loader comes off only as its manual says: level ground, its own stands, "
        "engine off, pressure relieved before a coupler opens."
    ),
    "Nobody under or in front of a raised loader or mower. Bucket down before anyone gets off.",
    "Roll bar up: belt on. Bar folded or none: no belt, and put the bar up again.",
    (
        "An axle or tire over its rating, an axle under the manual's least share, "
        "tires that do not match: stop, call the service department."
    ),
)
LEFT_OUT = (
    "level, still and rigid, two supports: no braking, no turning, no pull, no bumps",
    "nothing in the bucket; fuel and operator as on the day of the scales",
    "the mower as you told it: a deck on its own wheels carries part of itself",
    "soil: no rut, no torn grass, no wear in hours or money is predicted",
    "people: who parks the loader, who hitches it again, and how often",
)
