"""Python is started afresh in the middle of a lesson, or a page is closed and opened again: it says
what to press, and nothing that was kept is lost.
"""

import re
import shutil

import pytest
from lab import CURRENT, ROOT

from leverarm.weighing.day_file import FOLDER, days_of, files_at

RESTART = f"async () => {{ await {CURRENT}.sessionContext.restartKernel(); }}"
KILL = f"""async () => {{
  const kernel = {CURRENT}.sessionContext.session.kernel;
  const gone = new Promise(done => kernel.statusChanged.connect(
      (_, status) => {{ if (status.includes('restarting')) done(); }}));
  kernel.requestExecute({{code: 'import os, signal; os.kill(os.getpid(), signal.SIGKILL)'}});
  await gone;
}}"""
TELL = (
    f"async (code) => {{ await "
    f"{CURRENT}.sessionContext.session.kernel.requestExecute({{code}}).done; }}"
)
IDLE = f"() => {CURRENT}.sessionContext.session.kernel.status === 'idle'"
ADD = "Write this weighing down"
LESSON = "notebooks/05_weigh_day.ipynb"
PAGES = sorted(path.stem for path in (ROOT / "notebooks").glob("*.ipynb"))
SAVE = f"async () => {{ await {CURRENT}.context.save(); }}"
# The outputs that are not drawn anew by Python: what stands in each, once nothing is loading.
AT_REST = f"""() => {{
  const told = [...{CURRENT}.node.querySelectorAll('.jp-OutputArea-output')]
    .map(each => each.innerText.trim());
  return told.some(text => text.startsWith('Loading widget')) ? null : told;
}}"""
TOP = "() => document.querySelector('.jp-WindowedPanel-outer').scrollTop"
TO_TOP = "() => { document.querySelector('.jp-WindowedPanel-outer').scrollTop = 0; }"
NO_WORDS = re.compile("Error displaying|not found|Loading widget|Traceback")
BACK = "This part comes back when you press “{}” at the top."


@pytest.mark.parametrize("how", [RESTART, KILL], ids=["restarted", "killed"])
def test_a_lesson_goes_on_after_python_began_afresh(lab, how):
    record = lab.root / "notebooks" / FOLDER
    shutil.rmtree(record, ignore_errors=True)

    def rows():
        return [row for day in days_of(files_at(record)) for row in day.rows]

    with lab.open(LESSON) as sheet:
        sheet.only_notebook()
        sheet.run_all()
        page = sheet.page
        saves(page)
        kept = rows()
        assert kept
        page.evaluate(how)
        page.wait_for_function(IDLE)
        if how == KILL:  # JupyterLab says so in a window of its own
            page.locator(".jp-Dialog .jp-mod-accept").click()
        # Before anything is run again the controls are there, and the page says that nobody hears
        # them.
        page.get_by_role("button", name=ADD).click()
        banner = page.get_by_role("alert").filter(has_text="Python does not answer").first
        banner.wait_for()
        assert "Run All Cells" in banner.inner_text()
        sheet.picture("restart_mid_lesson")
        sheet.run_all()
        page.wait_for_function("() => !document.querySelector('.lv-banner')")
        assert rows() == kept, "what was saved before is still there"
        saves(page)
        assert len(rows()) == 2 * len(kept)
        # What the click on a control that nobody hears leaves in the page's own log; JupyterLab
        # says so of a kernel that is gone.
        assert [
            each
            for each in sheet.errors()
            if not re.search("Cannot send|kernel|WebSocket", each, re.I)
        ] == []
    shutil.rmtree(record)


def saves(page):
    """Answer the picture, tell a machine, predict and read by the code twin; the button writes the
    weighing down.
    """
    page.evaluate(
        TELL,
        "stage.lock_in(weight='520 lb', overhang='40 in'); stage.explain('The rear went up.'); "
        "panels.machine_and_scales().tell(name='Yard tractor', wheelbase='65 in').keep(); "
        "own = day.panel; "
        "own.gate.lock_in(front='up 190 kg', rear='down 80 kg'); own.gate.reveal(); "
        "own.wheels.tell('front', '600'); own.wheels.tell('rear', '800')",
    )
    page.get_by_role("button", name=ADD).click()
    page.get_by_text("added to").first.wait_for()


def reopened(page):
    """What a page says that was saved, closed, and opened with a Python that knows nothing yet."""
    return page.wait_for_function(AT_REST).json_value()


@pytest.mark.parametrize("name", PAGES)
def test_a_page_opened_again_says_what_to_press(lab, name):
    """No error stands where a panel was; one press at the top brings every panel back."""
    path = f"notebooks/{name}.ipynb"
    with lab.open(path) as sheet:
        sheet.only_notebook()
        sheet.run_all()
        sheet.page.evaluate(SAVE)
    with lab.open(path) as sheet:
        page = sheet.page
        sheet.only_notebook()
        sheet.read_down()
        said = reopened(page)
        button = page.locator("button[data-commandlinker-command]").first
        back = BACK.format(button.inner_text())
        sheet.picture(f"reopened_{name}")
        assert back in said and not any(map(NO_WORDS.search, said)), said
        button.click()
        page.wait_for_function("() => document.querySelector('.lv-alive [data-answer]')")
        sheet.settled()
        sheet.read_down()
        said = reopened(page)
        assert back not in said and not any(map(NO_WORDS.search, said)), said
    shutil.copy(ROOT / path, lab.root / path)


def test_started_again_after_a_restart_a_page_stays_at_its_top(lab):
    with lab.open("notebooks/homework.ipynb") as sheet:
        page, start = sheet.page, "Start this page"
        for restarted in (False, True):
            if restarted:
                page.evaluate(RESTART)
                page.wait_for_function(IDLE)
                page.evaluate(TO_TOP)
            page.get_by_role("button", name=start).click()
            page.locator(".lv-alive [data-answer]").first.wait_for()
            sheet.settled()
            assert page.evaluate(TOP) == 0
            assert page.get_by_role("button", name=start).is_visible()


def test_two_windows_on_one_page(lab):
    """The second window takes up the panels of the first while Python runs; both answer."""
    # A page of its own: what it saves, no other test may find.
    path = "notebooks/two_windows.ipynb"
    shutil.copy(ROOT / "notebooks/02_the_tractor.ipynb", lab.root / path)
    with lab.open(path) as one:
        one.run_all()
        one.page.evaluate(SAVE)
        with lab.open(path) as other:
            other.read_down()
            assert not any(map(NO_WORDS.search, reopened(other.page)))
            other.run_all()
            assert not any(map(NO_WORDS.search, reopened(other.page)))
            for sheet in (one, other):
                sheet.page.locator(".lv-beat").first.dispatch_event("click")
                assert not sheet.page.locator(".lv-banner").count()
                assert sheet.errors() == []
    (lab.root / path).unlink()
