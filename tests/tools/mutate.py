"""Put small faults into a module, one at a time, and tell which of them no test sees.

    python tests/tools/mutate.py fireheat/heat/march.py [MORE MODULES] [--all | --sample N --seed S]

A fault never touches the disk: a forked child imports the module through a hook that hands out the
changed source. Its doctests run first, then tests of the files that import the module, then of
those that import one of its users, as far as time allows: first those that reach the changed
statement, the quick before the slow. All must pass without a fault. Faults that nobody could see
are listed, with the reason, in ``equivalent_mutants.toml``; a row there that fits no fault any
more is reported. Ends with 1 if a module has less than 95 % of the other faults seen, a stale row,
or more than 5 % of its faults excused. It forks, so not on Windows.
"""

import argparse
import ast
import contextlib
import doctest
import importlib
import importlib.util
import io
import json
import os
import random
import resource
import signal
import sys
import time
import tomllib
from functools import cache, partial
from pathlib import Path

os.environ |= {"OPENBLAS_NUM_THREADS": "1", "PYTEST_DISABLE_PLUGIN_AUTOLOAD": "1"}

import hypothesis
import pytest
from mutations import marked, mutants

HOME = Path(__file__).parents[2]
EQUIVALENT = Path(__file__).with_name("equivalent_mutants.toml")
HEAVY = (
    "scipy.integrate",
    "scipy.optimize",
    "sympy",
    "pint",
    "matplotlib",
    "hypothesis.strategies",
)
PANELS = ("fireheat.panels", "fireheat.figures")
ELSEWHERE = {
    "test_repository",
    "test_notebooks",
    "test_docstrings",
    "test_cli",
}  # not of one module
EVERYWHERE = {"test_every_formula"}  # finds what it tests by itself, in every room
DOCTESTS, MARK = "examples in the module", "__reached__"
SEEN, MOST_EXCUSED = 0.95, 0.05
OPTIONS = ["-x", "-q", "-o", "addopts=", "--import-mode=importlib", "-p", "no:cacheprovider"]
PHASES = (hypothesis.Phase.explicit, hypothesis.Phase.generate)


class Tests:
    """One run of a test file: few examples drawn, and of the tests only those picked, in order."""

    def __init__(self, picked=None):
        self.picked, self.reached, self.seconds, self.now = picked, {}, {}, "import"

    def reach(self, name: str, line: int):
        """Note that a statement of a module is run by the test that runs now."""
        self.reached.setdefault(self.now, {}).setdefault(name, {})[line] = True

    @pytest.hookimpl(hookwrapper=True)
    def pytest_collection(self):
        """Draw few examples, the same each time, and do not look for the smallest."""
        few = {"max_examples": 15, "derandomize": True, "database": None, "deadline": None}
        hypothesis.settings.register_profile("few", phases=PHASES, **few)
        hypothesis.settings.load_profile("few")
        self.now = "import"
        yield

    @pytest.hookimpl(trylast=True)
    def pytest_collection_modifyitems(self, items):
        """Take the tests that are picked, in their order."""
        if self.picked is not None:
            order = {test: place for place, test in enumerate(self.picked)}
            items[:] = [item for item in items if item.nodeid in order]
            items.sort(key=lambda item: order[item.nodeid])

    @pytest.hookimpl(hookwrapper=True)
    def pytest_runtest_protocol(self, item):
        """Know which test runs, and how much work it is."""
        self.now, start = item.nodeid, time.process_time()
        yield
        self.seconds[item.nodeid] = time.process_time() - start

    def passed(self, name: str, what: str) -> bool:
        """Run a test file, or the module's own examples, and tell whether all is well."""
        if what == DOCTESTS:
            self.now, self.seconds[DOCTESTS] = DOCTESTS, 0.0
            options = doctest.NORMALIZE_WHITESPACE | doctest.ELLIPSIS
            return not doctest.testmod(sys.modules[name], optionflags=options).failed
        return pytest.main([*OPTIONS, f"--rootdir={HOME}", what], plugins=[self]) == 0


class Hook:
    """Hands out one module's tree in place of its file."""

    def __init__(self, path: Path, tree: ast.Module, mark=None):
        self.name, self.path, self.mark = name_of(path), path, mark
        self.code = compile(tree, str(path), "exec", dont_inherit=True)

    def find_spec(self, name, path=None, target=None):
        """Answer for the one module."""
        mine = name == self.name
        return (
            importlib.util.spec_from_file_location(name, self.path, loader=self) if mine else None
        )

    def create_module(self, spec):
        """Leave it to Python."""

    def exec_module(self, module):
        """Run the module's tree."""
        vars(module)[MARK] = self.mark
        exec(self.code, vars(module))


def in_child(job, seconds: float):
    """Do a job in a forked child; None if it dies, or takes more seconds of work than it may."""
    reading, writing = os.pipe()
    if not (child := os.fork()):
        try:
            resource.setrlimit(resource.RLIMIT_CPU, (int(seconds) + 1, int(seconds) + 2))
            signal.alarm(int(20 * seconds) + 60)  # one that only waits does no work
            nothing = os.open(os.devnull, os.O_RDWR)
            for stream in range(3):
                os.dup2(nothing, stream)
            with os.fdopen(writing, "w") as pipe:
                json.dump(job(), pipe)
        finally:
            os._exit(0)
    os.close(writing)
    with os.fdopen(reading) as pipe:
        said = pipe.read()
    os.waitpid(child, 0)
    return json.loads(said) if said else None


def name_of(path: Path) -> str:
    """Dotted name of a module of the library."""
    return ".".join(path.relative_to(HOME).with_suffix("").parts).removesuffix(".__init__")


@cache
def homes() -> dict[str, str]:
    """Where the names live that the package itself lends out."""
    tree = ast.parse((HOME / "fireheat/__init__.py").read_text("utf-8"))
    lent = (node.value for node in tree.body if "_HOMES =" in ast.unparse(node)[:8])
    return {
        f"fireheat.{name}": f"fireheat.{home}"
        for name, home in ast.literal_eval(next(lent)).items()
    }


@cache
def uses(folder: str) -> dict[Path, set[str]]:
    """Names that each file below a folder imports, wherever in it the import stands."""
    found = {}
    for path in sorted((HOME / folder).rglob("*.py")):
        names, package = set(), path.relative_to(HOME).parts[:-1]
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Import):
                names |= {alias.name for alias in node.names}
            elif isinstance(node, ast.ImportFrom):
                above = package[: len(package) - node.level + 1] if node.level else ()
                base = ".".join([*above, *([node.module] if node.module else [])])
                names |= {base, *(f"{base}.{alias.name}" for alias in node.names)}
        found[path] = names | {homes()[name] for name in names & set(homes())}
    return found


def tests_of(name: str) -> list[str]:
    """Test files that import a module, then those that import a user of it.

    Those that open panels are slow: only the module's namesake, or where there is no other.
    """
    users = {name_of(path) for path, used in uses("fireheat").items() if name in used}
    plain, slow = {}, {}
    for path, used in uses("tests").items():
        if path.match("tests/test_*.py") and path.stem not in ELSEWHERE:
            direct = name in used or path.stem in EVERYWHERE
            namesake = path.stem == "test_" + name.rpartition(".")[2]
            panels = any(one.startswith(PANELS) for one in used) and not namesake
            if direct or users & used:
                (slow if panels else plain)[str(path)] = (not namesake, not direct)
    found = sorted(plain, key=plain.get)
    if all(Path(what).stem in EVERYWHERE for what in found):
        found += sorted(slow, key=slow.get)
    return found


@cache
def whole(what: str, name: str, paths: tuple[Path, ...]):
    """Run a test file, or a module's examples, without a fault: what reaches what, and the work."""

    def run():
        tests = Tests()
        for path in paths:
            mark = partial(tests.reach, name_of(path))
            sys.meta_path.insert(0, Hook(path, marked(path.read_text("utf-8"), MARK), mark))
        importlib.import_module(name)
        return tests.passed(name, what), tests.reached, tests.seconds

    passed, reached, seconds = in_child(run, 600) or (False, {}, {})
    if not passed:
        raise RuntimeError(f"{what} does not pass without a fault")
    return reached, seconds


def chosen(name: str, paths, most: float):
    """Tests to try a module's faults on: for each its file, its work, and the lines it reaches."""
    found, spent = {}, 0.0
    for what in [DOCTESTS, *tests_of(name)]:
        if spent < most:
            reached, seconds = whole(what, name if what == DOCTESTS else "fireheat", paths)
            lines = {test: {int(line) for line in at.get(name, ())} for test, at in reached.items()}
            at_import = lines.pop("import", set())
            if at_import or any(lines.values()):
                for test, work in sorted(seconds.items(), key=lambda row: row[1]):
                    found[test] = what, work, lines.get(test, set()), at_import
                    spent += work
    return found


def picked(tests, statement: int, most: float) -> dict[str, list[str]]:
    """Tests for a fault, by file: those that reach it come first, the quick before the slow."""
    hit = {test for test, (_, _, lines, _) in tests.items() if statement in lines}
    files = {
        what
        for test, (what, _, _, at_import) in tests.items()
        if test in hit or statement in at_import
    }
    found, spent = {}, 0.0
    for test in sorted(tests, key=lambda test: test not in hit):
        what, work = tests[test][:2]
        if what in files and (spent == 0 or spent + work < most):
            found.setdefault(what, []).append(test)
            spent += work
    return found


def try_module(path: Path, paths, options) -> tuple[int, int, int, int]:
    """Try a module's faults; count those seen, not seen and excused, and what is wrong here."""
    name, faults = name_of(path), mutants(path.read_text("utf-8"))
    place = str(path.relative_to(HOME))
    rows = tomllib.loads(EQUIVALENT.read_text("utf-8")).get("equivalent", [])
    excuses = {(row["line"], row["change"]) for row in rows if row["module"] == place}
    wrong = [f"stale: {row}" for row in excuses - {(one.line, one.change) for one in faults}]
    if len(excuses) > MOST_EXCUSED * len(faults):
        wrong.append(f"{len(excuses)} of {len(faults)} faults excused, more than one in twenty")
    try:
        tests = chosen(name, paths, options.seconds)
    except RuntimeError as error:
        say(f"{place}: {error}")
        return 0, 0, 0, 1
    work = sum(row[1] for row in tests.values())
    say(f"{place}: {len(faults)} faults, {len(tests)} tests, {work:.0f} s of work")
    if not options.all:
        faults = random.Random(options.seed).sample(faults, min(options.sample, len(faults)))
    count = {"seen": 0, "not seen": 0, "excused": 0}
    for fault in sorted(faults, key=lambda one: one.line_number):
        files = picked(tests, fault.statement, options.seconds)
        with fault.made() as tree:
            hook = Hook(path, tree)

        def broken(hook=hook, files=files):
            sys.meta_path.insert(0, hook)
            importlib.import_module(name)
            return next((what for what in files if not Tests(files[what]).passed(name, what)), "")

        if (fault.line, fault.change) in excuses:
            count["excused"] += 1
        elif in_child(broken, 3 * options.seconds) == "":
            count["not seen"] += 1
            say(f"  {place}:{fault.line_number}: {fault.change}")
        else:
            count["seen"] += 1
    for line in [*wrong, ", ".join(f"{number} {word}" for word, number in count.items())]:
        say(f"  {place}: {line}")
    return *count.values(), len(wrong)


def say(line: str):
    """Print at once: a run takes minutes."""
    print(line, flush=True)


def main() -> int:
    """Try the modules that are asked for."""
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("modules", nargs="+", type=Path)
    asked.add_argument("--all", action="store_true", help="every fault")
    asked.add_argument("--sample", type=int, default=15, help="so many faults of each module")
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--seconds", type=float, default=15.0, help="of work for one fault's tests")
    options = asked.parse_args()
    paths = tuple(path.resolve() for path in options.modules)
    os.chdir(HOME)
    sys.path.insert(0, str(HOME))
    for heavy in HEAVY:
        with contextlib.suppress(ImportError):
            importlib.import_module(heavy)
    with contextlib.redirect_stdout(io.StringIO()):
        pytest.main([*OPTIONS, "tests/conftest.py"])  # no test there: pytest itself is imported
    table = {path: try_module(path, paths, options) for path in paths}
    say(f"\n{'module':32}{'seen':>6}{'not seen':>10}{'excused':>9}{'score':>8}")
    good = True
    for path, (seen, unseen, excused, wrong) in table.items():
        score = seen / (seen + unseen) if seen + unseen else 1.0
        good &= score >= SEEN and not wrong
        say(f"{path.relative_to(HOME)!s:32}{seen:6}{unseen:10}{excused:9}{score:8.0%}")
    return 0 if good else 1


if __name__ == "__main__":
    raise SystemExit(main())
