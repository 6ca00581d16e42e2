"""What a learner could change, one thing at a time: the learner then, or what bars it.

The arm sets the speed. Who gives all the speed the arm has at this press gets slower when the new
press or spindle asks for more pull, and quicker when it asks for less. Who holds back keeps the
beat while the arm allows it, since a coach counts it. In a group nobody does, so there a saying
leaves each the same share of their speed (:mod:`fireheat.coach.sayings`).
"""

from collections.abc import Mapping
from typing import Any, NamedTuple

from ..constants import constant
from ..ember.ignition import enough_dust
from ..kit.strength import bending_strength, spindle_stress
from ..person.limits import stall_force
from ..quantities import InputError, quantity
from ..unknowns import unknown
from .learner import Learner

_SAME_SIZE, _SAME_WATER = 0.05, 0.005  # what is nearer is the same: a share, and water over wood
_BARELY = 1.0  # stroke a minute: who bows no quicker stands still. [1/min]


class Barred(NamedTuple):
    """What bars a change.

    Attributes
    ----------
    reason : str
        Which words of its row of ``data/moves.toml`` say it.
    values : mapping
        What stands in their places. [SI]
    """

    reason: str
    values: Mapping[str, Any]


def offers(now: Learner) -> dict[str, Learner | Barred]:
    """Change one thing after the other, within what arm, cord, spindle and dust allow.

    Parameters
    ----------
    now : Learner
        The learner, bowing no quicker than the arm can.

    Returns
    -------
    dict of str to Learner or Barred
        By row of ``data/moves.toml``: the learner after the change, or what bars it.

    Raises
    ------
    InputError
        If that is no learner.

    Examples
    --------
    >>> found = offers(Learner().within_arm())
    >>> found["thinner"].state.kit.diameter, found["beat"].reason
    (0.014, 'arm')
    """
    if not isinstance(now, Learner):
        raise InputError(f"now is {now!r}; allowed: Learner(...)")
    made = {key: offer(now) for key, offer in _OFFERS.items()}
    return {key: offer for key, offer in made.items() if offer is not None}


def bowing_then(now: Learner, then: Learner) -> Learner:
    """Let the arm say how quick a learner bows after a change of kit or press.

    Parameters
    ----------
    now, then : Learner
        Before the change, and after it with the speed of before.

    Returns
    -------
    Learner
        After it: at all the arm gives if it gave all before, else no quicker than now.

    Examples
    --------
    >>> now = Learner()
    >>> round(bowing_then(now, now.changed(force=66.0)).state.effort.speed, 2)
    0.95
    """
    most = then.most_speed
    return then.changed(speed=most if now.at_limit else min(now.state.effort.speed, most))


def _turning(now, then):
    """Let a learner bow after a change, or say that nothing turns any more."""
    if then.most_speed > 0 or not now.most_speed > 0:
        return bowing_then(now, then)
    values = {"pull_then": then.pull, "pull_most": now.arm.pull_max, "pull_slip": now.slip_pull}
    slips = now.slip_pull is not None and now.slip_pull < min(then.pull, now.arm.pull_max)
    return Barred("slip" if slips else "stall", values)


def _sizes(now):
    """List the sizes that are thinner than this spindle, the next one first."""
    most = (1 - _SAME_SIZE) * now.state.kit.diameter
    return sorted((size for size in constant("move_sizes") if size < most), reverse=True)


def _thinner(now):
    sizes = _sizes(now)
    return _with_spindle(now, sizes[0]) if sizes else Barred("last", {})


def _thinnest(now):
    """Offer the thinnest spindle that nothing bars, where it is thinner than the next one."""
    able = [_with_spindle(now, size) for size in _sizes(now)[1:]]
    return next((then for then in reversed(able) if isinstance(then, Learner)), None)


def _with_spindle(now, size):
    """Give a learner a spindle of another size, or say what bars it."""
    kit, least = now.state.kit, constant("thinnest_spindle")
    values, deepest = {"diameter_then": size}, quantity("burn_in_depth").high
    if size < least:
        return Barred("thin", values | {"diameter_least": least})
    if kit.dust_mass is None and _depth_then(kit, size) > deepest:
        return Barred("deep", values | {"burn_in_depth_most": deepest})
    then = _turning(now, _turned_thinner(now, size))
    if isinstance(then, Barred):
        return then
    load, most = _load(then), 1 / constant("spindle_safety")
    if load > most:
        percent = {"load": min(100 * load, 100.0), "load_most": 100 * most}
        return Barred("weak", values | percent)
    keeps = enough_dust(then.state.kit)
    if keeps.times_least.likely < 1:
        dust = {"dust_mass_then": then.state.kit.dust, "dust_mass_least": keeps.mass_least.likely}
        return Barred("dust", values | dust)
    return then


def _turned_thinner(now, size):
    """Give a learner a thinner spindle; its cord runs on the thinner stick, too."""
    kit, narrower = now.state.kit, size / now.state.kit.diameter
    changes = {"diameter": size}
    if kit.cord_radius is not None:
        changes["cord_radius"] = kit.cord_radius * narrower
    if kit.dust_mass is None:
        changes["burn_in_depth"] = _depth_then(kit, size)
    return now.changed(**changes)


def _depth_then(kit, size):
    return kit.burn_in_depth * (size / kit.diameter) ** -unknown("depth_exponent").band.likely


def _load(learner):
    """Tell what share of what breaks a clear stick this press and pull make; none is more."""
    kit = learner.state.kit
    stress = spindle_stress(
        learner.pull,
        force=learner.state.effort.force,
        diameter=kit.diameter,
        spindle_length=kit.spindle_length,
        specific_gravity=kit.specific_gravity,
    )
    return stress / bending_strength(kit.specific_gravity)


def _beat(now):
    most, speed = now.most_speed, (1 + constant("move_step")) * now.state.effort.speed
    if now.strokes_at(speed) < _BARELY:
        return Barred("still", {})
    if speed > most:
        strokes = {"strokes_then": now.strokes_at(speed), "strokes_most": now.strokes_at(most)}
        return Barred("arm", strokes)
    return now.changed(speed=speed)


def _firmer(now):
    return _turning(now, _pressing(now, 1 + constant("move_step")))


def _lighter(now):
    if not now.at_limit:
        return Barred("spare", {})
    then = bowing_then(now, _pressing(now, 1 - constant("move_step")))
    if then.state.effort.speed > 0:
        return then
    most = stall_force(now.state.kit, arm=now.arm, slip_pull=now.slip_pull)
    return Barred("still", {"force_most": most})


def _pressing(now, times):
    return now.changed(force=min(times * now.state.effort.force, quantity("force").high))


def _grease(now):
    if now.state.kit.block_friction <= constant("greased_block"):
        return Barred("done", {})
    return bowing_then(now, now.changed(block_friction=constant("greased_block")))


def _drier(now):
    least = constant("indoor_moisture")
    if now.state.kit.moisture <= least + _SAME_WATER:
        return Barred("done", {"moisture_least": least})
    return now.changed(moisture=least)


def _slower(now):
    return now.changed(speed=(1 - constant("move_step")) * now.state.effort.speed)


_OFFERS = {
    "thinner": _thinner,
    "thinnest": _thinnest,
    "beat": _beat,
    "firmer": _firmer,
    "lighter": _lighter,
    "grease": _grease,
    "drier": _drier,
    "slower": _slower,
}
