"""How many nominal 95 % intervals hold the truth in small classes, beside those by standard errors.

    python tests/benchmarks/censored_fit.py

Evenings with a known truth: exponents of diameter, force and speed, or of the diameter alone,
each set to one of three values by a die; patience so that none, a fifth or two fifths are given up.
An evening whose tries cannot carry the fit is counted, and left out.
"""

import sys
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))

from fireheat.trials.evenings import invented_evenings
from fireheat.trials.likelihood import (
    DISTRIBUTIONS,
    carries,
    coefficient_ends,
    scale_ends,
    tops,
)

TRUTH = {"diameter": 2.0, "force": -1.2, "speed": -1.2}
SCATTER = 0.35


def held(tries, *, causes, share, distribution, count=2000, seed=1):
    """Share of evenings that carry the fit, of intervals that hold, and milliseconds an evening."""
    dice = np.random.default_rng(seed)
    truth = dict(list(TRUTH.items())[:causes])
    design = {name: dice.choice([-0.3, 0.0, 0.3], (count, tries)) for name in truth}
    design = {name: x + dice.normal(0, 0.03, x.shape) for name, x in design.items()}
    given = {"exponents": truth, "time": 60.0, "scatter": SCATTER, "distribution": distribution}
    free = invented_evenings(design, **given, count=count, seed=seed)
    patience = np.exp(np.quantile(free.times, 1 - share)) if share else None
    evenings = invented_evenings(design, **given, give_up=patience, count=count, seed=seed)
    kept = carries(evenings)
    sets = evenings.picked(kept)
    start = time.perf_counter()
    found = tops(sets)
    ends = coefficient_ends(sets, found, level=0.95)[:, 1:]
    scatter = scale_ends(sets, found, level=0.95)
    spent = 1000 * (time.perf_counter() - start) / kept.sum()
    true = np.array(list(truth.values()))
    near = np.abs(found.coefficients[:, 1:] - true) < 1.96 * found.errors[:, 1:]
    shares = (
        kept,
        (ends[..., 0] <= true) & (true <= ends[..., 1]),
        (scatter[:, 0] <= SCATTER) & (scatter[:, 1] >= SCATTER),
        near,
    )
    return [100 * np.mean(values) for values in shares] + [spent]


if __name__ == "__main__":
    print("distribution causes given up tries  carry it  exponents  scatter  by errors  ms")
    for distribution in DISTRIBUTIONS:
        for causes in (3, 1):
            for share in (0.0, 0.2, 0.4):
                for tries in (8, 12, 16, 24):
                    found = held(tries, causes=causes, share=share, distribution=distribution)
                    print(
                        f"{distribution:12} {causes:6} {share:8.0%} {tries:5}"
                        "  {:6.0f} %   {:6.1f} % {:6.1f} %   {:6.1f} %  {:.1f}".format(*found),
                        flush=True,
                    )
