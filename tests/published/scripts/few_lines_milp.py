#!/usr/bin/env python3
"""Makes the stored instances of the few-lines test and solves each with scipy.optimize.milp (HiGHS).

    python3 few_lines_milp.py OUT_DIR [SECONDS_PER_INSTANCE]

Needs scipy >= 1.9 (stored files: see "solver" in each). The instances are invented. The model below
is written from the buying rules, not from the program: order variables per price break, whole packs,
binary choices. An instance that is not solved to optimality within the time is not stored.
"""
import json
import random
import sys
import time
from pathlib import Path

import numpy as np
import scipy
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_matrix


def make(name, seed, positions, parts, passing, *, units=4, per_unit=(1,), spare=10, line_cost=8.0,
         moqs=(1,), packs=(1,), shelf=0.0, must=0, never=0, second=False, prefer=None, makers=4,
         spread=1.0, offers=1):
    rng = random.Random(seed)
    made = []
    for _ in range(parts):
        base = (0.2 + 3 * rng.random() * rng.random()) if spread >= 1 else 1.5 * (1 + spread * rng.random())
        part = {"maker": rng.choice("ABCDEFGH"[:makers]), "shelf_qty": rng.randint(3, 15) if rng.random() < shelf else 0,
                "demand": "free", "offers": []}
        for number in range(rng.randint(1, offers)):
            rate = 1.0 if number == 0 else rng.choice([0.9, 1.17])
            steps = [[1, base], [rng.choice([10, 20, 25]), base * rng.uniform(0.7, 0.9)],
                     [rng.choice([50, 100]), base * rng.uniform(0.5, 0.68)]]
            part["offers"].append({"rate_to_job": rate, "moq": rng.choice(moqs), "pack": rng.choice(packs),
                                   "price_breaks": [[q, round(p / rate * rng.uniform(0.97, 1.03), 3)] for q, p in steps]})
        made.append(part)
    places = [{"pieces": units * rng.choice(per_unit), "passing": sorted(rng.sample(range(parts), passing))}
              for _ in range(positions)]
    used = sorted({p for place in places for p in place["passing"]})
    for index in rng.sample(used, must):
        made[index]["demand"] = "must"
    free = [p for p in used if made[p]["demand"] == "free"]
    for index in rng.sample(free, never):
        made[index]["demand"] = "never"
    return {"name": name, "spare_pct": spare, "line_cost": line_cost, "second_source": second,
            "preference": None if prefer is None else {"makers": ["A", "B"], "worth_per_line": prefer},
            "positions": places, "parts": made}


class Rows:
    """Collects sparse constraint rows."""

    def __init__(self):
        self.cells, self.low, self.high = [], [], []

    def add(self, cells, low, high):
        self.cells.append(cells)
        self.low.append(low)
        self.high.append(high)

    def constraint(self, columns):
        rows = [i for i, cells in enumerate(self.cells) for _ in cells]
        cols = [c for cells in self.cells for c, _ in cells]
        data = [v for cells in self.cells for _, v in cells]
        return LinearConstraint(csr_matrix((data, (rows, cols)), shape=(len(self.cells), columns)), self.low, self.high)


def solve(item, seconds):
    cost, upper, rows = [], [], Rows()

    def variable(price, top):
        cost.append(price)
        upper.append(top)
        return len(cost) - 1

    parts, places, spare = item["parts"], item["positions"], item["spare_pct"]
    assert spare == int(spare)
    takes = {}
    for p, place in enumerate(places):
        for j in place["passing"]:
            if parts[j]["demand"] != "never":
                takes[p, j] = variable(0.0, 1)
        rows.add([(takes[p, j], 1) for j in place["passing"] if (p, j) in takes], 1, 1)
    for j, part in enumerate(parts):
        mine = [p for p in range(len(places)) if (p, j) in takes]
        if not mine:
            continue
        # In hundredths, so that the spares stay whole numbers.
        need = [(takes[p, j], (100 + spare) * places[p]["pieces"]) for p in mine]
        most = -(-sum(w for _, w in need) // 100)
        extra = item["line_cost"]
        if item["preference"] and part["maker"] not in item["preference"]["makers"]:
            extra += item["preference"]["worth_per_line"]
        supply, chosen = [], []
        for offer in part["offers"]:
            pack = offer["pack"]
            for start, price in offer["price_breaks"]:
                least = max(start, offer["moq"])
                top = -(-max(most, least) // pack)
                ordered = variable(extra, 1)
                packs = variable(price * offer["rate_to_job"] * pack, top)
                rows.add([(packs, pack), (ordered, -least)], 0, np.inf)
                rows.add([(packs, 1), (ordered, -top)], -np.inf, 0)
                supply.append((packs, -100 * pack))
                chosen.append((ordered, 1))
        rows.add(need + supply, -np.inf, 100 * part["shelf_qty"])
        rows.add(chosen, 0, 1)
        if part["shelf_qty"] == 0:
            for p in mine:
                rows.add([(takes[p, j], 1)] + [(c, -1) for c, _ in chosen], -np.inf, 0)
        if part["demand"] == "must":
            rows.add([(takes[p, j], 1) for p in mine], 1, np.inf)
        if item["second_source"]:
            others = [a for a, other in enumerate(parts)
                      if other["maker"] != part["maker"] and other["demand"] != "never"]
            backing = {a: variable(0.0, 1) for a in others}
            rows.add([(v, 1) for v in backing.values()], 0, 1)
            for p in mine:
                rows.add([(takes[p, j], 1)] + [(backing[a], -1) for a in others if a in places[p]["passing"]], -np.inf, 0)
    begun = time.monotonic()
    found = milp(np.array(cost), constraints=rows.constraint(len(cost)), integrality=np.ones(len(cost)),
                 bounds=Bounds(0, np.array(upper, dtype=float)), options={"time_limit": seconds, "mip_rel_gap": 1e-8})
    return found, time.monotonic() - begun


SPECS = [
    ("tiny_a", 1, 4, 6, 3, {}),
    ("tiny_b", 2, 5, 8, 4, {"line_cost": 1.0}),
    ("tiny_must", 3, 6, 8, 4, {"must": 2}),
    ("tiny_second", 4, 6, 10, 5, {"second": True}),
    ("small_a", 5, 8, 12, 5, {}),
    ("small_cheap_lines", 6, 8, 14, 6, {"line_cost": 0.3}),
    ("small_dear_lines", 7, 10, 15, 5, {"line_cost": 40.0}),
    ("small_packs", 8, 8, 12, 5, {"moqs": (1, 5, 10, 25), "packs": (1, 5, 10)}),
    ("small_per_unit", 9, 8, 12, 5, {"per_unit": (1, 2, 3, 4)}),
    ("small_shelf", 10, 10, 14, 6, {"shelf": 0.4}),
    ("small_second_packs", 11, 8, 14, 7, {"second": True, "packs": (1, 5), "moqs": (1, 10)}),
    ("small_never", 12, 10, 16, 8, {"never": 4, "must": 1}),
    ("small_prefer", 13, 10, 16, 8, {"prefer": 5.0}),
    ("small_offers", 14, 10, 14, 6, {"offers": 3, "packs": (1, 4)}),
    ("medium_a", 15, 14, 24, 8, {}),
    ("medium_second", 16, 14, 24, 10, {"second": True, "makers": 3}),
    ("medium_per_unit", 17, 14, 24, 8, {"per_unit": (1, 2, 5), "spare": 7}),
    ("medium_packs", 18, 14, 24, 8, {"moqs": (1, 10, 25), "packs": (1, 5, 10), "per_unit": (1, 2)}),
    ("medium_near", 19, 12, 20, 8, {"spread": 0.02}),
    ("medium_shelf_second", 20, 12, 20, 9, {"shelf": 0.3, "second": True}),
    ("medium_all", 21, 14, 24, 9, {"shelf": 0.2, "second": True, "must": 1, "never": 3, "prefer": 3.0,
                                   "per_unit": (1, 2, 3), "packs": (1, 5), "moqs": (1, 10), "offers": 2}),
    ("large_a", 22, 20, 40, 12, {}),
    ("large_cheap_lines", 23, 20, 40, 12, {"line_cost": 1.0}),
    ("large_dear_lines", 24, 24, 50, 15, {"line_cost": 25.0}),
    ("large_units", 25, 20, 36, 12, {"units": 15, "per_unit": (1, 2), "line_cost": 5.0}),
    ("large_near", 26, 16, 30, 12, {"spread": 0.05, "line_cost": 2.0}),
]


def main():
    out = Path(sys.argv[1])
    seconds = float(sys.argv[2]) if len(sys.argv) > 2 else 120.0
    out.mkdir(parents=True, exist_ok=True)
    for name, seed, positions, parts, passing, more in SPECS:
        item = make(name, seed, positions, parts, passing, **more)
        found, took = solve(item, seconds)
        if found.status == 0:
            item["optimum"] = float(found.fun)
            item["solver"] = f"scipy {scipy.__version__} milp (HiGHS)"
        elif found.status == 2:
            item["optimum"] = None
            item["solver"] = f"scipy {scipy.__version__} milp (HiGHS): infeasible"
        print(f"{name}: {found.message.splitlines()[0]} {found.fun} {took:.1f} s", flush=True)
        if found.status in (0, 2):
            (out / f"{name}.json").write_text(json.dumps(item, separators=(",", ":")) + "\n")


if __name__ == "__main__":
    main()
