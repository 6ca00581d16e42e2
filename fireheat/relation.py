"""Where the time to an ember comes from, one step at a time, each worked out by sympy.

Four derivations, each an ordered tuple of :class:`Step`: from a turning disc to the energy bound
(:func:`bound_steps`), from the heat equation to the time a thick body takes to char
(:func:`thick_steps`), the one curve that joins them (:func:`two_stage_steps`), and the force that
suits an arm best (:func:`arm_steps`). A step's equation is what sympy got by integrating, solving,
differentiating or taking a limit. The models in :mod:`fireheat.bowing`, :mod:`fireheat.arm` and
:mod:`fireheat.milestones` write the results again as plain NumPy; tests hold the two equal,
through :func:`expressions`.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from sympy import (
    Basic,
    Derivative,
    Eq,
    Expr,
    Function,
    Integral,
    Limit,
    Subs,
    Symbol,
    Tuple,
    asin,
    atan,
    diff,
    erfc,
    exp,
    factor,
    factor_terms,
    integrate,
    limit,
    oo,
    pi,
    powdenest,
    powsimp,
    simplify,
    solve,
    sqrt,
    symbols,
)
from sympy.printing.latex import LatexPrinter

from .quantities import quantity


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
        What the step says, in plain words.
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

    def _repr_markdown_(self):
        """Show the step in a notebook."""
        return f"**{self.title}.** {self.sentence}\n\n$${self.latex}$$"


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
# time over time to smoke. x: depth below the surface; for the arm, pull over the hardest pull.
C, s, x, A, t1, w, tau, omega, bow_length = symbols("C s x A t_1 w tau omega L_bow", positive=True)
_time, _theta, _pressure, _eps = (Function(name) for name in ("t", "theta", "p", "varepsilon"))
_SHAPES = MappingProxyType({"uniform_pressure": s**0, "uniform_wear": 1 / s})


def _same(left, right) -> Eq:
    """Equate two sides without letting sympy boil the equation down to "true"."""
    return Eq(left, right, evaluate=False)


# ---- the turning disc and its energy -------------------------------------------------------------


@cache
def pressure(contact: str) -> Expr:
    """Pressure at distance s from the axis, scaled so that all rings together carry F."""
    level = Symbol("p_0", positive=True)
    total = integrate(2 * pi * s * level * _SHAPES[contact], (s, 0, r))
    return solve(Eq(total, F), level)[0] * _SHAPES[contact]


@cache
def torque(contact: str) -> Expr:
    """Friction torque: mu p on each ring, times the ring's area, times its distance s."""
    return integrate(mu * pressure(contact) * 2 * pi * s * s, (s, 0, r))


@cache
def power(cord_at_tip: bool = True) -> Expr:
    """Torque times the angular speed v/R; the radius cancels where R = r."""
    watts = C * mu * F * r * solve(Eq(v, omega * R), omega)[0]
    return watts.subs(R, r) if cord_at_tip else watts


@cache
def bound() -> Expr:
    """Time in which the power delivers the energy of one ember's dust."""
    return solve(Eq(power() * t, E * pi * r**2), t)[0]


def sensitivity(expression: Expr, symbol: Symbol) -> Expr:
    """Per cent change of the expression for one per cent more of the symbol."""
    return simplify(symbol * diff(expression, symbol) / expression)


@cache
def bound_steps() -> tuple[Step, ...]:
    """Every step from a turning disc to the energy bound, in order.

    Examples
    --------
    >>> bound_steps()[-1].title, bound_steps()[-1].equation.rhs
    ('A factor of four', 1/4)
    """
    return _ring_steps() + _power_steps() + _balance_steps() + _meaning_steps()


def _ring_steps():
    fresh, worn = "uniform_pressure", "uniform_wear"
    ratios = [torque(contact) / (mu * F * r) for contact in (fresh, worn)]
    return (
        Step(
            "Cut the tip into rings",
            "Each ring rubs with friction times pressure times its area, and the further out it "
            "is, the more it helps to hold the spindle back.",
            Tuple(
                _same(F, Integral(2 * pi * s * _pressure(s), (s, 0, r))),
                _same(T, Integral(2 * pi * mu * s**2 * _pressure(s), (s, 0, r))),
            ),
        ),
        Step(
            "A fresh flat tip",
            "A fresh tip presses evenly; adding up its rings gives two thirds.",
            Tuple(_same(_pressure(s), pressure(fresh)), _same(T, torque(fresh))),
        ),
        Step(
            "A worn-in tip",
            "A used tip has worn away most at its fast rim, so it presses harder near the middle; "
            "its rings give one half.",
            Tuple(_same(_pressure(s), pressure(worn)), _same(T, torque(worn))),
        ),
        Step(
            "One formula for both",
            "Only the number in front differs; call it C.",
            Tuple(_same(T, C * mu * F * r), *(_same(C, ratio) for ratio in ratios)),
        ),
    )


def _power_steps():
    worn_heat = mu * pressure("uniform_wear") * s * (v / R).subs(R, r)
    return (
        Step(
            "The cord turns the spindle",
            "The cord runs as fast as the bow moves, so a thin spindle spins faster.",
            _same(omega, solve(Eq(v, omega * R), omega)[0]),
        ),
        Step(
            "Heat made each second",
            "Torque times turning speed is power: every bit of it becomes heat.",
            _same(P, power(cord_at_tip=False)),
        ),
        Step(
            "The radius cancels",
            "Where the cord wraps at the tip's own radius, a thick spindle rubs harder but turns "
            "slower, and makes exactly the same heat.",
            _same(P, power()),
        ),
        Step(
            "Spread over the tip",
            "The same heat on a bigger tip is thinner on each spot.",
            _same(q, power() / (pi * r**2)),
        ),
        Step(
            "A worn-in tip heats evenly",
            "Near the middle it presses harder but rubs slower; ring by ring the two balance.",
            _same(q, powsimp(worn_heat)),
        ),
    )


def _balance_steps():
    return (
        Step(
            "What an ember needs",
            "Power times time has to pay for the dust: so much energy for each bit of area.",
            _same(P * t, E * pi * r**2),
        ),
        Step(
            "The energy bound",
            "No kit can be quicker than this, because it pays for the dust and nothing else.",
            _same(t, bound()),
        ),
    )


def _meaning_steps():
    strokes = bound().subs(v, L * N / 60)
    other_strokes = strokes.subs({L: 2 * L, N: N / 2}, simultaneous=True)
    inside = sorted(bound().free_symbols, key=str)
    return (
        *(_sensitivity_step(*row) for row in _SENSITIVITIES),
        Step(
            "What is in it",
            "Only these: no count of turns, no spindle length, no length of bow or stroke.",
            _same(t, _time(*inside)),
        ),
        Step(
            "Stroke length is only half of speed",
            "Strokes twice as long at half the count are the same speed, and the same time.",
            Tuple(
                _same(t, strokes),
                _same(_time(2 * L, N / 2) / _time(L, N), simplify(other_strokes / strokes)),
            ),
        ),
        Step(
            "Bow length is not in it",
            "A longer bow changes nothing unless it lets you move it faster.",
            _same(Derivative(_time(bow_length), bow_length), diff(bound(), bow_length)),
        ),
        Step(
            "A factor of four",
            "Half the radius leaves a quarter of the area, and a quarter of the time.",
            _same(_time(r / 2) / _time(r), simplify(bound().subs(r, r / 2) / bound())),
        ),
    )


_SENSITIVITIES = (
    (r, "Change the radius", "One per cent more radius is two per cent more time."),
    (F, "Change the force", "One per cent more force is one per cent less time."),
    (mu, "Change the friction", "One per cent more friction is one per cent less time."),
    (v, "Change the speed", "One per cent more speed is one per cent less time."),
)


def _sensitivity_step(symbol, title, sentence):
    left = symbol / _time(symbol) * Derivative(_time(symbol), symbol)
    return Step(title, sentence, _same(left, sensitivity(bound(), symbol)))


# ---- a thick body soaks up heat ------------------------------------------------------------------


@cache
def constant_flux() -> Expr:
    """Rise at depth x and time t under a constant flux: pulses of heat, added up over time."""
    pulse = q * sqrt(alpha) / k * exp(-(x**2) / (4 * alpha * tau)) / sqrt(pi * tau)
    total = integrate(_swap(pulse, w**-2), (w, oo, 1 / sqrt(t)))
    return total.rewrite(erfc).expand()


def _swap(integrand: Expr, place: Expr) -> Expr:
    """Write an integrand over tau as one over w, with tau at the given place."""
    return powdenest(integrand.subs(tau, place) * diff(place, w), force=True)


def heat_equation_error(rise: Expr) -> Expr:
    """Put a rise into the heat equation; zero if it solves it."""
    return simplify(diff(rise, t) - alpha * diff(rise, x, 2))


def surface_flux(rise: Expr) -> Expr:
    """Flux that a rise drives into the surface."""
    return simplify((-k * diff(rise, x)).subs(x, 0))


@cache
def surface_rise() -> Expr:
    """Rise of the surface; conductivity and diffusivity come in as the effusivity alone."""
    return simplify(constant_flux().subs(x, 0).subs(alpha, (k / e) ** 2))


@cache
def shared_rise() -> Expr:
    """Rise where two bodies touch, each taking the share of the flux that keeps them equal."""
    e1, e2, q1, q2 = symbols("e_1 e_2 q_1 q_2", positive=True)
    one, two = (surface_rise().subs({q: flux, e: body}) for flux, body in ((q1, e1), (q2, e2)))
    shares = solve([Eq(one, two), Eq(q1 + q2, q)], [q1, q2])
    return simplify(one.subs(q1, shares[q1]))


@cache
def smoke() -> Expr:
    """Time at which the surface has risen by the rise that chars it."""
    return solve(Eq(surface_rise(), DT), t)[0]


@cache
def thick_steps() -> tuple[Step, ...]:
    """Every step from the heat equation to a factor of sixteen, in order.

    Examples
    --------
    >>> thick_steps()[-1].title, thick_steps()[-1].equation.rhs
    ('A factor of sixteen', 1/16)
    """
    return _heat_steps() + _smoke_steps()


def _heat_steps():
    rise, theta = constant_flux(), _theta(x, t)
    return (
        Step(
            "How heat moves",
            "Heat flows from hot to cool. Where more flows in than out, the wood warms up.",
            _same(Derivative(theta, t), alpha * Derivative(theta, (x, 2))),
        ),
        Step(
            "Add up pulses of heat",
            "Rubbing is one small pulse of heat after another; each spreads inwards, and sympy "
            "adds them all up.",
            _same(theta, rise),
        ),
        Step(
            "Check: it obeys the heat equation",
            "Put it into the first step, and nothing is left over.",
            _same(
                Derivative(theta, t) - alpha * Derivative(theta, (x, 2)),
                heat_equation_error(rise),
            ),
        ),
        Step(
            "Check: the right heat goes in",
            "At the surface it takes in exactly the flux made there.",
            _same(Subs(-k * Derivative(theta, x), x, 0), surface_flux(rise)),
        ),
        Step(
            "Check: it starts cold",
            "Go back to the first moment, and the wood is as cold as the air.",
            _same(Limit(theta, t, 0), limit(rise, t, 0, "+")),
        ),
    )


def _smoke_steps():
    spread = smoke().subs(q, P / (pi * r**2))
    return (
        Step(
            "How hot the surface gets",
            "The rise grows with the square root of time: four times as long, twice as hot.",
            _same(_theta(0, t), surface_rise()),
        ),
        Step(
            "Two bodies share the heat",
            "Spindle and board touch, so they are equally hot; their effusivities add.",
            _same(_theta(0, t), shared_rise()),
        ),
        Step(
            "Time to first smoke",
            "Solved for the time at which the surface chars, e being both effusivities together.",
            _same(t1, smoke()),
        ),
        Step(
            "Spread the same watts over the tip",
            "The radius comes in four times over: twice as area, and area squared.",
            _same(t1, spread),
        ),
        Step(
            "A factor of sixteen",
            "Where all the heat soaks in, half the radius takes a sixteenth of the time.",
            _same(_smoke_of(r / 2) / _smoke_of(r), simplify(spread.subs(r, r / 2) / spread)),
        ),
    )


_smoke_of = Function("t_1")


# ---- the curve that joins the two ----------------------------------------------------------------


@cache
def held_flux() -> Expr:
    """Flux that a surface held at the rise DT from time zero on draws.

    The flux inside a body under constant flux obeys the heat equation too, and is the same at
    the surface at all times: scaled, it is the rise in a body whose surface is held.
    """
    held = -k * diff(constant_flux(), x) * DT / q
    return simplify(surface_flux(held).subs(alpha, (k / e) ** 2))


@cache
def conducted_share() -> Expr:
    """Share of the flux that soaks in at time s t1, the surface held as it is from t1 on.

    Until t1 the surface warms step by small step, each step drawing its held flux ever after.
    """
    later = Symbol("p", positive=True)
    warming = diff(DT * sqrt(tau / t1), tau)
    drawn = (held_flux() / DT).subs(t, t1 * (1 + later) - tau) * warming
    total = integrate(simplify(_swap(drawn, t1 * w**2)), (w, 0, 1))
    effusivity = solve(Eq(t1, smoke()), e)[0]
    return simplify(total.subs(e, effusivity) / q).subs(later, s - 1)


@cache
def dust_ratio() -> Expr:
    """Energy gone into dust by the time s t1, over q t1: the surplus added up from 1 to s.

    By parts, which sympy is quick at.
    """
    later = Symbol("p", positive=True)
    surplus = 1 - conducted_share()
    by_parts = simplify((s * diff(surplus, s)).subs(s, 1 + later))
    boundary = s * surplus - surplus.subs(s, 1)
    ratio = (boundary - integrate(by_parts, (later, 0, s - 1))).expand()
    return s + factor_terms(ratio - s)


@cache
def area_exponent() -> Expr:
    """Power of the area with which the ember's time grows, at the same watts, as it hangs on s.

    With t = s t1 and dust_ratio(s) = eps, a change in area acts through t1 and through eps.
    """
    made = E / (q * smoke())
    through_smoke, through_dust = (sensitivity(part.subs(q, P / A), A) for part in (smoke(), made))
    return through_smoke + through_dust * (dust_ratio() / (s * (1 - conducted_share())))


def end(expression: Expr, place) -> Expr:
    """Limit of an expression in s at s = 1 or at infinity, by way of sqrt(s - 1)."""
    plain = expression.subs(asin(1 / sqrt(s)), pi / 2 - atan(w)).subs(s, 1 + w**2)
    return limit(plain, w, sqrt(place - 1), "-" if place == oo else "+")


@cache
def two_stage_steps() -> tuple[Step, ...]:
    """Every step from holding the contact at charring to the curve between four and sixteen.

    Examples
    --------
    >>> [equation.rhs for equation in two_stage_steps()[-1].equation]
    [1, 2]
    """
    return _surplus_steps() + _curve_steps() + _exponent_steps()


def _surplus_steps():
    share = conducted_share()
    return (
        Step(
            "Holding a surface hot",
            "Wood held hot at its surface drinks less and less heat as it warms inside.",
            _same(_flux_of(t), held_flux()),
        ),
        Step(
            "After first smoke",
            "From first smoke on the contact stays at charring, and ever less of the heat soaks "
            "in.",
            _same(_flux_of(t), (q * share).subs(s, t / t1)),
        ),
        Step(
            "What is left makes dust",
            "The rest of the heat grinds and chars dust, until it has paid for a whole ember.",
            _same(E, Integral(q - _flux_of(tau), (tau, t1, t))),
        ),
    )


_flux_of = Function("q_c")


def _curve_steps():
    curve = dust_ratio()
    return (
        Step(
            "One curve for every kit",
            "Measured in times to first smoke, all kits lie on the same curve.",
            Tuple(
                _same(s, t / t1),
                _same(_eps(s), E / (q * t1)),
                _same(_eps(s), curve),
            ),
        ),
        Step(
            "When dust needs nearly all the heat",
            "Then the time is energy over flux, and that is the energy bound again.",
            _same(Limit(t / (E / q), s, oo), end(s / curve, oo)),
        ),
        Step(
            "When the wood soaks up nearly all the heat",
            "With no dust to pay for, the curve starts at s = 1: the ember comes with first smoke.",
            _same(Limit(_eps(s), s, 1), end(curve, 1)),
        ),
    )


def _exponent_steps():
    n, exponent = Symbol("n", positive=True), area_exponent()
    return (
        Step(
            "Between four and sixteen",
            "Time grows with area to the power n, which tells how much the wood soaks up.",
            _same(n, exponent),
        ),
        Step(
            "The two ends",
            "With all heat in dust n is one, a factor of four; with all soaked up it is two, a "
            "factor of sixteen.",
            Tuple(
                _same(Limit(n, s, oo), end(exponent, oo)), _same(Limit(n, s, 1), end(exponent, 1))
            ),
        ),
    )


# ---- the arm that moves the bow ------------------------------------------------------------------


@cache
def arm_speed(law: str) -> Expr:
    """Speed of an arm at the share x of its hardest pull, over its free speed.

    Hill's law is the hyperbola (B + a)(v + b) = const with a = kappa B_max and b = kappa v_max,
    which passes through both ends; the straight line joins them.
    """
    left, right = _hill() if law == "hill" else (B / B_max + v / v_max, 1)
    return simplify(solve(Eq(left, right), v)[0].subs(B, x * B_max) / v_max)


def _hill():
    a, b = kappa * B_max, kappa * v_max
    return (B + a) * (v + b), (B_max + a) * b


@cache
def best_pull_fraction(law: str) -> Expr:
    """Share of the hardest pull where one bit more pull neither gains nor loses watts."""
    return solve(Eq(diff(x * arm_speed(law), x), 0), x)[0]  # x is above 0: one root is left


@cache
def arm_bend(law: str) -> Expr:
    """Second derivative of pull times speed at the best pull; below zero for a peak."""
    bend = factor(diff(x * arm_speed(law), x, 2))
    return simplify(bend.subs(x, best_pull_fraction(law)))


@cache
def best_force() -> Expr:
    """Force that asks for the best pull, with b the pull for each newton of force."""
    return solve(Eq(_per_force * F, _best * B_max), F)[0]


_per_force, _best = symbols("b x^*", positive=True)


@cache
def arm_steps() -> tuple[Step, ...]:
    """Every step from a tiring arm to the best force, for both laws, in order.

    Examples
    --------
    >>> arm_steps()[-1].equation.rhs
    B_max*x^*/b
    """
    return _muscle_steps() + _line_steps() + _best_steps()


_watts, _best_force = Function("eta"), Symbol("F^*", positive=True)


def _muscle_steps():
    speed = arm_speed("hill")
    return (
        Step(
            "An arm that pulls hard moves slowly",
            "Muscles follow Hill's law: held still they pull hardest, and with nothing to pull "
            "they move fastest.",
            Tuple(_same(*_hill()), _same(x, B / B_max), _same(v / v_max, speed)),
        ),
        Step(
            "Watts are pull times speed",
            "No pull makes no heat, and no speed makes none either.",
            Tuple(_same(_watts(x), P / (B_max * v_max)), _same(_watts(x), x * speed)),
        ),
        Step(
            "The best pull",
            "At the top of the hill a little more pull neither gains nor loses.",
            _top("hill"),
        ),
        Step(
            "It is a top, not a hollow",
            "The curve bends down there, so every other pull gives fewer watts.",
            _bend("hill"),
        ),
    )


def _line_steps():
    return (
        Step(
            "Or simply a straight line",
            "Whole people on cranks and pedals come close to a straight line.",
            Tuple(_same(v / v_max, arm_speed("linear")), _same(_watts(x), x * arm_speed("linear"))),
        ),
        Step(
            "The straight line's best pull",
            "Along a straight line the best pull is half the hardest, at half the free speed.",
            _top("linear"),
        ),
        Step("That is a top too", "It bends down everywhere.", _bend("linear")),
        Step(
            "The straight line is Hill's law stretched",
            "Let kappa grow without end, and Hill's curve becomes the straight line.",
            Tuple(*(_stretched(law("hill")) for law in (arm_speed, best_pull_fraction))),
        ),
    )


def _top(law):
    slope = factor(diff(x * arm_speed(law), x))
    return Tuple(_same(Derivative(_watts(x), x), slope), _same(_best, best_pull_fraction(law)))


def _bend(law):
    return _same(Subs(Derivative(_watts(x), (x, 2)), x, _best), arm_bend(law))


def _stretched(expression):
    return _same(Limit(expression, kappa, oo), limit(expression, kappa, oo))


def _best_steps():
    return (
        Step(
            "From pull to force",
            "Pull grows in step with the force; b is the pull for each newton.",
            _same(B, _per_force * F),
        ),
        Step(
            "The best force",
            "Below it you waste speed; above it the bow slows by more than you gain.",
            _same(_best_force, best_force()),
        ),
    )


@cache
def expressions() -> Mapping[str, Expr]:
    """Return every result that a NumPy model repeats, by name; letters as in ``SYMBOLS``."""
    return MappingProxyType(
        {
            "torque_uniform_pressure": torque("uniform_pressure"),
            "torque_uniform_wear": torque("uniform_wear"),
            "power": power(cord_at_tip=False),
            "bound": bound(),
            "surface_rise": surface_rise(),
            "smoke": smoke(),
            "conducted_share": conducted_share(),
            "dust_ratio": dust_ratio(),
            "area_exponent": area_exponent(),
            "arm_speed_hill": arm_speed("hill"),
            "arm_speed_linear": arm_speed("linear"),
            "best_pull_fraction": best_pull_fraction("hill"),
        }
    )
