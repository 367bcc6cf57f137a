"""Amplitudes of two tones and their products, from one flat-top transform by scipy. Arguments: raw float64 file, rate, low, high."""

import json
import sys

import numpy as np
from scipy.signal import get_window

x = np.fromfile(sys.argv[1], dtype="<f8")
rate, low, high = (float(a) for a in sys.argv[2:5])
window = get_window("flattop", len(x))
spectrum = 2 * np.abs(np.fft.rfft(x * window)) / np.sum(window)


def line(hz):
    return float(spectrum[round(hz * len(x) / rate)])


# 60 Hz against 7 kHz: thirds lie beside the high tone; for near tones beside both.
near = 2 * low > high
print(
    json.dumps(
        {
            "low": line(low),
            "high": line(high),
            "difference": line(high - low),
            "sum": line(high + low),
            "below": line(2 * low - high if near else high - 2 * low),
            "above": line(2 * high - low if near else high + 2 * low),
        }
    )
)
