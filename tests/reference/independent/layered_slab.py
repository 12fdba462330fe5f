"""A hot slab of plastisol between two mold halves, by the method of lines with SciPy.

Shares no code and no formula with the engine: temperatures (not energies) on smoothly graded finite volumes, BDF with a
sparse Jacobian, or LSODA with a banded one. The grid is halved until the digits settle, and the last two are extrapolated.

    python3 layered_slab.py           converged demold time and temperatures
    python3 layered_slab.py --bench   one line of JSON: ms (least of nine) and relative error of the time

Units: m, s, degC, W, J.
"""
import json
import sys
import time

import numpy as np
from scipy.integrate import solve_ivp
from scipy.sparse import diags

MOLD = dict(k=0.9, rho=1700.0, c0=1100.0, c1=0.0)
BAIT = dict(k=0.16, rho=1000.0, c0=1500.0, c1=2.5)  # specific heat c0 + c1 T
LAYERS = [(0.040, MOLD, 25.0), (0.012, BAIT, 175.0), (0.040, MOLD, 25.0)]
CONTACT = 2000.0  # W/(m2 K) at both interfaces
H, AIR = 10.0, 22.0
COLD = 50.0  # the bait may be taken out when its center is at this
END = 1800.0
TIMES = [60.0, 120.0, 300.0, 600.0, 1800.0]


def faces(length, n, grade_left, grade_right):
    """Faces of n cells, finer toward the graded ends by a smooth map: halved cells nest."""
    s = np.linspace(0.0, 1.0, n + 1)
    b = 2.2
    if grade_left and grade_right:
        m = 0.5 * (1 + np.tanh(b * (2 * s - 1)) / np.tanh(b))
    elif grade_right:
        m = np.tanh(b * s) / np.tanh(b)
    else:
        m = 1 - np.tanh(b * (1 - s)) / np.tanh(b)
    return length * m


class Slab:
    def __init__(self, n_mold, n_bait):
        x, k, rho, c0, c1, start = [], [], [], [], [], []
        left, widths, centers = 0.0, [], []
        for i, (length, m, t0) in enumerate(LAYERS):
            n = n_bait if i == 1 else n_mold
            f = faces(length, n, i > 0, i < 2)
            widths.append(np.diff(f))
            centers.append(left + 0.5 * (f[1:] + f[:-1]))
            left += length
            for values, v in ((k, m["k"]), (rho, m["rho"]), (c0, m["c0"]), (c1, m["c1"]), (start, t0)):
                values.append(np.full(n, v))
        cat = np.concatenate
        self.w, self.x = cat(widths), cat(centers)
        self.k, self.rho, self.c0, self.c1, self.start = cat(k), cat(rho), cat(c0), cat(c1), cat(start)
        half = 0.5 * self.w / self.k
        resistance = half[1:] + half[:-1]
        resistance[n_mold - 1] += 1 / CONTACT
        resistance[n_mold + n_bait - 1] += 1 / CONTACT
        self.g = 1 / resistance
        self.out = np.zeros(self.w.size)
        self.out[0], self.out[-1] = 1 / (half[0] + 1 / H), 1 / (half[-1] + 1 / H)
        self.off = self.g
        self.main = -self.out.copy()
        self.main[:-1] -= self.g
        self.main[1:] -= self.g
        self.mass0, self.mass1 = self.w * self.rho * self.c0, self.w * self.rho * self.c1
        mid = 0.5 * sum(l for l, _, _ in LAYERS)
        a = np.argmin(np.where(self.x > mid, self.x, np.inf))
        self.c, d1, d2 = a, self.x[a] - mid, self.x[a + 1] - mid
        self.weights = (d2**2 / (d2**2 - d1**2), -d1**2 / (d2**2 - d1**2))
        self.balanced = self.out * AIR

    def power(self, T):
        q = self.g * np.diff(T)
        p = self.balanced - self.out * T
        p[:-1] += q
        p[1:] -= q
        return p

    def rates(self, _t, T):
        return self.power(T) / (self.mass0 + self.mass1 * T)

    def bands(self, _t, T):
        C = self.mass0 + self.mass1 * T
        J = np.zeros((3, T.size))
        J[0, 1:] = self.off / C[:-1]
        J[1] = (self.main - self.mass1 * self.power(T) / C) / C
        J[2, :-1] = self.off / C[1:]
        return J

    def sparse(self, t, T):
        J = self.bands(t, T)
        return diags([J[2, :-1], J[1], J[0, 1:]], [-1, 0, 1], format="csc")

    def center(self, T):
        """The field is even about the middle: a parabola in the distance through two centers."""
        return self.weights[0] * T[self.c] + self.weights[1] * T[self.c + 1]

    def solve(self, tolerance, method, end=END, times=None):
        def cold(_t, T):
            return self.center(T) - COLD

        cold.direction = -1
        cold.terminal = times is None
        how = dict(lband=1, uband=1) if method == "LSODA" else dict(jac=self.sparse)
        r = solve_ivp(self.rates, (0, end), self.start, method=method, t_eval=times, events=cold,
                      rtol=tolerance, atol=tolerance * 150, **how)
        assert r.success and r.t_events[0].size == 1, r.message
        return r.t_events[0][0], None if times is None else [self.center(T) for T in r.y.T]


def converge():
    last = None
    print(f"{'cells':>6} {'demold time, s':>15}  center, degC, at " + ", ".join(f"{t:g}" for t in TIMES) + " s")
    for n in (20, 40, 80, 160, 320):
        t, T = Slab(n, n).solve(1e-9, "BDF", times=TIMES)
        now = np.array([t, *T])
        print(f"{3 * n:6d} {t:15.5f}  " + "  ".join(f"{v:.5f}" for v in T))
        if last is not None:
            best = now + (now - last) / 3
            print(f"{'order 2':>6}{best[0]:15.5f}  " + "  ".join(f"{v:.5f}" for v in best[1:]))
        last = now
    return best[0]


def bench():
    """Two nested grids and their extrapolation, a setting that gets within 0.1 %; others may get there sooner."""
    fine = [Slab(n, n).solve(1e-9, "BDF")[0] for n in (80, 160)]
    truth = fine[1] + (fine[1] - fine[0]) / 3
    least = np.inf
    for _ in range(9):
        begin = time.perf_counter()
        coarse, finer = (Slab(n, n).solve(1e-4, "LSODA")[0] for n in (10, 20))
        t = finer + (finer - coarse) / 3
        least = min(least, time.perf_counter() - begin)
    print(json.dumps({"ms": 1e3 * least, "error": t / truth - 1}))


if __name__ == "__main__":
    bench() if "--bench" in sys.argv else converge()
