"""The kernel of pages beside the library: the same random tries asked of both.

The script runs in the Node.js that Playwright brings along: the engine of Chromium, and quicker to
start than a browser.
"""

import json
import subprocess
import sys
from pathlib import Path

import numpy as np
import playwright

from fireheat.kit.bowing import TORQUE_COEFFICIENTS
from fireheat.kit.kit import Air, Effort, Kit, Try
from fireheat.kit.wood import my_wood, woods
from fireheat.quantities import quantity
from fireheat.spread import GAUGES, settable

_FOLDER = Path(playwright.__file__).parent / "driver"
_NODE = _FOLDER / ("node.exe" if sys.platform == "win32" else "node")
_ODD = {"Infinity", "-Infinity", "NaN"}  # which JSON does not hold
_SIZES = ("diameter", "force", "friction", "speed", "moisture", "temperature_ambient")
_SELDOM = ("spindle_length", "spindle_film", "axial_factor", "cord_radius")


def asked_of(script, question, states):
    """Ask a script the same of many states: ``question`` is an expression in ``one``.

    Parameters
    ----------
    script : str
        What is run first.
    question : str
        JavaScript; what it tells may hold infinities.
    states : list
        What ``one`` is, in turn.
    """
    program = f"""{script}
    const odd = (_, value) =>
        typeof value === "number" && !Number.isFinite(value) ? String(value) : value;
    const asked = JSON.parse(require("fs").readFileSync(0, "utf8"));
    console.log(JSON.stringify(asked.map(one => {question}), odd));"""
    done = subprocess.run(
        [_NODE, "-e", program],
        input=json.dumps(states),
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr[-2000:]
    return _revived(json.loads(done.stdout))


def _revived(told):
    if isinstance(told, dict):
        return {key: _revived(value) for key, value in told.items()}
    if isinstance(told, list):
        return [_revived(value) for value in told]
    return float(told) if isinstance(told, str) and told in _ODD else told


def random_states(count, seed):
    """Draw tries over all that sliders reach, and now and then beyond, with what is known of each.

    Returns
    -------
    list of (dict, Try, dict, list)
        The state of the script, the library's, what was measured, and what was guessed.
    """
    rng = np.random.default_rng(seed)
    return [_random_state(rng) for _ in range(count)]


def _random_state(rng):
    given = {key: _drawn(rng, key) for key in _SIZES}
    given |= {key: _drawn(rng, key) for key in _SELDOM if rng.random() < 0.2}
    given["contact"] = str(rng.choice(list(TORQUE_COEFFICIENTS)))
    dust = "dust_mass" if rng.random() < 0.3 else "burn_in_depth"
    given[dust] = _drawn(rng, dust)
    if rng.random() < 0.2:
        given["specific_gravity"] = float(rng.uniform(0.3, 0.7))
    else:
        given["wood"] = str(rng.choice(list(woods())))
    state = as_try(given)
    return given, state, *_random_knowledge(rng, state)


def _drawn(rng, key):
    row = quantity(key)
    low, high = row.slider if rng.random() < 0.9 else (row.low, row.high)
    if low <= 0:
        return float(rng.uniform(low, high))
    return float(low * (high / low) ** rng.random())


def as_try(given):
    """Make the library's try of a state of the script."""
    given = dict(given)
    if "specific_gravity" in given:
        given["wood"] = my_wood(given.pop("specific_gravity"))
    air = {"temperature": given.pop("temperature_ambient")}
    if "spindle_film" in given:
        air["film"] = given.pop("spindle_film")
    effort = Effort(force=given.pop("force"), speed=given.pop("speed"))
    return Try(Kit.from_diameter(given.pop("diameter"), **given), effort, Air(**air))


def _random_knowledge(rng, state):
    """Mark each of what is set as measured, guessed or neither; some watts by a gauge."""
    measured, guessed = {}, []
    free = [*settable(state), "density"]
    if rng.random() < 0.3:
        gauge = str(rng.choice(list(GAUGES)))
        measured[gauge] = float(rng.uniform(0, 0.3))
        free = [key for key in free if key not in ("friction", *GAUGES[gauge])]
    for key in free:
        kind = rng.integers(4)
        if kind == 0 and key != "density":
            guessed.append(key)
        elif kind == 1:
            measured[key] = None if rng.random() < 0.5 else float(rng.uniform(0, 0.3))
    return measured, guessed
