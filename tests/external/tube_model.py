#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""A six-hole open tube by transfer matrices: how far does each note fall when the head is drawn out?

Passive acoustics only, independent of windway: plane waves in lossy cylinders (wall losses as in N. H. Fletcher & T. D.
Rossing, The Physics of Musical Instruments (1998), eqs. 8.13 and 8.15), tone holes as T circuits (shunt, open: an inertance
of wall and both end corrections, closed: the compliance of its volume; ibid. ch. 15; series: the column widens at a hole, V.
Dubos et al., Acustica 85 (1999) 153, from memory), the far end radiating unflanged (H. Levine & J.
Schwinger, Phys. Rev. 73 (1948) 383: length correction 0.6133 a, resistance (ka)^2 / 4), the window as an inertance
(correction 2.3 a^2 / sqrt(w h), Ingerslev & Frobenius 1947, from memory). Each hole is placed so that its note is in tune
with the head fully in; then the head is drawn out, which lengthens the cylinder at the window's end. It says nothing of
the jet, which a player's breath drives off the passive resonance.

Prints a table, or with --json the same for programs: per note and move, the frequency, the length n c / (2 f), the
change in cents, and what -1200 log2(1 + s / L) says.
"""
import json
import math
import sys

import numpy as np
from scipy.optimize import brentq

SOUND_M_S = 346.1145  # 25 degrees C, ISO 9613-1
DENSITY = 1.184
BORE_M = 0.006  # radius
WALL_M = 0.0008
HOLE_M = 0.0032  # radius; the scale is made by the places alone
WINDOW_CORRECTION_M = 2.3 * BORE_M**2 / math.sqrt(0.008 * 0.004)
AREA = math.pi * BORE_M**2
NOTES = ["D", "E", "F#", "G", "A", "B", "C#"]
SEMITONES = [0, 2, 4, 5, 7, 9, 11]
D5_HZ = 440.0 * 2.0 ** (5 / 12)


def wave_number(f):
    """Complex, with the losses at the wall: phase a little slower, amplitude falling (1.65e-3 and 3e-5, SI units)."""
    slower = 1.0 + 1.65e-3 / (BORE_M * math.sqrt(f))
    return 2.0 * math.pi * f / SOUND_M_S * slower - 1j * 3e-5 * math.sqrt(f) / BORE_M


def along(load, length, f):
    """Impedance at the near end of a cylinder that ends in `load`."""
    zc = DENSITY * SOUND_M_S / AREA
    t = 1j * np.tan(wave_number(f) * length)
    return zc * (load + zc * t) / (zc + load * t)


def shunted(load, shunt):
    return load * shunt / (load + shunt)


def open_end(f):
    zc = DENSITY * SOUND_M_S / AREA
    ka = 2.0 * math.pi * f / SOUND_M_S * BORE_M
    return zc * (1j * 0.6133 * ka + 0.25 * ka * ka)


def hole(f, is_open):
    omega = 2.0 * math.pi * f
    area = math.pi * HOLE_M**2
    if not is_open:
        return -1j * DENSITY * SOUND_M_S**2 / (omega * area * WALL_M)
    k_hole = omega / SOUND_M_S * HOLE_M
    return DENSITY * SOUND_M_S / area * (1j * omega / SOUND_M_S * (WALL_M + 1.5 * HOLE_M) + 0.25 * k_hole**2)


def half_series(f, is_open):
    """Either series arm of a hole: a negative inertance, for the flow spreads a little into the hole."""
    ratio = HOLE_M / BORE_M
    depth = math.tanh(1.84 * WALL_M / HOLE_M)
    correction_m = -HOLE_M * ratio**4 / ((depth if is_open else 1.0 / depth) + 0.62 * ratio**2 + 0.64 * ratio)
    return 0.5j * 2.0 * math.pi * f * DENSITY * correction_m / (math.pi * HOLE_M**2)


def reactance(f, length, holes, opened, out_m):
    """Im of the whole impedance as the jet sees it; 0 at a resonance. Holes from the far end up, places from the window;
    the lowest `opened` of them are open."""
    z = open_end(f)
    place = length
    for number, at in enumerate(holes):
        arm = half_series(f, number < opened)
        z = shunted(along(z, place - at, f) + arm, hole(f, number < opened)) + arm
        place = at
    z = along(z, place + out_m, f)
    return (z + 1j * 2.0 * math.pi * f * DENSITY * WINDOW_CORRECTION_M / AREA).imag


def resonance(near, length, holes, opened, out_m=0.0):
    """The zero crossing from below nearest to `near`: a minimum of the impedance."""
    grid = near * np.linspace(0.8, 1.1, 601)
    values = np.array([reactance(f, length, holes, opened, out_m) for f in grid])
    rising = [i for i in range(600) if values[i] < 0 <= values[i + 1] and values[i + 1] - values[i] < 1e9]
    best = min(rising, key=lambda i: abs(math.log(grid[i] / near)))
    return brentq(reactance, grid[best], grid[best + 1], args=(length, holes, opened, out_m), xtol=1e-10)


def made():
    """Length of the tube and places of the holes, from the far end up, that put the first register in tune."""
    length = brentq(lambda l: reactance(D5_HZ, l, [], 0, 0.0), 0.15, 0.30)
    holes = []
    for semitones in SEMITONES[1:]:
        hz = D5_HZ * 2.0 ** (semitones / 12)
        below = holes[-1] if holes else length

        def off(at, hz=hz):
            return reactance(hz, length, [*holes, at], len(holes) + 1, 0.0)

        top = SOUND_M_S / (2 * hz) - 0.75 * WINDOW_CORRECTION_M
        grid = np.linspace(below - 0.004, 0.5 * top, 400)
        values = [off(at) for at in grid]
        crossing = next(i for i in range(399) if values[i] > 0 >= values[i + 1] or values[i] < 0 <= values[i + 1])
        holes.append(brentq(off, grid[crossing], grid[crossing + 1]))
    return length, holes


def rows():
    length, holes = made()
    for register in (1, 2):
        for number, (name, semitones) in enumerate(zip(NOTES, SEMITONES)):
            hz = resonance(register * D5_HZ * 2.0 ** (semitones / 12), length, holes, number)
            column_mm = 1000.0 * register * SOUND_M_S / (2.0 * hz)
            for out_mm in (1.0, 2.0, 4.0):
                moved_hz = resonance(hz, length, holes, number, out_mm / 1000.0)
                model = 1200.0 * math.log2(moved_hz / hz)
                law = -1200.0 * math.log2(1.0 + out_mm / column_mm)
                yield {"note": name, "register": register, "hz": hz, "length_mm": column_mm, "out_mm": out_mm,
                       "model_cents": model, "law_cents": law, "departure_percent": 100.0 * (model / law - 1.0)}


def main():
    table = list(rows())
    if "--json" in sys.argv[1:]:
        print(json.dumps(table))
        return
    print("| note | register | Hz | n c / (2 f), mm | head out, mm | model, cents | law, cents | model against law |")
    print("| --- | --- | --- | --- | --- | --- | --- | --- |")
    for r in table:
        mark = " !" if abs(r["departure_percent"]) > 3 else ""
        print(f"| {r['note']} | {r['register']} | {r['hz']:.1f} | {r['length_mm']:.1f} | {r['out_mm']:g} | "
              f"{r['model_cents']:.2f} | {r['law_cents']:.2f} | {r['departure_percent']:+.1f} %{mark} |")


if __name__ == "__main__":
    main()
