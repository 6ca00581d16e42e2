"""The repository keeps its own rules: layout, style, arrows, types, spelling, sources."""

import ast
import collections
import fnmatch
import io
import os
import re
import shutil
import subprocess
import sys
import sysconfig
import tokenize
import tomllib

import all_ran
import nbformat
import pytest
from lab import BROWSERS
from readme_pictures import PICTURES
from refresh_notebooks import notebooks

import fireheat

TOP = {
    "README.md",
    "DEVELOPERS.md",
    "LICENSE",
    "pyproject.toml",
    "binder",
    "notebooks",
    "fireheat",
    "tests",
}
STATUSES = {"published", "common practice", "assumption", "memory"}
POINTERS = {"constant", "same_as"}  # such a row takes source and status from where it points
# Words and invented scenes, and polynomials fitted to our own march: not values of the world.
WITHOUT_SOURCES = {
    "coach_cards.toml",
    "guide.toml",
    "left_out.toml",
    "lessons.toml",
    "paths.toml",
    "races.toml",
    "rules.toml",
    "shadow.toml",
    "still_panels.toml",
    "working.toml",
    "worksheets.toml",
}


def ignored(repository):
    lines = (repository / ".gitignore").read_text(encoding="utf-8").splitlines()
    return [line.rstrip("/") for line in lines if line]


def test_nothing_else_lies_at_the_top(repository):
    patterns = [".*", *ignored(repository)]
    names = {path.name for path in repository.iterdir()}
    assert {n for n in names if not any(fnmatch.fnmatch(n, p) for p in patterns)} == TOP


def run(*command, cwd):
    done = subprocess.run(command, cwd=cwd, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def test_ruff_finds_nothing(repository):
    run(sys.executable, "-m", "ruff", "check", cwd=repository)


def test_ruff_would_not_format_anything_otherwise(repository):
    run(sys.executable, "-m", "ruff", "format", "--check", cwd=repository)


def test_types_hold(repository):
    run(sys.executable, "-m", "mypy", "--no-incremental", "--cache-dir", os.devnull, cwd=repository)


def test_arrows_point_down_only(repository):
    script = shutil.which("lint-imports", path=sysconfig.get_path("scripts"))
    assert " 0 broken" in run(script, "--no-cache", cwd=repository)


def test_nothing_is_misspelt(repository, tmp_path):
    for path in notebooks():
        cells = nbformat.read(path, as_version=4).cells
        (tmp_path / f"{path.stem}.txt").write_text("\n\n".join(c.source for c in cells), "utf-8")
    own = sorted(name for name in TOP if (repository / name).exists())
    run(sys.executable, "-m", "codespell_lib", *own, str(tmp_path), cwd=repository)


# ---- the library's rooms ------------------------------------------------------------------------


def code_lines(text):
    """Count the lines of a module that hold code: no comment, no docstring, not empty."""
    skipped = {tokenize.COMMENT, tokenize.NL, tokenize.NEWLINE, tokenize.INDENT, tokenize.DEDENT}
    skipped.add(tokenize.ENDMARKER)
    lines = set()
    for token in tokenize.generate_tokens(io.StringIO(text).readline):
        if token.type not in skipped:
            lines.update(range(token.start[0], token.end[0] + 1))
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Expr) and isinstance(getattr(node.value, "value", None), str):
            lines -= set(range(node.lineno, node.end_lineno + 1))
    return len(lines)


def test_lines_of_code_are_counted_without_words():
    head = '"""Head."""\n\n# why\na = 1\n\n\n'
    body = 'def f():\n    """Do.\n\n    More.\n    """\n    return (\n        a\n    )\n'
    assert code_lines(head + body) == 5


def sources(repository):
    return sorted((repository / "fireheat").rglob("*.py"))


def test_no_module_has_grown_beyond_three_hundred_lines_of_code(repository):
    long = {path: code_lines(path.read_text(encoding="utf-8")) for path in sources(repository)}
    assert len(long) > 80
    assert {path.name: lines for path, lines in long.items() if lines > 300} == {}


def public_names(text):
    """Names that a module makes itself, by a definition or by giving a value."""
    for node in ast.parse(text).body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            yield node.name
        targets = getattr(node, "targets", [getattr(node, "target", None)])
        for target in filter(None, targets) if isinstance(node, ast.Assign | ast.AnnAssign) else ():
            yield from (part.id for part in ast.walk(target) if isinstance(part, ast.Name))


def test_the_names_that_a_module_makes_are_found():
    text = "from a import b\nC, D = 1, 2\nE: int = 3\n_f = 4\ndef g(): h = 5\nclass I: j = 6\n"
    assert list(public_names(text)) == ["C", "D", "E", "_f", "g", "I"]


def test_no_public_name_lives_in_two_modules(repository):
    homes = collections.defaultdict(set)
    for path in sources(repository):
        for name in public_names(path.read_text(encoding="utf-8")):
            if not name.startswith("_"):
                homes[name].add(path.relative_to(repository).as_posix())
    assert len(homes) > 300
    assert {name: places for name, places in homes.items() if len(places) > 1} == {}


def test_no_module_takes_another_modules_private_name(repository):
    taken = [
        f"{path.name}: {alias.name}"
        for path in [*sources(repository), *(repository / "tests" / "oracles").glob("*.py")]
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.ImportFrom)
        for alias in node.names
        if alias.name.startswith("_") and alias.name != "__version__"
    ]
    assert taken == []


def picked_by_number(source):
    """Lines where a function picks a part of what it is given by the part's number."""
    found = set()
    for function in ast.walk(ast.parse(source)):
        if isinstance(function, ast.FunctionDef | ast.Lambda):
            nodes = ast.walk(function.args)
            given = {node.arg for node in nodes if isinstance(node, ast.arg)} - {"self"}
            found |= {part.lineno for part in ast.walk(function) if is_picked(part, given)}
    return sorted(found)


def is_picked(node, given):
    if not isinstance(node, ast.Subscript):
        return False
    whole: ast.AST = node
    while isinstance(whole, ast.Subscript | ast.Attribute):
        whole = whole.value
    number = ast.unparse(node.slice).strip("-:").isdigit()
    return number and isinstance(whole, ast.Name) and whole.id in given


def test_what_is_picked_by_its_number_is_found():
    source = "def f(self, answer):\n    a = answer[2][1].low\n    return self.row, answer['now']\n"
    assert picked_by_number(source) == [2]
    assert picked_by_number("g = lambda a: a[1].time[3]") == [1]


def test_panels_answer_with_names_not_numbers(repository):
    panels = (repository / "fireheat" / "panels").glob("*.py")
    found = {path.name: picked_by_number(path.read_text(encoding="utf-8")) for path in panels}
    assert {name: lines for name, lines in found.items() if lines} == {}


def test_what_the_package_offers_is_what_its_rooms_define():
    for name, home in fireheat._HOMES.items():
        assert getattr(fireheat, name).__module__ == f"fireheat.{home}"


# ---- tables ------------------------------------------------------------------------------------


def rows(table, name=""):
    """Yield every row of a table of values: what holds a number, or says what it is."""
    if isinstance(table, dict) and is_row(table):
        yield name, table
        return
    for key, child in table.items() if isinstance(table, dict) else enumerate(table):
        if isinstance(child, dict | list):
            yield from rows(child, f"{name}.{key}".lstrip("."))


def is_row(table):
    children = [child if isinstance(child, list) else [child] for child in table.values()]
    holds = any(isinstance(item, int | float) for child in children for item in child)
    return holds or bool(table.keys() & {"unit", "source", "status"})


def complaints_about_sources(table):
    return [
        name
        for name, row in rows(table)
        if not row.keys() & POINTERS
        and (not str(row.get("source", "")).strip() or row.get("status") not in STATUSES)
    ]


def test_every_value_has_a_source_and_a_status(repository):
    tables = sorted((repository / "fireheat" / "data").glob("*.toml"))
    assert {"quantities.toml", "constants.toml"} <= {path.name for path in tables}
    for path in tables:
        if path.name not in WITHOUT_SOURCES:
            table = tomllib.loads(path.read_text(encoding="utf-8"))
            assert list(rows(table))
            assert complaints_about_sources(table) == [], path.name


def test_a_value_without_source_or_with_a_strange_status_is_seen():
    table = tomllib.loads("""
        [a]
        value = 1
        source = "a book"
        status = "memory"
        [b]
        value = 2
        status = "memory"
        [c]
        value = 3
        source = "a book"
        status = "surely"
        [[d.e]]
        value = 4
        [e]
        range = [5, 6]
        same_as = "a"
        [f]
        name = "leather"
        thickness = { value = 5, status = "memory" }
    """)
    assert complaints_about_sources(table) == ["b", "c", "d.e.0", "f.thickness"]


# ---- signatures --------------------------------------------------------------------------------


def bare(code):
    """Name what has no annotation in the signatures of a module's public functions."""
    for function in ast.parse(code).body:
        if isinstance(function, ast.FunctionDef) and not function.name.startswith("_"):
            takes = function.args
            named = [*takes.posonlyargs, *takes.args, *takes.kwonlyargs, takes.vararg, takes.kwarg]
            bare = [each.arg for each in named if each is not None and each.annotation is None]
            yield from (f"{function.name}({name})" for name in bare)
            if function.returns is None:
                yield f"{function.name} ->"


def test_every_public_function_says_what_it_takes_and_gives(repository):
    modules = sorted((repository / "fireheat").rglob("*.py"))
    assert len(modules) > 60
    found = {path.name: list(bare(path.read_text(encoding="utf-8"))) for path in modules}
    assert {name: names for name, names in found.items() if names} == {}


def test_a_signature_that_keeps_something_back_is_seen():
    code = """
def mean(first: float, *others, weight: float = 1.0, **more) -> float: ...
def total(values: list): ...
def _own(value): ...
"""
    assert list(bare(code)) == ["mean(others)", "mean(more)", "total ->"]


@pytest.mark.parametrize("system", ["runtime", "requirements"])
def test_the_binder_files_pin_what_they_name(repository, system):
    lines = (repository / "binder" / f"{system}.txt").read_text(encoding="utf-8").splitlines()
    lines = [line for line in lines if line and not line.startswith("#")]
    assert lines
    for line in lines:
        assert ("==" in line) or line.startswith("python-3."), line
        assert "://" not in line


def test_the_binder_environment_holds_every_dependency_at_an_allowed_version(repository):
    from packaging.requirements import Requirement

    text = (repository / "pyproject.toml").read_text(encoding="utf-8")
    lines = (repository / "binder" / "requirements.txt").read_text(encoding="utf-8").splitlines()
    pinned = dict(line.split("==") for line in lines if "==" in line)
    for need in map(Requirement, tomllib.loads(text)["project"]["dependencies"]):
        assert pinned[need.name] in need.specifier, need


def report(tmp_path, *cases):
    inside = "".join(
        f'<testcase classname="{name}" name="a">{mark}</testcase>' for name, mark in cases
    )
    path = tmp_path / "report.xml"
    path.write_text(f"<testsuites><testsuite>{inside}</testsuite></testsuites>")
    return path


def test_ci_fails_where_a_kind_of_test_was_not_run_or_was_skipped(tmp_path):
    all_kinds = [(f"{home}x", "") for home in ("tests.test_", "notebooks.", "tests.browser.")]
    assert all_ran.main(report(tmp_path, *all_kinds)) == 0
    for missing in all_kinds:
        rest = [case for case in all_kinds if case != missing]
        assert "no " in all_ran.main(report(tmp_path, *rest))
        skipped = [*rest, (missing[0], "<skipped/>")]
        assert "skipped: " in all_ran.main(report(tmp_path, *skipped))


def test_ci_knows_the_same_browsers_as_the_tests(repository):
    assert " ".join(BROWSERS) in (repository / ".ci" / "run").read_text(encoding="utf-8")


def test_the_readme_shows_the_pictures_that_its_command_makes(repository):
    shown = re.findall(
        r"\]\(notebooks/images/([^)]*)\)", (repository / "README.md").read_text("utf-8")
    )
    kept = [path.name for path in (repository / "notebooks" / "images").iterdir()]
    assert shown == list(PICTURES)
    assert sorted(kept) == sorted(PICTURES)
