"""Front-axle lead, turning and what slips, formula by formula.

With the front drive in, gears tie the front wheels to the rear ones.  The lead says how
much farther the front tires want to travel than the rear ones, in percent of the rear.
In a turn the front axle runs on the larger circle::

        front axle  o              R  turning radius, to the middle of the rear axle
                    |  L           L  wheelbase
         rear axle  o-----R-----x  center of the turn

Circumferences are rolling ones, under load.  Lengths in meters, lead and mismatch in
percent.  Every formula runs on floats, arrays, uncertain numbers and sympy symbols alike.
"""

from math import pi

from leverarm.numerals import Numeric


def rolling_circumference(distance: Numeric, turns: Numeric) -> Numeric:
    """How far a loaded tire rolls in one turn.

    Equation    circumference = distance / turns
    distance    rolled straight, m; turns  of the wheel
    Valid       drive out, no pull, hard level ground
    Errors      ZeroDivisionError for no turns
    Source      definition

    >>> rolling_circumference(55, 20)
    2.75
    """
    return distance / turns


def turns_ratio(front_turns: Numeric, rear_turns: Numeric) -> Numeric:
    """Front turns for one rear turn with the drive locked, usually 1.2 to 1.5.

    Equation    ratio = front turns / rear turns
    Valid       drive in, counted over the same stretch
    Errors      ZeroDivisionError for no rear turns
    Source      definition; tire makers' technical pages

    >>> turns_ratio(13.5, 10)
    1.35
    """
    return front_turns / rear_turns


def lead(front: Numeric, rear: Numeric, ratio: Numeric) -> Numeric:
    """Lead of the front axle from rolling circumferences and ratio, percent.

    Equation    lead = 100 (ratio x front - rear) / rear
    front, rear   rolling circumferences, one length unit; ratio  front turns per rear turn
    Sign        positive: the front tires want to travel farther
    Valid       drive locked, straight ahead
    Errors      ZeroDivisionError for no rear circumference
    Source      tire makers' technical pages (common practice)

    >>> round(lead(2.04, 2.75, 1.39), 2)
    3.11
    """
    return 100 * (ratio * front - rear) / rear


def front_for(wanted: Numeric, rear: Numeric, ratio: Numeric) -> Numeric:
    """Front rolling circumference that gives a lead.

    Equation    front = rear (1 + lead/100) / ratio
    wanted      lead, percent; rear  rolling circumference; ratio  front turns per rear turn
    Valid       as lead
    Errors      ZeroDivisionError for no ratio
    Source      lead solved for the front

    >>> round(front_for(3, 2.75, 1.39), 3)
    2.038
    """
    return rear * (1 + wanted / 100) / ratio


def roll_out_lead(engaged: Numeric, free: Numeric) -> Numeric:
    """Lead from counting front turns for the same number of rear turns, percent.

    Equation    lead = 100 (engaged / free - 1)
    engaged     front turns with the drive in; free  front turns with it out
    Sign        as lead
    Valid       same rear turns, same load and pressures, hard level ground, walking speed
    Errors      ZeroDivisionError for no turns
    Source      GRDC Spray Application Manual, 15.5

    >>> round(roll_out_lead(13.5, 13.11), 2)
    2.97
    """
    return 100 * (engaged / free - 1)


def turns_to_count(u_turns: Numeric, u_lead: Numeric) -> Numeric:
    """Front turns to count so that the lead is known to a standard uncertainty.

    Equation    turns = 100 sqrt(2) u_turns / u_lead
    u_turns     of each count; u_lead  wanted, percentage points
    Valid       a small lead: both counts nearly alike
    Errors      ZeroDivisionError for no uncertainty
    Source      GUM 5.1.2 for the ratio of two equal counts, solved for the count

    >>> round(turns_to_count(0.289, 0.5))
    82
    """
    return 100 * 2**0.5 * u_turns / u_lead


def front_path_ratio(radius: Numeric, wheelbase: Numeric) -> Numeric:
    """Front axle's path in a turn, per meter of the rear axle's path.

    Equation    sqrt(radius^2 + wheelbase^2) / radius
    radius      of the turn, to the middle of the rear axle, m; wheelbase  m
    Valid       wheels rolling without side slip; middles of the axles
    Errors      ZeroDivisionError for a turn on the spot
    Source      Pythagoras: both axles turn about one center

    >>> front_path_ratio(4, 3)
    1.25
    """
    return (radius**2 + wheelbase**2) ** 0.5 / radius


def turn_mismatch(lead_percent: Numeric, radius: Numeric, wheelbase: Numeric) -> Numeric:
    """What the front tires want to travel more than the turn lets them, percent of the rear path.

    Equation    mismatch = lead - 100 (sqrt(radius^2 + wheelbase^2)/radius - 1)
    Sign        positive: over-driven, as straight ahead; negative: dragged along
    Valid       drive in, as front_path_ratio; tends to the lead as the radius grows
    Errors      ZeroDivisionError for a turn on the spot
    Source      lead less front_path_ratio

    >>> turn_mismatch(3, 4, 3)
    -22.0
    """
    return lead_percent - 100 * (front_path_ratio(radius, wheelbase) - 1)


def fitting_radius(lead_percent: Numeric, wheelbase: Numeric) -> Numeric:
    """Turning radius at which the lead just fits: nothing has to slip.

    Equation    radius = wheelbase / sqrt((1 + lead/100)^2 - 1)
    Valid       a lead above zero; no lead fits only straight ahead
    Errors      ZeroDivisionError for no lead
    Source      turn_mismatch = 0, solved for the radius

    >>> fitting_radius(25, 3)
    4.0
    """
    return wheelbase / ((1 + lead_percent / 100) ** 2 - 1) ** 0.5


def path_over(area: Numeric, width: Numeric) -> Numeric:
    """Distance to drive over an area once, strip beside strip.

    Equation    path = area / width
    area        m2; width  of each strip, overlap taken off, m
    Errors      ZeroDivisionError for no width
    Source      definition

    >>> path_over(10_000, 1.25)
    8000.0
    """
    return area / width


def turning_path(path: Numeric, run: Numeric, radius: Numeric) -> Numeric:
    """Distance driven in half turns, one at the end of each run.

    Equation    turning = path / run x pi x radius
    path        straight distance, run  length of one strip, radius  of the half turns; one length
                unit
    Valid       half circles; a loop that swings wider is longer
    Errors      ZeroDivisionError for no run
    Source      length of a half circle

    >>> round(turning_path(5000, 50, 2.5), 1)
    785.4
    """
    return path / run * pi * radius


def slip_distance(path: Numeric, mismatch: Numeric) -> Numeric:
    """Distance that some tire has to slip over a path.

    Equation    slip = path x mismatch / 100
    path        of the rear axle, m; mismatch  lead or turn_mismatch, percent
    Sign        that of the mismatch
    Valid       drive in; it does not say which axle slips: the lighter one gives way first
    Source      definition of the lead

    >>> slip_distance(6000, 3)
    180.0
    """
    return path * mismatch / 100


def squashed(circumference: Numeric, squash: Numeric, share: Numeric) -> Numeric:
    """Rolling circumference after the axle has come down under more load.

    Equation    circumference - 2 pi share x squash
    squash      how far the hub came down, m; share  of it that the rolling radius loses
    Valid       small squash; share about 1/3 where the tread band bends freely
    Source      Jazar, Vehicle Dynamics, ch. 1: rolling radius = free radius - (free - loaded
                radius)/3

    >>> round(squashed(2.04, 0.010, 1/3), 3)
    2.019
    """
    return circumference - 2 * pi * share * squash


def wear_index(
    load: Numeric, slip: Numeric, first_load: Numeric, first_slip: Numeric, exponent: Numeric = 1
) -> Numeric:
    """Wear of a slipping tire against a first case taken as 100.

    Equation    index = 100 (load / first load)^exponent x slip / first slip
    load        on the slipping axle; slip  distance slipped; first_*  those of the case called 100
    exponent    1: wear per distance as the load; 2 for a harsher guess
    Valid       a comparison on one ground: no hours, no money; the law was found on concrete at
                1 cm/s
    Errors      ZeroDivisionError where the first case slips nothing
    Source      Persson et al. 2025, J. Chem. Phys. 162: rubber wear per sliding distance as the
                load

    >>> wear_index(900, 50, 600, 100)
    75.0
    """
    return 100 * (load / first_load) ** exponent * slip / first_slip
