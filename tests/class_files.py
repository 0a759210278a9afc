"""Invented answer files for tests and benchmarks: whole classes, and damaged files."""

import random
from pathlib import Path

from leverarm import exercises
from leverarm.marking.answer_file import Answer, header, line
from leverarm.marking.assignment import Assignment, Ticket
from leverarm.marking.codes import CODE_LENGTH, DEMO_KEY, SYMBOLS, number_key, proof, with_check
from leverarm.marking.homework import given_text, problem_for


def demo_codes(count, seed=1):
    """So many codes, the same every time."""
    rng, made = random.Random(seed), {}
    while len(made) < count:
        made[with_check("".join(rng.choice(SYMBOLS) for _ in range(CODE_LENGTH - 1)))] = None
    return list(made)


def ticket_of(code, assignment, key=DEMO_KEY):
    return Ticket(code, number_key(key, code, assignment.name), assignment)


def numeric_kinds():
    """The kinds whose answer is a number."""
    return [kind.name for kind in exercises.problems() if kind.style == "number"]


def right(problem):
    """A right answer as a student would type it."""
    if isinstance(problem.answer, (int, float)) and not isinstance(problem.answer, bool):
        return f"{problem.answer:.5g} {problem.unit}"
    return str(problem.answer)


def wrong(problem, rng):
    """A wrong answer as a student would type it: usual slips and plain nonsense."""
    if isinstance(problem.answer, (int, float)) and not isinstance(problem.answer, bool):
        return f"{problem.answer * rng.choice((2, 0.5, -1, 1.37, 0.71)):.4g}"
    if problem.style == "choice":
        return rng.choice([letter for letter, _ in problem.options if letter != problem.answer])
    if problem.style == "body":
        return problem.answer.replace(" up ", " down ", 1)
    return f"2*{next(iter(problem.given))}"


def lines(ticket, tries, rng):
    """The lines of one student's file: wrong at first, right at the last try."""
    for item in ticket.assignment.items:
        for number in range(1, tries + 1):
            problem = problem_for(ticket, item, number)
            typed = right(problem) if number == tries else wrong(problem, rng)
            yield line(
                Answer(
                    item.name, number, given_text(problem), typed, typed, 0, rng.randrange(20, 300)
                )
            )


def answer_text(ticket, body):
    """A whole file."""
    return (
        "\n".join(
            [
                header(ticket.assignment.name, ticket.code, proof(ticket.key), "leverarm 0.1.0"),
                *body,
            ]
        )
        + "\n"
    )


def write_class(folder, students, items, tries=2, name="Week 3", kinds=None, seed=1):
    """Write a class's answer files under the key that everybody knows; returns the assignment."""
    kinds = kinds or [kind.name for kind in exercises.problems()]
    assignment = Assignment(name, (kinds * (1 + items // len(kinds)))[:items])
    folder = Path(folder)
    folder.mkdir(parents=True, exist_ok=True)
    rng = random.Random(seed)
    for code in demo_codes(students, seed):
        ticket = ticket_of(code, assignment)
        (folder / f"{ticket.stem}.answers.txt").write_text(
            answer_text(ticket, lines(ticket, tries, rng)), "utf-8"
        )
    return assignment


# Damage ------------------------------------------------------------------------------------

NASTY = (
    '=HYPERLINK("x")',
    "<script>alert(1)</script>",
    "\u202egnp.exe",
    "a\nb",
    "\ud800",
    "NaN",
    "9**9**9",
    "(" * 300,
    "__import__('os')",
    "1,234",
    "−82,7",
    "“190 kg”",
    "\0",
    "🙂" * 50,
    "1e309",
    "½",
    "",
    " ",
    "W(1+a/L)",
    "1" * 390,
)
VALUES = (
    "null",
    "true",
    "[]",
    "{}",
    "NaN",
    "-1",
    "1e400",
    "1.5",
    '"x"',
    "9" * 4000,
    "[[[[[[]]]]]]",
)


def _cut(data, rng):
    return data[: rng.randrange(len(data))]


def _flipped(data, rng):
    out = bytearray(data)
    for _ in range(rng.randrange(1, 20)):
        out[rng.randrange(len(out))] = rng.randrange(256)
    return bytes(out)


def _nested(data, rng):
    return data + b"[" * rng.randrange(1, 100_000) + b"\n"


def _valued(data, rng):
    """Some field of some line gets another value."""
    rows = data.decode().split("\n")
    at = rng.randrange(len(rows))
    for field in rng.sample(
        (
            "item",
            "try",
            "given",
            "typed",
            "read",
            "hints",
            "seconds",
            "code",
            "proof",
            "assignment",
        ),
        3,
    ):
        before, mark, after = rows[at].partition(f'"{field}": ')
        if mark:
            end = after.find(', "') if ', "' in after else len(after) - 1
            rows[at] = before + mark + rng.choice(VALUES) + after[end:]
    return "\n".join(rows).encode()


def _nasty(data, rng):
    """Answers nobody would expect, properly written."""
    import json

    rows = data.decode().split("\n")
    for at in rng.sample(range(1, len(rows) - 1), min(5, len(rows) - 2)):
        found = json.loads(rows[at])
        found[rng.choice(("typed", "given", "read", "item"))] = rng.choice(NASTY)
        rows[at] = json.dumps(found)
    return "\n".join(rows).encode()


def _shuffled(data, rng):
    rows = data.split(b"\n")
    rng.shuffle(rows)
    return b"\n".join(rows)


def _recoded(data, rng):
    encoding = rng.choice(
        ("utf-16", "utf-16-le", "utf-16-be", "utf-32", "utf-8-sig", "cp037", "utf-7")
    )
    return data.decode().encode(encoding, "replace")


def _quoted(data, rng):
    return data.replace(b'"', "”".encode()).replace(b"\n", rng.choice((b"\r\n", b"\r", b"\n\n")))


def _repeated(data, rng):
    return data * rng.randrange(2, 30)


def _noise(data, rng):
    return rng.randbytes(rng.randrange(0, 5000))


DAMAGE = (_cut, _flipped, _nested, _valued, _nasty, _shuffled, _recoded, _quoted, _repeated, _noise)


def mutated(data, seed):
    """The bytes of a file, damaged as the seed says, once or twice."""
    rng = random.Random(seed)
    try:
        for damage in rng.sample(DAMAGE, rng.choice((1, 1, 2))):
            data = damage(data, rng)
    except (ValueError, IndexError, RecursionError):
        pass  # a second damage may find nothing left to work on
    return data
