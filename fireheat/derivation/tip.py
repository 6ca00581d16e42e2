"""What a dome and its own wear do to the tip, one step at a time."""

from functools import cache

from sympy import (
    Eq,
    Expr,
    Limit,
    Symbol,
    Tuple,
    asin,
    cancel,
    integrate,
    limit,
    pi,
    simplify,
    solve,
    sqrt,
)

from .symbols import DT, C, F, Step, T, mu, of_pressure, r, s, same, v

h = Symbol("h", positive=True)
a = Symbol("a", positive=True)  # sine of the slope at the rim, radius over the ball's
p_1, capacity, wear = (Symbol(name, positive=True) for name in ("p_1", "C_v", "K"))


@cache
def derived_dome_pressure() -> Expr:
    """Pressure of a dome that sinks evenly: wear across its slope is p s, and cos times as fast."""
    upright = sqrt(1 - (a * s / r) ** 2)
    return p_1 * upright / s


@cache
def derived_dome_coefficient() -> Expr:
    """Torque of the dome over mu F r; a ring's area is 2 pi s ds over the slope's cosine."""
    upright = sqrt(1 - (a * s / r) ** 2)
    pressed = derived_dome_pressure() * upright * 2 * pi * s / upright
    rubbed = mu * derived_dome_pressure() * s * 2 * pi * s / upright
    force = 2 * pi * p_1 * _quarter(pressed / (2 * pi * p_1))
    torque = integrate(simplify(rubbed), (s, 0, r))
    return simplify((torque / (mu * force * r)).subs(a, 2 * h / (1 + h**2)))


def _quarter(upright):
    """Integral of the slope's cosine from 0 to r; sympy's own splits the case of a steeper rim."""
    whole = (s * upright + r / a * asin(a * s / r)) / 2
    return whole.subs(s, r) - whole.subs(s, 0)


@cache
def derived_wear_limit() -> Expr:
    """Wear at which the heat rubbed on a patch is just what its own dust takes away at the rise."""
    made = mu * of_pressure(s) * v
    carried = capacity * DT * wear * of_pressure(s) * v
    return cancel(solve(Eq(made, carried), wear)[0])


@cache
def tip_steps() -> tuple[Step, ...]:
    """Every step from a dome that sinks evenly to the pair that never chars.

    Examples
    --------
    >>> tip_steps()[-1].title
    'A pair that never chars'
    """
    found = derived_dome_coefficient()
    return (
        Step(
            "A dome that sinks evenly",
            "All of a worn dome sinks at one speed, so it presses less where it is steep.",
            same(of_pressure(s), derived_dome_pressure()),
        ),
        Step(
            "The dome wedges",
            "Its slopes press harder than the force from above, so it drags a little more.",
            Tuple(same(C, T / (mu * F * r)), same(C, found)),
        ),
        Step(
            "From flat to half a ball",
            "A flat tip has one half again, and half a ball two over pi.",
            Tuple(
                same(Limit(C, h, 0), limit(found, h, 0)),
                same(Limit(C, h, 1, "-"), limit(found, h, 1, "-")),
            ),
        ),
        Step(
            "Dust takes its heat along",
            "On each patch rubbing makes heat, and wear carries some of it off.",
            same(
                mu * of_pressure(s) * v,
                capacity * DT * wear * of_pressure(s) * v,
            ),
        ),
        Step(
            "A pair that never chars",
            "Force, speed and radius cancel: a pair that wears faster than this stays too cool.",
            same(wear, derived_wear_limit()),
        ),
    )
