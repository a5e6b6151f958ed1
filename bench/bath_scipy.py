"""The jar of bench_bath by scipy's solvers, at the same error, timed side by side.

usage: bath_scipy.py BENCH_BATH [ROUNDS]

The same shells, written down here again, as a linear system dy/dt = A y for each marker.  The reference is the exact
solution of that system by the exponential of the matrix, so that what is measured is the error in time alone: the largest
over a third of the markers and all times, as a share of all there is of a marker.  Each solver gets the loosest tolerances, of a grid,
whose error is no larger than ours; then ours and theirs run in turn, and the median of the ratios of processor time is told.

  BDF    solve_ivp, the Jacobian given, constant and sparse (it takes none in bands)
  LSODA  solve_ivp, the Jacobian given in bands: shell by shell, so that 8 bands on each side hold the liquid too
"""
import os
import subprocess
import sys
import time

for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ[name] = "1"
import numpy as np  # noqa: E402  (after the limit of threads)
from scipy.integrate import solve_ivp  # noqa: E402
from scipy.linalg import expm  # noqa: E402
from scipy.sparse import csc_matrix, csr_matrix  # noqa: E402

BANDS = 8


def shells_of(n, shells):
    """volumes, conductances between shells, and from the middle of the outermost to the surface"""
    edge = 1.0 - (1.0 - np.arange(shells + 1)/shells)**2
    middle = 0.5*(edge[1:] + edge[:-1])
    return edge[1:]**n - edge[:-1]**n, n*edge[1:-1]**(n - 1)/np.diff(middle), n, 1.0 - middle[-1]


class Marker:
    """A of dy/dt = A y: shells of all pieces, row by row from the middles, the washed parts, the amount in the liquid"""

    def __init__(self, pieces, shells):
        p, row = len(pieces), len(pieces)
        size = p*(shells + 1) + 1
        A, y0, liquid = np.zeros((size, size)), np.zeros(size), size - 1
        for j, (n, V_L, V, rate, K, biot, washed, wash, c0) in enumerate(pieces):
            v, g, area, depth = shells_of(int(n), shells)
            at = [k*row + j for k in range(shells)]
            for k in range(shells - 1):
                a, b = at[k], at[k + 1]
                A[a, a] -= rate*g[k]/v[k]
                A[a, b] += rate*g[k]/v[k]
                A[b, b] -= rate*g[k]/v[k + 1]
                A[b, a] += rate*g[k]/v[k + 1]
            s, last, w = rate*area/(depth + 1.0/biot), at[-1], shells*row + j
            A[last, last] -= s/v[-1]
            A[last, liquid] += s*K/V_L/v[-1]
            A[liquid, last] += (1.0 - washed)*V*s
            A[liquid, liquid] -= ((1.0 - washed)*V*s + washed*V*wash)*K/V_L
            A[w, w] -= wash
            A[w, liquid] += wash*K/V_L
            A[liquid, w] += washed*V*wash
            y0[at], y0[w] = c0, c0
            if c0:
                self.total = V*c0
        scale = np.ones(size)
        scale[liquid] = 1.0/pieces[0][1]  # the liquid as a concentration, as the rest
        self.A, self.y0 = A*scale[:, None]/scale[None, :], y0*scale
        self.V_L = pieces[0][1]
        self.sparse, self.csc = csr_matrix(self.A), csc_matrix(self.A)
        self.bands = np.zeros((3*BANDS + 1, size), order="F")  # the last rows are LSODA's own room
        for i, k in zip(*np.nonzero(self.A)):
            self.bands[BANDS + i - k, k] = self.A[i, k]

    def exact(self, times):
        y, now, out = self.y0, 0.0, []
        for t in times:
            y, now = expm(self.A*(t - now)) @ y, t
            out.append(y[-1]*self.V_L)
        return np.array(out)

    def solve(self, method, times, rtol, atol):
        more = {"jac": self.csc} if method == "BDF" else \
            {"jac": lambda t, y: self.bands, "lband": BANDS, "uband": BANDS}
        s = solve_ivp(lambda t, y: self.sparse @ y, (0.0, times[-1]), self.y0, method=method, t_eval=times, rtol=rtol,
                      atol=atol, **more)
        if not s.success:
            return np.full(len(times), np.inf)
        return s.y[-1]*self.V_L


def read(program, draw):
    lines = subprocess.run([program, "describe", str(draw)], capture_output=True, text=True, check=True).stdout.split("\n")
    times, shells = [float(x) for x in lines[0].split()[1:]], int(lines[1].split()[1])
    pieces = {}
    for line in lines[2:]:
        if line:
            f = line.split()
            pieces.setdefault(int(f[0]), []).append([float(x) for x in f[2:]])
    return times, [Marker(pieces[m], shells) for m in sorted(pieces)]


def ours(program, draw, tolerance):
    text = subprocess.run([program, "run", str(draw), repr(tolerance)], capture_output=True, text=True, check=True).stdout
    return np.array([[float(x) for x in line.split()] for line in text.split("\n") if line])


def ours_seconds(program, tolerance, n):
    return float(subprocess.run([program, "time", repr(tolerance), str(n)], capture_output=True, text=True, check=True).stdout)


def all_markers(markers, method, times, rtol, atol):
    start = time.process_time()
    y = np.array([m.solve(method, times, rtol, atol) for m in markers])
    return time.process_time() - start, y


def error(y, exact, markers):
    return max(np.max(np.abs(y[i] - exact[i]))/m.total for i, m in enumerate(markers))


def loosest(markers, method, times, exact, allowed):
    """the fastest rtol, atol of a grid whose error is at most `allowed`, looked for from the loose end"""
    best = None
    for part in (0.1, 1e-2):
        for rtol in (3e-3, 1e-3, 3e-4, 1e-4, 3e-5, 1e-5, 3e-6, 1e-6):
            seconds, y = all_markers(markers, method, times, rtol, rtol*part)
            e = error(y, exact, markers)
            if e <= allowed:
                if best is None or seconds < best[0]:
                    best = (seconds, rtol, rtol*part, e)
                break
    return best


def main():
    program, rounds = sys.argv[1], int(sys.argv[2]) if len(sys.argv) > 2 else 5
    tolerance = 1e-4
    times, markers = read(program, 0)
    some = range(0, len(markers), 3)  # of each ingredient two
    few = [markers[i] for i in some]
    exact = np.array([m.exact(times) for m in few])
    allowed = error(ours(program, 0, tolerance)[some], exact, few)
    print(f"ours: tolerance {tolerance:g}, error {allowed:.2g} of all", flush=True)
    if not allowed < 1e-3:
        print("the two do not solve the same jar")
        return 1
    for method in ("BDF", "LSODA"):
        best = loosest(few, method, times, exact, allowed)
        if best is None:
            print(f"{method}: no tolerance of the grid comes so near")
            continue
        ratios = []
        for _ in range(rounds):
            mine = ours_seconds(program, tolerance, 20)
            ratios.append(all_markers(markers, method, times, best[1], best[2])[0]/mine)
        print(f"{method}: rtol {best[1]:g}, atol {best[2]:g}, error {best[3]:.2g}; a draw takes {np.median(ratios):.0f} times "
              f"as long ({min(ratios):.0f} to {max(ratios):.0f}, {rounds} rounds in turn)", flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
