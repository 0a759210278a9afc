"""python -m leverarm.concept_check: see leverarm.concept_check.trial."""

import sys

from leverarm.concept_check.trial import main
from leverarm.console import done

sys.exit(done(main))
