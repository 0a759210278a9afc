"""The yard page in three engines: a whole visit, screen by screen; and a thousand machines, each
text and place of the page held to what Python writes.
"""

import os
from pathlib import Path

import pytest
from engines import ENGINES
from stage_in_page import drawn_by_python, places_of
from yard_machines import DEMO, WHEELS, box_name, random_states

from leverarm.quantities import SYSTEMS
from leverarm.yard_page.page import all_screens, yard_page
from leverarm.yard_page.readings import YardInputs

HERE = "[data-screen]:not([hidden])"
SCREEN = f"""const here = document.querySelector('{HERE}'), one = here.getBoundingClientRect();
return [here.dataset.screen, document.documentElement.scrollWidth - innerWidth, one.height > 300,
  [...here.querySelectorAll('svg')].every((svg) => svg.getBoundingClientRect().height > 50),
  here.innerText];"""
# The page shows state after state; what then stands at each of its places.
AT_PLACES = """const [system, states] = arguments;
const bindings = JSON.parse(document.getElementById(system).textContent).bindings;
const marked = new Map([...document.querySelectorAll('[data-b]')].map((el) => [el.dataset.b, el]));
return states.map((state) => {
  Object.assign(leverarmYard.day.state, state);
  leverarmYard.draw(true);
  return bindings.map(([mark, name]) => {
    const el = marked.get(String(mark));
    if (name === 'hidden') return el.hidden ? 'hidden' : '';
    return name ? el.getAttribute(name) : el.textContent;
  });
});"""


@pytest.fixture(scope="module", params=ENGINES)
def engine(request, browser):
    with ENGINES[request.param](browser) as running:
        yield running


@pytest.fixture(scope="module")
def address(tmp_path_factory):
    goal = tmp_path_factory.mktemp("yard") / "yard.html"
    goal.write_text(yard_page(), "utf-8")
    return goal.as_uri()


def tap(engine, words):
    """Press the button of this screen that says so."""
    engine.ask(
        """for (const el of document.querySelectorAll('.now')) el.classList.remove('now');
        [...document.querySelectorAll(arguments[0] + ' button')].find((el) =>
          el.offsetParent && el.innerText.includes(arguments[1])).classList.add('now');""",
        HERE,
        words,
    )
    engine.click(".now")


def choose(engine, name, place):
    engine.click(f"{HERE} label:nth-child({place + 1}) > input[name={name}]")


def write(engine, row, readings):
    for (axle, side), shown in zip(WHEELS, readings, strict=True):
        engine.type(f"[data-in={box_name(row, axle, side)}]", str(shown))


def seen(engine, name, words):
    """This screen is there, whole, drawn, no wider than the window, and says this."""
    picture = os.environ.get("LAB_PICTURES")
    if picture:
        engine.picture(Path(picture) / f"yard_{engine.name}_{name}.png")
    there, wide, tall, drawn, text = engine.ask(SCREEN)
    assert (there, wide <= 0, tall, drawn) == (name, True, True, True), engine.name
    assert words in text, text


def test_a_visit_screen_by_screen(engine, address):
    engine.goto(address)
    seen(engine, "machine", "Which machine stands on the scales?")
    tap(engine, "New machine")
    engine.type("[data-line=machine]", "Compact tractor 3")
    engine.type("[data-in=wheelbase]", "65")
    seen(engine, "own", "Compact tractor 3")
    tap(engine, "To the scales")
    for name, place in (("step", 1), ("accuracy", 2), ("placed", 0)):
        choose(engine, name, place)
    seen(engine, "scales", "What do the scales tell you?")
    tap(engine, "To the readings")
    a, b, c, d = DEMO["on"]
    write(engine, "on", (c, d, a, b))  # into the wrong boxes
    seen(engine, "on", "Bucket on: what do they read?")
    tap(engine, "weigh again")
    write(engine, "off", DEMO["off"])
    choose(engine, "same", 0)
    seen(engine, "off", "Bucket off: what do they read now?")
    tap(engine, "What came off")
    seen(engine, "stop", "swapped in “bucket on”")
    tap(engine, "Swap them")
    tap(engine, "What came off")
    seen(engine, "came", "418 lb came off the front axle")
    tap(engine, "Why")
    seen(engine, "why", "246 lb × 1.70 = 418 lb")
    tap(engine, "Check a claim")
    choose(engine, "claim", 3)
    seen(engine, "claim", "Not on this machine.")
    tap(engine, "What can I say")
    seen(engine, "say", "Do not promise")
    tap(engine, "Share or print")
    seen(engine, "hand", "Keep it on this phone")
    tap(engine, "Keep it on this phone")
    assert "kept on this phone until you delete it" in engine.ask(SCREEN)[-1]
    # The twelfth is the sheet that is printed: shown here as on paper.
    engine.ask("""leverarmYard.draw(true);
      document.body.classList.add('yp-alone');
      document.querySelectorAll('[data-screen]').forEach((el) => { el.hidden = true; });""")
    if picture := os.environ.get("LAB_PICTURES"):
        engine.picture(Path(picture) / f"yard_{engine.name}_sheet.png")
    assert "418 lb" in engine.ask("return document.querySelector('.yp-sheet').innerText;")
    assert engine.errors() == []
    engine.ask("localStorage.clear();")


@pytest.mark.parametrize("system", SYSTEMS)
def test_a_thousand_machines_stand_in_the_page_as_python_writes_them(engine, address, system):
    """500 in each unit system; a way not taken may divide by zero, and is hidden."""
    typed = YardInputs(system)
    draw, states = all_screens(typed), list(random_states(system, 500, 29))
    places = places_of(draw, typed.inputs)
    engine.goto(address)
    engine.ask("leverarmYard.draw(true);")
    engine.click(f"input[name=units][value='{int(system == 'kg')}']")
    compared = differ = 0
    for at in range(0, len(states), 50):
        some = states[at : at + 50]
        for state, texts in zip(some, engine.ask(AT_PLACES, system, some), strict=True):
            right = drawn_by_python(draw, state, places)
            pairs = [
                (ours, bool(theirs) and "hidden" if name == "hidden" else theirs)
                for ours, theirs, (_, name) in zip(texts, right, places, strict=True)
                if "nan" not in theirs and "inf" not in theirs
            ]
            compared += len(pairs)
            differ += sum(ours != (theirs or "") for ours, theirs in pairs)
    assert differ == 0 and compared > 300 * len(states)
    assert engine.errors() == []
