"""Simulated weigh days: a true machine, true loads by moments, and scales that err as they may.

Nothing of the engine under test is used: loads, rounding and errors are worked out here.
A day is drawn anew each time, and the question is how often the interval that the
package prints holds the truth.
"""

import math
from dataclasses import dataclass, field, replace

WHEELBASE, U_TAPE = 1.65, 0.003


@dataclass
class Truth:
    """A machine as it truly is: drawn anew for each day, so that no load favors a step.

    bare                (front, rear) of the tractor, kg
    frame, bucket       (weight, place ahead of the front axle)
    above_axles         heights of bare, frame, bucket above the line through the axle centers
    above_ground        the same above the ground
    """

    bare: tuple
    frame: tuple
    bucket: tuple
    above_axles: tuple
    above_ground: tuple

    @classmethod
    def drawn(cls, rng, any_height=False):
        """One of many machines of this size, its pieces low; any_height: held anywhere, large and
        small wheels.
        """
        axles = rng.uniform(0.25, 0.45)
        above = (rng.uniform(0.15, 0.55), rng.uniform(0.1, 0.5), rng.uniform(-0.25, 0.2))
        ground = (rng.uniform(0.55, 0.9), rng.uniform(0.5, 1.0), rng.uniform(0.2, 0.6))
        if any_height:
            low = 0.05 - axles
            above = (rng.uniform(0.1, 0.6), rng.uniform(low, 0.9), rng.uniform(low, 0.9))
            ground = tuple(height + axles for height in above)
        return cls(
            (rng.uniform(570, 630), rng.uniform(770, 830)),
            (rng.uniform(190, 230), rng.uniform(0.1, 0.25)),
            (rng.uniform(105, 130), rng.uniform(1.1, 1.3)),
            above,
            ground,
        )

    def parts(self, name):
        """(weight, place, height above axles, above ground) of everything in a set-up."""
        front, rear = self.bare
        whole = front + rear
        found = [(whole, -WHEELBASE * rear / whole, self.above_axles[0], self.above_ground[0])]
        for at, (piece, known) in enumerate(
            (("loader frame", self.frame), ("bucket", self.bucket)), 1
        ):
            if piece in name:
                found.append((*known, self.above_axles[at], self.above_ground[at]))
        return found

    def level_loads(self, name):
        """(front, rear) of a set-up on level ground, by moments about the rear axle."""
        parts = self.parts(name)
        front = sum(w * (x + WHEELBASE) for w, x, *_ in parts) / WHEELBASE
        return front, sum(w for w, *_ in parts) - front

    def numbers(self):
        """Every number a page may print about the bucket, as it truly is."""
        on, off = self.level_loads("loader frame + bucket"), self.level_loads("loader frame")
        weight, ahead = self.bucket
        return {
            "weight": weight,
            "ahead": ahead,
            "front_change": on[0] - off[0],
            "rear_change": on[1] - off[1],
            "factor": (on[0] - off[0]) / weight,
            "front_with": on[0],
            "rear_with": on[1],
            "front_without": off[0],
            "rear_without": off[1],
            "share_with": 100 * on[0] / sum(on),
            "share_without": 100 * off[0] / sum(off),
        }


@dataclass
class Yard:
    """What is true of a simulated day, beyond the machine.

    step, accuracy      of the scales: rounding step, limit of the gain error in percent
    limit               limit of the zero error, kg
    scatter             of one display reading, kg; None: as scales of this class usually do
    repeats             how often each set-up is read
    wheels              every wheel read by itself
    own_sets            scales of their own under each axle
    pad                 height of the pads that raise one axle at a time, m; (least, most) draws it
                        anew each day
    any_height          centers of gravity anywhere that pieces are held, wheels of any size
    off_level           limit of the yard's slope, degrees
    rear                False where only the front is read
    """

    step: float = 1.0
    accuracy: float = 0.5
    limit: float = 0.0
    scatter: float | None = 1.0
    repeats: int = 1
    wheels: bool = False
    own_sets: bool = False
    pad: float | tuple = 0.0
    any_height: bool = False
    off_level: float = 0.0
    rear: bool = True
    setups: tuple = field(default=("loader frame", "loader frame + bucket"))


def shown(yard, true, rng, pad):
    """{set-up: (front, rear)}: lists of what the displays showed, numbers or (left, right)."""

    def error(limit):
        return rng.uniform(-limit, limit) if limit else 0.0

    gains = [error(yard.accuracy / 100), error(yard.accuracy / 100)]
    zeros = [error(yard.limit), error(yard.limit)]
    if not yard.own_sets:
        gains[1], zeros[1] = gains[0], zeros[0]
    slope = math.tan(math.radians(error(yard.off_level)))

    def one_display(load):
        # None: as much as repeats of scales of this class may differ.
        own = max(yard.step, load * yard.accuracy / 100) / 3
        spread = own if yard.scatter is None else yard.scatter
        return yard.step * round((load + rng.gauss(0, spread)) / yard.step)

    day = {}
    for name in yard.setups:
        parts = true.parts(name)
        loads = list(true.level_loads(name))
        uphill = sum(w * h for w, _, _, h in parts) * slope / WHEELBASE
        raised = sum(w * h for w, _, h, _ in parts) * pad / WHEELBASE**2
        # Nose uphill takes off the front; an axle on pads is the higher one and loses too.
        loads = [loads[0] - uphill - raised, loads[1] + uphill - raised]
        axles = []
        for axle in (0, 1):
            if axle and not yard.rear:
                axles.append([])
                continue
            felt = loads[axle] / (1 + gains[axle]) - zeros[axle]
            left = rng.uniform(0.46, 0.54)
            axles.append(
                [
                    (one_display(felt * left), one_display(felt * (1 - left)))
                    if yard.wheels
                    else one_display(felt)
                    for _ in range(yard.repeats)
                ]
            )
        day[name] = tuple(axles)
    return day


# Every kind of day that people weigh: its truth, and what is told of it.
CASES = {
    "once each, 1 kg steps, 0.5 %": (Yard(scatter=None), {}),
    "once each, 10 kg steps, 0.5 %": (Yard(step=10, scatter=None), {}),
    "once each, 5 kg steps, 0.5 %": (Yard(step=5, scatter=None), {}),
    "once each, 1 kg steps, 2 %": (Yard(accuracy=2, scatter=None), {}),
    "front only, weight told": (Yard(rear=False, scatter=None), {"weight": 2.0}),
    "front only, overhang told": (Yard(rear=False, scatter=None), {"ahead": 0.02}),
    **{
        f"{n} times, {d:g} kg steps, scatter {part:g} of a step": (
            Yard(step=d, scatter=part * d, repeats=n),
            {},
        )
        for n in (2, 3, 5)
        for d, part in ((1, 0.1), (5, 0.3), (2, 0.5), (1, 1), (2, 2))
    },
    "wheel by wheel, twice": (Yard(wheels=True, repeats=2, scatter=0.7), {}),
    "wheel by wheel, once": (Yard(wheels=True, scatter=None), {}),
    "a set moved on pads, pads and heights told": (
        Yard(repeats=2, pad=(0.02, 0.08), any_height=True),
        {"pads": 0.002, "heights": 0.05},
    ),
    "a set moved on pads, pads told": (
        Yard(repeats=2, pad=(0.02, 0.08), any_height=True),
        {"pads": 0.002},
    ),
    "a set moved on pads, nothing told": (
        Yard(repeats=2, pad=(0.02, 0.08), any_height=True),
        {"pads": None},
    ),
    "always 50 mm pads and low pieces, nothing told": (
        Yard(repeats=2, pad=0.05),
        {"pads": None},
    ),
    "two sets": (Yard(own_sets=True, repeats=2, limit=2), {"placed": "every wheel"}),
    "1 % scales, twice": (Yard(accuracy=1, repeats=2), {}),
    "2 % scales, twice": (Yard(accuracy=2, repeats=2), {}),
    "10 kg steps, 3 times": (Yard(step=10, scatter=3, repeats=3), {}),
    "yard up to 2 degrees off level": (Yard(off_level=2, repeats=2), {"off_level": "2 deg"}),
}


def covered(case, days, rng):
    """{number: share of days on which its interval held the truth}, in percent, by the package."""
    from leverarm.weighing.day import weigh_day
    from leverarm.weighing.facts import machine, scale_facts
    from leverarm.weighing.readings import weighing
    from leverarm.weighing.results import results

    yard, told = CASES[case]
    facts = scale_facts(
        f"{yard.step} kg",
        f"{yard.accuracy} %",
        f"{yard.limit} kg" if yard.limit else None,
        placed="moved" if "pads" in told else told.get("placed"),
        ground="on the ground" if "pads" in told else None,
        off_level=told.get("off_level"),
    )
    beside = {}
    for name in ("weight", "ahead"):
        if name in told:
            beside[f"u_{name}"] = told[name]
    held, counted = {}, {}
    for _ in range(days):
        true = Truth.drawn(rng, yard.any_height)
        base = rng.gauss(WHEELBASE, U_TAPE)
        pad = rng.uniform(*yard.pad) if isinstance(yard.pad, tuple) else yard.pad
        heights = {
            name: max(0.0, rng.gauss(height, told["heights"]))
            for name, height in zip(("bare", "loader frame", "bucket"), true.above_ground)
            if "heights" in told
        }
        tractor = machine("simulated", base, wheelbase_error=U_TAPE, heights=heights)
        if told.get("pads"):
            facts = replace(facts, pad_height_m=rng.gauss(pad, told["pads"]))
        rows = [
            weighing(name, one_front, one_rear, "kg", i)
            for name, (front, rear) in shown(yard, true, rng, pad).items()
            for i, (one_front, one_rear) in enumerate(zip(front, rear or [None] * len(front)), 1)
        ]
        for name in ("weight", "ahead"):
            if name in told:
                beside[name] = rng.gauss(
                    dict(zip(("weight", "ahead"), true.bucket))[name], told[name]
                )
        found = results(weigh_day(tractor, "2026-05-14", facts, rows), **beside)
        for name, truth in true.numbers().items():
            number = getattr(found, name)
            if number is not None:
                low, high = number.interval()
                held[name] = held.get(name, 0) + (low <= truth <= high)
                counted[name] = counted.get(name, 0) + 1
    return {name: 100 * held[name] / counted[name] for name in counted}
