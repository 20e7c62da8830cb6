"""`python -m proofgen` is the same as the `proofgen` command."""

import sys

from proofgen.cli import main

sys.exit(main())
