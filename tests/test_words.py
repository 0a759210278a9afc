"""What no page may say, in one place; and that students and customers can read what we write.

The one pattern covers notebooks, lessons, README, the words of pictures, and every text in the
package.
"""

import ast
import json
import re
from pathlib import Path

import pytest
from reading import grade, paragraphs, syllables
from trees import nodes

from leverarm import exercises
from leverarm.data import lessons
from leverarm.decision import CLAIMS, NEVER_PROMISE

ROOT = Path(__file__).resolve().parents[1]
PACKAGE = ROOT / "src" / "leverarm"
NOTEBOOKS = sorted((ROOT / "notebooks").glob("*.ipynb"))
PAGES = [
    *sorted((ROOT / "lessons").rglob("*.md")),
    *sorted((ROOT / "lessons").glob("*.csv")),
    ROOT / "README.md",
    *sorted((ROOT / "figures").glob("*.txt")),
]
MODULES = sorted(PACKAGE.rglob("*.py"))

# Never, in no sentence: nothing is called safe, not even by someone we quote.  "Safety" is another
# word.
NEVER = re.compile(r"\b(safe|safely|safer|safest|risk-free|foolproof)\b", re.IGNORECASE)
# Only in a sentence that refuses it, or in someone else's mouth: inside quotation marks.
PROMISED = re.compile(
    r"\b(?:(?:no|without|never any) (?:more )?(?:ruts?|risk|danger|wheel marks)"
    r"|(?:won't|can't|cannot|will not|can not) (?:tip|rut|overturn)"
    r"|free of (?:danger|risk|ruts)|harmless|guarantee\w*|warrant(?:y|ies)|resale"
    r"|lift(?:ing)? capacity|tire (?:hours|life)"
    r"|hours of tire life|sav(?:e|es|ed|ing) (?:\w+ ){0,2}(?:fuel|diesel|money)"
    r"|fuel saved|(?:tires?|it|they) lasts? longer)\b",
    re.IGNORECASE,
)
DENIAL = re.compile(
    r"\b(?:never|nobody|nothing|no one|(?:do|does|is|are|cannot|can) ?not|don't|cannot"
    r"|no (?:page|state|row|scale|number|promise)"
    r"|nor|none|is predicted)\b",
    re.IGNORECASE,
)
QUOTED = re.compile(r"\"[^\"\n]*\"|“[^”\n]*”|‘[^’\n]*’")
# Texts that are lists of what may not be said, or listen for it, and no sentences of ours.
LISTS = {*NEVER_PROMISE, *(claim.said for claim in CLAIMS)}
LISTENS = PACKAGE / "decision" / "customer_reply.py"

SAID_WRONGLY = [
    "The loader on level ground is safe.",
    "It is safe to mow across.",
    "You can safely turn here.",
    "A safer machine.",
    "Loader off, and you will have no ruts.",
    "Without the loader there is no danger.",
    "The slope is free of danger.",
    "It cannot tip.",
    "Four-wheel drive on turf is harmless.",
    "We guarantee it.",
    "It saves you money.",
    "It saves fuel.",
    "Your warranty stays.",
    "Better resale.",
    "Tires last longer.",
    "It adds to tire life.",
    "A lift capacity of 500 kg.",
    "This does not change the warranty? Your resale value rises.",
]
SAID_RIGHTLY = [
    "Read the safety page.",
    "Nobody promises ruts, tire hours, fuel, resale or a lift capacity.",
    "It says nothing about ruts.",
    "No page says that a slope is free of danger.",
    'A customer asks: "Will I have no ruts?"',
    "Do not promise: no ruts, no repair.",
    "No rut is predicted.",
    "The bucket tips forward.",
]


def sentences(text):
    """Sentences of a text; a line break inside one is a space, a table's cell ends one."""
    flat = re.sub(r"\s*\n\s*", " ", re.sub(r"\n\s*\n|\|", ". ", re.sub(r"[*_`]", "", text)))
    return re.split(r"(?<=[.?!])\s+", flat)


def wrongly(text):
    """What a text says that no page may say."""
    found = [match.group() for match in NEVER.finditer(text)]
    for sentence in sentences(QUOTED.sub("“…”", text)):
        promise = PROMISED.search(sentence)
        if promise and not DENIAL.search(PROMISED.sub("", sentence)):
            found.append(promise.group())
    return found


def literals(path):
    """Every text in a module that can reach a reader: not the docstrings."""
    docs = {
        id(node.body[0].value)
        for node in nodes(path)
        if isinstance(node, (ast.Module, ast.ClassDef, ast.FunctionDef))
        and node.body
        and isinstance(node.body[0], ast.Expr)
    }
    return [
        node.value
        for node in nodes(path)
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in docs
    ]


@pytest.mark.parametrize("text", SAID_WRONGLY)
def test_the_pattern_catches_what_no_page_may_say(text):
    assert wrongly(text)
    assert wrongly(f"The manual decides.\n\n{text}\n\nNothing is promised.")


@pytest.mark.parametrize("text", SAID_RIGHTLY)
def test_the_pattern_lets_a_refusal_stand(text):
    assert not wrongly(text)


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_no_notebook_says_it(path):
    for cell in json.loads(path.read_text("utf-8"))["cells"]:
        assert not wrongly("".join(cell["source"]))


@pytest.mark.parametrize("path", PAGES, ids=lambda path: path.name)
def test_no_page_says_it(path):
    assert not wrongly(path.read_text("utf-8"))


@pytest.mark.parametrize(
    "path",
    [path for path in MODULES if path != LISTENS],
    ids=lambda path: str(path.relative_to(PACKAGE)),
)
def test_no_text_of_the_package_says_it(path):
    said = [text for text in literals(path) if " " in text and text not in LISTS]
    found = wrongly("\n\n".join(said))
    assert not found, [text for text in said if wrongly(text)]


def told_by(problem):
    """Everything a problem tells a student: statement, options, hints, solution, replies to answers
    right and wrong.
    """
    tries = (
        [letter for letter, _ in problem.options]
        if problem.style == "choice"
        else ["1", str(problem.answer)]
    )
    yield from (problem.title, problem.statement, *problem.hints)
    yield from (part for line in problem.solution for part in (line.words, line.result))
    yield from (exercises.check(problem, typed, sympy=False).message for typed in tries)


@pytest.mark.parametrize("lesson", lessons())
def test_no_problem_says_it(lesson):
    kinds = [kind for kind in exercises.problems() if kind.lesson == lesson]
    said = [text for kind in kinds for text in told_by(exercises.make(kind, f"words {lesson}"))]
    assert len(said) > 8 * len(kinds) and not [found for text in said for found in wrongly(text)]


def test_the_measure_of_reading():
    """Six words of one syllable, by the formula; then words whose syllables anyone can count."""
    assert grade(["The cat sat on the mat."]) == pytest.approx(0.39 * 6 + 11.8 - 15.59)
    assert [syllables(word) for word in ("load", "wheelbase", "overhang", "moment", "the")] == [
        1,
        2,
        3,
        2,
        1,
    ]
    hard = (
        "Notwithstanding considerable methodological limitations, "
        "amplification characteristics necessitate multidisciplinary reconsideration."
    )
    assert grade([hard]) > 20
    assert paragraphs(
        "# Head\n\nOne two [three](x.md) four.\n\n| a b c | d e f |\n|---|---|\n\n    code here now"
    ) == ["One two three four.", "a b c", "d e f"]


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_students_can_read_a_notebook(path):
    cells = json.loads(path.read_text("utf-8"))["cells"]
    assert (
        grade(
            [
                part
                for cell in cells
                if cell["cell_type"] == "markdown"
                for part in paragraphs("".join(cell["source"]))
            ]
        )
        <= 8
    )


@pytest.mark.parametrize(
    "path",
    [path for path in PAGES if path.suffix == ".md" and path.stem not in ("sources", "standards")],
    ids=lambda path: path.stem,
)
def test_a_page_can_be_read(path):
    assert grade(paragraphs(path.read_text("utf-8"))) <= 8


def test_students_can_read_the_problems():
    said = [exercises.make(kind, 3).statement for kind in exercises.problems()]
    assert grade(said) <= 8
