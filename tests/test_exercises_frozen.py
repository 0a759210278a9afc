"""What a student was once given and told stays so: every kind, ten seeds, both unit systems.

`frozen_exercises.json.gz` was written by the package as it stood before its problems
became data.  Statement numbers, given letters, answers, and the suspects for a fixed
set of wrong answers must be what they were.  Words may change; NEW_NAMES says how what
stands in the file is called today.
"""

import gzip
import json
import re
from pathlib import Path

import pytest

from leverarm import exercises

FILE = Path(__file__).with_name("frozen_exercises.json.gz")
FROZEN = json.loads(gzip.decompress(FILE.read_bytes()))
# Old name -> name today; what is not listed kept its name.
NEW_KINDS = {
    "pressure_from_print": "pressure_from_patch",
    "print_radius": "patch_radius",
    "print_needed": "patch_needed",
    "print_area": "patch_area",
    "formula_cancelling": "formula_canceling",
    "cancelling_ballast": "canceling_ballast",
    "centre_of_gravity": "center_of_gravity",
    "inches_and_metres": "inches_and_meters",
    "millimetres_and_metres": "millimeters_and_meters",
    "tyre_gain": "tire_gain",
    "formula_centre": "formula_center",
    "centre_and_halves": "center_and_halves",
    "per_cent_of_what": "percent_of_what",
    "filled_tyres": "filled_tires",
    "wide_tyres": "wide_tires",
}
NEW_SUSPECTS = dict(
    line.split(maxsplit=1)
    for line in """
A1 difference, not sum
A2 mean, not sum
A3 twice the front
A4 rear alone
A5 front over rear
A6 rear share
A7 not yet percent
A8 from the rear axle
A9 middle of the wheelbase
A10 front over rear
A11 rear over front
A12 divided by the arm
A13 distance added to weight
A14 newton meters
A15 about the front axle
A16 wheelbase alone as arm
A17 overhang taken off
A18 other scale
A19 plank forgotten
A20 whole plank on one scale
A21 shared alike
A22 whole jug on one scale
A23 from the right scale
A24 part over other part
A25 lever upside down
A26 axles swapped
A27 half of the weight
A28 lever upside down
L1 load taken as ahead
L2 axles swapped
L3 whole load
L4 half of the load
L5 other sign
F1 weight alone
F2 rear loss only
F7 plain doubling
F5 lever upside down
F3 between the axles
F6 half of the weight
F15 reading for gain
F10 arm to center of gravity
F12 newtons
F13 overhang to the lip
F17 distance added to weight
R1 other sign
R2 no change
R4 whole weight off the rear
R5 size of the front gain
R6 front for rear
S1 front gain alone
S3 no change
S2 signs lost
K21 weight itself forgotten
K22 ratio upside down
K23 plain doubling
K24 between the axles
K25 factor times wheelbase
K26 wheelbase over factor
K27 wheelbase itself
F16 change alone
F18 weight without lever
F19 change subtracted
F20 rear loss added
R7 change alone
R8 change added
R9 whole weight subtracted
R10 reading before
R11 whole weight added
C1 percent of the whole tractor
C4 weight without lever
C3 percent of, not more than
C6 percent of the rear
C8 percent of the hung weight
C9 not yet percent
C11 other sign
C12 percent of the front
C13 front gain for the total
C14 percent of the weight after
C10 old weight below
C15 share before
C16 rear share
C17 front over rear
C18 percent of the bare reading
P6 weights without levers
P1 all at the bucket
P2 plain mean of arms
P5 bucket counted twice
P7 rear losses only
P4 factors multiplied
P8 front for rear
K28 bucket factor alone
K29 plain mean of factors
K30 plain mean of overhangs
K31 bucket overhang alone
K32 overhangs added
K33 share of the weight
K34 weight over gain
K35 gain over weight
K36 rest for bucket
K37 bucket for rest
K38 rest of the weight
K39 rest over bucket
K40 bucket without lever
K41 bare reading
K42 reading with everything
K43 bucket added again
K44 loader without lever
K45 bucket without lever
K46 whole loader off
K47 whole axle
K48 half of the weight
K49 quarter of the gain
I1 front gain alone
I2 signs lost
I4 mean of the sizes
J7 before and after swapped
J1 from the rear axle
J3 signs lost
J4 subtracted from the wheelbase
J5 other sign
J8 over the front gain
J9 gain over loss
J10 factor upside down
J11 reading over reading
T1 rear reading itself
T3 lever upside down
T4 front reading used
T6 fitted weight subtracted
T7 whole limit
T8 lever forgotten
T9 fitted weight added
U1 one reading only
U2 added plainly
U3 errors canceled
U5 percent of one reading
U7 two readings only
U8 mean of four
U9 mean of two
U10 not expanded
U11 one reading expanded
U12 added plainly, expanded
U13 figure as it stands
U14 doubled
U15 divided as limits
U16 half-width as it stands
U17 divided as expanded
U18 divided as whole width
U19 divided as triangle
U20 sum, not mean
U21 divided by one less
U22 scatter of the mean
U23 divided by the number
U24 largest less smallest
U25 half of largest less smallest
U26 scatter of one reading
U27 divided by five
U28 divided by the root of four
N4 inches over meters
N5 feet over inches
N6 millimeters over meters
H1 arm taken as level
H2 from the pivot
H3 pivot ahead of the axle
H4 sine for cosine
H5 nose uphill
H6 level ground
H7 axles swapped
H8 height forgotten
H9 cosine for sine
H10 whole weight
H11 all tires hold
H12 level rear reading
H13 ratio upside down
H14 front reading used
H15 lever upside down
H16 slowing force itself
H17 half of the slowing force
H18 slowing forgotten
H19 percent for degrees
H20 percent of a right angle
H21 radians
H22 whole track
H23 from the vertical
H24 ratio upside down
H25 whole track
H26 ratio upside down
H27 rear lifted altogether
H28 fifth of the bare tractor
H29 lever forgotten
H30 fifth of the rear reading
B1 no change
B2 weight alone
B4 other sign
B5 overhang of the bucket
B7 axles swapped
B8 lever upside down
B6 weight without lever
B9 front loss only
B10 lever upside down
B11 between the axles
B12 plain doubling
B13 rear gain alone
B14 signs lost
B15 same weight as the bucket
B16 same as the front gain
B17 lever upside down
B18 matches the rear loss
B19 change added
B20 whole ballast subtracted
B21 reading before
B22 ballast without lever
B23 change subtracted
B24 ballast alone
B25 bucket with other sign
B26 difference without levers
B27 sum without levers
B28 lever forgotten
B29 fifth of the tractor
B30 implement forgotten
Q1 axle on one tire
Q2 whole machine on two tires
Q4 whole machine on four patches
Q9 g forgotten
Q10 pascals
Q11 four tires on one axle
Q12 axle on one patch
Q13 full rectangle
Q14 divided by the shape
Q15 patch for the whole axle
Q16 area upside down
Q17 old patch, new load
Q18 pressure before
Q6 pressure grows as load
Q19 growth of the patch
Q8 inflation pressure only
Q20 carcass subtracted
Q21 diameter for radius
Q22 pi forgotten
Q23 square for circle
Q24 surface pressure
Q25 what has faded
Q26 diameter for radius
Q27 not yet percent
Q28 pressure straight with load
Q29 power turned over
Q30 loads swapped
D9 turns over distance
D10 diameter for circumference
D11 radius for circumference
D12 ratio upside down
D13 difference, not ratio
D2 turns ratio forgotten
D4 ratio, not lead
D5 other sign
D15 not yet percent
D16 counts swapped
D17 difference of the counts
D18 no lead
D19 turns ratio turned over
D20 lag for lead
D21 sides added
D22 ratio upside down
D23 wheelbase over radius
D8 turn without lead
D24 lead and turn added
D25 lead alone
D26 percent not as hundredths
D27 rest of the distance
D28 distance over lead
D29 slip alone
D30 load alone
D31 cases swapped
D32 ratio, not index
N1 factor turned over
N3 newtons mixed in
N9 two and a half
N7 factor turned over
N10 a tenth
N11 kilograms as they stand
N12 divided by g
K6 load taken for mass
K6a load taken for a difference
K6b load taken for half the machine
K1 equal weights
K1a equal lengths
K1b equal readings
K8 moments need motion
K8a moments need lifting
K4 pivot changes readings
K4a only one pivot is right
K4b pivot must be on the machine
F1c weight alone
F6c half of the weight
F3c less than the weight
F18c one wheelbase ahead
F19c midway
F20c always more
F7c doubles anywhere
F21c half a wheelbase
F22c two wheelbases
K5 rear gains
K5a rear unchanged
K7 pinned means carried
K7a resting adds load
N4c multiplied, not divided
N6c meters needed
E1 front gain with a minus
E2 cannot be found
E3 pivot has no force
C18c percent of the bare reading
C1c percent of the whole tractor
C19c no percent of a difference
U3c errors canceled
U1c one reading only
U2c added plainly
U6 too many digits
U6a uncertainty ignored
N8 rounded early
K2 heavy never tips
K2a heavy tips sooner
K3 height changes level readings
K3a height lengthens the lever
B3 weight off the front
B3a half off the front
B3b front gains
B31 ballast lifts more
B32 same weight, same effect
Q8c inflation pressure only
Q6d patch grows faster
Q7 tires change the load
Q7a tires change load and pressure
Q8d ground gives
D7 lead always acts
D7a lead acts in turns only
D6 free diameter
D6a printed size
V1 promise from load
V2 load does not matter
V3 promise from ballast
B33 front alone counted
B34 total forgotten
""".strip().splitlines()
)
# Numbers of a formula that a statement tells since, and did not tell then.
TOLD_SINCE = {"stress_at_depth": {"1"}, "stress_share": {"1"}}
_NUMBER = re.compile(r"\d[\d,]*(?:\.\d+)?")


def numbers_in(text):
    """The numbers of a text, each once, whatever the words around them."""
    return sorted({number.replace(",", "").rstrip(".") for number in _NUMBER.findall(text)})


def as_kept(answer):
    """An answer as the file has it: a number with twelve digits, any other as its text."""
    return float(f"{answer:.12g}") if isinstance(answer, float) else str(answer)


def found(problem, typed):
    """What is compared: numbers, letters, unit, answer, and the suspects of each wrong answer."""
    options = [text for _, text in problem.options] if problem.style == "choice" else []
    return [
        [
            number
            for number in numbers_in(" ".join([problem.statement, *options]))
            if number not in TOLD_SINCE.get(problem.kind, ())
        ],
        (
            list(problem.given)
            if problem.style == "symbol"
            else [(name, text.replace(",", "")) for name, text in problem.given.items()]
        ),
        problem.unit,
        as_kept(problem.answer),
        [
            [suspect.name for suspect in exercises.check(problem, one, sympy=False).suspects]
            for one in typed
        ]
        if problem.style in ("choice", "body")
        else [],
    ]


def unpacked(case, of_words):
    """A case of the file in the shape of `found`, with today's names.

    of_words    suspects are held only where an answer is words: those of numbers are searched for
    """
    numbers, given, unit, answer, suspects = case
    names = [[FROZEN["suspects"][at] for at in row] for row in suspects]
    return [
        numbers,
        [tuple(pair) if isinstance(pair, list) else pair for pair in given],
        unit,
        answer.replace("centre", "center") if isinstance(answer, str) else answer,
        [[NEW_SUSPECTS.get(name, name) for name in row] for row in names] if of_words else [],
    ]


def test_the_file_holds_what_it_says():
    kinds = FROZEN["kinds"]
    assert len(kinds) == 153
    numeric = [cases for cases in kinds.values() if len(cases) == 20]
    assert len(numeric) == 98, "ten seeds, both systems"
    assert all(len(cases) == 10 for cases in kinds.values() if cases not in numeric)
    wrong = sum(len(case["typed"]) for cases in kinds.values() for case in cases)
    assert wrong > 10_000


@pytest.mark.parametrize("old", FROZEN["kinds"])
def test_a_problem_keeps_its_numbers_and_its_suspects(old):
    name = NEW_KINDS.get(old, old)
    for case in FROZEN["kinds"][old]:
        problem = exercises.make(name, case["seed"], case["system"], edition=1)
        of_words = problem.style in ("choice", "body")
        assert found(problem, case["typed"]) == unpacked(case["found"], of_words), (
            f"{name}, seed {case['seed']}, {case['system']}"
        )


@pytest.mark.parametrize("old, new", NEW_KINDS.items())
def test_a_name_of_before_still_finds_its_problem(old, new):
    assert exercises.make(old, 5) == exercises.make(new, 5)
    assert exercises.kind_named(old).name == new
    assert old not in {kind.name for kind in exercises.problems()}
