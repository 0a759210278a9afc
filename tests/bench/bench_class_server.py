"""A class server with ten students on this machine: memory, starts, a first notebook, a slider
through the proxy.

As root on Linux: ``CLASS_SERVER=/srv/leverarm-trial python tests/bench/bench_class_server.py
[result.json]``.  It makes
ten accounts and takes them away again (tests/class_server.py).
"""

import contextlib
import json
import os
import subprocess
import sys
import time
import uuid
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import psutil
import websocket
from common import machine, save, summary, table

sys.path.insert(0, str(Path(__file__).parents[1]))

from class_server import CALLED, ROOT, SHOWN, school, why_not, xsrf

STUDENTS = 10
FIRST, HEAVY = (
    "02_the_tractor.ipynb",
    "05_weigh_day.ipynb",
)  # the second draws with numpy and matplotlib
PATIENCE_S = 300


def pss_mb(pids):
    """Memory of some processes in MB; what they share counts in parts, so that a sum is right."""
    total = 0
    for pid in pids:
        with contextlib.suppress(OSError):
            rows = Path(f"/proc/{pid}/smaps_rollup").read_text().splitlines()
            total += next(int(row.split()[1]) for row in rows if row.startswith("Pss:"))
    return total / 1024


def memory(server, names):
    """MB for each student, and for the hub with its proxy."""
    hub = psutil.Process(server.process.pid)
    of_root = [hub.pid, *(child.pid for child in hub.children() if child.uids().real == 0)]
    return {name: pss_mb(server.running(name)) for name in names}, pss_mb(of_root)


def processor(server):
    """Seconds of processor that each student's processes have taken by now; a busy machine does not
    change them.
    """
    taken = dict.fromkeys(server.running().values(), 0.0)
    for pid, name in server.running().items():
        with contextlib.suppress(psutil.Error, KeyError):
            taken[name] += sum(
                psutil.Process(pid).cpu_times()[:4]
            )  # its own and its finished children's
    return summary(list(taken.values()))


def timed(call, *words):
    start = time.perf_counter()
    call(*words)
    return time.perf_counter() - start


def at_once(call, names):
    """The same for all of them in the same moment: seconds in all, and for each."""
    start = time.perf_counter()
    with ThreadPoolExecutor(len(names)) as pool:
        each = list(pool.map(lambda name: timed(call, name), names))
    return time.perf_counter() - start, each


def run_notebook(server, session, name, notebook=FIRST):
    """Start a kernel and run every code cell of a lesson, as the page does; none may fail."""
    kernel = server.ask(
        session,
        "POST",
        f"/user/{name}/api/kernels",
        json={"name": "python3", "path": "notebooks/" + notebook},
    ).json()["id"]
    cookies = "; ".join(
        f"{cookie.name}={cookie.value}"
        for cookie in session.cookies
        if f"/user/{name}/".startswith(cookie.path)
    )
    token = xsrf(session, f"/user/{name}/")
    line = websocket.create_connection(
        f"{server.url.replace('http', 'ws')}/user/{name}/api/kernels/{kernel}/channels"
        f"?_xsrf={token}",
        cookie=cookies,
        timeout=PATIENCE_S,
    )
    cells = [
        cell
        for cell in json.loads((ROOT / "notebooks" / notebook).read_text("utf-8"))["cells"]
        if cell["cell_type"] == "code"
    ]
    for cell in cells:
        last = ask_kernel(line, "".join(cell["source"]))
    wait_for(line, last)
    line.close()


def ask_kernel(line, code):
    """Send one cell; the message's own number is returned."""
    head = {
        "msg_id": uuid.uuid4().hex,
        "msg_type": "execute_request",
        "username": "",
        "session": "bench",
        "version": "5.3",
    }
    content = {
        "code": code,
        "silent": False,
        "store_history": True,
        "user_expressions": {},
        "allow_stdin": False,
        "stop_on_error": True,
    }
    line.send(
        json.dumps(
            {
                "header": head,
                "parent_header": {},
                "metadata": {},
                "content": content,
                "channel": "shell",
                "buffers": [],
            }
        )
    )
    return head["msg_id"]


def wait_for(line, number):
    """Read until this message is done."""
    end = time.monotonic() + PATIENCE_S
    while time.monotonic() < end:
        told = line.recv()
        told = json.loads(told) if isinstance(told, str) else {"header": {}}
        kind = told["header"].get("msg_type")
        if kind == "error":
            raise RuntimeError(told["content"]["ename"] + ": " + told["content"]["evalue"])
        if (
            kind == "status"
            and told["content"]["execution_state"] == "idle"
            and told["parent_header"].get("msg_id") == number
        ):
            return
    raise RuntimeError("a notebook was not done in time")


def slider(server, name):
    """Key to picture for one student in the browser, the other kernels idle; ms, by bench_slider's
    own way.
    """
    import bench_slider as bench
    from lab import QUIET, find_browser, write_notebook
    from playwright.sync_api import sync_playwright

    sheet_path = server.notebooks(name) / "bench.ipynb"
    write_notebook(sheet_path, *bench.CELLS)
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=find_browser(), args=QUIET)
        with server.lab(browser, name).open("notebooks/bench.ipynb") as sheet:
            sheet.only_notebook()
            sheet.run_all()
            sheet.page.wait_for_selector(".bench-floor .noUi-handle")
            sheet.page.wait_for_selector(".lv-pic svg")
            for which in bench.SLIDERS:
                sheet.page.evaluate(bench.WATCH, [which, bench.OUTPUTS[which]])
            bench.compare(sheet, 1, 10)  # once for nothing
            taken = {
                which: bench.spread(values) for which, values in bench.compare(sheet, 4, 25).items()
            }
        browser.close()
    return taken


def versions(place):
    """The versions of the hub and its proxy."""
    hub = subprocess.run(
        [place.workbook / ".venv/bin/jupyterhub", "--version"], capture_output=True, text=True
    ).stdout.strip()
    proxy = json.loads(
        (place.root / "proxy/node_modules/configurable-http-proxy/package.json").read_text("utf-8")
    )["version"]
    return {"jupyterhub": hub, "configurable-http-proxy": proxy}


def measure(server, record):
    names = [name for name in server.people if name.startswith(CALLED) and name[-2:].isdecimal()]
    sessions, starts = {}, {}
    record["sign in, s"] = summary(
        [timed(lambda name: sessions.update({name: server.sign_in(name)}), name) for name in names]
    )

    def start(name):
        return server.open_server(sessions[name], name)

    starts["one after another"] = [timed(start, name) for name in names]
    each, record["hub and proxy, MB"] = memory(server, names)
    record["server alone, MB"], record["processor for a server's start, s"] = (
        summary(list(each.values())),
        processor(server),
    )
    for name in names:
        server.ask(sessions[name], "DELETE", f"/hub/api/users/{name}/server")
    wait_until_gone(server)
    whole, starts["at once"] = at_once(start, names)
    record["ten servers one after another, s"], record["ten servers at once, s"] = (
        sum(starts["one after another"]),
        whole,
    )
    record["a server's start, s"] = {way: summary(taken) for way, taken in starts.items()}

    def first(name):
        return run_notebook(server, sessions[name], name)

    record["first notebook alone, s"] = timed(first, names[0])
    record["first notebook, the other nine at once, s"] = summary(at_once(first, names[1:])[1])
    record["processor for start and notebook, s"] = processor(server)
    each, _ = memory(server, names)
    record["server and lesson 02, MB"] = summary(list(each.values()))
    for name in names:
        run_notebook(server, sessions[name], name, HEAVY)
    each, record["hub and proxy at the end, MB"] = memory(server, names)
    record["server, lessons 02 and 05, MB"] = summary(list(each.values()))
    record["all ten with both, and the hub, MB"] = (
        sum(each.values()) + record["hub and proxy at the end, MB"]
    )
    record["slider through the proxy, ms"] = slider(server, names[0])


def wait_until_gone(server, patience=120):
    end = time.monotonic() + patience
    while server.running() and time.monotonic() < end:
        time.sleep(0.1)


def show(record):
    def told(value):
        if isinstance(value, str):
            return value
        if not isinstance(value, dict):
            return f"{value:.1f}"
        if "median" in value:
            return f"{value['median']:.1f} ({value['low']:.1f} to {value['high']:.1f})"
        return "; ".join(f"{name} {told(part)}" for name, part in value.items())

    table(
        f"A class server, {STUDENTS} students: median (lowest to highest)",
        ["what", "value"],
        [[name, told(value)] for name, value in record.items()],
    )
    here = machine()
    print(
        f"  load average at the end {here['load_average']:.1f} on {here['processors']} processors"
    )


def main():
    if reason := why_not():
        sys.exit(f"Not measured: {reason}.")
    record, begun = {}, os.getloadavg()[0]
    with school(STUDENTS, SHOWN) as server:
        record["versions"], record["hub up, s"] = versions(server.place), server.took
        measure(server, record)
    show(record)
    save(
        "bench_class_server", {"load_average_before": begun, "students": STUDENTS, "found": record}
    )


if __name__ == "__main__":
    main()
