"""A formula as a page shows it: fractions one over the other, letters with their subscripts.

The text is what :func:`leverarm.exercises.expressions.tree.formula_text` writes.  A reader who
hears the page hears "over", "square root of" and "to the power" where others see them.  Its rules
are those of ``scene/formula.css``.

>>> typeset("T0")
'<i>T</i><sub>0</sub>'
"""

import re
from html import escape

from leverarm.exercises.problem import Problem, SolutionLine

_PARTS = re.compile(
    r"(?P<number>\d[\d,]*(?:\.\d+)?)"
    r"|(?P<name>[^\W\d_]+(?:_[^\W_]+|\d+)?)"
    r"|(?P<space>\s+)"
    r"|(?P<mark>.)",
    re.DOTALL,
)
_NAME = re.compile(r"([^\W\d_]+?)(?:_([^\W_]+)|(\d+))?")
# A letter that leans, alone or behind a Δ; any longer name is a word, and stands upright.
_LETTER = re.compile(r"(Δ?[^\W\d_])([a-z]?)")


def _heard(words: str) -> str:
    """What is heard and not seen."""
    return f'<span class="lv-heard"> {words} </span>'


def letter(name: str) -> str:
    """A letter as it is printed: ΔF1 is ΔF with a small 1.

    >>> letter("u_W"), letter("Cf"), letter("lead")
    ('<i>u</i><sub>W</sub>', '<i>C</i><sub>f</sub>', 'lead')
    """
    found = _NAME.fullmatch(name)
    if found is None:
        return escape(name)
    base, small = found[1], found[2] or found[3]
    if leans := _LETTER.fullmatch(base):
        shown, small = f"<i>{escape(leans[1])}</i>", leans[2] + (small or "")
    else:
        shown = escape(base)
    return f"{shown}<sub>{escape(small)}</sub>" if small else shown


def plain_letters(text: str) -> str:
    """A letter or a formula where only text can stand: small digits, no underscore.

    >>> plain_letters("W1 × u_W/12"), plain_letters("n_in")
    ('W₁ × uW/12', 'n in')
    """
    return re.sub(r"[^\W\d_]+(?:_[^\W_]+|\d+)", lambda found: _plain(found[0]), text)


def _plain(name: str) -> str:
    base, _, small = name.partition("_")
    if small:
        return base + (small if len(small) == 1 else f" {small}")
    return re.sub(r"\d", lambda digit: "₀₁₂₃₄₅₆₇₈₉"[int(digit[0])], base)


def typeset(text: str) -> str:
    """A formula, or a number with its unit, as HTML."""
    parts = [(found.lastgroup or "", found[0]) for found in _PARTS.finditer(text)]
    return _Writer(parts).whole()


def solution_line(problem: Problem, line: SolutionLine) -> str:
    """A line of a problem's solution: formulas typeset, anything else as its text.

    Of a formula only the result, a number with its unit, stays as it is.
    """
    if problem.style not in ("number", "symbol"):
        return escape(line.text)
    if line.equation:
        equations = (f"{line.left} = {line.letters}", line.numbers)
        shown = "<br>".join(typeset(one) for one in equations if one)
    else:
        parts = [typeset(part) for part in (line.left, line.letters, line.numbers) if part]
        parts.append(_in_one(line.result) if line.kind else typeset(line.result))
        shown = " = ".join(dict.fromkeys(parts))
    return f'<span class="lv-math">{shown}</span>'


# A root sign as high as what stands under its bar; the letter √ would stay small beside a fraction.
_RADICAL = (
    '<span class="lv-radical"><svg viewBox="0 0 10 20" preserveAspectRatio="none" '
    'aria-hidden="true"><path d="M0 13L2 12L4.6 19.4L10 0" fill="none" stroke="currentColor" '
    'stroke-width="1.3" vector-effect="non-scaling-stroke"/></svg></span>'
)


def _in_one(result: str) -> str:
    """A number with its unit, never on two lines."""
    return f'<span class="lv-result">{escape(result)}</span>'


class _Writer:
    """Reads the parts of a formula from left to right and writes them."""

    def __init__(self, parts: list[tuple[str, str]]) -> None:
        self.parts, self.at = parts, 0

    @property
    def _next(self) -> str:
        return self.parts[self.at][1] if self.at < len(self.parts) else ""

    def whole(self) -> str:
        """Everything that is left."""
        out = ""
        while self.at < len(self.parts):
            out += self._product()
            if self._next in (")", ",", ":"):
                out += escape(self._take())
        return out

    def _take(self) -> str:
        self.at += 1
        return self.parts[self.at - 1][1]

    def _sum(self) -> str:
        """Up to the bracket that closes."""
        out = ""
        while self._next and self._next != ")":
            out += self._product()
        return out

    def _product(self) -> str:
        """Factors up to a sign, a comma or a bracket, with what stands under them."""
        out = ""
        while self._next and self._next not in ("+", "−", "=", ",", ":", ")", ";"):
            if self._next == "/":
                self._take()
                out = _fraction(out, self._factor(bare=True))
            elif self._next.isspace():
                out += self._take()
            else:
                out += self._factor()
        while self._next and self._next in ("+", "−", "=", ",", ":", ";"):
            out += escape(self._take())
        return out

    def _factor(self, bare: bool = False) -> str:
        """A number, a letter, or what stands in brackets; bare leaves these brackets out."""
        kind, text = self.parts[self.at]
        self._take()
        if text == "(":
            inside = self._sum()
            if self._next == ")":
                self._take()
            made = inside if bare else f"({inside})"
        elif text == "sqrt" and self._next == "(":
            under = f'<span class="lv-root">{self._factor(True)}</span>'
            made = f'{_heard("square root of")}<span class="lv-sqrt">{_RADICAL}{under}</span>'
        elif kind == "name":
            made = letter(text)
        else:
            made = escape(text)
        if self._next == "^":
            self._take()
            made += f"{_heard('to the power')}<sup>{self._factor(True)}</sup>"
        return made


def _fraction(over: str, under: str) -> str:
    """One over the other."""
    shown = over.strip()
    lead = over[: len(over) - len(over.lstrip())]
    if shown.startswith("(") and shown.endswith(")") and _one_pair(shown):
        shown = shown[1:-1]
    return (
        f'{lead}<span class="lv-frac"><span>{shown}</span>{_heard("over")}'
        f"<span>{under}</span></span>"
    )


def _one_pair(text: str) -> bool:
    """Whether the first bracket closes only at the end."""
    depth = 0
    for at, mark in enumerate(text):
        depth += (mark == "(") - (mark == ")")
        if depth == 0:
            return at == len(text) - 1
    return False
