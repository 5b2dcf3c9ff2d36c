"""Plans per minute of a study against the number of workers.

Run by hand: python tests/benchmarks/studies.py [VARIANTS] [WORKERS ...]
"""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path

from sequencer.studies import read_study, run_study

PARTS = Path(__file__).parents[2] / "parts"


def measure(part: str, variants: int, workers: int) -> float:
    """Give plans per minute of a study over the lot, start of the workers included.

    Parameters
    ----------
    part
        Part file.
    variants
        Number of variants.
    workers
        Processes.
    """
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "study.yaml"
        file.write_text(
            f"name: Benchmark\npart: {PARTS / part}\nshop: {PARTS / 'shop.yaml'}\n"
            f"vary: [{{key: part.lot, from: 1, to: {variants}, step: 1}}]\n",
            encoding="utf-8",
        )
        ready = read_study(file)
        start = time.perf_counter()
        result = run_study(ready, Path(folder) / "out", workers=workers)
        assert result.whole
        return 60 * len(result.rows) / (time.perf_counter() - start)


def main() -> None:
    """Print a line a part and number of workers."""
    numbers = [int(word) for word in sys.argv[1:]]
    variants, workers = (numbers[0] if numbers else 40), (numbers[1:] or [1, 2])
    for part in ("first_wheel.yaml", "press_sleeve.yaml"):
        for count in workers:
            rate = measure(part, variants, count)
            print(f"{part}: {variants} variants, {count} workers: {rate:.0f} plans/min")


if __name__ == "__main__":
    main()
