"""Time the contact's impedance and the march over it, with their errors beside.

Run: python tests/benchmarks/contact.py

The errors are against the same transform inverted in 30 digits by mpmath, and against the closed
two-stage curve of thick bodies.
"""

import time
from dataclasses import replace
from functools import partial

import mpmath
import numpy as np

from fireheat.heat.contact import Contact
from fireheat.heat.march import march
from fireheat.heat.material import Material
from fireheat.heat.two_stage import two_stage

SPINDLE, BOARD = Material(0.12, 0.22, 6e5), Material(0.12, 0.12, 6e5)
KIT = Contact(radius=0.0065, length=0.15, film=10.0, spindle=SPINDLE, board=BOARD)


def milliseconds(call, repeats=20):
    """Best of several runs."""
    best = np.inf
    for _ in range(repeats):
        begun = time.perf_counter()
        call()
        best = min(best, time.perf_counter() - begun)
    return best * 1e3


def transform(s):
    """Laplace transform of the impedance, with mpmath's own special functions."""
    radius, length, film, along, across, capacity = map(
        mpmath.mpf, (0.0065, 0.15, 10.0, 0.22, 0.12, 6e5)
    )
    m = mpmath.sqrt((capacity * s + 2 * film / radius) / along)
    rod = along * mpmath.pi * radius**2 * m * mpmath.tanh(m * length)
    x = 2 * radius * mpmath.sqrt(capacity * s / across)
    with mpmath.workdps(200):
        phi = (1 - (mpmath.besseli(1, x) - mpmath.struvel(1, x)) * 2 / x) / x
    return 1 / (s * (rod + mpmath.pi * radius * across / (2 * phi)))


def main():
    """Print the table."""
    times = np.geomspace(0.1, 600.0, 200)
    radius = np.linspace(0.003, 0.016, 60)
    dust = 1e6 * np.pi * radius**2
    kit, kits = KIT.impedance, replace(KIT, radius=radius).impedance
    one = partial(march, 10.0, rise=280.0, energy=130.0, impedance=kit)
    many = partial(march, 10.0, rise=280.0, energy=dust, impedance=kits)
    print(f"impedance, 200 times    {milliseconds(lambda: kit(times)):7.2f} ms")
    print(f"march, one kit          {milliseconds(one):7.2f} ms")
    print(f"march, 60 kits at once  {milliseconds(many):7.2f} ms")

    when = np.array([0.1, 1.0, 10.0, 100.0, 600.0])
    begun = time.perf_counter()
    with mpmath.workdps(30):
        invert = partial(mpmath.invertlaplace, transform, method="talbot", degree=20)
        exact = [float(invert(t)) for t in when]
    print(f"mpmath, 5 times         {(time.perf_counter() - begun) * 1e3:7.2f} ms")
    print(f"error of the impedance  {np.max(np.abs(kit(when) / exact - 1)):.0e}")

    eps = np.logspace(-4, 3, 100)
    early = march(1.0, rise=1.0, energy=eps, impedance=lambda t: 2 * np.sqrt(t / np.pi))[1]
    closed = two_stage(1.0, energy_per_area=eps, effusivity=1.0, rise=1.0)[1]
    error = np.max(np.abs(early / closed - 1))
    print(f"error of the march, thick bodies  {error:.0e}")


if __name__ == "__main__":
    main()
