"""Problems that ask for a free body: what can be chosen as plain data, what was built as data or text."""

from dataclasses import dataclass

from leverarm.exercises.draw import Stream
from leverarm.exercises.freebody import FreeBody, faults, moment_text, parsed
from leverarm.exercises.grammar import Unreadable
from leverarm.exercises.problem import Problem, Verdict, unread
from leverarm.exercises.scenes import SCENES
from leverarm.exercises.worked import Line

WAYS = ("up", "down")


@dataclass(frozen=True, eq=False)
class BodyKind:
    """A free body to build.

    statement   text with {machine} and {thing}
    body, bodies    the right body; all that are offered
    forces      every Force that is offered, those that do not belong among them
    pivot       the best pivot; pivots  what to say to each other one
    unknowns    letters of the unknown forces, the one asked first
    letters     letters of the lengths
    """

    name: str
    lesson: int
    title: str
    statement: str
    body: str
    bodies: tuple
    forces: tuple
    pivot: str
    pivots: dict
    unknowns: tuple
    letters: tuple
    stream: str = ""
    style = "body"

    def make(self, seed, system=None):
        """The problem of a seed: the same body, what is offered in an order of its own."""
        stream = Stream(self.stream or self.name, seed)
        scene = {part: stream.one_of(choices) for part, choices in SCENES.items()}
        offered = (
            ("bodies", tuple(stream.shuffled(self.bodies))),
            ("forces", tuple((f.letter, f.words) for f in stream.shuffled(self.forces))),
            ("ways", WAYS),
            ("places", tuple(stream.shuffled(dict.fromkeys(f.at for f in self.forces)))),
            ("pivots", tuple(stream.shuffled([self.pivot, *self.pivots]))),
            ("lengths", self.letters),
        )
        return Problem(
            self.name,
            self.lesson,
            self.title,
            self.style,
            seed,
            system or "kg",
            self.statement.format(**scene),
            {},
            "",
            self.right().lines,
            offered,
            source=self,
        )

    def right(self):
        """The FreeBody asked for."""
        outside = [force for force in self.forces if not force.inside]
        return FreeBody(
            self.body,
            tuple((f.letter, f.way, f.at) for f in outside),
            self.pivot,
            tuple((f.letter, f.length) for f in outside if f.arm and f.arm != "0"),
        )

    def check(self, problem, built, tolerance=None, sympy=True):
        """The Verdict on a FreeBody, or on its lines as text."""
        try:
            built = built if isinstance(built, FreeBody) else parsed(built)
        except Unreadable as sentence:
            return unread(sentence)
        found = tuple(faults(self, built))
        reading = built.lines.replace("\n", "; ")
        if not found:
            up, down = moment_text(self)
            return Verdict(
                True,
                reading,
                case="right",
                finding=f"That is the free body. Moments about the {self.pivot}: {up} = {down}.",
            )
        first = found[0]
        more = f" ({len(found) - 1} more to look at after this.)" if len(found) > 1 else ""
        return Verdict(
            False,
            reading,
            found,
            "wrong",
            f"The question asks for the free body that gives {self.unknowns[0]} in one equation.",
            f"The drawing has {first.what}.{more}",
            first.ask,
        )

    def hints(self, problem):
        """Four hints, one rung at a time."""
        up, down = moment_text(self)
        return (
            f"Which bodies outside touch or pull the {self.body}?",
            f"Draw the {self.body} alone, cut free from all else. An arrow for each touch, one for each weight.",
            f"Take as pivot a point through which the unknown {self.unknowns[1]} passes.",
            f"Moments about the {self.pivot}: {up} = {down}.",
        )

    def solution(self, problem):
        """The right free body, line by line, and the equation it leads to."""
        right = self.right()
        up, down = moment_text(self)
        principle = self.pivot.split()[0]
        drawn = [
            Line(
                "definition",
                f"From outside: {f.words}.",
                f.letter,
                "",
                "",
                f"{f.way} at {f.at}",
                mark=": ",
            )
            for f in self.forces
            if not f.inside
        ]
        return (
            Line("definition", "Cut it free.", "body", "", "", right.body, mark=": "),
            *drawn,
            Line(
                principle,
                f"About the {self.pivot}, {self.unknowns[1]} has no arm.",
                up,
                "",
                "",
                down,
            ),
        )
