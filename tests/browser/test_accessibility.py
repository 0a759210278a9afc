"""Every panel, and every whole page of ours, held against WCAG 2.2 A and AA in the real browser.

The panels come from `leverarm.panels` itself: one that is new is shown and checked too.
"""

import itertools
import re
from collections import Counter
from dataclasses import replace

import axe
import pytest
from hands import say_on_stage
from lab import PICTURES, as_start_does, start_lab, write_notebook
from looks import (
    AT_REST,
    CONTRAST,
    CONTROLS,
    CROWDED,
    CUT,
    DRAWN,
    EDGES,
    FOCUS,
    NAMES,
    OVERFLOW,
    SMALL,
    STOPS,
    TROUBLE,
    WORDS,
)

from leverarm import marking, panels
from leverarm.handouts import offline_page
from leverarm.handouts.customer_page import customer_page
from leverarm.panels import _HOME
from leverarm.weighing.demo import demo_day

# Names of the package that build panels and are none themselves.
TOOLS = {
    name
    for name, home in _HOME.items()
    if home in ("base", "begin", "controls", "gate", "unit_choice")
} - {
    "first_slider",
    "ready",
}
# A view of its own that makes the whole page large: test_class_view.py looks at it.
TOOLS |= {"class_lesson", "class_view"}
START = """from leverarm import decision, marking, statics, weighing
from leverarm.handouts.customer_page import customer_page
from leverarm.handouts.tickets import print_tickets
from leverarm.machine import demo_tractor
from leverarm.panels import *

def opened(panel, **told):
    "Locked in, revealed, and the sentence written."
    panel.gate.lock_in(**told)
    panel.gate.reveal()
    panel.gate.seen.value = "The rear went up."
    panel.gate.explain()
    return panel

def after(panel, *calls):
    "What a person did before."
    for call in calls:
        call(panel)
    return panel

begin()"""
# How each panel is made where it needs to be told something, and the states a person meets it in.
VOTE = "tally('Front change?', ('less than W', 'W', 'more than W'), 'C')"
SHOWN = {
    "after_why": ["after_why(tractor_stage(), exit_question, '02')"],
    "arms_stage": [
        "arms_stage()",
        "after(arms_stage(), lambda p: p.lock_in(front='+200 lb', rear='-200 lb'), "
        "lambda p: p.explain('It moved.'), lambda p: p.free())",
    ],
    "arms_up": ["arms_up()", "opened(arms_up(gated=True), front='up 50 kg', rear='down 50 kg')"],
    "ballast_stage": [
        "ballast_stage()",
        "after(ballast_stage(), lambda p: p.lock_in(front='-280 lb', rear='+800 lb'), "
        "lambda p: p.explain('It rose.'), lambda p: p.free())",
    ],
    "bets": [
        "bets()",
        "opened(bets(), machine='down 110 kg', front='down 190 kg', rear='up 80 kg')",
    ],
    "claim_audit": [
        "claim_audit()",
        "claim_audit(claim='a third')",
        "claim_audit(claim='nonsense')",
    ],
    "class_poll": ["class_poll('02')"],
    "claim_cards": ["claim_cards()", "after(claim_cards(), lambda p: p.lock_in('half true'))"],
    "counterweight": ["counterweight(gated=True)", "counterweight()"],
    "desk": [
        "new = desk('new_class', print_tickets=print_tickets)\nnew.codes",
        "new.choose",
        "new.marks",
        "new.names",
        "old = desk('old_class', "
        "print_tickets=print_tickets)\nold.codes.start(3)\nold.choose.choose('front_gain', "
        "'rear_change')\nold.choose.name.value = 'Week 3'\nold.choose.write()\nold.codes",
        "after(old.choose, lambda p: p.look())",
        "old.paper",
        "old.marks",
        "old.names",
        "old.progress",
        "code = old.desk.codes[0]\nold.paper.code.value = code\n"
        "old.paper.boxes[0].value = '190 lb'\nold.paper.keep()\nold.marks.mark('Week 3')\n"
        "old.progress.code.value = code\nafter(old.progress, lambda p: p.look())",
    ],
    "derived": ["derived(statics.derive())"],
    "exercise": [
        "exercise('front_gain', 7)",
        "exercise('formula_front_gain', 7)",
        "exercise('body_bucket_rear', 7)",
        "exercise('which_pivot', 7)",
        (
            "after(exercise('front_gain', 7), lambda p: p.answer('1 kg'), *[lambda p: "
            "p.hint()] * 5, lambda p: p.show_solution())"
        ),
        "after(exercise('body_bucket_rear', 7), lambda p: p.answer(p.problem.answer))",
        "after(exercise('front_gain', 7), lambda p: p.answer('five apples'))",
    ],
    "exit_question": [
        "exit_question('02')",
        "after(exit_question('02'), lambda p: p.write('The front loses more.'))",
    ],
    "hand_over": [
        "hand_over(customer_page)",
        "after(hand_over(customer_page), lambda p: p.write())",
    ],
    "claim_sorting": [
        "claim_sorting()",
        "after(claim_sorting(), lambda p: p.sort('backed', 'sound'))",
    ],
    "claim_stage": [
        "claim_stage()",
        "after(claim_stage(), lambda p: p.lock_in('contradicted', 'It lies outside.'), "
        "lambda p: p.explain('It lies outside.'))",
    ],
    "compare_days": ["compare_days('none')"],
    "homework": ["homework()"],
    "concept_check": ["concept_check()"],
    "concept_check_desk": ["concept_check_desk('trial')"],
    "imagined_check_panel": ["imagined_check_panel('trial2')"],
    "both_sides": ["both_sides('12')"],
    "hunch_again": ["hunch_again()"],
    "setups_stage": [
        "setups_stage()",
        "after(setups_stage(), lambda p: p.lock_in(front='-520 lb'), lambda p: p.free(), "
        "lambda p: p.choose('bucket_off'))",
    ],
    "hunch": ["hunch()", "after(hunch(), lambda p: p.lock_in(front='more', rear='rises'))"],
    "lead_stage": [
        "lead_stage()",
        "after(lead_stage(), lambda p: p.lock_in(lead='up', turn='pushed'), "
        "lambda p: p.explain('It was short.'), lambda p: p.free())",
    ],
    "machine_and_scales": [
        "machine_and_scales('none')",
        "after(machine_and_scales('none'), lambda p: p.more_button.click())",
    ],
    "marked": ["marked(marking.invented_class('trial').mark('Trial')[0])"],
    "mow_or_unhook": [
        "mow_or_unhook()",
        "mow_or_unhook(gated=False)",
        "after(mow_or_unhook(gated=False), lambda p: setattr(p.pages, 'value', 'manual'))",
    ],
    "own_plank": ["own_plank(plank_stage())"],
    "pivot_stage": [
        "pivot_stage()",
        "after(pivot_stage(), lambda p: p.lock_in(answer='grow'), lambda p: p.check())",
        "after(pivot_stage(), lambda p: p.lock_in(answer='grow'), "
        "lambda p: p.draw_body(exercise('body_bucket', 1).problem.answer), "
        "lambda p: p.explain('It stays.'), lambda p: p.free())",
    ],
    "plank_stage": ["plank_stage()"],
    "yard_stage": [
        "yard_stage()",
        "after(yard_stage(), lambda p: p.lock_in(weight='520 lb', overhang='104 in'), "
        "lambda p: p.explain('Front up, rear down.'), lambda p: p.free())",
    ],
    "practice": ["practice()", "after(practice(), lambda p: p.answer('1 kg'))"],
    "readings": ["readings(demo_tractor(), weight='100 kg', aheads=('0 m', '0.55 m'))"],
    "readings_in": [
        "machine_and_scales('days').tell(name='Yard tractor', wheelbase='1.65 m', unit='kg')"
        ".keep()\nafter(readings_in('days'), "
        "lambda p: p.put_in(front='1019', rear='700', setup='loader frame + bucket'))"
    ],
    "role_play": [
        "role_play()",
        "after(role_play(), lambda p: p.answer('About 190 kg off the front axle.'))",
    ],
    "setup_errors": ["setup_errors().switch(fuel=True, brakes=True)"],
    "slopes_stage": [
        "slopes_stage()",
        "after(slopes_stage(), "
        "lambda p: p.lock_in(front='+300 lb', rear='-400 lb', brakes='more'), "
        "lambda p: p.explain('The rear lost more.'), lambda p: p.free())",
    ],
    "sideways": ["sideways()", "sideways(gated=True)"],
    "strip_down": ["strip_down()"],
    "solve_reaction": [
        "solve_reaction()",
        "after(solve_reaction(), lambda p: p.solve('R', 'midpoint', '1'))",
    ],
    "strip_stage": [
        "strip_stage()",
        "after(strip_stage(), lambda p: p.lock_in(front='-460 lb'), "
        "lambda p: p.explain('It fell.'), lambda p: p.free())",
    ],
    "sure_more": ["sure_more()"],
    "sure_stage": [
        "sure_stage()",
        "after(sure_stage(), lambda p: p.lock_in(off='3 lb'), lambda p: p.weigh(40), "
        "lambda p: p.show_band(), lambda p: p.explain('They gather.'))",
    ],
    "tally": [
        VOTE,
        (
            f"after({VOTE}, lambda p: p.count(A=3, B=10, C=9), lambda p: p.count('second', "
            "A=1, B=3, C=18), lambda p: p.show_right())"
        ),
    ],
    "tire_stage": [
        "tire_stage()",
        "after(tire_stage(), lambda p: p.lock_in(pressure='+5 psi', reach='deeper'), "
        "lambda p: p.explain('It grew.'), lambda p: p.free())",
    ],
    "tractor_stage": [
        "tractor_stage()",
        "after(tractor_stage(), lambda p: p.lock_in(front='+448 lb', rear='-188 lb'), "
        "lambda p: p.explain('It rose.'), lambda p: p.free())",
    ],
    "weigh_day": ["weigh_day()", "after(weigh_day(gated=False), lambda p: p.invent())"],
    "weigh_record": ["weigh_record('none')", "weigh_record(day=weighing.demo_day())"],
    "worked_example": [
        "worked_example('front_gain')",
        "after(worked_example('front_gain'), lambda p: p.go(2), lambda p: p.check())",
    ],
}
SHEETS = 5
# Where something is told to be wrong on purpose, and the panel says so.
WRONG = ("nonsense", "5 m")
# 640 px is 1280 at 200 %; 320 px is 1280 at 400 %: letters of a picture are then two and four times
# as large on the screen.
# The least size of them, in px of the page, goes with each.
LOOKS = {
    "light": {},
    "dark": {"dark": True},
    "large": {"large": True},
    "large_dark": {"large": True, "dark": True},
    "zoom_200": {"width": 640},
    "zoom_400": {"width": 320},
    "zoom_400_dark": {"width": 320, "dark": True},
}
PICTURED = ("dark", "zoom_400_dark")  # kept for people to look at
LETTERS = {
    "light": 10.5,
    "dark": 10.5,
    "large": 20,
    "large_dark": 20,
    "zoom_200": 9.5,
    "zoom_400": 7.5,
    "zoom_400_dark": 7.5,
}


def shared_out():
    """Every panel of the package on one of a few notebooks, about as many on each."""
    books = [[] for _ in range(SHEETS)]
    for name in sorted(set(panels.__all__) - TOOLS):
        min(books, key=len).extend(SHOWN.get(name, [f"{name}()"]))
    return {f"panels_{at}": cells for at, cells in enumerate(books, 1)}


BOOKS = shared_out()


@pytest.fixture(scope="module")
def bench(browser, tmp_path_factory):
    """JupyterLab on a folder of notebooks that hold the panels alone."""
    axe.script()
    folder = tmp_path_factory.mktemp("accessibility")
    (folder / "root").mkdir()
    for name, cells in BOOKS.items():
        write_notebook(folder / "root" / f"{name}.ipynb", START, *cells)
    running = start_lab(browser, folder / "root", as_start_does(folder / "home"))
    yield running
    running.stop()


@pytest.fixture(scope="module", params=BOOKS)
def sheet(request, bench):
    """One of the notebooks, open and run; its tests share it."""
    with bench.open(f"{request.param}.ipynb", height=3000) as sheet:
        sheet.name = request.param
        sheet.only_notebook()
        # JupyterLab leaves cells that nobody sees unfinished until they are scrolled to.
        sheet.page.add_style_tag(content=".jp-Notebook *{content-visibility:visible!important}")
        sheet.run_all()
        assert sheet.errors() == []
        sheet.page.wait_for_function(
            "(panels) => [...document.querySelectorAll('.lv-panel')].filter((el) => "
            "!el.parentElement.closest('.lv-panel')).length === panels",
            arg=len(BOOKS[request.param]) + 1,
        )
        yield sheet


def put_on(sheet, look):
    """Give the page a look and wait until it stands."""
    page, told = sheet.page, {"width": 1280, "dark": False, "large": False, **LOOKS[look]}
    page.set_viewport_size({"width": told["width"], "height": 3000})
    page.emulate_media(color_scheme="dark" if told["dark"] else "light")
    page.wait_for_function(
        "(light) => document.body.dataset.jpThemeLight === light", arg=str(not told["dark"]).lower()
    )
    page.get_by_label("Large type (projector)").set_checked(told["large"])
    page.evaluate(AT_REST)
    page.evaluate(
        "() => new Promise(done => setTimeout(done, 450))"
    )  # the page's script looks a second time after 400 ms
    return page


def faults(page, look):
    """What is wrong with the panels of a page, by what was looked at; nothing where all is well."""
    found, controls = axe.check(page, ".lv-panel"), page.evaluate(CONTROLS)
    pale, edges = page.evaluate(CONTRAST), page.evaluate(EDGES)
    letters = page.evaluate(SMALL)
    told = {
        "axe": axe.short(found["violations"]),
        "axe, undecided": axe.short(found["incomplete"]),
        "axe, not run": sorted(
            {"color-contrast", "label", "button-name", "target-size"} - set(found["passes"])
        ),
        "trouble": [
            text for text in page.evaluate(TROUBLE) if not any(word in text for word in WRONG)
        ],
        "too wide": page.evaluate(OVERFLOW),
        "cut": page.evaluate(CUT, "400" not in look),
        "crowded": page.evaluate(CROWDED),
        "words": page.evaluate(WORDS),
        "letters": [letters] if letters < LETTERS[look] else [],
        "pale": [pale] if pale[0] < 4.5 else [],
        "edges": [edges] if edges[0] < 3 else [],
        "small": [
            (one["what"], one["width"], one["height"])
            for one in controls
            if min(one["width"], one["height"]) < 23.9
        ],
        # A box for one line of text is no taller than a few lines of the largest type.
        "tall": [
            (one["what"], one["height"])
            for one in controls
            if one["what"].startswith(("<input", "<select")) and one["height"] > 130
        ],
        "keys": [one["what"] for one in controls if not one["keys"]],
    }
    return {name: wrong for name, wrong in told.items() if wrong}


@pytest.mark.parametrize("look", LOOKS)
def test_nothing_is_lost_in_any_look(sheet, look):
    """axe-core finds nothing; nothing is too wide, cut, crowded, tiny or pale; every control has
    room to hit it.
    """
    page = put_on(sheet, look)
    if look in PICTURED:
        for at, panel in enumerate(page.locator(".lv-panel").all()):
            panel.screenshot(path=str(PICTURES / f"{sheet.name}_{at:02d}_{look}.png"))
    assert faults(page, look) == {}
    assert sheet.errors() == []


def test_every_control_has_a_name_of_its_own(sheet):
    """By the standard's rules; twice the same name only for choices of two named groups."""
    for controls in put_on(sheet, "light").evaluate(NAMES):
        assert [one["what"] for one in controls if not one["name"]] == []
        assert [one["what"] for one in controls if one["radio"] and not one["group"]] == []
        assert [one["what"] for one in controls if int(one["order"] or 0) > 0] == []
        names = Counter((one["role"], one["group"], one["name"]) for one in controls)
        assert [name for name, times in names.items() if times > 1] == []


def before(one, two):
    """Whether a reader meets this place before that one: higher up, or to the left in the same
    line, or in a column further left.
    """
    if one["bottom"] <= two["top"] + 4:
        return True
    return (
        one["left"] <= two["left"] + 4
        if two["bottom"] > one["top"] + 4
        else one["right"] <= two["left"] + 4
    )


@pytest.mark.parametrize("look", ["light", "large_dark"])
def test_the_tab_key_stops_at_every_control_in_the_order_of_reading(sheet, look):
    """Each stop is reached once, in the order in which things stand; it shows, and nothing covers
    it; no panel holds the keyboard.
    """
    page = put_on(sheet, look)
    for at in range(page.locator(".lv-panel").count()):
        stops, met = page.evaluate(STOPS, at), []
        for _ in stops:
            page.keyboard.press("Tab")
            met.append(page.evaluate(FOCUS))
        assert [stops[i] for i in range(len(stops)) if i not in [one["at"] for one in met]] == []
        assert [
            (one["what"], two["what"])
            for one, two in itertools.pairwise(met)
            if not before(one, two)
        ] == []
        assert [
            (one["what"], one["line"], one["ratio"])
            for one in met
            if one["line"] < 2 or one["ratio"] < 3 or one["covered"]
        ] == []
        if met:
            page.keyboard.press("Tab")
            assert page.evaluate(FOCUS)["at"] == -1


NUMBER = re.compile(r"(?<![A-Za-z\d.])\d[\d\u202f]*(?:\.\d+)?(?![\d.]*(?:st|nd)\b)")


def numbers(text):
    """The numbers in a text, each with how finely it is shown."""
    return [
        (float(found.replace("\u202f", "")), 0.5 * 10.0 ** -len(found.partition(".")[2]))
        for found in NUMBER.findall(text)
    ]


@pytest.mark.parametrize("look", ["light", "zoom_400", "large"])
def test_a_picture_says_its_numbers_in_words(sheet, look):
    """Every number written into a picture, but for the scales at its edges, is in its title or
    description, as fine or finer.
    """
    for picture in put_on(sheet, look).evaluate(DRAWN):
        assert picture["role"] == "img" and len(picture["name"]) > 20
        told = [value for value, _ in numbers(picture["name"])]
        lost = [
            words
            for words in picture["words"]
            for value, half in numbers(words)
            if not any(abs(value - one) <= half * 1.001 for one in told)
        ]
        assert lost == [], picture["name"]


def test_what_is_planted_is_found(sheet):
    """The checks can fail: each fault put into a panel is found, and gone when it is taken out."""
    page = put_on(sheet, "light")
    planted = {
        "axe": '<input style="width:60px;height:30px">',
        "pale": '<p style="color:#999">pale words on paper</p>',
        "too wide": '<div style="width:3000px;height:9px"></div>',
        "cut": '<p style="width:30px;overflow:hidden;white-space:nowrap">cut short here</p>',
        "small": (
            '<button style="width:12px;height:12px;min-height:0!important;padding:0">x</button>'
        ),
        "tall": '<input aria-label="tall" style="width:90px;height:400px!important">',
        "words": (
            '<div class="lv-pic"><svg viewBox="0 0 90 40" role="img" aria-label="two"><text '
            'x="2" y="20">one</text><text x="4" y="22">two</text></svg></div>'
        ),
    }
    for name, fault in planted.items():
        page.evaluate(
            """(fault) => { const box = document.createElement('div'); box.id = 'planted';
                box.innerHTML = fault;
            document.querySelectorAll('.lv-panel')[1].append(box); }""",
            fault,
        )
        assert name in faults(page, "light"), name
        page.evaluate("() => document.getElementById('planted').remove()")
    page.evaluate(
        "() => document.querySelectorAll('.lv-panel')[1].insertAdjacentHTML('beforeend', "
        "'<button id=\"planted\"></button>')"
    )
    assert [one for one in page.evaluate(NAMES)[1] if not one["name"]]
    page.evaluate("() => document.getElementById('planted').remove()")
    assert faults(page, "light") == {}


# Whole pages of ours ----------------------------------------------------------------------


@pytest.fixture(scope="module")
def own_pages(tmp_path_factory):
    """Every page that is written as a file of its own."""
    folder = tmp_path_factory.mktemp("pages")
    customer_page(demo_day(), folder / "customer.html", system="kg")
    ours = replace(demo_day(), invented=False)
    customer_page(ours, folder / "customer_lb.html", dealer="Valley Yard", mower="60 in deck")
    (folder / "offline.html").write_text(offline_page.page(), "utf-8")
    demo = marking.invented_class(folder / "class")
    _, sheets = demo.mark("Trial")
    found = {
        "class": sheets / "class.html",
        "feedback": next(sheets.glob("hand_back/*.html")),
        "key": next(folder.rglob("*_key.html")),
        "on_paper": next(folder.rglob("*_on_paper.html")),
    }
    return {name: found.get(name, folder / f"{name}.html") for name in WHOLE}


WHOLE = ("customer", "customer_lb", "offline", "class", "feedback", "key", "on_paper")


@pytest.mark.parametrize("width", [1280, 320])
@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize("name", WHOLE)
def test_a_whole_page_of_ours_has_no_fault(browser, own_pages, name, dark, width):
    """Title, language, landmarks and headings too; nothing to scroll sideways on a narrow page."""
    context = browser.new_context(
        viewport={"width": width, "height": 900},
        color_scheme="dark" if dark else "light",
        bypass_csp=True,
    )
    page = context.new_page()
    page.goto(own_pages[name].as_uri())
    if name == "offline":
        say_on_stage(page.locator("#stage"), {"front_said": "+100", "rear_said": "-50"})
        page.wait_for_timeout(1200)
    found = axe.check(page, "html", tags=(*axe.TAGS, "best-practice"))
    assert axe.short(found["violations"]) == []
    # On what a word in a picture or a scrolled table stands the checker cannot always tell: that is
    # measured for every word.
    assert axe.short(one for one in found["incomplete"] if one["rule"] != "color-contrast") == []
    pale = page.evaluate(CONTRAST, "main")
    assert pale[0] >= 4.5, pale
    passed = {"document-title", "html-has-lang", "landmark-one-main"}
    # A stamp across every word leaves the checker without a judgment of any.
    assert passed | (set() if name == "customer" else {"color-contrast"}) <= set(found["passes"])
    assert page.evaluate("() => document.documentElement.scrollWidth <= innerWidth")
    context.close()
