"""Run a command that must not outlive whoever started it:  python tethered.py COMMAND ...

Its standard input is a pipe that nobody writes to. The pipe closes when the program at its other
end ends, also when that was killed; then the command and all that it started end too. So a set-up
that was killed leaves nobody behind who still writes into `.venv`.
"""

import contextlib
import os
import signal
import subprocess
import sys
import threading


def end_with_the_pipe(child: "subprocess.Popen[bytes]") -> None:
    """Wait for the pipe to close, then end the command and what it started."""
    sys.stdin.buffer.read()
    if os.name == "nt":
        subprocess.run(["taskkill", "/T", "/F", "/PID", str(child.pid)], capture_output=True)
    else:
        os.killpg(0, signal.SIGKILL)  # this process leads a group of its own


if __name__ == "__main__":
    started = subprocess.Popen(sys.argv[1:], stdin=subprocess.DEVNULL)
    threading.Thread(target=end_with_the_pipe, args=[started], daemon=True).start()
    with contextlib.suppress(KeyboardInterrupt):
        os._exit(started.wait() & 255)
