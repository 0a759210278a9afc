"""What comes back to the desk by other ways: on paper, in the wrong place, in several packs.

Each is a stranger's case: a code typed wrong, a forged list, weeks mixed in one folder.
"""

import re
import zipfile

import pytest
from class_files import answer_text, right, ticket_of

from leverarm import panels
from leverarm.marking import Assignment, Desk
from leverarm.marking.answer_file import Answer, line
from leverarm.marking.checked import right_answer
from leverarm.marking.codes import number_key, shown_code
from leverarm.marking.homework import given_text, problem_for
from leverarm.panels.page import page_rules
from leverarm.quantities import Refusal
from leverarm.tables import csv_bytes, read_list

WEEK = Assignment("Week 2", ["front_gain", "rear_change", "where_double"], system="lb")
OTHER = Assignment("Week 1", ["machine_weight"], system="lb")


@pytest.fixture
def desk(tmp_path):
    made = Desk(tmp_path / "Class of '31 é")
    made.start(8)
    made.write_assignment(WEEK)
    made.write_assignment(OTHER)
    return made


def ticket(desk, at, assignment=WEEK):
    return ticket_of(desk.codes[at], assignment, desk.class_key)


def file_of(desk, at, assignment=WEEK):
    """A file with every answer right."""
    one, rows = ticket(desk, at, assignment), []
    for item in assignment.items:
        problem = problem_for(one, item, 1)
        rows.append(line(Answer(item.name, 1, given_text(problem), right(problem))))
    return answer_text(one, rows)


def score(desk, at, name="Week 2"):
    result, _ = desk.mark(name)
    return next(mark.score for mark in result.marks if mark.code == desk.codes[at])


def answers_on_paper(desk, at):
    return {
        place: right(problem_for(ticket(desk, at), item, 1))
        for place, item in enumerate(WEEK.items, 1)
    }


# On paper ---------------------------------------------------------------------------------------


def test_paper_is_marked_like_a_file_with_the_numbers_of_the_first_try(desk):
    desk.paper_list(WEEK).enter(shown_code(desk.codes[0]).lower(), answers_on_paper(desk, 0))
    result, _ = desk.mark("Week 2")
    mark = next(mark for mark in result.marks if mark.code == desk.codes[0])
    assert (mark.score, mark.notes, mark.late) == (3, (), "")
    assert "1 paper typed in by code counted." in result.notes


def test_what_was_mistyped_is_typed_again_and_an_empty_text_takes_it_back(desk):
    sheet = desk.paper_list(WEEK)
    sheet.enter(desk.codes[0], {1: "1 lb", 3: "A"})
    sheet.enter(desk.codes[0], {1: answers_on_paper(desk, 0)[1], 3: "  "})
    assert sorted(sheet.typed(desk.codes[0])) == [1] and score(desk, 0) == 1
    sheet.enter(desk.codes[0], {1: ""})
    assert sheet.typed(desk.codes[0]) == {} and score(desk, 0) is None


def test_a_code_typed_wrong_is_refused_and_nothing_is_lost(desk):
    sheet = desk.paper_list(WEEK)
    sheet.enter(desk.codes[0], {1: "12"})
    before = sheet.path.read_bytes()
    code = desk.codes[0]
    swapped = code[1] + code[0] + code[2:]
    for wrong in (swapped, "", code + "3", "K7MPTDC"):
        if wrong != code:
            with pytest.raises(Refusal):
                sheet.enter(wrong, {1: "13"})
    for at, text in ((0, "1"), (4, "1"), (1, "1" * 601)):
        with pytest.raises(Refusal):
            sheet.enter(code, {at: text})
    assert sheet.path.read_bytes() == before


def test_a_row_typed_in_a_spreadsheet_with_a_wrong_code_is_listed(desk):
    sheet = desk.paper_list(WEEK)
    sheet.path.write_bytes(
        csv_bytes(
            [["Code", "1", "2", "3"], ["K7MP-TDX", "1", "", ""], [desk.codes[1], "-5.5", "", "B"]]
        )
    )
    result, _ = desk.mark("Week 2")
    assert result.handed_in == 1
    assert [one.file for one in result.skipped] == ["Week_2_paper_answers.csv, row 2"]


@pytest.mark.parametrize("sep", [",", "\t", ";"])
@pytest.mark.parametrize("head", [True, False])
def test_a_table_pasted_in_a_hurry_counts_and_one_bad_cell_is_named(desk, head, sep):
    """Small letters, spaces, no head, tabs; a letter O in a number harms nothing but itself."""
    own = answers_on_paper(desk, 1)
    rows = [
        [shown_code(desk.codes[0]).lower(), "19O", answers_on_paper(desk, 0)[2], "  "],
        [f" {desk.codes[1]} ", *(f" {text} " for text in own.values())],
        [desk.codes[2], answers_on_paper(desk, 2)[1]],
    ]
    top = [["code", "1", "2", "3"]] if head else []
    sheet = desk.paper_list(WEEK)
    sheet.path.write_text("\r\n".join(sep.join(row) for row in top + rows), "utf-8")
    result, _ = desk.mark("Week 2")
    scores = {mark.code: mark.score for mark in result.marks}
    assert [scores[code] for code in desk.codes[:4]] == [1, 3, 1, None]
    (left,) = result.skipped
    assert left.file == f"Week_2_paper_answers.csv, row {1 + head}"
    assert left.reason.startswith("answer 1, “19O”, cannot be read and is no answer")


def test_a_decimal_comma_is_read_and_one_that_cuts_a_number_is_named(desk):
    problem = problem_for(ticket(desk, 0), WEEK.items[0], 1)
    commas = f"{problem.answer:.1f}".replace(".", ",")
    sheet = desk.paper_list(WEEK)
    for sep, quote, counted in ((";", "", 1), (",", '"', 1), (",", "", None)):
        text = f"code{sep}1{sep}2{sep}3\n{desk.codes[0]}{sep}{quote}{commas}{quote}{sep}{sep}\n"
        sheet.path.write_text(text.replace(",,\n", ",1,A\n") if counted is None else text)
        result, _ = desk.mark("Week 2")
        marks = {mark.code: mark.score for mark in result.marks}
        assert marks[desk.codes[0]] == counted, (sep, quote)
    assert "a decimal comma may have cut a number" in result.skipped[0].reason


def test_typing_another_paper_keeps_every_cell_that_stood_in_the_list(desk):
    """A row under a wrong code, a column of the instructor's own, and a code that stands twice."""
    one, two = desk.codes[:2]
    sheet = desk.paper_list(WEEK)
    sheet.path.write_bytes(
        csv_bytes(
            [
                ["Code", "1", "2", "3", "Note"],
                ["K7MP-TDX", "5", "", "B", "who?"],
                [one, "7", "", "", "came late"],
                [one, "", "8", "", ""],
            ]
        )
    )
    sheet.enter(two, {1: "9"})
    sheet.enter(one, {3: "A"})
    rows = {row[0]: row[1:] for row in read_list(sheet.path.read_bytes(), "list")}
    assert rows["code"] == ["1", "2", "3", "note"]
    assert rows["K7MP-TDX"] == ["5", "", "B", "who?"]
    assert rows[shown_code(one)] == ["7", "8", "A", "came late"]
    assert rows[shown_code(two)] == ["9", "", "", ""]


def test_a_list_that_a_student_hands_in_is_no_list(desk):
    """Only what lies in keep_to_yourself is signed; a forged list in came_back earns nothing."""
    forged = csv_bytes(
        [["code", "1", "2", "3"], [desk.codes[0], *answers_on_paper(desk, 0).values()]]
    )
    (desk.came_back_folder(WEEK) / "Week_2_paper_answers.csv").write_bytes(forged)
    result, _ = desk.mark("Week 2")
    assert result.handed_in == 0 and result.skipped[0].reason == "not an answer file"


def test_paper_and_a_file_of_one_student_add_up_to_the_best(desk):
    (desk.came_back_folder(WEEK) / "a b (1).txt").write_text(file_of(desk, 0))
    desk.paper_list(WEEK).enter(desk.codes[0], {1: "1 lb", 2: "1 lb"})
    assert score(desk, 0) == 3


# In the wrong place -------------------------------------------------------------------------------


def test_files_dropped_loose_or_in_another_weeks_folder_are_found_and_said(desk):
    back = desk.came_back_folder(WEEK).parent
    (back / "Schüler 1.txt").write_text(file_of(desk, 0), "utf-8")
    (desk.came_back_folder(OTHER) / "two.txt").write_text(file_of(desk, 1))
    (desk.came_back_folder(OTHER) / "own.txt").write_text(file_of(desk, 1, OTHER))
    result, _ = desk.mark("Week 2")
    assert result.handed_in == 2 and result.skipped == ()
    assert any("2 files of this assignment lay outside its folder" in note for note in result.notes)
    assert score(desk, 1, "Week 1") == 1


def test_several_packs_beside_loose_files_are_all_opened(desk):
    back = desk.came_back_folder(WEEK)
    for at in (0, 1):
        with zipfile.ZipFile(back / f"pack {at}.zip", "w") as pack:
            pack.writestr("deep/one.txt", file_of(desk, at))
    (back / "loose.txt").write_text(file_of(desk, 2))
    with zipfile.ZipFile(back.parent / "dropped.zip", "w") as pack:
        pack.writestr("one.txt", file_of(desk, 3))
    (back / "broken.zip").write_bytes(b"PK\x03\x04 no pack")
    result, _ = desk.mark("Week 2")
    assert result.handed_in == 4 and [one.file for one in result.skipped] == ["broken.zip"]


def test_a_folder_that_is_gone_or_empty_is_no_error(desk):
    desk.came_back_folder(WEEK).rmdir()
    result, sheets = desk.mark("Week 2")
    assert result.handed_in == 0 and (sheets / "teach_tomorrow.html").is_file()
    assert result.teaching.decision[0] == "Nothing to read came back yet."


def test_a_loose_file_with_a_strangers_key_is_listed_and_harms_nobody(desk):
    (desk.came_back_folder(WEEK) / "one.txt").write_text(file_of(desk, 0))
    fake = ticket_of(desk.codes[0], WEEK)  # under the key that everybody knows
    (desk.came_back_folder(WEEK).parent / "fake.txt").write_text(answer_text(fake, []))
    assert fake.key != number_key(desk.class_key, desk.codes[0], WEEK.name)
    result, _ = desk.mark("Week 2")
    assert [one.file for one in result.skipped] == ["came_back/fake.txt"]
    assert next(m.score for m in result.marks if m.code == desk.codes[0]) == 3


# The panel ----------------------------------------------------------------------------------------


def test_the_panel_keeps_a_paper_shows_it_again_and_refuses_a_wrong_code(desk):
    panel = panels.desk(desk.folder).paper
    panel.name.value = "Week 2"
    panel.code.value = shown_code(desk.codes[2])
    for box, text in zip(panel.boxes, answers_on_paper(desk, 2).values(), strict=True):
        box.value = text
    panel.keep_button.click()
    name = shown_code(desk.codes[2])
    assert f"3 answers of {name} kept" in panel.said.value and panel.code.value == ""
    assert [box.value for box in panel.boxes] == ["", "", ""] and score(desk, 2) == 3
    panel.code.value = desk.codes[2]
    panel.boxes[0].value = "7"
    panel.keep_button.click()  # empty boxes that nobody looked at take nothing back
    assert sorted(desk.paper_list(WEEK).typed(desk.codes[2])) == [1, 2, 3]
    desk.paper_list(WEEK).enter(desk.codes[2], answers_on_paper(desk, 2))
    panel.code.value = desk.codes[2]
    panel.look_button.click()
    assert [box.value for box in panel.boxes] == list(answers_on_paper(desk, 2).values())
    panel.code.value = "K7MP-TDX"
    panel.keep_button.click()
    assert "code" in panel.error.value and panel.code.value == "K7MP-TDX"


def test_what_cannot_be_read_on_a_paper_is_named_as_soon_as_it_is_typed(desk):
    """Nothing is lost: it is kept as it was written, and the instructor may type it again."""
    panel = panels.desk(desk.folder).paper
    panel.name.value, panel.code.value = "Week 2", desk.codes[3]
    panel.boxes[0].value, panel.boxes[1].value = "plenty <b>", "12 lb"
    panel.keep_button.click()
    said = panel.said.value
    assert "No. 1, “plenty &lt;b&gt;”, cannot be read" in said and "No. 2" not in said
    assert desk.paper_list(WEEK).typed(desk.codes[3]) == {1: "plenty <b>", 2: "12 lb"}
    panel.code.value = desk.codes[3]
    panel.look_button.click()
    panel.boxes[0].value = "13 lb"
    panel.keep_button.click()
    assert "cannot be read" not in panel.said.value


def test_a_code_in_a_table_of_the_desk_stays_on_one_line():
    """Beside long notes it broke at its hyphen, and was two words to look for."""
    assert ".lv-panel td code {white-space: nowrap;}" in page_rules()


# The key ------------------------------------------------------------------------------------------


def test_the_key_is_compact_a_row_a_code_and_has_every_answer_of_the_first_try(desk):
    text = (desk.private / "Week_2_key.html").read_text("utf-8")
    assert text.count("<table") == 1 and text.count('scope="row"') == 8
    assert "white-space:nowrap" in text and ".key td,.key th{padding:.1rem" in text, "a row a line"
    for at in range(8):
        problem = problem_for(ticket(desk, at), WEEK.items[0], 1)
        assert f'<td class="short">{right_answer(problem)}</td>' in text


def test_the_key_of_many_problems_is_cut_into_tables_that_fit_a_page(desk):
    many = Assignment("Many", ["front_gain"] * 19 + ["formula_front_gain"], system="lb")
    desk.write_assignment(many)
    text = (desk.private / "Many_key.html").read_text("utf-8")
    assert text.count("<table") == 4 and "For everyone" in text


def test_the_key_says_the_words_of_an_option_once_and_each_code_its_letter(desk):
    choice = Assignment("Choice", ["where_double", "front_gain"], system="lb")
    desk.write_assignment(choice)
    text = (desk.private / "Choice_key.html").read_text("utf-8")
    assert text.count("One wheelbase ahead of the front axle.") == 1
    body = text.partition("<tbody>")[2]
    for handed in desk.tickets(choice):
        problem = problem_for(handed, choice.items[0], 1)
        assert f'<td class="short">{problem.answer}</td><td' in body


def test_a_long_answer_of_the_key_has_a_table_of_its_own(desk):
    """In a column beside numbers a decision was twelve lines high, and a number left its unit."""
    kinds = ["front_gain", "bucket_for_mowing", "rear_change", "off_or_behind"]
    work = Assignment("Decide", kinds, system="lb")
    desk.write_assignment(work)
    tables = (desk.private / "Decide_key.html").read_text("utf-8").split("<thead>")[1:]
    heads = [re.findall(r'<th scope="col">(\d+) ', one.partition("</thead>")[0]) for one in tables]
    assert heads == [["1", "3"], ["2"], ["4"]]
    for row in re.findall(r"<tr><th scope=.row.*?</tr>", tables[0]):
        assert re.findall(r"<td( class=\"short\")?>", row) == [' class="short"'] * 2


# Paper -------------------------------------------------------------------------------------------


def test_tickets_are_offered_on_the_paper_of_the_units(tmp_path):
    """Letter with pounds, A4 with kilograms, as long as nobody chose another."""
    choose = panels.desk(tmp_path / "class").choose
    for system, paper in (("lb", "Letter"), ("kg", "A4"), ("lb", "Letter")):
        panels.shared.set(system=system)
        assert (choose.units.value, choose.paper.value) == (system, paper)
    choose.paper.value = "A4"
    panels.shared.set(large=True)
    assert choose.paper.value == "A4", "chosen by hand"


def test_no_difficulty_is_asked_for_before_a_problem_is_chosen(tmp_path):
    choose = panels.desk(tmp_path / "class").choose
    assert choose.all_steps.layout.display == "none"
    choose.choose("front_gain", "rear_change")
    assert choose.all_steps.layout.display == ""
    choose.choose()
    assert choose.all_steps.layout.display == "none"


# How hard -----------------------------------------------------------------------------------------


def test_how_hard_is_set_in_the_form_and_marked_right_afterwards(tmp_path):
    """All at once, then one by one; the files that come back are marked by the same steps."""
    made = panels.desk(tmp_path / "class")
    made.codes.start(12)
    form = made.choose.choose("front_gain", "rear_change", "where_double")
    assert [box.description for box in form.how_hard.children] == [
        "How hard: What the front gains",
        "How hard: What the rear does",
    ]
    form.all_steps.value = "hard"
    assert form.asked == ("front_gain:hard", "rear_change:hard", "where_double")
    form.how_hard.children[1].value = "easy"
    assert form.asked == ("front_gain:hard", "rear_change:easy", "where_double")
    assert form.all_steps.value == ""
    form.look()
    assert "ahead of the rear axle" in form.sample.value
    form.name.value = "Week 7"
    form.write()
    work = made.desk.assignment("Week 7")
    assert [item.step for item in work.items] == ["hard", "easy", "ordinary"]
    sheet = made.desk.came_back_folder(work) / "one.answers.txt"
    sheet.write_text(file_of(made.desk, 0, work), "utf-8")
    assert score(made.desk, 0, "Week 7") == 3
    # Right for ordinary numbers is not right for these, unless two numbers happen to be alike.
    plain = Assignment("Week 7", ["front_gain", "rear_change", "where_double"], system=work.system)
    sheet.unlink()
    for at in range(12):
        (sheet.parent / f"{at}.answers.txt").write_text(file_of(made.desk, at, plain), "utf-8")
    result, _ = made.desk.mark("Week 7")
    scores = [mark.score for mark in result.marks]
    assert min(scores) == 1 and sum(scores) <= 18


def test_how_hard_follows_what_is_ticked(tmp_path):
    form = panels.desk(tmp_path / "class").choose.choose("front_gain:hard", "rear_change")
    assert form.asked == ("front_gain:hard", "rear_change")
    form.choose("rear_change")
    assert form.asked == ("rear_change",) and form.steps == {}
    form.all_steps.value = "easy"
    form.choose("rear_change", "where_double")
    assert form.asked == ("rear_change", "where_double") and form.all_steps.value == ""
    assert form.choose().how_hard.children == ()
