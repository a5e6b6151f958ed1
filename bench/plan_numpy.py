"""Repeat a plan's Monte Carlo with numpy, from its description and the same seed, and time both.

Two ratios: of the evaluation alone on the same inputs, and of the whole: numbers by counter, inputs, evaluation, 2.5 and
97.5 % points of each figure.  All draws of an input or of an operation are one numpy array.

usage: plan_numpy.py BENCH_PLAN DIR N

The generator and the formulas of density and refraction are written down here again from their sources (docs/sources.md), not taken
from the program.  Exit 1 when an input, a figure of a draw, or a point differs by more than 1e-9 (relative).
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


# ---- inputs ----

SEED = 1
# [wichura1988] AS 241, PPND16: numerators and denominators of the middle, of the tails, of the far tails
CENTRAL = ([3.3871328727963666080e0, 1.3314166789178437745e2, 1.9715909503065514427e3, 1.3731693765509461125e4,
            4.5921953931549871457e4, 6.7265770927008700853e4, 3.3430575583588128105e4, 2.5090809287301226727e3],
           [1.0, 4.2313330701600911252e1, 6.8718700749205790830e2, 5.3941960214247511077e3, 2.1213794301586595867e4,
            3.9307895800092710610e4, 2.8729085735721942674e4, 5.2264952788528545610e3])
TAIL = ([1.42343711074968357734e0, 4.63033784615654529590e0, 5.76949722146069140550e0, 3.64784832476320460504e0,
         1.27045825245236838258e0, 2.41780725177450611770e-1, 2.27238449892691845833e-2, 7.74545014278341407640e-4],
        [1.0, 2.05319162663775882187e0, 1.67638483018380384940e0, 6.89767334985100004550e-1, 1.48103976427480074590e-1,
         1.51986665636164571966e-2, 5.47593808499534494600e-4, 1.05075007164441684324e-9])
FAR = ([6.65790464350110377720e0, 5.46378491116411436990e0, 1.78482653991729133580e0, 2.96560571828504891230e-1,
        2.65321895265761230930e-2, 1.24266094738807843860e-3, 2.71155556874348757815e-5, 2.01033439929228813265e-7],
       [1.0, 5.99832206555887937690e-1, 1.36929880922735805310e-1, 1.48753612908506148525e-2, 7.86869131145613259100e-4,
        1.84631831751005468180e-5, 1.42151175831644588870e-7, 2.04426310338993978564e-15])
Z975 = 1.959963984540054
LOW = np.uint64(0xFFFFFFFF)
HALF = np.uint64(32)


def uniform(n, name):
    """[salmon2011] Philox4x32-10, counters (draw, 0, name, 0), in 64-bit lanes and in place"""
    a = np.arange(n, dtype=np.uint64)
    b = np.zeros(n, np.uint64)
    c = np.full(n, name, np.uint64)
    d = np.zeros(n, np.uint64)
    p, q = np.empty_like(a), np.empty_like(a)
    k0, k1 = SEED & 0xFFFFFFFF, SEED >> 32
    for _ in range(10):
        np.multiply(a, np.uint64(0xD2511F53), out=p)
        np.multiply(c, np.uint64(0xCD9E8D57), out=q)
        np.right_shift(q, HALF, out=a)
        a ^= b
        a ^= np.uint64(k0)
        np.right_shift(p, HALF, out=c)
        c ^= d
        c ^= np.uint64(k1)
        np.bitwise_and(q, LOW, out=b)
        np.bitwise_and(p, LOW, out=d)
        k0, k1 = (k0 + 0x9E3779B9) & 0xFFFFFFFF, (k1 + 0xBB67AE85) & 0xFFFFFFFF
    a <<= HALF
    a |= b
    a >>= np.uint64(12)
    u = a.astype(np.float64)
    u *= 2.0**-52
    u += 2.0**-53
    return u


def quotient(pair, r):
    z = poly(pair[0], r)
    z /= poly(pair[1], r)
    return z


def normal(u):
    """the middle for all; the tails, a seventh of them, by their own branches"""
    q = u - 0.5
    z = q*quotient(CENTRAL, 0.180625 - q*q)
    at = np.flatnonzero(np.abs(q) > 0.425)
    v = u[at]
    r = np.sqrt(-np.log(np.minimum(v, 1.0 - v)))
    y = quotient(TAIL, r - 1.6)
    if (r > 5.0).any():
        y = np.where(r > 5.0, quotient(FAR, r - 5.0), y)
    z[at] = np.copysign(y, v - 0.5)
    return z


def draw(column, n):
    value, low, high = column["value"], column["low"], column["high"]
    u = uniform(n, int(column["id"]))
    if column["shape"] == "even":
        x = low + (high - low)*u
    elif column["shape"] == "peak":
        t = np.where(u < 0.5, np.sqrt(2.0*u) - 1.0, 1.0 - np.sqrt(2.0*(1.0 - u)))
        x = 0.5*(low + high) + 0.5*(high - low)*t
    else:
        low = 2.0*value - high if column["shape"] == "normal" else low
        x = normal(u)
        x *= np.where(x < 0.0, (value - low)/Z975, (high - value)/Z975)
        x += value
    if np.isfinite(column["clip_low"]) or np.isfinite(column["clip_high"]):
        np.clip(x, column["clip_low"], column["clip_high"], out=x)
    return x


def points(n, x):
    """2.5 and 97.5 % points by one partition"""
    at = [0.025*(n - 1), 0.975*(n - 1)]
    k = [int(a) for a in at]
    part = np.partition(x, [k[0], k[0] + 1, k[1], k[1] + 1])
    return [part[i] + (a - i)*(part[i + 1] - part[i]) for a, i in zip(at, k)]


def whole(plan, n):
    X = np.empty((len(plan["input"]), n))
    for i, column in enumerate(plan["input"]):
        X[i] = draw(column, n)
    figures = evaluate(plan, X)
    return X, figures, [None if not isinstance(v, np.ndarray) else points(n, v) for _, v in figures]


# ---- comparison ----

def best_of(times, run):
    seconds, result = 1e9, None
    for _ in range(times):
        start = time.perf_counter()
        result = run()
        seconds = min(seconds, time.perf_counter() - start)
    return seconds, result


def read_plan(folder):
    with open(os.path.join(folder, "plan.json"), encoding="utf-8") as f:
        plan = json.load(f)
    plan["constant"] = [bits(t) for t in plan["constant"]]
    for column in plan["input"]:
        for key in ("value", "low", "high", "clip_low", "clip_high", "id"):
            column[key] = bits(column[key])
    return plan


class Gap:
    """the largest relative difference, and where it is"""

    def __init__(self, what):
        self.what, self.worst, self.where = what, 0.0, "nowhere"

    def look(self, mine, theirs, where):
        gap = float(np.max(np.abs(mine - theirs)/np.maximum(np.abs(theirs), 1e-12)))
        if not gap <= self.worst:
            self.worst, self.where = gap, where

    def tell(self):
        print(f"largest difference of {self.what}: {self.worst:.2e} ({self.where}); allowed 1e-9")
        return self.worst <= 1e-9


def main():
    program, folder, n = sys.argv[1], sys.argv[2], int(sys.argv[3])
    told = subprocess.run([program, folder, str(n)], check=True, capture_output=True, text=True).stdout.split()
    c_evaluation, c_whole = float(told[0]), float(told[1])
    plan = read_plan(folder)
    read = lambda name, *shape: np.fromfile(os.path.join(folder, name)).reshape(*shape)  # noqa: E731
    X, y, q = read("X.f64", -1, n), read("y.f64", -1, n), read("q.f64", 2, -1)
    evaluation, figures = best_of(5, lambda: evaluate(plan, X))
    all_of_it, (inputs, again, ends) = best_of(3, lambda: whole(plan, n))

    gaps = Gap("inputs"), Gap("figures on the same inputs"), Gap("figures from the seed"), Gap("points")
    for i, column in enumerate(plan["input"]):
        gaps[0].look(inputs[i], X[i], f"input {i}, {column['what']}")
    for i, (key, value) in enumerate(figures):
        if value is None:
            continue
        gaps[1].look(value, y[i], key)
        gaps[2].look(again[i][1], y[i], key)
        if ends[i] is not None:
            gaps[3].look(np.array(ends[i]), q[:, i], key)
    print(f"inputs {len(X)}, operations {len(plan['op'])}, draws {n}, figures {sum(v is not None for _, v in figures)}")
    same = all([g.tell() for g in gaps])
    for what, ours, theirs in (("evaluation only", c_evaluation, evaluation), ("whole, from the seed", c_whole, all_of_it)):
        print(f"{what:21} stillroom {1e3*ours:9.2f} ms   numpy {np.__version__} {1e3*theirs:9.2f} ms   "
              f"ratio {theirs/ours:.1f}")
    return 0 if same else 1


if __name__ == "__main__":
    sys.exit(main())
