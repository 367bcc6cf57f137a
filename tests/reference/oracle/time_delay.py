"""Delays by scipy.signal and filters by scipy.signal, as JSON.

`delay FIRST SECOND`: absolute peak of scipy.signal.correlate of two files of 64-bit floats, its place refined on a
spectrum padded 64-fold (numpy.fft). `filters JSON HZ…`: complex responses of cascades of analogue filters by
scipy.signal.butter and freqs. `marker TEMPLATE RECORDING`: frame at which a template best starts, by correlate.
"""

import json
import sys

import numpy as np
from scipy.signal import butter, correlate, freqs, hilbert

mode = sys.argv[1]
if mode == "delay":
    first, second = (np.fromfile(path) for path in sys.argv[2:4])
    whole = correlate(second, first, "full")
    top = int(np.argmax(np.abs(whole)))
    piece = whole[top - 128 : top + 128] * np.hanning(257)[:256]
    fine = np.fft.irfft(np.fft.rfft(piece), 64 * 256)
    print(json.dumps({"frames": top - 128 + np.argmax(np.abs(fine)) / 64 - (len(first) - 1)}))
elif mode == "marker":
    template, recording = (np.fromfile(path) for path in sys.argv[2:4])
    envelope = np.abs(hilbert(correlate(recording, template, "full")))
    print(json.dumps({"frame": int(np.argmax(envelope)) - (len(template) - 1)}))
else:
    w = 2 * np.pi * np.array([float(hz) for hz in sys.argv[3:]])
    answers = []
    for cascade in json.loads(sys.argv[2]):
        total = np.ones(len(w), complex)
        for f in cascade:
            times = 2 if f["alignment"] == "linkwitz-riley" else 1
            kind = f["kind"].replace("-pass", "")
            b, a = butter(f["order"] // times, 2 * np.pi * f["cutoffHz"], kind, analog=True)
            total = total * freqs(b, a, w)[1] ** times
        answers.append([[value.real, value.imag] for value in total])
    print(json.dumps(answers))
