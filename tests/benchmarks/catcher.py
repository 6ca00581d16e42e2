"""Time the catchers: the whole table with bands, and the layered solve it is checked by.

Run: python tests/benchmarks/catcher.py
"""

import math
import time
from itertools import count

from fireheat.ember.catchers import catchers
from fireheat.ember.draw import draw, draws
from fireheat.ember.ember import Ember
from fireheat.ember.ignition import will_it_keep
from fireheat.ember.scorch import scorch_time, solve_catcher
from fireheat.heat.mesh import Grid


def timed(call, repeats=7):
    """Best wall-clock time of a few, and what was returned."""
    best = math.inf
    for _ in range(repeats):
        start = time.perf_counter()
        result = call()
        best = min(best, time.perf_counter() - start)
    return best, result


def main():
    """Print the timings."""
    catchers()
    seconds, table = timed(lambda: draws(ground="wet soil"))
    print(f"Whole table with bands, {len(table)} catchers   {1000 * seconds:8.1f} ms")
    seconds, _ = timed(lambda: draw("leather"))
    print(f"One catcher with its band               {1000 * seconds:8.1f} ms")
    dust = count(1)
    seconds, _ = timed(lambda: scorch_time("leather", ember=Ember(crust=1e-5 * next(dust))).least)
    print(f"Least scorch time, other dust           {1000 * seconds:8.1f} ms")
    seconds, _ = timed(lambda: scorch_time("leather").most)
    print(f"Most, asked again                       {1000 * seconds:8.1f} ms")
    seconds, _ = timed(lambda: will_it_keep(0.00018))
    print(f"Will it keep, band already known        {1000 * seconds:8.2f} ms")
    print("\nHeld ember for a minute, by finite volumes")
    looks = [1.0, 10.0, 60.0]
    for name, ground in (
        ("aluminium_foil", "wet soil"),
        ("leather", "air gap"),
        ("stone", "board"),
    ):
        for times in (1, 2):
            grid = Grid().refined(times)
            seconds, run = timed(
                lambda n=name, g=ground, d=grid: solve_catcher(n, time=looks, ground=g, grid=d), 2
            )
            joules = run.power * looks[-1] - run.dust[-1]
            apart = draw(name, ground=ground, ember=Ember()).joules.likely / joules - 1
            print(
                f"  {name:15s} {ground:9s} {run.inside.sum():6d} cells {seconds:7.3f} s"
                f"   quick way {apart:+.2%}"
            )


if __name__ == "__main__":
    main()
