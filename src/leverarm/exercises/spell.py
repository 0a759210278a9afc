"""A tree as a line of text that a reader can follow, and that our own grammar can read back.

>>> from leverarm import statics
>>> from leverarm.exercises.trees import traced
>>> text(traced(statics.front_gain, Letter("W"), Letter("a"), Letter("L")))
'W × (1 + a/L)'
"""

from leverarm.exercises.trees import (
    Letter,
    Named,
    Neg,
    Num,
    Power,
    Prod,
    Rounded,
    Sum,
    children,
    negative,
    rebuilt,
)

_TIGHT = {Sum: 1, Neg: 1, Prod: 2, Power: 3}


def text(tree, names=None, inner=False):
    """The tree as a line a reader can follow, and our own grammar can read back.

    names   name -> what to print for it: a letter, or a number for a worked line
    inner   True opens intermediate results into what they are made of
    """
    if inner:
        return text(opened(tree), names)
    say = lambda t: text(t, names)
    if isinstance(tree, (Letter, Named)):
        return (names or {}).get(tree.name, tree.name)
    if isinstance(tree, Num):
        return _number(tree.value)
    if isinstance(tree, Neg):
        return "−" + _tied(tree.of, 2, say)
    if isinstance(tree, Sum):
        return _tied(tree.terms[0], 1, say) + "".join(
            f" − {_tied(negative(t), 2, say)}" if _minus(t) else f" + {_tied(t, 2, say)}"
            for t in tree.terms[1:]
        )
    if isinstance(tree, Prod):
        top = " × ".join(
            _tied(f, 2, say) if not i else _tied(f, 3, say) for i, f in enumerate(tree.over)
        )
        bottom = " × ".join(_tied(f, 3, say) for f in tree.under)
        return top + (f"/({bottom})" if len(tree.under) > 1 else f"/{bottom}" if bottom else "")
    if isinstance(tree, Power):
        if tree.exponent == 0.5:
            return f"sqrt({say(tree.base)})"
        return f"{_tied(tree.base, 4, say)}^{_number(tree.exponent)}"
    if isinstance(tree, Rounded):
        return say(tree.of)
    args = [say(arg) for arg in tree.args]
    own = getattr(tree.function, "say", None)
    return own(*args) if own else f"{tree.function.__name__}({', '.join(args)})"


def opened(tree):
    """The tree with every intermediate result written out."""
    if isinstance(tree, Named):
        return opened(tree.of)
    parts = children(tree)
    return rebuilt(tree, tuple(opened(part) for part in parts)) if parts else tree


def _minus(tree):
    """Whether a term is subtracted."""
    return isinstance(tree, Neg) or (isinstance(tree, Num) and tree.value < 0)


def _tied(tree, tightness, say):
    """A part in brackets where it binds more loosely than its surroundings; a minus never follows a sign bare."""
    opened = tree.of if isinstance(tree, (Rounded,)) else tree
    said = say(opened)
    binds = 2 if isinstance(opened, Num) and "/" in said else _TIGHT.get(type(opened), 4)
    loose = binds < tightness or (tightness > 1 and said.startswith(("−", "-")))
    if isinstance(opened, Named) and any(mark in said for mark in " /^"):
        loose = tightness > 1
    return f"({said})" if loose else said


def _number(number):
    """A constant in print: 1/3 as a fraction, 9.80665 as it is, with a true minus."""
    shown = f"{number:.10g}" if isinstance(number, float) else str(number)
    return shown.replace("-", "−")
