"""Weigh days as strangers bring them: one thing wrong with each, and clean ones.

All machines and readings are invented.  Every third messy day (``APART``) was written before the
gate and kept out of its tuning; the tests report on both kinds.
"""

from dataclasses import dataclass, replace

from leverarm.weighing.day import WeighDay, weigh_day
from leverarm.weighing.facts import machine, scale_facts
from leverarm.weighing.readings import weighing

TODAY = "2026-06-30"


def day(
    *rows,
    name="Orchard tractor",
    wheelbase="1.65 m",
    step="1 kg",
    accuracy="0.5 %",
    unit="kg",
    **more,
):
    """A day from rows (set-up, front, rear) or (set-up, front, rear, {unit, repeat})."""
    date = more.pop("date", "2026-05-14")
    hours, error = more.pop("hours", ""), more.pop("error", None)
    told = machine(name, wheelbase, hours=hours, wheelbase_error=error)
    seen: dict = {}
    made = []
    for setup, front, rear, *about in rows:
        extra = {"unit": unit, **(about[0] if about else {})}
        key = "+".join(sorted(part.strip() for part in setup.casefold().split("+")))
        seen[key] = seen.get(key, 0) + 1
        extra.setdefault("repeat", seen[key])
        made.append(weighing(setup, front, rear, **extra))
    return weigh_day(told, date, scale_facts(step, accuracy), made, **{"unchanged": True, **more})


FRAME, BOTH = "loader frame", "loader frame + bucket"
# A compact, 1.65 m: 600/800; loader frame 210 kg at 0.15 m; bucket 110 kg at 1.20 m; ballast 235.
A_BARE, A_FRAME, A_BOTH = ("bare", 600, 800), (FRAME, 829, 781), (BOTH, 1019, 701)
A_BALLAST, A_ALL = ("ballast", 473, 1162), (BOTH + " + ballast", 892, 1063)
A_FULL = (A_BARE, A_FRAME, A_BOTH, A_BALLAST, A_ALL)
# In pounds, 72 in; scales step by 2 lb.
CREEK = {
    "name": "Creek tractor",
    "wheelbase": "72 in",
    "step": "2 lb",
    "unit": "lb",
    "system": "lb",
}
B_BARE, B_FRAME, B_BOTH = ("bare", 1610, 2140), (FRAME, 2196, 2076), (BOTH, 2730, 1852)
# A large one, 2.40 m; scales step by 5 kg.
RIDGE = {"name": "Ridge tractor", "wheelbase": "2.40 m", "step": "5 kg"}
C_BARE, C_FRAME, C_BOTH = ("bare", 1820, 2710), (FRAME, 2440, 2630), (BOTH, 2910, 2425)
# A small one, 55 in, nearly as heavy in front as behind; pounds in steps of 1.
LAWN = {"name": "Lawn tractor", "wheelbase": "55 in", "step": "1 lb", "unit": "lb", "system": "lb"}
D_BARE, D_FRAME, D_BOTH = ("bare", 690, 760), (FRAME, 985, 736), (BOTH, 1227, 634)


@dataclass(frozen=True, eq=False)
class Messy:
    """A day with one thing wrong.

    cause       the finding's cause, or several that a person would accept
    rows        the rows of which one must be named; () where the whole day is meant
    mended      {row: (front, rear)} as the proposal must read, in the row's unit
    """

    name: str
    day: WeighDay
    cause: tuple[str, ...]
    rows: tuple[int, ...] = ()
    mended: dict | None = None
    others: tuple[WeighDay, ...] = ()


def others_of(*rows, **about):
    return (day(*rows, **{"date": "2026-03-02", **about}),)


MESSY = (
    Messy(
        "front and rear swapped in the last row",
        day(A_BARE, A_FRAME, (BOTH, 701, 1019)),
        ("swapped",),
        (3,),
        {3: (1019, 701)},
    ),
    Messy(
        "second repeat swapped",
        day(A_BARE, ("bare", 801, 601), A_FRAME, A_BOTH),
        ("swapped",),
        (2,),
        {2: (601, 801)},
    ),
    Messy(
        "bare row swapped, pounds",
        day(("bare", 2140, 1610), B_FRAME, B_BOTH, **CREEK),
        ("swapped",),
        (1,),
        {1: (1610, 2140)},
    ),
    Messy(
        "all rows of one set-up swapped",
        day(A_BARE, ("bare", 601, 799), A_FRAME, (BOTH, 701, 1019), (BOTH, 702, 1020)),
        ("swapped",),
        (4, 5),
        {4: (1019, 701), 5: (1020, 702)},
    ),
    Messy(
        "every row of the day swapped",
        day(("bare", 2140, 1610), (FRAME, 2076, 2196), (BOTH, 1852, 2730), **CREEK),
        ("swapped",),
        (),
        {1: (1610, 2140), 2: (2196, 2076), 3: (2730, 1852)},
    ),
    Messy(
        "bucket on and bucket off reversed",
        day(A_BARE, (FRAME, 1019, 701), (BOTH, 829, 781)),
        ("reversed",),
        (2, 3),
        {2: (829, 781), 3: (1019, 701)},
    ),
    Messy(
        "before and after reversed, large tractor",
        day(("bucket", 1820, 2710), ("bare", 2290, 2505), **RIDGE),
        ("reversed",),
        (1, 2),
        {1: (2290, 2505), 2: (1820, 2710)},
    ),
    Messy(
        "pounds typed as kg in one row", day(A_BARE, A_FRAME, (BOTH, 2247, 1545)), ("unit",), (3,)
    ),
    Messy(
        "pounds typed as kg in all rows, scales that step by 2 lb",
        day(B_BARE, B_FRAME, B_BOTH, **{**CREEK, "unit": "kg"}),
        ("unit",),
    ),
    Messy(
        "pounds typed as kg in all rows, another day in lb",
        day(
            ("bare", 1612, 2142),
            (FRAME, 2198, 2076),
            (BOTH, 2732, 1852),
            **{**CREEK, "unit": "kg", "step": None},
        ),
        ("unit",),
        (),
        None,
        others_of(B_BARE, B_FRAME, **CREEK),
    ),
    Messy(
        "kg typed as pounds in one row",
        day(C_BARE, (FRAME, 2440, 2630, {"unit": "lb"}), C_BOTH, **RIDGE),
        ("unit",),
        (2,),
    ),
    Messy(
        "two wheelbases",
        day(A_BARE, A_FRAME, A_BOTH, wheelbase="1.83 m"),
        ("wheelbase",),
        (),
        None,
        others_of(A_BARE, A_BOTH),
    ),
    Messy(
        "loder frame", day(A_BARE, A_FRAME, ("loder frame + bucket", 1019, 701)), ("names",), (3,)
    ),
    Messy("loader and loader frame", day(A_BARE, ("Loader", 829, 781), A_BOTH), ("names",), (2, 3)),
    Messy(
        "892 for 829 in a day that checks itself",
        day(A_BARE, (FRAME, 892, 781), A_BOTH, A_BALLAST, A_ALL, (FRAME + " + ballast", 702, 1143)),
        ("digits",),
        (2,),
        {2: (829, 781)},
    ),
    Messy(
        "892 for 829 in a repeat",
        day(A_BARE, A_FRAME, (FRAME, 892, 782), A_BOTH),
        ("digits",),
        (3,),
        {3: (829, 782)},
    ),
    Messy("a digit left out: 109", day(A_BARE, A_FRAME, (BOTH, 109, 701)), ("digits",), (3,)),
    Messy(
        "a decimal slipped: 8290",
        day(A_BARE, (FRAME, 8290, 781), A_BOTH),
        ("digits",),
        (2,),
        {2: (829, 781)},
    ),
    Messy(
        "repeats that differ more than the scales can",
        day(A_BARE, ("bare", 617, 799), A_FRAME, A_BOTH),
        ("repeats",),
        (1, 2),
    ),
    Messy(
        "a blunder in three repeats",
        day(A_BARE, ("bare", 601, 800), ("bare", 640, 801), A_FRAME, A_BOTH),
        ("repeats", "digits"),
        (3,),
    ),
    Messy(
        "a wheel of the other axle",
        day(
            ("bare", "298/302", "405/395"),
            (FRAME, "412/417", "395/386"),
            (BOTH, "506/346", "513/355"),
        ),
        ("wheels",),
        (3,),
        {3: (1019, 701)},
    ),
    Messy(
        "only the front read in one row",
        day(A_BARE, A_FRAME, (BOTH, 1019, None)),
        ("one axle",),
        (3,),
    ),
    Messy(
        "the same reading added twice",
        day(
            ("bare", 600.4, 800.2),
            ("bare", 600.4, 800.2),
            (FRAME, 829.6, 781.0),
            (FRAME, 828.4, 781.8),
            (BOTH, 1019.8, 701.6),
            step="0.2 kg",
        ),
        ("twice",),
        (2,),
    ),
    Messy("a date that has not come", day(A_BARE, A_BOTH, date="2062-05-14"), ("date",)),
    Messy(
        "two machines under one name",
        day(("bare", 905, 1240), (FRAME, 1190, 1205), (BOTH, 1420, 1105)),
        ("another day",),
        (1, 2, 3),
        None,
        others_of(A_BARE, A_FRAME, A_BOTH),
    ),
    Messy(
        "two machines in one day",
        day(A_BARE, ("bare", 912, 1188), A_FRAME, A_BOTH),
        ("repeats",),
        (2, 1),
    ),
    Messy(
        "one machine under two names",
        day(A_BARE, A_FRAME, A_BOTH, name="Orchard tracter"),
        ("machine name",),
        (),
        None,
        others_of(A_BARE, A_FRAME, A_BOTH),
    ),
    Messy(
        "a bucket that weighs less than nothing",
        day(A_BARE, A_FRAME, (BOTH, 912, 640)),
        ("on or off",),
        (3, 2),
    ),
    Messy(
        "a bucket behind the front axle",
        day(A_BARE, A_FRAME, (BOTH, 861, 859)),
        ("on or off",),
        (3, 2),
    ),
    Messy(
        "a loader frame lighter than its bucket",
        day(A_BARE, (FRAME, 651, 796), (BOTH, 1112, 601)),
        ("on or off",),
        (2, 3, 1),
    ),
    Messy(
        "the operator on in one row",
        day(A_BARE, ("bare", 628, 852), A_FRAME, (FRAME, 830, 781), A_BOTH),
        ("on or off",),
        (2, 1),
    ),
    Messy(
        "a reading off the scales' step",
        day(C_BARE, C_FRAME, (BOTH, 2913, 2425), **RIDGE),
        ("step",),
        (3,),
    ),
    Messy(
        "a row named lb that was kg",
        day(A_BARE, (FRAME, 829, 781, {"unit": "lb"}), A_BOTH),
        ("unit",),
        (2,),
    ),
    Messy(
        "a total that does not add up",
        day(A_BARE, A_FRAME, A_BOTH, A_BALLAST, (BOTH + " + ballast", 918, 1129)),
        ("on or off",),
        (5,),
    ),
    Messy(
        "the total typed as the front",
        day(A_BARE, ("bare", 1400, 800), A_FRAME, A_BOTH),
        ("total",),
        (2,),
        {2: (600, 800)},
    ),
    Messy(
        "the total typed as the rear",
        day(A_BARE, A_FRAME, (BOTH, 1019, 1720)),
        ("total",),
        (3,),
        {3: (1019, 701)},
    ),
    Messy(
        "the front copied from the row above",
        day(A_BARE, A_FRAME, (BOTH, 829, 701)),
        ("copied",),
        (3,),
    ),
    Messy(
        "ballast that presses on the front",
        day(A_BARE, ("ballast", 1162, 473)),
        ("swapped",),
        (2,),
        {2: (473, 1162)},
    ),
    Messy(
        "nearly alike and swapped, another day",
        day(("bare", 760, 690), D_FRAME, D_BOTH, **LAWN),
        ("swapped",),
        (1,),
        {1: (690, 760)},
        others_of(("bare", 692, 759), D_FRAME, **LAWN),
    ),
    Messy(
        "nearly alike and swapped, no other day",
        day(("bare", 760, 690), D_FRAME, D_BOTH, **LAWN),
        ("nearly alike", "swapped"),
        (1,),
    ),
    Messy(
        "the repeat's number was not raised",
        day(A_BARE, ("bare", 602, 799, {"repeat": 1}), A_FRAME, A_BOTH),
        ("same number",),
        (2, 1),
    ),
    Messy(
        "a wheel that carries less than nothing",
        day(A_BARE, A_FRAME, (BOTH, 1019, -3)),
        ("nothing on it",),
        (3,),
    ),
    Messy(
        "the frame was still on",
        day(A_BARE, ("bare", 829, 782), A_FRAME, A_BOTH),
        ("pieces",),
        (2,),
    ),
    Messy(
        "a foot on the scale",
        day(C_BARE, ("bare", 1820, 2785), C_FRAME, C_BOTH, **RIDGE),
        ("on or off",),
        (2, 1),
    ),
    Messy(
        "wheelbase 56 for 65 in",
        day(A_BARE, A_BOTH, wheelbase="56 in"),
        ("wheelbase",),
        (),
        None,
        others_of(A_BARE, A_BOTH, wheelbase="65 in"),
    ),
    Messy(
        "fuel or operator changed", day(A_BARE, A_FRAME, A_BOTH, unchanged=False), ("unchanged",)
    ),
    Messy(
        "an hour meter that runs backward",
        day(A_BARE, A_BOTH, hours="412"),
        ("hours",),
        (),
        None,
        others_of(A_BARE, A_BOTH, hours="536"),
    ),
    Messy(
        "a digit too many in one wheel",
        day(
            ("bare", "298/302", "405/395"),
            (FRAME, "4120/417", "395/386"),
            (BOTH, "512/507", "346/355"),
        ),
        ("digits",),
        (2,),
        {2: (829, 781)},
    ),
    Messy(
        "left and right typed as front and rear",
        day(("bare", 302, 298), A_FRAME, A_BOTH),
        ("weight", "another day", "total", "lighter"),
        (1, 2),
    ),
    Messy(
        "the ballast was still on",
        day(A_BARE, (FRAME, 702, 1143), A_BOTH, A_BALLAST, A_ALL),
        ("pieces",),
        (2,),
    ),
)

MESSY = (
    *MESSY,
    Messy(
        "the bucket was still on, and nothing came off",
        day(A_BARE, (FRAME, 1018, 701), A_BOTH),
        ("pieces",),
        (2,),
    ),
)

CARRIED_OVER = (
    Messy(
        "the rear copied from the row above",
        day(A_BARE, A_FRAME, (BOTH, 1019, 781)),
        ("copied",),
        (3,),
    ),
    Messy(
        "the rear copied from the row above, pounds, a day that checks itself",
        day(
            *(B_BARE, B_FRAME, (BOTH, 2730, 2076)),
            *(("ballast", 1324, 2958), (BOTH + " + ballast", 2444, 2670)),
            **CREEK,
        ),
        ("copied",),
        (3,),
    ),
    Messy("the only name a slip", day(B_BARE, ("backet", 2144, 1916), **CREEK), ("names",), (2,)),
    Messy("ballast left on, bare", day(("bare", 473, 1162), A_FRAME, A_BOTH), ("pieces",), (1,)),
    Messy(
        "ballast left on, pounds",
        day(B_BARE, B_FRAME, (BOTH, 2444, 2670), **CREEK),
        ("pieces",),
        (3,),
    ),
    Messy(
        "ballast left on in a repeat",
        day(A_BARE, ("bare", 473, 1162), A_FRAME, A_BOTH),
        ("pieces",),
        (2,),
    ),
    Messy(
        "a repeat swapped, front and rear 14 lb apart",
        day(
            *(("bare", 1873, 1887), ("bare", 1887, 1874), (FRAME, 2459, 1823), (BOTH, 2993, 1599)),
            **{**LAWN, "wheelbase": "70 in"},
        ),
        ("swapped",),
        (2,),
    ),
    Messy(
        "a repeat with left and right swapped, 14 lb apart",
        day(
            *(("bare", "930/944", "1106/1120"), ("bare", "944/930", "1108/1120")),
            ("bucket", "1200/1214", "984/970"),
            **CREEK,
        ),
        ("swapped",),
        (2,),
    ),
)
MESSY = (
    *MESSY,
    *CARRIED_OVER,
    Messy("a date a century ago", day(A_BARE, A_BOTH, date="1926-05-14"), ("date",)),
    Messy(
        "front loader for loader frame",
        day(A_BARE, ("front loader", 829, 781), A_BOTH),
        ("names",),
        (2, 3),
    ),
    Messy(
        "a misspelled name as often as the right one",
        day(A_BARE, A_FRAME, (FRAME + " + buckett", 1019, 701), (BOTH, 1020, 701)),
        ("names",),
        (3,),
    ),
)

APART = MESSY[2:51:3]
TUNED_ON = tuple(one for one in MESSY if one not in APART)

CLEAN = {
    "three set-ups": day(A_BARE, A_FRAME, A_BOTH),
    "five set-ups": day(*A_FULL),
    "repeats": day(
        A_BARE, ("bare", 601, 799), A_FRAME, (FRAME, 828, 782), A_BOTH, (BOTH, 1020, 701)
    ),
    "pounds": day(B_BARE, B_FRAME, B_BOTH, **CREEK),
    "steps of 5 kg": day(C_BARE, C_FRAME, C_BOTH, **RIDGE),
    "scales not told": day(A_BARE, A_FRAME, A_BOTH, step=None, accuracy=None),
    "front only": day(("bare", 600, None), (FRAME, 829, None), (BOTH, 1019, None)),
    "wheel by wheel": day(
        ("bare", "298/302", "405/395"), (FRAME, "412/417", "395/386"), (BOTH, "512/507", "346/355")
    ),
    "one row in another unit": day(A_BARE, (FRAME, 1828, 1722, {"unit": "lb"}), A_BOTH, step=None),
    "pieces in another order": day(A_BARE, A_FRAME, ("bucket + Loader frame", 1019, 701)),
    "one row": day(A_BARE),
    "nothing yet": day(),
    "a corrected row": day(A_BARE, ("bare", 608, 800, {"repeat": 1}), A_FRAME, A_BOTH).with_rows(
        weighing("bare", 600, 800)
    ),
    "one set-up, where no change is printed": replace(day(A_BARE), unchanged=None),
}
