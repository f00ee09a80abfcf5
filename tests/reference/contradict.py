#!/usr/bin/env python3
"""Plans random tiny jobs with the program and with the oracle, and tells where they differ.

    python3 tests/reference/contradict.py --binary target/release/grainrow --family sound --seeds 0..100
    python3 tests/reference/contradict.py --binary target/release/grainrow --family all --seeds 0..20

For every job in which the program makes less or more area, names a cost that differs by more than 1e-6,
or does not prove it, a line is printed and the job's folder kept under --keep.
"""

import argparse
import json
import multiprocessing
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile
import time

import families
import jobs
import oracle

TOLERANCE = 1e-6


def program(binary, folder, seconds, options=()):
    out = pathlib.Path(folder) / "out"
    command = [binary, "plan", str(folder), "--json", "--out", str(out), "--time", str(seconds), "--threads", "1", *options]
    done = subprocess.run(command, capture_output=True, text=True, timeout=seconds * 3 + 30)
    shutil.rmtree(out, ignore_errors=True)
    try:
        return json.loads(done.stdout), done
    except ValueError:
        return None, done


def area_made(job, plan):
    """Finished area of the fronts that stand in the plan, in the job's unit."""
    made = {blank["front"] for board in plan["boards"] for section in board["sections"]
            for strip in section["strips"] for blank in strip["blanks"]}
    unit = jobs.INCH if job.unit == "inch" else jobs.MM
    return sum(f.along * f.across for f in job.fronts() if f.name in made) / unit ** 2


def compare(task):
    name, seed, binary, keep, seconds = task
    began = time.time()
    texts = families.job(name, seed)
    job = jobs.read_text(texts)
    words = families.options(name, seed)
    best = oracle.solve(job, **oracle.options(words))
    took = time.time() - began
    folder = pathlib.Path(tempfile.mkdtemp(prefix=f"{name}-{seed}-"))
    jobs.write(folder, texts)
    plan, done = program(binary, folder, seconds, words)
    said = judge(job, best, plan, done)
    if said and keep:
        kept = pathlib.Path(keep) / f"{name}-{seed}"
        shutil.rmtree(kept, ignore_errors=True)
        jobs.write(kept, texts)
        (kept / "oracle.json").write_text(json.dumps(best, indent=1))
        (kept / "program.json").write_text(done.stdout or done.stderr)
    shutil.rmtree(folder)
    return name, seed, said, best["rich"], took


def judge(job, best, plan, done):
    if plan is None or "totals" not in plan:
        if best["cost"] is None and "limits" in done.stdout + done.stderr:
            return ""
        if best["made"] == 0 and done.returncode == 3:
            return ""
        why = " ".join((done.stderr or done.stdout).split())
        return f"no plan (exit {done.returncode}): {why[:110]}"
    totals = plan["totals"]
    said = []
    area = area_made(job, plan)
    if best["cost"] is None:
        return "a plan where none keeps the limits"
    if abs(area - best["area"]) > 1e-6:
        said.append(f"makes {area:g}, oracle {best['area']:g}")
    elif abs(totals["cost"] - best["cost"]) > TOLERANCE:
        more = totals["cost"] - best["cost"]
        word = "dearer" if more > 0 else "CHEAPER THAN THE ORACLE"
        said.append(f"cost {totals['cost']:.6f}, oracle {best['cost']:.6f}, {word} by {abs(more):.6f}")
    if not totals["proved"]:
        said.append(f"not proved, gap {totals['gap']:g}")
    return "; ".join(said)


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--binary", required=True)
    parser.add_argument("--family", default="all", help="families with commas between; all; cases: those written by hand")
    parser.add_argument("--seeds", default="0..20", help="A..B, B not included")
    parser.add_argument("--processes", type=int, default=2, choices=(1, 2))
    parser.add_argument("--time", type=int, default=20, help="seconds the program may take")
    parser.add_argument("--keep", default="/tmp/contradictions")
    options = parser.parse_args()
    binary = os.path.abspath(options.binary)
    first, last = map(int, options.seeds.split(".."))
    groups = {"all": list(families.FAMILIES), "cases": list(families.CASES)}
    names = [name for word in options.family.split(",") for name in groups.get(word, [word])]
    tasks = [(n, s, binary, options.keep, options.time) for n in names
             for s in (range(first, last) if n in families.FAMILIES else [0])]
    counts = {}
    with multiprocessing.Pool(options.processes, maxtasksperchild=50) as pool:
        for name, seed, said, rich, took in pool.imap(compare, tasks):
            count = counts.setdefault(name, [0, 0, 0, 0.0])
            count[0] += 1
            count[1] += bool(said)
            count[2] += rich
            count[3] += took
            if said:
                print(f"{name} {seed}: {said}", flush=True)
    for name, (jobs_done, bad, rich, took) in counts.items():
        print(f"{name}: {jobs_done} jobs, {bad} contradictions, {rich} with several sections or strips on a board, "
              f"oracle {took / jobs_done:.2f} s a job")
    total = [sum(c[k] for c in counts.values()) for k in range(3)]
    print(f"all: {total[0]} jobs, {total[1]} contradictions, {total[2]} with several sections or strips on a board")
    sys.exit(1 if total[1] else 0)


if __name__ == "__main__":
    main()
