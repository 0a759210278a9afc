"""A loader piece by piece, once its picture has told why: both axles, other weights and places,
and the bucket's change in percent of everything it could be.
"""

import ipywidgets as w

from leverarm import statics
from leverarm.axles import AxleLoads, predict, shares
from leverarm.machine import Attachment, Tractor, demo_loader, demo_tractor
from leverarm.panels.base import Panel, grid, html, html_table, lift_sentence, set_if_changed, split
from leverarm.panels.controls import Number, choice
from leverarm.quantities import show, show_number
from leverarm.scene import picture
from leverarm.scene.load_charts import STRIP_VIEWS, strip_chart


class StripDown(Panel):
    """Loader frame and bucket with their overhangs, taken off one by one.

    loaded, bare    AxleLoads with all on and all off
    steps(axle)     (name, change in kg) in the order they come off
    percents        (base, percent) of the bucket's front relief
    """

    def __init__(
        self, tractor: Tractor | None, pieces: tuple[Attachment, Attachment] | None
    ) -> None:
        self._tractor, self._pieces = tractor or demo_tractor(), pieces or demo_loader()
        super().__init__()

    def build(self) -> list[w.Widget]:
        frame, bucket = self._pieces
        self.numbers = {
            name: Number(
                label,
                kind,
                value,
                low,
                high,
                on_change=self.redraw,
                reach=reach[0] if reach else None,
            )
            for name, label, kind, value, low, high, *reach in (
                ("bucket", "Bucket", "weight", bucket.weight_kg, 1, 1000, 500),
                ("bucket_ahead", "Bucket, overhang", "length", bucket.ahead_m, -1, 3),
                ("frame", "Loader frame", "weight", frame.weight_kg, 1, 1500, 600),
                ("frame_ahead", "Loader frame, overhang", "length", frame.ahead_m, -1.5, 2),
            )
        }
        self.order = choice(
            "Take off first:",
            [("the bucket", "bucket"), ("the loader frame (on paper only)", "frame")],
            "bucket",
            on_change=self.redraw,
        )
        self.order.add_class("lv-inline")
        self.out = html()
        controls = grid(*(number.widget for number in self.numbers.values()))
        return [split([controls, self.order], [self.out])]

    @property
    def bucket(self) -> Attachment:
        """The bucket that was told."""
        return Attachment(self._pieces[1].name, self.values["bucket"], self.values["bucket_ahead"])

    @property
    def frame(self) -> Attachment:
        """The loader frame that was told."""
        return Attachment(self._pieces[0].name, self.values["frame"], self.values["frame_ahead"])

    @property
    def loaded(self) -> AxleLoads:
        """What the scales read with all on."""
        return predict(self._tractor, self.frame, self.bucket)

    @property
    def bare(self) -> AxleLoads:
        """What the scales read with all off."""
        return predict(self._tractor)

    def steps(self, axle: str) -> list[tuple[str, float]]:
        """What each piece takes off one axle, in the order chosen."""
        order = (
            [self.bucket, self.frame] if self.order.value == "bucket" else [self.frame, self.bucket]
        )
        return [(part.name, -getattr(part, f"{axle}_kg")) for part in shares(self._tractor, *order)]

    @property
    def percents(self) -> list[tuple[str, float]]:
        """The bucket's front relief in percent of everything it could be a percent of."""
        relief = shares(self._tractor, self.bucket)[0].front_kg
        loader = relief + shares(self._tractor, self.frame)[0].front_kg
        held = predict(self._tractor, self.frame)
        bases = (
            ("the front axle with the bucket on", self.loaded.front_kg),
            ("the front axle with the bucket off", held.front_kg),
            ("the front axle with the whole loader off", self.bare.front_kg),
            ("the whole machine with the bucket on", self.loaded.total_kg),
            ("what the whole loader adds in front", loader),
            ("the bucket's own weight", self.bucket.weight_kg),
        )
        return [(name, statics.share(relief, whole)) for name, whole in bases]

    def draw(self) -> None:
        if self.loaded.lift:
            set_if_changed(
                self.out, f'<p class="lv-say">{lift_sentence(self.loaded.lift, self.system)}</p>'
            )
        else:
            charts = [
                strip_chart(
                    axle, getattr(self.loaded, f"{axle}_kg"), self.steps(axle), system=self.system
                )
                for axle in ("front", "rear")
            ]
            set_if_changed(
                self.out,
                f'<p class="lv-say">{self._sentence()}</p>'
                + "".join(
                    picture(chart, key=self.key + name, large=self.large, views=STRIP_VIEWS)
                    for chart, name in zip(charts, "ab")
                )
                + self._percents(),
            )

    def _say(self, kg, **how):
        return show(kg, "weight", self.system, **how)

    def _sentence(self):
        """What comes off, in words."""
        fell = dict(self.steps("front"))
        parts = [
            f"The {piece.name} weighs {self._say(piece.weight_kg)} and takes "
            f"<b>{self._say(-fell[piece.name])}</b> off the front: "
            f"{show_number(-fell[piece.name] / piece.weight_kg, 2)} times its weight."
            for piece in (self.bucket, self.frame)
        ]
        return (
            " ".join(parts)
            + f" Together {self._say(-sum(fell.values()))}, whichever comes off first."
        )

    def _percents(self):
        rows = [
            [f"of {name}", f"{show_number(percent, 1)}\u00a0%"] for name, percent in self.percents
        ]
        return html_table(["what the bucket takes off the front", "percent"], rows)


def strip_down(
    tractor: Tractor | None = None, pieces: tuple[Attachment, Attachment] | None = None
) -> StripDown:
    """The loader off piece by piece, with other weights and places.

    In code: panel.set(bucket="110 kg", bucket_ahead="1.2 m"), panel.steps("front"), panel.percents.
    """
    return StripDown(tractor, pieces)
