"""Noise that a 16-bit file holds beside its sine, by least squares and scipy's Welch spectrum, as JSON.

Arguments: file, frequency of the sine in Hz (0: none).
"""

import json
import sys

import numpy as np
from scipy.io import wavfile
from scipy.signal import welch

rate, codes = wavfile.read(sys.argv[1])
frequency = float(sys.argv[2])
x = codes / 32768.0
phase = 2 * np.pi * frequency * np.arange(len(x)) / rate
basis = [np.ones(len(x))]
for harmonic in range(1, 6) if frequency else []:
    basis += [np.cos(harmonic * phase), np.sin(harmonic * phase)]
weights, *_ = np.linalg.lstsq(np.stack(basis, axis=1), x, rcond=None)
noise = x - np.stack(basis, axis=1) @ weights


def level(power):
    return float(10 * np.log10(2 * power))


f, p = welch(noise, rate, nperseg=4096)
bands = np.array_split(p[8:-8], 16)
print(
    json.dumps(
        {
            "noiseDbfs": level(np.mean(noise**2)),
            "bandsDb": [float(10 * np.log10(np.mean(b) / np.mean(p[8:-8]))) for b in bands],
            "harmonicsDbfs": [
                float(20 * np.log10(np.hypot(weights[1 + 2 * h], weights[2 + 2 * h])))
                for h in range(5 if frequency else 0)
            ],
        }
    )
)
