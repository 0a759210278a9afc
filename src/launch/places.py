"""Where things are.

All that a start writes lies under `.venv`, beside it while it is replaced, and in `.setup.lock`.
"""

import os
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SRC = ROOT / "src"
REQUIREMENTS = ROOT / "requirements.txt"
PYPROJECT = SRC / "pyproject.toml"
CONSTRAINTS = SRC / "constraints.txt"
LAB_SETTINGS = SRC / "labsettings"
VENV = ROOT / ".venv"
LOCK = ROOT / ".setup.lock"
NOTEBOOKS = ROOT / "notebooks"
FIRST_PAGE = "notebooks/00_start_here.ipynb"


def python_in(venv: Path | str, os_name: str = os.name) -> Path:
    """The Python of a virtual environment.

    >>> python_in(Path("x"), "nt").as_posix()
    'x/Scripts/python.exe'
    >>> python_in(Path("x"), "posix").as_posix()
    'x/bin/python'
    """
    return Path(venv, "Scripts", "python.exe") if os_name == "nt" else Path(venv, "bin", "python")


def lab_home(venv: Path = VENV) -> Path:
    """The folder JupyterLab keeps its own things in: nothing goes to the user's home."""
    return Path(venv, "lab")
