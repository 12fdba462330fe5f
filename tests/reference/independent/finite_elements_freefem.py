"""Slabs, an ellipse and curing bodies by a general finite-element language: FreeFEM, core only, no plug-ins.

Triangles of degree 2 with straight sides (the ellipse is a polygon of the same area; slabs are strips one cell high). Between
layers in contact the nodes are double and joined by an integral over the face. Time by backward differences of variable
step that follows from a tolerance; heat capacity and cure at the extrapolated temperature. The work is in
finite_elements_freefem.edp.

    python3 finite_elements_freefem.py           converged answers
    python3 finite_elements_freefem.py --bench   for each problem one line of JSON: the fastest setting within 0.1 %
    python3 finite_elements_freefem.py --search  the same, after a list of the settings that came close

Timed, by its own clock (processor time): matrices, factors and march. Mesh and space are told apart (mesh_ms).
Units: m, s, degC, W, J.
"""
import json
import pathlib
import subprocess
import sys

from common import choices, falls_to, peak, quickest

import numpy as np

PROGRAM = ["FreeFem++-nw", "-nw", "-v", "0", str(pathlib.Path(__file__).with_suffix(".edp")), "--"]
COLD = 50.0


def run(problem, n, order, tolerance, more, runs):
    """What the program tells of one setting; more: the contact (0: perfect) or, curing, the longest step."""
    words = [problem, n, order, tolerance, more, runs]
    done = subprocess.run(PROGRAM + [f"{w}" for w in words], capture_output=True, text=True, timeout=120)
    if done.returncode:
        raise ArithmeticError(done.stdout[-300:])
    return json.loads(done.stdout)


def demold(shape, contact, n, order, tolerance, runs=3):
    told = run(shape, n, order, tolerance, contact or 0.0, runs)
    return falls_to(np.array(told["times"]), np.array(told["values"]), COLD), told["ms"], told["mesh_ms"]


def hottest(shape, n, order, longest, tolerance, runs=3):
    told = run(f"curing-{shape}", n, order, tolerance, longest, runs)
    return np.array(peak(np.array(told["times"]), np.array(told["values"]))), told["ms"], told["mesh_ms"]


COOLING = (
    ("layered slab", "slab", 2000.0, 1048.6465),
    ("ellipse, perfect contact", "ellipse", None, 666.69735),
    ("ellipse, contact 1000", "ellipse", 1000.0, 683.27265),
)


def converge():
    for name, shape, contact, _ in COOLING:
        for n in (8, 16, 32) if shape == "slab" else (8, 16, 32, 64):
            for tolerance in (1e-5, 1e-6, 1e-7) if n < 64 else (1e-7,):
                answer, ms, _ = demold(shape, contact, n, 4, tolerance, 1)
                print(f"{name:26} n {n:3d}, tolerance {tolerance:.0e}: {answer:.5f} s   ({ms:.0f} ms)", flush=True)
    for shape, ns in (("slab", (4, 8, 16)), ("square", (4, 8, 16))):
        for n in ns:
            for tolerance in (1e-6, 1e-7):
                (best, at), ms, _ = hottest(shape, n, 4, 40.0, tolerance, 1)
                print(f"curing {shape:7} n {n:2d}, tolerance {tolerance:.0e}: {best:.5f} degC at {at:.3f} s   ({ms:.0f} ms)", flush=True)


def bench(show):
    for name, shape, contact, known in COOLING:
        settings = choices(shape=[shape], contact=[contact], n=[2, 3, 4, 6] if shape == "slab" else [4, 5, 6, 8],
                           order=[3, 4], tolerance=[1e-3, 3e-4, 1e-4, 5e-5, 3e-5])
        quickest(name, demold, settings, lambda t: t / known - 1, 1e-3, show)
    for shape, known, ns in (("slab", (101.26792, 2198.644), [2, 3, 4]), ("square", (99.37033, 2230.350), [2, 3, 4])):
        settings = choices(shape=[shape], n=ns, order=[3, 4], longest=[60.0, 80.0, 120.0], tolerance=[3e-4, 1e-4])
        quickest(f"curing {shape}", hottest, settings, lambda p: max(p / known - 1, key=abs), 1e-3, show)


if __name__ == "__main__":
    bench("--search" in sys.argv) if len(sys.argv) > 1 else converge()
