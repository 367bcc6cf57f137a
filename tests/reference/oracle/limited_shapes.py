"""Soft, slew- and current-limited sines by brute force, as JSON on standard output.

Independent of src/dsp: numpy's FFT of waves sampled 2^14 times per period, scipy's root finder for the level at
which THD passes 1 %, and scipy's event-driven integrator for the limit on slope.
Debian packages python3-numpy, python3-scipy.
"""

import json

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

POINTS = 1 << 14
THETA = 2 * np.pi * np.arange(POINTS) / POINTS
ORDERS = 40


def terms(wave):
    """Complex amplitudes of order 0 to ORDERS, turned to the fundamental's own phase."""
    spectrum = 2 * np.fft.rfft(wave)[: ORDERS + 1] / len(wave)
    phase = np.angle(spectrum[1])
    return spectrum * np.exp(-1j * phase * np.arange(ORDERS + 1))


def as_ratios(c):
    # x = C cos + S sin has the complex amplitude C - jS
    return {"cosine": (c[2:].real / c[1].real).tolist(), "sine": (-c[2:].imag / c[1].real).tolist()}


CURVES = {
    "hard": lambda x: np.clip(x, -1, 1),
    "tanh": np.tanh,
    "cubic": lambda x: np.where(np.abs(x) >= 1.5, np.sign(x), x - 4 / 27 * x**3),
    "rounded4": lambda x: x / (1 + np.abs(x) ** 4) ** 0.25,
    "rounded8": lambda x: x / (1 + np.abs(x) ** 8) ** 0.125,
}


def one_percent(curve, highest):
    def reading(drive_db):
        c = np.abs(terms(curve(10 ** (drive_db / 20) * np.cos(THETA))))
        return c[1], np.sqrt(np.sum(c[2 : highest + 1] ** 2)) / c[1]

    at = brentq(lambda db: np.log(reading(db)[1] / 0.01), -25, 3, xtol=1e-10)
    return 20 * np.log10(reading(at)[0])


def clouds():
    rows = []
    ideal = one_percent(CURVES["hard"], 20)
    for name, curve in CURVES.items():
        top = one_percent(curve, 20) + 3
        drives = np.arange(top - 14, top, 0.05) + 1
        dots = []
        for db in drives:
            c = np.abs(terms(curve(10 ** (db / 20) * np.cos(THETA))))
            dots.append([20 * np.log10(c[1]), 100 * np.sqrt(np.sum(c[2:21] ** 2)) / c[1]])
        rows.append({"name": name, "kneeDb": one_percent(curve, 20) - ideal, "dots": dots})
    return rows


def slew(overdrive_db):
    limit = 10 ** (-overdrive_db / 20)
    stiffness = 3e3  # the output closes in on the input within 1/3000 rad, or moves at the limit

    def slope(angle, y):
        return np.clip(stiffness * (np.cos(angle) - y) - np.sin(angle), -limit, limit)

    solved = solve_ivp(
        slope, (0, 6 * np.pi), [1.0], t_eval=4 * np.pi + THETA[::8], rtol=1e-7, atol=1e-9, max_step=0.003
    )
    return {"overdriveDb": overdrive_db, **as_ratios(terms(solved.y[0]))}


def current(overdrive_db, q):
    clipped = np.clip(np.cos(THETA), -(10 ** (-overdrive_db / 20)), 10 ** (-overdrive_db / 20))
    spectrum = np.fft.rfft(clipped)
    order = np.arange(len(spectrum))
    through = np.fft.irfft(spectrum * (1 + 1j * q * order))
    return {"overdriveDb": overdrive_db, "q": q, **as_ratios(terms(through))}


print(
    json.dumps(
        {
            "clouds": clouds(),
            "slew": [slew(db) for db in (0.1, 0.5, 1, 2, 4)],
            "current": [current(db, q) for db in (0.2, 1, 4) for q in (0.3, 1, 2)],
        }
    )
)
