"""Where the heat of a wearing contact is, at any moment."""

import numpy as np
import pytest

from fireheat.heat.contact import Contact
from fireheat.heat.material import Material
from fireheat.heat.warming import least_power
from fireheat.heat.wear_course import wearing_heat
from fireheat.heat.wearing import wearing

CONTACT = Contact(
    radius=0.0065,
    length=0.15,
    film=10.0,
    spindle=Material(0.12, 0.22, 6e5),
    board=Material(0.12, 0.12, 6e5),
)
TRIED = {"rise": 280.0, "energy": 130.0, "depth": 0.004}
EMBER = wearing(CONTACT, power=10.0, **TRIED).ember


def test_where_nothing_rubs_no_heat_is_anywhere():
    heat = wearing_heat(CONTACT, power=0.0, time=[1.0, 20.0], **TRIED)
    for part in heat:
        assert part.tolist() == [0.0, 0.0]
    assert wearing_heat(CONTACT, power=0.0, time=5.0, **TRIED) == (0.0, 0.0, 0.0)


def test_before_the_rise_it_is_what_soaks_into_faces_that_stay():
    time = np.array([1.0, 4.0])
    heat = wearing_heat(CONTACT, power=10.0, time=time, **TRIED)
    soaked = [CONTACT.soaked(when, smoke=when, power=10.0) for when in time.tolist()]
    np.testing.assert_allclose(np.transpose(heat), soaked, rtol=2e-3, atol=0.02)


def test_what_never_gets_hot_takes_all_the_heat():
    weak = 0.9 * 280.0 / CONTACT.steady
    assert weak < least_power(CONTACT, rise=280.0, depth=0.004)
    time = np.array([10.0, 100.0, 500.0])
    heat = wearing_heat(CONTACT, power=weak, time=time, **TRIED)
    np.testing.assert_allclose(sum(heat), weak * time, rtol=1e-3)
    assert all(part.shape == time.shape for part in heat)


def test_wear_goes_on_after_the_ember_as_if_more_were_wanted():
    # Twice the dust at twice the depth is the same wear, gone on with.
    later = wearing(CONTACT, power=10.0, rise=280.0, energy=260.0, depth=0.008).ember
    assert later > 1.5 * EMBER
    going_on = wearing_heat(CONTACT, power=10.0, time=later, **TRIED)
    whole = wearing_heat(CONTACT, power=10.0, rise=280.0, energy=260.0, depth=0.008)
    np.testing.assert_allclose(going_on, whole, rtol=0.01)
    assert 10.0 * later - sum(going_on) == pytest.approx(260.0, rel=0.01)


def test_at_the_ember_time_may_be_said_or_left_out():
    said = wearing_heat(CONTACT, power=10.0, time=EMBER, **TRIED)
    np.testing.assert_allclose(said, wearing_heat(CONTACT, power=10.0, **TRIED), rtol=1e-3)
