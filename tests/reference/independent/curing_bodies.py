"""A slab and a square of curing resin in air, by the method of lines with SciPy.

Temperature and degree of cure at the nodes of spectral elements or the means of boxes; half of the slab, a quarter of the
square: mirrors. Refined until the digits of the peak in the middle and of its time settle.

    python3 curing_bodies.py           converged peaks and their times
    python3 curing_bodies.py --bench   for each body one line of JSON: the fastest setting found within 0.1 % of both
    python3 curing_bodies.py --search  the same, after a list of the settings that came close

Units: m, s, degC, W, J.
"""
import sys

from common import METHODS, MOLD, choices, fastest, line, march, peak

import numpy as np
from scipy.sparse import csr_matrix

GAS = 8.314462618
A1, E1, A2, E2, M, N = 1e4, 55e3, 8.28e5, 50e3, 0.8, 1.4  # da/dt = (k1 + k2 a^m) (1 - a)^n, k = A exp(-E / R T)
HEAT = 90e3  # J/kg
H, AIR, START = 8.0, 23.0, 23.0
SLAB, SQUARE = 0.050, 0.060  # thickness, side
END = 6000.0


class Curing:
    """Unknowns: temperature and cure of each place in turn, so that a band stays narrow."""

    def __init__(self, body, kind, n, p):
        half = 0.5 * (SLAB if body == "slab" else SQUARE)
        w, K, ends = line(half, kind, n, p, (False, True))
        first = w[:2]
        loss = 1 / (1 / H + ends[1] / MOLD["k"]) / MOLD["k"]
        K[-1, -1] += loss
        load = np.zeros(w.size)
        load[-1] = loss * AIR
        self.bandwidth = 2 * p + 1
        if body == "square":
            K, load = np.kron(K, np.diag(w)) + np.kron(np.diag(w), K), np.kron(load, w) + np.kron(w, load)
            w = np.kron(w, w)
            self.bandwidth = None
        mass = w * MOLD["rho"] * MOLD["c0"] / MOLD["k"]
        self.K, self.load = K / mass[:, None], load / mass
        self.rise = HEAT / MOLD["c0"]
        size = w.size
        self.linear = np.zeros((2 * size, 2 * size))  # what does not change of the Jacobian
        self.linear[::2, ::2] = -self.K
        if size > 150:
            self.K = csr_matrix(self.K)
        self.start = np.zeros(2 * size)
        self.start[::2] = START
        if kind == "boxes":  # even about the mirrors: a parabola in the distance along each axis
            d1, d2 = first[0] / 2, first[0] + first[1] / 2
            even = np.zeros(n)
            even[:2] = d2**2 / (d2**2 - d1**2), -d1**2 / (d2**2 - d1**2)
            self.center = np.kron(even, even) if body == "square" else even
        else:
            self.center = np.eye(1, size)[0]

    def rates(self, _t, y):
        T, a = y[::2], np.clip(y[1::2], 0.0, 1.0)
        rt = -1 / (GAS * (T + 273.15))
        cure = (A1 * np.exp(E1 * rt) + A2 * np.exp(E2 * rt) * a**M) * (1 - a) ** N
        out = np.empty_like(y)
        out[::2] = self.load - self.K @ T + self.rise * cure
        out[1::2] = cure
        return out

    def jacobian(self, _t, y):
        T, a = y[::2], np.clip(y[1::2], 1e-6, 1 - 1e-6)
        tk = T + 273.15
        k1, k2, left = A1 * np.exp(-E1 / (GAS * tk)), A2 * np.exp(-E2 / (GAS * tk)), (1 - a) ** N
        by_t = (k1 * E1 + k2 * E2 * a**M) * left / (GAS * tk**2)
        by_a = k2 * M * a ** (M - 1) * left - N * (k1 + k2 * a**M) * left / (1 - a)
        J = self.linear.copy()
        i = np.arange(0, y.size, 2)
        J[i, i] += self.rise * by_t
        J[i, i + 1] = self.rise * by_a
        J[i + 1, i] = by_t
        J[i + 1, i + 1] = by_a
        return J


def solve(body, kind, n, p, method, tolerance, kelvin=1.0, samples=200):
    """Peak in the middle, degC, and its time, s. kelvin: absolute error of temperature beside that of cure."""
    b = Curing(body, kind, n, p)
    times = np.linspace(0.0, END, samples + 1)
    scale = np.tile([kelvin, 1.0], b.center.size)
    return np.array(peak(times, march(b, b.start, times, tolerance, method, scale)[:, ::2] @ b.center))


def nested(body, kind, n, p, method, tolerance, kelvin=1.0, samples=200):
    """The same by one grid, or (boxes) by this one and one twice as fine, extrapolated."""
    if kind != "two grids of boxes":
        return solve(body, kind, n, p, method, tolerance, kelvin, samples)
    coarse, fine = (solve(body, "boxes", k * n, p, method, tolerance, kelvin, samples) for k in (1, 2))
    return fine + (fine - coarse) / 3


LEVELS = [("slab", 1, 8), ("slab", 2, 8), ("slab", 3, 10), ("square", 1, 6), ("square", 1, 8), ("square", 2, 6)]


def converge():
    for body, n, p in LEVELS:
        best, at = solve(body, "elements", n, p, "odeint", 1e-10, samples=3000)
        print(f"{body:7} {n} elements of degree {p:2d} along an axis: {best:.5f} degC at {at:.3f} s", flush=True)
    for n in (20, 40, 80):
        best, at = nested("slab", "two grids of boxes", n, 1, "odeint banded", 1e-9, samples=3000)
        print(f"slab    {n} and {2 * n} boxes, extrapolated: {best:.5f} degC at {at:.3f} s", flush=True)


def bench(show):
    for body in ("slab", "square"):
        truth = solve(body, "elements", 1, 8, "odeint", 1e-9, samples=1000)

        def worse(got):
            return max(got / truth - 1, key=abs)

        flat = body == "slab"
        methods = METHODS if flat else [m for m in METHODS if "banded" not in m]
        grids = [("elements", 1, p) for p in (2, 3, 4)] + (
            [("boxes", 6, 1), ("boxes", 8, 1), ("two grids of boxes", 3, 1)] if flat else
            [("boxes", 6, 1), ("two grids of boxes", 3, 1)])
        settings = [
            dict(body=body, kind=kind, n=n, p=p, **more) for kind, n, p in grids
            for more in choices(method=methods, tolerance=[1e-3, 1e-4, 3e-5, 1e-5], kelvin=[1.0, 100.0])
            if more["kelvin"] == 1.0 or more["method"].startswith("odeint")
        ]
        fastest(f"curing {body}", nested, settings, worse, 1e-3, show)


if __name__ == "__main__":
    bench("--search" in sys.argv) if len(sys.argv) > 1 else converge()
