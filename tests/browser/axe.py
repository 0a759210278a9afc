"""axe-core, the accessibility checker: fetched from the npm registry once, run over a part of a
page.

It is a general library and no part of the project: one fixed version, its hash checked, kept in a
folder of its own outside the sources.

    problems = check(page, ".lv-panel")
"""

import base64
import functools
import hashlib
import re
import shutil
import subprocess
import tarfile
import tempfile
from pathlib import Path

import pytest

NAME, VERSION = "axe-core", "4.14.1"
INTEGRITY = "sha512-FHfa+lmNjQZfJz1q8wKqIDwC6DExcHt/pkjNQb09a3NPjCKg2rhu5qb2S4r76ASyFNNtuFooJpZe37OgudVGtQ=="  # noqa: E501 - a pinned hash
ARCHIVE = f"{NAME}-{VERSION}.tgz"
# Every rule for WCAG 2.2, levels A and AA; the one for the size of targets waits until it is asked
# for.
TAGS = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa")
RUN = """async ([places, tags]) => {
  const told = await axe.run({include: places.map((place) => [place])},
    {runOnly: {type: 'tag', values: tags}, rules: {'target-size': {enabled: true}},
      resultTypes: ['violations', 'incomplete']});
  const flat = (kind) => told[kind].flatMap((rule) => rule.nodes.map((node) => ({rule: rule.id,
      html: node.html.slice(0, 160),
    target: node.target.join(' '), said: (node.failureSummary || '').replace(/\\s+/g, ' ').slice(
        0, 300)})));
  return {violations: flat('violations'), incomplete: flat('incomplete'),
      passes: told.passes.map((rule) => rule.id)};
}"""


def cache():
    """Where the archive is kept between runs: beside the environment, or with the machine's passing
    files.
    """
    venv = Path(__file__).parents[2] / ".venv"
    return (venv if venv.is_dir() else Path(tempfile.gettempdir())) / NAME


def whole(archive):
    """Whether the archive is the very one that is named here."""
    kind, _, told = INTEGRITY.partition("-")
    return (
        archive.is_file()
        and base64.b64encode(hashlib.new(kind, archive.read_bytes()).digest()).decode() == told
    )


def fetch(folder, which=shutil.which, run=subprocess.run):
    """The archive in this folder, fetched where it is not there yet; skips the test where that
    cannot be.
    """
    archive = folder / ARCHIVE
    if whole(archive):
        return archive
    npm = which("npm")
    if npm is None:
        pytest.skip(f"no npm here to fetch {NAME} {VERSION} with")
    folder.mkdir(parents=True, exist_ok=True)
    told = run(
        [npm, "pack", "--silent", "--pack-destination", str(folder), f"{NAME}@{VERSION}"],
        capture_output=True,
        text=True,
        timeout=300,
    )
    if told.returncode:
        pytest.skip(f"npm could not fetch {NAME} {VERSION}: {told.stderr.strip()[-300:]}")
    assert whole(archive), f"{archive} is not the {NAME} {VERSION} whose hash is kept here"
    return archive


@functools.cache
def script():
    """The checker as text for a page."""
    with tarfile.open(fetch(cache())) as archive:
        return archive.extractfile("package/axe.min.js").read().decode("utf-8")


def load(page):
    """Put the checker into a page, once."""
    if not page.evaluate("() => !!window.axe"):
        page.evaluate(script())


def check(page, *places, tags=TAGS):
    """What the checker finds in these places of a page: violations, incomplete, passes."""
    load(page)
    return page.evaluate(RUN, [places, tags])


def short(found):
    """One line for each finding: the rule, the element, what is wrong."""
    return [f"{one['rule']}: {re.sub(' +', ' ', one['html'])} | {one['said']}" for one in found]
