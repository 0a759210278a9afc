"""Sheets of the concept check, from the slip to the class: doubled, swapped, changed, of another
class or edition, with one round, with nothing in them.
"""

import json
import random
import re
import zipfile

import pytest

from leverarm.concept_check.paper import check_key_page, form_page, slips_page
from leverarm.concept_check.paper_answers import paper_list, read_paper_answers
from leverarm.concept_check.pictures import PAPER_SHEET, SHEETS, drawing
from leverarm.concept_check.questions import form, right_letters
from leverarm.concept_check.report import report_html
from leverarm.concept_check.results import read_class
from leverarm.concept_check.sheet import CheckSheet, check_slip, opening_key, read_sheet, read_slip
from leverarm.concept_check.simulated import Imagined, imagined_class, letters
from leverarm.marking.codes import DEMO_KEY, new_class_key, new_codes, shown_code
from leverarm.quantities import Refusal
from leverarm.scene import place

CODES = new_codes(12)
ONE, TWO = CODES[:2]


def fill(folder, code, round_, name, marked, key=DEMO_KEY):
    """A sheet with these letters, made as a student makes it; its path."""
    sheet = CheckSheet(check_slip(key, code, round_, name), folder)
    sheet.fill(marked)
    for hidden in folder.glob(".*"):  # a student hands in the file alone
        hidden.unlink()
    return sheet.path


def row_of(result, code=ONE):
    return next(row for row in result.students if row.code == code)


def test_a_slip_tells_its_round_and_form():
    for round_ in (1, 2):
        for name in "AB":
            slip = check_slip(DEMO_KEY, ONE, round_, name)
            assert read_slip(ONE.lower(), slip.key.replace("-", " ")) == slip
    with pytest.raises(Refusal, match="the key on the slip of code"):
        read_slip(TWO, slip.key)
    with pytest.raises(Refusal, match="never used"):
        read_slip(ONE, "0000-0000-0000-0000")


def test_what_is_marked_is_kept_and_tells_nothing(tmp_path):
    sheet = CheckSheet(check_slip(DEMO_KEY, ONE, 1, "A"), tmp_path)
    for letter in ("B", "C", "", "A"):
        assert sheet.mark(1, letter) is None
    sheet.mark(12, "D")
    again = CheckSheet(sheet.slip, tmp_path)
    assert again.marked == {1: "A", 12: "D"} and not again.opened
    assert read_sheet(sheet.path.read_bytes()).letters == "A----------D"
    for number, letter, says in ((0, "A", "1 to 12"), (13, "A", "1 to 12"), (1, "E", "ABCD")):
        with pytest.raises(Refusal, match=says):
            sheet.mark(number, letter)
    text = sheet.path.read_text()
    assert "right" not in text and "key" not in text and text.isascii()


def test_two_windows_lose_nothing(tmp_path):
    slip = check_slip(DEMO_KEY, ONE, 1, "B")
    one, two = CheckSheet(slip, tmp_path), CheckSheet(slip, tmp_path)
    one.mark(1, "A")
    two.mark(2, "B")
    one.mark(1, "D")
    assert CheckSheet(slip, tmp_path).marked == {1: "D", 2: "B"}


def test_the_answers_open_with_the_instructor_s_key_and_then_nothing_more_counts(tmp_path):
    sheet = CheckSheet(check_slip(DEMO_KEY, ONE, 2, "A"), tmp_path)
    sheet.mark(1, "B")
    with pytest.raises(Refusal, match="opening key"):
        sheet.open("WRONG")
    assert not sheet.opened
    sheet.open(opening_key(DEMO_KEY))
    assert CheckSheet(sheet.slip, tmp_path).opened
    with pytest.raises(Refusal, match="nothing more is taken"):
        sheet.mark(1, "C")
    with sheet.path.open("a") as file:
        file.write('{"question": 1, "marked": "C", "turn": 99}\n')
    found = read_sheet(sheet.path.read_bytes())
    assert found.letters[0] == "B" and "does not count" in found.notes[0]


@pytest.mark.parametrize(
    "spoil, says",
    [
        (lambda b: b"", "the file is empty"),
        (lambda b: b"holiday", "not a file of the concept check"),
        (lambda b: b.replace(b'"edition": "1"', b'"edition": "7"'), "made with edition 7 of the"),
        (lambda b: b.replace(b'"edition": "1"', b'"edition": [1]'), "made with edition none of"),
        (lambda b: b.replace(b'check": 1', b'check": 2'), "made by a newer workbook"),
        (lambda b: b.replace(b'"form": "A"', b'"form": "B"'), "do not fit its proof"),
        (lambda b: b.replace(b'"round": 1', b'"round": 2'), "do not fit its proof"),
        (lambda b: b.replace(ONE.encode(), TWO.encode()), "do not fit its proof"),
        (lambda b: b.replace(b'"proof": "', b'"proof": "3'), "do not fit its proof"),
        (lambda b: b.replace(ONE.encode(), b"K7"), "its code is no code"),
        (lambda b: b[1:], "its first line is damaged"),
        (lambda b: b.split(b"\n")[0], "no question is answered"),
        (lambda b: b + b" " * 10**6, "larger than 1 MB"),
    ],
)
def test_a_spoiled_file_is_left_out_with_its_reason_and_the_rest_is_read(tmp_path, spoil, says):
    path = fill(tmp_path, ONE, 1, "A", "CDAB")
    fill(tmp_path, TWO, 1, "B", "DBCA")
    path.write_bytes(spoil(path.read_bytes()))
    result = read_class(tmp_path, DEMO_KEY, CODES)
    assert [row.code for row in result.students] == [TWO]
    (left,) = result.skipped
    assert says in left.reason and left.file.startswith(path.name)


@pytest.mark.parametrize("code", ["utf-16", "utf-8-sig"])
def test_a_file_saved_by_another_program_is_read(tmp_path, code):
    path = fill(tmp_path, ONE, 1, "A", "CDAB")
    path.write_bytes(path.read_text().replace("\n", "\r\n").encode(code))
    with path.open("ab") as file:
        file.write("{broken\r\n".encode(code))
    row = row_of(read_class(tmp_path, DEMO_KEY, CODES))
    assert row.scores == (4, None) and "1 of its lines could not be read" in row.notes[0]


def test_of_two_sheets_the_fuller_counts_and_both_are_named(tmp_path):
    for part, marked in (("x", "C"), ("y", "BBB")):
        (tmp_path / part).mkdir()
        fill(tmp_path / part, ONE, 1, "A", marked)
    row = row_of(read_class(tmp_path, DEMO_KEY, CODES))
    assert row.scores[0] == 0 and re.search(r"y/.* is counted, x/.* is not", row.notes[0])
    (tmp_path / "x" / "copy.txt").write_bytes(next((tmp_path / "y").glob("*")).read_bytes())
    assert len(row_of(read_class(tmp_path, DEMO_KEY, CODES)).notes) == 2


def test_one_round_only_the_same_form_twice_and_another_class(tmp_path):
    fill(tmp_path, ONE, 1, "A", right_letters("A"))
    fill(tmp_path, TWO, 1, "A", "CDAB")
    fill(tmp_path, TWO, 2, "A", right_letters("A"))
    fill(tmp_path, CODES[2], 1, "A", "CDAB", new_class_key())
    result = read_class(tmp_path, DEMO_KEY, CODES[:2])
    assert row_of(result).notes == ("no sheet after the lessons: not in the gain",)
    assert row_of(result, TWO).notes == ("form A both times",) and result.pairs == 1
    assert len(result.skipped) == 1
    assert "not on the list" in read_class(tmp_path, DEMO_KEY, [TWO]).skipped[0].reason + "".join(
        one.reason for one in read_class(tmp_path, DEMO_KEY, [TWO]).skipped
    )


def class_folder(folder, students=12, seed=5):
    """Both rounds of an imagined class as files; the imagined students."""
    draw = random.Random(seed)
    pupils = imagined_class(draw, students, Imagined(0.4, 0.5))
    for code, one in zip(CODES, pupils):
        other = "B" if one.first == "A" else "A"
        fill(folder, code, 1, one.first, letters(draw, one.first, one.before))
        fill(folder, code, 2, other, letters(draw, other, one.after))
    return pupils


def test_a_class_is_put_together_by_code(tmp_path):
    pupils = class_folder(tmp_path)
    result = read_class(tmp_path, DEMO_KEY, CODES)
    assert result.pairs == 12 and result.sheets == (12, 12) and not result.skipped
    for code, one in zip(CODES, pupils):
        assert row_of(result, code).scores == (sum(one.before), sum(one.after))
    before = sum(sum(one.before) for one in pupils)
    after = sum(sum(one.after) for one in pupils)
    assert result.gain.gain == pytest.approx((after - before) / (144 - before))
    for at, row in enumerate(result.questions):
        assert row.facility[0] == pytest.approx(sum(one.before[at] for one in pupils) / 12)
        assert [sum(option.counts[n] for option in row.options) + row.blank[n] for n in (0, 1)] == [
            12,
            12,
        ]
        assert row.options[0].slip == "" and row.options[0].shares[1] == row.facility[1]
        assert row.discrimination == (None, None)  # twelve are too few for one
    assert result.kr20 == (None, None)
    with zipfile.ZipFile(tmp_path.parent / "all.zip", "w") as pack:
        for path in tmp_path.glob("*.txt"):
            pack.write(path, path.name)
    assert read_class(tmp_path.parent / "all.zip", DEMO_KEY, CODES) == result


def test_under_five_no_share_is_given(tmp_path):
    class_folder(tmp_path, 4)
    result = read_class(tmp_path, DEMO_KEY, CODES)
    assert all(row.facility == (None, None) for row in result.questions)
    assert all(one.shares == (None, None) for row in result.questions for one in row.options)


def test_paper_answers_are_typed_into_a_list(tmp_path):
    slips = [check_slip(DEMO_KEY, code, 1, name) for code, name in zip(CODES, "ABAB")]
    lines = paper_list(slips).decode("utf-8-sig").splitlines()
    lines[1] = lines[1].rstrip(",") + "," + ",".join("cdab") + ",AB" + ",D" * 7
    lines[2] = lines[2].rstrip(",") + ",Z" * 12
    lines[3] = lines[3].replace(",1,", ",3,") + "A"
    (tmp_path / "paper.csv").write_text("\n".join(lines))
    result = read_class(tmp_path, DEMO_KEY, CODES)
    assert row_of(result).scores == (4 + right_letters("A")[5:].count("D"), None)
    assert [one.reason.split(":")[0] for one in result.skipped] == ["row 3", "row 4"]
    assert result.questions[4].blank == (1, 0)
    (tmp_path / "names.csv").write_text("name,code\nx,y\n")
    assert "no column round" in read_class(tmp_path, DEMO_KEY, CODES).skipped[0].reason


HURRIED = [  # a row as it is typed, the letters that count, and the questions that are named
    ("{code},1,A,C,F,A,b", "C-AB", [2]),
    ("{lower},1,a,c,d,a,b", "CDAB", []),
    (" {spaced} ,1,A, c , d ,A,B", "CDAB", []),
    ("{code},1,A,c),(d),a.,B?", "CDA-", [4]),
    ("{code},A,1,C,D,A,B", "CDAB", []),  # round and form in each other's column
    ("{code},l,A,C,D,A,B", "CDAB", []),  # a small L for a 1
    ("{code},before,form A,C,D,A,B", "CDAB", []),
    ("{code},Round 1,A,C,AB,A,B", "C-AB", []),  # two letters marked
    ("{code},1,A,C,D", "CD", []),  # half a row
    ("{code},1,A,3,0,O,1", "----", None),
    ("{code},1,A,C,1,A,8", "C-A-", [2, 4]),
    ("{code},1,A,cdab cdab cdab", "CDABCDABCDAB", []),  # the whole sheet in one cell
    ("{code},1,A,cd-bcdabcdab", "CD-BCDABCDAB", []),
    ("{code},1,A,cdab", "----", None),
    ("{code},1,A,C,=A,<b>,B", "C--B", [2, 3]),
]


@pytest.mark.parametrize("sep", [",", "\t", ";"])
@pytest.mark.parametrize("head", [True, False])
@pytest.mark.parametrize(("typed", "counts", "named"), HURRIED)
def test_a_hurried_row_keeps_all_but_the_letter_that_is_named(
    tmp_path, typed, counts, named, head, sep
):
    count = len(right_letters("A"))
    shown = shown_code(ONE)
    row = typed.format(code=shown, lower=shown.lower(), spaced=shown.replace("-", " - "))
    other = f"{shown_code(TWO)},1,B,{','.join('DBCA')}"
    top = ["code,round,form," + ",".join(map(str, range(1, count + 1)))] if head else []
    text = "\r\n".join([*top, *([other, row] if not head else [row, other])])
    sheets, remarks = read_paper_answers(text.replace(",", sep).encode(), "list.csv")
    at = 2
    found = {one.code: one for one in sheets}
    assert found[TWO].letters.startswith("DBCA") and found[TWO].notes == ()
    if named is None:
        assert ONE not in found and len(remarks) == 1
        assert f"row {at}: none of its letters can be read; question 1, " in remarks[0]
        return
    one = found[ONE]
    assert remarks == () and (one.round, one.form, one.file) == (1, "A", f"list.csv, row {at}")
    assert one.letters == counts.ljust(count, "-")
    assert len(one.notes) == len(named)
    for note, number in zip(one.notes, named):
        assert note.startswith(f"question {number}, ") and "type that letter again" in note
        assert note.count(".") == 0, "one sentence"


@pytest.mark.parametrize(
    ("row", "says"),
    [
        ("{swapped},1,A,C,D", "one character is wrong or two are swapped"),
        ("O{rest},1,A,C,D", "O is never used"),
        ("1{rest},1,A,C,D", "1 is never used"),
        ("{code},3,A,C,D", "1 or 2"),
        ("{code},1,C,C,D", "A or B"),
        ("{code},,,C,D", "type 1 for before"),
    ],
)
def test_a_row_of_nobody_is_left_out_with_its_sentence_and_stays_in_the_list(tmp_path, row, says):
    code = ONE
    swapped = code[:-1] + next(one for one in "CDFH" if one != code[-1])
    typed = row.format(code=code, rest=code[1:], swapped=swapped)
    (text := tmp_path / "paper.csv").write_text(
        "\n".join([paper_list([]).decode("utf-8-sig").strip(), typed, f"{TWO},1,B,D,B"])
    )
    before = text.read_bytes()
    result = read_class(tmp_path, DEMO_KEY, CODES)
    assert [row.code for row in result.students] == [TWO]
    (left,) = result.skipped
    assert left.file == "paper.csv" and left.reason.startswith("row 2: ") and says in left.reason
    assert text.read_bytes() == before


def test_a_code_typed_for_two_sheets_of_a_round_counts_the_fuller_and_names_both(tmp_path):
    head = paper_list([]).decode("utf-8-sig").strip()
    (tmp_path / "paper.csv").write_text(f"{head}\n{ONE},1,A,C,D\n{ONE},1,A,C,D,A\n{ONE},2,B,D\n")
    result = read_class(tmp_path, DEMO_KEY, CODES)
    assert "two sheets before the lessons that differ" in row_of(result).notes[0]
    assert "row 3 is counted" in row_of(result).notes[0]
    assert "row 2 is not" in row_of(result).notes[0]


def test_two_sheets_typed_under_each_other_s_codes_are_named_on_both(tmp_path):
    """Their forms were dealt: a sheet on the other form is somebody else's."""
    head = paper_list([]).decode("utf-8-sig").strip()
    (tmp_path / "paper.csv").write_text(f"{head}\n{ONE},1,B,C,D\n{TWO},1,A,C,D\n{ONE},2,B,D\n")
    result = read_class(tmp_path, DEMO_KEY, CODES, dict.fromkeys(CODES, "B") | {ONE: "A"})
    for code, form_, due in ((ONE, "B", "A"), (TWO, "A", "B")):
        said = [note for note in row_of(result, code).notes if "was dealt" in note]
        assert len(said) == 1 and f"form {form_}, where form {due} was dealt" in said[0]


def test_a_letter_that_is_none_is_named_on_the_report_beside_its_code(tmp_path):
    head = paper_list([]).decode("utf-8-sig").strip()
    (tmp_path / "paper.csv").write_text(f"{head}\n{ONE},1,A,C,<F>,A\n")
    result = read_class(tmp_path, DEMO_KEY, CODES)
    assert row_of(result).scores[0] == sum(
        one == other for one, other in zip("C-A", right_letters("A"))
    )
    assert "question 2, “&lt;F&gt;” is not one letter of ABCD" in report_html(result)


def test_paper_forms_hold_every_question_and_no_key():
    for name in "AB":
        page = form_page(name, "lb")
        assert page.count("<svg ") == 12 and page.count('role="img"') == 12
        for question in form(name, "lb"):
            assert f"<h2>{name}{question.number}</h2>" in page
            for option in question.options:
                assert option.thought not in page
                assert not option.slip or f">{option.slip}<" not in page
    assert "<script" not in page and "http-equiv" in page
    key = check_key_page("kg")
    assert "1C 2D 3A 4B 5D 6A 7D 8B 9C 10A 11B 12C" in key and " lb" not in key
    slips = slips_page([check_slip(DEMO_KEY, ONE, 1, "A")], "Slips")
    assert ONE[:4] in slips and "form" in slips


@pytest.mark.parametrize("name", "AB")
def test_drawings_keep_their_words_inside_and_apart(name):
    for question in form(name, "lb"):
        scene = drawing(question)
        assert scene.desc == question.picture
        for view in (*SHEETS, PAPER_SHEET):
            boxes = [one.box for one in place(scene, view)]
            for x0, y0, x1, y1 in boxes:
                assert x0 >= -1 and x1 <= view.width + 1, (question.number, view.name)
                assert y0 >= -1 and y1 <= view.height + 1, (question.number, view.name)


def test_the_head_of_a_file_is_what_its_page_says(tmp_path):
    head = json.loads(fill(tmp_path, ONE, 2, "B", "D").read_text().splitlines()[0])
    assert list(head)[:5] == ["lever-arm concept check", "edition", "round", "form", "code"]
