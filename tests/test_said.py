"""What every panel says is what the library says: its tiles and spoken line, worked out anew.

A panel is put to states drawn at random, and its tiles and its spoken line are compared with what
the rooms below the panels give for that state, spelled by :mod:`fireheat.words`. So a tile that
takes the wrong end of a band, the wrong quantity or the wrong unit is seen, whichever panel it is.
"""

from dataclasses import replace

import numpy as np
import pytest
from learners import learner_of
from lifelines import KaplanMeierFitter
from reading import read, values
from scipy.constants import degree, inch, minute

from fireheat import Effort, InputError, Kit, Try, panels
from fireheat.answers.course import course
from fireheat.answers.explorer import outlook
from fireheat.answers.fitted import QUESTIONS
from fireheat.answers.heat_view import heat_so_far
from fireheat.answers.joining import joined
from fireheat.answers.pairs import paired
from fireheat.answers.questions import try_of
from fireheat.answers.warmth import Rhythm, contact_heat
from fireheat.answers.watts import Pulling, watts
from fireheat.answers.worth import doubted, doubts, parts_words
from fireheat.cases import case
from fireheat.coach.moves import Move, advice
from fireheat.coach.pace import pace
from fireheat.coach.population import populations
from fireheat.coach.seen import likely_causes
from fireheat.coach.smoke_now import after_smoke
from fireheat.coach.verdicts import OUTCOMES, ruling, verdict
from fireheat.constants import constant
from fireheat.ember.draw import catcher_sheet, draw, draw_history
from fireheat.ember.ember import Ember, heap_mass
from fireheat.ember.ignition import enough_dust
from fireheat.ember.lasting import lasting
from fireheat.ember.scorch import scorch_time
from fireheat.estimates import times
from fireheat.figures.sketch import Sketch
from fireheat.figures.weighing import deep_words, float_words
from fireheat.figures.woods import beside_words
from fireheat.kit.bowing import bow_speed, cord_slip_pull, friction_power, friction_torque
from fireheat.kit.moisture import equilibrium_moisture, warmed_humidity
from fireheat.kit.wood import my_wood, wood, woods
from fireheat.lessons import worked_out
from fireheat.my_kit import MyKit
from fireheat.panels.base import Panel
from fireheat.panels.controls import Choice, Slider
from fireheat.panels.log_slider import LogSlider
from fireheat.panels.mine import my_kit
from fireheat.person.arm import arms
from fireheat.person.limits import kit_pull, speed_at_force
from fireheat.person.measuring import (
    Measured,
    mean_angle,
    ramp_friction,
    standard,
    tap_rate,
    tapped_speed,
    weighed_gravity,
    well_measured,
)
from fireheat.person.strokes import peak_speed
from fireheat.quantities import METRIC, US, default, quantity, unit_text
from fireheat.spread import compare, spread
from fireheat.trials.columns import fit_columns
from fireheat.trials.exponents import club_exponents
from fireheat.trials.log import demo_log
from fireheat.trials.our_fire import our_fire
from fireheat.trials.plan import plan
from fireheat.trials.reading import read_log
from fireheat.unknowns import unknown
from fireheat.words import (
    NEVER,
    band_words,
    factor_words,
    floor_words,
    inch_words,
    likely_words,
    moment_words,
    number_words,
    percent_words,
    range_words,
    saved_range,
    shares_words,
    signed_words,
    time_words,
    whole_words,
)

SETS = ("diameter", "force", "friction", "speed", "burn_in_depth", "moisture", "wood")


def tried(state, *keys):
    """Make the try that sliders of these names set."""
    return Try().changed(**{key: state[key] for key in keys or SETS if key in state})


def in_unit(key, value, system, *, words=number_words):
    """Spell a value with its unit by two figures, which is not how sliders read."""
    row = quantity(key)
    shown, unit = row.shown(value, system), unit_text(row.shown_unit(system))
    return f"{words(shown)} {unit}"


def watt(power):
    return f"{number_words(power)} W"


# ---- what each panel has to say: its tiles, and what must be in its spoken line -----------------


def explorer(state, system):
    one = tried(state, *SETS[:4], state["dust"], *SETS[5:], "contact", "temperature_ambient")
    found, made = spread(one), times(one)
    keeps = {"stays hot": "enough", "perhaps": "perhaps", "goes out": "too little"}
    dust = keeps[enough_dust(one.kit).verdict]
    if outlook(one, across="force").now.never:
        dust = "no hot dust"
    tiles = [
        band_words(found.all),
        band_words(found.smoke_all),
        floor_words(made.bound),
        dust,
        watt(one.power),
    ]
    return tiles, [f"Floor {floor_words(made.bound)}."]


def heat_view(state, system):
    one = tried(state, "diameter", "force", "speed")
    found, likely, time = spread(one), case(one), state["elapsed"]
    rise = min(likely.power * float(likely.contact.impedance(time)), float(likely.rise))
    tiles = [
        band_words(found.smoke_all),
        band_words(found.all),
        quantity("temperature_ambient").text(one.air.temperature + rise, system),
        shares_words(heat_so_far(one, time=time))["dust_and_water"],
    ]
    return tiles, [band_words(found.smoke_all)] if np.isfinite(found.wood.likely) else []


def joining(state, system):
    found = joined(tried(state), wider=np.ones(1))
    return [
        f"{number_words(found.twice)} times",
        percent_words(found.soaked),
        moment_words(found.hot),
        moment_words(found.ember),
    ], [number_words(found.twice)]


def same_worlds(state, system):
    one = tried(state, "diameter", "force")
    key, factor = {
        "thinner": ("diameter", 1 / 2),
        "harder": ("force", 4 / 3),
        "faster": ("speed", 4 / 3),
        "drier": ("moisture", 1 / 2),
    }[state["change"]]
    other = one.changed(**{key: factor * one.value(key)})
    said = [
        factor_words(compare(one, other)),
        band_words(spread(one).all),
        band_words(spread(other).all),
    ]
    return said, said


def ladder(state, system):
    one = tried(state, "force", "speed", "friction", "block_friction")
    arm = kit_pull(one.kit, force=one.effort.force) * one.effort.speed
    return [watt(one.power), watt(arm), percent_words(one.power / arm)], [watt(one.power)]


def pressing(state, system):
    one = tried(state, "diameter", "block_friction", "block_radius")
    arm = arms()[state["arm"]]
    arm = arm if state["kind"] == "likely" else getattr(arm, state["kind"])
    arm = replace(arm, law=state["law"])
    slips = cord_slip_pull(
        state["slack_tension"],
        cord_friction=default("cord_friction"),
        wrap_angle=default("wrap_angle"),
    )
    how = {"arm": arm, "force": state["force"], "slip_pull": float(slips)}
    speed = float(speed_at_force(one.kit, **how))
    made = {"force": np.array([state["force"]]), "speed": np.array([speed])}
    ember = spread(one, swept=made, draws=128).all.at(0)
    power = float(case(one, swept=made).power[0])
    still = "–" if slips < arm.pull_max else quantity("speed").text(0.0, system)
    tiles = [
        band_words(ember),
        quantity("speed").text(speed, system) if speed else still,
        watt(power),
    ]
    return tiles, [f"With all we do not know but the arm: {band_words(ember)}"]


def ramp(state, system):
    angles = [state[f"reading_{number}"] for number in range(1, state["count"] + 1)]
    mean = mean_angle(angles, angle_limit=state["angle_limit"])
    found = ramp_friction(mean.value, angle_error=mean.error)
    made = [
        friction_power(default("force"), friction=max(end, 0.0), speed=default("speed"))
        for end in (found.value - found.error, found.value + found.error)
    ]
    low, high = (f"{power:.1f}" for power in made)
    heat = f"{low} to {high} W" if low != high else f"{low} W"
    heat = "none at rest" if state["kind"] == "static" else heat
    friction = f"{found.value:.2f} ± {found.error:.2f}"
    angle = f"{mean.value / degree:.1f}° ± {mean.error / degree:.1f}°"
    return [angle, friction, heat], [heat]


def rings(state, system):
    one = tried(state, *SETS[:4], "contact")
    radius = one.kit.radius
    torque = friction_torque(
        one.effort.force, friction=one.kit.friction, radius=radius, contact=one.kit.contact
    )
    turns, flux = one.effort.speed / radius, one.power / (np.pi * radius**2)
    tiles = [
        in_unit("torque", torque, system),
        in_unit("turning_speed", turns, system),
        watt(one.power),
        in_unit("flux", flux, system),
    ]
    return tiles, []


def thickness(state, system):
    found = catcher_sheet(
        state["sheet"],
        thickness=state["catcher_thickness"],
        ground=state["ground"],
        ember=Ember(crust=state["crust"]),
    )
    drawn = f"{number_words(found.draw.joules.likely)} J"
    tiles = [
        drawn,
        f"{number_words(found.bare.likely)} J",
        f"{signed_words(found.draw.joules.likely - found.bare.likely)} J",
        whole_words(found.draw.share_of_made.likely),
    ]
    return tiles, [drawn]


def strokes(state, system):
    length = state["stroke_length"]
    speed = float(bow_speed(length, strokes_per_minute=state["strokes_per_minute"]))
    one = tried(state, "force")
    ember = spread(one, swept={"speed": np.array([speed])}, draws=128).all.at(0)
    peak = float(peak_speed(length, speed=speed, acceleration=state["acceleration"]))
    power = float(case(one, swept={"speed": speed}).power)
    text = quantity("speed").text
    tiles = [
        text(speed, system),
        watt(power),
        band_words(ember),
        text(peak, system) if np.isfinite(peak) else "cannot",
    ]
    return tiles, [band_words(ember)]


def taps(state, system):
    rate = tap_rate(np.array(state["taps"]))
    speed = tapped_speed(
        rate,
        stroke_length=state["stroke_length"],
        stroke_length_error=state["stroke_length_error"],
    )
    low, high = (f"{end:.0f}" for end in rate.ends)
    row = quantity("speed")
    shown = range_words([row.shown(end, system) for end in speed.ends])
    fast = f"{shown} {unit_text(row.shown_unit(system))}"
    made = [
        friction_power(default("force"), friction=default("friction"), speed=end)
        for end in speed.ends
    ]
    known = MyKit(speed=standard(speed)).measured
    ember = spread(Try().changed(speed=speed.likely), measured=known).all
    count = f"{low} to {high}" if low != high else f"about {low}"
    return [count, fast, f"{range_words(made)} W", band_words(ember)], [count, fast]


def beat(state, system):
    speed = bow_speed(state["stroke_length"], strokes_per_minute=state["strokes_per_minute"])
    ember = band_words(spread(Try().changed(speed=float(speed))).all)
    fast = quantity("speed").text(float(speed), system)
    return [f"{state['strokes_per_minute']:.0f}", fast, ember], [fast, ember]


def under(state, system):
    time = max(1.0, np.round(state["elapsed"]))
    tiles = [f"{time:.0f} s"]
    for side in ("left", "right"):
        ember = Ember(crust=state["crust"])
        _, joules = draw_history(
            state[side], time=np.array([time]), ground=state["ground"], ember=ember
        )
        tiles.append(f"{number_words(float(joules[0]))} J")
    made = ember.power * time
    return [*tiles, f"{number_words(made)} J"], [f"{time:.0f} s"]


def warmth(state, system):
    keys = ("stroke_length", "strokes_per_minute", "shape", "bout", "pause")
    rhythm = Rhythm(**{key: state[key] for key in keys})
    found = contact_heat(Try().kit, rhythm=rhythm, force=state["force"])
    low, high = found.first_all.ends
    smoke = band_words((low, high))
    if high > minute:
        smoke = f"{time_words(low)} to over 60 s" if low <= minute else "over 60 s"
    zero, there = (quantity("temperature_ambient").shown(at, system) for at in (0.0, found.swing))
    unit = unit_text(quantity("temperature_ambient").shown_unit(system))
    average = state["stroke_length"] * state["strokes_per_minute"] / 60
    average *= state["bout"] / (state["bout"] + state["pause"])
    even = Try().changed(force=state["force"], speed=average)
    tiles = [
        quantity("speed").text(average, system),
        f"{there - zero:.0f} {unit}",
        smoke,
        band_words(spread(even, draws=128).smoke_all),
    ]
    return tiles, [f"With all we do not know: first smoke {smoke}."]


def measured_watts(state, system):
    keys = (
        *("scale_pull", "force", "strokes_per_minute", "stroke_length", "diameter"),
        *("block_friction", "block_radius", "pull_limit", "steady"),
    )
    pulling = Pulling(**{key: state[key] for key in keys})
    found = watts(pulling, smoke_time=state["smoke_time"] if state["timed"] else None)
    # What the block takes, and what is left, from the plain formula.
    takes = 2 / 3 * pulling.block_friction * pulling.force * pulling.block_radius
    block = min(takes / (pulling.diameter / 2), pulling.scale_pull)
    speed = pulling.strokes_per_minute * pulling.stroke_length / 60
    friction = 2 * (pulling.scale_pull - block) / pulling.force
    assert found.power.value == pytest.approx((pulling.scale_pull - block) * speed)
    lost = f"{block * speed:.1f} W" if block * speed < 100 else watt(block * speed)
    tiles = [
        f"{range_words(found.band)} W" if found.power.value else "none",
        f"{range_words(found.hot_power)} W" if state["timed"] else "–",
        f"{friction:.2f} ± {found.friction.error:.2f}",
        lost,
    ]
    return tiles, []


def weather(state, system):
    cold, damp = state["temperature_ambient"], state["relative_humidity"]
    one = tried(state, "temperature_ambient", "diameter")
    warm = cold + state["warming"]
    dry = warmed_humidity(cold, relative_humidity=damp, warming=state["warming"])
    tiles, stored = [], []
    for temperature, humidity in ((cold, damp), (warm, dry)):
        moist = float(equilibrium_moisture(temperature, relative_humidity=humidity))
        stored.append(one.changed(moisture=moist))
        ember = spread(one, swept={"moisture": np.array([moist])}, draws=128).all.at(0)
        tiles += [f"{100 * moist:.0f} %", band_words(ember)]
    return tiles, [f"{tiles[1]} outdoors", f"{tiles[3]} from the rack"]


def pile(state, system):
    one = tried(state, "wood", "diameter", "force", "speed", "moisture")
    own = wood(state["wood"])
    shown = {row for row in woods().values() if state["region"] in row.regions} | {own}
    ordered = sorted(shown, key=lambda row: (row.specific_gravity, row.name))
    last = len(ordered) - 1
    early = ordered.index(own) > last / 2
    other = ordered[0 if early else last]
    apart = compare(one, one.changed(wood=other), draws=96)  # as many as for a dozen woods
    scatter = constant("board_scatter")
    boards = times(
        one, specific_gravity=own.specific_gravity * np.array([1 - scatter, 1 + scatter])
    )
    tiles = [
        beside_words(apart, times(one.changed(wood=other)).ember.likely),
        band_words(spread(one, draws=128).all),
        floor_words(times(one).bound),
        band_words(boards.ember.likely),
    ]
    return tiles, [f"With all we do not know: {own.name} {tiles[1]}."]


def weighed(state, system):
    sides = {key: state[key] for key in ("piece_length", "piece_width", "piece_thickness")}
    if state["shape"] == "stick":
        sides["piece_thickness"] = None
    limits = {key: state[key] for key in ("scale_limit", "ruler_limit", "moisture")}
    damp = well_measured("moisture", state["moisture"]).error * 2  # a guess is half as good
    found = weighed_gravity(state["piece_mass"], **sides, **limits, moisture_error=damp)
    afloat, dry = found.value * (1 + state["moisture"]), found.value
    later = "too light" if dry < 0.3 else "too heavy"
    if 0.3 <= dry <= 1.1:
        later = factor_words(compare(Try(), Try().changed(wood=my_wood(dry)), draws=128))
    tiles = [f"{dry:.2f} ± {found.error:.2f}", deep_words(afloat), later]
    return tiles, [f"It {float_words(afloat)}."]


def catchers(state, system):
    where = {
        "ground": state["ground"],
        "ember": Ember.of_mass(state["mass"], crust=state["crust"]),
    }
    found = draw(state["catcher"], **where)
    scorch = scorch_time(state["catcher"], **where)
    band = band_words((scorch.least, scorch.most))
    tiles = [
        f"{number_words(found.joules.likely)} J",
        whole_words(found.share_of_made.likely),
        time_words(lasting(state["catcher"], **where).alone.likely),
        NEVER if time_words(scorch.least) == NEVER else band,
    ]
    return tiles, []


def keeping(state, system):
    one = tried(state, "burn_in_depth", "diameter", "wood")
    keeps = enough_dust(one.kit, temperature_heap=state["temperature_heap"])
    mass = heap_mass(one.kit.dust)
    words = {"stays hot": "enough", "perhaps": "perhaps", "goes out": "too little"}
    tiles = [
        f"{number_words(1000 * mass)} g",
        f"{number_words(1000 * keeps.mass_least.likely)} g",
        words[keeps.verdict],
        watt(Ember.of_mass(mass).power),
    ]
    return tiles, []


def worth(state, system):
    now = tried(state)
    first = next(one for one in doubts(now) if one.state == "guessed")
    parts = f"makes {parts_words(first.share)} of the doubt"
    return [unknown(first.key).name, band_words(doubted(now, MyKit()))], [], parts


def kit_table(state, system):
    value = state.get(state["what"])
    if state["what"] == "force":
        value = 9.80665 * max(state["reading"] - state["rest"], 0.0)
    one = well_measured(state["what"], value)
    more = MyKit(**{state["what"]: Measured(one.value, state["care"] * one.error)})
    bands = [doubted(Try(), MyKit()), doubted(Try(), MyKit()), doubted(more.state(Try()), more)]
    return list(map(band_words, bands)), ["In my kit: nothing yet."]


def kit_at_work(state, system):
    found = course(tried(state, "diameter", "force", "speed"))
    smoke, glow = band_words(found.spread.smoke_all), band_words(found.spread.all)
    brown = NEVER if min(found.brown, found.spread.smoke_all.low) == np.inf else "before smoke"
    times_of = f"0 s brown {brown} smoke {smoke} glow {glow}"
    press, pace = (quantity(key).text(state[key], system) for key in ("force", "speed"))
    thick = quantity("diameter").text(state["diameter"], system)
    said = f"{thick} spindle, {press}, bow at {pace}: first smoke {smoke}, glow {glow}."
    return ["pale wood", "brown", "smoke", "glow"], [said], f"pale wood {times_of}"


def to_make(state, system):
    thick = quantity("diameter").text(state["diameter"], system)
    mouth = 2 * (state["diameter"] / 2 + 0.006) * np.tan(22.5 * degree)
    sixteenths = inch_words(mouth / inch, 16)
    wide = f"{sixteenths} in" if system == US else f"{1000 * mouth:.0f} mm"
    return [thick, thick, wide], [f"for a spindle {thick} thick"]


def by_the_clock(state, system):
    tries = read_log(demo_log()).tries
    keys = ("diameter", "force", "speed", "moisture")  # nobody measured the friction
    logs = {key: [np.log(getattr(one, key)) for one in tries] for key in keys}
    middle = Try().changed(**{key: float(np.exp(np.mean(each))) for key, each in logs.items()})
    kaplan = KaplanMeierFitter().fit([one.time for one in tries], [one.observed for one in tries])
    tiles = [
        f"{len(tries)}",
        f"{sum(one.observed for one in tries)}",
        time_words(kaplan.median_survival_time_),
        band_words(spread(middle).all),
    ]
    return tiles, [], "From the demo log (invented): 24 tries, 19 embers."


def powers(state, system):
    causes = QUESTIONS[state["question"]]
    given, _ = fit_columns(read_log(demo_log()).tries, causes)
    found = club_exponents(**given).powers
    twice = [factor_words([2.0**end for end in found[cause].interval.ends]) for cause in causes]
    notes = [factor_words([2.0**end for end in found[cause].physics.ends]) for cause in causes]
    verdict = "cannot tell yet" if causes == ("speed",) else "no"
    return [verdict, *twice], [], *(f"physics: {words}" for words in notes)


def next_of_ours(state, system):
    tries, now = read_log(demo_log()).tries, tried(state, "diameter", "force", "speed")
    ours, handbook = our_fire(tries, draws=2000).band(now), spread(now).all
    told = f"After {len(tries)} tries of ours, the next one: {band_words(ours)}."
    return [band_words(ours), band_words(handbook)], [told]


def plans(state, system):
    one = tried(state, "diameter", "force")
    found = paired(one, change=state["change"])
    quick = min(found.one.wood.likely, found.other.wood.likely)
    slow = min(1 / found.ratio.likely, 20.0) if found.ratio.likely else 20.0
    try:
        told = plan(slow, time=quick, give_up=state["give_up"])
    except InputError:  # neither side glows, or one so seldom that no number tells
        return ["over 200", factor_words(found.ratio), "–"], ["over 200 tries a side"]
    tiles = [
        f"{told.tries_a_side}",
        factor_words(found.ratio),
        f"about {sum(told.embers):.0f}",
        band_words(found.one.all),
    ]
    return tiles, [f"{told.tries_a_side} tries a side"]


def coached(state, system):
    learner = learner_of(state)
    found = advice(learner)
    spare = [one for one in found.asides if one.in_time and not found.in_time]
    ready = [one for one in found.moves if one.in_time]
    first = next(iter([*ready, *spare, *found.moves]), None)
    then = first.then if isinstance(first, Move) else found.learner
    beat, held = pace(then), "none"
    if beat.low is not None:
        speed = np.clip(then.state.effort.speed, beat.low, beat.high)
        held = f"{then.strokes_at(float(speed)):.0f} a minute"
    none = "Nothing: keep all as it is" if found.in_time else "More than one small step"
    name = first.name.capitalize() if first else none
    sooner = "–"
    if isinstance(first, Move):
        low, likely, high = first.saved
        sooner = "an ember at last" if likely >= 3600 else saved_range(low, high)
    now = band_words(found.now)
    return [name, sooner, now, held], [f"Change this first: {name.lower()}", f"ember {now}"]


def smoking(state, system):
    elapsed = max(state["elapsed"], state["smoke_time"])
    found = after_smoke(learner_of(state), smoke_time=state["smoke_time"], elapsed=elapsed)
    low, _, high = found.left
    left = f"now to {time_words(high)}" if low < 1.5 else band_words((low, high))
    left = "overdue" if found.gone > 0.9 else left
    stops = found.gone > 0.9 or found.never > 0.5 or found.strokes_per_minute == 0
    tiles = [left, "none" if stops else f"{found.strokes_per_minute:.0f}", f"“{found.say}”"]
    ember = "does not come" if np.isinf(found.window.low) else band_words(found.window)
    return tiles, [f"now {time_words(elapsed)}", ember]


def what_was_seen(state, system):
    found = likely_causes([key for key, ticked in state.items() if ticked])
    if not found.causes:
        words = "Take one off." if found.clash else "Tick what you saw."
        return [], [words], words
    tenths = [
        "common practice" if one.share is None else f"{round(10 * one.share)} of 10"
        for one in found.first_two
    ]
    named = [one.cause.name for one in found.first_two]
    told = ", then ".join(
        f"{name} ({share.replace('0 of', 'under 1 of')})"
        for name, share in zip(named, tenths, strict=True)
    )
    tiles = [found.next_step, *(f"{place} {name}?" for place, name in enumerate(named, start=1))]
    return tiles, [f"Most likely: {told}."], *(one.cause.look for one in found.first_two)


SAYS = {
    "FitTries": powers,
    "OurTries": by_the_clock,
    "Catchers": catchers,
    "CoachPlan": coached,
    "Explorer": explorer,
    "HeatView": heat_view,
    "NextEmber": next_of_ours,
    "JoiningCurve": joining,
    "KitAtWork": kit_at_work,
    "KitToMake": to_make,
    "MeasureNext": worth,
    "MeasureWatts": measured_watts,
    "MyKitTable": kit_table,
    "PlanTries": plans,
    "PracticeBeat": beat,
    "PressAndSpeed": pressing,
    "Ramp": ramp,
    "Rings": rings,
    "SameWorlds": same_worlds,
    "SheetThickness": thickness,
    "SmokeNow": smoking,
    "Strokes": strokes,
    "TapCounter": taps,
    "UnderTheEmber": under,
    "Warmth": warmth,
    "WattLadder": ladder,
    "Weather": weather,
    "WeighMyWood": weighed,
    "WhatWasSeen": what_was_seen,
    "WillItKeep": keeping,
    "WoodsSideBySide": pile,
}
ELSEWHERE = {"WhatIf", "Predict", "Race", "Court"}  # below: they need a card, a guess, a vote
# No number of theirs is worked out; the minutes of a path are held by the tests of the front page.
WITHOUT = {"Front", "SelfCheck", "Stepper", "Stopwatch"}


def test_no_panel_is_left_out():
    assert {*SAYS, *ELSEWHERE, *WITHOUT} == {*panels.__all__}


# ---- states at random ---------------------------------------------------------------------------


def anywhere(panel, generator):
    """Draw a place for each control, not quite at its ends."""
    state = {}
    for key, control in panel.control.items():
        if isinstance(control, LogSlider):
            low, high = np.log(control.ends)
            state[key] = float(np.exp(generator.uniform(low, high)))
        elif isinstance(control, Slider):
            low, high = control.row.slider
            state[key] = float(low + (high - low) * generator.uniform(0.1, 0.75))
        elif isinstance(control, Choice):
            offered = [value for _, value in control.widget.options]
            state[key] = offered[generator.integers(len(offered))]
        else:
            gaps = generator.normal(0.6, 0.02, 14)
            state[key] = tuple(np.append(0.0, np.cumsum(gaps)).tolist())
    return state


@pytest.fixture(autouse=True)
def nothing_measured(monkeypatch):
    """Leave my kit empty, and pictures unpainted: what they say is worked out all the same."""
    monkeypatch.setattr(Sketch, "png", lambda *_: b"")
    my_kit.clear()
    yield
    my_kit.clear()


STATES = 3
SLOW = {  # one in either unit
    **dict.fromkeys(("Explorer", "HeatView", "SameWorlds", "Catchers", "UnderTheEmber"), 2),
    **dict.fromkeys(("PressAndSpeed", "MeasureNext", "SheetThickness"), 2),
}


@pytest.mark.parametrize("name", SAYS)
def test_tiles_and_spoken_line_are_those_of_the_library(name):
    panel: Panel = getattr(panels, name)()
    generator = np.random.default_rng(sum(map(ord, name)))
    for turn in range(SLOW.get(name, STATES)):
        panel.units.value = (METRIC, US)[turn % 2]
        panel.set(**anywhere(panel, generator))
        tiles, spoken, *noted = SAYS[name](panel.state, panel.system)
        seen = [read(value) for value in values(panel)]
        assert seen[: len(tiles)] == tiles, panel.state
        said = panel.sentence().replace("\xa0", " ")
        for words in spoken:
            assert words in said, (words, said)
        for words in noted:
            assert words in read(panel.face.value)


# ---- cards and predictions ----------------------------------------------------------------------


@pytest.mark.parametrize("key", ["tired_arms", "alder_at_the_elbow", "wood_from_the_hedge"])
def test_a_card_says_what_the_library_says_of_its_state(key):
    panel = panels.WhatIf(key)
    panel.set(**anywhere(panel, np.random.default_rng(len(key))))
    one = try_of(panel.rules.settings(panel.state))
    found, face = spread(one), read(panel.face.value)
    assert f"Ember, estimate {band_words(found.all)}" in face
    alone = f"with wood like yours {band_words(found.wood)}; {likely_words(found.wood.likely)}"
    assert (alone if found.wood.low < 3600 else "most likely never, with wood like yours") in face
    floor = floor_words(times(one).bound)
    assert f"Floor {floor} no sooner, at just these numbers" in face
    assert band_words(found.all) in panel.sentence().replace("\xa0", " ")


@pytest.mark.parametrize("key", ["twice_force_ember", "twice_diameter_ember", "dust_share"])
def test_a_prediction_says_what_was_worked_out(key):
    panel, found = panels.Predict(key), worked_out(key)
    panel.commit(next(iter(panel.asks.options)))
    assert read(values(panel.reveal)[0]) == found.found
    if found.tries is not None:
        assert found.after / found.before == pytest.approx(found.tries.ratio.likely)
        assert factor_words(found.tries.ratio) in read(panel.reveal.face.value)


@pytest.mark.parametrize("kits", ["thickness", "press", "water"])
def test_a_race_says_when_the_library_has_each_ember(kits):
    race = panels.Race()
    race.set(**anywhere(race.track, np.random.default_rng(len(kits))) | {"kits": kits})
    said, pair = race.commit("a tie"), race.track.pair
    embers = [times(one.state).ember.likely for one in pair]
    for one, ember in zip(pair, embers, strict=True):
        words = f"after {time_words(ember)}" if ember < 3600 else "most likely never"
        first = "glows first, " if ember == min(embers) else ""
        assert f"{one.name} {first}{words}" in said


@pytest.mark.parametrize(
    ("saying", "population"), [("press_harder", "ten_to_twelve"), ("hot_day", "mixed_autumn")]
)
def test_a_court_says_what_the_verdict_says(saying, population):
    court, found = panels.Court(saying, population), verdict(saying, population)
    said = court.commit("harms").replace("\xa0", " ")
    own = {kind: values(court.bench)[place] for place, kind in enumerate(OUTCOMES, start=1)}
    for kind, share in found.shares.items():
        count = int(own[kind].removesuffix(" of 100"))
        assert abs(count - 100 * share.likely) < 1
        assert f"{count} {dict(helps='helped', harms='harmed').get(kind, kind)}" in said
        off = 100 * max(share.high - share.likely, share.likely - share.low)
        assert f"{own[kind]} give or take {max(1, round(off))}" in read(court.bench.face.value)
    assert values(court.bench)[0] == ruling(saying).says
    beside = read(court.bench.found.value)
    assert found.rule.told() in beside
    assert "not even 200 timed tries" in beside
    for key, group in populations().items():
        assert f"{group.name}: {verdict(saying, key).says}" in beside


def test_counted_strokes_make_the_watts_of_the_kit_they_are_counted_for():
    kit = Kit(radius=0.008, cord_radius=0.016)  # the cord runs round a thicker part
    panel = panels.TapCounter(kit)
    panel.set(taps=(0.0, 0.6, 1.22, 1.8, 2.41, 3.0))
    speed = panel.answer(panel.state).speed
    made = [Try(kit).changed(speed=end).power for end in speed.ends]
    assert values(panel)[2] == f"{range_words(made)} W"
    assert "pressed with" in read(panel.face.value)
    assert "ordinary kit" not in read(panel.face.value)
    assert "ordinary kit" in read(panels.TapCounter().face.value)


def test_nobody_is_told_to_measure_on_where_no_ember_comes_anyway():
    hopeless = panels.MeasureNext(Kit.from_diameter(0.032), Effort(force=3.0, speed=0.1))
    face = read(hopeless.face.value)
    assert "Worth measuring next nothing" in face
    assert "no ember comes, whatever you measure" in face
    assert "what is left nobody can measure" not in face
