"""Opening JupyterLab with the workbook's own settings, so that nothing of the user's is touched."""

import os
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path

from .places import FIRST_PAGE, LAB_SETTINGS, NOTEBOOKS, ROOT, VENV, lab_home, python_in
from .steps import child_settings
from .words import Ended

FOLDERS = {  # everything that Jupyter, IPython and matplotlib would keep in the user's home
    "JUPYTER_CONFIG_DIR": "config",
    "JUPYTER_DATA_DIR": "data",
    "JUPYTER_RUNTIME_DIR": "runtime",
    "JUPYTERLAB_SETTINGS_DIR": "settings",
    "JUPYTERLAB_WORKSPACES_DIR": "workspaces",
    "IPYTHONDIR": "ipython",
    "MPLCONFIGDIR": "matplotlib",
}


def lab_settings(env: Mapping[str, str] = os.environ, venv: Path = VENV) -> dict[str, str]:
    """The environment variables JupyterLab, its kernels and the tests run under."""
    kept = {
        name: text for name, text in child_settings(env).items() if not name.startswith("JUPYTER")
    }
    own = {name: str(lab_home(venv) / folder) for name, folder in FOLDERS.items()}
    tools = str(python_in(venv).parent)
    path = os.pathsep.join(filter(None, [tools, env.get("PATH")]))
    return (
        kept
        | own
        | {
            "JUPYTER_CONFIG_PATH": str(LAB_SETTINGS),
            # Our one piece of page: it keeps a press of the start button until Python is awake.
            "JUPYTER_PATH": str(LAB_SETTINGS),
            "VIRTUAL_ENV": str(venv),
            "PATH": path,
        }
    )


def make_folders(venv: Path = VENV) -> None:
    """Make the folders JupyterLab keeps its own things in; its tokens are for this user alone."""
    for folder in FOLDERS.values():
        (lab_home(venv) / folder).mkdir(parents=True, exist_ok=True)
    (lab_home(venv) / "runtime").chmod(0o700)


def is_root() -> bool:
    """Whether an administrator runs this, as is usual in a container."""
    return hasattr(os, "geteuid") and os.geteuid() == 0


def lab_command(
    python: Path | str,
    port: int | None = None,
    browser: bool = True,
    root: Path = ROOT,
    system: str = sys.platform,
    as_root: bool | None = None,
) -> list[str]:
    """The command that opens JupyterLab on the first page, for this machine only.

    A browser installed as a sandboxed package, usual on Linux, cannot open a file in a hidden
    folder; there the address is given to it directly. JupyterLab refuses to run for root unless
    an option allows it. Only this computer can open it, with the token in the address, so it is
    allowed.
    """
    command = [
        str(python),
        "-m",
        "jupyterlab",
        "--ServerApp.ip=127.0.0.1",
        f"--ServerApp.root_dir={root}",
        f"--LabApp.default_url=/lab/tree/{FIRST_PAGE}",
        f"--ServerApp.open_browser={browser}",
        f"--ServerApp.use_redirect_file={not system.startswith('linux')}",
    ]
    if port:
        command += [f"--ServerApp.port={port}", "--ServerApp.port_retries=0"]
    if is_root() if as_root is None else as_root:
        command += ["--allow-root"]
    return command


def trust_notebooks(python: Path | str, env: Mapping[str, str], folder: Path = NOTEBOOKS) -> None:
    """Sign the workbook's notebooks, so that their start button asks nothing.

    Where that fails, JupyterLab asks before it runs a command, and the menu works as ever.
    """
    script = Path(__file__).with_name("trust.py")
    subprocess.run(
        [str(python), str(script), str(folder)], env=dict(env), capture_output=True, check=False
    )


def hand_over(command: list[str], env: dict[str, str], patience: float = 10) -> int:
    """Run a command in our place until it ends; return its exit code.

    Ctrl-C reaches the child as well: it is given time to end by itself.
    """
    child = subprocess.Popen(command, cwd=ROOT, env=env)
    try:
        code = child.wait()
    except Ended:
        code = _end(child, patience)
    except KeyboardInterrupt:
        code = _wait(child, patience)
    return code if code >= 0 else 128 - code


def _wait(child: "subprocess.Popen[bytes]", patience: float) -> int:
    """Let a child that was interrupted tidy up; end it if it takes too long."""
    try:
        return child.wait(patience)
    except (subprocess.TimeoutExpired, KeyboardInterrupt):
        return _end(child, patience)


def _end(child: "subprocess.Popen[bytes]", patience: float) -> int:
    """Ask a child to end, then make it."""
    child.terminate()
    try:
        return child.wait(patience)
    except subprocess.TimeoutExpired:
        child.kill()
        return child.wait()
