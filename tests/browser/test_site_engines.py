"""The class site in Firefox and WebKit: the first picture, a prediction that Python hears, an
answer, and the lesson again without a server.  CLASS_SITE names a built site; none is built here.
"""

import os
from pathlib import Path

import pytest
from classroom import served
from engines import ENGINES

LESSON = "lesson/02_the_tractor.html"
PICTURE = "return document.querySelector('#stage svg').outerHTML;"
OPEN = "document.querySelector('#open') && !document.querySelector('#open').disabled"
HERE = ".st-here"
# The button that says so and can be seen is marked, to be clicked.
MARK = """for (const el of document.querySelectorAll('.now')) el.classList.remove('now');
const found = [...document.querySelectorAll(arguments[0] + ' button')].find((el) =>
  el.offsetParent && !el.disabled && el.textContent.trim() === arguments[1]);
if (found) found.classList.add('now');
return Boolean(found);"""
# Read on down the page until a box for an answer can be seen.
DOWN_TO_A_BOX = """const all = [...document.querySelectorAll('.lv-panel input[type=text]')];
const checked = (panel) => [...panel.querySelectorAll('button')].some((one) =>
  one.textContent.trim() === 'Check');
const box = all.find((el) => el.offsetParent && checked(el.closest('.lv-panel')));
if (!box) {
  for (const el of document.querySelectorAll('.jp-WindowedPanel-outer')) el.scrollTop += 300;
  return false;
}
box.classList.add('to-answer');
box.closest('.lv-panel').classList.add('answers');
return true;"""
ANSWERED = """(() => { const box = document.querySelector('.to-answer');
  return /Right|Not yet|Not so|try/i.test(box.closest('.lv-panel').innerText); })()"""


@pytest.fixture(scope="module", params=["firefox", "webkit"])
def engine(request, browser):
    with ENGINES[request.param](browser) as running:
        yield running


@pytest.fixture
def folder():
    given = os.environ.get("CLASS_SITE")
    if not given:
        pytest.skip("CLASS_SITE names no built class site")
    return Path(given)


def tap(engine, place, words):
    engine.wait(f"(function () {{ {MARK} }})(...arguments)", place, words)
    engine.click(".now")


def picture(engine, name):
    if place := os.environ.get("LAB_PICTURES"):
        engine.picture(Path(place) / f"site_{engine.name}_{name}.png")


def test_a_lesson_from_its_first_picture_to_an_answer_and_again_without_a_server(engine, folder):
    with served(folder, copies=True) as (server, _):
        address = f"http://localhost:{server.server_port}/{LESSON}"
        engine.goto(address)
        before = engine.ask(PICTURE)
        for name, said in (("front_said", "+260"), ("rear_said", "-50")):
            engine.type(f"#stage input[type=text][data-moves={name}]", said)
        assert engine.ask(PICTURE) != before, "the first picture moves"
        picture(engine, "first")
        engine.wait(OPEN)
        engine.click("#open")
        engine.into("iframe")
        told = f"document.querySelector('{HERE} input[type=text][data-moves=front_said]')?.value"
        engine.wait(f"/260/.test({told})")  # what was typed goes on in the lesson
        tap(engine, HERE, "Lock in")
        engine.wait(
            f"[...document.querySelectorAll('{HERE} textarea')].some((el) => el.offsetParent)"
        )
        engine.ask(
            f"""const box = [...document.querySelectorAll('{HERE} textarea')]
              .find((el) => el.offsetParent);
            box.classList.add('to-write');"""
        )
        engine.type(".to-write", "The front gained more.")
        tap(engine, HERE, "Show why")
        tap(engine, HERE, "Now move it")
        picture(engine, "answered")
        engine.wait(f"(() => {{ {DOWN_TO_A_BOX} }})()")
        engine.type(".to-answer", "12 lb")
        tap(engine, ".answers", "Check")
        engine.wait(ANSWERED)
        engine.goto(address)  # once more, so that all of it passes through what keeps the files
        engine.wait(OPEN)
    engine.goto(address)
    engine.wait("document.querySelector('#stage svg')")
    engine.wait(OPEN)
    picture(engine, "offline")
    assert engine.errors() == []
