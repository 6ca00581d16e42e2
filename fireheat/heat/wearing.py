r"""The march with wear: when the ember is there if the rubbing faces eat into wood already warm.

Until the contact has the wanted rise, all heat soaks in. From then on the contact stays there, and
what is not conducted away grinds wood to dust, spindle and board in fixed parts. Each face is a
layer of heat sources, f(t) watts strong, that travels with the face through wood thought to go on
behind it. With X(t) the depth worn off a body, C the heat capacity of its volume, alpha its
diffusivity and A the contact's area,

.. math::
    K(t, s) &= \frac{z(t - s)}{2} \exp \left( -\frac{[X(t) - X(s)]^2}{4 \alpha (t - s)} \right) \\
    \Delta T &= \int_0^t f \, K \, ds \\
    p &= \frac{f}{2} + C A \int_0^t \frac{X(t) - X(s)}{2 (t - s)} \, f \, K \, ds

where p is what the face conducts into the wood before it, and z the rise of a body's face after a
joule let in at once,

.. math::
    z_\mathrm{spindle} = \frac{\exp(-2 h t/(r C))}{C A \sqrt{\pi \alpha t}}, \qquad
    z_\mathrm{board} = \frac{1 - e^{-y} [I_0(y) + I_1(y)]}{C A \sqrt{\pi \alpha t}}, \quad
    y = \frac{r^2}{2 \alpha t}

The surplus pays for the dust, less the heat that the ground wood has soaked up already. With w and
d the speed of wear and the burn-in depth of both bodies together,

.. math:: P = p_\mathrm{spindle} + p_\mathrm{board} + w \left( \frac{E}{d} - C A \, \Delta T \right)

*The wear is the clock.* Sought are the times at which given shares of the dust have been made; the
last is the ember. So no answer hangs on where a step of time happens to end.

Where it is exact, and where not:

- Plane faces, and a rod at one temperature across: exact. It is Landau's ablation.
- The disc on the board: as in :mod:`fireheat.heat.contact`, and then there is the hole. A disc on
  the bottom of a hole draws more heat than one on top, for the wood beside the hole warms as well.
  In the steady state finite volumes say by how much; z_board is taken for that much more, at all
  ages (:func:`fireheat.heat.hole.hole_draw`). Against finite volumes in which the wood is really
  taken away (``tests/oracles/removing.py``), ordinary embers are 0.5 to 2 % early, as with faces
  that stay. Kits that hardly manage are 2 to 4 %, and over a hole deeper than a third of its width
  up to 11 %.
- The hole's walls neither lose heat to the air nor take any from the spindle's side, which loses
  as much inside the hole as above it.
- The far end of the rod stays as far from the tip as at the start.
- Wood that holds more heat at the rise than the dust is said to take would leave with less than it
  has. That cannot be: the dust takes what its wood holds and a fiftieth more, at the least.

Letters in short bodies: x is the root of the time since the contact reached the rise.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import NamedTuple

import numpy as np
from scipy.interpolate import CubicSpline
from scipy.special import i0e, i1e

from ..constants import constant
from ..quantities import InputError, Numbers, check, check_single, check_whole, plain
from .contact import Contact
from .hole import hole_draw
from .warming import divided, in_time, least_power, side_by_side, some_of, when_reached

_LATEST = constant("latest_answer")
_AMPLE = 1.01  # of the least power: with less the ember would take hours, for some kits days
_SURPLUS = 0.02  # dust takes at least so much more than its wood held
_STEPS, _GRADING = 8, 2.25  # then x grows about evenly from step to step
_STEP = np.arange(_STEPS + 1) / _STEPS
_MADE = _STEP**_GRADING  # share of the dust
_PACE = _GRADING * _STEP ** (_GRADING - 1) / _STEPS  # how it grows from step to step
_EARLY, _LATE = 10, 12  # places in the time before the rise, and since
_CLOSE, _TRIES = 5e-3, 15  # a last move by this share of x leaves less than 1e-5 to do
MARCH: Mapping[str, float] = MappingProxyType(
    {"ample": _AMPLE, "surplus": _SURPLUS, "steps": _STEPS, "grading": _GRADING}
    | {"early": _EARLY, "late": _LATE, "close": _CLOSE, "tries": _TRIES}
)
"""What the march is set to, for a copy of it in another language."""


class Wear(NamedTuple):
    """When a contact that wears has the wanted rise, and when its ember is there.

    Attributes
    ----------
    reached, ember : float or ndarray
        Times from the start; infinite where never. [s]
    """

    reached: float | np.ndarray
    ember: float | np.ndarray


def wearing(
    contact: Contact,
    *,
    power: Numbers,
    rise: Numbers,
    energy: Numbers,
    depth: Numbers,
    spindle_share: Numbers = 0.5,
) -> Wear:
    r"""Time to the wanted rise and to the ember, for a contact whose faces wear.

    Parameters
    ----------
    contact : Contact
        Spindle and board; numbers may be arrays.
    power : float or ndarray
        Heat made in the contact, steady from time zero on. [W]
    rise : float or ndarray
        Temperature at which dust leaves, less the temperature at the start. [K]
    energy : float or ndarray
        Energy that one ember's dust needs, from cold wood on. [J]
    depth : float or ndarray
        How much shorter spindle and board get, together, for one ember. [m]
    spindle_share : float or ndarray, optional
        How much of that is the spindle's. [1]

    Returns
    -------
    Wear
        Both times, broadcast over the arguments and the contact's numbers.

    Raises
    ------
    InputError
        If a value is out of its range, or the contact is something else.

    Notes
    -----
    Error of the march against itself in fine steps: 0.03 % as a rule, 0.3 % at most; with less than
    a twentieth more than the least power 1 %, and more where the ember takes hours. With next to
    no depth it is :func:`fireheat.heat.march.march` to 0.05 %. What the equations leave out is
    listed at the head of this module.

    An ember is never sooner than ``energy/power``; with hundreds of times the least power, where
    dust takes next to all the heat, the march alone would fall under it.
    "Never" is an ember later than six days, or a power within a hundredth of the least one: it
    would then take most of an hour, or days.

    References
    ----------
    .. [1] Landau, Heat conduction in a melting solid, Quart. Appl. Math. 8 (1950) 81: a face that
       is taken away as soon as it is hot. (from memory)
    .. [2] Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed., 1959, section 10.7 for sources
       that move, 10.4 for a source spread over a disc. (from memory)
    .. [3] Brunner, Collocation Methods for Volterra Integral and Related Functional Equations,
       2004. (from memory)

    Examples
    --------
    Faces that stay would take 28.5 s:

    >>> from fireheat.heat.material import Material
    >>> spindle, board = Material(0.12, 0.22, 6e5), Material(0.12, 0.12, 6e5)
    >>> kit = Contact(radius=0.0065, length=0.15, film=10.0, spindle=spindle, board=board)
    >>> worn = wearing(kit, power=10.0, rise=280.0, energy=130.0, depth=0.004)
    >>> round(worn.reached, 1), round(worn.ember, 1)
    (4.7, 22.0)
    """
    return wearing_with_path(
        contact, power=power, rise=rise, energy=energy, depth=depth, spindle_share=spindle_share
    )[0]


class Path(NamedTuple):
    """The way of one contact from the wanted rise to the ember, at nine moments.

    Attributes
    ----------
    reached : float
        When it has the rise. [s]
    since : ndarray, shape (9,)
        Root of the time since then; evenly about, from zero to the ember. [s^0.5]
    made : ndarray, shape (9,)
        Share of the dust made by then. [1]
    conducted : ndarray, shape (9, 2)
        Conducted into spindle and board at that moment. [W]
    shares : ndarray, shape (terms, 2)
        How heat divides between them before the rise: terms of polynomials in the root of the
        share of that time. [1]
    leaking : float
        Pace at which the spindle's heat leaks. [1/s]
    """

    reached: float
    since: np.ndarray
    made: np.ndarray
    conducted: np.ndarray
    shares: np.ndarray
    leaking: float

    def made_by(self, time: Numbers) -> Numbers:
        """Tell which share of the dust is made by a time: none before the rise, in the end all.

        Parameters
        ----------
        time : float or ndarray
            When to look. [s]

        Returns
        -------
        float or ndarray
            A cubic spline through the nine moments. [1]
        """
        since = np.sqrt(np.maximum(np.subtract(time, self.reached), 0.0))
        made = CubicSpline(self.since, self.made)(np.minimum(since, self.since[-1]))
        return plain(np.clip(made, 0.0, 1.0))


def wearing_with_path(
    contact: Contact,
    *,
    power: Numbers,
    rise: Numbers,
    energy: Numbers,
    depth: Numbers,
    spindle_share: Numbers = 0.5,
    which: int | None = None,
) -> tuple[Wear, Path | None]:
    """March as :func:`wearing` does, and keep the way of one of the contacts.

    Parameters
    ----------
    contact, power, rise, energy, depth, spindle_share
        As in :func:`wearing`.
    which : int, optional
        Number of that contact, all counted in a row; none if left out.

    Returns
    -------
    wear : Wear
        Both times, as :func:`wearing` gives them.
    path : Path or None
        The way of that contact; None if it makes no ember.

    Raises
    ------
    InputError
        As :func:`wearing`, or if there is no contact of that number.

    References
    ----------
    .. [1] As :func:`wearing`.

    Examples
    --------
    >>> from fireheat.heat.material import Material
    >>> spindle, board = Material(0.12, 0.22, 6e5), Material(0.12, 0.12, 6e5)
    >>> kit = Contact(radius=0.0065, length=0.15, film=10.0, spindle=spindle, board=board)
    >>> numbers = {"rise": 280.0, "energy": 130.0, "depth": 0.004}
    >>> wear, path = wearing_with_path(kit, power=np.array([10.0, 1.0]), **numbers, which=0)
    >>> wear.ember.round(1), round(path.reached, 1)
    (array([22.,  inf]), 4.7)
    """
    power, rise, energy, depth, share = check(
        power=power,
        rise=rise,
        energy=energy,
        burn_in_depth=depth,
        spindle_share=spindle_share,
    )
    contact, numbers, shape = side_by_side(contact, power, rise, energy, depth, share)
    if which is not None and check_whole("which", which, least=0) >= math.prod(shape):
        raise InputError(f"which is {which!r}; allowed: below {math.prod(shape)}, one of them")
    if 0 in shape:
        return Wear(np.empty(shape), np.empty(shape)), None
    power, rise, energy, depth, share = numbers
    enough = _AMPLE * least_power(contact, rise=rise, depth=depth, spindle_share=share)
    able, ample = power > rise / contact.impedance(_LATEST), power > enough
    start = when_reached(contact, power=np.where(able, power, enough), rise=rise)
    ember, ground, path = np.full(power.shape, np.inf), np.flatnonzero(able & ample), None
    if ground.size:
        since, growth = (known[ground] for known in start)
        some, theirs = some_of(ground, contact, numbers)
        least_time = theirs[2] / theirs[0]  # the march errs, where it takes hardly longer
        kits = _kits(some, theirs, since, growth)
        past = _ground(kits)
        ember[ground] = np.maximum(since + past.root[-1] ** 2, least_time)
        path = _path(kits, past, ground == which)
    reached = in_time(start[0], able=able, shape=shape)
    return Wear(reached, in_time(ember, able=able & ample, shape=shape)), path


def _path(kits, past, one):
    """Pick the way of one of the contacts that were followed, if it was."""
    if not np.any(one):
        return None
    return Path(
        reached=kits.reached[one].item(),
        since=past.root[:, one][:, 0],
        made=_MADE,
        conducted=past.conducted[..., one][..., 0],
        shares=kits.division[..., one][..., 0],
        leaking=kits.leaking[one].item(),
    )


def worn_path(
    contact: Contact,
    *,
    power: float,
    rise: float,
    energy: float,
    depth: float,
    spindle_share: float = 0.5,
) -> Path:
    """Follow the wear of one contact.

    Parameters
    ----------
    contact : Contact
        Spindle and board, of single numbers.
    power : float
        Heat made in the contact, more than the least. [W]
    rise : float
        Temperature at which dust leaves, less the temperature at the start. [K]
    energy : float
        Energy that one ember's dust needs, from cold wood on. [J]
    depth : float
        How much shorter spindle and board get, together, for one ember. [m]
    spindle_share : float, optional
        How much of that is the spindle's. [1]

    Returns
    -------
    Path
        What :func:`wearing` goes through on the way to its answer.

    Raises
    ------
    InputError
        If a value is not one number or out of its range, the power makes no ember, or the contact
        is something else.

    References
    ----------
    .. [1] As :func:`wearing`.

    Examples
    --------
    >>> from fireheat.heat.material import Material
    >>> spindle, board = Material(0.12, 0.22, 6e5), Material(0.12, 0.12, 6e5)
    >>> kit = Contact(radius=0.0065, length=0.15, film=10.0, spindle=spindle, board=board)
    >>> path = worn_path(kit, power=10.0, rise=280.0, energy=130.0, depth=0.004)
    >>> print(round(path.reached, 1), round(path.reached + path.since[-1] ** 2, 1))
    4.7 22.0
    """
    single = check_single(
        power=power, rise=rise, energy=energy, burn_in_depth=depth, spindle_share=spindle_share
    )
    least = _AMPLE * least_power(contact, rise=rise, depth=depth, spindle_share=spindle_share)
    if single[0] <= least:
        raise InputError(
            f"power is {single[0]!r} W; allowed: above {least:g} W, which makes an ember"
        )
    contact, numbers, _ = side_by_side(contact, *single)
    start = when_reached(contact, power=numbers[0], rise=numbers[1])
    kits = _kits(contact, numbers, *start)
    path = _path(kits, _ground(kits), np.array([True]))
    assert path is not None
    return path


# ---- kits in the numbers that the march needs -----------------------------------------------


@dataclass(frozen=True)
class _Kits:
    """Kits side by side, along the last axis; of more axes the first is spindle and board."""

    power: np.ndarray  # W
    price: np.ndarray  # of all the dust, beyond what its wood held; J
    held: np.ndarray  # what that wood holds at the rise; J
    reached: np.ndarray  # s
    growth: np.ndarray  # of the impedance then; K/J
    division: np.ndarray  # a polynomial's terms, then spindle and board
    level: np.ndarray  # the rise, over the answer; J s^-0.5
    answer: np.ndarray  # rise of a plane face inside whole wood; K s^0.5 / J
    leaking: np.ndarray  # of the rod; 1/s
    rod_time: np.ndarray  # to warm the rod's whole length; s
    disc_time: np.ndarray  # to spread over the disc; s
    hole: np.ndarray  # how much more the board draws at each step; 1
    wear_time: np.ndarray  # to spread over the depth worn off; s
    wear_heat: np.ndarray  # half the heat capacity of the wood worn off; J/K
    early: tuple[np.ndarray, ...]  # places before the rise, and weights
    late: tuple[np.ndarray, ...]  # places since, ages and weights


def _kits(contact, numbers, reached, growth):
    power, rise, energy, depth, share = numbers
    area, board = np.pi * contact.radius**2, contact.board
    bodies = contact.spindle, board
    capacity = np.stack([body.volumetric_heat_capacity for body in bodies])
    spread = np.stack([body.conductivity_axial for body in bodies]) / capacity
    worn = np.stack([share, 1 - share]) * depth
    held = rise * area * np.sum(capacity * worn, axis=0)
    price = np.maximum(energy - held, _SURPLUS * held)
    leaking = 2 * contact.film / (contact.radius * capacity[0])
    sideways = board.conductivity_radial / board.conductivity_axial
    hole = np.multiply.outer(_MADE, worn[1] * np.sqrt(sideways))
    disc_time = contact.radius**2 / (2 * sideways * spread[1])
    grading = _grading((reached + price / power) * (leaking + 1 / disc_time))
    answer = 1 / (2 * capacity * area * np.sqrt(np.pi * spread))
    return _Kits(
        power=power,
        price=price,
        held=held,
        reached=reached,
        growth=growth,
        division=divided(contact, time=reached),
        level=rise / answer,
        answer=answer,
        leaking=leaking,
        rod_time=contact.length**2 / spread[0],
        disc_time=disc_time,
        hole=hole_draw(hole, radius=contact.radius),
        wear_time=(worn**2 / (4 * spread))[:, np.newaxis],
        wear_heat=capacity * area * worn / 2,
        early=_graded(_EARLY, grading - 1),
        late=_late_places(grading),
    )


def _grading(spans):
    """How strongly to draw places toward young heat, by how many times it fades in a try."""
    return np.arcsinh(6 + np.sqrt(spans))


_gauss = cache(np.polynomial.legendre.leggauss)


def _graded(count, grading):
    """Gauss points and weights on 0 to 1, drawn toward 0, where heat is youngest."""
    points, weights = _gauss(count)
    place = np.multiply.outer((points + 1) / 2, grading)
    slope = grading * np.cosh(place) / np.sinh(grading)
    return np.sinh(place) / np.sinh(grading), slope * weights[:, np.newaxis] / 2


def _late_places(grading):
    """Places in the time since the rise, as x; ages; weights of ``age^-0.5``. All for x = 1."""
    young, weight = _graded(_LATE, grading)
    place = np.cos(np.pi / 2 * young)
    return place, np.sin(np.pi / 2 * young) ** 2, np.pi * place * weight


# ---- what heat of some age still does -------------------------------------------------------


def _fading(kits, step, age):
    """Tell what leak, and spreading sideways, leave of a plane face's answer: body, age, kit."""
    y = kits.disc_time / (kits.hole[step] ** 2 * age)
    rod = np.exp(-kits.leaking * age) * _theta(kits.rod_time / age)
    return np.stack([rod, 1 - i0e(y) - i1e(y)])


def _theta(x):
    """Sum of ``exp(-n^2 x)`` over all whole n: what a closed far end throws back.

    For small x the same sum is ``sqrt(pi/x)`` times that of ``pi^2/x`` (Jacobi).
    """
    some = x < 40  # beyond that it is one
    if not some.any():
        return 1.0
    few, total = x[some], np.ones_like(x)
    many = np.maximum(few, np.pi**2 / few)
    total[some] += 2 * sum(np.exp(-n * n * many) for n in (1, 2, 3))
    total[some] *= np.sqrt(np.maximum(np.pi / few, 1.0))
    return total


class _Moment(NamedTuple):
    """The end of a step: the sources, the power not conducted, and what wear adds to that."""

    source: np.ndarray  # of spindle and board; W
    conducted: np.ndarray  # into spindle and board; W
    spared: np.ndarray  # W
    carried: np.ndarray  # W


class _Past:
    """What is known of the steps so far."""

    def __init__(self, kits):
        size = kits.power.size
        self.root = np.zeros((_STEPS + 1, size))  # x, in s^0.5
        self.source = np.zeros((_STEPS + 1, 2, size))
        self.spared = np.zeros((_STEPS + 1, size))
        self.conducted = np.zeros((_STEPS + 1, 2, size))
        self.bias = np.ones(size)  # of the slope that the secant method begins with
        self.source[0] = 2 * kits.power * np.sum(kits.division, axis=0)
        self.conducted[0] = self.source[0] / 2


def _early(kits, root):
    """Heat let in before the rise: its age, its weight, and the sources."""
    until = np.arctan2(np.sqrt(kits.reached), root)
    young, weight = kits.early
    sine, time = np.sin(until * (1 - young)), kits.reached + root * root
    place, share = sine / np.sin(until), kits.division[-1][:, np.newaxis]
    for term in kits.division[-2::-1]:
        share = share * place + term[:, np.newaxis]
    weight = 2 * np.sqrt(time) * until * sine * weight
    return time * (1 - sine * sine), weight, 2 * kits.power * share


def _late(kits, past, step, root):
    """Heat let in since: the pace of wear from then to now, the sources, and the newest's part.

    All three run straight from step to step. The newest source is not known yet.
    """
    before = past.root[:step]
    slope = root if step == 1 else (3 * root - 4 * before[-1] + before[-2]) / 2
    lines = np.zeros((step + 1, 3, root.size))
    lines[:-1, 0] = (_MADE[step] - _MADE[:step, np.newaxis]) / (root * root - before * before)
    lines[-1, 0] = _PACE[step] / (2 * root * slope)
    lines[:-1, 1:] = past.source[:step]
    after = np.concatenate([past.root[1:step], [root]])
    into = (root * kits.late[0][:, np.newaxis] - before) / (after - before)
    into = np.minimum(np.maximum(into, 0), 1)
    value = lines[0][:, np.newaxis] + np.einsum("qjk,jbk->bqk", into, lines[1:] - lines[:-1])
    return value[0], value[1:], into[:, -1]


def _moment(kits, past, step, root):
    """Solve for the sources if the dust of this step is made when x is root."""
    age, weight, source = _early(kits, root)
    pace, late_source, newest = _late(kits, past, step, root)
    pace = np.concatenate([_MADE[step] / age, pace])
    age = np.concatenate([age, root * root * kits.late[1]])
    weight = np.concatenate([weight, root * kits.late[2]])
    kernel = _fading(kits, step, age) * np.exp(-pace * pace * age * kits.wear_time) * weight
    known = kernel * np.concatenate([source, late_source], axis=1)
    new = kernel[:, -_LATE:] * newest
    now = (kits.level - known.sum(axis=1)) / new.sum(axis=1)
    moved = (known * pace).sum(axis=1) + now * (new * pace[-_LATE:]).sum(axis=1)
    carried = kits.wear_heat * kits.answer * moved
    conducted = now / 2 + carried
    return _Moment(now, conducted, kits.power - conducted.sum(axis=0), carried.sum(axis=0))


# ---- step by step ---------------------------------------------------------------------------


def _surplus(kits, past, step, root):
    """Heat spared in this step less the price of its dust, with the moment at its end."""
    end, before = _moment(kits, past, step, root), past.root[step - 1]
    spared = past.spared[step - 1] * (2 * before + root) + end.spared * (before + 2 * root)
    return (root - before) * spared / 3 - kits.price * (_MADE[step] - _MADE[step - 1]), end


def _rough(kits):
    """Guess x at every step, from what faces that hardly move would spare."""
    touch = np.sum(1 / (2 * np.sqrt(np.pi) * kits.answer), axis=0)  # effusivities times area
    first = 2 / np.sqrt(np.pi) * touch * kits.growth  # spared share of the power, for each x
    source = 2 * kits.power * np.sum(kits.division, axis=0)
    carried = 4 / 3 * np.sum(kits.wear_heat * kits.answer * source, axis=0)
    root = np.sqrt(kits.reached) * _STEP[1:, np.newaxis]
    for _ in range(8):
        part = first * root / (1 + first * root)  # it cannot spare more than there is
        spared = kits.power * root * root * part * (2 + part) / 3
        cost = kits.price + kits.held * carried * root / (kits.held + carried * root)
        root = root * np.cbrt(_MADE[1:, np.newaxis] * cost / spared)
    return root


def _guess(past, rough, step):
    """Guess x: the rough guess, put right as it had to be in the steps before."""
    off = past.root[max(1, step - 3) : step] / rough[max(0, step - 4) : step - 1]
    carry = {0: (), 1: (1,), 2: (-1, 2), 3: (1, -3, 3)}[len(off)]
    right = np.dot(carry, off) if len(off) else 1.0
    return np.maximum(right * rough[step - 1], 1.02 * past.root[step - 1])


def _ground(kits):
    """Follow the wear until all the dust is made."""
    past, rough = _Past(kits), _rough(kits)
    with np.errstate(all="ignore"):  # where it is as good as never, and called so
        for step in range(1, _STEPS + 1):
            root, end = _solve(kits, past, step, _guess(past, rough, step))
            past.root[step], past.source[step], past.spared[step] = root, end.source, end.spared
            past.conducted[step] = end.conducted
    return past


def _steepness(past, step, root, end):
    """How the surplus grows with x, roughly: later spares more, and slower wear carries less."""
    return 2 * root * np.maximum(end.spared, 0) + (past.root[step - 1] + 2 * root) / 3 * end.carried


def _solve(kits, past, step, root):
    """Find x when this step's dust is made, by the secant method, and the moment then."""
    value, end = _surplus(kits, past, step, root)
    slope = past.bias * _steepness(past, step, root, end)
    for _ in range(_TRIES):
        move = np.minimum(np.maximum(-value / slope, (past.root[step - 1] - root) / 2), root)
        last, start, root = value, end, root + move
        value, end = _surplus(kits, past, step, root)
        secant = np.divide(value - last, move, out=slope.copy(), where=move != 0)
        slope = np.where(secant > 0, secant, slope)
        if np.all(np.abs(move) < _CLOSE * root):
            break
    past.bias = slope / _steepness(past, step, root, end)
    rest = -value / slope
    part = np.divide(rest, move, out=np.zeros_like(rest), where=move != 0)
    return root + rest, _Moment(*(b + part * (b - a) for a, b in zip(start, end, strict=True)))
