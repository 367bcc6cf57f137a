"""A and C weighting by scipy.signal.freqs_zpk from the analogue poles, and the weighted level of a sound by
weighting the lines of one rectangular numpy transform of the whole."""

import json
import sys

import numpy as np
from scipy import signal

job = json.load(sys.stdin)
rate = job["sampleRateHz"]
f1, f2, f3, f4 = 20.598997057618316, 107.65264864304629, 737.8622307362901, 12194.217147998012


def curve(kind, hz):
    zeros, poles = ([0, 0], [f1, f1, f4, f4]) if kind == "C" else ([0] * 4, [f1, f1, f2, f3, f4, f4])
    at = lambda w: np.abs(signal.freqs_zpk(zeros, -2 * np.pi * np.array(poles), 1, worN=w)[1])
    return at(2 * np.pi * np.asarray(hz)) / at(np.array([2 * np.pi * 1000.0]))


x = np.array(job["samples"])
power = np.abs(np.fft.rfft(x)) ** 2 * 2 / len(x) ** 2
power[0] /= 2
lines = np.fft.rfftfreq(len(x), 1 / rate)
print(json.dumps({
    kind: {
        "db": (20 * np.log10(curve(kind, job["hz"]))).tolist(),
        "meanSquare": float(np.sum(power[1:] * curve(kind, lines[1:]) ** 2)),
    }
    for kind in ("A", "C")
}))
