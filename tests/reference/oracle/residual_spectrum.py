"""Harmonics and noise by plain least squares over all of them at once. Arguments: rate, frequency, band low, band high, raw float64 file."""

import json
import sys

import numpy as np

rate, frequency, low, high = (float(a) for a in sys.argv[1:5])
x = np.fromfile(sys.argv[5], dtype="<f8")
n = np.arange(len(x))
orders = np.arange(1, int(rate / 2 / frequency) + 1)
columns = [np.ones(len(x))]
for order in orders:
    phase = 2 * np.pi * order * frequency / rate * n
    columns += [np.cos(phase), np.sin(phase)]
basis = np.stack(columns, axis=1)
fit, *_ = np.linalg.lstsq(basis, x, rcond=None)
power = (fit[1::2] ** 2 + fit[2::2] ** 2) / 2
residual = x - basis @ fit
inside = (orders * frequency >= low) & (orders * frequency <= high) & (orders > 1)
# Rectangular spectrum of the residual: it is noise, so leakage moves nothing that matters.
spectrum = np.abs(np.fft.rfft(residual)) ** 2
f = np.fft.rfftfreq(len(x), 1 / rate)
noise = 2 * np.sum(spectrum[(f >= low) & (f <= high)]) / len(x) ** 2
# Each harmonic fitted took two of the residual's degrees of freedom.
noise *= len(x) / (len(x) - 2 * len(orders) - 1)
distortion = np.sum(power[inside])
total = power[0] + distortion + noise
print(
    json.dumps(
        {
            "thdPercent": float(100 * np.sqrt(distortion / power[0])),
            "thdPlusNoisePercent": float(100 * np.sqrt((distortion + noise) / total)),
            "noiseDbfs": float(10 * np.log10(2 * noise)),
            "harmonicsDbc": [float(v) for v in 10 * np.log10(power[1:11] / power[0])],
            "levelDbfs": float(20 * np.log10(np.std(x) * np.sqrt(2))),
        }
    )
)
