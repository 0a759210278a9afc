"""The commands of `start.py` and their options."""

import argparse
import signal
from pathlib import Path

from . import checks, environment, lab, wheels
from .places import FIRST_PAGE, VENV, python_in
from .site import build_site
from .steps import pip, progress, run_step, show, source, trouble, unfinished
from .words import Ended, Refusal, complain, launcher, say

WITH_VALUE = ("--port", "--wheels")
HELP = """\
Set the workbook up once, then open it in JupyterLab.

  {start}                     open the workbook
  {start} test [options]      run all tests; options go to pytest, paths count from the
                                        workbook's folder
  {start} wheels FOLDER       gather the packages for machines without the internet
  {start} site FOLDER         build the class site: lessons that run in a browser, nothing
                                        installed (needs Node.js; see lessons/class_site.md)

Options, before the command:
  --no-browser      open no browser window; the address is printed
  --port N          use this port of the local machine (1024 to 65535)
  --wheels FOLDER   install from a folder that the command 'wheels' made, not from the internet
  --help            say this
"""


class Options(argparse.ArgumentParser):
    """A parser that refuses in one sentence."""

    def error(self, message):
        raise Refusal(
            f"{message[:1].upper()}{message[1:]}: run {launcher()} --help for what there is.", 2
        )


def split(words):
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


def options(words):
    """The options as typed, checked.

    >>> options(["--no-browser", "--port", "8890"]).port
    8890
    """
    parser = Options(add_help=False, allow_abbrev=False)
    parser.add_argument("--help", "-h", action="store_true")
    parser.add_argument("--no-browser", dest="browser", action="store_false")
    parser.add_argument("--port", type=str)
    parser.add_argument("--wheels", type=str)
    told = parser.parse_args(words)
    told.port = None if told.port is None else checks.port_number(told.port)
    told.wheels = None if told.wheels is None else Path(told.wheels).expanduser().absolute()
    return told


def _nothing_more(words, command):
    """Refuse words that a command does not know."""
    if words:
        raise Refusal(f"The command {command} knows no '{words[0]}': run {launcher()} --help.", 2)


def open_lab(told, words):
    """Open the workbook in JupyterLab."""
    _nothing_more(words, "open")
    if told.port:
        checks.port_free(told.port)
    python = environment.ready(told.wheels)
    lab.make_folders()
    say(f"Opening {FIRST_PAGE} in JupyterLab. Keep this window open; Ctrl-C here stops it.")
    code = lab.hand_over(lab.lab_command(python, told.port, told.browser), lab.lab_settings())
    say(f"JupyterLab has stopped. Start again with: {launcher()}")
    return code


def run_tests(told, words):
    """Run the test suite; its exit code is ours."""
    python = environment.ready(told.wheels)
    lab.make_folders()
    return lab.hand_over([str(python), "-m", "pytest", *words], lab.lab_settings())


def gather_wheels(told, words):
    """Gather the packages for an offline install."""
    if len(words) != 1 or words[0].startswith("-"):
        raise Refusal(f"Name one folder for the wheels: {launcher()} wheels FOLDER.", 2)
    folder = Path(words[0]).expanduser().absolute()
    wheels.begin(folder)
    python = environment.ready(told.wheels)
    say(f"Gathering the packages in {folder}")
    command = pip(python, "wheel", *source(told.wheels), "--wheel-dir", folder, *wheels.wanted())
    run_step(command, VENV / environment.LOG, progress)
    show("")
    sizes = wheels.finish(folder, environment.version_of(python_in(VENV)))
    say(f"{len(sizes)} packages, {sum(sizes.values()) / 1e6:.0f} MB, for {wheels.this_system()}.")
    say(f"On a machine like this one: {launcher()} --wheels FOLDER")
    return 0


COMMANDS = {"open": open_lab, "test": run_tests, "wheels": gather_wheels, "site": build_site}


def _ended(number, frame):
    raise Ended


def main(words):
    """Do what the words ask; return the exit code."""
    signal.signal(signal.SIGTERM, _ended)
    before, command, own = split(words)
    try:
        told = options(before)
        if told.help:
            say(HELP.format(start=launcher()))
            return 0
        return COMMANDS[command](told, own)
    except Refusal as refusal:
        complain(str(refusal))
        return refusal.code
    except KeyboardInterrupt:
        complain("Stopped before it was finished: start again, and the rest is done then.")
        return 130
    except OSError as error:
        complain(unfinished(trouble(str(error)) or f"the system said '{error}': see to that"))
        return 1
