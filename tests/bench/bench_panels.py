"""What a move costs each sliding panel in Python alone, without a page; and what more panels on a
page cost.

One number of each panel is moved to and fro; a move is told and the panel drawn.  The
slider in a page is in ``bench_slider.py``; this shows which panel would be slow there.
"""

import sys
import time
from functools import partial
from pathlib import Path

from common import many, ms, power, save, summary, table, times, verdict

from leverarm import panels

sys.path.insert(0, str(Path(__file__).parent))

# The number that is moved, and the gate open from the start.
SLIDING = {
    "arms_up": "height",
    "sideways": "load",
    "counterweight": "load",
    "under_tire": "on",
    "front_lead": "front",
    "weigh_day": "weight",
    "mow_or_unhook": "mower",
}
FRAME_MS = 100
PAGES = (1, 4, 16)


def opened(name):
    """A panel with nothing kept back."""
    open_from_start = name in ("under_tire", "front_lead")
    return getattr(panels, name)(**({} if open_from_start else {"gated": False}))


def moves(panel, name, count):
    """Seconds of each move between two places of one number."""
    number = panel.numbers[name]
    low, high = number.value, number.value * 1.05 or 1.0
    taken = []
    for i in range(count + 2):
        start = time.perf_counter()
        number.hold(high if i % 2 == 0 else low)
        panel.redraw()
        taken.append(time.perf_counter() - start)
    assert not panel.error.value, panel.error.value
    return summary(taken[2:])


def pages():
    """Seconds of one change of units with more and more lift panels that follow it; no panel
    may be there before.
    """
    made, found = [], {}
    for count in PAGES:
        made += [opened("arms_up") for _ in range(count - len(made))]
        found[count] = summary(changes())
    panels.shared.set(system="kg")
    return found


def changes():
    taken = []
    for i in range(many(9, 2)):
        taken += times(partial(panels.shared.set, system=("lb", "kg")[i % 2]), 1)
    return taken


def main():
    heard = pages()
    made = {name: summary(times(partial(opened, name), many(5, 1))) for name in SLIDING}
    moved = {name: moves(opened(name), number, many(60, 4)) for name, number in SLIDING.items()}
    table(
        "Panels in Python alone, ms: median (lowest to highest)",
        ["panel", "number moved", "a move", "made"],
        [[name, SLIDING[name], ms(moved[name]), ms(made[name])] for name in SLIDING],
    )
    table(
        "A change of units, heard by more and more panels, ms",
        ["panels", "ms"],
        [[count, ms(spread)] for count, spread in heard.items()],
    )
    verdict(
        "the dearest move of any panel, ms",
        1e3 * max(one["median"] for one in moved.values()),
        FRAME_MS,
    )
    verdict(
        "power of growth with the panels",
        power(PAGES, [heard[count]["median"] for count in PAGES]),
        1.1,
    )
    save("bench_panels", {"made": made, "moved": moved, "heard": heard})


if __name__ == "__main__":
    main()
