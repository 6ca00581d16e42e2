"""Do bands of all we do not know hold nine of ten outcomes? Another engine and dice say.

Run: python tests/benchmarks/coverage.py [kits] [outcomes of each]

For nothing measured, everything measured, and each thing measured with the rest guessed. Where
more than one draw in twenty never has an ember, the band is open above and holds nineteen of twenty
by its nature; such kits are told apart. Some minutes.
"""

import sys
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))

from oracles.outcomes import SET, coverage, kits, outcomes

from fireheat.spread import spread

DRAWS = 512


def markings():
    """What is guessed, and what is measured."""
    yield "nothing measured", SET, ()
    yield "all measured", (), SET
    yield "all taken as true", (), ()
    for key in SET:
        yield f"{key} measured", tuple(other for other in SET if other != key), (key,)


def judged(states, size, seed, guessed, measured):
    """Coverage of each state, and whether its band is closed above."""
    known = {"guessed": guessed, "measured": dict.fromkeys(measured)}
    found = [spread(state, draws=DRAWS, **known) for state in states]
    bands = [one.all for one in found]
    seen = outcomes(states, size, seed=seed, guessed=guessed, measured=measured)
    return coverage(bands, seen), np.isfinite([band.high for band in bands]), seen


def main(count=110, size=120):
    """Print coverage, in per cent."""
    states = kits(count, seed=1)
    for number, (words, guessed, measured) in enumerate(markings()):
        begun = time.perf_counter()
        held, closed, seen = judged(states, size, 100 + number, guessed, measured)
        print(f"{words:26s}", of(held[closed], "closed"), of(held[~closed], "open above"), end="")
        print(f" never {100 * np.isinf(seen).mean():.1f}; {time.perf_counter() - begun:.0f} s")


def of(held, kind):
    """Words for how many outcomes a kind of bands holds."""
    if held.size == 0:
        return f"none {kind};"
    return f"{100 * held.mean():.1f} mean, {100 * held.min():.1f} least of {held.size} {kind};"


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
