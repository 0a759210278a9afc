"""A small grammar for expressions that people type: numbers, letters, + - * / ^, brackets, sqrt.

    sum      = [sign] product { (+ | -) product }
    product  = implied { (* | /) implied }
    implied  = power { power }                    2W, W(1 + a/L), (L+a)(L-a)
    power    = atom [ ^ exponent ]                binds before any product
    atom     = number | letter | ( sum ) | sqrt ( sum )

What is typed becomes a tree or a plain sentence, never code.  Length, depth and
exponents are bounded, so nothing typed can take long.

>>> from leverarm.exercises.expressions.tree import formula_text
>>> [formula_text(t) for t in read_formula("W(1 + a/L)", ["W", "a", "L"])]
['W × (1 + a/L)']
>>> [formula_text(t) for t in read_formula("a/2L", ["a", "L"])]
['a/(2 × L)', 'a × L/2']
"""

import re
from collections.abc import Iterable, Mapping
from fractions import Fraction
from typing import Any, TypeAlias

from leverarm.exercises.expressions.tree import (
    Letter,
    Num,
    Power,
    Tree,
    negative,
    product,
    total,
)
from leverarm.numerals import number_readings, plain

MOST_TYPED = 200
MOST_PARTS = 120
MOST_DEPTH = 20
MOST_EXPONENT = 6
_ALIASES = {"delta": "Δ", "Delta": "Δ", "DELTA": "Δ"}
_OPEN_MARKS, _CLOSE_MARKS = tuple("([{"), tuple(")]}")
# 4/3 W, with its space, is a fraction before a letter; 4/3W leaves two readings.
_FRACTION = re.compile(r"([0-9]{1,6})/([1-9][0-9]{0,5}) +(?=[^\W\d_]|[(\[{])")
# An index below the line, as it is typed: F_0, R_{0}, F_(1).
_INDEX = re.compile(r"(?<=[^\W\d_])_ ?(?:\{ ?(\w+) ?\}|\( ?(\w+) ?\)|([0-9]+)(?!\w))")
# The few commands of typeset formulas that a student may copy.
_TYPESET = (
    (re.compile(r"\\[dt]?frac *\{([^{}]*)\} *\{([^{}]*)\}"), r"((\1)/(\2))"),
    (re.compile(r"\\(?:cdot|times) *"), "*"),
    (re.compile(r"\\(?:left|right|[,;!]) *"), ""),
    (re.compile(r"\\Delta *"), "Δ"),
    (re.compile(r"\\sqrt"), "sqrt"),
)
_SUPERSCRIPTS = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻", "0123456789-")


# ("number", Fraction), ("letter", name), or a mark and again the mark.
Token: TypeAlias = tuple[str, Any]
_END: Token = ("", None)


class Unreadable(ValueError):
    """One plain sentence about typed text that cannot be read as an expression of the problem."""


def read_formula(typed: str, letters: Iterable[str] | Mapping[str, str]) -> tuple[Tree, ...]:
    """Every tree a typed expression can mean: one, or two where a/2L leaves it open.

    letters     the letters that it may use; or a dict from spellings to names
    Raises Unreadable.
    """
    if len(typed) > MOST_TYPED:
        raise Unreadable(
            f"That is {len(typed)} characters long; up to {MOST_TYPED} are read. "
            "Type the formula alone."
        )
    spelled = dict(letters) if isinstance(letters, Mapping) else {name: name for name in letters}
    tokens = _tokens(_on_one_level(typed), spelled)
    if not tokens:
        raise Unreadable("Nothing was typed. Type a formula, such as 2*W.")
    if len(tokens) > MOST_PARTS:
        raise Unreadable(
            f"That formula has {len(tokens)} parts; up to {MOST_PARTS} are read. "
            "Write it more simply."
        )
    return tuple(dict.fromkeys(_Reader(tokens, together).whole() for together in (True, False)))


def spellings(shown: Mapping[str, str]) -> dict[str, str]:
    """Every spelling that may be typed, from printed letter -> name: ΔF is also dF.

    >>> spellings({"ΔF": "gain"})
    {'ΔF': 'gain', 'dF': 'gain'}
    """
    return {
        spelling: name
        for letter, name in shown.items()
        for spelling in ([letter, "d" + letter[1:]] if letter.startswith("Δ") else [letter])
    }


def _on_one_level(typed: str) -> str:
    """Typed text with raised digits as ^digits, the root sign as sqrt, look-alikes made plain.

    An index is set on the line, F_0 as F0; what ends a sentence is left off.

    >>> _on_one_level("R_{0}·L²/(F_0 + R₀)."), _on_one_level(r"$W(1+\\frac{a}{L})$")
    ('R0*L^2/(F0 + R0)', 'W(1+((a)/(L)))')
    """
    typed = typed.strip(" $").rstrip(" .;,!?")
    for command, meaning in _TYPESET if "\\" in typed else ():
        typed = command.sub(meaning, typed)
    typed = _INDEX.sub(lambda found: next(filter(None, found.groups())), typed)
    out: list[str] = []
    for char in typed:
        raised = char.translate(_SUPERSCRIPTS)
        if raised != char and not (out and out[-1].startswith("^")):
            out.append("^" + raised)
        elif raised != char:
            out[-1] += raised
        else:
            out.append(char)
    text = plain("".join(out).replace("√", " sqrt ").replace("∆", "Δ"))
    return text.replace("**", "^").replace("÷", "/")


def _tokens(text: str, spelled: Mapping[str, str]) -> list[Token]:
    """The text as tokens."""
    names = sorted(spelled, key=len, reverse=True)
    folded: dict[str, list[str]] = {}
    for name in names:
        folded.setdefault(name.lower(), []).append(name)
    tokens: list[Token] = []
    at = 0
    while at < len(text):
        char = text[at]
        if char == " ":
            at += 1
        elif char in "+-*/^" or char in _OPEN_MARKS + _CLOSE_MARKS:
            tokens.append((char, char))
            at += 1
        elif (part := _FRACTION.match(text, at)) and (not tokens or tokens[-1][0] not in "/^"):
            tokens.append(("number", Fraction(int(part[1]), int(part[2]))))
            at = part.end()
        elif char.isdigit() or char in ".,":
            end = at
            while end < len(text) and (text[end].isdigit() or text[end] in ".,"):
                end += 1
            tokens.append(("number", _number(text[at:end])))
            at = end
        elif text[at : at + 4].lower() == "sqrt":
            tokens.append(("sqrt", "sqrt"))
            at += 4
        else:
            token, at = _letter(text, at, names, folded, spelled)
            tokens.append(token)
    return tokens


def _letter(
    text: str,
    at: int,
    names: list[str],
    folded: Mapping[str, list[str]],
    spelled: Mapping[str, str],
) -> tuple[Token, int]:
    """The letter at a place and where it ends; the longest first, exact case before any case."""
    for alias, meant in _ALIASES.items():
        if text.startswith(alias, at):
            rest = text[at + len(alias) :].lstrip(" _")
            found, end = _letter(meant + rest, 0, names, folded, spelled)
            return found, len(text) - len(rest) + end - len(meant)
    for name in names:
        if text.startswith(name, at):
            return ("letter", spelled[name]), at + len(name)
    for name in names:
        if text[at : at + len(name)].lower() == name.lower() and len(folded[name.lower()]) == 1:
            return ("letter", spelled[name]), at + len(name)
    if text[at] in "xX" and at:
        return ("*", "*"), at + 1
    firsts: dict[str, str] = {}
    for spelling, name in spelled.items():
        firsts.setdefault(name, spelling)
    allowed = ", ".join(firsts.values()) or "numbers alone"
    # The whole word, also where its first letters are letters of the problem.
    begun = re.findall(r"[^\W\d]*$", text[:at])[0]
    word = begun + re.findall(r"\w+|.", text[at:])[0]
    raise Unreadable(f"{_shown(word)} is not a letter of this problem; its letters are {allowed}.")


def _shown(text: str, most: int = 12) -> str:
    """A piece of what was typed, short and on one line."""
    word = "".join(c if c.isprintable() else "?" for c in text.split(" ")[0][: most + 1])
    return word if len(word) <= most else word[:most] + "..."


def _number(text: str) -> Fraction:
    """A number as an exact fraction; a comma with two readings is refused, never guessed."""
    readings = number_readings(text)
    if not readings:
        raise Unreadable(f"{_shown(text)} is not a number.")
    if len(readings) > 1:
        raise Unreadable(
            f"{text} can mean {readings[0]:g} or {readings[1]:g}. "
            "Type it without the comma, or with a decimal point."
        )
    return Fraction(repr(readings[0]))


class _Reader:
    """One pass over the tokens; ``together`` lets an implied product bind before a division."""

    def __init__(self, tokens: list[Token], together: bool) -> None:
        self.tokens, self.at, self.depth, self.together = tokens, 0, 0, together

    def next(self) -> str:
        """The kind of the next token; "" at the end."""
        return self.tokens[self.at][0] if self.at < len(self.tokens) else ""

    def take(self) -> Token:
        self.at += 1
        return self.tokens[self.at - 1]

    def passed(self, mark: str) -> bool:
        """Whether the next token is this mark; it is taken then."""
        return self.next() == mark and bool(self.take())

    def whole(self) -> Tree:
        tree = self.sum()
        if self.next():
            raise Unreadable(f"A {self.next()} stands where none belongs. Check the parentheses.")
        return tree

    def sum(self) -> Tree:
        self.depth += 1
        if self.depth > MOST_DEPTH:
            raise Unreadable(
                f"Parentheses are nested more than {MOST_DEPTH} deep. Write it more simply."
            )
        terms = [self.signed()]
        while self.next() in ("+", "-"):
            terms.append(self.signed())
        self.depth -= 1
        return total(*terms)

    def signed(self) -> Tree:
        minus = False
        while self.next() in ("+", "-"):
            minus ^= self.take()[0] == "-"
        tree = self.product()
        return negative(tree) if minus else tree

    def product(self) -> Tree:
        tree = self.implied()
        while self.next() in ("*", "/"):
            over = self.take()[0] == "*"
            minus = self.passed("-")
            factor = self.implied() if self.together or over else self.power()
            factor = negative(factor) if minus else factor
            tree = product((tree, factor)) if over else product((tree,), (factor,))
            if not self.together:
                tree = self.joined(tree)
        return tree

    def implied(self) -> Tree:
        return self.joined(self.power())

    def joined(self, tree: Tree) -> Tree:
        while self.next() in ("number", "letter", "sqrt", *_OPEN_MARKS):
            if self.next() == "number":
                raise Unreadable(
                    "A number stands right behind another part. "
                    f"Put a sign between, such as * before {self.take()[1]}."
                )
            tree = product((tree, self.power()))
        return tree

    def power(self) -> Tree:
        base = self.atom()
        if self.next() != "^":
            return base
        self.take()
        return Power(base, self.exponent())

    def exponent(self) -> Fraction:
        """A whole number or one half, perhaps in brackets, perhaps as a fraction."""
        minus = self.passed("-")
        bracket = self.next() in _OPEN_MARKS and bool(self.take())
        minus ^= bracket and self.passed("-")
        number = self.take()[1] if self.next() == "number" else None
        if bracket and self.passed("/"):
            under = self.take()[1] if self.next() == "number" else None
            number = number / under if number is not None and under else None
        if bracket and not (self.next() in _CLOSE_MARKS and self.take()):
            number = None
        if (
            number is None
            or self.next() == "^"
            or number > MOST_EXPONENT
            or number.denominator not in (1, 2)
        ):
            raise Unreadable(
                f"An exponent here is a whole number up to {MOST_EXPONENT}, or one half."
            )
        return -number if minus else number

    def atom(self) -> Tree:
        kind, value = self.take() if self.next() else _END
        if kind == "number":
            return Num(int(value) if value.denominator == 1 else value)
        if kind == "letter":
            return Letter(value)
        if kind == "sqrt":
            return Power(self.power_inside(), 0.5)
        if kind in _OPEN_MARKS:
            return self.bracket()
        raise Unreadable(
            "Something is missing"
            + (f" before the {kind}." if kind else " at the end.")
            + " Each sign needs something on both sides."
        )

    def power_inside(self) -> Tree:
        self.depth += 1
        if self.depth > MOST_DEPTH:
            raise Unreadable(f"Roots are nested more than {MOST_DEPTH} deep. Write it more simply.")
        tree = self.atom()
        self.depth -= 1
        return tree

    def bracket(self) -> Tree:
        tree = self.sum()
        if self.next() not in _CLOSE_MARKS:
            raise Unreadable("A parenthesis is opened and not closed.")
        self.take()
        return tree
