"""Slabs, an ellipse and curing bodies by a general finite-element library: DOLFINx, with PETSc for matrices and factors.

Lagrange elements on a graded line, on triangles with curved sides (made by Gmsh) or on graded quadrilaterals. Between layers
in contact the nodes are double and joined by an integral over the face. Time by backward differences of variable step: the
heat capacity is taken at the temperature extrapolated from the steps before, so that a step is one linear system; steps
follow from a tolerance. The first step is implicit Euler's, from the two temperatures as they are, not from nodes. The cure
of a node is implicit, at the extrapolated temperature; its heat then gives the temperatures.

    python3 finite_elements_dolfinx.py           converged answers
    python3 finite_elements_dolfinx.py --bench   for each problem one line of JSON: the fastest setting within 0.1 %
    python3 finite_elements_dolfinx.py --search  the same, after a list of the settings that came close

Timed: matrices, factors and march. Mesh and space are told apart (mesh_ms); compiling and loading of forms is not timed.
Units: m, s, degC, W, J.
"""
import logging
import sys
import time
from functools import lru_cache

from common import BAIT, MOLD, choices, faces, falls_to, peak, quickest

import gmsh
import numpy as np
import ufl
from dolfinx import fem, mesh
from dolfinx.fem.petsc import assemble_matrix, assemble_vector, create_matrix
from dolfinx.io import gmshio
from mpi4py import MPI
from petsc4py import PETSc

logging.disable(logging.INFO)  # of compiling
COLD = 50.0
GAS = 8.314462618
A1, E1, A2, E2, M, N = 1e4, 55e3, 8.28e5, 50e3, 0.8, 1.4  # da/dt = (k1 + k2 a^m) (1 - a)^n, k = A exp(-E / R T)
HEAT = 90e3  # J/kg
BAIT_TAG, MOLD_TAG, AIR_TAG, INNER_TAG, OUTER_TAG = 1, 2, 3, 4, 5  # of cells; of facets: air, the two sides of a contact


# --- meshes: (mesh, cell tags, facet tags) --------------------------------------------------------------------------

def tagged(domain, dim, marks):
    """Entities of a dimension tagged by functions of their points; the first that holds counts."""
    found = [(mesh.locate_entities(domain, dim, where), tag) for tag, where in marks]
    ids = np.concatenate([i for i, _ in found])
    tags = np.concatenate([np.full(len(i), tag) for i, tag in found])
    order = np.argsort(ids, kind="stable")
    return mesh.meshtags(domain, dim, ids[order].astype(np.int32), tags[order].astype(np.int32))


def layered_line(n):
    """Half of the slab from the mirror: bait, then mold, their common point twice."""
    x = [faces(0.006, n, False, True, 1.5), 0.006 + faces(0.040, n, True, False, 2.2)]
    points = np.concatenate(x)[:, None]
    left = np.delete(np.arange(2 * n + 1), n)
    shape = ufl.Mesh(ufl.VectorElement("Lagrange", "interval", 1))
    domain = mesh.create_mesh(MPI.COMM_SELF, np.stack([left, left + 1], 1), points, shape)
    near = lambda a: lambda p: np.abs(p[0] - a) < 1e-9
    cells = tagged(domain, 1, [(BAIT_TAG, lambda p: p[0] < 0.006 + 1e-9), (MOLD_TAG, lambda p: p[0] > 0.006 - 1e-9)])
    facets = tagged(domain, 0, [(AIR_TAG, near(0.046)), (INNER_TAG, near(0.006))])
    # of the two points at the contact the one of the bait: which cell has it
    domain.topology.create_connectivity(0, 1)
    of = domain.topology.connectivity(0, 1)
    for k in np.flatnonzero(facets.values == INNER_TAG):
        if of.links(facets.indices[k])[0] in cells.find(MOLD_TAG):
            facets.values[k] = OUTER_TAG
    return domain, cells, facets


def ellipse_quarter(n, contact):
    """Curved triangles: n along the quarter of the ellipse. With a contact both sides have their own nodes there."""
    a, b, w, h = 0.014, 0.008, 0.040, 0.030
    gmsh.model.add("quarter")
    g = gmsh.model.geo
    fine, deep, far = 0.0195 / n, min(0.004, 0.03 / n), min(0.010, 0.08 / n)
    at = lambda x, y, size: g.addPoint(x, y, 0, size)
    middle = at(0, 0, min(2 * fine, deep))
    ends = [(at(a, 0, fine), at(0, b, fine)) for _ in range(2 if contact else 1)]
    arcs = [g.addEllipseArc(p, middle, p, q) for p, q in ends]
    p, q = ends[0]
    inside = g.addPlaneSurface([g.addCurveLoop([g.addLine(middle, p), arcs[0], g.addLine(q, middle)])])
    p, q = ends[-1]
    c1, c2, c3 = at(w, 0, far), at(w, h, far), at(0, h, far)
    air = [g.addLine(c1, c2), g.addLine(c2, c3)]
    outside = g.addPlaneSurface([g.addCurveLoop([g.addLine(p, c1), *air, g.addLine(c3, q), -arcs[-1]])])
    for arc in arcs:
        g.mesh.setTransfiniteCurve(arc, n + 1)
    g.synchronize()
    gmsh.model.addPhysicalGroup(2, [inside], BAIT_TAG)
    gmsh.model.addPhysicalGroup(2, [outside], MOLD_TAG)
    gmsh.model.addPhysicalGroup(1, air, AIR_TAG)
    if contact:
        gmsh.model.addPhysicalGroup(1, arcs[:1], INNER_TAG)
        gmsh.model.addPhysicalGroup(1, arcs[1:], OUTER_TAG)
    gmsh.model.mesh.generate(2)
    gmsh.model.mesh.setOrder(2)
    made = gmshio.model_to_mesh(gmsh.model, MPI.COMM_SELF, 0, gdim=2)
    gmsh.model.remove()
    return made


def graded_body(half, n, dim):
    """A line or a square of graded cells, from its mirrors to the air."""
    if dim == 1:
        domain = mesh.create_unit_interval(MPI.COMM_SELF, n)
    else:
        domain = mesh.create_unit_square(MPI.COMM_SELF, n, n, mesh.CellType.quadrilateral)
    f = faces(half, n, False, True, 1.0)
    x = domain.geometry.x
    x[:, :dim] = f[np.rint(x[:, :dim] * n).astype(int)]
    air = lambda p: np.max(p[:dim], axis=0) > half - 1e-9
    if dim == 2:
        domain.topology.create_connectivity(1, 2)
        ids = mesh.exterior_facet_indices(domain.topology)
        ids = np.intersect1d(ids, np.concatenate([mesh.locate_entities(domain, 1, lambda p, k=k: p[k] > half - 1e-9)
                                                  for k in (0, 1)]))
    else:
        ids = mesh.locate_entities(domain, 0, air)
    return domain, None, mesh.meshtags(domain, dim - 1, ids.astype(np.int32), np.full(len(ids), AIR_TAG, np.int32))


# --- bodies ---------------------------------------------------------------------------------------------------------

class Space:
    """Mesh, space and places of unknowns, with the time they took."""

    def __init__(self, make, degree, *sizes):
        self.mesh_ms = np.inf
        for _ in range(3):  # the first time may compile or load
            begin = time.perf_counter()
            self.domain, self.cells, self.facets = make(*sizes)
            self.V = fem.FunctionSpace(self.domain, ("Lagrange", degree))
            self.mesh_ms = min(self.mesh_ms, 1e3 * (time.perf_counter() - begin))
        self.u, self.v = ufl.TrialFunction(self.V), ufl.TestFunction(self.V)
        self.dx = ufl.Measure("dx", self.domain, subdomain_data=self.cells)
        self.ds = ufl.Measure("ds", self.domain, subdomain_data=self.facets)
        self.center = int(np.argmin(np.linalg.norm(self.V.tabulate_dof_coordinates(), axis=1)))


def solver_of(matrix, kind="lu"):
    k = PETSc.KSP().create(PETSc.COMM_SELF)
    k.setType("preonly")
    k.pc.setType(kind)
    k.setOperators(matrix)
    return k


def pairs_across(V, facets):
    """Unknowns on the bait's side of a contact and, in the same order, those on the other side."""
    X = V.tabulate_dof_coordinates()
    sides = []
    for tag in (INNER_TAG, OUTER_TAG):
        d = fem.locate_dofs_topological(V, facets.dim, facets.find(tag))
        sides.append(d[np.argsort(X[d, 0], kind="stable")])
    assert len(sides[0]) == len(sides[1]) and np.abs(X[sides[0]] - X[sides[1]]).max() < 1e-9
    return sides


def backward_weights(t, now):
    """Weights of the values at t (newest first) and now: of the slope now, and of the extrapolation to now."""
    slope, ahead = [0.0], []
    for a in t:
        w = 1.0
        for b in t:
            if b != a:
                w *= (now - b) / (a - b)
        ahead.append(w)
        slope.append(w / (a - now))
        slope[0] += 1 / (now - a)
    return slope, ahead


def blend(weights, values):
    out = weights[0] * values[0]
    for w, y in zip(weights[1:], values[1:]):
        out += w * y
    return out


def factor_of(error, k, order):
    """How much longer or shorter the next step, from the error of this one in units of the tolerance, by formula k."""
    return min(1.8 if order < 3 else 1.5, max(0.4, 0.9 * max(error, 1e-9) ** (-1 / (k + 1))))


class Cooling:
    """Hot bait in a mold: C(T) dT/dt = load - K T."""

    def __init__(self, space, contact, h=10.0, air=22.0):
        s = self.space = space
        u, v, dx, ds = s.u, s.v, s.dx, s.ds
        self.star = fem.Function(s.V)
        grad = ufl.inner(ufl.grad(u), ufl.grad(v))
        self.stiff = fem.form(BAIT["k"] * grad * dx(BAIT_TAG) + MOLD["k"] * grad * dx(MOLD_TAG) + h * u * v * ds(AIR_TAG))
        cb, c1, cm = BAIT["rho"] * BAIT["c0"], BAIT["rho"] * BAIT["c1"], MOLD["rho"] * MOLD["c0"]
        self.mass = fem.form(cb * u * v * dx(BAIT_TAG) + cm * u * v * dx(MOLD_TAG))
        self.more = fem.form(c1 * self.star * u * v * dx(BAIT_TAG))
        self.load = fem.form(h * air * v * ds(AIR_TAG))
        # capacity times start, the capacity at the mean of start and end of the step
        hot, cold = 175.0, 25.0
        self.first = fem.form((cb + c1 * self.star) * hot * v * dx(BAIT_TAG) + cm * cold * v * dx(MOLD_TAG))
        self.joint = fem.form(contact * u * v * ds(INNER_TAG)) if contact else None

    def matrices(self):
        s = self.space
        K = create_matrix(self.stiff)
        if self.joint:
            K.setOption(PETSc.Mat.Option.NEW_NONZERO_ALLOCATION_ERR, False)
            assemble_matrix(K, self.joint)
            K.assemble()
            inner, outer = pairs_across(s.V, s.facets)
            other = dict(zip(inner, outer))
            r, c, g = [], [], []
            for i in inner:
                cols, vals = K.getRow(i)
                on = vals != 0
                r += [i] * on.sum()
                c += list(cols[on])
                g += list(vals[on])
            for i, j, value in zip(r, c, g):
                i, j = int(i), int(j)
                K.setValue(other[i], other[j], value, addv=True)
                K.setValue(i, other[j], -value, addv=True)
                K.setValue(other[i], j, -value, addv=True)
        assemble_matrix(K, self.stiff)
        K.assemble()
        C0, A = K.duplicate(), K.duplicate()
        assemble_matrix(C0, self.mass)
        C0.assemble()
        return K, C0, A, assemble_vector(self.load)

    def march(self, tolerance, order):
        """Times and center's temperatures till it is cold."""
        first = 6 * tolerance**0.5
        K, C0, A, load = self.matrices()
        same = PETSc.Mat.Structure.SAME_NONZERO_PATTERN
        star, center = self.star.x.array, self.space.center
        rhs, T = load.duplicate(), load.duplicate()
        solver = solver_of(A)

        def capacity():
            A.zeroEntries()
            assemble_matrix(A, self.more)
            A.assemble()
            A.axpy(1.0, C0, same)

        def solve(a0):
            A.scale(a0)
            A.axpy(1.0, K, same)
            solver.setOperators(A)
            solver.solve(rhs, T)
            return T.array.copy()

        T.set(1.0)
        C0.mult(T, rhs)
        share = rhs.array / rhs.sum()  # of the heat capacity: a step's error is one of heat
        bait = np.zeros(star.size)
        bait[:] = 175.0
        star[:] = bait
        for _ in range(3):  # the capacity at the mean of start and end keeps the heat
            capacity()
            b = assemble_vector(self.first)
            rhs.array = load.array + b.array / first
            now = solve(1 / first)
            star[:] = 0.5 * (bait + now)
        t, past = [first], [now]  # newest first
        times, values = [first], [now[center]]
        step, after = first, 0
        while after < 2:
            k = min(order, len(t))
            new = t[0] + step
            slope, ahead = backward_weights(t[:k], new)
            star[:] = blend(ahead, past)
            capacity()
            T.array = blend(slope[1:], past)
            A.mult(T, rhs)
            rhs.aypx(-1.0, load)
            now = solve(slope[0])
            if len(t) > k:
                _, far = backward_weights(t[: k + 1], new)
                predicted = blend(far, past)
            else:
                predicted = star
            # Milne: the share of the difference that is the step's own error
            off = now - predicted
            factor = factor_of(share.dot(off * off) ** 0.5 / 150.0 / (k + 1) / tolerance, k, order)
            if factor < 0.7 and step > first:
                step *= factor
                continue
            t, past = [new, *t[:order]], [now, *past[:order]]
            times.append(new)
            values.append(now[center])
            step *= factor
            after += values[-1] < COLD
            assert len(times) < 100_000 and new < 2000
        return np.array(times), np.array(values)


class Curing:
    """Temperature and cure at nodes; heat of the cure's own rate."""

    def __init__(self, space, h=8.0, air=23.0, start=23.0):
        s = self.space = space
        u, v = s.u, s.v
        self.start = start
        self.mass = fem.form(MOLD["rho"] * MOLD["c0"] * u * v * s.dx)
        self.stiff = fem.form(MOLD["k"] * ufl.inner(ufl.grad(u), ufl.grad(v)) * s.dx + h * u * v * s.ds(AIR_TAG))
        self.load = fem.form(h * air * v * s.ds(AIR_TAG))

    def march(self, tolerance, order, longest):
        """Times and center's temperatures till the peak is past."""
        K, C = create_matrix(self.stiff), create_matrix(self.mass)
        assemble_matrix(K, self.stiff)
        K.assemble()
        assemble_matrix(C, self.mass)
        C.assemble()
        A, load = C.copy(), assemble_vector(self.load)
        same = PETSc.Mat.Structure.SAME_NONZERO_PATTERN
        solver, factored = solver_of(A), 0.0
        held, rhs, T = load.duplicate(), load.duplicate(), load.duplicate()
        T.set(1.0)
        C.mult(T, rhs)
        share = rhs.array / rhs.sum()
        size, rise = load.array.size, HEAT / MOLD["c0"]
        t, temp, cure = [0.0], [np.full(size, self.start)], [np.zeros(size)]
        values, times = [self.start], [0.0]
        step = first = 40.0 * tolerance**0.5
        while len(values) < 9 or not values[-1] < values[-2] < values[-3] < values[-4]:
            k, new = min(order, len(t)), t[0] + step
            slope, ahead = backward_weights(t[:k], new)
            near, a = blend(ahead, temp), np.clip(blend(ahead, cure), 1e-9, 1 - 1e-9)
            a0, old_t, old_a = slope[0], blend(slope[1:], temp), blend(slope[1:], cure)
            if abs(a0 - factored) > 1e-9 * a0:
                C.copy(A, same)
                A.scale(a0)
                A.axpy(1.0, K, same)
                solver.setOperators(A)
                factored = a0
            rt = -1 / (GAS * (near + 273.15))
            k1, k2 = A1 * np.exp(E1 * rt), A2 * np.exp(E2 * rt)
            for _ in range(2):  # Newton's method for the cure of each node
                left = 1 - a
                ln, am = left ** (N - 1), a ** (M - 1)
                kin = k1 + k2 * am * a
                rate = kin * ln * left
                a = a - (a0 * a + old_a - rate) / (a0 - ln * (k2 * M * am * left - N * kin))
                a = np.clip(a, 1e-9, 1 - 1e-9)
            held.array = rise * (a0 * a + old_a) - old_t
            C.mult(held, rhs)
            rhs.axpy(1.0, load)
            solver.solve(rhs, T)
            near = T.array.copy()
            off = near - blend(backward_weights(t[: k + 1], new)[1], temp)
            factor = factor_of(share.dot(off * off) ** 0.5 / 80.0 / (k + 1) / tolerance, k, order)
            if factor < 0.8 and step > first:
                step *= factor
                continue
            t, temp, cure = [new, *t[:order]], [near, *temp[:order]], [a, *cure[:order]]
            times.append(new)
            values.append(near[self.space.center])
            step = min(longest, step * factor)
        return np.array(times), np.array(values)


# --- answers --------------------------------------------------------------------------------------------------------

@lru_cache(maxsize=None)
def cooling(shape, contact, degree, n):
    if shape == "slab":
        space = Space(layered_line, degree, n)
    else:
        space = Space(ellipse_quarter, degree, n, contact)
    return Cooling(space, contact)


@lru_cache(maxsize=None)
def curing(shape, degree, n):
    half, dim = (0.025, 1) if shape == "slab" else (0.030, 2)
    return Curing(Space(graded_body, degree, half, n, dim))


def demold(shape, contact, degree, n, order, tolerance):
    body = cooling(shape, contact, degree, n)
    begin = time.perf_counter()
    answer = falls_to(*body.march(tolerance, order), COLD)
    return answer, 1e3 * (time.perf_counter() - begin), body.space.mesh_ms


def hottest(shape, degree, n, order, longest, tolerance):
    body = curing(shape, degree, n)
    begin = time.perf_counter()
    answer = np.array(peak(*body.march(tolerance, order, longest)))
    return answer, 1e3 * (time.perf_counter() - begin), body.space.mesh_ms


def converge():
    for name, shape, contact, levels in (
        ("layered slab", "slab", 2000.0, [(2, 8), (2, 16), (2, 32), (3, 16), (3, 32)]),
        ("ellipse, perfect contact", "ellipse", None, [(2, 6), (2, 12), (2, 24), (2, 48)]),
        ("ellipse, contact 1000", "ellipse", 1000.0, [(2, 6), (2, 12), (2, 24), (2, 48)]),
    ):
        for degree, n in levels:
            for tolerance in (1e-7, 1e-8, 1e-9):
                answer, ms, _ = demold(shape, contact, degree, n, 4, tolerance)
                unknowns = cooling(shape, contact, degree, n).star.x.array.size
                print(f"{name:26} degree {degree}, n {n:3d}, {unknowns:6d} unknowns, tolerance {tolerance:.0e}: "
                      f"{answer:.5f} s   ({ms:.0f} ms)", flush=True)
    for shape, levels in (("slab", [(2, 4), (2, 8), (2, 16), (3, 8), (4, 8)]), ("square", [(2, 4), (2, 8), (3, 4), (4, 4)])):
        for degree, n in levels:
            for tolerance in (1e-7, 1e-8, 1e-9):
                (best, at), ms, _ = hottest(shape, degree, n, 4, 40.0, tolerance)
                print(f"curing {shape:7} degree {degree}, n {n:2d}, tolerance {tolerance:.0e}: "
                      f"{best:.5f} degC at {at:.3f} s   ({ms:.0f} ms)", flush=True)


def bench(show):
    tolerances = [1e-3, 3e-4, 1e-4, 5e-5, 3e-5]
    for name, shape, contact, known, degrees, ns in (
        ("layered slab", "slab", 2000.0, 1048.6465, [2, 3, 4], [2, 3, 4, 6]),
        ("ellipse, perfect contact", "ellipse", None, 666.69735, [2, 3], [2, 3, 4]),
        ("ellipse, contact 1000", "ellipse", 1000.0, 683.27265, [2, 3], [2, 3, 4]),
    ):
        settings = choices(shape=[shape], contact=[contact], degree=degrees, n=ns, order=[2, 3, 4], tolerance=tolerances)
        quickest(name, demold, settings, lambda t: t / known - 1, 1e-3, show)
    for shape, known in (("slab", (101.26792, 2198.644)), ("square", (99.37033, 2230.350))):
        settings = choices(shape=[shape], degree=[2, 3, 4], n=[1, 2, 3], order=[3, 4], longest=[60.0, 80.0, 120.0],
                           tolerance=[1e-3, 3e-4, 1e-4])
        quickest(f"curing {shape}", hottest, settings, lambda p: max(p / known - 1, key=abs), 1e-3, show)


if __name__ == "__main__":
    gmsh.initialize()
    gmsh.option.setNumber("General.Verbosity", 0)
    bench("--search" in sys.argv) if len(sys.argv) > 1 else converge()
