"""How long the kernel of pages takes in a browser, and how near few draws come to all of them.

    python tests/benchmarks/kernel.py

Milliseconds of an estimate, a ratio, a club's own evenings and the time after smoke, of a processor
as it is and throttled six times, as a cheap phone's. Then by how much the ends of a club's band
differ that a page has, over kits and three logs, of kits whose own ends come within ten minutes;
and over all. How near the kernel comes to the library: ``FIREHEAT_STATES=2000 FIREHEAT_ARMS=200
FIREHEAT_EVENINGS=200 python -m pytest tests/test_kernel.py``.
"""

import json
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tools"))

import numpy as np
from kernel_twin import asked_of, random_states
from lab import launch
from playwright.sync_api import sync_playwright

from fireheat.pages.kernel import evenings_for_kernel, kernel_script
from fireheat.trials.columns import TimedTry
from fireheat.trials.our_fire import our_fire

KITS = 200

TIMES = """told => {
    const time = ask => {
        const start = performance.now();
        ask();
        return performance.now() - start;
    };
    const middle = (count, ask) => {
        const all = Array.from({ length: count }, (_, n) => time(() => ask(n)));
        return all.sort((a, b) => a - b)[Math.floor(count / 2)];
    };
    const thick = n =>
        fireheat.try_({ diameter: 0.01 + 0.0002 * n, force: 40 + n + Math.random() });
    const one = fireheat.try_();
    return {
        first: time(() => fireheat.estimate(one)),
        estimate: middle(60, n => fireheat.estimate(thick(n))),
        compare: middle(20, n => fireheat.compare(one, thick(n))),
        evenings: middle(60, n => fireheat.evenings(thick(n), told)),
        "after smoke": middle(6, n => fireheat.after_smoke(thick(n), 13, 20)),
        "and again": middle(6, () => fireheat.after_smoke(one, 13, 20)),
        "with an arm": middle(6, n => fireheat.after_smoke(
            fireheat.try_({ speed: 1.3 + n / 100 }), 60, 70, {}, fireheat.arms.ten_year_old)),
    };
}"""


def logs():
    """Three evenings: times alone, with depths, and with grams."""
    rng = np.random.default_rng(12)
    for more in ({}, {"burn_in_depth": 0.005}, {"dust_mass": 2e-4}):
        yield [
            TimedTry(
                time=float(80 * np.exp(0.3 * rng.standard_normal())),
                ended="ember" if rng.random() < 0.75 else "gave up",
                diameter=float(rng.choice([0.012, 0.016, 0.02])),
                **more,
            )
            for _ in range(12)
        ]


def carried():
    """Print how far the bands of a page lie from the whole fire's."""
    kits, soon, every, apart = random_states(KITS, seed=21), [], [], 0
    for fire in map(our_fire, logs()):
        told = json.dumps(evenings_for_kernel(fire))
        question = f"fireheat.evenings(fireheat.try_(one), {told})"
        bands = asked_of(kernel_script(), question, [given for given, *_ in kits])
        for band, (_, state, *_) in zip(bands, kits, strict=True):
            for one, other in zip(band, fire.band(state), strict=True):
                if np.isfinite([one, other]).all():
                    every.append(abs(one / other - 1))
                    soon += [every[-1]] * (other < 600)
                else:
                    apart += one != other
        print(f"{len(told):,} bytes of evenings")
    for name, off in (("ends within ten minutes", soon), ("all", every)):
        print(f"{name}: 95 % within {np.quantile(off, 0.95):.1%}, worst {max(off):.1%}")
    print(f"{apart} ends are never for one only, of {3 * 3 * KITS}")


def main():
    script, told = kernel_script(), evenings_for_kernel(our_fire(next(logs())))
    print(f"{len(script.encode()):,} bytes")
    with sync_playwright() as driver:
        browser = launch(driver)
        for rate in (1, 6):
            page = browser.new_page()
            page.set_content("<!doctype html><title>kernel</title>")
            page.add_script_tag(content=script)
            page.context.new_cdp_session(page).send(
                "Emulation.setCPUThrottlingRate", {"rate": rate}
            )
            spent = page.evaluate(TIMES, told)
            print(
                f"throttled {rate} times:", {key: round(value, 1) for key, value in spent.items()}
            )
        browser.close()
    carried()


if __name__ == "__main__":
    main()
