"""What Python tells the page: a browser's Python drops a None on the way, so no message after the
first may need one.
"""

import ast
import contextlib
from pathlib import Path

import ipywidgets as w
import pytest

from leverarm import Refusal, exercises, panels
from leverarm.panels import page

PANELS = Path(page.__file__).parent

MAKE = {
    **{
        name: getattr(panels, name)
        for name in (  # noqa: SIM905 - names, not a list of 22 lines
            "first_slider contact_patch under_tire roll_out front_lead arms_up "
            "sideways counterweight strip_down weigh_day weigh_record setup_errors claim_audit "
            "mow_or_unhook bets readings_in claim_cards role_play homework practice tractor_stage "
            "strip_stage plank_stage yard_stage hunch sure_stage sure_more claim_stage "
            "claim_sorting"
        ).split()
    },
    "arms_stage": panels.arms_stage,
    "ballast_stage": panels.ballast_stage,
    "tire_stage": panels.tire_stage,
    "lead_stage": panels.lead_stage,
    "slopes_stage": panels.slopes_stage,
    "pivot_stage": panels.pivot_stage,
    "solve_reaction": panels.solve_reaction,
    "tally": lambda: panels.tally("More than W?", ("yes", "no"), "A"),
    "worked_example": lambda: panels.worked_example("front_gain"),
    "both_sides": lambda: panels.both_sides("12"),
    "setups_stage": panels.setups_stage,
    "hand_over": lambda: panels.hand_over(lambda case, path, **about: path),
    **{
        f"exercise on {style}": lambda name=name: panels.exercise(name)
        for style, name in {kind.style: kind.name for kind in exercises.problems()}.items()
    },
    **{
        f"desk, {part}": lambda part=part: getattr(panels.desk(), part)
        for part in ("codes", "choose", "marks", "names")
    },
}


def parts(widget):
    """A widget and all it holds."""
    yield widget
    for child in getattr(widget, "children", ()):
        yield from parts(child)


def use(widget):
    """Everything a person can do to one control."""
    if isinstance(widget, w.Button):
        widget.click()
    elif isinstance(widget, (w.RadioButtons, w.Dropdown)):
        for at in (len(widget.options) - 1, 0):
            if widget.options and at < len(widget.options):
                widget.index = at
    elif isinstance(widget, w.Checkbox):
        widget.value = not widget.value
    elif isinstance(widget, (w.Text, w.Textarea)):
        widget.value = "5"


@pytest.fixture
def told(monkeypatch):
    """(kind of widget, trait, value) for everything told to the page after a widget was made."""
    heard = []

    def listen(self, message, buffers=None):
        if message.get("method") == "update":
            heard.extend((type(self).__name__, *one) for one in message["state"].items())

    monkeypatch.setattr(w.Widget, "_send", listen)
    return heard


@pytest.mark.parametrize("name", MAKE)
def test_no_message_to_the_page_carries_none(name, told, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    made = MAKE[name]()
    for _ in range(3):
        for widget in list(parts(getattr(made, "widget", made))):
            # A click that comes too early is refused, as it should be.
            with contextlib.suppress(Refusal):
                use(widget)
    assert told or name == "codes", "nothing was told: the listener hears nothing"
    assert [one for one in told if one[2] is None] == []


@pytest.mark.parametrize(
    "make",
    [
        lambda: panels.arms_up(gated=True).gate.directions["front"],
        lambda: panels.claim_cards().verdict,
        lambda: panels.exercise(CHOICE).field.radio,
    ],
)
def test_nothing_is_chosen_at_first_and_the_page_knows(make):
    radio = make()
    assert radio.value is None and radio.get_state()["index"] == -1
    radio.set_state({"index": 0})  # what the page sends when the first option is clicked
    assert radio.value == radio._options_values[0] and radio.get_state("index") == {"index": 0}


CHOICE = next(kind.name for kind in exercises.problems() if kind.style == "choice")


def test_a_new_prediction_tells_the_page_that_nothing_is_chosen(told):
    gate = panels.arms_up(gated=True).gate
    gate.lock_in(front="up 190 kg", rear="down 80 kg")
    told.clear()
    gate.again()
    assert told.count(("_Radio", "index", -1)) == 2
    assert all(radio.value is None for radio in gate.directions.values())
    for radio in gate.directions.values():
        radio.set_state({"index": 0})
    for box in gate.amounts.values():
        box.value = "5 kg"
    gate.lock_in()
    assert gate.state == "locked"  # the first choice counts


def test_a_list_without_options_tells_the_page_so(told):
    made = panels.dropdown("Slip", ["a", "b"])
    made.options = []
    assert ("_List", "index", -1) in told and made.value is None


def test_every_card_starts_with_nothing_chosen(told):
    cards = panels.claim_cards()
    cards.lock_in("true")
    cards.next()
    assert cards.verdict.value is None and ("_Radio", "index", -1) in told
    cards.go(len(cards.cards))
    with pytest.raises(Refusal):
        cards.reveal()


@pytest.mark.parametrize("path", sorted(PANELS.glob("*.py")), ids=lambda path: path.stem)
def test_lists_of_options_are_made_in_one_place_and_no_layout_is_set_to_none(path):
    """Only the controls of ``controls`` can tell the page that nothing is chosen."""
    tree = ast.parse(path.read_text("utf-8"))
    raw = {
        node.attr
        for node in ast.walk(tree)
        if isinstance(node, ast.Attribute)
        and isinstance(node.value, ast.Name)
        and node.value.id == "w"
    }
    lists = {"RadioButtons", "Dropdown", "Select", "SelectMultiple", "ToggleButtons", "Combobox"}
    assert path.stem == "controls" or not raw & lists
    for node in ast.walk(tree):
        if isinstance(node, ast.Assign) and getattr(node.value, "value", 0) is None:
            assert not any(".layout." in ast.unparse(target) for target in node.targets)
