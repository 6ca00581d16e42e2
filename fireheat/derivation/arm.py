"""The force that suits an arm best, one step at a time."""

from functools import cache

from sympy import (
    Derivative,
    Eq,
    Expr,
    Function,
    Limit,
    Subs,
    Symbol,
    Tuple,
    diff,
    factor,
    limit,
    oo,
    simplify,
    solve,
    symbols,
)

from .symbols import B, B_max, F, P, Step, kappa, same, v, v_max, x


@cache
def derived_arm_speed(law: str) -> Expr:
    """Speed of an arm at the share x of its hardest pull, over its free speed.

    Hill's law is the hyperbola (B + a)(v + b) = const with a = kappa B_max and b = kappa v_max,
    which passes through both ends; the straight line joins them.
    """
    left, right = _hyperbola() if law == "hill" else (B / B_max + v / v_max, 1)
    return simplify(solve(Eq(left, right), v)[0].subs(B, x * B_max) / v_max)


def _hyperbola():
    a, b = kappa * B_max, kappa * v_max
    return (B + a) * (v + b), (B_max + a) * b


@cache
def derived_best_pull_fraction(law: str) -> Expr:
    """Share of the hardest pull where one bit more pull neither gains nor loses watts."""
    slope = diff(x * derived_arm_speed(law), x)
    return solve(Eq(slope, 0), x)[0]  # x is above 0: one root is left


@cache
def arm_bend(law: str) -> Expr:
    """Second derivative of pull times speed at the best pull; below zero for a peak."""
    bend = factor(diff(x * derived_arm_speed(law), x, 2))
    return simplify(bend.subs(x, derived_best_pull_fraction(law)))


@cache
def derived_best_force() -> Expr:
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
    speed = derived_arm_speed("hill")
    return (
        Step(
            "An arm that pulls hard moves slowly",
            "Muscles follow Hill's law: held still they pull hardest, and with nothing to pull "
            "they move fastest.",
            Tuple(same(*_hyperbola()), same(x, B / B_max), same(v / v_max, speed)),
        ),
        Step(
            "Watts are pull times speed",
            "No pull makes no heat, and no speed makes none either.",
            Tuple(same(_watts(x), P / (B_max * v_max)), same(_watts(x), x * speed)),
        ),
        Step(
            "The best pull",
            "At the top of the hill a little more pull neither gains nor loses.",
            _best_pull_of("hill"),
        ),
        Step(
            "It is a top, not a hollow",
            "The curve bends down there, so every other pull gives fewer watts.",
            _bend_of("hill"),
        ),
    )


def _line_steps():
    return (
        Step(
            "Or simply a straight line",
            "Whole people on cranks and pedals come close to a straight line.",
            Tuple(
                same(v / v_max, derived_arm_speed("linear")),
                same(_watts(x), x * derived_arm_speed("linear")),
            ),
        ),
        Step(
            "The straight line's best pull",
            "Along a straight line the best pull is half the hardest, at half the free speed.",
            _best_pull_of("linear"),
        ),
        Step("That is a top too", "It bends down everywhere.", _bend_of("linear")),
        Step(
            "The straight line is Hill's law stretched",
            "Let kappa grow without end, and Hill's curve becomes the straight line.",
            Tuple(
                *(
                    _stretched(law("hill"))
                    for law in (derived_arm_speed, derived_best_pull_fraction)
                )
            ),
        ),
    )


def _best_pull_of(law):
    slope = factor(diff(x * derived_arm_speed(law), x))
    return Tuple(
        same(Derivative(_watts(x), x), slope), same(_best, derived_best_pull_fraction(law))
    )


def _bend_of(law):
    return same(Subs(Derivative(_watts(x), (x, 2)), x, _best), arm_bend(law))


def _stretched(expression):
    return same(Limit(expression, kappa, oo), limit(expression, kappa, oo))


def _best_steps():
    return (
        Step(
            "From pull to force",
            "Pull grows in step with the force; b is the pull for each newton.",
            same(B, _per_force * F),
        ),
        Step(
            "The best force",
            "Below it you waste speed; above it the bow slows by more than you gain.",
            same(_best_force, derived_best_force()),
        ),
    )
