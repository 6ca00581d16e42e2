"""How long `import fireheat` takes beside `import numpy`, each in a fresh interpreter."""

import statistics
import subprocess
import sys

ASK = "import time; start = time.perf_counter(); import {0}; print(time.perf_counter() - start)"


def main():
    """Print the median of eleven runs of each."""
    for name in ("fireheat", "numpy"):
        runs = [
            float(subprocess.check_output([sys.executable, "-c", ASK.format(name)]))
            for _ in range(11)
        ]
        print(f"import {name:10s} {1e3 * statistics.median(runs):6.1f} ms")


if __name__ == "__main__":
    main()
