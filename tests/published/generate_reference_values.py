"""Writes the scipy_*, statsmodels_* and filterpy_* CSV files of this folder.

Made with Python 3, numpy 2.4.6, scipy 1.17.1, statsmodels 0.15.0, filterpy 2.0.0:

    pip install numpy==2.4.6 scipy==1.17.1 statsmodels==0.15.0 filterpy==2.0.0
    python generate_reference_values.py

The inputs are invented; the results are those of the libraries.
"""

import numpy as np
import statsmodels.api as sm
from filterpy.kalman import KalmanFilter
from scipy import interpolate, stats


def write(name, made_by, header, rows):
    with open(name, "w", encoding="ascii") as out:
        out.write(f"# {made_by}\n{header}\n")
        for row in rows:
            out.write(",".join(v if isinstance(v, str) else repr(float(v)) for v in row) + "\n")


NORMAL_Z = [-8, -5, -3, -1.96, -1, -0.5, 0, 0.1, 0.5, 1, 1.5, 2, 2.5, 3, 5, 8]
write("scipy_normal.csv", "scipy 1.17.1: norm.pdf(z), norm.cdf(z), norm.sf(z)", "z,density,below,above",
      [(z, stats.norm.pdf(z), stats.norm.cdf(z), stats.norm.sf(z)) for z in NORMAL_Z])

NORMAL_P = [1e-12, 1e-6, 0.001, 0.01, 0.025, 0.05, 0.2, 0.4, 0.5, 0.6, 0.8, 0.9, 0.975, 0.99, 0.9999]
write("scipy_normal_quantile.csv", "scipy 1.17.1: norm.ppf(probability)", "probability,quantile",
      [(p, stats.norm.ppf(p)) for p in NORMAL_P])

write("scipy_chi_square_tail.csv", "scipy 1.17.1: chi2.sf(value, degrees)", "degrees,value,above",
      [(n, v, stats.chi2.sf(v, n)) for n in [1, 2, 3, 4, 7, 12, 25, 60, 150]
       for v in [0.1 * n, 0.5 * n, n, 1.5 * n, 2 * n, 4 * n]])

write("scipy_chi_square_quantile.csv", "scipy 1.17.1: chi2.ppf(probability, degrees)", "degrees,probability,quantile",
      [(n, p, stats.chi2.ppf(p, n)) for n in [1, 2, 3, 4, 7, 12, 25, 60, 150] for p in [0.01, 0.05, 0.5, 0.95, 0.99, 0.999]])

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

# Wheel travel over shock stroke of an invented bicycle: a weighted cubic through the origin.
stroke = np.array([5.0, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55])
travel = np.array([14.9, 29.3, 43.5, 57.1, 70.8, 83.9, 96.9, 109.6, 121.8, 134.3, 146.2])
u = np.array([0.2, 0.2, 0.2, 0.3, 0.3, 0.3, 0.3, 0.4, 0.4, 0.5, 0.5])
design = np.column_stack([stroke, stroke**2, stroke**3])
fit = sm.WLS(travel, design, weights=1 / u**2).fit()
stated = np.sqrt(np.diag(np.linalg.inv(design.T @ np.diag(1 / u**2) @ design)))
write("statsmodels_weighted_cubic_points.csv", "Invented points for statsmodels_weighted_cubic.csv", "x,y,u",
      zip(stroke, travel, u))
write("statsmodels_weighted_cubic.csv",
      "statsmodels 0.15.0: WLS(y, [x, x^2, x^3], 1/u^2).fit(): params, bse, ssr, rsquared; from_stated by numpy 2.4.6 inv",
      "quantity,value,from_scatter,from_stated",
      [(f"b{k + 1}", fit.params[k], fit.bse[k], stated[k]) for k in range(3)]
      + [("residual_sum", fit.ssr, "", ""), ("r_squared", fit.rsquared, "", "")])

# Four unknowns with a prior, twelve readings one after the other.
rng = np.random.default_rng(20240501)
prior_mean, prior_sd = np.array([6.5, 0.22, 0.0, 0.0]), np.array([0.05, 0.13, 0.025, 0.025])
rows = np.column_stack([np.full(12, 1.0), rng.uniform(-0.5, 0.5, 12), np.repeat([1.0, 0.0], 6), np.repeat([0.0, 1.0], 6)])
readings, sds = np.round(6.52 + rng.normal(0, 0.03, 12), 4), np.round(rng.uniform(0.01, 0.04, 12), 3)
kalman = KalmanFilter(dim_x=4, dim_z=1)
kalman.x, kalman.P = prior_mean.reshape(4, 1), np.diag(prior_sd**2)
for row, reading, sd in zip(rows, readings, sds):
    kalman.update(reading, R=sd**2, H=row.reshape(1, 4))
write("filterpy_readings.csv", "Invented readings for filterpy_posterior.csv: reading = h . unknowns, standard uncertainty sd",
      "h0,h1,h2,h3,reading,sd", [(*r, z, s) for r, z, s in zip(rows, readings, sds)])
write("filterpy_posterior.csv", "filterpy 2.0.0: KalmanFilter.update once a reading, from the prior given here",
      "prior_mean,prior_sd,mean,c0,c1,c2,c3",
      [(prior_mean[i], prior_sd[i], kalman.x[i, 0], *kalman.P[i]) for i in range(4)])
