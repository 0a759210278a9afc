"""The pictures of the book: ``python -m leverarm.figures`` writes them, ``--check`` says what is
stale.

Each picture is one line in FIGURES: its name and a function that gives a Scene.
Beside every ``name.svg`` stands ``name.txt``: the words for who can't see it.
The same package writes the same bytes.
"""

import argparse
import sys
from collections.abc import Callable, Iterable, Sequence
from functools import partial
from pathlib import Path

from leverarm import statics
from leverarm.axles import predict
from leverarm.console import done, say
from leverarm.files import write_whole
from leverarm.machine import Attachment, demo_loader, demo_tractor
from leverarm.quantities import Refusal, read
from leverarm.scene import (
    WIDE,
    Axis,
    Curve,
    Look,
    Mark,
    Scene,
    free_body,
    line_chart,
    side_view,
    svg,
)
from leverarm.scene import figures as lesson_pictures
from leverarm.scene.plank import plank_view


def machine_on_scales() -> Scene:
    """The bare machine."""
    return side_view(demo_tractor(), (), predict(demo_tractor()))


def bucket_hung() -> Scene:
    """The bucket hung on: arrows now, outlines of before."""
    plot, bucket = demo_tractor(), demo_loader()[1]
    return side_view(
        plot, (bucket,), predict(plot, bucket), before=predict(plot), look=Look(doubling=True)
    )


def rear_lifts() -> Scene:
    """A load that takes the last weight off the rear axle."""
    plot, heap = demo_tractor(), Attachment("bucket of wet sand", "2600 lb", "47 in")
    return side_view(plot, (heap,), predict(plot, heap), before=predict(plot))


def body_cut_free(about: str = "front") -> Scene:
    """The free body of the machine with its bucket, in letters, with the arms about one axle."""
    plot, bucket = demo_tractor(), demo_loader()[1]
    return free_body(plot, (bucket,), predict(plot, bucket), about=about, letters=True)


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


# The plank of the lab: its weight, the jug's, how far past the left scale it stands, the span, the
# length.
PLANK = tuple(
    read(typed, kind, kind)
    for typed, kind in (
        ("14 lb", "weight"),
        ("24 lb", "weight"),
        ("12 in", "length"),
        ("48 in", "length"),
        ("84 in", "length"),
    )
)

FIGURES: dict[str, Callable[[], Scene]] = {
    "machine_on_scales": machine_on_scales,
    "side_view": bucket_hung,
    "rear_lifts": rear_lifts,
    "free_body_letters": body_cut_free,
    "free_body_letters_rear": partial(body_cut_free, "rear"),
    "where_it_doubles": where_it_doubles,
    "plank_on_scales": partial(plank_view, *PLANK),
    "plank_predict": partial(plank_view, *PLANK, hidden=True),
    "plank_letters": partial(plank_view, *PLANK, letters=True),
    "loader_lift": lesson_pictures.lift,
    "loads_along_the_lift": lesson_pictures.lift_loads,
    "base_from_above": lesson_pictures.base,
    "across_a_slope": lesson_pictures.across,
    "counterweight": lesson_pictures.ballasted,
    "stress_with_depth": lesson_pictures.depth,
    "mismatch_in_turns": lesson_pictures.mismatch,
    "ready_to_mow": lesson_pictures.ready_to_mow,
    **{name: make for name, (make, _) in lesson_pictures.PICTURES.items()},
}
# Pictures that need another sheet than the wide one.
FIGURE_SHEETS = {name: sheet for name, (_, sheet) in lesson_pictures.PICTURES.items()}


def figure_files(name: str) -> dict[str, str]:
    """The two files of a figure: its SVG and its words."""
    scene = FIGURES[name]()
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
