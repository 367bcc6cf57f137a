"""Quantiles of the mean of exponential powers whose expectation is 1. Arguments: standard deviations of the normal distribution."""

import json
import sys

from scipy.stats import gamma, norm

deviations = [float(argument) for argument in sys.argv[1:]]
print(
    json.dumps(
        [
            {"averages": k, "quantiles": [float(gamma.isf(norm.sf(z), k) / k) for z in deviations]}
            for k in [4, 7, 20, 100]
        ]
    )
)
