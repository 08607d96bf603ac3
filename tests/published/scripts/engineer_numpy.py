"""Figures for tests/published/engineer.rs: a temperature log cut into phases (numpy), the spread of a part's years (scipy),
an oscilloscope file (numpy.fft). Prints Rust."""
import numpy as np
import scipy
from scipy import optimize, stats

print(f"// numpy {np.__version__}, scipy {scipy.__version__}")

# a week in steps of ten minutes: days and nights, a heat wave, frost on the last night
t = np.arange(7 * 144)
temp = 48 + 14 * np.sin(2 * np.pi * t / 144) + 6 * np.sin(2 * np.pi * t / 1008) - 30 * (t > 950)
temp = np.round(temp, 2)
damage = 2 ** (np.maximum(temp, 40) / 10)
for count in (1, 3, 6):
    width = (temp.max() - temp.min()) / count
    at = np.minimum(((temp - temp.min()) / width).astype(int), count - 1)
    phases = [(np.mean(at == k), 10 * np.log2(np.mean(2 ** (temp[at == k] / 10)))) for k in range(count) if (at == k).any()]
    cut = sum(share * 2 ** (max(c, 40) / 10) for share, c in phases)
    print(f"({count}, {damage.mean() / cut - 1:.12}, {phases[-1][0]:.12}, {phases[-1][1]:.12}),")

# 4000 h at 105 C, 5 K at rated ripple, 70 % of it, 65 C; ambient 3 K, ripple 20 %, endurance 15 %; 3000 h a year;
# base 4 instead of 2 in the ripple term above rated ripple
sigma = np.hypot(3 * np.log(2) / 10, np.sqrt(np.log(1 + 0.15**2)))
ripple_sigma = np.sqrt(np.log(1 + 0.2**2))
z = np.linspace(-8, 8, 400_001)
weight = stats.norm.pdf(z)
weight /= weight.sum()
used = 0.7 * np.exp(ripple_sigma * z)
gain = (5 - 5 * used**2) / 10 * np.log(np.where(used > 1, 4, 2))
median = np.log(4000 * 2**4 / 3000)
for p in (0.1, 0.5, 0.9):
    root = optimize.brentq(lambda x: (weight * stats.norm.cdf((x - median - gain) / sigma)).sum() - p, -5, 10)
    print(f"P{round(100 * p)} {np.exp(root):.9}")
