"""Letters, steps and how they are printed: what all derivations share.

A step's equation is what sympy got by integrating, solving, differentiating or taking a limit.
The models write the results again as plain NumPy; what sympy found for such a formula has its name
with ``derived_`` before it, and tests hold the two equal, through
:func:`fireheat.derivation.expressions.expressions`.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from sympy import Basic, Eq, Expr, Function, Symbol, Tuple, diff, powdenest, symbols
from sympy.printing.latex import LatexPrinter

from ..quantities import METRIC, quantity
from ..texts import in_units


class _Printer(LatexPrinter):
    """LaTeX in which e is free to be the effusivity."""

    def _print_ExpBase(self, expr, exp=None):  # noqa: N802, named by sympy
        words = rf"\exp\left({self._print(expr.args[0])}\right)"
        return words if exp is None else rf"{words}^{{{exp}}}"


@dataclass(frozen=True)
class Step:
    """One step of a derivation.

    Attributes
    ----------
    title : str
        A few words.
    sentence : str
        What the step says, in plain words; with places for quantities.
    equation : sympy object
        An equation, or a sympy ``Tuple`` of equations that belong together.
    """

    title: str
    sentence: str
    equation: Basic

    @property
    def latex(self) -> str:
        """The step's equations as LaTeX, side by side."""
        parts = self.equation if isinstance(self.equation, Tuple) else (self.equation,)
        return r" \qquad ".join(_Printer().doprint(part) for part in parts)

    def told(self, system: str = METRIC) -> str:
        """Say the sentence in the reader's units."""
        return in_units(self.sentence, system)

    def _repr_markdown_(self):
        """Show the step in a notebook."""
        return f"**{self.title}.** {self.told()}\n\n$${self.latex}$$"


def _letter(key: str) -> Symbol:
    """Return the quantity's letter from the table; the rise's is spelt for LaTeX."""
    return Symbol({"rise": r"\Delta T"}.get(key, quantity(key).symbol), positive=True)


_KEYS = (
    "radius",
    "cord_radius",
    "force",
    "friction",
    "speed",
    "stroke_length",
    "strokes_per_minute",
    "torque",
    "power",
    "flux",
    "energy_per_area",
    "time",
    "rise",
    "effusivity",
    "conductivity",
    "diffusivity",
    "pull",
    "pull_max",
    "speed_max",
    "curvature",
)
SYMBOLS: Mapping[str, Symbol] = MappingProxyType({key: _letter(key) for key in _KEYS})
"""The letter of each quantity in the equations, by its key in the table of quantities."""

r, R, F, mu, v, L, N, T, P, q, E, t, DT, e, k, alpha, *_of_arm = SYMBOLS.values()
B, B_max, v_max, kappa = _of_arm
# C: the number in front of the torque. s: in a ring, its distance from the axis; in the curve,
# time over that to hot dust. x: depth below the surface; for the arm, pull over the hardest pull.
C, s, x, A, t1, w, tau, omega, bow_length = symbols("C s x A t_1 w tau omega L_bow", positive=True)
of_time, of_theta, of_pressure, of_eps = (
    Function(name) for name in ("t", "theta", "p", "varepsilon")
)
PRESSURE_SHAPES = MappingProxyType({"uniform_pressure": s**0, "uniform_wear": 1 / s})


def same(left: Basic, right: Basic) -> Eq:
    """Equate two sides without letting sympy boil the equation down to "true"."""
    return Eq(left, right, evaluate=False)


def swap(integrand: Expr, place: Expr) -> Expr:
    """Write an integrand over tau as one over w, with tau at the given place."""
    return powdenest(integrand.subs(tau, place) * diff(place, w), force=True)
