"""The data files of the exercises: spoiled ones are refused in one sentence with file and key."""

import subprocess
import sys

import pytest

from leverarm import Refusal, exercises
from leverarm.data import lessons, parsed, toml_file
from leverarm.exercises.bank import BANK, OLD_NAMES, one_bank, read_lesson
from leverarm.exercises.letters import LETTERS, read_letters
from leverarm.exercises.listed_mistakes import LISTED_MISTAKES, read_listed_mistakes
from leverarm.exercises.mistakes import listed_mistakes
from leverarm.exercises.rules import RULES, read_rules

COMMON = parsed(
    """
[scenes]
machine = ["orchard tractor"]
[sentences]
hung = "A {thing} of {W} hangs {a} ahead. The wheelbase is {L}."
""",
    "common.toml",
)
NUMBER = """
[[number]]
name = "own"
title = "Our own"
asked = "front_gain"
given = "W a L"
statement = "{hung} What is the gain of the {machine}?"
"""
FORMULA = NUMBER.replace("number", "formula").replace("{hung}", "W hangs a ahead.")
CONCEPT = """
[[concept]]
name = "own"
title = "Our own"
question = "What does the front do?"
principle = "rear"
hints = ["What?", "Draw it.", "Count."]
right = { text = "It gains.", reply = "It does." }
[[concept.wrong]]
name = "weight alone"
text = "Nothing."
reply = "Why?"
"""
BODY = """
[[body]]
name = "own"
title = "Our own"
statement = "A tractor."
body = "tractor"
bodies = ["tractor", "ground"]
pivot = "front axle"
unknowns = "R F"
lengths = "x L"
[body.other_pivots]
"rear axle" = "There R has no arm."
[[body.force]]
letter = "F"
words = "the front reaction"
way = "up"
at = "front axle"
arm = "0"
[[body.force]]
letter = "R"
words = "the rear reaction"
way = "up"
at = "rear axle"
arm = "L"
"""
SLIP = """
[[slip]]
of = "front_gain"
name = "weight alone"
what = "the weight"
formula = "W"
question = "Where?"
"""
RULE = """
[[rule]]
name = "own_gain"
shown = "G"
words = "the gain"
kind = "weight"
function = "front_gain"
from = "W a L"
principle = "rear"
"""


def lesson(text):
    return read_lesson(parsed(text, "lesson_99.toml"), 99, COMMON)


def test_what_is_not_spoiled_is_read():
    number, formula, body, concept = lesson(
        NUMBER + FORMULA.replace("own", "own_2") + BODY.replace("own", "own_3", 1)
        + CONCEPT.replace("own", "own_4", 1) + SLIP
    )  # fmt: skip
    made = number.make(1, "kg")
    assert made.statement.startswith(f"A {made.statement.split()[1]}") and made.unit == "kg"
    assert number.lesson == 99 and number.check(made, f"{made.answer} kg").right
    assert formula.check(formula.make(1), "W(1+a/L)").right
    assert body.check(body.make(1), body.make(1).answer).right
    assert concept.make(1).answer in ("A", "B")


@pytest.mark.parametrize(
    "text, old, new, says",
    [
        (NUMBER, "W a L", "W a Q9",
         "number own, given: Q9 was given; one of "),
        (NUMBER, 'asked = "front_gain"', 'asked = "front_gian"',
         "number own, asked: front_gian was given; one of "),
        (NUMBER, 'title = "Our own"', "", "number own, title: nothing was given; a text in quotes"),
        (NUMBER, "title", "titel", "number own, title: nothing was given; a text in quotes"),
        (NUMBER, "W a L", "W a",
         "number own, statement: {L} was given; {W}, {a}, {hung}, {machine} or {thing}"),
        (NUMBER, "{hung}", "{hing}", "number own, statement: {hing} was given; "),
        (NUMBER, "{hung}", "{W} at {a}",
         "number own, statement: no {L} was given; every given letter is allowed"),
        (NUMBER, "{hung}", "{hung", "number own, statement: {hung What is the gain of the"),
        (NUMBER, "front_gain", "rear_reading",
         "number own, given: W a L was given; letters from which rear_reading follows is allowed; "
         "add T, or what it follows from."),
        (NUMBER + 'sign = "minus"', "", "",
         "number own, sign: minus was given; plain, change or size is allowed"),
        (NUMBER + "ranges = { W = [1, 2, 3] }", "", "",
         "number own, ranges, W: [1, 2, 3] was given; two numbers"),
        (NUMBER + "ranges = { T = [1, 2] }", "", "",
         "number own, ranges, T: T was given; a letter of this problem"),
        (NUMBER + "points = 3", "", "", "number own: the key points was given; asked, "),
        (FORMULA, "W a L", "W a", "formula own, given: W a was given; letters from which"),
        (CONCEPT, '"Count."', "", "concept own, hints: 2 was given; three hints is allowed"),
        (CONCEPT, "[[concept.wrong]]", "[[concept.worng]]",
         "concept own, wrong: 0 was given; 1 to 5 wrong options is allowed"),
        (CONCEPT, 'reply = "Why?"', "", ("concept own, wrong weight alone, reply: nothing was "
                                         "given")),
        (CONCEPT, "What does", "What {does}", "concept own, question: {does} was given; "),
        (BODY, '"tractor", "ground"', '"ground"', "body own, body: tractor was given; one of the"),
        (BODY, "R F", "R S", "body own, unknowns: S was given; letters of the forces is allowed"),
        (BODY, '"up"', '"upward"', "body own, force F, way: upward was given; up, down, left, "),
        ("[[numbers]]\nname = 'x'", "", "", ": the key numbers was given; body, concept, "),
    ],
)  # fmt: skip
def test_a_spoiled_problem_is_refused(text, old, new, says):
    assert old in text
    with pytest.raises(Refusal) as refused:
        lesson(text.replace(old, new, 1))
    colon = "" if says.startswith(":") else ", "
    assert str(refused.value).startswith(f"lesson_99.toml{colon}{says}"), refused.value


def slips(text):
    return read_listed_mistakes([parsed(text, "lesson_99.toml")])


@pytest.mark.parametrize(
    "text, says",
    [
        (SLIP.replace("front_gain", "front"), "of: front was given; one of "),
        (SLIP + SLIP, "name: weight alone was given; a name once for front_gain is allowed"),
        (SLIP.replace('what = "the weight"', ""), "what: nothing was given; a text in quotes"),
        (
            SLIP + "rank = 3",
            ": the key rank was given; formula, name, of, question, systems or what",
        ),
    ],
)
def test_a_spoiled_slip_is_refused(text, says):
    with pytest.raises(Refusal) as refused:
        slips(text)
    colon = "" if says.startswith(":") else ", "
    assert str(refused.value).startswith(f"lesson_99.toml, slip weight alone{colon}{says}")


@pytest.mark.parametrize("formula", ["2*(W", "W*Q9", "W W 3", "__import__('os')", ""])
def test_a_formula_that_does_not_parse_is_refused(formula):
    (slip,) = slips(SLIP.replace('formula = "W"', f'formula = "{formula}"'))["front_gain"]
    with pytest.raises(Refusal) as refused:
        _ = slip.tree
    assert str(refused.value).startswith("lesson_99.toml, slip weight alone, formula: ")


def test_a_slip_that_is_the_right_answer_is_refused(monkeypatch):
    found = slips(SLIP.replace('formula = "W"', 'formula = "W*(L+a)/L"'))
    monkeypatch.setattr("leverarm.exercises.mistakes.LISTED_MISTAKES", found)
    with pytest.raises(Refusal) as refused:
        listed_mistakes.__wrapped__(exercises.kind_named("front_gain").method)
    assert str(refused.value) == (
        "lesson_99.toml, slip weight alone, formula: W*(L+a)/L was given; another formula than "
        "that of front_gain is allowed; mend the formula."
    )


@pytest.mark.parametrize(
    "old, new, says",
    [
        ('"front_gain"', '"eval"', "rule own_gain, function: eval was given; one of "),
        ("W a L", "W a", "rule own_gain, from: W a was given; what front_gain takes is allowed"),
        ("W a L", "W a Q9", "rule own_gain, from: Q9 was given; one of "),
        ('"weight"', '"wieght"', "rule own_gain, kind: wieght was given; one of "),
        ('"rear"', '"back"', "rule own_gain, principle: back was given; forces, front, rear, "),
        ('"own_gain"', '"W"', "rule W, name: W was given; a name of its own is allowed"),
    ],
)
def test_a_spoiled_rule_is_refused(old, new, says):
    assert old in RULE
    with pytest.raises(Refusal) as refused:
        read_rules(parsed(RULE.replace(old, new, 1), "own.toml"))
    assert str(refused.value).startswith(f"own.toml, {says}"), refused.value


@pytest.mark.parametrize(
    "text, says",
    [
        ("[letters.wieght]\nW = { words = 'w', low = 1, high = 2 }",
         "own.toml, letters: the kind wieght was given; "),
        ("[letters.weight]\nW = { words = 'w', low = 3, high = 2 }",
         "own.toml, letters, weight, W, low: 3 was given; a number up to 2 is allowed"),
        ("[letters.weight]\nW = { words = 'w', low = 1, high = 2, units = { lb = 'furlong' } }",
         "own.toml, letters, weight, W, units, lb: furlong was given; "),
        ("[letters.weight]\nW = { low = 1, high = 2 }",
         "own.toml, letters, weight, W, words: nothing was given; a text in quotes"),
        ("[letters.weight]\nW = { words = 'w', low = 1, high = 2 }\n"
         "[letters.length]\nW = { words = 'w', low = 1, high = 2 }",
         "own.toml, letters, length, W: W was given; each letter once is allowed"),
    ],
)  # fmt: skip
def test_a_spoiled_letter_is_refused(text, says):
    with pytest.raises(Refusal) as refused:
        read_letters(parsed(text, "own.toml"))
    assert str(refused.value).startswith(says), refused.value


def test_every_formula_and_every_slip_of_the_files_can_be_used():
    """Each slip is met by a kind, so each was held against the right answer of that kind."""
    asked = {kind.asked for kind in exercises.problems() if hasattr(kind, "asked")}
    assert set(LISTED_MISTAKES) <= asked
    for kind in exercises.problems():
        if hasattr(kind, "asked"):
            assert listed_mistakes(kind.method) or not LISTED_MISTAKES.get(kind.asked)
    assert all(slip.tree for listed in LISTED_MISTAKES.values() for slip in listed)
    assert sorted(lessons()) == list(range(1, len(lessons()) + 1))
    assert set(LETTERS) & set(RULES) == {"a", "a3", "se"}
    assert toml_file("common") is toml_file("common")


@pytest.mark.parametrize("system", ["kg", "lb"])
def test_no_sentence_says_in_in_or_names_a_unit_twice(system):
    for kind in exercises.problems():
        problem = exercises.make(kind, 4, system)
        goal = exercises.check(problem, "1234567").goal if kind.style == "number" else ""
        words = "\n".join([problem.statement, goal, *problem.hints])
        for never in (
            " in in.",
            " in lb in.",
            "what is how",
            "what is what",
            "percent, in percent",
            "  ",
        ):
            assert never not in words, (kind.name, words)


@pytest.mark.parametrize("count, allowed", [(0, False), (1, True), (5, True), (6, False)])
def test_a_question_has_up_to_six_options(count, allowed):
    head, wrong = CONCEPT.split("[[concept.wrong]]")
    rows = "".join(
        "[[concept.wrong]]" + wrong.replace("alone", f"{i}").replace("Nothing", f"Nothing {i}")
        for i in range(count)
    )
    if not allowed:
        with pytest.raises(Refusal, match="1 to 5 wrong options"):
            lesson(head + rows)
        return
    (kind,) = lesson(head + rows)
    problem = kind.make(1)
    assert [label for label, _ in problem.options] == list("ABCDEF"[: count + 1])
    assert len({kind.make(seed).answer for seed in range(60)}) == count + 1


@pytest.mark.parametrize("hints", ['"a", "b"', '"a", "b", "c", "d"'])
def test_a_question_has_three_hints(hints):
    with pytest.raises(Refusal, match="three hints"):
        lesson(CONCEPT.replace('"What?", "Draw it.", "Count."', hints))


def test_what_may_be_left_out_has_its_usual_value():
    (kind,) = lesson(NUMBER)
    assert (kind.sign, kind.low, kind.high, kind.system) == ("plain", 1e-9, 1e9, "")
    assert (kind.hidden, kind.ranges, kind.caution, kind.stream) == ((), (), "", "")
    told = 'low = 50\nhigh = 60\nsign = "size"\nsystem = "lb"\ncaution = "Mind."\n'
    (kind,) = lesson(NUMBER + told + "ranges = { W = [20, 30] }\n")
    assert (kind.sign, kind.low, kind.high, kind.system) == ("size", 50, 60, "lb")
    assert kind.ranges == (("W", 20, 30),)
    for seed in range(5):
        made = kind.make(seed, "kg")
        assert made.system == made.unit == "lb" and made.statement.endswith(" Mind.")
        assert 50 <= made.drawn.right <= 60 and 20 <= made.drawn.values["W"] <= 30


def test_numbers_that_nobody_can_draw_are_refused():
    (kind,) = lesson(NUMBER + "low = 5000\nhigh = 6000\n")
    with pytest.raises(Refusal, match="take another seed"):
        kind.make(1, "kg")


def test_a_worksheet_names_problems_of_its_lesson():
    sheet = '[lesson]\ntitle = "Ours"\nworksheet = ["{}"]\n'
    assert len(lesson(sheet.format("own") + NUMBER)) == 1
    with pytest.raises(Refusal, match="worksheet: other was given"):
        lesson(sheet.format("other") + NUMBER)


def test_a_name_stands_once_in_the_bank():
    one, two = (read_lesson(parsed(NUMBER, f"lesson_0{n}.toml"), n, COMMON) for n in (1, 2))
    with pytest.raises(Refusal, match=r"lesson_02\.toml, name: own was given; each name once"):
        one_bank([one, two])
    assert one_bank([two])["own"].lesson == 2


def test_what_is_found_by_its_name_is_what_reading_everything_finds():
    assert {name: BANK[name] for name in BANK} == dict(BANK.items())
    whole = read_listed_mistakes(lessons().values())
    assert {asked: LISTED_MISTAKES[asked] for asked in whole} == whole
    assert {name: RULES[name] for name in RULES} == read_rules(toml_file("rules"))
    assert LISTED_MISTAKES.get("nothing") is None and "nothing" not in BANK
    assert dict(OLD_NAMES.items()) == {old: OLD_NAMES[old] for old in OLD_NAMES}
    assert not set(OLD_NAMES) & set(BANK)
    # Not the name of a problem, though the files say it.
    assert exercises.kind_named("front") is None and exercises.kind_named("on") is None


FIRST = """
from leverarm import data, exercises
data.lesson_file = exercises.bank.lesson_file = exercises.listed_mistakes.lesson_file = (
    lambda number, whole=data.lesson_file: print(number) or whole(number)
)
exercises.check(exercises.make("front_pressure", 1), "1")
"""


def test_the_first_exercise_of_a_process_reads_its_own_lesson_alone():
    done = subprocess.run([sys.executable, "-c", FIRST], capture_output=True, text=True, check=True)
    assert set(done.stdout.split()) == {"10"}
