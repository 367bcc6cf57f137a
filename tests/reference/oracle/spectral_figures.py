"""Welch spectra by scipy.signal.welch, levels by band of white and pink noise by numpy; JSON in, JSON out."""

import json
import sys

import numpy as np
from scipy import signal

job = json.load(sys.stdin)
x = np.array(job["samples"])
rate = job["sampleRateHz"]
rows = []
for case in job["cases"]:
    name, segment, overlap = case["window"], case["segmentFrames"], case["overlap"]
    window = ("kaiser", float(name.split(":")[1])) if name.startswith("kaiser:") else name
    out = {}
    for key, scaling in (("density", "density"), ("power", "spectrum")):
        _, p = signal.welch(
            x, rate, window=signal.get_window(window, segment, fftbins=True), nperseg=segment,
            noverlap=int(round(segment * overlap)), detrend=False, scaling=scaling,
        )
        out[key] = p.tolist()
    # Peak-hold, from scipy's own segments.
    _, _, s = signal.spectrogram(
        x, rate, window=signal.get_window(window, segment, fftbins=True), nperseg=segment,
        noverlap=int(round(segment * overlap)), detrend=False, scaling="spectrum", mode="psd",
    )
    out["highest"] = s.max(axis=1).tolist()
    rows.append(out)
print(json.dumps(rows))
