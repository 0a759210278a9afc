"""Words that a teacher may change: what is spoiled is refused in one sentence with file and key."""

import tomllib
from importlib import resources

import pytest

from leverarm import panels
from leverarm.data import cautions, parsed, read_cautions, toml_file
from leverarm.decision import counters, decide, demo_case, manual_questions
from leverarm.decision.words import read_all
from leverarm.handouts.poll_cards import read_how
from leverarm.panels.gate import Gated, read_predictions
from leverarm.panels.tally import read_advice
from leverarm.quantities import Refusal

READERS = {
    "decision": read_all,
    "cautions": read_cautions,
    "predictions": lambda words: read_predictions(words, "weigh_day", ("front", "rear")),
    "polls": lambda words: (
        read_how(words.part("cards")),
        read_advice(words.part("after_the_vote")),
    ),
}


def text_of(name):
    """A file of the package without its comments."""
    text = resources.files("leverarm.data").joinpath(f"{name}.toml").read_text("utf-8")
    return "\n".join(line for line in text.splitlines() if not line.startswith("#"))


@pytest.mark.parametrize("name", READERS)
def test_what_is_not_spoiled_is_read(name):
    assert READERS[name](parsed(text_of(name), "own.toml"))


SPOILED = [
    ("decision", 'name = "scuff"', 'name = "scuf"', "row scuf, name: scuf was given"),
    ("decision", 'name = "rear"\n', 'name = "front"\n', "row front, name: front was given"),
    ("decision", 'group = "Load"', 'group = "Loads"', "row front, group: Loads was given"),
    ("decision", 'wanted = "less"', 'wanted = "lower"', "row front, wanted: lower was given"),
    ("decision", '"@scales"', '"@scale"', "row front, confidence: @scale was given"),
    ("decision", "{0} under a front", "{2} under a front", "row front_stress_1, title: 2 was"),
    ("decision", "Pressure under a f", "Pressure {0} under a f", "row front_pressure, title: 0"),
    ("decision", "coarse = 0.05", "coarse = 5", "row front_pressure, coarse: 5 was given"),
    ("decision", "reason =", "raeson =", "row front, reason: nothing was given"),
    ("decision", "{for_each}", "{for_eech}", "counter short_job, text: for_eech was given"),
    ("decision", "{for_each}", "{for_each:>9}", "counter short_job, text: Taking the loader"),
    ("decision", "{for_each}", "{for_each", "counter short_job, text: Taking the loader off"),
    ("decision", "{for_each}", "{for_each.real}", "counter short_job, text: for_each.real was"),
    ("decision", "arms_told =", "arm_told =", "counter ballast_stays, arms_told: nothing was"),
    ("decision", 'name = "next_job"', 'name = "half_measure"', "counter half_measure, text: mow"),
    ("decision", 'title = "The next job"', 'titel = "x"\ntitle = "y"', "counter next_job: the key"),
    ("decision", 'name = "machine"\nasked', 'name = "machin"\nasked', "manual: no manual machine"),
    ("decision", "[shared]", "[share]", "row front, confidence: @scales was given"),
    ("decision", "groups =", "extra = 1\ngroups =", ": the key extra was given"),
    ("cautions", "ballast = [", "balast = [", "ballast: nothing was given"),
    ("cautions", "ballast = [", "ballast = [7, ", "ballast: 7 was given"),
    ("cautions", "ballast = [", f'ballast = ["{"x" * 241}", ', "ballast: xxxxxxxx"),
    ("cautions", "[left_out]", "[leftout]", "left_out, slopes: nothing was given"),
    ("cautions", "[left_out]", 'hill = ["Mind it."]\n[left_out]', ": the key hill was given"),
    ("predictions", 'name = "rear"', 'name = "raer"', "weigh_day, question raer, name: raer was"),
    ("predictions", 'name = "rear"', 'name = "front"', "weigh_day, question front, name: front"),
    ("predictions", 'label = "Front scale"', 'lable = "x"', "weigh_day, question front, label: no"),
    ("predictions", '"Front scale"', '"x"\nkind = "mass"', "weigh_day, question front, kind: mass"),
    ("predictions", "why =", "wy =", "weigh_day, why: nothing was given"),
    ("polls", "{low} of", "{lo} of", "after_the_vote, re-teach: lo was given"),
    ("polls", "go_on =", "goon =", "after_the_vote, go_on: nothing was given"),
    ("polls", "how =", "hwo =", "cards, how: nothing was given"),
]


@pytest.mark.parametrize("name, was, becomes, says", SPOILED)
def test_what_is_spoiled_is_refused_with_file_and_key(name, was, becomes, says):
    text = text_of(name)
    assert was in text
    with pytest.raises(Refusal) as refused:
        READERS[name](parsed(text.replace(was, becomes, 1), "own.toml"))
    said = str(refused.value).removeprefix("own.toml").removeprefix(", ")
    assert str(refused.value).startswith("own.toml") and said.startswith(says)


def test_a_teacher_adds_a_question_for_the_manual():
    own = text_of("decision") + '\n[[manual]]\nname = "belt"\nasked = "Where the belt is kept"\n'
    assert read_all(parsed(own, "own.toml"))[2]["belt"] == "Where the belt is kept"
    assert manual_questions(demo_case())[-1].answer is None


def test_every_sentence_of_the_other_side_can_be_filled_in():
    """Each maker fills exactly the names its sentences have: nothing in braces is left."""
    for mower in ("mid", "rear", "trailed", None):
        for more in ({}, {"arms": None}, {"stance": None}):
            said = counters(decide(demo_case(mower, **more)), "lb")
            assert len(said) == 8 and not any("{" in one.said for one in said)


def test_every_panel_with_a_gate_asks_from_the_file_and_nothing_there_is_left_over():
    for name in dir(panels):  # every public name is there, and so every panel is loaded
        getattr(panels, name)
    asked = tomllib.loads(text_of("predictions"))
    whys = {" ".join(one["why"].split()) for one in asked.values()}
    used = {cls.why for cls in _subclasses(Gated) if cls.why}
    assert used == whys and len(asked) == len(whys) == 6


def _subclasses(cls):
    for one in cls.__subclasses__():
        yield one
        yield from _subclasses(one)


def test_cautions_call_nothing_safe_and_send_to_the_manual():
    every = read_cautions(toml_file("cautions"))
    assert not any("is safe" in text.lower() for texts in every.values() for text in texts)
    for subject in ("ballast", "slopes", "decision", "front_drive", "weigh_sheet"):
        assert any("manual" in text.lower() for text in cautions(subject)), subject
