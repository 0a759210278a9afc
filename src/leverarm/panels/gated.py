"""A panel that keeps its answer back until a prediction stands: what two panels and more share."""

from leverarm.panels.base import Panel, button
from leverarm.panels.gate import Gate


class Gated(Panel):
    """A Panel with a gate.  Names its ``questions`` and the ``why`` told after the reader's own sentence.

    gate        the prediction gate, or None where it is not wanted
    """

    questions, why = (), ""

    def __init__(self, *, gated=True):
        self._gated, self.gate, self._frozen = gated, None, None
        super().__init__()

    def gate_parts(self):
        """The gate's widgets, for ``build``."""
        if not self._gated:
            return []
        self.back_button = button("Back to the numbers I predicted", self.restore)
        self.gate = Gate(
            self.questions,
            why=self.why,
            on_change=self._gate_moved,
            system=lambda: self.system,
            extra=[self.back_button],
        )
        return [self.gate.widget]

    def _gate_moved(self):
        """A commitment freezes the case; the reveal lets it go."""
        if self.gate.state == "committed":
            self._frozen = self.values
        for number in self.numbers.values():
            number.lock(self.gate.state == "committed")
        self.redraw()

    def restore(self):
        """Back to the numbers the prediction was made for."""
        if self._frozen:
            self.set(**self._frozen)

    @property
    def hidden(self):
        """True while a prediction is awaited."""
        return bool(self.gate and self.gate.hidden)

    @property
    def predictions(self):
        """What was predicted for the numbers now shown; empty where they have moved on."""
        return self.gate.predictions if self.gate and self.values == self._frozen else {}

    def follow_shared(self):
        if self.gate:
            self.gate.refresh_words()
        super().follow_shared()

    def redraw(self, *_):
        super().redraw()
        if self.gate:
            moved = self.gate.state == "revealed" and self.values != self._frozen
            self.back_button.layout.display = "" if moved else "none"
