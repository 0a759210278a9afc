"""A tire's contact patch, and what the ground under that tire carries at any load.

:class:`ContactPatch` is what was measured once: outline, load and gauge pressure.  It turns
any other load into a :class:`Contact`: contact patch, pressure, stress with depth.  At
unchanged inflation pressure the contact patch grows with the load, and the stress reaches
deeper.  On hard ground the pressure at the surface rises little; on soft soil the
contact patch grows less, and the pressure rises by most of what the load did.
"""

from dataclasses import dataclass

import leverarm.ground.formulas as formulas
import leverarm.ground.soil as soil
from leverarm import statics
from leverarm.axles import AxleLoads
from leverarm.quantities import Refusal, Sourced, read, set_fields, show

LEAST_FACTOR = Sourced(3, "", "Boussinesq, elastic theory")
MOST_FACTOR = Sourced(6, "", "Froehlich's factor, upper end in common use since Soehne 1953")
PATCH_READS_LOW = (
    Sourced(0.30, "", "Misiewicz et al. 2016, Biosystems Engineering 147"),
    Sourced(0.40, "", "Misiewicz et al. 2016, Biosystems Engineering 147"),
)
LOAD_EXPONENT = Sourced(0.8, "", "general load law of tire handbooks, load ~ inflation^0.8")
# Between the two limits of grown_area; a published law for hard ground puts the demo tire near
# 0.75.
GROWTH = 0.8
# On soft soil the tire sinks in and its patch is large from the start, so it grows less.
SOFT_GROWTH = Sourced(
    0.27,
    "",
    "slope at the demo tire of O'Sullivan, Henshall & Dickson 1999, Soil & Tillage Research 49, "
    "soft soil (coefficients from memory)",
)
SUBSOIL_AXLE_KG = Sourced(
    10_000, "kg", "Hakansson & Reeder 1994; Duiker, Penn State Extension: 10 t per axle"
)
SUBSOIL_STRESS_KPA = Sourced(
    50, "kPa", "Schjonning et al. 2012, from memory: 50 kPa at 0.5 m on moist ground"
)
SUBSOIL_DEPTH_M = Sourced(0.5, "m", "Schjonning et al. 2012, from memory")

MOST_TIRE_KG = 20_000.0
MOST_INFLATION_KPA = 1000.0
MOST_PATCH_M = 2.0
SHAPE = (0.5, 1.0)

LIMITS = (
    (
        "One even soil, one even pressure on a circle, a wheel that stands still: lugs, "
        "layers and wheel pull are left out."
    ),
    (
        "An even circle reads low near the surface. Beside a published model of an uneven contact "
        "patch under a 4,000 kg wheel it gives 50 % less at a depth of 5 cm, 48 % less at 10 cm, "
        "27 % at 30 cm, 13 % at 50 cm, 6 % at 70 cm and 4 % at 100 cm (Keller 2005, as coded in "
        "the open R package soilphysics: a model, not a measurement)."
    ),
    (
        "Against stresses measured 30 to 90 cm deep the soil factor's model was off by up to "
        "7 kPa (1.0 psi) under a wheel of 43 kN and 27 kPa (3.9 psi) under one of 85 kN (Lamandé "
        "et al. 2007)."
    ),
    (
        "In a published trial this kind of formula read too low under a lightly loaded wheel of "
        "6.67 kN, with sensors 2 and 5 in deep only (Olmstead & Fischer 2009), so a compact "
        "tractor may do more than this curve says."
    ),
    (
        "In another trial the peak at 10 cm stood about 39 % above the inflation pressure "
        '"and also increased with increasing wheel load" (Arvidsson & Keller 2007): '
        "a mean pressure hides a peak, and the surface does feel the load."
    ),
    (
        "How wet the ground is and how often a wheel passes matter more than this curve. "
        "It says nothing about ruts."
    ),
)


@dataclass(frozen=True)
class Contact:
    """One tire on the ground: its load, its contact patch, and what follows from them."""

    load_kg: float
    area_m2: float

    @property
    def pressure_kpa(self) -> float:
        """Mean pressure at the surface."""
        return formulas.mean_pressure(self.load_kg, 1, self.area_m2)

    @property
    def radius_m(self) -> float:
        """Radius of the circle that stands for the contact patch."""
        return formulas.radius_of(self.area_m2)

    def stress_kpa(self, depth: str | float, factor: float) -> float:
        """Vertical stress under the center at a depth in meters, by a concentration factor from 3
        to 6.
        """
        depth, factor = _depth(depth), _factor(factor)
        return formulas.stress_under_center(self.pressure_kpa, self.radius_m, depth, factor)

    def band_kpa(self, depth: str | float) -> tuple[float, float]:
        """The stress at a depth by the least and by the greatest factor: the answer is a band."""
        return self.stress_kpa(depth, LEAST_FACTOR), self.stress_kpa(depth, MOST_FACTOR)

    def reach_m(self, stress: str | float, factor: float) -> float:
        """Depth to which a stress in kPa reaches under the center; 0 where the surface never has
        it.
        """
        stress = read(stress, "pressure", "stress", 0, open_low=True)
        if stress >= self.pressure_kpa:
            return 0.0
        return formulas.depth_of_stress(self.pressure_kpa, self.radius_m, stress, _factor(factor))

    def bulb(self, stress: float, factor: float) -> tuple[tuple[float, float], ...]:
        """The line under the tire on which the soil carries one stress: see soil.bulb."""
        return soil.bulb(self.pressure_kpa, self.radius_m, stress, _factor(factor))


def _depth(value):
    return read(value, "length", "depth", 0, 100)


def _factor(value):
    return read(value, "number", "concentration factor", LEAST_FACTOR, MOST_FACTOR)


@dataclass(frozen=True, init=False)
class ContactPatch:
    """One tire's contact patch on paper, on hard ground, with what stood on it.

    length, width   of the outline
    shape           0.5 to 1: a rectangle is 1, an ellipse 0.785, most contact patches lie between
    load            of that one tire: half the scale reading of its axle
    inflation       gauge pressure when the contact patch was made

    >>> made = ContactPatch("16 cm", "11.5 cm", shape=0.85, load="300 kg", inflation="160 kPa")
    >>> round(made.mean_kpa, 1), round(made.carcass_kpa, 1)
    (188.1, 28.1)
    """

    length_m: float
    width_m: float
    shape: float
    load_kg: float
    inflation_kpa: float

    def __init__(
        self,
        length: str | float,
        width: str | float,
        shape: float,
        load: str | float,
        inflation: str | float,
    ) -> None:
        set_fields(
            self,
            length_m=read(
                length, "length", "length of the contact patch", 0, MOST_PATCH_M, open_low=True
            ),
            width_m=read(
                width, "length", "width of the contact patch", 0, MOST_PATCH_M, open_low=True
            ),
            shape=read(shape, "number", "shape of the contact patch", *SHAPE),
            load_kg=_tire_load(load),
            inflation_kpa=_inflation(inflation),
        )

    @property
    def area_m2(self) -> float:
        """Area of the outline."""
        return formulas.patch_area(self.length_m, self.width_m, self.shape)

    @property
    def mean_kpa(self) -> float:
        """Mean pressure as the contact patch reads it."""
        return formulas.mean_pressure(self.load_kg, 1, self.area_m2)

    @property
    def carcass_kpa(self) -> float:
        """Carcass share as the contact patch reads it: low by a published 30 to 40 %."""
        return formulas.carcass_share(self.mean_kpa, self.inflation_kpa)

    @property
    def likely_kpa(self) -> tuple[float, ...]:
        """Mean pressure with the published bias of contact patches taken out: (from, to)."""
        return tuple(
            formulas.contact_pressure(
                self.inflation_kpa, formulas.true_carcass(self.carcass_kpa, low)
            )
            for low in PATCH_READS_LOW
        )

    def remark(self, system: str | None = None) -> str:
        """What the contact patch says about itself, in a sentence."""
        if self.carcass_kpa < 0:
            return (
                "The contact patch gives less than the gauge. Check outline, gauge and scale: "
                "cards that were not pushed up to the tire make a contact patch too large."
            )
        low, high = (show(kpa, "pressure", system) for kpa in self.likely_kpa)
        return (
            "Measured this way the carcass share comes out 30 to 40 % low, so the true mean "
            "pressure "
            f"is more likely {low.split()[0]} to {high}."
        )

    def under(
        self, load: str | float, inflation: str | float | None = None, growth: float = GROWTH
    ) -> Contact:
        """The Contact of this tire under another load, at the contact patch's inflation pressure or
        another.

        growth      share of an added load that the growing contact patch takes, 0 to 1

        >>> [round(demo_patch().under(load).pressure_kpa) for load in ("300 kg", "510 kg")]
        [188, 205]
        """
        load_kg = _tire_load(load)
        growth = read(growth, "number", "growth of the contact patch", 0, 1)
        resting = self._area_at(self.inflation_kpa if inflation is None else _inflation(inflation))
        return Contact(load_kg, formulas.grown_area(resting, self.load_kg, load_kg, growth))

    def _area_at(self, inflation):
        """The patch under the same load at another inflation pressure: the carcass share stays."""
        pressure = formulas.contact_pressure(inflation, self.carcass_kpa)
        if pressure <= 0:
            raise Refusal(
                "inflation pressure",
                f"{inflation:g} kPa",
                f"above {-self.carcass_kpa:.0f} kPa for this contact patch",
                "measure the contact patch again, since it gives less than the gauge",
            )
        return formulas.area_for(self.load_kg, pressure)

    def inflation_for(self, load: str | float) -> float:
        """Inflation pressure that the general law gives for another load, if this one was right for
        its own.

        Only a first guess to look up: the tire's own table decides.
        """
        return formulas.inflation_for(
            self.inflation_kpa, self.load_kg, _tire_load(load), LOAD_EXPONENT
        )


def _tire_load(value):
    return read(value, "weight", "load of the tire", 0, MOST_TIRE_KG, open_low=True)


def _inflation(value):
    return read(value, "pressure", "inflation pressure", 0, MOST_INFLATION_KPA, open_low=True)


def front_contacts(
    made: ContactPatch,
    *loads: AxleLoads,
) -> tuple[Contact, ...]:
    """A front tire's Contact under each of these AxleLoads; both tires of the axle share alike.

    >>> from leverarm.axles import AxleLoads
    >>> off, on = front_contacts(demo_patch(), AxleLoads(600, 800), AxleLoads(1019, 701))
    >>> f"{off.pressure_kpa:.0f} {on.pressure_kpa:.0f} kPa, {off.radius_m:.3f} {on.radius_m:.3f} m"
    '188 205 kPa, 0.071 0.088 m'
    """
    return tuple(made.under(one.front_kg / 2) for one in loads)


def soft_soil_rise(load: str | float, new_load: str | float) -> tuple[float, float]:
    """Percent by which the mean pressure rises on soft soil, by a straight line and by a power.

    load, new_load  of one tire; the two laws agree near load and part from there

    >>> [round(percent) for percent in soft_soil_rise(300, 510)]
    [43, 47]
    """
    pair = _tire_load(load), _tire_load(new_load)
    ratios = (
        formulas.pressure_ratio(*pair, float(SOFT_GROWTH)),
        formulas.pressure_ratio_by_power(*pair, float(SOFT_GROWTH)),
    )
    return ratios[0] * 100 - 100, ratios[1] * 100 - 100


def subsoil_share(axle_kg: str | float) -> float:
    """An axle load in percent of the load from which published work warns of the lower subsoil.

    >>> subsoil_share("1 t")
    10.0
    """
    return statics.share(read(axle_kg, "weight", "axle load", 0, 1e6), float(SUBSOIL_AXLE_KG))


def demo_patch() -> ContactPatch:
    """A front tire's patch of the invented plot tractor, without its loader: invented too."""
    return ContactPatch(
        length="16 cm", width="11.5 cm", shape=0.85, load="660 lb", inflation="160 kPa"
    )
