"""Simulated weigh days with nothing wrong: machines, pieces, scales and habits as they vary.

Every load is worked out here from moments about the rear axle, by no formula of the package.
"""

from leverarm.weighing.day import weigh_day
from leverarm.weighing.facts import machine, scale_facts
from leverarm.weighing.readings import weighing

LB = 0.45359237
PLANS = (
    ((), ("loader frame",), ("loader frame", "bucket")),
    ((), ("loader frame", "bucket")),
    ((), ("bucket",)),
    (("loader frame",), ("loader frame", "bucket")),
    (
        (),
        ("loader frame",),
        ("loader frame", "bucket"),
        ("ballast",),
        ("loader frame", "bucket", "ballast"),
    ),
    ((), ("loader",), ("loader", "pallet forks"), ("loader", "pallet forks", "ballast")),
    ((), ("sprayer",)),
    ((),),
)


def clean_day(rng, date="2026-05-14", of=None):
    """(day, machine): an honest day; ``of`` weighs a machine of an earlier call again."""
    made = of or a_machine(rng)
    lb = rng.random() < 0.5
    unit = LB if lb else 1.0
    step = rng.choice([1, 2, 5, 10] if lb else [0.5, 1, 2, 5]) * (1 if made["total"] < 3000 else 2)
    accuracy = rng.choice([None, 0.2, 0.5, 1.0, 2.0])
    sigma = step * rng.uniform(0.1, 2.0)
    gain = 1 + rng.uniform(-1, 1) * (accuracy or 0.5) / 100
    repeats, wheels = rng.choice([1, 1, 2, 3]), rng.random() < 0.25
    fuel = rng.uniform(-0.03, 0.03) * made["total"] if of else 0.0
    uneven = {axle: rng.gauss(0, 0.03) for axle in ("front", "rear")}
    rows = []
    for setup in made["plan"]:
        front, rear = made["front"] + 0.3 * fuel, made["rear"] + 0.7 * fuel
        for piece in setup:
            weight, ahead = made["pieces"][piece]
            onto_front = weight * (made["wheelbase"] + ahead) / made["wheelbase"]
            front, rear = front + onto_front, rear + weight - onto_front
        for repeat in range(1, repeats + 1):
            shown = {}
            for axle, load in (("front", front), ("rear", rear)):
                parts = [load]
                if wheels:
                    parts = [load * (0.5 + uneven[axle]), load * (0.5 - uneven[axle])]
                shown[axle] = [
                    step * round((part * gain / unit + rng.gauss(0, sigma)) / step)
                    for part in parts
                ]
            given = {axle: one if wheels else one[0] for axle, one in shown.items()}
            rows.append(
                weighing(setup, given["front"], given["rear"], "lb" if lb else "kg", repeat)
            )
    told = machine(
        "Simulated tractor", made["wheelbase"] * rng.gauss(1, 0.001), wheelbase_error=0.003
    )
    facts = scale_facts(f"{step} {'lb' if lb else 'kg'}", f"{accuracy} %" if accuracy else "")
    return weigh_day(told, date, facts, rows, unchanged=True, system="lb" if lb else "kg"), made


def a_machine(rng):
    """A tractor, its pieces and the set-ups that are weighed."""
    wheelbase = rng.uniform(1.35, 2.7)
    total = wheelbase**3 * rng.uniform(170, 400)
    front = total * min(max(rng.gauss(0.43, 0.035), 0.34), 0.5)
    bucket = total * rng.uniform(0.04, 0.1), wheelbase * rng.uniform(0.55, 0.95)
    frame = total * rng.uniform(0.105, 0.2), wheelbase * rng.uniform(-0.02, 0.3)
    ballast = total * rng.uniform(0.08, 0.35), -wheelbase * rng.uniform(1.2, 1.9)
    pieces = {
        "bucket": bucket,
        "loader frame": frame,
        "loader": frame,
        "pallet forks": bucket,
        "ballast": ballast,
        "sprayer": (total * rng.uniform(0.05, 0.2), -wheelbase * rng.uniform(1.2, 1.6)),
    }
    return {
        "wheelbase": wheelbase,
        "total": total,
        "front": front,
        "rear": total - front,
        "pieces": pieces,
        "plan": rng.choice(PLANS),
    }
