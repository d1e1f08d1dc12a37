"""Compares what values.c prints with SciPy. Every limit has its reason
beside it; prints the figures, exits 1 when one is missed."""
import subprocess
import sys

import numpy
from scipy import signal

VALUES = sys.argv[1]
missed = 0


def ours(*arguments, numbers=()):
    text = "\n".join(repr(float(n)) for n in numbers)
    done = subprocess.run([VALUES, *map(str, arguments)], input=text,
                          capture_output=True, text=True, check=True)
    return numpy.array(done.stdout.split(), dtype=float)


def judge(what, error, limit):
    global missed
    verdict = "ok" if error <= limit else "MISSED"
    missed += error > limit
    print(f"{what}: {error:.3g} (limit {limit:g}) {verdict}")


rng = numpy.random.default_rng(1)

# a few units of the number format
for kind, name in enumerate(["boxcar", "hann"]):
    for n in (8, 57, 1000):
        wanted = signal.get_window(name, n)
        judge(f"window {name} {n}",
              numpy.abs(ours("window", kind, n) - wanted).max(), 1e-15)

# Kaiser of the same length and reach; the house's window ends one step
# outside the last tap, so SciPy's is asked for two more
for taps, cutoff in ((31, 0.1), (129, 0.021)):
    beta = signal.kaiser_beta(90)
    offset = numpy.arange(taps) - (taps - 1) / 2
    wanted = 2 * cutoff * numpy.sinc(2 * cutoff * offset)
    wanted *= signal.windows.kaiser(taps + 2, beta)[1:-1]
    wanted /= wanted.sum()
    judge(f"low-pass {taps}",
          numpy.abs(ours("lowpass", taps, cutoff, beta) - wanted).max(), 1e-15)

x = rng.standard_normal(997)
wanted = numpy.fft.rfft(x)
got = ours("fft", numbers=x)
judge("transform of 997", numpy.abs(got[::2] + 1j * got[1::2] - wanted).max()
      / numpy.sqrt(numpy.sum(x ** 2)), 1e-14)

# Noise whose band ends at 0.38 of the new rate, so that any good low-pass
# must give the same samples: SciPy's polyphase with a filter of its own of
# 120 dB. 1e-4: 80 dB.
for factor in (2, 3, 12, 16, 24, 23):
    n = factor * 1200
    spectrum = numpy.fft.rfft(rng.standard_normal(n))
    spectrum[numpy.arange(n // 2 + 1) / n > 0.38 / factor] = 0
    x = numpy.float32(numpy.fft.irfft(spectrum, n)).astype(float)
    x /= numpy.abs(x).max()
    taps = signal.firwin(80 * factor + 1, 1 / factor,
                         window=("kaiser", signal.kaiser_beta(120)))
    wanted = signal.upfirdn(taps, x, down=factor)
    delay = 40
    wanted = wanted[delay:delay + 1200]
    got = ours("decimate", factor, numbers=x)
    assert len(got) == 1200
    judge(f"decimation by {factor}",
          numpy.abs(got - wanted)[100:-100].max(), 1e-4)
sys.exit(1 if missed else 0)
