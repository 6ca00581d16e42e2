"""How many of ten pieces of wood the band of the wood alone holds, whatever the kit.

Run: python tests/benchmarks/wood_band.py [draws]

Invented kits, from hardly able to quick; all but the wood as set. Where heavy wood never makes an
ember the band is open above and holds nineteen of twenty by its nature. Where the ember comes in
seconds, it hangs on the wood's weight alone, and the band holds fewer. About a minute.
"""

import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))

from test_cases import HELD, wood_held

from fireheat import Air, Effort, Kit
from fireheat.estimates import times
from fireheat.kit.kit import Try

KITS = [
    # diameter mm, force N, speed m/s, moisture %
    (16, 60, 1.0, 9), (11, 60, 1.0, 9), (22, 60, 1.0, 9), (22, 100, 1.2, 9), (13, 35, 0.7, 9),
    (9, 35, 0.6, 9), (16, 100, 1.3, 15), (20, 60, 1.0, 5), (16, 45, 0.8, 9), (8, 80, 1.5, 12),
    (18, 90, 1.0, 18), (13, 60, 1.0, 7),
]  # fmt: skip


def main(count=4096):
    """Print for each kit which share of the draws its band holds."""
    held, closed = [], []
    for seed, (diameter, force, speed, moisture) in enumerate(KITS):
        kit = Kit.from_diameter(diameter / 1e3, moisture=moisture / 100)
        state = Try(kit, Effort(force=float(force), speed=speed), Air())
        held.append(wood_held(state, count, seed))
        closed.append(np.isfinite(times(state).ember.high))
        words = "" if closed[-1] else ", open above"
        print(f"{diameter} mm, {force} N, {speed} m/s, {moisture} %: {held[-1]:.3f}{words}")
    shares = np.array(held)[closed]
    inside = np.sum((shares >= HELD[0]) & (shares <= HELD[1]))
    print(f"closed: mean {shares.mean():.3f}, least {shares.min():.3f}", end="; ")
    print(f"{inside} of {shares.size} within {HELD[0]} to {HELD[1]}")


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
