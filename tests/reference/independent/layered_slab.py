"""A hot slab of plastisol between two mold halves, by the method of lines with SciPy.

Temperatures (not energies) on smoothly graded boxes or on spectral elements; half of the slab, its middle is a mirror. The
grid is refined until the digits settle, by both.

    python3 layered_slab.py           converged demold time and temperatures
    python3 layered_slab.py --bench   one line of JSON: the fastest setting found within 0.1 % of the time
    python3 layered_slab.py --search  the same, after a list of the settings that came close

Units: m, s, degC, W, J.
"""
import sys

from common import BAIT, METHODS, MOLD, Layers, choices, falls_to, fastest, march

import numpy as np

LAYERS = [(0.006, BAIT, 175.0), (0.040, MOLD, 25.0)]
CONTACT = 2000.0  # W/(m2 K)
H, AIR = 10.0, 22.0
COLD = 50.0  # the bait may be taken out when its center is at this
END = 1800.0
TIMES = [60, 120, 300, 600, 1800]


def solve(kind, n, p, method, tolerance, samples=60):
    body = Layers(LAYERS, CONTACT, H, AIR, kind, n, p)
    times = np.linspace(0.0, END, samples + 1)
    center = march(body, body.start, times, tolerance, method) @ body.center
    return np.array([falls_to(times, center, COLD), *(np.interp(TIMES, times, center) if samples % 30 == 0 else ())])


def nested(kind, n, p, method, tolerance):
    """Demold time by one grid, or (boxes) by this one and one twice as fine, extrapolated."""
    if kind != "two grids of boxes":
        return solve(kind, n, p, method, tolerance)[0]
    coarse, fine = (solve("boxes", k * n, p, method, tolerance)[0] for k in (1, 2))
    return fine + (fine - coarse) / 3


def converge():
    print(f"{'':22}{'demold time, s':>15}  center, degC, at " + ", ".join(f"{t:g}" for t in TIMES) + " s")
    last = None

    def show(name, row):
        print(f"{name:22}{row[0]:15.5f}  " + "  ".join(f"{v:.5f}" for v in row[1:]), flush=True)

    for n in (20, 40, 80, 160, 320):
        now = solve("boxes", n, 1, "odeint banded", 1e-10, 1800)
        show(f"{2 * n} boxes", now)
        if last is not None:
            show("  extrapolated", now + (now - last) / 3)
        last = now
    for n, p in ((1, 6), (2, 6), (3, 8), (4, 10)):
        show(f"{2 * n} elements, degree {p}", solve("elements", n, p, "odeint banded", 1e-10, 1800))


def bench(show):
    truth = solve("elements", 3, 8, "odeint banded", 1e-9, 600)[0]
    tolerances = [1e-2, 3e-3, 1e-3, 1e-4, 1e-5]
    settings = (
        choices(kind=["elements"], n=[1, 2], p=[3, 4, 5, 6, 8], method=METHODS, tolerance=tolerances)
        + choices(kind=["boxes"], n=[20, 40], p=[1], method=METHODS, tolerance=tolerances)
        + choices(kind=["two grids of boxes"], n=[5, 8, 10], p=[1], method=METHODS, tolerance=tolerances)
    )
    fastest("layered slab", nested, settings, lambda t: t / truth - 1, 1e-3, show)


if __name__ == "__main__":
    bench("--search" in sys.argv) if len(sys.argv) > 1 else converge()
