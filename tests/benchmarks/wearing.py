"""Time the march with wear beside the march of faces that stay, and compare both with wood removed.

Run: python tests/benchmarks/wearing.py

Times are medians, taken in turns, since a machine's load changes. The table goes from ordinary kits
to such as hardly manage; a minute or two.
"""

import sys
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))

import test_wearing
from oracles.removing import Grid

from fireheat.heat.march import march
from fireheat.heat.wearing import wearing

FINE = Grid(layers=12)


def both(contact, a_try, repeats=50):
    """Median milliseconds of the march and of the march with wear."""
    known = {key: value for key, value in a_try.items() if key in ("rise", "energy")}
    calls = (
        lambda: march(a_try["power"], impedance=contact.impedance, **known),
        lambda: wearing(contact, **a_try),
    )
    spent = np.empty((repeats, 2))
    for turn in spent:
        for place, call in enumerate(calls):
            begun = time.perf_counter()
            call()
            turn[place] = (time.perf_counter() - begun) * 1e3
    return np.median(spent, axis=0)


def main():
    """Print times, then finite volumes."""
    for count in (1, 3, 21, 63, 400):
        stays, wears = both(*test_wearing.kits(count, 1, least=(1.3, 20.0)))
        print(f"{count:4d} kits: faces that stay {stays:6.2f} ms, with wear {wears:6.2f} ms")
    for least in ((4.0, 10.0), (1.7, 4.0), (1.3, 1.7), (1.1, 1.3)):
        print(f"{least[0]} to {least[1]} times the least power:")
        many = test_wearing.kits(6, 20, least=least)
        for index in range(6):
            test_wearing.compared(*test_wearing.one_of(*many, index), FINE)


if __name__ == "__main__":
    main()
