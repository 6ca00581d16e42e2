"""Would one factor do for a club's own evenings? How far these lie from the handbook, by kit.

Prints, for several invented logs and 500 kits all over the paper computer, our evenings' likely
time over the handbook's, what a net of their own leaves of that, and how close its ladder comes.
Run ``python tests/benchmarks/evenings_chart.py``; it takes a minute.
"""

import sys
import time
from dataclasses import replace
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parent.parent))
from evening_logs import evening

from fireheat.answers.chart import chart_kits
from fireheat.answers.evenings_chart import evenings_chart
from fireheat.answers.next_try import EVENING_DRAWS
from fireheat.cases import case
from fireheat.kit.kit import Try
from fireheat.trials.log import demo_log
from fireheat.trials.our_fire import our_fire
from fireheat.trials.reading import read_bytes, read_log

KITS = 500


def logs():
    """Invented logs: with depths and without, short, slow, of one thickness, strange."""
    demo = read_log(demo_log()).tries
    bare = [replace(one, burn_in_depth=None, dust_mass=None) for one in demo]
    yield "demo log, with depths", demo
    yield "demo log, without", bare
    yield "its first 4 tries", bare[:4]
    yield "its 16 mm spindles", [one for one in bare if one.diameter == 0.016]
    yield "8 tries", read_bytes(evening()).tries
    yield "twice as slow", read_bytes(evening(times=2.0)).tries
    yield "12 times as slow", read_bytes(evening(times=12.0)).tries


def main():
    kits = {key: values[:KITS] for key, values in chart_kits(count=KITS).items()}
    states = [
        Try().changed(**{key: float(values[at]) for key, values in kits.items()})
        for at in range(KITS)
    ]
    found = case(Try(), swept=kits)
    heads = f"{'factor: 5 %, half, 95 %':>26}{'net: 95 %, worst':>20}{'ladder':>9}{'made':>8}"
    print(f"{'log':24}{heads}")
    for name, log in logs():
        fire = our_fire(log, draws=EVENING_DRAWS)
        begun = time.process_time()
        chart = evenings_chart(fire)
        took = time.process_time() - begun
        likely = np.array([fire.band(state).likely for state in states])
        factors = np.quantile(likely / found.quick()[1], (0.05, 0.5, 0.95), method="nearest")
        read = chart.ember(
            power=found.power, diameter=kits["diameter"], depth=kits["burn_in_depth"]
        )
        on = (read > 8) & (read < 120)
        off = np.abs(read[on] / likely[on] - 1)
        print(
            f"{name:24}{'{:10.2f}{:8.2f}{:8.2f}'.format(*factors)}"
            f"{np.quantile(off, 0.95):11.3f}{off.max():9.3f}"
            f"{chart.accuracy.ladder_most:9.3f}{took:6.1f} s"
        )


if __name__ == "__main__":
    main()
