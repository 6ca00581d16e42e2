"""The values of now put into the equations behind each result of the explorer.

Each line is one equation of ``data/working.toml`` with its letters filled in; the last line of a
result gives its number, the same to all digits.
"""

from collections.abc import Mapping
from typing import Any, NamedTuple

import numpy as np
from scipy.constants import R

from ..cases import case
from ..constants import constant
from ..ember.ember import HEAP_SHARE
from ..ember.ignition import (
    ACTIVATION_ENERGY,
    BULK_DENSITY,
    DUST_CONDUCTIVITY,
    HEAP_FILM,
    TEMPERATURE_HEAP,
    TEMPERATURE_LAYER,
    critical_size,
    hot_spot_critical_parameter,
    layer_critical_parameter,
)
from ..estimates import Estimate
from ..heat.hole import hole_draw
from ..kit.bowing import torque_coefficient
from ..kit.kit import Try
from ..kit.moisture import heat_of_sorption
from ..kit.wood import density, heat_capacity
from ..quantities import check, choose, default


class Valued(NamedTuple):
    """A letter of an equation, and its value now.

    Attributes
    ----------
    symbol, name : str
        The letter, as the equation has it, and the words a reader sees.
    value : float
        Its value. [SI]
    unit : str
        The quantity that says how it is shown, or a unit.
    """

    symbol: str
    name: str
    value: float
    unit: str


class Line(NamedTuple):
    """One line of the working: an equation, the values put in, and what comes out.

    Attributes
    ----------
    equation : str
        Its name in ``data/working.toml``.
    values : tuple of Valued
        What is put in.
    result : Valued
        What comes out.
    """

    equation: str
    values: tuple[Valued, ...]
    result: Valued


def lines(which: str, state: Try, *, found: Estimate) -> tuple[Line, ...]:
    """Fill in the equations behind one result.

    Parameters
    ----------
    which : str
        One of :data:`fireheat.answers.working.RESULTS`.
    state : Try
        The try.
    found : Estimate
        What :func:`fireheat.estimates.estimate` says of it.

    Returns
    -------
    tuple of Line
        From what is set to the result; where something never comes, to the watts that it takes.

    Raises
    ------
    InputError
        If there is no such result.

    Examples
    --------
    >>> from fireheat.estimates import estimate
    >>> for line in lines("floor", Try(), found=estimate()):
    ...     print(f"{line.equation}: {line.result.symbol} = {line.result.value:.4g}")
    power: P = 10.5
    energy: E = 1.167e+06
    floor: t = 22.35
    """
    choose("result", which, _LINES)
    return _LINES[which](state, found)


def least_dust(changed: Mapping[str, float] = {}) -> float:
    """Return the least dust in a heap that keeps itself hot, with some of its constants changed.

    Parameters
    ----------
    changed : mapping of str to float, optional
        Arguments of :func:`fireheat.ember.ignition.critical_size`, and ``bulk_density``. [SI]

    Returns
    -------
    float
        Mass. [kg]

    Raises
    ------
    InputError
        If a value is not positive.

    References
    ----------
    .. [1] Volume of half a ball; :func:`fireheat.ember.ignition.critical_size`.

    Examples
    --------
    >>> print(f"{1000 * least_dust():.2f} g")
    0.03 g
    """
    known: dict[str, Any] = {"bulk_density": BULK_DENSITY, **changed}
    lying = check(bulk_density=known.pop("bulk_density"))
    return 2 / 3 * np.pi * lying * critical_size(TEMPERATURE_HEAP, **known) ** 3


def _heat(state, found):
    kit, effort = state.kit, state.effort
    values: tuple[Valued, ...] = (
        Valued("C", "shape of the tip", torque_coefficient(kit.contact), "1"),
        Valued("mu", "friction", kit.friction, "friction"),
        Valued("F", "downward force", effort.force, "force"),
        Valued("v", "bow speed", effort.speed, "speed"),
    )
    if kit.cord_radius is not None:
        values += (
            Valued("r", "radius of the tip", kit.radius, "radius"),
            Valued("R", "radius where the cord wraps", kit.cord_radius, "cord_radius"),
        )
    name = "power" if kit.cord_radius is None else "power_by_cord"
    return (Line(name, values, _watts(found)),)


def _watts(found):
    return Valued("P", "heat made", found.power, "power")


def _air(state):
    return Valued("T_0", "temperature of the air", state.air.temperature, "temperature_ambient")


def _floor(state, found):
    energy = _energy(state)
    values = (
        Valued("r", "radius of the tip", state.kit.radius, "radius"),
        energy.result,
        _watts(found),
    )
    floor = Line("floor", values, Valued("t", "the floor", found.bound, "time"))
    return (*_heat(state, found), energy, floor)


def _energy(state):
    """Fill in what the dust of one ember takes, over the area of the tip."""
    kit, char = state.kit, default("temperature_char")
    middle = (state.air.temperature + char) / 2
    made = case(state)
    values = (
        Valued("rho_0", "dry density of the wood", density(kit.specific_gravity), "density"),
        Valued("d_b", "burn-in depth", kit.burn_in_depth, "burn_in_depth"),
        Valued(
            "c_0", "heat a kilogram of dry wood takes per kelvin", heat_capacity(middle), _STORES
        ),
        Valued("T_d", "temperature of the dust", char, "temperature_char"),
        _air(state),
        Valued("M", "moisture of the wood", kit.moisture, "moisture"),
        Valued("c_w", "the same of water", constant("water_heat_capacity"), _STORES),
        Valued("T_b", "where water boils", constant("water_boiling_point"), "temperature"),
        Valued("h_fg", "heat to boil a kilogram away", constant("water_latent_heat"), "J/kg"),
        Valued("h_s", "heat to free it from the wood", heat_of_sorption(kit.moisture), "J/kg"),
    )
    energy = float(made.energy) / (np.pi * kit.radius**2)
    return Line(
        "energy", values, Valued("E", "heat that the dust takes", energy, "energy_per_area")
    )


_STORES = "J/(kg K)"


def _smoke(state, found):
    contact = case(state).contact
    warm = Valued("T_s", "temperature of first smoke", default("temperature_smoke"), _SMOKE)
    rise = warm.value - state.air.temperature
    if np.isinf(found.smoke.likely):
        steady = Valued("Z_oo", "warming per watt, in the end", contact.steady, "impedance")
        least = Valued("P_l", "watts that wood carries away", rise / contact.steady, "power")
        return (*_heat(state, found), Line("least_smoke", (warm, _air(state), steady), least))
    curve = Valued("Z", "warming per watt at that time", rise / found.power, "impedance")
    reached = Line("smoke", (warm, _air(state), _watts(found)), curve)
    when = Valued("t", "first smoke", found.smoke.likely, "time")
    return (*_heat(state, found), reached, Line("curve", (curve,), when))


_SMOKE = "temperature_smoke"


def _ember(state, found):
    if np.isinf(found.ember.likely):
        return (*_heat(state, found), _least(state, found))
    parts = tuple(
        Valued(f"Q_{key[0]}", words, found.heat[key], "energy") for key, words in _PARTS.items()
    )
    ember = Valued("t", "the ember", found.ember.likely, "time")
    return (*_heat(state, found), Line("ember", (*parts, _watts(found)), ember))


_PARTS = {
    "dust": "heat in the dust",
    "water": "heat in its water",
    "spindle": "heat in the spindle",
    "board": "heat in the board",
    "air": "heat given to the air",
}


def _least(state, found):
    """Fill in the watts that wood carries away from the bottom of the hole."""
    made = case(state)
    contact, board = made.contact, made.contact.board
    even = float(np.sqrt(board.conductivity_axial * board.conductivity_radial))
    deep = (1 - made.spindle_share) * made.depth
    deep *= np.sqrt(board.conductivity_radial / board.conductivity_axial)
    values = (
        Valued("T_d", "temperature of the dust", default("temperature_char"), "temperature_char"),
        _air(state),
        Valued("Z_oo", "warming per watt, in the end", contact.steady, "impedance"),
        Valued("k_e", "how well the board conducts", even, "conductivity"),
        Valued("r", "radius of the contact", float(made.radius), "radius"),
        Valued(
            "a", "how much more a board draws from a hole", hole_draw(deep, radius=made.radius), "1"
        ),
    )
    least = Valued("P_l", "watts that wood carries away", found.least_power.likely, "power")
    return Line("least", values, least)


def _dust(state):
    kit, share = state.kit, Valued("s", "share that reaches the heap", HEAP_SHARE, "heap_share")
    made = Valued("m_d", "dust of one ember", kit.dust, "dust_mass")
    worn: tuple[Line, ...] = ()
    if kit.dust_mass is None:
        values = (
            Valued("rho_0", "dry density of the wood", density(kit.specific_gravity), "density"),
            Valued("d_b", "burn-in depth", kit.burn_in_depth, "burn_in_depth"),
            Valued("r", "radius of the tip", kit.radius, "radius"),
        )
        worn = (Line("dust", values, made),)
    heap = Valued("m", "dust in the heap", HEAP_SHARE * kit.dust, "mass")
    size = Valued("r_c", "smallest heap that stays hot", critical_size(TEMPERATURE_HEAP), "size")
    lying = Valued("rho_b", "density of the dust as it lies", BULK_DENSITY, "density")
    least = Valued("m_c", "dust in that one", least_dust(), "mass")
    times = Valued("n", "times the least", heap.value / least.value, "1")
    return (
        *worn,
        Line("heap", (share, made), heap),
        Line("size", _sizes(), size),
        Line("least_dust", (lying, size), least),
        Line("times", (heap, least), times),
    )


def _sizes():
    """Return what the smallest heap is reckoned from: one layer that was measured."""
    hot, plate, air = TEMPERATURE_HEAP, TEMPERATURE_LAYER, default("temperature_ambient")
    scale, half = R / ACTIVATION_ENERGY, constant("layer_thickness") / 2
    of_heap, of_layer = ((one - air) / (scale * one**2) for one in (hot, plate))
    layer = layer_critical_parameter(HEAP_FILM / DUST_CONDUCTIVITY * half, excess=of_layer)
    heap = hot_spot_critical_parameter("sphere", excess=of_heap)
    return (
        Valued("r_l", "half of the layer on a hot plate", half, "thickness"),
        Valued("delta_c", "how hard a heap may heat itself", heap, "1"),
        Valued("delta_l", "how hard that layer did", layer, "1"),
        Valued("T", "temperature of the dust, from absolute zero", hot, "K"),
        Valued("T_l", "temperature of the plate, likewise", plate, "K"),
        Valued("E_a", "how steeply self-heating grows", ACTIVATION_ENERGY, "J/mol"),
        Valued("R_g", "gas constant", R, "J/(mol K)"),
    )


_LINES = {
    "ember": _ember,
    "smoke": _smoke,
    "floor": _floor,
    "dust": lambda state, _: _dust(state),
    "heat": _heat,
}
