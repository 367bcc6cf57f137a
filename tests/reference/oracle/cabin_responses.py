"""Responses of correctly or inversely wired drivers in a simulated cabin, by scipy.signal.

argv: seed, trials per band, SNR in dB, share of the band list ("all" or an index list), output file.
Writes 64-bit floats, one response after the other; prints what each is as JSON.

Cabin: direct sound, 8 reflections 1 to 10 ms late of 0.3 to 0.9 over the extra distance (a direct path of 1 m), one in
ten turned over, and a Gaussian tail of RT60 0.1 s, 6 dB below the direct sound. SNR: of the response over its first
50 ms (10 ms above 300 Hz) against white noise, both within the driver's half-power band.
"""

import json
import sys

import numpy as np
from scipy.signal import butter, sosfilt

# The cases of references.md item 10: name, rate, frames, filters (kind, alignment, order, corner).
LR, BW = "linkwitz-riley", "butterworth"
BANDS = [
    ["LP LR4 80 Hz", 4000, 1024, [["low-pass", LR, 4, 80]]],
    ["LP LR4 80 + HP BW2 20", 4000, 1024, [["low-pass", LR, 4, 80], ["high-pass", BW, 2, 20]]],
    ["LP LR4 80 + HP BW4 25", 4000, 1024, [["low-pass", LR, 4, 80], ["high-pass", BW, 4, 25]]],
    ["LP BW4 80 + HP BW2 30", 4000, 1024, [["low-pass", BW, 4, 80], ["high-pass", BW, 2, 30]]],
    ["LP LR4 60 + HP BW4 35", 4000, 1024, [["low-pass", LR, 4, 60], ["high-pass", BW, 4, 35]]],
    ["BP LR4 80-3000", 48000, 2048, [["high-pass", LR, 4, 80], ["low-pass", LR, 4, 3000]]],
    ["HP LR4 3 kHz + LP BW2 20 kHz", 48000, 1024, [["high-pass", LR, 4, 3000], ["low-pass", BW, 2, 20000]]],
    ["HP LR2 3 kHz + LP BW2 20 kHz", 48000, 1024, [["high-pass", LR, 2, 3000], ["low-pass", BW, 2, 20000]]],
    ["HP BW2 3 kHz alone", 48000, 1024, [["high-pass", BW, 2, 3000]]],
]


def through(band, x):
    _, rate, _, filters = band
    for kind, alignment, order, corner in filters:
        times = 2 if alignment == LR else 1
        for _ in range(times):
            x = sosfilt(butter(order // times, corner, kind.replace("-pass", ""), fs=rate, output="sos"), x)
    return x


def cabin(rng, rate, frames, arrival):
    at = np.arange(frames)
    h = np.sinc(at - arrival)
    for _ in range(8):
        late = rng.uniform(1, 10)
        height = rng.uniform(0.3, 0.9) / (1 + 0.343 * late) * (1 if rng.uniform() < 0.9 else -1)
        h += height * np.sinc(at - arrival - late * rate / 1000)
    start = int(arrival + 0.002 * rate)
    tail = rng.normal(size=frames - start) * 10 ** (-3 * np.arange(frames - start) / rate / 0.1)
    h[start:] += 0.5 * tail / np.sqrt(np.sum(tail**2))
    return h


def response(rng, band, snr_db):
    _, rate, frames, _ = band
    arrival = rng.uniform(0.004, 0.012) * rate
    h = through(band, cabin(rng, rate, frames, arrival))
    power = np.abs(np.fft.rfft(through(band, np.r_[1.0, np.zeros(8 * frames - 1)]))) ** 2
    share = np.mean(power > power.max() / 2)
    window = int((0.05 if rate == 4000 else 0.01) * rate)
    mean = np.mean(h[int(arrival) : int(arrival) + window] ** 2)
    noise = rng.normal(size=frames) * np.sqrt(mean * 10 ** (-snr_db / 10) / share)
    sign = int(rng.choice([-1, 1]))
    return sign, arrival / rate, sign * h + noise


seed, trials, snr_db, which, path = int(sys.argv[1]), int(sys.argv[2]), float(sys.argv[3]), sys.argv[4], sys.argv[5]
bands = BANDS if which == "all" else [BANDS[int(at)] for at in which.split(",")]
rng = np.random.default_rng(seed)
told = []
with open(path, "wb") as file:
    for band in bands:
        truths = []
        for _ in range(trials):
            sign, arrival, samples = response(rng, band, snr_db)
            samples.astype("<f8").tofile(file)
            truths.append([sign, arrival])
        bare = through(band, np.r_[1.0, np.zeros(8 * band[2] - 1)])
        told.append({
            "name": band[0], "sampleRateHz": band[1], "frames": band[2],
            "filters": [dict(zip(("kind", "alignment", "order", "cutoffHz"), f)) for f in band[3]],
            "peakSign": int(np.sign(bare[np.argmax(np.abs(bare))])), "truths": truths,
        })
print(json.dumps(told))
