"""A working as a small tree: the shape of a formula, taken from the code that computes it.

The formulas of the package are plain arithmetic, so they also run on trees:
``statics.front_gain`` called with letters gives back the tree of W (1 + a/L).
From one tree come the answer, the worked solution and the wrong turns, and no
formula is typed a second time.

>>> from leverarm import statics
>>> gain = traced(statics.front_gain, Letter("W"), Letter("a"), Letter("L"))
>>> letters_of(gain)
('W', 'a', 'L')
"""

from dataclasses import dataclass


class Tree:
    """A node; arithmetic on nodes builds bigger ones."""

    __slots__ = ()

    def __add__(self, other):
        return total(self, node(other))

    def __radd__(self, other):
        return total(node(other), self)

    def __sub__(self, other):
        return total(self, negative(node(other)))

    def __rsub__(self, other):
        return total(node(other), negative(self))

    def __mul__(self, other):
        return product((self, node(other)))

    def __rmul__(self, other):
        return product((node(other), self))

    def __truediv__(self, other):
        return product((self,), (node(other),))

    def __rtruediv__(self, other):
        return product((node(other),), (self,))

    def __pow__(self, other):
        return power(self, node(other))

    def __neg__(self):
        return negative(self)

    def __pos__(self):
        return self


@dataclass(frozen=True, slots=True)
class Num(Tree):
    """A constant: an int, Fraction or float."""

    value: object


@dataclass(frozen=True, slots=True)
class Letter(Tree):
    """A given quantity, by name."""

    name: str


@dataclass(frozen=True, slots=True)
class Named(Tree):
    """An intermediate result with a name of its own; its value is that of ``of``."""

    name: str
    of: Tree


@dataclass(frozen=True, slots=True)
class Neg(Tree):
    """Minus a node."""

    of: Tree


@dataclass(frozen=True, slots=True)
class Sum(Tree):
    """Two terms or more; a subtracted term is a Neg."""

    terms: tuple


@dataclass(frozen=True, slots=True)
class Prod(Tree):
    """Factors over factors."""

    over: tuple
    under: tuple = ()


@dataclass(frozen=True, slots=True)
class Power(Tree):
    """A base to a numeric exponent; exponent one half is a square root."""

    base: Tree
    exponent: object


@dataclass(frozen=True, slots=True)
class Rounded(Tree):
    """A node cut to so many significant digits: what early rounding does."""

    of: Tree
    digits: int


@dataclass(frozen=True, slots=True)
class Call(Tree):
    """A formula that is no plain arithmetic (an angle, say), called on its arguments as it stands."""

    function: object
    args: tuple


ONE, ZERO = Num(1), Num(0)


def node(value):
    """A number as a node; a node as it is."""
    if isinstance(value, Tree):
        return value
    return Num(float(value) if isinstance(value, float) else value)


def total(*terms):
    """The sum of nodes, flat, without zeros and without what cancels as it stands."""
    flat = []
    for term in (
        t for term in terms for t in (term.terms if isinstance(term, Sum) else (term,)) if t != ZERO
    ):
        if negative(term) in flat:
            flat.remove(negative(term))
        else:
            flat.append(term)
    return Sum(tuple(flat)) if len(flat) > 1 else flat[0] if flat else ZERO


def negative(tree):
    """Minus a node; two minus signs cancel."""
    if isinstance(tree, Neg):
        return tree.of
    if isinstance(tree, Num):
        return Num(-tree.value)
    return Neg(tree)


def product(over, under=()):
    """The product of ``over`` divided by ``under``, flat, its sign in front, without ones."""
    tops, bottoms, minus = [], [], False
    for factor, here, there in [(f, tops, bottoms) for f in over] + [
        (f, bottoms, tops) for f in under
    ]:
        if isinstance(factor, Neg):
            factor, minus = factor.of, not minus
        if isinstance(factor, Prod):
            here.extend(part for part in factor.over if part != ONE)
            there.extend(factor.under)
            continue
        if isinstance(factor, Num) and factor.value < 0:
            factor, minus = Num(-factor.value), not minus
        if factor != ONE:
            here.append(factor)
    if ZERO in tops:
        return ZERO
    made = (
        tops[0] if len(tops) == 1 and not bottoms else Prod(tuple(tops) or (ONE,), tuple(bottoms))
    )
    made = ONE if not tops and not bottoms else made
    return negative(made) if minus else made


def power(base, exponent):
    """A base to a constant exponent."""
    if not isinstance(exponent, Num):
        raise TypeError("an exponent is a number")
    return base if exponent.value == 1 else Power(base, exponent.value)


def traced(function, *args):
    """The tree of a formula of the package; a formula that trees cannot pass through stays a Call."""
    try:
        return node(function(*args))
    except (TypeError, AttributeError):
        return Call(function, tuple(args))


def children(tree):
    """The nodes directly under a node."""
    if isinstance(tree, (Named, Neg, Rounded)):
        return (tree.of,)
    if isinstance(tree, Sum):
        return tree.terms
    if isinstance(tree, Prod):
        return tree.over + tree.under
    if isinstance(tree, Power):
        return (tree.base,)
    return tree.args if isinstance(tree, Call) else ()


def rebuilt(tree, parts):
    """The same kind of node over other children; an intermediate result that changed loses nothing but its text."""
    if isinstance(tree, Named):
        return Named(tree.name, parts[0])
    if isinstance(tree, Neg):
        return negative(parts[0])
    if isinstance(tree, Rounded):
        return Rounded(parts[0], tree.digits)
    if isinstance(tree, Sum):
        return total(*parts)
    if isinstance(tree, Prod):
        return product(parts[: len(tree.over)], parts[len(tree.over) :])
    if isinstance(tree, Power):
        return Power(parts[0], tree.exponent)
    return Call(tree.function, tuple(parts)) if isinstance(tree, Call) else tree


def walk(tree):
    """A node and all below it."""
    yield tree
    for child in children(tree):
        yield from walk(child)


def letters_of(tree):
    """The names of the given quantities a tree uses, in order of appearance."""
    return tuple(dict.fromkeys(t.name for t in walk(tree) if isinstance(t, Letter)))


def replaced(tree, named):
    """The tree with other nodes for some of its letters."""
    if isinstance(tree, Letter):
        return named.get(tree.name, tree)
    parts = children(tree)
    return rebuilt(tree, tuple(replaced(part, named) for part in parts)) if parts else tree
