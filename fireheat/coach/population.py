"""Invented learners: many at once, from stated ranges of arm, kit, wood and weather.

Nobody was measured. Each population is a row of ``data/populations.toml``. Every range is cut into
as many equal parts as there are learners, each part has one of them, and lots say who has which: so
two populations with other lots are as alike as they can be.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, fields, replace
from functools import cache, cached_property
from typing import Any

import numpy as np

from ..cases import Case, case
from ..constants import constant
from ..data import table
from ..kit.bowing import bow_pull, cord_slip_pull
from ..kit.kit import Try
from ..person.arm import ExampleArm, arm_speed, arms, hold_time
from ..quantities import InputError, check_whole, choose, default

MOST_LEARNERS = 100_000  # so that a slip of the finger asks for no hour


@dataclass(frozen=True, kw_only=True)
class Population:
    """Whom invented learners are drawn from.

    Attributes
    ----------
    key, name, source : str
        Its name in code and in words, and where its ranges come from.
    arms : tuple of str
        Kinds of arm, of :func:`fireheat.person.arm.arms`.
    ranges : mapping of str to tuple of float
        Ends of each quantity; even chances between. [SI]
    lies_on, ground : tuple of str
        What embers fall on, and what lies below that; even chances.

    Examples
    --------
    >>> populations()["mixed_autumn"].name
    'a mixed troop in autumn'
    """

    key: str
    name: str
    source: str
    arms: tuple[str, ...]
    ranges: Mapping[str, tuple[float, float]]
    lies_on: tuple[str, ...]
    ground: tuple[str, ...]


@dataclass(frozen=True, eq=False, kw_only=True)
class Learners:
    """Learners side by side: each attribute is an array, one number for each of them.

    Attributes
    ----------
    diameter : ndarray
        Of the spindle's tip. [m]
    burn_in_depth : ndarray
        Worn off for one ember. [m]
    friction : ndarray
        Between spindle and board at the speed of now. [1]
    specific_gravity, moisture : ndarray
        Of the wood. [1]
    cord_radius : ndarray
        Where the cord wraps. [m]
    block_friction : ndarray
        In the bearing block. [1]
    block_radius : ndarray
        Of the contact there. [m]
    temperature_ambient : ndarray
        Of the air. [K]
    force : ndarray
        With which they press. [N]
    speed : ndarray
        Of the bow, while it moves. [m/s]
    stroke_length : ndarray
        How far the cord runs in one pass. [m]
    bowing_share : ndarray
        Share of the time in which they bow, and do not rest. [1]
    pull_max : ndarray
        Hardest pull. [N]
    speed_max : ndarray
        Speed of the bow with nothing to pull. [m/s]
    curvature : ndarray
        Of the arm's law. [1]
    critical_power : ndarray
        What the arm can keep up. [W]
    work_above : ndarray
        What is left to spend above it. [J]
    slip_pull : ndarray
        Pull at which the cord slips; infinite if never. [N]
    lies_on, ground : ndarray of str
        What the ember falls on, and what lies below. [1]
    state : Try
        What all have alike, and no array says.
    """

    diameter: np.ndarray
    burn_in_depth: np.ndarray
    friction: np.ndarray
    specific_gravity: np.ndarray
    moisture: np.ndarray
    cord_radius: np.ndarray
    block_friction: np.ndarray
    block_radius: np.ndarray
    temperature_ambient: np.ndarray
    force: np.ndarray
    speed: np.ndarray
    stroke_length: np.ndarray
    bowing_share: np.ndarray
    pull_max: np.ndarray
    speed_max: np.ndarray
    curvature: np.ndarray
    critical_power: np.ndarray
    work_above: np.ndarray
    slip_pull: np.ndarray
    lies_on: np.ndarray
    ground: np.ndarray
    state: Try = field(default_factory=Try)

    def __len__(self):
        return len(self.force)

    def changed(self, **values: Any) -> "Learners":
        """Make the same learners with some arrays changed."""
        return replace(self, **values)

    @cached_property
    def pull(self) -> np.ndarray:
        """Pull on the bow. [N]."""
        return self._pull_of(self.force)

    def _pull_of(self, force):
        return bow_pull(
            force,
            friction=self.friction,
            radius=self.diameter / 2,
            contact=self.state.kit.contact,
            cord_radius=self.cord_radius,
            block_friction=self.block_friction,
            block_radius=self.block_radius,
        )

    @cached_property
    def speed_limit(self) -> np.ndarray:
        """Fastest bow at this pull and stroke, by arm and by hand that turns round. [m/s]."""
        return np.minimum(
            arm_speed(
                self.pull,
                pull_max=self.pull_max,
                speed_max=self.speed_max,
                curvature=self.curvature,
            ),
            np.sqrt(default("acceleration") * self.stroke_length) / 2,
        )

    @property
    def slips(self) -> np.ndarray:
        """Tell whose cord slips. [1]."""
        return self.pull > self.slip_pull

    @cached_property
    def hold(self) -> np.ndarray:
        """Time until the arm is spent, or patience is; rests give the arm their part back. [s]."""
        arm = hold_time(
            self.pull * self.speed * self.bowing_share,
            critical_power=self.critical_power,
            work_above=self.work_above,
        )
        return np.minimum(arm, constant("longest_bowing"))

    def cases(self) -> Case:
        """Return the numbers that the march needs, as if no cord slipped."""
        turning = self.speed * self.bowing_share * (self.diameter / 2) / self.cord_radius
        return case(
            self.state,
            swept={
                "speed": turning,
                **{
                    key: getattr(self, key)
                    for key in (
                        *("diameter", "burn_in_depth", "friction", "specific_gravity"),
                        *("moisture", "temperature_ambient", "force"),
                    )
                },
            },
        )

    @cached_property
    def ember(self) -> np.ndarray:
        """Time of the ember, by the shadow; infinite if never, or if the cord slips. [s]."""
        _, ember = self.cases().quick()
        return np.where(self.slips, np.inf, ember)

    @cached_property
    def in_time(self) -> np.ndarray:
        """Tell whose ember comes before arm or patience is spent. [1]."""
        return self.ember <= self.hold


ARRAYS = tuple(row.name for row in fields(Learners) if row.name != "state")


@cache
def populations() -> Mapping[str, Population]:
    """Return all rows of ``data/populations.toml``, by key."""
    return {key: _population(key, row) for key, row in table("populations").items()}


def _population(key, row):
    lists = {name: tuple(value) for name, value in row.items() if isinstance(value, list)}
    words = {name: lists.pop(name) for name in ("arms", "lies_on", "ground")}
    return Population(key=key, name=row["name"], source=row["source"], ranges=lists, **words)


def invented_learners(population: str, *, count: int = 2000, seed: int = 0) -> Learners:
    """Draw so many learners of a population.

    Parameters
    ----------
    population : str
        A key of :func:`populations`.
    count : int, optional
        How many.
    seed : int, optional
        Of the lots.

    Returns
    -------
    Learners
        Them all.

    Raises
    ------
    InputError
        If there is no such population, a number is not a whole one, or there would be too many.

    References
    ----------
    .. [1] Latin hypercube sampling: McKay, Beckman & Conover, Technometrics 21 (1979) 239. (from
       memory)

    Examples
    --------
    >>> learners = invented_learners("ten_to_twelve", count=100)
    >>> len(learners), bool(learners.diameter.max() < 0.016)
    (100, True)
    """
    drawn_from = populations()[choose("population", population, populations())]
    count = check_whole("count", count, least=1)
    if count > MOST_LEARNERS:
        raise InputError(f"count is {count}; allowed: at most {MOST_LEARNERS} learners")
    dice = np.random.default_rng(check_whole("seed", seed, least=0))
    share = _Shares(count, dice)
    now = {key: low + (high - low) * share() for key, (low, high) in drawn_from.ranges.items()}
    now |= _arms(share(), share(), [arms()[key] for key in drawn_from.arms])
    words = {key: _picked(share(), getattr(drawn_from, key)) for key in ("lies_on", "ground")}
    now["work_above"] = now["work_above"] * now.pop("rested")
    pull_share, speed_share = now.pop("pull_share"), now.pop("speed_share")
    slip_pull = cord_slip_pull(
        now.pop("slack_tension"),
        cord_friction=default("cord_friction"),
        wrap_angle=default("wrap_angle"),
    )
    ones = np.ones(count)
    at_rest = Learners(
        **now,
        **words,
        cord_radius=now["diameter"] / 2,
        force=ones,
        speed=ones,
        bowing_share=ones,
        slip_pull=slip_pull,
    )
    pressing = at_rest.changed(force=pull_share * now["pull_max"] / at_rest.pull)
    return pressing.changed(speed=speed_share * pressing.speed_limit)


class _Shares:
    """Shares of all, one for each learner, whose parts are all alike."""

    def __init__(self, count, dice):
        self.count, self.dice = count, dice

    def __call__(self):
        return (self.dice.permutation(self.count) + self.dice.uniform(size=self.count)) / self.count


def _picked(share, words):
    return np.array(words)[(share * len(words)).astype(int)]


def _arms(kind, strength, kinds: list[ExampleArm]):
    """Draw arms: one strength for each learner, from the weak to the strong of the kind."""
    which = (kind * len(kinds)).astype(int)
    drawn = {}
    for key in ("pull_max", "speed_max", "critical_power", "work_above", "curvature"):
        ends = np.array([[getattr(a, key) for a in (k.weak, k, k.strong)] for k in kinds])
        both = np.array([np.interp(strength, [0.0, 0.5, 1.0], three) for three in ends])
        drawn[key] = both[which, np.arange(len(which))]
    return drawn
