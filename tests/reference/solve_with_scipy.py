"""Solves the dye system of the tee with scipy and pyamg, and compares.

    cargo test --release --test reveal -- --ignored write_the_system
    pip install scipy pyamg
    python3 tests/reference/solve_with_scipy.py target/tmp

Direct reference: scipy conjugate gradients to 1e-10. Fails when our solution differs from it by more than 1e-4 of its length. Also
times, to a relative residual of 1e-4 and for all fields: scipy's conjugate gradients with Jacobi preconditioner, pyamg's
Ruge-Stueben multigrid (setup and solve, conjugate gradients over it), and ours as the test noted it.
"""

import pathlib
import sys
import time

import numpy as np
import pyamg
import scipy.io
import scipy.sparse as sparse
import scipy.sparse.linalg as linalg

folder = pathlib.Path(sys.argv[1])
matrix = scipy.io.mmread(folder / "operator.mtx").tocsr()
source = np.asarray(scipy.io.mmread(folder / "source.mtx"))
ours = np.asarray(scipy.io.mmread(folder / "solution.mtx"))
jacobi = sparse.diags(1.0 / matrix.diagonal())
print(f"{matrix.shape[0]} cells, {source.shape[1]} fields, {matrix.nnz} entries")

worst = 0.0
for field in range(source.shape[1]):
    if not source[:, field].any():
        continue
    reference, _ = linalg.cg(matrix, source[:, field], rtol=1e-10, maxiter=5000, M=jacobi)
    worst = max(worst, np.linalg.norm(ours[:, field] - reference) / np.linalg.norm(reference))
print(f"largest relative difference {worst:.2e}")

start = time.perf_counter()
for field in range(source.shape[1]):
    linalg.cg(matrix, source[:, field], rtol=1e-4, M=jacobi)
print(f"scipy conjugate gradients {time.perf_counter() - start:.3f} s")
start = time.perf_counter()
solver = pyamg.ruge_stuben_solver(matrix)
for field in range(source.shape[1]):
    solver.solve(source[:, field], tol=1e-4, accel="cg")
print(f"pyamg, setup and solve {time.perf_counter() - start:.3f} s")
print(f"ours, setup and solve {float((folder / 'seconds.txt').read_text()):.3f} s")
sys.exit(worst > 1e-4)
