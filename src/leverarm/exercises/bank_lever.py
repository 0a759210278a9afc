"""Problems of lessons 01 to 03: two readings, more than its weight, derive it."""

from leverarm.exercises.kinds import Kind


def _number(name, lesson, title, asked, given, statement, **more):
    return Kind(name, lesson, title, "number", asked, tuple(given.split()), statement,
                hidden=tuple(more.pop("hidden", "").split()), **more)


_HUNG = "A {thing} of {W} hangs on the {machine}, its centre of gravity {a} ahead of the front axle. The wheelbase is {L}. "
_GAIN = "(A gain is positive, a loss negative.)"

KINDS = (
    _number("machine_weight", 1, "The weight of a machine", "T0", "F0 R0",
            "The {machine} stands on two scales. The front axle reads {F0}, the rear axle {R0}. What does the machine weigh?"),
    _number("moment_about_front", 1, "A moment about the front axle", "Mf", "W a",
            "A {thing} of {W} hangs {a} ahead of the front axle. What is its moment about the front axle?"),
    _number("moment_about_rear", 1, "A moment about the rear axle", "Mr", "W a L", _HUNG +
            "What is its moment about the rear axle?"),
    _number("plank_left", 1, "A plank with a jug: left scale", "A", "P J d S",
            "An even plank of {P} lies on two bathroom scales, {S} apart. A jug of {J} stands {d} from the left scale. "
            "What does the left scale read?"),
    _number("plank_right", 1, "A plank with a jug: right scale", "B", "P J d S",
            "An even plank of {P} lies on two bathroom scales, {S} apart. A jug of {J} stands {d} from the left scale. "
            "What does the right scale read?"),
    _number("centre_of_gravity", 1, "Where the weight sits", "x", "F0 R0 L",
            "The {machine} reads {F0} in front and {R0} at the rear. The wheelbase is {L}. "
            "How far behind the front axle is its centre of gravity?"),
    _number("front_share", 1, "The front share", "pF0", "F0 R0",
            "The {machine} reads {F0} in front and {R0} at the rear. What share of its weight is on the front axle, in per cent?"),
    _number("front_reading", 1, "A front reading from the centre of gravity", "F", "T x0 L",
            "The {machine} weighs {T}. Its centre of gravity is {x0} behind the front axle, and the wheelbase is {L}. "
            "What does the front scale read?"),
    _number("rear_reading", 1, "A rear reading from the centre of gravity", "R", "T x0 L",
            "The {machine} weighs {T}. Its centre of gravity is {x0} behind the front axle, and the wheelbase is {L}. "
            "What does the rear scale read?"),
    _number("front_gain", 2, "What the front gains", "dF", "W a L", _HUNG +
            "By how much does the front reading change? " + _GAIN, sign="change"),
    _number("rear_change", 2, "What the rear does", "dR", "W a L", _HUNG +
            "By how much does the rear reading change? " + _GAIN, sign="change"),
    _number("total_change", 2, "What the whole machine gains", "dT", "W a L", _HUNG +
            "By how much do both readings together change? " + _GAIN, sign="change"),
    _number("factor", 2, "The factor", "k", "a L",
            "A {thing} hangs {a} ahead of the front axle of the {machine}. The wheelbase is {L}. "
            "How many times its own weight does the front axle gain?"),
    _number("overhang_for_factor", 2, "The overhang for a factor", "ak", "k L",
            "The wheelbase of the {machine} is {L}. How far ahead of the front axle must a {thing} hang, "
            "so that the front axle gains {k} times its weight?"),
    _number("new_front_reading", 2, "The new front reading", "F1", "F0 W a L", _HUNG +
            "Before, the front axle read {F0}. What does it read now?"),
    _number("new_rear_reading", 2, "The new rear reading", "R1", "R0 W a L", _HUNG +
            "Before, the rear axle read {R0}. What does it read now?", low=60),
    _number("two_pieces", 3, "Two pieces at once", "dF12", "W1 a1 W2 a2 L",
            "On the {machine} hang a bucket of {W1}, {a1} ahead of the front axle, and lift arms of {W2}, {a2} ahead. "
            "The wheelbase is {L}. By how much does the front reading change? " + _GAIN, sign="change"),
    _number("three_pieces", 3, "Three pieces at once", "dF123", "W1 a1 W2 a2 W3 a3 L",
            "On the {machine} hang a bucket of {W1}, {a1} ahead of the front axle, lift arms of {W2}, {a2} ahead, "
            "and a frame of {W3}, {a3} ahead. The wheelbase is {L}. By how much does the front reading change? " + _GAIN,
            sign="change"),
    _number("percent_change", 3, "The front change in per cent", "pdF", "F0 R0 W a L", _HUNG +
            "Before, the readings were {F0} in front and {R0} at the rear. By how many per cent does the front reading grow, "
            "in per cent of the front reading before?"),
    _number("front_share_after", 3, "The front share after", "pF1", "F0 R0 W a L", _HUNG +
            "Before, the readings were {F0} in front and {R0} at the rear. What share of the weight is on the front axle now?"),
    _number("weight_from_readings", 3, "The weight from the readings", "Wr", "F0 R0 F1 R1",
            "Before a {thing} was hung on, the {machine} read {F0} in front and {R0} at the rear. "
            "Now it reads {F1} and {R1}. What does the {thing} weigh?", hidden="W a L"),
    _number("overhang_from_readings", 3, "The overhang from the readings", "ar", "F0 R0 F1 R1 L",
            "Before a {thing} was hung on, the {machine} read {F0} in front and {R0} at the rear. "
            "Now it reads {F1} and {R1}. The wheelbase is {L}. How far ahead of the front axle does it hang?", hidden="W a"),
    _number("lifting_weight", 3, "The weight that lifts the rear", "Wl", "F0 R0 a L",
            "The {machine} reads {F0} in front and {R0} at the rear. Its wheelbase is {L}. "
            "What weight, {a} ahead of the front axle, would just take the last load off the rear?"),
)
