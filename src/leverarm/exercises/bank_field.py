"""Numeric problems of lessons 05 to 10: weigh day, arms up, counterweight, tire and turf, lead, the decision."""

from leverarm.exercises.bank_lever import HUNG, LOADER, PIECES, READS, SIGNS, numeric

_ONPAPER = "(On paper: the operator's manual decides.)"
_DAY = (
    "Before a {thing} was hung on, the {machine} read {F0} in front and {R0} at the rear. "
    "Now it reads {F1} and {R1}. "
)
_FIVE = "The same axle of the {machine} was weighed five times: {r1}, {r2}, {r3}, {r4}, {r5}. "
_SCATTER = "m e1 e2 e3 e4 e5"
_READ5 = "r1 r2 r3 r4 r5"
_SLOPE = (
    "The {machine} weighs {T}. On level ground its center of gravity is {x0} behind the front axle and {h} above the ground. "
    "The wheelbase is {L}. It stands nose downhill on a slope of {j}. "
)
_BALLAST = "A counterweight of {B} hangs on the {machine}, {b} behind the rear axle. The wheelbase is {L}. "
_PRINT = "One front tire of the {machine} prints {A} on hard ground. "

LESSON_05 = (
    numeric(
        "weight_from_readings",
        5,
        "The weight from the readings",
        "Wr",
        "F0 R0 F1 R1",
        _DAY + "What does the {thing} weigh?",
        hidden="W a L",
        low=60,
    ),
    numeric(
        "overhang_from_readings",
        5,
        "The overhang from the readings",
        "ar",
        "F0 R0 F1 R1 L",
        _DAY
        + "The wheelbase is {L}. How far ahead of the front axle does it hang? (Ahead is positive.)",
        hidden="W a",
        sign="change",
    ),
    numeric(
        "factor_from_readings",
        5,
        "The factor from the readings",
        "kr",
        "F0 R0 F1 R1",
        _DAY + "How many times its own weight did the front axle gain?",
        hidden="W a L",
    ),
    numeric(
        "mean_reading",
        5,
        "The mean of five readings",
        "rm",
        _READ5,
        _FIVE + "What is their mean?",
        hidden=_SCATTER,
    ),
    numeric(
        "scatter",
        5,
        "The scatter of five readings",
        "rs",
        _READ5,
        _FIVE + "What is the standard deviation of one reading?",
        hidden=_SCATTER,
        low=0.8,
    ),
    numeric(
        "mean_uncertainty",
        5,
        "The uncertainty of a mean",
        "ru",
        _READ5,
        _FIVE + "What is the standard uncertainty of their mean?",
        hidden=_SCATTER,
        low=0.4,
    ),
    numeric(
        "total_uncertainty",
        5,
        "The uncertainty of a sum",
        "uT",
        "u",
        "The front and the rear of the {machine} are weighed once each, each reading with a standard uncertainty of {u}. "
        "The errors do not depend on each other. What is the standard uncertainty of the total?",
    ),
    numeric(
        "weight_uncertainty",
        5,
        "The uncertainty of the hung weight",
        "uW",
        "F0 R0 F1 R1 u",
        _DAY
        + "Each of the four readings has a standard uncertainty of {u}, and the errors do not depend on each other. "
        "What is the standard uncertainty of the weight of the {thing}?",
        hidden="W a L",
    ),
    numeric(
        "expanded_uncertainty",
        5,
        "The expanded uncertainty",
        "U2",
        "u",
        "A {thing} was weighed by four readings, before and after, front and rear, each with a standard uncertainty of {u}. "
        "The errors do not depend on each other. What is the expanded uncertainty of its weight, with k = 2?",
    ),
    numeric(
        "from_certificate",
        5,
        "From a certificate",
        "uU",
        "U",
        "The certificate of a scale states an expanded uncertainty of {U} with k = 2. What is its standard uncertainty?",
    ),
    numeric(
        "from_limits",
        5,
        "From limits",
        "uh",
        "h2",
        "A scale is said to be within plus or minus {h2}, every error inside alike. What is its standard uncertainty?",
    ),
)
LESSON_06 = (
    numeric(
        "overhang_on_arc",
        6,
        "The overhang along the arc",
        "aarc",
        "p r o",
        "The arm of the {machine} turns about a pivot {p} behind the front axle. The load hangs {r} from the pivot, straight along the arm. "
        "The arm points {o} above level. How far ahead of the front axle is the load?",
        low=0.3,
    ),
    numeric(
        "load_that_keeps_a_fifth",
        6,
        "The load that leaves a fifth on the rear",
        "Wkeep",
        "F0 R0 a L",
        READS
        + "The wheelbase is {L}. At what load, {a} ahead of the front axle, does the rear axle still carry a fifth of everything, "
        "the load included? " + _ONPAPER,
    ),
    numeric(
        "slope_degrees",
        6,
        "Percent of slope in degrees",
        "Gdeg",
        "G",
        "A slope rises {G}. How many degrees is that?",
    ),
    numeric(
        "front_nose_down",
        6,
        "Nose downhill: the front",
        "Fdn",
        "T x0 h L j",
        _SLOPE + "What presses on the front axle, square to the slope?",
    ),
    numeric(
        "rear_nose_down",
        6,
        "Nose downhill: the rear",
        "Rdn",
        "T x0 h L j",
        _SLOPE + "What presses on the rear axle, square to the slope?",
    ),
    numeric(
        "brake_push",
        6,
        "What the brakes must hold",
        "push",
        "T j",
        "The {machine} weighs {T} and stands on a slope of {j}. What must the brakes hold along the slope, in the unit of its weight?",
    ),
    numeric(
        "friction_needed",
        6,
        "The friction that the rear needs",
        "mu",
        "T x0 h L j",
        _SLOPE
        + "Only the rear wheels are braked. What friction, as a plain number, do they need? "
        + _ONPAPER,
        low=0.15,
        high=1.2,
    ),
    numeric(
        "braking_transfer",
        6,
        "What braking moves forward",
        "moved",
        "T h L y",
        "The {machine} weighs {T}, its center of gravity {h} above level ground. The wheelbase is {L}. "
        "It slows at {y} of free fall. How much load moves from the rear axle to the front axle?",
    ),
    numeric(
        "sideways_ratio",
        6,
        "Track and height",
        "ssf",
        "t h",
        "A four-cornered trolley has a track of {t} and its center of gravity {h} above the ground. "
        "At which tangent of a side slope is the center of gravity over the tire line? " + _ONPAPER,
    ),
    numeric(
        "sideways_angle",
        6,
        "The sideways limit",
        "tilt",
        "t h",
        "A four-cornered trolley has a track of {t} and its center of gravity {h} above the ground. "
        "At which side slope, in degrees, is the center of gravity over the tire line? "
        "(On paper: a tractor's front axle swings, so it goes over sooner. The operator's manual decides.)",
    ),
)
LESSON_07 = (
    numeric(
        "ballast_front",
        7,
        "Ballast: the front",
        "dFB",
        "B b L",
        _BALLAST + "By how much does the front reading change? " + SIGNS,
        sign="change",
    ),
    numeric(
        "ballast_rear",
        7,
        "Ballast: the rear",
        "dRB",
        "B b L",
        _BALLAST + "By how much does the rear reading change? " + SIGNS,
        sign="change",
    ),
    numeric(
        "ballast_total",
        7,
        "Ballast: the whole machine",
        "dTB",
        "B b L",
        _BALLAST + "By how much do both readings together change? " + SIGNS,
        sign="change",
    ),
    numeric(
        "ballast_front_reading",
        7,
        "The front reading with ballast",
        "FB",
        "F0 B b L",
        _BALLAST + "Before, the front axle read {F0}. What does it read now?",
        low=150,
    ),
    numeric(
        "ballast_rear_reading",
        7,
        "The rear reading with ballast",
        "RB",
        "R0 B b L",
        _BALLAST + "Before, the rear axle read {R0}. What does it read now?",
    ),
    numeric(
        "bucket_or_ballast",
        7,
        "Ballast behind, bucket in front",
        "dFB",
        "B b W a L",
        HUNG + "Then a counterweight of {B} is hung {b} behind the rear axle. "
        "By how much does the counterweight alone change the front reading? " + SIGNS,
        sign="change",
    ),
    numeric(
        "bucket_and_ballast",
        7,
        "The rear with bucket and ballast",
        "both",
        "W a B b L",
        HUNG + "A counterweight of {B} hangs {b} behind the rear axle. "
        "By how much do both together change the rear reading? " + SIGNS,
        sign="change",
        low=40,
    ),
    numeric(
        "cancelling_ballast",
        7,
        "Ballast that takes the gain off again",
        "Bc",
        "W a b L",
        HUNG + "How much ballast, {b} behind the rear axle, takes the whole front gain off again?",
    ),
    numeric(
        "front_weights",
        7,
        "Front weights to steer by",
        "Bs",
        "F0 R0 Bm bm w L",
        READS
        + "The wheelbase is {L}. An implement of {Bm} is lifted {bm} behind the rear axle. How much front weight, "
        "{w} ahead of the front axle, brings the front reading up to a fifth of the tractor's own weight? "
        + _ONPAPER,
        ranges=(("F0", 480, 560), ("R0", 860, 940)),
        low=12,
    ),
)
LESSON_08 = (
    numeric(
        "front_pressure",
        8,
        "The mean pressure in front",
        "pf",
        "F1 R1 A",
        "The {machine} reads {F1} in front and {R1} at the rear. "
        + _PRINT
        + "What is the mean pressure under the front tires?",
        hidden="F0 R0 W a L",
    ),
    numeric(
        "print_area",
        8,
        "The area of a print",
        "Ap",
        "l v c",
        "A tire's print on paper is {l} long and {v} wide. Its shape is {c} of the full rectangle. What is its area?",
    ),
    numeric(
        "pressure_from_print",
        8,
        "The pressure from a paper print",
        "pAp",
        "F0 l v c",
        "The front axle of the {machine} reads {F0}. The print of one front tire is {l} long and {v} wide, {c} of the full rectangle. "
        "What is the mean pressure under the tire?",
    ),
    numeric(
        "print_needed",
        8,
        "The print that a pressure asks for",
        "An",
        "F0 N",
        "The front axle of the {machine} reads {F0}. How big a print does each front tire need for a mean pressure of {N}?",
    ),
    numeric(
        "carcass",
        8,
        "Air and carcass",
        "pc",
        "I K",
        "A tire holds {I}, and its stiff body adds {K}. What is its mean pressure on hard ground?",
    ),
    numeric(
        "pressure_growth",
        8,
        "More load, how much more pressure",
        "pp",
        "F0 F1 A q",
        "The front axle goes from {F0} to {F1}. "
        + _PRINT
        + "At the same tire pressure the print grows by {q} of what the load grows. "
        "By how many percent does the mean pressure grow?",
        hidden="W a L",
    ),
    numeric(
        "pressure_after",
        8,
        "The pressure after",
        "p1",
        "F0 F1 A q",
        "The front axle goes from {F0} to {F1}. At {F0} one front tire prints {A}. At the same tire pressure the print grows by {q} "
        "of what the load grows. What is the mean pressure after?",
        hidden="W a L",
    ),
    numeric(
        "print_radius",
        8,
        "A print as a circle",
        "rad",
        "A",
        "A print of {A} is taken as a circle. What is its radius?",
    ),
    numeric(
        "stress_at_depth",
        8,
        "Stress with depth",
        "sz",
        "N A z",
        "A tire presses on a round print of {A} with {N}. By the formula with the concentration factor 4, "
        "what is the stress {z} under its center?",
        low=1,
    ),
    numeric(
        "stress_share",
        8,
        "What reaches down",
        "psz",
        "N A z",
        "A tire presses on a round print of {A} with {N}. By the formula with the concentration factor 4, "
        "what percent of that is left {z} under its center?",
        low=1,
    ),
    numeric(
        "inflation",
        8,
        "Inflation for another load",
        "In",
        "I Q0 Q1",
        "A tire is right at {I} for {Q0}. By the general law, load as pressure to the power 0.8, what would {Q1} ask for? "
        "(A first guess: the tire's own table decides.)",
    ),
    numeric(
        "psi",
        8,
        "Kilopascals into psi",
        "psi",
        "I",
        "A gauge shows {I}. What is that in psi?",
        system="kg",
    ),
)
_LEAD = "One front turn of the {machine} rolls {Cf}, one rear turn {Cr}. With the drive in, the front wheels turn {g1} times for each rear turn. "
LESSON_09 = (
    numeric(
        "rolling",
        9,
        "A rolling circumference",
        "Cm",
        "s nt",
        "A loaded wheel of the {machine} rolls {s} in {nt} turns. What is its rolling circumference?",
    ),
    numeric(
        "turns_ratio",
        9,
        "The turns ratio",
        "gr",
        "n1 nr",
        "With the drive in, a front wheel of the {machine} turns {n1} times while a rear wheel turns {nr} times. What is the turns ratio?",
    ),
    numeric(
        "lead",
        9,
        "The lead",
        "ld",
        "Cf Cr g1",
        _LEAD + "What is the lead, in percent? (Positive: the front wants to go farther.)",
        sign="change",
        hidden="e",
        low=0.8,
        high=6,
    ),
    numeric(
        "lead_from_roll_out",
        9,
        "The lead from a roll-out",
        "lro",
        "nin n0",
        "Over the same rear turns a front wheel of the {machine} turns {nin} times with the drive in and {n0} times with it out. "
        "What is the lead, in percent? (Positive: the front wants to go farther.)",
        sign="change",
        hidden="e",
        low=0.8,
        high=6,
    ),
    numeric(
        "front_circumference",
        9,
        "The front tire for a lead",
        "Cf",
        "e Cr g1",
        "One rear turn of the {machine} rolls {Cr}, and the turns ratio is {g1}. "
        "What front rolling circumference gives a lead of {e}?",
        ranges=(("e", 3.3, 5.0),),
    ),
    numeric(
        "turn_path",
        9,
        "The front path in a turn",
        "path",
        "O L",
        "The {machine} turns about a point {O} from the middle of its rear axle. The wheelbase is {L}. "
        "How many times as far does the front axle run as the rear axle?",
    ),
    numeric(
        "turn_mismatch",
        9,
        "Lead and turn",
        "mis",
        "e O L",
        "The lead of the {machine} is {e}. It turns about a point {O} from the middle of its rear axle, drive in. The wheelbase is {L}. "
        "What is the mismatch, in percent of the rear path? (Positive: the front is over-driven; negative: it is dragged.)",
        sign="change",
    ),
    numeric(
        "slip_distance",
        9,
        "How far something slips",
        "slip",
        "D e",
        "The {machine} drives {D} straight on, drive in, with a lead of {e}. Over what distance does some tire slip?",
    ),
    numeric(
        "wear_index",
        9,
        "A wear index",
        "wear",
        "F0 e0 F1 e1",
        "With the loader off the front axle carries {F0} and slips {e0} of the way; that counts 100. "
        "With the loader on it carries {F1} and slips {e1}. Wear goes as load times slip. What is the index?",
        hidden="W a L",
    ),
)
LESSON_10 = (
    numeric(
        "loader_off_relief",
        10,
        "Loader off: the front relief",
        "pl",
        "F0 " + PIECES,
        LOADER + "Without it the front axle reads {F0}. The whole loader comes off. "
        "By how many percent of the reading with it on does the front reading fall?",
        sign="size",
    ),
    numeric(
        "bucket_off_relief",
        10,
        "Bucket off: the front relief",
        "pbo",
        "F0 " + PIECES,
        LOADER + "Without the loader the front axle reads {F0}. Only the bucket comes off. "
        "By how many percent of the reading with everything on does the front reading fall?",
        sign="size",
    ),
    numeric(
        "what_stays",
        10,
        "What stays when the bucket is off",
        "prest",
        PIECES,
        LOADER
        + "The bucket comes off, arms and frame stay. What percent of the loader's front gain is left?",
    ),
    numeric(
        "tire_gain",
        10,
        "What one front tire carries more",
        "tire",
        PIECES,
        LOADER
        + "The two front tires share alike. How much more does each carry with the loader on?",
        stream="tyre_gain",
    ),
)
KINDS = LESSON_05 + LESSON_06 + LESSON_07 + LESSON_08 + LESSON_09 + LESSON_10
