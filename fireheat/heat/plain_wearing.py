"""The march with wear of plain numbers: two bodies that hold the same heat, a long spindle.

What :mod:`fireheat.heat.wearing` asks of whole contacts, this asks of conductivities and a radius.
"""

from ..quantities import Numbers, check
from .contact import Contact
from .material import Material
from .wearing import Wear, wearing

_ENDLESS = 1e3  # m, a rod so long that its end never matters


def wearing_march(
    power: Numbers,
    *,
    rise: Numbers,
    energy: Numbers,
    depth: Numbers,
    radius: Numbers,
    film: Numbers,
    spindle_conductivity: Numbers,
    board_conductivity: Numbers,
    volumetric_heat_capacity: Numbers,
    spindle_share: Numbers = 0.5,
) -> Wear:
    r"""Time to the wanted rise and to the ember with wear: the plain formula.

    Both bodies hold the same heat in the same volume, the spindle is long, and the board conducts
    alike in all directions; for anything else there is
    :func:`fireheat.heat.wearing.wearing`.

    Parameters
    ----------
    power : float or ndarray
        Heat made in the contact, steady from time zero on. [W]
    rise : float or ndarray
        Temperature at which dust leaves, less the temperature at the start. [K]
    energy : float or ndarray
        Energy that one ember's dust needs, from cold wood on. [J]
    depth : float or ndarray
        How much shorter spindle and board get, together, for one ember. [m]
    radius : float or ndarray
        Radius of the spindle, the same all along. [m]
    film : float or ndarray
        Heat transfer coefficient at the spindle's side, see
        :func:`fireheat.heat.contact.side_film`. [W/(m^2 K)]
    spindle_conductivity : float or ndarray
        Thermal conductivity of the spindle along its grain. [W/(m K)]
    board_conductivity : float or ndarray
        Thermal conductivity of the board. [W/(m K)]
    volumetric_heat_capacity : float or ndarray
        Heat capacity of a volume of either. [J/(m^3 K)]
    spindle_share : float or ndarray, optional
        How much of the depth is the spindle's. [1]

    Returns
    -------
    Wear
        Both times, broadcast over the arguments.

    Raises
    ------
    InputError
        If a value is out of its range.

    References
    ----------
    .. [1] As :func:`fireheat.heat.wearing.wearing`.

    Examples
    --------
    A deeper hole is more dust to heat:

    >>> import numpy as np
    >>> depth = np.array([0.002, 0.004, 0.008])
    >>> worn = wearing_march(10.0, rise=280.0, energy=32e3 * depth, depth=depth, radius=0.0065,
    ...                      film=10.0, spindle_conductivity=0.22, board_conductivity=0.12,
    ...                      volumetric_heat_capacity=6e5)
    >>> worn.ember.round(1)
    array([14.1, 21.7, 36.4])
    """
    along, across, capacity = check(
        spindle_conductivity=spindle_conductivity,
        board_conductivity=board_conductivity,
        volumetric_heat_capacity=volumetric_heat_capacity,
    )
    contact = Contact(
        radius=radius,
        length=_ENDLESS,
        film=film,
        spindle=Material(along, along, capacity),
        board=Material(across, across, capacity),
    )
    return wearing(
        contact, power=power, rise=rise, energy=energy, depth=depth, spindle_share=spindle_share
    )
