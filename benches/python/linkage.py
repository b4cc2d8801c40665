"""The six-point linkage (rocker on the swingarm) in NumPy, vectorised by hand: what a Python user would write.

Prints nanoseconds per position, of the fastest of several runs, beside wheelrate's engine called from Python, arrays
out and pint quantities out, and the ratios in the same run. Beside them the same by hand in C (``six_point.c``) where
there is a compiler: compiled for this machine, and called through ctypes into memory of an earlier call. Then many
linkages, all different, at one position each. Run: ``python benches/python/linkage.py``.
"""

import ctypes
import shutil
import subprocess
import tempfile
import time
from pathlib import Path

import numpy as np

import wheelrate as wr

MILLIMETRES = {
    "swingarm_pivot": (0, 0),
    "axle": (-575, -165),
    "rocker_pivot": (-253, -72),
    "link_frame": (-66, -98),
    "link_rocker": (-215, -184),
    "shock_rocker": (-204, -128),
    "shock_frame": (-100, 329),
}
BODIES = {
    "frame": ["swingarm_pivot", "link_frame", "shock_frame"],
    "swingarm": ["swingarm_pivot", "axle", "rocker_pivot"],
    "rocker": ["rocker_pivot", "link_rocker", "shock_rocker"],
    "link": ["link_frame", "link_rocker"],
}


def by_hand(points, datum, root=np.sqrt):
    """Return a function of travel that gives axle x and z, shock length, motion ratio and its slope.

    Points are complex numbers in metres, or arrays of them for many linkages at once. `root` is the square root.
    """
    pivot, axle, rocker, frame, link, eye, top = points
    arm, radius2 = axle - pivot, abs(axle - pivot) ** 2
    lam = (rocker - pivot) / arm
    link2, rod2 = abs(link - frame) ** 2, abs(link - rocker) ** 2
    side = np.sign(((rocker - frame).conjugate() * (link - frame)).imag)
    mu = (eye - rocker) / (link - rocker)
    behind = np.sign(arm.real)

    def curve(travel):
        z = datum + travel
        rise = z - pivot.imag
        reach = behind * root(radius2 - rise * rise)
        x1 = -rise / reach
        x2 = -(1 + x1 * x1) / reach
        bx = pivot.real + lam.real * reach - lam.imag * rise
        bz = pivot.imag + lam.real * rise + lam.imag * reach
        bx1, bz1 = lam.real * x1 - lam.imag, lam.real + lam.imag * x1
        bx2, bz2 = lam.real * x2, lam.imag * x2
        dx, dz = bx - frame.real, bz - frame.imag
        inverse = 1 / (dx * dx + dz * dz)
        along = 0.5 + 0.5 * (link2 - rod2) * inverse
        across = side * root(link2 * inverse - along * along)
        ux, uz = along * dx - across * dz, along * dz + across * dx
        wx, wz = ux - dx, uz - dz
        determinant = inverse / across
        rate = (wx * bx1 + wz * bz1) * determinant
        cx1, cz1 = -rate * uz, rate * ux
        rx, rz = cx1 - bx1, cz1 - bz1
        f = -(cx1 * cx1 + cz1 * cz1) * determinant
        g = (wx * bx2 + wz * bz2 - rx * rx - rz * rz) * determinant
        qx, qz = f * wz - g * uz - bx2, g * ux - f * wx - bz2
        sx = bx + mu.real * wx - mu.imag * wz - top.real
        sz = bz + mu.real * wz + mu.imag * wx - top.imag
        sx1, sz1 = bx1 + mu.real * rx - mu.imag * rz, bz1 + mu.real * rz + mu.imag * rx
        sx2, sz2 = bx2 + mu.real * qx - mu.imag * qz, bz2 + mu.real * qz + mu.imag * qx
        length = root(sx * sx + sz * sz)
        first = (sx * sx1 + sz * sz1) / length
        second = (sx1 * sx1 + sz1 * sz1 + sx * sx2 + sz * sz2 - first * first) / length
        return pivot.real + reach, z, length, -first, -second

    return curve


def in_c(datum):
    """Return a function of travels and five arrays, compiled from C for this machine; None without a compiler."""
    compiler = shutil.which("cc")
    if compiler is None:
        return None
    source = Path(__file__).with_name("six_point.c")
    with tempfile.TemporaryDirectory() as folder:
        library = Path(folder) / "six_point.so"
        options = ["-O3", "-march=native", "-fno-math-errno", "-fPIC", "-shared"]
        subprocess.run([compiler, *options, str(source), "-o", str(library), "-lm"], check=True)
        curve = ctypes.CDLL(str(library)).curve
    numbers = [coordinate / 1000 for point in MILLIMETRES.values() for coordinate in point]
    drawing = (ctypes.c_double * 16)(*numbers, 0.4687, datum)

    def run(travels, out):
        curve(drawing, ctypes.c_size_t(len(travels)), *(ctypes.c_void_p(one.ctypes.data) for one in (travels, *out)))

    return run


def fastest(run, repeat, seconds=0.4, least=9):
    """Return seconds per call: the shortest of many runs, which other work on the machine leaves some of alone."""
    times = []
    end = time.perf_counter() + seconds
    while len(times) < least or time.perf_counter() < end:
        start = time.perf_counter()
        for _ in range(repeat):
            run()
        times.append((time.perf_counter() - start) / repeat)
    return min(times)


def main():
    """Print nanoseconds per position and the ratio."""
    linkage = wr.Linkage(
        wr.Mechanism((MILLIMETRES, "mm"), BODIES),
        "axle",
        ("shock_frame", "shock_rocker"),
        shock_length="468.7 mm",
        stroke="118 mm",
    )
    datum = MILLIMETRES["axle"][1] / 1000 - linkage.drawn_travel.m_as("m")
    numpy_curve = by_hand([complex(x, z) / 1000 for x, z in MILLIMETRES.values()], datum)
    native = in_c(datum)
    if native is None:
        print("no C compiler on the PATH: the peer in C is left out")
    for count in (1_000, 100_000, 1_000_000):
        travels = np.linspace(0, linkage.full_travel.m_as("m"), count)

        def engine(travels=travels):
            return linkage.curve((travels, "m")).columns()

        def columns(travels=travels):
            return linkage.columns((travels, "m"))

        kept = columns()

        def in_used_memory(travels=travels, kept=kept):
            return linkage.columns((travels, "m"), out=kept)

        def quantities(travels=travels):
            curve = linkage.curve((travels, "m"))
            return curve.axle_x, curve.axle_z, curve.stroke, curve.motion_ratio, curve.motion_ratio_slope

        def numpy_engine(travels=travels):
            return numpy_curve(travels)

        x, z, stroke, ratio, slope = quantities()
        for ours, theirs in ((x.m_as("m"), 0), (z.m_as("m"), 1), (0.4687 - stroke.m_as("m"), 2), (ratio.m, 3)):
            np.testing.assert_allclose(ours, numpy_engine()[theirs], rtol=1e-12, atol=1e-13)
        np.testing.assert_allclose(slope.m_as("1/m"), numpy_engine()[4], rtol=1e-10)
        repeat = max(1, 10_000 // count)
        runs = (numpy_engine, engine, columns, in_used_memory, quantities)
        theirs, *ours = (1e9 * fastest(run, repeat) / count for run in runs)
        if native is not None:
            used = [np.zeros(count) for _ in range(5)]
            native(travels, used)
            for name, column in zip(("axle_x [m]", "axle_z [m]", "stroke [m]"), used, strict=False):
                np.testing.assert_allclose(columns()[name], column, rtol=1e-12, atol=1e-13)
            in_native = 1e9 * fastest(lambda travels=travels, used=used: native(travels, used), repeat) / count
        ways = ("curve", "columns", "columns in used memory", "as pint quantities")
        each = ", ".join(f"{way} {time:.0f} (ratio {time / theirs:.2f})" for way, time in zip(ways, ours, strict=True))
        print(f"{count:>7} positions, ns each: by hand {theirs:.0f}; wheelrate, {each}")
        if native is not None:
            print(f"{'':>17} by hand in C, in used memory {in_native:.1f} (ratio {ours[2] / in_native:.2f})")
    few(linkage)
    for count in (5_000, 100_000):
        many(count)


def few(linkage):
    """Print what few positions take in all, call and columns with them, and one by one."""
    for count in (1, 2, 4, 8, 16, 31):
        travels = np.linspace(0, linkage.full_travel.m_as("m"), count)
        alone = [(travel, "m") for travel in travels.tolist()]

        def together(travels=travels):
            return linkage.columns((travels, "m"))

        def one_by_one(alone=alone):
            return [linkage.at(travel) for travel in alone]

        ours, each = (1e6 * fastest(run, 1_000) for run in (together, one_by_one))
        print(f"{count:>7} positions, us in all: columns {ours:.2f}, one by one {each:.2f} (ratio {ours / each:.2f})")


def many(count):
    """Print the same for many linkages, all different, at one position each: NumPy over arrays of linkages."""
    rng = np.random.default_rng(1)
    drawn = np.array([complex(x, z) for x, z in MILLIMETRES.values()])
    drawings = drawn + rng.uniform(-1, 1, (count, 7)) + 1j * rng.uniform(-1, 1, (count, 7))
    linkages = []
    for drawing in drawings:
        points = {name: (at.real, at.imag) for name, at in zip(MILLIMETRES, drawing, strict=True)}
        mechanism = wr.Mechanism((points, "mm"), BODIES)
        linkages.append(
            wr.Linkage(mechanism, "axle", ("shock_frame", "shock_rocker"), shock_length="468.7 mm", stroke="118 mm")
        )
    datum = drawings[:, 1].imag / 1000 - np.array([linkage.drawn_travel.m_as("m") for linkage in linkages])
    numpy_curve = by_hand(list((drawings / 1000).T), datum)

    def engine():
        return wr.sweep_points(linkages, "100 mm").columns()

    places = {
        f"{name}.{axis}": (part, "mm")
        for name, column in zip(MILLIMETRES, drawings.T, strict=True)
        for axis, part in (("x", column.real), ("z", column.imag))
    }

    def drawn_and_asked():
        return linkages[0].redrawn(places).at("100 mm").columns()

    family = wr.LinkageFamily(linkages)

    def curve():
        return family.at("100 mm").columns()

    def packed():
        return family.columns("100 mm")

    kept = packed()

    def in_used_memory():
        return family.columns("100 mm", out=kept)

    def numpy_engine():
        return numpy_curve(0.1)

    np.testing.assert_allclose(engine()["motion_ratio [shock/wheel]"], numpy_engine()[3], rtol=1e-10)
    np.testing.assert_array_equal(packed()["motion_ratio [shock/wheel]"], engine()["motion_ratio [shock/wheel]"])

    def walked():
        # What nothing in Python can be faster than: each object of the list looked at once, in C.
        return set(map(type, linkages))

    repeat = max(1, 10_000 // count)
    runs = {
        "curve": curve,
        "columns": packed,
        "columns in used memory": in_used_memory,
        "loose": engine,
        "list walked": walked,
    }
    theirs, drawn = (1e9 * fastest(run, repeat) / count for run in (numpy_engine, drawn_and_asked))
    ours = {way: 1e9 * fastest(run, repeat) / count for way, run in runs.items()}
    each = ", ".join(f"{way} {time:.0f} (ratio {time / theirs:.2f})" for way, time in ours.items())
    print(
        f"{count:>7} linkages,  ns each: by hand {theirs:.0f}; wheelrate, packed once, {each}; "
        f"drawn, checked and asked {drawn:.0f}"
    )


if __name__ == "__main__":
    main()
