"""Python is started afresh in the middle of a lesson: the page says so, and nothing that was kept
is lost.
"""

import re
import shutil

import pytest
from lab import CURRENT

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
