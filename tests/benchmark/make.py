"""make.py FOLDER: an invented drive of ten minutes, in one gear between 48 and
112 km/h, for the benchmark: drive.wav (three channels, 48 kHz, 16 bit, 16 m/s2
at full scale), drive.flac (the same), phone.csv (400 rows a second, stamps
0.2 ms off), speed.csv (once a second)."""
import pathlib
import subprocess
import sys
import wave

import numpy as np

SECONDS, RATE, ROWS_PER_S, FULL_SCALE = 600, 48000, 400, 16.0
TURN_M, AXLE, GEAR = 2.06, 3.73, 0.8
# turns per wheel turn, m/s2 at 80 km/h, growth with speed
LINES = [(1, 0.08, 2), (2, 0.03, 2), (AXLE, 0.12, 2), (2 * AXLE, 0.10, 2),
         (AXLE * GEAR, 0.03, 1), (2 * AXLE * GEAR, 0.15, 1)]
AXES = np.array([1.0, 0.5, 0.4])
NOISE = 0.15
SPEED_KM_H, WAVES = 80.0, [(28.0, 240.0), (4.0, 37.0)]  # km/h, period in s


def speed_km_h(t):
    return SPEED_KM_H + sum(a * np.sin(2 * np.pi * t / p) for a, p in WAVES)


def wheel_turns(t):
    """The integral of the speed, exact."""
    km_h_s = SPEED_KM_H * t + sum(
        a * p / (2 * np.pi) * (1 - np.cos(2 * np.pi * t / p)) for a, p in WAVES)
    return km_h_s / 3.6 / TURN_M


def shake(t, random):
    """m/s2 on three axes at the times t."""
    angle, share = 2 * np.pi * wheel_turns(t), speed_km_h(t) / 80
    line = sum(a * share ** n * np.cos(o * angle + o) for o, a, n in LINES)
    return line[:, None] * AXES + NOISE * random.standard_normal((t.size, 3))


def write_sound(path, random):
    with wave.open(str(path), "wb") as sound:
        sound.setnchannels(3)
        sound.setsampwidth(2)
        sound.setframerate(RATE)
        for second in range(0, SECONDS, 5):
            t = second + np.arange(5 * RATE) / RATE
            whole = np.rint(shake(t, random) / FULL_SCALE * 32767)
            sound.writeframes(whole.astype("<i2").tobytes())


def write_tables(folder, random):
    t = np.arange(SECONDS * ROWS_PER_S) / ROWS_PER_S
    t = np.sort(t + 2e-4 * random.standard_normal(t.size))
    x = shake(t, random) + [0, 0, 9.81]
    np.savetxt(folder / "phone.csv", np.column_stack([t, x]), delimiter=",",
               header="t,ax,ay,az", comments="", fmt=["%.6f"] + 3 * ["%.5f"])
    t = np.arange(SECONDS + 1.0)
    np.savetxt(folder / "speed.csv", np.column_stack([t, speed_km_h(t)]),
               delimiter=",", header="t,kmh", comments="", fmt="%.1f")


place = pathlib.Path(sys.argv[1])
seeded = np.random.default_rng(20261125)
write_sound(place / "drive.wav", seeded)
subprocess.run(["flac", "--silent", "--channel-map=none",
                place / "drive.wav"], check=True)
write_tables(place, seeded)
