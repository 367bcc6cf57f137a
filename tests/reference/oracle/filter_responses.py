"""Complex responses of SciPy's analogue filters, corner 1 kHz, as JSON. Bessel is normalised to -3 dB."""

import json

import numpy as np
from scipy import signal

FREQUENCIES = np.geomspace(20, 20_000, 200)


def response(alignment, order, btype):
    corner = 2 * np.pi * 1000
    if alignment == "bessel":
        zpk = signal.bessel(order, corner, btype, analog=True, output="zpk", norm="mag")
    else:
        half = order // 2 if alignment == "linkwitz-riley" else order
        zpk = signal.butter(half, corner, btype, analog=True, output="zpk")
    h = signal.freqs_zpk(*zpk, 2 * np.pi * FREQUENCIES)[1]
    return h * h if alignment == "linkwitz-riley" else h


rows = []
for kind, btype in (("low-pass", "lowpass"), ("high-pass", "highpass")):
    for alignment in ("butterworth", "linkwitz-riley", "bessel"):
        for order in range(1, 9):
            if alignment == "linkwitz-riley" and order % 2:
                continue
            h = response(alignment, order, btype)
            rows.append(
                {
                    "kind": kind,
                    "alignment": alignment,
                    "order": order,
                    "frequenciesHz": FREQUENCIES.tolist(),
                    "re": h.real.tolist(),
                    "im": h.imag.tolist(),
                }
            )
print(json.dumps(rows))
