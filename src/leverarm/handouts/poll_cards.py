"""Cards A to D for a vote by show of hands, and the questions to put to it with their key.

poll_cards()                    the four cards, to cut; each letter has dots too
poll_questions(system, seed)    every question of choice in the bank, the key on a page of its own
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from html import escape

from leverarm.data import Entry, toml_file
from leverarm.exercises import make, problems
from leverarm.exercises.choices import defended
from leverarm.exercises.random_numbers import RandomStream
from leverarm.handouts.sheet import (
    filled,
    head_row,
    heading,
    paragraph,
    sheet_html,
    system_words,
    table,
)
from leverarm.handouts.worksheets import SEED

_LETTERS = "ABCD"


@dataclass(frozen=True)
class PollQuestion:
    """One question as it is put to the vote: its options in the order of their letters."""

    lesson: int
    title: str
    question: str
    options: tuple[str, ...]
    right: str


def read_how(words: Entry) -> str:
    """How to put a question to the vote, in a few sentences; Refusal with file and key."""
    how = words.text("how")
    words.done()
    return how


def poll_cards() -> str:
    """The page of the four cards."""
    cards = "".join(
        f'<section><h2>{letter}</h2><span class="dots" role="img" '
        f'aria-label="{at} {"dot" if at == 1 else "dots"}">{"●" * at}</span>'
        "</section>"
        for at, letter in enumerate(_LETTERS, 1)
    )
    title = "Poll cards A to D"
    page = f'<h1 class="unseen">{title}</h1><div class="four">{cards}</div>'
    return sheet_html(title, page, kind="cards")


def questions_of(system: str, seed: int = SEED) -> tuple[PollQuestion, ...]:
    """Every question of choice with one right answer, the letters of these well mixed."""
    made = (make(kind, seed, system) for kind in problems() if kind.style == "choice")
    # What is asked in one unit system alone stands for its likeness in the other: once.
    asked = list({one.kind: one for one in made if len(defended(one)) == 1}.values())
    letters = mixed_letters([len(one.options) for one in asked], seed)
    found = []
    for problem, letter in zip(asked, letters, strict=True):
        right = dict(problem.options)[problem.answer]
        texts = [text for _, text in problem.options if text != right]
        texts.insert(_LETTERS.index(letter), right)
        found.append(
            PollQuestion(problem.lesson, problem.title, problem.statement, tuple(texts), letter)
        )
    return tuple(found)


def mixed_letters(options: Sequence[int], seed: int) -> list[str]:
    """A right letter for each question: none twice running, each about as often as the others.

    options     how many options each question has

    >>> mixed_letters([3, 3, 3, 3], 1) != mixed_letters([3, 3, 3, 3], 2)
    True
    """
    stream = RandomStream("poll letters", seed)
    dealt: list[str] = []
    for count in options:
        free = [letter for letter in _LETTERS[:count] if dealt[-1:] != [letter]]
        least = min(map(dealt.count, free))
        dealt.append(stream.shuffled([one for one in free if dealt.count(one) == least])[0])
    return dealt


def poll_questions(system: str) -> str:
    """The questions, by lesson, then their key."""
    asked, title = questions_of(system, SEED), "Poll questions"
    how = read_how(toml_file("polls").part("cards"))
    under = f"Set {SEED}, in {system_words(system)}. For the instructor."
    questions = "".join(_question(number, one) for number, one in enumerate(asked, 1))
    key = table(
        "Right answers",
        head_row(("Question", "Lesson", "Answer")),
        ((f"{n}  {one.title}", str(one.lesson), one.right) for n, one in enumerate(asked, 1)),
    )
    return sheet_html(
        f"{title} ({system})",
        heading(title, under) + paragraph(how) + questions,
        heading(f"{title}: key", under) + key,
        kind="polls",
    )


def _question(number: int, one: PollQuestion) -> str:
    options: Iterable[tuple[str, str]] = zip(_LETTERS, one.options)
    lines = "".join(f"<li><b>{letter}</b>\u2002{filled(text)}</li>" for letter, text in options)
    return (
        f'<section class="keep"><h2>{number}\u2002Lesson {one.lesson:02d}: {escape(one.title)}</h2>'
        f'<p>{filled(one.question)}</p><ul class="options">{lines}</ul></section>'
    )
