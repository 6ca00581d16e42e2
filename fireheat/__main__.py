"""Run the command as ``python -m fireheat``."""

import sys

from .cli import main

sys.exit(main())
