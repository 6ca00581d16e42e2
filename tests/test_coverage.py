"""A band of all we do not know holds nine of ten outcomes: another engine and dice judge it."""

import numpy as np
import pytest
from oracles.outcomes import SET, coverage, followed, kits, outcomes, thrown

from fireheat.cases import case
from fireheat.kit.kit import Try
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
    early = [one.all.each(lambda time: time / 2.5) for one in found]
    assert coverage(early, seen)[closed].mean() < 0.84


def test_the_judge_and_the_march_seldom_differ_by_a_tenth():
    """Wood that conducts and holds as it is warm, beside one middle temperature."""
    off = thrown(np.random.default_rng(4), 60, guessed=SET)
    off["spindle_share"] = np.clip(off["spindle_share"], -0.5, 0.5)
    own = case(Try(), off={key: off[key] for key in off if key not in ("wear", "luck")})
    times, found = own.ember, followed([Try()], off)[1][0]
    both = np.isfinite(times) & np.isfinite(found)
    assert np.sum(both) > 50
    ratio = found[both] / times[both]
    assert np.median(ratio) == pytest.approx(1.03, abs=0.03)
    assert np.quantile(np.abs(np.log(ratio)), 0.9) < 0.15
