#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Assembles runs of held notes from recorded notes of real flutes.

The notes come from Debian's fluid-soundfont-gm (FluidR3_GM.sf2; SoundFont Technical Specification 2.04, sections 5 to 8)
and freepats (Gravis Ultrasound patches). Each run is a WAV file and a JSON file that says of every note when it starts
and ends, its MIDI note, how much of it is recorded and whether it was looped on. A recorded note keeps its own
attack; it is cut off by a fade of 40 ms, for no recording in these packages keeps its release. In a `-long` run the end of
a note is repeated with a cross-fade, from where it is most alike, until the note lasts 1.3 s. Notes are brought to one
RMS level and 44.1 kHz; between them is noise 66 dB under full scale. The font's pan flute and ocarina are left out: their
harmonics are the same for every note or go down by rule, as no recording's do.

usage: real_runs.py OUTDIR
"""
import json
import os
import struct
import sys
import wave
import zlib

import numpy as np
import scipy.signal

RATE_HZ = 44100
LONG_S = 1.3
FADE_S = 0.04
NOTE_RMS = 10 ** (-18 / 20)
FLOOR_RMS = 10 ** (-66 / 20)
FONT = "/usr/share/sounds/sf2/FluidR3_GM.sf2"
PATCHES = "/usr/share/midi/freepats/Tone_000/"
CROSS_FADE_S = 0.03
ALIKE_S = 0.06
LEAST_LOOP_S = 0.15  # a shorter loop would be a machine's tone, no longer a recording
MOST_LOOPED = 0.6  # of a note: what comes before is its attack

# Samples of FluidR3_GM.sf2 and the note that each sounds. Those in stereo are two microphones in a room: of the left one,
# which hears another reverberation, come runs of their own.
FONT_RUNS = {
    "recorder": {"Recorder C6": 72, "Recorder D7": 74, "Recorder E7": 76, "Recorder F7": 77, "Recorder G7": 79,
                 "Recorder A7": 81, "Recorder B7": 83, "Recorder D8": 86},
    "flute": {"Flute C#4(R)": 61, "Flute E4(R)": 64, "Flute G4(R)": 67, "Flute B4(R)": 71, "Flute D5(R)": 74,
              "Flute F#5(R)": 78, "Flute G#5(R)": 80, "Flute C6(R)": 84, "Flute F#6(R)": 90},
    "piccolo": {"Piccolo E6(R)": 76, "Piccolo F#6(R)": 78, "Piccolo G#6(R)": 80, "Piccolo A#6(R)": 82,
                "Piccolo C7(R)": 84, "Piccolo E7(R)": 88, "Piccolo G#7(R)": 92, "Piccolo C8(R)": 96},
}
FONT_RUNS |= {run + "-left": {name.replace("(R)", "(L)"): midi for name, midi in FONT_RUNS[run].items()}
              for run in ("flute", "piccolo")}
# Samples of a patch of freepats by their place in it, and the note that each sounds.
PATCH_RUNS = {
    "freepats-recorder": ("074_Recorder.pat", {0: 79, 1: 82, 2: 84, 3: 88}),
    "freepats-flute": ("073_Flute.pat", {0: 65, 1: 70, 2: 75}),  # its fourth note stands for 0.24 s: no hold
    "freepats-piccolo": ("072_Piccolo.pat", {0: 79, 1: 79, 2: 92, 3: 94, 4: 96}),
}


class Note:
    """One recorded note: samples up to the end of its loop, and their rate."""

    def __init__(self, samples, rate_hz):
        self.samples, self.rate_hz = samples, rate_hz


def riff_chunks(data, start, end):
    while start + 8 <= end:
        size, = struct.unpack_from("<I", data, start + 4)
        yield data[start:start + 4], start + 8, size
        start += 8 + size + size % 2


def font_notes(path):
    """Every sample of a SoundFont by its name."""
    with open(path, "rb") as file:
        data = file.read()
    lists = [chunk for chunk in riff_chunks(data, 12, len(data)) if chunk[0] == b"LIST"]
    chunks = {name: (at, size) for _, start, length in lists
              for name, at, size in riff_chunks(data, start + 4, start + length)}
    (waves, _), (headers, size) = chunks[b"smpl"], chunks[b"shdr"]
    notes = {}
    for at in range(headers, headers + size - 46, 46):  # the last header is the terminal one
        name, start, _, _, loop_end, rate_hz = struct.unpack_from("<20sIIIII", data, at)
        samples = np.frombuffer(data, "<i2", loop_end - start, waves + 2 * start) / 32768.0
        notes[name.split(b"\0")[0].decode("latin-1")] = Note(samples, rate_hz)
    return notes


def patch_notes(path):
    """The samples of a Gravis Ultrasound patch of one instrument of one layer: 16 bits, signed."""
    with open(path, "rb") as file:
        data = file.read()
    instrument, layer, sample = 129, 129 + 63, 129 + 63 + 47  # bytes of the three headers that stand first
    notes = []
    assert data[instrument + 22] == 1
    for _ in range(data[layer + 6]):
        size, _, _, rate_hz = struct.unpack_from("<IIIH", data, sample + 8)
        assert data[sample + 55] & 3 == 1  # 16 bits, signed
        samples = np.frombuffer(data, "<i2", size // 2, sample + 96) / 32768.0
        notes.append(Note(samples, rate_hz))
        sample += 96 + size
    return notes


def likeliest_period(samples, rate_hz):
    """Samples after which the end of the note is most alike: of its pitch, its phase and its vibrato."""
    window, least = int(ALIKE_S * rate_hz), int(LEAST_LOOP_S * rate_hz)
    end = samples[-window:]
    product = scipy.signal.correlate(samples[:-least], end, "valid")
    power = np.maximum(scipy.signal.fftconvolve(samples[:-least] ** 2, np.ones(window), "valid"), 1e-9)
    lags = len(samples) - window - np.arange(len(product))
    alike = np.where(lags <= MOST_LOOPED * len(samples), product / np.sqrt(power), -np.inf)
    return int(lags[np.argmax(alike)])


def looped(note):
    """The note, its end repeated with a cross-fade until it lasts LONG_S; as it is where it is too short for that."""
    samples, fade = note.samples, int(CROSS_FADE_S * note.rate_hz)
    if len(samples) >= LONG_S * note.rate_hz or MOST_LOOPED * len(samples) < 1.2 * LEAST_LOOP_S * note.rate_hz:
        return samples
    period = likeliest_period(samples, note.rate_hz)
    rise = 0.5 - 0.5 * np.cos(np.pi * (np.arange(fade) + 0.5) / fade)
    long = samples
    while len(long) < LONG_S * note.rate_hz:
        seam = long[-fade:] * (1 - rise) + samples[-period - fade:-period] * rise
        long = np.concatenate([long[:-fade], seam, samples[-period:]])
    return long[:int(LONG_S * note.rate_hz)]


def at_rate(samples, rate_hz):
    padded = np.concatenate([samples, np.zeros(rate_hz)])  # so that the end does not ring into the start
    length = round(len(samples) * RATE_HZ / rate_hz)
    return samples if rate_hz == RATE_HZ else scipy.signal.resample(padded, length + RATE_HZ)[:length]


def faded(samples):
    count = int(FADE_S * RATE_HZ)
    fade = np.concatenate([np.ones(len(samples) - count), 0.5 + 0.5 * np.cos(np.pi * np.arange(count) / count)])
    return samples * fade


def assemble(stem, notes, source):
    """Writes `stem`.wav and .json of (name, midi, Note, its samples)s in that order."""
    rng = np.random.default_rng(zlib.crc32(os.path.basename(stem).encode()))
    parts, told, position = [np.zeros(RATE_HZ // 2)], [], RATE_HZ // 2
    for name, midi, note, raw in notes:
        samples = faded(at_rate(raw, note.rate_hz))
        samples = samples * NOTE_RMS / np.sqrt(np.mean(samples ** 2))
        told.append({"name": name, "midi": midi, "start_s": position / RATE_HZ,
                     "end_s": (position + len(samples)) / RATE_HZ,
                     "recorded_s": min(len(raw), len(note.samples)) / note.rate_hz,
                     "looped": len(raw) > len(note.samples)})
        parts += [samples, np.zeros(int(rng.uniform(0.2, 0.4) * RATE_HZ))]
        position += len(samples) + len(parts[-1])
    run = np.concatenate(parts + [np.zeros(RATE_HZ // 2)])
    run += rng.standard_normal(len(run)) * FLOOR_RMS
    with wave.open(stem + ".wav", "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(RATE_HZ)
        file.writeframes(np.round(np.clip(run, -1, 1) * 32767).astype("<i2").tobytes())
    with open(stem + ".json", "w", encoding="utf-8") as file:
        json.dump({"source": source, "holds": told}, file, indent=1)


def main():
    folder, runs = sys.argv[1], []
    os.makedirs(folder, exist_ok=True)
    font = font_notes(FONT)
    for run, notes in FONT_RUNS.items():
        runs.append((run, [(name, midi, font[name]) for name, midi in notes.items()], "fluid-soundfont-gm"))
    for run, (file, notes) in PATCH_RUNS.items():
        patch = patch_notes(PATCHES + file)
        runs.append((run, [(f"{file} {k}", midi, patch[k]) for k, midi in notes.items()], "freepats"))
    for run, notes, source in runs:
        stem = os.path.join(folder, run)
        assemble(stem, [(name, midi, note, note.samples) for name, midi, note in notes], source)
        long = [(name, midi, note, looped(note)) for name, midi, note in notes]
        if any(len(raw) > len(note.samples) for _, _, note, raw in long):
            assemble(stem + "-long", long, source)


if __name__ == "__main__":
    main()
