"""Contact patch, mean pressure and stress with depth: values, limits, second routes, refusals."""

import math

import pytest
import sympy
from worked import worked_loader, worked_tractor

from leverarm import ground, predict
from leverarm.ground import formulas, soil
from leverarm.ground.tire import _factor
from leverarm.quantities import Refusal

FACTORS = [3, 4, 5, 6]


def discs(radius, rings=100, angles=40):
    """Small patches of a circle as (area, x, y): midpoints of rings and angles."""
    for i in range(rings):
        r = radius * (i + 0.5) / rings
        patch = 2 * math.pi * r * (radius / rings) / angles
        for j in range(angles):
            t = 2 * math.pi * (j + 0.5) / angles
            yield patch, r * math.cos(t), r * math.sin(t)


def summed(pressure, radius, depth, offset, factor):
    """The stress by brute force: every patch of the circle is a point force."""
    return sum(
        formulas.stress_from_point(pressure * patch, depth, math.hypot(x - offset, y), factor)
        for patch, x, y in discs(radius)
    )


# --- formulas -------------------------------------------------------------------


@pytest.mark.parametrize("factor", FACTORS)
@pytest.mark.parametrize("depth", [0.05, 0.1, 0.4])
def test_stress_under_center_is_the_sum_of_its_points(factor, depth):
    assert formulas.stress_under_center(190, 0.08, depth, factor) == pytest.approx(
        summed(190, 0.08, depth, 0, factor), rel=5e-4
    )


@pytest.mark.parametrize("offset", [0.04, 0.08, 0.2])
@pytest.mark.parametrize("factor", [3, 5])
def test_stress_beside_the_axis_is_the_sum_of_its_points(offset, factor):
    assert soil.stress_beside(190, 0.08, 0.1, offset, factor) == pytest.approx(
        summed(190, 0.08, 0.1, offset, factor), rel=8e-4
    )


@pytest.mark.parametrize("factor", FACTORS)
def test_stress_beside_the_axis_at_no_offset_is_the_formula(factor):
    for depth in (0.01, 0.1, 1.0):
        assert soil.stress_beside(190, 0.08, depth, 0, factor) == pytest.approx(
            formulas.stress_under_center(190, 0.08, depth, factor), rel=1e-12
        )


@pytest.mark.parametrize("factor", FACTORS)
@pytest.mark.parametrize("depth", [0.05, 0.2])
def test_the_stress_field_carries_the_load(factor, depth):
    """Force balance: the stress over a whole level adds up to the force on the circle."""
    radius, pressure = 0.08, 190.0
    # Offset = tan(t) carries the sum out to infinity on a finite span.
    steps, force = 600, 0.0
    for i in range(steps):
        t = math.pi / 2 * (i + 0.5) / steps
        offset = depth * math.tan(t)
        force += (
            soil.stress_beside(pressure, radius, depth, offset, factor)
            * 2
            * math.pi
            * offset
            * depth
            / math.cos(t) ** 2
            * math.pi
            / 2
            / steps
        )
    assert force == pytest.approx(pressure * math.pi * radius**2, rel=1e-3)


@pytest.mark.parametrize("factor", FACTORS)
def test_a_point_force_is_carried_at_every_level(factor):
    r, z, Q = sympy.symbols("r z Q", positive=True)
    ring = formulas.stress_from_point(Q, z, r, sympy.Integer(factor)).subs(math.pi, sympy.pi)
    total = sympy.integrate(sympy.nsimplify(ring) * 2 * r, (r, 0, sympy.oo)) * sympy.pi
    assert float(sympy.simplify(total / Q)) == pytest.approx(1, abs=1e-12)


def test_limits_of_depth():
    """At the surface the stress is the pressure; far down only the force is left, and it fades to
    nothing.
    """
    q, a, z, nu = sympy.symbols("q a z nu", positive=True)
    stress = formulas.stress_under_center(q, a, z, nu)
    assert sympy.limit(stress, z, 0) == q
    assert formulas.stress_under_center(190, 0.08, 0, 4) == 190
    for factor in (3, 4, 6):
        axis = formulas.stress_under_center(q, a, z, sympy.Rational(factor))
        assert sympy.limit(axis, z, sympy.oo) == 0
        assert sympy.limit(axis * z**2, z, sympy.oo) == q * a**2 * sympy.Rational(factor, 2)
    far = formulas.stress_from_point(190 * math.pi * 0.08**2, 50, 0, 5)
    assert formulas.stress_under_center(190, 0.08, 50, 5) == pytest.approx(far, rel=1e-5)


@pytest.mark.parametrize("factor", FACTORS)
@pytest.mark.parametrize("stress", [5, 50, 150, 189])
def test_depth_of_stress_undoes_stress_under_center(factor, stress):
    depth = formulas.depth_of_stress(190, 0.08, stress, factor)
    assert formulas.stress_under_center(190, 0.08, depth, factor) == pytest.approx(stress, rel=1e-9)


def test_stress_falls_with_depth_and_offset_and_rises_with_the_factor():
    fading = [formulas.stress_under_center(190, 0.08, z / 100, 4) for z in range(0, 100, 5)]
    assert fading == sorted(fading, reverse=True)
    beside = [soil.stress_beside(190, 0.08, 0.1, r / 100, 4) for r in range(0, 40, 4)]
    assert beside == sorted(beside, reverse=True)
    rising = [formulas.stress_under_center(190, 0.08, 0.1, f) for f in FACTORS]
    assert rising == sorted(rising)


@pytest.mark.parametrize("factor", FACTORS)
def test_a_bulb_is_a_line_of_one_stress(factor):
    line = soil.bulb(190, 0.08, 40, factor)
    assert line[-1] == (0.08, 0.0)
    for offset, depth in line[:-1]:
        assert soil.stress_beside(190, 0.08, depth, offset, factor) == pytest.approx(40, abs=0.5)
    assert [depth for _, depth in line] == sorted((depth for _, depth in line), reverse=True)


@pytest.mark.parametrize("stress", [2, 20, 95, 150, 185])
@pytest.mark.parametrize("radius", [0.05, 0.12, 0.3])
def test_bulbs_of_any_size(radius, stress):
    for offset, depth in soil.bulb(190, radius, stress, 4)[1:-1]:
        assert soil.stress_beside(190, radius, depth, offset, 4) == pytest.approx(stress, rel=0.03)


@pytest.mark.parametrize("stress", [0, -1, 190, 500])
def test_no_bulb_where_the_stress_is_nowhere(stress):
    assert soil.bulb(190, 0.08, stress, 4) == ()


def test_patch_and_pressure_identities():
    """Every solved form gives back what went in, for any letters."""
    p, c, A, W, n, g, low = sympy.symbols("p c A W n g low", positive=True)
    assert sympy.simplify(formulas.carcass_share(formulas.contact_pressure(p, c), p) - c) == 0
    assert sympy.simplify(formulas.mean_pressure(W, 1, formulas.area_for(W, p, g), g) - p) == 0
    assert sympy.simplify(formulas.true_carcass(c * (1 - low), low) - c) == 0
    assert sympy.simplify(formulas.mean_pressure(W, n, A, g) - W * g / n / A / 1000) == 0
    assert sympy.simplify(formulas.grown_area(A, W, W, n) - A) == 0


def test_limits_of_growth():
    """Growth 1: the pressure holds.  Growth 0: pressure in proportion to the load."""
    made = ground.demo_patch()
    for load in (100, 299.37, 900):
        assert made.under(load, growth=1).pressure_kpa == pytest.approx(made.mean_kpa)
        assert made.under(load, growth=0).pressure_kpa == pytest.approx(
            made.mean_kpa * load / (660 * 0.45359237)
        )


@pytest.mark.parametrize("shape, length, width", [(1, 0.2, 0.1), (math.pi / 4, 0.2, 0.1)])
def test_patch_area_against_a_count_of_squares(shape, length, width):
    """A rectangle, and an ellipse, counted on squared paper."""
    steps = 400
    cells = [
        ((i + 0.5) / steps * 2 - 1, (j + 0.5) / steps * 2 - 1)
        for i in range(steps)
        for j in range(steps)
    ]
    inside = len(cells) if shape == 1 else sum(x * x + y * y <= 1 for x, y in cells)
    assert formulas.patch_area(length, width, shape) == pytest.approx(
        length * width * inside / len(cells), rel=1e-3
    )


# --- what the lesson teaches ----------------------------------------------------


def loader_off_and_on():
    states = predict(worked_tractor()), predict(worked_tractor(), *worked_loader())
    return ground.front_contacts(ground.demo_patch(), *states)


def test_loader_on_at_unchanged_inflation():
    """The contact patch grows, the surface pressure changes little, the stress reaches deeper."""
    off, on = loader_off_and_on()
    load = on.load_kg / off.load_kg
    assert load == pytest.approx(1.698, abs=0.001)
    assert on.area_m2 / off.area_m2 == pytest.approx(1.559, abs=0.001)
    assert on.pressure_kpa / off.pressure_kpa == pytest.approx(1.090, abs=0.001)
    for factor in FACTORS:
        assert on.reach_m(50, factor) / off.reach_m(50, factor) == pytest.approx(1.31, abs=0.02)
        assert on.stress_kpa(0.3, factor) / off.stress_kpa(0.3, factor) == pytest.approx(
            load, rel=0.06
        )


def test_deep_down_only_the_load_counts():
    """At one meter the stress has grown as the load, whatever the contact patch does."""
    made = ground.demo_patch()
    for growth in (0, 0.8, 1):
        light, heavy = (made.under(load, growth=growth).stress_kpa(1, 4) for load in (300, 510))
        assert heavy / light == pytest.approx(510 / 300, rel=0.01)


def test_tire_pressure_belongs_to_the_surface():
    """Softer tire, same load: much less at the surface, nearly nothing changed at half a meter."""
    made = ground.demo_patch()
    hard, soft = made.under(300), made.under(300, inflation=100)
    assert soft.pressure_kpa / hard.pressure_kpa == pytest.approx(0.68, abs=0.01)
    assert soft.stress_kpa(0.5, 4) / hard.stress_kpa(0.5, 4) > 0.98


def test_compact_tractor_is_far_below_published_subsoil_limits():
    _, on = loader_off_and_on()
    assert ground.subsoil_share(2 * on.load_kg) < 11
    assert on.band_kpa(ground.SUBSOIL_DEPTH_M)[1] < 0.65 * ground.SUBSOIL_STRESS_KPA


def test_band_spans_the_factors():
    contact = ground.demo_patch().under(300)
    assert contact.band_kpa(0.1) == (contact.stress_kpa(0.1, 3), contact.stress_kpa(0.1, 6))


@pytest.mark.usefixtures("metric")
def test_patch_states_its_bias():
    made = ground.demo_patch()
    low, high = made.likely_kpa
    assert made.mean_kpa < low < high
    assert ground.carcass_share(low, made.inflation_kpa) * 0.70 == pytest.approx(made.carcass_kpa)
    assert ground.carcass_share(high, made.inflation_kpa) * 0.60 == pytest.approx(made.carcass_kpa)
    assert "30 to 40 %" in made.remark() and f"{low:.0f} to {high:.0f} kPa" in made.remark()
    psi = [f"{kpa / 6.894757:.1f}" for kpa in (low, high)]
    assert f"{psi[0]} to {psi[1]} psi" in made.remark("lb")


def test_a_patch_below_the_gauge_says_so():
    made = ground.ContactPatch("30 cm", "20 cm", 0.85, "300 kg", "160 kPa")
    assert made.carcass_kpa < 0 and "less than the gauge" in made.remark()
    assert made.under(300).pressure_kpa == pytest.approx(made.mean_kpa)
    with pytest.raises(Refusal, match="measure the contact patch again"):
        made.under(300, inflation=50)


def test_inflation_for_the_lighter_machine():
    """Right for the loaded tire, the general law asks for much less once the loader is off."""
    loaded = ground.ContactPatch("19 cm", "15 cm", 0.85, "510 kg", "200 kPa")
    assert loaded.inflation_for(510) == 200
    assert loaded.inflation_for(300) == pytest.approx(200 * (300 / 510) ** 1.25)


def test_reach_is_nothing_above_the_surface_pressure():
    assert ground.demo_patch().under(300).reach_m(500, 4) == 0


def test_units_are_read_everywhere():
    metric = ground.demo_patch()
    yard = ground.ContactPatch(
        f"{0.16 / 0.0254} in", f"{0.115 / 0.0254} in", 0.85, "660 lb", "23.206 psi"
    )
    assert yard.mean_kpa == pytest.approx(metric.mean_kpa, rel=1e-9)
    assert yard.carcass_kpa == pytest.approx(metric.carcass_kpa, rel=1e-3)


def test_no_page_calls_anything_safe_or_promises():
    text = " ".join([*ground.LIMITS, ground.demo_patch().remark()]).lower()
    assert "safe" not in text and "6.67 kn" in text and "ruts" in text and "39 %" in text


# --- refusals -------------------------------------------------------------------


@pytest.mark.parametrize(
    "changed, field",
    [
        ({"length": 0}, "length of the contact patch"),
        ({"length": "3 m"}, "length of the contact patch"),
        ({"width": "-4 cm"}, "width of the contact patch"),
        ({"width": "4 kg"}, "width of the contact patch"),
        ({"shape": 1.2}, "shape"),
        ({"shape": 0.1}, "shape"),
        ({"load": 0}, "load of the tire"),
        ({"load": "heavy"}, "load of the tire"),
        ({"inflation": 0}, "inflation"),
        ({"inflation": "200 bar"}, "inflation"),
        ({"inflation": float("nan")}, "inflation"),
    ],
)
def test_patch_refuses(changed, field):
    told = {
        "length": "16 cm",
        "width": "11.5 cm",
        "shape": 0.85,
        "load": "300 kg",
        "inflation": "160 kPa",
        **changed,
    }
    with pytest.raises(Refusal, match=field):
        ground.ContactPatch(**told)


@pytest.mark.parametrize(
    "call, field",
    [
        (lambda c: c.stress_kpa(-0.1, 4), "depth"),
        (lambda c: c.stress_kpa(0.1, 2), "concentration factor"),
        (lambda c: c.stress_kpa(0.1, 7), "concentration factor"),
        (lambda c: c.reach_m(0, 4), "stress"),
        (lambda c: ground.demo_patch().under(-5), "load"),
        (lambda c: ground.demo_patch().under(300, growth=2), "growth"),
        (lambda c: ground.subsoil_share("x"), "axle load"),
    ],
)
def test_contacts_refuse(call, field):
    with pytest.raises(Refusal, match=field):
        call(ground.demo_patch().under(300))


def test_sources_stand_beside_the_numbers():
    for number in (
        ground.LEAST_FACTOR,
        ground.MOST_FACTOR,
        ground.SUBSOIL_AXLE_KG,
        ground.SUBSOIL_STRESS_KPA,
        ground.LOAD_EXPONENT,
        *ground.PATCH_READS_LOW,
    ):
        assert number.source
    assert _factor("4") == 4


# --- on soft soil -----------------------------------------------------------------------------


@pytest.mark.parametrize("share", [0.6, 1.0, 1.7, 2.5])
@pytest.mark.parametrize("growth", [0.0, 0.27, 0.8, 1.0])
def test_the_pressure_rises_by_what_the_patch_does_not_take(share, growth):
    """Two patches drawn out and divided; the ends: a patch that cannot grow, one that keeps up."""
    before, after = 300 / 150, 300 * share / formulas.grown_area(150, 300, 300 * share, growth)
    ratio = formulas.pressure_ratio(300, 300 * share, growth)
    assert ratio == pytest.approx(after / before)
    power = formulas.pressure_ratio_by_power(300, 300 * share, growth)
    assert power == pytest.approx(share / share**growth)
    if growth in (0.0, 1.0):
        assert ratio == pytest.approx(power) == pytest.approx(share if growth == 0 else 1)


def test_hard_ground_hides_the_load_and_soft_soil_does_not():
    first = ground.demo_patch().load_kg
    line, power = ground.soft_soil_rise(first, 1.7 * first)
    off, on = (ground.demo_patch().under(kg) for kg in (first, 1.7 * first))
    assert 100 * (on.pressure_kpa / off.pressure_kpa - 1) < 10 < line < power < 70
    soft = [ground.demo_patch().under(kg, growth=0.27).pressure_kpa for kg in (first, 1.7 * first)]
    assert 100 * (soft[1] / soft[0] - 1) == pytest.approx(line)
