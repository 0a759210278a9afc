"""Problems that ask for a free body: choose the body, its arrows, their arms and the pivot.

A free body is data, or lines of text:

    body: tractor and bucket
    W down at bucket
    T down at center of gravity
    F up at front axle
    R up at rear axle
    pivot: rear axle
    arm W: a + L

The check names a missing arrow, a force from inside the body, a wrong direction or
place, a pivot that leaves two unknowns, and an arm that does not start at the pivot.
Students draw it themselves: a drawing that is handed to them can hurt (Rosengrant et al.
2009, Mešić et al. 2017).
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from leverarm.exercises.expressions.equivalence import Profile, TooBig, agree, points, profile
from leverarm.exercises.expressions.grammar import Unreadable, read_formula
from leverarm.exercises.expressions.tree import formula_text
from leverarm.exercises.letters import scene
from leverarm.exercises.number_reader import clipped
from leverarm.exercises.problem import Mistake, Problem, ProblemKind, SolutionLine, Verdict, unread
from leverarm.numerals import plain

MOST_TYPED = 2000
MOST_LINES = 40
WAYS = ("up", "down")
_ARROW = re.compile(
    r"(?P<force>[^\s:]{1,12})\s+(?P<way>up|down|left|right|forward|back)\s+at\s+(?P<at>.{1,60})",
    re.IGNORECASE,
)
_ARM = re.compile(
    r"arm(?: of)?\s+(?P<force>[^\s:=]{1,12})\s*[:=]\s*(?P<arm>.{1,120})", re.IGNORECASE
)
_FIELD = re.compile(r"(?P<field>body|pivot)\s*[:=]\s*(?P<value>.{1,80})", re.IGNORECASE)


@dataclass(frozen=True)
class Force:
    """An arrow that can be drawn.

    letter, words   what it is called
    way, at         its direction and place
    inside          why it does not belong, for a force that does not act from outside
    arm             a length from the pivot, "0" at it; with a minus where it turns the other way
                    than the unknown asked
    """

    letter: str
    words: str
    way: str
    at: str
    inside: str = ""
    arm: str = ""

    @property
    def length(self) -> str:
        """The arm as a length, whichever side it is on."""
        return self.arm.removeprefix("-")

    @property
    def has_arm(self) -> bool:
        """Whether it belongs to the free body and turns about the pivot."""
        return not self.inside and self.arm not in ("", "0")


@dataclass(frozen=True)
class FreeBody:
    """What was built: the body, arrows (letter, way, place), the pivot, arms (letter, length)."""

    body: str = ""
    arrows: tuple[tuple[str, str, str], ...] = ()
    pivot: str = ""
    arms: tuple[tuple[str, str], ...] = ()

    @property
    def lines(self) -> str:
        """The same as lines of text."""
        return "\n".join(
            [
                *([f"body: {self.body}"] if self.body else []),
                *(f"{letter} {way} at {at}" for letter, way, at in self.arrows),
                *([f"pivot: {self.pivot}"] if self.pivot else []),
                *(f"arm {letter}: {arm}" for letter, arm in self.arms),
            ]
        )


def read_free_body(typed: str) -> FreeBody:
    """A FreeBody from lines of text, or lines split by semicolons.  Raises Unreadable.

    >>> read_free_body("body: plank; J down at jug; pivot: left scale; arm J: d").arrows
    (('J', 'down', 'jug'),)
    """
    if len(typed) > MOST_TYPED:
        raise Unreadable(
            f"That is {len(typed)} characters long; up to {MOST_TYPED} are read. "
            "Type one line for each arrow."
        )
    # Drawings that came back earlier have the other spelling.
    typed = re.sub("centre", "center", typed, flags=re.IGNORECASE)
    fields: dict[str, str] = {}
    arrows, arms = [], []
    lines = [line for line in map(plain, re.split(r"[;\n\r]+", typed)) if line]
    if len(lines) > MOST_LINES:
        raise Unreadable(
            f"That is {len(lines)} lines long; up to {MOST_LINES} are read. "
            "Type one line for each arrow."
        )
    for line in lines:
        if found := _FIELD.fullmatch(line):
            fields[found["field"].lower()] = found["value"].strip().lower()
        elif found := _ARM.fullmatch(line):
            arms.append((found["force"], found["arm"].strip()))
        elif found := _ARROW.fullmatch(line):
            arrows.append((found["force"], found["way"].lower(), found["at"].strip().lower()))
        else:
            raise Unreadable(
                f"{clipped(line, 40)} cannot be read as a line of a free body. "
                "Write: body: ..., or W down at bucket, or pivot: rear axle, or arm W: a + L."
            )
    if not (fields or arrows or arms):
        raise Unreadable("Nothing was drawn. Choose what you cut free, then put every force on it.")
    return FreeBody(fields.get("body", ""), tuple(arrows), fields.get("pivot", ""), tuple(arms))


@dataclass(frozen=True, eq=False)
class FreeBodyKind(ProblemKind):
    """A free body to build.

    statement   text with {machine} and {thing}
    body        the right body
    bodies      all that are offered
    forces      every Force that is offered, those that do not belong among them
    pivot       the best pivot
    pivots      what to say to each other one
    unknowns    letters of the unknown forces, the one asked first
    letters     letters of the lengths
    """

    statement: str
    body: str
    bodies: tuple[str, ...]
    forces: tuple[Force, ...]
    pivot: str
    pivots: dict[str, str]
    unknowns: tuple[str, ...]
    letters: tuple[str, ...]
    style = "body"

    def made(self, seed: object, system: str | None, edition: int) -> Problem:
        """The problem of a seed: the same body, what is offered in its own order."""
        stream = self.numbers_of(seed)
        scenery = scene(stream)
        offered = (
            ("bodies", tuple(stream.shuffled(self.bodies))),
            ("forces", tuple((f.letter, f.words) for f in stream.shuffled(self.forces))),
            ("ways", WAYS),
            ("places", tuple(stream.shuffled(dict.fromkeys(f.at for f in self.forces)))),
            ("pivots", tuple(stream.shuffled([self.pivot, *self.pivots]))),
            ("lengths", self.letters),
        )
        return self.problem(
            seed,
            system or "kg",
            self.statement.format(**scenery),
            answer=self.right().lines,
            options=offered,
        )

    def right(self) -> FreeBody:
        """The FreeBody asked for."""
        outside = [force for force in self.forces if not force.inside]
        return FreeBody(
            self.body,
            tuple((force.letter, force.way, force.at) for force in outside),
            self.pivot,
            tuple((force.letter, force.length) for force in outside if force.has_arm),
        )

    def moments(self) -> tuple[str, str]:
        """Both sides of the moment equation: what turns with the unknown asked, what against it."""
        turning: dict[bool, list[str]] = {True: [], False: []}
        for force in sorted(self.forces, key=lambda force: force.letter != self.unknowns[0]):
            if force.has_arm:
                arm = formula_text(read_formula(force.length, self.letters)[0])
                along = (force.way == "up") != force.arm.startswith("-")
                turning[along].append(f"{force.letter} × {f'({arm})' if ' ' in arm else arm}")
        return " + ".join(turning[True]), " + ".join(turning[False])

    def reaction(self, without: str = "") -> str:
        """The unknown asked, as a formula, from the moments about the pivot.

        without     the letter of a force that is left out, as if it were not there
        """
        turning = {force.letter: force for force in self.forces if force.has_arm}
        asked = turning.pop(self.unknowns[0])
        turning.pop(without, None)
        terms = "".join(
            f"{'-' if (force.way == 'up') != force.arm.startswith('-') else '+'}"
            f"{letter}*({force.length})"
            for letter, force in turning.items()
        )
        return f"({terms or '0'})/({asked.length})"

    def check(
        self,
        problem: Problem,
        built: FreeBody | str,
        tolerance: float | None = None,
        sympy: bool = True,
    ) -> Verdict:
        """The Verdict on a FreeBody, or on its lines as text."""
        try:
            built = built if isinstance(built, FreeBody) else read_free_body(built)
        except Unreadable as sentence:
            return unread(sentence)
        found = tuple(mistakes_in(self, built))
        reading = built.lines.replace("\n", "; ")
        if not found:
            along, against = self.moments()
            return Verdict(
                True,
                reading,
                case="right",
                finding="That is the free body. "
                f"Moments about the {self.pivot}: {along} = {against}.",
            )
        first, more = found[0], len(found) - 1
        rest = f" ({more} more to look at after this.)" if more else ""
        return Verdict(
            False,
            reading,
            found,
            "wrong",
            f"The question asks for the free body that gives {self.unknowns[0]} in one equation.",
            f"The drawing has {first.what}.{rest}",
            first.question,
        )

    def hints(self, problem: Problem, step: int | None = None) -> tuple[str, ...]:
        """Four hints, one rung at a time."""
        along, against = self.moments()
        return (
            f"Which bodies outside touch or pull the {self.body}?",
            f"Draw the {self.body} alone, cut free from everything else. "
            "Draw an arrow for each touch, one for each weight.",
            f"Take as pivot a point through which the unknown {self.unknowns[1]} passes.",
            f"Moments about the {self.pivot}: {along} = {against}.",
        )

    def solution(self, problem: Problem) -> tuple[SolutionLine, ...]:
        """The right free body, line by line, and the equation it leads to."""
        along, against = self.moments()
        arrows = [
            SolutionLine(
                "definition",
                f"From outside: {force.words}.",
                force.letter,
                result=f"{force.way} at {force.at}",
                mark=": ",
            )
            for force in self.forces
            if not force.inside
        ]
        why = f"About the {self.pivot}, {self.unknowns[1]} has no arm."
        return (
            SolutionLine("definition", "Cut it free.", "body", result=self.body, mark=": "),
            *arrows,
            SolutionLine(self.pivot.split()[0], why, along, result=against),
        )


# --- what is wrong with a free body -----------------------------------------------------------


def mistakes_in(kind: FreeBodyKind, built: FreeBody) -> Iterator[Mistake]:
    """Every Mistake in a FreeBody, the graver first."""
    if built.body != kind.body:
        yield Mistake(
            "body",
            f"another body: {built.body}" if built.body else "no body named",
            "Which body carries all the forces asked about, "
            f"{' and '.join(kind.unknowns)} among them?",
        )
    yield from _arrows_missing_or_needless(kind, built)
    yield from _arrows_astray(kind, built)
    if built.pivot != kind.pivot:
        yield Mistake(
            "pivot",
            f"its pivot at the {clipped(built.pivot)}" if built.pivot else "no pivot named",
            kind.pivots.get(
                built.pivot, "About which point has one of the two unknown forces no arm?"
            ),
        )
    yield from _wrong_arms(kind, built)


def _drawn(built: FreeBody) -> dict[str, tuple[str, str]]:
    return {letter.lower(): (way, at) for letter, way, at in built.arrows}


def _arrows_missing_or_needless(kind: FreeBodyKind, built: FreeBody) -> Iterator[Mistake]:
    known = {force.letter.lower(): force for force in kind.forces}
    drawn = _drawn(built)
    for letter, force in known.items():
        if not force.inside and letter not in drawn:
            yield Mistake(
                f"missing {force.letter}",
                f"no arrow for {force.words}",
                f"What acts on the body at the {force.at}?",
            )
    for typed, *_ in built.arrows:
        found = known.get(typed.lower())
        if found is None:
            yield Mistake(
                f"unknown {typed}",
                f"an arrow {clipped(typed)} that this problem does not name",
                "Which body outside touches or pulls this one there?",
            )
        elif found.inside:
            yield Mistake(
                f"inside {found.letter}",
                f"a force that does not act on the body from outside: {found.words}",
                found.inside,
            )
    if len(drawn) < len(built.arrows):
        yield Mistake("twice", "one arrow twice", "Which arrow did you draw twice?")


def _arrows_astray(kind: FreeBodyKind, built: FreeBody) -> Iterator[Mistake]:
    drawn = _drawn(built)
    for force in kind.forces:
        if force.inside or force.letter.lower() not in drawn:
            continue
        way, at = drawn[force.letter.lower()]
        if way != force.way:
            yield Mistake(
                f"way {force.letter}",
                f"{force.words} pointing {way}",
                "Does that body push up on this one, or pull it down?",
            )
        if at != force.at:
            yield Mistake(
                f"place {force.letter}",
                f"{force.words} at the {clipped(at)}",
                "Where does that force act?",
            )


def _wrong_arms(kind: FreeBodyKind, built: FreeBody) -> Iterator[Mistake]:
    typed = {letter.lower(): arm for letter, arm in built.arms}
    for force in filter(lambda force: force.has_arm, kind.forces):
        arm = typed.get(force.letter.lower())
        if arm is None:
            yield Mistake(
                f"arm {force.letter}",
                f"no arm for {force.words}",
                f"How far is it from the {kind.pivot}?",
            )
        elif not _is_same_arm(arm, force.length, kind.letters):
            yield Mistake(
                f"arm {force.letter}",
                f"the arm {clipped(arm, 40)} for {force.words}",
                "The arm starts at the pivot. "
                f"How far is it from the {kind.pivot} to the {force.at}?",
            )


def is_same_formula(typed: str, right: str, letters: tuple[str, ...]) -> bool:
    """Whether a typed formula is the right one, in whatever form.  Raises Unreadable, TooBig.

    >>> is_same_formula("T x/L - a W/L", "(T*x - W*a)/L", ("W", "T", "a", "x", "L"))
    True
    """
    right_values = _lengths(right, letters)
    at = points(letters)
    return any(agree(profile(tree, at), right_values) for tree in read_formula(typed, letters))


def _is_same_arm(typed: str, right: str, letters: tuple[str, ...]) -> bool:
    """Whether a typed arm is the right length, in whatever form and with whatever sign."""
    try:
        one, other = _lengths(typed, letters), _lengths(right, letters)
    except (Unreadable, TooBig):
        return False
    return agree(one, other) or agree(tuple(None if v is None else -v for v in one), other)


@lru_cache(maxsize=1024)
def _lengths(arm: str, letters: tuple[str, ...]) -> Profile:
    """The values of an arm at points."""
    return profile(read_formula(arm, letters)[0], points(letters))
