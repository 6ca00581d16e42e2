"""The contact of a kit under somebody's way of bowing: long strokes or short, with rests or not.

Joins :mod:`fireheat.person.strokes`, which knows speed, with a kit's impedance. What is asked is
when the contact *first smokes*: touches the temperature of first smoke. It is followed no further.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from scipy.constants import minute

from ..bands import Band
from ..estimates import contacts, times
from ..kit.bowing import bow_pull, bow_speed
from ..kit.kit import Air, Effort, Kit, Try
from ..person.strokes import (
    STROKE_SHAPES,
    SpeedHistory,
    StrokeHeat,
    peak_speed,
    shortest_stroke,
    stroke_heat,
    stroke_history,
)
from ..quantities import InputError, check_ordinary, choose, default, store_floats
from ..spread import spread

_STEP = 0.002  # s: a hundredth of the quickest stroke of the sliders


@dataclass(frozen=True, kw_only=True)
class Rhythm:
    """How somebody bows.

    Attributes
    ----------
    stroke_length : float
        How far the cord runs in one pass. [m]
    strokes_per_minute : float
        Single passes a minute while bowing; there and back are two. [1/min]
    shape : str
        How speed goes within a stroke, see :func:`fireheat.person.strokes.stroke_history`.
    acceleration : float
        The most the hand can speed up or slow down; only the trapezoid uses it. [m/s^2]
    bout : float
        Bowing between rests. [s]
    pause : float
        Rest after each bout; without one there are no bouts. [s]

    Raises
    ------
    InputError
        If a field is not what a person can do, or there are no strokes.

    Examples
    --------
    >>> whole = Rhythm(stroke_length=0.6, strokes_per_minute=100.0, bout=6.0, pause=3.0)
    >>> round(whole.speed, 2), round(whole.average, 2)
    (1.0, 0.67)
    """

    stroke_length: float = default("stroke_length")
    strokes_per_minute: float = default("strokes_per_minute")
    shape: str = "sinusoid"
    acceleration: float = default("acceleration")
    bout: float = default("bout")
    pause: float = default("pause")

    def __post_init__(self):
        numbers = {key: value for key, value in vars(self).items() if key != "shape"}
        check_ordinary(**numbers)
        if not self.strokes_per_minute:
            raise InputError("strokes a minute is 0; allowed in a rhythm: above 0")
        choose("shape", self.shape, STROKE_SHAPES)
        store_floats(self)

    @property
    def speed(self) -> float:
        """Average speed while bowing, in metres a second."""
        return float(bow_speed(self.stroke_length, strokes_per_minute=self.strokes_per_minute))

    @property
    def average(self) -> float:
        """Average speed with rests counted in, in metres a second."""
        return self.speed * self.bout / (self.bout + self.pause)

    @property
    def stroke_time(self) -> float:
        """Time of one pass, in seconds."""
        return minute / self.strokes_per_minute

    @property
    def cycle(self) -> float:
        """Time after which everything comes again: a stroke, or bout and rest; in seconds."""
        return self.bout + self.pause if self.pause else self.stroke_time

    @property
    def shortest(self) -> float:
        """Shortest stroke in which this hand can keep up the speed, in metres."""
        return float(shortest_stroke(self.speed, acceleration=self.acceleration))

    @property
    def peak(self) -> float:
        """Speed that this hand must reach in mid-stroke, in metres a second; infinite if never."""
        return float(
            peak_speed(self.stroke_length, speed=self.speed, acceleration=self.acceleration)
        )

    def history(self, duration: float) -> SpeedHistory:
        """Speed of the cord for so many seconds; of a quicker hand, where this one cannot."""
        least = self.acceleration * self.shortest / self.stroke_length
        hand = max(self.acceleration, least * (1 + 1e-9))
        return stroke_history(
            self.stroke_length,
            strokes_per_minute=self.strokes_per_minute,
            shape=self.shape,
            acceleration=hand,
            duration=duration,
            step=_STEP,
            bout=self.bout if self.pause else None,
            pause=self.pause,
        )


@dataclass(frozen=True)
class ContactHeat:
    """A contact under a rhythm.

    Attributes
    ----------
    rhythm : Rhythm
        The way of bowing.
    heat : StrokeHeat
        Power and rise, for wood of the likely thirst.
    first_smoke : Band of float
        When the contact first touches smoking; infinite if it does not while it is watched. [s]
    steady_smoke : Band of float
        The same for a perfectly even speed of the same average, for as long as it takes. [s]
    first_all, steady_all : Band of float
        Both with all we do not know: strokes shift the moment alike for all. [s]
    rise_smoke : float
        Temperature of first smoke less that of the air. [K]
    swing : float
        Highest less lowest over a stroke, or over bout and rest, without the slow climb. [K]
    """

    rhythm: Rhythm
    heat: StrokeHeat
    first_smoke: Band[float]
    steady_smoke: Band[float]
    first_all: Band[float]
    steady_all: Band[float]
    rise_smoke: float
    swing: float


def contact_heat(
    kit: Kit,
    *,
    rhythm: Rhythm,
    air: Air = Air(),
    force: float | None = None,
    duration: float | None = None,
    measured: Mapping[str, float | None] = {},
) -> ContactHeat:
    """Follow a kit's contact under a way of bowing until it first smokes.

    Parameters
    ----------
    kit : Kit
        The kit.
    rhythm : Rhythm
        The way of bowing.
    air : Air, optional
        The air; a mild day if left out.
    force : float, optional
        Downward force on the tip. [N]
    duration : float, optional
        How long to watch; a minute if left out. [s]
    measured : mapping, optional
        How well what is set was measured, as :func:`fireheat.spread.spread` takes it.

    Returns
    -------
    ContactHeat
        The contact's warmth, and when it first smokes.

    Raises
    ------
    InputError
        If a value is out of its range, or the duration is less than a time step, 2 ms.

    Notes
    -----
    The likely wood gives the curve, the band of :func:`fireheat.estimates.estimate` the low and
    high end. Left out, besides what :func:`fireheat.person.strokes.stroke_heat` leaves out: the
    rubbing face eats into warm wood (sooner), and dust that insulates (sooner).

    References
    ----------
    .. [1] :func:`fireheat.person.strokes.stroke_heat` over the impedance of the kit.

    Examples
    --------
    >>> long, short = (Rhythm(stroke_length=s, strokes_per_minute=60 / s) for s in (0.9, 0.3))
    >>> for rhythm in long, short:
    ...     print(round(contact_heat(Kit(), rhythm=rhythm).first_smoke.likely, 1))
    12.1
    12.2
    """
    duration = default("duration") if duration is None else duration
    effort = Effort(force=default("force") if force is None else force, speed=rhythm.average)
    pull = bow_pull(
        effort.force,
        friction=kit.friction,
        radius=kit.radius,
        cord_radius=kit.cord_radius,
        contact=kit.contact,
    )
    history = rhythm.history(duration)
    state = Try(kit, effort, air)
    heats = contacts(state).each(
        lambda contact: stroke_heat(history, impedance=contact.impedance, pull=pull)
    )
    rise = default("temperature_smoke") - state.air.temperature
    first, found = heats.each(lambda heat: heat.time_to(rise)), times(state)
    wide = spread(state, draws=128, found=found, measured=measured).smoke_all
    # Peaks smoke where a steady speed never does, and some not in so long as is watched.
    both = np.isfinite(first.likely) and np.isfinite(found.smoke.likely)
    shift = first.likely / found.smoke.likely if both else 1.0
    anyhow = Band(shift * wide.low, first.likely, shift * wide.high)
    return ContactHeat(
        rhythm=rhythm,
        heat=heats.likely,
        first_smoke=first,
        steady_smoke=found.smoke,
        first_all=anyhow.about_likely().each(float),
        steady_all=wide,
        rise_smoke=rise,
        swing=heats.likely.ripple(min(rhythm.cycle, duration)),
    )
