"""The machine that tests work out by hand: round numbers in kilograms and meters, nobody's demo."""

from leverarm import Attachment, Tractor
from leverarm.stability import Loader, Part


def worked_tractor():
    """Wheelbase 1.65 m, 600 kg in front, 800 kg behind, center of gravity 0.70 m up."""
    return Tractor("Hand-worked tractor", "1.65 m", "600 kg", "800 kg", "0.70 m")


def worked_loader():
    """Frame 210 kg at 0.15 m, bucket 110 kg at 1.20 m: the bucket puts 190 on the front, takes 80
    off the rear.
    """
    return (
        Attachment("loader frame", "210 kg", "0.15 m", "0.80 m"),
        Attachment("bucket", "110 kg", "1.20 m", "0.35 m"),
    )


def worked_arms():
    """The same loader with its arms: lowered, the pin is 1.00 m ahead and 0.25 m up (a 3-4-5
    triangle).
    """
    return Loader(
        "-0.48 m",
        "1.36 m",
        "1.85 m",
        "0.25 m",
        "2.40 m",
        frame=Attachment("loader frame", "105 kg", "0.06 m", "0.53 m"),
        arms=Part("arms", "105 kg", "0.75 m", "0.20 m"),
        bucket=Part("bucket", "110 kg", "0.20 m", "0.10 m"),
        load_along="0.25 m",
        load_across="0.20 m",
    )
