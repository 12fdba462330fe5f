"""Whole answers computed again: from a job's own keys and the catalog's material data to the number at the bench.

Sections by spectral elements that follow the outline (curved quadrilaterals of degree p on Gauss-Lobatto nodes), backward
differences of variable order in time (SciPy's BDF). Nodes of bait and mold are double on their interface and joined by the
contact conductance. Written from the equations; reads data/reference/whole-answers-jobs.json and data/materials only, no heat problem that
the library has made.

    python3 whole_answers.py            all jobs, coarse and fine; prints whole-answers.json
    python3 whole_answers.py NAME ...   those whose name contains a word

What it shares with the library is what both model, as the answers say it:
 - the bait fills a section of a block whose two halves are alike: one quarter is solved; the block ends `wall` beside
   and above the cavity; all starts at once, the plastic at `shot.temperature`, the mold at the room's (or its own);
 - the filled cavity keeps the mass it has when the plastic sets; k and cp follow the catalog's tables in T;
 - air: Churchill and Chu for a standing face as high as the block, at 25 K over the room (50 K for an open cavity, 15 K
   for a pour), with radiation; a level face by McAdams;
 - an open mold lies with its cavity in the air, its parting face (a mirror here) loses nothing;
 - the ends of a section of finite length take heat as the slowest mode of a bar that long would (the library takes the
   parabola's 1/3 instead; the slowest mode is taken here so that the approximation is tried, too);
 - a color may be followed when its hottest place has set, as long as the interface, up to half of its half-width, is hot
   enough 0.2 s after the meeting or later, and heals enough from then on;
 - a pour: box without masters, cut across its middle, on clay and bench no wider than the box.

Its own: the properties of air by Sutherland's law; rates of cure evaluated as published; the cup of a pot life as one
lump (as high as wide, 10 W/(m2 K)), integrated here; peaks and crossings from the dense output of the time stepper.
Units: m, s, K, W, J.
"""
import json
import os
import re
import sys
import time

from common import lobatto

import numpy as np
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq
from scipy.sparse import bmat, coo_matrix, diags

HERE = os.path.dirname(os.path.abspath(__file__))
MATERIALS = os.path.join(HERE, "../../../data/materials")
SIGMA, R_GAS, ZERO = 5.670374e-8, 8.314462618, 273.15


# --- inputs ---------------------------------------------------------------------------------------------------------

UNITS = {"mm": 1e-3, "s": 1.0, "min": 60.0, "h": 3600.0, "g": 1e-3, "W/(m^2 K)": 1.0, "%": 0.01}


def si(text):
    number, unit = re.fullmatch(r"\s*([-\d.]+)\s*(.*)", text).groups()
    if unit == "degC":
        return float(number) + ZERO
    return float(number) * (UNITS[unit] if unit else 1.0)


def catalog():
    entries = {}
    for name in os.listdir(MATERIALS):
        with open(os.path.join(MATERIALS, name)) as f:
            data = json.load(f)
        if isinstance(data, list):
            entries.update({e["name"]: e for e in data})
        else:
            entries.update({"law " + e["name"]: e for e in data.get("laws", [])})
    return entries


CATALOG = catalog()


class Law:
    """A property over the temperature: linear between the catalog's points, constant outside."""

    def __init__(self, entry):
        by = entry.get("byDegC", [[0, 1.0]])
        self.T = np.array([p[0] for p in by]) + ZERO
        self.v = entry["value"] * np.array([p[1] for p in by])

    def __call__(self, T):
        return np.interp(T, self.T, self.v)

    @property
    def constant(self):
        return self.v.size == 1


class Matter:
    def __init__(self, name, rho_at=None):
        e = CATALOG[name]
        self.k, self.cp, rho = Law(e["conductivity"]), Law(e["specificHeat"]), Law(e["density"])
        self.rho = float(rho(rho_at if rho_at is not None else 293.15))
        self.emissivity = e["emissivity"]["value"]
        self.entry = e


# --- air ------------------------------------------------------------------------------------------------------------

def air_properties(T):
    """Dry air at 1 atm: Sutherland's law for viscosity and conductivity, ideal gas."""
    mu = 1.716e-5 * (T / 273.15) ** 1.5 * (273.15 + 110.4) / (T + 110.4)
    k = 0.0241 * (T / 273.15) ** 1.5 * (273.15 + 194.0) / (T + 194.0)
    rho = 101325.0 / (287.05 * T)
    return k, mu / rho, mu * 1006.0 / k


def still_air(facing, length, above, room):
    """Convection, W/(m2 K), of a face warmer than the air by `above`."""
    film = room + above / 2
    k, nu, Pr = air_properties(film)
    Ra = 9.80665 / film * above * length**3 * Pr / nu**2
    if facing == "side":  # Churchill & Chu 1975, laminar
        Nu = 0.68 + 0.670 * Ra**0.25 / (1 + (0.492 / Pr) ** (9 / 16)) ** (4 / 9)
    elif facing == "up":  # McAdams
        Nu = 0.54 * Ra**0.25 if Ra < 2e7 else 0.15 * Ra ** (1 / 3)
    else:
        Nu = 0.27 * Ra**0.25
    return Nu * k / length


def radiation(emissivity, above, room):
    return emissivity * SIGMA * ((room + above) ** 4 - room**4) / above


def end_loss(k, h, length):
    """W/(m3 K) that a bar as long loses through its two ends in its slowest mode: b tan b = h L / (2 k)."""
    Bi = h * length / (2 * k)
    b = brentq(lambda x: x * np.tan(x) - Bi, 1e-9, np.pi / 2 - 1e-9)
    return k * (2 * b / length) ** 2


# --- spectral elements ----------------------------------------------------------------------------------------------

def line(a, b):
    a, b = np.array(a, float), np.array(b, float)
    return lambda s: a + s[..., None] * (b - a)


def coons(bottom, top, left, right):
    c00, c10, c01, c11 = (f(np.array([s]))[0] for f in (bottom, top) for s in (0.0, 1.0))

    def points(u, v):
        b, t, l, r = bottom(u), top(u), left(v), right(v)
        u, v = u[..., None], v[..., None]
        return ((1 - v) * b + v * t + (1 - u) * l + u * r
                - ((1 - u) * (1 - v) * c00 + u * (1 - v) * c10 + (1 - u) * v * c01 + u * v * c11))

    return points


def rectangle(x0, x1, y0, y1):
    return coons(line((x0, y0), (x1, y0)), line((x0, y1), (x1, y1)), line((x0, y0), (x0, y1)), line((x1, y0), (x1, y1)))


def graded(n, where):
    """Element ends on 0..1, finer toward 0 ("start"), 1 ("end"), both, or even (None)."""
    s = np.linspace(0, 1, n + 1)
    g = np.sinh(2.5 * s) / np.sinh(2.5)
    if where == "start":
        return g
    if where == "end":
        return 1 - g[::-1]
    if where == "both":
        return 0.5 * (1 + np.tanh(2.0 * (2 * s - 1)) / np.tanh(2.0))
    return s


class Mesh:
    """Blocks (map, region, (elements and grading along u), (along v)). Sides are found by where they lie."""

    def __init__(self, blocks, p):
        x, w, D = lobatto(p)
        m = p + 1
        P, region = [], []
        for point, name, (nu, gu), (nv, gv) in blocks:
            us, vs = graded(nu, gu), graded(nv, gv)
            u = us[:-1, None] + np.diff(us)[:, None] * 0.5 * (x + 1)
            v = vs[:-1, None] + np.diff(vs)[:, None] * 0.5 * (x + 1)
            shape = (nu, nv, m, m)
            P.append(point(np.broadcast_to(u[:, None, :, None], shape),
                           np.broadcast_to(v[None, :, None, :], shape)).reshape(-1, m, m, 2))
            region += [name] * (nu * nv)
        self.P, self.region = np.concatenate(P), np.array(region)
        P = self.P
        xu, xv = np.einsum("ab,ebcd->eacd", D, P), np.einsum("cb,eabd->eacd", D, P)
        J = xu[..., 0] * xv[..., 1] - xu[..., 1] * xv[..., 0]
        count = P.shape[0]
        self.W = (np.outer(w, w) * np.abs(J)).reshape(count, -1)
        Du, Dv = np.kron(D, np.eye(m)), np.kron(np.eye(m), D)
        f, a, b = J.reshape(count, -1, 1), xu.reshape(count, -1, 1, 2), xv.reshape(count, -1, 1, 2)
        self.Gx = (b[..., 1] * Du - a[..., 1] * Dv) / f
        self.Gy = (-b[..., 0] * Du + a[..., 0] * Dv) / f
        # edges of every element: nodes and lengths
        grid = np.arange(m * m).reshape(m, m)
        lu, lv = np.hypot(xu[..., 0], xu[..., 1]), np.hypot(xv[..., 0], xv[..., 1])
        self.edges = []  # (element, nodes within it, weights)
        for e in range(count):
            for nodes, along in ((grid[:, 0], lu[e, :, 0]), (grid[:, -1], lu[e, :, -1]),
                                 (grid[0], lv[e, 0]), (grid[-1], lv[e, -1])):
                self.edges.append((e, nodes, w * along))

    def number(self, joined):
        """Nodes at one place are one where their regions are of one name in `joined`."""
        group = {r: i for i, r in enumerate(sorted({joined.get(r, r) for r in self.region}))}
        g = np.array([group[joined.get(r, r)] for r in self.region])
        count, n2 = self.P.shape[0], self.W.shape[1]
        flat = np.rint(self.P.reshape(-1, 2) * 1e9).astype(np.int64)
        key = np.concatenate([flat, np.repeat(g, n2)[:, None]], axis=1)
        _, chosen, ids = np.unique(key, axis=0, return_index=True, return_inverse=True)
        self.ids = ids.reshape(count, n2)
        self.size = chosen.size
        self.xy = self.P.reshape(-1, 2)[chosen]


class Section:
    """C(T) dT/dt = flows, over those regions that are there.

    matter: region -> Matter. faces: list of (test of an edge's middle, region, h, ambient, emissivity). contacts: list of
    (region, region, W/(m2 K)). ends: region -> W/(m3 K) toward `room`.
    """

    def __init__(self, mesh, matter, faces, contacts=(), ends=None, room=293.15, absent=(), cure=None):
        self.mesh, self.room, self.cure = mesh, room, cure
        here = ~np.isin(mesh.region, list(absent))
        self.here = here
        n = mesh.size
        rows, cols, vals = [], [], []
        self.varying = []  # (ids, Gx, Gy, W, matter) of elements whose k follows T
        self.capacities = []  # (matter, volumes at nodes)
        self.sink = np.zeros(n)
        for r, m in matter.items():
            mine = (mesh.region == r) & here
            if not mine.any():
                continue
            ids, W, Gx, Gy = mesh.ids[mine], mesh.W[mine], mesh.Gx[mine], mesh.Gy[mine]
            volume = np.bincount(ids.ravel(), W.ravel(), n)
            self.capacities.append((m, volume))
            if ends:
                self.sink += ends[r] * volume
            if m.k.constant:
                K = Gx.transpose(0, 2, 1) @ (W[..., None] * Gx) + Gy.transpose(0, 2, 1) @ (W[..., None] * Gy)
                n2 = ids.shape[1]
                rows.append(np.repeat(ids, n2, axis=1).ravel())
                cols.append(np.tile(ids, n2).ravel())
                vals.append((m.k.v[0] * K).ravel())
            else:
                self.varying.append((ids, Gx, Gy, W, m))
        self.faces = []
        for test, r, h, ambient, emissivity in faces:
            weight = np.zeros(n)
            for e, nodes, along in mesh.edges:
                if mesh.region[e] == r and here[e] and test(mesh.P[e].reshape(-1, 2)[nodes]):
                    np.add.at(weight, mesh.ids[e][nodes], along)
            assert weight.sum() > 0, r
            self.faces.append((weight, h, ambient, emissivity))
        place = {}
        for e, nodes, along in mesh.edges:
            if here[e]:
                middle = tuple(np.rint(mesh.P[e].reshape(-1, 2)[nodes].mean(axis=0) * 1e8).astype(int))
                place.setdefault(middle, []).append((e, nodes, along))
        for a, b, g in contacts:
            found = 0
            for pair in place.values():
                if len(pair) == 2 and {mesh.region[p[0]] for p in pair} == {a, b}:
                    (e1, n1, along), (e2, n2, _) = pair
                    i, j = mesh.ids[e1][n1], mesh.ids[e2][n2]
                    if np.hypot(*(mesh.xy[i] - mesh.xy[j]).T).max() > 1e-8:
                        j = j[::-1]
                    assert np.hypot(*(mesh.xy[i] - mesh.xy[j]).T).max() < 1e-8
                    c = g * along
                    rows += [i, j, i, j]
                    cols += [i, j, j, i]
                    vals += [c, c, -c, -c]
                    found += 1
            assert found or a in absent or b in absent, (a, b)
        cat = np.concatenate
        self.K = coo_matrix((cat(vals), (cat(rows), cat(cols))), (n, n)).tocsr() if vals else coo_matrix((n, n)).tocsr()
        total = sum(v for _, v in self.capacities)
        self.active = total > 0
        self.cell = np.concatenate([mesh.ids[here].ravel()])

    def capacity(self, T):
        C = np.where(self.active, 0.0, 1.0)
        for m, volume in self.capacities:
            C = C + m.rho * m.cp(T) * volume
        return C

    def power(self, T):
        q = -(self.K @ T) - self.sink * (T - self.room)
        for ids, Gx, Gy, W, m in self.varying:
            Te = T[ids]
            k = W * m.k(Te)
            r = (Gx.transpose(0, 2, 1) @ (k * (Gx @ Te[..., None])[..., 0])[..., None]
                 + Gy.transpose(0, 2, 1) @ (k * (Gy @ Te[..., None])[..., 0])[..., None])[..., 0]
            q -= np.bincount(ids.ravel(), r.ravel(), q.size)
        for weight, h, ambient, emissivity in self.faces:
            q -= weight * (h * (T - ambient) + emissivity * SIGMA * (T**4 - ambient**4))
        return np.where(self.active, q, 0.0)

    def matrix(self, T):
        """-d(power)/dT, conductivities held."""
        K = self.K + diags(self.sink)
        for ids, Gx, Gy, W, m in self.varying:
            k = (W * m.k(T[ids]))[..., None]
            E = Gx.transpose(0, 2, 1) @ (k * Gx) + Gy.transpose(0, 2, 1) @ (k * Gy)
            n2 = ids.shape[1]
            K = K + coo_matrix((E.ravel(), (np.repeat(ids, n2, axis=1).ravel(), np.tile(ids, n2).ravel())), K.shape)
        for weight, h, _, emissivity in self.faces:
            K = K + diags(weight * (h + 4 * emissivity * SIGMA * T**3))
        return K.tocsr()

    def nodes(self, region):
        return np.unique(self.mesh.ids[self.mesh.region == region])

    def run(self, T0, until, rtol, stop=None):
        """March; `stop(T)` falls through zero at the end. Returns SciPy's result with dense output."""
        events = None
        if stop:
            def event(_t, y):
                return stop(y)
            event.terminal, event.direction = True, -1
            events = [event]
        r = solve_ivp(lambda _t, T: self.power(T) / self.capacity(T), (0.0, until), T0, method="BDF",
                      jac=lambda _t, T: (diags(-1 / self.capacity(T)) @ self.matrix(T)).tocsc(),
                      rtol=rtol, atol=rtol * 150, dense_output=True, events=events)
        assert r.success, r.message
        return r


def mixed_start(section, starts):
    """Nodes that two regions share start where they hold the heat of both parts (their capacities taken alike)."""
    mesh = section.mesh
    weight, heat = np.zeros(mesh.size), np.zeros(mesh.size)
    for r, T in starts.items():
        mine = mesh.region == r
        v = np.bincount(mesh.ids[mine].ravel(), mesh.W[mine].ravel(), mesh.size)
        weight += v
        heat += v * T
    return heat / weight


# --- a bait in its block --------------------------------------------------------------------------------------------

def quarter(form, a, b, W, H, n):
    """Blocks of a quarter of the section: regions bait and mold."""
    if form == "flat":
        fine = (n + 1, "end")
        along = (2 * n, "end")
        return [
            (rectangle(0, a, 0, b), "bait", along, fine),
            (rectangle(0, a, b, H), "mold", along, (2 * n, "start")),
            (rectangle(a, W, 0, b), "mold", (2 * n, "start"), fine),
            (rectangle(a, W, b, H), "mold", (2 * n, "start"), (2 * n, "start")),
        ]
    q = np.pi / 4
    arc1 = lambda s: np.stack([a * np.cos(q * s), b * np.sin(q * s)], -1)
    arc2 = lambda s: np.stack([a * np.cos(q + q * s), b * np.sin(q + q * s)], -1)
    m = arc1(np.array([1.0]))[0]
    cx, cy, cm = (0.5 * a, 0.0), (0.0, 0.5 * b), tuple(0.53 * m)
    corner, side, roof = (W, H), (W, 0.0), (0.0, H)
    even, inward, outward = (n, None), (n + 1, "end"), (2 * n, "start")
    return [
        (coons(line((0, 0), cx), line(cy, cm), line((0, 0), cy), line(cx, cm)), "bait", even, even),
        (coons(line(cx, cm), arc1, line(cx, (a, 0)), line(cm, m)), "bait", even, inward),
        (coons(line(cm, cy), arc2, line(cm, m), line(cy, (0, b))), "bait", even, inward),
        (coons(arc1, line(side, corner), line((a, 0), side), line(m, corner)), "mold", even, outward),
        (coons(arc2, line(corner, roof), line(m, corner), line((0, b), roof)), "mold", even, outward),
    ]


class Bench:
    """What a job says of bait, mold and room."""

    def __init__(self, job):
        self.job = job
        bait, mold = job["bait"], job["mold"]
        self.form = bait["form"]
        self.b = si(bait["thickness"]) / 2
        self.a = si(bait["width"]) / 2 if "width" in bait else self.b
        wall = si(mold["wall"])
        self.W, self.H = self.a + wall, self.b + wall
        self.room = si(job["room"]["temperature"])
        self.start = si(mold["temperature"]) if "temperature" in mold else self.room
        self.shot = si(job["shot"]["temperature"])
        self.limit = si(job["limits"]["demold"])
        entry = CATALOG[job["shot"]["material"]]
        self.set = entry["plastisol"]["setTemperature"]["value"] + ZERO
        self.plastic = Matter(job["shot"]["material"], rho_at=self.set)
        self.mold = Matter(mold["material"])
        self.contact = si(mold["contact"])
        high = 2 * self.H
        self.h = still_air("side", high, 25.0, self.room)
        self.h_open = still_air("side", high, 50.0, self.room)
        whole = self.h + radiation(self.mold.emissivity, 25.0, self.room)
        length = si(mold["length"])
        self.ends = {"mold": end_loss(float(self.mold.k(323.15)), whole, length),
                     "bait": end_loss(float(self.plastic.k(323.15)), whole, length)}

    def outer(self, region="mold"):
        def test(P):
            return (np.abs(P[:, 0] - self.W) < 1e-9).all() or (np.abs(np.abs(P[:, 1]) - self.H) < 1e-9).all()
        return (test, region, self.h, self.room, self.mold.emissivity)


class Quarter:
    def __init__(self, bench, n, p, rtol):
        self.bench, self.rtol = bench, rtol
        mesh = Mesh(quarter(bench.form, bench.a, bench.b, bench.W, bench.H, n), p)
        mesh.number({})
        matter = {"bait": bench.plastic, "mold": bench.mold}
        self.closed = Section(mesh, matter, [bench.outer()], [("bait", "mold", bench.contact)], bench.ends, bench.room)

        def cavity(P):
            x, y = P[:, 0], P[:, 1]
            if bench.form == "flat":
                right = (np.abs(x - bench.a) < 1e-9).all() and (y < bench.b + 1e-9).all()
                return right or ((np.abs(y - bench.b) < 1e-9).all() and (x < bench.a + 1e-9).all())
            return (np.abs((x / bench.a) ** 2 + (y / bench.b) ** 2 - 1) < 1e-6).all()

        face = (cavity, "mold", bench.h_open, bench.room, bench.plastic.emissivity)
        self.open = Section(mesh, matter, [bench.outer(), face], (), bench.ends, bench.room, absent=["bait"])
        self.bait = self.closed.nodes("bait")
        at = np.array([cavity(xy[None]) for xy in mesh.xy])
        self.cavity = np.setdiff1d(np.flatnonzero(at), self.bait)
        self.mesh = mesh

    def first(self):
        T = np.full(self.mesh.size, self.bench.start)
        return T

    def shoot(self, T):
        """One shot into a mold with temperatures T: time, hottest of the cavity face, state at opening."""
        T = T.copy()
        T[self.bait] = self.bench.shot
        r = self.closed.run(T, 6 * 3600.0, self.rtol, lambda y: y[self.bait].max() - self.bench.limit)
        t = r.t_events[0][0]
        times = np.geomspace(0.05, t, 600)
        return t, r.sol(times)[self.cavity].max(), r.sol(t)

    def lie_open(self, T, duration):
        return self.open.run(T, duration, self.rtol).y[:, -1]


def demold(job, n, p, rtol):
    q = Quarter(Bench(job), n, p, rtol)
    time_, _, _ = q.shoot(q.first())
    return {"demold": [time_, "s"]}


def shots(job, n, p, rtol):
    q = Quarter(Bench(job), n, p, rtol)
    open_ = si(job["run"]["open"])
    T, times, peaks = q.first(), [], []
    # the mold is warm for good when a straight line through its last changes says so
    for shot in range(400):
        t, peak, T = q.shoot(T)
        times.append(t)
        peaks.append(peak)
        T = q.lie_open(T, open_)
        if shot > 6:
            d1, d2 = times[-1] - times[-2], times[-2] - times[-3]
            ratio = d1 / d2 if d2 else 0.0
            rest = d1 * ratio / (1 - ratio) if 0 < ratio < 1 else 0.0
            if abs(rest) < 2e-3 * times[-1] and abs(d1) < 1e-3 * times[-1]:
                p1, p2 = peaks[-1] - peaks[-2], peaks[-2] - peaks[-3]
                share = p1 / p2 if p2 else 0.0
                more = p1 * share / (1 - share) if 0 < share < 1 else 0.0
                return {"first": [times[0], "s"], "third": [times[2], "s"], "settled": [times[-1] + rest, "s"],
                        "settled face": [peaks[-1] + more - ZERO, "degC"], "marched": shot + 1}
    raise AssertionError("not settled")


# --- two colors -----------------------------------------------------------------------------------------------------

PARTING_LINE = 500.0
LASTS, MEETING = 0.2, 25.0


def layer(job, n, p, rtol):
    """The first color fills the lower half of a round cavity to the parting line."""
    s = Bench(job)
    depth = si(job["layer"]["depth"])
    assert s.form == "round" and abs(depth - s.b) < 1e-12
    upper = quarter("round", s.a, s.b, s.W, s.H, n)
    flip = lambda point: (lambda u, v: point(u, v) * np.array([1.0, -1.0]))
    names = {"bait": "first", "mold": "lower"}
    blocks = [(flip(m), names[r], nu, nv) for m, r, nu, nv in upper]
    blocks += [(m, {"bait": "second", "mold": "upper"}[r], nu, nv) for m, r, nu, nv in upper]
    mesh = Mesh(blocks, p)
    mesh.number({"first": "plastic", "second": "plastic"})
    matter = {"first": s.plastic, "second": s.plastic, "lower": s.mold, "upper": s.mold}
    ends = {r: s.ends["mold" if m is s.mold else "bait"] for r, m in matter.items()}
    level = lambda P: (np.abs(P[:, 1]) < 1e-9).all()
    exposed = [(level, r, s.h_open, s.room, s.plastic.emissivity) for r in ("first", "lower")]
    open_ = Section(mesh, matter, [s.outer("lower"), *exposed], [("first", "lower", s.contact)], ends, s.room,
                    absent=["second", "upper"])
    closed = Section(mesh, matter, [s.outer("lower"), s.outer("upper")],
                     [("first", "lower", s.contact), ("second", "upper", s.contact), ("lower", "upper", PARTING_LINE)],
                     ends, s.room)
    first = open_.nodes("first")
    T = np.full(mesh.size, s.start)
    T[first] = s.shot if "temperature" not in job["layer"] else si(job["layer"]["temperature"])
    lies = open_.run(T, 900.0, rtol, lambda y: y[first].max() - 340.0)
    hottest = lambda t: lies.sol(t)[first].max()
    set_ = si(job["limits"]["set"])
    opens = brentq(lambda t: hottest(t) - set_, 1.0, lies.t[-1])

    second = np.unique(mesh.ids[mesh.region == "second"])
    lone = np.setdiff1d(second, first)
    both = np.intersect1d(second, first)
    hot = si(job["layer"]["second"]["temperature"])
    at = [i for i in both if mesh.xy[i, 0] < 0.5 * s.a + 1e-9]
    traits = s.plastic.entry["plastisol"]
    tw0, Tw, Ew = traits["healingTime"]["value"], traits["healingAtDegC"] + ZERO, traits["healingEnergy"]["value"] * 1e3
    bond, healing = si(job["limits"]["bond"]), si(job["layer"]["healing"])
    known = {}

    def meet(t):
        """Least over the interface of the hottest moment and of the degree of healing."""
        if t not in known:
            y = lies.sol(t)
            upper = np.setdiff1d(np.arange(mesh.size), np.concatenate([open_.cell, second]))
            y[upper] = s.start
            y[lone] = hot
            y[both] = 0.5 * (y[both] + hot)
            r = closed.run(y, MEETING, rtol)
            times = np.linspace(LASTS, MEETING, 1500)
            seen = r.sol(times)[at]
            rate = np.exp(-Ew / R_GAS * (1 / seen - 1 / Tw)) / tw0
            healed = np.minimum(1, np.trapezoid(rate, times, axis=1) ** 0.25)
            known[t] = seen.max(axis=1).min(), healed.min()
        return known[t]

    margin = lambda t: min(meet(t)[0] - bond, 50 * (meet(t)[1] - healing))
    closes = brentq(margin, 2.0, 0.95 * lies.t[-1], xtol=0.05)
    return {"opens": [opens, "s"], "closes": [closes, "s"]}


# --- a pour ---------------------------------------------------------------------------------------------------------

class Cure:
    """(k1 + k2 a)(1-a)^2 of an epoxy, slowed where its glass transition is 12 K over its temperature."""

    def __init__(self, resin, scale=1.0):
        law = CATALOG["law " + resin["law"]]
        assert law["law"] == "autocatalytic" and law["unit"] == "1/s"
        self.law, self.scale = law, scale
        self.g0, self.g1 = resin["glassUncured"]["value"] + ZERO, resin["glassCured"]["value"] + ZERO
        self.lam = resin["glassCurvature"]["value"]

    def rate(self, a, T):
        law = self.law
        a = np.clip(a, 0.0, 1.0)
        k1 = law["A1"] * np.exp(-1e3 * law["E1"] / (R_GAS * T))
        k2 = law["A2"] * np.exp(-1e3 * law["E2"] / (R_GAS * T))
        up = T + 12.0 - self.g0
        glassy = up / (self.lam * (self.g1 - self.g0) + (1 - self.lam) * up)  # DiBenedetto, solved for the cure
        cap = 1 / (1 + np.exp(np.clip(30.0 * (a - glassy), -500, 500)))
        return self.scale * (k1 + k2 * a ** law["m"]) * (1 - a) ** law["n"] * cap


def calibrated(pour, matter, heat):
    """The law whose thin film, or whose cup, gels when the data sheet says."""
    resin = matter.entry["resin"]
    gel = resin["gelCure"]["value"]
    one = Cure(resin)
    if "thinFilm" in pour:
        T, wanted = si(pour["thinFilm"]["at"]), si(pour["thinFilm"]["time"])
        took = quad(lambda a: 1 / one.rate(a, T), 0, gel, limit=200)[0]
        return Cure(resin, took / wanted)
    life = pour["potLife"]
    mass, T, wanted = si(life["mass"]), si(life["at"]), si(life["time"])
    d = (4 * mass / matter.rho / np.pi) ** (1 / 3)
    area, cp = 1.5 * np.pi * d * d, float(matter.cp(T))

    def gels(scale):
        law = Cure(resin, scale)
        f = lambda _t, y: [law.rate(y[0], y[1]),
                           (mass * heat * law.rate(y[0], y[1]) - 10.0 * area * (y[1] - T)) / (mass * cp)]
        stop = lambda _t, y: y[0] - gel
        stop.terminal = True
        r = solve_ivp(f, (0, 100 * wanted), [0.0, T], method="LSODA", rtol=1e-8, atol=1e-8, events=[stop])
        return r.t_events[0][0] if r.t_events[0].size else 100 * wanted

    log = brentq(lambda x: np.log(gels(np.exp(x)) / wanted), -5, 5, xtol=1e-6)
    return Cure(resin, np.exp(log))


def pour(job, n, p, rtol):
    room, given = si(job["room"]["temperature"]), job["pour"]
    box, clay, bench = given["box"], given["clay"], given["bench"]
    depth, stock = si(given["depth"]), si(given["stock"])
    half, wall, length = si(box["width"]) / 2, si(box["wall"]), si(box["length"])
    y1 = si(bench["thickness"])
    y2 = y1 + si(clay["thickness"])
    y3 = y2 + depth
    x2 = half + wall
    matter = {"bench": Matter(bench["material"]), "bed": Matter(clay["material"]), "resin": Matter(given["material"]),
              "box": Matter(box["material"])}
    resin = matter["resin"]
    share = 1 - resin.entry["filler"]["massShare"]["value"]
    heat = 1e3 * resin.entry["resin"]["heatOfReaction"]["value"] * share
    cure = calibrated(given, resin, heat)
    across, beside = (2 * n, "end"), (n, None)
    tall = (2 * n, "both")
    mesh = Mesh([
        (rectangle(0, half, 0, y1), "bench", across, (n, "end")),
        (rectangle(half, x2, 0, y1), "bench", beside, (n, "end")),
        (rectangle(0, half, y1, y2), "bed", across, (n, "end")),
        (rectangle(half, x2, y1, y2), "box", beside, (n, "end")),
        (rectangle(0, half, y2, y3), "resin", across, tall),
        (rectangle(half, x2, y2, y3), "box", beside, tall),
    ], p)
    mesh.number({r: "all" for r in matter})
    wide = length * 2 * half / (2 * (length + 2 * half))
    h_top, h_under = still_air("up", wide, 15.0, room), still_air("down", wide, 15.0, room)
    h_side = still_air("side", si(clay["thickness"]) + depth, 15.0, room)
    top = lambda P: (np.abs(P[:, 1] - y3) < 1e-9).all()
    side = lambda P: (np.abs(P[:, 0] - x2) < 1e-9).all()
    under = lambda P: (np.abs(P[:, 1]) < 1e-9).all()
    e_box, e_bench = matter["box"].emissivity, matter["bench"].emissivity
    faces = [(top, "resin", h_top, room, resin.emissivity), (top, "box", h_top, room, e_box),
             (side, "box", h_side, room, e_box), (side, "bench", h_side, room, e_box),
             (under, "bench", h_under, room, e_bench)]
    h_end = 1 / (1 / (h_side + radiation(e_box, 15.0, room)) + wall / matter["box"].k.v[0])
    ends = {r: end_loss(m.k.v[0], h_end, length) for r, m in matter.items()}
    section = Section(mesh, matter, faces, (), ends, room)
    N = mesh.size
    own = np.flatnonzero(np.isin(np.arange(N), section.nodes("resin")))
    volume = next(v for m, v in section.capacities if m is resin)[own]
    source = resin.rho * heat * volume
    C = section.capacity(np.full(N, room))
    K = section.matrix(np.full(N, room))

    def f(_t, y):
        T, a = y[:N], y[N:]
        rate = cure.rate(a, T[own])
        q = section.power(T)
        q[own] += source * rate
        return np.concatenate([q / C, rate])

    pick = coo_matrix((np.ones(own.size), (own, np.arange(own.size))), (N, own.size)).tocsr()

    def jac(_t, y):
        T, a = y[:N], y[N:]
        da, dT = 1e-6, 1e-3
        ra = (cure.rate(a + da, T[own]) - cure.rate(a - da, T[own])) / (2 * da)
        rT = (cure.rate(a, T[own] + dT) - cure.rate(a, T[own] - dT)) / (2 * dT)
        TT = diags(-1 / C) @ K + pick @ diags(source / C[own] * rT) @ pick.T
        Ta = pick @ diags(source / C[own] * ra)
        return bmat([[TT, Ta], [diags(rT) @ pick.T, diags(ra)]]).tocsc()

    starts = {r: stock if r == "resin" else room for r in matter}
    y0 = np.concatenate([mixed_start(section, starts), np.zeros(own.size)])
    until = 40 * 3600.0
    r = solve_ivp(f, (0, until), y0, method="BDF", jac=jac, rtol=rtol, atol=np.concatenate(
        [np.full(N, 150 * rtol), np.full(own.size, rtol)]), dense_output=True)
    assert r.success, r.message
    times = np.linspace(60.0, until, 4000)
    hot = r.sol(times)[own].max(axis=0)
    k = int(hot.argmax())
    near = np.linspace(times[k - 1], times[k + 1], 400)
    hot = r.sol(near)[own].max(axis=0)
    return {"peak": [hot.max() - ZERO, "degC"], "peak time": [near[hot.argmax()], "s"]}


# --- all --------------------------------------------------------------------------------------------------------------

LEVELS = [(2, 4, 1e-5), (3, 5, 1e-6)]  # elements, degree, tolerance of the steps


def questions_of(name, job):
    if "layer" in job:
        return {"layer": layer}
    if "pour" in job:
        return {"pour": pour}
    return {"demold": demold, "shots": shots} if "run" in job else {"demold": demold}


def main(words):
    with open(os.path.join(HERE, "../../../data/reference/whole-answers-jobs.json")) as f:
        jobs = json.load(f)
    found = []
    for name, job in jobs.items():
        if words and not any(w in name for w in words):
            continue
        for question, solve in questions_of(name, job).items():
            begin = time.perf_counter()
            coarse, fine = (solve(job, *level) for level in LEVELS)
            took = time.perf_counter() - begin
            for what, cell in fine.items():
                if what == "marched":
                    continue
                value, unit = cell
                # the finer one's own error is well below its difference to the coarser
                error = abs(value - coarse[what][0])
                found.append({"job": name, "question": question, "what": what, "value": float(f"{value:.6g}"),
                              "unit": unit, "error": float(f"{max(error, 1e-6):.2g}")})
                print(f"{name:28}{question:8}{what:14}{value:12.3f} {unit:5} +- {error:.3f}   {took:.0f} s",
                      file=sys.stderr, flush=True)
    print(json.dumps(found, indent=2))


if __name__ == "__main__":
    main(sys.argv[1:])
