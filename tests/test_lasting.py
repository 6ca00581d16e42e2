"""How long an ember keeps: its balance of heat solved another way, limits, and the usual order."""

import math

import numpy as np
import pytest
from scipy import constants, integrate

from fireheat import Ember, InputError
from fireheat.ember.catchers import catchers
from fireheat.ember.draw import draw_history
from fireheat.ember.ember import face_flux
from fireheat.ember.lasting import lasting, lastings


@pytest.mark.parametrize(
    ("key", "ember"),
    [
        ("leather", Ember()),
        ("leather", Ember(radius=0.008)),
        ("papery_bark", Ember()),
        ("green_leaf", Ember()),
        ("aluminium_foil", Ember()),
    ],
)
def test_an_ember_goes_out_when_a_fine_solver_says_so(key, ember):
    area = math.pi * ember.radius**2

    def gain(log_time, state):
        time, kelvin = math.exp(log_time), state[0]
        watts, _ = draw_history(key, time=time, ground="dry soil", ember=ember)
        radiated = 0.9 * constants.Stefan_Boltzmann * (kelvin**4 - 293.15**4)
        lost = area * (10.0 * (kelvin - 293.15) + radiated)
        lost += watts * (kelvin - 293.15) / ember.rise
        return [time * (ember.power - lost) / (ember.mass * 1500.0)]

    def out(log_time, state):
        return state[0] - 723.15

    out.terminal = True
    found = integrate.solve_ivp(
        gain, (math.log(1e-8), math.log(60.0)), [873.15], events=out, rtol=1e-5, max_step=0.2
    )
    assert found.status == 1
    time = math.exp(found.t_events[0][0])
    keeps = lasting(key, ground="dry soil", ember=ember)
    assert keeps.alone.likely == pytest.approx(time, rel=0.05)


def test_where_it_holds_its_own_it_lasts_until_its_dust_is_gone():
    keeps = lasting("thick_bark", ground="dry soil")
    assert keeps.alone.likely == Ember().burning_time
    assert keeps.alone.high == 900.0
    assert keeps.fed.likely == math.inf


def test_an_ember_that_makes_next_to_nothing_is_out_within_seconds_whatever_it_lies_on():
    weak = Ember(heat_of_smouldering=1e6, burning_time=7200.0)
    for key in ("thick_bark", "wood_chip", "dead_leaf"):
        # What it holds above 450 degC, over what its face alone loses at that: no longer than this.
        longest = weak.mass * 1500 * 150 / (weak.area * 15e3)
        assert lasting(key, ground="air gap", ember=weak).alone.likely < longest


def test_foil_robs_an_ember_sooner_than_a_green_leaf_and_that_sooner_than_bark_or_leather():
    # Common practice, no source: this order.
    keys = ("aluminium_foil", "green_leaf", "leather", "papery_bark", "thick_bark")
    times = [lasting(key, ground="dry soil").alone.likely for key in keys]
    assert times == sorted(times)
    assert len(set(times)) == len(times)


@pytest.mark.parametrize("key", ["steel", "leather", "thick_bark"])
@pytest.mark.parametrize("ground", ["air gap", "wet soil"])
def test_fed_on_a_bed_it_never_keeps_for_less_and_bands_are_in_order(key, ground):
    keeps = lasting(key, ground=ground)
    for alone, fed in zip(keeps.alone, keeps.fed, strict=True):
        assert 0 <= alone <= fed
    for band in keeps:
        assert band.low <= band.likely <= band.high


def test_more_dust_under_and_in_the_ember_keeps_it_longer():
    thin, thick = (
        lasting("leather", ground="dry soil", ember=Ember(crust=crust)).alone
        for crust in (0.0, 0.001)
    )
    small, big = (
        lasting("leather", ground="dry soil", ember=Ember.of_mass(mass)).alone
        for mass in (1e-4, 4e-4)
    )
    assert thin.likely < thick.likely
    assert small.likely < big.likely
    assert np.isfinite([thin.likely, small.likely]).all()


def test_an_unknown_catcher_or_ground_is_refused():
    with pytest.raises(InputError, match="catcher is 'ice'"):
        lasting("ice")
    with pytest.raises(InputError, match="ground is 'sea'"):
        lasting("leather", ground="sea")


@pytest.mark.parametrize("crust", [0.0, 0.001])
def test_all_catchers_at_once_say_what_each_says_alone(crust):
    ember = Ember(crust=crust)
    together = lastings(ground="dry soil", ember=ember)
    assert list(together) == list(catchers())
    for key in ("steel", "leather", "thick_bark"):
        alone = lasting(key, ground="dry soil", ember=ember)
        for one, other in zip(together[key], alone, strict=True):
            assert list(one) == pytest.approx(list(other), rel=1e-9)


def test_a_face_loses_what_the_law_says_and_as_much_more_for_a_kelvin():
    ember = Ember()
    for kelvin in (723.15, 873.15):
        law = face_flux(kelvin, temperature_ambient=293.15, film=10.0, emissivity=0.9)
        assert ember.face_loss_at(kelvin) == pytest.approx(law * ember.area)
        more = ember.face_loss_at(kelvin + 0.5) - ember.face_loss_at(kelvin - 0.5)
        assert ember.face_loss_slope(kelvin) == pytest.approx(more, rel=1e-6)
