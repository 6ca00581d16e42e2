"""Until the contact is hot enough: when, how fast it warms then, and what it takes to stay so."""

import numpy as np

from ..constants import constant
from ..quantities import InputError, Numbers, check, plain
from .contact import Contact, talbot
from .hole import hole_draw
from .material import Material

_LATEST = constant("latest_answer")
_POINTS, _POINT_WEIGHTS = talbot()
_TERMS = 8  # of the polynomial in sqrt(t) for how heat divides before the rise
_TRIES = 15  # of Newton's method, which needs about four


def warm_up(contact: Contact, *, power: Numbers, rise: Numbers) -> Numbers:
    """Time for a contact to have a rise, while nothing has worn yet: first smoke, say.

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
        When ``power`` times the impedance is the rise; infinite if not within six days. [s]

    Raises
    ------
    InputError
        If a value is out of its range, or the contact is something else.

    References
    ----------
    .. [1] :meth:`fireheat.heat.contact.Contact.impedance`.

    Examples
    --------
    >>> spindle, board = Material(0.12, 0.22, 6e5), Material(0.12, 0.12, 6e5)
    >>> kit = Contact(radius=0.0065, length=0.15, film=10.0, spindle=spindle, board=board)
    >>> time = warm_up(kit, power=10.0, rise=280.0)
    >>> print(f"after {time:.2f} s: {10.0 * kit.impedance(time):.3f} K")
    after 4.71 s: 280.000 K
    """
    contact, (power, rise), shape = side_by_side(contact, *check(power=power, rise=rise))
    if 0 in shape:
        return np.empty(shape)
    able = power * contact.impedance(_LATEST) > rise
    power = np.where(able, power, 2 * rise / contact.steady)
    return in_time(when_reached(contact, power=power, rise=rise)[0], able=able, shape=shape)


def least_power(
    contact: Contact, *, rise: Numbers, depth: Numbers, spindle_share: Numbers = 0.5
) -> Numbers:
    """Power that wood carries away from the contact in the end, at the bottom of its hole.

    Parameters
    ----------
    contact : Contact
        Spindle and board; numbers may be arrays.
    rise : float or ndarray
        Temperature at which dust leaves, less the temperature at the start. [K]
    depth : float or ndarray
        How much shorter spindle and board get, together, for one ember. [m]
    spindle_share : float or ndarray, optional
        How much of that is the spindle's. [1]

    Returns
    -------
    float or ndarray
        With no more than this, wear comes to rest before an ember's dust is made. [W]

    Raises
    ------
    InputError
        If a value is out of its range, or the contact is something else.

    References
    ----------
    .. [1] :attr:`fireheat.heat.contact.Contact.steady` and :func:`fireheat.heat.hole.hole_draw`.

    Examples
    --------
    More than carries off the heat of the same contact on top of the board:

    >>> spindle, board = Material(0.12, 0.22, 6e5), Material(0.12, 0.12, 6e5)
    >>> kit = Contact(radius=0.0065, length=0.15, film=10.0, spindle=spindle, board=board)
    >>> round(280.0 / kit.steady, 2), round(least_power(kit, rise=280.0, depth=0.004), 2)
    (1.78, 1.85)
    """
    rise, depth, share = check(rise=rise, burn_in_depth=depth, spindle_share=spindle_share)
    board = _checked(contact).board
    through, sideways = board.conductivity_axial, board.conductivity_radial
    hole = (1 - share) * depth * np.sqrt(sideways / through)
    top = 3 * np.pi**2 / 8 * np.sqrt(through * sideways) * contact.radius
    more = hole_draw(hole, radius=contact.radius) - 1
    return plain(rise * (1 / np.asarray(contact.steady) + more * top))


def _checked(contact):
    if not isinstance(contact, Contact):
        raise InputError(f"contact is {contact!r}; allowed: a Contact")
    return contact


def side_by_side(contact: Contact, *numbers: Numbers) -> tuple[Contact, list, tuple[int, ...]]:
    """Spread contact and numbers over one axis of kits, and tell the shape they had.

    Examples
    --------
    >>> wood = Material(0.12, 0.22, 6e5)
    >>> kit = Contact(radius=0.0065, length=0.15, film=10.0, spindle=wood, board=wood)
    >>> kits, (power,), shape = side_by_side(kit, [10.0, 20.0])
    >>> kits.radius.tolist(), power.tolist(), shape
    ([0.0065, 0.0065], [10.0, 20.0], (2,))
    """
    sizes = _checked(contact).radius, contact.length, contact.film
    bodies = [vars(body).values() for body in (contact.spindle, contact.board)]
    shape = np.broadcast_shapes(*map(np.shape, (*sizes, *bodies[0], *bodies[1], *numbers)))

    def flat(value):
        return np.broadcast_to(value, shape).ravel()

    spindle, board = (Material(*map(flat, body)) for body in bodies)
    radius, length, film = map(flat, sizes)
    contact = Contact(radius=radius, length=length, film=film, spindle=spindle, board=board)
    return contact, [flat(number) for number in numbers], shape


def some_of(
    which: np.ndarray, contact: Contact, numbers: list[np.ndarray]
) -> tuple[Contact, list[np.ndarray]]:
    """Pick some of the kits that stand side by side.

    Examples
    --------
    >>> wood = Material(0.12, 0.22, 6e5)
    >>> kit = Contact(radius=0.0065, length=0.15, film=10.0, spindle=wood, board=wood)
    >>> kits, numbers, _ = side_by_side(kit, [10.0, 20.0])
    >>> some_of(np.array([False, True]), kits, numbers)[1]
    [array([20.])]
    """
    spindle, board = (
        Material(*(value[which] for value in vars(body).values()))
        for body in (contact.spindle, contact.board)
    )
    radius, length, film = contact.radius[which], contact.length[which], contact.film[which]
    contact = Contact(radius=radius, length=length, film=film, spindle=spindle, board=board)
    return contact, [number[which] for number in numbers]


def in_time(time: np.ndarray, *, able: np.ndarray, shape: tuple[int, ...]) -> Numbers:
    """Give times the shape asked for; infinite where never, or too late to count.

    Parameters
    ----------
    time : ndarray
        Times of kits side by side. [s]
    able : ndarray of bool
        Whether they come at all.
    shape : tuple of int
        The shape.

    Returns
    -------
    ndarray or float
        The times; a plain number if the shape is that of one. [s]

    References
    ----------
    .. [1] ``latest_answer`` in ``data/constants.toml``.

    Examples
    --------
    >>> in_time(np.array([3.0, 4.0, 1e9]), able=np.array([True, False, True]), shape=(3,))
    array([ 3., inf, inf])
    """
    return plain(np.where(able & (time <= _LATEST), time, np.inf).reshape(shape))


def _warming(contact, time):
    """Impedance of each kit at its own time, and how fast it grows."""
    both = sum(contact._admittances(_POINTS / time[:, np.newaxis]))
    impedance = np.sum(np.real(_POINT_WEIGHTS / _POINTS / both), axis=-1)
    return impedance, np.sum(np.real(_POINT_WEIGHTS / both), axis=-1) / time


def when_reached(
    contact: Contact, *, power: np.ndarray, rise: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    """Time at which each contact has the rise, and how fast its impedance grows then.

    Parameters
    ----------
    contact : Contact
        Kits side by side, along one axis.
    power : ndarray
        Heat made in each, which must be enough. [W]
    rise : ndarray
        The rise to have. [K]

    Returns
    -------
    time : ndarray
        Since the start. [s]
    growth : ndarray
        Of the impedance at that time. [K/J]

    References
    ----------
    .. [1] Newton's method. Against ``1/sqrt(t)``, ``1/Z`` is nearly a straight line, early and
       late, so that it needs few steps from plane faces.

    Examples
    --------
    >>> wood = Material(0.12, 0.22, 6e5)
    >>> kit = Contact(radius=0.0065, length=0.15, film=10.0, spindle=wood, board=wood)
    >>> kits, (power, rise), _ = side_by_side(kit, [10.0, 20.0], 280.0)
    >>> time, growth = when_reached(kits, power=power, rise=rise)
    >>> np.round(power * kits.impedance(time), 6).tolist(), growth.round(2).tolist()
    ([280.0, 280.0], [2.03, 4.51])
    """
    effusivity = contact.spindle.effusivity_axial + contact.board.effusivity_axial
    wanted = power / rise
    place = 2 * wanted / (np.sqrt(np.pi) * effusivity * np.pi * contact.radius**2)
    for _ in range(_TRIES):
        impedance, growth = _warming(contact, place**-2)
        change = (1 / impedance - wanted) * impedance**2 * place**3 / (2 * growth)
        place = np.maximum(place - change, place / 10)
        if np.all(np.abs(change) < 1e-6 * place):  # the next would be its square
            break
    return place**-2, growth


def divided(contact: Contact, *, time: np.ndarray) -> np.ndarray:
    """How heat divides between spindle and board: polynomials in the root of the time.

    Parameters
    ----------
    contact : Contact
        Kits side by side, along one axis.
    time : ndarray
        The time at which that root is one. [s]

    Returns
    -------
    ndarray
        Terms, constant first; then spindle and board; then kits. [1]

    References
    ----------
    .. [1] Shares of the admittance, back in time by :func:`fireheat.heat.contact.talbot`.

    Examples
    --------
    Both together get all of it:

    >>> wood = Material(0.12, 0.22, 6e5)
    >>> kit = Contact(radius=0.0065, length=0.15, film=10.0, spindle=wood, board=wood)
    >>> kits, _, _ = side_by_side(kit, [0.0])
    >>> divided(kits, time=np.array([4.0]))[:, :, 0].sum(axis=1).round(9).tolist()
    [1.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0]
    """
    place = (1 + np.cos(np.pi * np.arange(_TERMS) / (_TERMS - 1))) / 2
    s = _POINTS / (time * place[:-1, np.newaxis] ** 2)[..., np.newaxis]
    rod, board = contact._admittances(s)
    share = np.sum(np.real(_POINT_WEIGHTS / _POINTS * rod / (rod + board)), axis=-1)
    rod, board = contact.spindle.effusivity_axial, contact.board.effusivity_axial
    share = np.concatenate([share, [rod / (rod + board)]])
    terms = np.linalg.solve(np.vander(place, increasing=True), share)
    return np.stack([terms, np.eye(_TERMS)[0][:, np.newaxis] - terms], axis=1)
