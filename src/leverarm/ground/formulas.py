"""Tire and soil, formula by formula: contact pressure, contact patch, stress with depth.

The tire's contact patch is taken as a circle of equal area, pressed evenly::

        load
     |   |   |          pressure on a circle of this radius
     v   v   v
    ===========  ground
         |
         |  depth, m, downwards       stress: vertical, kPa

Each formula is one line of plain arithmetic and runs on floats, arrays and sympy
symbols alike.  Loads are scale readings in kg, pressures and stresses in kPa,
lengths in meters.  ``factor`` is the concentration factor of Froehlich: 3 is the
elastic theory of Boussinesq, larger ones gather the stress under the load.
"""

from math import pi

from leverarm.numerals import Numeric
from leverarm.quantities import G


def contact_pressure(inflation: Numeric, carcass: Numeric) -> Numeric:
    """Mean pressure of a tire on hard ground.

    Equation    contact = inflation + carcass
    inflation   gauge pressure, kPa; carcass  what the stiff tire body adds, kPa
    Valid       hard level ground, tire within its table
    Source      Misiewicz et al. 2016, Biosystems Engineering 147

    >>> contact_pressure(160, 30)
    190
    """
    return inflation + carcass


def carcass_share(mean: Numeric, inflation: Numeric) -> Numeric:
    """What the stiff tire body adds to the inflation pressure.

    Equation    carcass = mean contact pressure - inflation
    mean, inflation   kPa
    Sign        a negative result says the contact patch was too large, or gauge or scale are off
    Valid       as contact_pressure
    Source      contact_pressure solved for the carcass

    >>> carcass_share(190, 160)
    30
    """
    return mean - inflation


def patch_area(length: Numeric, width: Numeric, shape: Numeric) -> Numeric:
    """Area of a tire's contact patch from its paper outline.

    Equation    area = shape x length x width
    length, width   of the outline, one length unit
    shape       1 for a rectangle, pi/4 = 0.785 for an ellipse; most contact patches lie between
    Valid       outline round the lugs: the gaps between them count as contact patch
    Source      geometry of the outline

    >>> patch_area(16, 12, 0.75)
    144.0
    """
    return shape * length * width


def mean_pressure(axle_kg: Numeric, tires: Numeric, area: Numeric, g: Numeric = G) -> Numeric:
    """Mean pressure under the tires of one axle, kPa.

    Equation    pressure = axle x g / (tires x area) / 1000
    axle_kg     scale reading of that axle; tires  how many stand on it
    area        contact patch of one tire, m2; g  m/s2
    Valid       tires of one size and pressure, sharing the axle load evenly
    Errors      ZeroDivisionError for an empty contact patch
    Source      definition of pressure

    >>> mean_pressure(600, 2, 0.015, g=9.8)
    196.0
    """
    return axle_kg * g / (tires * area) / 1000


def area_for(load: Numeric, pressure: Numeric, g: Numeric = G) -> Numeric:
    """Contact patch that one tire needs to carry a load at a mean pressure, m2.

    Equation    area = load x g / pressure / 1000
    load        kg on that tire; pressure  mean contact pressure, kPa; g  m/s2
    Valid       as mean_pressure
    Errors      ZeroDivisionError for no pressure
    Source      mean_pressure solved for the area

    >>> area_for(300, 196, g=9.8)
    0.015
    """
    return load * g / pressure / 1000


def true_carcass(read: Numeric, low: Numeric) -> Numeric:
    """Carcass share behind one read from a contact patch.

    Equation    true = read / (1 - low)
    read        carcass share from the patch, kPa; low  how far patches read low, 0.3 to 0.4
    Valid       ink or paper outlines on hard ground
    Source      Misiewicz et al. 2016: contact patches give the carcass share 30 to 40 % low

    >>> round(true_carcass(28, 0.30))
    40
    """
    return read / (1 - low)


def grown_area(area: Numeric, load: Numeric, new_load: Numeric, growth: Numeric) -> Numeric:
    """Contact patch under another load at unchanged inflation pressure.

    Equation    new area = area (1 + growth (new load / load - 1))
    area        contact patch under load; load, new_load  of that tire, one unit
    growth      1: the patch grows as the load, the pressure holds; 0: a patch that cannot grow
    Valid       near the load of the contact patch; area is linear in load at one pressure
    Errors      ZeroDivisionError for no load
    Source      linear in load: Jiang et al. 2023, Sustainability 15(13)

    >>> grown_area(150, 300, 600, 0.8)
    270.0
    """
    return area * (1 + growth * (new_load / load - 1))


def pressure_ratio(load: Numeric, new_load: Numeric, growth: Numeric) -> Numeric:
    """Mean pressure under another load, as a multiple, where the patch grows in a straight line.

    Equation    ratio = (new load / load) / (1 + growth (new load / load - 1))
    load, new_load  of one tire, one unit; growth  as in grown_area
    Valid       near load; growth 0.8 on hard ground, 0.27 on soft soil at a compact tractor's tire
    Errors      ZeroDivisionError for no load
    Source      load over grown_area, against what it was

    >>> round(pressure_ratio(300, 510, 0.27), 2)
    1.43
    """
    return (new_load / load) / (1 + growth * (new_load / load - 1))


def pressure_ratio_by_power(load: Numeric, new_load: Numeric, growth: Numeric) -> Numeric:
    """The same where the contact patch grows as a power of the load.

    Equation    ratio = (new load / load)^(1 - growth), as contact patch ~ load^growth
    load, new_load  of one tire, one unit; growth  exponent of the contact patch
    Valid       as pressure_ratio; the two have one slope at load
    Errors      ZeroDivisionError for no load
    Source      pressure is load over contact patch

    >>> round(pressure_ratio_by_power(300, 510, 0.27), 2)
    1.47
    """
    return (new_load / load) ** (1 - growth)


def inflation_for(
    inflation: Numeric, load: Numeric, new_load: Numeric, exponent: Numeric = 0.8
) -> Numeric:
    """Inflation pressure for another load, by the general law; the tire's own table decides.

    Equation    new inflation = inflation (new load / load)^(1/exponent), as load ~ inflation^0.8
    inflation   right for load, kPa; load, new_load  of that tire, one unit
    Valid       one tire, one speed, inside its printed table
    Errors      ZeroDivisionError for no load
    Source      general law of tire handbooks, also printed as (load ratio)^1.25

    >>> round(inflation_for(100, 100, 70))
    64
    """
    return inflation * (new_load / load) ** (1 / exponent)


def radius_of(area: Numeric) -> Numeric:
    """Radius of the circle that stands for a contact patch of this area.

    Equation    radius = sqrt(area / pi)
    Source      geometry

    >>> round(radius_of(0.0314), 3)
    0.1
    """
    return (area / pi) ** 0.5


def stress_under_center(
    pressure: Numeric, radius: Numeric, depth: Numeric, factor: Numeric
) -> Numeric:
    """Vertical stress straight under the center of an evenly pressed circle.

    Equation    stress = pressure [1 - (depth^2 / (depth^2 + radius^2))^(factor/2)]
    pressure    kPa on the circle; radius, depth  one length unit
    factor      3 (Boussinesq) to 6
    Valid       one even soil without layers; depth from 0, where the stress is the pressure
    Source      Boussinesq; Froehlich's factor as in Soehne 1953

    >>> round(stress_under_center(100, 1, 1, 3), 1), stress_under_center(100, 1, 1, 4)
    (64.6, 75.0)
    """
    return pressure * (1 - (depth**2 / (depth**2 + radius**2)) ** (factor / 2))


def stress_from_point(force: Numeric, depth: Numeric, offset: Numeric, factor: Numeric) -> Numeric:
    """Vertical stress from a force at one point of the surface.

    Equation    stress = factor force depth^factor / (2 pi (depth^2 + offset^2)^((factor + 2)/2))
    force       kN, for kPa; depth, offset  m, down and sideways from the force
    factor      3 (Boussinesq) to 6
    Valid       one even soil; away from the point itself
    Errors      ZeroDivisionError at the point
    Source      Boussinesq; Froehlich 1934

    >>> round(stress_from_point(1000, 4, 0, 3), 2)
    29.84
    """
    return factor * force * depth**factor / (2 * pi * (depth**2 + offset**2) ** ((factor + 2) / 2))


def depth_of_stress(
    pressure: Numeric, radius: Numeric, stress: Numeric, factor: Numeric
) -> Numeric:
    """Depth under the center to which a stress reaches.

    Equation    depth = radius / sqrt((1 - stress/pressure)^(-2/factor) - 1)
    pressure, stress   kPa, stress between nothing and the pressure; radius  m
    Valid       as stress_under_center
    Errors      ZeroDivisionError for no stress: it reaches without end
    Source      stress_under_center solved for the depth

    >>> round(depth_of_stress(100, 1, 75, 4), 6)
    1.0
    """
    return radius / ((1 - stress / pressure) ** (-2 / factor) - 1) ** 0.5
