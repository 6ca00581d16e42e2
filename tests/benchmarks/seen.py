"""Is the cause that was planted among the first two? For each cause, with a confusion table.

    python tests/benchmarks/seen.py [learners of each cause, 500]

The learners are those of ``tests/oracles/seen.py``: other ranges, other draws, the march itself.
Once a leader ticks all that was there, once three of ten signs are missed.
"""

import sys
import time
from collections import Counter
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))

from oracles.seen import failed

from fireheat.coach.seen import likely_causes

MISSED = 0.0, 0.3


def main(count):
    start = time.perf_counter()
    likely_causes(["smoke_only"])
    print(f"first answer {1000 * (time.perf_counter() - start):.0f} ms")
    tries = failed(count)
    for missed in MISSED:
        table(tries, missed, np.random.default_rng(0))


def table(tries, missed, rng):
    print(f"\nsigns missed: {missed:.0%}")
    shares, firsts, told, true = [], [], [], []
    for cause, seen in tries.items():
        found = [first_two(signs, missed, rng) for signs in seen]
        two = [keys for keys, _ in found]
        hits = [cause in pair for pair in two]
        told += [weight for _, weight in found]
        true += hits
        shares.append(np.mean(hits))
        firsts.append(np.mean([pair[:1] == (cause,) for pair in two]))
        others = Counter(key for pair in two for key in pair if key != cause).most_common(3)
        beside = ", ".join(f"{key} {number / len(two):.0%}" for key, number in others)
        print(
            f"{cause:14} {len(two):4} tries: first {firsts[-1]:4.0%}, in two {shares[-1]:4.0%};"
            f" {beside}"
        )
    print(f"all causes alike: first {np.mean(firsts):.1%}, in two {np.mean(shares):.1%}")
    told, true = np.array(told), np.array(true)
    for low, high in ((0, 0.5), (0.5, 0.75), (0.75, 0.9), (0.9, 1.01)):
        those = (told >= low) & (told < high)
        if np.any(those):
            print(
                f"said of the first two {np.mean(told[those]):.0%}, true {np.mean(true[those]):.0%}"
                f" ({np.sum(those)} tries)"
            )


def first_two(signs, missed, rng):
    left = sorted(sign for sign in sorted(signs) if rng.random() >= missed)
    two = likely_causes(left or sorted(signs)[:1]).first_two
    return tuple(one.cause.key for one in two), sum(one.weight for one in two)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 500)
