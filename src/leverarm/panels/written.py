"""A question to be answered in a sentence, and a sentence to compare with afterward."""

from collections.abc import Mapping
from functools import cache
from html import escape
from types import MappingProxyType

import ipywidgets as w

from leverarm import ballast, stability, statics
from leverarm.axles import predict, shares
from leverarm.data import toml_file
from leverarm.decision import demo_case, setups
from leverarm.driveline import demo_drive
from leverarm.ground import demo_patch
from leverarm.machine import demo_ballast, demo_loader, demo_tractor
from leverarm.panels.arms_stage import DEMO_LOAD
from leverarm.panels.base import Panel, button, html, set_if_changed, show_if
from leverarm.panels.lesson_work import MOST_LETTERS, as_sentence, keep_work, kept_work
from leverarm.quantities import Refusal, show, show_number
from leverarm.stage.backed_case import FACTOR_PLACES, crew_bucket
from leverarm.stage.lead_case import LeadCase
from leverarm.stage.sure_case import crew_forks
from leverarm.stage.under_tire_case import UnderTireCase
from leverarm.stage.yard_case import YardCase
from leverarm.uncertainty import plus_minus, raised_to_print
from leverarm.uncertainty.separate import K


@cache  # the same for every page of a lesson, and a sixth of a second to work out
def demo_numbers(system: str) -> Mapping[str, str]:
    """The demo tractor's changes in whole units, for the words of a lesson.

    bucket, frame       what each weighs;  bucket_front, bucket_rear, frame_front  what each does
    loader_front        what both together do to the front axle;  loader_front_pm  the same with ±
    ballast, ballast_front, ballast_rear    the same of the ballast behind
    ballast_cancels     what takes as much off the front as the bucket adds there
    front_bare, front_loaded    what the front reads with neither, and with both
    bucket_of_bare, bucket_of_loaded    bucket_front in percent of each
    forks, forks_ahead  weight and overhang of the pallet forks;  forks_front, forks_rear  what they
                        add to the front axle and take off the rear
    arms_moved          what goes from the rear to the front as the loaded arms rise to level
    level_front, level_rear     what the axles carry then
    and what readings that are off a little say of the forks, of _weighed_numbers;
    of tire and front drive what _tire_numbers and _drive_numbers tell
    """
    tractor, behind, (frame, bucket) = demo_tractor(), demo_ballast(), demo_loader()
    on, alone, hung = shares(tractor, bucket, frame, behind)
    past = -behind.ahead_m - tractor.wheelbase_m
    kg = {
        "bucket": bucket.weight_kg,
        "frame": frame.weight_kg,
        "bucket_front": on.front_kg,
        "bucket_rear": -on.rear_kg,
        "frame_front": alone.front_kg,
        "loader_front": on.front_kg + alone.front_kg,
        "ballast": behind.weight_kg,
        "ballast_front": -hung.front_kg,
        "ballast_rear": hung.rear_kg,
        "ballast_cancels": ballast.cancel(tractor, bucket, past).counterweight.weight_kg,
        "front_bare": tractor.front_kg,
        "front_loaded": tractor.front_kg + on.front_kg + alone.front_kg,
    }
    told = {name: show(value, "weight", system, decimals=0) for name, value in kg.items()}
    told["loader_front_pm"] = _loader_relief(system)
    for name in ("bare", "loaded"):
        percent = statics.share(on.front_kg, kg[f"front_{name}"])
        told[f"bucket_of_{name}"] = f"{show_number(percent, 0)} percent"
    read = _forks(YardCase(tractor.wheelbase_m, system=system))
    rolling = {**_tire_numbers(system), **_drive_numbers(system)}
    weighed = {**_arms(system), **_weighed_numbers(system)}
    return MappingProxyType({**told, **read, **weighed, **rolling})


def _arms(system: str) -> dict[str, str]:
    """What the demo loader does to the axles from arms low to arms level."""
    tractor, loader = demo_tractor(), stability.demo_arms()
    low, level = (
        stability.lift_point(tractor, loader, deg, DEMO_LOAD).loads
        for deg in (loader.lowest_deg, 0)
    )
    kg = {
        "arms_moved": level.front_kg - low.front_kg,
        "level_front": level.front_kg,
        "level_rear": level.rear_kg,
    }
    return {name: show(value, "weight", system, decimals=0) for name, value in kg.items()}


def _forks(read: YardCase) -> dict[str, str]:
    """What eight readings say of the pallet forks, rounded as the picture shows it."""
    (weight, ahead), (gain, loss) = read.hung, read.changes
    numbers = {"forks": weight, "forks_front": gain, "forks_rear": -loss}
    told = {name: read.units.show_weight(number) for name, number in numbers.items()}
    return {**told, "forks_ahead": read.units.show_length(ahead)}


def _weighed_numbers(system: str) -> dict[str, str]:
    """What the crew's readings say of the forks and of the bucket, each with its ±.

    forks_sure, ahead_sure, ahead_calculator    weight, overhang, and that as a calculator shows it
    weight_off, weight_wide     how far off the weight is, and the ± that is printed
    read_front, read_rear, read_weight, read_times      of the bucket, as it was weighed
    """
    forks, bucket = crew_forks(system=system), crew_bucket(system=system)
    off, wide = (number * forks.u_at_first("weight") for number in (1, K))
    places = forks.error_step[1]
    told = {
        "forks_sure": forks.show_plus_minus("weight", off),
        "ahead_sure": forks.show_plus_minus("ahead", forks.u_at_first("ahead")),
        "ahead_calculator": f"{show_number(forks.truth.value('ahead'), 4)} {forks.unit('ahead')}",
        "weight_off": f"{show_number(off, places)} {forks.unit('weight')}",
        "weight_wide": f"{show_number(raised_to_print(wide, 0), 0)} {forks.unit('weight')}",
        "read_times": show_number(bucket.read.value("factor"), FACTOR_PLACES),
    }
    for result in ("front", "rear", "weight"):
        told[f"read_{result}"] = bucket.show_plus_minus(result, bucket.u)
    return told


def _loader_relief(system: str) -> str:
    """What taking the demo loader off takes off the front axle, with its ±."""
    every, *_, loader_off, _ = setups(demo_case())
    return plus_minus(every.front - loader_off.front, "weight", system, brief=True)


def _tire_numbers(system: str) -> dict[str, str]:
    """What a loader does under a front tire, and what its absence does.

    patch_more, pressure_more, soft_more    percent that the contact patch grows, and the pressure
                on hard and on soft ground;  on_pressure  the pressure then
    load_less, pressure_less                percent that load and pressure fall without the loader
    """
    loads = predict(demo_tractor()), predict(demo_tractor(), *demo_loader())
    bare_kg, on_kg = (one.front_kg for one in loads)
    case = UnderTireCase(bare_kg, on_kg, demo_patch(), system)
    bare, on, soft = case.bare(), case.loaded(), case.loaded(1.0)
    percent = {
        "patch_more": statics.share(on.area_m2 - bare.area_m2, bare.area_m2),
        "pressure_more": statics.share(on.pressure_kpa - bare.pressure_kpa, bare.pressure_kpa),
        "soft_more": statics.share(soft.pressure_kpa - bare.pressure_kpa, bare.pressure_kpa),
        "load_less": -statics.share(bare.load_kg - on.load_kg, on.load_kg),
        "pressure_less": -statics.share(bare.pressure_kpa - on.pressure_kpa, on.pressure_kpa),
    }
    told = {name: f"{show_number(value, 0)} percent" for name, value in percent.items()}
    return {**told, "on_pressure": case.show(on.pressure_kpa, "pressure")}


def _drive_numbers(system: str) -> dict[str, str]:
    """What a loader and a tight turn do to the front drive.

    lead_on         the lead with the loader on;  tight  the radius of the turn
    turn_short, turn_own    percent that the front is short there, of the rear's path and of its own
    front_way       what the front axle has to travel
    fits_off, fits_on       the turn in which nothing slips
    """
    case = LeadCase(demo_drive(), system=system)
    turn = case.turn(case.start["radius"], case.start["squash"])
    return {
        "lead_on": show_number(turn.lead_on, 1),
        "tight": case.show_turn(case.radius_m),
        "turn_short": show_number(-turn.short_off, 1),
        "turn_own": show_number(-turn.own_off, 1),
        "front_way": case.show_track(turn.way),
        "fits_off": case.show_turn(case.fits_m(turn.lead_off)),
        "fits_on": case.show_turn(case.fits_m(turn.lead_on)),
    }


class Written(Panel):
    """The exit question of a lesson: write first, then compare.

    sentence    what was written last, kept beside the notebook
    """

    def __init__(self, lesson: str) -> None:
        self._lesson, self._told = lesson, toml_file(f"lesson_{lesson}").part("exit")
        self.sentence = ""
        super().__init__()
        self.attempt(self._fetch)

    def build(self) -> list[w.Widget]:
        self.box = w.Textarea(
            description="Your sentence",
            placeholder="Write one or two sentences.",
            style={"description_width": "initial"},
        )
        self.compare_button = button("Compare", self.compare, primary=True)
        self.reply = html("", "lv-say")
        self.question = html("")
        return [self.question, self.box, self.compare_button, self.reply]

    def draw(self) -> None:
        numbers, show = demo_numbers(self.system), bool(self.sentence)
        question, compare = (
            escape(self._told.template(key, numbers).format(**numbers))
            for key in ("question", "compare")
        )
        set_if_changed(self.question, f"<p>{question}</p>")
        show_if(show, self.reply)
        set_if_changed(self.reply, f"To compare with yours: “{compare}”" if show else "")

    def _fetch(self) -> None:
        self.sentence = self.box.value = as_sentence(kept_work(self._lesson).get("exit"))
        self.draw()

    def write(self, sentence: str) -> None:
        """Write a sentence from code, and compare."""
        self.box.value = sentence
        self.compare()

    def compare(self) -> None:
        """Show the sentence to compare with, once there is one to compare."""
        self.attempt(self._compare_now)

    def _compare_now(self) -> None:
        sentence = self.box.value.strip()[:MOST_LETTERS]
        if not sentence:
            raise Refusal("your sentence", "nothing", "a sentence of your own", "write it first")
        self.sentence = sentence
        self.draw()
        keep_work(self._lesson, {"exit": sentence})


def exit_question(lesson: str) -> Written:
    """The exit question of a lesson by its number: exit_question("02").

    In code: panel.write("…"), panel.sentence.
    """
    return Written(lesson)
