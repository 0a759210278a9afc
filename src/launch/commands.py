"""The commands of `start.py` and their options."""

import argparse
import signal
from pathlib import Path
from typing import NoReturn

from . import checks, environment, lab, newest, wheels
from .places import CONSTRAINTS, FIRST_PAGE, VENV, python_in
from .site import build_site
from .steps import meaning_of, pip, progress, run_step, show, source, unfinished
from .words import Ended, Refusal, complain, launcher, say

WITH_VALUE = ("--port", "--wheels")
HELP = """\
Set the workbook up once, then open it in JupyterLab.

  {start}                     open the workbook
  {start} test [options]      run all tests; options go to pytest, paths count from the
                                        workbook's folder
  {start} setup               set up only, and open nothing
  {start} wheels FOLDER       gather the packages for machines without the internet
  {start} site FOLDER         build the class site: lessons that run in a browser, nothing
                                        installed (needs Node.js; see lessons/class_site.md)
  {start} newest [keep]       try the newest packages and say what broke; 'keep' notes
                                        them for the next set-up where all tests pass

Options, before the command:
  --no-browser      open no browser window; the address is printed
  --port N          use this port of the local machine (1024 to 65535)
  --wheels FOLDER   install from a folder that the command 'wheels' made, not from the internet
  --help            say this
"""


class Options(argparse.ArgumentParser):
    """A parser that refuses in one sentence."""

    def error(self, message: str) -> NoReturn:
        raise Refusal(
            f"{message[:1].upper()}{message[1:]}: run {launcher()} --help for what there is.", 2
        )


def split(words: list[str]) -> tuple[list[str], str, list[str]]:
    """Options, command and the command's own words.

    >>> split(["--port", "8890", "test", "-k", "lab"])
    (['--port', '8890'], 'test', ['-k', 'lab'])
    >>> split(["--no-browser"])
    (['--no-browser'], 'open', [])
    """
    for at, word in enumerate(words):
        if word in COMMANDS and (at == 0 or words[at - 1] not in WITH_VALUE):
            return words[:at], word, words[at + 1 :]
    return words, "open", []


def read_options(words: list[str]) -> argparse.Namespace:
    """The options as typed, checked.

    >>> read_options(["--no-browser", "--port", "8890"]).port
    8890
    """
    parser = Options(add_help=False, allow_abbrev=False)
    parser.add_argument("--help", "-h", action="store_true")
    parser.add_argument("--no-browser", dest="browser", action="store_false")
    parser.add_argument("--port", type=str)
    parser.add_argument("--wheels", type=str)
    options = parser.parse_args(words)
    if options.port is not None:
        options.port = checks.port_number(options.port)
    if options.wheels is not None:
        options.wheels = Path(options.wheels).expanduser().absolute()
    return options


def _nothing_more(words: list[str], command: str) -> None:
    """Refuse words that a command does not know."""
    if words:
        raise Refusal(f"The command {command} knows no '{words[0]}': run {launcher()} --help.", 2)


def open_lab(options: argparse.Namespace, words: list[str]) -> int:
    """Open the workbook in JupyterLab."""
    _nothing_more(words, "open")
    if options.port:
        checks.port_free(options.port)
    python = environment.ready(options.wheels)
    lab.make_folders()
    say(f"Opening {FIRST_PAGE} in JupyterLab. Keep this window open; Ctrl-C here stops it.")
    env = lab.lab_settings()
    lab.trust_notebooks(python, env)
    code = lab.hand_over(lab.lab_command(python, options.port, options.browser), env)
    say(f"JupyterLab has stopped. Start again with: {launcher()}")
    return code


# The whole suite on two processes, a file at a time: half the time on any computer of today.  More
# would each need memory for notebooks of their own.
TWO_PROCESSES = [
    *("-p", "tests.before_plugins", "--numprocesses", "2"),
    *("--dist", "loadfile", "--no-loadscope-reorder"),  # tests/conftest.py says what begins
]


def run_tests(options: argparse.Namespace, words: list[str]) -> int:
    """Run the test suite, or what the words ask of pytest; its exit code is ours."""
    python = environment.ready(options.wheels)
    lab.make_folders()
    return lab.hand_over(
        [str(python), "-m", "pytest", *(words or TWO_PROCESSES)], lab.lab_settings()
    )


def only_set_up(options: argparse.Namespace, words: list[str]) -> int:
    """Set up, and open nothing."""
    _nothing_more(words, "setup")
    environment.ready(options.wheels)
    return 0


def gather_wheels(options: argparse.Namespace, words: list[str]) -> int:
    """Gather the packages for an offline install."""
    if len(words) != 1 or words[0].startswith("-"):
        raise Refusal(f"Name one folder for the wheels: {launcher()} wheels FOLDER.", 2)
    folder = Path(words[0]).expanduser().absolute()
    wheels.begin(folder)
    python = environment.ready(options.wheels)
    say(f"Gathering the packages in {folder}")
    command = pip(
        python,
        "wheel",
        *source(options.wheels),
        "-c",
        CONSTRAINTS,
        "--wheel-dir",
        folder,
        *wheels.wanted(),
    )
    run_step(command, VENV / environment.LOG, progress)
    show("")
    sizes = wheels.finish(folder, environment.version_of(python_in(VENV)))
    say(f"{len(sizes)} packages, {sum(sizes.values()) / 1e6:.0f} MB, for {wheels.this_system()}.")
    say(f"On a machine like this one: {launcher()} --wheels FOLDER")
    return 0


def try_newest(options: argparse.Namespace, words: list[str]) -> int:
    """Try the newest packages in an environment of their own."""
    return newest.try_newest(options, words, TWO_PROCESSES)


COMMANDS = {
    "open": open_lab,
    "test": run_tests,
    "setup": only_set_up,
    "wheels": gather_wheels,
    "site": build_site,
    "newest": try_newest,
}


def _ended(number: int, frame: object) -> NoReturn:
    raise Ended


def main(words: list[str]) -> int:
    """Do what the words ask; return the exit code."""
    signal.signal(signal.SIGTERM, _ended)
    before, command, own = split(words)
    try:
        options = read_options(before)
        if options.help:
            say(HELP.format(start=launcher()))
            return 0
        return COMMANDS[command](options, own)
    except Refusal as refusal:
        complain(str(refusal))
        return refusal.code
    except KeyboardInterrupt:
        complain("Stopped before it was finished: start again, and the rest is done then.")
        return 130
    except OSError as error:
        complain(unfinished(meaning_of(str(error)) or f"the system said '{error}': see to that"))
        return 1
