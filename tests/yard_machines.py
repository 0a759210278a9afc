"""Machines on a yard as the boxes of the yard page hold them: one by hand, and any number drawn."""

import random

from leverarm.stage.recording import start_of
from leverarm.yard_page.readings import ROWS, WHEELS, YardInputs, box_name
from leverarm.yard_page.told import LENGTH_PLACES

DEMO = {"on": (964, 956, 652, 658), "off": (754, 748, 738, 744)}


def state_of(system="lb", readings=DEMO, **told):
    """The page's inputs with these readings; None is an empty box."""
    state = start_of(YardInputs(system).inputs)
    for row in ROWS:
        for (axle, side), shown in zip(WHEELS, readings[row], strict=True):
            if shown is not None:
                state[box_name(row, axle, side)] = shown
                state[f"has_{box_name(row, axle, side)}"] = 1.0
    return {**state, **{name: float(value) for name, value in told.items()}}


def random_states(system, how_many, seed):
    """Machines of every size, wheels or axles, with scales told or not; some front only."""
    rng, typed = random.Random(seed), YardInputs(system)
    made = 0
    while made < how_many:
        base_m = rng.uniform(1.2, 2.6)
        bare, share = rng.uniform(400, 4000), rng.uniform(0.35, 0.6)
        piece = rng.randrange(3)
        weight, ahead = bare * rng.uniform(0.05, 0.2), rng.uniform(0.2, 1.5)
        off = bare * share, bare * (1 - share)
        front = weight * (1 + ahead / base_m)
        on = off[0] + front, off[1] + weight - front
        step = rng.choice([1, 2, 5] if system == "lb" else [0.5, 1, 2])
        readings = {}
        for row, loads in (("on", on), ("off", off)):
            shown = [typed.shown(load, "weight") for load in loads]
            wheels = []
            for load in shown:
                left = rng.uniform(0.46, 0.54) * load
                wheels += [step * round(left / step), step * round((load - left) / step)]
            readings[row] = wheels
        if rng.random() < 0.3:
            readings = {row: (a, None, c, None) for row, (a, _, c, _) in readings.items()}
        if rng.random() < 0.2:
            readings = {row: (a, b, None, None) for row, (a, b, *_) in readings.items()}
        if sum(x or 0 for x in readings["on"]) == sum(x or 0 for x in readings["off"]):
            continue  # too light for these scales: the page does not go on with it
        made += 1
        placed = rng.choice([(0, 0), (1, 0), (1, 1)])
        yield state_of(
            system,
            readings,
            wheelbase=round(typed.shown(base_m, "length"), LENGTH_PLACES[typed.units.length]),
            has_wheelbase=1,
            piece=piece,
            step=step,
            accuracy=rng.choice([0.1, 0.2, 0.5, 1.0]),
            step_known=1,
            accuracy_known=1,
            one_set=placed[0],
            raised=placed[1],
            placed_known=1,
            claim=rng.choice([0.5, 1.0, 1.5, 2.0, 3.0]),
            claim_known=1,
            claim_axle=rng.randrange(3),
        )
