"""How big an ember must be: published constants, closed forms, and balances solved another way."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import constants as nature
from scipy import integrate, optimize

from fireheat import Kit
from fireheat.constants import constant_band, constants
from fireheat.ember.ember import (
    Ember,
    dust_mass,
    face_flux,
    heap_mass,
    smoulder_power,
)
from fireheat.ember.ignition import (
    critical_parameter,
    critical_size,
    enough_dust,
    heap_radius,
    hot_spot_critical_parameter,
    layer_critical_parameter,
    will_it_keep,
)
from fireheat.quantities import InputError, default, quantity

SHAPES = ("slab", "cylinder", "sphere")
BIOTS = np.array([1e-3, 0.05, 0.3, 1.0, 4.0, 30.0, 1e3])


# ---- the critical parameter -----------------------------------------------------------------


@pytest.mark.parametrize(
    ("shape", "published"), [("slab", 0.878458), ("cylinder", 2.0), ("sphere", 3.32199)]
)
def test_a_skin_held_at_one_temperature_gives_frank_kamenetskiis_constants(shape, published):
    # Frank-Kamenetskii 1938, as reprinted in public encyclopedias.
    assert critical_parameter(shape) == pytest.approx(published, rel=2e-6)
    assert critical_parameter(shape, biot=1e8) == pytest.approx(published, rel=2e-6)


@pytest.mark.parametrize(("shape", "index"), [("slab", 0), ("cylinder", 1), ("sphere", 2)])
def test_a_well_mixed_heap_gives_semenovs_limit(shape, index):
    # Semenov 1928: loss through the skin over volume, divided by e. (from memory)
    assert critical_parameter(shape, biot=1e-6) == pytest.approx(
        1e-6 * (index + 1) / math.e, rel=1e-5
    )


def test_a_cylinder_follows_the_closed_form_of_barzykin():
    # Barzykin, Gontkovskaya, Merzhanov & Khudyaev, Zh. Prikl. Mekh. Tekh. Fiz. 3 (1964) 118, from
    # memory: exact for the cylinder, as maximising 8 B/(1+B)^2 exp(-4 B/((1+B) Bi)) shows.
    root = np.sqrt(BIOTS**2 + 4)
    published = BIOTS * (root - BIOTS) * np.exp((root - BIOTS - 2) / BIOTS)
    np.testing.assert_allclose(critical_parameter("cylinder", biot=BIOTS), published, rtol=1e-8)


def test_a_slab_follows_its_closed_form():
    # theta = theta_m - 2 ln cosh(D x): delta = 2 D^2 sech(D)^2 exp(-2 D tanh(D)/Bi), the greatest.
    def greatest(biot):
        def delta(d):
            return -2 * (d / np.cosh(d)) ** 2 * np.exp(-2 * d * np.tanh(d) / biot)

        most = 3 * min(1.0, math.sqrt(biot))  # a narrower search finds the narrow peak
        return -optimize.minimize_scalar(delta, bounds=(0, most), options={"xatol": 1e-12}).fun

    published = [greatest(biot) for biot in BIOTS]
    np.testing.assert_allclose(critical_parameter("slab", biot=BIOTS), published, rtol=1e-8)


@pytest.mark.parametrize("shape", SHAPES)
def test_a_poor_film_lowers_it_by_two_over_biot_at_first(shape):
    # Boddington, Gray & Harvey, Phil. Trans. R. Soc. A 270 (1971) 467 (from memory) expand in 1/Bi.
    # The first term, -2/Bi for every shape, is worked here from the slope of the greatest delta.
    biot = 1e4
    lowering = 1 - critical_parameter(shape, biot=biot) / critical_parameter(shape)
    assert lowering * biot == pytest.approx(2.0, rel=1e-3)


def balance_exists(index, delta, biot):
    """Tell whether a steady heap can be found, by collocation on the original equation."""

    def ends(centre, skin):
        return np.array([centre[1], skin[1] + biot * skin[0]])

    x = np.linspace(0, 1, 30)
    singular = np.array([[0.0, 0.0], [0.0, -float(index)]])

    def regular(x, state):
        return np.stack([state[1], -delta * np.exp(state[0])])

    guess = np.stack([1 - 0.5 * x**2, -x])
    with np.errstate(all="ignore"):
        found = integrate.solve_bvp(regular, ends, x, guess, S=singular, tol=1e-6, max_nodes=4000)
    return found.success and np.all(np.isfinite(found.y)) and found.y[0].max() < 20


@pytest.mark.parametrize(("shape", "index"), [("slab", 0), ("cylinder", 1), ("sphere", 2)])
@pytest.mark.parametrize("biot", [0.5, 3.0])
def test_a_heap_balances_below_and_not_above(shape, index, biot):
    critical = critical_parameter(shape, biot=biot)
    assert balance_exists(index, 0.98 * critical, biot)
    assert not balance_exists(index, 1.02 * critical, biot)


@given(st.floats(1e-4, 1e6), st.floats(1.01, 10.0), st.sampled_from(SHAPES))
def test_a_better_film_allows_more(biot, times, shape):
    assert critical_parameter(shape, biot=biot) < critical_parameter(shape, biot=times * biot)


@pytest.mark.parametrize(
    "biot", [0.0, -1.0, math.nan, -math.inf, [math.nan, 1.0], [-math.inf, 1.0], "x", None]
)
def test_a_biot_number_that_cannot_be_is_refused(biot):
    with pytest.raises(InputError, match="Biot number"):
        critical_parameter("slab", biot=biot)


def test_an_unknown_shape_is_refused():
    with pytest.raises(InputError, match="'cube'; allowed: slab, cylinder, sphere"):
        critical_parameter("cube")


# ---- a layer on a hot plate, a hot spot in the cold ----------------------------------------------


def test_a_layer_between_plate_and_equally_hot_still_air_is_half_a_thicker_slab():
    # No film: by mirror it is one half of a slab twice as thick, whose half thickness is two of
    # the layer's: a quarter of the slab's constant.
    assert layer_critical_parameter(1e-9, excess=0.0) == pytest.approx(0.878458 / 4, rel=1e-4)


@pytest.mark.parametrize(("biot", "excess"), [(1.0, 5.0), (2.0, 10.0), (1e6, 10.0)])
def test_a_layer_on_a_plate_balances_below_and_not_above(biot, excess):
    critical = layer_critical_parameter(biot, excess=excess)

    def exists(delta):
        x = np.linspace(0, 2, 60)

        def slopes(x, state):
            return np.stack([state[1], -delta * np.exp(state[0])])

        def ends(plate, open_face):
            return np.array([plate[0], open_face[1] + biot * (open_face[0] + excess)])

        line = -excess * x / (2 + 1 / biot)
        guess = np.stack([line + 0.5 * x * (2 - x), np.gradient(line, x)])
        with np.errstate(all="ignore"):
            found = integrate.solve_bvp(slopes, ends, x, guess, tol=1e-6, max_nodes=4000)
        return found.success and found.y[0].max() < 20

    assert exists(0.98 * critical)
    assert not exists(1.02 * critical)


def hot_spot_runs_away(delta, excess, index, patience=3):
    """March a hot heap in cold surroundings of its own kind; finite volumes on a graded grid."""
    edges = np.concatenate([np.linspace(0, 1.4, 71), 1.4 * np.geomspace(1, 4, 20)[1:]])
    middle, power = (edges[1:] + edges[:-1]) / 2, index + 1
    volume = np.diff(edges**power) / power
    link = edges[1:-1] ** index / np.diff(middle)
    heap = np.clip((1 - edges[:-1]) / np.diff(edges), 0, 1)
    spread = np.diag(-np.append(link, 0) - np.insert(link, 0, 0))
    spread = (spread + np.diag(link, 1) + np.diag(link, -1)) / volume[:, None]

    def made(rise):
        return delta * heap * np.exp(np.minimum(rise, 6))

    def glows(time, rise):
        return rise.max() - 5

    glows.terminal = True
    march = integrate.solve_ivp(
        lambda time, rise: spread @ rise + made(rise),
        (0, patience),
        -excess * (1 - heap),
        "BDF",
        jac=lambda time, rise: spread + np.diag(made(rise)),
        events=glows,
        rtol=1e-4,
        atol=1e-4,
    )
    return march.status == 1


@pytest.mark.parametrize(("shape", "index"), [("slab", 0), ("cylinder", 1), ("sphere", 2)])
@pytest.mark.parametrize("excess", [7.0, 20.0])
def test_a_hot_spot_runs_away_above_and_not_below(shape, index, excess):
    # Bracket of 8 % below to 4 % above.
    critical = hot_spot_critical_parameter(shape, excess=excess)
    assert hot_spot_runs_away(1.04 * critical, excess, index)
    assert not hot_spot_runs_away(0.92 * critical, excess, index)


def test_the_fit_for_a_hot_slab_asks_for_too_much_where_it_is_hardly_hotter():
    critical = hot_spot_critical_parameter("slab", excess=5.0)
    assert hot_spot_runs_away(0.9 * critical, 5.0, 0, patience=20)
    assert not hot_spot_runs_away(0.75 * critical, 5.0, 0, patience=20)


def test_ordinary_dust_has_an_excess_for_which_the_fit_was_tried():
    cool, _, hot = (quantity("temperature_char").default + off for off in (-50, 0, 50))
    weak, _, strong = constant_band("activation_energy")
    for energy, kelvin in ((weak, hot), (strong, cool)):
        assert 8 < (kelvin - 293.15) * energy / (nature.R * kelvin**2) < 15


def test_a_hot_spot_no_hotter_than_its_surroundings_is_refused():
    with pytest.raises(InputError, match="hot spot's excess"):
        hot_spot_critical_parameter("sphere", excess=0.5)


# ---- how big a heap ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("stack", "layer"), [(142.0, 300.0), (118.0, 280.0)], ids=["spruce", "the readiest to ignite"]
)
def test_a_stack_of_sawdust_takes_fire_within_the_band_when_the_layer_does(stack, layer):
    # Kotoyori, Fire Safety Science 1 (1986) 463, abstract seen: stacks of sawdust 60.96 cm thick,
    # as wide as one likes, take fire in air of 118 (zelkova) to 142 degC (Sitka spruce). Layers of
    # 15 mm on a plate at 280 (oak) to 300 degC (spruce): Applied Sciences 10 (2020) 5779. From one
    # to the other is the activation energy's doing: 44 kJ/mol would have a stack burn in frost.
    sizes = [
        critical_size(
            stack + 273.15,
            shape="slab",
            surroundings="hot",
            activation_energy=energy,
            temperature_layer=layer + 273.15,
            heap_film=film,
        )
        for energy in constant_band("activation_energy")[::2]
        for film in constant_band("heap_film")[::2]
    ]
    assert min(sizes) < 0.6096 / 2 < max(sizes)


def test_a_layer_hardly_hotter_than_the_air_still_has_a_size():
    assert critical_size(673.15, temperature_ambient=368.15, temperature_layer=373.15) > 0


def test_a_heap_too_cool_to_have_a_size_is_told_what_it_lacks():
    # Worked from the formula: 353.15 K and R 380^2 / E more.
    with pytest.raises(InputError, match=r"allowed: above 413\.18 K"):
        critical_size(380.0, temperature_ambient=353.15, activation_energy=20e3)


def test_a_critical_size_is_put_together_as_its_formula_says():
    # Put together here from the same two functions: an example, not a check. delta grows with size
    # squared, so the layer's own size comes back from its own delta. Applied Sciences 10 (2020)
    # 5779: 15 mm of wood dust, plate at 280 (oak) to 300 degC (spruce).
    scale = nature.R / 100e3
    excess = 270.0 / (scale * 563.15**2)
    layer = layer_critical_parameter(20.0 * 0.0075 / 0.08, excess=excess)
    ball = critical_size(563.15, activation_energy=100e3)
    cold = hot_spot_critical_parameter("sphere", excess=excess)
    assert ball == pytest.approx(0.0075 * math.sqrt(cold / layer), rel=1e-9)
    assert constant_band("temperature_layer")[::2] == (553.15, 573.15)


def test_a_heap_kept_hot_is_at_its_critical_parameter():
    size = critical_size(573.15, surroundings="hot")
    reference = critical_size(573.15, surroundings="hot", heap_film=1e9)
    biot = 20.0 * size / 0.08
    # The layer's own film differs too: compare with the layer that belongs to each.
    scale = nature.R / 100e3
    layers = [
        layer_critical_parameter(film * 0.0075 / 0.08, excess=270.0 / (scale * 563.15**2))
        for film in (20.0, 1e9)
    ]
    ratio = (
        critical_parameter("sphere", biot=biot)
        / layers[0]
        * layers[1]
        / critical_parameter("sphere")
    )
    assert (size / reference) ** 2 == pytest.approx(ratio, rel=1e-5)


def test_a_heap_in_the_cold_must_be_bigger_than_one_kept_hot():
    for temperature in (550.0, 600.0, 650.0):
        assert critical_size(temperature) > critical_size(temperature, surroundings="hot")


def test_a_heap_in_the_cold_must_be_as_much_bigger_as_is_written():
    # In the docstring of hot_spot_critical_parameter: how many times as wide, at 300 and 400 degC.
    words = " ".join(hot_spot_critical_parameter.__doc__.split())
    for temperature, times in ((573.15, "9 times at 300 degC"), (673.15, "34 at 400 degC")):
        ratio = critical_size(temperature) / critical_size(temperature, surroundings="hot")
        assert round(ratio) == int(times.split()[0])
        assert times in words


@given(st.floats(540.0, 680.0), st.floats(2.0, 40.0))
def test_hotter_dust_needs_a_smaller_heap(temperature, more):
    assert critical_size(temperature + more) < critical_size(temperature)


@given(st.floats(2e-5, 5e-4), st.floats(1.05, 3.0))
def test_more_dust_keeps_better(mass, times):
    small, big = will_it_keep(mass), will_it_keep(times * mass)
    assert big.times_least.likely == pytest.approx(small.times_least.likely * times)
    assert small.times_least.low < small.times_least.likely < small.times_least.high
    assert small.mass_least == pytest.approx(big.mass_least)


def test_the_least_mass_is_that_of_a_heap_of_the_critical_size():
    keep, size = will_it_keep(0.00018), critical_size(default("temperature_heap"))
    assert heap_radius(keep.mass_least.likely) == pytest.approx(size)
    assert will_it_keep(keep.mass_least.likely).times_least.likely == pytest.approx(1.0)
    assert will_it_keep(keep.mass_least.high).times_least.low == pytest.approx(1.0)


def test_the_band_is_wide_enough_to_be_called_rough():
    low, likely, high = will_it_keep(0.00018).times_least
    assert high / low > 11
    assert low < likely < high


def test_the_ordinary_ember_is_the_ordinary_kits_dust_less_what_flies_off():
    # By hand: a cylinder 16 mm across and 4 mm long, of wood of 320 kg/m^3, seven tenths of it.
    assert Ember().mass == pytest.approx(0.7 * 320 * 0.004 * math.pi * 0.008**2, rel=1e-12)
    assert Ember().mass == heap_mass(Kit().dust)
    assert "mass" not in constants()  # typed nowhere
    share = quantity("heap_share")
    assert (share.low, share.default, share.high) == (0.4, 0.7, 0.9)
    assert heap_mass(2e-4, heap_share=0.9) == pytest.approx(1.8e-4)


def test_the_heap_is_as_hot_as_the_dust_that_the_estimate_pays_for():
    heap, dust = quantity("temperature_heap"), quantity("temperature_char")
    for name in ("default", "low", "high", "slider", "source", "status"):
        assert getattr(heap, name) == getattr(dust, name), name
    assert "temperature_heap" not in constants()


@pytest.mark.parametrize("share", [0.4, 0.7, 0.9])
def test_whether_a_kit_makes_enough_dust_is_whether_its_heap_keeps(share):
    for kit in (Kit(), Kit(radius=0.011, dust_mass=0.3e-3), Kit(burn_in_depth=0.001)):
        asked = enough_dust(kit, heap_share=share)
        told = will_it_keep(share * kit.dust)
        assert asked.times_least == pytest.approx(told.times_least)
        assert asked.mass_least == pytest.approx(told.mass_least)


def test_the_verdict_on_a_kits_dust_turns_where_its_band_passes_the_least():
    depths = np.geomspace(0.0005, 0.02, 20)
    keeps = [enough_dust(Kit(radius=0.002, burn_in_depth=d)) for d in depths]
    keeps += [enough_dust(Kit(radius=0.012, burn_in_depth=d)) for d in depths]
    keeps += [enough_dust(Kit(radius=0.001, burn_in_depth=0.0005))]  # a third of a milligram
    for keep in keeps:
        low, _, high = keep.times_least
        expected = "stays hot" if low > 1 else "goes out" if high < 1 else "perhaps"
        assert keep.verdict == expected
    assert {keep.verdict for keep in keeps} == {"stays hot", "goes out", "perhaps"}
    with pytest.raises(InputError, match="share of the dust"):
        enough_dust(Kit(), heap_share=70.0)


@pytest.mark.parametrize(
    ("arguments", "complaint"),
    [({"mass": 0.0}, "mass"), ({"mass": 0.17}, "mass"), ({"temperature_heap": 350.0}, "heap")],
)
def test_a_heap_that_cannot_be_is_refused(arguments, complaint):
    with pytest.raises(InputError, match=complaint):
        will_it_keep(**{"mass": 1.7e-4, **arguments})


# ---- what an ember makes and loses ---------------------------------------------------------------


def test_smouldering_gives_no_more_than_was_measured_and_less_than_flames():
    # Frandsen, Int. J. Wildland Fire 1 (1991) 197, abstract seen: smouldering peat 14.2 MJ/kg, less
    # than 4.5 % off. Bartlett, Hadden & Bisby, Fire Technology 55 (2019), abstract seen: flaming
    # wood 17.5 +- 2.5.
    low, likely, high = constant_band("heat_of_smouldering")
    assert low < likely < high
    assert high == pytest.approx(14.2e6, rel=0.045)
    assert high < 15.0e6


def test_an_ember_lasts_as_long_as_a_smoulder_takes_to_creep_through_its_heap():
    # Kim, Kim & Rie, BioResources 12 (2017) 7552, abstract seen: 0.014 to 0.018 mm/s downward
    # through radiata pine flour of 204 to 234 kg/m^3. Our heap is 7 mm high.
    fast, _, slow = constant_band("burning_time")
    for front in (0.018e-3, 0.014e-3):
        for flour in (203.8, 234.3):
            assert fast < heap_radius(Ember().mass, bulk_density=flour) / front < slow


def test_dust_is_what_the_hole_and_the_tip_have_lost():
    # A cylinder 13 mm across and 4 mm long, of wood of 320 kg/m^3.
    assert dust_mass(0.004, radius=0.0065, density=320.0) == pytest.approx(
        320 * 0.004 * math.pi * 0.0065**2
    )
    assert dust_mass(0.004, radius=0.013, density=320.0) == pytest.approx(
        4 * dust_mass(0.004, radius=0.0065, density=320.0)
    )


def test_an_ember_burns_all_its_heat_in_its_time():
    assert smoulder_power(
        2e-4, heat_of_smouldering=12e6, burning_time=500.0
    ) * 500.0 == pytest.approx(2400.0)
    ember = Ember(mass=2e-4, heat_of_smouldering=12e6, burning_time=500.0)
    assert ember.power == pytest.approx(4.8)
    assert ember.joules_made(60.0)[1] == pytest.approx(60 * 4.8)


def test_the_band_of_what_an_ember_makes_holds_its_own_power_and_the_tables_ends():
    low, high = Ember(mass=2e-4).power_band.ends
    assert low == pytest.approx(2e-4 * 6e6 / 900)
    assert high == pytest.approx(2e-4 * 14e6 / 300)
    slow = Ember(burning_time=2000.0)
    assert slow.power_band.ends[0] < slow.power < slow.power_band.ends[1]
    assert slow.power_band.ends[0] == pytest.approx(slow.mass * 6e6 / 2000)
    assert slow.joules_made(60.0)[::2] == pytest.approx(
        [60 * watts for watts in slow.power_band.ends]
    )


def test_a_black_face_radiates_as_the_textbooks_black_enclosure_does():
    # Incropera et al., Fundamentals of Heat and Mass Transfer, example 12.3: from the small hole of
    # an enclosure at 2000 K, 9.07e5 W/m^2. (from memory) The coldest air there is gives back 168.
    coldest = quantity("temperature_ambient").low
    leaves = face_flux(2000.0, temperature_ambient=coldest, film=0.0)
    assert leaves == pytest.approx(9.07e5, rel=5e-4)
    assert face_flux(293.15, temperature_ambient=293.15, film=10.0) == 0.0


def test_the_heap_is_half_a_ball():
    radius = heap_radius(1e-4, bulk_density=200.0)
    assert 2 / 3 * math.pi * radius**3 * 200.0 == pytest.approx(1e-4)


@pytest.mark.parametrize(
    ("field", "value", "words"),
    [
        ("radius", 0.1, "ember radius"),
        ("temperature", 600.0 - 273.15, "temperature of the glow"),
        ("mass", 0.17, "mass of dust"),
        ("crust", -0.001, "dead dust"),
        ("heat_of_smouldering", 11.0, "heat of smouldering"),
        ("emissivity", 1.5, "emissivity"),
    ],
)
def test_an_ember_that_cannot_be_is_refused(field, value, words):
    with pytest.raises(InputError, match=words):
        Ember(**{field: value})
