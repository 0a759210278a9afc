"""The bank: every kind of problem by name, read from the lessons' data files and checked.

Kinds stand in lesson order; within a lesson numbers, formulas, free bodies, concepts.
"""

import re
from collections.abc import Iterable
from dataclasses import replace
from functools import cache
from string import Formatter

from leverarm.data import (
    Entry,
    OnDemand,
    lesson_file,
    lesson_texts,
    lessons_with,
    toml_file,
)
from leverarm.exercises.choices import ChoiceKind, Option
from leverarm.exercises.difficulty import not_needed
from leverarm.exercises.formulas import FormulaKind
from leverarm.exercises.free_body import Force, FreeBodyKind
from leverarm.exercises.letters import LETTERS
from leverarm.exercises.listed_mistakes import LISTED_MISTAKES
from leverarm.exercises.method import resolve
from leverarm.exercises.mistakes import listed_mistakes
from leverarm.exercises.numbers import NumberKind
from leverarm.exercises.problem import ProblemKind
from leverarm.exercises.room import room_questions
from leverarm.exercises.rules import PRINCIPLES, RULES
from leverarm.exercises.told_numbers import read_told_numbers
from leverarm.exercises.ways import steps_to
from leverarm.quantities import SYSTEMS, Refusal

SCENE = {"machine", "thing"}
SIGNS = ("plain", "change", "size")
MOST_OPTIONS = 6
_FIELD = re.compile(r"\{(\w+)\}")


POLL_LETTERS = "ABCDEFGH"


def read_lesson(entry: Entry, number: int, common: Entry) -> list[ProblemKind]:
    """The kinds of one lesson; what cannot be used is refused in one sentence with file and key.

    common      where the sentences stand that several problems share
    """
    sentences = common.part("sentences")
    kinds: list[ProblemKind] = [
        *(_number(row, number, sentences) for row in entry.rows("number")),
        *(_formula(row, number, sentences) for row in entry.rows("formula")),
        *(_body(row, number, sentences) for row in entry.rows("body")),
        *(_concept(row, number, sentences) for row in entry.rows("concept")),
    ]
    entry.rows("slip")
    if "exit" in entry:
        # The question at the end of a lesson; its panel fills in the numbers.
        for key in ("question", "compare"):
            entry.part("exit").text(key)
    if "poll" in entry:
        poll = entry.part("poll")
        poll.text("question")
        poll.one_of("right", POLL_LETTERS[: len(poll.texts("options"))])
    room_questions(entry)
    if "spoilers" in entry:
        # What a test looks for on the page of an unanswered lesson.
        entry.part("spoilers").texts("texts")
    _check_sheet(entry.part("lesson"), [kind.name for kind in kinds])
    entry.done()
    return kinds


def _check_sheet(row: Entry, names: list[str]) -> None:
    """Refuse a worksheet with a problem that is not of this lesson, or words for another one."""
    row.text("title", "")
    chosen = row.texts("worksheet", ())
    for name in chosen:
        if name not in names:
            raise row.unknown("worksheet", name, names)
    if "on_paper" in row:
        asked = row.part("on_paper")
        for name in asked:
            if name not in chosen:
                raise row.unknown("on_paper", name, chosen)
            asked.text(name)
    row.done()


def _number(row: Entry, lesson: int, sentences: Entry) -> NumberKind:
    kind = _one_number(row, lesson, sentences)
    twist = None
    if "hard" in row:
        hard = row.part("hard")
        twist = _one_number(hard, lesson, sentences, kind)
        hard.done()
    row.done()
    return replace(kind, twist=twist)


def _one_number(
    row: Entry, lesson: int, sentences: Entry, like: NumberKind | None = None
) -> NumberKind:
    """A kind of numbers; like: the kind that this one twists, and is otherwise the same as."""
    given, hidden = _letters(row, "given"), _letters(row, "hidden", "")
    ranges = row.part("ranges")
    for letter in ranges:
        if letter not in given + hidden:
            raise ranges.refusal(letter, letter, "a letter of this problem", "name one of them")
    statement = _statement(row, "statement", sentences, {*given, *SCENE})
    told = tuple((letter, *ranges.pair(letter)) for letter in ranges)
    if like is not None:
        kind = replace(like, given=given, hidden=hidden, statement=statement, ranges=told)
    else:
        kind = NumberKind(
            row.text("name"),
            lesson,
            row.text("title"),
            row.one_of("asked", RULES),
            given,
            statement,
            hidden=hidden,
            sign=row.one_of("sign", SIGNS, "plain"),
            low=row.number("low", 1e-9),
            high=row.number("high", 1e9),
            system=row.one_of("system", ("kg", "lb", ""), ""),
            ranges=told,
            caution=row.text("caution", ""),
            stream=row.text("stream", ""),
            not_needed=not_needed(statement, sentences),
            instead=_instead(row),
        )
    _follows(row, kind.asked, given)
    for letter in given:
        if letter not in LETTERS:
            _follows(row, letter, (*(name for name in given if name in LETTERS), *hidden), "hidden")
        if f"{{{letter}}}" not in kind.statement:
            raise row.refusal(
                "statement", f"no {{{letter}}}", "every given letter", "say its number there"
            )
    return kind


def _instead(row: Entry) -> dict[str, str]:
    """The kind that asks the same in another unit system, by that system."""
    told = row.part("instead")
    return {system: told.text(system) for system in told}


def _formula(row: Entry, lesson: int, sentences: Entry) -> FormulaKind:
    at = _letters(row, "at", "")
    fields = {*SCENE, "multiple"} if at else SCENE
    kind = FormulaKind(
        row.text("name"),
        lesson,
        row.text("title"),
        row.one_of("asked", RULES),
        _letters(row, "given"),
        _statement(row, "statement", sentences, fields),
        at=at,
        stream=row.text("stream", ""),
    )
    _follows(row, kind.asked, kind.given)
    row.done()
    return kind


def _concept(row: Entry, lesson: int, sentences: Entry) -> ChoiceKind:
    right, wrong = (row.part("right"), *row.rows("also", "text")), row.rows("wrong")
    most = MOST_OPTIONS - len(right)
    if not 1 <= len(wrong) <= most:
        raise row.refusal(
            "wrong", len(wrong), f"1 to {most} wrong options", "add or leave out some"
        )
    hints = row.texts("hints")
    if len(hints) != 3:
        raise row.refusal(
            "hints", len(hints), "three hints", "write a question, a picture to draw, and a step"
        )
    numbers, drawn = _numbers_told(row), read_told_numbers(row)
    fields = {*SCENE, *numbers, *(one.name for one in drawn)}
    options = [
        Option(
            part.text("name") if part not in right else "",
            _statement(part, "text", sentences, fields),
            part.template("reply", fields),
        )
        for part in (*right, *wrong)
    ]
    for part in (*right, *wrong):
        part.done()
    kind = ChoiceKind(
        row.text("name"),
        lesson,
        row.text("title"),
        _statement(row, "question", sentences, fields),
        tuple(options),
        row.one_of("principle", PRINCIPLES),
        hints,
        numbers,
        drawn,
        stream=row.text("stream", ""),
        instead=_instead(row),
    )
    row.done()
    return kind


def _numbers_told(row: Entry) -> dict[str, dict[str, str]]:
    """What a question tells, as a reader of each unit system sees it, by its name."""
    told: dict[str, dict[str, str]] = {}
    for part in row.rows("told"):
        told[part.text("name")] = {system: part.text(system) for system in SYSTEMS}
        part.done()
    return told


def _body(row: Entry, lesson: int, sentences: Entry) -> FreeBodyKind:
    pivots = row.part("other_pivots")
    kind = FreeBodyKind(
        row.text("name"),
        lesson,
        row.text("title"),
        _statement(row, "statement", sentences, SCENE),
        row.text("body"),
        row.texts("bodies"),
        tuple(_force(part) for part in row.rows("force", "letter")),
        row.text("pivot"),
        {pivot: pivots.text(pivot) for pivot in pivots},
        row.words("unknowns"),
        row.words("lengths"),
        stream=row.text("stream", ""),
    )
    if kind.body not in kind.bodies:
        raise row.refusal("body", kind.body, "one of the bodies", "add it to bodies")
    for unknown in kind.unknowns:
        if unknown not in [force.letter for force in kind.forces]:
            raise row.refusal("unknowns", unknown, "letters of the forces", "name one of them")
    row.done()
    return kind


def _force(part: Entry) -> Force:
    force = Force(
        part.text("letter"),
        part.text("words"),
        part.one_of("way", ("up", "down", "left", "right", "forward", "back")),
        part.text("at"),
        part.text("inside", ""),
        part.text("arm", ""),
    )
    part.done()
    return force


def _letters(row: Entry, key: str, default: str | None = None) -> tuple[str, ...]:
    """Letters, or names of rules that can be given, under a key."""
    names = row.words(key, default)
    for name in names:
        if name not in LETTERS and name not in RULES:
            raise row.unknown(key, name, [*LETTERS, *RULES])
    return names


def _follows(row: Entry, result: str, given: tuple[str, ...], key: str = "given") -> None:
    """Refuse letters from which a result does not follow."""
    try:
        resolve(result, given)
    except KeyError as missing:
        raise row.refusal(
            key,
            " ".join(given) or None,
            f"letters from which {result} follows",
            f"add {missing.args[0]}, or what it follows from",
        ) from None


def _statement(row: Entry, key: str, sentences: Entry, fields: set[str]) -> str:
    """A text with its shared sentences put in; only these fields may be left in {braces}."""
    text = _FIELD.sub(
        lambda field: sentences.text(field[1]) if field[1] in sentences else field[0],
        row.text(key),
    )
    try:
        named = {name for _, name, _, _ in Formatter().parse(text) if name is not None}
    except ValueError as why:
        raise row.refusal(key, text, "braces in pairs", str(why)) from None
    for name in sorted(named - fields):
        raise row.unknown(
            key, f"{{{name}}}", [f"{{{one}}}" for one in sorted([*fields, *sentences])]
        )
    return text


def one_bank(found: Iterable[list[ProblemKind]]) -> dict[str, ProblemKind]:
    """The kinds of lessons together, by name."""
    kinds: dict[str, ProblemKind] = {}
    for kind in (kind for of_lesson in found for kind in of_lesson):
        if kind.name in kinds:
            raise Refusal(
                f"lesson_{kind.lesson:02d}.toml, name",
                kind.name,
                "each name once",
                "choose another name",
            )
        kinds[kind.name] = kind
    return kinds


@cache
def _kinds_of(lesson: int) -> list[ProblemKind]:
    return read_lesson(lesson_file(lesson), lesson, toml_file("common"))


def _called(name: str, attribute: str) -> ProblemKind:
    """The kind with this name, found by reading no more lessons than say it; else KeyError."""
    for lesson in lessons_with(attribute, name):
        for kind in _kinds_of(lesson):
            if getattr(kind, attribute) == name:
                return kind
    raise KeyError(name)


BANK = OnDemand(
    lambda: one_bank(map(_kinds_of, lesson_texts())),
    lambda name: _called(name, "name"),
)
# What kinds were called before; files handed out under these names are still read.
OLD_NAMES = OnDemand(
    lambda: {kind.stream: kind.name for kind in BANK.values() if kind.stream},
    lambda old: _called(old, "stream").name,
)


def proofread() -> str:
    """Read every file, formula and slip; what cannot be used is refused, else how many there are.

    >>> proofread()
    '159 problems in 12 lessons and 359 slips can be used.'
    """
    for kind in BANK.values():
        methods = [kind.method] if isinstance(kind, FormulaKind) else []
        if isinstance(kind, NumberKind):
            methods = [own.method for own in kind.by_step.values()]
        for method in methods:
            listed_mistakes(method)
            for system in SYSTEMS:
                steps_to(method, kind.lesson, system)
    slips = [slip.tree for listed in LISTED_MISTAKES.values() for slip in listed]
    found = {kind.lesson for kind in BANK.values()}
    return f"{len(BANK)} problems in {len(found)} lessons and {len(slips)} slips can be used."
