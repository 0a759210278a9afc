"""How often the interval of a class's gain holds the gain that the class was drawn with.

Each row: what the classes are like, how many students; how many classes in 100 had the true gain
inside the interval and within the stated ±; in how many no interval could be given; the mean ±.
"""

import sys
import time

from leverarm.concept_check.simulated import Imagined, recovered

CLASSES = {5: 4000, 12: 4000, 24: 3000, 60: 2000, 300: 500}
LIKE = {
    "gain 0.2": Imagined(0.35, 0.2),
    "gain 0.5": Imagined(0.40, 0.5),
    "form B half a logit harder": Imagined(0.40, 0.3, harder=0.5),
    "very unlike students": Imagined(0.40, 0.3, alike=3, even=3),
    "high before, 60 percent": Imagined(0.60, 0.3),
    "near full before, 85 percent": Imagined(0.85, 0.3),
    "gain 0.8": Imagined(0.40, 0.8),
}


def main(quick=1):
    """Print the table; quick divides the number of classes."""
    print(f"{'classes like':<30}{'students':>9}{'inside':>8}{'± held':>8}{'none':>7}{'mean ±':>8}")
    for name, like in LIKE.items():
        for students, classes in CLASSES.items():
            start = time.monotonic()
            one = recovered(name, students, max(20, classes // quick), like)
            print(
                f"{name:<30}{students:>9}{one.inside:>8.1f}{one.stated:>8.1f}"
                f"{one.no_number:>7.1f}{one.plus_minus:>8.2f}   {time.monotonic() - start:.0f} s",
                flush=True,
            )


if __name__ == "__main__":
    main(*map(int, sys.argv[1:2]))
