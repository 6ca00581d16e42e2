"""Whether the band that our own tries leave still holds nine of ten, and how narrow it is.

    python tests/benchmarks/our_fire.py [evenings]

Evenings are made by another engine and dice (tests/oracles/outcomes.py). A fair truth comes from
the same handbook: each unknown is thrown for the evening and again for each learner, so that both
together are off as the table says, and learners lie so far apart as the drawn scatter of tries
asks. Learners, a power of the depth that nobody knows, and tries that are given up are in it.

Prints how many next tries lie in the 90 % band, how many bands end in never (which no try is later
than: those hold 95 %), the width in ln t against the handbook's, and the share of evenings
announced as strange; the same for learners that are all alike, or far apart, and
for logs with depths worn and first smoke. (The next try of some evenings is the same, so that 200
evenings tell coverage to 3 % or so.) Then, of evenings slower by a factor, how many are
announced, how many the best possible test would announce, and how many are said to be slower than
nine of ten fires of the handbook; and how many of the wrong sign are announced.
"""

import sys
import time
from functools import cache
from itertools import product
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))

from oracles.outcomes import NINETEEN_IN_TWENTY, SET, followed, thrown

from fireheat.answers.explorer import outlook
from fireheat.data import table
from fireheat.kit.kit import Try
from fireheat.trials.columns import AN_EMBER, GAVE_UP, TimedTry
from fireheat.trials.our_fire import our_fire

LEARNERS, DESIGNS = 6, 10
PATIENCE = 1500.0  # the longest that a log takes as ordinary, nearly
KNOWN = {
    "all measured": {"guessed": (), "measured": dict.fromkeys(SET)},
    "all guessed": {"guessed": SET, "measured": {}},
}
FACTORS = (3.0, 4.5, 6.0, 9.0, 12.0)


class Club:
    """Dice for one evening a column: part of each throw is the evening's, part the learner's."""

    def __init__(self, dice, shape, known, scatter=None, likely=False):
        row, (_, count) = table("constants")["try_scatter"], shape
        place = dice.standard_normal(count) / NINETEEN_IN_TWENTY
        reach = np.where(place < 0, row["value"] / row["low"], row["high"] / row["value"])
        scatter = row["value"] * reach**place if scatter is None else np.full(count, scatter)
        luck = np.log(table("spread")["luck"]["high"]) / NINETEEN_IN_TWENTY
        learners = np.maximum(scatter**2 - luck**2, 0.0)
        # By the width between ends: late evenings, and those without an ember, make the variance.
        low, high = np.quantile(np.log(levels(known)), (0.05, 0.95))
        self.own = np.minimum(learners / ((high - low) / (2 * NINETEEN_IN_TWENTY)) ** 2, 1.0)
        self.dice, self.who = dice, dice.integers(LEARNERS, size=shape)
        self.common = np.sqrt(1 - self.own) * (not likely)

    def standard_normal(self, shape):
        """Throw for the evening and for each learner, and mix."""
        evening, learner = (self.dice.standard_normal((n, shape[1])) for n in (1, LEARNERS))
        learner = np.take_along_axis(learner, self.who, axis=0)
        return self.common * evening + np.sqrt(self.own) * learner


def levels(known):
    """Ln times of an ordinary try on many evenings, by the other engine, without luck."""
    return _levels(known["guessed"], tuple(known["measured"]))


@cache
def _levels(guessed, measured):
    off = thrown(np.random.default_rng(0), (1, 1000), guessed=guessed, measured=measured)
    return np.minimum(followed([Try()], off)[1][0], 7200.0)


def states(dice, count):
    """Tries with diameter and force by lot, and the next one."""
    return [
        Try().changed(
            diameter=float(dice.choice([0.011, 0.014, 0.018])),
            force=float(dice.choice([50.0, 65.0, 85.0])),
        )
        for _ in range(count)
    ]


def evenings(tried, count, *, seed, known, scatter=None, likely=False):
    """Smoke, ember and depth of so many tries on so many evenings, each with its own unknowns.

    Where all unknowns have their likely values, only learners and luck tell evenings apart.
    """
    dice = np.random.default_rng(seed)
    shape = (len(tried), count)
    club = Club(dice, shape, known, scatter, likely)
    off = thrown(club, shape, guessed=known["guessed"], measured=tuple(known["measured"]))
    wider = np.array([[state.kit.diameter / 0.016] for state in tried])
    off["burn_in_depth"] = off["burn_in_depth"] * wider ** -dice.uniform(0, 2, (1, count))
    luck = thrown(dice, shape)["luck"]
    smoke, ember = (found * luck for found in followed(tried, off))
    return smoke, ember, 0.004 * off["burn_in_depth"]


def fires(tried, made, share, known, *, more=False, draws=2000):
    """Our fire after each evening, all but the last try of it; depth and smoke logged or not."""
    dice = np.random.default_rng(3)
    for smoke, ember, depth in zip(*(each.T for each in made), strict=True):
        given = np.minimum(ember[:-1], PATIENCE)
        patience = max(np.quantile(given, 1 - share) if share else PATIENCE, 8.0)
        tries = []
        for t, s, d, state in zip(given, smoke, depth, tried[:-1], strict=False):
            ended = float(np.clip(t, 5.0, patience))
            fields = {"diameter": state.kit.diameter, "force": state.effort.force}
            if more:
                worn, seen = np.exp(dice.normal(0, 0.11, 2))
                if 5e-4 < (worn := d * worn * ended / max(t, ended)) < 0.02:
                    fields["burn_in_depth"] = worn
                if 0.5 < s * seen < min(ended, 290.0):
                    fields["smoke_time"] = s * seen
            kind = AN_EMBER if t <= patience and t < PATIENCE else GAVE_UP
            tries.append(TimedTry(time=ended, ended=kind, **fields))
        yield our_fire(tries, draws=draws, **known)


def judged(tries, share, known, count, *, seed=1, designs=DESIGNS, scatter=None, more=False):
    """Coverage, bands that end in never, width against the handbook's, share announced."""
    held, never, width, told = [], [], [], []
    for design in range(designs):
        dice = np.random.default_rng((seed, design))
        tried = states(dice, tries + 1)
        made = evenings(tried, count // designs, seed=dice, known=known, scatter=scatter)
        wide = our_fire([], draws=2000, **known).band(tried[-1])
        for fire, truth in zip(
            fires(tried, made, share, known, more=more), made[1][-1], strict=True
        ):
            band = fire.band(tried[-1])
            held.append(band.low <= truth <= band.high)
            never.append(np.isinf(band.high))
            # Later than two hours is never, on both sides.
            ends = [np.minimum(one.ends, 7200.0) for one in (band, wide)]
            narrow, whole = (np.log(high / low) for low, high in ends)
            width.append(narrow / whole)
            told.append(bool(fire.strange))
    return np.mean(held), np.mean(never), np.median(width), np.mean(told)


def slower(factor, known, count, *, tries=12, seed=2, likely=False, designs=DESIGNS):
    """Share of slower evenings announced, and said to be slower than nine of ten.

    Slower than an evening that the handbook makes, or than its likely one.
    """
    told, nine = [], []
    for design in range(designs):
        dice = np.random.default_rng((seed, design))
        tried = states(dice, tries + 1)
        made = evenings(tried, count // designs, seed=dice, known=known, likely=likely)
        made = [made[0] * factor, made[1] * factor, made[2]]
        for fire in fires(tried, made, 0.0, known):
            told.append("level" in fire.strange)
            nine.append(fire.slower_than >= 0.9)
    return np.mean(told), np.mean(nine)


def best_possible(factor, known):
    """Power of the test that knows the level of an evening exactly, at 5 % false alarms."""
    level = levels(known)
    return np.mean(level * factor > np.quantile(level, 0.95))


def wrong_sign(change, known, count, *, tries=12, seed=2, designs=DESIGNS):
    """Share of evenings on which a setting works the other way round that are announced."""
    told = []
    for design in range(designs):
        dice = np.random.default_rng((seed, design))
        tried = states(dice, tries + 1)
        turned = [change(state) for state in tried]
        made = evenings(turned, count // designs, seed=dice, known=known)
        told += [bool(fire.strange) for fire in fires(tried, made, 0.0, known)]
    return np.mean(told)


def turned_diameter(state):
    return state.changed(diameter=0.014**2 / state.kit.diameter)


def turned_force(state):
    return state.changed(force=65.0**2 / state.effort.force)


def print_judged(words, *args, **more):
    held, never, width, told = judged(*args, **more)
    print(f"{words}  {held:6.1%} {never:6.1%} {width:6.2f}  {told:6.1%}", flush=True)


def main(count):
    print("known         tries  given up    held  never  width  announced")
    for name, tries, share in product(KNOWN, (6, 12, 24), (0.0, 0.25, 0.5)):
        print_judged(f"{name:13} {tries:5} {share:8.0%}", tries, share, KNOWN[name], count)
    for name, scatter in product(KNOWN, (0.136, 0.2, 0.25, 0.4)):
        words = f"{name:13}    12      25%, tries lie {scatter} apart"
        print_judged(words, 12, 0.25, KNOWN[name], count, scatter=scatter)
    for name, tries, share in product(KNOWN, (6, 12, 24), (0.0, 0.25, 0.5)):
        words = f"{name:13} {tries:5} {share:8.0%}, depths and smoke logged"
        print_judged(words, tries, share, KNOWN[name], count // 2, more=True)
    print("known         slower by  announced  best possible  slower than 9 of 10  the likely fire")
    for name, factor in product(KNOWN, FACTORS):
        told, nine = slower(factor, KNOWN[name], count)
        best = best_possible(factor, KNOWN[name])
        likely = slower(factor, KNOWN[name], count, likely=True)
        words = f"{told:8.0%} {best:10.0%} {nine:14.0%} {likely[0]:12.0%} {likely[1]:5.0%}"
        print(f"{name:13} {factor:8}  {words}", flush=True)
    for name, change in product(KNOWN, (turned_diameter, turned_force)):
        told = wrong_sign(change, KNOWN[name], count)
        print(f"{name:13} {change.__name__:16} announced {told:.0%}", flush=True)
    print_times()


def logged(count, dust):
    """Write an evening on which every try has settings of its own; a quarter is given up."""
    dice = np.random.default_rng(5)
    for number in range(count):
        fields = {"diameter": 0.011 + 0.0003 * number, "force": 50.0 + number}
        quick, worn = np.exp(dice.normal(0, 0.2, 2))
        likely = 60 * quick * (fields["diameter"] / 0.016) ** 2 * 60 / fields["force"]
        if dust:
            fields["burn_in_depth"] = 0.005 * worn
        yield TimedTry(time=likely, ended=GAVE_UP if number % 4 == 3 else AN_EMBER, **fields)


def milliseconds(tries, share):
    """Tell what our fire takes of a processor. What nobody yet measured so well is not kept yet."""
    start = time.process_time()
    our_fire(tries, draws=2000, measured={"friction": share})
    return 1000 * (time.process_time() - start)


def print_times():
    """Print what an update takes: of a log seen first, of a try more, of a slider moved."""
    for case, (count, dust) in enumerate(product((12, 24), (False, True))):
        tried, share = list(logged(count, dust)), 0.05 + 0.01 * case
        first, more = milliseconds(tried[:-1], share), milliseconds(tried, share)
        print(f"{count} tries, each at another setting{', with depths' * dust}:", end=" ")
        print(f"all but the last, seen first, {first:.0f} ms, then the last {more:.0f} ms")
        first, *more = (milliseconds(tried[:n], share + 0.005) for n in range(1, count + 1))
        print(f"  one by one: the first {first:.0f} ms,", end=" ")
        print(f"others {np.mean(more):.0f} ms, at most {max(more):.0f} ms")
    fire = our_fire(tried, draws=2000)
    fire.band(Try())
    start = time.process_time()
    for force in range(60, 80):
        fire.band(Try().changed(force=force + 0.5))
    print(f"band of another try: {1000 * (time.process_time() - start) / 20:.1f} ms")
    for evenings in ((), tuple(tried)):
        outlook(Try(), across="force", evenings=evenings)
        start = time.process_time()
        for force in range(60, 80):
            outlook(Try().changed(force=force + 0.25), across="force", evenings=evenings)
        spent = 1000 * (time.process_time() - start) / 20
        print(f"the explorer's answer, {len(evenings)} tries of one's own: {spent:.1f} ms")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 400)
