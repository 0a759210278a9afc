"""An audit in words: what the claim needs, whether it fits, the honest sentence to say instead."""

from functools import partial

from leverarm.quantities import show_number
from leverarm.uncertainty import plus_minus, rounded
from leverarm.weighing.infer import place_in_words

brief = partial(plus_minus, brief=True)


def needed(audit, system="kg"):
    """What the claim would need to be true."""
    said = f'"{audit.claim.text}"'
    if audit.claim.kind == "percent":
        return (
            f"{said} needs a base. The front axle's change is "
            + "; ".join(f"{percent_text(base.percent)} of {base.name}" for base in audit.bases)
            + "."
        )
    place = place_in_words(audit.needs_ahead, system, brief=True)
    weight = brief(audit.needs_weight, "weight", system)
    if audit.claim.kind == "factor":
        return (
            f"{said} needs the center of gravity of the {audit.piece} {place}, "
            f"and a weight of {weight}."
        )
    return f"{said} needs the center of gravity of the {audit.piece} {place}."


def verdict(audit, system="kg"):
    """Whether it fits what was measured."""
    if audit.claim.kind == "percent":
        fitting = [base.name for base in audit.bases if base.fits]
        return (
            f"It fits as a percentage of {' or of '.join(fitting)}."
            if fitting
            else "It fits none of these bases."
        )
    found = []
    if audit.found_ahead is not None:
        found.append(place_in_words(audit.found_ahead, system, brief=True))
    if audit.found_weight is not None:
        found.append(brief(audit.found_weight, "weight", system))
    if audit.fits is None:
        return (
            "Nothing was measured to hold it against: measure the overhang with a tape, "
            "or read the rear axle too."
        )
    measured = f"Measured: {' and '.join(found)}. "
    return measured + (
        "The claim fits within the uncertainty." if audit.fits else "The claim does not fit."
    )


def said_instead(audit, system="kg"):
    """What can be said honestly: each percentage with its base, each number with its +/-."""
    taken, off = (
        (audit.front, "takes {} off")
        if audit.front.value > 0
        else (-audit.front, "puts {} more on")
    )
    said = [
        f"Say: taking the {audit.piece} off {off.format(brief(taken, 'weight', system))} "
        "the front axle, "
        f"{percent_text(abs_of(audit.front_percent))} of what that axle carried with it on."
    ]
    if audit.hung is not None:
        said.append(
            f"The machine loses {brief(audit.hung.weight, 'weight', system)}; "
            "the front axle changes by "
            f"{number_text(audit.hung.factor)} times that. "
            "Each ± holds the truth in 95 of 100 cases."
        )
    return " ".join(said)


def abs_of(number):
    """A Measured without its sign."""
    return number if number.value >= 0 else -number


def percent_text(number):
    """A percentage with its +/-, where known."""
    return f"{number_text(number)} %"


def number_text(number):
    """A bare number with its +/-, where known."""
    U = number.expanded()
    return "{} ± {}".format(*rounded(number.value, U)) if U == U else show_number(number.value, 1)
