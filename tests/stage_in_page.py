"""What the page makes of a recorded drawing, and what Python draws at the same places."""

import json
import random
import re
import shutil
import subprocess
from pathlib import Path

import pytest

import leverarm.stage as stage
from leverarm.stage.elements import as_text, every_element
from leverarm.stage.recorder import Recorder
from leverarm.stage.recording import _places, recorded

SCRIPT = Path(stage.__file__).with_name("stage.js")
NODE = shutil.which("node")

# The page's arithmetic and printing, run on the data alone; no page is needed for that.
HARNESS = """
const fs = require('fs');
globalThis.window = {};
eval(fs.readFileSync(process.argv[2], 'utf8'));
const {worker, write, printed} = window.leverarmStage;
const {data, states, numbers} = JSON.parse(fs.readFileSync(0, 'utf8'));
const out = {texts: [], numbers: []};
if (data) {
  const run = worker(data);
  for (const state of states) {
    const v = run(state);
    out.texts.push(data.bindings.map(([, , pieces]) => write(pieces, v, data.signs)));
  }
}
for (const one of numbers || []) out.numbers.push(printed(...one));
console.log(JSON.stringify(out));
"""


def in_page(tmp_path, **asked):
    if NODE is None:
        pytest.skip("no node here to run the page's script")
    harness = tmp_path / "harness.js"
    harness.write_text(HARNESS, "utf-8")
    done = subprocess.run(
        [NODE, str(harness), str(SCRIPT)],
        input=json.dumps(asked),
        capture_output=True,
        text=True,
        timeout=120,
        check=True,
    )
    return json.loads(done.stdout)


def some_states(inputs, how_many, seed):
    """States on the steps of the sliders, at halves between them, at ends, and anywhere."""
    rng = random.Random(seed)
    for _ in range(how_many):
        state = {}
        for one in inputs:
            steps = round((one.high - one.low) / one.step)
            on_step = one.low + rng.randint(0, steps) * one.step
            state[one.name] = rng.choice(
                [
                    one.low,
                    one.high,
                    one.start,
                    on_step,
                    min(on_step + one.step / 2, one.high),
                    rng.uniform(one.low, one.high),
                ]
            )
        yield state


def drawn_by_python(draw, state, places):
    """What Python writes at the places the page writes, drawn from plain numbers."""
    all_of_it = list(every_element(draw(state).tree))
    return [
        dict(all_of_it[place].attributes).get(name, "") if name else all_of_it[place].words
        for place, name in places
    ]


def places_of(draw, inputs):
    """(place in the every_element, attribute) of each binding, in the order of the data."""
    recorder = Recorder()
    moving = {one.name: recorder.input(one.name, one.low, one.high) for one in inputs}
    return [(place, name) for place, name, _ in _places(draw(moving).tree, recorder)]


def written_alike(tmp_path, draw, inputs, how_many, seed):
    """Hold every text that the page writes to Python's, byte for byte, at so many states.

    Returns the states, and how many places of the drawing move.
    """
    data, states = recorded(draw, inputs), list(some_states(inputs, how_many, seed))
    texts = in_page(tmp_path, data=data, states=states)["texts"]
    places = places_of(draw, inputs)
    assert len(places) == len(data["bindings"])
    for state, shown in zip(states, texts, strict=True):
        assert shown == drawn_by_python(draw, state, places), state
    return states, len(places)


# Attributes that a person reads or hears.
READ = ("aria-label", "aria-valuetext", "data-says", "data-refusal", "placeholder")


def readable(draw, state):
    """Everything of a drawing that a person reads or hears, one line a piece."""
    for one in every_element(draw(state).tree):
        yield one.words
        yield from (value for name, value in one.attributes if name in READ)


_NUMBER = re.compile(r"\d(?:[\d,]*\d)?(?:\.\d+)?")


def numbers_in_pictures(draw, state):
    """For each size of a picture: the numbers written in it, and those its name tells.

    Gray words are left out: they are the marks of an axis.
    """
    for picture in every_element(draw(state).tree):
        if picture.tag != "svg":
            continue
        written, hidden = set(), set()
        for one in every_element(picture):
            told = dict(one.attributes)
            if told.get("display") == "none":
                hidden |= {id(part) for part in every_element(one)}
            if one.tag == "text" and "muted" not in told["class"] and id(one) not in hidden:
                written |= set(_NUMBER.findall(one.words))
        yield written, set(_NUMBER.findall(dict(picture.attributes)["aria-label"]))


def still(draw, state):
    """The picture at one state, as text: drawn from plain numbers."""
    return as_text(draw(state).tree)
