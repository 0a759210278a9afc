"""Concept questions of lessons 01 to 10.  The first option is the right one; problems shuffle them."""

from leverarm.exercises.choice import ChoiceKind, Option


def _concept(name, lesson, title, question, principle, hint, right, *wrong):
    """A concept question from its parts; right and each wrong: (turn,) text, reply."""
    return ChoiceKind(
        name,
        lesson,
        title,
        question,
        (Option("", *right), *(Option(*one) for one in wrong)),
        principle,
        hint,
    )


KINDS = (
    _concept(
        "mass_and_load",
        1,
        "Weight, load, reading",
        'The {machine} weighs 1400 kg. A driver says: "The front axle weighs 600 kg." What do the 600 kg mean?',
        "definition",
        (
            "Is it the weight of a part, or what that part carries?",
            "Draw the machine with one arrow down and two arrows up.",
            "The scale under the front wheels shows what the ground pushes up there.",
        ),
        (
            "The front wheels press on the ground with 600 kg of the machine's 1400 kg.",
            "A reading is a load: what one axle carries of the whole weight.",
        ),
        (
            "K6",
            "The iron of the front axle has a mass of 600 kg.",
            "Take the axle off and weigh it: would that read 600 kg?",
        ),
        (
            "K6a",
            "The machine is 600 kg heavier in front than at the rear.",
            "What does the rear scale read?",
        ),
        (
            "K6b",
            "The front half of the machine has a mass of 600 kg.",
            "Cut it in the middle, in thought: does each half press on one axle only?",
        ),
    ),
    _concept(
        "centre_and_halves",
        1,
        "What a center of gravity is",
        "A {machine} balances on a beam under its center of gravity. What is equal on both sides of the beam?",
        "forces",
        (
            "Can a small child balance a heavy one on a plank?",
            "Draw a plank with a heavy arrow near the pivot and a light one far out.",
            "What balances is weight times arm.",
        ),
        (
            "The moments: weight times arm, added up on each side.",
            "At the balance point the moments are equal, not the weights.",
        ),
        (
            "K1",
            "The weight on each side.",
            "A heavy engine near the beam and a light hitch far out: which side weighs more?",
        ),
        ("K1a", "The length on each side.", "Is the middle of a hammer its balance point?"),
        (
            "K1b",
            "The readings of the two axles.",
            "If both axles read the same, where is the center of gravity?",
        ),
    ),
    _concept(
        "moments_at_rest",
        1,
        "Moments at rest",
        "A {thing} hangs still on a parked machine. Does it have a moment about the front axle?",
        "definition",
        (
            "What is a moment made of?",
            "Draw the weight and its arm; nothing in the drawing moves.",
            "Weight times arm: is either zero?",
        ),
        (
            "Yes: its weight times its arm, moving or not.",
            "A moment is weight times arm. At rest the moments balance; they do not vanish.",
        ),
        (
            "K8",
            "No: moments come only when something turns.",
            "Hold a bucket at arm's length, still: does your shoulder feel nothing?",
        ),
        (
            "K8a",
            "Only while it is being lifted.",
            "Hold it still at arm's length: what does your shoulder feel?",
        ),
    ),
    _concept(
        "which_pivot",
        1,
        "Which pivot",
        "One student takes moments about the front axle, another about the rear axle, a third about a gate post. "
        "Who gets which readings?",
        "front",
        (
            "Does the scale know which pivot you chose?",
            "Draw one free body and mark three pivots on it.",
            "A machine at rest turns about no point at all.",
        ),
        (
            "All three get the same readings.",
            "The moments balance about every point. A good pivot only saves work.",
        ),
        (
            "K4",
            "Each gets other readings, since the arms are others.",
            "The arms change for all forces at once. Try two pivots with numbers: what comes out?",
        ),
        (
            "K4a",
            "Only the one at the rear axle gets the front reading right.",
            "About the rear axle it takes one equation. Does it take another truth?",
        ),
        (
            "K4b",
            "The gate post gives nothing, it is not on the machine.",
            "Is a pivot for moments something that has to be there?",
        ),
    ),
    _concept(
        "front_against_weight",
        2,
        "More than its weight",
        "A {thing} is hung ahead of the front axle of a {machine}. The front reading grows by",
        "rear",
        (
            "Which end goes down, which end gets lighter?",
            "Draw the machine as a see-saw on its front axle.",
            "Front change and rear change together are the hung weight, and the rear loses.",
        ),
        (
            "more than the weight that was hung on.",
            "The front carries the weight and what the rear lost.",
        ),
        (
            "F1c",
            "exactly the weight that was hung on.",
            "Then the rear would not change. Take moments about the front axle: what holds it down?",
        ),
        (
            "F6c",
            "half of the weight, since there are two axles.",
            "Where would it have to hang to be shared alike?",
        ),
        (
            "F3c",
            "less than the weight, since the rear carries a part.",
            "Ahead of the front axle: does the load press the rear down?",
        ),
    ),
    _concept(
        "where_just_its_weight",
        2,
        "Where it counts once",
        "Where must a {thing} hang for the front reading to grow by exactly its weight?",
        "rear",
        (
            "At which overhang does the rear not notice?",
            "Draw the load at three places along the machine.",
            "Set the arm about the front axle to zero.",
        ),
        (
            "Right over the front axle.",
            "With no overhang the rear does not change, so the front takes it all.",
        ),
        ("F18c", "One wheelbase ahead of the front axle.", "What does the rear lose there?"),
        ("F19c", "Midway between the axles.", "Which axles carry it there?"),
        (
            "F20c",
            "Nowhere: the front always gains more.",
            "Let the overhang shrink to nothing. What is left?",
        ),
    ),
    _concept(
        "where_double",
        2,
        "Where it counts twice",
        "Where must a {thing} hang for the front reading to grow by twice its weight?",
        "rear",
        (
            "What must the rear then lose?",
            "Draw a see-saw on the front axle with equal arms.",
            "The factor is 1 + a/L. Set it to 2.",
        ),
        (
            "One wheelbase ahead of the front axle.",
            "Then both arms about the front axle are equal: the rear loses just the weight, and the front gains it twice.",
        ),
        (
            "F7c",
            "Anywhere ahead of the front axle.",
            "Move it in, close to the axle: does it still count double?",
        ),
        ("F21c", "Half a wheelbase ahead.", "Put one half into 1 + a/L."),
        ("F22c", "Two wheelbases ahead.", "Put two into 1 + a/L."),
    ),
    _concept(
        "passing_weight",
        2,
        "Who passes what to whom",
        'A {thing} hangs ahead of the front axle. A driver says: "The front axle passes some of its weight to the rear." What do the scales say?',
        "front",
        (
            "Does the rear reading go up or down?",
            "Draw the machine pivoting on its front axle.",
            "Moments about the front axle: the load is on one side, the rear on the other.",
        ),
        (
            "The rear reading goes down: the load takes weight off the rear and puts it on the front.",
            "Ahead of the front axle the load lifts the rear.",
        ),
        (
            "K5",
            "The driver is right: the rear reading goes up a little.",
            "Push down on the end of a plank ahead of its support: does the far end press harder?",
        ),
        (
            "K5a",
            "The rear reading stays as it was.",
            "Which force about the front axle could then balance the load?",
        ),
    ),
    _concept(
        "resting_bucket",
        2,
        "A bucket on the ground",
        "The bucket of a {machine} is lowered until it rests on the ground beside the scales, arms slack. What do the axle scales show of the bucket?",
        "forces",
        (
            "What now holds the bucket up?",
            "Draw the bucket as a body of its own with the ground under it.",
            "List what pushes up on the bucket.",
        ),
        (
            "Almost nothing: the ground carries it now.",
            "What rests on the ground is not hung on the machine. Weigh with the bucket off the ground, just above it.",
        ),
        (
            "K7",
            "All of it, since it is still pinned on.",
            "What pushes up on a bucket that stands on the ground?",
        ),
        ("K7a", "More than before, since it presses down.", "On what does it press?"),
    ),
    _concept(
        "feet_in_a_ratio",
        2,
        "One ratio, two units",
        "An overhang is told as 4 ft and a wheelbase as 65 in. What goes into a/L?",
        "units",
        (
            "What is a ratio of two lengths, if both are told in one unit?",
            "Write both under each other in inches.",
            "4 ft are 48 in.",
        ),
        ("48 over 65.", "A ratio is a plain number only when both lengths are in one unit."),
        ("N5", "4 over 65.", "Is the overhang really a sixteenth of the wheelbase?"),
        ("N4c", "4 times 65.", "Farther out or longer: which of the two makes the ratio bigger?"),
        (
            "N6c",
            "It cannot be done without meters.",
            "Does a ratio care which unit, as long as it is one?",
        ),
    ),
    _concept(
        "both_conditions",
        3,
        "Two conditions",
        "A student finds the front gain from moments about the rear axle. How is the rear change best found and checked?",
        "forces",
        (
            "How many unknown readings are there, and how many conditions of equilibrium?",
            "Draw the free body and count the unknown arrows.",
            "Forces up and down give one more equation; moments about the front give the check.",
        ),
        (
            "From the sum of forces, and checked by moments about the front axle.",
            "Two conditions, two unknowns, and a second pivot as the check.",
        ),
        (
            "E1",
            "It is the same as the front gain, with a minus.",
            "Then the machine would have gained nothing. What did it gain?",
        ),
        (
            "E2",
            "It cannot be found from the same drawing.",
            "Which condition has not been used yet?",
        ),
        (
            "E3",
            "It is zero, since the rear axle was the pivot.",
            "A pivot has no arm. Has it no force?",
        ),
    ),
    _concept(
        "per_cent_of_what",
        4,
        "Percent of what",
        'With the bucket on, the front axle reads 790 kg; off, 600 kg. A seller says: "Off, the front gets 32 percent lighter." What is wrong?',
        "definition",
        (
            "Which reading is the one before?",
            "Draw two bars and mark which one counts 100.",
            "190 over which reading?",
        ),
        (
            "The base: taking off starts at 790 kg, so it is 24 percent.",
            "Percent of what was there before. On and off have different bases.",
        ),
        (
            "C18c",
            "Nothing: 190 over 600 is 32 percent.",
            "Which reading was there before the bucket came off?",
        ),
        (
            "C1c",
            "It must be percent of the whole machine.",
            'What does "the front gets lighter" speak of?',
        ),
        ("C19c", "Differences cannot be told in percent.", "What would 24 percent of 790 kg be?"),
    ),
    _concept(
        "subtracting_errors",
        5,
        "Errors and minus signs",
        "A weight is found from four readings, two of them subtracted. Each has the same independent error. The weight is",
        "definition",
        (
            "Does an error know whether its reading is added or subtracted?",
            "Draw four dice: what does the difference of two do?",
            "Add the squares, whatever the sign.",
        ),
        (
            "less sure than one reading: twice the standard uncertainty.",
            "Four equal independent errors: the root of four is two.",
        ),
        (
            "U3c",
            "surer than one reading: the errors cancel.",
            "They cancel only if they are the same each time. Are independent errors?",
        ),
        ("U1c", "as sure as one reading.", "How many readings went in?"),
        (
            "U2c",
            "always off by four times as much.",
            "How likely is it that all four err the same way?",
        ),
    ),
    _concept(
        "digits_to_print",
        5,
        "How many digits",
        "An overhang comes out as 1.0500 m, with a standard uncertainty of 0.16 m. What is worth writing down?",
        "definition",
        (
            "Which digit is the first that may be wrong?",
            "Mark on a tape from one uncertainty below to one above.",
            "Two digits of the uncertainty, and the value to the same place.",
        ),
        (
            "1.05 m, with a standard uncertainty of 0.16 m.",
            "The value stops where its uncertainty stops.",
        ),
        (
            "U6",
            "1.0500 m.",
            "Do tenths of a millimeter mean anything when the second digit is not sure?",
        ),
        ("U6a", "1.05 m exactly.", "What does the 0.16 m say?"),
        (
            "N8",
            "1 m, rounded before it is used in the next step.",
            "Round once, at the end. What would the next step lose?",
        ),
    ),
    _concept(
        "heavier_and_tipping",
        6,
        "Heavy machines tip too",
        "Two machines have the same track and the same height of the center of gravity. One is twice as heavy. At which side slope does each reach its limit?",
        "tires",
        (
            "What has an arm about the tire line, and does its weight cancel?",
            "Draw both from behind on a slope, the arrow down through the center of gravity.",
            "The limit is where that arrow passes the tire line.",
        ),
        (
            "At the same slope: weight is on both sides of the equation.",
            "Where the center of gravity is decides, not how heavy it is.",
        ),
        (
            "K2",
            "The heavy one never tips.",
            "Double the weight: what happens to the moment that tips, and to the one that holds?",
        ),
        (
            "K2a",
            "The heavy one at a slope half as steep.",
            "Double the weight: what happens to the moment that holds?",
        ),
    ),
    _concept(
        "straight_up",
        6,
        "Straight up",
        "On level ground a bucket is raised straight up, its overhang unchanged. What do the axle readings do?",
        "front",
        (
            "Which arm counts for a weight that pulls straight down?",
            "Draw the bucket low and high, both arrows down on one line.",
            "The arm is level: did it change?",
        ),
        (
            "Nothing; but the center of gravity is higher, so slopes and turns come closer to the limit.",
            "Level readings know only level arms. A slope brings the height in.",
        ),
        (
            "K3",
            "The front reading falls, the weight is farther from the ground.",
            "Did the level arm change?",
        ),
        (
            "K3a",
            "The front reading grows, the lever is longer.",
            "Which part of the lever is level?",
        ),
    ),
    _concept(
        "filled_tyres",
        7,
        "Water in the rear tires",
        "250 kg of water go into the rear tires, right over the rear axle. What does the front reading do?",
        "rear",
        (
            "What is the arm about the rear axle?",
            "Draw the water's arrow on the rear axle line.",
            "An arm of nothing: which moment?",
        ),
        (
            "Nothing: the weight has no arm about the rear axle.",
            "It loads the rear axle, kilo for kilo, and the ground under it.",
        ),
        (
            "B3",
            "It falls by 250 kg.",
            "Which lever could lift the front, when the weight sits on the axle?",
        ),
        (
            "B3a",
            "It falls by a half of 250 kg.",
            "Which lever could lift the front, when the weight sits on the axle?",
        ),
        (
            "B3b",
            "It grows, the machine is heavier.",
            "Who carries a weight right over the rear axle?",
        ),
    ),
    _concept(
        "off_or_ballast",
        7,
        "Off, or balanced",
        "What takes more off the front axle of a {machine} for mowing: the bucket off, or the same weight hung behind the rear axle?",
        "rear",
        (
            "What is the factor in front, and what behind?",
            "Draw both on one machine and write each factor.",
            "Off: 1 + a/L. Behind: b/L only.",
        ),
        (
            "The bucket off: it counts 1 + a/L, the ballast only b/L, and the machine gets lighter.",
            "Ballast is for loader work; on turf it is load that need not be there.",
        ),
        (
            "B31",
            "The weight behind: it lifts the front.",
            "Compare b/L with 1 + a/L. Which is bigger, at any ordinary place?",
        ),
        ("B32", "Both the same, the weight is the same.", "Do both levers count the same?"),
    ),
    _concept(
        "load_and_pressure",
        8,
        "Load up, pressure up?",
        "The front axle load goes up by a third, tire pressure unchanged. What does the mean pressure under the tire do?",
        "definition",
        (
            "What happens to the print?",
            "Draw the print before and after.",
            "Pressure is load over area, and both grow.",
        ),
        (
            "It rises less than the load, since the print grows; the stress reaches deeper.",
            "Air pressure and carcass set the surface pressure. More load reaches deeper.",
        ),
        ("Q6", "It rises by a third too.", "Does the print stay as it was?"),
        (
            "Q8c",
            "It stays exactly the inflation pressure.",
            "What does the stiff body of the tire carry?",
        ),
        ("Q6d", "It falls, the tire spreads out.", "Does the print grow faster than the load?"),
    ),
    _concept(
        "wide_tyres",
        8,
        "Wide tires",
        "A {machine} gets wider front tires of the same weight. What changes on a level yard?",
        "forces",
        (
            "What do the scales know of tires?",
            "Draw the free body, then the print.",
            "Load from equilibrium, pressure from load over area.",
        ),
        (
            "The pressure; the axle load stays.",
            "Tires change how the load is spread, not how big it is.",
        ),
        ("Q7", "The axle load falls.", "Which force or arm in the free body changed?"),
        ("Q7a", "Both load and pressure fall.", "Which force or arm in the free body changed?"),
    ),
    _concept(
        "gauge_and_ground",
        8,
        "Gauge and ground",
        "The gauge on a small stiff tire shows 160 kPa. What is the mean pressure on hard ground?",
        "definition",
        (
            "What carries beside the air?",
            "Draw the tire cut open: air inside, rubber and cords around it.",
            "Air and carcass together.",
        ),
        (
            "Somewhat above 160 kPa: the carcass carries a part.",
            "Contact pressure is inflation pressure and carcass share together.",
        ),
        ("Q8", "160 kPa exactly.", "Let the air out of a stiff tire: does it go flat like cloth?"),
        ("Q8d", "Far below, the ground gives.", "Which ground was it?"),
    ),
    _concept(
        "when_lead_acts",
        9,
        "When the lead acts",
        "The front wheels of a {machine} have a lead of 3 percent. When does it make a tire slip on a straight hard road?",
        "definition",
        (
            "What ties the front wheels to the rear ones?",
            "Draw the shaft between the axles, joined and parted.",
            "Drive out: are they tied?",
        ),
        (
            "Only with the front drive in.",
            "With the drive out the front wheels roll as the ground turns them.",
        ),
        ("D7", "Always, it is built in.", "With the drive out, what turns the front wheels?"),
        (
            "D7a",
            "Only in turns.",
            "Straight on, drive in: do both axles want to go the same way length?",
        ),
        (
            "D8",
            "Never, it only makes the turn tighter.",
            "Lead comes from tires and gears, the turn from steering. Are they one cause?",
        ),
    ),
    _concept(
        "which_diameter",
        9,
        "Which tire size counts",
        "Which measure of the tires belongs in the lead?",
        "definition",
        (
            "What rolls on the ground, the free tire or the loaded one?",
            "Draw a loaded tire, flat where it stands.",
            "Roll it, and measure the way of one turn.",
        ),
        ("The rolling circumference, loaded as in use.", "Only the way of one loaded turn counts."),
        (
            "D6",
            "The diameter off the ground.",
            "Does a loaded tire roll as far in a turn as a free one?",
        ),
        (
            "D6a",
            "The size printed on the side.",
            "Are two tires of one printed size the same when loaded?",
        ),
    ),
    _concept(
        "what_to_promise",
        10,
        "What one may promise",
        'A customer asks: "With the loader off, will I have no ruts?" What can be said from the readings?',
        "definition",
        (
            "What did the scales measure, and what not?",
            "List what makes ruts: load, pressure, wetness, passes.",
            "Readings say load. Who knows the rain?",
        ),
        (
            "The front axle carries so much less; wetness and passes decide about ruts, so no promise.",
            "Say what was measured, and what the model leaves out.",
        ),
        ("V1", "Yes, the front is lighter.", "It rained all week: would you stand by that?"),
        ("V2", "No, load does not matter to turf.", "What reaches deeper when the load grows?"),
        ("V3", "Yes, if ballast is hung behind.", "What does the machine weigh then?"),
    ),
    _concept(
        "balanced_is_lighter",
        10,
        "Lighter in front, and all is well?",
        "Ballast behind brings the front reading back to what it was without the bucket. What about the ground under the whole machine?",
        "forces",
        (
            "What do both scales together show?",
            "Draw two columns of readings, before and after, with their sums.",
            "The total grew by bucket and ballast.",
        ),
        (
            "It carries bucket and ballast: the rear gained more than the front was relieved of.",
            "The sum of forces: what is hung on is carried, somewhere.",
        ),
        ("B33", "Nothing changed, front is front.", "What does the rear scale say?"),
        ("B34", "It carries less, the front was relieved.", "Add both readings, before and after."),
    ),
)
