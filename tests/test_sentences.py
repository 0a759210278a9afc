"""The sentences in tests/sentences are what the package says today, and none is broken.

Stale?  Run ``python tests/sentences/write.py``, read the difference, commit it.
"""

import importlib.util
import re
from pathlib import Path

import pytest

HERE = Path(__file__).parent / "sentences"
_SPEC = importlib.util.spec_from_file_location("write_sentences", HERE / "write.py")
WRITER = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(WRITER)

BROKEN = {
    "a word twice": r"\b([A-Za-z]+) \1\b",
    "a number twice": r"^[^|]*\b\d[\d.]* (?:kg|lb|m|in) \d[\d.]* (?:kg|lb|m|in)\b",
    "a unit twice": r"\b\d[\d.]* ?(kg|lb|psi|kPa|°|%) ?\1(?![a-z])",
    "what is what": r"\bwhat is (what|how|where)\b",
    "one of many": r"(?<![\d.,])1 (mowings|minutes|rows|times|answers|problems|files|students)\b",
    "many of one": r"\b[2-9] (mowing|minute|row|answer|problem|file|student) (?!box|page)[a-z]",
    "a mark left over": r"[{}]|\bNone\b(?! is| for)|\bnan\b|\binf\b|<[a-z]+|&[a-z]+;",
    "two stops": r"(?<!\.)\.\.(?!\.)|[?!]\.|,,|;;|:\.",
    "a gap before a stop": r"[a-z] [.,;](?= |$)",
    "a false minus": r"(?<![\w-])-0(?:\.0+)?(?![\d.])",
    "British spelling": (
        r"\b(tyre|centre|metre|litre|colour|grey|aluminium|per cent|linkage)s?\b|way round\b"
    ),
    "a retired word": (
        r"\b(unladen (?:tractor|weight)|posture|commit|the secret word)\b"
        r"|(?<!contact )\bprint of\b"
    ),
    "a for an": r"\b[Aa] (axle|empty|error|even|implement|inch|orchard|ounce|overhang|uphill)\b",
}


@pytest.fixture(autouse=True)
def in_a_folder_of_its_own(tmp_path, monkeypatch):
    """Some panels look for files beside the notebook."""
    monkeypatch.chdir(tmp_path)


def lines(system):
    return (HERE / f"{system}.txt").read_text("utf-8").splitlines()


@pytest.mark.parametrize("system", WRITER.SYSTEMS)
def test_what_is_written_out_is_what_is_said(system):
    now, kept = WRITER.written(system).splitlines(), lines(system)
    failed = [line for line in now if line.startswith("!!")]
    assert not failed, failed
    new = [line for line in now if line not in set(kept)]
    gone = [line for line in kept if line not in set(now)]
    assert now == kept, f"run tests/sentences/write.py and read: new {new[:5]}, gone {gone[:5]}"


@pytest.mark.parametrize("system", WRITER.SYSTEMS)
@pytest.mark.parametrize("name", BROKEN)
def test_no_sentence_is_broken(name, system):
    found = [line for line in lines(system) if re.search(BROKEN[name], line)]
    assert not found, found[:5]


def test_a_broken_sentence_would_be_found():
    """One example of each kind, so that no pattern sleeps."""
    examples = (
        "It hangs in in front.",
        "It weighs 5 kg 5 kg here.",
        "It weighs 5 kg kg.",
        "In your own words: what is what is left?",
        "You stated 1 mowings before.",
        "You stated 2 mowing before the loader goes on.",
        "The {axle} axle carries it.",
        "Lower the load..",
        "The front axle carries it , and more.",
        "The rear changes by -0.0 kg.",
        "Look at the tyre.",
        "Predict, then commit.",
        "It hangs on a orchard tractor.",
    )
    for (name, pattern), line in zip(BROKEN.items(), examples, strict=True):
        assert re.search(pattern, line), name


def test_a_sentence_stays_in_its_units():
    """Pounds show pounds: the other unit stands only in what converts, or names both on purpose.

    A record keeps the unit of its scales, a ticket that of its homework, a picture of the book kg.
    """
    both = re.compile(
        # What converts or asks, what says both, what quotes a trial.
        r"kilogram|pound|newton|inch|feet|foot|millimeter|unit|such as|was given"
        r"|Try: |\"\d+ kg\"| kg \(| kg \d|kg = |\d cm \(|Olmstead|Arvidsson|Lamandé|subsoil"
    )
    for system, other in (("kg", r"\d (lb|psi|ft)\b"), ("lb", r"\d (kg|kPa)\b")):
        section, strayed = "", []
        for line in lines(system):
            section = line if line.startswith("## ") else section
            own = any(word in section for word in ("problems", "practice", "record", "figures"))
            if re.search(other, line) and not both.search(line) and not own:
                strayed.append(line)
        assert not strayed, strayed[:10]
