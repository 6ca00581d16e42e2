"""The figures of the court of advice: shares, rules, tries, learners one by one, and timings.

    python tests/benchmarks/court.py [learners of each check by hand, 40]

Two lots of 2,000 learners for each saying and population; simulated evenings for the stated tries.
"""

import sys
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))

from oracles.follower import ASKS, follow, judged_by_hand, outcome

from fireheat.coach.population import ARRAYS, invented_learners, populations
from fireheat.coach.sayings import following_all, sayings
from fireheat.coach.verdicts import HARMS, OUTCOMES, ruling, verdict
from fireheat.trials.plan import plan, simulated_chance

JUDGED = [key for key, row in sayings().items() if row.change is not None]


def main(count):
    verdict("bow_faster", "mixed_autumn", seed=9)  # loads what is loaded once
    verdict("foil_under", "mixed_autumn", seed=9)
    took = [table(saying) for saying in JUDGED]
    print(
        f"\na verdict takes {1000 * np.median(took):.0f} ms, at most {1000 * np.max(took):.0f} ms"
    )
    lots()
    rules()
    tries()
    by_hand(count)
    grams_or_depth()


def table(saying):
    print(f"\n{saying}: {ruling(saying, seed=2).says}")
    slowest = 0.0
    for key in populations():
        start = time.process_time()
        found = verdict(saying, key)
        slowest = max(slowest, time.process_time() - start)
        shares = "  ".join(
            f"{kind} {100 * share.likely:4.1f} ({100 * share.low:.1f} to {100 * share.high:.1f})"
            for kind, share in found.shares.items()
        )
        print(f"  {key:17} {found.says:10} {shares}  tries {found.tries}")
        print(f"  {'':17} harms {found.rule.words} (right of {found.rule.right:.0%})")
    return slowest


def lots():
    """Print how far shares lie apart between two lots."""
    apart = [
        abs(one.shares[kind].likely - other.shares[kind].likely)
        for saying in JUDGED
        for key in populations()
        for one, other in [(verdict(saying, key, seed=0), verdict(saying, key, seed=1))]
        for kind in OUTCOMES
    ]
    within = np.mean(np.array(apart) <= 0.03)
    print(
        f"\nshares of two lots: at most {100 * max(apart):.1f} points apart, {within:.0%} within 3"
    )
    flips = [s for s in JUDGED if len({ruling(s, seed=seed).says for seed in range(4)}) > 1]
    print(f"sayings whose ruling turns with the lots, of four: {flips}")


def rules():
    """Print how often rules are right, of the learners they were found in and of others."""
    own, others, found = [], [], []
    for saying in JUDGED:
        for key in populations():
            one, other = (verdict(saying, key, seed=seed) for seed in (0, 1))
            if np.any(one.kinds == HARMS):
                own.append(one.rule.right)
                others.append(np.mean(one.rule.names(other.now) == (other.kinds == HARMS)))
                found += [one.rule.found] if one.rule.parts else []
    print(f"\nrules: {len(own)} where any are harmed; right of {min(own):.0%} at least,")
    print(
        f"of other learners {min(others):.0%}; those with thresholds name {min(found):.0%} of the"
    )
    print(f"harmed at least, {np.median(found):.0%} in the middle")


def tries():
    """Print the power that the stated tries reach by luck."""
    print("\ntries a side: chance by formula, and of 2000 simulated evenings")
    reached = []
    for saying in JUDGED:
        for key in populations():
            found = verdict(saying, key)
            if found.tries is None:
                continue
            now, ratio = found.middle
            by_formula = plan(ratio, time=now).chance
            by_luck = simulated_chance(ratio, tries_a_side=found.tries, time=now, count=2000)
            reached.append((found.tries, by_formula, by_luck))
    many = np.array(reached)
    off = many[:, 2] - many[:, 1]
    print(f"{len(many)} plans, {many[:, 0].min():.0f} to {many[:, 0].max():.0f} tries")
    for low, high in ((2, 9), (10, 19), (20, 200)):
        some = many[(many[:, 0] >= low) & (many[:, 0] <= high)]
        if len(some):
            ends = f"{some[:, 2].min():.1%} to {some[:, 2].max():.1%}"
            print(f"  {low:3} to {high:3} tries: power {ends}, {len(some)} plans")
    print(f"luck less formula: {off.min():+.1%} to {off.max():+.1%}")


def by_hand(count):
    """Print how many learners a plain loop judges otherwise, and how far the effects lie apart."""
    apart, otherwise, speeds = [], 0, []
    numbers = [key for key in ARRAYS if key not in ("lies_on", "ground")]
    for place, saying in enumerate(ASKS):
        found = verdict(saying, list(populations())[place % 3])
        for which in range(count):
            now = {key: float(getattr(found.now, key)[which]) for key in numbers}
            then = follow(saying, now)
            speeds.append(abs(found.then.speed[which] / then["speed"] - 1))
            before, after = outcome(now), outcome(then)
            otherwise += found.kinds[which] != judged_by_hand(before, after)
            if np.isfinite(before[0]) and np.isfinite(after[0]):
                apart.append(abs(found.effect[which] / (after[0] / before[0]) - 1))
    total = count * len(ASKS)
    ends = f"{np.median(apart):.2%}, {np.quantile(apart, 0.99):.2%} at 99 of 100, {max(apart):.2%}"
    print(f"\none by one: {total} learners, {otherwise} judged otherwise")
    print(f"effects differ by {ends} at most; speeds by {max(speeds):.0e}")


def grams_or_depth():
    """Print what a thinner spindle does if it needs the same depth, or the same grams."""
    print("\nthinner spindle, where the depth for an ember goes with diameter to the power -p:")
    for key in populations():
        now = invented_learners(key)
        then, line = following_all("thinner_spindle", now), f"  {key:17}"
        for power in (0, 1, 2):
            wider = then.diameter / now.diameter
            other = then.changed(burn_in_depth=now.burn_in_depth * wider**-power)
            both = now.in_time & np.isfinite(other.ember)
            ratio = np.median(other.ember[both] / now.ember[both])
            line += f"  p = {power}: {ratio:.2f} of the time, in time {other.in_time.mean():.0%}"
        print(line + f"  (before {now.in_time.mean():.0%})")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 40)
