"""A hot ellipse of plastisol in a block of mold, by spectral finite elements with SciPy.

Shares no code and no formula with the engine: four-sided elements that follow the ellipse, polynomials of degree p on the
Gauss-Lobatto nodes (whose mass matrix is diagonal), BDF with a sparse Jacobian. With a contact conductance the nodes on
the ellipse are double and joined by an integral over the arc. Refined in degree and in elements until the digits settle.

    python3 section_ellipse.py            perfect contact, then contact 1000 W/(m2 K)
    python3 section_ellipse.py --quick    without the finest level

Units: m, s, degC, W, J. One quarter of the section: both axes are mirrors.
"""
import sys
import time

import numpy as np
from numpy.polynomial import legendre
from scipy.integrate import solve_ivp
from scipy.sparse import coo_matrix, diags

A, B = 0.014, 0.008  # semi-axes of the ellipse
WIDTH, HEIGHT = 0.040, 0.030  # half of the block
MOLD = dict(k=0.9, rho=1700.0, c0=1100.0, c1=0.0, start=25.0)
BAIT = dict(k=0.16, rho=1000.0, c0=1500.0, c1=2.5, start=175.0)  # specific heat c0 + c1 T
H, AIR = 10.0, 22.0
COLD = 50.0
END = 1000.0
TIMES = [60.0, 120.0, 300.0, 600.0]


def lobatto(p):
    """Nodes and weights on [-1, 1], and the derivative matrix of the polynomials through the nodes."""
    c = np.zeros(p + 1)
    c[p] = 1
    x = np.concatenate([[-1.0], np.sort(legendre.legroots(legendre.legder(c)).real), [1.0]])
    w = 2 / (p * (p + 1) * legendre.legval(x, c) ** 2)
    gap = x[:, None] - x[None, :] + np.eye(p + 1)
    bary = 1 / gap.prod(axis=1)
    D = bary[None, :] / bary[:, None] / gap
    np.fill_diagonal(D, 0)
    np.fill_diagonal(D, -D.sum(axis=1))
    return x, w, D


def coons(bottom, top, left, right):
    """Map of the unit square onto four curves that meet at the corners."""
    c00, c10, c01, c11 = bottom(0.0), bottom(1.0), top(0.0), top(1.0)

    def point(u, v):
        p = (1 - v) * bottom(u) + v * top(u) + (1 - u) * left(v) + u * right(v)
        return p - ((1 - u) * (1 - v) * c00 + u * (1 - v) * c10 + (1 - u) * v * c01 + u * v * c11)

    return point


def line(a, b):
    a, b = np.array(a), np.array(b)
    return lambda s: a + s * (b - a)


def blocks():
    """(map, material, element faces along u and v graded?) : v grows away from or toward the ellipse."""
    q = np.pi / 4
    arc1 = lambda s: np.array([A * np.cos(q * s), B * np.sin(q * s)])
    arc2 = lambda s: np.array([A * np.cos(q + q * s), B * np.sin(q + q * s)])
    m = arc1(1.0)
    core = 0.5
    cx, cy = (core * A, 0.0), (0.0, core * B)
    cm = tuple(core * 0.9 * m * np.sqrt(2) / 1.2)
    corner, side, roof = (WIDTH, HEIGHT), (WIDTH, 0.0), (0.0, HEIGHT)
    return [
        (coons(line((0, 0), cx), line(cy, cm), line((0, 0), cy), line(cx, cm)), 1, None),
        (coons(line(cx, cm), arc1, line(cx, (A, 0)), line(cm, m)), 1, "end"),
        (coons(line(cm, cy), arc2, line(cm, m), line(cy, (0, B))), 1, "end"),
        (coons(arc1, line(side, corner), line((A, 0), side), line(m, corner)), 0, "start"),
        (coons(arc2, line(corner, roof), line(m, corner), line((0, B), roof)), 0, "start"),
    ]


def graded(n, where):
    s = np.linspace(0, 1, n + 1)
    if where is None:
        return s
    g = np.sinh(3.0 * s) / np.sinh(3.0)  # finer toward 0
    return g if where == "start" else 1 - g[::-1]


class Section:
    def __init__(self, n, p, contact):
        x, w, D = lobatto(p)
        numbers, points = {}, []

        def node(pt, material):
            key = (round(pt[0] * 1e9), round(pt[1] * 1e9), material if contact else 0)
            if key not in numbers:
                numbers[key] = len(points)
                points.append(pt)
            return numbers[key]

        rows, cols, vals = [], [], []
        mass = {0: {}, 1: {}}
        film, joint = {}, {}
        for bi, (point, material, where) in enumerate(blocks()):
            us, vs = graded(n, None), graded(n, where)
            k = (MOLD, BAIT)[material]["k"]
            for i in range(n):
                for j in range(n):
                    u = us[i] + (us[i + 1] - us[i]) * 0.5 * (x + 1)
                    v = vs[j] + (vs[j + 1] - vs[j]) * 0.5 * (x + 1)
                    P = np.array([[point(a, b) for b in v] for a in u])  # [u, v, 2]
                    xu, xv = np.einsum("ab,bcd->acd", D, P), np.einsum("cb,abd->acd", D, P)
                    J = xu[..., 0] * xv[..., 1] - xu[..., 1] * xv[..., 0]
                    W = np.outer(w, w) * np.abs(J)
                    ids = np.array([[node(P[a, b], material) for b in range(p + 1)] for a in range(p + 1)])
                    m = p + 1
                    I = np.eye(m)
                    Du = np.einsum("ai,bj->abij", D, I).reshape(m * m, m * m)
                    Dv = np.einsum("ai,bj->abij", I, D).reshape(m * m, m * m)
                    f = J.reshape(-1, 1)
                    xu_, xv_ = xu.reshape(-1, 2), xv.reshape(-1, 2)
                    Gx = (xv_[:, 1:2] * Du - xu_[:, 1:2] * Dv) / f
                    Gy = (-xv_[:, 0:1] * Du + xu_[:, 0:1] * Dv) / f
                    Ww = W.reshape(-1, 1) * k
                    K = Gx.T @ (Ww * Gx) + Gy.T @ (Ww * Gy)
                    flat = ids.ravel()
                    rows.append(np.repeat(flat, m * m))
                    cols.append(np.tile(flat, m * m))
                    vals.append(K.ravel())
                    for a, b in zip(flat, W.ravel()):
                        mass[material][a] = mass[material].get(a, 0) + b
                    if material == 0 and j == n - 1:  # outside
                        for a, b in zip(ids[:, -1], w * np.hypot(*xu[:, -1].T)):
                            film[a] = film.get(a, 0) + H * b
                    if material == 0 and j == 0 and contact:
                        for a in range(m):
                            inner = node(P[a, 0], 1)
                            key = (ids[a, 0], inner)
                            joint[key] = joint.get(key, 0) + contact * w[a] * np.hypot(*xu[a, 0])
        size = len(points)
        for (a, b), g in joint.items():
            rows.append(np.array([a, b, a, b]))
            cols.append(np.array([a, b, b, a]))
            vals.append(np.array([g, g, -g, -g]))
        cat = np.concatenate
        self.loss = np.zeros(size)
        for a, g in film.items():
            self.loss[a] = g
        self.K = coo_matrix((cat(vals), (cat(rows), cat(cols))), (size, size)).tocsr() + diags(self.loss)
        vm, vb = np.zeros(size), np.zeros(size)
        for v, d in ((vm, mass[0]), (vb, mass[1])):
            for a, b in d.items():
                v[a] = b
        self.area = vm.sum() + vb.sum(), vb.sum()
        self.C0 = vm * MOLD["rho"] * MOLD["c0"] + vb * BAIT["rho"] * BAIT["c0"]
        self.C1 = vb * BAIT["rho"] * BAIT["c1"]
        # a node shared by both materials starts at the temperature that holds the heat of its two parts
        E = vm * MOLD["rho"] * MOLD["c0"] * MOLD["start"]
        E = E + vb * BAIT["rho"] * (BAIT["c0"] + 0.5 * BAIT["c1"] * BAIT["start"]) * BAIT["start"]
        self.start = 2 * E / (self.C0 + np.sqrt(self.C0**2 + 2 * self.C1 * E))
        P = np.array(points)
        self.center = int(np.argmin(np.hypot(*P.T)))
        self.size = size

    def power(self, T):
        return self.loss * AIR - self.K @ T

    def rates(self, _t, T):
        return self.power(T) / (self.C0 + self.C1 * T)

    def jacobian(self, _t, T):
        C = self.C0 + self.C1 * T
        return (diags(-1 / C) @ self.K - diags(self.C1 * self.power(T) / C**2)).tocsc()

    def solve(self, tolerance):
        def cold(_t, T):
            return T[self.center] - COLD

        cold.direction = -1
        r = solve_ivp(self.rates, (0, END), self.start, method="BDF", jac=self.jacobian, t_eval=TIMES,
                      events=cold, rtol=tolerance, atol=tolerance * 150)
        assert r.success and r.t_events[0].size == 1, r.message
        return r.t_events[0][0], r.y[self.center]


LEVELS = [(2, 4, 1e-6), (4, 4, 1e-7), (6, 4, 1e-7), (6, 5, 1e-8), (8, 5, 1e-8)]

if __name__ == "__main__":
    for contact in (None, 1000.0):
        print("perfect contact" if contact is None else f"contact {contact:g} W/(m2 K)")
        print("  n  p  nodes  demold time, s  center, degC, at " + ", ".join(f"{t:g}" for t in TIMES) + " s")
        for n, p, tolerance in LEVELS[:-1] if "--quick" in sys.argv else LEVELS:
            begin = time.perf_counter()
            s = Section(n, p, contact)
            assert abs(s.area[1] / (np.pi * A * B / 4) - 1) < 1e-3 and abs(s.area[0] / (WIDTH * HEIGHT) - 1) < 1e-3
            t, T = s.solve(tolerance)
            print(f"{n:3d}{p:3d}{s.size:7d}{t:16.5f}  " + "  ".join(f"{v:.5f}" for v in T)
                  + f"   {time.perf_counter() - begin:.0f} s", flush=True)
