"""A hot ellipse of plastisol in a block of mold, by spectral finite elements with SciPy.

Four-sided elements that follow the ellipse, polynomials of degree p on the Gauss-Lobatto nodes. With a contact conductance
the nodes on the ellipse are double and joined by an integral over the arc. Refined in degree and in elements until the
digits settle.

    python3 section_ellipse.py            perfect contact, then contact 1000 W/(m2 K)
    python3 section_ellipse.py --quick    without the finest level
    python3 section_ellipse.py --bench    for each one line of JSON: the fastest setting found within 0.1 % of the time
    python3 section_ellipse.py --search   the same, after a list of the settings that came close

Units: m, s, degC, W, J. One quarter of the section: both axes are mirrors.
"""
import sys
import time

from common import BAIT, MOLD, Body, choices, falls_to, fastest, lobatto, march

import numpy as np
from scipy.sparse import coo_matrix

A, B = 0.014, 0.008  # semi-axes of the ellipse
WIDTH, HEIGHT = 0.040, 0.030  # half of the block
STARTS = (25.0, 175.0)  # mold, bait
H, AIR = 10.0, 22.0
COLD = 50.0
END = 1000.0
TIMES = [60.0, 120.0, 300.0, 600.0]


def coons(bottom, top, left, right):
    """Map of the unit square onto four curves that meet at the corners."""
    c00, c10, c01, c11 = (f(np.array([s]))[0] for f in (bottom, top) for s in (0.0, 1.0))

    def points(u, v):
        """At arrays u and v of one shape; x and y along a last axis."""
        bottom_, top_, left_, right_ = bottom(u), top(u), left(v), right(v)
        u, v = u[..., None], v[..., None]
        p = (1 - v) * bottom_ + v * top_ + (1 - u) * left_ + u * right_
        return p - ((1 - u) * (1 - v) * c00 + u * (1 - v) * c10 + (1 - u) * v * c01 + u * v * c11)

    return points


def line(a, b):
    a, b = np.array(a), np.array(b)
    return lambda s: a + s[..., None] * (b - a)


def blocks():
    """(map, material, element faces along u and v graded?) : v grows away from or toward the ellipse."""
    q = np.pi / 4
    arc1 = lambda s: np.stack([A * np.cos(q * s), B * np.sin(q * s)], -1)
    arc2 = lambda s: np.stack([A * np.cos(q + q * s), B * np.sin(q + q * s)], -1)
    m = arc1(np.array([1.0]))[0]
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


class Section(Body):
    def __init__(self, n, p, contact):
        x, w, D = lobatto(p)
        m = p + 1
        points, material, outside, inside = [], [], [], []  # of each element
        for point, matter, where in blocks():
            us, vs = graded(n, None), graded(n, where)
            u = us[:-1, None] + np.diff(us)[:, None] * 0.5 * (x + 1)  # [element along u, node]
            v = vs[:-1, None] + np.diff(vs)[:, None] * 0.5 * (x + 1)
            shape = (n, n, m, m)
            points.append(point(np.broadcast_to(u[:, None, :, None], shape),
                                np.broadcast_to(v[None, :, None, :], shape)).reshape(-1, m, m, 2))
            j = np.tile(np.arange(n), n)
            material.append(np.full(n * n, matter))
            outside.append((matter == 0) & (j == n - 1))
            inside.append((matter == 0) & (j == 0))
        P, material, outside, inside = (np.concatenate(a) for a in (points, material, outside, inside))

        # nodes at one place are one node, but those of bait and of mold are two where a contact lies between
        key = np.rint(P.reshape(-1, 2) * 1e9).astype(np.int64)
        key = (key[:, 0] << 32) + 2 * key[:, 1] + (np.repeat(material, m * m) if contact else 0)
        _, chosen, ids = np.unique(key, return_index=True, return_inverse=True)
        ids = ids.reshape(-1, m, m)
        size = chosen.size

        xu, xv = np.einsum("ab,ebcd->eacd", D, P), np.einsum("cb,eabd->eacd", D, P)
        J = xu[..., 0] * xv[..., 1] - xu[..., 1] * xv[..., 0]
        W = np.outer(w, w) * np.abs(J)
        Du, Dv = np.kron(D, np.eye(m)), np.kron(np.eye(m), D)
        count = P.shape[0]
        f, a, b = J.reshape(count, -1, 1), xu.reshape(count, -1, 1, 2), xv.reshape(count, -1, 1, 2)
        Gx = (b[..., 1] * Du - a[..., 1] * Dv) / f
        Gy = (-b[..., 0] * Du + a[..., 0] * Dv) / f
        Ww = W.reshape(count, -1, 1) * np.array([MOLD["k"], BAIT["k"]])[material][:, None, None]
        K = Gx.transpose(0, 2, 1) @ (Ww * Gx) + Gy.transpose(0, 2, 1) @ (Ww * Gy)
        flat = ids.reshape(count, -1)
        rows, cols, vals = [np.repeat(flat, m * m, axis=1).ravel()], [np.tile(flat, m * m).ravel()], [K.ravel()]

        along = w * np.hypot(xu[..., 0], xu[..., 1]).transpose(0, 2, 1)  # [element, v, u]: weights of arcs along u
        loss = np.bincount(ids[outside][:, :, -1].ravel(), H * along[outside][:, -1].ravel(), size)
        rows.append(np.arange(size))
        cols.append(np.arange(size))
        vals.append(loss)
        if contact:
            outer = ids[inside][:, :, 0].ravel()
            inner = np.searchsorted(key[chosen], key[chosen[outer]] + 1)  # nodes are numbered by their key
            g = contact * along[inside][:, 0].ravel()
            rows += [outer, inner, outer, inner]
            cols += [outer, inner, inner, outer]
            vals += [g, g, -g, -g]
        cat = np.concatenate
        matrix = coo_matrix((cat(vals), (cat(rows), cat(cols))), (size, size)).tocsr()

        vm, vb = (np.bincount(ids[material == k].ravel(), W[material == k].ravel(), size) for k in (0, 1))
        self.area = vm.sum() + vb.sum(), vb.sum()
        C0 = vm * MOLD["rho"] * MOLD["c0"] + vb * BAIT["rho"] * BAIT["c0"]
        C1 = vb * BAIT["rho"] * BAIT["c1"]
        # a node shared by both materials starts at the temperature that holds the heat of its two parts
        E = vm * MOLD["rho"] * MOLD["c0"] * STARTS[0]
        E = E + vb * BAIT["rho"] * (BAIT["c0"] + 0.5 * BAIT["c1"] * STARTS[1]) * STARTS[1]
        start = 2 * E / (C0 + np.sqrt(C0**2 + 2 * C1 * E))
        self.center = int(np.argmin(np.hypot(*P.reshape(-1, 2)[chosen].T)))
        self.set(matrix, loss * AIR, C0, C1, start)


def demold(n, p, contact, method, tolerance, samples=50):
    s = Section(n, p, contact)
    times = np.linspace(0.0, END, samples + 1)
    return falls_to(times, march(s, s.start, times, tolerance, method)[:, s.center], COLD)


LEVELS = [(2, 4, 1e-6), (4, 4, 1e-7), (6, 4, 1e-7), (6, 5, 1e-8), (8, 5, 1e-8)]


def converge(levels):
    for contact in (None, 1000.0):
        print("perfect contact" if contact is None else f"contact {contact:g} W/(m2 K)")
        print("  n  p  nodes  demold time, s  center, degC, at " + ", ".join(f"{t:g}" for t in TIMES) + " s")
        for n, p, tolerance in levels:
            begin = time.perf_counter()
            s = Section(n, p, contact)
            assert abs(s.area[1] / (np.pi * A * B / 4) - 1) < 1e-3 and abs(s.area[0] / (WIDTH * HEIGHT) - 1) < 1e-3
            times = np.linspace(0.0, END, 401)
            center = march(s, s.start, times, tolerance, "BDF")[:, s.center]
            print(f"{n:3d}{p:3d}{s.size:7d}{falls_to(times, center, COLD):16.5f}  "
                  + "  ".join(f"{v:.5f}" for v in np.interp(TIMES, times, center))
                  + f"   {time.perf_counter() - begin:.0f} s", flush=True)


def bench(show):
    for contact, name in ((None, "perfect contact"), (1000.0, "contact 1000")):
        truth = demold(3, 4, contact, "BDF", 1e-6, 400)
        settings = choices(contact=[contact], n=[1], p=[2, 3, 4], method=["odeint", "LSODA", "BDF", "Radau"],
                           tolerance=[1e-2, 3e-3, 1e-3, 1e-4, 1e-5])
        settings += choices(contact=[contact], n=[1], p=[5], method=["odeint", "BDF"], tolerance=[1e-3, 1e-4])
        settings += choices(contact=[contact], n=[2], p=[2, 3], method=["odeint", "BDF"], tolerance=[1e-3, 1e-4])
        fastest(f"ellipse, {name}", demold, settings, lambda t: t / truth - 1, 1e-3, show)


if __name__ == "__main__":
    if "--bench" in sys.argv or "--search" in sys.argv:
        bench("--search" in sys.argv)
    else:
        converge(LEVELS[:-1] if "--quick" in sys.argv else LEVELS)
