"""What to teach tomorrow: wrong first answers added up by their idea, each counted once."""

import random

import pytest
from class_files import answer_text, demo_codes, right, ticket_of

from leverarm import exercises
from leverarm.data import parsed
from leverarm.exercises import shared_causes
from leverarm.marking import Assignment, mark_folder
from leverarm.marking.answer_file import Answer, line
from leverarm.marking.codes import DEMO_KEY, shown_code
from leverarm.marking.homework import given_text, problem_for
from leverarm.marking.misconceptions import board_numbers, misconceptions, read_misconceptions
from leverarm.marking.teach_page import teach_html, teach_page
from leverarm.quantities import Refusal

KINDS = ["front_gain", "rear_change", "new_front_reading", "where_double"]
WEEK = Assignment("Week 2", KINDS, system="lb")
CODES = demo_codes(300)


def numbers(problem):
    return {
        letter: float(text.split()[0].replace(",", "")) for letter, text in problem.given.items()
    }


# What a stranger's class does, each by the lever law written out here and not by the package.
DOES = {
    "right": right,
    "weight": lambda p: f"{numbers(p)['W']:.4g}",
    "reading and weight": lambda p: f"{numbers(p)['F0'] + numbers(p)['W']:.5g}",
    "upside down": lambda p: "{:.4g}".format(numbers(p)["W"] * numbers(p)["L"] / numbers(p)["a"]),
    "a over all": lambda p: "{:.4g}".format(
        numbers(p)["W"] * numbers(p)["L"] / (numbers(p)["L"] + numbers(p)["a"]) * 0.5 + 1
    ),
}


def hand_in(folder, code, *does, assignment=WEEK):
    """A file with one try at each problem: a way of DOES, or a text."""
    ticket, rows = ticket_of(code, assignment), []
    for item, way in zip(assignment.items, does):
        problem = problem_for(ticket, item, 1)
        if way:
            typed = DOES[way](problem) if way in DOES else way
            rows.append(line(Answer(item.name, 1, given_text(problem), typed)))
    (folder / f"{ticket.stem}.answers.txt").write_text(answer_text(ticket, rows))


def taught(folder, assignment=WEEK):
    return mark_folder(folder, DEMO_KEY, assignment=assignment).teaching


def test_one_idea_is_added_up_over_problems_and_the_parts_add_up(tmp_path):
    for code in CODES[:6]:
        hand_in(tmp_path, code, "weight", "right", "reading and weight")
    for code in CODES[6:9]:
        hand_in(tmp_path, code, "upside down", "right", "right")
    hand_in(tmp_path, CODES[9], "right", "1.234", "right")
    found = taught(tmp_path)
    lever, turned = found.slips
    assert lever.does == "They stop at the weight. The lever is missing."
    assert lever.codes == tuple(sorted(CODES[:6])) and lever.where == ((1, 6), (3, 6))
    assert turned.where == ((1, 3),) and "upside down" in turned.does
    assert (found.first, found.wrong, found.others, found.left) == (30, 16, 0, 1)
    assert found.decision == ("Two slips made 15 of 16 wrong first answers.", "1 is unexplained.")
    assert len({one.code for one in lever.examples}) == 2
    for one in lever.examples:
        assert one.finding and one.right


def test_the_fresh_problem_is_a_new_one_with_its_own_right_answer(tmp_path):
    for code in CODES[:5]:
        hand_in(tmp_path, code, "weight")
    (slip,) = taught(tmp_path).slips
    given = numbers(slip.again)
    assert slip.again.answer == pytest.approx(given["W"] * (1 + given["a"] / given["L"]), 0.003)
    tickets = [ticket_of(code, WEEK) for code in CODES[:5]]
    assert all(problem_for(one, WEEK.items[0], 1).given != slip.again.given for one in tickets)


@pytest.mark.parametrize("students", [1, 2, 3])
def test_a_class_of_three_has_slips_and_codes_to_teach_from(tmp_path, students):
    for code in CODES[:students]:
        hand_in(tmp_path, code, "weight", "right")
    found = taught(tmp_path)
    assert found.small and found.decision[0] == (
        f"One slip made {students} of {students} wrong first answer{'s' * (students > 1)}."
    )
    assert found.slips[0].codes == tuple(sorted(CODES[:students]))


def test_a_class_of_three_hundred_is_counted_whole(tmp_path):
    for at, code in enumerate(CODES):
        hand_in(tmp_path, code, "weight" if at % 3 else "right")
    (slip,) = taught(tmp_path).slips
    assert len(slip.codes) == slip.answers == 200 and len(slip.examples) == 2


def test_nobody_and_nothing_wrong_are_said(tmp_path):
    assert taught(tmp_path).decision == ("Nothing to read came back yet.", "")
    hand_in(tmp_path, CODES[0], "right", "right")
    assert taught(tmp_path).decision == ("No wrong first answer among 2.", "")


def test_only_the_first_answer_is_counted(tmp_path):
    ticket = ticket_of(CODES[0], WEEK)
    item = WEEK.items[0]
    rows = [
        line(Answer(item.name, n, "", DOES[way](problem_for(ticket, item, n))))
        for n, way in ((1, "right"), (2, "weight"))
    ]
    (tmp_path / "x.txt").write_text(answer_text(ticket, rows))
    assert taught(tmp_path).wrong == 0


# One expression behind several numbers ----------------------------------------------------------


def gain_problems(count, kind="front_gain"):
    return [exercises.make(kind, f"class {at}", "lb") for at in range(count)]


def test_one_expression_that_gives_three_different_numbers_is_found():
    made = gain_problems(5)
    tries = []
    for problem in made[:3]:  # the weight is divided by where it should be multiplied
        n = numbers(problem)
        tries.append((problem, f"{n['W'] * n['L'] / (n['L'] + n['a']):.4g}"))
    tries += [(made[3], "917.3"), (made[4], "33.21")]
    (cause,) = shared_causes(tries)
    assert cause.of == (0, 1, 2) and "L" in cause.mistake.what and "a" in cause.mistake.what


def test_numbers_out_of_the_blue_share_no_cause():
    """Sixty groups of six random numbers, three and four digits: at most one is given a cause."""
    rng, named = random.Random(3), 0
    kinds = ["front_gain", "new_front_reading", "rear_change"]
    for group in range(60):
        tries = []
        for at in range(6):
            problem = exercises.make(kinds[group % 3], f"{group} {at}", "lb")
            number = problem.answer * 10 ** rng.uniform(-0.7, 0.7)
            tries.append((problem, f"{number:.{3 + group % 2}g}"))
        wrong = [(p, typed) for p, typed in tries if not exercises.check(p, typed).right]
        named += bool(shared_causes(wrong))
    assert named <= 1


@pytest.mark.parametrize("typed", ["", "no idea", "1 or 2", "W*a", "9" * 500, "nan", "0"])
def test_what_is_no_number_has_no_cause_and_stops_nothing(typed):
    assert shared_causes([(problem, typed) for problem in gain_problems(3)]) == ()


def test_unexplained_answers_are_counted_for_each_problem(tmp_path):
    for at, code in enumerate(CODES[:7]):
        hand_in(tmp_path, code, "a over all" if at < 4 else f"{311.7 + 83.3 * at:.4g}")
    found = taught(tmp_path)
    shown = sum(len(one.answers) for one in found.left_over)
    assert shown == found.left == sum(found.unexplained.values())


# The commonest slip has a row -----------------------------------------------------------------


@pytest.mark.parametrize(
    ("system", "digits", "at", "of"),
    [("lb", 4, 1, 4), ("kg", 4, 4, 9), ("kg", 3, 7, 9)],
)
def test_the_commonest_listed_slip_of_a_kind_has_a_row_on_every_item(
    tmp_path, system, digits, at, of
):
    """Nine students, seven of them with one true slip: it has a row at that problem."""
    numeric = [kind for kind in exercises.problems() if kind.style == "number"]
    kinds = [kind for kind in numeric[at::of] if kind.system in ("", system)]
    work = Assignment("All", [kind.name for kind in kinds], system=system)
    for turn, code in enumerate(CODES[:9]):
        ticket, rows = ticket_of(code, work), []
        for item, kind in zip(work.items, kinds):
            problem = problem_for(ticket, item, 1)
            typed = right(problem)
            if turn < 7 and kind.listed_mistakes:
                number = problem.source.listed_mistakes[0].compute(problem.drawn.values)
                scale = problem.answer / problem.drawn.right if problem.drawn.right else 1
                typed = f"{number * scale:.{digits}g}"
            rows.append(line(Answer(item.name, 1, "", typed)))
        (tmp_path / f"{code}.txt").write_text(answer_text(ticket, rows))
    result = mark_folder(tmp_path, DEMO_KEY, assignment=work)
    missing = []
    for kind, row in zip(kinds, result.items):
        whats = {one.what for group in kind.listed_mistakes[:1] for one in group.mistakes}
        rows = [one for one in row.mistakes if one.what in whats and one.students >= 6]
        if kind.listed_mistakes and not rows:
            missing.append((kind.name, row.unexplained))
    assert missing == []


# The page ---------------------------------------------------------------------------------------


def page_of(folder):
    return teach_page(mark_folder(folder, DEMO_KEY, assignment=WEEK))


def test_the_page_says_what_was_decided_with_answers_in_brackets_and_no_marks(tmp_path):
    for code in CODES[:6]:
        hand_in(tmp_path, code, "weight", "right", "reading and weight")
    text = page_of(tmp_path)
    assert "One slip made 12 of 12 wrong first answers." in text
    assert "6 of 6</b> students" in text and "12 answers: 6 in no. 1 and 6 in no. 3" in text
    assert "[front +400 lb, rear −200 lb]" in text and "<table>" in text
    assert (
        'scope="row"' in text and 'lang="en"' in text and '"6 of 6 students made this slip"' in text
    )
    assert " of 4 problems" not in text and "withheld" not in text


def test_a_small_class_is_told_what_is_withheld_and_why(tmp_path):
    for code in CODES[:3]:
        hand_in(tmp_path, code, "weight", "right")
    text = page_of(tmp_path)
    assert "Only three came back." in text and "withheld" in text
    assert "<table>" not in text and "students</p>" not in text and "of 3</b> students" not in text
    assert all(shown_code(code) in text for code in CODES[:3])


def test_a_strangers_text_is_shown_as_text_and_cut(tmp_path):
    kinds = Assignment("Week 2", ["front_gain"], system="lb")
    for at, code in enumerate(CODES[:6]):
        hand_in(tmp_path, code, f"{77 + at}.31" + " " * 9 + "<b>lb</b>", assignment=kinds)
        hand_in(tmp_path, code, f"{77 + at}.31", assignment=kinds)
    text = teach_page(mark_folder(tmp_path, DEMO_KEY, assignment=kinds))
    assert "<b>lb</b>" not in text


def test_hidden_codes_leave_the_same_page(tmp_path):
    for code in CODES[:6]:
        hand_in(tmp_path, code, "weight")
    result = mark_folder(tmp_path, DEMO_KEY, assignment=WEEK)
    shown, hidden = teach_html(result), teach_html(result, hidden=True)
    assert hidden == shown.replace('class="tt"', 'class="tt tt-hidden"')
    assert ".tt-hidden code{display:none}" in hidden


# The data -----------------------------------------------------------------------------------------


def test_board_questions_have_numbers_in_both_systems_and_no_field_is_left_open():
    for system in ("kg", "lb"):
        shown = board_numbers(system)
        for one in set(misconceptions().values()):
            assert "{" not in one.ask.format(**shown) + one.answer.format(**shown)


def test_who_looks_for_twice_at_another_distance_does_not_double_everywhere():
    """Two options of one question, two ideas: their sentences must be true of who chose them."""
    of = misconceptions()
    assert of["two wheelbases"] == of["half a wheelbase"] != of["doubles anywhere"]
    assert "anywhere" not in of["two wheelbases"].does and "wherever" in of["plain doubling"].does


@pytest.mark.parametrize(
    "row, says",
    [
        ('slips = ["no such slip"]\nask = "a"\nanswer = "b"', "no such slip"),
        ('slips = ["sign"]\nask = "{nothing}"\nanswer = "b"', "nothing"),
        ('slips = ["sign"]\nask = "a"', "answer"),
        ('slips = ["sign"]\nask = "a"\nanswer = "b"\nshout = "c"', "shout"),
        ('slips = ["sign"]\nask = "a"\nanswer = "b"\nlessons = ["first"]', "first"),
    ],
)
def test_a_spoiled_line_of_the_data_is_refused_with_its_place(row, says):
    text = f'[[misconception]]\nname = "own"\ndoes = "They do."\n{row}\n'
    with pytest.raises(Refusal, match=says) as caught:
        read_misconceptions(parsed(text, "own.toml"))
    assert "own.toml" in str(caught.value)
