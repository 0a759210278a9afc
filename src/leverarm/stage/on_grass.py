"""The tractor on grass, before anybody weighs anything: no scales and no numbers."""

from leverarm.outline import BUCKET_HEIGHT_M
from leverarm.stage import tractor_outline as machine
from leverarm.stage.controls import entry
from leverarm.stage.elements import Element, element
from leverarm.stage.on_scales import drawn
from leverarm.stage.sheet import DESK, PHONE, Paper, stroke
from leverarm.stage.stand import Stand

# A tuft of grass: how far its blades lean and how high they stand, in units of the desk's sheet.
_BLADES = ((-5, 9), (-2, 13), (2, 11), (6, 8))


def on_grass(wheelbase_m: float, ahead_m: float) -> Element:
    """The tractor with its loader and bucket on a strip of grass, on each size of paper."""
    pictures = [_picture(sheet, wheelbase_m, ahead_m) for sheet in (DESK, PHONE)]
    return element("div", pictures, class_="st")


def _picture(sheet: Paper, wheelbase_m: float, ahead_m: float) -> Element:
    stand = Stand(sheet, wheelbase_m, 0.0, 0.0)
    at = ahead_m, BUCKET_HEIGHT_M
    size = sheet.per_m / 150
    grass = [
        stroke([(x, stand.ground), (x + lean * size, stand.ground - high * size)], "ink", 1.2)
        for x in range(8, int(sheet.width), int(34 * size) + 6)
        for lean, high in _BLADES
    ]
    parts = [
        machine.loader_part(stand, at, 0.0),
        machine.tractor_parts(stand),
        machine.bucket_part(stand, at),
        element("g", grass),
        stroke([(0, stand.ground), (sheet.width, stand.ground)], "floor", 2.2),
    ]
    picture = drawn(sheet, entry("hunch").text("picture"), parts)
    # Only what stands above the floor: nothing is weighed yet.
    box = f"0 0 {sheet.width:g} {sheet.floor + 6:g}"
    named = tuple((name, box if name == "viewBox" else value) for name, value in picture.attributes)
    return Element(picture.tag, named, picture.inside)
