"""Files that were copied, swapped or sent twice: named where each of their codes can see it.

None of this changes a mark.  It tells the instructor which files to ask about.
"""

import re
from collections import defaultdict
from collections.abc import Collection, Mapping
from dataclasses import dataclass

from leverarm.marking.codes import read_code, shown_code
from leverarm.quantities import Refusal
from leverarm.tables import visible

_WORD = re.compile(r"[A-Za-z0-9]{3,10}")


@dataclass(frozen=True, slots=True)
class SeenFile:
    """What a file says of itself.

    name        the name it came under
    code        the code in it
    proof       that it was made with the number key of that code
    digest      the same for the same bytes
    """

    name: str
    code: str
    proof: str
    digest: bytes


def mixed_up(files: Collection[SeenFile], proofs: Mapping[str, str]) -> dict[str, list[str]]:
    """code -> notes about the files that belong to another code, or claim it.

    proofs      the right proof of each code of the class
    """
    notes: defaultdict[str, list[str]] = defaultdict(list)
    owners = {proof: code for code, proof in proofs.items()}
    for file in files:
        name, owner, own = visible(file.name), owners.get(file.proof), shown_code(file.code)
        if owner and owner != file.code:
            notes[file.code].append(
                f"{name} claims this code and is made with that of {shown_code(owner)}"
            )
            notes[owner].append(f"{name} is made with this code and claims {own}")
        elif proofs.get(file.code) != file.proof:
            notes[file.code].append(f"{name} claims this code without its number key")
        else:
            for other in sorted(_codes_in(file.name) & set(proofs) - {file.code}):
                notes[file.code].append(f"{name} is from this code, named for {shown_code(other)}")
                notes[other].append(f"{name}, named for this code, is from {own}")
    return notes


def twins(files: Collection[SeenFile]) -> dict[str, str]:
    """File name -> a note where the same bytes came under another name too."""
    alike: defaultdict[bytes, list[str]] = defaultdict(list)
    for file in files:
        alike[file.digest].append(file.name)
    return {
        visible(name): f"the same file as {visible(next(one for one in names if one != name))}"
        for names in alike.values()
        if len(names) > 1
        for name in names
    }


def _codes_in(name: str) -> set[str]:
    """The codes that a file name holds."""
    found = set()
    for word in _WORD.findall(name):
        try:
            found.add(read_code(word))
        except Refusal:
            continue
    return found
