"""Coherent gain, noise bandwidth and highest side lobe of windows as scipy makes them (periodic, zero-padded spectrum)."""

import json
import sys

import numpy as np
from scipy.signal import get_window

length, padding = 4096, 64
rows = {}
for name in sys.argv[1:]:
    spec = ("kaiser", float(name.split(":")[1])) if name.startswith("kaiser:") else name
    w = get_window(spec, length, fftbins=True)
    power = np.abs(np.fft.rfft(w, length * padding)) ** 2
    level = 10 * np.log10(np.maximum(power / power[0], 1e-40))
    null = np.argmax(np.diff(level) > 0)
    rows[name] = {
        "samples": [float(w[n]) for n in (1, 500, 1024, 2048, 4000)],
        "coherentGain": float(np.mean(w)),
        "noiseBandwidthBins": float(length * np.sum(w**2) / np.sum(w) ** 2),
        "highestSideLobeDb": float(np.max(level[null:])),
        "halfBinLossDb": float(level[padding // 2]),
    }
print(json.dumps(rows))
