"""The kernel of pages against the library: the same numbers, the same never, the same words.

``FIREHEAT_STATES`` says of how many random tries; 2,000 take some minutes.
"""

import json
import math
import os
import re
from dataclasses import replace
from pathlib import Path

import find_constants as finder
import numpy as np
import pytest
from kernel_twin import as_try, asked_of, random_states

import fireheat
from fireheat.coach.learner import Learner
from fireheat.coach.smoke_now import after_smoke
from fireheat.ember.ignition import enough_dust
from fireheat.estimates import estimated, times
from fireheat.kit.kit import Try
from fireheat.my_kit import MyKit
from fireheat.pages.kernel import PARTS, evenings_for_kernel, kernel_script
from fireheat.pages.tight import tight_script
from fireheat.person.arm import Arm, arms
from fireheat.person.limits import kit_pull
from fireheat.person.measuring import Measured
from fireheat.quantities import METRIC, US, quantity
from fireheat.spread import compare, settable, spread
from fireheat.trials.columns import TimedTry
from fireheat.trials.our_fire import our_fire
from fireheat.words import number_words

STATES = int(os.environ.get("FIREHEAT_STATES", "32"))
ARMS, EVENINGS = (int(os.environ.get(f"FIREHEAT_{what}", "4")) for what in ("ARMS", "EVENINGS"))
CLOSE = 1e-8  # of a number; the two round differently, and kits near their least power feel it
CARRIED = 0.05  # few draws for all; tests/benchmarks/kernel.py prints how near, kit by kit
SCRIPT = "fireheat.estimate(fireheat.try_(one[0]), one[1], one[2])"
HOME = Path(fireheat.__file__).parent
# In the script alone: what NumPy has, or a method has elsewhere, or one line serves twice.
ALONE = {"try_", "in_grams", "first_smoke", "embers", "never_in", "_wider", "_off_smoke", "my_kit"}
ALONE |= {"kept", "draws_of", "places_of", "luck_of", "evenings", "_below", "linspace"}
ALONE |= {"_top", "_sources", "_at_last", "between"}
# Somebody who keeps up any press at any speed, as the script takes everybody to who has no arm.
TIRELESS = Arm(pull_max=500.0, speed_max=5.0, critical_power=150.0)


def apart(script, library):
    """Tell by which share two numbers differ, at most, of two lists; infinite if one says never."""
    one, other = (np.ravel(np.asarray(values, dtype=float)) for values in (script, library))
    both = np.isinf(one) & np.isinf(other)
    with np.errstate(invalid="ignore"):
        off = np.abs(one - other) / np.maximum(np.abs(other), 1e-300)
    return float(np.max(np.where(both, 0.0, np.where(np.isnan(off), np.inf, off))))


@pytest.fixture(scope="module")
def asked():
    """Random tries, and what script and library say of each."""
    states = random_states(STATES, seed=17)
    told = asked_of(kernel_script(), SCRIPT, [[given, *known] for given, _, *known in states])
    return [
        (script, *by_library(state, measured, guessed))
        for script, (_, state, measured, guessed) in zip(told, states, strict=True)
    ]


def by_library(state, measured, guessed):
    found = estimated(state)
    return state, found, spread(state, measured=measured, guessed=guessed, found=found)


def numbers_of(state, found, drawn):
    """Return what the library says, by the names in the script."""
    keep = enough_dust(state.kit)
    return {
        "power": found.power,
        "bound": found.bound,
        "smoke": {"wood": found.smoke, "all": drawn.smoke_all},
        "ember": {"wood": found.ember, "all": drawn.all},
        "bound_all": drawn.bound,
        "power_all": drawn.power,
        "never": drawn.never,
        "never_smokes": drawn.never_smokes,
        "dust": state.kit.dust,
        "enough": {"times_least": keep.times_least},
        "pull": kit_pull(state.kit, force=state.effort.force),
    }


def worst(script, library):
    return max(
        worst(script[key], value) if isinstance(value, dict) else apart(script[key], value)
        for key, value in library.items()
    )


def test_a_page_says_what_the_library_says_at_all_ends_of_all_bands(asked):
    assert max(worst(script, numbers_of(*library)) for script, *library in asked) < CLOSE
    comes = [math.isfinite(found.ember.likely) for _, _, found, _ in asked]
    assert 0.2 < np.mean(comes) < 0.9  # and both kinds were asked for


def test_a_page_gives_the_same_reasons_in_the_same_words(asked):
    for script, state, found, _ in asked:
        assert script["why_never"] == found.never
        assert script["enough"]["verdict"] == enough_dust(state.kit).verdict
    assert any(script["why_never"] for script, *_ in asked)
    numbers = [10.5, 11.5, 0.0, 0.25, 79.1, 316.4, 2500.0, 0.000051]  # halves go to the even one
    words = asked_of(kernel_script(), "fireheat.number_words(one)", numbers)
    assert words == list(map(number_words, numbers))


def test_a_page_compares_two_tries_as_the_library_does():
    drawn = random_states(6, seed=3)
    pairs = [
        (one, {**one, "diameter": two["diameter"], "force": two["force"]}, measured, guessed)
        for (one, _, measured, guessed), (two, *_) in zip(drawn, drawn[::-1], strict=True)
    ]
    question = """(([a, b, measured, guessed]) => {
        const both = [a, b].map(fireheat.try_);
        const found = both.map(state => fireheat.estimate(state, measured, guessed));
        return [fireheat.compare(...both, measured, guessed),
            fireheat.compare(...both, measured, guessed, found)];
    })(one)"""
    told = asked_of(kernel_script(), question, pairs)
    for (marched, by_shadow), (one, other, measured, guessed) in zip(told, pairs, strict=True):
        both, known = (as_try(one), as_try(other)), {"measured": measured, "guessed": guessed}
        assert apart(marched, compare(*both, **known)) < CLOSE
        found = tuple(map(times, both))
        assert apart(by_shadow, compare(*both, **known, found=found)) < CLOSE


def test_a_page_says_when_the_ember_may_come_after_smoke():
    sayings = [
        ({}, 13.0, 20.0, {}),
        ({"force": 80.0, "diameter": 0.012}, 4.0, 6.0, {"friction": 0.05}),
        ({"moisture": 0.2}, 3.0, 150.0, {"pull": 0.1}),  # strange, so soon
        ({"diameter": 0.025}, 60.0, 200.0, {}),
        ({"force": 25.0}, 100.0, 110.0, {}),  # so late that for some it never comes
        ({"force": 25.0}, 400.0, 410.0, {}),  # and for most
    ]
    question = "fireheat.after_smoke(fireheat.try_(one[0]), one[1], one[2], one[3])"
    told = asked_of(kernel_script(), question, sayings)
    for script, (given, smoke, elapsed, measured) in zip(told, sayings, strict=True):
        learner = Learner(state=Try().changed(**given), arm=TIRELESS, measured=measured)
        found = after_smoke(learner, smoke_time=smoke, elapsed=elapsed)
        if script["kind"] == "tired":  # the library may know of another beat
            found = replace(found, **{key: script[key] for key in ("say", "not_say")})
            found = replace(found, strokes_per_minute=learner.strokes_per_minute)
        same_after_smoke(script, found, learner)
    assert {script["kind"] for script in told} == {"early", "soon", "tired", "late"}
    assert told[-1]["never"] > 1 / 2
    assert any(script["strange"] for script in told)
    assert any(script["overdue"] for script in told)


def same_after_smoke(script, found, learner):
    for name in ("window", "left", "never", "gone"):
        assert apart(script[name], getattr(found, name)) < CLOSE
    strokes = learner.strokes_at(script["speed"])
    assert strokes == pytest.approx(found.strokes_per_minute)
    for name in ("strange", "overdue", "hopeless", "say", "not_say"):
        assert script[name] == getattr(found, name)


def test_a_page_knows_what_an_arm_keeps_up_after_smoke():
    sayings = [
        ("ten_year_old", {"force": 68.0, "speed": 1.31, "diameter": 0.018}, 47.0, 52.0),
        ("teenager", {"force": 50.0, "speed": 0.25}, 60.0, 70.0),  # so slow that it takes too long
        ("tired_beginner", {}, 20.0, 25.0),  # nothing lasts, and the arm gives less than is set
        ("teenager", {"speed": 0.9}, 15.0, 20.0),
        ("adult", {}, 13.0, 40.0),
        ("teenager", {"force": 75.0, "diameter": 0.013}, 8.0, 25.0),  # at its limit
        ("adult", {"force": 0.0}, 20.0, 500.0),  # no heat at all
        # As quick as the arm can, which is where the window of beats ends, to the last digit.
        *[("teenager", {"force": force, "speed": 1.5}, 110.0, 111.0) for force in (24.0, 42.0)],
        *more_arms(ARMS),
    ]
    question = """(([arm, given, smoke, elapsed]) => fireheat.after_smoke(
        fireheat.try_(given), smoke, elapsed, {}, fireheat.arms[arm]))(one)"""
    told = asked_of(kernel_script(), question, sayings)
    for script, (arm, given, smoke, elapsed) in zip(told, sayings, strict=True):
        learner = Learner(state=Try().changed(**given), arm=arms()[arm])
        same_after_smoke(script, after_smoke(learner, smoke_time=smoke, elapsed=elapsed), learner)
    kinds = {script["kind"] for script in told}
    assert kinds == {"early", "soon", "limit", "spent", "quicker", "tired", "late"}


def more_arms(count):
    rng = np.random.default_rng(8)
    for _ in range(count):
        force, speed, diameter = rng.uniform(20, 110), rng.uniform(0.3, 1.6), rng.uniform(9, 25)
        given = {"force": force, "speed": speed, "diameter": diameter / 1000}
        smoke = float(np.exp(rng.uniform(1, 5)))
        yield str(rng.choice(list(arms()))), given, smoke, smoke + float(rng.exponential(30))


def test_a_page_carries_what_the_own_evenings_of_a_club_tell():
    kits = [(given, state) for given, state, *_ in random_states(EVENINGS, seed=5)]
    kits += [(given, Try().changed(**given)) for given in ({}, {"speed": 0.5}, {"speed": 0.1})]
    for fire in evenings_of_a_club():
        told, few = evenings_for_kernel(fire), fire.picked(128)
        assert len(json.dumps(told)) < 2000
        question = f"fireheat.evenings(fireheat.try_(one), {json.dumps(told)})"
        bands = asked_of(kernel_script(), question, [given for given, _ in kits])
        for script, (_, state) in zip(bands, kits, strict=True):
            assert apart(script, few.band(state)) < CLOSE
        assert apart(bands[EVENINGS], fire.band(Try())) < CARRIED
        assert np.isinf(bands[-1]).all()


def evenings_of_a_club():
    plain = [{}, {"diameter": 0.012}, {"force": 80.0}, {"diameter": 0.02}]
    tries = [
        TimedTry(time=time, ended=ended, **given)
        for given, time, ended in zip(
            plain, [70.0, 45.0, 60.0, 150.0], ["ember", "ember", "ember", "gave up"], strict=True
        )
    ]
    yield our_fire(tries, draws=1000)
    deep = [replace(one, burn_in_depth=0.005) for one in tries]
    yield our_fire(deep, measured={"moisture": None}, draws=1000)
    start = Try().changed(dust_mass=2e-4)
    yield our_fire([replace(one, dust_mass=1.5e-4) for one in tries], start=start, draws=1000)


@pytest.mark.parametrize("grip", ["grip", "hot_grip"])
def test_a_page_takes_what_was_measured_as_the_library_does(grip):
    readings = {grip: [0.18, 0.01], "diameter": [0.02, 0.0003], "specific_gravity": [0.41, 0.01]}
    readings |= {"force": [70.0, 3.0], "dust_mass": [2e-4, 1e-5], "speed": [1.1, 0.02]}
    script, tapered = "fireheat.my_kit(one, fireheat.try_({ cord_radius: 0.006 }))", 0.006
    [told] = asked_of(kernel_script(), script, [readings])
    kit = MyKit(**{key: Measured(*pair) for key, pair in readings.items()})
    state = kit.state(Try().changed(cord_radius=tapered))
    assert told["measured"] == pytest.approx(kit.measured)
    assert told["state"]["friction"] == pytest.approx(state.kit.friction)
    assert told["state"]["burn_in_depth"] is None
    [names] = asked_of(kernel_script(), "fireheat.settable(one)", [told["state"]])
    assert tuple(names) == settable(state)


def test_a_page_shows_quantities_as_the_table_has_them():
    [told] = asked_of(kernel_script(), "fireheat.quantities", [0])
    for key, shown in told.items():
        row = quantity(key)
        assert (shown["name"], shown["slider"]) == (row.name, list(row.slider))
        for system in (METRIC, US):
            of = shown[system]
            assert (of["digits"], of["step"]) == (row.digits(system), row.steps.get(system))
            assert of["scale"] * 3.0 + of["offset"] == pytest.approx(float(row.si(3.0, system)))


def test_a_number_changed_in_the_tables_changes_both_alike():
    moved = {key: finder.elsewhere(numbers) for key, numbers in finder.rows().items()}
    settings = finder.states(4, seed=4)
    with finder.library(moved) as load:
        script = load("fireheat.pages.kernel").kernel_script()
        library = [
            load("fireheat.spread").spread(load("fireheat.kit.kit").Try().changed(**given))
            for given in settings
        ]
        ready = load("fireheat.coach.learner").Learner(
            arm=load("fireheat.person.arm").arms()["adult"]
        )
        smoking = load("fireheat.coach.smoke_now").after_smoke(ready, smoke_time=13.0, elapsed=30.0)
        one_try = load("fireheat.trials.columns").TimedTry(time=60.0, ended="ember")
        fire = load("fireheat.trials.our_fire").our_fire([one_try] * 3, draws=500)
        told = load("fireheat.pages.kernel").evenings_for_kernel(fire)
        ours = fire.picked(len(told["numbers"])).band(ready.state)
    question = f"""[fireheat.evenings(fireheat.try_(), {json.dumps(told)}),
        fireheat.after_smoke(fireheat.try_(), 13, 30, {{}}, fireheat.arms.adult).window]"""
    [by_tries, window] = asked_of(script, question, [0])[0]
    assert apart(by_tries, ours) < CLOSE
    assert apart(window, smoking.window) < CLOSE
    questions = [[given, {}, []] for given in settings]
    new, old = (asked_of(made, SCRIPT, questions) for made in (script, kernel_script()))
    for now, before, drawn in zip(new, old, library, strict=True):
        told = {"wood": drawn.wood, "all": drawn.all}
        assert worst(now["ember"], told) < CLOSE
        assert worst(now["smoke"], {"wood": drawn.smoke_wood, "all": drawn.smoke_all}) < CLOSE
        assert apart(before["bound"], now["bound"]) > 1e-4


def test_each_line_by_hand_is_found_in_python_by_its_name():
    wanting = {}
    for part in PARTS:
        script = (HOME / "pages" / f"kernel_{part}.js").read_text(encoding="utf-8")
        for head, body in re.findall(r"^// -+ (.+?) -+$(.+?)(?=^// ---|\Z)", script, re.M | re.S):
            files = re.findall(r"[\w/]+\.py", head)
            python = "".join((HOME / file).read_text(encoding="utf-8") for file in files)
            names = re.findall(r"^const (\w+) = (?:\(.*?\)|\w+) =>", body, re.M)
            for name in names if files else ():
                if name not in ALONE and not re.search(rf"\bdef {name.rstrip('_')}\b", python):
                    wanting[name] = head
    assert wanting == {}


def test_the_kernel_is_small_and_reaches_for_nothing():
    script = kernel_script()
    assert len(script.encode()) <= 31_000
    assert not re.search(r"fetch|http|import|eval|document|localStorage", script)


def test_a_tight_script_keeps_what_others_know_and_what_strings_say():
    script = """
    // what others know
    const known = { wide: 0.5, inside: 2, watts: 1 }; const inside = (wide) => wide - -1;
    const word = "inside"; for (const one of [1, 2,]) { known[word] += one; }
    const { deep } = known; const words = "makes {watts} W, wide";
    """
    assert tight_script(script, known=["known"]) == (
        'const a={b:.5,inside:2,watts:1},e=(b)=>b- -1,c="inside";for(const d of[1,2]){a[c]+=d}'
        'const{f}=a,g="makes {watts} W, wide";'
    )


def test_a_tight_script_tells_variables_from_properties_of_the_same_name():
    script = """
    const power = 3, other = ({ power, force = 2 }, [speed, ...rest], depth = power[force]) => {
        for (const { power, kit: { smoke } } of rest) { power(smoke ? force : depth, power); }
        return { power, x: force, speed, depth: { depth } };
    }; screen.power = `${power}: ${other({ force: power, rest })}`;
    """
    assert tight_script(script) == (
        "const a=3,c=({power:a,force:b=2},[speed,...d],e=a[b])=>{"
        "for(const{power:a,kit:{smoke}}of d){a(smoke?b:e,a)}"
        "return{power:a,x:b,speed,depth:{depth:e}}};screen.power=`${a}: ${c({force:a,rest:d})}`;"
    )
