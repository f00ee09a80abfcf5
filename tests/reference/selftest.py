#!/usr/bin/env python3
"""The oracle tested: its plans against rules.py, and turned, thinned and doubled jobs against themselves.

    python3 tests/reference/selftest.py --family all --seeds 0..10
"""

import argparse
import dataclasses
import multiprocessing

import families
import jobs
import oracle
import rules
from board_area import Area


def turned_end(job):
    def board(b):
        return dataclasses.replace(b, trim_hook=b.trim_far, trim_far=b.trim_hook, defects=tuple(
            dataclasses.replace(d, start=b.length - d.to, to=b.length - d.start) for d in b.defects))
    return dataclasses.replace(job, boards=[board(b) for b in job.boards])


def turned_side(job):
    def board(b):
        return dataclasses.replace(b, defects=tuple(
            dataclasses.replace(d, low=b.width - d.high, high=b.width - d.low) for d in b.defects))
    return dataclasses.replace(job, boards=[board(b) for b in job.boards])


def turned_over(job):
    over = {"up": "down", "down": "up", "both": "both"}

    def board(b):
        return dataclasses.replace(b, defects=tuple(dataclasses.replace(d, side=over[d.side]) for d in b.defects))
    return dataclasses.replace(job, boards=[board(b) for b in job.boards])


def one(task):
    name, seed = task
    job = families.read(name, seed)
    words = oracle.options(families.options(name, seed))
    best = oracle.solve(job, **words)
    said = []
    try:
        found = rules.Plan(job, best["boards"]).check() if best["boards"] else {}
        if words.get("by") == "money":
            found.pop("cost", None)
        for key, value in found.items():
            if abs(float(value) - best[key]) > 1e-9:
                said.append(f"{key}: {float(value)} by the rules, {best[key]} by the oracle")
    except rules.Broken as broken:
        said.append(f"breaks a rule: {broken}")
    used = {(b["board"], b["copy"]) for b in best["boards"]}
    others = {"turned end for end": turned_end(job), "turned side for side": turned_side(job), "turned over": turned_over(job),
              "without the boards it does not use":
                  dataclasses.replace(job, boards=[b for b in job.boards if (b.name, b.copy) in used])}
    if words.get("by") == "money" or best["cost"] is None:
        # The mean price is that of all on offer.
        others.popitem()
    if name not in ("eighths", "glue_crook"):
        Area.finer = 2
        again = oracle.solve(job, with_plan=False, **words)
        Area.finer = 1
        if (again["area"], again["cost"]) != (best["area"], best["cost"]):
            said.append(f"on a grid twice as fine: {again['cost']} instead of {best['cost']}")
    for what, other in others.items():
        again = oracle.solve(other, with_plan=False, **words)
        if (again["area"], again["cost"]) != (best["area"], best["cost"]):
            said.append(f"{what}: {again['cost']} instead of {best['cost']}")
    return name, seed, said


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--family", default="all")
    parser.add_argument("--seeds", default="0..10")
    parser.add_argument("--processes", type=int, default=1)
    options = parser.parse_args()
    first, last = map(int, options.seeds.split(".."))
    names = list(families.FAMILIES) if options.family == "all" else options.family.split(",")
    tasks = [(n, s) for n in names for s in (range(first, last) if n in families.FAMILIES else [0])]
    bad = 0
    with multiprocessing.Pool(options.processes, maxtasksperchild=50) as pool:
        for name, seed, said in pool.imap(one, tasks):
            bad += bool(said)
            for line in said:
                print(name, seed, line, flush=True)
    print(len(tasks), "jobs,", bad, "with faults")


if __name__ == "__main__":
    main()
