"""Recordings of an exponential sweep through random filters, as WAV files, and what they are as JSON.

Arguments: folder, files, seed, seconds of the sweep. Each file has two channels with filters of their own, one third
of the files each uncompressed, through MP3 (libmp3lame) and through AAC, both at 128 kbit/s for the pair. Filters are
SciPy's: digital (butter, bessel, sosfilt at the file's rate) or exactly analogue (freqs_zpk on the spectrum), by turns
of chance. The sweep runs 100 ppm fast or slow, or anything between; white noise lies 50 dB below the filtered sweep
at its loudest.
"""

import json
import subprocess
import sys

import numpy as np
from scipy import signal
from scipy.io import wavfile

FOLDER, FILES, SEED, SECONDS = sys.argv[1], int(sys.argv[2]), int(sys.argv[3]), float(sys.argv[4])
START, END, PEAK = 20.0, 20_000.0, 0.1
GROWTH = SECONDS / np.log(END / START)
CODERS = {"mp3": ("mp3", "libmp3lame"), "aac": ("m4a", "aac")}
rng = np.random.default_rng(SEED)


def draw(kind, low, high):
    alignment = str(rng.choice(["butterworth", "linkwitz-riley", "bessel"]))
    order = int(rng.integers(1, 9))
    if alignment == "linkwitz-riley":
        order = 2 * int(rng.integers(1, 5))
    if alignment == "bessel":
        order = int(rng.integers(2, 9))
    return {
        "kind": kind,
        "alignment": alignment,
        "order": order,
        "cutoffHz": float(low * (high / low) ** rng.random()),
    }


def draw_filters():
    mode = rng.choice(["high-pass", "low-pass", "band"])
    if mode != "band":
        return [draw(str(mode), 50, 5000)]
    low = draw("high-pass", 50, 1000)
    return [low, draw("low-pass", 4 * low["cutoffHz"], min(8000, 30 * low["cutoffHz"]))]


def sections(f, **form):
    """One pass of the filter; Linkwitz-Riley is two passes of a Butterworth of half the order."""
    btype = f["kind"].replace("-", "")
    corner = f["cutoffHz"] * (2 * np.pi if form.get("analog") else 1)
    if f["alignment"] == "bessel":
        return signal.bessel(f["order"], corner, btype, norm="mag", **form)
    order = f["order"] // 2 if f["alignment"] == "linkwitz-riley" else f["order"]
    return signal.butter(order, corner, btype, **form)


def passes(f):
    return 2 if f["alignment"] == "linkwitz-riley" else 1


def filtered(x, filters, rate, analogue):
    if not analogue:
        for f in filters:
            for _ in range(passes(f)):
                x = signal.sosfilt(sections(f, fs=rate, output="sos"), x)
        return x
    frames = 1 << int(np.ceil(np.log2(len(x) + rate)))
    spectrum = np.fft.rfft(x, frames)
    frequencies = np.maximum(np.fft.rfftfreq(frames, 1 / rate), 1e-3)
    for f in filters:
        zpk = sections(f, analog=True, output="zpk")
        spectrum = spectrum * signal.freqs_zpk(*zpk, 2 * np.pi * frequencies)[1] ** passes(f)
    return np.fft.irfft(spectrum, frames)[: len(x)]


def sweep(rate, skew):
    t = np.arange(int(SECONDS * rate)) / rate * (1 + skew)
    x = PEAK * np.sin(2 * np.pi * START * GROWTH * np.expm1(t / GROWTH))
    fade = int(0.015 * rate)
    slope = 0.5 - 0.5 * np.cos(np.pi * np.arange(fade) / fade)
    x[:fade] *= slope
    x[-fade:] *= slope[::-1]
    return np.concatenate([np.zeros(int(rng.uniform(0.1, 0.6) * rate)), x, np.zeros(int(0.7 * rate))])


def channel(x, rate):
    filters = draw_filters()
    y = filtered(x, filters, rate, analogue=rng.random() < 0.5)
    y = y * 10 ** (rng.uniform(-6, 6) / 20) * rng.choice([-1, 1])
    sums = np.cumsum(y**2)
    loudest = np.sqrt(np.max(sums[2048:] - sums[:-2048]) / 2048)
    return y + rng.normal(0, loudest * 10 ** (-50 / 20), len(y)), filters


def recode(name, coder):
    extension, encoder = CODERS[coder]
    lossy = f"{FOLDER}/lossy.{extension}"
    quiet = ["ffmpeg", "-v", "error", "-nostdin", "-y"]
    subprocess.run([*quiet, "-i", name, "-c:a", encoder, "-b:a", "128k", lossy], check=True)
    subprocess.run([*quiet, "-i", lossy, "-c:a", "pcm_s16le", name], check=True)


truth = []
for number in range(FILES):
    rate = int(rng.choice([44_100, 48_000]))
    skew = float(rng.choice([-100e-6, 100e-6, 0, rng.uniform(-100e-6, 100e-6)]))
    x = sweep(rate, skew)
    channels, filters = zip(*(channel(x, rate) for _ in range(2)))
    name = f"{FOLDER}/recording-{number}.wav"
    wavfile.write(name, rate, np.stack(channels, 1).astype(np.float32))
    coder = ["none", "mp3", "aac"][number % 3]
    if coder != "none":
        recode(name, coder)
    truth.append(
        {"file": name, "sampleRateHz": rate, "coder": coder, "skewPpm": 1e6 * skew, "channels": list(filters)}
    )
print(json.dumps({"startHz": START, "endHz": END, "durationSeconds": SECONDS, "files": truth}))
