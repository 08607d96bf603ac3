"""The same work by a vectorised data-frame program, timed beside Refarad in one run.

    python3 tests/bench/peer.py PROGRAM FOLDER [THREADS]

FOLDER holds what `cargo bench` writes: parts.csv, one.json and hundred.json. Needs polars from PyPI. Reads the catalogue, then for
each position of a job rules parts out by capacitance, voltage, mounting and body, works out ripple, core rise and life (the usual
10 K and 5 K rules) of the others, gives each a verdict and keeps the 20 best. It checks less than Refarad: no ESR, no cold, no
band, no leakage, no text. Prints figures and judges nothing.
"""

import json
import os
import sys
import time

program, folder = sys.argv[1:3]
os.environ["POLARS_MAX_THREADS"] = sys.argv[3] if len(sys.argv) > 3 else str(os.cpu_count())

def called(job):
    """Elapsed s, processor s and peak MB of one call of the program."""
    begun = time.perf_counter()
    child = os.posix_spawn(
        program,
        [program, "size", f"{folder}/{job}.json"],
        os.environ,
        file_actions=[(os.POSIX_SPAWN_OPEN, 1, os.devnull, os.O_WRONLY, 0)],
    )
    _, _, usage = os.wait4(child, 0)
    return time.perf_counter() - begun, usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1e3


def read():
    return pl.read_csv(f"{folder}/parts.csv")


def sized(parts, position):
    """The 20 best parts of one position."""
    stress, needs, space = position["stress"], position["needs"], position["space"]
    mountings = [position["original"]["mounting"], *space["accepts"]]
    working_v = stress["dc_v"] + stress["ripple_peak_v"]
    col = pl.col
    left = parts.lazy().filter(
        col("capacitance_uf").is_between(needs["capacitance_min_uf"], needs["capacitance_max_uf"])
        & (col("rated_v") >= working_v)
        & col("mounting").is_in(mountings)
        & (col("diameter_mm") + 0.5 <= space["diameter_max_mm"])
        & (col("height_mm") + 1.5 <= space["height_max_mm"])
    )
    ambient_c, ripple_a = stress["phases"][0]["ambient_c"], stress["ripple"][0]["a"]
    left = left.with_columns(
        usage_v=working_v / col("rated_v"),
        equivalent_a=ripple_a / pl.when(col("ripple_hz") < 1000).then(1.4).otherwise(1.0),
        rated_rise_k=pl.when(col("temp_max_c") <= 85).then(10.0).otherwise(5.0),
    ).with_columns(usage_a=col("equivalent_a") / col("ripple_a"))
    left = left.with_columns(rise_k=col("rated_rise_k") * col("usage_a").pow(2)).with_columns(
        life_h=col("endurance_h")
        * (2.0 ** ((col("temp_max_c") - ambient_c) / 10.0))
        * (2.0 ** ((col("rated_rise_k") - col("rise_k")) / 5.0))
    )
    left = left.with_columns(
        verdict=pl.when((col("usage_v") > 1.0) | (col("usage_a") > 1.0) | (col("life_h") < 30_000))
        .then(2)
        .when((col("usage_v") > 0.8) | (col("usage_a") > 0.8) | (col("life_h") < 37_500))
        .then(1)
        .otherwise(0),
        headroom=pl.min_horizontal(1 - col("usage_v"), 1 - col("usage_a"), col("life_h") / 30_000 - 1),
    )
    return left.sort(["verdict", "unit_price", "headroom", "part_number"]).head(20).collect()


def best_of(times, work):
    taken, result = [], None
    for _ in range(times):
        begun = time.perf_counter()
        result = work()
        taken.append(time.perf_counter() - begun)
    return min(taken), result


# First, while this process is small: a child counts the memory of the one it was forked from.
one = min(called("one") for _ in range(5))
hundred = min(called("hundred") for _ in range(5))

import polars as pl  # noqa: E402  (reads the number of threads when it is imported)

read_s, parts = best_of(5, read)
positions = json.load(open(f"{folder}/hundred.json"))["boards"][0]["positions"]
begun = time.perf_counter()
for position in positions:
    sized(parts, position)
sized_s = time.perf_counter() - begun
per_position_ms = (hundred[0] - one[0]) / (len(positions) - 1) * 1e3
print(f"data frame: reads {len(parts)} rows in {read_s:.2f} s, {sized_s / len(positions) * 1e3:.1f} ms a position")
print(f"refarad size, 1 position: {one[0]:.2f} s, {one[2]:.0f} MB (wanted: 300 MB); "
      f"{one[0] / read_s:.2f} of the data frame's reading alone (wanted, reading against reading: 1.0)")
print(f"refarad size, {len(positions)} positions: {hundred[0]:.2f} s, {per_position_ms:.1f} ms a position (wanted: 8), "
      f"processor / elapsed {hundred[1] / hundred[0]:.2f} (wanted: 1.6), {hundred[2]:.0f} MB")
print(f"whole call: {(read_s + sized_s) / hundred[0]:.1f} times as fast as the data frame (wanted: 8)")
