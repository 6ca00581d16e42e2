"""The tool that puts faults into a module: what it tries, what it sees, what it leaves alone."""

import ast
import shutil
import subprocess
import sys

import pytest
from mutations import marked, mutants

TOY = '''"""A toy."""


def area(width):
    """Square.

    Examples
    --------
    >>> area(3)
    9
    """
    return width * width


def longer(width):
    return width + 1


def least(width):
    if width <= 2:
        return 2
    return width
'''
TESTS = """from fireheat import toy


def test_longer_is_longer():
    assert toy.longer(2) > 2


def test_least():
    assert [toy.least(width) for width in (1, 2, 3)] == [2, 2, 3]
"""
SAME = """
[[equivalent]]
module = "fireheat/toy.py"
line = "if width <= 2:"
change = "width <= 2 → width < 2"
reason = "at 2 both ways give 2"
"""
STALE = SAME.replace("if width <= 2:", "if width <= 7:")


@pytest.fixture
def toy(tmp_path, repository):
    """A library of one module and one test, with the tool beside it."""
    for folder in ("fireheat", "tests/tools"):
        (tmp_path / folder).mkdir(parents=True)
    for name in ("mutate.py", "mutations.py"):
        shutil.copy(repository / "tests/tools" / name, tmp_path / "tests/tools")
    (tmp_path / "fireheat/__init__.py").write_text("_HOMES = {}\n", "utf-8")
    (tmp_path / "fireheat/toy.py").write_text(TOY, "utf-8")
    (tmp_path / "tests/test_toy.py").write_text(TESTS, "utf-8")
    return tmp_path


def tried(toy, rows):
    """What the tool ends with, and what it says of the toy, tried with some rows of excuses."""
    (toy / "tests/tools/equivalent_mutants.toml").write_text(rows, "utf-8")
    command = [sys.executable, "tests/tools/mutate.py", "fireheat/toy.py", "--all"]
    run = subprocess.run(command, cwd=toy, capture_output=True, encoding="utf-8", check=False)
    return run.returncode, run.stdout


def test_a_fault_nobody_sees_is_told_and_the_others_are_not(toy):
    ended, said = tried(toy, SAME + STALE)
    assert [line.strip() for line in said.splitlines() if "→" in line and "stale" not in line] == [
        "fireheat/toy.py:16: width + 1 → width + 2",
    ]
    assert "stale" in said
    assert "if width <= 7:" in said
    assert "2 of 15 faults excused, more than one in twenty" in said
    assert "13 seen, 1 not seen, 1 excused" in said
    assert ended == 1
    assert (toy / "fireheat/toy.py").read_text("utf-8") == TOY


def test_tests_that_fail_without_a_fault_are_told_first(toy):
    (toy / "tests/test_toy.py").write_text(TESTS.replace("> 2", "> 5"), "utf-8")
    ended, said = tried(toy, "")
    assert (ended, said.count("→")) == (1, 0)
    assert "test_toy.py does not pass without a fault" in said


@pytest.mark.parametrize(
    ("line", "change"),
    [
        ("x = a + b", "a + b → a - b"),
        ("x = a * b", "a * b → b"),
        ("x = a ** 2", "a ** 2 → a ** 3"),
        ("x = -a", "-a → a"),
        ("x = 0.5 * a", "0.5 * a → 0.55 * a"),
        ("x = a < b", "a < b → a <= b"),
        ("x = a in b", "a in b → not a in b"),
        ("x = a and b", "a and b → a or b"),
        ("x = max(a, b)", "max(a, b) → min(a, b)"),
        ("x = np.sin(a)", "np.sin(a) → np.cos(a)"),
        ("x = np.sqrt(a)", "np.sqrt(a) → a"),
        ("x = f(a, air=b)", "f(a, air=b) → f(a)"),
        ("x = a if b else c", "a if b else c → c if b else a"),
        ("f(a)", "f(a) → pass"),
        ("x += a", "x += a → x -= a"),
        ("def f(a=0.0):\n    return a", "return a → return -a"),
        ("if a:\n    x = b", "if a → if not a"),
    ],
)
def test_each_kind_of_fault_is_made_and_undone(line, change):
    faults = {fault.change: fault for fault in mutants(line)}
    fault = faults[change]
    with fault.made() as tree:
        assert ast.unparse(tree) != ast.unparse(ast.parse(line))
    assert ast.unparse(fault.tree) == ast.unparse(ast.parse(line))


def test_what_only_readers_and_checkers_see_is_left_alone():
    assert mutants('"""Words."""\nimport a\nx: int\nraise ValueError(f"{1 + 1}")') == []


def test_marks_stand_before_each_statement_and_change_nothing_else():
    lines, names = [], {}
    exec(compile(marked(TOY, "mark"), "toy", "exec"), names | {"mark": lines.append}, names)
    assert lines == [4, 15, 19]
    assert names["area"].__doc__.startswith("Square.")
