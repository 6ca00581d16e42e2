"""The march beside its quick shadow, a band of draws, and the explorer with one.

Run: python tests/benchmarks/shadow.py

Times are medians of the processor's own clock, and the quickest beside them, since a machine's load
changes; then how far the shadow errs, by how late the ember is.
"""

import sys
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "tools"))

from fit_shadow import held_out, marched

from fireheat.answers.explorer import outlook
from fireheat.estimates import times
from fireheat.heat import shadow
from fireheat.heat.warming import warm_up
from fireheat.kit.kit import Try
from fireheat.spread import spread


def took(action, repeats):
    """Median and least milliseconds, after a first go that is not counted."""
    action(0)
    spent = []
    for turn in range(1, repeats + 1):
        begun = time.process_time()
        action(turn)
        spent.append(1e3 * (time.process_time() - begun))
    return f"{np.median(spent):9.1f} ms, at best {min(spent):8.1f} ms"


def another(turn):
    """Make a try with a force that has not been asked for before."""
    return Try().changed(force=50.0 + turn)


def with_outer_band(turn):
    """Work out what the explorer shows, and the band of all we do not know about its dot."""
    seen = outlook(another(turn), across="diameter")
    return spread(another(turn), found=seen.now)


def main():
    """Print times, then errors."""
    for count in (63, 256, 6400):
        some = held_out(5, count)
        contact, numbers, shape = shadow.side_by_side(some.contact, *some.march.values())
        known = dict(zip(some.march, numbers, strict=True))
        smoke = {"power": some.power, "rise": some.smoke_rise}
        rows = {
            "ember, march": lambda turn, c=contact, k=known, s=shape: marched(c, k, s),
            "ember, shadow": lambda turn, c=contact, n=numbers: shadow._ember(c, *n),
            "ember, quick": lambda turn, c=contact, k=known: shadow.quick_ember(c, **k),
            "smoke, march": lambda turn, c=contact, k=smoke: warm_up(c, **k),
            "smoke, shadow": lambda turn, c=contact, k=smoke: shadow._smoke(c, *k.values()),
        }
        for what, action in rows.items():
            slow = count > 1000 and "march" in what
            print(f"{count:5d} kits: {what:16s} {took(action, 2 if slow else 15)}")
    now = times(Try())
    for what, action in {
        "one kit, its march": lambda turn: times(another(turn)),
        "one kit, a band of 256 draws beside it": lambda turn: spread(Try(), found=now),
        "all the explorer shows, another force": (
            lambda turn: outlook(another(turn), across="diameter")
        ),
        "and an outer band for its dot": with_outer_band,
    }.items():
        print(f"{what:40s} {took(action, 15)}")
    late = marched(contact, known, shape)
    found = shadow._ember(contact, *numbers)
    for first, last in ((0, 30), (30, 120), (120, 600), (600, 3600), (3600, 5e5)):
        some = (late >= first) & (late < last) & ~np.isnan(found)
        off = 100 * np.abs(found[some] / late[some] - 1)
        print(
            f"{np.sum(some)} embers from {first} to {last:g} s:"
            f" half within {np.median(off):.2f} %, 99 % within {np.quantile(off, 0.99):.2f} %,"
            f" worst {np.max(off):.2f} %"
        )


if __name__ == "__main__":
    main()
