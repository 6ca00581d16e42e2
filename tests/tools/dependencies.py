"""Run the tests, all but the browser's, with the oldest or the newest dependencies allowed.

    python tests/tools/dependencies.py oldest
    python tests/tools/dependencies.py newest [--python PYTHON] [WORDS FOR PYTEST ...]

Makes an environment that is thrown away afterwards. What is allowed stands in ``pyproject.toml``
alone: oldest installs each lower bound, and what those need as new as it comes. ``--python`` names
another Python than the one that runs this.
"""

import argparse
import os
import subprocess
import sys
import tempfile
import tomllib
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

REPOSITORY = Path(__file__).parents[2]


def allowed(project):
    """List what the library and its tests need, as the project's table says."""
    return [*project["dependencies"], *project["optional-dependencies"]["test"]]


def oldest(line):
    """Pin a need to its lower bound."""
    need = Requirement(line)
    (bound,) = (clause.version for clause in need.specifier if clause.operator == ">=")
    return f"{need.name}=={bound}"


def main(argv=None):
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("end", choices=["oldest", "newest"])
    parser.add_argument("--python", default=sys.executable)
    options, words = parser.parse_known_args(argv)
    project = tomllib.loads((REPOSITORY / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    needs = allowed(project)
    wanted = [oldest(need) for need in needs] if options.end == "oldest" else needs
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run([options.python, "-m", "venv", folder], check=True)
        programs = Path(folder) / ("Scripts" if os.name == "nt" else "bin")
        python = str(programs / "python")
        install = [python, "-m", "pip", "install", "-q"]
        subprocess.run([*install, *wanted, "-e", str(REPOSITORY)], check=True)
        say_versions(python, needs)
        test = [python, "-m", "pytest", "-m", "not browser", *words]
        path = os.pathsep.join([str(programs), os.environ.get("PATH", "")])
        return subprocess.run(test, cwd=REPOSITORY, env={**os.environ, "PATH": path}).returncode


def say_versions(python, needs):
    """Print what was installed of all that is named."""
    names = {canonicalize_name(Requirement(need).name) for need in needs}
    frozen = [python, "-m", "pip", "list", "--format=freeze"]
    listed = subprocess.run(frozen, check=True, capture_output=True, text=True).stdout.split()
    pairs = [line.split("==") for line in listed]
    print(subprocess.check_output([python, "--version"], text=True).strip(), end=": ")
    print(
        ", ".join(
            f"{name} {version}" for name, version in pairs if canonicalize_name(name) in names
        ),
        flush=True,
    )


if __name__ == "__main__":
    sys.exit(main())
