"""The ground a panel stands on: shared units and type size, redrawing that shows errors, a code
twin.

A panel holds no physics.  It hands the values it was given to a call of the package
and shows the answer.  An error is shown in the panel, never swallowed.
"""

import secrets
import sys
import weakref
from collections.abc import Callable, Sequence
from html import escape
from itertools import count
from typing import Any, Protocol, Self

import ipywidgets as w

from leverarm.axles import Lift
from leverarm.files import explain_os_error
from leverarm.panels.page import page_rules
from leverarm.quantities import Refusal, known_system, show, show_in, system_shown
from leverarm.scene import Scene, picture

# Whether this Python runs in a browser's tab: no numpy, and files are gone when the tab closes.
IN_BROWSER = sys.platform == "emscripten"
_KEYS, _TURNS = count(1), count(1)
# JupyterLab holds all open notebooks in one page, and a reopened one shows what it was saved with:
# a panel's key must be its own among the panels of every Python, now and earlier.
_THIS_PYTHON = secrets.token_hex(4)


class Follower(Protocol):
    """What follows the units and the type size: a panel, or a control that shows them."""

    def catch_up(self) -> None:
        """Follow what is shared now."""


class Shared:
    """What all panels of a notebook follow: the unit system and large type."""

    def __init__(self) -> None:
        self.large = False
        self._followers: weakref.WeakSet[Follower] = weakref.WeakSet()

    @property
    def system(self) -> str:
        """The unit system chosen, which what is printed follows too: "kg" or "lb"."""
        return system_shown()

    def follow(self, follower: Follower) -> None:
        """Tell this panel or control of later changes."""
        self._followers.add(follower)

    def set(self, *, system: str | None = None, large: bool | None = None) -> None:
        """Change what panels follow: set(system="lb"), set(large=True).

        Panels redraw only if a value changed: a panel with its own control of the units calls this
        again while it follows.
        """
        before = self.system, self.large
        if system is not None:
            show_in(system)
        if large is not None:
            self.large = bool(large)
        for follower in list(self._followers) if (self.system, self.large) != before else ():
            follower.catch_up()


shared = Shared()


def html(value: str = "", *classes: str) -> w.HTML:
    """A piece of the page that Python fills."""
    piece = w.HTML(value)
    for name in classes:
        piece.add_class(name)
    return piece


def row(*children: w.Widget) -> w.Box:
    """Controls side by side, wrapping where the page is narrow."""
    box = w.Box(children)
    box.add_class("lv-row")
    return box


def grid(*children: w.Widget) -> w.Box:
    """Controls in as many columns as the page has room for."""
    box = w.Box(children)
    box.add_class("lv-grid")
    return box


def split(left: Sequence[w.Widget], right: Sequence[w.Widget]) -> w.Box:
    """Controls on the left, the picture on the right; stacked where the page is narrow."""
    box = w.Box([w.VBox(left), w.VBox(right)])
    box.add_class("lv-split")
    return box


def button(text: str, action: Callable[[], object], *, primary: bool = False) -> w.Button:
    """A button whose click is one call."""
    made = w.Button(description=text, button_style="primary" if primary else "", tooltip=text)
    made.on_click(lambda _: action())
    return made


def set_if_changed(widget: w.Widget, value: object) -> None:
    """Set a widget's value only where it differs, so that nothing needless is sent to the page."""
    if widget.value != value:
        widget.value = value


def show_if(shown: object, *widgets: w.Widget) -> None:
    """Show these widgets, or hide them."""
    for widget in widgets:
        widget.layout.display = "" if shown else "none"


def html_table(head: Sequence[str], rows: Sequence[Sequence[str]], caption: str = "") -> str:
    """A table from ready HTML cells; the first cell of each row names it.

    >>> html_table(["", "front"], [["bucket off", "+190.0 kg"]]).endswith(
    ...     '<th scope="row">bucket off</th><td>+190.0 kg</td></tr></table></div>'
    ... )
    True
    """
    # A cell that names nothing is no heading.
    top = "".join(f'<th scope="col">{cell}</th>' if cell else "<td></td>" for cell in head)
    body = "".join(
        f'<tr><th scope="row">{first}</th>' + "".join(f"<td>{cell}</td>" for cell in rest) + "</tr>"
        for first, *rest in rows
    )
    named = f"<caption>{caption}</caption>" if caption else ""
    # The page takes the box from the keyboard again where it has nothing to scroll.
    return (
        '<div class="lv-wide" tabindex="0" role="group" aria-label="Table, scrolls sideways">'
        f'<table class="lv-table">{named}<tr>{top}</tr>{body}</table></div>'
    )


def picture_html(scene: Scene, panel: "Panel", name: str = "") -> str:
    """A scene at a panel's type size; with several pictures, each has a name for its ids."""
    return picture(scene, key=panel.key + name, large=panel.large)


class Panel:
    """A view with a code twin: ``values`` gives the values shown, ``set`` changes them.

    A panel of your own defines ``build()`` (returns the widgets, top to bottom),
    ``draw()`` (fills them from ``values``), and keeps its Number controls in
    ``self.numbers`` (a dict, name -> Number).
    """

    numbers: dict[str, Any]

    def __init__(self) -> None:
        self.key = f"lv{next(_KEYS)}-{_THIS_PYTHON}"
        self.numbers = {}
        self.error, self._errors = html("", "lv-error"), 0
        self._style = html(f"<style>{page_rules()}</style>")
        self._goes_on = html()
        self._goes_on_at: tuple[w.Widget, str] | None = None
        show_if(False, self._style, self._goes_on)
        self.widget = w.VBox([self._style, *self.build(), self.error, self._goes_on])
        self.widget.add_class("lv-panel")
        # The page counts the views of this panel.  Where it is shown nowhere, it waits with its
        # drawing.
        self.widget._view_count, self._away, self._behind = 0, False, False
        self.widget.observe(self._viewed, "_view_count")
        shared.follow(self)
        self.follow_shared()

    def build(self) -> list[w.Widget]:
        """The widgets of the panel, top to bottom."""
        raise NotImplementedError

    def draw(self) -> None:
        """Fill the widgets from the values."""
        raise NotImplementedError

    @property
    def system(self) -> str:
        """The unit system shown: "kg" or "lb"."""
        return shared.system

    @property
    def large(self) -> bool:
        """True for a projector: large type."""
        return shared.large

    @property
    def values(self) -> dict[str, float]:
        """The values of the panel in base units: name -> float."""
        return {name: number.value for name, number in self.numbers.items()}

    def set(self, **values: Any) -> Self:
        """Set values by name; numbers are SI, text may carry a unit.

        Raises Refusal, changing nothing.
        """
        system = known_system(values.pop("system", self.system))
        read = {name: self._number(name).check(value) for name, value in values.items()}
        for name, value in read.items():
            self.numbers[name].hold(value)
        if system == self.system:
            self.redraw()
        else:
            shared.set(system=system)
        return self

    def _number(self, name: str) -> Any:
        if name not in self.numbers:
            raise Refusal(
                "panel value",
                name,
                " or ".join([*self.numbers, "system"]),
                "use one of these names",
            )
        return self.numbers[name]

    def follow_shared(self) -> None:
        """Show in the shared unit system and type size; the values stay as they are."""
        for number in self.numbers.values():
            number.use(self.system)
        (self.widget.add_class if self.large else self.widget.remove_class)("lv-big")
        self.redraw()

    def catch_up(self) -> None:
        """Follow what is shared, now or when this panel is seen again."""
        self._behind = self._away
        if not self._away:
            try:
                self.follow_shared()
            except Exception as error:
                self._show_error(error)

    def _viewed(self, change: dict[str, Any]) -> None:
        self._away = bool(change["old"]) and not change["new"]
        if self._behind and not self._away:
            self.catch_up()

    def redraw(self, *_: object) -> None:
        """Draw; an error is shown under the panel."""

        def drawn() -> None:
            try:
                self.draw()
            except Refusal:
                self.withdraw()
                raise

        self.attempt(drawn)

    def withdraw(self) -> None:
        """Take back what must not stand beside a refusal: what belongs to another machine or day.
        What a box refused leaves the picture as it was.
        """

    def attempt(self, action: Callable[[], object]) -> None:
        """Do one thing; an error is shown in the panel, that of a redraw within it too."""
        before = self._errors
        try:
            action()
        except Exception as error:
            self._show_error(error)
        else:
            if self._errors == before:
                set_if_changed(self.error, "")

    def pass_keyboard(self, widget: w.Widget) -> None:
        """Move the keyboard to this control, as soon as the page shows it and it is enabled.

        Each move has a new class name, and the page waits for the element that carries it: a plain
        message could overtake the changes that enable the control.
        """
        turn = f"lv-turn{next(_TURNS)}"
        if self._goes_on_at is not None:
            self._goes_on_at[0].remove_class(self._goes_on_at[1])
        self._goes_on_at = widget, turn
        widget.add_class(turn)
        set_if_changed(self._goes_on, f'<span class="lv-turn" data-to="{turn}"></span>')

    def _show_error(self, error: Exception) -> None:
        """Show an error: a Refusal as its sentence, a file's error in words, anything else by its
        kind.
        """
        self._errors += 1
        set_if_changed(
            self.error,
            escape(
                str(error)
                if isinstance(error, Refusal)
                else explain_os_error(error)
                if isinstance(error, OSError)
                else f"This panel failed ({type(error).__name__}: {error}). Change a value to try "
                "again, and report it."
            ),
        )

    def _ipython_display_(self) -> None:
        from IPython.display import display

        display(self.widget)


def lift_sentence(lift: Lift, system: str | None = None) -> str:
    """An axle carries nothing: at what weight, and that the equations end there."""
    at = (
        f" It lost its last load when the {escape(lift.piece)} reached "
        f"{show(lift.weight_kg, 'weight', system)}."
        if lift.weight_kg is not None
        else ""
    )
    return (
        f"The {lift.axle} axle carries nothing.{at} With any more the machine tips, and these "
        "equations no longer hold. Lower the load and carry less."
    )
