"""How long the kernel of pages takes in a browser: an estimate, a ratio, the time after smoke.

    python tests/benchmarks/kernel.py

Milliseconds, of a processor as it is and throttled six times, as a cheap phone's. How near it comes
to the library over 2,000 tries: ``FIREHEAT_STATES=2000 python -m pytest tests/test_kernel.py``.
"""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tools"))

from lab import launch
from playwright.sync_api import sync_playwright

from fireheat.pages.kernel import kernel_script

TIMES = """() => {
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
        "after smoke": middle(6, n => fireheat.after_smoke(thick(n), 13, 20)),
        "and again": middle(6, () => fireheat.after_smoke(one, 13, 20)),
    };
}"""


def main():
    script = kernel_script()
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
            told = page.evaluate(TIMES)
            print(f"throttled {rate} times:", {key: round(value, 1) for key, value in told.items()})
        browser.close()


if __name__ == "__main__":
    main()
