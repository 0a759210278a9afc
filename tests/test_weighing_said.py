"""Claims as salespeople and customers say them, held against two invented weigh days.

Each verdict was written down before the claim was judged, worked out by hand from the readings.
"""

import pytest

from leverarm.weighing import audit_spoken
from leverarm.weighing.day import weigh_day
from leverarm.weighing.facts import machine, scale_facts
from leverarm.weighing.readings import weighing
from leverarm.weighing.spoken import action_in, read_spoken

# Bucket: 436 lb on the front, 172 off the rear, weighs 264, 1.65 times; loader frame: 442, 52, 390;
# both: 878, 224, 654.  Totals 3,760 with the bucket and 3,496 without it.
BLUFF = weigh_day(
    machine("Bluff tractor", "68 in", wheelbase_error="1/8 in"),
    "2026-06-02",
    scale_facts("2 lb", "0.2 %", placed="every wheel"),
    [
        weighing("bare", 1310, 1796, "lb"),
        weighing("loader frame", 1752, 1744, "lb"),
        weighing("loader frame + bucket", 2188, 1572, "lb"),
    ],
)
# Forks: 221 kg on the front, 81 off the rear, weigh 140, 1.58 times; ballast: 118 off the front,
# 418 on the rear, weighs 300; loader frame: 217 on the front, 13 on the rear, weighs 230.
HEATH = weigh_day(
    machine("Heath tractor", "1.72 m", wheelbase_error="3 mm"),
    "2026-06-03",
    scale_facts("1 kg", "0.1 %", placed="every wheel"),
    [
        weighing("bare", 640, 900),
        weighing("loader frame", 857, 913),
        weighing("loader frame + forks", 1078, 832),
        weighing("loader frame + forks + ballast", 960, 1250),
    ],
)


@pytest.mark.parametrize(
    "text, truth",
    [
        ("Pull that bucket and your front tires carry about 440 pounds less", "true"),
        ("Drop the bucket and you lose 264 lb off the front axle", "false"),
        ("Drop the bucket and the whole rig is 264 lb lighter", "true"),
        ("The bucket hangs 436 pounds on your steering axle", "true"),
        ("That bucket pushes your front wheels down with 436 lb", "true"),
        ("The bucket picks 170 lb up off the back wheels", "true"),
        ("Your back wheels get 170 lb heavier once the bucket's off", "true"),
        ("Your rear end gets lighter by 170 lb once the bucket's off", "false"),
        ("198 kilos come off the front when the bucket is off", "true"),
        ("78 kg goes back onto the rear wheels without the bucket", "true"),
        ("A fifth of the front axle's load is gone with the bucket off", "true"),
        ("A quarter of the front axle load is gone with the bucket off", "false"),
        ("You take 20% off", "half true"),
        ("It's a 12 percent drop of the tractor's total weight on the front axle", "true"),
        ("Bucket off, the tractor gets 7 percent lighter", "true"),
        ("Bucket off, the tractor gets 20 percent lighter", "false"),
        ("With the bucket on, 58 percent of the tractor sits on the front axle", "true"),
        ("With the bucket off it's fifty-fifty front and back", "true"),
        ("The rear axle carries 42 percent of the total with the bucket on", "true"),
        ("The rear axle carries 58 percent of the total with the bucket on", "false"),
        ("You get more than its weight back on the front end, about 1.65 times", "true"),
        ("Every pound of bucket counts one and two thirds times on the front axle", "true"),
        ("Each pound of bucket is two pounds on the front axle", "false"),
        ("The front axle drops by a lot more than 400 pounds if you pull the bucket", "true"),
        ("No more than 300 lb come off the front with the bucket off", "false"),
        ("The loader as a whole puts 880 lb on the front wheels", "true"),
        ("The loader as a whole weighs 880 lb", "false"),
        ("Take the entire loader off and the front is 40 percent lighter", "true"),
        ("Take the entire loader off and the rear gains 224 lb", "true"),
        ("The loader frame adds 442 pounds up front", "true"),
        ("The loader frame alone takes 52 lb off the rear", "true"),
        ("Half the bucket's weight comes off the front axle", "false"),
        ("Taking the bucket off lifts the front by 436 lb", "true"),
        ("Add the bucket and the front goes up 436 lb, the rear goes down 172", "true"),
        ("The bucket costs the rear axle 172 lb of grip weight", "true"),
        ("Lose the bucket and your lawn thanks you: no tracks", "promise"),
        ("436 lb off the front and your front bearings will outlast the tractor", "promise"),
        ("You'll save a tank of diesel a season without that bucket", "promise"),
        ("Take 430 lb off the nose and it'll never tip over backwards", "promise"),
        ("The front axle weighs 2188 lb with the bucket on", "true"),
        ("Two thirds more than its own weight comes off the front", "true"),
        ("The bucket weighs as much as a quarter of the rear axle's gain", "false"),
    ],
)
def test_what_is_said_of_a_bucket(text, truth):
    found = audit_spoken(text, BLUFF)
    assert found.truth == truth, (found.sentences(), read_spoken(text))


@pytest.mark.parametrize(
    "text, truth",
    [
        ("Once the forks are off, the front axle is 221 kg lighter", "true"),
        ("Once the forks are off, the rear axle is 81 kg lighter", "false"),
        ("Unbolting the forks saves 140 kg on the front axle", "false"),
        ("We unpinned the forks: front down 220, total down 140 kg", "true"),
        ("The forks weigh 140 kilograms", "true"),
        ("The forks weigh 310 lb", "true"),
        ("Forks on, the front axle carries 1078 kg", "true"),
        ("Forks off, the front axle carries 1078 kg", "false"),
        ("Off the front come 487 pounds when you take the forks off", "true"),
        ("The rear axle gets 180 lb back with the forks off", "true"),
        ("Those forks hang 1.6 times their weight on the front", "true"),
        ("Those forks hang double their weight on the front", "false"),
        ("About one and a half times what the forks weigh comes off the front", "true"),
        ("The front loses roughly a fifth of its load", "true"),
        ("The front loses a quarter of what it carried", "false"),
        ("Without forks the split is 48/52 front to rear", "true"),
        ("With the forks on it runs 56/44 front to rear", "true"),
        ("With the forks on it runs 56/44 rear to front", "false"),
        ("Ballast on takes 118 kg off the front", "true"),
        ("Hanging the ballast adds 418 kg to the rear axle", "true"),
        ("Hanging the ballast adds 300 kg to the rear axle", "false"),
        ("The ballast makes the tractor 300 kg heavier", "true"),
        ("The ballast makes the front axle 118 kg heavier", "false"),
        ("Take the ballast off and the front gains 118 kg", "true"),
        ("Take the ballast off and the rear gains 418 kg", "false"),
        ("Ballast puts nearly 1.4 times its weight on the rear", "true"),
        ("The loader frame puts 217 kg on the front axle", "true"),
        ("The loader frame lifts 13 kg off the rear axle", "false"),
        ("The loader frame puts less than its own weight on the front axle", "true"),
        ("At least 200 kg come off the front with the forks off", "true"),
        ("Not more than 200 kg come off the front with the forks off", "false"),
        ("Never more than 250 kg come off the front with the forks off", "true"),
        ("The whole outfit loses 140 kg when the forks come off", "true"),
        ("The tractor weighs 1910 kg with the forks on", "true"),
        ("The rear axle weighs 913 kg without the forks", "true"),
        ("The load on the rear axle is 832 kg with the forks on", "true"),
        ("Dropping the forks means the front tires last twice as long", "promise"),
        ("No more ruts on the fairway once the forks are off", "promise"),
        ("221 kg off the front and you are safe on that bank", "promise"),
        ("The forks only add 10 percent to the front axle", "false"),
        ("The forks add 26 percent to the front axle load", "true"),
    ],
)
def test_what_is_said_of_forks_and_ballast(text, truth):
    found = audit_spoken(text, HEATH, "forks")
    assert found.truth == truth, (found.sentences(), read_spoken(text))


@pytest.mark.parametrize(
    "text, action",
    [
        ("unpin the bucket", "off"),
        ("leave the bucket on", "on"),
        ("hook the bucket back on", "on"),
        ("take off that heavy bucket", "off"),
        ("with no bucket on", "off"),
        ("with the bucket off the front", "off"),
        ("the bucket comes off", "off"),
        ("once the bucket's on", "on"),
        ("taking the bucket off the tractor", "off"),
        ("the bucket will add 400 lb", "does"),
        ("the buckets add 400 lb", "does"),
        ("the bucket weighs 264 lb", ""),
        ("the bucket's weight", ""),
    ],
)
def test_what_is_done_to_a_piece(text, action):
    assert action_in(text, ("bucket", "buckets"))[0] == action


def test_another_number_in_a_claim_is_not_passed_over():
    text = "Add the bucket and the front goes up 436 lb, the rear goes up 172 lb"
    found = audit_spoken(text, BLUFF)
    assert found.truth == "true" and "Only one number was judged" in found.sentences()[1]
    assert "Only one" not in audit_spoken("436 lb comes off the front", BLUFF).sentences()[1]


def test_the_axle_beside_the_number_counts():
    said = read_spoken("The rear goes down 172 lb, the front axle goes up 436 lb")
    assert (said.axle, said.way) == ("rear", -1)
    assert read_spoken("436 lb comes off the front of the tractor").axle == "front"


@pytest.mark.parametrize(
    "text, number",
    [
        ("The front axle carries 2000 lb with the bucket on", "2,188.0 ± 5.5 lb."),
        ("The rear axle carries 1572 lb with the bucket on", "1,572.0 ± "),
        ("The front axle carries 50 percent of the total with the bucket on", " ± 0.092 %."),
        ("The bucket takes 264 lb off the front", "436.0 ± "),
    ],
)
def test_a_load_is_told_in_weight_and_a_share_in_percent(text, number):
    assert any(number in one for one in audit_spoken(text, BLUFF).sentences())


@pytest.mark.parametrize("axle", ["front", "rear"])
def test_a_load_so_many_times_as_large_is_the_whole_load_after_over_the_one_before(axle):
    (meaning,) = audit_spoken(f"The bucket doubles the load on the {axle} axle", BLUFF).meanings
    place, loads = f"what the {axle} axle carried", {"front": (2188, 1752), "rear": (1572, 1744)}
    assert meaning.name == f"{place} with it, of {place} without it"
    assert meaning.found.value == pytest.approx(loads[axle][0] / loads[axle][1])
