"""A band of all we do not know holds nine of ten outcomes: another engine and dice judge it."""

import numpy as np
import pytest
from oracles.outcomes import SET, coverage, kits, outcomes

from fireheat.spread import spread

STATES = kits(16, seed=11)


def judged(guessed, measured):
    """Bands of the kits, and outcomes of each."""
    known = {"guessed": guessed, "measured": dict.fromkeys(measured)}
    found = [spread(state, draws=512, **known) for state in STATES]
    return found, outcomes(STATES, 150, seed=3, guessed=guessed, measured=measured)


@pytest.mark.parametrize(("guessed", "measured"), [(SET, ()), ((), SET)], ids=["guess", "measured"])
def test_nine_of_ten_outcomes_lie_in_the_band_of_all_we_do_not_know(guessed, measured):
    found, seen = judged(guessed, measured)
    closed = np.isfinite([one.all.high for one in found])
    held = coverage([one.all for one in found], seen)
    assert np.sum(closed) > 10
    assert 0.88 <= held[closed].mean() <= 0.92
    assert held.min() >= 0.80
    # what is open above says that never is likelier than one in twenty
    assert np.all(np.abs(np.isinf(seen).mean(axis=1) - [one.never for one in found]) < 0.08)
    # and the judge can say no
    assert coverage([one.wood for one in found], seen).mean() < 0.65
    early = [one.all.each(lambda time: time / 1.5) for one in found]
    assert coverage(early, seen)[closed].mean() < 0.86
