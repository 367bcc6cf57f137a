"""A whine made by scipy.signal.chirp in numpy's noise, and where scipy's own spectrogram sees it. Arguments: output file (raw float64)."""

import json
import sys

import numpy as np
from scipy.signal import chirp, spectrogram

rate, seconds = 48000, 10
t = np.arange(rate * seconds) / rate
rng = np.random.default_rng(5)
x = 1e-3 * rng.standard_normal(len(t))
x += 3e-4 * chirp(t, 960, seconds, 3600, "linear")
for order, peak in enumerate([6e-4, 4e-4, 2e-4, 1e-4], start=1):
    x += peak * np.sin(2 * np.pi * 50.02 * order * t + order)
x.astype("<f8").tofile(sys.argv[1])
f, times, power = spectrogram(x, rate, window="hann", nperseg=4096, noverlap=2048)
band = f > 800
ridge = f[band][np.argmax(power[band], axis=0)]
print(json.dumps({"seconds": times.tolist(), "ridgeHz": ridge.tolist()}))
