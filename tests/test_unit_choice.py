"""The one choice of units: made once, followed everywhere, remembered in the folder."""

import errno
import subprocess
import sys

import pytest

from leverarm import Refusal, demo_tractor, show
from leverarm.machine import demo_loader
from leverarm.panels import (
    Number,
    arms_up,
    choose_units,
    exercise,
    remembered_units,
    shared,
    worked_example,
)
from leverarm.panels import unit_choice as module
from leverarm.panels.begin import Begin, FirstSlider
from leverarm.panels.unit_choice import UNITS_FILE
from leverarm.quantities import show_in, system_shown
from leverarm.uncertainty import plus_minus, uncertain


@pytest.fixture(autouse=True)
def folder(tmp_path, monkeypatch):
    """A workbook's folder in which nobody has chosen anything."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_pounds_come_first_on_a_fresh_page(folder):
    top, panel = Begin(), arms_up()
    assert top.unit_choice.units.value == "lb" and not top.unit_choice.note.value
    assert panel.numbers["load"].box.value == "600 lb"
    assert " lb" in panel.out.value and " kg" not in panel.out.value
    assert remembered_units() is None and not list(folder.iterdir()), "nothing chosen, nothing kept"


def test_a_choice_is_followed_by_everything_and_by_the_next_notebook(folder):
    top, panel, slider = Begin(), arms_up(), FirstSlider()
    top.unit_choice.units.value = "kg"
    # 600 lb is 272.2 kg, 1,320 lb is 598.7 kg, 65 in is 1.65 m.
    boxes = {name: number.box.value for name, number in panel.numbers.items()}
    assert (boxes["load"], boxes["front"]) == ("272.2 kg", "598.7 kg")
    assert " kg" in panel.out.value and " lb" not in panel.out.value
    assert " m<" in slider.sentence.value
    assert show(demo_tractor().wheelbase_m, "length") == "1.65 m"
    assert plus_minus(uncertain(100.0, 1.0), "weight").startswith("100.0 ± 2.0 kg")
    assert "run the notebook again" in top.unit_choice.note.value
    assert (folder / UNITS_FILE).read_bytes() == b"units: kg\n"
    # Another notebook of the folder is another Python, which starts with pounds.
    show_in("lb")
    assert Begin().unit_choice.units.value == "kg" == system_shown()


def test_another_program_finds_the_choice(folder):
    choose_units("kg")
    told = subprocess.run(
        [
            sys.executable,
            "-c",
            "from leverarm.panels.begin import Begin; Begin(); from leverarm import show; "
            "print(show(100, 'weight'))",
        ],
        capture_output=True,
        text=True,
        cwd=folder,
        check=True,
    )
    assert told.stdout.strip() == "100.0 kg"


def test_what_code_does_for_a_moment_is_followed_and_not_remembered(folder):
    top, panel = Begin(), arms_up()
    top.unit_choice.units.value = "kg"
    assert panel.system == "kg" == remembered_units()
    panel.set(system="lb")
    assert top.unit_choice.units.value == "lb" and remembered_units() == "kg"


@pytest.mark.parametrize(
    "held", [b"units: kg", b"units: kg\r\n", b"\xef\xbb\xbfunits: kg\n", b" units: kg "]
)
def test_what_an_editor_makes_of_the_file_still_counts(folder, held):
    (folder / UNITS_FILE).write_bytes(held)
    assert remembered_units() == "kg"


SPOILED = [
    b"",
    b"kg",
    b"units: stone\n",
    b"units: kg\nunits: lb\n",
    b"units: __import__('os')\n",
    b"<b>units: kg</b>",
    b"\x00\xff\xfe",
    b"units: kg" + b" " * 10_000_000,
]


@pytest.mark.parametrize("held", SPOILED, ids=range(len(SPOILED)))
def test_a_spoiled_file_is_refused_in_one_sentence_and_counts_as_no_choice(folder, held):
    (folder / UNITS_FILE).write_bytes(held)
    with pytest.raises(Refusal, match=f'{UNITS_FILE}: .* the line "units: kg" or'):
        remembered_units()
    top = Begin()
    assert top.unit_choice.units.value == "lb" == system_shown()
    note = top.unit_choice.note.value
    assert UNITS_FILE in note and "choose the units again" in note and "<b>" not in note
    assert (folder / UNITS_FILE).read_bytes() == held, "looking changes nothing"
    top.unit_choice.units.value = "kg"
    assert remembered_units() == "kg" and UNITS_FILE not in top.unit_choice.note.value


def test_a_folder_in_its_place_is_said_and_counts_as_no_choice(folder):
    (folder / UNITS_FILE).mkdir()
    top = Begin()
    assert top.unit_choice.units.value == "lb" and UNITS_FILE in top.unit_choice.note.value


def test_where_nothing_can_be_written_the_choice_holds_for_the_notebook(monkeypatch):
    def full(path, data):
        raise OSError(errno.ENOSPC, "No space left on device", str(path))

    monkeypatch.setattr(module, "write_whole", full)
    top, panel = Begin(), arms_up()
    top.unit_choice.units.value = "kg"
    assert panel.system == "kg" and "kg" in panel.numbers["load"].box.value
    note = top.unit_choice.note.value
    assert "for this notebook only" in note and "disk is full" in note
    assert remembered_units() is None


def test_on_the_class_site_the_page_keeps_the_choice(monkeypatch):
    """What its script does with this class is tested in a browser."""
    assert "lv-by-page" not in Begin().unit_choice.widget._dom_classes, "here the folder keeps it"
    monkeypatch.setattr(module, "IN_BROWSER", True)
    made = Begin().unit_choice.widget
    assert "lv-by-page" in made._dom_classes
    assert "only while this page is open" in made.children[-1].value


def test_a_bare_number_is_in_the_unit_shown_and_in_code_si(folder):
    bucket = demo_loader()[1]
    number = Number("Bucket weight", "weight", bucket.weight_kg, 1, 1000)
    number.box.value = "300"
    assert number.value == pytest.approx(300 * 0.45359237)
    number.value = 100
    assert number.value == 100 and number.box.value == "220 lb"


def test_exercises_and_examples_are_in_one_system(folder):
    box, example = exercise("front_gain", 7), worked_example("front_gain", 7)
    assert box.problem.unit == "lb" and " kg" not in box.problem.statement
    assert " kg" not in example.problem.statement
    choose_units("kg")
    assert box.problem.unit == "kg" and " lb" not in box.problem.statement
    assert " lb" not in example.head.value and " lb" not in example.lines[0].step.result
    example.lines[-1].principle.value = example.lines[-1].step.principle
    box.answer("1")
    choose_units("lb")
    assert box.problem.unit == "kg", "what was begun stays in its units"
    assert " lb" not in example.problem.statement


def test_shared_and_the_choice_are_one(folder):
    show_in("kg")
    assert shared.system == "kg"
    shared.set(system="lb")
    assert system_shown() == "lb"
