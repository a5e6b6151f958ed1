"""Repeat a plan's arithmetic with numpy, from its description and the same inputs, and time both.

usage: plan_numpy.py BENCH_PLAN DIR N

The formulas of density and refraction are written down here again from their sources (docs/sources.md), not taken
from the program.  Exit 1 when a figure differs by more than 1e-9 (relative).
"""
import json
import os
import struct
import subprocess
import sys
import time

for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ[name] = "1"
import numpy as np  # noqa: E402  (after the limit of threads)

WATER, ETHANOL, SUCROSE, GLUCOSE, FRUCTOSE, LACTOSE, ACID, POLYOL, PROTEIN, EXTRACT, FAT, SOLIDS = range(12)

# [oiml1975] at 20 C
A = [9.982012300e2, -1.929769495e2, 3.891238958e2, -1.668103923e3, 1.352215441e4, -8.829278388e4, 3.062874042e5,
     -6.138381234e5, 7.470172998e5, -5.478461354e5, 2.234460334e5, -3.903285426e4]
RHO_W = A[0]
# [sps4] at 20 C, increments over water
S = [0.0, 385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890]
# own fits told in docs/sources.md: glucose, fructose factors; citric increments; the sugar scale; refractions
GLUCOSE_F = [0.0232, -0.10986, 0.44922, -0.43298]
FRUCTOSE_F = [-0.01358, 0.02899]
CITRIC = [0.0, 405.736, 148.077, 57.804]
SCALE = [1.33298714, 0.14273069, 0.0549804, 0.01122378, 0.01442682, -0.01008686]
K_ETHANOL = [0.453629e-3, 0.025232e-3, -0.065288e-3, 0.080184e-3, -0.035186e-3]
K_W = (SCALE[0] - 1.0)/RHO_W


def dry(rho_0, slope):
    """[choi1986] volume of dry matter at 20 C, m3/kg"""
    return 1.0/(rho_0 + slope*20.0)


V_OTHER = {POLYOL: 0.71e-3, PROTEIN: dry(1329.9, -0.51840), EXTRACT: dry(1599.1, -0.31046),
           FAT: dry(925.59, -0.41757), SOLIDS: dry(1311.5, -0.36589)}


def poly(c, x):
    s = np.full_like(x, c[-1])
    for a in c[-2::-1]:
        s *= x
        s += a
    return s


def share(a, b):
    """a/(a + b), 0 where a is 0"""
    d = a + b
    return np.divide(a, d, out=np.zeros_like(d), where=d > 0)


def liquid(reg, args):
    """mass fractions of what is there: a dictionary without the components that are 0 everywhere"""
    parts = {c: reg[r] for c, r in enumerate(args) if r != 0}
    total = sum(parts.values())
    nothing = total <= 0
    if nothing.any():
        parts[WATER] = np.where(nothing, 1.0, parts.get(WATER, 0.0))
        total = np.where(nothing, 1.0, total)
    inverse = 1.0/total
    return {c: m*inverse for c, m in parts.items()}


def density(w):
    zero = np.zeros_like(next(iter(w.values())))
    get = lambda c: w.get(c, zero)  # noqa: E731
    W, E, acid = get(WATER), get(ETHANOL), get(ACID)
    V = -2.0*W/RHO_W
    V += (E + W)/poly(A, share(E, W)) if ETHANOL in w else W/RHO_W
    sugar = [get(SUCROSE) + get(LACTOSE), get(GLUCOSE), get(FRUCTOSE)]
    s = sugar[0] + sugar[1] + sugar[2]
    x = share(s, W)
    increment = poly(S, x)
    v = np.zeros_like(s)
    d = np.where(s > 0, s, 1.0)
    v += sugar[0]/d/(RHO_W + increment)
    if GLUCOSE in w:
        v += sugar[1]/d/(RHO_W + increment*(1.0 - poly(GLUCOSE_F, np.minimum(x, 0.60))))
    if FRUCTOSE in w:
        v += sugar[2]/d/(RHO_W + increment*(1.0 - poly(FRUCTOSE_F, np.minimum(x, 0.48))))
    V += np.where(s > 0, (s + W)*v, W/RHO_W)
    V += (acid + W)/(RHO_W + poly(CITRIC, share(acid, W))) if ACID in w else W/RHO_W
    for c, volume in V_OTHER.items():
        if c in w:
            V += w[c]*volume
    return sum(w.values())/V


def index(w):
    clear = 1.0 - w.get(FAT, 0.0) - w.get(SOLIDS, 0.0)
    w = {c: m/clear for c, m in w.items() if c not in (FAT, SOLIDS)}
    zero = np.zeros_like(next(iter(w.values())))
    get = lambda c: w.get(c, zero)  # noqa: E731
    s = get(SUCROSE) + get(LACTOSE) + get(GLUCOSE) + get(FRUCTOSE)
    d = np.where(s > 0, s, 1.0)
    k = (poly(SCALE, s) - 1.0)/(RHO_W + poly(S, s)) - (1.0 - s)*K_W
    k *= 1.0 - get(GLUCOSE)/d*(-0.00319 + 0.00564*s) - get(FRUCTOSE)/d*0.00892
    k += get(WATER)*K_W
    if ETHANOL in w:
        k += w[ETHANOL]*poly(K_ETHANOL, share(w[ETHANOL], get(WATER)))
    if ACID in w:
        k += w[ACID]*1e-3*(0.323916 - 0.008320*w[ACID])
    for c, value in ((POLYOL, 0.360e-3), (PROTEIN, 0.431e-3), (EXTRACT, 0.349e-3)):
        if c in w:
            k += w[c]*value
    return 1.0 + density(w)*k


def inverse(f, slope, grid, y, steps=3):
    """x with f(x) = y, f rising: table, then Newton"""
    x = np.interp(y, f(grid), grid)
    for _ in range(steps):
        x -= (f(x) - y)/slope(x)
    return x


def derivative(c):
    return [k*a for k, a in enumerate(c)][1:]


def brix(n):
    return 100.0*inverse(lambda w: poly(SCALE, w), lambda w: poly(derivative(SCALE), w),
                         np.linspace(-0.05, 0.85, 1001), n)


def spirit(q):
    to_strength = [0.0] + [100.0/sum(A)*a for a in A]
    return inverse(lambda p: poly(to_strength, p), lambda p: poly(derivative(to_strength), p),
                   np.linspace(0.0, 1.0, 1001), q)


def ratio(a, b):
    return np.divide(a, b, out=np.zeros(np.broadcast(a, b).shape), where=np.asarray(b) > 0)


OPS = {
    "add": np.add, "sub": np.subtract, "mul": np.multiply, "min": np.minimum, "max": np.maximum, "ratio": ratio,
    "madd": lambda a, b, c: a*b + c, "brix": brix, "spirit": spirit,
}


def bits(text):
    return struct.unpack(">d", bytes.fromhex(text))[0]


def evaluate(plan, X):
    reg = [None]*plan["n_register"]
    n = X.shape[1]
    for i, c in enumerate(plan["constant"]):
        reg[i] = c
    for i in range(len(X)):
        reg[plan["first_input"] + i] = X[i]
    for name, dst, *args in plan["op"]:
        if name in ("density_20", "index_20"):
            wide = [r if isinstance(reg[r], np.ndarray) or r == 0 else -1 for r in args]
            if -1 in wide:  # a constant among masses
                full = {r: np.full(n, reg[r]) for r in args if r != 0 and not isinstance(reg[r], np.ndarray)}
                lookup = [full.get(r, reg[r]) for r in range(len(reg))]
            else:
                lookup = reg
            w = liquid(lookup, args)
            reg[dst] = density(w) if name == "density_20" else index(w)
        else:
            reg[dst] = OPS[name](*(reg[r] for r in args))
    return [(key, None if r < 0 else reg[r]) for key, r in plan["figure"]]


def main():
    program, folder, n = sys.argv[1], sys.argv[2], int(sys.argv[3])
    c_seconds = float(subprocess.run([program, folder, str(n)], check=True, capture_output=True, text=True).stdout)
    with open(os.path.join(folder, "plan.json"), encoding="utf-8") as f:
        plan = json.load(f)
    plan["constant"] = [bits(t) for t in plan["constant"]]
    X = np.fromfile(os.path.join(folder, "X.f64")).reshape(-1, n)
    y = np.fromfile(os.path.join(folder, "y.f64")).reshape(-1, n)
    seconds = 1e9
    for _ in range(5):
        start = time.perf_counter()
        figures = evaluate(plan, X)
        seconds = min(seconds, time.perf_counter() - start)
    worst, where = 0.0, ""
    for i, (key, value) in enumerate(figures):
        if value is None:
            continue
        gap = float(np.max(np.abs(value - y[i])/np.maximum(np.abs(y[i]), 1e-12)))
        if not gap <= worst:
            worst, where = gap, key
    print(f"inputs {len(X)}, operations {len(plan['op'])}, draws {n}, figures {sum(v is not None for _, v in figures)}")
    print(f"largest difference {worst:.2e} ({where}); allowed 1e-9")
    print(f"stillroom {1e3*c_seconds:9.2f} ms   numpy {np.__version__} {1e3*seconds:9.2f} ms   ratio {seconds/c_seconds:.1f}")
    return 0 if worst <= 1e-9 else 1


if __name__ == "__main__":
    sys.exit(main())
