"""When things happen: the floor, first steady smoke, and the ember.

Answers that must never be mistaken for one another. The *bound*, which readers know as the floor,
counts only the energy that the dust itself needs: no ember comes sooner if friction alone heats
that much dust that hot, at these watts. The *estimate* lets both bodies soak up heat: first the
contact must smoke, then be as hot as dust that glows on; from then on what is not soaked up grinds
wood to dust, and the faces eat into wood already warm, until there is enough of it (*ember*).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
from scipy.constants import minute

from .bands import Band
from .cases import case
from .constants import constant
from .heat.contact import Contact
from .heat.two_stage import over_rate
from .heat.warming import least_power, warm_up
from .heat.wear_course import wearing_heat
from .kit.bowing import friction_power
from .kit.kit import Air, Effort, Kit, Try
from .quantities import Numbers, check, check_whole, plain
from .unknowns import unknowns
from .words import number_words


def energy_bound(
    energy_per_area: Numbers,
    *,
    force: Numbers,
    friction: Numbers,
    speed: Numbers,
    radius: Numbers,
    contact: str = "uniform_wear",
    cord_radius: Numbers = None,
) -> Numbers:
    r"""Least time in which bowing could deliver the energy that an ember's dust needs.

    .. math:: t_{floor} = \frac{E \pi r^2}{P}, \qquad P = C \mu F v \, r / R

    Parameters
    ----------
    energy_per_area : float or ndarray
        Energy to grind off and char one ember's dust, over the contact area. [J/m^2]
    force : float or ndarray
        Downward force on the tip. [N]
    friction : float or ndarray
        Friction coefficient between spindle and board. [1]
    speed : float or ndarray
        Average speed of the cord, both ways counted. [m/s]
    radius : float or ndarray
        Radius of the tip. [m]
    contact : str, optional
        How the pressure is spread, see :func:`fireheat.kit.bowing.torque_coefficient`.
    cord_radius : float or ndarray, optional
        Radius where the cord wraps; the tip's if left out. [m]

    Returns
    -------
    float or ndarray
        Time, broadcast over the arguments; infinite where no heat is made. [s]

    Raises
    ------
    InputError
        If a value is out of its range.

    Notes
    -----
    A lower bound, not an estimate: all heat soaked up by the wood or lost to the air is left out,
    so a real try takes longer, often several times as long. It holds for exactly these numbers,
    and if friction alone heats all that dust that hot. Less dust, cooler dust, dust that smoulders
    before it falls, or a tip that makes more watts than its flat face would, and an ember may come
    sooner: with all we do not know, it does in a few of a hundred draws (:mod:`fireheat.spread`).

    References
    ----------
    .. [1] The thermally thin ignition time, rho c d DT/q, in Quintiere, Fundamentals of Fire
       Phenomena, chapter 7. (from memory)

    Examples
    --------
    >>> round(energy_bound(1e6, force=60.0, friction=0.35, speed=1.0, radius=0.0065), 2)
    12.64
    """
    energy_per_area, radius = check(energy_per_area=energy_per_area, radius=radius)
    power = friction_power(
        force,
        friction=friction,
        speed=speed,
        contact=contact,
        radius=radius,
        cord_radius=cord_radius,
    )
    return over_rate(energy_per_area * np.pi * radius * radius, rate=power)


@dataclass(frozen=True)
class Times:
    """Bound and estimates of one try, or of many at once.

    Attributes
    ----------
    power : float or ndarray
        Heat made at the tip. [W]
    flux : float or ndarray
        The same over the area of the tip. [W/m^2]
    bound : float or ndarray
        No ember sooner, if friction alone heats that much dust that hot, at these watts. [s]
    smoke, ember : Band of float or ndarray
        Estimates of first steady smoke and of the ember. [s]
    """

    power: float
    flux: float
    bound: float
    smoke: Band
    ember: Band

    def at(self, index: int) -> "Times":
        """Pick one of many tries."""
        power, flux, bound = (
            np.asarray(values)[..., index].tolist()
            for values in (self.power, self.flux, self.bound)
        )
        return Times(power, flux, bound, self.smoke.at(index), self.ember.at(index))


@dataclass(frozen=True)
class Estimate(Times):
    """Bound and estimates of one try, and where its heat goes.

    Attributes
    ----------
    least_power, least_smoke_power : Band of float
        With less than the first there is never an ember, with less than the second never smoke. [W]
    heat : dict of str to float
        Heat in ``"dust"``, in its ``"water"``, in ``"spindle"`` and ``"board"``, and given to
        ``"air"``, when the ember is there; if it never is, after ten minutes. [J]
    never : str
        Why there is never an ember; empty if there is one.
    """

    least_power: Band[float]
    least_smoke_power: Band[float]
    heat: dict[str, float]
    never: str


def times(state: Try, **swept: Numbers) -> Times:
    """Bound, smoke and ember of a try, with some of its quantities swept.

    Parameters
    ----------
    state : Try
        The try.
    **swept : float or ndarray
        Quantities to use instead, of those in :meth:`fireheat.kit.kit.Try.values`; arrays
        broadcast. [SI]

    Returns
    -------
    Times
        Bound and estimates.

    Raises
    ------
    InputError
        If a swept quantity is not one of those, or out of its range.

    References
    ----------
    .. [1] :func:`energy_bound`; :func:`fireheat.heat.warming.warm_up` and
       :func:`fireheat.heat.wearing.wearing` over :class:`fireheat.heat.contact.Contact`.

    Examples
    --------
    >>> times(Try(), diameter=np.array([0.01, 0.02])).bound.round()
    array([ 9., 35.])
    """
    three = _three(state, swept)
    return _times(three, three.smoke, three.ember)


def quick_times(state: Try, **swept: Numbers) -> Times:
    """Do as :func:`times`, by the shadow of the march: for curves, not for a number that is read.

    Parameters
    ----------
    state : Try
        The try.
    **swept : float or ndarray
        As in :func:`times`. [SI]

    Returns
    -------
    Times
        Bound and estimates; these some per mille off, see :mod:`fireheat.heat.shadow`.

    Raises
    ------
    InputError
        As :func:`times`.

    References
    ----------
    .. [1] :meth:`fireheat.cases.Case.quick`.

    Examples
    --------
    >>> diameter = np.array([0.01, 0.02])
    >>> quick, slow = (ask(Try(), diameter=diameter) for ask in (quick_times, times))
    >>> (quick.ember.likely / slow.ember.likely).round(2)
    array([1., 1.])
    """
    three = _three(state, swept)
    return _times(three, *three.quick())


def _three(state, swept):
    """Return the cases of a try for the three woods of its band."""
    axes = max((np.ndim(values) for values in swept.values()), default=0)
    return case(state, swept=swept, off=wood_ends(axes))


def _times(three, smoke, ember):
    power, radius, bound = (value[1] for value in (three.power, three.radius, three.bound))
    return Times(
        power=plain(power),
        flux=plain(power / (np.pi * radius**2)),
        bound=plain(bound),
        smoke=Band(*smoke).about_likely().each(plain),
        ember=Band(*ember).about_likely().each(plain),
    )


def wood_ends(axes: int = 0) -> dict[str, np.ndarray]:
    """Return how far the wood is off at the low end of a band of the wood alone, likely, and high.

    All its values go part of the way to their own ends together, so far that the band holds nine
    of ten pieces of wood.

    Parameters
    ----------
    axes : int, optional
        How many axes the tries have beside which they stand.

    Returns
    -------
    dict of str to ndarray, shape (3, 1, ...)
        For :func:`fireheat.cases.case`, by row of ``data/spread.toml``. [1]

    Raises
    ------
    InputError
        If that is no whole number.

    Examples
    --------
    >>> {key: values.round(2).tolist() for key, values in wood_ends().items()}
    {'conductivity': [0.87, 1.0, 1.29], 'density': [0.89, 1.0, 1.1], 'grain': [0.89, 1.0, 1.32]}
    """
    axes = check_whole("number of axes", axes, least=0)
    reach, beside = constant("wood_reach"), (3, *(1,) * axes)
    wood = {key: row.band for key, row in unknowns().items() if row.group == "wood"}
    return {
        key: np.reshape([band.low**reach, 1.0, band.high**reach], beside)
        for key, band in wood.items()
    }


def contacts(state: Try) -> Band[Contact]:
    """Contact of a try, for wood that soaks up little heat, the likely heat, and much.

    Parameters
    ----------
    state : Try
        The try.

    Returns
    -------
    Band of Contact
        Ask each for its impedance.

    Examples
    --------
    >>> print(f"{contacts(Try()).likely.impedance(10.0):.0f} K/W")
    21 K/W
    """
    return Band(*(_woods(state, end).contact for end in range(3)))


def _woods(state, end):
    """Return the case of a try at one end of the band of its wood."""
    return case(state, off={key: values[end] for key, values in wood_ends().items()})


def estimate(
    kit: Kit | None = None, effort: Effort | None = None, air: Air | None = None
) -> Estimate:
    """Estimate when a kit smokes, when its ember is there, and where the heat goes.

    Parameters
    ----------
    kit : Kit, optional
        The kit; an ordinary one if left out.
    effort : Effort, optional
        The effort; an ordinary one if left out.
    air : Air, optional
        The air; a mild day if left out.

    Returns
    -------
    Estimate
        Bound, estimates with their band, least power, heat, and why never.

    Raises
    ------
    InputError
        If one of the three is something else.

    Notes
    -----
    The band is that of the wood alone: how well this piece conducts, how heavy it is, and how much
    better it conducts along its grain, so far off that nine of ten pieces lie within. It does not
    cover friction, force, speed or burn-in depth, which a reader sets or measures, nor what nobody
    knows of the rest (``data/spread.toml``). Its low end is of lighter wood, whose dust takes less:
    so it may lie a little under the bound, which is for exactly the numbers set.

    The rubbing faces eat into warm wood, which brings an ember more than a quarter sooner than
    faces that stay would. Properties are those at one temperature, midway from the air to that of
    the dust; until first smoke the wood is cooler and soaks up less, so smoke may come up to a
    fifth sooner than said (``tests/oracles/horn.py``). What is left out is listed in
    :mod:`fireheat.heat.contact` and :mod:`fireheat.heat.wearing`.

    References
    ----------
    .. [1] As :func:`times`, with the wood of :func:`fireheat.kit.wood.hot_properties`.

    Examples
    --------
    >>> ordinary = estimate()
    >>> round(ordinary.power, 1), round(ordinary.bound), ordinary.never
    (10.5, 22, '')
    >>> from fireheat import Effort
    >>> estimate(effort=Effort(force=20.0, speed=0.3)).never
    'this kit makes 1.1 W, and wood carries away 2.8 W before it smokes'
    """
    return estimated(Try(kit, effort, air))


def estimated(state: Try) -> Estimate:
    """Estimate one try, marching its heat only once.

    Parameters
    ----------
    state : Try
        The try.

    Returns
    -------
    Estimate
        As :func:`estimate` says it.

    References
    ----------
    .. [1] As :func:`times`.

    Examples
    --------
    >>> estimated(Try()) == estimate()
    True
    """
    three = _three(state, {})
    ember, path = three.followed(_LIKELY)
    return _explained(state, _times(three, three.smoke, ember), three, path)


def explained(state: Try, *, found: Times) -> Estimate:
    """Add to the times of a try its least power, where its heat goes, and why never.

    Parameters
    ----------
    state : Try
        The try.
    found : Times
        What :func:`times` says of it.

    Returns
    -------
    Estimate
        All of it.

    Examples
    --------
    >>> sorted(explained(Try(), found=times(Try())).heat)
    ['air', 'board', 'dust', 'spindle', 'water']
    """
    return _explained(state, found, _three(state, {}), None)


_LIKELY = 1  # of the three woods


def _explained(state, found, three, path):
    least = least_power(three.contact, rise=three.rise, depth=three.depth)
    smoke, ember = (
        Band(*map(plain, watts)) for watts in (three.smoke_rise / three.contact.steady, least)
    )
    return Estimate(
        **vars(found),
        least_power=ember,
        least_smoke_power=smoke,
        heat=_heat_shares(found, case(state), path),
        never=_why_never(found, smoke.likely, ember.likely),
    )


HARDLY = 0.95  # of the least power: with more than this it never is only because it is too late
WHY_NEVER: Mapping[str, str] = MappingProxyType(
    {
        "hardly": "this kit makes hardly more than the {takes} W that wood carries away: "
        "an ember would take days, if it came at all",
        "smokes": "this kit makes {makes} W: it smokes, but wood carries away {takes} W "
        "before the dust is hot enough",
        "cold": "this kit makes {makes} W, and wood carries away {smoke} W before it smokes",
    }
)


def _why_never(found, smoke, ember):
    if np.isfinite(found.ember.likely):
        return ""
    if found.power > HARDLY * ember:
        why = "hardly"
    else:
        why = "smokes" if np.isfinite(found.smoke.likely) else "cold"
    watts = {"makes": found.power, "takes": ember, "smoke": smoke}
    return WHY_NEVER[why].format(**{key: number_words(value) for key, value in watts.items()})


def _heat_shares(found, likely, path):
    """Share out the heat made until the ember; if none comes, in ten minutes."""
    if np.isfinite(found.ember.likely):
        spindle, board, air = wearing_heat(likely.contact, **likely.march, path=path)
        made = likely.energy
    else:  # as if the faces stayed, and what wood does not soak up made a little dust
        time = 10 * minute
        hot = warm_up(likely.contact, power=likely.power, rise=likely.rise)
        spindle, board, air = likely.contact.soaked(time, smoke=min(hot, time), power=found.power)
        spare = found.power * time - spindle - board - air
        made = spare if hot < time else 0.0
    wet = float(likely.water_energy / likely.energy)
    dust, water = float(made) * (1 - wet), float(made) * wet
    return {"dust": dust, "water": water, "spindle": spindle, "board": board, "air": air}
