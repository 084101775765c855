"""The landing loop once more in NumPy: many trials side by side, landing after landing.

Same model, inputs, stopping rule and figures per trial as lib/simulate, but its own random numbers (PCG64; NumPy's
exact normal, gamma and exponential methods), so the results agree within Monte Carlo error, not bit for bit. Trials
whose figures are all known are dropped, so that late landings do not work for nothing.

    landing_loop.py INPUT SEED PAIRING,PAIRING,... TRIALS TRIALS_AT_ONCE
"""

import json
import sys
import time

import numpy as np

from batch import Batch
from inputs import read_input, read_pairing, read_run

# Trials are dropped when this share of them is finished: dropping copies all state.
DROP_SHARE = 1 / 16


def run_batch(run, pairing, random, trials):
    batch = Batch(run, pairing, random, trials)
    parts = []
    landing = 0
    while batch.finished.size > 0:
        batch.land(landing)
        landing += 1
        finished = np.count_nonzero(batch.finished)
        if finished > 0 and (finished >= DROP_SHARE * batch.finished.size or finished == batch.finished.size):
            parts.append(batch.drop_finished())
    return parts


def main(path, seed, numbers, trials, at_once):
    entries = read_input(path)
    run = read_run(entries)
    pairings = [read_pairing(entries, p, run.touchdown_surface.size) for p in numbers]
    random = np.random.Generator(np.random.PCG64(seed))
    start, cpu_start = time.perf_counter(), time.process_time()
    results = []
    for pairing in pairings:
        parts = []
        for begun in range(0, trials, at_once):
            parts += run_batch(run, pairing, random, min(at_once, trials - begun))
        results.append({name: np.concatenate([part[name] for part in parts]) for name in parts[0]})
    cpu_seconds, seconds = time.process_time() - cpu_start, time.perf_counter() - start
    answer = {
        "seconds": seconds,
        "cpuSeconds": cpu_seconds,
        "landings": sum(float(figures["simulatedLandings"].sum()) for figures in results),
        "pairings": [
            {name: [values.mean(), values.std(ddof=1) / np.sqrt(values.size)] for name, values in figures.items()}
            for figures in results
        ],
    }
    print(json.dumps(answer))


if __name__ == "__main__":
    path, seed, numbers, trials, at_once = sys.argv[1:]
    main(path, int(seed), numbers.split(","), int(trials), int(at_once))
