"""python -m leverarm.yard_page: see leverarm.yard_page.page."""

import sys

from leverarm.console import done
from leverarm.yard_page.page import main

sys.exit(done(main, sys.argv[1:]))
