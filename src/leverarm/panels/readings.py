"""A table of readings to find a rule in, before any formula."""

import ipywidgets as w

from leverarm.axles import predict
from leverarm.machine import Attachment
from leverarm.panels.base import Panel, html, set_if_changed, table
from leverarm.quantities import show


class Readings(Panel):
    """Bare machine first, then one weight hung at several overhangs: front and rear readings."""

    def __init__(self, tractor, hung) -> None:
        self._states = [
            ("nothing hung on", predict(tractor)),
            *((one, predict(tractor, one)) for one in hung),
        ]
        super().__init__()

    def build(self) -> list[w.Widget]:
        self.table = html("")
        return [self.table]

    def draw(self) -> None:
        set_if_changed(
            self.table,
            table(
                ["hung on", "ahead of the front axle", "front", "rear"],
                [self._row(*state) for state in self._states],
                "What the scales read",
            ),
        )

    def _row(self, what, loads):
        hung, ahead = (
            (what, "")
            if isinstance(what, str)
            else (
                show(what.weight_kg, "weight", self.system),
                show(what.ahead_m, "length", self.system),
            )
        )
        front, rear = (show(kg, "weight", self.system) for kg in (loads.front_kg, loads.rear_kg))
        return [hung, ahead, front, rear]


def readings(tractor, weight, aheads):
    """Readings of a machine, bare and with one weight hung at each overhang in turn.

    readings(plot, weight="100 kg", aheads=("0 m", "0.5 m"))
    """
    return Readings(tractor, [Attachment("weight", weight, ahead) for ahead in aheads])
