"""Solutions that are derived: no line hides its work in a name, and one line where one will do."""

import re
import statistics

import pytest

from leverarm import exercises

NUMERIC = [kind for kind in exercises.problems() if kind.style == "number"]


@pytest.mark.parametrize("kind", NUMERIC, ids=lambda kind: kind.name)
def test_no_line_names_a_function_that_no_calculator_has(kind):
    for system in ("kg", "lb"):
        for line in exercises.make(kind, 2, system).solution:
            called = set(re.findall(r"([A-Za-z_]{2,})\(", line.text))
            assert called <= {"sqrt", "sin", "cos", "arctan"}, line.text


@pytest.mark.parametrize("seed", range(10))
def test_the_lines_of_a_scatter_by_the_standard_library(seed):
    for name, last in (("scatter", 1), ("mean_uncertainty", 2)):
        problem = exercises.make(name, seed, "lb")
        readings = [problem.drawn.shown[f"r{n}"] for n in range(1, 6)]
        wanted = [statistics.mean(readings), statistics.stdev(readings)]
        wanted.append(wanted[1] / 5**0.5)
        lines = problem.solution
        assert [line.claim for line in lines] == pytest.approx(wanted[: last + 1])
        assert lines[-1].claim == pytest.approx(problem.answer)


@pytest.mark.parametrize("name", ["total_change", "ballast_total"])
def test_what_the_sum_of_forces_gives_takes_one_line(name):
    problem = exercises.make(name, 3, "kg")
    (line,) = problem.solution
    assert line.principle == "forces" and line.claim == pytest.approx(problem.answer)
    assert line.text.count("=") == 2 and line.result in problem.given.values()


@pytest.mark.parametrize("seed", range(6))
def test_the_load_that_keeps_a_fifth_is_derived(seed):
    """The equation holds at the answer, by hand: R0 less Q a/L is a fifth of F0 + R0 + Q."""
    problem = exercises.make("load_that_keeps_a_fifth", seed, "lb")
    n, load = problem.drawn.shown, problem.answer
    left = n["R0"] - load * n["a"] / n["L"]
    assert left == pytest.approx((n["F0"] + n["R0"] + load) / 5)
    _total, equation, collected, solved = problem.solution
    assert equation.equation and collected.equation and solved.left == "Q"
    assert all("Q" in line.text for line in problem.solution[1:])
    assert "(−" not in solved.text


@pytest.mark.parametrize("name", ["front_pressure", "pressure_growth", "pressure_after"])
def test_pressure_in_psi_takes_no_way_through_kilopascals(name):
    for line in exercises.make(name, 4, "lb").solution:
        assert "kPa" not in line.text and "6.89" not in line.text and "9.80665" not in line.text
