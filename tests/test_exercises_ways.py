"""The ways to results: read and refused, the same answer as the bank's, the lesson's own steps."""

import re

import pytest
import sympy

from leverarm import exercises, statics
from leverarm.data import parsed
from leverarm.exercises import worked
from leverarm.exercises.expressions.tree import compiled, formula_text, value_at
from leverarm.exercises.letters import LETTERS
from leverarm.exercises.rules import RULES
from leverarm.exercises.ways import CONSTANTS, WAYS, read_ways, steps_to
from leverarm.quantities import Refusal

NUMERIC = [kind for kind in exercises.problems() if kind.style == "number"]
SYMBOLIC = [kind for kind in exercises.problems() if kind.style == "symbol"]
LETTER = re.compile(r"[^\W\d_]+(?:_[^\W_]+|\d+)?")
STEP = """
[[way]]
of = "factor"
[[way.step]]
formula = "1 + a/L"
principle = "rear"
why = "Divide by L."
"""


@pytest.mark.parametrize("system", ["kg", "lb"])
@pytest.mark.parametrize("kind", NUMERIC, ids=lambda kind: kind.name)
def test_the_last_line_is_the_answer_and_every_equation_holds_there(kind, system):
    """Ten seeds at the ordinary step and three at the others; the bank works the answer out."""
    for step in kind.steps:
        for seed in range(10 if step == exercises.difficulty.ORDINARY else 3):
            p = exercises.make(kind, seed, system, step=step)
            lines = p.solution
            assert lines[-1].claim == pytest.approx(p.answer, rel=1e-9) and lines[-1].kind
            for line in lines:
                assert line.words and line.left and line.letters + line.numbers + line.result
                if line.equation:
                    left, right = line.numbers.split(" = ")
                    assert left and right and not line.result
                    size = max(abs(number) for number in line.at.values())
                    assert abs(_value(line)) <= 1e-9 * size


def _value(line):
    return value_at(compiled(line.tree), line.at)


@pytest.mark.parametrize("system", ["kg", "lb"])
@pytest.mark.parametrize("kind", NUMERIC, ids=lambda kind: kind.name)
def test_a_letter_stands_in_a_line_only_after_it_was_told(kind, system):
    p = exercises.make(kind, 2, system)
    told = set(p.given) | {"π", "sqrt", "sin", "cos", "arctan"}
    for line in p.solution:
        used = set(LETTER.findall(line.letters)) | set(LETTER.findall(line.left))
        told |= {line.left} | ({"g"} if "g = 9.80665" in line.words else set())
        # An equation is what its one unknown, the result of the next line, is solved from.
        assert len(used - told) <= line.equation, (line.text, used - told)


@pytest.mark.parametrize("kind", SYMBOLIC, ids=lambda kind: kind.name)
def test_the_last_line_of_a_formula_is_an_answer_that_counts(kind):
    p = exercises.make(kind, 1, "kg")
    assert exercises.check(p, p.solution[-1].result).right
    assert set(LETTER.findall(p.solution[-1].result)) <= set(p.given) | {"sqrt"}


@pytest.mark.parametrize(
    ("rule", "about", "force"), [("front_gain", "rear", "F"), ("rear_change", "front", "R")]
)
def test_the_equation_about_an_axle_is_the_derived_one(rule, about, force):
    """Moments of what the bucket adds, from the derivation; both are one equation."""
    kind = exercises.kind_named("percent_change" if rule == "front_gain" else "rear_percent")
    steps = steps_to(kind.method, kind.lesson, "kg")
    equation = next(step for step in steps if step.sides and step.shown == RULES[rule].shown)
    names = {"W": "W", "a": "a", "L": "L", rule: force}
    letters = {name: sympy.Symbol(letter) for name, letter in names.items()}
    ours = sympy.simplify(_as_sympy(equation.tree, letters))
    theirs = statics.derive(about=about).equations[0].lhs
    theirs = theirs.subs({s: sympy.Symbol(s.name) for s in theirs.free_symbols})
    ratio = sympy.simplify(ours / theirs)
    assert ratio.is_number and abs(ratio) == 1


def _as_sympy(tree, letters):
    text = formula_text(tree, {name: name for name in letters})
    return sympy.sympify(text.replace("×", "*").replace("−", "-"), locals=letters)


@pytest.mark.parametrize("system", ["kg", "lb"])
@pytest.mark.parametrize(
    "kind", [kind for kind in exercises.problems() if kind.style == "number"], ids=lambda k: k.name
)
def test_a_worked_example_goes_the_way_of_the_solution_and_then_on(system, kind):
    """One route told once: each line of the solution is a step, in its order."""
    for seed in range(3):
        p = exercises.make(kind, seed, system)
        lines = [line for line in p.solution if not line.equation]
        steps = worked.worked_steps(p)
        for line, step in zip(lines, steps, strict=False):
            assert (step.letter, step.value, step.letters) == (line.left, line.claim, line.letters)
            assert step.why.endswith(line.words)
        equations = [f"{one.left} = {one.letters}" for one in p.solution if one.equation]
        assert [one for step in steps for one in step.balance] == equations
        more = worked.FURTHER.get(p.kind, ())
        assert [step.letter for step in steps[len(lines) :]] == [one.letter for one in more]


def test_the_data_of_examples_repeat_no_step_of_a_way():
    """Neither its letter nor its formula, in either unit system."""
    for name, more in worked.FURTHER.items():
        for units in ("kg", "lb"):
            lines = exercises.make(name, 1, units).solution
            told = {text for one in lines if not one.equation for text in (one.left, one.letters)}
            for step in more:
                assert step.letter not in told
                assert step.formula.replace("*", " × ").replace("-", "−") not in told, step


@pytest.mark.parametrize(
    ("name", "letters"),
    [
        ("front_gain", "M ΔR ΔF"),
        ("new_rear_reading", "M ΔR R1"),
        ("overhang_for_factor", "v a"),
        ("plank_left", "H M A_J A"),
        ("center_of_gravity", "T0 T0×x x"),
        ("loader_front", "ΔF1 ΔF2 ΔF3 ΔF"),
        ("loader_overhang", "W M a"),
        ("bucket_off_reading", "ΔF2 ΔF3 F2"),
        ("overhang_from_readings", "ΔF ΔR W W×a a"),
        ("friction_needed", "s T_s P c T_c R×L R μ"),
        ("ballast_rear", "M_B ΔF_B ΔR_B"),
        ("front_weights", "T0 M_B ΔF_B F1 D k W_f"),
        ("turn_mismatch", "R_f extra mismatch"),
    ],
)
def test_the_steps_are_those_of_the_lesson(name, letters):
    p = exercises.make(name, 1, "lb")
    assert [line.left.replace(" ", "") for line in p.solution] == letters.split()


def test_pressures_go_from_axle_to_tire_to_contact_patch_by_hand():
    """836 kg on two tires, each on 174 cm²: 418 kg, 4,099.18 N, over 0.0174 m² 235.585 kPa."""
    p = exercises.make("front_pressure", 1, "kg")
    assert p.given["F1"] == "836 kg" and p.given["A"] == "174 cm²"
    claims = {line.left: line.claim for line in p.solution}
    assert claims["F_w"] == 418 and claims["A"] == pytest.approx(0.0174)
    assert claims["F_N"] == pytest.approx(4099.18, abs=0.005)
    assert claims["p"] == pytest.approx(235.585, abs=0.0005)


@pytest.mark.parametrize("seed", range(5))
def test_a_frame_behind_the_axle_has_a_minus_sign_on_the_way(seed):
    """The twist of a whole loader: its mounting frame sits behind the axle, so a3 is negative."""
    p = exercises.make("loader_front", seed, "kg", step="hard")
    (frame,) = (line for line in p.solution if line.left == "a3")
    (piece,) = (line for line in p.solution if line.left == "ΔF3")
    w, d, wheelbase = (float(p.given[key].split()[0]) for key in ("W3", "d3", "L"))
    assert frame.claim == -d and "(1 + (−" in piece.numbers
    assert piece.claim == pytest.approx(w * (1 - d / wheelbase), rel=1e-9) and piece.claim < w


@pytest.mark.parametrize(
    ("was", "put", "said"),
    [
        ('"factor"', '"fctor"', "known names, such as factor"),
        ('"rear"', '"back"', "principle: back was given"),
        ('formula = "1 + a/L"', "", "formula"),
        ('formula = "1 + a/L"', 'equation = "k*L"', "left = right"),
        ('formula = "1 + a/L"', 'equation = "k*L = L + a"', "let the last step give the result"),
        ('formula = "1 + a/L"', 'formula = "1"\nletter = "v"\nname = "it"\nkind = "x"', "kind"),
        ('why = "Divide by L."', "", "why"),
        ('why = "Divide', 'hwy = "x"\nwhy = "Divide', "misspelled key"),
        ('of = "factor"', 'of = "factor"\nlessons = "77"', "77 was given"),
        ('of = "factor"', 'of = "factor"\nsystems = "oz"', "oz was given"),
    ],
)
def test_a_spoiled_way_is_refused_in_one_sentence(was, put, said):
    assert was in STEP
    with pytest.raises(Refusal, match=r"own\.toml") as refused:
        read_ways(parsed(STEP.replace(was, put, 1), "own.toml"))
    assert said in str(refused.value)


def test_a_letter_that_a_problem_lacks_is_refused_with_the_way(monkeypatch):
    odd = read_ways(parsed(STEP.replace("a/L", "z/L"), "own.toml"))
    monkeypatch.setattr("leverarm.exercises.ways.WAYS", odd)
    steps_to.cache_clear()
    with pytest.raises(Refusal, match=r"ways.toml, way factor: 1 \+ z/L was given"):
        exercises.make("factor", 1, "kg").solution  # noqa: B018  # reading it is the test
    steps_to.cache_clear()


def test_every_way_is_gone_by_some_problem_and_its_letters_are_its_own():
    gone = set()
    for kind in NUMERIC + SYMBOLIC:
        for system in ("kg", "lb"):
            for step in steps_to(kind.method, kind.lesson, system):
                gone.add(step.name.split(":")[0])
                if ": " in step.name:
                    assert step.shown not in {kind.method.letters[g].shown for g in kind.given}
    assert set(WAYS) <= gone
    assert not set(CONSTANTS) & set(LETTERS)
