"""Messy records as files and as typed: what a person sees of each, from the file to the panel.

All machines and readings are invented.  They were written before the gate was looked at; nothing
was tuned on them until each had been run once.
"""

import re

import pytest

from leverarm import Refusal
from leverarm.panels import machine_and_scales, weigh_day
from leverarm.weighing.day_file import days_of, files_at, one_day
from leverarm.weighing.gate import look_over, passed

TODAY = "2026-06-30"
COLUMNS = "set-up,repeat,front,front left,front right,rear,rear left,rear right,unit,note\n"
HEAD = {
    "kg": "wheelbase,1.65 m\nwheelbase error,3 mm\nscales step,1 kg\n",
    "lb": "wheelbase,65 in\nwheelbase error,1/8 in\nscales step,2 lb\n",
}
B, F, FB = "bare", "loader frame", "loader frame + bucket"
# Bare 560/720 kg; loader frame 205 kg at 0.16 m; bucket 118 kg at 1.22 m ahead.
GOOD = ((B, 560, 720), (F, 785, 700), (FB, 990, 613))
IN_LB = ((B, 1234, 1588), (F, 1730, 1544), (FB, 2182, 1352))


def text_of(*rows, unit="kg", date="2026-05-14", changed=()):
    """The text of a file; a row is set-up, front, rear: a number, or left and right."""
    lines, seen = [], {}
    for setup, *axles in rows:
        seen[setup] = seen.get(setup, 0) + 1
        cells = [
            ",".join(["", *map(str, a)] if type(a) is tuple else [str(a), "", ""]) for a in axles
        ]
        lines.append(f"{setup},{seen[setup]},{','.join(cells)},{unit},\n")
    head = f"weigh day,1\nmachine,Hedge tractor\ndate,{date}\nunits,{unit}\n{HEAD[unit]}"
    text = head + "scales accuracy,0.5 %\nall else unchanged,yes\n\n" + COLUMNS + "".join(lines)
    for old, new in changed:
        assert old in text
        text = text.replace(old, new)
    return text


def with_row(*new):
    return [new if row[0] == new[0] else row for row in GOOD]


# What is brought, the file, the remark that a person reads (with its row), and what is proposed.
STOPPED = {
    "front scale set to zero with the pad on": (
        text_of(*GOOD, (FB, 950, 613)),
        "rows 3 and 4 .*not set to zero",
        "",
    ),
    "second of three weighings is another tractor": (
        text_of(*GOOD, (FB, 1102, 744), (FB, 991, 613)),
        "row 4 .*112 kg off the others",
        "",
    ),
    "one wheel typed in kg on a day in lb": (
        text_of((F, (870, 860), (770, 774)), (FB, (1090, 495), (674, 678)), unit="lb"),
        "front right wheel of row 2 .*typed in kg: 495 kg is 1,091 lb",
        "",
    ),
    "rear copied from front": (
        text_of(*with_row(FB, 990, 990)),
        "same number in row 3 .*copied",
        "",
    ),
    "rear copied from front in the first row": (
        text_of(*with_row(B, 560, 560)),
        "same number in row 1 .*copied",
        "",
    ),
    "a bucket that weighs 1,900 lb": (
        text_of(*IN_LB[:2], (FB, 4082, 1352), unit="lb"),
        "rows 2 and 3.*bucket would weigh 2,160 lb",
        "",
    ),
    "ballast forgotten on": (
        text_of(*with_row(FB, 863, 976)),
        "Row 3 .*reads as if ballast was on.*behind the front axle",
        "",
    ),
    "ballast forgotten on, where two digits changed would leave a bucket of no weight": (
        text_of(*IN_LB[:2], (FB, 1902, 2152), unit="lb"),
        "Row 3 .*reads as if ballast was on.*behind the front axle",
        "",
    ),
    "date next year": (text_of(*GOOD, date="2027-05-14"), "2027-05-14 has not come yet", ""),
    "negative zero": (text_of(*with_row(FB, 990, "-0")), "row 3 .*0 kg of 990 kg", ""),
    "the whole machine as its rear axle": (
        text_of(*with_row(FB, 990, 1603)),
        "rear reading of row 3 .*front and rear together",
        "rear 613 kg",
    ),
    "one wheel as its axle": (
        text_of(*with_row(F, 392, 700)),
        "front reading of row 2 .*one wheel of two",
        "",
    ),
    "a bucket full of dirt": (
        text_of(*with_row(FB, 1560, 370)),
        "something lie in the bucket, .* between row 2 .*205 kg, less than the 445 kg",
        "",
    ),
    "pounds under kg all day": (
        text_of(*((s, f, r) for s, f, r in IN_LB)),
        "unit looks wrong in every row: lb fits",
        "front 1,234 lb",
    ),
    "what stayed the same not answered": (
        text_of(*GOOD, changed=[("all else unchanged,yes\n", "")]),
        "^Were fuel, operator and mower the same",
        "",
    ),
}


def put(folder, **files):
    folder.mkdir()
    for name, text in files.items():
        (folder / f"{name}.csv").write_text(text, "utf-8")
    return folder


@pytest.mark.parametrize("name", STOPPED)
def test_a_messy_file_is_stopped_by_one_remark(tmp_path, name):
    text, remark, proposed = STOPPED[name]
    day = one_day(files_at(put(tmp_path / "days", day=text)))
    found = look_over(day, (), TODAY)
    assert len(found) == 1, [one.sentence for one in found]
    assert re.search(remark, found[0].sentence), found[0].sentence
    words = found[0].proposal.words if found[0].proposal else ""
    assert proposed in words and bool(proposed) == bool(words)
    with pytest.raises(Refusal) as refused:
        passed(day)
    said = str(refused.value)
    assert said.startswith("Hedge tractor on ") and "waits for your answer: " in said
    assert len(said) < 260 and said.count(". ") == 0 and said.endswith((".", "?"))


@pytest.mark.parametrize(
    "rows, changed",
    [
        ((*GOOD[:2], (FB, 990, '""""')), ()),
        ((*GOOD[:2], (FB, 990, "do.")), ()),
        (GOOD, [("scales step,1 kg", "scales step,-0 kg")]),
    ],
    ids=["a ditto mark", "do. for ditto", "a step of negative zero"],
)
def test_what_cannot_be_read_is_named_by_its_line(tmp_path, rows, changed):
    folder = put(tmp_path / "days", day=text_of(*rows, changed=changed))
    with pytest.raises(Refusal, match=r"line \d+, (column rear|header).*was given"):
        one_day(files_at(folder))


@pytest.mark.parametrize(
    "text",
    [
        text_of(*IN_LB, unit="lb", changed=[("65 in", wheelbase)])
        for wheelbase in ("5'5\"", '"5\'5"""', "5 ft 5 in", "5’5”", "5' 5", "1651 mm")
    ]
    + [
        text_of(
            (B, "560,5", "719,5"),
            (F, "785,0", "700,0"),
            (FB, "990,5", "613,0"),
            changed=[(",", ";")],
        )
        .replace("560;5", "560,5")
        .replace("719;5", "719,5")
        .replace("785;0", "785,0")
        .replace("700;0", "700,0")
        .replace("990;5", "990,5")
        .replace("613;0", "613,0")
        .replace("1.65 m", "1,651 m")
        .replace("step;1 kg", "step;0,5 kg")
    ],
    ids=[*("feet", "feet quoted", "words", "curly", "no inch mark", "mm"), "decimal commas"],
)
def test_what_is_spelled_otherwise_is_read_and_passes(tmp_path, text):
    day = one_day(files_at(put(tmp_path / "days", day=text)))
    assert day.machine.wheelbase_m == pytest.approx(1.651)
    assert look_over(day, (), TODAY) == ()
    assert [row.front.unit for row in day.rows] == [day.system] * 3


def test_a_folder_synced_twice_holds_each_day_once(tmp_path):
    name = "hedge-tractor_2026-05-14"
    folder = put(tmp_path / "days", **{name: text_of(*GOOD), f"{name} (1)": text_of(*GOOD[:2])})
    files = files_at(folder)
    assert len(one_day(files).rows) == 3 and len(days_of(files)) == 1
    assert any("is a copy of" in remark for file in files for remark in file.remarks)
    panel = machine_and_scales(folder)
    assert f"{name} (1).csv is a copy" in panel.day_choice.note.value
    # A copy that has a row of its own is nobody's to drop.
    (folder / f"{name} (1).csv").write_text(text_of(*GOOD, (FB, 992, 614)), "utf-8")
    with pytest.raises(Refusal, match=r"\(1\).csv and .*bring their rows together"):
        one_day(files_at(folder))


# --- the same, typed


def told(folder, **more):
    panel = machine_and_scales(folder)
    scales = {"step": "2 lb", "accuracy": "0.5", "unit": "lb", "date": "2026-05-14"}
    panel.tell(name="Hedge tractor", **{"wheelbase": "5'5\"", **scales, **more}).keep()
    day = weigh_day(folder, gated=False)
    day.wheels.unit.value = str(panel.unit.value)
    return day


@pytest.mark.parametrize(
    "front, rear, said",
    [
        ('"', '"', "&quot; was given; a number of lb"),
        ("do.", "1588", "do. was given; a number of lb"),
        ("1.234", "1588", "1.234 lb or 1,234 lb"),
        (
            ("1090", "495 kg"),
            ("674", "678"),
            "front right reading: 495 kg was given; a reading in lb",
        ),
        ("", "-", "rear reading"),
    ],
)
def test_a_reading_typed_oddly_is_refused_with_its_place(tmp_path, front, rear, said):
    day = told(tmp_path / "days")
    day.attempt(lambda: day.write_down(FB, front, rear))
    assert said in day.error.value and not day.day.rows


@pytest.mark.parametrize(
    "rows, remark",
    [
        ([(F, ("870", "860"), ("770", "774")), (FB, ("1090", "495"), ("674", "678"))], "495 kg is"),
        ([(F, "1730", "1544"), (FB, "2182", "2182")], "may have been copied"),
        ([(F, "1,730", "1,544"), (FB, "1,902", "2,152")], "reads as if ballast was on"),
    ],
)
def test_a_messy_day_typed_in_waits_with_its_remark(tmp_path, rows, remark):
    day = told(tmp_path / "days")
    for row in rows:
        day.write_down(*row)
    day.same.say(True)
    assert remark in day.remarks.words.value and "waits" in day.out.value


@pytest.mark.parametrize(
    "box, typed",
    [
        ("accuracy", "± 0.5 %"),
        ("accuracy", "+/- 0.5"),
        ("wheelbase", "5 ft 5 in"),
        ("wheelbase_error", "±1/8"),
        ("step", "1/2"),
        ("date", "5/14/2026"),
    ],
)
def test_a_fact_spelled_as_people_do_is_taken(tmp_path, box, typed):
    assert told(tmp_path / "days", **{box: typed}).day.machine.wheelbase_m == pytest.approx(1.651)


@pytest.mark.parametrize(
    "box, typed",
    [("accuracy", "1/1000"), ("wheelbase", "5-5"), ("wheelbase", "1.65"), ("step", "-0")],
)
def test_a_fact_that_could_be_another_is_refused(tmp_path, box, typed):
    with pytest.raises(Refusal, match=re.escape(typed)):
        told(tmp_path / "days", **{box: typed})
