"""From a turning disc to the floor, one step at a time."""

from functools import cache

from sympy import (
    Derivative,
    Eq,
    Expr,
    Integral,
    Symbol,
    Tuple,
    diff,
    integrate,
    pi,
    powsimp,
    simplify,
    solve,
)

from .symbols import (
    PRESSURE_SHAPES,
    C,
    E,
    F,
    L,
    N,
    P,
    R,
    Step,
    T,
    bow_length,
    mu,
    of_pressure,
    of_time,
    omega,
    q,
    r,
    s,
    same,
    t,
    v,
)


@cache
def derived_pressure(contact: str) -> Expr:
    """Pressure at distance s from the axis, scaled so that all rings together carry F."""
    level = Symbol("p_0", positive=True)
    total = integrate(2 * pi * s * level * PRESSURE_SHAPES[contact], (s, 0, r))
    return solve(Eq(total, F), level)[0] * PRESSURE_SHAPES[contact]


@cache
def derived_torque(contact: str) -> Expr:
    """Friction torque: mu p on each ring, times the ring's area, times its distance s."""
    return integrate(mu * derived_pressure(contact) * 2 * pi * s * s, (s, 0, r))


@cache
def derived_power(cord_at_tip: bool = True) -> Expr:
    """Torque times the angular speed v/R; the radius cancels where R = r."""
    watts = C * mu * F * r * solve(Eq(v, omega * R), omega)[0]
    return watts.subs(R, r) if cord_at_tip else watts


@cache
def derived_bound() -> Expr:
    """Time in which the power delivers the energy of one ember's dust."""
    return solve(Eq(derived_power() * t, E * pi * r**2), t)[0]


def sensitivity(expression: Expr, *, symbol: Symbol) -> Expr:
    """Per cent change of the expression for one per cent more of the symbol."""
    return simplify(symbol * diff(expression, symbol) / expression)


@cache
def bound_steps() -> tuple[Step, ...]:
    """Every step from a turning disc to the floor, in order.

    Examples
    --------
    >>> bound_steps()[-1].title, bound_steps()[-1].equation.rhs
    ('A factor of four', 1/4)
    """
    return _ring_steps() + _power_steps() + _balance_steps() + _meaning_steps()


def _ring_steps():
    fresh, worn = "uniform_pressure", "uniform_wear"
    ratios = [derived_torque(contact) / (mu * F * r) for contact in (fresh, worn)]
    return (
        Step(
            "Cut the tip into rings",
            "Each ring rubs with friction times pressure times its area, and the further out it "
            "is, the more it helps to hold the spindle back.",
            Tuple(
                same(F, Integral(2 * pi * s * of_pressure(s), (s, 0, r))),
                same(T, Integral(2 * pi * mu * s**2 * of_pressure(s), (s, 0, r))),
            ),
        ),
        Step(
            "A fresh flat tip",
            "A fresh tip presses evenly; adding up its rings gives two thirds.",
            Tuple(same(of_pressure(s), derived_pressure(fresh)), same(T, derived_torque(fresh))),
        ),
        Step(
            "A worn-in tip",
            "A used tip has worn away most at its fast rim, so it presses harder near the middle; "
            "its rings give one half.",
            Tuple(same(of_pressure(s), derived_pressure(worn)), same(T, derived_torque(worn))),
        ),
        Step(
            "One formula for both",
            "Only the number in front differs; call it C.",
            Tuple(same(T, C * mu * F * r), *(same(C, ratio) for ratio in ratios)),
        ),
    )


def _power_steps():
    worn_heat = mu * derived_pressure("uniform_wear") * s * (v / R).subs(R, r)
    return (
        Step(
            "The cord turns the spindle",
            "The cord runs as fast as the bow moves, so a thin spindle spins faster.",
            same(omega, solve(Eq(v, omega * R), omega)[0]),
        ),
        Step(
            "Heat made each second",
            "Torque times turning speed is power: every bit of it becomes heat.",
            same(P, derived_power(cord_at_tip=False)),
        ),
        Step(
            "The radius cancels",
            "Where the cord wraps at the tip's own radius, a thick spindle rubs harder but turns "
            "slower, and makes exactly the same heat.",
            same(P, derived_power()),
        ),
        Step(
            "Spread over the tip",
            "The same heat on a bigger tip is thinner on each spot.",
            same(q, derived_power() / (pi * r**2)),
        ),
        Step(
            "A worn-in tip heats evenly",
            "Near the middle it presses harder but rubs slower; ring by ring the two balance.",
            same(q, powsimp(worn_heat)),
        ),
    )


def _balance_steps():
    return (
        Step(
            "What an ember needs",
            "Power times time has to pay for the dust: so much energy for each bit of area.",
            same(P * t, E * pi * r**2),
        ),
        Step(
            "The floor",
            "No kit can be quicker than this, because it pays for the dust and nothing else.",
            same(t, derived_bound()),
        ),
    )


def _meaning_steps():
    bound = derived_bound()
    strokes = bound.subs(v, L * N / 60)
    other_strokes = strokes.subs({L: 2 * L, N: N / 2}, simultaneous=True)
    inside = sorted(bound.free_symbols, key=str)
    return (
        *(_sensitivity_step(*row) for row in _SENSITIVITIES),
        Step(
            "Only these move the floor",
            "Not among them: how often it turns, how long spindle, bow and strokes are.",
            same(t, of_time(*inside)),
        ),
        Step(
            "Stroke length is only half of speed",
            "Strokes twice as long at half the count are the same speed, and the same time.",
            Tuple(
                same(t, strokes),
                same(of_time(2 * L, N / 2) / of_time(L, N), simplify(other_strokes / strokes)),
            ),
        ),
        Step(
            "Bow length is not in it",
            "A longer bow changes nothing unless it lets you move it faster.",
            same(Derivative(of_time(bow_length), bow_length), diff(bound, bow_length)),
        ),
        Step(
            "A factor of four",
            "Half the radius leaves a quarter of the area, and a quarter of the time.",
            same(of_time(r / 2) / of_time(r), simplify(bound.subs(r, r / 2) / bound)),
        ),
    )


_SENSITIVITIES = (
    (r, "Change the radius", "One per cent more radius is two per cent more time."),
    (F, "Change the force", "One per cent more force is one per cent less time."),
    (mu, "Change the friction", "One per cent more friction is one per cent less time."),
    (v, "Change the speed", "One per cent more speed is one per cent less time."),
)


def _sensitivity_step(symbol, title, sentence):
    left = symbol / of_time(symbol) * Derivative(of_time(symbol), symbol)
    return Step(title, sentence, same(left, sensitivity(derived_bound(), symbol=symbol)))
