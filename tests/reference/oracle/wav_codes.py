"""Reads a WAV file with scipy.io.wavfile; prints rate, shape and the stored codes as JSON."""

import json
import sys
import warnings

import numpy as np
from scipy.io import wavfile

# scipy warns of chunks that it skips (LIST); they are no samples.
warnings.simplefilter("ignore", wavfile.WavFileWarning)
rate, data = wavfile.read(sys.argv[1])
if data.ndim == 1:
    data = data[:, np.newaxis]
print(json.dumps({"rateHz": rate, "kind": str(data.dtype), "channels": data.T.tolist()}))
