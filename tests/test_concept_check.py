"""The concept check: its questions, and what its figures say, against other hands' numbers."""

import hashlib
import math
import random
from importlib import resources

import pytest
from reading import grade

from leverarm.concept_check import statistics as st
from leverarm.concept_check.questions import (
    check_words,
    form,
    how_many_questions,
    read_check,
    right_letters,
    slips_caught,
)
from leverarm.concept_check.simulated import Imagined, imagined_class, letters, recovered
from leverarm.data import parsed
from leverarm.quantities import Refusal

np = pytest.importorskip("numpy")

# Questions ---------------------------------------------------------------------------------

# Worked by hand from the questions, letter by letter.
KEYS = {"A": "CDABDADBCABC", "B": "DBCACDACBDAB"}
# Of every text and the order of options.  Where it changes, raise the edition in the file.
FINGERPRINT = {"1": "b8b0cbfdf716c1c9"}


@pytest.mark.parametrize("name", KEYS)
def test_the_key_is_that_worked_by_hand_and_no_letter_is_favored(name):
    assert right_letters(name) == KEYS[name]
    assert {letter: KEYS[name].count(letter) for letter in "ABCD"} == dict.fromkeys("ABCD", 3)


# The numbers of an answer, by another route than the file's: products, shares, percent, roots.
def test_the_numbers_in_right_options_follow_from_the_questions():
    a, b = form("A", "lb"), form("B", "lb")

    def right(question):
        return question.option(question.key).text

    assert right(a[0]) == f"On mark {12 * 6 // 8}" and right(b[0]) == f"From hole {8 * 12 // 6}"
    assert right(a[4]).startswith(f"By {60 * 3 // 4} lb")
    assert right(b[4]).startswith(f"By {100 * 3 // 4} lb")
    # Moments about the other support: a load as far out as the supports are apart.
    assert (40 + 40) / 40 == 2 == (60 + 60) / 60
    assert right(a[5]).startswith("At 40 in") and right(b[5]).startswith("At 60 in")
    assert right(a[7]) == f"{100 * (1500 - 1200) / 1500:.0f} percent"
    assert right(b[7]) == f"{100 * (2400 - 1800) / 2400:.0f} percent"
    assert right(a[11]).startswith(f"± {math.hypot(3, 3):.0f} lb")
    assert right(b[11]).startswith(f"± {math.hypot(5, 5):.0f} lb")


@pytest.mark.parametrize("system", ["lb", "kg"])
def test_both_forms_ask_for_the_same_and_read_easily(system):
    for a, b in zip(form("A", system), form("B", system)):
        assert (a.concept, a.lessons) == (b.concept, b.lessons) and a.text != b.text
        assert {one.slip for one in a.options} == {one.slip for one in b.options}
        for one in (a, b):
            assert len(one.options) == 4 and one.picture.endswith(".")
            assert "{" not in one.text + one.picture + "".join(
                o.text + o.thought for o in one.options
            )
            other = {"lb": "kg", "kg": "lb"}[system]
            assert f" {other}" not in one.text and f"-{other}" not in one.text
            assert len(one.text.split()) <= 75
    for name in "AB":
        assert grade([one.text for one in form(name, system)]) < 7


def test_no_picture_says_an_answer():
    for name in "AB":
        for one in form(name):
            said = one.picture.lower()
            for word in ("rises", "falls", "less", "more", "balance", "tip", "percent"):
                assert word not in said, one.picture


def test_a_change_of_a_text_asks_for_a_new_edition():
    texts = repr([[(q.text, [o.text for o in q.options]) for q in form(n, "lb")] for n in "AB"])
    found = hashlib.sha256(texts.encode()).hexdigest()[:16]
    assert {check_words().edition: found} == FINGERPRINT


def test_slips_that_several_questions_catch_come_first():
    caught = slips_caught()
    assert caught["only the near support feels it"] == (2, 5, 11)
    assert [len(numbers) for numbers in caught.values()] == sorted(map(len, caught.values()))[::-1]
    assert sum(map(len, caught.values())) == 3 * how_many_questions()


LEFT_OUT = 'slip = "weight left out"'
TEXT = resources.files("leverarm.data").joinpath("concept_check.toml").read_text("utf-8")


@pytest.mark.parametrize(
    "was, becomes, says",
    [
        (LEFT_OUT, 'slip = "weight forgotten"', "slip: "),
        (LEFT_OUT, 'slip = "near and far swapped"', "A, options: 4 was"),
        (LEFT_OUT, 'slp = "x"', "A, options On mark 6, slip: nothing"),
        ('reason = "12 × 6', 'slip = "x", thought = "12 × 6', "A, options: no reason"),
        ("8-{unit} sack", "8-{units} sack", "A, question: units was given"),
        ('edition = "1"', "edition = 1", "edition: 1 was given"),
        ('lessons = "01"\n', 'lesson = "01"\n', "lessons: nothing"),
        ("minutes =", "minute =", "minutes: nothing was given"),
    ],
)
def test_a_spoiled_file_is_refused_with_its_place(was, becomes, says):
    assert TEXT.count(was) >= 1
    with pytest.raises(Refusal) as refused:
        read_check(parsed(TEXT.replace(was, becomes, 1), "own.toml"), "lb")
    said = str(refused.value).removeprefix("own.toml, ")
    assert said.removeprefix("item weight times distance, ").startswith(says), said


def test_a_form_that_is_none_is_refused():
    with pytest.raises(Refusal, match="A or B"):
        form("C")


# Figures, against published values and other computations ----------------------------------


@pytest.mark.parametrize(
    "right, n, low, high",
    [
        # Newcombe (1998), Statistics in Medicine 17, 857-872, table I, method 3: from memory.
        (81, 263, 0.2553, 0.3662),
        (15, 148, 0.0624, 0.1605),
        (0, 20, 0.0000, 0.1611),
        (1, 29, 0.0061, 0.1718),
    ],
)
def test_the_interval_of_a_share_is_the_published_one(right, n, low, high):
    assert st.share_interval(right, n) == pytest.approx((low, high), abs=6e-5)


@pytest.mark.parametrize(
    "p, nu1, nu2, f",
    # Tables of F in any handbook of statistics: from memory.
    [(0.95, 1, 10, 4.96), (0.95, 10, 20, 2.35), (0.975, 10, 20, 2.77), (0.05, 20, 10, 1 / 2.35)],
)
def test_quantiles_of_f_are_those_of_the_tables(p, nu1, nu2, f):
    assert st.f_quantile(p, nu1, nu2) == pytest.approx(f, abs=6e-3)


def some_sheets(seed, n, k=12):
    """Right and wrong of students whose knowledge differs."""
    draw = random.Random(seed)
    return [
        [draw.random() < level for _ in range(k)] for level in [draw.random() for _ in range(n)]
    ]


@pytest.mark.parametrize("seed, n", [(1, 8), (2, 30), (3, 200)])
def test_question_figures_agree_with_numpy(seed, n):
    sheets = some_sheets(seed, n)
    table = np.array(sheets, float)
    k = table.shape[1]
    # KR-20 is Cronbach's alpha of zeros and ones, here from the whole covariance matrix.
    cov = np.cov(table.T, ddof=0)
    assert st.kr20(sheets) == pytest.approx(k / (k - 1) * (1 - np.trace(cov) / cov.sum()))
    for at in range(k):
        column = [row[at] for row in sheets]
        rest = table.sum(axis=1) - table[:, at]
        assert st.facility(column) == pytest.approx(table[:, at].mean())
        if 0 < sum(column) < n:
            assert st.discrimination(column, rest) == pytest.approx(
                np.corrcoef(table[:, at], rest)[0, 1]
            )


def test_questions_that_say_nothing_have_no_figure():
    assert st.discrimination([True] * 5, [1, 2, 3, 4, 5]) is None
    assert st.discrimination([True, False], [3, 3]) is None
    assert st.kr20([]) is None and st.kr20([[1, 0], [0, 1]]) is None and st.kr20([[1], [0]]) is None
    assert st.kr20_interval(0.5, 1, 12) is None


def test_the_interval_of_a_reliability_holds_the_one_of_very_many():
    """Feldt's interval, over classes drawn from one crowd: true value from 20,000 of it."""
    draw = random.Random("crowd")

    def drawn(n):
        return [
            [draw.random() < level for _ in range(12)]
            for level in (draw.betavariate(2, 2) for _ in range(n))
        ]

    truth, held = st.kr20(drawn(10_000)), 0
    for _ in range(300):
        low, high = st.kr20_interval(st.kr20(drawn(40)), 40, 12)
        held += low <= truth <= high
    assert 0.91 <= held / 300 <= 0.99


# Twelve pairs of right answers out of twelve, invented; gain and error worked by hand.
PAIRS = list(zip((3, 4, 5, 2, 6, 4, 3, 5, 7, 4, 3, 5), (6, 7, 8, 4, 9, 5, 7, 8, 10, 5, 6, 9)))


def test_a_worked_example_of_the_gain():
    found = st.class_gain([(100 * a / 12, 100 * b / 12) for a, b in PAIRS])
    assert (found.pairs, round(found.pre, 1), round(found.post, 1)) == (12, 35.4, 58.3)
    assert found.gain == pytest.approx(22.917 / 64.583, abs=1e-4)
    # First order: s of (post - (1 - g) pre), over root n and the room left; t of 11 is 2.201.
    g = found.gain
    rests = [100 * (b - (1 - g) * a) / 12 for a, b in PAIRS]
    by_hand = 2.201 * np.std(rests, ddof=1) / math.sqrt(12) / (100 - found.pre)
    assert found.plus_minus == pytest.approx(by_hand, rel=0.03) and round(by_hand, 2) == 0.10


@pytest.mark.parametrize("seed", range(5))
def test_the_ends_of_the_interval_are_where_the_class_no_longer_fits(seed):
    pupils = imagined_class(random.Random(seed), 9, Imagined())
    pairs = np.array([one.percents for one in pupils])
    found = st.class_gain(pairs.tolist())
    t8 = 2.306004  # Student's t of 8, two-sided 95 percent: any table
    for end in (found.low, found.high):
        rests = pairs[:, 1] - pairs[:, 0] - end * (100 - pairs[:, 0])
        assert abs(rests.mean()) == pytest.approx(t8 * rests.std(ddof=1) / 3, rel=1e-5)
    assert found.low < found.gain < found.high


@pytest.mark.parametrize(
    "pairs, gain, interval",
    [
        ([(100, 100)] * 6, None, False),  # nothing was left to gain
        ([(50, 75)], 0.5, False),
        ([(100, 100)] * 9 + [(50, 100)], 1.0, False),  # room left is one student's
        ([(50, 25), (50, 25), (25, 0)], -25 / (175 / 3), True),
        ([(0, 100)] * 5, 1.0, False),
    ],
)
def test_what_has_no_gain_or_no_interval(pairs, gain, interval):
    found = st.class_gain(pairs)
    assert found.gain == (None if gain is None else pytest.approx(gain))
    assert (found.plus_minus is not None) == interval
    with pytest.raises(ValueError):
        st.class_gain([])


# Simulated classes --------------------------------------------------------------------------


@pytest.mark.parametrize(
    "students, classes, like",
    [
        (5, 1500, Imagined(0.35, 0.2)),
        (12, 1000, Imagined(0.4, 0.5)),
        (24, 600, Imagined(0.5, 0.3, harder=0.4)),
        (60, 300, Imagined(0.4, 0.3, alike=3, even=3)),
    ],
)
def test_a_known_gain_is_recovered_within_its_plus_minus(students, classes, like):
    """Chance alone moves the share of that many classes by the margin: three of its errors."""
    found = recovered("held", students, classes, like)
    margin = 300 * math.sqrt(0.95 * 0.05 / classes)
    for inside in (found.inside, found.stated):
        assert 95 - margin <= inside <= 98 + margin
    assert found.no_number < 1
    assert found.mean_gain == pytest.approx(like.gain, abs=0.03)


def test_an_imagined_class_has_the_gain_it_was_drawn_with():
    """The gain of very many, by sums alone."""
    like = Imagined(0.45, 0.35, harder=0.6)
    many = imagined_class(random.Random("many"), 20_000, like)
    before = sum(sum(one.before) for one in many)
    after = sum(sum(one.after) for one in many)
    assert (after - before) / (12 * len(many) - before) == pytest.approx(0.35, abs=0.01)


def test_imagined_letters_are_right_where_the_student_is():
    one = imagined_class(random.Random(4), 1, Imagined())[0]
    marked = letters(random.Random(4), one.first, one.before)
    assert [a == b for a, b in zip(marked, KEYS[one.first])] == list(one.before)
