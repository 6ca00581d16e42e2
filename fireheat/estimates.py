"""When things happen: the energy bound, first steady smoke, and the ember.

Answers that must never be mistaken for one another. The *bound* counts only the energy that the
dust itself needs. The *estimate* lets both bodies soak up heat: first the contact must reach
charring (*smoke*), then what is not soaked up makes dust until there is enough of it (*ember*).
"""

from dataclasses import dataclass, replace

import numpy as np
from scipy.constants import minute

from .bands import Band
from .heat.contact import Contact, side_film
from .heat.march import march
from .heat.material import Material
from .heat.two_stage import over_rate
from .kit.bowing import friction_power
from .kit.kit import Air, Effort, Kit, Try
from .kit.wood import HotWood, energy_parts, hot_properties
from .quantities import InputError, Numbers, check, check_ordinary, default, plain


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

    .. math:: t_{bound} = \frac{E \pi r^2}{P}, \qquad P = C \mu F v \, r / R

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
    so a real try takes longer, often several times as long.

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
        No ember sooner than this, from energy alone. [s]
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
    least_power : Band of float
        With less than this the contact never reaches charring. [W]
    heat : dict of str to float
        Heat in ``"dust"``, in its ``"water"``, in ``"spindle"`` and ``"board"``, and given to
        ``"air"``, when the ember is there; if it never is, after ten minutes. [J]
    never : str
        Why there is never an ember; empty if there is one.
    """

    least_power: Band[float]
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
    .. [1] :func:`energy_bound`; :func:`march` over :class:`fireheat.heat.contact.Contact`.

    Examples
    --------
    >>> times(Try(), diameter=np.array([0.01, 0.02])).bound.round()
    array([ 8., 30.])
    """
    case = _case(state, swept)
    with np.errstate(divide="ignore"):
        bound = case.energy / case.power
    smoke, ember = march(
        case.power,
        rise=case.rise,
        energy=np.broadcast_to(case.energy, (3, *np.shape(case.power))),
        impedance=case.impedance,
    )
    return Times(
        power=plain(case.power),
        flux=plain(case.power / case.area),
        bound=plain(bound),
        smoke=Band(*map(plain, smoke)),
        ember=Band(*map(plain, ember)),
    )


@dataclass(frozen=True)
class _Case:
    """A try in the numbers that the march needs; soaking is the band, in front."""

    power: np.ndarray
    area: np.ndarray
    rise: np.ndarray
    dry_energy: np.ndarray
    water_energy: np.ndarray
    soaking: np.ndarray
    kit: Kit
    film: float
    radius: np.ndarray
    hot: HotWood

    @property
    def energy(self):
        return self.dry_energy + self.water_energy

    def contact(self, soaking):
        """Return the contact of wood that soaks up so many times the likely heat.

        The band is one on effusivity; taking it in equal parts on conductivity and heat capacity
        leaves how fast heat spreads as it is. Only what differs between tries has more than one
        value along their axis, so that a sweep of force asks for one impedance, not for many.
        """
        across = self.hot.conductivity * soaking
        capacity = self.hot.volumetric_heat_capacity * soaking
        return Contact(
            radius=self.radius,
            length=self.kit.spindle_length,
            film=side_film(self.film, radius=self.radius, conductivity=self.hot.conductivity),
            spindle=Material(across, self.hot.conductivity_along * soaking, capacity),
            board=Material(across, across, capacity),
        )

    def impedance(self, time):
        """Return the impedance of wood all along the band, as of :meth:`contact` of its soaking.

        To soak up so many times the heat is to warm so many times less, behind a film so many
        times weaker. So the board, which has no film, need be asked for the likely wood only.
        """
        likely = self.contact(1.0)
        return replace(likely, film=likely.film / self.soaking).impedance(time) / self.soaking


def _case(state, swept):
    now = state.values()
    unknown = set(swept) - set(now)
    if unknown:
        raise InputError(f"cannot sweep {sorted(unknown)}; allowed: {sorted(now)}")
    for key, value in swept.items():
        now[key] = check(**{key: value})
        if isinstance(now[key], float):  # a sweep may go to the ends of the world
            check_ordinary(**{key: now[key]})
    kit, radius = state.kit, np.divide(now["diameter"], 2)
    power = friction_power(
        now["force"],
        friction=now["friction"],
        speed=now["speed"],
        contact=kit.contact,
        radius=radius,
        cord_radius=kit.cord_radius,
    )
    hot, parts = _hot_wood_and_energy(now)
    area = np.pi * radius**2
    power, area, rise, dry, water, _ = np.broadcast_arrays(
        power,
        area,
        default("temperature_char") - now["temperature_ambient"],
        parts.wood * area,
        parts.water * area,
        hot.conductivity_along,
    )
    soaking = _with_axes(hot, power.ndim)
    return _Case(power, area, rise, dry, water, soaking, kit, state.air.film, radius, hot)


def _hot_wood_and_energy(now):
    """Return the hot wood of a try, and the energy that its dust takes."""
    char, ambient = default("temperature_char"), now["temperature_ambient"]
    hot = hot_properties(
        now["specific_gravity"],
        moisture=now["moisture"],
        temperature=np.add(ambient, char) / 2,
        axial_factor=now["axial_factor"],
    )
    return hot, energy_parts(
        now["burn_in_depth"],
        density=hot.density,
        moisture=now["moisture"],
        temperature_ambient=ambient,
        temperature_char=char,
    )


def _with_axes(hot, axes):
    """Stack the band on effusivity in front of the axes of the tries."""
    band = np.stack(np.broadcast_arrays(*hot.soaking))
    return band.reshape(3, *(1,) * (axes - band.ndim + 1), *band.shape[1:])


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
    34 K/W
    """
    case = _case(state, {})
    return case.hot.soaking.each(case.contact)


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
    The band covers what is not known of the wood: how much heat it soaks up while it is rubbed,
    from the cold wood of handbooks to the hot, drying wood of ignition tests. It does not cover
    friction, force, speed or burn-in depth, which a reader sets or measures. What the impedance
    leaves out is listed in :mod:`fireheat.heat.contact`; the largest is that the rubbing faces eat
    into wood already warm, which would bring an ember about a quarter sooner and is not in the
    band.

    References
    ----------
    .. [1] :func:`march` over :class:`fireheat.heat.contact.Contact`, with the wood of
       :func:`fireheat.kit.wood.hot_properties`.

    Examples
    --------
    >>> ordinary = estimate()
    >>> round(ordinary.power, 1), round(ordinary.bound), ordinary.never
    (10.5, 13, '')
    >>> from fireheat import Effort
    >>> estimate(effort=Effort(force=20.0, speed=0.3)).never
    'this kit makes 1.1 W, and wood carries away 1.7 W before it can char'
    """
    state = Try(kit, effort, air)
    return explained(state, found=times(state))


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
    case = _case(state, {})
    three = case.hot.soaking.each(case.contact)
    least = three.each(lambda contact: float(case.rise / contact.steady))
    return Estimate(
        **vars(found),
        least_power=least,
        heat=_heat_shares(found, case, three.likely),
        never="" if np.isfinite(found.ember.likely) else _why_never(found.power, least.likely),
    )


_HARDLY = 0.95  # of the least power: with more than this it never is only because it is too late


def _why_never(power, least):
    if power > _HARDLY * least:
        return (
            f"this kit makes hardly more than the {least:.2g} W that wood carries away: "
            "an ember would take days, if it came at all"
        )
    return f"this kit makes {power:.2g} W, and wood carries away {least:.2g} W before it can char"


def _heat_shares(found, case, contact):
    """Share out the heat made until the ember, or until time is up."""
    dusty = np.isfinite(found.ember.likely)
    done = found.ember.likely if dusty else 10 * minute
    smoke = min(found.smoke.likely, done)
    spindle, board, air = contact.soaked(done, smoke=smoke, power=found.power)
    return {
        "dust": float(case.dry_energy) if dusty else 0.0,
        "water": float(case.water_energy) if dusty else 0.0,
        "spindle": spindle,
        "board": board,
        "air": air,
    }
