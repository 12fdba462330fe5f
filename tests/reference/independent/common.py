"""What the scripts here share: bodies of boxes or of spectral elements, marching with SciPy, and a search for speed.

A body is C(T) dT/dt = load - K T, with C = C0 + C1 T a vector and K a matrix, whether its unknowns are the means of boxes
(finite volumes) or the values at nodes (elements of degree p on Gauss-Lobatto nodes, whose mass matrix is diagonal).
Shares no code and no formula with the engine. Units: m, s, degC, W, J.
"""
import itertools
import json
import os
import time
import warnings

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # bodies this small are slower by many threads

import numpy as np
from numpy.polynomial import legendre
from scipy.integrate import odeint, solve_ivp
from scipy.sparse import csr_matrix, diags, issparse

MOLD = dict(k=0.9, rho=1700.0, c0=1100.0, c1=0.0)
BAIT = dict(k=0.16, rho=1000.0, c0=1500.0, c1=2.5)  # specific heat c0 + c1 T
DENSE = 220  # up to this many unknowns a full matrix is the quicker one


# --- bodies ---------------------------------------------------------------------------------------------------------

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


def faces(length, n, fine_left, fine_right, b=2.2):
    """Faces of n parts of a length, finer toward the ends named, by a smooth map: halved parts nest."""
    s = np.linspace(0.0, 1.0, n + 1)
    if fine_left and fine_right:
        m = 0.5 * (1 + np.tanh(b * (2 * s - 1)) / np.tanh(b))
    elif fine_right:
        m = np.tanh(b * s) / np.tanh(b)
    elif fine_left:
        m = 1 - np.tanh(b * (1 - s)) / np.tanh(b)
    else:
        m = s
    return length * m


def line(length, kind, n, p, fine):
    """One layer of unit conductivity: widths (or weights) and K; the resistance from its end unknown to its face, twice."""
    f = faces(length, n, *fine)
    if kind == "boxes":
        w = np.diff(f)
        g = 2 / (w[1:] + w[:-1])
        K = np.diag(np.append(g, 0) + np.append(0, g)) - np.diag(g, 1) - np.diag(g, -1)
        return w, K, (w[0] / 2, w[-1] / 2)
    _, w, D = lobatto(p)
    size = n * p + 1
    widths, K = np.zeros(size), np.zeros((size, size))
    for i, h in enumerate(np.diff(f)):
        own = slice(i * p, i * p + p + 1)
        widths[own] += w * h / 2
        K[own, own] += (D.T * w) @ D * 2 / h
    return widths, K, (0.0, 0.0)


class Body:
    """C(T) dT/dt = load - K T."""

    def set(self, K, load, C0, C1, start, bandwidth=None):
        if issparse(K) and K.shape[0] <= DENSE:
            K = K.toarray()
        elif not issparse(K) and K.shape[0] > DENSE:
            K = csr_matrix(K)
        self.K, self.load, self.C0, self.C1, self.start, self.bandwidth = K, load, C0, C1, start, bandwidth
        self.size = start.size

    def rates(self, _t, T):
        return (self.load - self.K @ T) / (self.C0 + self.C1 * T)

    def jacobian(self, _t, T):
        C = self.C0 + self.C1 * T
        slope = self.C1 * (self.load - self.K @ T) / C**2
        if issparse(self.K):
            return (diags(-1 / C) @ self.K - diags(slope)).tocsc()
        J = self.K / -C[:, None]
        J.flat[:: J.shape[0] + 1] -= slope
        return J


class Layers(Body):
    """Layers (length, material, start) from a mirror at the left to air at the right, with a contact between each two."""

    def __init__(self, layers, contact, h, air, kind="boxes", n=20, p=1):
        parts = []
        for i, (length, m, _) in enumerate(layers):
            parts.append(line(length, kind, n, p, (i > 0, i < len(layers) - 1)))
        sizes = [w.size for w, _, _ in parts]
        self.first = np.concatenate([[0], np.cumsum(sizes)])
        size = self.first[-1]
        K, load = np.zeros((size, size)), np.zeros(size)
        C0, C1, start = np.zeros(size), np.zeros(size), np.zeros(size)
        for a, b, (w, own, _), (_, m, t0) in zip(self.first, self.first[1:], parts, layers):
            K[a:b, a:b] = m["k"] * own
            C0[a:b], C1[a:b], start[a:b] = w * m["rho"] * m["c0"], w * m["rho"] * m["c1"], t0
        ends = [(l / m["k"], r / m["k"]) for (_, _, (l, r)), (_, m, _) in zip(parts, layers)]
        self.hot_face = np.zeros(size)  # of the last layer, at its contact
        for i in range(1, len(layers)):
            b, a = self.first[i], self.first[i] - 1
            g = 1 / (ends[i - 1][1] + 1 / contact + ends[i][0])
            K[[a, b], [a, b]] += g
            K[[a, b], [b, a]] -= g
            self.hot_face[:] = 0
            self.hot_face[[a, b]] = g * ends[i][0], 1 - g * ends[i][0]
        g = 1 / (1 / h + ends[-1][1])
        K[-1, -1] += g
        load[-1] = g * air
        self.center = np.zeros(size)
        if kind == "boxes":  # the field is even about the mirror: a parabola in the distance through two means' centers
            w = parts[0][0]
            d1, d2 = w[0] / 2, w[0] + w[1] / 2
            self.center[:2] = d2**2 / (d2**2 - d1**2), -d1**2 / (d2**2 - d1**2)
        else:
            self.center[0] = 1
        self.set(K, load, C0, C1, start, 1 if kind == "boxes" else p)


# --- marching -------------------------------------------------------------------------------------------------------

METHODS = ("odeint", "odeint banded", "LSODA", "LSODA banded", "BDF", "Radau")


def march(body, start, times, tolerance, method, scale=150.0):
    """States at the times (the first is the start), one a row. odeint is LSODA with its steps taken in Fortran."""
    atol = tolerance * scale
    banded = method.endswith("banded") and body.bandwidth is not None
    if method.startswith("odeint"):
        how = dict(ml=body.bandwidth, mu=body.bandwidth) if banded else dict(Dfun=body.jacobian)
        y, told = odeint(body.rates, start, times, rtol=tolerance, atol=atol, tfirst=True, mxstep=100_000,
                         full_output=True, **how)
        assert told["message"] == "Integration successful.", told["message"]
        return y
    name = method.split()[0]
    how = dict(lband=body.bandwidth, uband=body.bandwidth) if banded else dict(jac=body.jacobian)
    r = solve_ivp(body.rates, (times[0], times[-1]), start, method=name, t_eval=times, rtol=tolerance, atol=atol, **how)
    assert r.success, r.message
    return r.y.T


def falls_to(times, values, level):
    """When sampled values first fall to a level: a cubic through the four samples about it, inverted."""
    k = int(np.argmax(values < level))
    assert k > 0, "the level is not reached"
    a = min(max(k - 2, 0), len(times) - 4)
    t, v = times[a:a + 4], values[a:a + 4]
    return sum(t[i] * np.prod([(level - v[j]) / (v[i] - v[j]) for j in range(4) if j != i]) for i in range(4))


def peak(times, values):
    """Largest value and its time: the quartic through the largest sample and its two neighbors on each side."""
    k = min(max(int(np.argmax(values)), 2), len(times) - 3)
    t, v = times[k - 2:k + 3], values[k - 2:k + 3]
    unit = t[4] - t[0]
    p = np.polyfit((t - t[2]) / unit, v, 4)
    at = 0.0
    for _ in range(8):  # Newton's method for the zero of its slope
        at -= np.polyval(np.polyder(p), at) / np.polyval(np.polyder(p, 2), at)
    assert abs(at) <= 0.5, "no peak among the samples"
    return float(np.polyval(p, at)), float(t[2] + at * unit)


# --- speed ----------------------------------------------------------------------------------------------------------

def choices(**values):
    return [dict(zip(values, v)) for v in itertools.product(*values.values())]


def fastest(problem, solve, settings, miss, allowed, show=False):
    """Try every setting, time those that are accurate enough, and print the fastest as one line of JSON.

    solve(**setting) does all that a call needs (grid, matrices, marching); miss(answer) is the error that is judged.
    """
    warnings.simplefilter("ignore")
    tried = []
    for setting in settings:
        begin = time.perf_counter()
        try:
            error = miss(solve(**setting))
            took = time.perf_counter() - begin
            # the errors of grid and steps must not merely cancel
            if abs(error) <= allowed:
                finer = miss(solve(**{**setting, "tolerance": setting["tolerance"] / 30}))
                if abs(finer) > allowed:
                    continue
        except (AssertionError, ValueError, ArithmeticError, np.linalg.LinAlgError, NotConverged):
            continue
        tried.append([took, error, setting])
    good = sorted((t for t in tried if abs(t[1]) <= allowed), key=lambda t: t[0])
    if show:
        for s, error, setting in good[:25]:
            print(f"{1e3 * s:9.2f} ms  error {error:9.2e}  {setting}")
    rounds = []
    for took, error, setting in good[:8]:
        for _ in range(15):
            begin = time.perf_counter()
            solve(**setting)
            took = min(took, time.perf_counter() - begin)
        rounds.append((took, error, setting))
    took, error, setting = min(rounds, key=lambda r: r[0])
    words = ", ".join(v if isinstance(v, str) else f"{k} {v:g}" for k, v in setting.items() if v is not None)
    print(json.dumps(dict(problem=problem, ms=1e3 * took, error=error, setting=words, tried=len(settings),
                          accurate=len(good))), flush=True)


class NotConverged(Exception):
    """A fixed point that was not found."""


def quickest(problem, solve, settings, miss, allowed, show=False):
    """The same where a solver tells its own time: solve(**setting) gives (answer, ms of the solution, ms of mesh and space)."""
    tried = []
    for setting in settings:
        try:
            answer, ms, mesh_ms = solve(**setting)
            error = miss(answer)
            if abs(error) > allowed:
                continue
            finer, *_ = solve(**{**setting, "tolerance": setting["tolerance"] / 30})
            if abs(miss(finer)) <= allowed:
                tried.append([ms, error, mesh_ms, setting])
        except (AssertionError, ValueError, ArithmeticError):
            continue
    tried.sort(key=lambda t: t[0])
    if show:
        for ms, error, mesh_ms, setting in tried[:25]:
            print(f"{ms:9.2f} ms  mesh {mesh_ms:7.2f} ms  error {error:9.2e}  {setting}")
    for row in tried[:6]:
        for _ in range(8):
            _, ms, mesh_ms = solve(**row[3])
            row[0], row[2] = min(row[0], ms), min(row[2], mesh_ms)
    ms, error, mesh_ms, setting = min(tried[:6], key=lambda t: t[0])
    words = ", ".join(f"{k} {v:g}" for k, v in setting.items() if not isinstance(v, str) and v is not None)
    print(json.dumps(dict(problem=problem, ms=ms, mesh_ms=mesh_ms, error=error, setting=words, tried=len(settings),
                          accurate=len(tried))), flush=True)
