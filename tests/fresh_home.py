"""A plugin of pytest: things are kept in a folder that is thrown away, and none kept here are read.

It also spares every worker grammars of web addresses, which jsonschema would build for a second as
nbval is loaded; it does without.

It is named in ``pyproject.toml``, not in ``conftest.py``, which the notebooks do not see.
"""

import os
import sys
import tempfile

sys.modules.setdefault("rfc3987_syntax", None)  # type: ignore[arg-type]


def pytest_configure(config):
    folder = tempfile.TemporaryDirectory(prefix="fireheat-", ignore_cleanup_errors=True)
    config.add_cleanup(folder.cleanup)
    os.environ["FIREHEAT_HOME"] = folder.name
