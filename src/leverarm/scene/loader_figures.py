"""Pictures of lessons 06 and 07, of the demo machine: the lift, its loads, the base, the slope, the counterweight."""

from leverarm.axles import predict
from leverarm.ballast import counterweight
from leverarm.machine import demo_tractor
from leverarm.scene.loader_arc import arc_chart, loader_view
from leverarm.scene.side_view import Look
from leverarm.scene.tilt import base_plan, slope_section
from leverarm.stability import arc, demo_arms, demo_stance, peak, posture, side_tilt

LOAD_KG, FULL_KG = 300, 400
SIDE_DEG = 12


def lift():
    """The loader with its arms level, the way of the load, the readings with the arms low; those here kept back."""
    plot, loader = demo_tractor(), demo_arms()
    path = arc(plot, loader, LOAD_KG)
    return loader_view(
        plot,
        loader,
        posture(plot, loader, 0, LOAD_KG),
        path=path,
        before=path[0].loads,
        room=False,
        look=Look(hidden=True),
    )


def lift_loads():
    """Both axle loads along the lift."""
    plot, loader = demo_tractor(), demo_arms()
    return arc_chart(loader, arc(plot, loader, LOAD_KG), peak(plot, loader, LOAD_KG), mark="peak")


def base():
    """The base from above, arms low."""
    plot, loader, stance = demo_tractor(), demo_arms(), demo_stance()
    tilt = side_tilt(plot, *loader.at(loader.lowest_deg), stance=stance)
    return base_plan(tilt, stance, plot.wheelbase_m, side_deg=SIDE_DEG)


def across():
    """The machine across a slope, arms low."""
    plot, loader, stance = demo_tractor(), demo_arms(), demo_stance()
    return slope_section(
        side_tilt(plot, *loader.at(loader.lowest_deg), stance=stance), stance, side_deg=SIDE_DEG
    )


def ballasted():
    """A loaded bucket in front, a block behind; the readings without it, and those with it kept back."""
    plot, loader = demo_tractor(), demo_arms()
    block = (counterweight(plot, "250 kg", behind="0.90 m", name="ballast"),)
    here = posture(plot, loader, loader.lowest_deg, FULL_KG, others=block)
    return loader_view(
        plot,
        loader,
        here,
        others=block,
        before=predict(plot, *here.pieces),
        was="without",
        room=False,
        look=Look(hidden=True),
    )
