"""The twelve questions of the concept check in two forms, read from their data file and checked.

form("A", "lb")     the CheckQuestions of a form in a unit system
slips_caught()      every slip that a wrong option catches, with the questions that catch it

Both forms ask for the same idea and catch the same slips, on another surface.
"""

from dataclasses import dataclass
from functools import cache

from leverarm.data import Entry, toml_file
from leverarm.quantities import Refusal, known_system, system_shown

FORMS = ("A", "B")
LETTERS = "ABCDEF"
MOST_QUESTIONS = 60


@dataclass(frozen=True)
class CheckOption:
    """An answer to choose: the slip it catches ("" for the right one) and the thought behind it."""

    text: str
    slip: str
    thought: str


@dataclass(frozen=True)
class CheckQuestion:
    """One question of one form.

    number      its place, from 1;  concept  the idea it asks for;  lessons  where that is taught
    picture     what its drawing shows, in words
    told        what differs between the unit systems, by name, "unit" among them
    """

    number: int
    form: str
    concept: str
    lessons: tuple[str, ...]
    text: str
    picture: str
    options: tuple[CheckOption, ...]
    told: dict[str, str]

    @property
    def letters(self) -> str:
        """The letters of its options."""
        return LETTERS[: len(self.options)]

    @property
    def key(self) -> str:
        """The letter of the right option."""
        return next(letter for letter, option in zip(LETTERS, self.options) if not option.slip)

    def option(self, letter: str) -> CheckOption:
        """The option of a letter."""
        return self.options[LETTERS.index(letter)]


@dataclass(frozen=True)
class Words:
    """What is said of the whole check: its edition, title, minutes, rules, what to say once."""

    edition: str
    minutes: str
    title: str
    rules: str
    say: str
    unproved: str


def read_check(entry: Entry, system: str) -> tuple[Words, dict[str, tuple[CheckQuestion, ...]]]:
    """(words, questions of each form); what cannot be used is refused with file and key."""
    words = Words(*(entry.text(name) for name in Words.__dataclass_fields__))
    rows = entry.rows("item")
    if not 2 <= len(rows) <= MOST_QUESTIONS:
        raise entry.refusal(
            "item", len(rows), f"2 to {MOST_QUESTIONS} items", "add or leave out some"
        )
    forms: dict[str, list[CheckQuestion]] = {form: [] for form in FORMS}
    for number, row in enumerate(rows, 1):
        concept, lessons = row.text("name"), row.words("lessons")
        pair = [_question(row.part(form), number, form, concept, lessons, system) for form in FORMS]
        if len({frozenset(one.slip for one in question.options) for question in pair}) > 1:
            raise row.refusal(
                "slip", "other slips in one form", "the same slips in both forms", "match them"
            )
        for question in pair:
            forms[question.form].append(question)
        row.done()
    entry.done()
    return words, {form: tuple(asked) for form, asked in forms.items()}


def _question(
    row: Entry, number: int, form: str, concept: str, lessons: tuple[str, ...], system: str
) -> CheckQuestion:
    told = {"unit": system}
    words = row.part("told")
    for name in words:
        part = words.part(name)
        told[name] = {one: part.text(one) for one in ("lb", "kg")}[system]
        part.done()
    options = tuple(_option(part, told) for part in row.rows("options", "text"))
    if not 2 <= len(options) <= len(LETTERS) or len({one.slip for one in options}) < len(options):
        raise row.refusal(
            "options",
            len(options),
            f"2 to {len(LETTERS)} options, each with a slip of its own and one with a reason",
            "mend them",
        )
    if all(one.slip for one in options):
        raise row.refusal("options", "no reason", "one option with a reason", "say which is right")
    question = CheckQuestion(
        number,
        form,
        concept,
        lessons,
        row.template("question", told).format(**told),
        row.template("picture", told).format(**told),
        options,
        told,
    )
    row.done()
    return question


def _option(part: Entry, told: dict[str, str]) -> CheckOption:
    text = part.template("text", told).format(**told)
    right = "reason" in part
    slip = "" if right else part.text("slip")
    thought = part.template("reason" if right else "thought", told).format(**told)
    part.done()
    return CheckOption(text, slip, thought)


@cache
def _read(system: str) -> tuple[Words, dict[str, tuple[CheckQuestion, ...]]]:
    return read_check(toml_file("concept_check"), system)


def check_words() -> Words:
    """What is said of the whole check."""
    return _read("lb")[0]


def form(name: str, system: str | None = None) -> tuple[CheckQuestion, ...]:
    """The questions of a form: form("A"); of system None in the units that are shown."""
    if name not in FORMS:
        raise Refusal("form", name, " or ".join(FORMS), "name one of them")
    return _read(known_system(system or system_shown()))[1][name]


def right_letters(name: str) -> str:
    """The right letters of a form in order; the same in both unit systems."""
    return "".join(question.key for question in form(name, "lb"))


def how_many_questions() -> int:
    """How many questions a form has."""
    return len(form(FORMS[0], "lb"))


def slips_caught() -> dict[str, tuple[int, ...]]:
    """Each slip and the numbers of the questions that catch it, those of several first."""
    found: dict[str, list[int]] = {}
    for question in form(FORMS[0], "lb"):
        for option in question.options:
            if option.slip:
                found.setdefault(option.slip, []).append(question.number)
    return {
        slip: tuple(numbers)
        for slip, numbers in sorted(found.items(), key=lambda one: -len(one[1]))
    }
