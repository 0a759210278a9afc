"""A quantity to type or to slide: a named number box first, its slider second.

The state is a float in the base unit.  What is shown follows the unit system;
switching it converts what is shown, never the state.  A box reads text such as
"243 lb" or "12,5"; without a unit it is taken in the unit shown.  What can't be
read is refused in a sentence beside the box, and the last good value stays.
"""

import math
from collections.abc import Callable, Iterable, Sequence
from html import escape
from typing import Any

import ipywidgets as w

from leverarm.numerals import split_unit
from leverarm.panels.base import html, set_if_changed
from leverarm.quantities import Refusal, from_unit, read, show, system_shown, to_unit, unit_of

OnChange = Callable[[Any], object]

# One press of an arrow key, in each unit.
_STEPS = {
    "kg": 5.0,
    "lb": 10.0,
    "m": 0.05,
    "in": 2.0,
    "ft": 1.0,
    "kPa": 5.0,
    "psi": 1.0,
    "deg": 1.0,
    "%": 1.0,
    "cm2": 10.0,
    "in2": 2.0,
    "km/h": 0.5,
    "mph": 0.5,
    "N": 50.0,
    "lbf": 10.0,
    "": 0.05,
    "kg m": 5.0,
    "lb in": 50.0,
}

# The page takes what one message changes in the order it is told.
_TOLD_LAST = ("max", "min", "step", "value")


class _Slider(w.FloatSlider):
    """A slider that tells the page its range before its value, which the page would else press into
    the old range and send back.
    """

    def send_state(self, key: str | Iterable[str] | None = None) -> None:
        super().send_state(
            key
            if key is None or isinstance(key, str)
            else sorted(key, key=lambda name: _TOLD_LAST.index(name) if name in _TOLD_LAST else -1)
        )


class Number:
    """A labeled number box and slider for one quantity.

    label       its name, as read aloud
    kind        a kind of leverarm.quantities; value, low, high in its base unit or as text with a
                unit
    on_change   called with the new base value after the user, or ``value = ...``, changed it
    step        one arrow press, in the base unit; by default a round step of the unit shown
    decimals    how finely it is shown, where the kind's own would hide a step
    slider      False leaves the slider out
    reach       where the slider ends, in the base unit, if low to high is too wide to slide in; the
                box takes all of it,
                and the slider follows
    """

    def __init__(
        self,
        label: str,
        kind: str,
        value: float | str,
        low: float,
        high: float,
        *,
        on_change: OnChange | None = None,
        step: float | None = None,
        decimals: int | None = None,
        slider: bool = True,
        reach: float | None = None,
    ) -> None:
        self.label, self.kind, self.step, self.decimals = label, kind, step, decimals
        self.low, self.high = read(low, kind, label), read(high, kind, label)
        self.reach = self.high if reach is None else reach
        self.on_change = on_change or (lambda value: None)
        self._value, self._system, self._quiet = self.check(value), system_shown(), False
        self.box = w.Text(
            description=label, continuous_update=False, style={"description_width": "initial"}
        )
        self.slider: Any = _Slider(readout=False) if slider else None
        self.message = html("", "lv-error")
        self.widget = w.Box(
            [part for part in (self.box, self.slider, self.message) if part is not None]
        )
        self.widget.add_class("lv-number")
        self.use(self._system)
        self.box.observe(self._typed, "value")
        if self.slider:
            self.slider.observe(self._slid, "value")

    @property
    def value(self) -> float:
        """The value in the base unit."""
        return self._value

    @value.setter
    def value(self, value: float | str) -> None:
        self.hold(self.check(value))
        self.on_change(self._value)

    def check(self, value: float | str) -> float:
        """A value, perhaps text with a unit, in the base unit; or a Refusal."""
        return read(value, self.kind, self.label, self.low, self.high)

    def hold(self, value: float) -> None:
        """Take a value already checked, without telling anyone."""
        self._value = value
        self._show(self._show_slider)

    def use(self, system: str) -> None:
        """Show in this unit system."""
        self._system = system
        self._show(self._range_slider)

    def lock(self, locked: bool) -> None:
        """Keep the user from changing it, or let them again."""
        for part in filter(None, (self.box, self.slider)):
            part.disabled = locked

    @property
    def unit(self) -> str:
        """The unit shown."""
        return unit_of(self.kind, self._system)

    def _show(self, slide):
        """Show the state in box and slider without hearing the echo."""
        self._quiet = True
        try:
            set_if_changed(
                self.box, show(self._value, self.kind, self._system, decimals=self._decimals())
            )
            set_if_changed(self.message, "")
            if self.slider:
                slide()
        finally:
            self._quiet = False

    def _decimals(self):
        if self.decimals is None or self._system == "kg":
            return self.decimals
        return max(0, -math.floor(math.log10(self._step()) + 1e-9))

    def _step(self):
        """One arrow press in the unit shown; a told step becomes the round one below it."""
        if self.step is None:
            return _STEPS.get(self.unit, 1.0)
        if self._system == "kg":
            return to_unit(self.step, self.kind, self.unit)
        step = to_unit(self.step, self.kind, self.unit)
        power = 10.0 ** math.floor(math.log10(step) + 1e-9)
        return next(n * power for n in (5, 2, 1) if n * power <= step * (1 + 1e-9))

    def _show_slider(self):
        if to_unit(self._value, self.kind, self.unit) > self.slider.max:
            self._range_slider()
        set_if_changed(self.slider, round(to_unit(self._value, self.kind, self.unit), 6))

    def _range_slider(self):
        """Bounds on whole steps, just wide enough; the state itself stays within low and high."""
        step = self._step()
        low = math.floor(to_unit(self.low, self.kind, self.unit) / step + 1e-9) * step
        high = (
            math.ceil(to_unit(max(self.reach, self._value), self.kind, self.unit) / step - 1e-9)
            * step
        )
        value = round(to_unit(self._value, self.kind, self.unit), 6)
        with self.slider.hold_sync():
            # The widget refuses a range upside down, even for a moment.
            self.slider.max = max(high, self.slider.max)
            self.slider.min, self.slider.step = low, step
            self.slider.value = value
            self.slider.max = high

    def _echo(self, number):
        """Whether a slider's number is only our own value, put on its nearest step by the page
        while it drew the handle.
        """
        steps = (to_unit(self._value, self.kind, self.unit) - self.slider.min) / self.slider.step
        return abs(number - (self.slider.min + math.floor(steps + 0.5) * self.slider.step)) < 1e-6

    def _slid(self, change):
        if not self._quiet and not self._echo(change["new"]):
            moved = from_unit(round(change["new"], 6), self.kind, self.unit)
            self._value = min(max(moved, self.low), self.high)
            # The box before the picture: who sees the picture can type at once, and nothing comes
            # after.
            self._show(lambda: None)
            self.on_change(self._value)

    def _typed(self, change):
        if self._quiet:
            return
        try:
            self._value = self.check(self._with_unit(change["new"]))
        except Refusal as refusal:
            set_if_changed(
                self.message,
                escape(f"{refusal} Still used: {show(self._value, self.kind, self._system)}."),
            )
            return
        self._show(self._show_slider)
        self.on_change(self._value)

    def _with_unit(self, text):
        """A bare number is meant in the unit shown."""
        number, unit = split_unit(text)
        return f"{text} {self.unit}" if number and not unit else text


def number_boxes(
    rows: Iterable[Sequence[Any]], on_change: OnChange, *, slider: bool = False
) -> dict[str, Number]:
    """Number boxes by name, with sliders or without, from rows of a table.

    A row is (name, label, kind, value, low, high, step, decimals).
    """
    return {
        name: Number(
            label,
            kind,
            value,
            low,
            high,
            on_change=on_change,
            step=step,
            decimals=decimals,
            slider=slider,
        )
        for name, label, kind, value, low, high, step, decimals in rows
    }


# Where nothing is chosen the page is told -1: a browser's Python drops a None on its way to the
# page.
_NOTHING = -1


class _Emptiable(w.Widget):
    """A list of options of which the page also learns when none is chosen."""

    def get_state(self, *names: Any, **how: Any) -> dict[str, Any]:
        state = super().get_state(*names, **how)
        if state.get("index", 0) is None:
            state["index"] = _NOTHING
        return state

    def set_state(self, sync_data: dict[str, Any]) -> None:
        if sync_data.get("index") == _NOTHING:
            sync_data = {**sync_data, "index": None}
        super().set_state(sync_data)


class _Radio(_Emptiable, w.RadioButtons):
    pass


class _List(_Emptiable, w.Dropdown):
    pass


# A control made with this starts with its first option; made with None, with nothing chosen.
FIRST = object()


def choice(
    label: str, options: Sequence, value: object = FIRST, *, on_change: OnChange | None = None
) -> w.RadioButtons:
    """A named set of radio buttons; options are texts or (text, value) pairs, value None chooses
    nothing.
    """
    return _named(_Radio, "lv-inline", label, options, value, on_change)


def dropdown(
    label: str, options: Sequence, value: object = FIRST, *, on_change: OnChange | None = None
) -> w.Dropdown:
    """A named drop-down list; options are texts or (text, value) pairs, None chooses nothing."""
    return _named(_List, "lv-ask", label, options, value, on_change)


def _named(control, style, label, options, value, on_change):
    made = control(
        options=options,
        description=label,
        style={"description_width": "initial"},
        **({} if value is FIRST else {"value": value}),
    )
    made.add_class(style)
    if on_change:
        made.observe(lambda change: on_change(change["new"]), "value")
    return made


def offer(made: w.Dropdown, options: Sequence, at: int = -1) -> None:
    """Offer these options in a list, the one at a place chosen; nothing moves where they are the
    same.
    """
    if list(made.options) != list(options):
        made.options = options
        made.index = range(len(options))[at] if options else None


def text_box(label: str, *, placeholder: str = "", on_change: OnChange | None = None) -> w.Text:
    """A named line of text; its change is told on Enter or when it loses the focus."""
    made = w.Text(
        description=label,
        placeholder=placeholder,
        continuous_update=False,
        style={"description_width": "initial"},
    )
    made.add_class("lv-ask")
    if on_change:
        made.observe(lambda change: on_change(change["new"]), "value")
    return made


def on_enter(box: w.Text, call: Callable[[], object]) -> None:
    """Call when Enter is pressed in a text box, whose text page.js has sent by then."""
    box.on_msg(lambda _, content, __: call() if content.get("event") == "submit" else None)
