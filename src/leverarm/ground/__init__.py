"""Under the tire: contact patch, mean pressure, stress with depth, loader off and on.

Tire pressure and the surface go together; axle load and depth go together.  That the
surface notices the load so little holds on hard ground, not on soft soil.

>>> from leverarm.axles import predict
>>> from leverarm.machine import demo_loader, demo_tractor
>>> states = predict(demo_tractor()), predict(demo_tractor(), *demo_loader())
>>> off, on = front_contacts(demo_patch(), *states)
>>> f"surface {off.pressure_kpa:.0f} to {on.pressure_kpa:.0f} kPa"
'surface 188 to 205 kPa'
>>> f"at 20 cm {off.stress_kpa(0.2, 4):.0f} to {on.stress_kpa(0.2, 4):.0f} kPa"
'at 20 cm 39 to 62 kPa'
"""

from leverarm.ground.formulas import (
    area_for,
    carcass_share,
    contact_pressure,
    depth_of_stress,
    grown_area,
    inflation_for,
    mean_pressure,
    patch_area,
    pressure_ratio,
    pressure_ratio_by_power,
    radius_of,
    stress_from_point,
    stress_under_center,
    true_carcass,
)
from leverarm.ground.soil import bulb, stress_beside
from leverarm.ground.tire import (
    GROWTH,
    LEAST_FACTOR,
    LIMITS,
    LOAD_EXPONENT,
    MOST_FACTOR,
    PATCH_READS_LOW,
    SOFT_GROWTH,
    SUBSOIL_AXLE_KG,
    SUBSOIL_DEPTH_M,
    SUBSOIL_STRESS_KPA,
    Contact,
    ContactPatch,
    demo_patch,
    front_contacts,
    soft_soil_rise,
    subsoil_share,
)

__all__ = [
    "GROWTH",
    "LEAST_FACTOR",
    "LIMITS",
    "LOAD_EXPONENT",
    "MOST_FACTOR",
    "PATCH_READS_LOW",
    "SOFT_GROWTH",
    "SUBSOIL_AXLE_KG",
    "SUBSOIL_DEPTH_M",
    "SUBSOIL_STRESS_KPA",
    "Contact",
    "ContactPatch",
    "area_for",
    "bulb",
    "carcass_share",
    "contact_pressure",
    "demo_patch",
    "depth_of_stress",
    "front_contacts",
    "grown_area",
    "inflation_for",
    "mean_pressure",
    "patch_area",
    "pressure_ratio",
    "pressure_ratio_by_power",
    "radius_of",
    "soft_soil_rise",
    "stress_beside",
    "stress_from_point",
    "stress_under_center",
    "subsoil_share",
    "true_carcass",
]
