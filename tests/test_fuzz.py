"""Call everything public with an argument that is wrong, odd or huge: it answers or says why not.

A function, or a class that checks what it is given, joins by itself; what it takes beyond the
table of quantities needs an ordinary value in ``USUAL``. Each odd value is tried in each place;
with ``FIREHEAT_FUZZ=all`` also each pair of them, as far as a minute of the processor goes for each
thing, of which a small sample from a seed is tried otherwise.
"""

import dataclasses
import inspect
import itertools
import math
import os
import random
import re
import signal
import struct
import time
import warnings
from contextlib import contextmanager
from decimal import Decimal

import numpy as np
import pytest
from numpydoc.docscrape import FunctionDoc
from test_docstrings import documented, public_things
from test_every_formula import ORDINARY

from fireheat import Air, Arm, Ember, InputError, Try
from fireheat.answers.cards import Rules
from fireheat.answers.explorer import outlook
from fireheat.answers.heat_view import kit_heat
from fireheat.answers.planned import planned
from fireheat.answers.race import starters
from fireheat.answers.warmth import Rhythm
from fireheat.answers.watts import Pulling, watts
from fireheat.answers.worth import doubts
from fireheat.bands import Band
from fireheat.coach.learner import Learner
from fireheat.coach.population import invented_learners
from fireheat.coach.verdicts import verdict
from fireheat.ember.catchers import catcher
from fireheat.estimates import estimate, times
from fireheat.heat.material import Material
from fireheat.heat.mesh import Block, Source
from fireheat.kit.making import Carved
from fireheat.my_kit import MyKit
from fireheat.person.measuring import Measured
from fireheat.person.strokes import SpeedHistory
from fireheat.quantities import quantities
from fireheat.spread import even_shares, spread
from fireheat.trials.columns import TimedTry
from fireheat.trials.log import demo_log
from fireheat.trials.our_fire import our_fire

PAIRS = None if os.environ.get("FIREHEAT_FUZZ") == "all" else 15  # of odd values, for each thing
PATIENCE = 2.0  # seconds of the processor, so that a busy machine is no fault
MOST = 60.0  # of them for one thing: all pairs of a march's twenty numbers would take a day

ODD = {
    "None": None,
    "True": True,
    "x": "x",
    "nothing said": "",
    "nan": math.nan,
    "inf": math.inf,
    "-inf": -math.inf,
    "-1": -1,
    "0": 0,
    "-0.0": -0.0,
    "1e300": 1e300,
    "1e-300": 1e-300,
    "0-d": np.array(3.0),
    "float32": np.float32(0.5),
    "longdouble": np.longdouble(0.5),
    "int": 2,
    "ragged": [[1.0], [1.0, 2.0]],
    "masked": np.ma.masked_array([1.0, 2.0], [False, True]),
    "empty": np.array([]),
    "complex": 1j,
    "Decimal": Decimal("0.5"),
    "dict": {"a": 1.0},
    "list of words": ["x"],
    "object": object(),
}
# Products of these leave what floats hold: a sum may overflow, a matrix be singular, in words of
# their own. Only what hangs, or is taken for another kind of thing, is a fault.
HUGE, THEIR_OWN = {"1e300", "1e-300"}, (ValueError, ArithmeticError, RuntimeError, struct.error)

# Rooms that spell, look up or do algebra on what was checked where it came in.
CHECKED_BEFORE = {
    *("bands", "constants", "derivation", "everyday", "oracles", "quantities", "texts", "words")
}
# Steps inside a formula, whose caller has checked what it hands on.
STEPS = {
    "answers.worth.parts_words",
    "ember.catchers.ground_row",
    "ember.catchers.wet_capacity",
    "estimates.explained",
    "heat.contact.talbot",
    "heat.mesh.build_mesh",
    "heat.mesh.film_conductance",
    "heat.mesh.half_conductances",
    "heat.mesh.links",
    "heat.stepping.build_system",
    "heat.stepping.heat_let_in",
    "heat.stepping.march_states",
    "heat.two_stage.curve_root",
    "heat.two_stage.energy_ratio",
    "heat.two_stage.over_rate",
    "heat.warming.divided",
    "heat.warming.in_time",
    "heat.warming.some_of",
    "heat.warming.when_reached",
    "lessons.headline",
    "pages.tight.tight_script",
    "pages.tight.tight_style",
    "lessons.said_value",
    "lessons.setting_words",
    "lessons.spelled",
    "lessons.stands",
    "trials.cells.bare_word",
    "trials.cells.comma_column",
    "trials.cells.learner_warning",
    "trials.cells.read_number",
    "trials.cells.spell_number",
    "trials.cells.spelled_unit",
    "trials.cells.tidy",
    "trials.fit.TooFewTriesError",
    "trials.likelihood.carries",
    "trials.likelihood.coefficient_ends",
    "trials.likelihood.fall_allowed",
    "trials.likelihood.freedom",
    "trials.likelihood.scale_ends",
    "trials.likelihood.tops",
}
# What a refusal calls an argument, where that is neither its name nor its quantity's.
CALLED = {
    "across": "a try has no",
    "biot": "biot",
    "block_contact": "contact",
    "board_film": "surface heat transfer coefficient",
    "board_radius": "radius",
    "board_thickness": "thickness",
    "below": "block under the source",
    "count": "number of rings",
    "key": "there are|catcher|unknown is|wood|door|plan|race",
    "left": "spindle diameter",
    "name": "ground|a block has|name of a catcher|a name to keep|notebook",
    "path": "path|cannot read",
    "right": "spindle diameter",
    "sheet_radius": "radius",
    "system": "units",
    "tap_times": "taps",
    "value": "diameter",
    "which": "which|result",
}


def callables():
    """Every public function of a model, and every class that looks at what it is given."""
    for case in public_things():
        room, thing = case.values
        looks = not inspect.isclass(thing) or (
            dataclasses.is_dataclass(thing) and hasattr(thing, "__post_init__")
        )
        if room not in CHECKED_BEFORE and looks and case.id not in STEPS:
            yield pytest.param(thing, id=case.id)


CALLABLES = list(callables())


@pytest.fixture(autouse=True)
def elsewhere(tmp_path, monkeypatch):
    """Work in a folder of its own: an odd value may be a good name of a file."""
    monkeypatch.chdir(tmp_path)


# What the table of quantities and the formulas' tests have no ordinary value for.
LEARNERS = invented_learners("mixed_autumn", count=50)
WALL = Material(0.12, 0.22, 6e5)
USUAL = ORDINARY | {
    "across": "diameter",
    "air": Air(),
    "change": {"diameter": 0.5},
    "conductivity_axial": 0.22,
    "conductivity_radial": 0.12,
    "count": 10,
    "ember": Ember(),
    "fire": our_fire([], draws=200),
    "found": times(Try()),
    "ground": "dry soil",
    "history": SpeedHistory(step=0.1, speed=[1.0, 1.0, 1.0]),
    "key": "leather",
    "learner": Learner(),
    "learners": LEARNERS,
    "material": WALL,
    "measure": "ember",
    "name": "slate",
    "population": "mixed_autumn",
    "one": catcher("leather"),
    "rhythm": Rhythm(),
    "run": kit_heat(Try(), duration=20.0),
    "samples": np.zeros(3),
    "saying": "press_harder",
    "seen": ["steam"],
    "slip_pull": 56.0,
    "spindle": WALL,
    "board": WALL,
    "stack": [Block("wall", WALL, radius=0.02, thickness=0.02)],
    "source": Source(radius=0.005, power=1.0),
    "strokes": Band(95.0, 100.0, 105.0),
    "tap_times": [0.0, 0.5, 1.0, 1.5],
    "tier": 1,
    "weak": Arm(),
    "strong": Arm(),
    "status": "assumption",
}
SEEN = outlook(Try(), across="diameter")
WORKING = {"which": "heat", "found": estimate(), "spread": SEEN.spread}
OTHER = Try().changed(force=75.0)
RULES = {
    **{"start": {}, "free": ("diameter",), "below": 90.0, "change_at_most": 1},
    **{"at_least": {}, "at_most": {}, "arm": ("teenager", "likely")},
}
THREE = {  # thin spindles and three thick
    "times": [22.0, 31.0, 26.0, 95.0, 80.0, 120.0],
    "observed": [True] * 5 + [False],
    "design": {"diameter": np.log([1.0, 1.0, 1.0, 2.0, 2.0, 2.0])},
}
TRUTH = {"design": THREE["design"], "exponents": {"diameter": 2.0}, "time": 60.0}
# And where one name is another thing than elsewhere.
THERE = {
    "answers.race.contest": dict(zip(("left", "right"), starters("thickness"), strict=True)),
    "answers.race.starters": {"key": "thickness"},
    "answers.cards.Rules": RULES,
    "answers.cards.hold": {"rules": Rules(**RULES)},
    "answers.cards.judge": {"rules": Rules(**RULES), "moved": {}, "found": spread(Try())},
    "answers.cards.most_speed": {"rules": Rules(**RULES)},
    "answers.explorer.ratio": {"before": SEEN, "now": SEEN},
    "answers.explorer.ten_tries": {"turn": 0},
    "answers.fitted.fitted": {"tries": ()},
    "answers.joining.joined": {"wider": np.array([0.5, 1.0, 2.0])},
    "answers.making.size_rows": {"carved": Carved(0.016)},
    "answers.making.size_words": {"carved": Carved(0.016)},
    "answers.next_try.next_try": {"state": Try(), "tries": ()},
    "trials.foretold.error_of": {"reading": "luck"},
    "answers.our_tries.our_tries": {"tries": ()},
    "answers.our_tries.survival": {"times": [30.0, 40.0], "observed": [True, False]},
    "answers.pairs.paired": {"change": "harder"},
    "coach.rules.rule_for": {"who": LEARNERS.force > 80.0},
    "coach.offers.offers": {"now": Learner()},
    "coach.offers.bowing_then": {"now": Learner(), "then": Learner()},
    "answers.court.hundred": {"verdict": verdict("press_harder", "mixed_autumn", count=50)},
    "answers.planned.order_of": {"found": planned(Try(), change="harder"), "learners": ("L01",)},
    "answers.planned.planned": {"change": "harder"},
    "answers.questions.as_compared": {"beside": Try()},
    "answers.coaching.changed_by": {
        "settings": {"stroke_length": 0.5, "strokes_per_minute": 80.0, "arm": "ten_year_old"}
    },
    "answers.questions.asked_of": {"settings": {}},
    "answers.questions.compared": {"before": Try(), "after": Try()},
    "answers.questions.try_of": {"settings": {}},
    "answers.next_try.after_evenings": {"found": spread(Try())},
    "answers.watts.in_my_kit": {"pulling": Pulling(), "found": watts(Pulling())},
    "answers.watts.watts": {"pulling": Pulling()},
    "answers.working.choices": WORKING,
    "answers.working.results": WORKING,
    "answers.working.working": WORKING,
    "answers.working_lines.lines": WORKING,
    "answers.worth.doubted": {"mine": MyKit()},
    "answers.worth.each_worth": {"mine": MyKit()},
    "my_kit.shown_as": {"key": "grip"},
    "answers.worth.narrowing": {"mine": MyKit()},
    "answers.worth.next_words": {"found": doubts(Try())},
    "answers.worth.total_indices": {"answer": sum, "groups": {"one": [0]}, "draws": 8},
    "ember.catchers.Catcher": {"thickness": 0.005},
    "heat.volumes.solve": {"time": [1.0, 2.0]},
    "kit.bowing.area_factor": {"contact": "uniform_wear"},
    "kit.bowing.torque_coefficient": {"contact": "uniform_wear"},
    "kit.tip.force_exponent": {"contact": "uniform_wear"},
    "kept.write_kept": {"name": "example", "values": {}},
    "kit.wood.wood": {"key": "red_oak"},
    "lessons.card": {"key": "tired_arms"},
    "lessons.prediction": {"key": "half_diameter"},
    "lessons.self_check": {"key": "units"},
    "lessons.worked_out": {"key": "watts"},
    "person.arm.ExampleArm": {"source": "a guess"},
    "person.measuring.propagated": {"formula": lambda: 1.0},
    "person.measuring.simulated": {"given": {"pull": Measured(13.5, 0.5)}},
    "person.measuring.standard": {"interval": Band(0.9, 1.0, 1.1)},
    "person.measuring.well_measured": {"key": "diameter", "value": 0.016},
    "person.strokes.SpeedHistory": {"speed": [1.0, 1.0]},
    "paths.door": {"key": "show"},
    "paths.lesson_plan": {"key": "lesson"},
    "shipped.shipped_cells": {"name": "00-start-here.ipynb"},
    "shipped.stated_minutes": {"name": "00-start-here.ipynb"},
    "trials.fit.censored_fit": THREE,
    "trials.columns.TimedTry": {"ended": "ember", "time": 60.0},
    "trials.columns.fit_columns": {"tries": (), "causes": ()},
    "trials.evenings.invented_evenings": TRUTH,
    "trials.exponents.club_exponents": {
        **{"times": THREE["times"], "observed": THREE["observed"]},
        "settings": {"force": [40.0, 50.0, 60.0, 40.0, 50.0, 60.0]},
    },
    "trials.exponents.depth_power": {
        "diameters": [0.01, 0.01, 0.02, 0.02],
        "worn": [0.005, 0.0048, 0.003, 0.0023],
    },
    "trials.exponents.physics_exponent": {"cause": "force"},
    "trials.log.add_try": {"path": "tries.csv", "timed": TimedTry(time=60.0, ended="ember")},
    "trials.log.log_text": {"tries": ()},
    "trials.log.new_log": {"path": "tries.csv"},
    "trials.our_fire.our_fire": {"tries": [TimedTry(time=60.0, ended="ember")]},
    "trials.plan.chance_to_tell": {"ratio": 2.0, "tries_a_side": 4},
    "trials.plan.plan": {"ratio": 2.0},
    "trials.plan.running_order": {"settings": ["thick", "thin"], "rounds": 2},
    "trials.plan.simulated_chance": {"ratio": 2.0, "tries_a_side": 4},
    "trials.reading.file_bytes": {"path": demo_log()},
    "trials.reading.read_bytes": {"data": demo_log().read_bytes()},
    "trials.reading.read_log": {"path": demo_log()},
    "trials.wrong_ways.three_ways": THREE,
    "trials.wrong_ways.which_way_errs": TRUTH,
    "spread.compare": {"one": Try(), "other": OTHER},
    "spread.drawn_case": {"shares": even_shares(4)},
    "spread.pairs": {"one": Try(), "other": OTHER},
    "spread.ratios": {"swept": {"moisture": np.array([0.06, 0.08, 0.1])}, "against": 1},
    "unknowns.unknown": {"key": "luck"},
}


def places(thing):
    """Arguments that are numbers or words.

    A number where a kit belongs is another kind of slip: Python itself says that it has no
    diameter. Panels, where readers work, do refuse it by name.
    """
    return [
        one
        for one in inspect.signature(thing).parameters.values()
        if one.kind not in (one.VAR_KEYWORD, one.VAR_POSITIONAL)
        and re.search(r"\b(float|int|str|Numbers)\b|^typing.Any$", str(one.annotation))
        and not re.search(r"Mapping|Callable|Sequence|Iterable", str(one.annotation))
    ]


def usual(thing):
    """Ordinary values of what a thing cannot do without."""
    there = THERE.get(f"{thing.__module__.removeprefix('fireheat.')}.{thing.__name__}", {})
    return {
        one.name: (USUAL | there)[one.name]
        if one.name in USUAL or one.name in there
        else quantities()[one.name].default
        for one in inspect.signature(thing).parameters.values()
        if one.default is one.empty and one.kind not in (one.VAR_KEYWORD, one.VAR_POSITIONAL)
    }


@contextmanager
def patience():
    """Give up on what takes too long, where the system can."""

    def too_long(*_):
        raise TimeoutError(f"over {PATIENCE} s")

    if not hasattr(signal, "setitimer"):
        yield
        return
    before = signal.signal(signal.SIGVTALRM, too_long)
    signal.setitimer(signal.ITIMER_VIRTUAL, PATIENCE)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        signal.signal(signal.SIGVTALRM, before)


def numbers(answer):
    """Every number in an answer."""
    if isinstance(answer, float | np.floating | np.ndarray):
        yield np.asarray(answer)
    elif dataclasses.is_dataclass(answer) and not isinstance(answer, type):
        for field in dataclasses.fields(answer):
            if field.type not in (str, "str"):
                yield from numbers(getattr(answer, field.name))
    elif isinstance(answer, tuple | list):
        for part in answer:
            yield from numbers(part)


def named(refusal, key):
    """Whether a refusal names an argument as a reader may know it."""
    row = quantities().get(key)
    known = key, key.replace("_", " "), *([row.name] if row else []), CALLED.get(key, key)
    return re.search("|".join(known), str(refusal), flags=re.IGNORECASE)


def many(thing, key):
    """Whether the docstring promises that an argument may be an array."""
    doc = documented(FunctionDoc(inspect.unwrap(thing))["Parameters"])
    return inspect.isfunction(inspect.unwrap(thing)) and "ndarray" in doc.get(key, ("",))[0]


def fault(thing, given, **odd):
    """What is wrong with how a thing takes odd values; None if it is well."""
    said = ", ".join(f"{key}={what}" for key, what in odd.items())
    huge = not HUGE.isdisjoint(odd.values())
    # An empty array where one number is asked for: NumPy's own words say that it is none.
    none = any(what == "empty" and not many(thing, key) for key, what in odd.items())
    try:
        with warnings.catch_warnings(), patience():
            warnings.simplefilter("ignore" if huge else "error", RuntimeWarning)
            answer = thing(**given | {key: ODD[what] for key, what in odd.items()})
    except InputError as refusal:
        if huge or any(named(refusal, key) for key in odd):
            return None
        return f"{said}: not named: {refusal}"
    except Exception as outcry:
        own = (huge and isinstance(outcry, THEIR_OWN)) or (
            none and isinstance(outcry, ValueError | TypeError)
        )
        return None if own else f"{said}: {type(outcry).__name__}: {outcry}"
    if huge:
        return None
    bad = [n for n in numbers(answer) if n.dtype.kind == "f" and np.isnan(n).any()]
    return f"{said}: answers NaN" if bad else None


@pytest.mark.parametrize("thing", CALLABLES)
def test_an_odd_value_gets_an_answer_or_is_refused_by_name(thing):
    given = usual(thing)
    thing(**given)  # ordinary values are taken
    faults = [fault(thing, given, **{one.name: what}) for one in places(thing) for what in ODD]
    assert [one for one in faults if one] == []


@pytest.mark.parametrize("thing", [case for case in CALLABLES if len(places(*case.values)) > 1])
def test_two_odd_values_get_an_answer_or_one_is_refused_by_name(thing):
    given = usual(thing)
    pairs = [
        {first.name: one, then.name: other}
        for first, then in itertools.combinations(places(thing), 2)
        for one, other in itertools.product(ODD, ODD)
    ]
    chosen = random.Random(thing.__qualname__).sample(pairs, PAIRS or len(pairs))
    until = time.process_time() + MOST
    tried = itertools.takewhile(lambda _: time.process_time() < until, chosen)
    assert [one for pair in tried if (one := fault(thing, given, **pair))] == []


def test_a_function_that_takes_anything_is_seen():
    def careless(force: float):
        return np.float64(force) * 0.0

    complaints = [fault(careless, {}, force=what) for what in ("x", "nan", "None", "int")]
    assert [complaint is not None for complaint in complaints] == [True, True, True, False]


def test_a_function_that_never_ends_is_seen():
    def endless(time: float):
        while time > 0:
            pass

    assert "TimeoutError" in fault(endless, {}, time="int")
