"""A table of readings to find a rule in, before any formula."""

from leverarm.axles import predict
from leverarm.machine import Attachment
from leverarm.panels.base import Panel, html, put
from leverarm.quantities import show


class Readings(Panel):
    """Bare machine first, then one weight hung at several overhangs: front and rear readings."""

    def __init__(self, tractor, hung):
        self._states = [("nothing hung on", predict(tractor)),
                        *((one, predict(tractor, one)) for one in hung)]
        super().__init__()

    def build(self):
        self.table = html("")
        return [self.table]

    def draw(self):
        rows = "".join(self._row(*state) for state in self._states)
        put(self.table, '<table class="lv-table"><caption>What the scales read</caption><tr>'
                        '<th scope="col">hung on</th><th scope="col">ahead of the front axle</th>'
                        f'<th scope="col">front</th><th scope="col">rear</th></tr>{rows}</table>')

    def _row(self, what, loads):
        hung, ahead = ((what, "") if isinstance(what, str) else
                       (show(what.weight_kg, "weight", self.system), show(what.ahead_m, "length", self.system)))
        front, rear = (show(kg, "weight", self.system) for kg in (loads.front_kg, loads.rear_kg))
        return f'<tr><th scope="row">{hung}</th><td>{ahead}</td><td>{front}</td><td>{rear}</td></tr>'


def readings(tractor, weight, aheads):
    """Readings of a machine, bare and with one weight hung at each overhang in turn.

    readings(plot, weight="100 kg", aheads=("0 m", "0.5 m"))
    """
    return Readings(tractor, [Attachment("weight", weight, ahead) for ahead in aheads])
