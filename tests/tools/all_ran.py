"""Fail unless a test report shows that notebooks and the browser were tested and nothing skipped.

    python tests/tools/all_ran.py REPORT.xml

The report is what ``pytest --junitxml=REPORT.xml`` writes.
"""

import sys
import xml.etree.ElementTree as ET

KINDS = {"library": "tests.test_", "notebook": "notebooks.", "browser": "tests.browser."}


def tally(report):
    """Count tests that were run, by kind, and list those that were skipped."""
    cases = list(ET.parse(report).getroot().iter("testcase"))
    skipped = [case for case in cases if case.find("skipped") is not None]
    ran = [case.get("classname", "") for case in cases if case not in skipped]
    counts = {kind: sum(map(_starts(home), ran)) for kind, home in KINDS.items()}
    return counts, [f"{case.get('classname')}::{case.get('name')}" for case in skipped]


def _starts(home):
    return lambda name: name.startswith(home)


def main(report):
    counts, skipped = tally(report)
    print("ran:", ", ".join(f"{count} {kind}" for kind, count in counts.items()))
    complaints = [f"no {kind} test was run" for kind, count in counts.items() if not count]
    complaints += [f"skipped: {name}" for name in skipped]
    return "\n".join(complaints) or 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
