"""Set this folder up once, then open the workbook:  python src/start.py  (--help says more).

This file keeps to words that every Python of the last fifteen years can read,
so that an old one gets a sentence and not a syntax error. The work is done in `launch/`.
"""

import os
import sys

OLDEST = (3, 11)
HERE = os.path.dirname(os.path.abspath(__file__))


def too_old(version):
    """The sentence for a Python that is too old; nothing for a fit one."""
    if tuple(version[:2]) >= OLDEST:
        return None
    return (
        "This workbook needs Python %d.%d or newer, and this is Python %d.%d: "  # noqa: UP031 - this line is run by Python 2.7 too
        "install a newer one from python.org or with your system's package manager, "
        "then start again with its launcher (python3 on Linux and macOS, py on Windows)."
        % (OLDEST + tuple(version[:2]))
    )


if __name__ == "__main__":
    sentence = too_old(sys.version_info)
    if sentence:
        sys.exit(sentence)
    if HERE not in sys.path:
        sys.path.insert(0, HERE)
    from launch.commands import main

    sys.exit(main(sys.argv[1:]))
