"""More about trust in a weighing, for those who ask: what goes beyond four separate errors."""

from collections.abc import Callable
from html import escape

import ipywidgets as w

from leverarm import statics, weighing
from leverarm.data import Entry, toml_file
from leverarm.panels.base import Panel, html, html_table, set_if_changed
from leverarm.panels.controls import dropdown
from leverarm.quantities import from_unit, show, show_number, to_unit, unit_of
from leverarm.uncertainty import coverage_factor, mean, scatter, sensitivities
from leverarm.weighing.demo import FIVE_READINGS_KG, demo_pair, demo_scales

_PIECE = "loader frame", "loader frame + bucket"
_BASE = "65 in"
# Limits of an error that all readings share: of the zero, and of the gain in percent.
_ZERO_KG, _GAIN = from_unit(4, "weight", "lb"), 1
_FEW = (2, 3, 5)
# Numbers of the text, or a picture; a table's lines; more lines above it.
Told = tuple[dict[str, str], list[list[str]], list[str]]


def _few(_words: Entry, system: str) -> Told:
    """Five readings of one axle, and how well their mean is known from two, three or five."""
    s, _ = scatter(FIVE_READINGS_KG)
    told = {
        "readings": ", ".join(show(kg, "weight", system) for kg in FIVE_READINGS_KG),
        "mean": show(mean(FIVE_READINGS_KG), "weight", system, decimals=1),
        "scatter": show(s, "weight", system, decimals=1),
    }
    rows = []
    for n in _FEW:
        k = coverage_factor(0.95, n - 1)
        wide = show(k * s / n**0.5, "weight", system, decimals=1)
        rows.append([str(n), show_number(k, 1), f"± {wide}"])
    return told, rows, []


def _weighed() -> weighing.InferredPiece:
    off, on = (demo_pair(name) for name in _PIECE)
    return weighing.infer(off, on, _BASE, u_wheelbase="3 mm", scales=demo_scales(), name="bucket")


def _causes(words: Entry, _system: str) -> Told:
    """The slopes of the overhang, and the largest parts of its uncertainty."""
    slopes = [
        words.text("sensitivity").format(letter=letter, slope=slope)
        for letter, slope in sensitivities(statics.overhang_of).items()
    ]
    parts = _weighed().ahead.budget()[:4]
    return {}, [[part.source.name, show_number(part.percent, 0)] for part in parts], slopes


def _shared(words: Entry, system: str) -> Told:
    """What a wrong zero and a wrong gain do by themselves."""
    off, on = (demo_pair(name) for name in _PIECE)
    zero = show(_ZERO_KG, "weight", system)
    alone = {
        words.text("zero").format(limit=zero): weighing.Scales(zero=_ZERO_KG, u_reading=0),
        words.text("gain").format(limit=_GAIN): weighing.Scales(accuracy=f"{_GAIN} %", u_reading=0),
    }
    rows = []
    for name, scales in alone.items():
        one = weighing.infer(off, on, _BASE, u_wheelbase=0, scales=scales)
        wide = show(one.weight.expanded(), "weight", system, decimals=1)
        rows.append([name, f"± {wide}", f"± {show(one.ahead.expanded(), 'length', system)}"])
    return {}, rows, []


def _help(words: Entry, _system: str) -> Told:
    """What makes the overhang's interval narrower, the best first."""
    off, on = (demo_pair(name) for name in _PIECE)
    once = [x[0] for x in off], [x[0] for x in on]
    coarse = weighing.infer(*once, _BASE, u_wheelbase="2 in", scales=weighing.Scales("10 lb"))
    rows = [
        [words.text(name), better.doing, f"{show_number(better.percent, 0)} percent"]
        for name, number in (("weighed", _weighed().ahead), ("coarse", coarse.ahead))
        for better in weighing.improvements(number)
    ]
    return {}, rows, []


def _limit(words: Entry, system: str) -> Told:
    """A light tool box: where the law puts its overhang, and where a hundred thousand draws do."""
    from leverarm import graphs  # loads matplotlib where there is one

    light = weighing.infer(
        ("1320 lb", "1760 lb"),
        ("1382 lb", "1738 lb"),
        _BASE,
        u_reading="4 lb",
        u_wheelbase="0.1 in",
        name="tool box",
    )
    many, unit = light.draw_overhang(), unit_of("length", system)
    ends = {"law": light.ahead.interval(), "draws": many.interval()}
    drawn, interval = (
        tuple(to_unit(x, "length", unit) for x in values) for values in (many.values, ends["law"])
    )
    title = words.text("picture")
    shown = graphs.histogram(drawn, unit=unit, title=title, interval=(interval[0], interval[1]))
    rows = [
        [words.text(name), *(show(end, "length", system) for end in both)]
        for name, both in ends.items()
    ]
    return {"picture": shown._repr_html_()}, rows, []


_TOPICS: dict[str, Callable[[Entry, str], Told]] = {
    "few": _few,
    "causes": _causes,
    "shared": _shared,
    "help": _help,
    "limit": _limit,
}


class SureMore(Panel):
    """One topic at a time, worked out when it is chosen.

    topic       the drop-down list: few, causes, shared, help, limit
    """

    def build(self) -> list[w.Widget]:
        words = toml_file("sure_more")
        names = [(words.part(name).text("title"), name) for name in _TOPICS]
        self.topic = dropdown(words.text("topic"), names, on_change=lambda _: self.redraw())
        self.out = html()
        return [self.topic, self.out]

    def draw(self) -> None:
        name = str(self.topic.value)
        words = toml_file("sure_more").part(name)
        told, rows, lines = _TOPICS[name](words, self.system)
        table = html_table(words.texts("head"), [[escape(cell) for cell in row] for row in rows])
        said = [words.text("text").format(**told), *lines]
        before = "".join(f"<p>{escape(line)}</p>" for line in said)
        after = f"<p>{escape(words.text('after'))}</p>"
        set_if_changed(self.out, f"{before}{table}{told.get('picture', '')}{after}")


def sure_more() -> SureMore:
    """More about trust: few readings, causes, shared errors, what helps, where the law stops."""
    return SureMore()
