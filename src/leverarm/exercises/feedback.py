"""What to say about a wrong number: the goal, what the number is, the next question.

Several wrong turns can lead to one number.  Then all are named, none is claimed,
and the question is a second try with other numbers, at which they part.
"""

from leverarm.exercises.answers import figured, unit_shown
from leverarm.exercises.evaluate import value
from leverarm.exercises.problem import Suspect, Verdict
from leverarm.exercises.spell import text
from leverarm.exercises.trees import Letter, Named
from leverarm.exercises.working import words_of
from leverarm.quantities import to_unit

APART = 0.05
STRETCHED = (1.5, 2.0, 0.75)


def wrong(kind, problem, shown, paths, first=()):
    """The Verdict on a wrong number that these paths lead to; first: Suspects found in another way."""
    work = kind.working
    turns = [turn for path in paths for turn in path.turns]
    suspects = first + tuple(
        told(work, problem, turn)
        for at, turn in enumerate(turns)
        if turn.name != "rounded early" or turn.name not in [t.name for t in turns[:at]]
    )
    unit = f", in {unit_shown(problem.unit)}" if problem.unit and not work.rule.raw else ""
    goal = f"The question asks for {work.rule.words}{unit}."
    finding, question = _said(work, problem, shown, paths, suspects)
    return Verdict(False, shown, suspects, "wrong", goal, finding, question)


def told(work, problem, turn):
    """A wrong turn as a Suspect, with this problem's own numbers in its words."""
    return Suspect(
        turn.name,
        turn.what.format(*(part_words(work, problem, part) for part in turn.parts)),
        turn.ask,
    )


def part_words(work, problem, part):
    """A part of a working in words: a quantity by its name, anything else with its numbers."""
    if isinstance(part, (Letter, Named)):
        return words_of(part.name)
    units = {
        work.letters[name].kind: work.letters[name].unit(problem.system) for name in work.given
    }
    mixed = any(
        work.letters[name].unit(problem.system) != units[work.letters[name].kind]
        for name in work.given
    )
    return text(
        part,
        {n: words_of(n).removeprefix("the ") for n in work.given}
        if mixed
        else numbers_of(work, problem),
        inner=True,
    )


def numbers_of(work, problem):
    """name -> given number as it stands in the statement, without its unit."""
    return {name: problem.given[work.letters[name].shown].split(" ")[0] for name in work.given}


def _said(work, problem, shown, paths, suspects):
    """Finding and question."""
    if not suspects:
        return (
            f"{shown} is not it, and no single slip leads to it.",
            f"Begin again with this: {work.rule.why}",
        )
    if len(suspects) == 1:
        return f"{shown} is {suspects[0].what}.", suspects[0].ask
    finding = f"{shown} can be " + "; or ".join(suspect.what for suspect in suspects) + "."
    if len(paths) == 1 and len(suspects) == len(paths[0].turns):
        return finding, f"Both come to the same formula. {suspects[0].ask} {suspects[1].ask}"
    return (
        finding,
        f"Which of these was it? {(len(paths) > 1 and _second_try(work, problem, paths)) or suspects[0].ask}",
    )


def _second_try(work, problem, paths):
    """A change of one given number at which the first two paths part, and what each gives then."""
    at = problem.inner.values
    for name in work.given:
        for factor in STRETCHED:
            moved = work.letters[name].snapped(_base(work, problem, name) * factor, problem.system)
            there = at | {
                name: moved if work.rule.raw else work.letters[name].base(moved, problem.system)
            }
            one, other = (value(path.compute, there) for path in paths[:2])
            if abs(one - other) > APART * max(abs(one), abs(other), 1e-12):
                return _offered(work, problem, name, moved, sorted((one, other)))
    return ""


def _base(work, problem, name):
    """A given number in the base unit."""
    return work.letters[name].base(problem.inner.shown[name], problem.system)


def _offered(work, problem, name, moved, values):
    """The second try in words; the two results stand in order of size, so the order tells nothing."""
    unit = unit_shown(problem.unit)
    low, high = (
        figured(v if work.rule.raw else to_unit(v, work.rule.kind, problem.unit), 3) for v in values
    )
    return (
        f"Work yours once more with {words_of(name)} at {work.letters[name].printed(moved, problem.system)}: "
        f"do you get {low} or {high}{f' {unit}' if unit else ''}?"
    )


def principle_question(rule):
    """The question that a principle asks."""
    return {
        "forces": "What pushes up and what pulls down? They must be equal.",
        "front": "Take moments about the front axle: which forces have an arm there, and how long is each?",
        "rear": "Take moments about the rear axle: which forces have an arm there, and how long is each?",
        "left": "Take moments about the left scale: which forces have an arm there, and how long is each?",
        "right": "Take moments about the right scale: which forces have an arm there, and how long is each?",
        "tires": "Seen from behind: which forces have an arm about the tire line, and how long is each?",
        "definition": f"In your own words: what is {rule.words}?",
        "units": "Which unit is given, which is asked, and is the one bigger or smaller than the other?",
    }[rule.principle]
