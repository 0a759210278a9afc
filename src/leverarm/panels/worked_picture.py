"""The picture beside a worked example: what its letters are, drawn to scale."""

from leverarm.exercises.numbers import NumberKind
from leverarm.exercises.problem import Problem
from leverarm.exercises.typeset import plain_letters
from leverarm.exercises.worked import Known, known_letters
from leverarm.scene.shapes import Scene
from leverarm.scene.sketch import (
    SketchLength,
    WeightArrow,
    lever_sketch,
    readings_sketch,
    slope_sketch,
    tire_sketch,
    wheels_sketch,
)

# Weights ahead of the front axle and their overhangs; behind the rear axle and their distances.
_AHEAD = (("W", "a"), ("W", "a_in"), ("W", "a_ft"), ("W", "a_mm"))
_PIECES = (("W1", "a1"), ("W2", "a2"), ("W3", "a3"))
_BEHIND = (("B", "b"), ("Bm", "bm"))
# What is drawn by a letter that is given: the first that fits.
_SKETCHES = (
    ("A N I K l v q Q0 Q1 z", tire_sketch, "A tire stands on its contact patch"),
    ("Cf Cr nt n1 n0 nr e e0 D turns_drive_in O", wheels_sketch, "A front and a rear wheel"),
    ("u U h2 r1", readings_sketch, "A reading as a dot with a bar to each side"),
    ("j G t y o", slope_sketch, "A machine on a slope"),
)
# Lengths where a problem gives none: the picture is then not to scale, and says so.
_USUAL = {"L": 1.65, "a": 1.1, "a1": 1.2, "a2": 0.5, "a3": 0.3, "i": 0.7, "b": 0.9, "x0": 0.8}


def example_picture(problem: Problem) -> Scene:
    """The Scene of a worked example."""
    known = known_letters(problem)
    told = [f"{plain_letters(letter)} {value}".strip() for letter, _, value in known]
    kind = problem.source
    given = kind.given if isinstance(kind, NumberKind) else tuple(letter for letter, _, _ in known)
    for letters, draw, words in _SKETCHES:
        if set(given) & set(letters.split()):
            return draw(told, f"{words}. {_in_words(known)}")
    return _lever(problem, dict(zip(given, told, strict=True)), known)


def _in_words(known: tuple[Known, ...]) -> str:
    """Every letter with what it stands for, for a reader who cannot see the picture."""
    return " ".join(
        f"{plain_letters(letter)}: {words}, {value}.".replace(", .", ".")
        for letter, words, value in known
    )


def _lever(problem: Problem, told: dict[str, str], known: tuple[Known, ...]) -> Scene:
    """A machine or a plank as a line on its two supports."""
    numbers = getattr(problem.drawn, "values", {})

    def at(letter: str) -> float:
        return float(numbers.get(letter, _USUAL.get(letter, 0.6)))

    plank = "S" in told
    span = at("S") if plank else at("L")
    forces, lengths = [], []
    for weight, arm in (*_AHEAD, *_PIECES):
        if arm in told:
            ahead = float(numbers[arm]) if arm.startswith("a_") else at(arm)
            forces.append(WeightArrow(told.get(weight, f"{plain_letters(weight)} ?"), -ahead))
            lengths.append(SketchLength(told[arm], 0.0, -ahead))
    for weight, arm in _BEHIND:
        if arm in told:
            forces.append(WeightArrow(told.get(weight, "B ?"), span + at(arm)))
            lengths.append(SketchLength(told[arm], span, span + at(arm)))
    for weight, arm in (("W", "i"), ("T", "x0"), ("J", "d")):
        if arm in told:
            forces.append(WeightArrow(told.get(weight, weight), at(arm)))
            lengths.append(SketchLength(told[arm], 0.0, at(arm)))
    if "P" in told:
        forces.append(WeightArrow(told["P"], span / 2))
    if not forces and not plank:
        forces.append(WeightArrow(told.get("W", "W ?"), -at("a")))
    whole = told.get("S") or told.get("L")
    if whole:
        lengths.append(SketchLength(whole, 0.0, span))
    names = ("left scale", "right scale") if plank else ("front axle", "rear axle")
    under = [
        "\n".join([name, *(told[one] for one in readings.split() if one in told)])
        for name, readings in zip(names, ("F0 F1", "R0 R1"), strict=True)
    ]
    supports = [(under[0], 0.0), (under[1], span)]
    desc = (
        f"A line on two supports, {names[0]} and {names[1]}, an arrow down for each weight. "
        f"{_in_words(known)}"
    )
    return lever_sketch(supports, forces, lengths, desc)
