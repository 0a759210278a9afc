"""How often the wrong turn behind a wrong answer is found.

``python tests/bench/bench_slips.py TURNS.jsonl [seeds] [seed of the first]``.  Each line is
{"kind", "id", "what", "in": "si" or "shown", "expr", "system"?}.  In "si" the letters are SI values
(pressures in pascals, a percent a fraction, an angle in degrees) and the result is turned into the
unit asked; in "shown" the letters are bare numbers as printed and the result is typed as it stands.
For a formula kind expr is typed.  Expressions are walked as trees, never evaluated as code.
"""

import ast
import json
import math
import operator
import random
import sys
import time
from collections import Counter
from pathlib import Path

from leverarm import exercises
from leverarm.exercises.values import Values
from leverarm.quantities import to_unit

FUNCTIONS = {
    **{
        name: getattr(math, name)
        for name in ("sqrt", "sin", "cos", "tan", "atan", "radians", "degrees", "log", "exp")
    },
    "abs": abs,
    "min": min,
    "max": max,
}
TWO_SIDED = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.Pow: operator.pow,
}
PER_BASE_UNIT = {"pressure": 1000.0, "share": 0.01}
CHECKED_AT = (901, 902, 903)
AGAIN = "The same again"
TWINS = 4e-4  # 9.81 and 9.80665 are one formula


def value(node, at):
    """The value of an expression in letters, by a walk over its tree."""
    if isinstance(node, str):
        node = ast.parse(node.replace("^", "**"), mode="eval").body
    if isinstance(node, ast.Constant):
        return float(node.value)
    if isinstance(node, ast.Name):
        return math.pi if node.id == "pi" and "pi" not in at else at[node.id]
    if isinstance(node, ast.UnaryOp):
        inner = value(node.operand, at)
        return -inner if isinstance(node.op, ast.USub) else inner
    if isinstance(node, ast.BinOp):
        return TWO_SIDED[type(node.op)](value(node.left, at), value(node.right, at))
    assert isinstance(node, ast.Call) and isinstance(node.func, ast.Name), ast.dump(node)
    return FUNCTIONS[node.func.id](*(value(arg, at) for arg in node.args))


def number_of(problem, turn):
    """What a turn comes to at a problem, in the unit asked."""
    method, at = problem.source.method, {}
    for name in method.given:
        letter, number = method.letters[name], problem.drawn.shown[name]
        if turn["in"] == "si":
            number = letter.base(number, problem.system) * PER_BASE_UNIT.get(letter.kind, 1.0)
        at[name] = at[letter.shown] = number
    found = value(turn["expr"], at)
    if turn["in"] == "si":
        found /= PER_BASE_UNIT.get(method.rule.kind, 1.0)
        found = found if method.rule.raw else to_unit(found, method.rule.kind, problem.unit)
    return found


def typed_as(number, digits):
    """A number with so many significant digits, end zeros kept."""
    size = math.floor(math.log10(abs(number))) if number else 0
    return f"{round(number, digits - 1 - size):.{max(0, digits - 1 - size)}f}"


def same(tree, turn, kind, system):
    """Whether a suspect is the same formula as a turn, at three other seeds."""
    for seed in CHECKED_AT:
        problem = exercises.make(kind, seed, system)
        one, other = number_of(problem, turn), Values([problem.drawn.shown])(tree)[0]
        if kind.sign == "size":
            one, other = abs(one), abs(other)
        if not abs(one - other) <= TWINS * abs(one):
            return False
    return True


def numbers(turn, kind, seeds, count, missed):
    """Count how a turn of a number kind fares: alone, and over two tries with new numbers."""
    for system in [turn["system"]] if turn.get("system") else ["kg", "lb"]:
        if kind.system and system != kind.system:
            continue
        for digits in (4, 3):
            before = None
            for seed in seeds:
                problem = exercises.make(kind, seed, system)
                text = typed_as(number_of(problem, turn), digits)
                verdict = exercises.check(problem, f"{text} {problem.unit}".strip())
                if not verdict.right:
                    named = any(
                        one.tree is not None and same(one.tree, turn, kind, system)
                        for one in verdict.suspects
                    )
                    how = "named" if named else "else" if verdict.suspects else "nothing"
                    count[digits, "all"] += 1
                    count[digits, how] += 1
                    if not named:
                        missed[turn["kind"], turn["what"]] += 1
                else:
                    continue
                if before:
                    again = exercises.check(problem, text, before=[before])
                    count[digits, "two"] += 1
                    count[digits, "two named"] += any(
                        one.tree is not None and same(one.tree, turn, kind, system)
                        for one in again.suspects
                    )
                before = problem, text


def chance(kinds, seeds, count):
    """Count numbers out of the blue, and digits slipped or swapped, that are given a cause."""
    rng = random.Random(11)
    for kind in kinds:
        before = {}
        for system in [kind.system] if kind.system else ["kg", "lb"]:
            for seed in seeds:
                problem = exercises.make(kind, seed, system)
                for digits in (4, 3):
                    right = typed_as(problem.answer, digits)
                    places = [at for at, char in enumerate(right) if char.isdigit()]
                    at = rng.choice(places[1:])
                    slipped = right[:at] + rng.choice("0123456789") + right[at + 1 :]
                    for name, text in (
                        ("random", typed_as(problem.answer * 10 ** rng.uniform(-1, 1), digits)),
                        ("blunder", slipped),
                    ):
                        verdict = exercises.check(problem, text)
                        if not verdict.right:
                            count[name, digits] += 1
                            count[name, "claimed", digits] += bool(verdict.suspects)
                            if last := before.get((name, system, digits)):
                                again = exercises.check(problem, text, before=[last])
                                count[name, "twice", digits] += 1
                                count[name, "both times", digits] += again.finding.startswith(AGAIN)
                            before[name, system, digits] = problem, text


def main():
    turns = [json.loads(line) for line in Path(sys.argv[1]).read_text("utf-8").splitlines() if line]
    many = int(sys.argv[2]) if len(sys.argv) > 2 else 3
    first = int(sys.argv[3]) if len(sys.argv) > 3 else 5000
    seeds, count, missed, formulas = range(first, first + many), Counter(), Counter(), Counter()
    began = time.process_time()
    for turn in turns:
        kind = exercises.kind_named(turn["kind"])
        if kind.style == "number":
            numbers(turn, kind, seeds, count, missed)
        else:
            verdict = exercises.check(exercises.make(kind, first), turn["expr"].replace("**", "^"))
            formulas["all"] += verdict.case == "wrong"
            formulas["named"] += bool(verdict.suspects)
            if not verdict.suspects:
                missed[turn["kind"], turn["what"]] += 1
    chance([k for k in exercises.problems() if k.style == "number"], range(first, first + 5), count)
    for digits in (4, 3):
        whole = count[digits, "all"] or 1
        print(
            f"{digits} digits: named {100 * count[digits, 'named'] / whole:.1f} %, something else "
            f"{100 * count[digits, 'else'] / whole:.1f} %, nothing "
            f"{100 * count[digits, 'nothing'] / whole:.1f} %; over two tries "
            f"{100 * count[digits, 'two named'] / (count[digits, 'two'] or 1):.1f} %"
        )
        for name in ("random", "blunder"):
            part = 100 * count[name, "claimed", digits] / (count[name, digits] or 1)
            both = 100 * count[name, "both times", digits] / (count[name, "twice", digits] or 1)
            print(f"  {name} numbers given a cause: {part:.1f} %, two tries together: {both:.1f} %")
    print(f"formulas given a cause: {formulas['named']} of {formulas['all']}")
    print(f"{time.process_time() - began:.0f} s of processor time; not named, most often:")
    for (kind, what), n in missed.most_common(40):
        print(f"  {n:3} {kind}: {what}")


if __name__ == "__main__":
    main()
