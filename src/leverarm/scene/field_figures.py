"""Pictures of lessons 08 and 09, of the demo machine: the soil under a tire, a turn from above, their charts."""

from leverarm.axles import predict
from leverarm.driveline import demo_drive
from leverarm.ground import demo_print, front_contacts
from leverarm.machine import demo_loader, demo_tractor
from leverarm.scene.soil import depth_chart, soil_section
from leverarm.scene.turning import mismatch_chart, turn_plan

SQUASH = {"front": "10 mm", "rear": "-2 mm"}
RADIUS_M = 2.5


def _contacts():
    """The front tire with the loader off and on."""
    return front_contacts(
        demo_print(), predict(demo_tractor()), predict(demo_tractor(), *demo_loader())
    )


def soil(hidden=False):
    """The soil under the front tire, loader off and on; hidden keeps the second back."""
    return soil_section(*_contacts(), hidden=hidden)


def depth():
    """Stress with depth, loader off and on."""
    return depth_chart(*_contacts())


def turn(hidden=False):
    """A tight turn from above; hidden keeps the front axle's path back."""
    return turn_plan(demo_drive(), RADIUS_M, hidden=hidden)


def mismatch():
    """Mismatch against turning radius, loader off and on."""
    return mismatch_chart(demo_drive(), demo_drive().squashed(**SQUASH), RADIUS_M)
