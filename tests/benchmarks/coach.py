"""How long advice to one learner takes, whether it is that of a plain loop, and the window's worth.

    python tests/benchmarks/coach.py [learners] [tries]

Learners are made up (tests/oracles/coach.py) and their single changes worked out one by one with
estimate(). Then the window after first smoke: tries of another engine (tests/oracles/outcomes.py)
are stopped somewhere between first smoke, as a person sees it, and the ember; how many embers come
within the window. Last, how long it takes from first smoke to the ember, against the minute that
people tell (common practice, no source).
"""

import sys
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))

from oracles.coach import savings, some_learners
from oracles.outcomes import NINETEEN_IN_TWENTY, followed, kits, thrown

from fireheat import Arm, Try, estimate
from fireheat.coach.learner import Learner
from fireheat.coach.moves import advice
from fireheat.coach.pace import pace
from fireheat.coach.smoke_now import after_smoke
from fireheat.constants import constant

NEAR = 1e-4  # a march of many goes by its own steps
EVEN = Arm(pull_max=200.0, speed_max=5.0)  # holds whatever beat is set


def timed(ask, *args, **kwargs):
    """Return an answer, and how long the processor worked on it."""
    start = time.process_time()
    answer = ask(*args, **kwargs)
    return answer, time.process_time() - start


def rankings(count):
    """Compare advice with the plain loop."""
    same, tied, ranked, worst, took, looped = 0, 0, 0, 0.0, [], 0.0
    for learner in some_learners(count, seed=16):
        found, took_one = timed(advice, learner)
        (_, expected), looped_one = timed(savings, learner)
        took.append(took_one)
        looped += looped_one
        moves = [move for move in found.moves if move.key != "thinnest"]
        order = sorted(expected, key=expected.get)
        ranked += len(order) > 1
        if [move.key for move in moves] == order:
            same += 1
        elif {move.key for move in moves} == set(order):
            places = {move.key: move.rank for move in moves}
            tied += [places[key] for key in order] == sorted(places.values())
        for move in moves:
            off = abs(move.ember.likely / expected.get(move.key, np.inf) - 1)
            worst = max(worst, off)
    print(f"{count} learners, {ranked} of them with two moves or more: in the loop's order {same},")
    print(f"  in another order within a tie {tied}, else {count - same - tied}")
    print(f"  likely times differ by a share of {worst:.1e} at most; the loop took {looped:.0f} s")
    middle, late = np.quantile(took, [0.5, 0.95]) * 1e3
    print(f"advice(): {middle:.0f} ms, {late:.0f} ms for one in twenty (aim: 60 ms)")


def windows(count):
    """Tell how many embers come within the window after first smoke."""
    states, dice = kits(20, seed=3), np.random.default_rng(3)
    off = thrown(dice, (len(states), count // len(states)))
    with np.errstate(all="ignore"):
        smoke, ember = (times * off["luck"] for times in followed(states, off))
    off_by = np.log1p(constant("smoke_seen")) / NINETEEN_IN_TWENTY
    seen = smoke * np.exp(off_by * dice.standard_normal(smoke.shape))
    elapsed = seen * dice.uniform(1.0, 3.0, seen.shape)
    inside, early, strange = [], 0, 0
    for row, state in enumerate(states):
        learner = Learner(state=state, arm=EVEN)
        for first, now, end in zip(seen[row], elapsed[row], ember[row], strict=True):
            if 0.5 < first < 600 and now < min(end, 3600.0):
                found = after_smoke(learner, smoke_time=first, elapsed=now)
                inside.append(found.window.low <= end <= found.window.high)
                early += end < found.window.low
                strange += found.strange
    share, tries = np.mean(inside), len(inside)
    print(f"window after smoke, {tries} tries of another engine: {100 * share:.1f} % within,")
    print(
        f"  {100 * early / tries:.1f} % before, {100 * (1 - share - early / tries):.1f} % after;"
        f" {100 * strange / tries:.1f} % strange"
    )


def minute():
    """Tell how long it takes from first smoke to the ember."""
    for words, state in {
        "ordinary": Try(),
        "18 mm, 75 N": Try().changed(diameter=0.018, force=75.0),
        "12 mm": Try().changed(diameter=0.012),
        "22 mm, 90 N": Try().changed(diameter=0.022, force=90.0),
    }.items():
        found = estimate(state.kit, state.effort)
        smoke, learner = found.smoke.likely, Learner(state=state, arm=EVEN)
        left = after_smoke(learner, smoke_time=smoke, elapsed=smoke).left
        print(
            f"{words}: smoke after {smoke:.0f} s, then {found.ember.likely - smoke:.0f} s by the"
            f" estimate, {left.low:.0f} to {left.high:.0f} s, likely {left.likely:.0f} s, by the"
            " window (people tell about 60 s)"
        )


if __name__ == "__main__":
    numbers = [int(word) for word in sys.argv[1:]] + [500, 4000][len(sys.argv) - 1 :]
    rankings(numbers[0])
    _, took_pace = timed(pace, Learner())
    _, took_smoke = timed(after_smoke, Learner(), smoke_time=13.0, elapsed=20.0)
    _, again = timed(after_smoke, Learner(), smoke_time=13.0, elapsed=21.0)
    print(
        f"pace(): {1e3 * took_pace:.0f} ms; after_smoke(): {1e3 * took_smoke:.0f} ms, asked again"
        f" {1e3 * again:.1f} ms"
    )
    windows(numbers[1])
    minute()
