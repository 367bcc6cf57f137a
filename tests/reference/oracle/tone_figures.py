"""Figures of a rendered tone by numpy and scipy, as JSON. Arguments: what, file, numbers."""

import json
import sys

import numpy as np
from scipy.io import wavfile
from scipy.signal import welch

what, file, *numbers = sys.argv[1:]
rate, codes = wavfile.read(file)
x = codes.astype(float) / (2.0**15 if codes.dtype == np.int16 else 2.0**31)
numbers = [float(n) for n in numbers]


def sine_level(frequency, margin):
    # Least squares at the known frequency over the part between the fades.
    n = np.arange(int(margin * rate), len(x) - int(margin * rate))
    phase = 2 * np.pi * frequency * n / rate
    basis = np.stack([np.cos(phase), np.sin(phase), np.ones(len(n))], axis=1)
    (a, b, _), *_ = np.linalg.lstsq(basis, x[n], rcond=None)
    return {"levelDbfs": float(20 * np.log10(np.hypot(a, b))), "phase": float(np.arctan2(a, b))}


def third_octaves(low, high):
    # Power spectral density integrated over each base-ten third-octave, the bins at its edges counted in part.
    f, p = welch(x, rate, nperseg=2**17)
    step = f[1]
    total = 2 * np.mean(x**2)
    rows = []
    for k in range(-17, 14):
        centre = 1000 * 10 ** (k / 10)
        lower, upper = centre * 10**-0.05, centre * 10**0.05
        if lower < low or upper > high:
            continue
        share = np.clip((np.minimum(f + step / 2, upper) - np.maximum(f - step / 2, lower)) / step, 0, 1)
        expected = np.log(upper / lower) / np.log(high / low)
        rows.append({"centreHz": centre, "errorDb": float(10 * np.log10(np.sum(p * share) * step / (total / 2) / expected))})
    outside = (f < low * 0.8) | (f > high * 1.25)
    return {
        "levelDbfs": float(10 * np.log10(total)),
        "crestDb": float(20 * np.log10(np.max(np.abs(x)) / np.sqrt(np.mean(x**2)))),
        "bands": rows,
        "outsideDb": float(10 * np.log10(np.sum(p[outside]) * step / (total / 2))),
    }


def sweep_slope(low, high):
    # Energy spectrum of the whole sweep, smoothed over twelfths of an octave, then a straight line against octaves.
    power = np.abs(np.fft.rfft(x)) ** 2
    f = np.fft.rfftfreq(len(x), 1 / rate)
    edges = low * 2 ** (np.arange(0, np.log2(high / low) + 1 / 24, 1 / 12))
    levels = [10 * np.log10(np.mean(power[(f >= a) & (f < b)])) for a, b in zip(edges[:-1], edges[1:])]
    octaves = np.log2(np.sqrt(edges[:-1] * edges[1:]))
    slope, offset = np.polyfit(octaves, levels, 1)
    return {"slopeDbPerOctave": float(slope), "ripple": float(np.std(levels - (slope * octaves + offset)))}


print(json.dumps({"sine": sine_level, "pink": third_octaves, "sweep": sweep_slope}[what](*numbers)))
