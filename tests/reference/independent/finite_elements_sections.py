"""Sections with thin sheets, shells and tubes, for the files of data/sections: fitted triangles and an enthalpy march.

A problem file of `solve` is meshed by FreeFEM (its mesher only: every edge and outline is fitted; outlines are polygons of the
same area), the matrices of degree 2 are put together here with NumPy, and time goes by a two-stage singly diagonal implicit
Runge-Kutta method of order 2 with Newton's iteration on the enthalpy. It shares nothing with the engine: temperatures at
nodes and not energies of cells, triangles and not lines, double nodes where bodies touch through a contact.

    python3 finite_elements_sections.py FILE.json ... [--fine F]     F: sizes of triangles and steps over F, default 1

Handles what those files have: sections and round bodies, ellipses and rectangles, one body with a contact, bodies that are
absent through the only stage, numbers as laws and a heat capacity linear in T. Needs NumPy, SciPy and FreeFem++-nw.
Units: m, s, degC, W, J; a section's heat flow per m of depth.
"""
import json
import math
import pathlib
import re
import subprocess
import sys
import tempfile

import numpy as np
import scipy.sparse as sp
from scipy.sparse.linalg import splu

GAMMA = 1 - math.sqrt(0.5)
AWAY = 1.0  # how far the body with the contact is moved, so that its nodes are its own


class Section:
    """A problem, cut in half where it is its own mirror image in x."""

    def __init__(self, given):
        self.given = given
        self.round = given["frame"] == "round"
        block = given["block"]
        self.height = block["height"]
        whole = block["width"]
        xs = [s["center"][0] for s in given.get("shapes", [])]
        self.half = not self.round and all(
            any(abs(whole - x - other) < 1e-9 for other in xs) for x in xs
        ) and given["boundary"]["left"] == given["boundary"]["right"]
        self.shift = whole / 2 if self.half else 0.0
        self.width = whole - self.shift
        stage = given.get("stages", [{}])[0]
        self.absent = set(stage.get("absent", []))
        self.exposed = stage.get("exposed")
        self.bodies = [dict(block, name="block", contact=None)] + [
            dict(s, at=(s["center"][0] - self.shift, s["center"][1])) for s in given.get("shapes", [])
        ]

    def body_at(self, x, y):
        """The last body that covers each point."""
        found = np.zeros(len(x), int)
        for i, s in enumerate(self.bodies[1:], 1):
            cx, cy = s["at"]
            if "ellipse" in s:
                a, b = (v / 2 for v in s["ellipse"])
                inside = ((x - cx) / a) ** 2 + ((y - cy) / b) ** 2 < 1
            else:
                a, b = (v / 2 for v in s["rectangle"])
                inside = (abs(x - cx) < a) & (abs(y - cy) < b)
            found[inside] = i
        return found


def edges(section, fine):
    """Pieces of straight lines and arcs that meet only at their ends: (start, end, divisions) and arcs."""
    W, H = section.width, section.height
    lines = [((0, 0), (W, 0)), ((W, 0), (W, H)), ((0, H), (W, H)), ((0, 0), (0, H))]
    arcs, marks = [], [(0, 0), (W, 0), (0, H), (W, H)]
    for s in section.bodies[1:]:
        cx, cy = s["at"]
        if "ellipse" in s:
            a, b = (v / 2 for v in s["ellipse"])
            if cx + a < 0:
                continue
            n = int(48 * fine) * 2
            big = math.sqrt(math.pi / n / math.sin(math.pi / n))  # the polygon's area is the ellipse's
            full = cx > a * 0.999
            arcs.append((cx, cy, a * big, b * big, full, n))
            if not full:
                marks += [(0, cy - b * big), (0, cy + b * big)]
            continue
        a, b = (v / 2 for v in s["rectangle"])
        x0, x1, y0, y1 = max(cx - a, 0), min(cx + a, W), max(cy - b, 0), min(cy + b, H)
        lines += [((x0, y0), (x1, y0)), ((x0, y1), (x1, y1)), ((x0, y0), (x0, y1)), ((x1, y0), (x1, y1))]
    key = lambda v: round(v * 1e9)
    xs = {key(p[0]) for line in lines for p in line} | {key(m[0]) for m in marks}
    ys = {key(p[1]) for line in lines for p in line} | {key(m[1]) for m in marks}
    flat, upright = {}, {}
    for (x0, y0), (x1, y1) in lines:
        if key(y0) == key(y1):
            flat.setdefault(key(y0), []).append((key(x0), key(x1)))
        else:
            upright.setdefault(key(x0), []).append((key(y0), key(y1)))
    def covered(spans, p, q):
        return any(a <= p and q <= b for a, b in spans)
    # a node of the arrangement wherever a horizontal and a vertical line (or the end of an arc) meet
    pieces = []
    for y, spans in flat.items():
        stops = sorted(x for x in xs if any(covered(s2, y, y) for x2, s2 in upright.items() if x2 == x) and covered(spans, x, x))
        pieces += [((p / 1e9, y / 1e9), (q / 1e9, y / 1e9)) for p, q in zip(stops, stops[1:]) if covered(spans, p, q)]
    ends = {key(m[1]) for m in marks if key(m[0]) == 0}
    for x, spans in upright.items():
        stops = sorted(y for y in ys if covered(spans, y, y) and (covered(flat.get(y, []), x, x) or (x == 0 and y in ends)))
        pieces += [((x / 1e9, p / 1e9), (x / 1e9, q / 1e9)) for p, q in zip(stops, stops[1:]) if covered(spans, p, q)]
    return pieces, arcs


def mesh(section, fine):
    """Corner coordinates and triangles."""
    pieces, arcs = edges(section, fine)
    gaps = sorted({round(p[1], 9) for piece in pieces for p in piece})
    def near(y):
        others = [abs(y - g) for g in gaps if abs(y - g) > 1e-9]
        return min(others)
    out, call = [], []
    for i, ((x0, y0), (x1, y1)) in enumerate(pieces):
        length = math.hypot(x1 - x0, y1 - y0)
        size = min(0.0025, max(min(near(y0), near(y1)) * 0.7, 0.00004)) / fine
        if x0 == x1:
            size = min(size * 1.0, length / 2)
        n = max(2, math.ceil(length / size))
        if y0 == y1 == section.height or x0 == x1 == 0:  # the mesher keeps what lies to the left of an outer edge
            x0, y0, x1, y1 = x1, y1, x0, y0
        out.append(f"border e{i}(t=0,1){{x={x0!r}+t*({x1 - x0!r});y={y0!r}+t*({y1 - y0!r});}}")
        call.append(f"e{i}({n})")
    for i, (cx, cy, a, b, full, n) in enumerate(arcs):
        span = "t=-pi,pi" if full else "t=-pi/2,pi/2"
        x = f"{cx!r}+{a!r}*cos(t)" if full else f"(t<-1.5707963?0:(t>1.5707963?0:{a!r}*cos(t)))"
        out.append(f"border a{i}({span}){{x={x};y={cy!r}+{b!r}*sin(t);}}")
        call.append(f"a{i}({n if full else n // 2})")
    with tempfile.TemporaryDirectory() as folder:
        at = pathlib.Path(folder)
        (at / "m.edp").write_text("verbosity=0;\n" + "\n".join(out) + f"\nmesh Th=buildmesh({'+'.join(call)},fixedborder=true,nbvx=2000000);\nsavemesh(Th,\"{at}/m.msh\");\n")
        done = subprocess.run(["FreeFem++-nw", "-nw", "-v", "0", str(at / "m.edp")], capture_output=True, text=True, timeout=300)
        if done.returncode:
            raise ArithmeticError(done.stdout[-600:])
        words = (at / "m.msh").read_text().split()
    nv, nt = int(words[0]), int(words[1])
    points = np.array(words[3 : 3 + 3 * nv], float).reshape(-1, 3)[:, :2]
    triangles = np.array(words[3 + 3 * nv : 3 + 3 * nv + 4 * nt], int).reshape(-1, 4)[:, :3] - 1
    return points, triangles


# six points, exact to degree 4 (Strang & Fix, An Analysis of the Finite Element Method)
P, Q = 0.445948490915965, 0.091576213509771
BARY = np.array([[P, P, 1 - 2 * P], [P, 1 - 2 * P, P], [1 - 2 * P, P, P], [Q, Q, 1 - 2 * Q], [Q, 1 - 2 * Q, Q], [1 - 2 * Q, Q, Q]])
WEIGHT = np.array([0.223381589678011] * 3 + [0.109951743655322] * 3)


class System:
    def __init__(self, section, fine):
        self.section = section
        points, triangles = mesh(section, fine)
        middle = points[triangles].mean(1)
        body = section.body_at(middle[:, 0], middle[:, 1])
        keep = np.array([section.bodies[b].get("name") not in section.absent for b in range(len(section.bodies))])[body]
        # nodes of degree 2, those of the body with a contact apart from the others
        apart = np.array([bool(s.get("contact")) and s["name"] != "block" for s in section.bodies])[body]
        hole_edges = self._edges(triangles[~keep]) if (~keep).any() else set()
        triangles, body, apart = triangles[keep], body[keep], apart[keep]
        number, self.where, self.pairs = {}, [], {}
        nodes = np.zeros((len(triangles), 6), int)
        for e, (tri, own) in enumerate(zip(triangles.tolist(), apart.tolist())):
            a, b, c = tri
            for k, name in enumerate((a, b, c, (min(b, c), max(b, c)), (min(a, c), max(a, c)), (min(a, b), max(a, b)))):
                key = (name, own)
                if key not in number:
                    number[key] = len(self.where)
                    self.where.append(points[name] if isinstance(name, int) else (points[name[0]] + points[name[1]]) / 2)
                nodes[e, k] = number[key]
        self.where = np.array(self.where)
        self.nodes, self.n, self.body, self.points, self.triangles = nodes, len(self.where), body, points, triangles
        self._matrices(points, triangles, body)
        self._boundary(points, triangles, apart, number, hole_edges)

    @staticmethod
    def _edges(triangles):
        return {tuple(sorted(p)) for t in triangles.tolist() for p in ((t[0], t[1]), (t[1], t[2]), (t[0], t[2]))}

    def _matrices(self, points, triangles, body):
        s = self.section
        corners = points[triangles]
        d1, d2 = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
        twice = d1[:, 0] * d2[:, 1] - d1[:, 1] * d2[:, 0]
        # gradients of the barycentric coordinates
        g = np.empty((len(triangles), 3, 2))
        g[:, 1, 0], g[:, 1, 1] = d2[:, 1] / twice, -d2[:, 0] / twice
        g[:, 2, 0], g[:, 2, 1] = -d1[:, 1] / twice, d1[:, 0] / twice
        g[:, 0] = -g[:, 1] - g[:, 2]
        materials = [s.given["materials"][b["material"]] for b in s.bodies]
        k = np.array([m["conductivity"] for m in materials], float)[body]
        rho = np.array([m["density"] for m in materials], float)[body]
        heat = [linear(m["specificHeat"]) for m in materials]
        self.c0 = rho * np.array([h[0] for h in heat])[body]
        self.c1 = rho * np.array([h[1] for h in heat])[body]
        l = BARY
        self.shape = np.stack([l[:, 0] * (2 * l[:, 0] - 1), l[:, 1] * (2 * l[:, 1] - 1), l[:, 2] * (2 * l[:, 2] - 1),
                               4 * l[:, 1] * l[:, 2], 4 * l[:, 0] * l[:, 2], 4 * l[:, 0] * l[:, 1]], 1)
        weights = WEIGHT[None, :] * abs(twice)[:, None] / 2
        if s.round:
            weights = weights * 2 * math.pi * np.einsum("qa,ea->eq", BARY, corners[:, :, 0])
        self.weights = weights
        K = np.zeros((len(triangles), 6, 6))
        for q in range(6):
            a, b, c = l[q]
            grad = np.stack([(4 * a - 1) * g[:, 0], (4 * b - 1) * g[:, 1], (4 * c - 1) * g[:, 2],
                             4 * (b * g[:, 2] + c * g[:, 1]), 4 * (a * g[:, 2] + c * g[:, 0]), 4 * (a * g[:, 1] + b * g[:, 0])], 1)
            K += (k * weights[:, q])[:, None, None] * np.einsum("eid,ejd->eij", grad, grad)
        self.K = self._sum(K)

    def _sum(self, parts):
        rows = np.repeat(self.nodes, 6, 1).ravel()
        cols = np.tile(self.nodes, (1, 6)).ravel()
        return sp.csc_matrix((parts.ravel(), (rows, cols)), (self.n, self.n))

    def enthalpy(self, T):
        at = np.einsum("qi,ei->eq", self.shape, T[self.nodes])
        h = self.c0[:, None] * at + self.c1[:, None] * at * at / 2
        return np.bincount(self.nodes.ravel(), np.einsum("eq,qi->ei", h * self.weights, self.shape).ravel(), self.n)

    def mass(self, T):
        at = np.einsum("qi,ei->eq", self.shape, T[self.nodes])
        c = (self.c0[:, None] + self.c1[:, None] * at) * self.weights
        return self._sum(np.einsum("eq,qi,qj->eij", c, self.shape, self.shape))

    def start(self):
        """Enthalpy of bodies that start each at its own temperature."""
        T = np.array([b["initial"] for b in self.section.bodies], float)[self.body]
        h = (self.c0 * T + self.c1 * T * T / 2)[:, None]
        H = np.bincount(self.nodes.ravel(), np.einsum("eq,qi->ei", h * self.weights, self.shape).ravel(), self.n)
        guess = np.zeros(self.n)
        for k in range(6):
            guess[self.nodes[:, k]] = T
        return H, guess

    def _boundary(self, points, triangles, apart, number, hole_edges):
        s = self.section
        seen = {}
        for t, own in zip(triangles.tolist(), apart.tolist()):
            for p, q in ((t[0], t[1]), (t[1], t[2]), (t[0], t[2])):
                seen.setdefault((min(p, q), max(p, q)), []).append(own)
        self.flow = {}
        rows, cols, values = [], [], []
        load = np.zeros(self.n)
        x3, w3 = np.array([0.5 - math.sqrt(0.15), 0.5, 0.5 + math.sqrt(0.15)]), np.array([5, 8, 5]) / 18
        N = np.stack([(1 - x3) * (1 - 2 * x3), x3 * (2 * x3 - 1), 4 * x3 * (1 - x3)], 1)
        contact = max((b.get("contact") or 0 for b in s.bodies), default=0)
        def local(edge):
            a, b = points[edge[0]], points[edge[1]]
            w = w3 * math.hypot(*(b - a))
            if s.round:
                w = w * 2 * math.pi * (a[0] + x3 * (b[0] - a[0]))
            return np.einsum("q,qi,qj->ij", w, N, N)
        for edge, owners in seen.items():
            ids = [[number.get((name, own)) for name in (edge[0], edge[1], edge)] for own in sorted(set(owners))]
            if len(owners) == 2 and owners[0] != owners[1]:
                m = contact * local(edge)
                for one, other, sign in ((0, 0, 1), (1, 1, 1), (0, 1, -1), (1, 0, -1)):
                    for i in range(3):
                        for j in range(3):
                            rows.append(ids[one][i]); cols.append(ids[other][j]); values.append(sign * m[i, j])
            if len(owners) > 1:
                continue
            a, b = points[edge[0]], points[edge[1]]
            side = self._side(a, b)
            rule = s.exposed if edge in hole_edges else s.given["boundary"].get(side)
            if side == "left" and s.half or rule in (None, "insulated"):
                continue
            m = rule["h"] * local(edge)
            for i in range(3):
                load[ids[0][i]] += rule["ambient"] * m[i].sum()
                for j in range(3):
                    rows.append(ids[0][i]); cols.append(ids[0][j]); values.append(m[i, j])
            F = self.flow.setdefault(side or "exposed", [np.zeros(self.n), 0.0])
            for i in range(3):
                F[0][ids[0][i]] += m[i].sum()
            F[1] += rule["ambient"] * m.sum()
        self.K = (self.K + sp.csc_matrix((values, (rows, cols)), (self.n, self.n))).tocsc()
        self.load = load

    def _side(self, a, b):
        s = self.section
        for side, axis, value in (("left", 0, 0), ("right", 0, s.width), ("bottom", 1, 0), ("top", 1, s.height)):
            if abs(a[axis] - value) < 1e-9 and abs(b[axis] - value) < 1e-9:
                return side

    def read(self, probe):
        """Weights of the nodes that give a probe."""
        s = self.section
        if isinstance(probe, str):
            which = [b["name"] for b in s.bodies].index(probe)
            inside = self.body == which
            w = np.einsum("eq,qi->ei", self.weights[inside], self.shape)
            out = np.bincount(self.nodes[inside].ravel(), w.ravel(), self.n)
            return out / out.sum()
        x, y = probe[0] - s.shift, probe[1]
        c = self.points[self.triangles]
        d1, d2 = c[:, 1] - c[:, 0], c[:, 2] - c[:, 0]
        twice = d1[:, 0] * d2[:, 1] - d1[:, 1] * d2[:, 0]
        p = np.array([x, y]) - c[:, 0]
        b = (p[:, 0] * d2[:, 1] - p[:, 1] * d2[:, 0]) / twice
        g = (d1[:, 0] * p[:, 1] - d1[:, 1] * p[:, 0]) / twice
        a = 1 - b - g
        e = np.argmax(np.minimum(np.minimum(a, b), g))
        a, b, g = a[e], b[e], g[e]
        out = np.zeros(self.n)
        out[self.nodes[e]] = [a * (2 * a - 1), b * (2 * b - 1), g * (2 * g - 1), 4 * b * g, 4 * a * g, 4 * a * b]
        return out


def linear(law):
    """a and b of a + b T."""
    if isinstance(law, (int, float)):
        return float(law), 0.0
    a, b = re.fullmatch(r"\s*([\d.]+)\s*\+\s*([\d.]+)\s*\*\s*T\s*", law).groups()
    return float(a), float(b)


def march(system, until, fine):
    """Times and temperatures at nodes: steps that double after every so many."""
    H, T = system.start()
    t, step, each = 0.0, until / 1e6, int(24 * fine)
    times, states = [], []
    K, load = system.K, system.load
    while t < until * (1 - 1e-9):
        factors, taken = None, 0
        while taken < each and t < until * (1 - 1e-9):
            # the last steps: all of one length, up to the end
            for stage in (0, 1):
                base = H if stage == 0 else H + step * (1 - GAMMA) * (load - K @ first)
                for tries in range(60):
                    if factors is None:
                        factors = splu((system.mass(T) + GAMMA * step * K).tocsc())
                    d = factors.solve(base + GAMMA * step * (load - K @ T) - system.enthalpy(T))
                    T = T + d
                    if abs(d).max() < 1e-7:
                        break
                    if tries == 12:
                        factors = None
                else:
                    raise ArithmeticError("Newton's iteration does not settle")
                if stage == 0:
                    first = T.copy()
            H = system.enthalpy(T)
            t += step
            taken += 1
            times.append(t)
            states.append(T)
        if 2 * step * each < until - t:
            step *= 2
        elif t < until:
            step = (until - t) / max(each, math.ceil((until - t) / (2 * step)))
            each = 10**9
    return np.array(times), np.array(states)


def main():
    from scipy.interpolate import CubicSpline

    fine = float(sys.argv[sys.argv.index("--fine") + 1]) if "--fine" in sys.argv else 1.0
    for name in (a for a in sys.argv[1:] if a.endswith(".json")):
        given = json.loads(pathlib.Path(name).read_text())
        section = Section(given)
        system = System(section, fine)
        out = {"file": pathlib.Path(name).stem, "nodes": system.n}
        reads = {k: system.read(p) for k, p in given["probes"].items()}
        if given.get("until") == "steady":
            T = splu(system.K).solve(system.load)
            out["probes"] = {k: round(float(w @ T), 4) for k, w in reads.items()}
            out["flow"] = {k: round(float(f[1] - f[0] @ T), 5) for k, f in system.flow.items()}
        else:
            until = given.get("until") or given["stages"][-1]["until"]
            times, states = march(system, until, fine)
            curves = {k: CubicSpline(times, states @ w) for k, w in reads.items()}
            out["probes"] = {k: [round(float(c(t)), 4) for t in given["times"]] for k, c in curves.items()}
            out["crossings"] = [
                round(float(min(r for r in curves[c["probe"]].solve(c["below"]) if r > 1)), 3)
                for c in given.get("crossings", [])
            ]
        print(json.dumps(out), flush=True)


if __name__ == "__main__":
    main()
