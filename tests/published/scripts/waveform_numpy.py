"""Rms and harmonics of a synthetic capacitor current by numpy.fft, for tests/published/waveform.rs. Prints Rust."""
import numpy as np

STEP_S = 4e-6
SAMPLES = 26_300
t = np.arange(SAMPLES) * STEP_S
# a rectifier's pulses at 100 Hz, a switching stage's pulses at 12.5 kHz, a probe offset
slow = np.maximum(0.0, np.cos(2 * np.pi * 50 * t + 0.2) ** 2 - 0.75) * 16.0
fast = np.where((12_500 * t + 0.27) % 1.0 < 0.3, 1.2, 0.0)
current = 0.35 + slow + fast

whole = round(10 / 100 / STEP_S)          # ten periods of 100 Hz
cut = current[:whole]
alternating = cut - cut.mean()
spectrum = np.sqrt(2) * np.abs(np.fft.rfft(alternating)) / whole
hz = np.fft.rfftfreq(whole, STEP_S)
print(f"// numpy {np.__version__}")
print(f"const RMS_A: f64 = {np.sqrt(np.mean(alternating**2)):.12};")
print(f"const MEAN_A: f64 = {cut.mean():.12};")
for f in (100, 200, 300, 12_500, 25_000, 37_500):
    k = np.argmin(abs(hz - f))
    print(f"({f}.0, {spectrum[k]:.12}),")
