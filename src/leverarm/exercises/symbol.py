"""Problems that ask for a formula: read by our own grammar, compared in exact fractions."""

from dataclasses import dataclass
from fractions import Fraction
from functools import cache, cached_property, lru_cache

from leverarm.exercises import sameness, worked
from leverarm.exercises.answers import clipped
from leverarm.exercises.draw import Stream
from leverarm.exercises.feedback import principle_question
from leverarm.exercises.grammar import MOST_TYPED, Unreadable, read, spellings
from leverarm.exercises.problem import Problem, Suspect, Verdict, unclear, unread
from leverarm.exercises.scenes import SCENES
from leverarm.exercises.spell import opened, text
from leverarm.exercises.trees import Letter, Num, product, replaced, walk
from leverarm.exercises.working import RULES, sources, words_of, working

# Overhang as a multiple of the wheelbase, kept away from where a wrong lever gives the right answer.
MULTIPLES = tuple(
    Fraction(n, d)
    for n, d in (
        (1, 4),
        (1, 3),
        (2, 5),
        (3, 4),
        (4, 5),
        (6, 5),
        (5, 4),
        (4, 3),
        (3, 2),
        (7, 5),
        (8, 5),
    )
)


@dataclass(frozen=True, eq=False)
class SymbolKind:
    """A kind of problem whose answer is a formula.

    asked, given    as for numbers; the formula may use the given letters
    at              (letter, other): this letter is told as a multiple of another, drawn with the seed
    """

    name: str
    lesson: int
    title: str
    asked: str
    given: tuple
    statement: str
    at: tuple = ()
    stream: str = ""
    style = "symbol"

    @cached_property
    def working(self):
        """The Working behind it."""
        return working(self.asked, self.given, sources(self.given), True)

    def make(self, seed, system=None):
        """The problem of a seed; letters know no units, so the system only labels it."""
        stream = Stream(self.stream or self.name, seed)
        multiple = stream.one_of(MULTIPLES) if self.at else None
        scene = {part: stream.one_of(choices) for part, choices in SCENES.items()}
        said = self.statement.format(**scene, multiple=_said(multiple, self.at))
        given = {self._shown(name): words_of(name) for name in self._allowed()}
        return Problem(
            self.name,
            self.lesson,
            self.title,
            self.style,
            seed,
            system or "kg",
            said,
            given,
            "",
            _answer(self, multiple),
            source=self,
            inner=multiple,
        )

    def letters(self):
        """name -> printed letter."""
        return {name: self._shown(name) for name in self.given}

    def _shown(self, name):
        return self.working.letters[name].shown

    def _allowed(self):
        """The letters the answer may use."""
        return tuple(name for name in self.given if name not in self.at[:1])

    @cache
    def right(self, multiple=None):
        """The right tree, with the multiple put in for its letter."""
        return _put_in(opened(self.working.tree), self.at, multiple)

    def _tidy(self, multiple):
        """The right tree as short as it gets: a fraction of one letter where it is one."""
        tree, first = self.right(multiple), self._allowed()[0]
        parts = {
            there / at[first]
            for there, at in zip(sameness.profile(tree, self._points()), self._points())
            if isinstance(there, Fraction)
        }
        if len(parts) != 1:
            return tree
        part = parts.pop()
        return product((Num(part.numerator), Letter(first)), (Num(part.denominator),))

    def check(self, problem, typed, tolerance=None, sympy=True):
        """The Verdict on a typed formula."""
        try:
            trees = self._read(typed)
            profiles = [sameness.profile(tree, self._points()) for tree in trees]
        except (Unreadable, sameness.TooBig) as sentence:
            return unread(sentence)
        if len(trees) > 1 and not sameness.alike(*profiles):
            return unclear(
                " or ".join(text(tree, self.letters()) for tree in trees),
                f"{clipped(typed, 40)} can be read as {text(trees[0], self.letters())} or as "
                f"{text(trees[1], self.letters())}. Put brackets or a times sign where you mean them.",
            )
        return self._judged(problem, trees[0], profiles[0], sympy)

    def _read(self, typed):
        """The readings of a typed formula; what stands before an equals sign is its name."""
        if len(typed) > MOST_TYPED:
            raise Unreadable(
                f"That is {len(typed)} characters long; up to {MOST_TYPED} are read. Type the formula alone."
            )
        return read(
            typed.rsplit("=", 1)[-1],
            spellings({self._shown(name): name for name in self._allowed()}),
        )

    def _points(self):
        return sameness.points(self._allowed())

    def _judged(self, problem, tree, profile, sympy):
        """Right, or wrong with its suspects."""
        shown = text(tree, self.letters())
        if all(value is None for value in profile):
            return unread(f"{shown} divides by zero. Check the brackets.")
        right = self.right(problem.inner)
        found = sameness.compared(profile, _right_profile(self, problem.inner))
        found = sameness.asked_again(found, tree, right) if sympy else found
        if found.same:
            return Verdict(
                True,
                shown,
                case="right",
                finding=f"{shown}: that is it.",
                remarks=(f"Compared with the derived formula {found.how}.",),
                how=found.how,
            )
        if self._rounded(tree, profile, problem.inner):
            return unclear(
                shown,
                f"{shown} is the formula with a number rounded. Write that number exactly, as a fraction or a root.",
            )
        return self._wrong(problem, shown, profile, found.how)

    def _rounded(self, tree, profile, multiple):
        """Whether a plain multiple is right but for a rounded decimal."""
        decimal = any(
            isinstance(part, Num) and Fraction(part.value).denominator != 1 for part in walk(tree)
        )
        return decimal and sameness.nearly(profile, _right_profile(self, multiple))

    def _wrong(self, problem, shown, profile, how):
        """The three parts of a reply to a wrong formula."""
        turns = [
            turn
            for path, there in zip(self.working.paths, _profiles(self, problem.inner))
            if sameness.alike(profile, there)
            for turn in path.turns
            if turn.name not in ("rounded early", "unit")
        ]
        suspects = tuple(
            Suspect(t.name, t.what.format(*(self._part(part) for part in t.parts)), t.ask)
            for t in turns
        )
        goal = f"The question asks for {self.working.rule.words}, as a formula in {', '.join(map(self._shown, self._allowed()))}."
        if not suspects:
            finding, question = (
                f"{shown} is not it, and no single slip leads to it.",
                f"Begin again with this: {self.working.rule.why}",
            )
        else:
            finding = (
                f"{shown} {'is' if len(suspects) == 1 else 'can be'} "
                + "; or ".join(s.what for s in suspects)
                + "."
            )
            question = " ".join(dict.fromkeys(s.ask for s in suspects))
        return Verdict(False, shown, suspects, "wrong", goal, finding, question, how=how)

    def _part(self, part):
        return (
            words_of(part.name) if hasattr(part, "name") else text(part, self.letters(), inner=True)
        )

    def hints(self, problem):
        """Four hints, one rung at a time."""
        made = self.solution(problem)
        letters = ", ".join(f"{letter} for {words}" for letter, words in problem.given.items())
        return (
            principle_question(self.working.rule),
            f"{worked.picture(self.given, self.working.rule.principle)} Write the letters on it: {letters}.",
            f"Principle: {made[0].tag}. {made[0].words}",
            made[0].text,
        )

    def solution(self, problem):
        """The worked solution, in letters."""
        return worked.in_letters(
            self.working,
            self.letters() | {s.name: RULES[s.name].shown for s in self.working.steps},
            self._tidy(problem.inner) if self.at else None,
            _said(problem.inner, self.at),
        )


def _said(multiple, at):
    """A multiple in words of the grammar: 3*L/5."""
    if multiple is None:
        return ""
    top = at[1] if multiple.numerator == 1 else f"{multiple.numerator} × {at[1]}"
    return top if multiple.denominator == 1 else f"{top}/{multiple.denominator}"


def _put_in(tree, at, multiple):
    """The tree with a multiple of one letter in place of another."""
    if multiple is None:
        return tree
    return replaced(
        tree,
        {at[0]: product((Num(multiple.numerator), Letter(at[1])), (Num(multiple.denominator),))},
    )


@lru_cache(maxsize=512)
def _right_profile(kind, multiple):
    """The right formula's values at the points of a kind."""
    return sameness.profile(kind.right(multiple), kind._points())


@lru_cache(maxsize=512)
def _answer(kind, multiple):
    """The right formula as text."""
    return text(kind._tidy(multiple), kind.letters())


@lru_cache(maxsize=512)
def _profiles(kind, multiple):
    """The wrong paths' values at the points of a kind."""
    found = []
    for path in kind.working.paths:
        try:
            found.append(
                sameness.profile(_put_in(opened(path.tree), kind.at, multiple), kind._points())
            )
        except (sameness.TooBig, KeyError):
            found.append((None,))
    return found
