"""python -m leverarm.handouts: see leverarm.handouts.parts."""

import sys

from leverarm.console import done
from leverarm.handouts.parts import main

sys.exit(done(main))
