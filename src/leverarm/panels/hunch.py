"""The hunch of the first page: what each axle will do, kept beside the notebook, answered nowhere
on that page.
"""

from html import escape

import ipywidgets as w

from leverarm.axles import shares
from leverarm.machine import demo_loader, demo_tractor
from leverarm.panels.base import Panel, button, html, set_if_changed, show_if
from leverarm.panels.controls import choice
from leverarm.panels.lesson_work import keep_work, kept_work
from leverarm.quantities import Refusal, show
from leverarm.stage.controls import entry
from leverarm.stage.elements import as_text
from leverarm.stage.on_grass import on_grass

ANSWERS: dict[str, tuple[str, str, str]] = {
    "front": ("less", "exactly", "more"),
    "rear": ("falls", "stays", "rises"),
}
LESSON = "00"


def kept_hunch() -> dict[str, str]:
    """The hunch that was locked in, "front" and "rear"; empty where none was."""
    work = kept_work(LESSON)
    found = {axle: work.get(f"hunch_{axle}") for axle in ANSWERS}
    known = {axle: way for axle, way in found.items() if way in ANSWERS[axle]}
    return {axle: str(way) for axle, way in known.items()} if len(known) == len(ANSWERS) else {}


class Hunch(Panel):
    """A tractor on grass, and two choices that are locked in.

    said        the hunch: "front" less, exactly or more; "rear" falls, stays or rises
    """

    def build(self) -> list[w.Widget]:
        told = entry("hunch")
        self.said: dict[str, str] = {}
        plot, bucket = demo_tractor(), demo_loader()[1]
        drawn = as_text(on_grass(plot.wheelbase_m, bucket.ahead_m)).replace("st@", self.key)
        self.choices = {
            axle: choice(told.text(axle), [(told.text(f"{axle}_{way}"), way) for way in ways], None)
            for axle, ways in ANSWERS.items()
        }
        self.lock_button = button(
            told.text("lock_in"), lambda: self.attempt(self._lock), primary=True
        )
        self.reply = html("", "lv-say")
        question = html(f"<p>{escape(told.text('question'))}</p>")
        return [html(drawn), question, *self.choices.values(), self.lock_button, self.reply]

    def draw(self) -> None:
        told = entry("hunch")
        for axle, one in self.choices.items():
            one.disabled = bool(self.said)
            if self.said:
                one.value = self.said[axle]
        show_if(not self.said, self.lock_button)
        if self.said:
            words = {axle: told.text(f"{axle}_{way}") for axle, way in self.said.items()}
            set_if_changed(self.reply, escape(told.text("kept").format(**words)))

    def _lock(self) -> None:
        self.lock_in(**{axle: one.value for axle, one in self.choices.items()})

    def lock_in(self, front: str | None, rear: str | None) -> None:
        """Lock in a hunch: lock_in(front="more", rear="rises")."""
        for axle, way in (("front", front), ("rear", rear)):
            if way not in ANSWERS[axle]:
                raise Refusal(
                    f"{axle} axle", way or "nothing", " or ".join(ANSWERS[axle]), "choose one"
                )
        self.said = {"front": str(front), "rear": str(rear)}
        self.redraw()
        keep_work(LESSON, {f"hunch_{axle}": way for axle, way in self.said.items()})


def hunch() -> Hunch:
    """A hunch for each axle on the first page; one that was kept is shown again.

    In code: panel.lock_in(front="more", rear="rises"), panel.said.
    """
    panel = Hunch()

    def fetch() -> None:
        panel.said = kept_hunch()
        panel.redraw()

    panel.attempt(fetch)
    return panel


class HunchAgain(Panel):
    """The hunch of the first page beside what scales say of the plot tractor's bucket.

    said        the hunch, by axle; empty where none was locked in
    """

    def build(self) -> list[w.Widget]:
        self.said: dict[str, str] = {}
        self.reply = html("", "lv-say")
        return [self.reply]

    def draw(self) -> None:
        set_if_changed(self.reply, f"<p>{escape(self._sentences())}</p>")

    def _sentences(self) -> str:
        told, bucket = entry("hunch"), demo_loader()[1]
        if not self.said:
            return told.text("none")
        (one,) = shares(demo_tractor(), bucket)
        kg = {"weight": bucket.weight_kg, "front": one.front_kg, "rear": abs(one.rear_kg)}
        numbers = {
            name: show(value, "weight", self.system, decimals=0) for name, value in kg.items()
        }
        found = scales_say(one.front_kg, bucket.weight_kg, -one.rear_kg)
        ways = {f"{axle}_way": told.text(f"{axle}_{way}") for axle, way in found.items()}
        said = {f"{axle}_said": told.text(f"{axle}_{way}") for axle, way in self.said.items()}
        sentences = [told.text("again").format(**said)]
        for axle, way in found.items():
            name = f"{axle}_same" if self.said[axle] == way else f"{axle}_other"
            sentences.append(told.text(name).format(**numbers, **ways))
        return " ".join((*sentences, told.text("ask")))


def scales_say(front_loss: float, weight: float, rear_gain: float) -> dict[str, str]:
    """A bucket's coming off in the words of the hunch; one thousandth of its weight is nothing.

    >>> scales_say(448, 260, 188)
    {'front': 'more', 'rear': 'rises'}
    """

    def way(difference: float, ways: tuple[str, str, str]) -> str:
        near = abs(difference) <= 0.001 * weight
        return ways[1] if near else ways[2 if difference > 0 else 0]

    return {
        "front": way(front_loss - weight, ANSWERS["front"]),
        "rear": way(rear_gain, ANSWERS["rear"]),
    }


def hunch_again() -> HunchAgain:
    """The hunch of the first page, compared with the scales; says so where none was locked in.

    In code: panel.said.
    """
    panel = HunchAgain()

    def fetch() -> None:
        panel.said = kept_hunch()
        panel.redraw()

    panel.attempt(fetch)
    return panel
