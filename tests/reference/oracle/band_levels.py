"""Band levels of a sound by an independent road: one rectangular transform of the whole, its squared lines
summed between the edges with shares of a line; and by scipy's own Butterworth band-pass (sosfilt)."""

import json
import sys

import numpy as np
from scipy import signal

job = json.load(sys.stdin)
rate = job["sampleRateHz"]
x = np.fromfile(job["file"], dtype="<f8")
n = len(x)
power = np.abs(np.fft.rfft(x)) ** 2 * 2 / n**2
power[0] /= 2
if n % 2 == 0:
    power[-1] /= 2
below = np.concatenate(([0.0], np.cumsum(power)))
lines, filtered = [], []
for low, high in job["bands"]:
    # Line k covers k - 1/2 to k + 1/2.
    at = [np.interp(hz * n / rate + 0.5, np.arange(len(below)), below) for hz in (low, high)]
    lines.append(float(at[1] - at[0]))
    sos = signal.butter(4, [low, high], btype="bandpass", fs=rate, output="sos")
    y = signal.sosfilt(sos, x)[job["settleFrames"]:]
    filtered.append(float(np.mean(y**2)))
print(json.dumps({"lines": lines, "filtered": filtered}))
