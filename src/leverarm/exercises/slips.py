"""Listed wrong turns by what is asked: name, what the number is, its formula, the question to ask.

A formula uses the letters of the problem and the names of the rules (dF is what
the front gains), so no right formula stands here a second time.  A slip is used
in every problem that gives the letters it needs.  The commoner stand first.
"""

SLIPS = {
    "dF": (
        ("F1", "the hung weight alone, without the lever", "W", "Where would it have to hang to add just its own weight?"),
        ("F2", "exactly what the rear axle lost", "-dR", "And who carries the bucket itself?"),
        ("F7", "twice the hung weight", "2*W", "That holds at one overhang only: which?"),
        ("F5", "what the lever gives upside down, W × L/a", "W*L/a", "Push the weight farther out: does your number grow?"),
        ("F3", "what a load between the axles would add", "W*(L-a)/L", "On which side of the front axle does the weight hang?"),
        ("F6", "half of the hung weight", "W/2", "Where would it have to hang to load both axles alike?"),
        ("F15", "the new front reading", "F1", "The gain is after minus before: what was there before?"),
        ("F10", "what comes out when the arm is divided by the distance to the centre of gravity", "W*(1+a/x)",
         "Which two points hold the machine up?"),
        ("F12", "the gain in newtons", "9.80665*dF", "What does the scale show, newtons or kilograms?"),
        ("F13", "what comes out with the overhang measured to the lip of the bucket", "W*(1+(a+0.25)/L)",
         "Where does the weight of the bucket act?"),
        ("F17", "a distance added to a weight", "W+a", "Can metres be added to kilograms?"),
    ),
    "dR": (
        ("R1", "the size of the change with the other sign", "-dR", "Which way does the nose tip, and which end gets lighter?"),
        ("R2", "no change at all", "0*W", "Take moments about the front axle: what has an arm?"),
        ("R4", "the whole weight taken off the rear", "-W", "What would the front then have gained?"),
        ("R5", "what the front gained, with a minus", "-dF", "What would the total then have done?"),
        ("R6", "what the front gained", "dF", "Which axle is asked?"),
    ),
    "dT": (
        ("S1", "what the front axle gains", "dF", "What did the rear scale do meanwhile?"),
        ("S3", "no change at all", "0*W", "What would a scale under the whole machine show?"),
    ),
    "pdF": (
        ("C1", "the gain in per cent of the whole tractor", "100*dF/T0", "Per cent of what?"),
        ("C3", "the new reading in per cent of the old", "100*F1/F0", "Per cent of it, or per cent more?"),
        ("C4", "the hung weight in per cent of the front", "100*W/F0", "What did the front gain, with its lever?"),
        ("C6", "the gain in per cent of the rear reading", "100*dF/R0", "Which axle stands under the fraction?"),
        ("C8", "the gain in per cent of the hung weight", "100*dF/W", "Per cent of what?"),
        ("C9", "the fraction, not yet per cent", "dF/F0", "What makes a fraction a percentage?"),
    ),
    "pF1": (
        ("C10", "the new front reading over the old total", "100*F1/T0", "What does the machine weigh now?"),
    ),
    "dF123": (
        ("P1", "all pieces at the arm of the bucket", "(W1+W2+W3)*(1+a1/L)", "Do all pieces hang at the same place?"),
        ("P2", "all pieces at the plain mean of the arms", "(W1+W2+W3)*(1+(a1+a2+a3)/(3*L))",
         "Does a light piece count as much as a heavy one?"),
        ("P5", "the bucket counted twice", "dF123+dF1", "Is the bucket in there already?"),
        ("P6", "the weight of the pieces, without levers", "W1+W2+W3", "What does each arm do?"),
        ("P4", "factors multiplied together", "(1+a1/L)*(1+a2/L)*(1+a3/L)", "Do loads add or multiply?"),
    ),
    "dF12": (
        ("P1", "both pieces at the arm of the bucket", "(W1+W2)*(1+a1/L)", "Do both pieces hang at the same place?"),
        ("P2", "both pieces at the plain mean of the arms", "(W1+W2)*(1+(a1+a2)/(2*L))",
         "Does a light piece count as much as a heavy one?"),
        ("P5", "the bucket counted twice", "dF12+dF1", "Is the bucket in there already?"),
        ("P6", "the weight of the pieces, without levers", "W1+W2", "What does each arm do?"),
        ("P4", "factors multiplied together", "(1+a1/L)*(1+a2/L)", "Do loads add or multiply?"),
    ),
    "Wr": (
        ("I1", "what the front axle gained", "dFr", "What did the rear do meanwhile?"),
        ("I2", "both changes added without their signs", "dFr-dRr", "Which of the two is a loss?"),
        ("I4", "the mean of the two changes", "(dFr-dRr)/2", "Is a total asked, or an average?"),
        ("J7", "before and after the wrong way round", "-Wr", "Did the machine get lighter when something was hung on it?"),
    ),
    "ar": (
        ("J1", "the arm from the rear axle", "L+ar", "From which axle is the overhang measured?"),
        ("J3", "the rear change over both sizes added", "-L*dRr/(dFr-dRr)", "What is the hung weight, signs and all?"),
        ("J4", "the overhang taken off the wheelbase", "L-ar", "Is the weight ahead of the front axle or behind it?"),
        ("J5", "the overhang with the other sign", "-ar", "Ahead is positive here: did the front gain more than the weight?"),
    ),
    "Wl": (
        ("T1", "the rear reading itself", "R0", "Do both weights act at the same distance?"),
        ("T3", "what the lever gives upside down", "R0*a/L", "Longer overhang: should it take more weight or less?"),
        ("T4", "what the front reading would give", "F0*L/a", "Which reading tells how hard the rear is held down?"),
    ),
}
