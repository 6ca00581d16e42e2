"""Kit, effort and air: ordinary by default, and nothing that cannot be."""

import dataclasses
import math

import numpy as np
import pytest

import fireheat
from fireheat import Air, Effort, InputError, Kit
from fireheat.kit import kit_power
from fireheat.kit_heat import kit_heat

CLASSES = (Kit, Effort, Air)


@pytest.mark.parametrize("kind", CLASSES)
def test_each_is_ordinary_without_a_word(kind):
    made = kind()
    assert all(field.default is not dataclasses.MISSING for field in dataclasses.fields(kind))
    assert made == kind()


@pytest.mark.parametrize("kind", CLASSES)
def test_none_can_be_changed_in_place(kind):
    made = kind()
    name = dataclasses.fields(kind)[0].name
    with pytest.raises(dataclasses.FrozenInstanceError):
        setattr(made, name, 1.0)


def test_they_live_in_the_package_itself():
    assert {"Kit", "Effort", "Air", "InputError"} <= set(dir(fireheat))
    assert issubclass(fireheat.InputError, ValueError)


NUMBERS = [
    (kind, field.name)
    for kind in CLASSES
    for field in dataclasses.fields(kind)
    if isinstance(field.default, float)
]


@pytest.mark.parametrize(("kind", "name"), NUMBERS)
@pytest.mark.parametrize("value", [math.nan, math.inf, -1.0, "0.5", None, [0.1, 0.2], True, 1e6])
def test_no_field_takes_what_cannot_be(kind, name, value):
    with pytest.raises(InputError):
        kind(**{name: value})


@pytest.mark.parametrize(("kind", "name"), NUMBERS)
@pytest.mark.parametrize("number", [np.array, np.float64])
def test_a_number_of_numpy_is_kept_as_a_plain_one(kind, name, number):
    plain = kind()
    made = kind(**{name: number(getattr(plain, name))})
    assert type(getattr(made, name)) is float
    assert made == plain
    assert hash(made) == hash(plain)


@pytest.mark.parametrize(
    ("kit", "duration", "words"),
    [
        (Kit(), 0.0, "duration is 0 s; allowed: above 0 s"),
        (
            Kit(radius=0.05),
            1.0,
            r"radius is 0\.05 m; allowed: up to 0\.04 m, the radius of the board",
        ),
    ],
)
def test_a_picture_of_the_heat_that_cannot_be_made_is_refused(kit, duration, words):
    with pytest.raises(InputError, match=words):
        kit_heat(kit, Effort(), Air(), duration)


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: Kit(radius=0.0), "spindle tip radius is 0 m; allowed: 0.001 to 0.05 m"),
        (lambda: Kit(radius=0.5), "Did you mean 0.5 in"),
        (lambda: Kit.from_diameter(0.5), "spindle diameter is 0.5 m"),
        (lambda: Kit(cord_radius=-1.0), "cord radius is -1 m"),
        (lambda: Kit(moisture=9.0), "Did you mean 9 %"),
        (lambda: Kit(contact="worn"), "worn"),
        (lambda: Kit(wood="granite"), "granite"),
        (lambda: Effort(speed=-0.1), "bow speed is -0.1 m/s"),
        (lambda: Effort.from_strokes(stroke_length=50.0, strokes_per_minute=120), "50 cm"),
        (lambda: Air(relative_humidity=50), "Did you mean 50 %"),
        (lambda: Air(temperature=20.0), "Did you mean 20 °C"),
    ],
)
def test_a_refusal_says_what_how_much_and_what_is_allowed(make, words):
    with pytest.raises(InputError) as refused:
        make()
    assert words in str(refused.value)


def test_replacing_a_field_checks_again():
    with pytest.raises(InputError, match="radius"):
        dataclasses.replace(Kit(), radius=-1.0)


def test_a_ruler_and_a_radius_make_the_same_kit():
    assert Kit.from_diameter(0.026, friction=0.4) == Kit(radius=0.013, friction=0.4)
    assert Kit.from_diameter(0.026).diameter == 0.026


def test_strokes_and_speed_make_the_same_effort():
    counted = Effort.from_strokes(stroke_length=0.5, strokes_per_minute=120, force=40.0)
    assert counted == Effort(force=40.0, speed=1.0)


def test_a_kit_makes_the_watts_of_its_torque_and_turning():
    # The same formula by another way, so an example, not a check (test_bowing has those). Flat
    # pivot, uniform wear: torque is half of friction times load times radius (Shigley, Mechanical
    # Engineering Design, axial clutches, from memory); power is torque times turning.
    kit, effort = Kit(friction=0.4, radius=0.01, cord_radius=0.02), Effort(force=50.0, speed=1.0)
    torque, turning = 0.5 * 0.4 * 50.0 * 0.01, 1.0 / 0.02
    assert kit_power(kit, effort) == pytest.approx(torque * turning)
