r"""The contact's thermal impedance: how many kelvin it warms for each watt, after a given time.

The spindle's tip and the board share one temperature, and the heat of rubbing divides between
them. Under the Laplace transform (s stands for "how fast") each body has an admittance, watts
taken up for each kelvin, and admittances side by side add:

.. math:: \frac{1}{Z(s)} = Y_\mathrm{spindle}(s) + Y_\mathrm{board}(s)

- The spindle is a rod cut end-grain, with heat lost through a film at its side,
  ``Y = k A m tanh(m l)`` with ``m^2 = (C s + 2 h / r) / k``, C the heat capacity of a volume.
- The board is a half-space heated evenly over a disc, ``Y = pi r k / (2 phi(z))`` with
  ``z = r sqrt(C s / k)``.

Going back to time is one weighted sum over ten complex values of s (Talbot's contour).

What this leaves out, how much it matters, and which way it errs:

- The two mean temperatures are made equal, not the temperatures point by point. An isothermal disc
  on a half-space has a steady impedance of ``1/(4 k r)``, an evenly heated one
  ``8/(3 pi^2 k r)``, 8 % more: that is the most this can err for the board alone, late. Early there
  is no difference.
- The spindle is taken at one temperature across. Its side film is in truth reached through
  ``r/(4 k_across)`` of wood, which makes the film act a tenth weaker for usual spindles and Z up
  to 0.6 % higher at one minute, 1.6 % at three; :func:`side_film` puts it right.
- The far end of the spindle loses nothing. Its area is ``r/(2 l)``, about 2 %, of the side's, and
  heat dies away over ``sqrt(k r/(2 h))``, about 1 cm, long before it.
- The board is thick. On a cold ground, in the air or on a perfect insulator, 10 mm of it change Z
  by less than 0.5 % within three minutes; 8 mm by 2 % and 6 mm by 6 % at three minutes.
- The board's top face round the spindle loses nothing to the air. It would make Z lower by at most
  0.9 % at one minute and 2.2 % at three (film 10 W/(m^2 K), 13 and 25 mm spindles in softwood).
- The rubbing faces stay where they are. In truth they wear into wood already warmed, whose heat is
  then counted twice here. That would be the largest thing left out, about a quarter of an ember's
  time: :mod:`fireheat.heat.wearing` follows them from there on.
"""

from dataclasses import dataclass

import numpy as np

from ..quantities import InputError, Numbers, check, plain, store_floats
from .material import Material

# Twelve Gauss points on 0 to pi/2 for the board's integral, with its factor cos(u)^2 4/pi.
_ANGLES, _WEIGHTS = (column * np.pi / 4 for column in np.polynomial.legendre.leggauss(12))
_ANGLES = _ANGLES + np.pi / 4
HALF_SINE = tuple(zip(np.sin(_ANGLES), 4 / np.pi * np.cos(_ANGLES) ** 2 * _WEIGHTS, strict=True))


def talbot(terms: int = 10) -> tuple[np.ndarray, np.ndarray]:
    """Choose points and weights on Talbot's contour, for going back from Laplace to time.

    ``f(t) = sum(real(weights * F(points / t))) / t``.

    Parameters
    ----------
    terms : int, optional
        How many; ten are good to one part in a million for heat in solids.

    Returns
    -------
    points, weights : ndarray of complex, shape (terms,)
        Where to ask the transform, and how to add up.

    References
    ----------
    .. [1] Abate & Valko, Multi-precision Laplace transform inversion, Int. J. Numer. Meth. Engng
       60 (2004) 979, the fixed Talbot method. (from memory)

    Examples
    --------
    The transform of one is 1/s:

    >>> points, weights = talbot()
    >>> print(round(float(np.sum(np.real(weights / points))), 6))
    1.0
    """
    angle = np.arange(1, terms) * np.pi / terms
    cotangent = 1 / np.tan(angle)
    points = 0.4 * np.append(terms, terms * angle * (cotangent + 1j))
    slopes = np.append(0.5, 1 + 1j * angle * (1 + cotangent**2) - 1j * cotangent)
    return points, 0.4 * np.exp(points) * slopes


_POINTS, _POINT_WEIGHTS = talbot()
_PHASES, _PHASE_WEIGHTS = (column * np.pi / 4 for column in np.polynomial.legendre.leggauss(24))
_PHASES = _PHASES + np.pi / 4


@dataclass(frozen=True, kw_only=True)
class Contact:
    """A spindle standing on a board: all that the rise of their contact depends on.

    Attributes
    ----------
    radius : float or ndarray
        Radius of the spindle, the same all along. [m]
    length : float or ndarray
        Length of the spindle. [m]
    film : float or ndarray
        Heat transfer coefficient at the spindle's side, with radiation. [W/(m^2 K)]
    spindle, board : Material
        What they are made of; numbers may be arrays, which broadcast.

    Raises
    ------
    InputError
        If a size is not positive, the film is negative, or a body is not a material.

    Notes
    -----
    What the model leaves out, and how much that matters, is listed at the head of this module. It
    takes the materials as they are at rest: how they change with heat is for
    :func:`fireheat.heat.volumes.drill`.

    References
    ----------
    .. [1] Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed., 1959, section 10.5 for the
       disc, 4.2 for the rod that loses heat at its side, 1.14 for Duhamel's theorem. (from memory)
    .. [2] Abate & Valko, Multi-precision Laplace transform inversion, Int. J. Numer. Meth. Engng
       60 (2004) 979, the fixed Talbot method. (from memory)

    Examples
    --------
    A 13 mm softwood spindle on a softwood board, after 1, 10 and 100 seconds:

    >>> spindle, board = Material(0.12, 0.22, 6e5), Material(0.12, 0.12, 6e5)
    >>> kit = Contact(radius=0.0065, length=0.15, film=10.0, spindle=spindle, board=board)
    >>> print(np.round(kit.impedance([1.0, 10.0, 100.0]), 1))
    [ 13.2  39.8 100.6]
    """

    radius: Numbers
    length: Numbers
    film: Numbers
    spindle: Material
    board: Material

    def __post_init__(self):
        check(radius=self.radius, length=self.length, film=self.film)
        for name in ("spindle", "board"):
            body = getattr(self, name)
            if not isinstance(body, Material):
                raise InputError(f"{name} is {body!r}; allowed: a Material")
        store_floats(self)

    def impedance(self, time):
        """Temperature rise of the contact for each watt of steady heating, after a given time.

        Parameters
        ----------
        time : float or ndarray
            Time since the heating began. [s]

        Returns
        -------
        float or ndarray
            Impedance, broadcast over time and contact; good to one part in a million. [K/W]

        Raises
        ------
        InputError
            If time is negative.
        """
        time = np.asarray(check(time=time))
        started = np.where(time > 0, time, 1.0)  # at time zero the sum has no meaning; it is 0
        s = _POINTS / started[..., np.newaxis]
        both = sum(self._admittances(s))
        impedance = np.sum(np.real(_POINT_WEIGHTS / _POINTS / both), axis=-1)
        return plain(np.where(time > 0, impedance, 0.0))

    @property
    def steady(self):
        r"""Temperature rise of the contact for each watt when it has stopped rising. [K/W].

        .. math:: Z(\infty) = \frac{1}{k_s A m \tanh(m l) + 3 \pi^2 k_b r / 8},
                  \quad m = \sqrt{2 h/(k_s r)}

        A contact with less power than its rise over this can never get there. An ordinary contact
        comes within a tenth of it after ten minutes or so, its board alone after forty, since heat
        spreads into a thick body for long.
        """
        rod = _rod_admittance(
            0.0, self.radius, self.length, self.film, self.spindle.conductivity_axial, 0.0
        )
        return plain(1 / (rod + 3 * np.pi**2 * _even_conductivity(self.board) * self.radius / 8))

    def soaked(self, time, *, smoke, power):
        r"""Heat taken up by spindle, board and air while the contact is warmed, then held.

        .. math:: Q(t) = \int_0^{t_1} H(t - \tau) \, P Z'(\tau) \, d\tau, \qquad
            H(t) = \mathcal{L}^{-1} \left[ Y(s) / s^2 \right]

        Until first smoke at t1 the contact takes all the power and its rise is ``P Z(t)``; from
        then on it stays. Its temperature is known throughout, so each body's part is one
        convolution. What is left of ``power * time`` is what the dust had.

        Parameters
        ----------
        time : float
            When to count, at first smoke or later. [s]
        smoke : float
            When the contact reached charring. [s]
        power : float
            Heat made in the contact. [W]

        Returns
        -------
        spindle, board : float
            Heat stored in each. [J]
        air : float
            Heat given to the air by the spindle's side. [J]

        Raises
        ------
        InputError
            If power is negative, or first smoke is not after the start and by the time asked for.

        Notes
        -----
        For a contact of single numbers. Good to one part in ten thousand.

        Examples
        --------
        At first smoke all the heat has been taken up:

        >>> spindle, board = Material(0.12, 0.22, 6e5), Material(0.12, 0.12, 6e5)
        >>> kit = Contact(radius=0.0065, length=0.15, film=10.0, spindle=spindle, board=board)
        >>> print(round(sum(kit.soaked(6.0, smoke=6.0, power=10.0)), 1))
        60.0
        """
        time, smoke, power = check(time=time, smoke=smoke, power=power)
        if not 0 < smoke <= time:
            raise InputError(
                f"time of first smoke is {smoke:g} s; allowed: above 0, up to the time asked for,"
                f" {time:g} s"
            )
        # A sine makes both ends smooth: warming starts like a square root, and so does each answer.
        moment, step = smoke * np.sin(_PHASES) ** 2, smoke * np.sin(2 * _PHASES) * _PHASE_WEIGHTS
        whole = sum(self._admittances(_POINTS / moment[:, np.newaxis]))
        warming = power * step / moment * np.sum(np.real(_POINT_WEIGHTS / whole), axis=-1)
        since = (time - moment)[:, np.newaxis]
        drawn = (
            np.sum(np.real(_POINT_WEIGHTS * part / _POINTS**2), axis=-1)
            for part in self._kept_by_each(_POINTS / since)
        )
        return tuple(float(np.sum(warming * since[:, 0] * part)) for part in drawn)

    def _admittances(self, s):
        """Admittances of spindle and board, with one more axis at the end, for the contour."""
        radius, length, film = map(_for_contour, (self.radius, self.length, self.film))
        along, capacity = (
            _for_contour(self.spindle.conductivity_axial),
            _for_contour(self.spindle.volumetric_heat_capacity),
        )
        return _rod_admittance(s, radius, length, film, along, capacity), _disc_admittance(
            s, radius, self.board
        )

    def _kept_by_each(self, s):
        """Admittances of what spindle, board and air keep."""
        rod, board = self._admittances(s)
        leak = 2 * self.film / self.radius
        losing = leak / (self.spindle.volumetric_heat_capacity * s + leak)
        return rod * (1 - losing), board, rod * losing


def contact_impedance(
    time: Numbers,
    *,
    radius: Numbers,
    length: Numbers,
    film: Numbers,
    spindle_conductivity: Numbers,
    spindle_volumetric_heat_capacity: Numbers,
    board_conductivity: Numbers,
    board_volumetric_heat_capacity: Numbers,
) -> Numbers:
    r"""Temperature rise of the contact for each watt of steady heating: the plain formula.

    Parameters
    ----------
    time : float or ndarray
        Time since the heating began. [s]
    radius : float or ndarray
        Radius of the spindle, the same all along. [m]
    length : float or ndarray
        Length of the spindle. [m]
    film : float or ndarray
        Heat transfer coefficient at the spindle's side, with radiation. [W/(m^2 K)]
    spindle_conductivity : float or ndarray
        Thermal conductivity of the spindle along its grain. [W/(m K)]
    spindle_volumetric_heat_capacity : float or ndarray
        Heat capacity of a volume of the spindle. [J/(m^3 K)]
    board_conductivity : float or ndarray
        Thermal conductivity of the board, the same in all directions. [W/(m K)]
    board_volumetric_heat_capacity : float or ndarray
        Heat capacity of a volume of the board. [J/(m^3 K)]

    Returns
    -------
    float or ndarray
        Impedance, broadcast over the arguments. [K/W]

    Raises
    ------
    InputError
        If a size or a property is not positive, or time or film is negative.

    References
    ----------
    .. [1] As :class:`Contact`.

    Examples
    --------
    >>> wood = dict(spindle_conductivity=0.22, spindle_volumetric_heat_capacity=6e5,
    ...             board_conductivity=0.12, board_volumetric_heat_capacity=6e5)
    >>> print(f"{contact_impedance(10.0, radius=0.0065, length=0.15, film=10.0, **wood):.1f}")
    39.8
    """
    along, capacity, *board = check(
        spindle_conductivity=spindle_conductivity,
        spindle_volumetric_heat_capacity=spindle_volumetric_heat_capacity,
        board_conductivity=board_conductivity,
        board_volumetric_heat_capacity=board_volumetric_heat_capacity,
    )
    contact = Contact(
        radius=radius,
        length=length,
        film=film,
        spindle=Material(along, along, capacity),
        board=Material(board[0], *board),
    )
    return contact.impedance(time)


def side_film(film: Numbers, *, radius: Numbers, conductivity: Numbers) -> Numbers:
    r"""Film at a rod's side as felt by its mean temperature, through the wood on the way out.

    .. math:: \frac{1}{h_{side}} = \frac{1}{h} + \frac{r}{4 k}

    Parameters
    ----------
    film : float or ndarray
        Heat transfer coefficient at the side, with radiation. [W/(m^2 K)]
    radius : float or ndarray
        Radius of the rod. [m]
    conductivity : float or ndarray
        Thermal conductivity of the rod across its grain. [W/(m K)]

    Returns
    -------
    float or ndarray
        What to use for the film in a rod at one temperature across. [W/(m^2 K)]

    Raises
    ------
    InputError
        If the radius or the conductivity is not positive, or the film is negative.

    Notes
    -----
    The finite volumes of :mod:`fireheat.heat.volumes` agree within 2 % with it, also where the
    film is strong; without it the rod would leak up to 7 % too freely.

    References
    ----------
    .. [1] Mean less surface temperature of a rod losing heat evenly at its side is q r/(4 k):
       Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed., 1959, section 7.4. (from memory)

    Examples
    --------
    >>> round(side_film(10.0, radius=0.0065, conductivity=0.12), 2)
    8.81
    """
    film, radius, conductivity = check(film=film, radius=radius, conductivity=conductivity)
    return film / (1 + film * radius / (4 * conductivity))


def _for_contour(value):
    """Give values one more axis at the end, for the points of the contour."""
    return np.asarray(value)[..., np.newaxis]


def _rod_admittance(s, radius, length, film, conductivity, capacity):
    """Admittance of a rod with a film at its side and nothing lost at the far end."""
    m = np.sqrt((capacity * s + 2 * film / radius) / conductivity)
    reach = m * length  # beyond 20 nothing comes back; tanh itself takes four times as long
    back = np.exp(-2 * reach, out=np.zeros_like(reach), where=np.real(reach) < 20)
    return conductivity * np.pi * radius**2 * m * (1 - back) / (1 + back)


def _even_conductivity(board):
    """Conductivity of the even half-space that draws as much in the end. [W/(m K)]."""
    return np.sqrt(board.conductivity_radial * board.conductivity_axial)


def _disc_admittance(s, radius, board):
    """Admittance of a half-space heated evenly over a disc, by the mean temperature of the disc."""
    place = radius * np.sqrt(
        _for_contour(board.volumetric_heat_capacity / board.conductivity_radial)
    )
    return (
        np.pi
        * radius
        * _for_contour(_even_conductivity(board))
        / (2 * _disc_integral(place * np.sqrt(s)))
    )


def _disc_integral(z):
    """Integral of ``J1(x)^2 / (x sqrt(x^2 + z^2))`` over x from 0: 4/(3 pi) at z = 0.

    It is ``[1 - (I1(x) - L1(x)) 2/x] / x`` with ``x = 2 z``, modified Bessel less modified Struve,
    and ``I1(x) - L1(x) = (2 x/pi) * integral of cos(u)^2 exp(-x sin(u))`` over u from 0 to pi/2
    (NIST Digital Library of Mathematical Functions, section 11.5, from memory). Beyond ``x = 12``
    that integrand is too narrow for the points used, and the series in 1/x takes over.
    """
    x = 2 * z
    far = np.abs(x) > 12
    square = 1 / np.where(far, x, 12) ** 2
    part = 4 / (np.pi * x) * (1 - square * (1 + square * (3 + square * (45 + square * 1575))))
    part[~far] = sum(weight * np.exp(-x[~far] * sine) for sine, weight in HALF_SINE)
    return (1 - part) / x
