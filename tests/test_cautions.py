"""Cautions stand where somebody acts, in one wording, and no page asks for a fire by accident."""

import re

import nbformat
import notebook_rules as rules
import pytest
from refresh_notebooks import NOTEBOOKS as FOLDER
from refresh_notebooks import notebooks

from fireheat.lessons import change_ratio

START, *OTHERS = notebooks()
ROOT = FOLDER.parent
HEADING = "Before anything burns"
THE_LIST = f"{START.name}#{HEADING.replace(' ', '-')}"

ANOTHER_WORDING = re.compile(
    r"(adult|person|leader) responsible|responsible (adult|person|leader)|(?<!adult )in charge\b"
    r"|adults? (beside|present|nearby|stands?|who)\b|grown-up|supervis",
    re.IGNORECASE,
)
ANOTHER_ADULT = re.compile(r"\b(?<!strong )adults?\b(?! in charge)", re.IGNORECASE)

FACTS = {
    "local law": r"local fire law, bans and site rules come first",
    "who is there": r"an adult in charge",
    "who makes an ember": r"a leader who knows this",
    "place": r"never in a tent, under a roof or in a classroom",
    "wind": r"strong wind",
    "ground": r"bare mineral ground, clear (for )?3 m",
    "water first": r"before the first stroke",
    "hair and cords": r"hair, cords and sleeves tied back",
    "feet": r"closed shoes",
    "eyes, watchers' too": r"eye protection.*(watch|stand back)",
    "poisonous wood": r"yew, laurel and oleander are poisonous",
    "treated wood": r"painted, glued or treated wood",
    "lungs": r"asthma",
    "cedar": r"cedar dust",
    "knives": r"knife rules.*tired hands",
    "knees": r"knees and knuckles away",
    "snapped spindle": r"cracks",
    "hot or thin block": r"bearing block (is )?(hot|getting hot)",
    "burns": r"cool it under running water at once",
    "by accident": r"bow in the air",
    "carrying": r"larger than a hand",
    "failed tries": r"a try that failed is hot, too.*never pack",
    "cold": r"hand above it first.*back of the hand",
}


def said(path):
    """Return what a reader is told, in one line."""
    notebook = nbformat.read(path, as_version=4) if path.suffix == ".ipynb" else None
    words = rules.markdown(notebook) if notebook else path.read_text(encoding="utf-8")
    return " ".join(words.split())


def section(words, heading):
    return words.split(f"## {heading}\n")[1].split("\n## ")[0]


@pytest.fixture(scope="module")
def the_list():
    return section(rules.markdown(nbformat.read(START, as_version=4)), HEADING)


@pytest.mark.parametrize("path", OTHERS, ids=lambda path: path.stem)
def test_each_page_has_one_short_line_at_its_top_that_leads_to_the_whole_list(path):
    first = nbformat.read(path, as_version=4).cells[0].source
    lines = [line for line in first.splitlines() if THE_LIST in line]
    assert len(lines) == 1
    assert re.fullmatch(r"\*[^*].*[^*]\*", lines[0]), "in italics, apart from the rest"
    assert "an adult in charge" in lines[0]
    assert "rules" in lines[0]
    assert len(lines[0].split()) <= 70


def test_the_list_can_be_read_at_a_glance(the_list):
    bullets = [line for line in the_list.splitlines() if line.startswith("- ")]
    assert 10 <= len(bullets) <= 14
    assert max(len(line.split()) for line in bullets) <= 28
    groups = re.findall(r"^\*\*(.+)\*\*$", the_list, re.MULTILINE)
    assert groups == ["Before", "While bowing", "After"]


@pytest.mark.parametrize("fact", FACTS)
def test_the_list_and_the_front_page_of_the_project_say_the_same(fact, the_list):
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    for words in (the_list, section(readme, HEADING)):
        assert re.search(FACTS[fact], " ".join(words.split()), re.IGNORECASE)


READ = [
    *notebooks(),
    ROOT / "README.md",
    ROOT / "fireheat" / "cli.py",
    *sorted((ROOT / "fireheat" / "data").glob("*.toml")),
    *sorted((ROOT / "fireheat" / "panels").glob("*.*")),
    *sorted((ROOT / "fireheat" / "pages").glob("*.*")),
]


@pytest.mark.parametrize("path", READ, ids=lambda path: path.name)
def test_who_is_in_charge_has_one_name(path):
    words = said(path)
    assert [found.group() for found in ANOTHER_WORDING.finditer(words)] == []
    if path.suffix in {".ipynb", ".md"}:
        assert [words[f.start() - 30 : f.end() + 20] for f in ANOTHER_ADULT.finditer(words)] == []


@pytest.mark.parametrize(
    "words",
    ["a responsible adult", "an adult responsible and present", "the person in charge"],
)
def test_another_name_is_seen(words):
    assert ANOTHER_WORDING.search(words)


GONE = {
    r"bow dry": "bowing without dust still makes heat",
    r"for a minute, without pressing\. Then press": "a minute of pressing can make an ember",
    r"half an hour": "nobody bows a tired child for that long",
    r"week by the stove": "near a stove, never on it",
    r"[Cc]old to the touch": "it asks for a touch",
    r"smoke for ever": "in the model what smokes comes to an ember",
    r"warm air is dry air": "relatively dry: the water is the same",
    r"What next\.": "words of our own",
    r"\btroop": "a group need not be one",
}


@pytest.mark.parametrize("path", [*notebooks(), ROOT / "README.md"], ids=lambda path: path.stem)
def test_what_misled_is_gone(path):
    words = said(path)
    assert [why for gone, why in GONE.items() if re.search(gone, words)] == []


def cell_with(number, words):
    path = next(path for path in notebooks() if path.name.startswith(number))
    cells = nbformat.read(path, as_version=4).cells
    (source,) = (c.source for c in cells if c.cell_type == "markdown" and words in c.source)
    return source


@pytest.mark.parametrize(
    ("number", "asked", "also"),
    [
        ("00", "carve it thinner", "knife rules"),
        ("03", "One answer to each card", "knife rules"),
        ("03", "Take it outside", "hot, too"),
        ("03", "Take it outside", THE_LIST),
        ("05", "lower the *bearing block friction*", "hot or thin"),
        ("05", "One of 11 mm", "knife rules"),
        ("06", "Which beat gives 1 m/s", THE_LIST),
        ("06", "A friend taps once", "in the air"),
        ("06", "bathroom scale (", "three strokes"),
        ("06", "bathroom scale (", THE_LIST),
        ("07", "that grows near you", "poisonous"),
        ("07", "spindle on a kitchen scale", "never on it"),
        ("07", "makes it *my wood*", "never on it"),
    ],
)
def test_where_somebody_is_asked_to_act_the_hazard_is_named(number, asked, also):
    assert also in cell_with(number, asked)


def test_the_two_frictions_of_the_text_are_the_library_s():
    words = cell_with("00", "**Your friction.**")
    assert "half the friction the floor is twice as long" in words
    assert change_ratio("bound", {"friction": 0.5}) == pytest.approx(2)
    assert "half as much again it is a third shorter" in words
    assert change_ratio("bound", {"friction": 1.5}) == pytest.approx(2 / 3)


@pytest.mark.parametrize("path", notebooks(), ids=lambda path: path.stem)
def test_links_name_a_page_as_it_names_itself(path):
    titles = {p.name: said(p).removeprefix("# ").partition("?")[0] + "?" for p in notebooks()}
    for number, name, target in re.findall(
        r"\[(\d\d) ([^\]]+)\]\((\d\d[\w-]+\.ipynb)\)", said(path)
    ):
        assert target.startswith(number)
        assert name in {"Start here", titles[target]}
