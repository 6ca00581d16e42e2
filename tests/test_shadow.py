"""The march's quick shadow: how far it errs, where it refuses, and whether it is still the march's.

When a test here is red because the march, a wood, a slider or ``spread.toml`` moved, fit again:
``python tests/tools/fit_shadow.py``.
"""

from dataclasses import replace

import fit_shadow
import numpy as np
import pytest
from fit_shadow import TEN_MINUTES, WORDS, held_out, marched, watched

from fireheat import InputError
from fireheat.cases import case
from fireheat.data import table
from fireheat.heat import shadow
from fireheat.heat.material import Material
from fireheat.heat.two_stage import two_stage
from fireheat.heat.warming import least_power, warm_up
from fireheat.heat.wearing import wearing
from fireheat.kit.kit import Try

SAID = {which: table("shadow")[which] for which in ("smoke", "ember")}
SOME = held_out(seed=11, count=2500)
CONTACT, NUMBERS, SHAPE = shadow.side_by_side(SOME.contact, *SOME.march.values())
ORDINARY = case(Try())


@pytest.fixture(scope="module")
def both():
    """Times by the shadow and by the march, of kits that no fit has seen."""
    marches = {
        "smoke": warm_up(CONTACT, power=SOME.power, rise=SOME.smoke_rise),
        "ember": marched(CONTACT, dict(zip(SOME.march, NUMBERS, strict=True)), SHAPE),
    }
    shadows = {
        "smoke": shadow._smoke(CONTACT, SOME.power, SOME.smoke_rise),
        "ember": shadow._ember(CONTACT, *NUMBERS),
    }
    return {which: (shadows[which], marches[which]) for which in marches}


def off(both, which, late=False):
    """How far the shadow errs, in per cent, before ten minutes or later."""
    found, march = both[which]
    some = np.isfinite(march) & ~np.isnan(found) & ((march >= TEN_MINUTES) == late)
    return 100 * np.abs(found[some] / march[some] - 1)


# ---- is it still the march's? -------------------------------------------------------------------


@pytest.mark.parametrize("what", ["power", "smoke", "ember"])
def test_what_the_shadow_was_fitted_to_has_not_moved(what):
    kept, now = table("shadow")["watched"][what], watched()[what]
    np.testing.assert_allclose(now, kept, rtol=1e-3, err_msg=WORDS)


def test_the_table_holds_the_range_and_the_weights_that_the_script_would_write():
    for which, said in SAID.items():
        assert {key: tuple(ends) for key, ends in said["range"].items()} == fit_shadow.RANGE[which]
        assert said["weights"] == fit_shadow.WEIGHTS[which]
        terms = len(shadow._steps(tuple(said["weights"].values()))) + 1
        assert len(said["coefficients"]) == terms


# ---- how far it errs ----------------------------------------------------------------------------


@pytest.mark.parametrize("which", ["smoke", "ember"])
def test_it_errs_by_two_per_cent_at_99_of_100_kits_and_by_five_at_worst(both, which):
    errors = off(both, which)
    assert len(errors) > 1500
    assert np.quantile(errors, 0.99) < 2
    assert np.max(errors) < 5


@pytest.mark.parametrize("which", ["smoke", "ember"])
def test_it_errs_as_the_table_says(both, which):
    errors, late = off(both, which), off(both, which, late=True)
    said = SAID[which]
    assert np.median(errors) == pytest.approx(said["half_within"], rel=0.2)
    assert np.quantile(errors, 0.99) == pytest.approx(said["ninety_nine_within"], rel=0.25)
    assert np.quantile(late, 0.99) < 1.5 * said["after_ten_minutes_ninety_nine_within"]
    assert np.max(errors) < 1.5 * said["worst"]


def test_a_polynomial_less_would_err_by_far_more(both):
    _, rise, energy, depth, share = NUMBERS
    least = least_power(CONTACT, rise=rise, depth=depth, spindle_share=share)
    closed, _ = shadow._ember_groups(CONTACT, least, SOME.power, rise, energy, depth, share)
    march = both["ember"][1]
    some = np.isfinite(march)
    assert np.quantile(np.abs(closed[some] / march[some] - 1), 0.5) > 0.1


@pytest.mark.parametrize("which", ["smoke", "ember"])
def test_never_is_the_marchs_never_and_nearly_all_kits_have_a_shadow(both, which):
    found, march = both[which]
    told = ~np.isnan(found)
    assert np.mean(~told[np.isfinite(march)]) < 0.01
    assert np.array_equal(np.isinf(found[told]), np.isinf(march[told]))
    assert 0.1 < np.mean(np.isinf(march)) < 0.5


def test_no_ember_is_sooner_than_its_energy_allows(both):
    found = both["ember"][0]
    some = np.isfinite(found)
    assert np.all(found[some] >= (SOME.energy / SOME.power)[some])


# ---- as the march does ----------------------------------------------------------------------


def along(**numbers):
    """Shadows of the held-out kits' contacts, some of their numbers changed."""
    known = dict(zip(SOME.march, NUMBERS, strict=True)) | numbers
    return shadow._ember(CONTACT, *known.values())


def grows(times):
    """Whether times grow along the first axis, wherever both neighbours have a shadow.

    Embers later than an hour aside: with next to the least power one that takes days hardly hangs
    on the energy any more, and the shadow then errs by more than that.
    """
    before, after = times[:-1], times[1:]
    with np.errstate(invalid="ignore"):
        return np.isnan(before) | np.isnan(after) | (before > 3600) | (after >= before * (1 - 1e-9))


def test_more_power_is_never_later_nor_more_heat_asked_for_sooner():
    _, rise, energy, depth, share = NUMBERS
    least = least_power(CONTACT, rise=rise, depth=depth, spindle_share=share)
    steps = np.geomspace(1.011, 150, 40)
    weaker = np.array([along(power=step * least) for step in steps[::-1]])
    assert np.mean(np.isfinite(weaker)) > 0.8
    assert np.all(grows(weaker))
    smoke = [
        shadow._smoke(CONTACT, step * SOME.smoke_rise / CONTACT.steady, SOME.smoke_rise)
        for step in steps[::-1]
    ]
    assert np.all(grows(np.array(smoke)))
    assert np.all(grows(np.array([along(energy=energy * more) for more in (1, 1.1, 1.3, 1.6)])))
    deeper = [along(energy=energy * more, depth=depth * more) for more in (1, 1.2, 1.5, 2.0)]
    assert np.all(grows(np.array(deeper)))


def test_thick_and_quick_it_is_the_closed_curve():
    one, area = ORDINARY, np.pi * ORDINARY.radius**2
    spindle, board = one.contact.spindle, one.contact.board
    closed, _ = two_stage(
        2000.0 / area,
        energy_per_area=1.0,
        effusivity=spindle.effusivity_axial + board.effusivity_axial,
        rise=one.smoke_rise,
    )
    quick = shadow.quick_smoke(one.contact, power=2000.0, rise=one.smoke_rise)
    assert quick == pytest.approx(closed, rel=0.02)
    slow = shadow.quick_smoke(one.contact, power=10.0, rise=one.smoke_rise)
    assert slow > 1.05 * closed * 200**2


def test_only_bare_numbers_matter():
    """A kit twice as wide and deep takes four times as long on twice the watts."""
    one = ORDINARY.contact
    wide = replace(one, radius=2 * one.radius, length=2 * one.length, film=one.film / 2)
    march = ORDINARY.march
    more = march | {
        "power": march["power"] * 2,
        "energy": march["energy"] * 8,
        "depth": march["depth"] * 2,
    }
    narrow = shadow.quick_ember(one, **march)
    assert shadow.quick_ember(wide, **more) == pytest.approx(4 * narrow, rel=1e-9)


# ---- where it refuses ---------------------------------------------------------------------------


STEEL = Material(0.12, 15.0, 4e6)
OUTSIDE = {
    "spindle of something else": ({"spindle": STEEL}, {}),
    "board of something else": ({"board": Material(0.5, 0.1, 6e5)}, {}),
    "spindle so short that its end matters": ({"length": 0.01}, {}),
    "no film": ({"film": 0.0}, {}),
    "a strong film": ({"film": 150.0}, {}),
    "a deep hole": ({}, {"depth": 40.0, "energy": 40.0}),
    "next to no wear": ({}, {"depth": 1e-4, "energy": 1e-4}),
    "dust that takes far more than it held": ({}, {"energy": 3.0}),
}


@pytest.mark.parametrize(("body", "times"), OUTSIDE.values(), ids=OUTSIDE)
def test_outside_its_range_there_is_no_shadow_and_the_kit_is_marched(body, times):
    contact = replace(ORDINARY.contact, **body)
    march = {key: float(value * times.get(key, 1.0)) for key, value in ORDINARY.march.items()}
    march["power"] *= 3
    kits, numbers, _ = shadow.side_by_side(contact, *march.values())
    assert np.isnan(shadow._ember(kits, *numbers))
    direct = wearing(contact, **march).ember
    assert np.isfinite(direct)
    assert shadow.quick_ember(contact, **march) == direct


def test_of_many_kits_only_those_outside_are_marched(monkeypatch):
    march, asked = ORDINARY.march, []

    def noted(contact, **numbers):
        asked.append(numbers["depth"].tolist())
        return wearing(contact, **numbers)

    monkeypatch.setattr(shadow, "wearing", noted)
    deeper = np.array([1.0, 1.5, 40.0])
    march |= {key: march[key] * deeper for key in ("depth", "energy")}
    found = shadow.quick_ember(ORDINARY.contact, **march | {"power": 30.0})
    assert asked == [[march["depth"][2]]]
    assert np.all(np.diff(found) > 0)


def test_with_no_power_there_is_never_anything():
    march = ORDINARY.march | {"power": np.array([0.0, 30.0])}
    assert np.isinf(shadow.quick_ember(ORDINARY.contact, **march)).tolist() == [True, False]
    quick = shadow.quick_smoke(ORDINARY.contact, power=march["power"], rise=255.0)
    assert np.isinf(quick).tolist() == [True, False]


def test_none_of_many_kits_is_none():
    march = ORDINARY.march | {"power": np.empty(0)}
    assert shadow.quick_ember(ORDINARY.contact, **march).shape == (0,)
    assert shadow.quick_smoke(ORDINARY.contact, power=np.empty(0), rise=255.0).shape == (0,)


def test_what_cannot_be_is_refused():
    with pytest.raises(InputError, match="power"):
        shadow.quick_ember(ORDINARY.contact, **ORDINARY.march | {"power": -1.0})
    with pytest.raises(InputError, match="contact is 'wood'"):
        shadow.quick_smoke("wood", power=10.0, rise=255.0)


# ---- cases ------------------------------------------------------------------------------------


def test_a_case_is_quick_about_smoke_ember_wear_and_luck():
    draws = {"luck": np.array([0.8, 1.25]), "wear": np.array([1.2, 0.92])}
    made = case(Try(), off=draws)
    smoke, ember = made.quick()
    assert smoke == pytest.approx(made.smoke, rel=0.01)
    assert ember == pytest.approx(made.ember, rel=0.01)
    plain = np.array([np.ravel(time)[0] for time in ORDINARY.quick()])
    assert smoke == pytest.approx(plain[0] * draws["luck"])
    beyond = plain[1] - ORDINARY.bound
    assert ember == pytest.approx(draws["luck"] * (ORDINARY.bound + draws["wear"] * beyond))
