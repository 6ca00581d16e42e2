"""Make the invented evening of timed tries that comes with the library.

    python tests/tools/make_demo_log.py

All of it follows from the numbers below and a seed; nobody has ever made these tries. Writes
fireheat/data/demo-tries.csv, the only command that does.
"""

from pathlib import Path

import numpy as np

from fireheat.trials.columns import AN_EMBER, GAVE_UP, TimedTry
from fireheat.trials.log import log_text
from fireheat.trials.plan import running_order

PLACE = Path(__file__).parents[2] / "fireheat" / "data" / "demo-tries.csv"
SEED = 9
LEARNERS = tuple(f"L{number:02}" for number in range(1, 7))
DIAMETERS, FORCES = (0.011, 0.016, 0.022), (45.0, 70.0)
ROUNDS = 4
TIME = 55.0  # s, at 16 mm, 60 N and 1 m/s
POWERS = {"diameter": 2.4, "force": -1.6, "speed": -1.6}
SCATTER, LEARNER_SCATTER = 0.25, 0.12  # of ln time: one try against the next, and who tries
PATIENCE = 120.0  # s
DEPTH, DEPTH_POWER, DEPTH_SCATTER = 0.004, 0.8, 0.12  # m at 16 mm
SMOKE = 0.3  # of the time of the ember
GRIP, GRIP_SCATTER = 0.23, 0.06  # bow's pull over downward force

ABOUT = (
    "# INVENTED: one evening of the Otterbrook Trail Club, which does not exist.",
    "# Made by tests/tools/make_demo_log.py from stated numbers and a seed: nobody tried.",
)


def evening() -> tuple[TimedTry, ...]:
    """Make the tries, as the club would have written them down."""
    dice = np.random.default_rng(SEED)
    settings = {f"{d} {f}": (d, f) for d in DIAMETERS for f in FORCES}
    who = dict(zip(LEARNERS, dice.normal(0, LEARNER_SCATTER, len(LEARNERS)), strict=True))
    order = running_order(list(settings), rounds=ROUNDS, learners=LEARNERS, seed=SEED)
    return tuple(one_try(*settings[turn.setting], turn.learner, who, dice) for turn in order)


def one_try(diameter, force, learner, who, dice):
    """Make one try, rounded as a stopwatch, a scale and a ruler are read."""
    force = 5.0 * round(force * dice.normal(1, 0.05) / 5)
    stroke, strokes = 0.01 * round(dice.normal(48, 3)), float(round(dice.normal(125, 8)))
    off = {"diameter": diameter / 0.016, "force": force / 60, "speed": stroke * strokes / 60}
    log_time = np.log(TIME) + sum(power * np.log(off[key]) for key, power in POWERS.items())
    full = float(np.exp(log_time + who[learner] + SCATTER * dice.normal()))
    worn = DEPTH * off["diameter"] ** -DEPTH_POWER * np.exp(DEPTH_SCATTER * dice.normal())
    pull = float(round(GRIP * force * np.exp(GRIP_SCATTER * dice.normal())))
    smoke = float(round(SMOKE * full * np.exp(0.15 * dice.normal())))
    ended = full <= PATIENCE
    return TimedTry(
        date="an autumn evening",
        learner=learner,
        wood="western_redcedar",
        diameter=diameter,
        force=force,
        pull=pull,
        stroke_length=stroke,
        strokes_per_minute=strokes,
        moisture=0.09,
        burn_in_depth=0.0005 * round(worn / 0.0005) if ended else None,
        smoke_time=smoke,
        time=float(round(min(full, PATIENCE))),
        ended=AN_EMBER if ended else GAVE_UP,
        note="invented",
    )


if __name__ == "__main__":
    PLACE.write_text(log_text(evening(), ABOUT), encoding="utf-8", newline="\n")
    print(PLACE)
