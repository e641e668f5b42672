"""Times binleaf and PHREEQC on the same solutions, in one run.

    python3 -m venv venv
    venv/bin/pip install phreeqc==1.1.1
    venv/bin/python compare_speciation.py

The cases are the rows of open.csv with a pH to reach. Timed of each: the equilibrium of the mix (the
water already worked by both), and the dose of acid or base that reaches the pH. PHREEQC runs through
its Python binding, which reads the case as text each time; what it takes to read and run an empty
input is timed too, and the ratio is also printed without it. binleaf's times come from `cargo bench`.
Answers are compared first: exit code 1 if a pH is off by more than 0.03, or a dose by more than 2 %
and 0.01 mmol/L, which is what tests/chemistry.rs asks for.
"""

import csv
import subprocess
import sys
from pathlib import Path
from statistics import mean, median
from time import perf_counter

from phreeqc import Phreeqc
from remake import DATABASE, inputs, run

HERE = Path(__file__).parent
ROUNDS = 20
BENCH = ["cargo", "bench", "--quiet", "--bench", "speed", "--", "targets"]


def timed(phreeqc, *lines):
    """What PHREEQC answers, and the microseconds of one run, the mean of several."""
    answer = run(phreeqc, *lines)
    text = "\n".join([*lines, "END"])
    begin = perf_counter()
    for _ in range(ROUNDS):
        phreeqc.RunString(text)
    return answer, (perf_counter() - begin) / ROUNDS * 1e6


def theirs(phreeqc, row):
    source, salts, reagent, air = inputs(row)
    run(phreeqc, *source)
    mix = ["USE solution 1\nREACTION", *salts, "1 mmol", air]
    run(phreeqc, *mix, "SAVE solution 2")
    before, equilibrium = timed(phreeqc, *mix)
    store = f"Given_pH -{row['target_pH']} {reagent} 10"
    reached, dose = timed(phreeqc, "USE solution 2", air or "EQUILIBRIUM_PHASES", store)
    return before["pH"], equilibrium, (10 - reached["left"]) * 1000, dose


def main():
    bench = subprocess.run(BENCH, cwd=HERE.parents[1], check=True, capture_output=True, text=True)
    ours = {row["case_id"]: row for row in csv.DictReader(bench.stdout.splitlines())}
    with open(HERE / "open.csv", newline="") as file:
        rows = [row for row in csv.DictReader(file) if row["case_id"] in ours]

    phreeqc = Phreeqc()
    if phreeqc.LoadBuiltInDatabase("Amm.dat") or phreeqc.RunString(DATABASE):
        sys.exit(phreeqc.GetErrorString())
    _, empty = timed(phreeqc, "SOLUTION 1")
    failed, times = [], {"equilibrium": [], "dose": []}
    for row in rows:
        our = {key: float(value) for key, value in ours[row["case_id"]].items() if key != "case_id"}
        ph, equilibrium, dose, dosing = theirs(phreeqc, row)
        if abs(our["pH_before"] - ph) > 0.03:
            failed.append(f"{row['case_id']}: pH {our['pH_before']:.3f}, PHREEQC {ph:.3f}")
        if abs(our["dose_mmolL"] - dose) > max(0.02 * dose, 0.01):
            failed.append(f"{row['case_id']}: {our['dose_mmolL']:.4f} mmol/L, PHREEQC {dose:.4f}")
        times["equilibrium"].append((our["equilibrium_us"], equilibrium))
        times["dose"].append((our["dose_us"], dosing))

    print(f"{len(rows)} cases; pure water through the binding: {empty:.0f} µs")
    for name, pairs in times.items():
        ratios = [their / our for our, their in pairs]
        lean = [(their - empty) / our for our, their in pairs]
        our, their = (mean(column) for column in zip(*pairs, strict=True))
        print(
            f"{name:12} binleaf {our:6.1f} µs, PHREEQC {their:6.0f} µs: "
            f"{their / our:.1f} times as long (a case: median {median(ratios):.1f}, "
            f"least {min(ratios):.1f}); less the pure water, {mean(lean):.1f}"
        )
    print(*(f"apart: {line}" for line in failed), sep="\n")
    sys.exit(1 if failed or not rows else 0)


if __name__ == "__main__":
    main()
