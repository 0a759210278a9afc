"""The class site in a real browser: from another host name over plain http, under a policy that
forbids all else.

CLASS_SITE names a folder that `start.py site` built; without it one is built here, which takes
minutes.
"""

import base64
import contextlib
import os
import random
import re
import shutil
import subprocess
import sys
import time
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from classroom import TELL, asked_by_pages, classroom
from hands import (
    CAN_LOCK_IN,
    LOCK_IN,
    PANEL,
    example_of,
    go_through,
    open_stages,
    read_why,
    rest,
    say_on_stage,
)
from lab import CURRENT, ROOT, WATCH

from leverarm import Attachment, Tractor, demo_tractor, predict
from leverarm.marking import practice_ticket
from leverarm.marking.assignment import file_text
from leverarm.quantities import to_unit

# The way through the picture of lesson 03, in code.
OPEN_PIVOTS = """stage.lock_in(answer='stay')
stage.draw_body(panels.exercise('body_bucket', 1).problem.answer)
stage.explain('It stays.')
stage.free()"""
LESSONS = sorted(
    path.stem
    for path in (ROOT / "notebooks").glob("*.ipynb")
    if path.stem not in ("class_view", "instructor_desk", "trainer_session")
)
TICKET = ("my ticket.txt", file_text(practice_ticket()).encode())
# Pictures of the page that did not come, and how many there are.
PICTURES = f"""async () => {{
  const book = {CURRENT}.content.node, bad = [];
  const all = [...book.querySelectorAll('.jp-RenderedMarkdown img')];
  for (const img of all) {{
    img.loading = 'eager';
    try {{ await img.decode(); }} catch {{ bad.push(img.src); }}
    if (!img.alt) bad.push('no words: ' + img.src);
  }}
  return [bad, all.length, [...book.querySelectorAll('svg[role=img]')].filter(svg =>
      svg.querySelector('title,desc') || svg.ariaLabel).length];
}}"""
# Whether each picture of the notebook has been read down to its why.
HOW_FAR = """from leverarm.panels.on_stage import OnStage
print(*{id(one): one.explained for one in list(globals().values())
        if isinstance(one, OnStage)}.values())"""
REPLIED = re.compile("[Rr]ight|[Nn]ot yet|[Nn]ot so|[Tt]ry|[Uu]nit")
GRAPHS = """from leverarm import graphs
shown = [graphs.histogram([1.0, 1.1, 1.2] * 30)]
print(sum('role="img"' in each._repr_html_() and len(each.alt_text) > 10 for each in shown),
      end=" ")
try:
    graphs.figure(3, 2)
except Exception as error:
    print(error)"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """A built class site."""
    given = os.environ.get("CLASS_SITE")
    if given:
        assert Path(given, "class_site.json").is_file(), f"CLASS_SITE={given} is no class site"
        return Path(given)
    if not (shutil.which("node") and shutil.which("npm")):
        pytest.skip("no Node.js with npm to build a class site, and CLASS_SITE names none")
    goal = tmp_path_factory.mktemp("class") / "site"
    told = subprocess.run(
        [sys.executable, ROOT / "src" / "start.py", "site", goal], capture_output=True, text=True
    )
    if re.search("could not be fetched|needs Node.js", told.stderr):
        pytest.skip(told.stderr.strip())
    assert told.returncode == 0, told.stderr
    return goal


@pytest.fixture(scope="module")
def site(browser, folder):
    with classroom(browser, folder) as running:
        yield running


def test_a_slider_moves_text_and_picture_and_nothing_leaves_this_host(site):
    with site.open("02_the_tractor") as (sheet, asked):
        assert (
            sheet.page.evaluate("() => window.isSecureContext") is False
        )  # plain http, another name
        assert sheet.errors() == []
        stage = sheet.page.locator(".st-here").first
        say_on_stage(stage, {"front_said": "+260", "rear_said": "-50"})
        read_why(stage, "The front gained more.")
        picture = stage.locator("svg:visible")
        before = picture.evaluate("el => el.outerHTML")
        stage.locator("input[type=range][data-moves=overhang]").press("ArrowRight")
        assert picture.evaluate("el => el.outerHTML") != before
        assert "+452 lb" in picture.text_content()
        assert f"Edition {site.edition}." in sheet.cells()[0][1]
        assert site.elsewhere(asked) == [] and len(asked) > 50


# The page of a lesson: a picture of its own, the lesson behind it.
OPEN, WAIT = "#open:not([disabled])", "#wait"


@pytest.mark.parametrize("name", [name for name in LESSONS if name[:2] not in ("00", "12", "ho")])
def test_the_first_picture_moves_before_python_is_there(site, name):
    with site.visit(f"lesson/{name}.html") as (sheet, asked):
        stage = sheet.page.locator("#stage")
        picture = stage.locator("svg:visible").first
        assert picture.get_attribute("aria-label") or picture.locator("title, desc").count()
        slider = stage.locator("input[type=range]:visible")
        if slider.count():
            before = stage.inner_html()
            slider.first.press("ArrowRight")
            assert stage.inner_html() != before
        assert sheet.page.locator("#open").is_disabled()
        assert (
            "about" in sheet.page.locator(WAIT).inner_text()
            or "fetched" in sheet.page.locator(WAIT).inner_text()
        )
        assert site.elsewhere(asked) == [] and sheet.console_errors == []


def test_the_lesson_is_made_ready_behind_its_picture_and_opens_by_a_tap(site):
    with site.visit("lesson/02_the_tractor.html", has_touch=True) as (sheet, _):
        sheet.page.locator(OPEN).wait_for()
        assert sheet.page.locator(WAIT).inner_text() == "The lesson is ready."
        sheet.page.locator(OPEN).tap()
        frame = sheet.page.frame_locator("iframe")
        frame.get_by_role("heading", name="02 · What will each axle").wait_for()
        assert not sheet.page.locator("main").is_visible()
        top = frame.locator(".jp-WindowedPanel-outer").evaluate("el => el.scrollTop")
        assert top == 0, "the page stays at its top"
        sheet.picture("class_site_lesson_opened")
        sheet.page.go_back()
        sheet.page.locator("main").wait_for()
        assert sheet.console_errors == []


def test_what_was_set_in_the_first_picture_goes_on_in_the_lesson(site):
    """Typed before Python is there, in the units chosen there; locked in in the lesson."""
    with site.visit("lesson/02_the_tractor.html") as (sheet, _):
        sheet.page.get_by_label("kilograms, meters, kPa").check()
        box = "input[type=text][data-moves=front_said]"
        sheet.page.locator(f"#stage {box}").fill("+77")
        sheet.page.locator(f"#stage {box}").press("Tab")
        sheet.page.locator(OPEN).click()
        frame = sheet.page.frame_locator("iframe")
        inside = frame.locator(f".st-here {box}").first
        inside.wait_for()
        sheet.page.wait_for_function(
            "(el) => el.value === '77' || el.value === '+77'", arg=inside.element_handle()
        )
        lesson = sheet.page.frames[1]
        lesson.evaluate(WATCH)
        lesson.wait_for_timeout(500)
        assert float(lesson.evaluate(TELL, "print(stage.state['front_said'])")) == 77
        assert lesson.evaluate("window.kernelErrors") == [] and sheet.console_errors == []


def test_a_lock_before_python_is_there_says_where_it_counts(site):
    with site.visit("lesson/02_the_tractor.html") as (sheet, _):
        stage = sheet.page.locator("#stage")
        for name in ("front_said", "rear_said"):
            box = stage.locator(f"input[type=text][data-moves={name}]")
            box.fill("+100")
            box.press("Tab")
        stage.get_by_role("button", name="Lock in").click()
        stage.get_by_text("locked in inside the lesson").wait_for()


def test_a_lesson_opens_again_without_a_network(browser, folder):
    with (
        classroom(browser, folder, copies=True, host="localhost") as here,
        here.visit("lesson/02_the_tractor.html") as (sheet, _),
    ):
        sheet.page.locator(OPEN).wait_for()
        sheet.page.reload()  # from now on every request passes through what keeps the files
        sheet.page.locator(OPEN).wait_for()
        sheet.page.context.set_offline(True)
        sheet.page.reload()
        sheet.page.locator("#stage svg").first.wait_for()
        sheet.page.locator(OPEN).wait_for()
        assert sheet.page.locator(WAIT).inner_text() == "The lesson is ready."


def test_two_thousand_moves_leave_picture_and_python_right_and_nothing_behind(site):
    with site.open("02_the_tractor") as (sheet, _):
        stage = sheet.page.locator(".st-here").first
        say_on_stage(stage, {"front_said": "+260", "rear_said": "-50"})
        read_why(stage, "The front gained more.")
        slider = stage.locator("input[type=range][data-moves=overhang]")
        slider.focus()
        count = "() => document.getElementsByTagName('*').length"
        before, nodes = float(slider.input_value()), sheet.page.evaluate(count)
        for at in range(2000):  # up and down by turns, twenty moves each way
            sheet.page.keyboard.press("ArrowRight" if at // 20 % 2 else "ArrowLeft")
        sheet.page.keyboard.press("ArrowRight")
        now = float(slider.input_value())
        assert now == before + 1 and abs(sheet.page.evaluate(count) - nodes) < 20
        sheet.page.wait_for_timeout(500)
        told = sheet.page.evaluate(TELL, "print(stage.state['overhang'])")
        assert float(told) == now and sheet.errors() == []


def test_the_first_choice_on_a_fresh_page_can_be_locked_in(site):
    """By the mouse: what was never chosen must be unchosen for Python and for the page alike."""
    with site.open("05_weigh_day") as (sheet, _):
        go_through(sheet.page.locator(".st-here:visible").first)
        waiting = sheet.page.locator(PANEL).filter(has=sheet.page.locator(CAN_LOCK_IN)).first
        waiting.evaluate("panel => panel.classList.add('first-gate')")  # it will not wait for long
        panel = sheet.page.locator(".first-gate")
        for group, _ in questions(panel):
            assert group.get_by_role("radio", checked=True).count() == 0
        predict_first(panel)
        panel.get_by_role("button", name="Show the readings").click()
        panel.get_by_role("button", name="New prediction").wait_for()
        sheet.picture("class_site_first_choice")
        assert sheet.errors() == []
        # Again on the same page: everything is unchosen, and the first choice still counts.
        panel.get_by_role("button", name="New prediction").click()
        panel.locator(CAN_LOCK_IN).wait_for()
        for group, _ in questions(panel):
            group.and_(sheet.page.locator(":not(:has(:checked))")).wait_for()
        predict_first(panel)


def questions(panel):
    """The radio buttons and the box of every question that must be predicted."""
    boxes = panel.get_by_role("textbox", name=re.compile("by how much")).all()
    named = [box.evaluate("box => box.labels[0].textContent").split(", by how")[0] for box in boxes]
    assert named
    return [
        (panel.get_by_role("radiogroup", name=name, exact=True), box)
        for name, box in zip(named, boxes)
    ]


def predict_first(panel):
    """Click the first choice of every question, give an amount, and lock in."""
    for group, box in questions(panel):
        group.get_by_role("radio").first.click()
        box.fill(example_of(box))
        box.press("Tab")
    panel.get_by_role("button", name=LOCK_IN).click()
    panel.get_by_role("button", name="Show the readings").wait_for()


def test_a_question_of_choices_takes_its_first_choice(site):
    with site.open("03_derive_it") as (sheet, _):
        sheet.ask(OPEN_PIVOTS)
        panel = sheet.page.locator(PANEL).filter(
            has=sheet.page.get_by_role("radiogroup", name="Your answer", exact=True)
        )
        first = panel.first.get_by_role("radiogroup", name="Your answer", exact=True)
        assert first.get_by_role("radio", checked=True).count() == 0
        before = panel.first.inner_text()
        first.get_by_role("radio").first.click()
        panel.first.get_by_role("button", name="Check", exact=True).click()
        sheet.page.wait_for_function(
            "([panel, old]) => panel.innerText !== old", arg=[panel.first.element_handle(), before]
        )
        sheet.picture("class_site_first_answer")
        after = panel.first.inner_text()
        assert "choose" not in after.replace(before, "").lower() and sheet.errors() == []
        assert re.search(r"[Rr]ight|[Nn]ot yet|[Nn]ot so|try", after), after


@pytest.mark.parametrize("name", LESSONS)
def test_every_notebook_runs_through_with_all_its_pictures(site, name):
    with site.open(name) as (sheet, asked):
        assert sheet.errors() == [] and site.elsewhere(asked) == []
        missing, fixed, live = sheet.page.evaluate(PICTURES)
        assert missing == [] and fixed == len(
            re.findall(r"!\[[^]]+\]\(", (ROOT / "notebooks" / f"{name}.ipynb").read_text("utf-8"))
        )
        # Every lesson begins with a picture that moves; a problem shows its own.
        assert live > 0


@pytest.mark.parametrize("name", [name for name in LESSONS if re.match("0[1-9]|1[0-2]", name)])
def test_every_lesson_is_predicted_committed_chosen_and_answered(site, name):
    """By keys and mouse, one page a lesson: what is said counts for Python, and it replies.

    Only the homework keeps a file: its download and what is brought back are tried below.
    """
    with site.open(name) as (sheet, _):
        open_stages(sheet.page)
        rest(sheet.page)
        said = sheet.page.evaluate(TELL, HOW_FAR)
        assert said.split() and set(said.split()) == {"True"}, said
        sheet.read_down()
        panels = sheet.page.locator(PANEL).filter(
            has=sheet.page.get_by_role("button", name="Check", exact=True)
        )
        replies = []
        for role in ("textbox", "radiogroup"):
            field = sheet.page.get_by_role(role, name=re.compile("^Your answer"))
            panel = panels.filter(has=field).first
            if not panel.count():
                continue
            panel.scroll_into_view_if_needed()
            if role == "textbox":
                panel.get_by_role("textbox", name=re.compile("^Your answer")).fill("12")
                sheet.page.keyboard.press("Tab")
            else:
                panel.get_by_role("radio").first.click()
            before = panel.inner_text()
            panel.get_by_role("button", name="Check", exact=True).click()
            sheet.page.wait_for_function(
                "([panel, old]) => panel.innerText !== old", arg=[panel.element_handle(), before]
            )
            replies.append(panel.inner_text())
        assert replies and all(REPLIED.search(reply) for reply in replies), replies
        assert sheet.errors() == []


def test_every_kind_of_graph_is_drawn_live_and_what_is_not_here_says_where(site):
    with site.open("00_start_here") as (sheet, _):
        told = sheet.page.evaluate(TELL, GRAPHS)
        assert told.startswith("1 ") and "open this page in the whole workbook" in told
        assert "Nothing can be installed in this browser" in sheet.page.evaluate(
            TELL, "%pip install numpy"
        )


def test_the_policy_stops_a_request_elsewhere(site):
    with site.visit("index.html") as (sheet, _):
        told = sheet.page.evaluate(
            "() => fetch('http://other.test/').then(() => 'went', (e) => String(e))"
        )
        assert "Failed to fetch" in told or "Refused" in told
        assert any(
            "Content Security Policy" in error or "Content-Security-Policy" in error
            for error in sheet.console_errors
        )


def test_the_browsers_own_log_knows_of_no_request_to_another_host(browser, folder, tmp_path):
    log = tmp_path / "net.json"
    with (
        classroom(browser, folder, f"--log-net-log={log}") as logged,
        logged.open("02_the_tractor"),
    ):
        pass
    here = urlsplit(logged.url).netloc
    assert asked_by_pages(log) == {(here, here)}


def bring(sheet, *files):
    """Choose files with the homework's own button."""
    with sheet.page.expect_file_chooser() as chosen:
        sheet.page.get_by_role("button", name="Bring a ticket or saved answers").first.click()
    chosen.value.set_files(
        [{"name": name, "mimeType": "text/plain", "buffer": data} for name, data in files]
    )


def open_ticket(sheet, *files):
    """The homework with the ticket open, and these files brought along."""
    panel = sheet.page.locator(".lv-panel:has-text('Look again for files')").first
    bring(sheet, TICKET, *files)
    panel.get_by_text("is here").wait_for()
    if files:
        panel.get_by_text("1 answer is added").wait_for()
    panel.get_by_role("button", name="Open this ticket").click()
    panel.get_by_role("button", name="Check").wait_for()
    return panel


def empty(box):
    """Wait until a box is: new numbers empty it, and Python may be late."""
    while box.input_value():
        box.page.wait_for_timeout(100)


def answer(panel, typed):
    """Type an answer and check it; the link that saves it is there, and is for it."""
    before = panel.locator(".lv-answers").all_inner_texts() and panel.locator(
        ".lv-answers"
    ).get_attribute("data-stamp")
    box = panel.locator("input[type=text]:visible").first
    empty(box)
    box.fill(typed)
    box.press("Tab")
    panel.get_by_role("button", name="Check").click()
    panel.locator(f".lv-answers:not([data-stamp='{before or ''}'])").wait_for()


def save(sheet, panel):
    """Save a copy; its bytes."""
    with sheet.page.expect_download() as saved:
        panel.get_by_role("link", name="Save a copy").click()
    return Path(saved.value.path()).read_bytes()


def asks_on_closing(sheet):
    """Whether the page asks when its tab is closed, once the notebook itself is saved; it stays
    open where it asks.
    """
    asked = []
    sheet.page.wait_for_function(f"() => !{CURRENT}.context.model.dirty")
    sheet.page.once("dialog", lambda dialog: (asked.append(dialog.type), dialog.dismiss()))
    sheet.page.close(run_before_unload=True)
    end = time.monotonic() + 30
    while not asked and not sheet.page.is_closed() and time.monotonic() < end:
        with contextlib.suppress(Exception):
            sheet.page.wait_for_timeout(100)
    return asked == ["beforeunload"] and not sheet.page.is_closed()


def test_homework_goes_home_by_a_download_and_comes_back_in_a_later_visit(site):
    with site.open("homework") as (sheet, _):
        panel = open_ticket(sheet)
        answer(panel, "12.5 kg")
        assert panel.get_by_text("in this tab only, until you save a copy").is_visible()
        kept = save(sheet, panel)
        assert (
            base64.b64decode(
                panel.get_by_role("link", name="Save a copy").get_attribute("href").split(",")[1]
            )
            == kept
        )
        assert b"12.5 kg" in kept
    with site.open("homework") as (sheet, _):
        panel = open_ticket(sheet, ("answers (1).txt", kept))
        panel.get_by_role("link", name="Save a copy").wait_for()
        chosen = panel.locator("select:visible").first.inner_text().replace("\xa0", " ")
        assert re.search(r"1 try so far|: right", chosen)
        assert not asks_on_closing(sheet), "what was brought along is in a file already"


def test_closing_the_tab_asks_while_an_answer_is_not_saved_and_only_then(site):
    with site.open("homework") as (sheet, _):
        panel = open_ticket(sheet)
        answer(panel, "12.5 kg")
        save(sheet, panel)
        panel.get_by_role("button", name="New numbers, try again").click()
        answer(panel, "13.5 kg")
        assert asks_on_closing(sheet)
        save(sheet, panel)
        assert not asks_on_closing(sheet) and sheet.page.is_closed()


def test_a_lesson_without_answers_closes_without_a_question(site):
    with site.open("01_plank_by_hand") as (sheet, _):
        sheet.page.get_by_role("button", name="Check").first.click()
        assert not asks_on_closing(sheet) and sheet.page.is_closed()


def test_a_traceback_shows_our_lines(site):
    with site.open("01_plank_by_hand") as (sheet, _):
        told = sheet.page.evaluate(
            TELL,
            "from leverarm import Tractor; Tractor('x', wheelbase='1 kg', front='1 kg', "
            "rear='1 kg')",
        )
        plain = re.sub("\x1b\\[[0-9;]*m", "", told)
        assert "wheelbase" in plain and "_wheelbase(wheelbase" in plain


def test_the_front_page_leads_to_every_notebook(site):
    with site.visit("index.html") as (sheet, asked):
        links = sheet.page.evaluate("() => [...document.querySelectorAll('a')].map(a => a.href)")
        assert len(links) >= 12 and all(link.startswith(site.url) for link in links)
        assert site.elsewhere(asked) == []
        for link in links:
            name = re.search(r"path=(.+)", link)
            place = site.folder / "files" / name[1] if name else site.folder / link[len(site.url) :]
            assert place.is_file(), link


def test_the_built_site_holds_no_key_no_plan_and_no_page_for_those_who_teach(folder):
    """By name, and by what the file list of the site itself tells a browser."""
    served = {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}
    lessons = {name for name in served if name.startswith("files/lessons/")}
    assert "files/lessons/glossary.md" in lessons
    assert "files/lessons/worksheets/worksheet_02_kg_letter.pdf" in lessons
    secret = re.compile(
        r"key_|poll_questions|/\d\d_\w+\.md|four_periods|trainer|instructor|class_s"
    )
    assert [name for name in lessons if secret.search(name)] == []
    listed = "".join(path.read_text("utf-8") for path in folder.glob("api/contents/**/all.json"))
    assert "glossary.md" in listed and not re.search(
        r"key_(a4|letter)|poll_questions|_desk\.ipynb|trainer_session", listed
    )


def test_the_page_without_python_agrees_with_the_package(browser, folder):
    context = browser.new_context()
    page, asked = context.new_page(), []
    page.on("request", lambda request: asked.append(request.url))
    page.goto((folder / "offline_lesson_02.html").as_uri())
    for name, change in (("front", "+110"), ("rear", "down 20")):
        box = page.locator(f"input[type=text][data-moves={name}_said]")
        box.fill(change)
        box.press("Tab")
    page.get_by_role("button", name="Lock in").click()
    page.get_by_label("What did you see?").fill("The front gained more.")
    page.get_by_role("button", name="Show why").click()
    page.get_by_role("button", name="Now move it").click()
    page.locator(".st-more summary").click()
    draw, plot = random.Random(20), demo_tractor()
    for _ in range(40):
        given = {
            "weight": draw.randint(10, 400),
            "overhang": draw.randint(0, 70),
            "wheelbase": draw.randint(56, 77),
        }
        for name, value in given.items():
            box = page.locator(f"input[type=text][data-moves={name}]")
            box.fill(str(value))
            box.press("Tab")
        on = predict(
            Tractor("plot", f"{given['wheelbase']} in", plot.front_kg, plot.rear_kg),
            Attachment("bucket", f"{given['weight']} lb", f"{given['overhang']} in"),
        )
        shown = [cell.inner_text() for cell in page.locator(".st-more td:nth-child(3)").all()][:3]
        wanted = (to_unit(kg, "weight", "lb") for kg in (on.front_kg, on.rear_kg, on.total_kg))
        assert [float(re.sub(r"[^\d.]", "", each)) for each in shown] == pytest.approx(
            list(wanted), abs=0.0501
        )
    assert all(url.startswith("file:") for url in asked)
    context.close()
