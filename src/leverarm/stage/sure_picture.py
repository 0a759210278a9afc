"""One size of the picture of a piece weighed day after day: four readings, two axes of results."""

from collections.abc import Mapping, Sequence

from leverarm.numerals import Numeric
from leverarm.outline import BUCKET_HEIGHT_M
from leverarm.quantities import show_number
from leverarm.stage import sheet as paper
from leverarm.stage import tractor_outline as machine
from leverarm.stage.case import AXLES, FREE, Progress
from leverarm.stage.controls import entry
from leverarm.stage.elements import Element, element, px
from leverarm.stage.four_readings import FourReadings
from leverarm.stage.on_scales import drawn, grip_parts
from leverarm.stage.recorder import first_so, where
from leverarm.stage.recording import Handle
from leverarm.stage.result_axis import ResultAxis
from leverarm.stage.sheet import Paper, shown, words
from leverarm.stage.stand import Stand
from leverarm.stage.sure_case import RESULTS, SureCase
from leverarm.uncertainty.separate import K

# How far an axis reaches, in standard uncertainties of its result; the weight's are two readings'.
_REACH = 4.6


def picked(days: Numeric, values: Sequence[Numeric]) -> Numeric:
    """The value of the last day weighed; the first one's while there is none."""
    last = range(len(values), 1, -1)
    return first_so([(days >= n, values[n - 1]) for n in last], values[0])


class SurePicture:
    """One size of the picture."""

    def __init__(self, case: SureCase, sheet: Paper, told: Mapping[str, str]) -> None:
        self.case, self.sheet, self.told = case, sheet, told
        self.stand = Stand(sheet, case.tractor.wheelbase_m, 0.0, 0.0)

    def axis(self, result: str) -> ResultAxis:
        """Where a result is shown: half of what is left under the readings, marks at its bottom."""
        case, sheet, n = self.case, self.sheet, RESULTS.index(result)
        top = sheet.floor + 1.7 * sheet.label + 1.2 * sheet.body
        room, marks = (sheet.height - top) / len(RESULTS), sheet.small + 11
        # The weight's axis stands there before its uncertainty is known.
        reach = 2 * case.u if result == "weight" else case.u_at_first(result)
        return ResultAxis(
            sheet,
            case.truth.value(result),
            _REACH * reach,
            top + n * room + 4,
            top + (n + 1) * room - marks,
            case.places(result),
            case.unit(result),
        )

    def _machine(self) -> list[Element]:
        """The tractor with the piece, and the paper under the floor."""
        case, sheet, stand = self.case, self.sheet, self.stand
        at = case.piece.ahead_m, BUCKET_HEIGHT_M
        return [
            *paper.under_floor(sheet),
            machine.platforms(stand),
            machine.loader_part(stand, at, 0.0),
            machine.tractor_parts(stand),
            machine.forks_part(stand, at),
        ]

    def _readings(self) -> list[Element]:
        """Under each axle what its scale read, before and with the piece."""
        sheet = self.sheet
        across, parts = (sheet.x(0.0), sheet.x(-self.case.tractor.wheelbase_m)), list[Element]()
        # Two readings with an arrow are up to thirteen letters, each 0.62 of their size wide.
        size = min(sheet.body, 0.9 * (across[1] - across[0]) / (13 * 0.62))
        for x, axle in zip(across, AXLES, strict=True):
            y = sheet.floor + 1.25 * sheet.label
            name = entry("labels").text(axle)
            parts += [
                words(x, y, name, sheet.label, f"{axle}-words"),
                words(x, y + 1.2 * sheet.body, self.told[f"{axle}_way"], size, bold=True),
            ]
        return parts

    def _named(self, result: str, left: str, right: Numeric | str) -> list[Element]:
        """What stands over both ends of an axis: which result, and what it is."""
        sheet, axis = self.sheet, self.axis(result)
        y, edge = axis.top + 0.9 * sheet.body, 0.02 * sheet.width
        # Beside a picture its controls reach down to the first axis, so the result stands low.
        low = y if sheet.narrow else axis.base - 0.7 * sheet.body
        name = entry("sure").text(result)
        return [
            words(edge, y, name, sheet.label, anchor="start", bold=True),
            words(edge, y + 1.3 * sheet.small, left, sheet.small, "muted", anchor="start"),
            words(sheet.width - edge, low, right, sheet.body, anchor="end", bold=True, halo=True),
        ]

    def asked(self, question: str, said: Numeric, known: Numeric) -> tuple[Element, list[Handle]]:
        """The picture of the first act: one weighing, and how far off it is said to be."""
        case, axis, day = self.case, self.axis("weight"), self.case.truth
        grip = axis.x(day.value("weight") + said), (axis.top + axis.base) / 2
        x, y, radius = axis.dot(day.value("weight"), 0, 1)
        dot = element("circle", class_="st-solid-ink", cx=px(x), cy=px(y), r=f"{radius:.1f}")
        heard = entry("sure").text("you_say").format(**self.told)
        parts = [
            *self._machine(),
            *self._readings(),
            axis.drawn(),
            element("g", axis.bracket(day.value("weight"), said), display=shown(known)),
            dot,
            *self._named("weight", heard, case.show_one("weight", day.value("weight"))),
            *grip_parts(grip, "off_said", upright=False),
        ]
        return drawn(self.sheet, question, parts), [Handle("off_said", self.sheet.name, grip)]

    def weighed(self, v: Mapping[str, Numeric]) -> tuple[Element, list[Handle]]:
        """The picture of the second act: dots, then the band, then what makes it narrower."""
        step = Progress.of(v["part"])
        parts = [*self._machine(), *self._readings()]
        for result in RESULTS:
            parts += self._result(result, v, step)
        return drawn(self.sheet, self.told["picture"], parts), []

    def _result(self, result: str, v: Mapping[str, Numeric], step: Progress) -> list[Element]:
        case, axis, told = self.case, self.axis(result), self.told
        middle, first = case.truth.value(result), case.u_at_first(result)
        u = where(
            step.free,
            lambda: case.truth.u_of(result, v["u"], v["u_tape"], v["repeats"]),
            lambda: first,
        )
        bands = [
            axis.band(middle, size * u * step.weighing, kind)
            for size, kind in ((K, "band"), (1, "band-inner"))
        ]
        begun = v["days"] >= 1
        said = entry("sure").text("you_said").format(**told) if result == "weight" else ""
        one = where(begun, lambda: told[f"day_{result}"], lambda: "")
        right = where(step.done, lambda: told[f"printed_{result}"], lambda: one)
        as_it_was = axis.bracket(middle, K * first)
        parts = [
            element("g", bands, display=shown(step.weighing > 0)),
            element("g", as_it_was, display=shown(step.free)),
        ]
        if result == "weight":
            # What was said is about the scales as they were; what is tried are others.
            mine = axis.bracket(middle, v["off_said"])
            parts.append(element("g", mine, display=shown(v["part"] < FREE)))
        return [
            *parts,
            axis.drawn(),
            element("g", self._dots(result, v["days"], step), display=shown(v["part"] < FREE)),
            *self._named(result, said, right),
        ]

    def _dots(self, result: str, days: Numeric, step: Progress) -> list[Element]:
        """A dot for each day, open where it lies outside the band; a ring round the last one."""
        case, axis = self.case, self.axis(result)
        places = case.places_of(result)
        most_under = max(under for _, under in places)
        at = [axis.dot(value, under, most_under) for value, under in places]
        wide = K * case.u_at_first(result)
        parts = []
        for n, ((x, y, radius), day) in enumerate(zip(at, case.days, strict=True), 1):
            outside = abs(day.value(result) - case.truth.value(result)) > wide
            kind = (
                where(step.done, lambda: "st-dot-outside", lambda: "st-solid-ink")
                if outside
                else "st-solid-ink"
            )
            parts.append(
                element(
                    "circle",
                    class_=kind,
                    cx=px(x),
                    cy=px(y),
                    r=f"{radius:.1f}",
                    display=shown(days >= n),
                )
            )
        x, y = (picked(days, [one[n] for one in at]) for n in (0, 1))
        ring = element(
            "circle",
            class_="st-line-ink",
            cx=px(x),
            cy=px(y),
            r=f"{at[0][2] + 3:.1f}",
            stroke_width="1.8",
            display=shown((days >= 1) * (step.weighing <= 0)),
        )
        return [*parts, ring]


def readings_told(case: SureCase, days: Sequence[FourReadings], day: Numeric) -> dict[str, str]:
    """What each scale read on a day, before and with the piece."""
    told = {}
    for n, axle in enumerate(AXLES):
        old, new = (
            case.units.digits(picked(day, [getattr(one, when)[n] for one in days]))
            for when in ("before", "after")
        )
        told[f"{axle}_way"] = f"{old} → {new}"
    return told


def day_numbers(case: SureCase, days: Numeric) -> dict[str, str]:
    """What the days weighed so far gave, in words: the last one, the least and the most, and how
    many lie within one and within two standard uncertainties.
    """
    told = {"days": show_number(days, 0), **readings_told(case, case.days, days)}
    for result in RESULTS:
        values = [day.value(result) for day in case.days]
        so_far = [values[: n + 1] for n in range(len(values))]
        told[f"one_{result}"] = case.show_one(result, picked(days, values))
        told[f"least_{result}"] = case.show_one(result, picked(days, [min(x) for x in so_far]))
        told[f"most_{result}"] = case.show_one(result, picked(days, [max(x) for x in so_far]))
        middle, u = case.truth.value(result), case.u_at_first(result)
        for size, name in ((1, "near"), (K, "inside")):
            held = [sum(abs(one - middle) <= size * u for one in x) for x in so_far]
            told[f"{name}_{result}"] = show_number(picked(days, held), 0)
    return told
