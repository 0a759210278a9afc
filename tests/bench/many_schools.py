"""What a class site sends to many students: measured for one, summed for many, tried with some.

    python tests/bench/many_schools.py SITE     measures, writes figures/many_schools.json and
                                                the tables of lessons/many_schools.md
    python tests/bench/many_schools.py          writes the tables again from what was measured

SITE is what ``start.py site`` built.  A browser with an empty profile visits it on this computer
alone, is closed, and comes back with what it kept.  Then the requests of the first visit are
repeated by many students at once, to hold the sums against: at most STUDENTS of them, and no
longer than LONGEST seconds.
"""

import contextlib
import functools
import http.client
import http.server
import json
import re
import sys
import tempfile
import threading
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]
MEASURED, PAGE = ROOT / "figures" / "many_schools.json", ROOT / "lessons" / "many_schools.md"
VISITS = {
    "lesson 02, first visit": "lesson/02_the_tractor.html",
    "then lesson 03": "lesson/03_derive_it.html",
    "lesson 02 on another day": "lesson/02_the_tractor.html",
}
SERVED = ("plain", "compressed")
CROWDS = (100, 1_000, 10_000)
LINES_MBIT, ROOM = (10, 30, 100, 300), 30
STUDENTS, AT_ONCE, LONGEST = 100, 20, 240
TRIED_MBIT = 100


# The sums ----------------------------------------------------------------------------------


def seconds_for(students, sent_bytes, mbit):
    """The time a line of so many Mbit/s needs for so many students, at the least."""
    return students * sent_bytes * 8 / (mbit * 1e6)


def amount(sent_bytes):
    """Bytes for people: 1.2 GB."""
    for unit, size in (("TB", 1e12), ("GB", 1e9), ("MB", 1e6)):
        if sent_bytes >= size:
            return f"{sent_bytes / size:,.{0 if sent_bytes >= 100 * size else 1}f} {unit}"
    return f"{sent_bytes / 1e3:,.0f} kB"


def spell(seconds):
    """A time for people: 40 s, 5 min, 1.5 h."""
    if seconds < 90:
        return f"{seconds:.0f} s"
    return f"{seconds / 60:.0f} min" if seconds < 5400 else f"{seconds / 3600:.1f} h"


def rows_of_one(found):
    for visit in VISITS:
        one = [found["visits"][visit][how] for how in SERVED]
        yield [visit, *(f"{row['requests']:,}" for row in one), *(amount(r["bytes"]) for r in one)]


def rows_of_many(found):
    for crowd in CROWDS:
        first, again = (
            found["visits"][visit]["compressed"]
            for visit in ("lesson 02, first visit", "lesson 02 on another day")
        )
        yield [
            f"{crowd:,}",
            f"{crowd * first['requests']:,}",
            amount(crowd * first["bytes"]),
            f"{seconds_for(crowd, first['bytes'], 1) / 3600:,.0f} Mbit/s",
            f"{crowd * again['requests']:,}",
            amount(crowd * again["bytes"]),
        ]


def rows_of_a_room(found):
    for mbit in LINES_MBIT:
        yield [
            f"{mbit} Mbit/s",
            *(
                spell(seconds_for(ROOM, found["visits"][visit][how]["bytes"], mbit))
                for visit in ("lesson 02, first visit", "lesson 02 on another day")
                for how in SERVED
            ),
        ]


def markdown(head, rows):
    return "\n".join(
        "| " + " | ".join(cells) + " |" for cells in (head, ["---"] * len(head), *rows)
    )


def tables(found):
    """Name -> the table of the page."""
    one = ["visit", *(f"requests, {how}" for how in SERVED), *(f"sent, {how}" for how in SERVED)]
    many = ["students", "requests", "sent", "all within an hour", "another day, requests", "sent"]
    days = ("first visit", "another day")
    room = ["line", *(f"{day}, {how}" for day in days for how in SERVED)]
    tried = found["tried"]
    check = [
        ["bytes sent", f"{tried['sum_bytes']:,}", f"{tried['bytes']:,}"],
        ["requests", f"{tried['sum_requests']:,}", f"{tried['requests']:,}"],
        [
            f"seconds for {ROOM} students at {TRIED_MBIT} Mbit/s",
            f"{tried['sum_seconds']:.1f}",
            f"{tried['seconds']:.1f}",
        ],
    ]
    return {
        "one": markdown(one, rows_of_one(found)),
        "many": markdown(many, rows_of_many(found)),
        "room": markdown(room, rows_of_a_room(found)),
        "tried": markdown(["what", "sum", "counted at the server"], check),
    }


def filled(page, found):
    """The page with its tables as they follow from what was measured."""
    for name, text in tables(found).items():
        page, times = re.subn(
            rf"(<!-- {name} -->\n).*?(<!-- end -->)",
            lambda there, text=text: f"{there[1]}{text}\n{there[2]}",
            page,
            flags=re.DOTALL,
        )
        assert times == 1, f"one place for the table {name} in {PAGE.name}"
    return page


# The measuring -----------------------------------------------------------------------------


@contextlib.contextmanager
def served(folder, copies, rate=None):
    """The site on a server that counts: (port, line, what was asked for)."""
    from classroom import Handler, Line

    asked, line = [], Line(rate)

    class Counting(Handler):
        def end_headers(self):
            asked.append(self.path)
            if not copies:  # a browser asks again, as it does for a site that is a while old
                self.send_header("Cache-Control", "no-cache")
            line.sent += sum(map(len, self._headers_buffer))
            super().end_headers()

    server = http.server.ThreadingHTTPServer(
        ("127.0.0.1", 0),
        functools.partial(Counting, directory=str(folder), line=line, copies=copies),
    )
    threading.Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield server.server_port, line, asked
    finally:
        server.shutdown()


def visited(driver, folder, copies):
    """Visit -> requests, bytes, and what was asked for, of one student."""
    from classroom import HOST, LESSON_READY
    from lab import QUIET, find_browser

    rules = f"--host-resolver-rules=MAP {HOST} 127.0.0.1, MAP * ~NOTFOUND"
    found = {}
    with served(folder, copies) as (port, line, asked), tempfile.TemporaryDirectory() as profile:
        for visit, path in VISITS.items():
            before, first = line.sent, len(asked)
            browser = driver.chromium.launch_persistent_context(
                profile, executable_path=find_browser(), args=[*QUIET, rules]
            )
            page = browser.pages[0]
            page.goto(f"http://{HOST}:{port}/{path}")
            ready = page.frame_locator("iframe").locator(LESSON_READY)
            ready.wait_for(state="attached", timeout=1_000 * LONGEST)
            page.wait_for_timeout(3_000)  # what is still fetched once the lesson is ready
            browser.close()
            found[visit] = {
                "requests": len(asked) - first,
                "bytes": line.sent - before,
                "asked": asked[first:],
            }
    return found


def student(port, paths, until):
    """Ask for everything of a first visit over one connection, as a browser does by plain http,
    where it takes no brotli.
    """
    kept = {}
    there = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
    for path in paths:
        if time.monotonic() > until:
            raise TimeoutError(f"not done in {LONGEST} s")
        told = {"If-Modified-Since": kept[path]} if kept.get(path) else {}
        there.request("GET", path, headers={"Accept-Encoding": "gzip, deflate"} | told)
        answer = there.getresponse()
        answer.read()
        kept[path] = answer.headers.get("Last-Modified") or kept.get(path)
    there.close()


def crowd(folder, paths, students, at_once, rate=None):
    """(requests, bytes, seconds) that the server counted for so many first visits."""
    until, start = time.monotonic() + LONGEST, time.monotonic()
    with (
        served(folder, True, rate) as (port, line, asked),
        ThreadPoolExecutor(at_once) as pool,
    ):
        for done in [pool.submit(student, port, paths, until) for _ in range(students)]:
            done.result()
        return len(asked), line.sent, time.monotonic() - start


def measured(folder):
    from playwright.sync_api import sync_playwright

    sys.path.insert(0, str(HERE.parent / "browser"))
    with sync_playwright() as driver:
        ways = {how: visited(driver, folder, how == "compressed") for how in SERVED}
    first = ways["compressed"]["lesson 02, first visit"]
    asked = first["asked"]
    # Only what a first visit fetches: the sums rest on the browser, the trial on its list.
    requests, sent, _ = crowd(folder, asked, STUDENTS, AT_ONCE)
    _, room_bytes, seconds = crowd(folder, asked, ROOM, ROOM, TRIED_MBIT * 1e6 / 8)
    return {
        "edition": json.loads((folder / "class_site.json").read_text("utf-8"))["edition"],
        "files": sum(path.is_file() for path in folder.rglob("*")),
        "visits": {
            visit: {
                how: {key: ways[how][visit][key] for key in ("requests", "bytes")} for how in SERVED
            }
            for visit in VISITS
        },
        "tried": {
            "students": STUDENTS,
            "requests": requests,
            "sum_requests": STUDENTS * first["requests"],
            "bytes": sent,
            "sum_bytes": STUDENTS * first["bytes"],
            "seconds": seconds,
            "sum_seconds": seconds_for(ROOM, first["bytes"], TRIED_MBIT),
            "room_bytes": room_bytes,
        },
    }


def main():
    from leverarm.files import write_whole

    if len(sys.argv) > 1:
        found = measured(Path(sys.argv[1]).absolute())
        write_whole(MEASURED, (json.dumps(found, indent=1) + "\n").encode())
    found = json.loads(MEASURED.read_text("utf-8"))
    write_whole(PAGE, filled(PAGE.read_text("utf-8"), found).encode())
    print("\n\n".join(tables(found).values()))


if __name__ == "__main__":
    main()
