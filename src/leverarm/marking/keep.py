"""Keeping a small file so that nothing is lost: not by a kill, not by two windows on one file.

A file is written whole (:mod:`leverarm.files`), so it is the old one or the new one
and never half of each.  The version before is kept as a hidden file.  Whoever writes adds
its own lines to what is on the disk at that moment.
"""

from collections import Counter
from contextlib import suppress
from pathlib import Path

from leverarm.files import explain_os_error_briefly, file_lock, write_whole
from leverarm.marking.answers import lines_of as lines_of_text
from leverarm.quantities import Refusal
from leverarm.tables import decoded


def earlier(path):
    """Where the version before the present one is kept."""
    return path.with_name(f".{path.name}.earlier")


def aside(path):
    """Where lines go while another program holds the file itself: a name that its folder reads too."""
    end = "".join(path.suffixes[-2:])
    return path.with_name(f"{path.name.removesuffix(end)}-2{end}")


def lines_of(path):
    """The lines of a file; none where there is no file."""
    try:
        data = path.read_bytes()
    except FileNotFoundError:
        return []
    return lines_of_text(decoded(data)[0])


def merged(disk, mine):
    """Lines on the disk first, then those of mine that are missing there; equal lines count as often as they stand.

    >>> merged(["a", "b"], ["a", "c", "c"])
    ['a', 'b', 'c', 'c']
    """
    there, out = Counter(disk), list(disk)
    for line in mine:
        if there[line]:
            there[line] -= 1
        else:
            out.append(line)
    return out


class LineFile:
    """The lines of a file under its head line, shared with other windows.

    path    where it lies; head  its first line if it is new; is_head  tells a head line from others
    lines   all lines but the head, as far as this window knows
    """

    def __init__(self, path, head, is_head):
        self.path, self.head, self._is_head = Path(path), head, is_head
        self.lines = []
        self.refresh()

    def refresh(self):
        """Take in what is on the disk: the file, what stands aside, and the earlier version if that has more."""
        for path in (earlier(self.path), aside(self.path), self.path):
            found = lines_of(path)
            if found and self._is_head(found[0]):
                self.head, found = found[0], found[1:]
            self.lines = merged(found, self.lines)
        return self

    def add(self, line):
        """Write one more line at once; returns the file it went to.  Raises Refusal where no file takes it."""
        self.lines.append(line)
        try:
            with file_lock(self.path):
                return self._write()
        except OSError as why:
            self.lines.remove(line)
            raise Refusal(
                "answer file",
                self.path.name,
                "a folder that takes files",
                f"this answer is not kept yet: {explain_os_error_briefly(why)}, then check it again",
            ) from why

    def _write(self):
        """Keep the file as it is now, then put the new one in its place, or aside where another program holds it."""
        self.refresh()
        data = ("\n".join([self.head, *self.lines]) + "\n").encode()
        with suppress(OSError):
            if self.path.exists():
                write_whole(earlier(self.path), self.path.read_bytes())
        try:
            write_whole(self.path, data)
        except PermissionError:
            write_whole(aside(self.path), data)
            return aside(self.path)
        return self.path
