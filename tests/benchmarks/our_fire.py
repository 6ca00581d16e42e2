"""Whether the band that our own tries leave still holds nine of ten, and how narrow it is.

    python tests/benchmarks/our_fire.py [evenings]

Evenings are made by another engine and dice (tests/oracles/outcomes.py), with learners who differ,
a power of the depth that nobody knows, and tries that are given up. Prints how many next tries lie
in the 90 % band, its width in ln t against the handbook's, the share of evenings announced as
strange, and of those that are strange: slower by far, or of the wrong sign.
"""

import sys
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))

from oracles.outcomes import SET, followed, thrown

from fireheat.kit.kit import Try
from fireheat.trials.columns import AN_EMBER, GAVE_UP, TimedTry
from fireheat.trials.our_fire import our_fire

LEARNERS, LEARNER_SCATTER = 6, 0.15
KNOWN = {
    "all measured": {"guessed": (), "measured": dict.fromkeys(SET)},
    "all guessed": {"guessed": SET, "measured": {}},
}


def states(dice, count):
    """Tries with diameter and force by lot, and the next one."""
    return [
        Try().changed(
            diameter=float(dice.choice([0.011, 0.014, 0.018])),
            force=float(dice.choice([50.0, 65.0, 85.0])),
        )
        for _ in range(count)
    ]


def evenings(tried, count, *, seed, known):
    """Times of so many tries on so many evenings, each with unknowns of its own."""
    dice = np.random.default_rng(seed)
    off = thrown(dice, (1, count), guessed=known["guessed"], measured=tuple(known["measured"]))
    wider = np.array([[state.kit.diameter / 0.016] for state in tried])
    off["burn_in_depth"] = off["burn_in_depth"] * wider ** -dice.uniform(0, 2, (1, count))
    made = followed(tried, off)[1]
    who = dice.integers(LEARNERS, size=made.shape)
    learner = dice.normal(0, LEARNER_SCATTER, (LEARNERS, count))
    luck = thrown(dice, made.shape)["luck"]
    return made * luck * np.exp(np.take_along_axis(learner, who, axis=0))


def fires(tried, made, share, known):
    """Our fire after each evening, all but the last try of it."""
    for column in made.T:
        given = np.minimum(column[:-1], 1500.0)
        patience = np.quantile(given, 1 - share) if share else 1500.0
        patience = max(patience, 8.0)
        yield our_fire(
            [
                TimedTry(
                    time=float(np.clip(t, 5.0, patience)),
                    ended=AN_EMBER if t <= patience else GAVE_UP,
                    diameter=state.kit.diameter,
                    force=state.effort.force,
                )
                for t, state in zip(column, tried[:-1], strict=False)
            ],
            **known,
        )


def judged(tries, share, known, count, *, seed=1):
    """Coverage, width against the handbook's, and share announced."""
    dice = np.random.default_rng(seed)
    tried = states(dice, tries + 1)
    made = evenings(tried, count, seed=seed, known=known)
    wide = our_fire([], **known).band(tried[-1])
    held, width, told = [], [], []
    for fire, truth in zip(fires(tried, made, share, known), made[-1], strict=True):
        band = fire.band(tried[-1])
        held.append(band.low <= truth <= band.high)
        # Later than two hours is never, on both sides.
        ends = [(one.low, min(one.high, 7200.0)) for one in (band, wide)]
        narrow, whole = (np.log(high / low) for low, high in ends)
        width.append(narrow / whole)
        told.append(bool(fire.strange))
    return np.mean(held), np.median(width), np.mean(told)


def announced(change, known, count, *, tries=12, seed=2):
    """Share of evenings with a strange truth that are announced."""
    tried = states(np.random.default_rng(seed), tries + 1)
    made = evenings([change(state) for state in tried], count, seed=seed, known=known)
    slower = 1.0
    if change is slow:
        slower = 4.5 if known["measured"] else 9.0
    return np.mean([bool(fire.strange) for fire in fires(tried, made * slower, 0.0, known)])


def slow(state):
    return state


def turned_diameter(state):
    return state.changed(diameter=0.014**2 / state.kit.diameter)


def turned_force(state):
    return state.changed(force=65.0**2 / state.effort.force)


if __name__ == "__main__":
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 100
    print("known         tries  given up   held   width  announced")
    for name, known in KNOWN.items():
        for tries in (6, 12, 24):
            for share in (0.0, 0.25, 0.5):
                found = judged(tries, share, known, count)
                words = "{:6.1%} {:6.2f}  {:6.1%}".format(*found)
                print(f"{name:13} {tries:5} {share:8.0%}  {words}", flush=True)
        for change in (slow, turned_diameter, turned_force):
            print(
                f"{name:13} {change.__name__:16} announced {announced(change, known, count):.0%}",
                flush=True,
            )
    tried = [TimedTry(time=60.0, ended=AN_EMBER, force=50.0 + n) for n in range(12)]
    for words, some in (("twelve tries, each another", tried[:-1]), ("one more", tried)):
        start = time.perf_counter()
        our_fire(some)
        print(f"{words}: {1000 * (time.perf_counter() - start):.0f} ms")
