"""How do we know? Equations with their values give the result, and every number has its source.

When a test here is red because the model reads another number, or an equation moved, find the
constants again: ``python tests/tools/find_constants.py``.
"""

import html
import importlib
import math
import os
import sys
from functools import cache

import find_constants as finder
import numpy as np
import pytest
from find_constants import WORDS, elsewhere, equations, library, moved, states

from fireheat import InputError, Kit
from fireheat.answers import working as module
from fireheat.answers.working import RESULTS, choices, results, working
from fireheat.answers.working_lines import least_dust, lines
from fireheat.cases import case
from fireheat.constants import constants
from fireheat.data import table
from fireheat.estimates import estimate
from fireheat.kit.kit import Try
from fireheat.kit.wood import my_wood, wood
from fireheat.panels.explorer import Explorer
from fireheat.panels.working import TheWorking, page_words, result_words
from fireheat.spread import drawn_case, even_shares, spread
from fireheat.texts import in_units
from fireheat.words import part_words

KITS = {
    "ordinary": Try(),
    "domed": Try().changed(contact="domed", wood="red_maple", temperature_ambient=263.0),
    "in grams": Try().changed(dust_mass=0.2e-3, diameter=0.011, friction=0.5),
    "taper": Try(Kit(cord_radius=0.012)),
    "smokes only": Try().changed(diameter=0.022, force=32.0, speed=0.9),
    "never": Try().changed(diameter=0.022, force=20.0, speed=0.3),
}
ROWS = table("working")["rows"]
ALL = os.environ.get("FIREHEAT_CONSTANTS") == "all"  # every row and setting: some minutes


@cache
def parted(state):
    """What the explorer has of a try already."""
    found = estimate(state.kit, state.effort, state.air)
    return found, spread(state, found=found)


def told(which, state, **known):
    found, spreads = parted(state)
    return working(which, state, found=found, spread=spreads, **known)


# ---- the equations give the result --------------------------------------------------------------


def worked(line):
    """Put the values of a line into its equation, which asks for these and no others."""
    right = equations()[line.equation].rhs
    given = {finder.LETTERS.get(put.symbol, put.symbol): put.value for put in line.values}
    assert {one.name for one in right.free_symbols} == given.keys()
    return float(right.subs({one: given[one.name] for one in right.free_symbols}))


@pytest.mark.parametrize("which", RESULTS)
@pytest.mark.parametrize("name", KITS)
def test_each_equation_with_its_values_gives_what_stands_below_it(name, which):
    state = KITS[name]
    made = told(which, state)
    for line in made.lines:
        if line.equation == "curve":  # Z is a curve, asked the other way round
            (rise,), time = line.values, line.result.value
            assert case(state).contact.impedance(time) == pytest.approx(rise.value, rel=1e-5)
        else:
            assert worked(line) == pytest.approx(line.result.value, rel=1e-9)


@pytest.mark.parametrize("which", RESULTS)
@pytest.mark.parametrize("name", KITS)
def test_the_last_line_is_the_result(name, which):
    state = KITS[name]
    found, spreads = parted(state)
    shown = results(state, found=found, spread=spreads)[which]
    last = lines(which, state, found=found)[-1].result
    if math.isfinite(shown[0]):
        assert last.value == pytest.approx(shown[0], rel=1e-12)
    else:  # then it is the watts that it would take
        assert last.value == pytest.approx(shown[-2], rel=1e-12)
        assert last.value > found.power


def test_the_floor_is_the_derived_one():
    from fireheat.derivation.bound import derived_bound, derived_power
    from fireheat.derivation.symbols import P

    floor = equations()["floor"].rhs.subs(P, derived_power())
    assert (floor / derived_bound()).simplify() == 1


def test_the_equations_in_the_table_are_those_that_the_script_would_write():
    now = {part: table("working")[part] for part in ("equations", "letters", "full")}
    assert now == finder.told(), WORDS


def test_equations_in_full_are_those_of_the_docstrings():
    full = dict(table("working")["full"]["dust"])
    assert (
        r"\delta_c"
        in full["Critical parameter of a hot heap in cold surroundings as conducting as itself."]
    )
    assert all(latex.strip() for part in table("working")["full"].values() for _, latex in part)


# ---- the list of numbers, found by moving each ---------------------------------------------------


def test_the_library_is_loaded_anew_and_put_back():
    before = dict(sys.modules)
    changed = {
        "constants.hole_draw": {"value": [0.3, 0.7]},
        "woods.red_maple": {"specific_gravity": 0.6},
    }
    with library(changed) as load:
        assert load("fireheat.heat.hole")._HOLE_DRAW == [0.3, 0.7]  # read on import
        assert load("fireheat.kit.wood").wood("red_maple").specific_gravity == 0.6
        assert load("fireheat.answers.working") is not module
    assert importlib.import_module("fireheat.heat.hole")._HOLE_DRAW == [0.276, 0.618]
    assert {k: v for k, v in sys.modules.items() if k.startswith("fireheat")} == {
        k: v for k, v in before.items() if k.startswith("fireheat")
    }


def test_every_number_of_a_row_is_moved_each_another_way():
    for name, numbers in finder.rows().items():
        moved_by = elsewhere(numbers)
        assert moved_by.keys() == numbers.keys()
        for key, value in numbers.items():
            assert not np.any(np.asarray(value) == np.asarray(moved_by[key])), name


def test_numbers_known_to_matter_are_listed_and_idle_ones_are_not():
    matters = {
        "ember": ("quantities.temperature_char", "quantities.spindle_film", "constants.hole_draw"),
        "smoke": ("quantities.temperature_smoke", "constants.conductivity_a", "spread.grain"),
        "floor": ("constants.water_latent_heat", "spread.density", "constants.heat_capacity_dry"),
        "dust": ("ember.activation_energy", "quantities.heap_share", "ember.hot_spot"),
        "heat": ("spread.hot_friction", "spread.tip_shape", "spread.creep"),
    }
    for which, keys in matters.items():
        assert set(keys) <= ROWS[which].keys()
    idle = {"ember.film", "constants.apparent_inertia_factor", "constants.latest_answer"}
    for which in RESULTS:
        assert not idle & ROWS[which].keys()
        assert not any(key.startswith(("everyday.", "catchers.")) for key in ROWS[which])
    assert "quantities.temperature_char" not in ROWS["heat"]
    assert ROWS["floor"].get("constants.conductivity_a") is None


def holds(only, one):
    return only.items() <= one.items()


def shown(settings, load=importlib.import_module):
    """What is shown of one setting, by result, and what was chosen there."""
    found, chosen = finder.results(load, settings)
    return {which: np.array([numbers]) for which, numbers in found.items()}, chosen


@pytest.fixture(scope="module")
def seen():
    """Settings that the list was not found with, and what is shown of them.

    With all, also those that numbers were found with which seldom matter: elsewhere they may not.
    """
    some = states(56 if ALL else 14, seed=2)
    some += states(finder.SELDOM, finder.SELDOM_SEED) if ALL else []
    return [(one, *shown(one)) for one in some]


@pytest.mark.parametrize("which", RESULTS)
def test_no_number_that_is_not_listed_moves_a_result_or_its_band(which, seen):
    """All that are not listed for a kit are moved at once."""
    known = finder.rows()
    for one, then, chosen in seen[:: 1 if ALL else 5]:
        listed = {name for name, only in ROWS[which].items() if holds(only, chosen)}
        idle = {name: elsewhere(known[name]) for name in known.keys() - listed}
        assert len(idle) > 100
        with library(idle) as load:
            assert not moved(shown(one, load)[0], then)[which][0], WORDS


LISTED = sorted({name for rows in ROWS.values() for name in rows})
SOME = LISTED if ALL else np.random.default_rng(5).permutation(LISTED)[:20].tolist()


@pytest.mark.parametrize("name", SOME)
def test_each_number_that_is_listed_moves_its_results_or_their_bands(name, seen):
    where = {which: rows[name] for which, rows in ROWS.items() if name in rows}
    with library({name: elsewhere(finder.rows()[name])}) as load:
        for which, only in where.items():
            fitting = [one for one in seen if holds(only, one[2])][: None if ALL else 2]
            assert any(moved(shown(one, load)[0], then)[which][0] for one, then, _ in fitting), (
                WORDS
            )


# ---- sources, words and shares -------------------------------------------------------------------


def test_every_number_listed_has_a_name_a_source_and_a_status():
    for which in RESULTS:
        for name in ("ordinary", "domed", "never"):
            rows = told(which, KITS[name]).rows
            assert len({(row.key.partition(".")[0], row.name) for row in rows}) == len(rows)
            for row in rows:
                assert row.name, row.key
                assert row.source, row.key
                assert row.status in {"published", "common practice", "assumption", "memory"}


def test_a_row_says_what_its_table_says():
    rows = {row.key: row for row in told("ember", Try()).rows}
    water = constants()["water_latent_heat"]
    mine = rows["constants.water_latent_heat"]
    assert (mine.value, mine.unit, mine.source) == (water.value, water.unit, water.source)
    assert rows["woods.western_redcedar"].value == 0.32
    assert rows["quantities.temperature_char"].status == "assumption"
    assert rows["spread.tip_shape"].value == (1.0, 1.333)
    assert "woods.red_maple" not in rows


@pytest.mark.parametrize("which", ["ember", "floor"])
def test_a_wood_of_any_continent_is_listed_and_one_that_was_weighed_is_not(which):
    def listed(some):
        return [
            row for row in told(which, Try().changed(wood=some)).rows if row.key[:6] == "woods."
        ]

    (row,) = listed("common_hazel")
    assert (row.key, row.value) == ("woods.common_hazel", wood("common_hazel").specific_gravity)
    assert "hazelnut" in row.source
    assert [row.key for row in listed("white_ash")] == ["woods.white_ash"]
    assert listed(my_wood(0.41)) == []


def test_only_the_wood_and_the_tip_of_now_are_listed():
    keys = {row.key for row in told("ember", KITS["domed"]).rows}
    assert "woods.red_maple" in keys
    assert "woods.western_redcedar" not in keys
    assert "quantities.dome_height" in keys
    assert "quantities.dome_height" not in {row.key for row in told("ember", Try()).rows}


def test_grams_need_no_density_for_the_floor():
    keys = {row.key for row in told("floor", KITS["in grams"]).rows}
    assert "constants.water_density" not in keys
    assert "constants.water_density" in {row.key for row in told("floor", Try()).rows}


@pytest.mark.parametrize("which", RESULTS)
def test_shares_are_of_a_whole_and_the_first_row_moves_the_result_most(which):
    made = told(which, Try())
    assert sum(made.shares.values()) == pytest.approx(1)
    swings = [abs(math.log(row.ends[1] / row.ends[0])) if row.ends else 0.0 for row in made.rows]
    assert swings == sorted(swings, reverse=True)
    assert swings[0] > 0


@pytest.mark.parametrize(("which", "within"), [("ember", 0.06), ("smoke", 0.06), ("floor", 0.03)])
def test_shares_are_near_those_of_draws_in_which_only_one_status_varies(which, within):
    """Another way: the variance of the logarithm of times that are drawn, one status at a time."""
    state = Try().changed(force=90.0)
    made, rows = told(which, state), {row.key: row for row in told(which, state).rows}
    varied = {}
    for status in ("published", "assumption", "memory"):
        shares = even_shares(2000)
        for key, values in shares.items():
            row = rows.get(f"spread.{key}")
            if row is None or row.status != status:
                values[:] = 0.5
        drawn = drawn_case(state, shares)
        smoke, ember = drawn.quick()
        times = {"ember": ember, "smoke": smoke, "floor": drawn.bound}[which]
        varied[status] = np.var(np.log(times[np.isfinite(times)]))
    whole = sum(varied.values())
    for status, variance in varied.items():
        assert made.shares.get(status, 0.0) == pytest.approx(variance / whole, abs=within)


def test_what_was_measured_is_in_the_shares_with_its_own_error():
    alone, measured = told("heat", Try()), told("heat", Try(), measured={"friction": 0.2})
    friction = {row.key: row for row in measured.rows}["spread.friction"]
    low, high = friction.ends
    assert high / low == pytest.approx(1.2**2)
    assert "spread.friction" not in {row.key for row in alone.rows}


def test_all_of_the_heat_made_hangs_on_what_is_assumed():
    assert told("heat", Try()).shares == {"assumption": 1.0}
    assert part_words(1.0) == "all"


def test_never_hangs_on_nothing_that_is_in_doubt():
    made = told("ember", KITS["never"])
    assert made.number == math.inf
    assert made.shares == {}
    assert "No number that we are unsure of" in page_words(made)


def test_a_heap_is_as_many_times_the_least_as_the_verdict_says():
    for state in KITS.values():
        made = told("dust", state)
        ends = [end for row in made.rows for end in row.ends]
        assert min(ends) < made.number < max(ends)
    assert least_dust({"bulk_density": 430.0}) == pytest.approx(2 * least_dust())


def test_what_is_left_out_is_told_by_the_models_themselves():
    for entry in table("left_out").values():
        assert set(entry["results"]) <= set(RESULTS)
        place, _, name = entry["told"].rpartition(".")
        try:
            told_by = importlib.import_module(entry["told"])
        except ModuleNotFoundError:
            told_by = getattr(importlib.import_module(place), name)
        assert told_by.__doc__
    for which in RESULTS:
        assert told(which, Try()).left_out


def test_what_never_comes_is_chosen_as_never():
    _, spreads = parted(KITS["never"])
    made = choices(KITS["never"], spread=spreads)
    assert (made["ember"], made["smoke"]) == ("never", "never")
    _, spreads = parted(KITS["smokes only"])
    assert choices(KITS["smokes only"], spread=spreads)["smoke"] == "comes"


def test_a_result_that_is_none_is_refused():
    found, spreads = parted(Try())
    with pytest.raises(InputError, match="result"):
        working("flame", Try(), found=found, spread=spreads)
    with pytest.raises(InputError, match="result"):
        lines("flame", Try(), found=found)


# ---- the page ------------------------------------------------------------------------------------


@pytest.mark.parametrize("which", RESULTS)
def test_the_page_asks_where_the_number_comes_from_and_puts_words_first(which):
    made = told(which, Try())
    spelled = page_words(made)
    assert spelled.startswith(
        f"<h3>Where does {result_words(which, made.number)} come from?</h3><p>"
    )
    assert spelled.index("$$") > spelled.index("</p>")
    assert "Whose word is it?" in spelled
    for row in made.rows:
        assert html.escape(row.name) in page_words(made, "rows")
    for one in made.left_out:
        assert html.escape(in_units(one.what)) in page_words(made, "left_out")


def test_values_put_in_are_spelled_in_the_readers_units():
    made = told("heat", Try())
    assert "60 N" in page_words(made)
    assert "13.5 lb" in page_words(made, system="us")
    assert "350 °C" in page_words(told("floor", Try()))
    assert "662 °F" in page_words(told("floor", Try()), system="us")


def test_a_never_is_asked_why():
    assert page_words(told("ember", KITS["never"])).startswith("<h3>Why never?</h3>")
    assert "rubbing makes only" in page_words(told("smoke", KITS["never"]))
    assert "Hot wood carries" in page_words(told("ember", KITS["smokes only"]))


def test_nothing_is_asked_while_it_is_folded():
    asked = []

    def ask(which):
        asked.append(which)
        return told(which, Try())

    box = TheWorking()
    box.show(ask)
    assert (asked, box.layout.display) == ([], "none")
    box.button.value = True
    assert (asked, box.layout.display) == (["ember"], None)
    box.which.value = "heat"
    box.part.value = "left_out"
    assert asked == ["ember", "heat", "heat"]
    assert "what is left out" in box.page.value


def test_the_explorer_unfolds_the_working_of_what_it_shows_now():
    panel = Explorer()
    assert panel.working.page.value == ""
    panel.working.button.value = True
    assert "Where does 56\xa0s come from?" in panel.working.page.value
    panel.set(force=90.0)
    likely = panel.working.page.value.partition("come from?")[0]
    assert "Where does 29\xa0s " in likely
    panel.working.which.value = "heat"
    panel.units.value = "us"
    assert "20.2\xa0lb" in panel.working.page.value
