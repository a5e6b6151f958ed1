#!/usr/bin/env python3
"""Writes tests/data/reference50/*.tsv: core's functions at random points, evaluated with 50 digits.

    python3 tests/reference50/make.py [FOLDER]        (needs mpmath; the same bytes each time)

Written from the formulas as they are published and from the rules told in the headers of src/core and in
docs/sources.md, not from the C sources: sums are in another order, inverses are found by mpmath's root finder, nothing
is shared but the coefficients.  What differs from the program is then a slip on one side.

Tolerances are what double arithmetic honestly allows, worked out here and not from what the program gives:
  * 1e-12 relative, where the sum is well behaved;
  * for the ethanol-water formula, whose terms reach 9000 times the sum, u times the sum of the absolute terms, if that
    is more (u = 2^-53: each term wrong by half a unit of its last digit; the textbook bound for a polynomial of degree
    11 is 24 times as wide), carried on to what is computed from that density;
  * for bracketed roots, the width at which the bracket stops (freezing and boiling: 1e-9 K);
  * for gauging, its stopping rule: 1e-8 of 1 kg/m3 and of 0.1 Brix.
"""
import os
import random
import sys

from mpmath import mp, mpf, exp, log, sqrt, findroot

mp.dps = 50
U = mpf(2) ** -53
T0 = mpf("273.15")
R_GAS = mpf("8.314462618")
M_E, M_W = mpf("46.06844"), mpf("18.01528")


def F(text):
    return [mpf(x) for x in text.split()]


# ---- [oiml1975] general formula -------------------------------------------------------------------------------------
A = F("""9.982012300e2 -1.929769495e2 3.891238958e2 -1.668103923e3 1.352215441e4 -8.829278388e4
         3.062874042e5 -6.138381234e5 7.470172998e5 -5.478461354e5 2.234460334e5 -3.903285426e4""")
B = F("-2.0618513e-1 -5.2682542e-3 3.6130013e-5 -3.8957702e-7 7.1693540e-9 -9.9739231e-11")
C = [
    F("""1.693443461530087e-1 -1.046914743455169e1 7.196353469546523e1 -7.047478054272792e2 3.924090430035045e3
         -1.210164659068747e4 2.248646550400788e4 -2.605562982188164e4 1.852373922069467e4 -7.420201433430137e3
         1.285617841998974e3"""),
    F("""-1.193013005057010e-2 2.517399633803461e-1 -2.170575700536993 1.353034988843029e1 -5.029988758547014e1
         1.096355666577570e2 -1.422753946421155e2 1.080435942856230e2 -4.414153236817392e1 7.442971530188783"""),
    F("""-6.802995733503803e-4 1.876837790289664e-2 -2.002561813734156e-1 1.022992966719220 -2.895696483903638
         4.810060584300675 -4.672147440794683 2.458043105903461 -5.411227621436812e-1"""),
    F("4.075376675622027e-6 -8.763058573471110e-6 6.515031360099368e-6 -1.515784836987210e-6"),
    F("-2.788074354782409e-8 1.345612883493354e-8"),
]


def oiml_terms(p, t):
    theta = t - 20
    terms = [a * p ** k for k, a in enumerate(A)] + [b * theta ** (k + 1) for k, b in enumerate(B)]
    for i, row in enumerate(C):
        terms += [c * p ** (k + 1) * theta ** (i + 1) for k, c in enumerate(row)]
    return terms


def rho_ew(p, t):
    return sum(oiml_terms(p, t)) if p else rho_w(t)


def tol_ew(p, t):
    """allowed error of the ethanol-water density, relative"""
    terms = oiml_terms(p, t)
    return max(mpf("1e-12"), U * sum(abs(x) for x in terms) / sum(terms))


# ---- water and sugar: [oiml1975] water to 40 C, carried on by the increments of the [sps4] water equation ------------
def sps4_water(t):
    up = F("999.83952 16.952577 -7.9905127e-3 -46.241757e-6 105.84601e-9 -281.03006e-12")
    return sum(c * t ** k for k, c in enumerate(up)) / (1 + mpf("16.887236e-3") * t)


def rho_w(t):
    if t <= 40:
        return sum(oiml_terms(mpf(0), t))
    return sum(oiml_terms(mpf(0), mpf(40))) + sps4_water(t) - sps4_water(mpf(40))


SPS4 = [
    F("385.1761 135.3705 40.9299 -3.9643 13.4853 -17.2890"),
    F("-46.2720 -7.1720 1.1597 5.1126 17.5254"),
    F("59.7712 7.2491 12.3630 -35.4791"),
    F("-47.2207 -21.6977 27.6301"),
    F("18.3184 12.3081"),
]


def sucrose_increment(w, t):
    x = (t - 20) / 100
    return sum(a * w ** (k + 1) * x ** i for i, row in enumerate(SPS4) for k, a in enumerate(row))


def rho_sugar(kind, w, t):
    """kind: S, G, F; docs/sources.md [crc102]: factors of the sucrose increment, held beyond 60 and 48 %"""
    factor = mpf(1)
    if kind == "G":
        y = min(w, mpf("0.60"))
        factor = 1 - (mpf("0.0232") - mpf("0.10986") * y + mpf("0.44922") * y ** 2 - mpf("0.43298") * y ** 3)
    if kind == "F":
        y = min(w, mpf("0.48"))
        factor = 1 - (mpf("-0.01358") + mpf("0.02899") * y)
    return rho_w(t) + sucrose_increment(w, t) * factor


def rho_citric(w, t):
    return rho_w(t) + mpf("405.736") * w + mpf("148.077") * w ** 2 + mpf("57.804") * w ** 3


# ---- mixtures: density_mixture.h, Notes 1 and 2 ----------------------------------------------------------------------
def rho_mix(w, t):
    E, S, G, Fr, Ac, W = w
    sugars = S + G + Fr
    x = sugars / (sugars + W) if sugars else mpf(0)
    v_sw = 1 / rho_w(t)
    if sugars:
        v_sw = sum(m / sugars / rho_sugar(k, x, t) for k, m in zip("SGF", (S, G, Fr)))
    v = (E + W) / rho_ew(E / (E + W), t) + (sugars + W) * v_sw - 2 * W / rho_w(t)
    v += (Ac + W) / rho_citric(Ac / (Ac + W), t)
    return 1 / v


def tol_mix(w, t):
    E, W = w[0], w[5]
    return 2 * tol_ew(E / (E + W), t) if E else mpf("1e-12")


def strength(p, t):
    return 100 * p * rho_ew(p, t) / rho_ew(mpf(1), t)


T60F = (mpf(60) - 32) / mpf("1.8")


def strength_mix(w):
    return 100 * w[0] * rho_mix(w, mpf(20)) / rho_ew(mpf(1), mpf(20))


# ---- refraction: refraction.h; [icumsa1974] fit, Gladstone-Dale ------------------------------------------------------
SCALE = F("1.33298714 0.14273069 0.0549804 0.01122378 0.01442682 -0.01008686")


def n_scale(w):
    return sum(c * w ** k for k, c in enumerate(SCALE))


def n_water(t):
    d = t - 20
    return SCALE[0] + mpf("-8.97667e-5") * d + mpf("-1.58333e-6") * d ** 2 + mpf("6.0e-9") * d ** 3


def k_water(t):
    return (n_water(t) - 1) / rho_w(t)


def wk_sucrose(w):
    """w times the specific refraction of sucrose: what water leaves of the scale at 20 C"""
    return (n_scale(w) - 1) / rho_sugar("S", w, mpf(20)) - (1 - w) * k_water(mpf(20))


def n_sucrose(w, t):
    return 1 + rho_sugar("S", w, t) * ((1 - w) * k_water(t) + wk_sucrose(w))


KE = F("0.453629 0.025232 -0.065288 0.080184 -0.035186")


def n_mix(w, t):
    E, S, G, Fr, Ac, W = w
    p, sugars = E / (E + W), S + G + Fr
    total = W * k_water(t) + E * sum(c * p ** k for k, c in enumerate(KE)) / 1000
    if sugars:
        glucose = mpf("-0.00319") + mpf("0.00564") * sugars
        total += wk_sucrose(sugars) * (1 - G / sugars * glucose - Fr / sugars * mpf("0.00892"))
    total += Ac * (mpf("0.323916") - mpf("0.008320") * Ac) / 1000
    return 1 + rho_mix(w, t) * total


def tol_n(w, t):
    """allowed error of the index: a few roundings near 1.4, and that of the density"""
    return 8 * U + (n_mix(w, t) - 1) * tol_mix(w, t)


def reading_atc(w, t):
    n = n_mix(w, t)
    return 100 * findroot(lambda x: n_sucrose(x, t) - n, (n - SCALE[0]) / mpf("0.15"))


def brix_of(n):
    return 100 * findroot(lambda x: n_scale(x) - n, (n - SCALE[0]) / mpf("0.15"))


GLASS = mpf("25e-6")


def hydrometer(w, t, ref):
    return rho_mix(w, t) * (1 + GLASS * (t - ref)) / rho_w(ref)


# ---- freezing, boiling, activity ---------------------------------------------------------------------------------------
def ln_ice(T):
    return -(mpf("6008.8") / R_GAS) * (1 / T - 1 / T0) + (mpf("38.1") / R_GAS) * (T0 / T - 1 - log(T0 / T))


def melinder_freezing(p):
    y = p - mpf("0.292361")
    return sum(c * y ** k for k, c in enumerate(F("253.74 -95.40 -26.48 385.1 -28.58 -1670")))


def freezing_ethanol(p):
    """freezing.h: residue at p = 0 faded out to 0.05; from 0.60 the parabola through three table points"""
    if p <= mpf("0.60"):
        fade = (T0 - melinder_freezing(mpf(0))) * (1 - p / mpf("0.05")) if p < mpf("0.05") else 0
        return melinder_freezing(p) + fade
    xs, ys = F("0.60 0.64 0.68"), [T0 + y for y in F("-44.93 -47.52 -49.52")]
    def lagrange(x):
        s = mpf(0)
        for i in range(3):
            term = ys[i]
            for j in range(3):
                if j != i:
                    term *= (x - xs[j]) / (xs[i] - xs[j])
            s += term
        return s
    step = melinder_freezing(mpf("0.60")) - lagrange(mpf("0.60"))
    return lagrange(p) + step * (mpf("0.68") - p) / mpf("0.08")


def freezing_mix(w):
    """freezing.h, Note 3; the roots of b as the program carries them (docs/sources.md, thermal rows)"""
    E, S, G, Fr, Ac, W = w
    T = freezing_ethanol(E / (E + W))
    m = lambda mass, M: 1000 * mass / (mpf(M) * W)
    lin = mpf("0.01771687") * m(S, "342.2965") + mpf("0.018015") * (m(G, "180.156") + m(Fr, "180.156") + m(Ac, "192.124"))
    root = mpf("0.047682386") * m(S, "342.2965") + mpf("0.025915553") * (m(G, "180.156") + m(Fr, "180.156"))
    if lin == 0:
        return T
    ln_a = ln_ice(T) - lin - root ** 2
    return findroot(lambda x: ln_ice(x) - ln_a, T - 100 * lin)


def van_laar(p):
    n_E, n_W = p / M_E, (1 - p) / M_W
    x = n_E / (n_E + n_W)
    a, b = mpf("1.6798"), mpf("0.9227")
    if x == 0:
        return x, exp(a), mpf(1)
    if x == 1:
        return x, mpf(1), exp(b)
    return x, exp(a / (1 + a * x / (b * (1 - x))) ** 2), exp(b / (1 + b * (1 - x) / (a * x)) ** 2)


def ln_norrish(w):
    E, S, G, Fr, Ac, W = w
    n = [W / M_W] + [m / mpf(M) for m, M in ((S, "342.2965"), (G, "180.156"), (Fr, "180.156"), (Ac, "192.124"))]
    total = sum(n)
    root = (sqrt(mpf("6.47")) * n[1] + sqrt(mpf("2.25")) * (n[2] + n[3])) / total
    return log(n[0] / total) - root ** 2


def activity(w):
    x, _, g_W = van_laar(w[0] / (w[0] + w[5]))
    return (1 - x) * g_W * exp(ln_norrish(w))


def antoine(a, b, c, t):
    return mpf(10) ** (mpf(a) - mpf(b) / (t + mpf(c)))


def boiling(w):
    x, g_E, g_W = van_laar(w[0] / (w[0] + w[5]))
    a_W = (1 - x) * g_W * exp(ln_norrish(w))
    def excess(t):
        return x * g_E * antoine("8.1122", "1592.864", "226.184", t) + a_W * antoine("8.07131", "1730.63", "233.426", t) - 760
    return findroot(excess, (mpf(75), mpf(105)), solver="anderson")


# ---- heat capacity, viscosity, solubility -------------------------------------------------------------------------------
CP = [
    F("4204 -2102 -3714 17430 -6292 -82900"), F("2.319 49.27 -23.35 -296.9 535.3"),
    F("-0.03042 -0.3072 -0.196 1.901"), F("6.86e-4 -5.69e-3 7.461e-3"),
]


def cp_ethanol(p, t):
    """heat_capacity.h: held above 40 C; above 60 % a straight line to 2438 for pure ethanol"""
    tau = T0 + min(t, mpf(40)) - mpf("281.3078")
    at = lambda q: sum(c * tau ** i * (q - mpf("0.292361")) ** j for i, row in enumerate(CP) for j, c in enumerate(row))
    if p <= mpf("0.60"):
        return at(p)
    return at(mpf("0.60")) + (2438 - at(mpf("0.60"))) * (p - mpf("0.60")) / mpf("0.40")


def cp_mix(w, t):
    E, W = w[0], w[5]
    p = E / (E + W)
    solvent = cp_ethanol(p, t)
    if p < mpf("0.05"):
        solvent += (4184 - cp_ethanol(mpf(0), t)) * (1 - p / mpf("0.05"))
    return (E + W) * solvent + (1 - E - W) * (1673 + mpf("7.5") * t)


VE = F("3.7794141 8.1807041 -61.47464 130.54459 -146.76978 88.483394 -22.561164")
VS = F("2.57649511 1.02403042 0.04809389")


def viscosity(w, t):
    """mPa s; viscosity.h, Notes 2 and 3"""
    E, W = w[0], w[5]
    p, s = E / (E + W), 1 - E - W
    u = s / (1 - mpf("0.75") * s)
    ln20 = sum(c * p ** (k + 1) for k, c in enumerate(VE)) + sum(c * u ** (k + 1) for k, c in enumerate(VS))
    return mpf("1.002") * exp(ln20 + (2050 + 630 * ln20) * (1 / (T0 + t) - 1 / mpf("293.15")))


SCHREFELD = F("66.2 62.2 58.55 54.05 47.75 38.55 26.7 12.25 4.05 0.95 0")


def solubility(p, t):
    """% mass; solubility.h, Notes 1 and 2"""
    ws = sum(c * t ** k for k, c in enumerate(F("64.167287e-2 0.13888377e-2 4.2268976e-6 7.3150032e-9")))
    if p == 0:
        return 100 * ws
    i = min(int(10 * p), 9)
    table = (SCHREFELD[i] + (SCHREFELD[i + 1] - SCHREFELD[i]) * (10 * p - i)) / 100
    ratio = lambda x: x / (1 - x)
    r = ratio(ws) * ratio(table) / ratio(SCHREFELD[0] / 100)
    return 100 * r / (1 + r)


# ---- sheets -------------------------------------------------------------------------------------------------------------
rng = random.Random(20250101)


def number(low, high, digits):
    return f"{rng.uniform(low, high):.{digits}f}"


def five(most=(0.6, 0.5, 0.3, 0.3, 0.04), none=0.35, least_water=0.12):
    """text of ethanol, sucrose, glucose, fructose, citric: decimal fractions, enough water left"""
    while True:
        text = ["0" if rng.random() < none else number(0.001, m, 5) for m in most]
        if 1 - sum(mpf(x) for x in text) >= least_water:
            return text


def with_water(text):
    w = [mpf(x) for x in text[:5]]
    return w + [1 - sum(w)]


def show(x):
    return mp.nstr(x, 22)


FIVE = "ethanol sucrose glucose fructose citric"


class Sheet:
    def __init__(self, folder, name):
        self.path, self.lines = os.path.join(folder, name + ".tsv"), []

    def section(self, what, source, tol, function, columns, rows):
        self.lines += [f"# what   {what}, with 50 digits", f"# source {source}", "# source random points by tests/reference50/make.py",
                       f"# tol    {tol}", "# kind   reference", f"function {function}", f"columns  {columns} tol"]
        self.lines += ["  ".join(row) for row in rows]

    def write(self):
        with open(self.path, "w", encoding="ascii", newline="\n") as f:
            f.write("\n".join(self.lines) + "\n")


def rel(x="1e-12"):
    return f"rel {x}"


def as_rel(x):
    return f"rel {mp.nstr(x, 2)}"


PLAIN = "relative 1e-12"
EW = "relative 1e-12, or u times the sum of the absolute terms of the ethanol-water formula where that is more"


def density(folder):
    s = Sheet(folder, "density")
    ts = [number(-20, 60, 3) for _ in range(200)]
    s.section("density of water", "[oiml1975], [sps4] above 40 C;", PLAIN, "density_water", "t_C rho_kg_m3",
              [[t, show(rho_w(mpf(t))), rel()] for t in ts])
    pt = [(number(0, 100, 4), number(-20, 40, 3)) for _ in range(400)] + [(f"{p}", f"{t}") for p in (0, 100) for t in (-20, 20, 40)]
    s.section("density of ethanol + water", "[oiml1975];", EW, "density_ethanol", "mass_pct t_C rho_kg_m3",
              [[p, t, show(rho_ew(mpf(p) / 100, mpf(t))), as_rel(tol_ew(mpf(p) / 100, mpf(t)))] for p, t in pt])
    for kind, name in zip("SGF", ("sucrose", "glucose", "fructose")):
        wt = [(number(0, 85, 4), number(-20, 60, 3)) for _ in range(300 if kind == "S" else 150)]
        s.section(f"density of {name} + water", "[sps4] on the water of [oiml1975];" if kind == "S" else
                  "[sps4] and the factor told under [crc102];", PLAIN, f"density_{name}", "mass_pct t_C rho_kg_m3",
                  [[w, t, show(rho_sugar(kind, mpf(w) / 100, mpf(t))), rel()] for w, t in wt])
    wt = [(number(0, 60, 4), number(-20, 60, 3)) for _ in range(150)]
    s.section("density of citric acid + water", "increment told under [crc102];", PLAIN, "density_citric",
              "mass_pct t_C rho_kg_m3", [[w, t, show(rho_citric(mpf(w) / 100, mpf(t))), rel()] for w, t in wt])
    ws = [(number(1, 84, 4), number(-20, 60, 3)) for _ in range(150)]
    s.section("sucrose from density", "[sps4] on the water of [oiml1975], solved;", "relative 1e-12 of the density (the "
              "last digit of 1500 kg/m3 is 2e-13) by the slope, 380 kg/m3 and more", "sucrose_from_density",
              "rho_kg_m3 t_C mass_pct",
              [[r, t, show(100 * findroot(lambda x: rho_sugar("S", x, mpf(t)) - mpf(r), mpf(w) / 100)), "1e-9"]
               for w, t in ws for r in [mp.nstr(rho_sugar("S", mpf(w) / 100, mpf(t)), 16)]])
    s.write()


def mixtures(folder):
    s = Sheet(folder, "mixture")
    pts = [five() for _ in range(500)]
    ts = [number(-15, 40, 3) for _ in pts]
    s.section("density of a mixture", "rule of density_mixture.h: [oiml1975], [sps4], [crc102] sharing the water;", EW + ", twice",
              "density_mixture", FIVE + " t_C rho_kg_m3",
              [x + [t, show(rho_mix(with_water(x), mpf(t))), as_rel(tol_mix(with_water(x), mpf(t)))] for x, t in zip(pts, ts)])
    s.section("strength of a mixture", "definition of % vol in [oiml1975];", EW + ", three times", "strength_mixture",
              FIVE + " pct_vol", [x + [show(strength_mix(with_water(x))), as_rel(tol_mix(with_water(x), mpf(20)) + tol_ew(mpf(1), mpf(20)))]
                                  for x in pts[:300] if mpf(x[0])])
    s.write()


def strengths(folder):
    s = Sheet(folder, "strength")
    ps = [number(0.01, 100, 4) for _ in range(300)]
    p_tol = lambda p, t: as_rel(tol_ew(p, t) + tol_ew(mpf(1), t))
    s.section("strength of ethanol + water", "[oiml1975];", EW + ", twice", "strength_from_mass", "mass_pct pct_vol",
              [[p, show(strength(mpf(p) / 100, mpf(20))), p_tol(mpf(p) / 100, mpf(20))] for p in ps])
    s.section("US proof of ethanol + water", "[oiml1975] at 60 F, definition of [cfr27_30];", EW + ", twice", "proof_from_mass",
              "mass_pct proof", [[p, show(2 * strength(mpf(p) / 100, T60F)), p_tol(mpf(p) / 100, T60F)] for p in ps[:200]])
    for what, name, column, t, k, count in (("% mass from % vol", "mass_from_strength", "pct_vol", mpf(20), 1, 300),
                                            ("% mass from US proof", "mass_from_proof", "proof", T60F, 2, 200)):
        rows = []
        for _ in range(count):
            q = number(0.01, 100 * k, 4)
            p = findroot(lambda x: k * strength(x, t) - mpf(q), mpf(q) / (125 * k))
            slope = 2 if p > mpf("0.9") else mpf("1.5")
            rows.append([q, show(100 * p), as_rel(slope * (tol_ew(p, t) + tol_ew(mpf(1), t)))])
        s.section(what, "[oiml1975], solved;", EW + ", twice, times 1.5 for the slope (2 above 90 % mass)", name,
                  column + " mass_pct", rows)
    s.write()


def optics(folder):
    s = Sheet(folder, "refraction")
    bs = [number(-5, 85, 4) for _ in range(200)]
    s.section("index on the sugar scale", "[icumsa1974], polynomial told in docs/sources.md;", PLAIN, "index_from_brix", "brix n",
              [[b, show(n_scale(mpf(b) / 100)), rel()] for b in bs])
    ns = [number(1.3262, 1.5038, 6) for _ in range(200)]
    s.section("sugar scale from the index", "[icumsa1974], solved;", "4 u of the index by the slope of the scale, 0.0013 a Brix "
              "and more: 1e-11 Brix, as the header promises", "brix_from_index", "n brix",
              [[n, show(brix_of(mpf(n))), "1e-11"] for n in ns])
    s.section("refractive index of water", "[iso1743], cubic of the property notes;", PLAIN, "index_water", "t_C n",
              [[t, show(n_water(mpf(t))), rel()] for t in [number(-20, 60, 3) for _ in range(100)]])
    wt = [(number(0, 85, 4), number(-20, 60, 3)) for _ in range(200)]
    s.section("refractive index of sucrose + water", "Gladstone-Dale on [icumsa1974], [sps4];", PLAIN, "index_sucrose",
              "mass_pct t_C n", [[w, t, show(n_sucrose(mpf(w) / 100, mpf(t))), rel()] for w, t in wt])
    pt = [(number(0, 100, 4), number(-20, 40, 3)) for _ in range(200)]
    bin_e = lambda p: [mpf(p) / 100] + 4 * [mpf(0)] + [1 - mpf(p) / 100]
    s.section("refractive index of ethanol + water", "Gladstone-Dale with the k of [crc102];", "8 u, and the density's " + EW,
              "index_ethanol", "mass_pct t_C n", [[p, t, show(n_mix(bin_e(p), mpf(t))), mp.nstr(tol_n(bin_e(p), mpf(t)), 2)] for p, t in pt])
    pts = [five() for _ in range(300)]
    ts = [number(-15, 40, 3) for _ in pts]
    s.section("refractive index of a mixture", "Gladstone-Dale, refraction.h;", "8 u, and the density's " + EW, "index_mixture",
              FIVE + " t_C n", [x + [t, show(n_mix(with_water(x), mpf(t))), mp.nstr(tol_n(with_water(x), mpf(t)), 2)]
                                for x, t in zip(pts, ts)])
    s.write()


def instruments(folder):
    s = Sheet(folder, "instruments")
    rows = []
    while len(rows) < 250:
        x, t = five((0.5, 0.45, 0.2, 0.2, 0.04)), number(5, 35, 3)
        w = with_water(x)
        b = reading_atc(w, mpf(t))
        if -4 < b < 84:
            slope = (n_sucrose(b / 100 + mpf("0.0001"), mpf(t)) - n_sucrose(b / 100, mpf(t))) * 100
            rows.append(x + [t, show(b), mp.nstr(tol_n(w, mpf(t)) * 2 / slope, 2)])
    s.section("reading of a compensating refractometer", "instruments.h, Note 1;", "that of the index, twice, by the slope of "
              "the scale", "refractometer", FIVE + " t_C brix", rows)
    pts = [five() for _ in range(200)]
    ts = [number(-5, 40, 3) for _ in pts]
    for name, ref in (("hydrometer_20c", mpf(20)), ("hydrometer_60f", T60F)):
        s.section("reading of a hydrometer", "[oiml1975] glass, water at the reference;", EW + ", twice", name, FIVE + " t_C sg",
                  [x + [t, show(hydrometer(with_water(x), mpf(t), ref)), as_rel(tol_mix(with_water(x), mpf(t)) + U * 8)]
                   for x, t in zip(pts, ts)])
    ds = [number(1.0005, 1.35, 5) for _ in range(150)]
    def extract(d):
        rho = d * rho_w(mpf(20))
        return rho * findroot(lambda x: rho_sugar("S", x, mpf(20)) - rho, (d - 1) * mpf("2.4"))
    s.section("extract from the residue", "[sps4], solved;", "1e-9 g/L: the last digit of the density, 1e-13 kg/m3 and more, "
              "by the slope", "extract_from_residue", "d_20_20 extract_g_l", [[d, show(extract(mpf(d))), "1e-9"] for d in ds])
    gauged = []
    while len(gauged) < 200:
        E, S = number(0.02, 0.4, 5), number(0.01, 0.4, 5)
        w = with_water([E, S, "0", "0", "0"])
        t1, t2 = number(10, 30, 2), number(10, 30, 2)
        if w[0] / (w[0] + w[5]) > mpf("0.45"):
            continue
        sg, b = hydrometer(w, mpf(t1), mpf(20)), reading_atc(w, mpf(t2))
        gauged.append(([mp.nstr(sg, 20), t1, mp.nstr(b, 20), t2], strength_mix(w), w[1] * rho_mix(w, mpf(20))))
    for name, column, i, tol in (("gauge_strength", "pct_vol", 1, "1e-8"), ("gauge_sugar", "sugar_g_l", 2, "1e-7")):
        s.section("two readings solved", "readings foreseen as above; the liquid is expected back;", tol + ": the stopping rule of "
                  "gauge.h, 1e-8 of 1 kg/m3 and of 0.1 Brix, and no more than 10 g/L a kg/m3", name,
                  "sg sg_t_C brix brix_t_C " + column, [g[0] + [show(g[i]), tol] for g in gauged])
    s.write()


def thermal(folder):
    s = Sheet(folder, "thermal")
    ps = [number(0, 68, 4) for _ in range(200)]
    s.section("freezing point of ethanol + water", "[melinder2010], [crc102] above 60 %;", "1e-11 K: rounding of 273.15 K and of "
              "the polynomial, whose terms stay below 400", "freezing_ethanol", "mass_pct t_C",
              [[p, show(freezing_ethanol(mpf(p) / 100) - T0), "1e-11"] for p in ps])
    rows = []
    while len(rows) < 250:
        x = five((0.5, 0.4, 0.3, 0.3, 0.04), 0.35, 0.2)
        w = with_water(x)
        if w[0] / (w[0] + w[5]) < mpf("0.67") and 1 - w[0] - w[5] < mpf("0.68") * (1 - w[0]):
            T = freezing_mix(w)
            if T > 194:
                rows.append(x + [show(T - T0), "2e-9"])
    s.section("freezing point of a mixture", "rule of freezing.h, solved;", "2e-9 K: the bracket stops at 1e-9 K", "freezing_mixture",
              FIVE + " t_C", rows)
    pts = [five() for _ in range(250)]
    s.section("boiling point of a mixture", "[vanlaar_ew], [antoine_ew], [norrish1966], solved;", "2e-9 K: the bracket stops at 1e-9 K",
              "boiling_mixture", FIVE + " t_C", [x + [show(boiling(with_water(x))), "2e-9"] for x in pts])
    ts = [number(0, 160, 3) for _ in range(100)]
    s.section("vapour pressure of ethanol", "[antoine_ew];", PLAIN, "vapour_pressure_ethanol", "t_C torr",
              [[t, show(antoine("8.1122", "1592.864", "226.184", mpf(t))), rel()] for t in ts])
    s.section("vapour pressure of water", "[antoine_ew];", PLAIN, "vapour_pressure_water", "t_C torr",
              [[t, show(antoine("8.07131", "1730.63", "233.426", mpf(t))), rel()] for t in ts])
    pt = [(number(0, 1, 5), number(-45, 70, 3)) for _ in range(250)]
    s.section("heat capacity of ethanol + water", "[melinder2010]; heat_capacity.h above 40 C and 60 %", PLAIN, "heat_capacity_ethanol",
              "mass_frac t_C cp_J_kgK", [[p, t, show(cp_ethanol(mpf(p), mpf(t))), rel()] for p, t in pt])
    ts = [number(-40, 70, 3) for _ in pts]
    s.section("heat capacity of a mixture", "[melinder2010], [sugar_cp];", PLAIN, "heat_capacity_mixture", FIVE + " t_C cp_J_kgK",
              [x + [t, show(cp_mix(with_water(x), mpf(t))), rel()] for x, t in zip(pts, ts)])
    rows = []
    for x, t in zip(pts, [number(-20, 80, 3) for _ in pts]):
        w = with_water(x)
        if 1 - w[0] - w[5] < mpf("0.75"):
            rows.append(x + [t, show(viscosity(w, mpf(t))), rel()])
    s.section("viscosity of a mixture", "fits told under [crc102], rule of viscosity.h;", PLAIN, "viscosity_mixture",
              FIVE + " t_C eta_mPa_s", rows)
    s.section("water activity of a mixture", "[vanlaar_ew], [norrish1966];", PLAIN, "water_activity_mixture", FIVE + " t_C aw",
              [x + ["25", show(activity(with_water(x))), rel()] for x in pts])
    pt = [("0", number(-10, 100, 3)) for _ in range(60)] + [(number(1, 99, 3), number(-10, 100, 3)) for _ in range(140)]
    s.section("solubility of sucrose", "fit told under [browne_sucrose], [schrefeld1894];", PLAIN, "sucrose_solubility_spirit",
              "mass_pct t_C mass_pct", [[p, t, show(solubility(mpf(p) / 100, mpf(t))), rel()] for p, t in pt])
    s.write()


def main():
    folder = sys.argv[1] if len(sys.argv) > 1 else os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "data", "reference50")
    os.makedirs(folder, exist_ok=True)
    for make in (density, mixtures, strengths, optics, instruments, thermal):
        make(folder)


if __name__ == "__main__":
    main()
