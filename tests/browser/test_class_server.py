"""A class server, set up by the commands of its page: two students, an instructor, and what each
can open of the others'.

It makes accounts on the machine, so it runs only where CLASS_SERVER asks for it
(tests/class_server.py).
"""

import json
import os
import pwd
import re
import shutil
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
import requests

sys.path.insert(0, str(Path(__file__).parents[1]))

if sys.platform.startswith("win"):
    pytest.skip("a class server needs Linux", allow_module_level=True)

from class_server import CALLED, PAGE, ROOT, SHOWN, TEACHER, commands, school, why_not

from leverarm.marking import Ticket, shown_code
from leverarm.marking.assignment import read_assignment
from leverarm.marking.demo import right_text
from leverarm.marking.homework import problem_for

ANN, BEN = f"{CALLED}01", f"{CALLED}02"
MINE = "Sums I did by myself"

DESK = """
import json
from leverarm.marking import Assignment, Desk
desk = Desk("workbook/notebooks/my_class")
desk.start(2)
work = Assignment("Week 3", ["front_gain", "rear_change"])
desk.write_assignment(work)
print(json.dumps([[ticket.code, ticket.key] for ticket in desk.tickets(work)]))
"""
MARKING = """
from leverarm.marking import Desk
result, _ = Desk("workbook/notebooks/my_class").mark("Week 3")
print([mark.score for mark in result.marks], [mark.tries for mark in result.marks],
      len(result.skipped))
"""
# What happens when this account looks: "open" with what is there, or why not.
LOOK = """
import os, sys
path = sys.argv[1]
try:
    print("open", os.listdir(path) if os.path.isdir(path) else open(path, "rb").read(60))
except OSError as why:
    print(type(why).__name__)
"""
LISTEN = """
import sys, time, zmq
ear, known, heard, end = zmq.Context().socket(zmq.SUB), set(), b"", time.monotonic() + 25
ear.subscribe(b"")
while time.monotonic() < end and b"190.4 kg" not in heard:
    rows = [row.split() for row in open("/proc/net/tcp").readlines()[1:]]
    mine = [row for row in rows if row[3] == "0A" and row[7] == sys.argv[1]]
    for port in {int(row[1].split(":")[1], 16) for row in mine} - known:
        known.add(port)
        ear.connect(f"tcp://127.0.0.1:{port}")
    if ear.poll(200):
        heard += b"".join(ear.recv_multipart())
print("listened to", len(known), "ports;", "heard it" if b"190.4 kg" in heard else "heard nothing")
"""
SPEAK = """
import time
from jupyter_client import KernelManager
manager = KernelManager(kernel_name="python3", transport=TRANSPORT)
manager.start_kernel()
client = manager.client()
client.start_channels()
client.wait_for_ready(60)
for _ in range(60):
    client.execute("print('190.4 kg')")
    time.sleep(0.2)
client.stop_channels()
manager.shutdown_kernel(now=True)
"""


@pytest.fixture(scope="module")
def server():
    """The class server, from the first command of the page to the last."""
    if reason := why_not():
        pytest.skip(reason)
    with school(2, SHOWN) as made:
        yield made
        people = list(made.people)
    assert not [name for name in people if name in {person.pw_name for person in pwd.getpwall()}], (
        "accounts were left"
    )


@pytest.fixture(scope="module")
def signed(server):
    """name -> a session with the hub, each with a server that runs."""
    sessions = {name: server.sign_in(name) for name in (ANN, BEN, TEACHER)}
    for name, session in sessions.items():
        assert session.signed_in, name
        server.open_server(session, name)
    return sessions


@pytest.fixture(scope="module")
def week(server, signed):
    """The instructor sets work and puts the assignment on the board; name -> ticket."""
    told = server.run_as(TEACHER, DESK)
    assert told.returncode == 0, told.stderr
    out = server.notebooks(TEACHER) / "my_class/hand_out/Week_3/Week_3.assignment.txt"
    server.run_as(
        TEACHER,
        "import shutil, sys; shutil.copy(sys.argv[1], sys.argv[2])",
        out,
        server.place.board,
    )
    work = read_assignment((server.place.board / out.name).read_bytes())
    return {
        name: Ticket(code, key, work)
        for name, (code, key) in zip((ANN, BEN), json.loads(told.stdout))
    }


def contents(server, session, name, method, path, **more):
    return server.ask(session, method, f"/user/{name}/api/contents/{path}", **more)


@pytest.fixture(scope="module")
def answered(server, signed, week, browser):
    """Both students do a problem of their homework in the browser and put the file into their tray;
    name -> file name.
    """
    files = {}
    for name, ticket in week.items():
        told = contents(
            server,
            signed[name],
            name,
            "POST",
            "notebooks",
            json={"copy_from": "board/Week_3.assignment.txt"},
        )
        assert told.status_code == 201, told.text
        with server.lab(browser, name).open("notebooks/homework.ipynb") as sheet:
            answer(sheet, ticket)
            sheet.picture(f"class_server_{name}")
            assert sheet.errors() == []
        (file,) = server.notebooks(name).glob("Week_3*.answers.txt")
        assert (
            contents(
                server,
                signed[name],
                name,
                "POST",
                "tray",
                json={"copy_from": f"notebooks/{file.name}"},
            ).status_code
            == 201
        )
        files[name] = file.name
    return files


def answer(sheet, ticket):
    """Type the ticket, then the right answer to the first problem."""
    sheet.only_notebook()
    sheet.run_all()
    page, panel = sheet.page, sheet.page.locator(".lv-panel")
    page.get_by_role("button", name="Look again for files").first.click()
    for label, text in (("Code", shown_code(ticket.code)), ("Number key", ticket.key)):
        panel.get_by_label(label).first.fill(text)
        panel.get_by_label(label).first.press("Tab")
    page.get_by_role("button", name="Start", exact=True).first.click()
    page.get_by_text("0 of 2 right").first.wait_for()
    box = panel.get_by_label("Your answer").first
    box.fill(right_text(problem_for(ticket, ticket.assignment.items[0], 1)))
    box.press("Enter")
    page.get_by_text("1 of 2 right").first.wait_for()


def look(server, name, path):
    return server.run_as(name, LOOK, path).stdout.strip()


# --- who is who
# --------------------------------------------------------------------------------------------


def test_a_wrong_password_and_an_account_outside_the_class_stay_outside(server):
    assert not server.sign_in(ANN, "let-me-in").signed_in
    assert not server.sign_in("root", "let-me-in").signed_in


def test_each_server_and_kernel_is_a_process_of_its_student(server, signed, answered):
    for name in (ANN, BEN, TEACHER):
        assert (
            server.ask(
                signed[name], "POST", f"/user/{name}/api/kernels", json={"name": "python3"}
            ).status_code
            == 201
        )
    seen = {}
    for pid, name in server.running().items():
        line = Path(f"/proc/{pid}/cmdline").read_bytes().decode().replace("\0", " ")
        kind = next(
            (kind for kind in ("jupyterhub-singleuser", "ipykernel_launcher") if kind in line), None
        )
        if kind:
            seen.setdefault(kind, set()).add(name)
            assert "Max data size             2097152000" in Path(f"/proc/{pid}/limits").read_text()
    assert seen == {
        name: {ANN, BEN, TEACHER} for name in ("jupyterhub-singleuser", "ipykernel_launcher")
    }


def test_the_workbook_s_settings_are_in_force(server, signed):
    """A key in a control is no shortcut, no news are fetched; a student has no terminal and no
    desk.
    """
    wanted = json.loads(
        (ROOT / "src/labsettings/labconfig/default_setting_overrides.json").read_text("utf-8")
    )
    for plugin, field in (
        ("apputils-extension:notification", "fetchNews"),
        ("shortcuts-extension:shortcuts", "shortcuts"),
    ):
        told = server.ask(
            signed[ANN], "GET", f"/user/{ANN}/lab/api/settings/@jupyterlab/{plugin}"
        ).json()
        given = told["schema"]["properties"][field]["default"]
        ours = wanted[f"@jupyterlab/{plugin}"][field]
        assert given == ours or all(shortcut in given for shortcut in ours), field
    assert server.ask(signed[ANN], "POST", f"/user/{ANN}/api/terminals").status_code in (403, 404)
    assert "instructor_desk.ipynb" in os.listdir(server.notebooks(TEACHER))
    assert "instructor_desk.ipynb" not in os.listdir(server.notebooks(ANN))


def test_every_picture_of_a_lesson_is_there(server, signed, browser):
    """In the page as a student sees it: a picture that is refused has no width."""
    with server.lab(browser, ANN).open("notebooks/01_plank_by_hand.ipynb") as sheet:
        pictures = sheet.page.locator(".jp-RenderedMarkdown img")
        pictures.first.wait_for()
        sheet.page.wait_for_function(
            "() => [...document.querySelectorAll('.jp-RenderedMarkdown img')].every(i => "
            "i.complete)"
        )
        widths = pictures.evaluate_all("all => all.map(img => img.naturalWidth)")
        sheet.picture("class_server_pictures")
    shown = (ROOT / "notebooks/01_plank_by_hand.ipynb").read_text("utf-8").count("](../figures/")
    assert len(widths) == shown > 1 and all(widths)


def test_student_and_instructor_each_have_the_lessons_that_are_theirs(server, signed):
    for name, has_keys in ((ANN, False), (TEACHER, True)):
        for path in ("lessons/worksheets/key_kg_a4.pdf", "lessons/02_the_tractor.md"):
            told = server.ask(signed[name], "GET", f"/user/{name}/files/{path}")
            assert told.status_code == (200 if has_keys else 404), (name, path)
        told = server.ask(signed[name], "GET", f"/user/{name}/files/lessons/glossary.md")
        assert told.status_code == 200


# --- through the file system
# ---------------------------------------------------------------------------------


def test_nobody_opens_another_s_files(server, answered):
    place, own = server.place, server.notebooks(ANN)
    hers = [
        own / answered[ANN],
        own,
        own.parents[1],
        place.trays / ANN,
        place.trays / ANN / answered[ANN],
    ]
    for path in hers:
        assert look(server, ANN, path).startswith("open"), path  # the way of looking works
        assert look(server, BEN, path) == "PermissionError", path
    assert [look(server, TEACHER, path).split()[0] for path in hers] == ["PermissionError"] * 3 + [
        "open"
    ] * 2
    assert look(server, BEN, place.trays) == "PermissionError"


def test_no_student_opens_the_class_key_the_printed_key_or_the_hub_s_records(server, week):
    place, desk = server.place, server.notebooks(TEACHER) / "my_class"
    for path in (
        desk / "keep_to_yourself/class_key.txt",
        desk / "keep_to_yourself",
        place.workbook / "lessons/worksheets/key_kg_a4.pdf",
    ):
        assert look(server, TEACHER, path).startswith("open"), path
        assert look(server, ANN, path) == "PermissionError", path
    for path in (
        place.hub,
        place.hub / "passwords.csv",
        place.hub / "hub.sqlite",
        place.hub / "cookie_secret",
    ):
        assert (
            path.exists()
            and look(server, ANN, path) == look(server, TEACHER, path) == "PermissionError"
        ), path
    assert look(server, ANN, place.board / "Week_3.assignment.txt").startswith("open")


def test_no_student_writes_where_all_read(server, signed):
    for folder in (
        server.place.root,
        server.place.workbook / "src",
        server.place.board,
        server.place.trays,
        server.place.trays / BEN,
    ):
        told = server.run_as(
            ANN, "import sys, pathlib; pathlib.Path(sys.argv[1], 'x').write_text('x')", folder
        )
        assert "PermissionError" in told.stderr, folder
    assert contents(
        server,
        signed[ANN],
        ANN,
        "PUT",
        "board/x.txt",
        json={"type": "file", "format": "text", "content": "x"},
    ).status_code in (403, 500)
    assert (
        contents(
            server,
            signed[ANN],
            ANN,
            "PUT",
            "tray/x.txt",
            json={"type": "file", "format": "text", "content": "x"},
        ).status_code
        == 201
    )


def test_the_environment_of_another_s_server_is_closed(server, signed):
    """A server's token stands in its environment."""
    for pid, name in server.running().items():
        assert look(server, BEN, f"/proc/{pid}/environ").startswith("open") == (name == BEN)


# --- through one's own server
# --------------------------------------------------------------------------------


@pytest.mark.parametrize("whose, opens", [(BEN, True), (ANN, False)])
def test_one_s_own_server_opens_no_other_s_files(server, signed, answered, whose, opens):
    """By a link in one's own folder, and by a way that leads out of it."""
    path = server.notebooks(whose) / answered[whose]
    server.run_as(
        BEN,
        "import os, sys; os.symlink(sys.argv[1], sys.argv[2])",
        path,
        server.notebooks(BEN) / f"see {whose}.txt",
    )
    asked = [
        f"notebooks/see {whose}.txt",
        f"notebooks/{path.name}"
        if opens
        else f"%2e%2e/%2e%2e/{whose}/workbook/notebooks/{path.name}",
    ]
    for way in asked:
        told = contents(server, signed[BEN], BEN, "GET", way)
        assert (told.status_code == 200) == opens and ("front_gain" in told.text) == opens, (
            way,
            told.status_code,
        )


# --- through the hub
# -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("asker", [BEN, TEACHER, None])
def test_the_address_of_another_s_server_is_closed(server, signed, answered, asker):
    session = signed[asker] if asker else requests.Session()
    for path in (
        f"api/contents/notebooks/{answered[ANN]}",
        "api/contents/notebooks",
        f"files/notebooks/{answered[ANN]}",
        "api/kernels",
        "lab",
    ):
        assert server.ask(signed[ANN], "GET", f"/user/{ANN}/{path}").status_code == 200, path
        told = server.ask(
            session, "GET", f"/user/{ANN}/{path}", headers={"Accept": "application/json"}
        )
        # A stranger is sent to the door; whoever has come in is told no.
        at_the_door = asker is None and "/hub/login" in told.url
        assert (at_the_door or told.status_code in (403, 404)) and "front_gain" not in told.text, (
            path,
            told.status_code,
            told.url,
        )


def test_a_token_of_one_s_own_opens_no_other_s_server(server, signed, answered):
    """By the proxy, and by the server's own port, which every account of the machine can reach."""
    told = server.ask(signed[BEN], "POST", f"/hub/api/users/{BEN}/tokens", json={"note": "try"})
    assert told.status_code == 201, told.text
    header = {"Authorization": f"token {told.json()['token']}"}
    for whose, opens in ((BEN, True), (ANN, False)):
        for url in (server.url, own_port(server, whose)):
            got = requests.get(
                f"{url}/user/{whose}/api/contents/notebooks", headers=header, timeout=60
            )
            assert got.status_code == (200 if opens else 403), (whose, url, got.status_code)


def own_port(server, name):
    """The address at which a student's server itself listens."""
    uid = str(pwd.getpwnam(name).pw_uid)
    rows = [row.split() for row in Path("/proc/net/tcp").read_text().splitlines()[1:]]
    ports = [int(row[1].split(":")[1], 16) for row in rows if row[3] == "0A" and row[7] == uid]
    for port in ports:
        try:
            if requests.get(f"http://127.0.0.1:{port}/user/{name}/api", timeout=5).ok:
                return f"http://127.0.0.1:{port}"
        except requests.RequestException:
            continue  # one of a kernel's own
    raise AssertionError(f"{name}'s server listens nowhere")


def test_the_hub_tells_a_student_nothing_of_others_and_stops_no_other_s_server(server, signed):
    for method, path in (
        ("GET", f"/hub/api/users/{ANN}"),
        ("DELETE", f"/hub/api/users/{ANN}/server"),
        ("GET", "/hub/api/users"),
        ("GET", "/hub/admin"),
    ):
        assert server.ask(signed[BEN], method, path).status_code in (403, 404), path
    assert server.ask(signed[ANN], "GET", f"/user/{ANN}/api/status").status_code == 200


def test_an_instructor_sees_who_is_there_and_stops_and_starts_a_server(server, signed):
    people = server.ask(signed[TEACHER], "GET", "/hub/api/users").json()
    assert {ANN, BEN, TEACHER} <= {person["name"] for person in people}
    assert server.ask(signed[TEACHER], "GET", "/hub/admin").status_code == 200
    assert server.ask(signed[TEACHER], "DELETE", f"/hub/api/users/{BEN}/server").status_code in (
        202,
        204,
    )
    assert server.ask(signed[BEN], "GET", f"/user/{BEN}/api/status").status_code != 200
    server.open_server(signed[BEN], BEN)


# --- what kernels say
# ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("transport, heard", [("tcp", "heard it"), ("ipc", "heard nothing")])
def test_a_neighbor_hears_nothing_of_what_a_kernel_says(server, signed, transport, heard):
    """Over TCP anybody on the machine can listen in; the settings keep kernels to sockets in the
    student's home.
    """
    with ThreadPoolExecutor() as both:
        speaking = both.submit(server.run_as, ANN, SPEAK.replace("TRANSPORT", repr(transport)))
        told = server.run_as(BEN, LISTEN, pwd.getpwnam(ANN).pw_uid)
        assert speaking.result().returncode == 0, speaking.result().stderr
    assert told.stdout.strip().endswith(heard), told.stdout + told.stderr


def test_the_kernels_of_the_server_speak_through_the_home(server, signed):
    assert (
        server.ask(
            signed[ANN], "POST", f"/user/{ANN}/api/kernels", json={"name": "python3"}
        ).status_code
        == 201
    )
    told = [
        json.loads(path.read_text())
        for path in (server.notebooks(ANN).parents[1] / ".run").glob("kernel-*.json")
    ]
    assert told and {one["transport"] for one in told} == {"ipc"}


# --- home again
# -------------------------------------------------------------------------------------------------


def test_the_instructor_takes_up_the_trays_and_marks(server, signed, answered):
    nasty = (
        "import os, sys; os.chdir(sys.argv[1]); os.symlink(sys.argv[2], "
        "'Week_3_a.answers.txt'); os.mkfifo('Week_3_b.answers.txt')"
    )
    server.run_as(
        BEN,
        nasty,
        server.place.trays / BEN,
        server.notebooks(TEACHER) / "my_class/keep_to_yourself/class_key.txt",
    )
    (line,) = [line for line in commands("In class") if " take " in line]
    words = (
        line.replace("/srv/leverarm", str(server.place.root))
        .replace("~", str(server.notebooks(TEACHER).parents[1]))
        .split()
    )
    told = server.run_as(
        TEACHER, "import subprocess, sys; sys.exit(subprocess.run(sys.argv[1:]).returncode)", *words
    )
    assert (
        told.stdout.startswith("2 new answer files taken.") and told.stdout.count("left:") == 2
    ), told.stdout + told.stderr
    assert server.run_as(TEACHER, MARKING).stdout.strip() == "[1, 1] [1, 1] 0"


def test_a_newer_workbook_reaches_everybody_and_answers_stay(server, signed, answered, tmp_path):
    newer, own = tmp_path / "newer", server.notebooks(ANN)
    for name in ("notebooks", "lessons", "figures", "src", "tests"):
        shutil.copytree(
            ROOT / name, newer / name, ignore=shutil.ignore_patterns("__pycache__", ".*")
        )
    for name in ("README.md", "DEVELOPERS.md", "requirements.txt", ".pytest.ini"):
        shutil.copy(ROOT / name, newer)
    path = newer / "notebooks/04_strip_it_down.ipynb"
    path.write_text(path.read_text("utf-8").replace("# Strip", "# Newly strip", 1) + "\n", "utf-8")
    before = (own / answered[ANN]).read_bytes()
    server.run_as(ANN, f"open(r'{own / path.name}', 'a').write('\\n{MINE}')")
    server.type(commands("A newer version of the workbook"), cwd=newer)
    server.ask(signed[ANN], "DELETE", f"/hub/api/users/{ANN}/server")
    server.open_server(signed[ANN], ANN)
    assert (own / path.name).read_bytes() == path.read_bytes()
    (kept,) = own.glob("04_strip_it_down, kept *.ipynb")
    assert kept.read_text("utf-8").endswith(MINE) and (own / answered[ANN]).read_bytes() == before


def test_an_account_that_comes_again_finds_nothing_of_the_one_before(server, signed, answered):
    """Last, since it takes a student away."""
    server.ask(signed[BEN], "DELETE", f"/hub/api/users/{BEN}/server")
    end = time.monotonic() + 60
    while server.running(BEN) and time.monotonic() < end:
        time.sleep(0.1)
    (line,) = re.findall(r"remove student07", PAGE.read_text("utf-8"))
    server.type(
        [
            "cd /srv/leverarm/workbook",
            f"sudo python3 src/classserver {line.replace('student07', BEN)}",
            *commands("3. Make the accounts")[2:],
        ]
    )
    assert list((server.place.trays / BEN).iterdir()) == [] and not server.notebooks(BEN).exists()
    away = server.place.root / "left" / f"{BEN} 1"
    assert (away / answered[BEN]).is_file() and look(server, BEN, away) == look(
        server, ANN, away
    ) == "PermissionError"
    assert look(server, TEACHER, away).startswith("open")
