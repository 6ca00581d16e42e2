"""The one curve that joins the bound and the thick body, one step at a time."""

from functools import cache

from sympy import (
    Eq,
    Expr,
    Function,
    Integral,
    Limit,
    Symbol,
    Tuple,
    asin,
    atan,
    collect,
    diff,
    expand,
    factor_terms,
    integrate,
    limit,
    oo,
    pi,
    simplify,
    solve,
    sqrt,
)

from .bound import sensitivity
from .symbols import DT, A, E, P, Step, alpha, e, k, of_eps, q, s, same, swap, t, t1, tau, w, x
from .thick import constant_flux, derived_smoke, surface_flux


@cache
def held_flux() -> Expr:
    """Flux that a surface held at the rise DT from time zero on draws.

    The flux inside a body under constant flux obeys the heat equation too, and is the same at
    the surface at all times: scaled, it is the rise in a body whose surface is held.
    """
    held = -k * diff(constant_flux(), x) * DT / q
    return simplify(surface_flux(held).subs(alpha, (k / e) ** 2))


@cache
def derived_conducted_share() -> Expr:
    """Share of the flux that soaks in at time s t1, the surface held as it is from t1 on.

    It is then as hot as the dust that leaves it, which is later than first smoke. Until t1 the
    surface warms step by small step, each step drawing its held flux ever after.
    """
    later = Symbol("p", positive=True)
    warming = diff(DT * sqrt(tau / t1), tau)
    drawn = (held_flux() / DT).subs(t, t1 * (1 + later) - tau) * warming
    total = integrate(simplify(swap(drawn, t1 * w**2)), (w, 0, 1))
    effusivity = solve(Eq(t1, derived_smoke()), e)[0]
    return simplify(total.subs(e, effusivity) / q).subs(later, s - 1)


@cache
def derived_dust_ratio() -> Expr:
    """Energy gone into dust by the time s t1, over q t1: the surplus added up from 1 to s.

    By parts, which sympy is quick at.
    """
    later = Symbol("p", positive=True)
    surplus = 1 - derived_conducted_share()
    by_parts = simplify((s * diff(surplus, s)).subs(s, 1 + later))
    boundary = s * surplus - surplus.subs(s, 1)
    ratio = (boundary - integrate(by_parts, (later, 0, s - 1))).expand()
    return s + factor_terms(ratio - s)


@cache
def derived_area_exponent() -> Expr:
    """Power of the area with which the ember's time grows, at the same watts, as it hangs on s.

    With t = s t1 and eps the dust ratio at s, a change in area acts through t1 and through eps.
    """
    made = E / (q * derived_smoke())
    through_smoke, through_dust = (
        sensitivity(part.subs(q, P / A), symbol=A) for part in (derived_smoke(), made)
    )
    growth = s * (1 - derived_conducted_share())
    return through_smoke + through_dust * (derived_dust_ratio() / growth)


@cache
def derived_area_exponent_with_depth() -> Expr:
    """Power of the area if the depth goes with the diameter to the power -p, by n at one depth.

    The dust's energy goes with the depth, so it falls with the area to the power p/2. How the
    curve answers to its dust ratio is the same as at one depth, and n tells it.
    """
    shrinking = E * A ** (-p / 2)
    smoke = derived_smoke().subs(q, P / A)
    through_smoke = sensitivity(smoke, symbol=A)
    alone, along = (sensitivity(energy / (P / A * smoke), symbol=A) for energy in (E, shrinking))
    answer = solve(Eq(n, through_smoke + alone * w), w)[0]
    return n + collect(expand(through_smoke + along * answer - n), p)


def end(expression: Expr, *, place: Expr | int) -> Expr:
    """Limit of an expression in s at s = 1 or at infinity, by way of sqrt(s - 1)."""
    plain = expression.subs(asin(1 / sqrt(s)), pi / 2 - atan(w)).subs(s, 1 + w**2)
    return limit(plain, w, sqrt(place - 1), "-" if place == oo else "+")


@cache
def two_stage_steps() -> tuple[Step, ...]:
    """Every step from holding the contact hot to the curve between four and sixteen.

    Examples
    --------
    >>> [equation.rhs for equation in two_stage_steps()[-1].equation]
    [n, 2*n - 2]
    """
    return _surplus_steps() + _curve_steps() + _exponent_steps() + _depth_steps()


def _surplus_steps():
    share = derived_conducted_share()
    return (
        Step(
            "Holding a surface hot",
            "Wood held hot at its surface drinks less and less heat as it warms inside.",
            same(_flux_of(t), held_flux()),
        ),
        Step(
            "Once it is as hot as the dust",
            "At t₁, after first smoke, the contact is as hot as glowing dust needs; it stays so, "
            "and ever less heat soaks in.",
            same(_flux_of(t), (q * share).subs(s, t / t1)),
        ),
        Step(
            "What is left makes dust",
            "The rest of the heat grinds and chars dust, until it has paid for a whole ember.",
            same(E, Integral(q - _flux_of(tau), (tau, t1, t))),
        ),
    )


_flux_of = Function("q_c")
n, p = Symbol("n", positive=True), Symbol("p", nonnegative=True)
of_p = Function("n")


def _curve_steps():
    curve = derived_dust_ratio()
    return (
        Step(
            "One curve for every kit",
            "Measured in the time to hot dust, t₁, all kits lie on the same curve.",
            Tuple(
                same(s, t / t1),
                same(of_eps(s), E / (q * t1)),
                same(of_eps(s), curve),
            ),
        ),
        Step(
            "When dust needs nearly all the heat",
            "Then the time is energy over flux, and that is the floor again.",
            same(Limit(t / (E / q), s, oo), end(s / curve, place=oo)),
        ),
        Step(
            "When the wood soaks up nearly all the heat",
            "With no dust to pay for, the curve starts at s = 1: an ember as soon as the contact "
            "is hot enough.",
            same(Limit(of_eps(s), s, 1), end(curve, place=1)),
        ),
    )


def _exponent_steps():
    exponent = derived_area_exponent()
    return (
        Step(
            "Between four and sixteen",
            "Time grows with area to the power n, which tells how much the wood soaks up.",
            same(n, exponent),
        ),
        Step(
            "The two ends",
            "With all heat in dust n is one, a factor of four; with all soaked up it is two, a "
            "factor of sixteen.",
            Tuple(
                same(Limit(n, s, oo), end(exponent, place=oo)),
                same(Limit(n, s, 1), end(exponent, place=1)),
            ),
        ),
    )


def _depth_steps():
    exponent, depth, diameter = derived_area_exponent_with_depth(), Symbol("d_b"), Symbol("D")
    return (
        Step(
            "How much deeper a thinner spindle wears",
            "An ember may need the same depth, the same grams, or something between: p says which.",
            Tuple(same(depth, Symbol("c") * diameter ** (-p)), same(of_p(p), exponent)),
        ),
        Step(
            "Millimetres or grams",
            "With the same depth nothing changes; with the same grams the factor lies between "
            "one and sixteen.",
            Tuple(
                same(of_p(0), exponent.subs(p, 0)),
                same(of_p(2), expand(exponent.subs(p, 2))),
            ),
        ),
    )
