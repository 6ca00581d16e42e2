"""A hot disc on a sheet on whatever lies below: the heat it draws, almost in closed form.

A sheet carries heat off sideways, like a fin, and lets it through to what it lies on. Both
happen at once, and at first the sheet itself must be warmed. Each part alone has a textbook
formula, given first. All together:

- in the Laplace (time) and Hankel (radius) domains a stack of layers is one number, its
  *admittance* per area, found from the bottom up;
- the flux under the disc is a sum of shapes whose transforms are known: all at the rim (as on
  foil), as under a disc on thick ground, even (as at the first moment), and five that gather at
  the middle, without which the middle of a thin sheet is a tenth too cool;
- how much of each makes the disc's temperature even *on average over each shape* (Galerkin), and
  that gives the heat drawn to a part or two in a thousand;
- one numerical inversion brings time back.

The finite-volume solver of :mod:`fireheat.heat.volumes` does the same and draws the picture.
"""

import numpy as np
from scipy import special

from ..quantities import InputError, Numbers, check, plain
from .contact import talbot

# ---- the textbook parts -----------------------------------------------------------------------


def radial_fin_conductance(
    radius: Numbers, *, thickness: Numbers, conductivity: Numbers, film: Numbers, faces: Numbers = 2
) -> Numbers:
    r"""Heat that a hot disc loses into a wide thin sheet round it, per kelvin.

    .. math:: G = 2 \pi k d \, m a \frac{K_1(m a)}{K_0(m a)}, \qquad m = \sqrt{n h / (k d)}

    Parameters
    ----------
    radius : float or ndarray
        Radius of the disc. [m]
    thickness : float or ndarray
        Thickness of the sheet. [m]
    conductivity : float or ndarray
        Thermal conductivity of the sheet. [W/(m K)]
    film : float or ndarray
        Surface heat transfer coefficient. [W/(m^2 K)]
    faces : float or ndarray, optional
        Faces that lose heat: two in the air. [1]

    Returns
    -------
    float or ndarray
        Conductance, broadcast over the arguments; zero where the film is. [W/K]

    Raises
    ------
    InputError
        If a value is not positive, or the film is negative.

    Notes
    -----
    Steady, and for a sheet so thin that it is as hot below as above (film times thickness well
    below conductivity). What the disc loses straight through its own area comes on top.

    References
    ----------
    .. [1] Incropera et al., Fundamentals of Heat and Mass Transfer, annular fins, outer radius
       taken to infinity. (from memory)

    Examples
    --------
    Foil under an ember 580 K hotter than the air takes ten watts:

    >>> foil = {"thickness": 16e-6, "conductivity": 237.0}
    >>> print(f"{580 * radial_fin_conductance(0.005, film=10.0, **foil):.2f}")
    10.25
    """
    radius, thickness, conductivity, film, faces = check(
        radius=radius, thickness=thickness, conductivity=conductivity, film=film, faces=faces
    )
    sheet = conductivity * thickness
    x = radius * np.sqrt(faces * film / sheet)
    steep = np.divide(special.k1e(x), special.k0e(x), out=np.zeros(np.shape(x)), where=x > 0)
    return plain(2 * np.pi * sheet * x * steep)


def through_conductance(
    radius: Numbers, *, thickness: Numbers, conductivity: Numbers, ground_conductivity: Numbers
) -> Numbers:
    r"""Heat that a hot disc loses straight through a sheet into thick ground, per kelvin.

    .. math:: G = \left( \frac{d}{k \pi a^2} + \frac{1}{4 k_g a} \right)^{-1}

    Parameters
    ----------
    radius : float or ndarray
        Radius of the disc. [m]
    thickness : float or ndarray
        Thickness of the sheet. [m]
    conductivity : float or ndarray
        Thermal conductivity of the sheet. [W/(m K)]
    ground_conductivity : float or ndarray
        Thermal conductivity of the ground; zero for none. [W/(m K)]

    Returns
    -------
    float or ndarray
        Conductance, broadcast over the arguments. [W/K]

    Raises
    ------
    InputError
        If a value is not positive, or the ground's conductivity is negative.

    Notes
    -----
    Steady, nothing sideways in the sheet: too little for metal, and the ground takes minutes to
    get there from above.

    References
    ----------
    .. [1] Incropera et al., Fundamentals of Heat and Mass Transfer, table of conduction shape
       factors: disc on a half-space, 4 k a.

    Examples
    --------
    >>> sheet = {"thickness": 1e-6, "conductivity": 1e6}
    >>> print(f"{1 / through_conductance(0.005, ground_conductivity=0.30, **sheet):.2f}")
    166.67
    """
    radius, thickness, conductivity, ground_conductivity = check(
        radius=radius,
        thickness=thickness,
        conductivity=conductivity,
        ground_conductivity=ground_conductivity,
    )
    sheet = conductivity * np.pi * radius**2 / thickness
    below = 4 * ground_conductivity * radius
    return sheet * below / (sheet + below)


# ---- all at once --------------------------------------------------------------------------------


def _flux_shapes(near=80.0, far=2e4, near_count=64, far_count=8):
    """Wave numbers (times radius), weights of all pairs of shapes, and of each with the centre.

    A flux that goes as (1 - rho^2)^(order - 1) has the transform scale * J_order(x) / x^order; at
    order 0 all is at the rim. They oscillate; beyond ``near`` only the means of their products
    count.
    """
    order = _ORDERS[:, None]
    scale = 2**order * special.gamma(order + 1)
    node, weight = np.polynomial.legendre.leggauss(near_count)
    x, dx = near * (node + 1) / 2, near * weight / 2
    shape = scale * special.jv(order, x) / x**order
    node, weight = np.polynomial.legendre.leggauss(far_count)
    y = near * (far / near) ** ((node + 1) / 2)
    dy = y * np.log(far / near) * weight / 2
    # Far out each is size * cos(y - phase): the mean of a product is half the cosine between.
    size = scale * np.sqrt(2 / np.pi / y) / y**order
    phase = np.pi / 2 * order
    between = np.cos(phase - phase.T) / 2
    pairs = np.concatenate(
        [shape[:, None] * shape * x * dx, size[:, None] * size * between[:, :, None] * y * dy], 2
    )
    return (
        np.concatenate([x, y]),
        pairs.reshape(len(order) ** 2, -1).T / (2 * np.pi),
        shape * x * dx / (2 * np.pi),
    )


# The rim, as under thick ground, even; with fewer of the rest the middle under a leaf is off.
_ORDERS = np.array([0.0, 0.5, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0])
_WAVES, _PAIRS, _CENTRE = _flux_shapes()
# Few terms, so that a whole table with its bands is immediate: all told within 0.1 % of many.
_POINTS, _POINT_WEIGHTS = talbot(6)


def _stack_admittance(s, wave, sheet, film, ground):
    """Admittance of the stack at its top, and rise of its far face on the axis by shape of flux.

    ``sheet`` is conductivity, heat capacity, thickness; ``ground`` is film below, conductivity,
    heat capacity. A film covers the whole top.
    """
    conductivity, capacity, thickness = sheet
    film_below, below, below_capacity = ground
    under = film_below + np.sqrt((below * wave) ** 2 + s * below * below_capacity)
    decay = np.sqrt(wave**2 + s * capacity / conductivity)
    own = conductivity * decay
    fade = np.exp(-decay * thickness)
    back = fade * fade
    inner = own * (1 + back) + under * (1 - back)
    top = own * (own + under - back * (own - under)) / inner + film
    near = ..., slice(len(_CENTRE.T))  # farther out the shapes' means are nought
    return top, (2 * fade[near] * own[near] / inner[near] / top[near]) @ _CENTRE.T


def _disc_conductance(s, radius, sheet, film, ground, crust_resistance):
    """Conductance of the disc in the Laplace domain, and far-face rise on the axis per disc rise.

    ``s`` has the properties' shape and one more axis at the end.
    """
    deep = [[value[..., None, None] for value in layer] for layer in (sheet, ground)]
    a = radius[..., None, None]
    top, through = _stack_admittance(
        s[..., None], _WAVES / a, deep[0], film[..., None, None], deep[1]
    )
    count = len(_ORDERS)
    resistance = ((1 / top) @ _PAIRS).reshape(*s.shape, count, count) / a[..., None] ** 2
    parts = np.linalg.solve(resistance, np.ones((count, 1)))[..., 0]
    drawn = parts.sum(-1) - film[..., None] * np.pi * radius[..., None] ** 2
    far = (through * parts).sum(-1)
    held = 1 / (1 + crust_resistance[..., None] * drawn)
    return drawn * held, far / radius[..., None] ** 2 * held


def _back_in_time(transform):
    """Bring a transform, given at the points of Talbot's contour, back to its time."""
    return plain(np.sum((_POINT_WEIGHTS * transform).real, axis=-1))


def disc_draw(
    time: Numbers,
    *,
    radius: Numbers,
    thickness: Numbers,
    conductivity: Numbers,
    volumetric_heat_capacity: Numbers,
    film: Numbers,
    film_below: Numbers = 0.0,
    ground_conductivity: Numbers = 0.0,
    ground_volumetric_heat_capacity: Numbers = 0.0,
    crust_resistance: Numbers = 0.0,
) -> tuple[Numbers, ...]:
    """Heat that a hot disc loses to a sheet and what lies below, per kelvin it is hotter.

    Parameters
    ----------
    time : float or ndarray
        Time since the disc was set down and held at its temperature. [s]
    radius : float or ndarray
        Radius of the disc. [m]
    thickness : float or ndarray
        Thickness of the sheet. [m]
    conductivity : float or ndarray
        Thermal conductivity of the sheet. [W/(m K)]
    volumetric_heat_capacity : float or ndarray
        Heat capacity of a volume of the sheet. [J/(m^3 K)]
    film : float or ndarray
        Surface heat transfer coefficient above the sheet, beside the disc. [W/(m^2 K)]
    film_below : float or ndarray, optional
        The same below it, if it lies on air. [W/(m^2 K)]
    ground_conductivity : float or ndarray, optional
        Thermal conductivity of thick ground below; zero for none. [W/(m K)]
    ground_volumetric_heat_capacity : float or ndarray, optional
        Its heat capacity of a volume. [J/(m^3 K)]
    crust_resistance : float or ndarray, optional
        Resistance between what is held hot and the sheet. [K/W]

    Returns
    -------
    tuple of float or ndarray
        Conductance at that time [W/K], heat drawn up to it per kelvin [J/K], and the rise of the
        sheet's far face on the axis as a share of the disc's. [1]

    Raises
    ------
    InputError
        If a value is out of its range.

    Notes
    -----
    The sheet is taken as endless and of constant properties. Without a crust the far face on the
    axis is within 0.006 of the disc's rise of what the solver finds, and once warm of heat that
    flows straight through, for sheets down to a sixtieth of the disc's radius. While it warms, a
    sheet thinner than a thirtieth is told up to 0.025 too hot; one down to a thousandth of the
    radius is within 0.018 in the end, one thinner still within 0.07.

    A crust is taken as one resistance under an even disc. For the heat drawn that does, but behind
    a crust the far face comes late or early by more than half:
    :func:`fireheat.ember.scorch.scorch_time` has the solver do that.

    References
    ----------
    .. [1] Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed., 1959, ch. 8 and 12.
       (from memory)
    .. [2] Abate & Whitt, A unified framework for numerically inverting Laplace transforms,
       INFORMS J. Computing 18 (2006) 408. (from memory)

    Examples
    --------
    Foil in the air after a minute, near its steady 0.0184 W/K:

    >>> now, joules, far = disc_draw(60.0, radius=0.005, thickness=16e-6, conductivity=237.0,
    ...     volumetric_heat_capacity=2.4e6, film=10.0, film_below=10.0)
    >>> print(f"{now:.4f} {joules:.2f} {far:.2f}")
    0.0184 1.12 1.00
    """
    values = check(
        time=time,
        radius=radius,
        thickness=thickness,
        conductivity=conductivity,
        volumetric_heat_capacity=volumetric_heat_capacity,
        film=film,
        film_below=film_below,
        ground_conductivity=ground_conductivity,
        ground_volumetric_heat_capacity=ground_volumetric_heat_capacity,
        crust_resistance=crust_resistance,
    )
    if np.any(values[0] == 0):
        raise InputError("time is 0 s; a body set down at once draws without limit then")
    # The crust last and alone: how the stack answers does not hang on it.
    time, radius, thickness, conductivity, capacity, film, *ground = (
        np.asarray(value) for value in np.broadcast_arrays(*values[:-1])
    )
    crust = np.asarray(values[-1])
    sheet = (conductivity, capacity, thickness)
    drawn, far = _disc_conductance(_POINTS / time[..., None], radius, sheet, film, ground, crust)
    return (
        _back_in_time(drawn / _POINTS),
        plain(_back_in_time(drawn / _POINTS**2) * time),
        _back_in_time(far / _POINTS),
    )
