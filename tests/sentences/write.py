"""Write out every sentence that the package makes, in both unit systems, to be read by a person.

    python tests/sentences/write.py          writes tests/sentences/kg.txt and lb.txt
    python tests/sentences/write.py --check  says which of the two is stale

Read what changed (`git diff tests/sentences`) before committing it: the files are here to be read,
not to be right.  What is right is tested elsewhere, by numbers computed another way.

A sentence stands once, where it is first made.  Numbers alone, and the marks of an axis, are left
out.  To have a new panel or message read, add its settings to SECTIONS below.
"""

import re
import sys
import tempfile
import traceback
from dataclasses import replace
from html import unescape
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent))

from at_the_desk import check_section, desk_section

from leverarm import (
    axles,
    ballast,
    decision,
    driveline,
    exercises,
    ground,
    panels,
    stability,
    weighing,
)
from leverarm.exercises.suspects import search_for
from leverarm.figures import FIGURES, figure_files
from leverarm.handouts.customer_page import customer_page, page_html
from leverarm.handouts.page_facts import PageFacts
from leverarm.machine import Attachment, Tractor, demo_loader, demo_tractor
from leverarm.panels import shared
from leverarm.quantities import Refusal, read
from leverarm.weighing.day import weigh_day
from leverarm.weighing.day_file import add_rows
from leverarm.weighing.demo import demo_day
from leverarm.weighing.facts import machine, scale_facts
from leverarm.weighing.readings import weighing as weighing_of
from leverarm.weighing.results import results

HERE = Path(__file__).parent
SYSTEMS = ("kg", "lb")
SEED = 4

# --- a page as it is read -----------------------------------------------------------------------

_BLOCKS = (
    r"</?(?:p|li|ul|ol|tr|table|thead|tbody|caption|div|h\d|dt|dd|label|br"
    r"|svg|title|desc|text|tspan)\b[^>]*>"
)


def lines_of(markup):
    """HTML or SVG as lines of text: a paragraph, an item, a table's row, a picture's label."""
    markup = re.sub(r"<(style|script)\b.*?</\1>", "", markup, flags=re.DOTALL)
    markup = re.sub(r"</t[dh]>\s*<t[dh]\b[^>]*>", " | ", markup)
    text = unescape(re.sub(r"<[^>]+>", "", re.sub(_BLOCKS, "\n", markup)))
    text = re.sub("[\u00a0\u202f]", " ", text)
    return [" ".join(line.split()) for line in text.split("\n") if line.strip()]


def widget_lines(widget):
    """Everything a widget says, top to bottom: controls, choices, what Python filled in."""
    layout = getattr(widget, "layout", None)
    if layout is not None and layout.display == "none":
        return
    for name in ("description", "placeholder"):
        yield from lines_of(getattr(widget, name, "") or "")
    if hasattr(widget, "_options_labels"):
        yield " / ".join(map(str, widget._options_labels))
    if type(widget).__name__ in ("HTML", "HTMLMath", "Label"):
        yield from lines_of(widget.value)
    for child in getattr(widget, "children", ()):
        yield from widget_lines(child)


def told(name, *values):
    """Lines of a section from anything that makes sentences."""
    for value in values:
        if isinstance(value, str):
            yield from lines_of(value)
        elif hasattr(value, "said"):
            yield f"{getattr(value, 'name', '')}: {value.said}"
        elif isinstance(value, (tuple, list)) or hasattr(value, "__next__"):
            for one in value:
                yield from told(name, one)


def refused(*calls):
    """The sentences of calls that must be refused."""
    for call in calls:
        try:
            call()
        except Refusal as refusal:
            yield str(refusal)
        else:
            yield f"!! not refused: call {calls.index(call) + 1}"


# --- what there is to say -----------------------------------------------------------------------


def panel(make, *settings, then=()):
    """A section of a panel: as it opens, locked in where it asks first, and in each setting."""

    def section(system):
        made = make()
        yield from widget_lines(made.widget)
        if getattr(made, "gate", None):
            units = {"weight": "90 kg", "share": "5 %", "length": "1 m", "number": "3"}
            asked = enumerate(made.gate.questions)
            bets = {q.key: f"{('up', 'down')[i % 2]} {units.get(q.kind, '5')}" for i, q in asked}
            yield from refused(made.gate.reveal)
            made.gate.lock_in(**bets)
            yield from widget_lines(made.widget)
            made.gate.reveal()
            yield from widget_lines(made.widget)
            made.gate.explain()
            yield from widget_lines(made.gate.widget)
            made.gate.seen.value = "It moved."
            made.gate.explain()
            yield from widget_lines(made.gate.widget)
        for setting in settings:
            made.set(**setting)
            yield from widget_lines(made.widget)
        for step in then:
            try:
                answer = step(made)
            except Refusal as refusal:
                answer = str(refusal)
            yield from told("", answer if isinstance(answer, (str, tuple, list)) else None)
            yield from widget_lines(made.widget)

    return section


def problems_of(lesson):
    """A section: every kind of a lesson at one seed, with hints, solution and every reply."""

    def section(system):
        shown = set()
        for kind in exercises.problems():
            if kind.lesson == lesson:
                p = exercises.make(kind, SEED, system)
                yield f"[{kind.name}] {kind.title}"
                yield p.statement
                yield from (f"{label}: {text}" for label, text in shown_options(p))
                yield from told("", p.hints)
                yield from (f"{one.words} {one.left}{one.mark}{one.letters}" for one in p.solution)
                yield from replies(p, shown)

    return section


def lessons():
    """Lessons that have problems."""
    return sorted({kind.lesson for kind in exercises.problems()})


def shown_options(problem):
    """(label, text) of what can be chosen."""
    for name, offered in problem.options:
        texts = offered if isinstance(offered, tuple) else (offered,)
        yield name, ", ".join(one if isinstance(one, str) else one[1] for one in texts)


def replies(p, shown):
    """What is said to the right answer, to every wrong one that is known, to what can't be read."""
    style = p.style
    typed = ["", "about right", "1,234", "12 bananas"]
    if style == "choice":
        typed += [label for label, _ in p.options] + ["Z"]
    elif style == "number":
        right = f"{p.answer:.4g}"
        typed += [f"{right} {p.unit}", f"{-p.answer:.4g}", f"{p.answer:.9g}", f"{p.answer:.1g}"]
        typed += [f"{p.answer * 1.0307:.5g}", *known_mistakes(p, shown)]
    elif style == "symbol":
        typed += [str(p.answer), "W", "W*a/L", "W*(1-a/L)", "W/(1+a", "x+1", "a"]
    else:
        typed += [str(p.answer), "F up", "front: up at 0"]
    for one in typed:
        verdict = exercises.check(p, one)
        yield from (verdict.goal, verdict.finding, *verdict.remarks, verdict.question)


def known_mistakes(p, shown):
    """A number for each listed mistake, and for each class of change not shown yet."""
    search = search_for(p.source.method, p.system)
    for turn, value in zip(search.table.turns, search.values(p.drawn.shown)):
        if turn.name not in shown and value == value:
            shown.add(turn.name)
            yield repr(value)


def hand(**more):
    """A small invented machine, worked by hand."""
    sure = {"u_weight": 1, "u_ahead": 0.01}
    parts = {
        "loader": decision.piece("loader frame", 200, 0.3, 0.8, reach=0.9, **sure),
        "bucket": decision.piece("bucket", 100, 1.5, 0.3, reach=2.0, **sure),
        "u_wheelbase": 0.003,
        "u_reading": 1,
        **more,
    }
    return decision.case("Hand-worked tractor", 1.5, 600, 900, 0.7, **parts)


def cases():
    """Cases that make every sentence of the decision come up."""
    yield decision.demo_case()
    yield decision.demo_case("rear", weighed=True)
    yield decision.demo_case("trailed")
    yield decision.demo_case(
        "rear",
        manual=decision.Manual(
            front_least=30,
            rear_least=40,
            front_axle="900 kg",
            rear_axle="900 kg",
            machine="1500 kg",
            bucket_may_come_off=False,
        ),
    )
    yield hand(u_reading=None, bucket=None, job=decision.Job(mowings=1))
    yield hand(loader=decision.piece("loader frame", 200, -0.6), bucket=None)
    yield hand(loader=decision.piece("loader frame", 200, -2.1), bucket=None)
    yield hand(
        mower=decision.Mower("rear", decision.piece("mower", 950, -2.25, 0.6, u_weight=1), None)
    )
    demo = decision.demo_case()
    yield replace(demo, drive=replace(demo.drive, engaged=False), ballast=None)


def decision_section(system):
    for case in cases():
        table = decision.decide(case)
        yield from told("", [setup.name for setup in table.setups])
        for row in table.rows:
            yield " | ".join([row.name(system), *row.cells(system)])
            meaning = row.meaning
            yield from told("", meaning.reason, meaning.confidence, meaning.leaves_out)
        yield from told("", *(decision.stops(setup, system) for setup in table.setups))
        yield from told("", [one.sentence(system) for one in decision.steps(table)])
        for matters in (("front",), ("rear", "front"), ("minutes",), ("total", "front_least")):
            yield from told("", decision.order(table, *matters).sentences(system))
        for one in decision.counters(table, system):
            yield from told("", f"{one.title}: {one.said}")
        for one in decision.manual_questions(case, system):
            yield f"{one.asked}: {one.answer or '(not read yet)'}"
    yield from told("", decision.CAUTIONS, decision.LEFT_OUT)


def claims_section(system):
    answers = (
        "It takes 190 kg off the front axle. It is guaranteed never to rut.",
        "Your manual decides. I can't promise anything.",
        "No idea",
        "99 lb",
        "It puts 190 kg on the rear axle",
    )
    demo, made = decision.demo_case(), list(cases())
    for claim in decision.CLAIMS:
        yield f"[{claim.key}] {claim.said}"
        yield from told("", claim.truth, claim.say)
        for case in made:
            try:
                yield from told("", decision.true_number(claim, case, system))
            except Refusal as refusal:
                yield str(refusal)
        for answer in answers:
            for point in decision.check_answer(answer, claim, demo):
                yield f"{point.name}: {point.said}"
    yield from told("", decision.NEVER_PROMISE, decision.RED_LINES)


def page_days():
    """Weigh days that make every sentence of the page to hand over come up."""
    kg = {"on": (1000, 800), "between": (900, 950), "over": (900, 900), "off": (800, 900)}
    told = {
        "mower": "60 in deck",
        "rear_share_least": 45,
        "model": "MT 25",
        "wheelbase_error": "3 mm",
        "ratings": {"front": "950 kg"},
    }
    full = scale_facts("1 kg", "0.5 %", "2 kg", placed="every wheel")
    for on in ("on", "between", "over"):
        for also, machine_told, scales, unchanged in (
            (("loader frame", "ballast"), told, full, True),
            ((), {}, scale_facts(placed="moved"), None),
            ((), told, scale_facts("2 lb", placed="moved"), False),
        ):
            rows = [weighing_of((*also, "bucket"), *kg[on], "kg")]
            rows.append(weighing_of(also, *kg["off"], "kg"))
            meadow = machine("Meadow tractor", 1.5, **machine_told)
            yield weigh_day(meadow, "2026-10-14", scales, rows, unchanged=unchanged)


def customer_section(system):
    days = list(page_days())
    front = [replace(row, rear=None) for row in days[0].rows]
    made = [PageFacts.from_results(results(day)) for day in (demo_day(), *days)]
    made += [
        PageFacts.from_results(results(replace(days[0], rows=tuple(front)), **told))
        for told in ({}, {"weight": "100 kg"}, {"ahead": "1.5 m"})
    ]
    frames = [replace(row, setup=row.setup and ("loader frame",)) for row in days[1].rows]
    frame = replace(days[1], rows=tuple(frames))
    made.append(PageFacts.from_results(results(frame, "loader frame")))
    for facts in made:
        text = page_html(facts, system=system)
        yield from lines_of(text)
        yield from re.findall(r'aria-label="([^"]*)"', text)


def core_section(system):
    tractor, loader = demo_tractor(), demo_loader()
    bucket = loader[1]
    heap = Attachment("load", "1200 kg", "1.20 m")
    mower = Attachment("mower", "1200 kg", "-2.75 m")
    for piece in (heap, mower):
        yield axles.predict(tractor, piece).lift.sentence(system)
    for need in (
        ballast.steering_need(tractor, ahead="0.60 m"),
        ballast.steering_need(tractor, Attachment("mower", 700, -2.75), ahead="0.60 m", share=25),
        ballast.rear_need(tractor, *loader, Attachment("load", 500, 1.25), behind="0.90 m"),
        ballast.rear_need(tractor, *loader, behind="0.90 m", share=25, base="unladen"),
    ):
        yield need.sentence(system)
    limits = {"front_axle": 900, "rear_axle": 900, "machine": 3000, "front_tire": 400}
    for loads in (axles.AxleLoads(980, 640), axles.AxleLoads(500, 640)):
        yield from (one.sentence(system) for one in ballast.limit_checks(loads, **limits))
        yield from (one.sentence(system) for one in ballast.limit_checks(loads))
    readings = {"wheelbase": 1.65, "u_reading": 2, "u_wheelbase": 0.003}
    for after in ((790, 720), (410, 880), (690, 860), (604, 798)):
        yield weighing.infer((600, 800), after, name="fork", **readings).sentence(system)
    yield weighing.infer((600, None), (790, None), weight=110, u_weight=1, **readings).sentence(
        system
    )
    yield from told("", getattr(stability, "SIDE_FORCE", ""), driveline.CAUTIONS, ground.LIMITS)
    yield from told("", [driveline.lead_verdict(lead) for lead in (-2.0, 0.0, 0.5, 3.0, 4.9, 9.0)])
    made = ground.demo_patch()
    light = ground.ContactPatch("30 cm", "20 cm", 1.0, 100, "160 kPa")
    yield from told("", made.remark(system), light.remark(system))
    del bucket


def refusals_section(system):
    tractor, bucket = Tractor("Hand-worked tractor", 1.5, 600, 900, 0.7), demo_loader()[1]
    kinds = ("weight", "length", "angle", "share", "pressure", "number")
    typed = ("", "abc", "12,34,5", "1,234", "5 bananas", "-3", "1e99", "3 4")
    for kind in kinds:
        for text in typed:
            try:
                read(text, kind, f"{kind} of something", 0, 1000)
            except Refusal as refusal:
                yield str(refusal)
    yield from refused(
        lambda: Tractor("", 1.5, 600, 900),
        lambda: Tractor("x", 0, 600, 900),
        lambda: Tractor("x", 1.5, -1, 900),
        lambda: Attachment("bucket", 0, 1),
        lambda: Attachment("bucket", 10, 40),
        lambda: axles.predict(tractor, bucket, grade_deg=60),
        lambda: axles.predict(tractor, Attachment("fork", 50, 1), grade_deg=5),
        lambda: axles.predict("tractor"),
        lambda: axles.predict(tractor, [bucket]),
        lambda: ballast.steering_need(tractor, ahead=-1.5, share=60),
        lambda: ballast.rear_need(tractor, behind=0.5, base="moon"),
        lambda: ballast.rear_need(tractor, Attachment("mower", 2000, -2.75), behind=0.5),
        lambda: ballast.cancel(tractor, Attachment("mower", 100, -1.5), behind=0.9),
        lambda: weighing.infer((600, 800), (600, 800), 1.65),
        lambda: weighing.infer((600, None), (700, None), 1.65),
        lambda: weighing.infer((600, 800), (700, 780), 1.65, weight=90),
        lambda: weighing.infer((600,), (700, 780), 1.65),
        lambda: decision.Job(surface="ice"),
        lambda: decision.Job(loader_minutes=0),
        lambda: decision.Manual(front_least=120),
        lambda: decision.Mower("sideways", None, None),
        lambda: decision.order(decision.decide(decision.demo_case())),
        lambda: decision.order(decision.decide(decision.demo_case()), "front_share"),
        lambda: decision.decide(decision.demo_case()).value("front", "flying"),
        lambda: decision.check_answer("", decision.CLAIMS[0], decision.demo_case()),
        lambda: driveline.Drive(1.0, 2.75, 1.39, 1.65),
        lambda: exercises.make("nothing", 1),
        lambda: exercises.make("front_gain", 1, "st"),
        lambda: shared.set(system="st"),
        lambda: panels.arms_up().set(load="much"),
        lambda: panels.arms_up().set(color=1),
    )


def figures_section(system):
    for name in FIGURES:
        for text in figure_files(name).values():
            yield from lines_of(text)


def record_of_demo(folder):
    """The invented weigh day as if it were somebody's own, in a folder of weigh days."""
    add_rows(replace(weighing.demo_day(), invented=False), folder=Path(folder) / "weigh_days")
    return Path(folder) / "weigh_days"


def at_record(make):
    """A section of a panel that looks at a record: without one, and with the invented one."""

    def section(system):
        with tempfile.TemporaryDirectory() as folder:
            yield from panel(lambda: make(Path(folder) / "none"))(system)
            yield from panel(lambda: make(record_of_demo(folder)))(system)

    return section


def role_play_steps():
    said = ("", "About 190 kg off the front axle, but your manual decides.", "It saves your tires.")
    for claim in decision.CLAIMS:
        yield lambda made, key=claim.key: made.go(key)
        for text in said:
            yield lambda made, text=text: made.answer(text)


def exercise_steps(p):
    right = f"{p.answer:.4g} {p.unit}"
    yield lambda made: made.hint()
    for text in ("", "nonsense", f"{2 * p.answer:.4g}", right):
        yield lambda made, text=text: made.answer(text)


def worked_steps():
    for stage in (1, 2, 3, 4):
        yield lambda made, stage=stage: made.go(stage)
        yield lambda made: made.check()


def staged(make, *steps):
    """A section of a picture that moves: as it asks, then after each step of the reader."""

    def section(system):
        made = make()
        for step in (lambda one: None, *steps):
            step(made)
            yield from lines_of(made._shown_html)

    return section


SECTIONS = {
    "core": core_section,
    "decision": decision_section,
    "claims": claims_section,
    "customer page": customer_section,
    "refusals": refusals_section,
    "figures": figures_section,
    **{f"problems of lesson {n}": problems_of(n) for n in lessons()},
    "stage two pivots": staged(
        panels.pivot_stage,
        lambda made: made.lock_in(answer="grow"),
        lambda made: made.check(),
        lambda made: made.hint(),
        lambda made: made.draw_body(exercises.make("body_bucket", 1).answer),
        lambda made: made.explain("It stays."),
        lambda made: made.free(),
        lambda made: made.move(pivot=0.0),
        lambda made: made.move(pivot=30.0),
    ),
    "stage how sure": staged(
        panels.sure_stage,
        lambda made: made.lock_in(off="3 lb"),
        lambda made: made.weigh(12),
        lambda made: made.show_band(),
        lambda made: made.explain("They gather."),
        lambda made: made.free(),
    ),
    "panel more about trust": panel(
        panels.sure_more,
        then=[
            lambda made, topic=topic: setattr(made.topic, "value", topic)
            for topic in ("causes", "shared", "help", "limit")
        ],
    ),
    "stage claim": staged(
        panels.claim_stage,
        lambda made: made.lock_in("contradicted", "It lies outside."),
        lambda made: made.explain("It lies outside."),
    ),
    "panel claim sorting": panel(
        panels.claim_sorting,
        then=[lambda made: made.sort("backed", "sound"), lambda made: made.next()],
    ),
    "stage arms": staged(
        panels.arms_stage,
        lambda made: made.lock_in(front="0 lb", rear="0 lb"),
        lambda made: made.explain("The front gained."),
        lambda made: made.free(),
    ),
    "stage ballast": staged(
        panels.ballast_stage,
        lambda made: made.lock_in(front="0 lb", rear="+520 lb"),
        lambda made: made.explain("The rear gained more."),
        lambda made: made.free(),
    ),
    "stage set-ups": staged(
        panels.setups_stage,
        lambda made: made.lock_in(front="-520 lb"),
        lambda made: made.explain("The front gained."),
        lambda made: made.free(),
        lambda made: made.choose("bucket_off"),
    ),
    "panel both sides": panel(
        lambda: panels.both_sides("12"),
        then=[
            lambda made: made.write(off="", on="It is needed at noon."),
        ],
    ),
    "stage under tire": staged(
        panels.tire_stage,
        lambda made: made.lock_in(pressure="+10 psi", reach="same"),
        lambda made: made.explain("The patch grew."),
        lambda made: made.free(),
    ),
    "stage lead": staged(
        panels.lead_stage,
        lambda made: made.lock_in(lead="up", turn="fits"),
        lambda made: made.explain("It came out short."),
        lambda made: made.free(),
    ),
    "stage slopes": staged(
        panels.slopes_stage,
        lambda made: made.lock_in(front="+300 lb", rear="-400 lb", brakes="more"),
        lambda made: made.explain("The rear lost more."),
        lambda made: made.free(),
    ),
    "stage strip": staged(
        panels.strip_stage,
        lambda made: made.lock_in(front="-460 lb"),
        lambda made: made.explain("The frame took more."),
        lambda made: made.free(),
    ),
    "panel strip down": panel(
        panels.strip_down,
        {"bucket": 40},
        {"bucket_ahead": -0.4},
        {"frame": 400, "frame_ahead": -0.5},
    ),
    "panel arms up": panel(
        panels.arms_up,
        {"load": 0},
        {"load": 300, "height": 1.2},
        {"load": 900},
        {"counterweight": 400},
    ),
    "panel sideways": panel(panels.sideways, {"slope": 0}, {"slope": 15}, {"slope": 35}),
    "panel counterweight": panel(
        panels.counterweight,
        {"load": 0},
        {"load": 600},
        {"weight": 600},
        {"weight": 600, "distance": 2},
    ),
    "panel contact patch": panel(panels.contact_patch, {"load": 100}),
    "panel under tire": panel(
        panels.under_tire, {"on": 400, "off": 700}, {"inflation": "60 kPa"}, {"factor": 6}
    ),
    "panel roll out": panel(panels.roll_out, {"free": 13.5}, {"free": 14}),
    "panel front lead": panel(
        panels.front_lead,
        {"radius": 15},
        {"front": 1.9},
        {"front": 2.1},
        {"squash": 0.03},
        then=[lambda made: setattr(made.switch, "value", False)],
    ),
    "panel weigh day": panel(
        lambda: panels.weigh_day(gated=False),
        then=[
            lambda made: made.invent(),
            lambda made: made.attempt(lambda: made.write_down("bare", "1320", "1760")),
        ],
    ),
    "panel setup errors": panel(
        panels.setup_errors,
        then=[
            lambda made: made.switch(fuel=True),
            lambda made: (
                made.switch(**dict.fromkeys(made.errors_by_name, True))
                if hasattr(made, "errors_by_name")
                else ""
            ),
        ],
    ),
    "panel claim audit": panel(
        panels.claim_audit,
        then=[
            lambda made, said=said: made.say(said)
            for said in ("a third", "twice its weight", "doubles", "40 percent", "200 kg", "a lot")
        ],
    ),
    "panel mow or unhook": panel(
        panels.mow_or_unhook,
        {"front_least": 60},
        then=[
            lambda made: setattr(made.reasons, "value", True),
            lambda made: setattr(made.part, "value", "everything"),
            lambda made: made.set(slope=12),
            lambda made: made.set(bucket=30, bucket_ahead=0.5),
            lambda made: made.set(mowings=1),
            lambda made: setattr(made.sources, "value", "typed"),
            lambda made: made.set(wheelbase=1.5, front=600, rear=900, frame=200, frame_ahead=0),
            lambda made: setattr(made.mowers, "value", "mid"),
        ],
    ),
    "panel bets": at_record(panels.bets),
    "panel readings in": at_record(panels.readings_in),
    "panel weigh record": at_record(panels.weigh_record),
    "panel machine and scales": at_record(panels.machine_and_scales),
    "panel compare days": at_record(panels.compare_days),
    "panel claim cards": panel(
        lambda: panels.claim_cards(case=decision.demo_case()),
        then=[
            step
            for n in range(1, 12)
            for step in (
                lambda made, n=n: made.go(n),
                lambda made: made.lock_in("false"),
            )
        ],
    ),
    "panel role play": panel(
        lambda: panels.role_play(case=decision.demo_case()), then=list(role_play_steps())
    ),
    "panel hand over": panel(
        lambda: panels.hand_over(customer_page, Path("nowhere")),
    ),
    "panel exercise": lambda system: panel(
        lambda: panels.exercise("front_gain", SEED),
        then=list(exercise_steps(exercises.make("front_gain", SEED, system))),
    )(system),
    "panel worked example": lambda system: panel(
        lambda: panels.worked_example("front_gain", SEED), then=list(worked_steps())
    )(system),
    "panel tally": panel(
        lambda: panels.tally("Which way?", ["up", "down", "stays"], "A"),
        then=[
            lambda made: made.count(A=3, B=10),
            lambda made: made.count("second", A=17),
            lambda made: made.show_right(),
        ],
    ),
    "panel practice": panel(panels.practice),
    "instructor's desk": desk_section(lines_of, widget_lines),
    "concept check": check_section(lines_of, widget_lines),
}


# --- the files ----------------------------------------------------------------------------------


def worth_reading(line):
    """Numbers alone, marks of an axis and single letters are no sentence."""
    return re.search(r"[A-Za-z]{2}", re.sub(r"\b(kg|lb|in|ft|psi|kPa|cm|mm|min|deg)\b", "", line))


def written(system, sections=SECTIONS):
    """The file of a unit system, or some of its sections as they stand alone."""
    seen, out = set(), [f"Every sentence the package makes, in {system}. Written by write.py."]
    before = shared.system, shared.large
    try:
        for name, section in sections.items():
            shared.set(system=system, large=False)
            out += ["", f"## {name}", ""]
            for line in lines_so_far(name, section, system):
                if worth_reading(line) and line not in seen:
                    seen.add(line)
                    out.append(line)
    finally:
        shared.set(system=before[0], large=before[1])
    return "\n".join(out) + "\n"


def lines_so_far(name, section, system):
    """Lines of a section; what fails in it is said in its place, and the rest is written."""
    try:
        for line in section(system):
            yield " ".join(re.sub("[\u00a0\u202f]", " ", line).split())
    except Exception as error:
        at = traceback.extract_tb(error.__traceback__)[-1]
        where = f"{Path(at.filename).name}:{at.lineno}"
        yield f"!! {name} failed in {where}: {type(error).__name__}: {error}"


def look(word):
    """Print the sections with a word in their name, in both unit systems, and write nothing."""
    chosen = {name: section for name, section in SECTIONS.items() if word in name}
    for system in SYSTEMS:
        print(written(system, chosen))


def main(check=False):
    """Write the files, or say which is stale."""
    stale = []
    for system in SYSTEMS:
        path, text = HERE / f"{system}.txt", written(system)
        if check:
            stale += [path.name] if not path.is_file() or path.read_text("utf-8") != text else []
        else:
            path.write_text(text, "utf-8", newline="\n")
        for line in text.splitlines():
            if line.startswith("!!"):
                print(f"{system}: {line}")
    if stale:
        print(f"stale: {', '.join(stale)}; run python tests/sentences/write.py and read the change")
    return bool(stale)


if __name__ == "__main__":
    words = [word for word in sys.argv[1:] if word != "--check"]
    sys.exit(look(" ".join(words)) if words else main("--check" in sys.argv))
