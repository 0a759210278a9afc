"""python -m leverarm.handouts: see leverarm.handouts.parts."""

import sys

from leverarm.handouts.parts import main

sys.exit(main())
