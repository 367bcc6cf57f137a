"""Several lines fitted together by scipy's least_squares, started on numpy's lstsq.

Arguments: raw float64 file, rate, lines as frequencies; prints frequency, amplitude, phase at the first sample and their
standard deviations by scipy's Jacobian.
"""

import json
import sys

import numpy as np
from scipy.optimize import least_squares

x = np.fromfile(sys.argv[1], dtype="<f8")
rate = float(sys.argv[2])
start = np.array([float(a) for a in sys.argv[3:]])
count = len(start)
n = np.arange(len(x))
u = n - (len(x) - 1) / 2
bin_hz = rate / len(x)


def basis(bins):
    phase = 2 * np.pi * (start + bins * bin_hz)[:, None] / rate * u
    return np.concatenate([np.cos(phase), np.sin(phase), np.ones((1, len(u)))]).T


weights, *_ = np.linalg.lstsq(basis(np.zeros(count)), x, rcond=None)
fit = least_squares(
    lambda p: basis(p[:count]) @ p[count:] - x,
    np.concatenate([np.zeros(count), weights]),
    xtol=1e-15,
    ftol=1e-15,
    gtol=1e-15,
)
covariance = np.linalg.inv(fit.jac.T @ fit.jac) * 2 * fit.cost / (len(x) - 3 * count - 1)
bins, a, b = fit.x[:count], fit.x[count : 2 * count], fit.x[2 * count : 3 * count]
hz = start + bins * bin_hz
amplitude = np.hypot(a, b)
phase = np.arctan2(-b, a) - 2 * np.pi * hz / rate * (len(x) - 1) / 2
rows = []
for k in range(count):
    slope = np.zeros(len(fit.x))
    slope[count + k], slope[2 * count + k] = a[k] / amplitude[k], b[k] / amplitude[k]
    rows.append(
        {
            "frequencyHz": float(hz[k]),
            "amplitude": float(amplitude[k]),
            "phaseRadians": float(phase[k]),
            "frequencyDeviation": float(np.sqrt(covariance[k, k]) * bin_hz),
            "amplitudeDeviation": float(np.sqrt(slope @ covariance @ slope)),
        }
    )
print(json.dumps(rows))
