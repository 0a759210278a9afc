"""The pictures of the book: ``python -m leverarm.figures`` writes them, ``--check`` says what is
stale.

Each picture is one line: in STILLS, one state of a moving picture; in SCENES, a function that
gives a Scene.
Beside every ``name.svg`` stands ``name.txt``: the words for who can't see it.
The same package writes the same bytes.
"""

import argparse
import sys
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from pathlib import Path

from leverarm import statics
from leverarm.axles import compare, predict
from leverarm.console import done, say
from leverarm.decision import Manual, decide, demo_case
from leverarm.files import write_whole
from leverarm.machine import demo_ballast, demo_loader, demo_tractor
from leverarm.quantities import Refusal, show
from leverarm.scene import (
    WIDE,
    Axis,
    Curve,
    Mark,
    Scene,
    line_chart,
    svg,
)
from leverarm.scene import figures as lesson_pictures
from leverarm.stability import demo_arms
from leverarm.stage.arms import ArmsGuess
from leverarm.stage.arms_case import ArmsCase
from leverarm.stage.case import EXPLAINED, HungCase
from leverarm.stage.plank import PlankGuess, PlankWeighed
from leverarm.stage.plank_case import PlankCase
from leverarm.stage.recording import Drawing
from leverarm.stage.setups import setups_still
from leverarm.stage.setups_case import SetupsCase
from leverarm.stage.still import still_picture
from leverarm.stage.tractor import Guess, Weighed

Still = tuple[str, str]


def machine_on_scales() -> Still:
    """The bare machine, the bucket's place dashed."""
    case = HungCase(demo_tractor(), demo_loader()[1])
    words = (
        "A bare tractor stands on two scales, one under each axle. Below the floor a column under "
        "each axle shows what its scale reads. The place of the bucket is dashed."
    )
    return still_picture(Guess(case), case.guess_inputs, words=words)


def bucket_hung() -> Still:
    """The bucket hung on: what each scale gained or lost, and where it came from."""
    case = HungCase(demo_tractor(), demo_loader()[1])
    change = compare(predict(case.tractor), predict(case.tractor, case.piece))
    front, rear = (show(abs(kg), "weight") for kg in (change.front_kg, change.rear_kg))
    weight, overhang = show(case.piece.weight_kg, "weight"), show(case.piece.ahead_m, "length")
    words = (
        f"A bucket of {weight} hangs on a tractor, {overhang} ahead of the front axle. The column "
        f"under the front axle is {front} longer: the bucket and what the rear lost. The column "
        f"under the rear axle is {rear} shorter."
    )
    return still_picture(Weighed(case), case.inputs, {"part": EXPLAINED}, words=words)


def plank_asked() -> Still:
    """The plank of the lab, the jug's place dashed."""
    case = PlankCase()
    asked = PlankGuess(case)
    words = (
        "A plank lies on two pipes, a scale under each. The place of a jug, past the left pipe, is "
        "dashed. Both scales show the plank alone."
    )
    return still_picture(asked, asked.inputs, words=words, top=90)


def plank_weighed() -> Still:
    """The same plank with the jug on it."""
    case = PlankCase()
    weighed = PlankWeighed(case)
    words = (
        "The same plank with the jug on it, past the left pipe. The left scale gained more than "
        "the jug weighs, and the right scale lost some of what it had."
    )
    return still_picture(weighed, weighed.inputs, {"part": EXPLAINED}, words=words, top=90)


def ballast_asked() -> Still:
    """The tractor with its loader, the ballast's place behind it dashed."""
    case = HungCase(demo_tractor(), demo_ballast(), held=demo_loader())
    words = (
        "A tractor with its loader stands on two scales. The place of the ballast behind the rear "
        "axle is dashed. Both scales show the tractor without it."
    )
    return still_picture(Guess(case), case.guess_inputs, words=words)


def loader_asked() -> Still:
    """A load low in the bucket, its place with the arms level dashed."""
    case = ArmsCase(demo_tractor(), demo_arms(), lesson_pictures.LOAD_KG)
    words = (
        "A tractor with a load low in its bucket stands on two scales. Dashed: the bucket with the "
        "arms level. Both scales show the reading with the arms low."
    )
    return still_picture(ArmsGuess(case), case.guess_inputs, words=words, top=110)


def ready_to_mow() -> Still:
    """Everything on, with the mid-mounted deck, on two scales."""
    # No line for the least load a manual asks: nothing beside the picture says what it means.
    case = replace(demo_case(), manual=Manual())
    drawing = Drawing(setups_still(SetupsCase(case), large=True))
    on = decide(case).setups[0].level()
    front, rear, total = (show(kg, "weight") for kg in (on.front_kg, on.rear_kg, on.total_kg))
    words = (
        "A tractor with its loader and bucket, a deck between the axles and ballast behind stands "
        f"on two scales. The front one reads {front}, the rear {rear}, together {total}."
    )
    return still_picture(lambda _: drawing, (), words=words, sheet="alone_large-0")


def where_it_doubles() -> Scene:
    """Front gain and rear change per kilogram hung, against the overhang in wheelbases."""
    points = [i / 20 for i in range(-20, 41)]
    front = Curve(
        "front gains", tuple((x, statics.front_gain(1, x, 1)) for x in points), "front", 7
    )
    rear = Curve(
        "rear changes by", tuple((x, statics.rear_change(1, x, 1)) for x in points), "rear", 7
    )
    marks = [
        Mark("twice the weight", 1.0, 2.0),
        Mark("once the weight", 0.0, 1.0),
        Mark("nothing", -1.0, 0.0),
    ]
    return line_chart(
        "Where a hung weight counts double",
        "Two straight lines against the overhang in wheelbases. "
        "What the front gains rises from nothing over the "
        "rear axle to once the hung weight over the front axle and twice at one wheelbase ahead. "
        "What the rear loses grows by the same amount. The two always add up to once the weight.",
        Axis("overhang, in wheelbases ahead of the front axle", -1, 2),
        Axis("change, times the hung weight", -2.5, 3),
        [front, rear],
        marks=marks,
    )


# One state of a picture of the stage.
STILLS: dict[str, Callable[[], Still]] = {
    "machine_on_scales": machine_on_scales,
    "side_view": bucket_hung,
    "plank_predict": plank_asked,
    "plank_on_scales": plank_weighed,
    "counterweight": ballast_asked,
    "loader_lift": loader_asked,
    "ready_to_mow": ready_to_mow,
}
SCENES: dict[str, Callable[[], Scene]] = {
    "where_it_doubles": where_it_doubles,
    "loads_along_the_lift": lesson_pictures.lift_loads,
    "base_from_above": lesson_pictures.base,
    "across_a_slope": lesson_pictures.across,
    "stress_with_depth": lesson_pictures.depth,
    "mismatch_in_turns": lesson_pictures.mismatch,
    **{name: make for name, (make, _) in lesson_pictures.PICTURES.items()},
}
FIGURES = (*STILLS, *SCENES)
# Pictures that need another sheet than the wide one.
FIGURE_SHEETS = {name: sheet for name, (_, sheet) in lesson_pictures.PICTURES.items()}


def figure_files(name: str) -> dict[str, str]:
    """The two files of a figure: its SVG and its words."""
    if name in STILLS:
        drawing, words = STILLS[name]()
        return {f"{name}.svg": drawing + "\n", f"{name}.txt": words + "\n"}
    scene = SCENES[name]()
    return {
        f"{name}.svg": svg(scene, FIGURE_SHEETS.get(name, WIDE), card=True) + "\n",
        f"{name}.txt": f"{scene.title}. {scene.desc}\n",
    }


def stale_figures(folder: Path) -> list[str]:
    """Names of files in a folder that differ from what the package draws, are missing, or belong to
    no figure.
    """
    wanted = {file: text for name in FIGURES for file, text in figure_files(name).items()}
    there = (
        {path.name for path in folder.iterdir() if path.suffix in (".svg", ".txt")}
        if folder.is_dir()
        else set()
    )
    old = [
        file for file, text in wanted.items() if file not in there or _read(folder / file) != text
    ]
    return sorted([*old, *(there - set(wanted))])


def _read(path: Path) -> str:
    """A file's text whatever its line ends."""
    return path.read_text("utf-8").replace("\r\n", "\n")


def write_figures(folder: Path, names: Iterable[str] = FIGURES) -> list[str]:
    """Write figures into a folder, each file whole or not at all; returns those that changed."""
    folder.mkdir(exist_ok=True)
    changed = []
    for name in names:
        for file, text in figure_files(name).items():
            if not (folder / file).is_file() or _read(folder / file) != text:
                write_whole(folder / file, text.encode())
                changed.append(file)
    return changed


def main(argv: Sequence[str] | None = None) -> int:
    """The command line: 0 where all is well, 1 where something is stale or a name unknown."""
    asked = argparse.ArgumentParser(
        "python -m leverarm.figures", description="Write the pictures of the book."
    )
    asked.add_argument("names", nargs="*", help="figures to write; all where none is named")
    asked.add_argument(
        "--folder", default="figures", type=Path, help="where they go (default: figures)"
    )
    asked.add_argument("--check", action="store_true", help="only say which files are stale")
    given = asked.parse_args(argv)
    if given.check:
        old = stale_figures(given.folder)
        say("\n".join(f"stale: {file}" for file in old) or f"{len(FIGURES)} figures are current.")
        return 1 if old else 0
    try:
        changed = write_figures(given.folder, [_known(name) for name in given.names] or FIGURES)
    except Refusal as refusal:
        print(refusal, file=sys.stderr)
        return 1
    say("\n".join(f"written: {given.folder / file}" for file in changed) or "Nothing has changed.")
    return 0


def _known(name: str) -> str:
    if name not in FIGURES:
        raise Refusal(
            "figure", name, "a name in leverarm.figures.FIGURES", "look the name up there"
        )
    return name


if __name__ == "__main__":
    sys.exit(done(main))
