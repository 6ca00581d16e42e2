"""How long the answers behind a slider take:  python tests/benchmarks/estimate.py."""

import statistics
import time

from fireheat import Air, Effort, Kit, estimate
from fireheat.kit_heat import kit_heat
from fireheat.outlook import _sweep, outlook


def median(action, repeats=15):
    """Return the median time of an action in milliseconds, after a first go that is not counted."""
    action(0)
    took = []
    for turn in range(1, repeats + 1):
        start = time.perf_counter()
        action(turn)
        took.append(1e3 * (time.perf_counter() - start))
    return statistics.median(took)


def kit(turn):
    """Make a kit that has not been asked for before."""
    return Kit.from_diameter(0.010 + turn * 1e-4)


def effort(turn):
    """Make an effort that has not been asked for before."""
    return Effort(force=50.0 + turn)


def unremembered(turn):
    """Answer everything from scratch, with no sweep remembered."""
    _sweep.cache_clear()
    outlook(kit(turn), Effort(), Air(), "force")


rows = {
    "estimate of one kit, with its band": lambda turn: estimate(kit(turn)),
    "all the explorer shows, moving along the curve": (
        lambda turn: outlook(kit(turn), Effort(), Air(), "diameter")
    ),
    "all the explorer shows, another force": (
        lambda turn: outlook(Kit(), effort(turn), Air(), "diameter")
    ),
    "all the explorer shows, another spindle": unremembered,
    "heat map of one kit, two minutes, 120 moments": (
        lambda turn: kit_heat(kit(turn), Effort(), Air())
    ),
}
for what, action in rows.items():
    print(f"{what:50s} {median(action):8.1f} ms")
