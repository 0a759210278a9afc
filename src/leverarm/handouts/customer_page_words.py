"""What stands on the page to hand over, worked out once for print and for the browser.

School grade 6 to 8, both unit systems, nothing promised.
"""

import math
from dataclasses import dataclass, replace
from typing import Any

from leverarm import decision, statics
from leverarm.decision import Case
from leverarm.quantities import Refusal, show, show_number
from leverarm.scene import Dimension, Label, Line, Look, Scene, side_view
from leverarm.scene.load_charts import state_rows, states_chart
from leverarm.uncertainty import plus_minus

BLANKS = (
    ("company", "From"),
    ("machine", "Machine"),
    ("date", "Weighed on"),
    ("fuel", "Fuel"),
    ("operator", "Driver on the seat"),
    ("ballast", "Ballast"),
)
MOST_BLANK = 60
MOST_STOPS = 2
CALL = "Call the service department before it works again."
NOT_MEANT = (
    "It says nothing about ruts. Wet ground and many passes matter more.",
    "It makes no slope all right. Your manual sets the limit.",
    "It says nothing about wear, fuel, price or warranty.",
)
CHECKLIST = (
    "Lawn dry enough? On soaked ground, wait.",
    "Loader off as its manual says, on its own stands. Or on, low and empty.",
    "Ballast right for this job.",
    "Tire pressures from the tire table.",
    "Roll bar up: belt on. Bar folded or none: no belt.",
)
MANUAL = (
    "Slopes, up and across",
    "Ballast, with and without loader",
    "Least load on each axle",
    "Taking the loader off",
    "Loader without its bucket",
    "Front drive on grass",
    "Tire pressures",
)
ASSUMED = (
    "Level ground, standing still, bucket empty and low. Nothing else changed between the readings."
)
SCALES_TOLD = "Each ± holds in 95 of 100 cases."
SCALES_NOT_TOLD = "No ± is given: the step and accuracy of the scales were not told."
NO_MOWER_TOLD = "No mower was told: the loads are of the tractor as it stood on the scales."


@dataclass(frozen=True)
class PageWords:
    """Everything the page says and shows, in order.

    blanks      (name, text or "") pairs; note  a line under the title, or ""
    sketch, bars   Scenes, the same as on the screen
    head, rows  the table: on, off, difference; each cell is (kg text, lb text)
    means, not_meant, checklist, manual, working, assumed   sentences
    stops       red lines this machine crosses, as sentences
    """

    title: str
    note: str
    blanks: tuple[tuple[str, str], ...]
    sketch: Scene
    bars: Scene
    head: tuple[str, ...]
    rows: tuple[tuple[Any, ...], ...]
    means: tuple[str, ...]
    not_meant: tuple[str, ...]
    checklist: tuple[str, ...]
    manual: tuple[str, ...]
    working: tuple[str, ...]
    assumed: str
    stops: tuple[str, ...]


def page_words(case: Case, *, system: str = "kg", note: str = "", **about: Any) -> PageWords:
    """PageWords of a Case.

    system      unit system of the sketch; the table and the sentences say both
    about       company=, machine=, date=, fuel=, operator=, ballast=: text; what is not told stays
                a line to fill in
    Raises Refusal for an unknown name or a text too long to fit its line.
    """
    made = {one.key: one for one in decision.states(case)}
    on, off = made["on"], made["loader_off"]
    return PageWords(
        "Mowing: loader on or off?",
        _line(note, "note", 160),
        _blanks(case, about),
        _sketch(on, system),
        _bars(list(made.values()), system),
        ("", "Loader on", "Loader off", "Change"),
        _rows(on, off),
        _means(on, off),
        NOT_MEANT,
        CHECKLIST,
        MANUAL,
        _working(case),
        _assumed(on, off),
        _stops(on, off, system),
    )


def _line(text, field, most):
    """One line of a stranger's text, short enough for its place."""
    text = " ".join(str(text).split())
    if len(text) > most or not text.isprintable():
        raise Refusal(
            field, text or "nothing", f"up to {most} printable characters", "write it shorter"
        )
    return text


def _blanks(case, about):
    unknown = next((name for name in about if name not in dict(BLANKS)), None)
    if unknown:
        raise Refusal("page", unknown, ", ".join(dict(BLANKS)), "use one of these names")
    known = {"machine": case.name}
    if case.ballast is not None:
        kg = case.ballast.weight.value
        known["ballast"] = " = ".join(show(kg, "weight", s, decimals=0) for s in ("kg", "lb"))
    return tuple(
        (label, _line(about.get(key, known.get(key, "")), label, MOST_BLANK))
        for key, label in BLANKS
    )


def _sketch(on, system):
    """The side view of the screen without its dimension lines: a customer asks how heavy, not how
    far.
    """
    scene = side_view(on.case.tractor, on.attachments(), on.level(), look=Look(system))

    def measuring(s):
        return isinstance(s, Dimension) or (isinstance(s, (Line, Label)) and s.role == "muted")

    return replace(
        scene, shapes=tuple(s for s in scene.shapes if not measuring(s)), pad=(1.0, 1.0, 2.6, 0.4)
    )


def _bars(made, system):
    """Everything on, bucket off, loader off: what a customer can choose from."""
    table = decision.Table(made[0].case, tuple(one for one in made if one.key != "all_off"), ())
    return states_chart(state_rows(table), system)


def _both(number, sign=False):
    """A load in both unit systems, each with its plus or minus where one is known."""
    if math.isnan(number.u):
        return tuple(show(number.value, "weight", system, sign=sign) for system in ("kg", "lb"))
    mark = "+" if sign and number.value > 0 else ""
    return tuple(mark + plus_minus(number, "weight", system, brief=True) for system in ("kg", "lb"))


def _assumed(on, off):
    """What the numbers take for granted, and what was not told."""
    mower = on.case.mower
    known = not math.isnan(on.front.u) and not math.isnan(off.front.u)
    return " ".join(
        (
            ASSUMED,
            NO_MOWER_TOLD if mower is None else f"The mower is counted: {mower.words}.",
            SCALES_TOLD if known else SCALES_NOT_TOLD,
        )
    )


def _rows(on, off):
    pick = (("Front axle", "front"), ("Rear axle", "rear"), ("Whole machine", "total"))
    return tuple(
        (
            name,
            _both(getattr(on, key)),
            _both(getattr(off, key)),
            _both(getattr(off, key) - getattr(on, key), sign=True),
        )
        for name, key in pick
    )


def _kg_lb(kg):
    """A load as words, rounded, in both unit systems."""
    return f"{show(abs(kg), 'weight', 'kg', decimals=0)} ({show(abs(kg), 'weight', 'lb')})"


def _means(on, off):
    """Three short sentences with this machine's numbers."""
    front, rear, total = (
        (getattr(off, key) - getattr(on, key)).value for key in ("front", "rear", "total")
    )
    share = show_number(abs(statics.share(front, on.front.value)), 0)
    return (
        (
            f"Loader off: the front axle carries {_kg_lb(front)} "
            f"{'less' if front < 0 else 'more'}. That is {share} % of its load before."
        ),
        f"The machine is {_kg_lb(total)} {'lighter' if total < 0 else 'heavier'}. "
        + (
            "The front loses more than that, as the loader hangs far ahead."
            if front < total
            else "The loader sits between the axles."
        ),
        (
            f"The rear axle carries {_kg_lb(rear)} "
            f"{'more: the loader held it up' if rear > 0 else 'less'}."
        ),
    )


def _working(case):
    """The one equation, with this machine's bucket or loader in it."""
    hung = case.bucket or case.loader
    gain = statics.front_gain(hung.weight.value, hung.ahead.value, case.wheelbase.value)

    def length(m, system):
        return show(m, "length", system)

    lines = [
        f"{show(hung.weight.value, 'weight', s, decimals=0)} × (1 + "
        f"{length(hung.ahead.value, s)} ÷ {length(case.wheelbase.value, s)}) = "
        f"{show(gain, 'weight', s, decimals=0)}"
        for s in ("kg", "lb")
    ]
    return (f"Front axle = weight × (1 + overhang ÷ wheelbase). The {hung.name}:", *lines)


def _stops(on, off, system):
    """The first red lines, each as its first sentence; who to call stands once, on the page."""
    said = [
        f"{state.name}: {sentence.split('. ')[0].rstrip('.')}."
        for state in (on, off)
        for sentence in decision.stops(state, system)
    ]
    return tuple(said[:MOST_STOPS])
