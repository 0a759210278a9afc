"""A weigh-day record as the Case of a decision; the invented readings until there is one."""

from pathlib import Path

from leverarm import decision, weighing
from leverarm.weighing.readings import wheelbase_of

RECORD = "weigh_day_record.csv"
U_TAPE_M = 0.003
# Heights that a record does not hold: the invented machine's, for the rows on slopes.
HEIGHTS_M = {"machine": 0.70, "loader frame": 0.80, "bucket": 0.35, "ballast": 0.50}
REACHES_M = {"loader frame": 1.00, "bucket": 1.65}


def rows_of(path):
    """(rows that count, True where they are the invented ones) of a record file."""
    rows = weighing.read_record(path).current if Path(path).is_file() else ()
    return (rows, False) if rows else (weighing.demo_rows(), True)


def case_of(path=RECORD, *, height=None, **about):
    """The Case a weigh-day record makes; the invented readings where there is no record yet.

    height      of the bare machine's center of gravity, where it is known
    about       mower=, tires=, drive=, job=, manual=, stance=, nose_m=; what is not told is lent by the invented machine,
                but no mower and no word of a manual
    """
    rows, _ = rows_of(path)
    base = wheelbase_of(rows[0].wheelbase_m, U_TAPE_M)
    fit = weighing.least_squares(weighing.states(rows), base, scales=weighing.demo_scales())
    lent = decision.demo_case()
    told = {
        "tires": lent.tires,
        "drive": lent.drive,
        "stance": lent.stance,
        "job": lent.job,
        "nose_m": lent.nose_m,
        **about,
    }
    heights = HEIGHTS_M if height is None else {**HEIGHTS_M, "machine": height}
    return decision.from_fit(rows[0].machine, fit, base, heights=heights, reaches=REACHES_M, **told)
