"""A million designs of the shipped bike: seconds, memory, and what a task of a cluster costs.

Prints what one design costs by what is asked of it, the time and the peak of memory of a whole sweep that is written as
it comes, and the overhead of one Dask task on this machine; from these the hours of a billion designs on a hundred
cores. Run: ``python benches/python/sweep.py [DESIGNS]`` (1,000,000 unless given; chances over a twentieth of it).
"""

import os
import resource
import sys
import tempfile
import time
from pathlib import Path

import wheelrate as wr

AXES = {
    "rear.linkage.points.link_frame.x": ("-70 mm", "-62 mm"),
    "rear.linkage.points.link_frame.z": ("-102 mm", "-94 mm"),
    "rear.linkage.points.link_rocker.x": ("-218 mm", "-212 mm"),
}
#: Curve, both sags, both loads.
CURVE_AND_SAGS = ["rear.rider_travel", "rear.free_travel", "rear.progression", "rear.least_wheel_rate"]
ASKED = {
    "full travel": ["rear.full_travel"],
    "curve of 60": ["rear.least_wheel_rate"],
    "both travels": ["rear.rider_travel", "rear.free_travel"],
    "curve of 60, both travels": CURVE_AND_SAGS,
    "both sags with uncertainty and chance": [
        "rear.rider_sag",
        "rear.rider_sag_uncertainty",
        "rear.free_sag",
        "rear.chance",
    ],
    "chances of every spring on sale": ["rear.best_chance"],
    "trail": ["trail"],
    "anti-squat": ["anti_squat"],
}


#: Runs of which the shortest counts: other work on the machine leaves some alone.
RUNS = 3


def timed(work):
    """Give the seconds of the wall and of all cores."""
    wall, cores = time.perf_counter(), time.process_time()
    work()
    return time.perf_counter() - wall, time.process_time() - cores


def sweep(outputs, samples, **options):
    """Sweep the linkage of the shipped bike."""
    return wr.demo().sweep(AXES, outputs, scheme="latin_hypercube", samples=samples, **options)


def main(designs):
    """Print everything."""
    cores = os.cpu_count()
    print(f"{cores} cores, load {os.getloadavg()[0]:.1f}")
    print("\none design, microseconds of one core")
    for name, outputs in ASKED.items():
        count = 400 if name in ("chances of every spring on sale", "trail", "anti-squat") else 8_000
        sweep(outputs, 50)
        used = min(timed(lambda outputs=outputs, count=count: sweep(outputs, count))[1] for _ in range(RUNS))
        print(f"  {name:40} {1e6 * used / count:9.1f}")
    with tempfile.TemporaryDirectory() as folder:
        wall, used = timed(lambda: sweep(CURVE_AND_SAGS, designs, to=Path(folder) / "sweep.parquet"))
        size = (Path(folder) / "sweep.parquet").stat().st_size
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024**2
    print(f"\n{designs:,} designs, curve of 60 and both travels, written as they come")
    each = 1e6 * used / designs
    print(f"  {wall:.1f} s of the wall, {used:.1f} s of all cores ({each:.1f} us a design), {size / 1e6:.0f} MB")
    print(f"  at most {peak:.2f} GiB of memory")
    wall, chances = timed(lambda: sweep(["rear.best_chance"], designs // 20))
    print(f"{designs // 20:,} designs with the chances of every spring on sale")
    minutes = 20 * chances / cores / 60
    print(f"  {wall:.1f} s of the wall, {chances:.1f} s of all cores: {minutes:.1f} min for all")
    task = overhead()
    print(f"\none task of a cluster: {1e3 * task:.2f} ms beside its work")
    chunk = 100_000
    for name, each in (
        ("curve and both travels", used / designs),
        ("chances of every spring", chances / (designs // 20)),
    ):
        hours = (1e9 * each / 100 + 1e9 / chunk * task) / 3600
        print(f"  1e9 designs on 100 cores, {chunk:,} a task, {name}: {hours:.2f} h")


def overhead(tasks=400):
    """Seconds that scheduler and client take for one task, the smallest there is, work taken off."""
    import distributed

    options = {"n_workers": 1, "threads_per_worker": 1, "processes": True, "dashboard_address": None}
    with distributed.LocalCluster(**options) as cluster, distributed.Client(cluster) as client:
        sweep(["front.full_travel"], 20, chunk=1, client=client)
        wall, _ = timed(lambda: sweep(["front.full_travel"], tasks, chunk=1, client=client))
    return wall / tasks


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000)
