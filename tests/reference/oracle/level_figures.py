"""Exponential time weighting by scipy.signal.lfilter on the square; the largest magnitude of periodic sounds,
interpolated 256-fold by numpy's FFT (exact for what is band-limited)."""

import json
import sys

import numpy as np
from scipy import signal

job = json.load(sys.stdin)
out = {}
if "weighted" in job:
    x, rate = np.array(job["weighted"]["samples"]), job["weighted"]["sampleRateHz"]
    rows = []
    for tau in job["weighted"]["timeConstants"]:
        a = 1 - np.exp(-1 / (rate * tau))
        y = signal.lfilter([a], [1, -(1 - a)], x**2)
        rows.append({"at": y[job["weighted"]["at"]].tolist(), "highest": float(y.max())})
    out["weighted"] = rows
if "periodic" in job:
    out["peaks"] = [float(np.abs(signal.resample(np.array(x), len(x) * 256)).max()) for x in job["periodic"]]
if "whole" in job:
    out["wholePeaks"] = [
        float(np.abs(signal.resample(np.concatenate((np.zeros(4096), x, np.zeros(4096))), (len(x) + 8192) * 32)).max())
        for x in map(np.array, job["whole"])
    ]
print(json.dumps(out))
