"""Four-parameter sine fit by scipy's Levenberg-Marquardt, and levels by numpy. Arguments: rate, starting frequency, raw float64 files."""

import json
import sys

import numpy as np
from scipy.optimize import curve_fit

rate = float(sys.argv[1])
rows = []
for file, start in zip(sys.argv[2::2], sys.argv[3::2]):
    x = np.fromfile(file, dtype="<f8")
    u = np.arange(len(x)) - (len(x) - 1) / 2

    def model(u, a, b, c, f):
        phase = 2 * np.pi * (float(start) + f / len(x) * rate) / rate * u
        return a * np.cos(phase) + b * np.sin(phase) + c

    # Start on the linear least-squares solution; frequency in bins, so that all parameters have like sizes.
    phase = 2 * np.pi * float(start) / rate * u
    basis = np.stack([np.cos(phase), np.sin(phase), np.ones(len(u))], axis=1)
    (a, b, c), *_ = np.linalg.lstsq(basis, x, rcond=None)
    (a, b, c, f), _ = curve_fit(model, u, x, p0=[a, b, c, 0], xtol=1e-15, ftol=1e-15, gtol=1e-15)
    rows.append(
        {
            "frequencyHz": float(start) + f / len(x) * rate,
            "levelDbfs": float(20 * np.log10(np.hypot(a, b))),
            "dc": float(c),
        }
    )
print(json.dumps(rows))
