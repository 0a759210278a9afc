"""Problems that ask for a formula: read by our own grammar, compared in exact fractions."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import cache, cached_property

from leverarm.exercises import solution
from leverarm.exercises.change_classes import CLASSES, question_about
from leverarm.exercises.expressions import equivalence
from leverarm.exercises.expressions.equivalence import Profile, TooBig, profile
from leverarm.exercises.expressions.grammar import MOST_TYPED, Unreadable, read_formula, spellings
from leverarm.exercises.expressions.simplest import simplest
from leverarm.exercises.expressions.tree import (
    Letter,
    Named,
    Num,
    Tree,
    formula_text,
    product,
    replaced,
    walk,
    written_out,
)
from leverarm.exercises.feedback import cause_unknown
from leverarm.exercises.letters import scene
from leverarm.exercises.method import Method, letters_behind, method_for, words_of
from leverarm.exercises.mistakes import listed_mistakes, probes_of
from leverarm.exercises.number_reader import clipped
from leverarm.exercises.problem import (
    Mistake,
    Problem,
    ProblemKind,
    SolutionLine,
    Verdict,
    unclear,
    unread,
)
from leverarm.exercises.search import MOST_OF_A_FORMULA, TurnTable, WrongTurn
from leverarm.exercises.values import Values

MOST_SUSPECTS = 2
# Overhang as a multiple of the wheelbase, away from where a wrong lever gives the right answer.
MULTIPLES = tuple(
    Fraction(over, under)
    for over, under in (
        *((1, 4), (1, 3), (2, 5), (3, 4), (4, 5)),
        *((6, 5), (5, 4), (4, 3), (3, 2), (7, 5), (8, 5)),
    )
)


@dataclass(frozen=True, eq=False)
class FormulaKind(ProblemKind):
    """A kind of problem whose answer is a formula.

    asked, given    as for numbers; the formula may use the given letters
    at              (letter, other): this letter is given as a multiple of the other, which the
                    seed decides
    """

    asked: str
    given: tuple[str, ...]
    statement: str
    at: tuple[str, ...] = ()
    style = "symbol"

    @cached_property
    def method(self) -> Method:
        """How the answer follows from what is given."""
        return method_for(self.asked, self.given, letters_behind(self.given))

    @cached_property
    def wrong_turns(self) -> tuple[WrongTurn, ...]:
        """The wrong turns that are known for it, the likeliest first."""
        method = self.method
        numbers = [{name: at[name] for name in method.given} for at in probes_of(method)]
        listed = [
            WrongTurn(one.name, group.tree, 1.0, (), one.what, one.question)
            for group in listed_mistakes(method)
            for one in group.mistakes[:1]
        ]
        return TurnTable(
            method, lambda tree: tree, method.tree, listed, numbers, MOST_OF_A_FORMULA
        ).turns

    @cached_property
    def allowed(self) -> tuple[str, ...]:
        """Names of the letters that the answer may use."""
        return tuple(name for name in self.given if name not in self.at[:1])

    @cached_property
    def letters(self) -> dict[str, str]:
        """name -> printed letter."""
        return self.method.given_letters

    # Making a problem

    def made(self, seed: object, system: str | None, edition: int) -> Problem:
        """The problem of a seed; letters have no units, so the system is only a label."""
        stream = self.numbers_of(seed)
        multiple = stream.one_of(MULTIPLES) if self.at else None
        scenery = scene(stream)
        return self.problem(
            seed,
            system or "kg",
            self.statement.format(**scenery, multiple=self._multiple_text(multiple)),
            given={self.letters[name]: words_of(name) for name in self.allowed},
            answer=formula_text(_shortest(self, multiple), self.letters),
            drawn=multiple,
        )

    def _multiple_text(self, multiple: Fraction | None) -> str:
        """A multiple as it is typed: L/3, 2 × L, (3/5) × L."""
        if multiple is None:
            return ""
        other = self.at[1]
        if multiple.numerator == 1:
            return other if multiple.denominator == 1 else f"{other}/{multiple.denominator}"
        return f"{multiple} × {other}" if multiple.denominator == 1 else f"({multiple}) × {other}"

    def put_in(self, tree: Tree, multiple: Fraction | None) -> Tree:
        """A tree with every result written out, and the multiple in place of its letter."""
        tree = written_out(tree)
        if multiple is None:
            return tree
        letter, other = self.at
        top, bottom = (Num(multiple.numerator), Letter(other)), (Num(multiple.denominator),)
        return replaced(tree, {letter: product(top, bottom)})

    @cached_property
    def points(self) -> tuple[Mapping[str, Fraction], ...]:
        """Where formulas are compared."""
        return equivalence.points(self.allowed)

    # Checking an answer

    def check(
        self, problem: Problem, typed: str, tolerance: float | None = None, sympy: bool = True
    ) -> Verdict:
        """The Verdict on a typed formula."""
        try:
            trees = self._read(typed)
            profiles = [profile(tree, self.points) for tree in trees]
        except (Unreadable, TooBig) as sentence:
            return unread(sentence)
        texts = [formula_text(tree, self.letters) for tree in trees]
        if len(trees) > 1 and not equivalence.agree(*profiles):
            return unclear(
                " or ".join(texts),
                f"{clipped(typed, 40)} can be read as {texts[0]} or as {texts[1]}. "
                "Put parentheses or a times sign where you mean them.",
            )
        return self._judge(problem, trees[0], profiles[0], sympy)

    def _read(self, typed: str) -> tuple[Tree, ...]:
        """The readings of a typed formula; what stands before an equals sign is its name."""
        if len(typed) > MOST_TYPED:
            raise Unreadable(
                f"That is {len(typed)} characters long; up to {MOST_TYPED} are read. "
                "Type the formula alone."
            )
        printed = {self.letters[name]: name for name in self.allowed}
        return read_formula(typed.rsplit("=", 1)[-1], spellings(printed))

    def _judge(self, problem: Problem, tree: Tree, values: Profile, sympy: bool) -> Verdict:
        """Right, or wrong with its suspects."""
        shown = formula_text(tree, self.letters)
        if all(value is None for value in values):
            return unread(f"{shown} divides by zero. Check the parentheses.")
        right, right_values = _right(self, problem.drawn)
        found = equivalence.equivalent(values, right_values)
        if found.same:
            if sympy:
                found = equivalence.with_second_opinion(found, tree, right)
            return Verdict(
                True,
                shown,
                case="right",
                finding=f"{shown}: that is it.",
                remarks=(f"Compared with the derived formula {found.how}.",),
            )
        if _has_decimals(tree) and equivalence.nearly_agree(values, right_values):
            return unclear(
                shown,
                f"{shown} is the formula with a number rounded. "
                "Write that number exactly, as a fraction or a root.",
            )
        return self._wrong(problem, shown, values)

    def _wrong(self, problem: Problem, shown: str, values: Profile) -> Verdict:
        """The three parts of a reply to a wrong formula."""
        suspects = tuple(
            Mistake(
                turn.name,
                self._words(turn),
                turn.question or question_about(turn.name, parts=self._parts(turn)),
                turn.tree,
            )
            for turn in _turns_at(self, problem.drawn).get(_rounded(values), ())[:MOST_SUSPECTS]
        )
        rule = self.method.rule
        letters = ", ".join(self.letters[name] for name in self.allowed)
        goal = f"The question asks for {rule.words}, as a formula in {letters}."
        if suspects:
            what = list(dict.fromkeys(suspect.what for suspect in suspects))
            finding = f"{shown} {'is' if len(what) == 1 else 'can be'} {'; or '.join(what)}."
            question = suspects[0].question
        else:
            finding, question = cause_unknown(shown, problem.solution)
        return Verdict(False, shown, suspects, "wrong", goal, finding, question)

    def _words(self, turn: WrongTurn) -> str:
        """A wrong turn in words: what was changed, never the formula that was typed once more."""
        words = turn.words or CLASSES[turn.name].words
        return words.format(*map(self._part_words, turn.parts))

    def _parts(self, turn: WrongTurn) -> tuple[str, ...]:
        """The parts that a wrong turn is about, in letters."""
        return tuple(formula_text(simplest(part), self.letters) for part in turn.parts)

    def _part_words(self, part: Tree) -> str:
        if isinstance(part, (Letter, Named)):
            return words_of(part.name)
        if isinstance(part, Num):
            return f"the number {formula_text(part)}"
        return formula_text(simplest(part), self.letters)

    # Helping

    def hints(self, problem: Problem, step: int | None = None) -> tuple[str, ...]:
        """Four hints, one rung at a time."""
        first, rule = problem.solution[0], self.method.rule
        letters = ", ".join(f"{letter} for {words}" for letter, words in problem.given.items())
        return (
            solution.principle_question(rule),
            f"{solution.drawing_hint(self.given, rule.principle)} "
            f"Write the letters on it: {letters}.",
            f"Principle: {first.tag}. {first.words}",
            first.text,
        )

    def solution(self, problem: Problem) -> tuple[SolutionLine, ...]:
        """The worked solution, in letters."""
        return solution.solution_in_letters(
            self.method,
            problem,
            _shortest(self, problem.drawn) if self.at else None,
            self._multiple_text(problem.drawn),
        )


def _has_decimals(tree: Tree) -> bool:
    return any(
        isinstance(part, Num) and Fraction(part.value).denominator != 1 for part in walk(tree)
    )


@cache
def _right(kind: FormulaKind, multiple: Fraction | None) -> tuple[Tree, Profile]:
    """The right formula and its values at the points of a kind."""
    tree = kind.put_in(kind.method.tree, multiple)
    return tree, profile(tree, kind.points)


@cache
def _shortest(kind: FormulaKind, multiple: Fraction | None) -> Tree:
    """The right formula as short as it gets: a fraction of one letter where it is one."""
    tree, values = _right(kind, multiple)
    first = kind.allowed[0]
    ratios = {
        value / at[first] for value, at in zip(values, kind.points) if isinstance(value, Fraction)
    }
    if len(ratios) != 1:
        return tree
    ratio = ratios.pop()
    return product((Num(ratio.numerator), Letter(first)), (Num(ratio.denominator),))


@cache
def _turns_at(
    kind: FormulaKind, multiple: Fraction | None
) -> dict[tuple[str, ...], tuple[WrongTurn, ...]]:
    """The wrong turns of a kind by what they come to at its points, the likeliest first."""
    numbers = [{name: float(value) for name, value in at.items()} for at in kind.points]
    if multiple is not None:
        letter, other = kind.at
        numbers = [at | {letter: float(multiple) * at[other]} for at in numbers]
    values, found = Values(numbers), defaultdict(list)
    for turn in kind.wrong_turns:
        found[_rounded(values(turn.tree))].append(turn)
    return {key: tuple(turns) for key, turns in found.items()}


def _rounded(values: Iterable[float | Fraction | Decimal | None]) -> tuple[str, ...]:
    """A row of numbers that two ways of working out the same thing share."""
    return tuple("" if x is None or x != x else f"{float(x):.9g}" for x in values)
