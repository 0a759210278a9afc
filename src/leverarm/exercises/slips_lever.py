"""Listed wrong turns of lessons 01 to 05, by what is asked: name, what the number is, its formula, the question.

A formula uses the letters of the problem and the names of the rules (dF is what
the front gains), so no right formula stands here a second time.  A slip is looked
for in every problem that gives the letters it needs.  The commoner stand first.
"""

_LEVER = (
    (
        "F1",
        "the hung weight alone, without the lever",
        "W",
        "Where would it have to hang to add just its own weight?",
    ),
    (
        "F2",
        "exactly what the rear axle lost",
        "-dR",
        "And which axle carries the hung weight itself?",
    ),
    ("F7", "twice the hung weight", "2*W", "That holds at one overhang only. Which?"),
    (
        "F5",
        "the lever upside down, W × L/a",
        "W*L/a",
        "Push the weight farther out: does your number grow?",
    ),
    (
        "F3",
        "what a load between the axles would add",
        "W*(L-a)/L",
        "On which side of the front axle does the weight hang?",
    ),
    (
        "F6",
        "half of the hung weight",
        "W/2",
        "Where would it have to hang to load both axles alike?",
    ),
    (
        "F15",
        "the new front reading",
        "F1",
        "The gain is after minus before. What stood there before?",
    ),
    (
        "F10",
        "the lever with the distance to the center of gravity in the place of the wheelbase",
        "W*(1+a/x)",
        "Which two points hold the machine up?",
    ),
    ("F12", "the gain in newtons", "9.80665*dF", "Does the scale show newtons?"),
    (
        "F13",
        "the lever with the overhang measured to the lip of the bucket, a quarter of a meter farther",
        "W*(1+(a+0.25)/L)",
        "At which point does the weight of the bucket act?",
    ),
    (
        "F17",
        "a distance added to a weight",
        "W+a",
        "Can meters be added to kilograms, or inches to pounds?",
    ),
)
_PIECES = (
    ("P6", "the weight of the pieces, without levers", "{W}", "What does each arm do?"),
    (
        "P1",
        "all pieces at the arm of the bucket",
        "({W})*(1+a1/L)",
        "Do all pieces hang at the same place?",
    ),
    (
        "P2",
        "all pieces at the plain mean of the arms",
        "({W})*(1+({a})/({n}*L))",
        "Does a light piece count as much as a heavy one?",
    ),
    ("P5", "the bucket counted twice", "{dF}+dF1", "Is the bucket in there already?"),
    (
        "P7",
        "what all the rear losses add up to",
        "{dF}-({W})",
        "And which axle carries the pieces themselves?",
    ),
    ("P4", "the factors multiplied together", "{k}", "Do loads add, or multiply?"),
)


def _pieces(**parts):
    return tuple((name, what, formula.format(**parts), ask) for name, what, formula, ask in _PIECES)


def _mixed(name, unit, meters):
    """Overhang and wheelbase divided as they stand, in two units."""
    return (
        (
            name,
            "the lever with overhang and wheelbase in two different units",
            f"W*(1+a_{unit}/({meters}*L))",
            "In which unit is the overhang told, and in which the wheelbase?",
        ),
        (
            "F1",
            "the hung weight alone, without the lever",
            "W",
            "Where would it have to hang to add just its own weight?",
        ),
        (
            "F2",
            "exactly what the rear axle lost",
            f"W*a_{unit}/L",
            "And which axle carries the hung weight itself?",
        ),
        (
            "F5",
            "the lever upside down, W × L/a",
            f"W*L/a_{unit}",
            "Push the weight farther out: does your number grow?",
        ),
    )


LEVER_SLIPS = {
    "T0": (
        (
            "A1",
            "the difference of the two readings",
            "R0-F0",
            "Does either scale take weight off the other?",
        ),
        ("A2", "the mean of the two readings", "(F0+R0)/2", "Is a total asked, or an average?"),
        ("A3", "twice the front reading", "2*F0", "Do both axles carry the same?"),
        ("A4", "the rear reading alone", "R0", "What does the front axle carry?"),
    ),
    "pF0": (
        ("A5", "the front reading over the rear reading", "100*F0/R0", "Percent of what?"),
        ("A6", "the rear share", "100*R0/T0", "Which axle is asked?"),
        ("A7", "the fraction, not yet percent", "F0/T0", "What turns a fraction into percent?"),
    ),
    "x": (
        ("A8", "the distance from the rear axle", "L-x", "From which axle is the distance asked?"),
        ("A9", "the middle between the axles", "L/2", "Do both scales read the same?"),
        (
            "A10",
            "the wheelbase times front over rear",
            "L*F0/R0",
            "Part over the whole, or part over the other part?",
        ),
        (
            "A11",
            "the wheelbase times rear over front",
            "L*R0/F0",
            "Part over the whole, or part over the other part?",
        ),
    ),
    "Mf": (
        ("A12", "weight over arm", "W/a", "Farther out: more turning, or less?"),
        (
            "A13",
            "weight and arm added",
            "W+a",
            "Can meters be added to kilograms, or inches to pounds?",
        ),
        ("A14", "the moment in newton meters", "9.80665*Mf", "Which unit is asked for?"),
    ),
    "Mr": (
        (
            "A15",
            "the moment about the front axle",
            "W*a",
            "Where does the arm start, if the pivot is the rear axle?",
        ),
        (
            "A16",
            "the weight times the wheelbase",
            "W*L",
            "Does the weight hang over the front axle?",
        ),
        (
            "A17",
            "the weight times the wheelbase less the overhang",
            "W*(L-a)",
            "Is the weight ahead of the front axle or behind it?",
        ),
        ("A14", "the moment in newton meters", "9.80665*Mr", "Which unit is asked for?"),
    ),
    "Al": (
        ("A18", "what the other scale reads", "Ar", "Which scale is nearer to the jug?"),
        ("A19", "the jug's part alone, without the plank", "Jl", "Who carries the plank?"),
        ("A20", "the whole plank put on one scale", "P+Jl", "How many scales carry the plank?"),
        ("A21", "jug and plank shared alike", "(P+J)/2", "Does the jug stand in the middle?"),
        (
            "A22",
            "all of the jug put on one scale",
            "Ph+J",
            "Where would the jug have to stand for that?",
        ),
    ),
    "Ar": (
        ("A18", "what the other scale reads", "Al", "Which scale is nearer to the jug?"),
        ("A19", "the jug's part alone, without the plank", "Jr", "Who carries the plank?"),
        ("A20", "the whole plank put on one scale", "P+Jr", "How many scales carry the plank?"),
        ("A21", "jug and plank shared alike", "(P+J)/2", "Does the jug stand in the middle?"),
        (
            "A22",
            "all of the jug put on one scale",
            "Ph+J",
            "Where would the jug have to stand for that?",
        ),
    ),
    "dj": (
        (
            "A23",
            "the distance from the right scale",
            "S-dj",
            "From which scale is the distance asked?",
        ),
        (
            "A24",
            "the gain over what the other scale gained, times the distance",
            "S*Jr/(J-Jr)",
            "Part over the whole, or part over the other part?",
        ),
        ("A25", "the lever upside down", "S*J/Jr", "Can the jug stand beyond the plank?"),
    ),
    "F": (
        ("A26", "the rear reading", "R", "Which axle is asked?"),
        ("A27", "half of the weight", "T/2", "Is the center of gravity in the middle?"),
        (
            "A28",
            "the lever upside down",
            "T*L/x0",
            "Can one scale read more than the whole machine?",
        ),
    ),
    "R": (
        ("A26", "the front reading", "F", "Which axle is asked?"),
        ("A27", "half of the weight", "T/2", "Is the center of gravity in the middle?"),
        (
            "A28",
            "the lever upside down",
            "T*L/x0",
            "Can one scale read more than the whole machine?",
        ),
    ),
    "inF": (
        (
            "L1",
            "what a load ahead of the front axle would add",
            "W*(1+i/L)",
            "On which side of the front axle does the load sit?",
        ),
        ("L2", "what goes on the rear axle", "inR", "Which axle is nearer to the load?"),
        ("L3", "the whole load", "W", "What does the rear axle carry of it?"),
        ("L4", "half of the load", "W/2", "Does it sit midway between the axles?"),
    ),
    "inR": (
        (
            "L5",
            "the rear change with the sign of a load hung ahead",
            "-inR",
            "Does a load between the axles lift the rear?",
        ),
        ("L2", "what goes on the front axle", "inF", "Which axle is nearer to the load?"),
        ("L3", "the whole load", "W", "What does the front axle carry of it?"),
        ("L4", "half of the load", "W/2", "Does it sit midway between the axles?"),
    ),
    "dF": _LEVER,
    "dR": (
        (
            "R1",
            "the right size with the other sign",
            "-dR",
            "Which way does the nose tip, and which end gets lighter?",
        ),
        ("R2", "no change at all", "0*W", "Take moments about the front axle: what has an arm?"),
        (
            "R4",
            "the whole weight taken off the rear",
            "-W",
            "What would the front have gained then?",
        ),
        (
            "R5",
            "the size of the front gain, taken off the rear",
            "-dF",
            "What would the total have done then?",
        ),
        ("R6", "the front gain", "dF", "Which axle is asked?"),
    ),
    "dT": (
        ("S1", "what the front axle gains", "dF", "What did the rear scale do meanwhile?"),
        ("S3", "no change at all", "0*W", "What would one scale under the whole machine show?"),
        ("S2", "both changes added without their signs", "dF-dR", "Which of the two is a loss?"),
    ),
    "dF_off": (
        (
            "R1",
            "the right size with the other sign",
            "dF",
            "Does the front get heavier when the load comes off?",
        ),
        (
            "F1",
            "the weight alone, without the lever",
            "-W",
            "Where would it have to hang to count just its own weight?",
        ),
        ("F2", "what the rear axle gains, as a loss", "dR", "Which axle is asked?"),
        ("F7", "twice the weight", "-2*W", "That holds at one overhang only. Which?"),
    ),
    "dR_off": (
        (
            "R1",
            "the right size with the other sign",
            "dR",
            "The nose comes up: does the rear get lighter or heavier?",
        ),
        ("R2", "no change at all", "0*W", "Take moments about the front axle: what has an arm?"),
        ("R4", "the whole weight put on the rear", "W", "What would the front have lost then?"),
        ("R5", "the size of the front change", "dF", "What would the total have done then?"),
    ),
    "kf": (
        (
            "K21",
            "the ratio of overhang to wheelbase, without the weight itself",
            "a/L",
            "And which axle carries the hung weight itself?",
        ),
        ("K22", "the ratio upside down", "1+L/a", "Farther out: should the factor grow?"),
        ("K23", "plain doubling", "2", "At which overhang does it double?"),
        (
            "K24",
            "the factor of a load between the axles",
            "1-a/L",
            "On which side of the front axle does the load hang?",
        ),
    ),
    "ak": (
        (
            "K25",
            "the factor times the wheelbase",
            "k*L",
            "What is the factor of a load right over the front axle?",
        ),
        ("K26", "the wheelbase over the factor", "L/k", "A bigger factor: farther out, or nearer?"),
        ("K27", "the wheelbase itself", "L", "For which factor is that right?"),
    ),
    "F1": (
        (
            "F16",
            "the change alone",
            "dF",
            "Reading after: before and change. What stood there before?",
        ),
        (
            "F18",
            "the reading before and the bare weight",
            "F0+W",
            "Where would it have to hang to add just its own weight?",
        ),
        ("F19", "the change taken off", "F0-dF", "Does the front get heavier or lighter?"),
        (
            "F20",
            "the reading before and the rear's loss",
            "F0-dR",
            "And which axle carries the hung weight itself?",
        ),
    ),
    "R1": (
        (
            "R7",
            "the change alone",
            "dR",
            "Reading after: before and change. What stood there before?",
        ),
        ("R8", "the change added, where the rear loses", "R0-dR", "Which way does the nose tip?"),
        (
            "R9",
            "the reading before less the whole weight",
            "R0-W",
            "What would the front have gained then?",
        ),
        ("R10", "the reading before", "R0", "Take moments about the front axle: what has an arm?"),
        (
            "R11",
            "the reading before and the whole weight",
            "R0+W",
            "On which side of the front axle does the load hang?",
        ),
    ),
    "pdF": (
        ("C1", "the gain in percent of the whole tractor", "100*dF/T0", "Percent of what?"),
        (
            "C4",
            "the hung weight in percent of the front reading",
            "100*W/F0",
            "What did the front gain, with its lever?",
        ),
        (
            "C3",
            "the new reading in percent of the old one",
            "100*F1/F0",
            "Percent of it, or percent more than it?",
        ),
        (
            "C6",
            "the gain in percent of the rear reading",
            "100*dF/R0",
            "Which axle stands under the fraction?",
        ),
        ("C8", "the gain in percent of the hung weight", "100*dF/W", "Percent of what?"),
        ("C9", "the fraction, not yet percent", "dF/F0", "What turns a fraction into percent?"),
    ),
    "pdR": (
        (
            "C11",
            "the right size with the other sign",
            "-pdR",
            "Does the rear get heavier or lighter?",
        ),
        ("C1", "the change in percent of the whole tractor", "100*dR/T0", "Percent of what?"),
        (
            "C12",
            "the change in percent of the front reading",
            "100*dR/F0",
            "Which axle stands under the fraction?",
        ),
        (
            "C4",
            "the hung weight in percent of the rear reading",
            "-100*W/R0",
            "What did the rear lose, with its lever?",
        ),
        (
            "C3",
            "the new reading in percent of the old one",
            "100*R1/R0",
            "Percent of it, or percent less than it?",
        ),
        ("C9", "the fraction, not yet percent", "dR/R0", "What turns a fraction into percent?"),
    ),
    "pdT": (
        (
            "C13",
            "the front gain in percent of the whole tractor",
            "100*dF/T0",
            "What did the rear do meanwhile?",
        ),
        (
            "C14",
            "the hung weight in percent of the new weight",
            "100*W/T1",
            "Percent of the weight before, or after?",
        ),
        ("C4", "the hung weight in percent of the front reading", "100*W/F0", "Percent of what?"),
    ),
    "pF1": (
        (
            "C10",
            "the new front reading over the old weight",
            "100*F1/T0",
            "What does the machine weigh now?",
        ),
        ("C15", "the front share before", "100*F0/T0", "Before, or after?"),
        ("C16", "the new rear share", "100*R1/T1", "Which axle is asked?"),
        ("C17", "the new front over the new rear", "100*F1/R1", "Percent of what?"),
    ),
    "poff": (
        (
            "C18",
            "the relief in percent of the bare front reading",
            "100*dF/F0",
            "Which reading is the one before, when something comes off?",
        ),
        (
            "C4",
            "the weight in percent of the front reading",
            "100*W/F1",
            "What did the front lose, with its lever?",
        ),
        ("C1", "the relief in percent of the whole machine", "100*dF/T1", "Percent of what?"),
    ),
    "dF12": _pieces(W="W1+W2", a="a1+a2", n="2", dF="dF12", k="(1+a1/L)*(1+a2/L)"),
    "dF13": _pieces(W="W1+W3", a="a1+a3", n="2", dF="dF13", k="(1+a1/L)*(1+a3/L)"),
    "dF123": _pieces(W="W1+W2+W3", a="a1+a2+a3", n="3", dF="dF123", k="(1+a1/L)*(1+a2/L)*(1+a3/L)"),
    "dR123": (
        ("R1", "the right size with the other sign", "-dR123", "Which end gets lighter?"),
        ("P8", "the front gain", "dF123", "Which axle is asked?"),
        (
            "R4",
            "the weight of all pieces taken off",
            "-W123",
            "What would the front have gained then?",
        ),
        (
            "P1",
            "all pieces at the arm of the bucket",
            "-W123*a1/L",
            "Do all pieces hang at the same place?",
        ),
        (
            "P2",
            "all pieces at the plain mean of the arms",
            "-W123*(a1+a2+a3)/(3*L)",
            "Does a light piece count as much as a heavy one?",
        ),
    ),
    "kl": (
        ("K23", "plain doubling", "2", "Do the arms and the frame hang as far out as the bucket?"),
        (
            "K28",
            "the factor of the bucket alone",
            "1+a1/L",
            "Do all pieces hang at the same place?",
        ),
        (
            "K29",
            "the plain mean of the factors",
            "1+(a1+a2+a3)/(3*L)",
            "Does a light piece count as much as a heavy one?",
        ),
    ),
    "al": (
        (
            "K30",
            "the plain mean of the overhangs",
            "(a1+a2+a3)/3",
            "Does a light piece count as much as a heavy one?",
        ),
        ("K31", "the overhang of the bucket", "a1", "Do all pieces hang at the same place?"),
        (
            "K32",
            "the overhangs added up",
            "a1+a2+a3",
            "Can the whole hang farther out than its farthest piece?",
        ),
    ),
    "pb": (
        (
            "K33",
            "the bucket's part of the weight",
            "100*W1/W123",
            "Does each kilogram or pound count alike, wherever it hangs?",
        ),
        (
            "K34",
            "the bucket's weight over the front gain",
            "100*W1/dF123",
            "What does the bucket itself do to the front?",
        ),
        (
            "K35",
            "the bucket's gain over the weight of the loader",
            "100*dF1/W123",
            "Percent of what?",
        ),
        (
            "K36",
            "what is left when the bucket is off",
            "prest",
            "Is it the bucket's part that is asked, or the rest?",
        ),
    ),
    "prest": (
        ("K37", "the bucket's part", "pb", "Is it the bucket's part that is asked, or the rest?"),
        (
            "K38",
            "the rest of the weight",
            "100*(W2+W3)/W123",
            "Does each kilogram or pound count alike, wherever it hangs?",
        ),
        ("K39", "the rest over the bucket's gain", "100*dF23/dF1", "Percent of what?"),
    ),
    "Fb": (
        (
            "K40",
            "only the weight of the bucket taken off",
            "Fl-W1",
            "What did the bucket do, with its lever?",
        ),
        ("K41", "the reading of the bare machine", "F0", "Do arms and frame come off too?"),
        (
            "K42",
            "the reading with everything on",
            "Fl",
            "What does the front lose when the bucket comes off?",
        ),
        ("K43", "the bucket's gain added once more", "Fl+dF1", "On, or off?"),
    ),
    "pl": (
        (
            "C18",
            "the relief in percent of the bare front reading",
            "100*dF123/F0",
            "Which reading is the one before, when something comes off?",
        ),
        (
            "K44",
            "the loader's weight in percent of the front reading",
            "100*W123/Fl",
            "What did the front lose, with its levers?",
        ),
    ),
    "pbo": (
        (
            "C18",
            "the relief in percent of the bare front reading",
            "100*dF1/F0",
            "Which reading is the one before, when something comes off?",
        ),
        (
            "K45",
            "the bucket's weight in percent of the front reading",
            "100*W1/Fl",
            "What did the front lose, with its lever?",
        ),
        ("K46", "the relief from the whole loader", "pl", "Do arms and frame come off too?"),
    ),
    "tire": (
        ("K47", "the gain of the whole axle", "dF123", "How many tires share the front axle?"),
        ("K48", "half of the loader's weight", "W123/2", "What do the levers do?"),
        ("K49", "a quarter of the gain", "dF123/4", "How many tires share the front axle?"),
    ),
    "Wr": (
        ("I1", "what the front axle gained", "dFr", "What did the rear do meanwhile?"),
        ("I2", "both changes added without their signs", "dFr-dRr", "Which of the two is a loss?"),
        ("I4", "the mean of the two sizes", "(dFr-dRr)/2", "Is a total asked, or an average?"),
        (
            "J7",
            "before and after the wrong way round",
            "-Wr",
            "Did the machine get lighter when something was hung on it?",
        ),
    ),
    "ar": (
        ("J1", "the arm from the rear axle", "L+ar", "From which axle is the overhang measured?"),
        (
            "J3",
            "the rear change over both sizes added",
            "-L*dRr/(dFr-dRr)",
            "What is the hung weight, signs and all?",
        ),
        (
            "J4",
            "the overhang taken off the wheelbase",
            "L-ar",
            "Is the weight ahead of the front axle or behind it?",
        ),
        (
            "J5",
            "the right size with the other sign",
            "-ar",
            "Ahead is positive here. Did the front gain more than the weight?",
        ),
        (
            "J8",
            "the rear change over the front change",
            "-L*dRr/dFr",
            "Divide by the hung weight: is that what the front gained?",
        ),
    ),
    "kr": (
        ("J9", "the front gain over the rear loss", "-dFr/dRr", "What is the hung weight?"),
        (
            "J10",
            "the factor upside down",
            "Wr/dFr",
            "Did the front gain more than the weight, or less?",
        ),
        (
            "J11",
            "the front reading over the one before",
            "F1/F0",
            "What was hung on, and what did the front gain?",
        ),
        ("K23", "plain doubling", "2", "What do the readings say?"),
    ),
    "Wl": (
        ("T1", "the rear reading itself", "R0", "Do both act at the same distance?"),
        (
            "T3",
            "the lever upside down",
            "R0*a/L",
            "Longer overhang: should it take more weight, or less?",
        ),
        (
            "T4",
            "the lever with the front reading",
            "F0*L/a",
            "Which reading tells how hard the rear is held down?",
        ),
        (
            "T6",
            "the limit less what was already fitted",
            "Wl-W",
            "With or without what hangs there? Both numbers are right, for different questions.",
        ),
    ),
    "Wmore": (
        ("T7", "the whole limit, with what hangs there already", "Wl", "What hangs there already?"),
        (
            "T8",
            "the rear reading less the fitted weight",
            "R0-W",
            "Do both act at the same distance?",
        ),
        (
            "T9",
            "limit and fitted weight added",
            "Wl+W",
            "Does what hangs there leave more room, or less?",
        ),
    ),
    "uW": (
        ("U1", "one reading only", "u", "How many readings went in?"),
        (
            "U2",
            "the four added plainly",
            "4*u",
            "That is the worst case. How likely is it that all four err the same way?",
        ),
        (
            "U3",
            "nothing: the errors canceled by subtracting",
            "0*u",
            "Does an error know about minus signs?",
        ),
        (
            "U5",
            "the scale's percent of one reading, used for the difference",
            "Wr*u/F0",
            "The weight is a small difference of big readings: what is the error of each?",
        ),
        (
            "U7",
            "two readings only",
            "2^0.5*u",
            "Before and after, front and rear: how many readings?",
        ),
        ("U8", "the mean of four", "u/2", "Is it a mean that is taken, or a sum?"),
    ),
    "uT": (
        ("U1", "one reading only", "u", "How many readings went in?"),
        (
            "U2",
            "the two added plainly",
            "2*u",
            "That is the worst case. How likely is it that both err the same way?",
        ),
        ("U9", "the mean of two", "u/2^0.5", "Is it a mean that is taken, or a sum?"),
    ),
    "U2": (
        ("U10", "the standard uncertainty, not expanded", "uW", "What does k = 2 do?"),
        ("U11", "one reading, expanded", "2*u", "How many readings went in?"),
        (
            "U12",
            "the four added plainly, expanded",
            "8*u",
            "How likely is it that all four err the same way?",
        ),
    ),
    "uU": (
        ("U13", "the certificate's figure as it stands", "U", "Standard, or expanded?"),
        (
            "U14",
            "twice the certificate's figure",
            "2*U",
            "Which of the two is bigger, standard or expanded?",
        ),
        (
            "U15",
            "the divisor of a half-width",
            "U/3^0.5",
            "What did the certificate say: limits, or k = 2?",
        ),
    ),
    "uh": (
        ("U16", "the half-width as it stands", "h2", "How often does the error reach the limit?"),
        (
            "U17",
            "the divisor of an expanded uncertainty",
            "h2/2",
            "Is this a coverage factor, or limits?",
        ),
        ("U18", "the divisor of the whole width", "h2/12^0.5", "Whole width, or half?"),
        (
            "U19",
            "the divisor of a triangle",
            "h2/6^0.5",
            "Are all values between the limits alike?",
        ),
    ),
    "rm": (
        ("U20", "the sum of all readings", "r1+r2+r3+r4+r5", "What turns a sum into a mean?"),
        (
            "U21",
            "the sum divided by one less than the number",
            "(r1+r2+r3+r4+r5)/4",
            "How many readings are there?",
        ),
    ),
    "rs": (
        ("U22", "the scatter of the mean", "ru", "Of one reading, or of the mean?"),
        (
            "U23",
            "the squares divided by their number",
            "rs*(4/5)^0.5",
            "Divide by how many are free, once the mean is taken.",
        ),
        ("U24", "the largest less the smallest", "rspan", "Do the readings between count too?"),
        ("U25", "half of largest less smallest", "rspan/2", "Do the readings between count too?"),
    ),
    "ru": (
        ("U26", "the scatter of one reading", "rs", "Of one reading, or of the mean of five?"),
        (
            "U27",
            "the scatter divided by five, not by its root",
            "rs/5",
            "Four times the readings: a quarter of the uncertainty, or half?",
        ),
        ("U28", "the scatter divided by the root of four", "rs/2", "How many readings are there?"),
        ("U24", "the largest less the smallest", "rspan", "Do the readings between count too?"),
    ),
    "dF_in": _mixed("N4", "in", "0.0254"),
    "dF_ft": _mixed("N5", "ft", "12"),
    "dF_mm": _mixed("N6", "mm", "0.001"),
}
