"""From the heat equation to the time a thick body takes to get hot, one step at a time."""

from functools import cache

from sympy import (
    Derivative,
    Eq,
    Expr,
    Function,
    Limit,
    Subs,
    diff,
    erfc,
    exp,
    integrate,
    limit,
    oo,
    pi,
    simplify,
    solve,
    sqrt,
    symbols,
)

from .symbols import DT, P, Step, alpha, e, k, of_theta, q, r, same, swap, t, t1, tau, w, x


@cache
def constant_flux() -> Expr:
    """Rise at depth x and time t under a constant flux: pulses of heat, added up over time."""
    pulse = q * sqrt(alpha) / k * exp(-(x**2) / (4 * alpha * tau)) / sqrt(pi * tau)
    total = integrate(swap(pulse, w**-2), (w, oo, 1 / sqrt(t)))
    return total.rewrite(erfc).expand()


def heat_equation_error(rise: Expr) -> Expr:
    """Put a rise into the heat equation; zero if it solves it."""
    return simplify(diff(rise, t) - alpha * diff(rise, x, 2))


def surface_flux(rise: Expr) -> Expr:
    """Flux that a rise drives into the surface."""
    return simplify((-k * diff(rise, x)).subs(x, 0))


@cache
def derived_surface_rise() -> Expr:
    """Rise of the surface; conductivity and diffusivity come in as the effusivity alone."""
    return simplify(constant_flux().subs(x, 0).subs(alpha, (k / e) ** 2))


@cache
def shared_rise() -> Expr:
    """Rise where two bodies touch, each taking the share of the flux that keeps them equal."""
    e1, e2, q1, q2 = symbols("e_1 e_2 q_1 q_2", positive=True)
    one, two = (
        derived_surface_rise().subs({q: flux, e: body}) for flux, body in ((q1, e1), (q2, e2))
    )
    shares = solve([Eq(one, two), Eq(q1 + q2, q)], [q1, q2])
    return simplify(one.subs(q1, shares[q1]))


@cache
def derived_smoke() -> Expr:
    """Time at which the surface has risen by so much: to first smoke, or to hot dust."""
    return solve(Eq(derived_surface_rise(), DT), t)[0]


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
    rise, theta = constant_flux(), of_theta(x, t)
    return (
        Step(
            "How heat moves",
            "Heat flows from hot to cool. Where more flows in than out, the wood warms up.",
            same(Derivative(theta, t), alpha * Derivative(theta, (x, 2))),
        ),
        Step(
            "Add up pulses of heat",
            "Rubbing is one small pulse of heat after another; each spreads inwards, and sympy "
            "adds them all up.",
            same(theta, rise),
        ),
        Step(
            "Check: it obeys the heat equation",
            "Put it into the first step, and nothing is left over.",
            same(
                Derivative(theta, t) - alpha * Derivative(theta, (x, 2)),
                heat_equation_error(rise),
            ),
        ),
        Step(
            "Check: the right heat goes in",
            "At the surface it takes in exactly the flux made there.",
            same(Subs(-k * Derivative(theta, x), x, 0), surface_flux(rise)),
        ),
        Step(
            "Check: it starts cold",
            "Go back to the first moment, and the wood is as cold as the air.",
            same(Limit(theta, t, 0), limit(rise, t, 0, "+")),
        ),
    )


def _smoke_steps():
    spread = derived_smoke().subs(q, P / (pi * r**2))
    return (
        Step(
            "How hot the surface gets",
            "The rise grows with the square root of time: four times as long, twice as hot.",
            same(of_theta(0, t), derived_surface_rise()),
        ),
        Step(
            "Two bodies share the heat",
            "Spindle and board touch, so they are equally hot; their effusivities add.",
            same(of_theta(0, t), shared_rise()),
        ),
        Step(
            "Time to get that hot",
            "Solved for the time at which the surface has got hotter by ΔT, e being both "
            "effusivities together.",
            same(t1, derived_smoke()),
        ),
        Step(
            "Smoke first, then hot dust",
            "Smoke at {temperature:548.15} needs less rise than hot dust at {temperature:623.15}, "
            "and the square counts: some six tenths of the time.",
            same(t_smoke / t1, simplify(derived_smoke().subs(DT, DT_smoke) / derived_smoke())),
        ),
        Step(
            "Spread the same watts over the tip",
            "The radius comes in four times over: twice as area, and area squared.",
            same(t1, spread),
        ),
        Step(
            "A factor of sixteen",
            "Where all the heat soaks in, half the radius takes a sixteenth of the time.",
            same(_smoke_of(r / 2) / _smoke_of(r), simplify(spread.subs(r, r / 2) / spread)),
        ),
    )


_smoke_of = Function("t_1")
t_smoke, DT_smoke = symbols(r"t_s \Delta{T}_s", positive=True)  # of first smoke
