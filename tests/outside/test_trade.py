"""Facts of the trade as check values.  Common practice, no source."""

import pytest

from leverarm import Attachment, Tractor, compare, predict, statics

KG_PER_LB = 0.45359237  # the international pound, exact

# Common practice, no source: taking a bucket of about 150 lb off a compact tractor lowered its
# front-axle
# reading by about 300 lb.
BUCKET_LB, FRONT_DROP_LB = 150, 300
# "About" on a wheel scale: the nearest 10 lb of the bucket and 20 lb of the axle.
BUCKET_ABOUT, FRONT_ABOUT = 10, 20


def test_it_counts_about_double_and_hangs_about_one_wheelbase_out():
    factor = FRONT_DROP_LB / BUCKET_LB
    assert factor == 2
    assert statics.overhang_for(factor, 1) == 1
    widest = [(FRONT_DROP_LB + i * FRONT_ABOUT) / (BUCKET_LB - i * BUCKET_ABOUT) for i in (-1, 1)]
    assert [statics.overhang_for(k, 1) for k in widest] == pytest.approx([1, 1], abs=0.3)


@pytest.mark.parametrize("wheelbase_in", [55, 65, 75])
def test_the_prediction_says_the_same_on_any_compact_tractor(wheelbase_in):
    """One wheelbase ahead, the bucket comes off: the front drops by twice its weight, the rear
    gains it.
    """
    tractor = Tractor("compact", f"{wheelbase_in} in", front="1300 lb", rear="1750 lb")
    bucket = Attachment("bucket", f"{BUCKET_LB} lb", ahead=f"{wheelbase_in} in")
    off = compare(predict(tractor, bucket), predict(tractor))
    pounds = [kg / KG_PER_LB for kg in (off.front_kg, off.rear_kg, off.total_kg)]
    assert pounds == pytest.approx([-FRONT_DROP_LB, BUCKET_LB, -BUCKET_LB])
    assert statics.overhang_of(off.front_kg, off.rear_kg, tractor.wheelbase_m) == pytest.approx(
        tractor.wheelbase_m
    )


def test_weight_half_a_wheelbase_behind_the_rear_axle_counts_one_and_a_half_times():
    """A loader manual's worked line (common practice, no source): 800 lb there is 1,200 lb on the
    rear axle.
    """
    rear = statics.rear_change(800, -1.5 * 70, 70)
    assert rear == pytest.approx(1200)
    assert statics.front_gain(800, -1.5 * 70, 70) == pytest.approx(-400)
