"""What a class server needs beside the hub: the place, the accounts' commands, own copies, trays,
settings; and its page.
"""

import contextlib
import doctest
import hashlib
import json
import os
import re
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path
from types import SimpleNamespace

import pytest

if sys.platform.startswith("win"):
    pytest.skip("a class server needs Linux", allow_module_level=True)

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "src"))

from traitlets.config import Config

from classserver import accounts, commands, open_server, place, trays
from classserver.own_copy import link, update_copy
from launch.words import Refusal

ROOT = Path(__file__).resolve().parents[1]
PAGE = (ROOT / "lessons" / "class_server.md").read_text("utf-8")
SETTINGS = ROOT / "src" / "classserver" / "jupyterhub_config.py"
UNIT = (ROOT / "src" / "classserver" / "leverarm-class.service").read_text("utf-8")


@pytest.fixture
def server(tmp_path):
    """A place without accounts."""
    made = place.Place(tmp_path / "leverarm")
    for folder in (made.workbook / "notebooks", made.hub, made.trays, made.board):
        folder.mkdir(parents=True)
    return made


# --- a person's own copy
# --------------------------------------------------------------------------------------

GIVEN = {
    "notebooks/01_one.ipynb",
    "notebooks/homework.ipynb",
    "lessons/glossary.md",
    "lessons/worksheets/worksheet_01_kg.html",
    "lessons/worksheets/worksheet_01_kg_a4.pdf",
    "figures/plank.svg",
}
DESK_ONLY = {
    "notebooks/instructor_desk.ipynb",
    "notebooks/trainer_session.ipynb",
    "lessons/01_one.md",
    "lessons/poll_questions_kg_a4.pdf",
    "lessons/worksheets/key_kg.html",
    "lessons/worksheets/key_kg_a4.pdf",
    "figures/bench.md",
}


def edition(server, text, *names):
    """The workbook of the class server in which each file holds this text."""
    for name in names or GIVEN | DESK_ONLY:
        path = server.workbook / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text)


def files(own):
    """What lies in a copy: name -> text."""
    found = (path for path in own.rglob("*") if path.is_file() and path.name != ".given.json")
    return {path.relative_to(own).as_posix(): path.read_text() for path in found}


def test_a_student_gets_the_student_s_files_and_an_instructor_all(server, tmp_path):
    edition(server, "first")
    assert set(update_copy(server.workbook, tmp_path / "own")) == GIVEN
    assert files(tmp_path / "own") == dict.fromkeys(GIVEN, "first")
    assert not [path for path in (tmp_path / "own").rglob("*") if path.is_symlink()]
    assert (tmp_path / "own").stat().st_mode & 0o777 == 0o700
    assert set(update_copy(server.workbook, tmp_path / "desk", desk=True)) == GIVEN | DESK_ONLY


def test_a_second_start_touches_nothing(server, tmp_path):
    own = tmp_path / "own"
    edition(server, "first")
    update_copy(server.workbook, own)
    (own / "notebooks/01_one.ipynb").write_text("first, with my notes")
    assert update_copy(server.workbook, own) == []
    assert files(own)["notebooks/01_one.ipynb"] == "first, with my notes"


def test_a_newer_edition_takes_the_place_and_what_was_changed_stays(server, tmp_path):
    own = tmp_path / "own"
    edition(server, "first")
    update_copy(server.workbook, own)
    mine = {
        "notebooks/01_one.ipynb": "first, with my notes",
        "notebooks/Week_3-AB.answers.txt": "answers",
        "notebooks/my_own.ipynb": "my own",
        "lessons/my list.md": "mine",
    }
    for name, text in mine.items():
        (own / name).write_text(text)
    edition(server, "second")
    assert set(update_copy(server.workbook, own, today="2031-03-14")) == GIVEN
    assert files(own) == dict.fromkeys(GIVEN, "second") | {
        "notebooks/01_one, kept 2031-03-14.ipynb": "first, with my notes",
        **{name: text for name, text in mine.items() if name != "notebooks/01_one.ipynb"},
    }
    (own / "notebooks/01_one.ipynb").write_text("second, with my notes")
    edition(server, "third")
    update_copy(server.workbook, own, today="2031-03-14")
    again = files(own)["notebooks/01_one, kept 2031-03-14 (2).ipynb"]
    assert again == "second, with my notes"


def test_what_is_no_longer_given_goes_unless_it_was_changed(server, tmp_path):
    own = tmp_path / "own"
    edition(server, "first")
    update_copy(server.workbook, own)
    (own / "notebooks/homework.ipynb").write_text("my work")
    for name in ("notebooks/homework.ipynb", "lessons/glossary.md"):
        (server.workbook / name).unlink()
    assert update_copy(server.workbook, own) == []
    assert "lessons/glossary.md" not in files(own)
    assert files(own)["notebooks/homework.ipynb"] == "my work"


@pytest.mark.parametrize("note", ["", "[]", "{", '{"notebooks/01_one.ipynb": 7}', '{"../a": "b"}'])
def test_a_spoiled_note_loses_nothing(server, tmp_path, note):
    own = tmp_path / "own"
    edition(server, "first")
    update_copy(server.workbook, own)
    (own / "notebooks/01_one.ipynb").write_text("mine")
    (own / ".given.json").write_text(note)
    update_copy(server.workbook, own)
    assert sorted(files(own).values()) == ["first"] * len(GIVEN) + ["mine"]


def test_a_copy_from_before_with_links_in_it_becomes_one_without(server, tmp_path):
    """The note named notebooks alone then; lessons and figures were links out of the folder."""
    own = tmp_path / "own"
    edition(server, "first")
    (own / "notebooks").mkdir(parents=True)
    (own / "notebooks/01_one.ipynb").write_text("first, with my notes")
    mark = hashlib.sha256(b"first").hexdigest()
    (own / ".given.json").write_text(json.dumps({"01_one.ipynb": mark}))
    for part in ("lessons", "figures"):
        (own / part).symlink_to(server.workbook / part)
    update_copy(server.workbook, own)
    assert files(own) == dict.fromkeys(GIVEN, "first") | {
        "notebooks/01_one.ipynb": "first, with my notes"
    }
    assert not (own / "lessons").is_symlink() and not (own / "figures").is_symlink()
    assert files(server.workbook) == dict.fromkeys(GIVEN | DESK_ONLY, "first")


def test_a_deleted_notebook_is_there_again_at_the_next_start(server, tmp_path):
    edition(server, "first")
    update_copy(server.workbook, tmp_path / "own")
    (tmp_path / "own/notebooks/01_one.ipynb").unlink()
    assert update_copy(server.workbook, tmp_path / "own") == ["notebooks/01_one.ipynb"]


def test_a_link_replaces_an_old_link_and_nothing_else(tmp_path):
    link(tmp_path, "board", tmp_path / "a")
    link(tmp_path, "board", tmp_path / "b")
    assert os.readlink(tmp_path / "board") == str(tmp_path / "b")
    (tmp_path / "tray").write_text("mine")
    link(tmp_path, "tray", tmp_path / "b")
    assert (tmp_path / "tray").read_text() == "mine"


@pytest.fixture
def answering(server, tmp_path):
    """A Jupyter server on a student's folder, with the options that every server gets: asks it."""
    edition(server, "<svg/>")
    own, run = tmp_path / "own", tmp_path / "run"
    (server.trays / "student01").mkdir()
    (server.trays / "student01/feedback.pdf").write_text("well done")
    (server.board / "Week_3.assignment.txt").write_text("work")
    open_server.prepare(server, own, "student01", desk=False)
    command = [sys.executable, "-m", "jupyter_server", open_server.SERVE_LINKS, "--no-browser"]
    options = ["--allow-root", f"--ServerApp.root_dir={own}", "--ServerApp.port=0"]
    places = {f"JUPYTER_{name}_DIR": str(run / name) for name in ("RUNTIME", "CONFIG", "DATA")}
    with subprocess.Popen(
        [*command, *options, "--IdentityProvider.token=t"],
        env=os.environ | places,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    ) as process:
        note = run / "RUNTIME" / f"jpserver-{process.pid}.json"
        try:
            yield lambda path: ask(note, process, path)
        finally:
            process.terminate()


def ask(note, process, path, patience=90):
    """The status of an answer; waits until the server listens."""
    end = time.monotonic() + patience
    while time.monotonic() < end and process.poll() is None:
        with contextlib.suppress(OSError, ValueError):  # not there yet, or half written
            url = json.loads(note.read_text("utf-8"))["url"]
            break
        time.sleep(0.1)
    try:
        return urllib.request.urlopen(f"{url}{path}?token=t", timeout=60).status
    except urllib.error.HTTPError as refused:
        return refused.code


def test_the_server_answers_for_pictures_and_pages_the_board_and_the_tray(answering):
    for path in GIVEN | {"board/Week_3.assignment.txt", "tray/feedback.pdf"}:
        assert answering(f"files/{path}") == 200, path
    for path in DESK_ONLY | {"notebooks/../../leverarm/board/x", ".given.json"}:
        assert answering(f"files/{path}") == 404, path


# --- trays ----------------------------------------------------------------------------------------
# -------------


def test_plain_answer_files_are_taken_once_with_the_server_s_time(server, tmp_path):
    tray, goal = server.trays / "student01", tmp_path / "Week_3"
    tray.mkdir(), goal.mkdir()
    (tray / "Week_3-AB.answers.txt").write_text("one")
    os.utime(tray / "Week_3-AB.answers.txt", (1, 1))  # a student can set this time
    (tray / "Week_4-AB.answers.txt").write_text("other week")
    (tray / "letter.txt").write_text("Dear")
    assert trays.take(server, goal, "Week_3") == (["student01 Week_3-AB.answers.txt"], [])
    came = (goal / "student01 Week_3-AB.answers.txt").stat().st_mtime
    assert (
        came == pytest.approx((tray / "Week_3-AB.answers.txt").stat().st_ctime, abs=0.01)
        and came > 1e9
    )
    assert trays.take(server, goal, "Week_3") == ([], [])
    (tray / "Week_3-AB.answers.txt").write_text("one and two")
    assert trays.take(server, goal, "Week_3")[0] == ["student01 Week_3-AB.answers (2).txt"]
    assert trays.take(server, goal, "Week_3") == ([], [])


def test_what_is_no_plain_file_is_left_and_said(server, tmp_path, capsys):
    tray, goal = server.trays / "student01", tmp_path / "goal"
    tray.mkdir(), goal.mkdir()
    (tmp_path / "secret").write_text("class key")
    (tray / "a.answers.txt").symlink_to(tmp_path / "secret")
    os.mkfifo(tray / "b.answers.txt")
    (tray / "c.answers.txt").write_bytes(b"x" * (trays.MOST_BYTES + 1))
    (tray / "d.answers.txt").mkdir()
    (tray / "e\n\x1b[2J.answers.txt").symlink_to(tmp_path / "secret")
    taken, left = trays.take(server, goal)
    assert taken == [] and len(left) == 5 and list(goal.iterdir()) == []
    trays.report(taken, left)
    said = capsys.readouterr().out
    assert "Nothing new" in said and "\x1b" not in said and len(said.splitlines()) == 6


def test_a_link_in_a_tray_s_place_is_no_tray(server, tmp_path):
    (tmp_path / "goal").mkdir(), (tmp_path / "home").mkdir()
    (tmp_path / "home/a.answers.txt").write_text("a")
    (server.trays / "student01").symlink_to(tmp_path / "home")
    assert trays.take(server, tmp_path / "goal") == ([], [])


# --- the place ------------------------------------------------------------------------------------
# ---------------

REFUSED = {
    "no whole path": (lambda tmp: place.fit_place("leverarm"), "whole path"),
    "a name that is none": (lambda tmp: place.fit_place("/srv/Lever arm"), "small letters"),
    "a closed way": (
        lambda tmp: place.fit_place(tmp / "closed" / "leverarm", sys.executable),
        "closed to them",
    ),
    "somebody's folder": (
        lambda tmp: place.fit_place(tmp / "full", "/usr/bin/env"),
        "other files|closed to them",
    ),
    "not on a server": (lambda tmp: place.here(tmp), "not on a class server"),
    "no students": (lambda tmp: accounts.names(0), "1 to 99"),
    "too many": (lambda tmp: accounts.names("100"), "1 to 99"),
    "no number": (lambda tmp: accounts.names("-3"), "1 to 99"),
    "a name with an option in it": (lambda tmp: accounts.names(3, "-o"), "small letters"),
    "nowhere to put": (lambda tmp: trays.take(place.Place(tmp), tmp / "none"), "no folder"),
}


@pytest.mark.parametrize("case", REFUSED)
def test_refusals_touch_nothing(case, tmp_path):
    (tmp_path / "closed").mkdir(mode=0o700), (tmp_path / "full").mkdir()
    (tmp_path / "full/letter.txt").write_text("Dear")
    before = sorted(tmp_path.rglob("*"))
    act, told = REFUSED[case]
    with pytest.raises(Refusal, match=told):
        act(tmp_path)
    assert sorted(tmp_path.rglob("*")) == before


@pytest.mark.skipif(os.geteuid() != 0, reason="only root can give a folder to others")
def test_the_place_holds_the_workbook_and_nothing_a_person_made(tmp_path):
    source, made = tmp_path / "source", place.Place(tmp_path / "leverarm")
    for name in place.PARTS:
        (source / name).mkdir(parents=True)
    for name in place.SINGLE:
        (source / name).write_text("text")
    (source / "notebooks/my_class/keep_to_yourself").mkdir(parents=True)
    for name in (
        "01_one.ipynb",
        "Week_3-AB.answers.txt",
        "readings.csv",
        "my_class/keep_to_yourself/class_key.txt",
    ):
        (source / "notebooks" / name).write_text("text")
    (source / "lessons/worksheets").mkdir()
    for name in ("worksheets/key_kg_a4.pdf", "worksheets/worksheet_01_kg_a4.pdf", "01_plan.md"):
        (source / "lessons" / name).write_text("text")
    (source / "src/classserver").mkdir()
    (source / "src/classserver" / place.CONFIG).write_text("PORT = 8000")
    for path in source.rglob("*"):
        path.chmod(0o700 if path.is_dir() else 0o600)
    place.lay_out(source, made, 12345)
    assert [path.name for path in (made.workbook / "notebooks").iterdir()] == ["01_one.ipynb"]
    modes = {path.name: path.stat().st_mode & 0o7777 for path in made.root.rglob("*")}
    assert {modes[name] for name in ("key_kg_a4.pdf", "01_plan.md")} == {0o640}
    assert {modes[name] for name in ("worksheet_01_kg_a4.pdf", "01_one.ipynb")} == {0o644}
    assert (
        modes["hub"],
        modes["trays"],
        modes["board"],
        modes["workbook"],
        modes["notebooks"],
    ) == (0o700, 0o751, 0o2775, 0o755, 0o755)
    # Again, with a newer notebook: settings that were edited stay, and so does the environment.
    made.config.write_text("PORT = 9000")
    (made.workbook / ".venv").mkdir()
    (source / "notebooks/01_one.ipynb").write_text("newer")
    place.lay_out(source, made, 12345)
    assert (made.workbook / "notebooks/01_one.ipynb").read_text() == "newer" and (
        made.workbook / ".venv"
    ).is_dir()
    assert made.config.read_text() == "PORT = 9000" and not list(
        made.workbook.glob(".old-*")
    ) + list(made.workbook.glob(".new-*"))


# --- accounts -------------------------------------------------------------------------------------
# ---------------


def test_an_account_somebody_has_is_never_taken_over(server, monkeypatch):
    asked = []
    monkeypatch.setattr(accounts, "exists", lambda name: name == "student02")
    with pytest.raises(Refusal, match="already has an account student02"):
        accounts.students(server, 2, run=asked.append)
    assert asked == [] and not (server.hub / "passwords.csv").exists()


def test_nobody_else_s_account_is_taken_away(server, monkeypatch):
    asked = []
    with pytest.raises(Refusal, match="no student of this"):
        accounts.remove(server, "root", run=asked.append)
    monkeypatch.setattr(accounts, "members", lambda group: ["root"])
    accounts.remove(server, "everyone", run=asked.append)
    assert (
        asked == [["gpasswd", "--delete", "root", server.desk]] * 2
    )  # left the desk, kept the account


def test_passwords_are_drawn_and_have_no_look_alikes():
    drawn = {accounts.new_password() for _ in range(200)}
    assert len(drawn) == 200 and all(
        re.fullmatch(r"[a-hjkmnp-z2-9]{4}(-[a-hjkmnp-z2-9]{4}){2}", one) for one in drawn
    )


def test_the_examples_hold():
    told = doctest.testmod(accounts)
    assert told.attempted > 1 and not told.failed


@pytest.mark.parametrize(
    "words, code",
    [
        ([], 2),
        (["--help"], 0),
        (["fly"], 2),
        (["students"], 2),
        (["remove", "a", "b"], 2),
        (["take", "/nowhere"], 1),
        (["students", "3"], 1),
    ],
)
def test_exit_codes(words, code, capsys):
    """This workbook is on no class server, so whatever asks for one is refused."""
    assert commands.main(words) == code
    told = capsys.readouterr()
    assert ("COMMAND" in told.out) == (code != 1) and bool(told.err) == (code == 1)


# --- the settings
# ------------------------------------------------------------------------------------------------


def settings(root, monkeypatch, **edited):
    """The settings as the hub reads them, with lines edited at their top."""
    text = SETTINGS.read_text("utf-8")
    for name, value in edited.items():
        text, count = re.subn(rf"(?m)^{name} = \S+", f"{name} = {value!r}", text)
        assert count == 1, name
    monkeypatch.setattr("grp.getgrnam", lambda name: SimpleNamespace(gr_mem=["teacher"]))
    found = Config()
    exec(
        compile(text, "settings", "exec"),
        {"get_config": lambda: found, "__file__": str(root / "jupyterhub_config.py")},
    )
    return found


def test_the_settings_answer_this_machine_only_and_let_nobody_open_another_s_server(
    tmp_path, monkeypatch
):
    found = settings(tmp_path / "leverarm", monkeypatch)
    assert (
        found.JupyterHub.bind_url == "http://127.0.0.1:8000"
        and found.JupyterHub.hub_ip == "127.0.0.1"
    )
    assert found.PAMAuthenticator.allowed_groups == {"leverarm-class", "leverarm-desk"}
    (role,) = found.JupyterHub.load_roles
    assert role["users"] == ["teacher"] and not [
        scope for scope in role["scopes"] if "access" in scope or scope.startswith("admin:")
    ]
    assert "admin_users" not in found.Authenticator and "admin_groups" not in found.PAMAuthenticator
    assert (
        found.JupyterHub.spawner_class.endswith(".LocalProcessSpawner")
        and "--KernelManager.transport=ipc" in found.Spawner.args
    )


@pytest.mark.parametrize(
    "address, edited, starts",
    [
        ("127.0.0.1", {}, True),
        ("::1", {}, True),
        ("192.0.2.7", {}, False),
        ("0.0.0.0", {}, False),
        ("192.0.2.7", {"KEY": "k"}, False),
        ("192.0.2.7", {"KEY": "k", "CERTIFICATE": "c"}, True),
        ("192.0.2.7", {"WITHOUT_TLS": True}, True),
    ],
)
def test_no_password_crosses_the_network_readable_unasked(
    tmp_path, monkeypatch, address, edited, starts
):
    if starts:
        url = settings(tmp_path, monkeypatch, ADDRESS=address, **edited).JupyterHub.bind_url
        assert url.startswith("https" if "KEY" in edited else "http:") and address in url
    else:
        with pytest.raises(SystemExit, match="KEY and CERTIFICATE"):
            settings(tmp_path, monkeypatch, ADDRESS=address, **edited)


# --- the page -------------------------------------------------------------------------------------
# ---------------


def test_the_page_names_commands_settings_and_files_that_exist():
    named = set(re.findall(r"src/classserver (\w+)", PAGE))
    assert named == set(commands.COMMANDS)
    assert all(
        re.search(rf"(?m)^{name} = ", SETTINGS.read_text("utf-8"))
        for name in re.findall(r"`([A-Z]{3,}[A-Z_]*)`", PAGE)
    )
    assert "src/classserver/leverarm-class.service" in PAGE and "ADDRESS" in PAGE


def test_the_unit_starts_what_the_page_starts():
    typed = re.search(r"(?m)^    sudo (\S+jupyterhub -f .+)$", PAGE)[1]
    assert f"ExecStart={typed}\n" in UNIT


def test_the_hub_is_an_extra_and_no_requirement():
    assert "jupyterhub" not in (ROOT / "requirements.txt").read_text("utf-8")
    assert re.search(
        r'(?m)^server = \["jupyterhub>=', (ROOT / "src" / "pyproject.toml").read_text("utf-8")
    )
