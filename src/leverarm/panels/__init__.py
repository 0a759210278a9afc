"""Sliders and answer boxes: views without physics, each with a code twin.

begin(*, system=None, large=None)      the set-up cell of a notebook; system "lb" or "kg"
choose_units(system)                   the units of everything from now on, remembered in the folder
shared.set(system=, large=)            what all panels of the notebook follow

tractor_stage(tractor=None, piece=None)   the piece goes on, on the stage: .lock_in(front=, rear=)
                                          .explain("...") .free() .again() .result .said .seen
arms_stage(tractor=None, loader=None, load="600 lb")      the arms rise: as tractor_stage
ballast_stage(tractor=None, ballast=None, *, held=None)   ballast goes on behind: as tractor_stage
slopes_stage(tractor=None, loader=None, load="450 lb")    held on a grade, on paper only:
                                          .lock_in(front=, rear=, brakes=) .move(grade=10) .result

strip_stage(tractor=None, pieces=None)    the loader comes off piece by piece: .lock_in(front=)
                                          .explain("...") .free() .loaded .bare .said

yard_stage(case=None)     four pads read without and with a piece: .lock_in(weight=, overhang=)
                          .explain("...") .free() .said
sure_stage(case=None)     a piece weighed day after day: .lock_in(off="3 lb")
                                          .weigh(10) .show_band() .explain("...") .said .days
sure_more()               few readings, causes, shared errors, what helps: .topic.value = "few"
claim_stage(case=None)    a claim beside the band of the readings: .lock_in("contradicted", "...")
                                          .explain("...") .pile .reason
claim_sorting(seed=1)     claims on cards, into four piles: .sort("backed", because="inside")
                                          .next() .piles .cards
tire_stage(tractor=None, loader=None, patch=None)   the ground under a front tire, on the stage:
                                          .lock_in(pressure=, reach=) .explain("...") .free()
                                          .move(gauge=15) .result
lead_stage(drive=None)    front drive, loader off and on, in a turn: .lock_in(lead=, turn=)
                          .explain("...") .free() .move(radius=21.5) .result

pivot_stage(tractor=None, piece=None)   the other pivot, a free body on the board, both answers:
                         .lock_in(answer="stay") .draw_body("body: ...") .explain("...") .free()
solve_reaction(lesson="")   solve for one reaction in letters: .solve("R", "front axle", "...")
derived(*derivations)       the steps of statics.derive(), typeset

after_why(stage, panels.exercise, "front_gain")   a panel that opens once why was read: .panel
exit_question(lesson)     a question to answer in a sentence, and one to compare with: .write("...")

hunch()                   what each axle will do, kept, not answered: .lock_in(front=, rear=)
hunch_again()             that hunch beside what scales say: .said
both_sides(lesson)        reasons for each side, kept before any number: .write(off=, on=)

setups_stage(case=None)   four set-ups of a machine, on the stage: .lock_in(front=)
                          .explain("...") .free() .choose("loader_off") .setups .chosen

ready(), first_slider()                is this machine ready; the smallest panel there is

contact_patch(made=None)   outline, load and gauge pressure to mean pressure: .made is the
                         ground.ContactPatch
under_tire(made=None)    stress with depth under a front tire, loader off and on, by the soil
    numbers: off, on, inflation, factor; .off .on are ground.Contacts
roll_out()               turns counted to a lead with its uncertainty: .counted
front_lead()             what slips and wears while a lawn is mowed
    numbers: front, rear, ratio, squash, radius, width, exponent; .off .on are driveline.Drives

arms_up(tractor=None, loader=None, *, gated=False)   the loader along its lift: .lift_point .lowest
.limits
    numbers: load, height, front, rear, counterweight
sideways(tractor=None, loader=None, stance=None, *, gated=False)   across a slope: .tilt .low_tilt
counterweight(tractor=None, loader=None, *, gated=False)  ballast and ratings: .before .after .rear
.steering .limit_checks
    numbers: load, weight, distance

exercise(kind, seed=None, *, system=None)            exercise box: .answer("190 kg") -> Verdict
.hint() .new() .problem .attempts
worked_example(kind, seed=1)      fades, a stage for each step: .answer(step, result=,
principle=) .check() .next() .go(2)
tally(question, options, right)                      show of hands: .count(A=3, B=10)
.count("second", B=17) .show_right()

strip_down(tractor=None, pieces=None)     the loader off piece by piece: .steps(axle)
.percents .loaded
    numbers: bucket, bucket_ahead, frame, frame_ahead
machine_and_scales(place)    a machine made once, its scales, the day: .tell(name=, wheelbase=,
                             step=) .keep() .day
weigh_day(place, *, gated=True)     bets, readings as the wheels stand, result: .write_down("bare",
                             "1320", ("880", "880")) .result .forecast .day
weigh_record(place, *, day=None)    the rows of a day and the fit of its set-ups: .correct(row=5,
                             front="1320") .fit
compare_days(place)          two machines or two days side by side: .compare(name, other)
setup_errors()                     what goes wrong in the yard, as switches: .switch(fuel=True)
                                   .errors .effects
claim_audit(claim="twice its weight", place)   a spoken claim against the readings: .say("a third")
                             .result

mow_or_unhook(case=None, *, record=, gated=True)   the decision, all set-ups side by side: .case
.table .matters
    numbers: wheelbase, front, rear, height, bucket, bucket_ahead, frame, frame_ahead, ballast,
    ballast_behind, mower, mower_ahead,
    at_work, slope, bucket_minutes, loader_minutes, ballast_minutes, mowings, front_least,
    rear_least
bets(record)             three bets before the weighing: .gate.lock_in(machine=, front=, rear=)
                         .gate.reveal() .changes
readings_in(record)      the four set-ups into today's file: .put_in(front="1019", rear="700",
                         setup="loader frame + bucket")
claim_cards(record)      spoken claims one by one: .go(3) .lock_in("half true") .undo() .next()
role_play(record)        an answer held against the readings: .go("twice") .answer("About 190 kg off
                         the front axle.")
hand_over(make, record)  the page to hand over; make is handouts.customer_page: .fields["dealer"]
                         .write(folder)

homework(folder=".", ticket=None)    a student's homework: .start(code, key) .answer("190 kg")
                                     .hint() .again() .next() .go(3)
practice()                         the same with an invented ticket; nothing is kept
how_read()                         how a typed answer is read: .read("12,5 kg")
desk(folder="my_class", print_tickets=None)   the instructor's desk, four panels: .codes .choose
                                              .marks .names;
                                              print_tickets=handouts.tickets.print_tickets
    .codes.start(24) .choose.choose("front_gain") .choose.write() .marks.mark("Week 3")
    .names.join()
concept_check(folder=".")            twelve questions before and after: .start(code, key) .mark("C")
concept_check_desk("my_class")       forms, slips, and what the class gained: .write() .read()
marked(result)                     a marked class to look at, wrong turns first

A new panel is one line in _PARTS below.

For a panel of your own
    class Panel                        define build() -> widgets and draw(); put Number controls
                                       into
                                       self.numbers inside build(); .values, .set(name="110 kg",
                                       system="lb"),
                                       .system, .large, .key (unique on the page), .redraw(),
                                       .attempt(call)
    Gate([GateQuestion(key, label, kind)], *, on_change=, why=, system=)   predict before reveal:
    .widget .hidden .predictions
                                       .lock_in(front="up 190 kg", rear="down 80 kg") .reveal()
                                       .again()
    class Gated(Panel)                 a Panel with a gate: name its questions and why, put
                                       gate_parts() into build();
                                       .hidden, .predictions, .restore()
    Number(label, kind, value, low, high, *, on_change=None, step=None, decimals=None, slider=True,
    reach=None)
                                       number box then slider; .value (base unit), .widget,
                                       .lock(True)
    choice(label, options, value=FIRST, *, on_change=None)   radio buttons; value None chooses
    nothing
    dropdown(label, options, value=FIRST, *, on_change=None)   a drop-down list
    text_box(label, *, placeholder="", on_change=None)      a line of text
    button(text, action, *, primary=False); row(*widgets); grid(*widgets); split(left, right)
    html(text="", *classes); set_if_changed(widget, value); show_if(condition, *widgets);
    html_table(head, rows)
    picture_html(scene, panel, name="")   a scene or chart as HTML for widgets.HTML, at the panel's
                                          type size
                                       (html classes: "lv-say" is read aloud when it changes, "lv-
                                       error" at once)
"""

import sys
from importlib import import_module
from types import ModuleType

# Each module and what it gives.  A notebook loads only the panels it asks for.
_PARTS = {
    "arms_stage": "arms_stage",
    "arms_up": "arms_up",
    "base": "Panel button grid html html_table picture_html row set_if_changed shared show_if "
    "split",
    "begin": "begin first_slider ready",
    "both_sides": "both_sides",
    "claim_sorting": "claim_sorting",
    "claim_stage": "claim_stage",
    "class_lesson": "class_lesson",
    "class_view": "class_view",
    "concept_check": "concept_check",
    "concept_desk": "concept_check_desk imagined_check_panel",
    "controls": "Number choice dropdown text_box",
    "counterweight": "counterweight",
    "decision": "mow_or_unhook",
    "desk": "desk",
    "desk_marks": "marked",
    "exercise": "exercise",
    "gate": "Gate Gated GateQuestion",
    "homework": "homework practice",
    "how_read": "how_read",
    "hunch": "hunch hunch_again",
    "lead": "front_lead roll_out",
    "machine_facts": "machine_and_scales",
    "on_stage": "after_why",
    "pivot_stage": "pivot_stage",
    "plank_stage": "own_plank plank_stage",
    "solve_reaction": "derived solve_reaction",
    "trainer": "bets hand_over readings_in",
    "setups_stage": "setups_stage",
    "slopes": "sideways",
    "slopes_stage": "slopes_stage",
    "spoken": "claim_cards role_play",
    "yard_stage": "yard_stage",
    "strip_down": "strip_down",
    "strip_stage": "strip_stage",
    "sure_more": "sure_more",
    "sure_stage": "sure_stage",
    "tally": "class_poll tally",
    "tractor_stage": "ballast_stage tractor_stage",
    "tire_stage": "tire_stage",
    "lead_stage": "lead_stage",
    "under_tire": "contact_patch under_tire",
    "unit_choice": "choose_units remembered_units",
    "weigh_day": "weigh_day",
    "weigh_day_claims": "claim_audit",
    "weigh_day_record": "compare_days weigh_record",
    "weigh_day_setup": "setup_errors",
    "worked_example": "worked_example",
    "written": "exit_question",
}
_HOME = {name: module for module, names in _PARTS.items() for name in names.split()}

__all__ = sorted(_HOME)  # noqa: PLE0605 - derived from the table above, so no name is listed twice


class _Panels(ModuleType):
    """This package, its panels loaded when first asked for.

    A panel and its module may share a name; the name stays the panel's.
    """

    def __getattr__(self, name):
        if name not in _HOME:
            raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
        found = getattr(import_module(f"{__name__}.{_HOME[name]}"), name)
        super().__setattr__(name, found)
        return found

    def __setattr__(self, name, value):
        # Importing a module writes it into its package; here the panel of that name must not be
        # hidden.
        if not (name in _HOME and isinstance(value, ModuleType)):
            super().__setattr__(name, value)

    def __dir__(self):
        return [*super().__dir__(), *_HOME]


sys.modules[__name__].__class__ = _Panels
