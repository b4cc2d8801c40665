"""A travel log of 100 million samples in pieces: time per sample, and memory, beside NumPy's mean of the same pieces.

python benches/python/travel_log.py [SAMPLES]
"""

import resource
import sys
import time

import numpy as np

import wheelrate as wr

SAMPLES, PIECE, RATE = int(float(sys.argv[1])) if len(sys.argv) > 1 else 100_000_000, 1_000_000, 500.0


def pieces(samples, stroke):
    """Give times and strokes of the shock, piece by piece; the road repeats itself, the clock does not."""
    for start in range(0, samples, PIECE):
        size = min(PIECE, samples - start)
        yield ((start + np.arange(size)) / RATE, "s"), None, (stroke[:size], "mm")


def main():
    """Measure, and print."""
    bike = wr.demo()
    rng = np.random.default_rng(1)
    stroke = 40.0 + np.clip(np.cumsum(rng.normal(0.0, 0.2, PIECE)) % 50.0 - 25.0, -30.0, 30.0)
    wr.travel_log(bike, pieces(PIECE, stroke))
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    start = time.perf_counter()
    found = wr.travel_log(bike, pieces(SAMPLES, stroke)).ends["rear"]
    took = time.perf_counter() - start
    grown = (resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before) / 1024
    start = time.perf_counter()
    total = sum(float(np.mean(strokes[0])) * len(strokes[0]) for _, _, strokes in pieces(SAMPLES, stroke))
    plain = time.perf_counter() - start
    hours, each = SAMPLES / RATE / 3600, 1e9 * took / SAMPLES
    print(f"{found.samples:,} samples at {RATE:.0f} Hz, {hours:.0f} h: {each:.0f} ns a sample")
    print(f"pieces made and NumPy's mean of them alone: {1e9 * plain / SAMPLES:.1f} ns (mean {total / SAMPLES:.1f} mm)")
    print(f"memory beyond that of one piece: {grown:.0f} MiB")


main()
