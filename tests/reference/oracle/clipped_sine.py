"""Fourier series of a limited cosine by brute force, as JSON on standard output.

Independent of src/dsp/clipping: scipy's adaptive quadrature of the defining integrals, and numpy's FFT of a
limited cosine sampled 2^20 times per period. Debian packages python3-numpy, python3-scipy.
"""

import json

import numpy as np
from scipy.integrate import quad


def cut(theta, angle):
    # cos(theta) - cos(angle), written as a product so that nothing cancels near theta = angle
    return 2 * np.sin((angle + theta) / 2) * np.sin((angle - theta) / 2)


def integral(function, angle):
    # the cut is about angle^3 in all: what is left of a high order after cancellation cannot be held tighter
    value, _ = quad(function, 0, angle, epsabs=1e-14 * angle**3, epsrel=1e-12, limit=400)
    return value


def cut_row(angle):
    orders = [1, 2, 3, 4, 5, 8, 13, 21, 40]
    return {
        "angle": angle,
        "mean": integral(lambda t: cut(t, angle), angle) / np.pi,
        "meanSquare": integral(lambda t: cut(t, angle) ** 2, angle) / np.pi,
        "harmonics": [
            {"order": n, "value": 2 / np.pi * integral(lambda t: cut(t, angle) * np.cos(n * t), angle)}
            for n in orders
        ],
    }


def limited_row(upper_db, lower_db, amplitude):
    points = 1 << 20
    theta = 2 * np.pi * np.arange(points) / points
    upper = amplitude * 10 ** (-upper_db / 20)
    lower = amplitude * 10 ** (-lower_db / 20) if lower_db is not None else np.inf
    wave = np.clip(amplitude * np.cos(theta), -lower, upper)
    spectrum = np.fft.rfft(wave) / points
    terms = 2 * spectrum.real
    return {
        "upperDb": upper_db,
        "lowerDb": lower_db,
        "amplitude": amplitude,
        "mean": terms[0] / 2,
        "terms": terms[1:41].tolist(),
        "distortionMeanSquare": float(np.sum(np.abs(spectrum[2:]) ** 2) * 2),
        "meanSquare": float(np.var(wave)),
    }


print(
    json.dumps(
        {
            "cuts": [cut_row(angle) for angle in (1e-4, 3e-3, 0.02, 0.1, 0.34, 0.36, 0.69, 0.71, 1.2, 1.47)],
            "limited": [
                limited_row(0.05, 0.05, 0.5),
                limited_row(1, None, 1),
                limited_row(3, 0.4, 0.8),
                limited_row(12, 12, 1),
                limited_row(20, 6, 2),
            ],
        }
    )
)
