"""`sudo python3 src/classserver COMMAND`: set up a class server and look after it."""

import sys
from pathlib import Path

sys.path[0] = str(Path(__file__).resolve().parents[1])

from classserver.commands import main  # noqa: E402 - found on the path set above

sys.exit(main(sys.argv[1:]))
