"""How long the answers behind a slider take:  python tests/benchmarks/estimate.py."""

import statistics
import time

from fireheat import estimate
from fireheat.answers.explorer import outlook
from fireheat.answers.heat_view import kit_heat
from fireheat.kit.kit import Try


def median(action, repeats=15):
    """Return the median time of an action in milliseconds, after a first go that is not counted."""
    action(0)
    took = []
    for turn in range(1, repeats + 1):
        start = time.perf_counter()
        action(turn)
        took.append(1e3 * (time.perf_counter() - start))
    return statistics.median(took)


def another_spindle(turn):
    """Make a try with a spindle that has not been asked for before."""
    return Try().changed(diameter=0.010 + turn * 1e-4)


def another_force(turn):
    """Make a try with a force that has not been asked for before."""
    return Try().changed(force=50.0 + turn)


rows = {
    "estimate of one kit, with its band": lambda turn: estimate(another_spindle(turn).kit),
    "all the explorer shows, moving along the curve": (
        lambda turn: outlook(another_spindle(turn), across="diameter")
    ),
    "all the explorer shows, another force": (
        lambda turn: outlook(another_force(turn), across="diameter")
    ),
    "heat map of one kit, two minutes, 120 moments": lambda turn: kit_heat(another_spindle(turn)),
}
for what, action in rows.items():
    print(f"{what:50s} {median(action):8.1f} ms")
