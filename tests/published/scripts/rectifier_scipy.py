"""Bridge with reservoir by scipy.integrate.solve_ivp, for tests/published/rectifier.rs: an integration that shares nothing with ours
but the circuit. Constant power and constant drop are not in the ngspice runs. Prints Rust."""
import numpy as np
import scipy
from scipy.integrate import solve_ivp

print(f"// scipy {scipy.__version__}")


def run(vac, hz, rs, drop, c, esr, load, value, halves=400):
    peak, w, half = vac * np.sqrt(2), 2 * np.pi * hz, 1 / (2 * hz)

    def currents(t, v):
        e = peak * abs(np.sin(w * t)) - drop
        # terminal voltage u = v + esr (source - load(u)) in closed form; the source current by bisection
        def node(source):
            a = v + esr * source
            if load == "current":
                return a - esr * value
            if load == "resistor":
                return a / (1 + esr / value)
            return 0.5 * (a + np.sqrt(a * a - 4 * esr * value))

        source = 0.0
        if e > node(0.0):
            lo, hi = 0.0, (e - node(0.0)) / rs
            for _ in range(60):
                mid = 0.5 * (lo + hi)
                lo, hi = (mid, hi) if e - rs * mid > node(mid) else (lo, mid)
            source = 0.5 * (lo + hi)
        u = node(source)
        drawn = {"current": value, "resistor": u / value, "power": value / u}[load]
        return source, source - drawn, u

    v = 0.95 * (peak - drop)
    for n in range(halves):
        s = solve_ivp(lambda t, y: [currents(t, y[0])[1] / c], (0, half), [v], method="RK45", rtol=1e-6, atol=1e-8, max_step=half / 100)
        new = s.y[0, -1]
        if abs(new - v) < 1e-6:
            break
        v = new
    t = np.linspace(0, half, 4001)
    s = solve_ivp(lambda t, y: [currents(t, y[0])[1] / c], (0, half), [v], method="RK45", rtol=1e-9, atol=1e-10, max_step=half / 1000, t_eval=t)
    source, cap, node = np.array([currents(*p) for p in zip(t, s.y[0])]).T
    mean = lambda x: np.trapezoid(x, t) / half
    print(f"// {load} {value}: halves {n + 1}")
    print(f"rms {np.sqrt(mean(cap**2)):.7} source {np.sqrt(mean(source**2)):.7} peak {cap.max():.6} valley {node.min():.6} mean {mean(node):.7}")


run(24.0, 50.0, 0.2, 1.8, 4700e-6, 0.03, "power", 60.0)
run(120.0, 60.0, 0.5, 1.8, 470e-6, 0.2, "power", 80.0)
run(24.0, 50.0, 0.2, 1.8, 4700e-6, 0.03, "resistor", 15.0)
