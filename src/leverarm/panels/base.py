"""The ground a panel stands on: shared unit system and type size, redrawing that shows its errors, a code twin.

A panel holds no physics.  It turns told values into a call of the package and
shows the answer.  What goes wrong is shown in the panel, never swallowed.
"""

import sys
import weakref
from html import escape
from itertools import count

import ipywidgets as w

from leverarm.files import explain_os_error
from leverarm.panels.page import page_rules
from leverarm.quantities import SYSTEMS, Refusal
from leverarm.scene import picture

# Whether this Python runs in a browser's tab: no numpy, and files go away with the tab.
IN_BROWSER = sys.platform == "emscripten"
_KEYS, _TURNS = count(1), count(1)


class Shared:
    """What all panels of a notebook follow: the unit system and large type."""

    def __init__(self):
        self.system, self.large, self._followers = "kg", False, weakref.WeakSet()

    def follow(self, panel):
        """Tell this panel of later changes."""
        self._followers.add(panel)

    def set(self, *, system=None, large=None):
        """Change what panels follow: set(system="lb"), set(large=True).

        A panel's own control of the units says so again while it follows; what changes nothing is told to nobody.
        """
        before = self.system, self.large
        if system is not None:
            self.system = _system(system)
        if large is not None:
            self.large = bool(large)
        for panel in list(self._followers) if (self.system, self.large) != before else ():
            panel.hear()


def _system(system):
    if system not in SYSTEMS:
        raise Refusal("unit system", system, " or ".join(SYSTEMS), "name one of them")
    return system


shared = Shared()


def html(value="", *classes):
    """A piece of the page that Python fills."""
    piece = w.HTML(value)
    for name in classes:
        piece.add_class(name)
    return piece


def row(*children):
    """Controls side by side, wrapping where the page is narrow."""
    box = w.Box(children)
    box.add_class("lv-row")
    return box


def grid(*children):
    """Controls in as many columns as the page has room for."""
    box = w.Box(children)
    box.add_class("lv-grid")
    return box


def split(left, right):
    """Controls on the left, the picture on the right; one above the other where the page is narrow."""
    box = w.Box([w.VBox(left), w.VBox(right)])
    box.add_class("lv-split")
    return box


def button(text, action, *, primary=False):
    """A button whose click is one call."""
    made = w.Button(description=text, button_style="primary" if primary else "", tooltip=text)
    made.on_click(lambda _: action())
    return made


def put(piece, value):
    """Set a widget's value only where it differs: no message for nothing."""
    if piece.value != value:
        piece.value = value


def picture_html(scene, panel, name=""):
    """A scene at a panel's type size; a panel with several pictures gives each a name, for its ids."""
    return picture(scene, key=panel.key + name, large=panel.large)


class Panel:
    """A view with a code twin: ``values`` says what it was told, ``set`` tells it.

    A panel of your own defines ``build()`` (returns the widgets, top to bottom),
    ``draw()`` (fills them from ``values``), and keeps its Number controls in
    ``self.numbers`` (a dict, name -> Number).
    """

    def __init__(self):
        self.key = f"lv{next(_KEYS)}"
        self.numbers = {}
        self.trouble = html("", "lv-error")
        self._style = html(f"<style>{page_rules()}</style>")
        self._goes_on, self._goes_on_at = html(), None
        self._style.layout.display = self._goes_on.layout.display = "none"
        self.widget = w.VBox([self._style, *self.build(), self.trouble, self._goes_on])
        self.widget.add_class("lv-panel")
        # The page counts the views of this panel; one that is shown nowhere any more waits with its drawing.
        self.widget._view_count, self._away, self._behind = 0, False, False
        self.widget.observe(self._viewed, "_view_count")
        shared.follow(self)
        self.follow_shared()

    def build(self):
        """The widgets of the panel, top to bottom."""
        raise NotImplementedError

    def draw(self):
        """Fill the widgets from the values."""
        raise NotImplementedError

    @property
    def system(self):
        """The unit system shown: "kg" or "lb"."""
        return shared.system

    @property
    def large(self):
        """True for a projector: large type."""
        return shared.large

    @property
    def values(self):
        """What the panel was told, in base units: name -> float."""
        return {name: number.value for name, number in self.numbers.items()}

    def set(self, **told):
        """Tell the panel values by name; numbers are SI, text may carry a unit.  Raises Refusal, changing nothing."""
        system = _system(told.pop("system", self.system))
        read = {name: self._number(name).check(value) for name, value in told.items()}
        for name, value in read.items():
            self.numbers[name].hold(value)
        if system == self.system:
            self.redraw()
        else:
            shared.set(system=system)
        return self

    def _number(self, name):
        if name not in self.numbers:
            raise Refusal(
                "panel value",
                name,
                " or ".join([*self.numbers, "system"]),
                "use one of these names",
            )
        return self.numbers[name]

    def follow_shared(self):
        """Show in the shared unit system and type size; what was told does not change."""
        for number in self.numbers.values():
            number.use(self.system)
        (self.widget.add_class if self.large else self.widget.remove_class)("lv-big")
        self.redraw()

    def hear(self):
        """Follow what is shared, now or when this panel is seen again."""
        self._behind = self._away
        if not self._away:
            try:
                self.follow_shared()
            except Exception as error:
                self._tell(error)

    def _viewed(self, change):
        self._away = bool(change["old"]) and not change["new"]
        if self._behind and not self._away:
            self.hear()

    def redraw(self, *_):
        """Draw; what goes wrong is shown under the panel."""
        self.attempt(self.draw)

    def attempt(self, action):
        """Do one thing; what goes wrong is shown in the panel."""
        try:
            action()
        except Exception as error:
            self._tell(error)
        else:
            put(self.trouble, "")

    def pass_keyboard(self, widget):
        """Let the keyboard go on at this control, as soon as the page shows it and lets it be used.

        A name of its own for each turn, which the page waits for: sent as a message, a turn would
        overtake the changes that free the control.
        """
        turn = f"lv-turn{next(_TURNS)}"
        if self._goes_on_at is not None:
            self._goes_on_at[0].remove_class(self._goes_on_at[1])
        self._goes_on_at = widget, turn
        widget.add_class(turn)
        put(self._goes_on, f'<span class="lv-turn" data-to="{turn}"></span>')

    def _tell(self, error):
        """Show what went wrong: a Refusal as its sentence, a file's trouble in words, anything else by its kind."""
        put(
            self.trouble,
            escape(
                str(error)
                if isinstance(error, Refusal)
                else explain_os_error(error)
                if isinstance(error, OSError)
                else f"This panel failed ({type(error).__name__}: {error}). Change a value to try again, and report it."
            ),
        )

    def _ipython_display_(self):
        from IPython.display import display

        display(self.widget)
