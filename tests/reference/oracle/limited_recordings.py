"""Recordings of limited sines and their harmonics by numpy alone, as JSON on standard output.

Independent of src/dsp: the sine is limited at 128 times the sample rate and brought down by cutting its spectrum
(so nothing folds back), noise is added, and a least-squares fit (numpy.linalg.lstsq) reads the harmonics. The
"naive" rows are limited at the sample rate itself, as a careless program or a digital stage does it.
"""

import json

import numpy as np

RATE = 48_000
FRAMES = 8192
OVERSAMPLING = 128
BAND_HIGH = 20_000


def limited(phase, upper_db, lower_db):
    upper = 0.5 * 10 ** (-upper_db / 20) if upper_db is not None else np.inf
    lower = 0.5 * 10 ** (-lower_db / 20) if lower_db is not None else np.inf
    return np.clip(0.5 * np.cos(phase), -lower, upper)


def band_limited(cycles, start, upper_db, lower_db):
    count = FRAMES * OVERSAMPLING
    wave = limited(2 * np.pi * cycles * np.arange(count) / count + start, upper_db, lower_db)
    spectrum = np.fft.rfft(wave)[: FRAMES // 2 + 1] / OVERSAMPLING
    spectrum[-1] = 0
    return np.fft.irfft(spectrum, FRAMES)


def view(samples, frequency):
    frames = np.arange(len(samples))
    omega = 2 * np.pi * frequency / RATE
    highest = min(60, int(BAND_HIGH // frequency))
    columns = [np.ones(len(samples))]
    for order in range(1, highest + 1):
        columns += [np.cos(order * omega * frames), np.sin(order * omega * frames)]
    basis = np.stack(columns, axis=1)
    terms, *_ = np.linalg.lstsq(basis, samples, rcond=None)
    residual = samples - basis @ terms
    complex_terms = terms[1::2] - 1j * terms[2::2]
    turn = np.angle(complex_terms[0])
    turned = complex_terms * np.exp(-1j * turn * np.arange(1, highest + 1))
    noise = float(np.sqrt(np.sum(residual**2) / (len(samples) - basis.shape[1])))
    sigma = noise * np.sqrt(2 / len(samples))
    return {
        "sampleRateHz": RATE,
        "frequencyHz": frequency,
        "amplitude": float(turned[0].real),
        "dc": float(terms[0]),
        "count": highest - 1,
        "cosine": turned[1:].real.tolist(),
        "sine": (-turned[1:].imag).tolist(),
        "sigma": [sigma] * (highest - 1),
        "noiseRms": noise,
    }


def main():
    generator = np.random.default_rng(20)
    rows = []
    for cycles in (17, 170, 427):
        for upper_db, lower_db in ((1, 1), (1, None), (None, 1), (1, 0.5)):
            for overdrive in (0.05, 0.1, 0.3, 1, 2, 4, 8, 12):
                scaled = [None if share is None else share * overdrive for share in (upper_db, lower_db)]
                samples = band_limited(cycles, generator.uniform(0, 2 * np.pi), *scaled)
                noise = 0.5 / np.sqrt(2) * 10 ** (-60 / 20)
                samples = samples + generator.normal(0, noise, FRAMES)
                rows.append(
                    {
                        "made": "band-limited",
                        "overdriveDb": overdrive,
                        "upperDb": scaled[0],
                        "lowerDb": scaled[1],
                        "view": view(samples, cycles * RATE / FRAMES),
                    }
                )
    for frequency in (40.0, 100.3, 997.0):
        for overdrive in (0.05, 0.3, 1, 4, 12):
            frames = np.arange(RATE)
            samples = limited(2 * np.pi * frequency * frames / RATE + 0.3, overdrive, overdrive)
            samples = samples + generator.normal(0, 0.5 / np.sqrt(2) * 10 ** (-60 / 20), RATE)
            rows.append(
                {
                    "made": "naive",
                    "overdriveDb": overdrive,
                    "upperDb": overdrive,
                    "lowerDb": overdrive,
                    "view": view(samples, frequency),
                }
            )
    print(json.dumps(rows))


main()
