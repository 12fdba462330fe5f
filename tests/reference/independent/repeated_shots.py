"""The periodic state of a mold that is shot every 300 s, by the method of lines with SciPy.

Half of a slab of plastisol on a mold wall; each shot starts with fresh plastisol and the wall as the last one left it.
Unknown is the wall at the start of a shot: a fixed point by SciPy's Anderson acceleration, Newton-Krylov or Powell's
hybrid method, or shots marched one after another. Told is the peak of the wall's face in the settled shot.

    python3 repeated_shots.py           converged peak, by two ways
    python3 repeated_shots.py --bench   one line of JSON: the fastest setting found within 0.02 K
    python3 repeated_shots.py --search  the same, after a list of the settings that came close

Units: m, s, degC, W, J.
"""
import sys

from common import BAIT, METHODS, MOLD, Layers, NotConverged, choices, fastest, march, peak

import numpy as np
from scipy.optimize import anderson, newton_krylov, root

try:
    from scipy.optimize import NoConvergence
except ImportError:  # older SciPy
    from scipy.optimize._nonlin import NoConvergence

LAYERS = [(0.006, BAIT, 175.0), (0.040, MOLD, 25.0)]
CONTACT = 2000.0
H, AIR = 10.0, 22.0
EVERY = 300.0
ALLOWED = 0.02  # K


def solve(kind, n, p, method, tolerance, way, close, samples=200):
    """Peak of the wall's face, degC. close: K for a fixed point, shots for a march."""
    body = Layers(LAYERS, CONTACT, H, AIR, kind, n, p)
    cut = body.first[1]
    ends = np.array([0.0, EVERY])

    def fill(wall):
        return np.concatenate([body.start[:cut], wall])

    def change(wall):
        return march(body, fill(wall), ends, tolerance, method)[-1][cut:] - wall

    wall = body.start[cut:]
    try:
        if way == "march":
            for _ in range(int(close)):
                wall = wall + change(wall)
        elif way == "Anderson":
            # the first step (alpha) is the shot itself: wall + change
            wall = anderson(change, wall, alpha=-1.0, f_tol=close, M=6, w0=0.0, line_search=None, maxiter=60)
        elif way == "Newton-Krylov":
            wall = newton_krylov(change, wall, f_tol=close, method="lgmres", inner_maxiter=8, line_search=None, maxiter=20)
        else:
            found = root(change, wall, method="hybr", options=dict(xtol=close / 100, eps=1e-4))
            wall = found.x
            if np.abs(found.fun).max() > close:
                raise NotConverged
    except (NoConvergence, ValueError) as why:
        raise NotConverged from why
    times = EVERY * np.linspace(0.0, 1.0, samples + 1) ** 2  # the peak comes early
    return peak(times, march(body, fill(wall), times, tolerance, method) @ body.hot_face)[0]


def converge():
    for n, p in ((1, 6), (2, 8), (3, 8), (4, 10)):
        print(f"{2 * n} elements of degree {p:2d}, hybrid: "
              f"{solve('elements', n, p, 'odeint banded', 1e-9, 'hybrid', 1e-5, 2000):.5f} degC", flush=True)
    last = None
    for n in (20, 40, 80):
        now = solve("boxes", n, 1, "odeint banded", 1e-8, "march", 600, 2000)
        more = "" if last is None else f", extrapolated {now + (now - last) / 3:.5f} degC"
        print(f"{2 * n} boxes, 600 shots marched: {now:.5f} degC{more}", flush=True)
        last = now
    print(f"after 40 shots only: {solve('elements', 3, 8, 'odeint banded', 1e-9, 'march', 40, 2000):.5f} degC")


def bench(show):
    truth = solve("elements", 2, 8, "odeint banded", 1e-9, "hybrid", 1e-5, 2000)
    grids = [("elements", 1, 8), ("elements", 2, 4), ("boxes", 16, 1), ("boxes", 20, 1)]
    ways = [("Anderson", 0.03), ("Newton-Krylov", 0.03), ("hybrid", 0.03), ("march", 200)]
    settings = [
        dict(kind=kind, n=n, p=p, method=method, tolerance=tolerance, way=way, close=close)
        for kind, n, p in grids for way, close in ways
        for method in METHODS for tolerance in (1e-3, 3e-4, 1e-4)
        # what takes seconds is tried on one grid only
        if method == "odeint banded" or (way == "Anderson" and (method == "odeint" or (kind, n) == ("boxes", 20)))
        if way != "march" or (kind, n) == ("boxes", 20)
    ]
    fastest("repeated shots", solve, settings, lambda t: t - truth, ALLOWED, show)


if __name__ == "__main__":
    bench("--search" in sys.argv) if len(sys.argv) > 1 else converge()
