"""The march with wear: itself in fine steps, limits, one dimension, and wood really taken away."""

import math

import numpy as np
import pytest
import test_receding
from oracles.hole import drawn
from oracles.removing import Grid, extrapolated, removing
from oracles.wood import energy_per_area

from fireheat import Air, Effort, InputError, Kit
from fireheat.heat import warming, wearing
from fireheat.heat.contact import Contact, side_film
from fireheat.heat.hole import hole_draw
from fireheat.heat.march import march
from fireheat.heat.material import Material
from fireheat.heat.plain_wearing import wearing_march
from fireheat.heat.warming import least_power, warm_up
from fireheat.heat.wear_course import wearing_heat
from fireheat.heat.wearing import Wear
from fireheat.kit.bowing import friction_power
from fireheat.kit.wood import hot_properties, wood
from fireheat.quantities import default

SPINDLE, BOARD = Material(0.12, 0.22, 6e5), Material(0.12, 0.12, 6e5)
KIT = Contact(radius=0.0065, length=0.15, film=10.0, spindle=SPINDLE, board=BOARD)
TRY = {"power": 10.0, "rise": 280.0, "energy": 130.0, "depth": 0.004}


def between(draw, low, high, count):
    """Draw evenly in the logarithm."""
    return np.exp(draw.uniform(np.log(low), np.log(high), count))


def kits(count, seed, *, least=None):
    """Invented kits side by side; powers in watts, or so many times the least."""
    draw = np.random.default_rng(seed)
    radius, capacity = between(draw, 0.004, 0.016, count), between(draw, 3e5, 1.2e6, count)
    across, grain = between(draw, 0.06, 0.3, count), draw.uniform(1.5, 2.8, count)
    contact = Contact(
        radius=radius,
        length=draw.uniform(0.1, 0.3, count),
        film=draw.uniform(0, 50, count),
        spindle=Material(across, across * grain, capacity),
        board=Material(across * draw.uniform(1, 1.8, count), across, capacity),
    )
    rise, depth = draw.uniform(230, 380, count), between(draw, 0.001, 0.008, count)
    held = capacity * rise * depth * np.pi * radius**2
    power = between(draw, 3, 60, count)
    if least:
        power = between(draw, *least, count) * least_power(contact, rise=rise, depth=depth)
    energy = held * draw.uniform(1.05, 3, count)
    return contact, {"power": power, "rise": rise, "energy": energy, "depth": depth}


def one_of(contact, a_try, index):
    """Pick one kit of many."""

    def pick(material):
        return Material(*(getattr(material, name)[index] for name in MATERIAL))

    sizes = {name: getattr(contact, name)[index] for name in ("radius", "length", "film")}
    alone = Contact(**sizes, spindle=pick(contact.spindle), board=pick(contact.board))
    return alone, {name: float(values[index]) for name, values in a_try.items()}


MATERIAL = ("conductivity_radial", "conductivity_axial", "volumetric_heat_capacity")


def in_fine_steps(monkeypatch, steps=40):
    """Make the march many times finer in everything."""
    step = np.arange(steps + 1) / steps
    grading = wearing._GRADING
    fine = {
        "_STEPS": steps,
        "_STEP": step,
        "_MADE": step**grading,
        "_PACE": grading * step ** (grading - 1) / steps,
        "_EARLY": 16,
        "_LATE": 24,
        "_CLOSE": 1e-5,
    }
    monkeypatch.setattr(warming, "_TERMS", 11)
    for name, value in fine.items():
        monkeypatch.setattr(wearing, name, value)


# ---- itself in fine steps, and limits ---------------------------------------------------------


@pytest.mark.parametrize("least", [None, (1.05, 1.5), (1.5, 30.0)])
def test_few_steps_say_what_many_say(monkeypatch, least):
    contact, a_try = kits(90, 1, least=least)
    few = wearing.wearing(contact, **a_try)
    in_fine_steps(monkeypatch)
    many = wearing.wearing(contact, **a_try)
    comes = np.isfinite(many.ember)
    error = np.abs(few.ember[comes] / many.ember[comes] - 1)
    print(f"{comes.sum()} kits: {np.median(error):.5f} as a rule, {error.max():.5f} at most")
    assert comes.sum() >= 60
    assert np.median(error) < 1e-3
    assert error.max() < 4e-3
    np.testing.assert_array_equal(np.isfinite(few.ember), comes)
    np.testing.assert_allclose(few.reached, many.reached, rtol=1e-9)


def test_next_to_no_wear_is_the_march_of_faces_that_stay():
    contact, a_try = kits(90, 2)
    known = march(
        a_try["power"], rise=a_try["rise"], energy=a_try["energy"], impedance=contact.impedance
    )
    found = wearing.wearing(contact, **{**a_try, "depth": 1e-6 * a_try["depth"]})
    comes = np.isfinite(known[1])
    error = np.abs(found.ember[comes] / known[1][comes] - 1)
    print(f"{comes.sum()} kits: {error.max():.5f} at most")
    assert comes.sum() >= 60
    np.testing.assert_allclose(found.reached, known[0], rtol=1e-3)  # read off a table there
    assert error.max() < 1e-3


def test_next_to_no_wear_on_a_short_spindle_and_a_board_with_its_grain_is_the_march_too():
    contact = Contact(
        radius=0.008,
        length=np.array([0.01, 0.02, 0.04]),
        film=8.0,
        spindle=SPINDLE,
        board=Material(0.25, 0.1, 8e5),
    )
    power = 1.5 * 280.0 / np.asarray(contact.steady)
    known = march(power, rise=280.0, energy=130.0, impedance=contact.impedance)
    found = wearing.wearing(contact, power=power, rise=280.0, energy=130.0, depth=1e-8)
    print(found.ember / known[1] - 1)
    np.testing.assert_allclose(found.ember, known[1], rtol=1e-3)


def test_the_rise_comes_when_the_impedance_says():
    contact, a_try = kits(90, 3)
    when = warm_up(contact, power=a_try["power"], rise=a_try["rise"])
    comes = np.isfinite(when)
    there = a_try["power"] * contact.impedance(np.where(comes, when, 1.0))
    np.testing.assert_allclose(there[comes], a_try["rise"][comes], rtol=1e-8)
    np.testing.assert_allclose(when, wearing.wearing(contact, **a_try).reached, rtol=1e-9)
    assert np.all(a_try["rise"][~comes] > 0.99 * (a_try["power"] * contact.steady)[~comes])


PLANE = {
    "radius": 3.0,
    "film": 0.0,
    "spindle_conductivity": 0.2,
    "board_conductivity": 0.1,
    "volumetric_heat_capacity": 6e5,
}


def test_deep_in_plane_faces_wear_at_the_speed_that_all_heat_pays_for():
    area, flux, depth = np.pi * PLANE["radius"] ** 2, 60e3, np.array([0.05, 0.1])
    by_volume = 1.2 * PLANE["volumetric_heat_capacity"] * 280.0
    found = wearing_march(
        flux * area, rise=280.0, energy=by_volume * depth * area, depth=depth, **PLANE
    )
    speed = np.diff(depth) / np.diff(found.ember)
    print(f"{speed[0] / (flux / by_volume):.5f}")
    assert speed[0] == pytest.approx(flux / by_volume, rel=3e-3)
    # and the wood before each face holds what steady wear leaves there, k DT over its speed
    soaked = flux * found.ember[1] - by_volume * depth[1]
    assert soaked == pytest.approx(0.3 * 280.0 / (flux / by_volume / 2), rel=0.1)


def plane(kit, effort):
    """Kit and effort of the march in one dimension, on a tip too wide to matter."""
    air, char = Air(), default("temperature_char")
    between_them = (air.temperature + char) / 2
    density = wood(kit.wood).specific_gravity
    hot = hot_properties(density, moisture=kit.moisture, temperature=between_them)
    power = friction_power(
        effort.force, friction=kit.friction, speed=effort.speed, contact=kit.contact
    )
    energy = energy_per_area(
        kit.burn_in_depth,
        density=hot.density,
        moisture=kit.moisture,
        temperature_ambient=air.temperature,
        temperature_char=char,
    )
    wide = 3.0 / kit.radius
    return wearing_march(
        power * wide**2,
        rise=char - air.temperature,
        energy=energy * np.pi * (wide * kit.radius) ** 2,
        depth=kit.burn_in_depth,
        radius=wide * kit.radius,
        film=0.0,
        spindle_conductivity=hot.conductivity_along,
        board_conductivity=hot.conductivity,
        volumetric_heat_capacity=hot.volumetric_heat_capacity,
    )


@pytest.mark.parametrize(("kit", "effort"), test_receding.STATES)
def test_plane_faces_wear_as_marched_in_one_dimension(monkeypatch, kit, effort):
    monkeypatch.setattr(test_receding, "_STEP", 0.04)  # half of it moves the ember by 3e-5
    _, marched = test_receding.ember(kit, effort, wears=True)
    found = plane(kit, effort).ember
    print(f"{found:.3f} s, marched {marched:.3f} s: {found / marched - 1:+.5f}")
    assert found == pytest.approx(marched, rel=1e-3)


# ---- wood really taken away -------------------------------------------------------------------


def cells(contact, a_try):
    """Tell a kit to the finite volumes."""
    spindle, board = (
        tuple(getattr(body, name) for name in MATERIAL) for body in (contact.spindle, contact.board)
    )
    sizes = {"radius": contact.radius, "film": contact.film, "spindle_share": 0.5}
    return {**a_try, **sizes, "spindle": spindle, "board": board}


def behind_its_film(contact):
    """Return the contact with its film as felt through the wood of the rod."""
    across = contact.spindle.conductivity_radial
    film = side_film(contact.film, radius=contact.radius, conductivity=across)
    return Contact(
        radius=contact.radius,
        length=contact.length,
        film=film,
        spindle=contact.spindle,
        board=contact.board,
    )


COARSE = Grid(layers=6)


def compared(contact, a_try, grid=COARSE):
    """How much later the ember is than by finite volumes, and how far these have settled."""
    found = wearing.wearing(behind_its_film(contact), **a_try)
    alpha = contact.spindle.conductivity_axial / contact.spindle.volumetric_heat_capacity
    grid = grid._replace(reach=4.5 * math.sqrt(alpha * found.ember))
    reached, ember, settled = extrapolated(cells(contact, a_try), grid)
    wide, deep = 2e3 * contact.radius, 1e3 * a_try["depth"]
    print(
        f"{wide:.1f} mm, {a_try['power']:.1f} W, {deep:.1f} mm deep:"
        f" ember {found.ember:.1f} s, finite volumes {ember:.1f} s, {found.ember / ember - 1:+.4f} "
        f"(the last halving of layers {settled:+.4f}; the rise {found.reached / reached - 1:+.4f})"
    )
    return abs(found.ember / ember - 1), abs(settled)


@pytest.mark.parametrize("index", range(8))
def test_wood_really_taken_away_says_the_same(index):
    contact, a_try = one_of(*kits(8, 4, least=(1.7, 12.0)), index)
    later, settled = compared(contact, a_try)
    assert settled < 0.01
    assert later < 0.03


def test_wood_really_taken_away_says_nearly_the_same_of_a_kit_that_hardly_manages():
    # a fifth more than the least power; with the hole's draw left out it would be 10 % early
    contact, a_try = one_of(*kits(5, 11, least=(1.1, 1.3)), 3)
    later, settled = compared(contact, a_try)
    assert settled < 0.01
    assert later < 0.04


def test_the_ordinary_kit_comes_a_quarter_sooner_and_wood_really_taken_away_agrees():
    air, kit, effort = Air(), Kit(), Effort()
    char = default("temperature_char")
    density = wood(kit.wood).specific_gravity
    hot = hot_properties(density, moisture=kit.moisture, temperature=(air.temperature + char) / 2)
    power = friction_power(
        effort.force, friction=kit.friction, speed=effort.speed, contact=kit.contact
    )
    capacity, across = hot.volumetric_heat_capacity, hot.conductivity
    contact = Contact(
        radius=kit.radius,
        length=kit.spindle_length,
        film=air.film,
        spindle=Material(across, hot.conductivity_along, capacity),
        board=Material(across, across, capacity),
    )
    per_area = energy_per_area(
        kit.burn_in_depth,
        density=hot.density,
        moisture=kit.moisture,
        temperature_ambient=air.temperature,
        temperature_char=char,
    )
    a_try = {
        "power": power,
        "rise": char - air.temperature,
        "energy": per_area * np.pi * kit.radius**2,
        "depth": kit.burn_in_depth,
    }
    close = behind_its_film(contact)
    found = wearing.wearing(close, **a_try)
    still = march(power, rise=a_try["rise"], energy=a_try["energy"], impedance=close.impedance)
    print(f"{still[1]:.2f} s with faces that stay, {found.ember:.2f} s with wear")
    assert 0.70 < found.ember / still[1] < 0.74
    later, settled = compared(contact, a_try)
    assert settled < 0.01
    assert later < 0.03


@pytest.mark.parametrize("index", [0, 3, 6])
def test_wood_really_taken_away_leaves_the_heat_in_the_same_places(index):
    contact, a_try = one_of(*kits(8, 4, least=(1.7, 12.0)), index)
    heat = wearing_heat(behind_its_film(contact), **a_try)
    run = removing(cells(contact, a_try), Grid(layers=16))
    stored, air = (heat.spindle + heat.board) / run.made, heat.air / run.made
    print(f"stored {stored:.4f} and {run.stored / run.made:.4f}, air {air:.4f}", end=" ")
    print(f"and {run.lost / run.made:.4f} of {run.made:.0f} J")
    assert stored == pytest.approx(run.stored / run.made, abs=0.015)
    assert air == pytest.approx(run.lost / run.made, abs=0.01)


def test_two_alike_plane_bodies_share_their_heat_alike():
    wide = Contact(radius=3.0, length=1e3, film=0.0, spindle=BOARD, board=BOARD)
    area = np.pi * 9.0
    heat = wearing_heat(wide, power=8e4 * area, rise=280.0, energy=1e6 * area, depth=0.004)
    # The spindle's is followed from its face, the board's is what is left of all that was made.
    made = sum(heat) + 1e6 * area
    assert heat.spindle == pytest.approx(heat.board, abs=2e-3 * made)
    assert heat.air == pytest.approx(0.0, abs=1e-6 * made)


def test_the_finite_volumes_lose_no_heat_and_know_their_walls():
    contact, a_try = one_of(*kits(8, 4, least=(1.7, 12.0)), 0)
    kit = cells(contact, a_try)
    for walls in (0.0, 25.0):
        run = removing(kit, Grid(layers=6, wall_film=walls))
        assert run.dust + run.stored + run.lost == pytest.approx(run.made, rel=1e-9)
    assert run.ember > removing(kit, Grid(layers=6)).ember


def test_a_disc_draws_more_heat_from_the_bottom_of_a_hole():
    on_top = drawn(0.0)
    assert on_top == pytest.approx(3 * np.pi**2 / 8, rel=2e-3)
    for depth in (0.05, 0.1, 0.3, 1.0, 3.0, 10.0):
        assert hole_draw(depth, radius=1.0) == pytest.approx(drawn(depth) / on_top, abs=0.01)
    assert hole_draw(0.0, radius=1.0) == 1


def test_where_next_to_all_heat_goes_into_dust_nothing_holds_less_than_none():
    contact, a_try = kits(40, 8, least=(200.0, 1e5))
    for index in range(40):
        one, theirs = one_of(contact, a_try, index)
        ember = wearing.wearing(one, **theirs).ember
        heat = wearing_heat(one, **theirs)
        assert min(heat) >= 0
        assert sum(heat) + theirs["energy"] == pytest.approx(theirs["power"] * ember, rel=1e-9)
        course = wearing_heat(one, **theirs, time=np.linspace(0, 2 * ember, 9))
        assert min(map(np.min, course)) >= 0


# ---- never, order, and no jumps ---------------------------------------------------------------


def test_no_ember_is_sooner_than_its_energy():
    for seed, least in ((5, None), (6, (1.02, 2.0)), (7, (2.0, 200.0)), (8, (200.0, 1e5))):
        contact, a_try = kits(200, seed, least=least)
        found = wearing.wearing(contact, **a_try)
        assert not np.isnan(found.ember).any()
        assert np.all(found.ember >= a_try["energy"] / a_try["power"])
        assert np.all(found.ember >= found.reached)


def test_more_power_is_never_later():
    contact, a_try = kits(10, 8)
    least = least_power(contact, rise=a_try["rise"], depth=a_try["depth"])
    more = np.geomspace(0.5, 100, 400)[:, np.newaxis] * least
    found = wearing.wearing(contact, **{**a_try, "power": more})
    for time in found:
        comes = np.isfinite(time)
        assert np.all(comes[1:] >= comes[:-1])
        assert np.all(time[1:][comes[:-1]] < time[:-1][comes[:-1]])
    assert np.all(np.isfinite(found.ember[-1]))
    assert not np.isfinite(found.ember[0]).any()


@pytest.mark.parametrize("name", ["power", "rise", "energy", "depth", "radius", "film"])
def test_a_slider_does_not_make_it_jump(name):
    contact, a_try = kits(12, 9, least=(1.2, 20.0))
    factor = np.linspace(0.95, 1.05, 401)[:, np.newaxis]
    if name in a_try:
        a_try = {**a_try, name: factor * a_try[name]}
    else:
        sizes = {key: getattr(contact, key) for key in ("radius", "length", "film")}
        sizes[name] = factor * sizes[name]
        contact = Contact(**sizes, spindle=contact.spindle, board=contact.board)
    steps = np.diff(np.log(wearing.wearing(contact, **a_try).ember), axis=0)
    uneven = np.abs(np.diff(steps, axis=0))
    print(f"{name}: a step {np.abs(steps).max():.5f}, its change {uneven.max():.6f} at most")
    assert uneven.max() < 3e-4


def test_too_little_power_smokes_at_most():
    least = 280.0 / KIT.steady
    more = least_power(KIT, rise=280.0, depth=0.004)
    assert least < more < 1.1 * least
    never = {**TRY, "power": 0.99 * least}
    assert wearing.wearing(KIT, **never) == (math.inf, math.inf)
    assert wearing.wearing(KIT, **{**TRY, "power": 0.0}) == (math.inf, math.inf)
    smokes = wearing.wearing(KIT, **{**TRY, "power": (least + more) / 2})
    assert math.isfinite(smokes.reached)
    assert smokes.ember == math.inf
    assert math.isfinite(wearing.wearing(KIT, **{**TRY, "power": 1.05 * more}).ember)


def test_dust_takes_no_less_than_its_wood_held():
    held = 6e5 * 280.0 * 0.004 * np.pi * 0.0065**2
    same = [
        wearing.wearing(KIT, **{**TRY, "energy": part * held}).ember for part in (0.0, 0.5, 1.02)
    ]
    assert same[0] == same[1] == pytest.approx(same[2], rel=1e-12)
    assert wearing.wearing(KIT, **{**TRY, "energy": 1.05 * held}).ember > same[0]


def test_sharing_the_wear_is_best_but_hardly_matters():
    share = np.linspace(0.0, 1.0, 11)
    ember = wearing.wearing(KIT, **TRY, spindle_share=share).ember
    assert ember.argmin() in (4, 5, 6, 7, 8)
    assert np.ptp(ember) < 0.2 * ember.min()
    swapped = {**PLANE, "board_conductivity": 0.2}
    one, other = (
        wearing_march(2e6, rise=280.0, energy=2e7, depth=0.004, **swapped, spindle_share=part)
        for part in (0.2, 0.8)
    )
    assert one.ember == pytest.approx(other.ember, rel=1e-4)


# ---- how it is called -------------------------------------------------------------------------


def test_the_plain_formula_is_a_contact_with_a_long_spindle():
    plain = wearing_march(
        **TRY,
        radius=0.0065,
        film=10.0,
        spindle_conductivity=0.22,
        board_conductivity=0.12,
        volumetric_heat_capacity=6e5,
    )
    assert plain == pytest.approx(wearing.wearing(KIT, **TRY), rel=1e-9)
    assert isinstance(plain, Wear)
    assert all(type(time) is float for time in plain)


def test_kits_side_by_side_are_the_kits_one_by_one():
    contact, a_try = kits(12, 10, least=(0.9, 10.0))
    together = wearing.wearing(contact, **a_try)
    alone = [
        wearing.wearing(kit, **one) for kit, one in (one_of(contact, a_try, i) for i in range(12))
    ]
    np.testing.assert_allclose(together, np.transpose(alone), rtol=1e-5)
    table = wearing.wearing(contact, **{**a_try, "power": np.array([[20.0], [40.0], [60.0]])})
    assert table.ember.shape == table.reached.shape == (3, 12)
    assert wearing.wearing(contact, **{**a_try, "power": np.empty((0, 1))}).ember.shape == (0, 12)


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"power": -1.0}, "friction power"),
        ({"rise": 0.0}, "temperature rise"),
        ({"energy": math.nan}, "energy"),
        ({"depth": 0.0}, "burn-in depth"),
        ({"spindle_share": 1.2}, "spindle's share"),
    ],
)
def test_what_cannot_be_is_refused_by_name(wrong, words):
    with pytest.raises(InputError, match=words):
        wearing.wearing(KIT, **{**TRY, **wrong})


def test_the_way_of_a_contact_that_is_not_there_is_refused():
    many = {**TRY, "power": np.array([20.0, 40.0])}
    assert wearing.wearing_with_path(KIT, **many, which=1)[1] is not None
    with pytest.raises(InputError, match="which is 2; allowed: below 2"):
        wearing.wearing_with_path(KIT, **many, which=2)


def test_several_numbers_where_one_contact_is_followed_are_refused():
    for follow in (wearing.worn_path, wearing_heat):
        with pytest.raises(InputError, match="friction power must be one number"):
            follow(KIT, **{**TRY, "power": np.array([20.0, 40.0])})


def test_something_else_than_a_contact_is_refused():
    calls = (
        lambda: wearing.wearing(12.0, **TRY),
        lambda: warm_up(None, power=10.0, rise=280.0),
        lambda: least_power("oak", rise=280.0, depth=0.004),
    )
    for call in calls:
        with pytest.raises(InputError, match="allowed: a Contact"):
            call()
