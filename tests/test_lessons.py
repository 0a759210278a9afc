"""The folder of lessons: plans of one form, links that lead somewhere, sources named, printed
sheets current and readable.
"""

import csv
import itertools
import re
import sys
from html import unescape
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path

import pytest

from leverarm import Refusal, exercises
from leverarm.data import lessons
from leverarm.exercises.choices import defended
from leverarm.handouts import (
    parts,
    plank_lab,
    poll_cards,
    printing,
    standards,
    weigh_sheet,
    worksheet_key,
    worksheets,
)
from leverarm.handouts.sheet import PAPERS, sheet_html
from leverarm.quantities import SYSTEMS

ROOT = Path(__file__).resolve().parents[1]
LESSONS = ROOT / "lessons"
PAGES = sorted(LESSONS.rglob("*.md"))
PLANS = sorted(path for path in LESSONS.glob("[0-9][0-9]_*.md") if path.name[:2] != "00")
NOTEBOOKS = sorted(
    path
    for path in (ROOT / "notebooks").glob("[0-9][0-9]_*.ipynb")
    if not path.name.startswith("00")
)
PARTS = (
    "**One idea.**",
    "**Goals.**",
    "**Time.**",
    "**Notebook.**",
    "**Print.**",
    "**Kit.**",
    "| minutes | what happens |",
    "**Likely slips.**",
    "**Exit question.**",
    "**Cautions.**",
)


def by_name(path):
    return path.stem


# --- plans and pages
# ---------------------------------------------------------------------------------------


def test_every_lesson_has_a_plan():
    """Notebook, plan and data file of a lesson belong together."""
    assert [path.stem for path in PLANS] == [path.stem for path in NOTEBOOKS]
    assert [int(path.name[:2]) for path in PLANS] == sorted(lessons())


@pytest.mark.parametrize("path", PLANS, ids=by_name)
def test_a_plan_has_its_parts_in_order_and_fits_a_page(path):
    text = path.read_text("utf-8")
    assert re.match(rf"# Lesson {path.name[:2]} plan: \w", text)
    places = [text.find(part) for part in PARTS]
    assert min(places) > 0 and places == sorted(places)
    shown = re.sub(r"\]\([^)]*\)", "]", text)
    # Ninety letters a line at 10 pt; a paper page takes some sixty such lines.
    lines = sum(1 + len(line) // 90 for line in re.sub(r"\n(?![\n|])", " ", shown).split("\n"))
    assert lines <= 60, f"{lines} lines do not fit a page"


@pytest.mark.parametrize("path", PLANS, ids=by_name)
def test_the_minutes_follow_each_other(path):
    spans = [
        tuple(map(int, found))
        for found in re.findall(r"^\| (\d+)–(\d+) \|", path.read_text("utf-8"), re.MULTILINE)
    ]
    assert (
        spans[0][0] == 0
        and all(one[1] == two[0] for one, two in itertools.pairwise(spans))
        and spans[-1][1] >= 45
    )


@pytest.mark.parametrize("path", PAGES, ids=by_name)
def test_links_lead_somewhere(path):
    for target in re.findall(r"\]\(([^)#]+)", path.read_text("utf-8")):
        assert (path.parent / target).exists(), f"dead link: {target}"


def test_the_index_names_everything_in_the_folder():
    linked = set(re.findall(r"\]\(([^)#]+)", (LESSONS / "00_overview.md").read_text("utf-8")))
    there = {path.relative_to(LESSONS).as_posix() for path in LESSONS.rglob("*") if path.is_file()}
    assert there - linked == {"00_overview.md"}, "name each page of lessons/ in 00_overview.md"


@pytest.mark.parametrize(
    "path",
    [path for path in PAGES if path.stem not in ("weigh_day_record", "standards")],
    ids=by_name,
)
def test_no_page_holds_a_weight_or_pressure_the_package_could_work_out(path):
    assert not re.search(r"\d\s?(kg|lb|kPa|psi|kN|N)\b", path.read_text("utf-8"))


def test_the_set_up_note_says_what_the_readme_says():
    readme, note = (
        (ROOT / "README.md").read_text("utf-8"),
        (LESSONS / "set_up_note.md").read_text("utf-8"),
    )
    figures = re.findall(
        r"(?:about|under) \d+ \w+|Python 3\.\d+ or newer|`[^`\n]*src[/\\]start\.py[^`\n]*`", note
    )
    assert len(figures) > 6
    for told in figures:
        assert told.strip("`").removeprefix("py ") in readme, told


# --- sources and standards
# -----------------------------------------------------------------------------------

DATED = re.compile(
    r"\b((?:Van )?[A-Z][a-zé'-]{2,})(?:,? (?:et al\.|& [A-Z][a-z]+))?,? "
    r"\(?((?:19[5-9]|20[0-2])\d)\b"
)
NAMED = (
    "OpenStax",
    "Beer & Johnston",
    "NCERT",
    "Cutnell",
    "Jazar",
    "Hibbeler",
    "NHTSA",
    "FAA",
    "SymPy",
    "J818",
    "GUM",
    "SEMATECH",
    "SP 811",
    "Giancoli",
    "Gillespie",
    "AASHTO",
    "Murthy",
    "Das,",
    "Huang",
    "Venkatramaiah",
    "GRDC",
    "WCAG",
    "Penn State",
    "Transport 34",
    "27 mars 1979",
)


def plain(text):
    """Letters without their accents, as the code writes some names."""
    for letters, ascii_letters in (("öø", "o"), ("åáä", "a"), ("é", "e"), ("č", "c"), ("ū", "u")):
        text = re.sub(f"[{letters}]", ascii_letters, text)
    return text.replace("oe", "o").casefold()


def test_every_source_of_the_tests_stands_on_the_page():
    told = plain((LESSONS / "sources.md").read_text("utf-8"))
    code = "\n".join(
        path.read_text("utf-8")
        for path in [
            *sorted((ROOT / "tests").rglob("*.py")),
            *sorted((ROOT / "src" / "leverarm").rglob("*.py")),
        ]
        if path != Path(__file__)
    )
    dated = {
        (name.split()[-1], year)
        for name, year in DATED.findall(code)
        if name not in ("Accidents", "Transport", "Since")
    }
    assert len(dated) > 12
    assert {
        (name, year) for name, year in dated if plain(name) not in told or year not in told
    } == set()
    assert [name for name in NAMED if name in code and plain(name) not in told] == []


def test_the_standards_table():
    with open(LESSONS / "standards.csv", encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert list(rows[0]) == ["goal", "standard", "words", "source", "verified"]
    assert all(
        row["goal"] in standards.GOALS
        and row["verified"] in ("yes", "no")
        and row["source"]
        and row["words"]
        for row in rows
    )
    assert [row["goal"] for row in rows if row["standard"] == "goal"] == list(standards.GOALS)
    for row in rows:
        assert ("from memory" in row["source"]) == (row["verified"] == "no")
    said = (LESSONS / "standards.csv").read_text("utf-8") + (LESSONS / "standards.md").read_text(
        "utf-8"
    )
    assert not re.search(r"\b(meets?|aligned|compl(y|ies|iant))\b", said)


def test_every_goal_has_a_lesson():
    plans = list(standards.lesson_plans(LESSONS))
    worked = {goal for _, _, main, _ in plans for goal in main}
    assert len(plans) == len(PLANS) and worked == set(standards.GOALS) >= {
        goal for *_, side in plans for goal in side
    }
    assert standards.goals("**Goals.** G1, G12 (why); supports G3.\n") == (["G1", "G12"], ["G3"])


# --- printed sheets
# --------------------------------------------------------------------------------------------


def test_generated_parts_are_current():
    assert parts.stale_parts(LESSONS) == [], "run python -m leverarm.handouts"


def test_nothing_printed_is_left_over():
    stems = parts.generated_sheets()
    wanted = {f"{stem}.html" for stem in stems}
    wanted |= {f"{stem}_{paper.lower()}.pdf" for stem in stems for paper in PAPERS}
    there = [path for ending in ("html", "pdf") for path in LESSONS.rglob(f"*.{ending}")]
    assert {path.relative_to(LESSONS).as_posix() for path in there} == wanted


@pytest.mark.parametrize("path", sorted(LESSONS.rglob("*.pdf")), ids=by_name)
def test_a_printed_sheet_has_its_paper_its_tags_and_its_language(path):
    """What Chromium writes, and what is added to it; the last of two objects of a number counts."""
    data = path.read_bytes()
    box = re.search(rb"/MediaBox \[ ?0 0 ([\d.]+) ([\d.]+)", data)
    size = PAPERS["A4" if path.stem.endswith("_a4") else "Letter"]
    assert [float(side) / 72 for side in box.groups()] == pytest.approx(size, abs=0.02)
    catalog = re.findall(rb"<</Type /Catalog.*?\nendobj", data, re.DOTALL)[-1]
    for needed in (b"/StructTreeRoot", b"/Marked true", b"/Lang (en)", b"/DisplayDocTitle true"):
        assert needed in catalog
    assert b"/Metadata" in catalog and b"<dc:title>" in data and b"/Title (" in data
    figures = re.findall(rb"/S /Figure.*?endobj", data, re.DOTALL)
    assert all(b"/Alt " in figure for figure in figures)
    assert b"/S /H1" in data and b"/ToUnicode" in data


def pages_of(path):
    return len(re.findall(rb"/Type /Page\n", path.read_bytes()))


def test_each_sheet_takes_the_paper_it_is_made_for():
    """A worksheet is one page, the sheet of the yard and the lab one leaf."""
    for path in LESSONS.rglob("*.pdf"):
        usual = {"worksheet": 1, "poll_cards": 1, "plank_lab": 2, "weigh_day": 2}
        most = next((n for name, n in usual.items() if path.stem.startswith(name)), 12)
        assert pages_of(path) <= most, path.name


class Heard(HTMLParser):
    """The text of a page in its order, what each tag says, and the words of its pictures."""

    def __init__(self, html):
        super().__init__()
        self.tags, self.text = [], []
        self.feed(html)

    def handle_starttag(self, tag, attributes):
        self.tags.append((tag, dict(attributes)))

    def handle_data(self, data):
        self.text.append(data)

    @property
    def said(self):
        return " ".join(" ".join(self.text).split())

    def all(self, name):
        return [told for tag, told in self.tags if tag == name]


SHEETS = parts.generated_sheets()


@pytest.mark.parametrize("stem", SHEETS)
def test_a_sheet_is_one_file_with_headings_scopes_and_words_for_its_pictures(stem):
    html = SHEETS[stem]()
    heard = Heard(html)
    assert heard.all("html") == [{"lang": "en"}] and html.count("<title>") == 1
    assert not heard.all("script") and not heard.all("link") and not heard.all("img")
    assert "http" not in html.replace("http://www.w3.org/2000/svg", "")
    levels = [int(tag[1]) for tag, _ in heard.tags if re.fullmatch("h[1-6]", tag)]
    assert levels[0] == 1 and levels.count(1) == (2 if "questions" in stem else 1)
    assert all(after - before <= 1 for before, after in pairwise(levels))
    assert all("scope" in told for told in heard.all("th"))
    for told in heard.all("svg"):
        assert told.get("aria-hidden") == "true" or (
            told["role"] == "img" and ("aria-label" in told or "aria-labelledby" in told)
        )
    assert "safe" not in re.sub(r"<style>.*?</style>", "", html, flags=re.DOTALL).lower()


@pytest.mark.parametrize("system", SYSTEMS)
def test_a_sheet_keeps_to_its_unit_system(system):
    other = {"lb": r"\d (kg|m|cm|kPa)\b", "kg": r"\d (lb|in|psi)\b"}[system]
    for stem, make in SHEETS.items():
        if stem.endswith(f"_{system}"):
            said = Heard(re.sub(r"<style>.*?</style>", "", make(), flags=re.DOTALL)).said
            wrong = re.findall(other, said)
            assert not wrong or stem.startswith("poll_questions"), (stem, wrong)


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("lesson", worksheets.CHOSEN)
def test_a_worksheet_holds_the_bank_s_problems_and_every_given_number(lesson, system):
    html = worksheets.worksheet(lesson, system)
    said = Heard(html).said
    assert f"set {worksheets.SEED}" in said and 2 <= len(worksheets.CHOSEN[lesson]) <= 3
    for problem in worksheets.problems_of(lesson, system):
        assert problem == exercises.make(problem.kind, worksheets.SEED, system)
        assert problem.title in said and html.count('class="room"') == len(
            worksheets.CHOSEN[lesson]
        )
        if problem.style == "number":
            # In the drawing or in the words: whoever reads the sheet can work it.
            assert all(told in said for told in problem.given.values()), problem.kind
            right = problem.solution[-1].result
            assert right in problem.given.values() or not re.search(
                rf"(?<![\d.,]){re.escape(right)}(?![\d.,])", said
            )
        manual = "the operator's manual decides"
        assert (manual in problem.statement) <= (manual in said)


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_key_gives_what_the_bank_says_is_right_and_names_the_slips_it_names(system):
    said = Heard(worksheet_key.worksheets_key(system)).said
    for lesson in worksheets.CHOSEN:
        for problem in worksheets.problems_of(lesson, system):
            told = worksheet_key.answer(problem)
            assert problem.title in said and (problem.style == "symbol" or told in said)
            assert problem.style == "body" or exercises.check(problem, told, sympy=False).right
            for shown, what, question in worksheet_key.seen(problem):
                if problem.style == "number":
                    verdict = exercises.check(problem, unescape(shown))
                    assert not verdict.right and question in [
                        one.question for one in verdict.suspects
                    ], (problem.kind, shown, what)


@pytest.mark.parametrize("system", SYSTEMS)
def test_what_counts_counts_and_what_lies_outside_does_not(system):
    for lesson in worksheets.CHOSEN:
        for problem in worksheets.problems_of(lesson, system):
            if problem.style != "number":
                continue
            ends = worksheet_key.what_counts(problem).replace(",", "").replace("−", "-")
            low, high = map(float, ends.split(" to "))
            assert low <= problem.answer <= high
            for inside in (low, high):
                assert exercises.check(problem, repr(inside)).right, (problem.kind, ends)
            if problem.source.method.rule.figures != "uncertainty":
                wide = high - low
                for outside in (low - wide, high + wide):
                    assert not exercises.check(problem, repr(outside)).right, (problem.kind, ends)


def test_poll_answers_are_mixed_and_the_options_are_the_bank_s():
    for seed in (worksheets.SEED, 1, 2, 7):
        asked = poll_cards.questions_of("lb", seed)
        letters = [one.right for one in asked]
        assert all(one != after for one, after in pairwise(letters))
        counts = [letters.count(letter) for letter in "ABC"]
        assert max(counts) <= len(letters) / 2.5 and min(counts) >= len(letters) / 6
    made = (exercises.make(kind, worksheets.SEED, "lb") for kind in exercises.problems())
    choices = {one.kind: one for one in made if one.style == "choice"}
    one_right = [one for one in choices.values() if len(defended(one)) == 1]
    for problem, one in zip(one_right, poll_cards.questions_of("lb"), strict=True):
        assert sorted(one.options) == sorted(text for _, text in problem.options)
        right = one.options["ABCD".index(one.right)]
        assert exercises.check(problem, right).right


def test_another_seed_gives_other_numbers_and_the_same_seed_the_same(tmp_path):
    assert (
        worksheets.problems_of(2, "kg", 7)
        == worksheets.problems_of(2, "kg", 7)
        != worksheets.problems_of(2, "kg")
    )
    with pytest.raises(Refusal, match="lesson"):
        worksheets.problems_of(max(lessons()) + 1, "kg")


def test_the_plank_lab_predicts_first():
    assert [head.split()[0] for head in plank_lab.HEADS[1:5]] == [
        "Predict",
        "Predict",
        "Read",
        "Read",
    ]


def test_the_plank_lab_hangs_its_jug_where_the_notebook_does():
    """Beyond one and the same scale, the one that stands for the front axle; nobody's hand is sent
    under the plank, where fingers are told not to be.
    """
    beyond = {place.split()[-2] for place in plank_lab._JUG_PLACES if "beyond the" in place}
    lab = (ROOT / "notebooks" / "01_plank_by_hand.ipynb").read_text("utf-8")
    (side,) = beyond
    assert f"**past** the {side}-hand pipe" in lab
    assert dict(plank_lab.SAME)[f"{side} scale"] == "front axle"
    other = {"left": "right", "right": "left"}[side]
    assert not any(f"beyond the {other}" in line for line in plank_lab.QUESTIONS)
    assert "out from under the plank" in " ".join(plank_lab.CAUTIONS)
    assert not any("hand" in line.lower() and "under" in line for line in plank_lab.CAUTIONS)


@pytest.mark.parametrize(
    "danger", ["PTO", "blades", "through the skin", "Bystanders and children", "No riders"]
)
def test_the_cautions_name_what_hurts_most(danger):
    assert danger in (ROOT / "lessons" / "cautions.md").read_text("utf-8")


def test_cards_are_told_by_more_than_a_letter():
    html = poll_cards.poll_cards()
    assert re.findall(r"<h2>(.)</h2>", html) == list("ABCD")
    assert [len(dots) for dots in re.findall("●+", html)] == [1, 2, 3, 4]


def test_one_command_writes_what_is_missing_and_says_what_is_stale(tmp_path, capsys, monkeypatch):
    sheets = {"cards": poll_cards.poll_cards}
    monkeypatch.setattr(parts, "generated_sheets", lambda: sheets)
    folder = ["--folder", str(tmp_path)]
    assert parts.main([*folder, "--check"]) == 1
    assert parts.main([*folder, "--html"]) == 0
    assert [path.name for path in tmp_path.iterdir()] == ["cards.html"]
    first = (tmp_path / "cards.html").read_bytes()
    assert parts.write_parts(tmp_path) == [] and b"\r" not in first
    # A checkout with the line ends of Windows is current; a changed word is not.
    (tmp_path / "cards.html").write_bytes(first.replace(b"\n", b"\r\n"))
    assert "cards.html" not in parts.stale_parts(tmp_path)
    (tmp_path / "cards.html").write_bytes(first.replace(b"Poll", b"Pool"))
    assert "cards.html" in parts.stale_parts(tmp_path)
    assert parts.write_parts(tmp_path) == ["cards.html"]
    assert (tmp_path / "cards.html").read_bytes() == first
    capsys.readouterr()
    parts.main([*folder, "--check"])
    assert capsys.readouterr().out.split() == [
        *("stale:", "cards_a4.pdf", "stale:", "cards_letter.pdf")
    ]


def test_a_pdf_is_current_for_its_own_html_alone():
    html, plain = SHEETS["poll_cards"](), (LESSONS / "poll_cards_a4.pdf").read_bytes()
    assert printing.carries(plain, html) and printing.carries(plain, html.replace("\n", "\r\n"))
    assert not printing.carries(plain, html.replace("Poll", "Pool"))
    assert not printing.carries(plain[:-900], html), "torn"


def test_without_a_browser_the_pages_are_written_and_one_sentence_says_so(
    tmp_path, capsys, monkeypatch
):
    monkeypatch.setattr(parts, "generated_sheets", lambda: {"cards": poll_cards.poll_cards})
    monkeypatch.setitem(sys.modules, "playwright.sync_api", None)
    assert parts.main(["--folder", str(tmp_path)]) == 0
    said = capsys.readouterr().out
    assert "written" in said and "any browser" in said and "Traceback" not in said
    assert "was given" not in said and "is allowed" not in said, "nobody gave a browser"
    assert [path.name for path in tmp_path.iterdir()] == ["cards.html"]


@pytest.mark.parametrize(
    "call, says",
    [
        (lambda: worksheets.worksheet(99, "lb"), "lesson: 99"),
        (lambda: worksheets.worksheet(2, "stone"), "system"),
        (lambda: weigh_sheet.weigh_sheet("stone"), "stone"),
        (lambda: sheet_html("a", "b", kind="c", paper="A3"), "paper: A3"),
    ],
)
def test_what_there_is_not_is_refused(call, says):
    with pytest.raises(Refusal, match=says):
        call()


# --- pictures
# --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "path", [ROOT / "README.md", *PAGES, *sorted((ROOT / "notebooks").glob("*.ipynb"))], ids=by_name
)
def test_every_picture_comes_from_figures_and_has_words(path):
    for words, target in re.findall(r"!\[(.*?)\]\((.*?)\)", path.read_text("utf-8"), re.DOTALL):
        picture = (path.parent / target).resolve()
        assert (
            picture.parent == ROOT / "figures"
            and picture.with_suffix(".txt").is_file()
            and len(words.split()) >= 5
        ), target


@pytest.mark.parametrize("system", ["kg", "lb"])
def test_a_poll_asks_no_question_twice(system):
    """A question about feet stands for the one about centimeters, and was printed for both."""
    asked = [(one.question, frozenset(one.options)) for one in poll_cards.questions_of(system)]
    assert len(asked) == len(set(asked)) > 20
