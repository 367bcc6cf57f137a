"""Levels of noise by scipy: Welch's density integrated over bands, A by the analogue poles of IEC 61672-1. Arguments: rate, raw float64 file."""

import json
import sys

import numpy as np
from scipy.integrate import simpson
from scipy.signal import freqs_zpk, welch

rate = float(sys.argv[1])
x = np.fromfile(sys.argv[2], dtype="<f8")
f, density = welch(x, rate, window="hann", nperseg=int(rate), noverlap=int(rate) // 2, detrend="constant")
# Annex E: poles; two of them double. Gain so that 1 kHz is 0 dB.
poles = 2 * np.pi * np.array([20.598997, 20.598997, 107.65265, 737.86223, 12194.217, 12194.217])
_, at_1k = freqs_zpk([0, 0, 0, 0], -poles, 1, worN=[2 * np.pi * 1000])
_, response = freqs_zpk([0, 0, 0, 0], -poles, 1 / abs(at_1k[0]), worN=2 * np.pi * np.maximum(f, 1e-3))


def level(low, high, weight=1):
    # On a fine grid, so that band edges between bins count by share.
    grid = np.linspace(low, high, 20001)
    values = np.interp(grid, f, density * weight)
    return float(10 * np.log10(2 * simpson(values, x=grid)))


print(
    json.dumps(
        {
            "levelDbfs": level(20, 20000),
            "aWeightedDbfs": level(20, 20000, abs(response) ** 2),
            "octavesDbfs": [level(1000 * 10 ** (0.3 * n - 0.15), 1000 * 10 ** (0.3 * n + 0.15)) for n in range(-5, 5)],
        }
    )
)
