"""Percentiles of life under uncertain inputs by scipy and by numpy's own generator, for tests/published/spread.rs. Prints Rust."""
import numpy as np
import scipy
from scipy import integrate, optimize, stats

LN2 = np.log(2.0)
LIFE_H, SIGMA_K, RIPPLE, ENDURANCE = 64_000.0, 3.0, 0.2, 0.15
print(f"// scipy {scipy.__version__}, numpy {np.__version__}")

sigma = SIGMA_K * LN2 / 10
print("ambient only:", [f"{stats.lognorm(s=sigma, scale=LIFE_H).ppf(p):.9}" for p in (0.1, 0.5, 0.9)])

s_end = np.sqrt(np.log1p(ENDURANCE**2))
both = np.hypot(sigma, s_end)
print("ambient and endurance:", [f"{stats.lognorm(s=both, scale=LIFE_H).ppf(p):.9}" for p in (0.1, 0.5, 0.9)])

# with ripple: life = LIFE 2^(-shift/10) e 2^((5 - 5 (0.7 r)^2)/10); distribution function by quadrature over the ripple
s_rip = np.sqrt(np.log1p(RIPPLE**2))


def below(life):
    def given(z):
        rise = 5 * (0.7 * np.exp(s_rip * z)) ** 2
        centre = np.log(LIFE_H) + (5 - rise) / 10 * LN2
        return stats.norm.pdf(z) * stats.norm.cdf((np.log(life) - centre) / both)

    return integrate.quad(given, -8, 8, limit=400, epsabs=1e-12)[0]


print("all three:", [f"{optimize.brentq(lambda x: below(x) - p, 1e3, 1e6, xtol=1e-6):.9}" for p in (0.1, 0.5, 0.9)])

print("z90:", repr(stats.norm.ppf(0.9)))
data = np.array([1.0, 2.0, 4.0, 8.0, 16.0, 32.0, 64.0])
print("numpy.percentile:", np.percentile(data, [10, 50, 90]))
