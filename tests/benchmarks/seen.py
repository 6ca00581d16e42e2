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

from oracles.seen import WRONG, failed

from fireheat.coach.seen import likely_causes

MISSED = 0.0, 0.3


def main(count):
    start = time.perf_counter()
    likely_causes(["smoke_only"])
    print(f"first answer {1000 * (time.perf_counter() - start):.0f} ms")
    tries = {cause: failed(cause, count, seed=place) for place, cause in enumerate(WRONG)}
    for missed in MISSED:
        table(tries, missed, np.random.default_rng(0))


def table(tries, missed, rng):
    print(f"\nsigns missed: {missed:.0%}")
    shares, firsts = [], []
    for cause, seen in tries.items():
        two = [first_two(signs, missed, rng) for signs in seen]
        share = np.mean([cause in pair for pair in two])
        first = np.mean([pair[:1] == (cause,) for pair in two])
        shares.append(share)
        firsts.append(first)
        others = Counter(key for pair in two for key in pair if key != cause).most_common(3)
        beside = ", ".join(f"{key} {number / len(two):.0%}" for key, number in others)
        print(f"{cause:14} {len(two):4} tries: first {first:4.0%}, in two {share:4.0%}; {beside}")
    print(f"all causes alike: first {np.mean(firsts):.1%}, among the first two {np.mean(shares):.1%}")


def first_two(signs, missed, rng):
    left = sorted(sign for sign in sorted(signs) if rng.random() >= missed)
    found = likely_causes(left or sorted(signs)[:1])
    return tuple(one.cause.key for one in found.first_two)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 500)
