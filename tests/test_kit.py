"""Kit, effort and air: ordinary by default, and nothing that cannot be."""

import dataclasses
import math

import numpy as np
import pytest

import fireheat
from fireheat import Air, Effort, InputError, Kit
from fireheat.answers.heat_view import kit_heat
from fireheat.kit.kit import Try
from fireheat.kit.wood import wood
from fireheat.quantities import quantity

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
        (Kit(), 0.0, "duration is 0 s; allowed: above 0, up to 3600 s"),
        (
            Kit(radius=0.05),
            1.0,
            r"radius is 0\.05 m; allowed: up to 0\.04 m, the radius of the board",
        ),
    ],
)
def test_a_picture_of_the_heat_that_cannot_be_made_is_refused(kit, duration, words):
    with pytest.raises(InputError, match=words):
        kit_heat(Try(kit), duration=duration)


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
    assert Try(kit, effort).power == pytest.approx(torque * turning)


# ---- all three as a try -------------------------------------------------------------------------


def test_a_try_is_ordinary_where_nothing_is_said():
    assert Try() == Try(Kit(), Effort(), Air())
    assert Try(air=None) == Try(Kit())
    assert hash(Try()) == hash(Try())
    with pytest.raises(dataclasses.FrozenInstanceError):
        Try().kit = Kit(friction=0.5)


@pytest.mark.parametrize(
    ("parts", "words"),
    [
        ((Effort(),), r"^kit is Effort\(force=60.*\); allowed: Kit\(\.\.\.\)$"),
        ((Kit(), Kit()), r"^effort is Kit\(radius=0\.008,.*\); allowed: Effort\(\.\.\.\)$"),
        ((Kit(), Effort(), Effort()), r"^air is Effort\(.*\); allowed: Air\(\.\.\.\)$"),
        ((Kit,), r"^kit is <class 'fireheat\.kit\.kit\.Kit'>; allowed: Kit"),
        ((0.0065,), r"^kit is 0\.0065; allowed: Kit"),
    ],
)
def test_a_part_in_the_wrong_place_is_refused_by_name(parts, words):
    with pytest.raises(InputError, match=words):
        Try(*parts)


# Of every quantity of the table that a try has: another value, and the part and field that it sets.
CHANGES = {
    "diameter": (0.02, "kit", "radius", 0.01),
    "friction": (0.5, "kit", "friction", 0.5),
    "burn_in_depth": (0.002, "kit", "burn_in_depth", 0.002),
    "moisture": (0.2, "kit", "moisture", 0.2),
    "axial_factor": (2.5, "kit", "axial_factor", 2.5),
    "force": (80.0, "effort", "force", 80.0),
    "speed": (1.5, "effort", "speed", 1.5),
    "temperature_ambient": (283.15, "air", "temperature", 283.15),
}


@pytest.mark.parametrize("key", CHANGES)
def test_a_quantity_is_changed_by_its_name_in_the_table_and_nothing_else_is(key):
    value, part, field, stored = CHANGES[key]
    before = Try(Kit(wood="white_ash", cord_radius=0.008), Effort(force=50.0), Air(film=20.0))
    after = before.changed(**{key: value})
    assert after.value(key) == value
    assert getattr(getattr(after, part), field) == stored
    wanted = {part: dataclasses.replace(getattr(before, part), **{field: stored})}
    assert after == dataclasses.replace(before, **wanted) != before
    # the same depth of a wider tip, and more depth of the same, is more dust
    grown = {"diameter": (0.02 / before.value("diameter")) ** 2, "burn_in_depth": 0.002 / 0.004}
    dust = {"dust_mass": pytest.approx(before.value("dust_mass") * grown.get(key, 1.0))}
    assert after.values() == before.values() | {key: value} | dust


def test_many_changes_at_once_are_the_same_as_one_by_one():
    values = {key: value for key, (value, *_) in CHANGES.items()}
    one_by_one = Try()
    for key, value in values.items():
        one_by_one = one_by_one.changed(**{key: value})
    assert Try().changed(**values) == one_by_one
    assert Try().changed() == Try()


def test_a_field_of_any_part_is_changed_by_its_own_name():
    oak = Try().changed(wood="northern_red_oak", contact="uniform_pressure", spindle_length=0.2)
    made = Kit(wood="northern_red_oak", contact="uniform_pressure", spindle_length=0.2)
    assert oak == Try(made)
    windy = Try().changed(temperature=283.15, relative_humidity=0.8, film=25.0)
    assert windy == Try(air=Air(temperature=283.15, relative_humidity=0.8, film=25.0))


@pytest.mark.parametrize(
    ("twice", "what"),
    [
        ({"diameter": 0.02, "radius": 0.01}, "the kit's radius"),
        ({"radius": 0.01, "diameter": 0.03}, "the kit's radius"),
        ({"temperature": 283.15, "temperature_ambient": 293.15}, "the air's temperature"),
    ],
)
def test_one_thing_under_two_names_is_refused_not_settled_by_the_last(twice, what):
    first, second = twice
    words = f"^cannot change both '{first}' and '{second}' of a try, .*{what}; allowed: one"
    with pytest.raises(InputError, match=words):
        Try().changed(**twice)


def test_the_values_of_a_try_are_those_of_its_parts():
    kit, effort, air = Kit(wood="white_ash"), Effort(force=50.0), Air(temperature=283.15)
    values = Try(kit, effort, air).values()
    assert set(values) == {*CHANGES, "specific_gravity", "dust_mass"}
    grown = kit.burn_in_depth * math.pi * kit.radius**2 * 1000 * kit.specific_gravity
    assert values["dust_mass"] == kit.dust == pytest.approx(grown)
    assert values["diameter"] == kit.diameter
    assert values["specific_gravity"] == kit.specific_gravity == wood("white_ash").specific_gravity
    assert (values["force"], values["temperature_ambient"]) == (50.0, 283.15)
    assert {type(value) for value in values.values()} == {float}


def test_what_a_try_has_not_is_refused_with_what_it_has():
    with pytest.raises(InputError, match=r"'stroke_length'; allowed: axial_factor, .*, speed"):
        Try().value("stroke_length")


@pytest.mark.parametrize("unknown", ["stroke_length", "kit", "pull"])
def test_a_change_that_cannot_be_made_is_refused_with_those_that_can(unknown):
    words = rf"^cannot change '{unknown}' of a try; allowed: "
    with pytest.raises(InputError, match=words) as refused:
        Try().changed(friction=0.4, **{unknown: 1.0})
    allowed = str(refused.value).split("allowed: ")[1].split(", ")
    own = {field.name for kind in CLASSES for field in dataclasses.fields(kind)}
    assert allowed == sorted({*CHANGES, *own})
    assert "dust_mass" in allowed


def test_specific_gravity_is_changed_with_the_wood():
    with pytest.raises(InputError, match="specific gravity belongs to the wood: change the wood"):
        Try().changed(specific_gravity=0.4)
    assert Try().changed(wood="white_ash").value("specific_gravity") > 0.5


@pytest.mark.parametrize(
    ("key", "value"),
    [
        (key, value)
        for key in (*CHANGES, "dust_mass")
        for value in (math.nan, -1.0, "thick", None)
        # no depth, or no mass, is what was not given
        if (key, value) not in {("burn_in_depth", None), ("dust_mass", None)}
    ],
)
def test_a_changed_quantity_is_checked_again(key, value):
    with pytest.raises(InputError, match=quantity(key).name):
        Try().changed(**{key: value})


# ---- a depth, or grams --------------------------------------------------------------------------


def test_a_kit_in_grams_is_as_deep_as_its_grams_make_it():
    # 0.25 g of wood of 320 kg/m^3 is 0.78 ml; over a tip 16 mm wide, 2.01 cm^2, that is 3.9 mm
    kit = Kit(radius=0.008, dust_mass=0.25e-3)
    assert kit.burn_in_depth == pytest.approx(0.0039, abs=0.00005)
    assert kit.dust == 0.25e-3
    assert Kit(burn_in_depth=kit.burn_in_depth).dust == pytest.approx(0.25e-3, rel=1e-12)
    assert Kit().dust_mass is None


def test_a_kit_in_grams_keeps_its_grams_and_one_in_depth_its_depth():
    grams, depth = Kit(dust_mass=0.25e-3), Kit(burn_in_depth=0.005)
    for change in ({"radius": 0.004}, {"wood": "white_ash"}, {"friction": 0.4}):
        assert grams.changed(**change).dust_mass == grams.changed(**change).dust == 0.25e-3
        assert depth.changed(**change).burn_in_depth == 0.005
        assert depth.changed(**change).dust_mass is None
    half = grams.changed(radius=0.004)
    assert half.burn_in_depth == pytest.approx(4 * grams.burn_in_depth, rel=1e-12)
    assert depth.changed(radius=0.004).dust == pytest.approx(depth.dust / 4, rel=1e-12)
    thin = Try(grams).changed(diameter=0.008).kit
    assert thin == half


def test_a_kit_goes_from_grams_to_depth_and_back():
    grams = Kit(dust_mass=0.25e-3)
    deep = grams.changed(burn_in_depth=0.005)
    assert (deep.burn_in_depth, deep.dust_mass) == (0.005, None)
    assert deep.changed(dust_mass=0.25e-3) == grams
    assert Try(deep).changed(dust_mass=0.25e-3).kit == grams
    assert Try(grams).changed(burn_in_depth=0.005).kit == deep
    assert grams.changed() == grams
    assert deep.changed() == deep


def test_depth_and_grams_at_once_are_refused():
    words = r"^burn-in depth is 0\.004 m and mass of dust 0\.00025 kg; allowed: one of them"
    for refused in (
        lambda: Kit(burn_in_depth=0.004, dust_mass=0.25e-3),
        lambda: Kit().changed(burn_in_depth=0.004, dust_mass=0.25e-3),
        lambda: Try(Kit(dust_mass=1e-4)).changed(burn_in_depth=0.004, dust_mass=0.25e-3),
    ):
        with pytest.raises(InputError, match=words):
            refused()
