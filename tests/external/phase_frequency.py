#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Mean frequency of held notes by the phase of each harmonic: complex demodulation, nothing of windway's.

Each harmonic is shifted to 0 Hz by `hz`, smoothed by a Hann window of 25 ms that is centred on the sample, and its phase
is unwrapped. What the phase gains from the first to the last moment of the part is the mean frequency over the part,
whatever the pitch does in between. Harmonics are joined with the weights (k A_k)^2: maximum likelihood in white noise
(D. C. Rife & R. R. Boorstyn, IEEE Trans. Inf. Theory 20 (1974) 591, for one tone).

usage: phase_frequency.py REQUEST.json

The request is a list of {"wav": path, "holds": [[start_s, end_s, hz], ...]}; out comes a list of the same length of lists
of {"mean_hz", "harmonics": [{"number", "level_db", "cents"}, ...]}: level against the strongest harmonic, cents of this
harmonic alone against the mean. `hz` need only be right within 4 Hz.
"""
import json
import sys

import numpy as np
import scipy.io.wavfile
import scipy.signal

MOST_HARMONICS = 10
WINDOW_S = 0.025  # seven periods of the lowest note; a longer one smooths a vibrato at the ends of the part
HEARD_DB = -40.0  # against the strongest harmonic: the weaker ones have no weight anyway


def phase_gain(samples, rate_hz, start_s, end_s, hz):
    """Mean frequency in Hz and RMS amplitude of the component near `hz` between two times."""
    window = scipy.signal.windows.hann(int(WINDOW_S * rate_hz) | 1)
    margin = len(window) // 2
    first, last = int(start_s * rate_hz), int(end_s * rate_hz)
    piece = samples[max(0, first - margin):last + margin + 1]
    turned = piece * np.exp(-2j * np.pi * hz / rate_hz * np.arange(len(piece)))
    smooth = scipy.signal.fftconvolve(turned, window / window.sum(), "valid")
    phase = np.unwrap(np.angle(smooth))
    seconds = (len(smooth) - 1) / rate_hz
    return hz + (phase[-1] - phase[0]) / (2 * np.pi * seconds), np.sqrt(np.mean(np.abs(smooth) ** 2))


def mean_frequency(samples, rate_hz, start_s, end_s, hz):
    found = []
    for number in range(1, MOST_HARMONICS + 1):
        if number * hz < 0.45 * rate_hz:
            found.append((number, *phase_gain(samples, rate_hz, start_s, end_s, number * hz)))
    strongest = max(amplitude for _, _, amplitude in found)
    found = [f for f in found if 20 * np.log10(f[2] / strongest) > HEARD_DB]
    weights = np.array([(number * amplitude) ** 2 for number, _, amplitude in found])
    mean_hz = np.sum(weights * [f / number for number, f, _ in found]) / np.sum(weights)
    return {"mean_hz": mean_hz,
            "harmonics": [{"number": number, "level_db": 20 * np.log10(amplitude / strongest),
                           "cents": 1200 * np.log2(f / number / mean_hz)} for number, f, amplitude in found]}


def answer(request):
    rate_hz, samples = scipy.io.wavfile.read(request["wav"])
    return [mean_frequency(samples / 32768.0, rate_hz, *hold) for hold in request["holds"]]


if __name__ == "__main__":
    with open(sys.argv[1], encoding="utf-8") as file:
        print(json.dumps([answer(request) for request in json.load(file)]))
