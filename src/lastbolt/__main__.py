"""`python -m lastbolt`."""

import sys

from lastbolt.cli.main import main

sys.exit(main())
