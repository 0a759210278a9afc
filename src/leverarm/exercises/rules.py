"""What follows from what: each result of the lessons with the one function that computes it.

A rule names a result, the formula of the package it comes from, the letters that
go in, and the principle behind it.  A problem asks for one result and gives some
letters; the way between them is found by following the rules backwards.
"""

from dataclasses import dataclass

from leverarm import statics

PRINCIPLES = {
    "forces": "ΣF = 0",
    "front": "ΣM = 0 about the front",
    "rear": "ΣM = 0 about the rear",
    "definition": "definition",
    "units": "units",
}


@dataclass(frozen=True)
class Rule:
    """A result: its letter, its words, its kind of quantity, the function, its letters, principle and reason."""

    name: str
    shown: str
    words: str
    kind: str
    function: object
    args: tuple
    principle: str
    why: str


def together(*parts):
    """Weights, changes or readings added up."""
    return sum(parts)


def difference(after, before):
    """After minus before."""
    return after - before


def moment(weight, arm):
    """Moment of a weight about a pivot: weight times arm."""
    return weight * arm


def moment_about_rear(weight, overhang, wheelbase):
    """Moment of a hung weight about the rear axle: its arm reaches over the whole wheelbase."""
    return moment(weight, overhang + wheelbase)


def behind_front(front, rear, wheelbase):
    """Centre of gravity as a distance behind the front axle."""
    return -statics.centre_of_gravity(front, rear, wheelbase)


def front_of_one(weight, behind, wheelbase):
    """Front reaction to one weight behind the front axle."""
    return statics.front_gain(weight, -behind, wheelbase)


def rear_of_one(weight, behind, wheelbase):
    """Rear reaction to one weight behind the front axle."""
    return statics.rear_change(weight, -behind, wheelbase)


def _rule(name, shown, words, kind, function, args, principle, why):
    return Rule(name, shown, words, kind, function, tuple(args.split()), principle, why)


_BOTH = "The ground carries all of the weight, so both readings together are the weight."
RULES = {rule.name: rule for rule in (
    _rule("T0", "T", "the weight of the machine", "weight", together, "F0 R0", "forces", _BOTH),
    _rule("pF0", "p", "the front share", "share", statics.share, "F0 T0", "definition",
          "A share is a part of the whole, in per cent: here of both readings together."),
    _rule("x", "x", "the distance of the centre of gravity behind the front axle", "length", behind_front, "F0 R0 L",
          "front", "About the front axle, the rear reading at the wheelbase balances the whole weight at x."),
    _rule("Mf", "M", "the moment about the front axle", "moment", moment, "W a", "definition",
          "A moment is a weight times its arm, and the arm is measured from the pivot."),
    _rule("Mr", "M", "the moment about the rear axle", "moment", moment_about_rear, "W a L", "definition",
          "The arm is measured from the pivot: from the rear axle it is the wheelbase and the overhang together."),
    _rule("F", "F", "the front reading", "weight", front_of_one, "T x0 L", "rear",
          "About the rear axle only the front reading and the weight have an arm."),
    _rule("R", "R", "the rear reading", "weight", rear_of_one, "T x0 L", "front",
          "About the front axle only the rear reading and the weight have an arm."),
    _rule("Jl", "A", "what the jug adds to the left scale", "weight", front_of_one, "J d S", "rear",
          "About the right scale only the left scale and the jug have an arm."),
    _rule("Jr", "B", "what the jug adds to the right scale", "weight", rear_of_one, "J d S", "front",
          "About the left scale only the right scale and the jug have an arm."),
    _rule("Ph", "H", "half of the plank", "weight", lambda P: P / 2, "P", "definition",
          "An even plank rests half on each end."),
    _rule("A", "A", "the left scale", "weight", together, "Ph Jl", "forces", "The scale carries its half and its part of the jug."),
    _rule("B", "B", "the right scale", "weight", together, "Ph Jr", "forces", "The scale carries its half and its part of the jug."),
    _rule("dF", "ΔF", "the change at the front", "weight", statics.front_gain, "W a L", "rear",
          "About the rear axle the front reading has the arm L, the hung weight the arm L + a."),
    _rule("dR", "ΔR", "the change at the rear", "weight", statics.rear_change, "W a L", "front",
          "About the front axle the rear reading has the arm L, the hung weight the arm a, the other way round."),
    _rule("dT", "ΔT", "the change of the whole machine", "weight", statics.hung_weight, "dF dR", "forces",
          "Both changes together, each with its sign."),
    _rule("k", "k", "the factor", "number", statics.amplification, "a L", "rear",
          "The factor is what the front gains for each kilogram that is hung on."),
    _rule("ak", "a", "the overhang", "length", statics.overhang_for, "k L", "rear",
          "The factor is 1 + a/L; solve it for a."),
    _rule("F1", "F", "the front reading after", "weight", together, "F0 dF", "definition", "After is before plus the change."),
    _rule("R1", "R", "the rear reading after", "weight", together, "R0 dR", "definition", "After is before plus the change."),
    _rule("T1", "T", "the weight after", "weight", together, "F1 R1", "forces", _BOTH),
    _rule("pdF", "p", "the change at the front in per cent", "share", statics.share, "dF F0", "definition",
          "Per cent of what the front axle carried before."),
    _rule("pF1", "p", "the front share after", "share", statics.share, "F1 T1", "definition",
          "The new front reading as a part of the new total."),
    _rule("dF1", "ΔF1", "what the bucket does to the front", "weight", statics.front_gain, "W1 a1 L", "rear",
          "Each piece has its own arm."),
    _rule("dF2", "ΔF2", "what the arms do to the front", "weight", statics.front_gain, "W2 a2 L", "rear",
          "Each piece has its own arm."),
    _rule("dF3", "ΔF3", "what the frame does to the front", "weight", statics.front_gain, "W3 a3 L", "rear",
          "Each piece has its own arm."),
    _rule("dF12", "ΔF", "the change at the front", "weight", together, "dF1 dF2", "forces", "The pieces add up."),
    _rule("dF123", "ΔF", "the change at the front", "weight", together, "dF1 dF2 dF3", "forces", "The pieces add up."),
    _rule("dFr", "ΔF", "the change at the front", "weight", difference, "F1 F0", "definition", "After minus before, with its sign."),
    _rule("dRr", "ΔR", "the change at the rear", "weight", difference, "R1 R0", "definition", "After minus before, with its sign."),
    _rule("Wr", "W", "the hung weight", "weight", statics.hung_weight, "dFr dRr", "forces",
          "What the ground carries more is what was hung on: both changes, each with its sign."),
    _rule("ar", "a", "the overhang", "length", statics.overhang_of, "dFr dRr L", "front",
          "About the front axle: the hung weight times its overhang is what the rear lost times the wheelbase."),
    _rule("Wl", "W", "the weight that just lifts the rear", "weight", statics.lifting_weight, "R0 a L", "front",
          "At the limit the rear reads nothing: the load's moment about the front axle equals that of the rear reading."),
)}
