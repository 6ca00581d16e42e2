"""What a learner can change, by a plain loop over the estimate, one change after the other.

Limits and laws are typed anew, so that a slip in :mod:`fireheat.coach.offers` shows.
"""

import math

import numpy as np

from fireheat import Arm, Kit, Try, estimate
from fireheat.coach.learner import Learner
from fireheat.ember.ignition import enough_dust
from fireheat.kit.wood import woods
from fireheat.person.arm import arms

SIZES = (0.008, 0.01, 0.012, 0.014, 0.016, 0.018, 0.02, 0.022, 0.025, 0.028, 0.032)


def some_learners(count, seed):
    """Make up learners of all kinds: with spare strength, at their limit, beyond it."""
    random = np.random.default_rng(seed)
    kinds = [arm for kind in arms().values() for arm in (kind.weak, kind, kind.strong)]
    return [_some_learner(random, kinds) for _ in range(count)]


def _some_learner(random, kinds):
    radius = random.uniform(0.008, 0.025) / 2
    kit = Kit(
        radius=radius,
        cord_radius=radius * random.uniform(0.8, 1.2) if random.random() < 0.2 else None,
        friction=random.uniform(0.2, 0.5),
        wood=random.choice(sorted(woods())),
        moisture=random.uniform(0.06, 0.16),
        **(
            {"dust_mass": random.uniform(1e-4, 5e-4)}
            if random.random() < 0.3
            else {"burn_in_depth": random.uniform(0.002, 0.008)}
        ),
        block_friction=random.uniform(0.05, 0.3),
    )
    chosen = kinds[random.integers(len(kinds))]
    names = ("pull_max", "speed_max", "critical_power", "work_above")
    arm = Arm(**{name: getattr(chosen, name) for name in names})
    force, slip = random.uniform(25.0, 120.0), random.uniform(10.0, 60.0)
    learner = Learner(
        state=Try(kit).changed(force=force),
        arm=arm,
        slip_pull=slip if random.random() < 0.5 else None,
    )
    share = random.choice([random.uniform(0.4, 0.95), 1.0, 1.1])
    return learner.changed(speed=share * speed_of(learner, kit, force))


def speed_of(learner, kit, press):
    """Return the speed that arm and cord allow, from Hill's law and the moments on the spindle."""
    arm, pull = learner.arm, pull_of(kit, press)
    if pull >= arm.pull_max or (learner.slip_pull is not None and pull > learner.slip_pull):
        return 0.0
    # Hill in his own words: (B + a)(v + b) = (B_max + a) b
    a, b = arm.curvature * arm.pull_max, arm.curvature * arm.speed_max
    return (arm.pull_max + a) * b / (pull + a) - b


def pull_of(kit, press):
    """Return the pull that both ends of the spindle ask for."""
    cord = kit.radius if kit.cord_radius is None else kit.cord_radius
    tip = kit.friction * press * kit.radius / 2
    top = kit.block_friction * press * kit.block_radius * 2 / 3
    return (tip + top) / cord


def savings(learner):
    """Return when the ember is there now, and after each change that can be made and saves time."""
    effort = learner.state.effort
    most = speed_of(learner, learner.state.kit, effort.force)
    speed = min(effort.speed, most)
    now = _ember(learner, learner.state.kit, effort.force, speed)
    found = {}
    for key, kit, force, quicker in _changes(learner, most, speed):
        then = quicker if quicker else _follows(learner, kit, force, most, speed)
        if then > 0:
            found[key] = _ember(learner, kit, force, then)
    return now, {key: time for key, time in found.items() if time < 0.995 * now}


def _follows(learner, kit, force, most, speed):
    able = speed_of(learner, kit, force)
    return able if speed >= 0.99 * most else min(able, speed)


def _ember(learner, kit, force, speed):
    state = Try(kit, air=learner.state.air).changed(force=force, speed=speed)
    return estimate(state.kit, state.effort, state.air).ember.likely


def _changes(learner, most, speed):
    """List single changes: name, kit, press, and a speed where that is what changes."""
    kit, force = learner.state.kit, learner.state.effort.force
    thinner = [size for size in SIZES if size < 0.95 * kit.diameter]
    if thinner and _survives(learner, thinned := _thinned(kit, max(thinner)), force):
        yield "thinner", thinned, force, 0.0
    if 0 < 1.1 * speed <= most:
        yield "beat", kit, force, 1.1 * speed
    yield "firmer", kit, 1.1 * force, 0.0
    if speed >= 0.99 * most:
        yield "lighter", kit, 0.9 * force, 0.0
    if kit.block_friction > 0.08:
        yield "grease", kit.changed(block_friction=0.08), force, 0.0
    if kit.moisture > 0.075:
        yield "drier", kit.changed(moisture=0.07), force, 0.0


def _thinned(kit, size):
    """Turn a kit thinner: between the same depth and the same grams, if it was not in grams."""
    changes = {"radius": size / 2}
    if kit.cord_radius is not None:
        changes["cord_radius"] = kit.cord_radius * size / kit.diameter
    if kit.dust_mass is None:
        changes["burn_in_depth"] = kit.burn_in_depth * kit.diameter / size
    return kit.changed(**changes)


def _survives(learner, kit, force):
    """Tell whether a thinner spindle bears press and pull three times, and makes dust enough."""
    gravity, across, along = kit.specific_gravity, kit.diameter, kit.spindle_length
    section, inertia = math.pi * across**2 / 4, math.pi * across**4 / 64
    slender = along / 2 * math.sqrt(force / (2.8e6 * 6894.76 * gravity * inertia))
    if slender >= math.pi / 2:
        return False
    moment = pull_of(kit, force) * along / 4 * math.tan(slender) / slender
    stress = force / section + moment * across / 2 / inertia
    enough = enough_dust(kit).times_least.likely >= 1
    return 3 * stress <= 25_700 * 6894.76 * gravity**1.25 and enough
