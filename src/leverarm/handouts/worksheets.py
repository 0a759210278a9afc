"""Worksheets on paper, one a lesson and unit system: problems with the numbers of one seed.

The drawing tells what is given, the words beside it ask; the room to work stands right of both.
"""

import re
from collections.abc import Mapping
from functools import lru_cache
from html import escape

from leverarm.data import OnDemand, lessons
from leverarm.exercises import PRINCIPLES, Problem, make
from leverarm.exercises.number_reader import printed_unit
from leverarm.exercises.numbers import NumberKind
from leverarm.handouts.sheet import filled, heading, paragraph, sheet_html
from leverarm.problem_pictures import paper_picture
from leverarm.quantities import Refusal, unit_of

SEED = 41
# Titles, and the two or three kinds that each worksheet holds, easiest first.
TITLES: Mapping[int, str] = OnDemand(
    lambda: {number: entry.part("lesson").text("title") for number, entry in lessons().items()}
)
CHOSEN: Mapping[int, tuple[str, ...]] = OnDemand(
    lambda: {number: entry.part("lesson").texts("worksheet") for number, entry in lessons().items()}
)
_ON_PAPER: Mapping[int, Mapping[str, str]] = OnDemand(lambda: dict(map(_asked_in, lessons())))
# How wide a drawing may be, in pixels, below a question and below one of so many letters.
_FREE, _LONG, _FREE_BELOW_LONG = 290.0, 320, 240.0
_HOW = (
    "Ring the first step. Letters first, then numbers, then the unit. Three digits are enough, "
    "where nothing else is said. Invented machines: no page says what yours may do."
)
# Dots a fifth of an inch apart, in pixels of the page.
_DOTS = "".join(f"M10 {19 * row + 10}" + "h0m19 0" * 22 for row in range(40))
_GRID = f'<svg class="grid" aria-hidden="true"><path d="{_DOTS}"/></svg>'
_USUAL = "Three digits are enough."
_CAUTION = re.compile(r"\(This is an exercise on paper\..*?\)")
_CHANGES = "(A gain is positive and a loss is negative.)"


def _asked_in(lesson: int) -> tuple[int, Mapping[str, str]]:
    """A lesson's questions on paper by the name of the problem."""
    row = lessons()[lesson].part("lesson")
    asked = row.part("on_paper") if "on_paper" in row else None
    return lesson, {} if asked is None else {name: asked.text(name) for name in asked}


@lru_cache(maxsize=64)
def problems_of(lesson: int, system: str, seed: int = SEED) -> tuple[Problem, ...]:
    """The problems of a lesson's worksheet."""
    if lesson not in CHOSEN:
        raise Refusal("lesson", lesson, f"{min(CHOSEN)} to {max(CHOSEN)}", "name one of them")
    return tuple(make(kind, seed, system) for kind in CHOSEN[lesson])


def worksheet(lesson: int, system: str, seed: int = SEED) -> str:
    """A lesson's worksheet as HTML."""
    asked, title = problems_of(lesson, system, seed), TITLES[lesson]
    units = " and ".join(unit_of(kind, system) for kind in ("weight", "length"))
    page = "".join(
        (
            heading(
                title,
                f"Worksheet {lesson:02d}, set {seed} · {units}",
                filled("Name or code ____________________") + "<br>" + filled("Date ____________"),
            ),
            paragraph(_HOW, "how"),
            *(_problem(number, problem) for number, problem in enumerate(asked, 1)),
        )
    )
    name = f"Worksheet {lesson:02d} ({system}): {TITLES[lesson]}"
    return sheet_html(name, page, kind=f"problems of-{len(asked)}")


def _problem(number: int, problem: Problem) -> str:
    """Title, question and drawing at the left; the room to work and the answer at the right."""
    options = ""
    if problem.style == "choice":
        options = "".join(
            f"<li><b>{letter}</b>\u2002{filled(text)}</li>" for letter, text in problem.options
        )
        options = f'<ul class="options boxes">{options}</ul>'
    ring = ""
    if problem.style == "number":
        rules = "".join(f"<li>{escape(short_principle(name))}</li>" for name in principles(problem))
        ring = f'<ul class="ring" aria-label="First step">{rules}</ul>'
    return (
        f'<section class="problem keep"><div><h2>{number}\u2002{escape(problem.title)}</h2>'
        f"{paragraph(paper_words(problem))}{options}{_picture(problem)}</div>"
        f'<div class="right">{ring}<div class="room">{_GRID}</div>'
        f'<p class="answer">{filled(answer_line(problem))}</p></div></section>'
    )


def _picture(problem: Problem) -> str:
    """The drawing; a long question leaves less room for it."""
    return paper_picture(problem, _FREE if len(paper_words(problem)) < _LONG else _FREE_BELOW_LONG)


def paper_words(problem: Problem) -> str:
    """What a problem asks on paper; what is given stands in its drawing.

    A free body is drawn there, not built.  A caution, and how many digits are enough where that
    is not the usual, stay.
    """
    if problem.style == "body":
        return (
            problem.statement.replace("Build the free body", "Draw the free body")
            + " Name the pivot and every arm."
        )
    short = _ON_PAPER[problem.lesson].get(problem.kind)
    if short is None or not isinstance(problem.source, NumberKind):
        return problem.statement.replace(_USUAL, "").replace(_CHANGES, "").strip()
    said = problem.source.nearness(problem.drawn, problem.system).said.replace(_USUAL, "")
    cautions = _CAUTION.findall(problem.statement)
    return " ".join(filter(None, (short, said, *cautions, problem.source.caution)))


def short_principle(principle: str) -> str:
    """A principle as paper has room for it.

    >>> short_principle("front")
    'ΣM front = 0'
    """
    return re.sub("= 0 about the (.+)", r"\1 = 0", PRINCIPLES[principle])


def answer_line(problem: Problem) -> str:
    """The line for the answer: what is asked, whether the sign counts, its unit.

    >>> answer_line(make("rear_change", 1, "kg"))
    'Change of the rear reading (+ or −) __________ kg'
    """
    if problem.style == "choice":
        return "Because: ______________________________"
    if not isinstance(problem.source, NumberKind):
        return "Answer: ________________________"
    words = problem.source.method.rule.words.removeprefix("the ")
    sign = " (+ or −)" if problem.source.sign == "change" else ""
    unit = printed_unit(problem.unit)
    return f"{words[:1].upper()}{words[1:]}{sign} __________ {unit}".rstrip()


def principles(problem: Problem) -> tuple[str, ...]:
    """The principles to choose from: a plank has scales where a machine has axles."""
    pivots = ("left", "right") if "plank" in problem.statement else ("front", "rear")
    return ("forces", *pivots, "definition", "units")
