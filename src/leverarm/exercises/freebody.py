"""Building a free body: choose the body, its arrows, their arms, the pivot; as data, or as lines of text.

    body: tractor and bucket
    W down at bucket
    T down at center of gravity
    F up at front axle
    R up at rear axle
    pivot: rear axle
    arm W: a + L

The check names a missing arrow, a force from inside the body, a wrong way or
place, a pivot that leaves two unknowns, an arm that starts somewhere else.
"""

import re
from dataclasses import dataclass
from functools import lru_cache

from leverarm.exercises.answers import clipped
from leverarm.exercises.grammar import Unreadable, read
from leverarm.exercises.problem import Suspect
from leverarm.exercises.sameness import TooBig, alike, points, profile
from leverarm.exercises.spell import text
from leverarm.numerals import plain

MOST_TYPED = 2000
MOST_LINES = 40
_LINE = re.compile(
    r"(?P<force>[^\s:]{1,12})\s+(?P<way>up|down|left|right|forward|back)\s+at\s+(?P<at>.{1,60})",
    re.I,
)
_ARM = re.compile(r"arm(?: of)?\s+(?P<force>[^\s:=]{1,12})\s*[:=]\s*(?P<arm>.{1,120})", re.I)
_FIELD = re.compile(r"(?P<field>body|pivot)\s*[:=]\s*(?P<value>.{1,80})", re.I)


@dataclass(frozen=True)
class Force:
    """An arrow that can be drawn: letter, words, way, place; why not, for one that does not belong; its arm.

    arm     a length from the pivot, "0" at it; with a minus on the side away from the asked unknown
    """

    letter: str
    words: str
    way: str
    at: str
    inside: str = ""
    arm: str = ""

    @property
    def length(self):
        """The arm as a length, whichever side it is on."""
        return self.arm.removeprefix("-")


@dataclass(frozen=True)
class FreeBody:
    """What was built: the body, (letter, way, place) for each arrow, the pivot, and letter -> arm as typed."""

    body: str = ""
    arrows: tuple = ()
    pivot: str = ""
    arms: tuple = ()

    @property
    def lines(self):
        """The same as lines of text."""
        return "\n".join(
            [
                *([f"body: {self.body}"] if self.body else []),
                *(f"{letter} {way} at {at}" for letter, way, at in self.arrows),
                *([f"pivot: {self.pivot}"] if self.pivot else []),
                *(f"arm {letter}: {arm}" for letter, arm in self.arms),
            ]
        )


def parsed(typed):
    """A FreeBody from lines of text, or lines split by semicolons.  Raises Unreadable.

    >>> parsed("body: plank; J down at jug; pivot: left scale; arm J: d").arrows
    (('J', 'down', 'jug'),)
    """
    if len(typed) > MOST_TYPED:
        raise Unreadable(
            f"That is {len(typed)} characters long; up to {MOST_TYPED} are read. One line for each arrow."
        )
    # Drawings came back with this spelling before.
    typed = re.sub("centre", "center", typed, flags=re.I)
    fields, arrows, arms = {}, [], []
    for line in filter(None, (plain(line) for line in re.split(r"[;\n\r]+", typed)[:MOST_LINES])):
        if found := _FIELD.fullmatch(line):
            fields[found["field"].lower()] = found["value"].strip().lower()
        elif found := _ARM.fullmatch(line):
            arms.append((found["force"], found["arm"].strip()))
        elif found := _LINE.fullmatch(line):
            arrows.append((found["force"], found["way"].lower(), found["at"].strip().lower()))
        else:
            raise Unreadable(
                f"{clipped(line, 40)} is no line that can be read. Write: body: ..., or W down at bucket, "
                "or pivot: rear axle, or arm W: a + L."
            )
    if not (fields or arrows or arms):
        raise Unreadable("Nothing was drawn. Begin with a line such as body: tractor.")
    return FreeBody(fields.get("body", ""), tuple(arrows), fields.get("pivot", ""), tuple(arms))


def faults(task, built):
    """Every Suspect in a FreeBody against its task, the graver first."""
    yield from _body(task, built)
    yield from _missing(task, built)
    yield from _needless(task, built)
    yield from _astray(task, built)
    yield from _pivot(task, built)
    yield from _arms(task, built)


def _body(task, built):
    if built.body != task.body:
        yield Suspect(
            "body",
            f"another body: {built.body}" if built.body else "no body named",
            f"Which body carries all the forces asked about, {' and '.join(task.unknowns)} among them?",
        )


def _drawn(built):
    return {letter.lower(): (way, at) for letter, way, at in built.arrows}


def _missing(task, built):
    for force in task.forces:
        if not force.inside and force.letter.lower() not in _drawn(built):
            yield Suspect(
                f"missing {force.letter}",
                f"no arrow for {force.words}",
                f"What acts on the body at the {force.at}?",
            )


def _needless(task, built):
    known = {force.letter.lower(): force for force in task.forces}
    for letter, *_ in built.arrows:
        force = known.get(letter.lower())
        if force is None:
            yield Suspect(
                f"unknown {letter}",
                f"an arrow {clipped(letter)} that this problem does not name",
                "Which body outside touches or pulls this one there?",
            )
        elif force.inside:
            yield Suspect(
                f"inside {force.letter}",
                f"a force that does not act on the body from outside: {force.words}",
                force.inside,
            )
    if len(_drawn(built)) < len(built.arrows):
        yield Suspect("twice", "one arrow twice", "Which arrow stands there twice?")


def _astray(task, built):
    for force in task.forces:
        way, at = _drawn(built).get(force.letter.lower(), (None, None))
        if way is None or force.inside:
            continue
        if way != force.way:
            yield Suspect(
                f"way {force.letter}",
                f"{force.words} pointing {way}",
                "Does that body push up on this one, or pull it down?",
            )
        if at != force.at:
            yield Suspect(
                f"place {force.letter}",
                f"{force.words} at the {clipped(at)}",
                "Where does that force act?",
            )


def _pivot(task, built):
    if built.pivot != task.pivot:
        reply = task.pivots.get(
            built.pivot, "About which point has one of the two unknown forces no arm?"
        )
        yield Suspect(
            "pivot",
            f"its pivot at the {clipped(built.pivot)}" if built.pivot else "no pivot named",
            reply,
        )


def _arms(task, built):
    typed = {letter.lower(): arm for letter, arm in built.arms}
    for force in task.forces:
        if force.inside or not force.arm or force.arm == "0":
            continue
        said = typed.get(force.letter.lower())
        if said is None:
            yield Suspect(
                f"arm {force.letter}",
                f"no arm for {force.words}",
                f"How far is it from the {task.pivot}?",
            )
        elif not _same_arm(said, force.arm, task.letters):
            yield Suspect(
                f"arm {force.letter}",
                f"the arm {clipped(said, 40)} for {force.words}",
                f"The arm starts at the pivot. How far is it from the {task.pivot} to the {force.at}?",
            )


def _same_arm(said, right, letters):
    """Whether a typed arm is the right length, whatever its form."""
    try:
        one, other = _lengths(said, letters), _lengths(right, letters)
    except (Unreadable, TooBig):
        return False
    return alike(one, other) or alike(tuple(None if v is None else -v for v in one), other)


@lru_cache(maxsize=1024)
def _lengths(arm, letters):
    """An arm's values at points."""
    return profile(read(arm, letters)[0], points(letters))


def moment_text(task):
    """The moment equation the right drawing leads to, as text: what turns as the asked unknown does = what turns against it."""
    turns = {True: [], False: []}
    for force in sorted(task.forces, key=lambda force: force.letter != task.unknowns[0]):
        if not force.inside and force.arm and force.arm != "0":
            arm = text(read(force.length, task.letters)[0])
            along = (force.way == "up") != force.arm.startswith("-")
            turns[along].append(
                f"{force.letter} × ({arm})" if " " in arm else f"{force.letter} × {arm}"
            )
    return " + ".join(turns[True]), " + ".join(turns[False])
