"""Time of a million smoke and ember estimates at once. Run as a script; prints, never fails."""

import time

import numpy as np

from fireheat.heat.two_stage import two_stage

POINTS, RUNS = 1_000_000, 7


def main():
    """Print the median over a few runs."""
    draw = np.random.default_rng(1)
    flux, energy = 10 ** draw.uniform(3, 6, POINTS), 10 ** draw.uniform(4, 7, POINTS)
    effusivity, rise = draw.uniform(200, 2000, POINTS), draw.uniform(200, 400, POINTS)
    seconds = []
    for _ in range(RUNS):
        start = time.perf_counter()
        two_stage(flux, energy_per_area=energy, effusivity=effusivity, rise=rise)
        seconds.append(time.perf_counter() - start)
    print(f"two_stage, {POINTS:,} points: median {np.median(seconds):.3f} s of {RUNS} runs")


if __name__ == "__main__":
    main()
