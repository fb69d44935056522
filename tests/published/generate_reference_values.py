"""Writes the scipy_* CSV files of this folder.

Made with Python 3, numpy 2.4.6, scipy 1.17.1:

    pip install numpy==2.4.6 scipy==1.17.1
    python generate_reference_values.py

The inputs are invented; the results are those of the library.
"""

from scipy import interpolate, stats


def write(name, made_by, header, rows):
    with open(name, "w", encoding="ascii") as out:
        out.write(f"# {made_by}\n{header}\n")
        for row in rows:
            out.write(",".join(v if isinstance(v, str) else repr(float(v)) for v in row) + "\n")


NORMAL_Z = [-8, -5, -3, -1.96, -1, -0.5, 0, 0.1, 0.5, 1, 1.5, 2, 2.5, 3, 5, 8]
write("scipy_normal.csv", "scipy 1.17.1: norm.cdf(z), norm.sf(z)", "z,below,above",
      [(z, stats.norm.cdf(z), stats.norm.sf(z)) for z in NORMAL_Z])

NORMAL_P = [1e-12, 1e-6, 0.001, 0.01, 0.025, 0.05, 0.2, 0.4, 0.5, 0.6, 0.8, 0.9, 0.975, 0.99, 0.9999]
write("scipy_normal_quantile.csv", "scipy 1.17.1: norm.ppf(probability)", "probability,quantile",
      [(p, stats.norm.ppf(p)) for p in NORMAL_P])

write("scipy_chi_square_tail.csv", "scipy 1.17.1: chi2.sf(value, degrees)", "degrees,value,above",
      [(n, v, stats.chi2.sf(v, n)) for n in [1, 2, 3, 4, 7, 12, 25, 60, 150]
       for v in [0.1 * n, 0.5 * n, n, 1.5 * n, 2 * n, 4 * n]])

write("scipy_student_t.csv", "scipy 1.17.1: t.isf((1 - probability) / 2, degrees)", "degrees,probability,factor",
      [(n, p, stats.t.isf((1 - p) / 2, n))
       for n in [0.5, 1, 1.5, 2.7, 4, 6.25, 9, 16.76, 25.6, 41.3, 120.5, 400, 999.9, 2500.5, 9999, 10000, 1e6]
       for p in [0.01, 0.5, 0.6827, 0.9, 0.95, 0.99, 0.9973, 0.99999]])

# A rising curve with uneven steps and a flat, one that turns twice, and ends whose slope is cut to zero or to three
# secants.
PCHIP = {
    "rising": ([0, 3, 10, 21, 22, 40, 57.5], [0, 9.1, 29.6, 29.6, 61.5, 107, 148]),
    "turning": ([-2, -1, 0.5, 0.9, 3, 4, 7], [1, 3, 2.5, -1, -1.2, 6, 6.5]),
    "steep_end": ([0, 1, 2, 3], [0, 0.1, 8, -9]),
    "hooked_ends": ([0, 1, 2.5, 3], [0, 1, -19, -18.5]),
}
nodes, values = [], []
for name, (x, y) in PCHIP.items():
    curve = interpolate.PchipInterpolator(x, y)
    nodes += [(name, float(a), float(b)) for a, b in zip(x, y)]
    for left, right in zip(x, x[1:]):
        for share in [0.0, 0.3, 0.5, 0.85]:
            at = left + share * (right - left)
            values.append((name, at, *(float(curve(at, nu)) for nu in range(3))))
    values.append((name, float(x[-1]), *(float(curve(x[-1], nu)) for nu in range(3))))
write("scipy_pchip_nodes.csv", "Invented points for scipy_pchip_values.csv", "curve,x,y", nodes)
write("scipy_pchip_values.csv", "scipy 1.17.1: PchipInterpolator(x, y)(at, 0), (at, 1), (at, 2)",
      "curve,x,value,slope,curvature", values)
