"""The folder of lessons: plans of one form, links that lead somewhere, sources named, printed
sheets current and readable.
"""

import csv
import itertools
import re
from pathlib import Path

import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg

from leverarm import Refusal, exercises
from leverarm.data import lessons
from leverarm.handouts import parts, plank_lab, poll_cards, standards, worksheets
from leverarm.handouts.sheet import PAPERS

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
A4 = PAPERS["A4"]


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
    assert tuple(rows[0]) == standards.COLUMNS
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
    wanted = {f"{stem}_{paper.lower()}.pdf" for stem in parts.generated_parts() for paper in PAPERS}
    assert {path.relative_to(LESSONS).as_posix() for path in LESSONS.rglob("*.pdf")} == wanted


@pytest.mark.parametrize("path", sorted(LESSONS.rglob("*.pdf")), ids=by_name)
def test_a_printed_sheet_has_its_paper_and_embedded_letters(path):
    data = path.read_bytes()
    box = re.search(rb"/MediaBox \[ ?0 0 ([\d.]+) ([\d.]+)", data)
    size = PAPERS["A4" if path.stem.endswith("_a4") else "Letter"]
    assert [float(side) / 72 for side in box.groups()] == pytest.approx(size, abs=0.01)
    assert (
        b"/FontFile2" in data
        and b"/ToUnicode" in data
        and b"/Type3" not in data
        and b"/Title" in data
    )
    assert b"/CreationDate" not in data


def words_of(page):
    return [text.get_text() for text in page.axes[0].texts]


def apart(page):
    """Texts of a page that leave the paper or lie on each other."""
    draw = FigureCanvasAgg(page).get_renderer()
    boxes = [
        (text.get_text(), text.get_window_extent(draw))
        for text in page.axes[0].texts
        if text.get_text().strip()
    ]
    width, height = page.bbox.width, page.bbox.height
    out = [
        words
        for words, box in boxes
        if box.x0 < 0 or box.y0 < 0 or box.x1 > width - 0.25 * page.dpi or box.y1 > height
    ]
    return out + [
        (one, two)
        for i, (one, box) in enumerate(boxes)
        for two, there in boxes[:i]
        if box.padded(-2).overlaps(there.padded(-2))
    ]


@pytest.mark.parametrize("lesson", worksheets.CHOSEN)
def test_a_worksheet_holds_the_bank_s_problems_in_both_unit_systems(lesson):
    assert all(
        kind in {k.name for k in exercises.problems() if k.lesson == lesson}
        for kind in worksheets.CHOSEN[lesson]
    )
    pages = worksheets.worksheet(lesson, PAPERS["Letter"])
    assert len(pages) == 2
    for system, page in zip(worksheets.SYSTEM_NAMES, pages):
        said = " ".join(words_of(page))
        assert f"Seed {worksheets.SEED}" in said and worksheets.SYSTEM_NAMES[system] in said
        for problem in worksheets.problems_of(lesson, system):
            assert problem == exercises.make(problem.kind, worksheets.SEED, system)
            assert (
                " ".join(worksheets.paper_words(problem).split()) in said and problem.title in said
            )
            assert all(
                told.split()[0] in said
                for told in problem.given.values()
                if problem.style == "number"
            )


def test_no_words_are_cut_or_covered():
    """On Letter, the shorter paper: the fullest worksheet, the lab."""
    pages = [worksheets.worksheet(12, PAPERS["Letter"])[0], *plank_lab.plank_lab(PAPERS["Letter"])]
    assert [found for page in pages for found in apart(page)] == []


def test_the_key_gives_what_the_bank_says_is_right():
    said = [" ".join(words_of(page)) for page in worksheets.worksheets_key(A4)]
    for lesson in worksheets.CHOSEN:
        for system in worksheets.SYSTEM_NAMES:
            for problem in worksheets.problems_of(lesson, system):
                told = worksheets.answer(problem)
                assert any(f"{problem.title}: {told}"[:50] in page for page in said)
                assert problem.style == "body" or exercises.check(problem, told, sympy=False).right


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
    (page,) = poll_cards.poll_cards(A4)
    assert words_of(page) == list("ABCD")
    assert len([line for line in page.axes[0].lines if line.get_marker() == "o"]) == 1 + 2 + 3 + 4


def test_one_command_writes_what_is_missing_and_says_what_is_stale(tmp_path, capsys, monkeypatch):
    monkeypatch.setattr(
        parts, "generated_parts", lambda: {"cards": ("Cards", poll_cards.poll_cards)}
    )
    assert parts.main(["--folder", str(tmp_path), "--check"]) == 1
    assert (
        parts.main(["--folder", str(tmp_path)]) == 0
        and parts.main(["--folder", str(tmp_path), "--check"]) == 0
    )
    first = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    assert set(first) == {"cards_a4.pdf", "cards_letter.pdf"} and parts.write_parts(tmp_path) == []
    (tmp_path / "cards_a4.pdf").write_bytes(b"torn")
    assert parts.stale_parts(tmp_path) == ["cards_a4.pdf"] and parts.write_parts(tmp_path) == [
        "cards_a4.pdf"
    ]
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == first, (
        "the same bytes every time"
    )
    assert "stale: cards_a4.pdf" in capsys.readouterr().out


def test_a_moved_word_changes_the_fingerprint():
    one, two = poll_cards.poll_cards(A4), poll_cards.poll_cards(A4)
    assert parts.fingerprint(one) == parts.fingerprint(two)
    two[0].axes[0].texts[0].set_text("E")
    assert parts.fingerprint(one) != parts.fingerprint(two)


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
