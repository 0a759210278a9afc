"""Which single improvement would shrink an interval most."""

from dataclasses import dataclass

from leverarm.uncertainty import Measured


@dataclass(frozen=True)
class Improvement:
    """One thing to do, and the expanded uncertainty it would leave."""

    name: str
    doing: str
    before: float
    after: float

    @property
    def percent(self):
        """How much narrower the interval gets, in percent of its width now."""
        return 100 * (1 - self.after / self.before) if self.before else 0.0


def _halved(source):
    return {"u": source.u / 2}


def _once_more(number):
    """Each reading once more: the mean steadies, and a pooled scatter is better known."""
    pools = [source.pool for source in number.slopes if source.pool is not None]
    return lambda source: {
        "u": source.u * (source.count / (source.count + 1)) ** 0.5,
        "dof": source.dof + (pools.count(source.pool) or 1),
        "count": source.count + 1,
    }


# What can be done: its name, what to do, and how it changes the sources of each cause.
_CHOICES = (
    (
        "another reading",
        "Read every scale once more, wheels rolled off and on.",
        lambda n: {"scatter": _once_more(n)},
    ),
    ("a finer scale", "Use a scale with half the step.", lambda n: {"graduation": _halved}),
    ("a better tape", "Measure lengths twice as well.", lambda n: {"tape": _halved}),
    (
        "a better calibration",
        "Have the scales' gain and zero known twice as well.",
        lambda n: {"gain": _halved, "zero": _halved},
    ),
    (
        "a more level yard",
        "Bring all wheels to one height twice as well.",
        lambda n: {"tilt": _halved},
    ),
    (
        "a better stated value",
        "Find the stated value twice as well.",
        lambda n: {"stated": _halved},
    ),
)


def improvements(number: Measured, coverage=0.95):
    """Every improvement that does something, the best first.

    >>> from leverarm.weighing import infer
    >>> hung = infer((600, 800), (790, 720), 1.65, u_reading=2, u_wheelbase=0.003)
    >>> [(i.name, round(i.percent)) for i in improvements(hung.ahead)]
    [('another reading', 29), ('a better tape', 0)]
    """
    now = number.expanded(coverage)
    found = [
        Improvement(name, doing, now, number.changed(**changes(number)).expanded(coverage))
        for name, doing, changes in _CHOICES
        if changes(number).keys() & {s.cause for s in number.slopes}
    ]
    return tuple(
        sorted((one for one in found if one.after < one.before), key=lambda one: one.after)
    )
