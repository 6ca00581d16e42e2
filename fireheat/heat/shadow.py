r"""The shadow of the march: the closed two-stage curve, put right by a polynomial.

The march (:mod:`fireheat.heat.wearing`) follows each kit step by step. Pictures ask for thousands
of kits at once, so each has a shadow. For spindle and board of one wood the ember's time hangs on
six bare numbers only, and so does what the march says over what the curve says:

.. math::
    t = t_2 \exp p(x), \qquad x = \left( \ln \Big( 1 - \frac{P_{least}}{P} \Big),\;
    \frac{E}{P t_2},\; \ln \frac{\alpha t_2}{r^2},\; \chi,\; \sigma,\; \ln \frac{k_b}{k_s},\;
    \sqrt{\mathrm{Bi}} \right), \qquad \chi = \frac{C \, \Delta T \, A \, d}{E}, \quad
    \mathrm{Bi} = \frac{h r}{k_s}

with the curve's time t2, the spindle's share of the wear sigma, and p a polynomial; that there are
seven and not six makes p short. First smoke has t1, and knows neither E nor wear. The coefficients
in ``data/shadow.toml`` are fitted to the march by ``tests/tools/fit_shadow.py``, over all that
sliders and draws reach, and corners beyond. How far they err stands there, too.

Never is told as the march tells it, by the least power itself. Outside the range of the fit there
is no shadow: such kits are marched.
"""

from collections.abc import Callable
from functools import cache

import numpy as np

from ..constants import constant
from ..data import table
from ..quantities import Numbers, check, plain
from .contact import Contact
from .two_stage import two_stage
from .warming import least_power, side_by_side, some_of, warm_up
from .wearing import wearing

_LATEST = constant("latest_answer")
_AMPLE = 1.01  # of the least power, and ...
_SURPLUS = 0.02  # ... how much more dust takes than its wood held, as in the march
LONG_ROD = 5.0  # lengths over which heat dies away along the rod: then its far end does not matter
# How each bare number enters the polynomial; depth over radius does not, but has its range, too.
_ENTERS: dict[str, Callable] = {
    "spare": np.log,
    "floor": np.asarray,
    "fourier": np.log,
    "chi": np.asarray,
    "spindle_share": np.asarray,
    "ratio": np.log,
    "biot": np.sqrt,
}


def quick_smoke(contact: Contact, *, power: Numbers, rise: Numbers) -> Numbers:
    """Time for a contact to have a rise, by the shadow where it holds.

    Parameters
    ----------
    contact : Contact
        Spindle and board; numbers may be arrays.
    power : float or ndarray
        Heat made in the contact, steady from time zero on. [W]
    rise : float or ndarray
        The rise to have. [K]

    Returns
    -------
    float or ndarray
        As :func:`fireheat.heat.warming.warm_up`, but for the errors in ``data/shadow.toml``. [s]

    Raises
    ------
    InputError
        If a value is out of its range, or the contact is something else.

    References
    ----------
    .. [1] Our own fit to :func:`fireheat.heat.warming.warm_up`.

    Examples
    --------
    >>> from fireheat.estimates import contacts
    >>> from fireheat.kit.kit import Try
    >>> kit = contacts(Try()).likely
    >>> round(quick_smoke(kit, power=10.0, rise=255.0) / warm_up(kit, power=10.0, rise=255.0), 2)
    1.0
    """
    contact, numbers, shape = side_by_side(contact, *check(power=power, rise=rise))
    time = _smoke(contact, *numbers)
    rest = np.isnan(time)
    if np.any(rest):
        some, (power, rise) = some_of(rest, contact, numbers)
        time[rest] = warm_up(some, power=power, rise=rise)
    return plain(time.reshape(shape))


def quick_ember(
    contact: Contact,
    *,
    power: Numbers,
    rise: Numbers,
    energy: Numbers,
    depth: Numbers,
    spindle_share: Numbers = 0.5,
) -> Numbers:
    """Time of the ember of a contact whose faces wear, by the shadow where it holds.

    Parameters
    ----------
    contact : Contact
        Spindle and board; numbers may be arrays.
    power : float or ndarray
        Heat made in the contact, steady from time zero on. [W]
    rise : float or ndarray
        Temperature at which dust leaves, less the temperature at the start. [K]
    energy : float or ndarray
        Energy that one ember's dust needs, from cold wood on. [J]
    depth : float or ndarray
        How much shorter spindle and board get, together, for one ember. [m]
    spindle_share : float or ndarray, optional
        How much of that is the spindle's. [1]

    Returns
    -------
    float or ndarray
        As the ember of :func:`fireheat.heat.wearing.wearing`, but for the errors in
        ``data/shadow.toml``; never sooner than ``energy/power``. [s]

    Raises
    ------
    InputError
        If a value is out of its range, or the contact is something else.

    References
    ----------
    .. [1] Our own fit to :func:`fireheat.heat.wearing.wearing`.

    Examples
    --------
    >>> from fireheat.cases import case
    >>> from fireheat.kit.kit import Try
    >>> one = case(Try())
    >>> round(float(quick_ember(one.contact, **one.march))), round(float(one.ember))
    (56, 56)
    """
    contact, numbers, shape = side_by_side(
        contact,
        *check(
            power=power,
            rise=rise,
            energy=energy,
            burn_in_depth=depth,
            spindle_share=spindle_share,
        ),
    )
    time = _ember(contact, *numbers)
    rest = np.isnan(time)
    if np.any(rest):
        some, (power, rise, energy, depth, share) = some_of(rest, contact, numbers)
        time[rest] = wearing(
            some, power=power, rise=rise, energy=energy, depth=depth, spindle_share=share
        ).ember
    return plain(time.reshape(shape))


# ---- the shadow alone: not a number where it does not hold ----------------------------------


def _smoke(contact, power, rise):
    """Shadow of first smoke, for kits side by side."""
    steady = contact.steady
    closed, groups = _smoke_groups(contact, power, rise, steady)
    time = _put_right("smoke", closed, groups, _one_wood(contact))
    return np.where(power * steady > rise, time, np.inf)


def _ember(contact, power, rise, energy, depth, share):
    """Shadow of the ember, for kits side by side."""
    least = least_power(contact, rise=rise, depth=depth, spindle_share=share)
    closed, groups = _ember_groups(contact, least, power, rise, energy, depth, share)
    time = _put_right("ember", closed, groups, _one_wood(contact))
    with np.errstate(divide="ignore", invalid="ignore"):
        time = np.maximum(time, energy / power)  # and what is not a number stays so
    return np.where((power > _AMPLE * least) & ~(time > _LATEST), time, np.inf)


def _one_wood(contact):
    """Tell for which kits heat moves as in spindle and board of one wood, from no far end."""
    spindle, board = contact.spindle, contact.board
    along, across = spindle.conductivity_axial, board.conductivity_axial
    same = np.isclose(board.conductivity_radial**2, along * across, rtol=1e-6)
    held = spindle.volumetric_heat_capacity, board.volumetric_heat_capacity
    dying = np.sqrt(2 * contact.film / (along * contact.radius))
    return same & np.isclose(*held, rtol=1e-6) & (dying * contact.length > LONG_ROD)


def _soaking(contact, power, rise, energy):
    """Both times of the closed curve, and the spindle's diffusivity over radius squared."""
    area, spindle = np.pi * contact.radius**2, contact.spindle
    closed = two_stage(
        power / area,
        energy_per_area=energy / area,
        effusivity=spindle.effusivity_axial + contact.board.effusivity_axial,
        rise=rise,
    )
    return closed, spindle.conductivity_axial / (
        spindle.volumetric_heat_capacity * contact.radius**2
    )


def _shape(contact):
    """Conductivity of the board over the spindle's, and how the air takes heat off."""
    along = contact.spindle.conductivity_axial
    return contact.board.conductivity_axial / along, contact.film * contact.radius / along


def _smoke_groups(contact, power, rise, steady):
    """Time of smoke by the closed curve, and its bare numbers by name."""
    (smoke, _), _ = _soaking(contact, power, rise, rise)  # whatever the dust takes
    ratio, biot = _shape(contact)
    with np.errstate(divide="ignore"):
        spare = 1 - rise / (steady * power)
    return smoke, {"spare": spare, "ratio": ratio, "biot": biot}


def _ember_groups(contact, least, power, rise, energy, depth, share):
    """Time of the ember by the closed curve, and its bare numbers by name."""
    capacity = contact.spindle.volumetric_heat_capacity
    held = capacity * rise * depth * np.pi * contact.radius**2
    energy = np.maximum(energy, (1 + _SURPLUS) * held)
    (_, ember), pace = _soaking(contact, power, rise, energy)
    ratio, biot = _shape(contact)
    with np.errstate(divide="ignore", invalid="ignore"):
        return ember, {
            "spare": 1 - least / power,
            "floor": energy / power / ember,
            "fourier": pace * ember,
            "chi": held / energy,
            "spindle_share": share,
            "ratio": ratio,
            "biot": biot,
            "depth": depth / contact.radius,
        }


# ---- polynomials ----------------------------------------------------------------------------


def _put_right(which, closed, groups, allowed):
    """Multiply the closed time by the exponential of the polynomial; NaN outside its range."""
    fit, time = table("shadow")[which], np.full(closed.shape, np.nan)
    for name, (low, high) in fit["range"].items():
        allowed = allowed & (low <= groups[name]) & (groups[name] <= high)
    inside = {name: values[allowed] for name, values in groups.items()}
    products = _products(inside, fit["range"], fit["weights"])
    # Not by a matrix product: from 3000 kits on that starts threads, which wait for one another.
    time[allowed] = closed[allowed] * np.exp(np.einsum("i,ij->j", fit["coefficients"], products))
    return time


def _products(groups, ends, weights):
    """Return the terms of the polynomial for each kit, each made of one before and one number."""
    place = []
    for name in weights:
        enters = _ENTERS[name]
        low, high = enters(ends[name][0]), enters(ends[name][1])
        place.append(2 * (enters(groups[name]) - low) / (high - low) - 1)
    steps = _steps(tuple(weights.values()))
    terms = np.ones((len(steps) + 1, place[0].size))
    for term, (before, by) in enumerate(steps, start=1):
        np.multiply(terms[before], place[by], out=terms[term])
    return terms


@cache
def _steps(weights):
    """List of which term before and which number each term is made, as far as weights add to one.

    The heavier a number, the lower its powers.
    """
    terms, steps = [(0.0, 0)], []
    for before, (weight, first) in enumerate(terms):  # and those that come on the way
        for by in range(first, len(weights)):
            heavier = weight + weights[by]
            if heavier <= 1 + 1e-9:
                terms.append((heavier, by))
                steps.append((before, by))
    return tuple(steps)
