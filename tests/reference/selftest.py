#!/usr/bin/env python3
"""The oracle tested: its plans against rules.py, and turned, thinned and doubled jobs against themselves.

    python3 tests/reference/selftest.py --family all --seeds 0..10
"""

import argparse
import collections
import copy
import dataclasses
import multiprocessing
import random

import families
import jobs
import oracle
import rules
from board_area import Area


SPOILED = collections.Counter()


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


BOARD = "board,length,width,thickness,tone\nB,60,6,4/4,5\n"
FRONT = "front,width,height,thickness,run\n"
BY_HAND = [
    # A blank of 16 x 4 1/4 at the hook end: section 2 to 18, kept 18 1/8 to 58, 39 7/8 x 6; 360 - 239.25 square inches.
    ("", FRONT + "a,15,4,3/4,\n", 120.75 / 144),
    # Nothing kept: 60 x 6.
    ('[allowances]\nkeep_offcut = "none"\n', FRONT + "a,15,4,3/4,\n", 2.5),
    # A run of two: section 2 to 34 1/8; the end, 23 3/4, is just too short, or just long enough.
    ("", FRONT + "a,15,4,3/4,r\nb,15,4,3/4,r\n", 2.5),
    ('[allowances]\nkeep_offcut = "23 3/4"\n', FRONT + "a,15,4,3/4,r\nb,15,4,3/4,r\n", (360 - 23.75 * 6) / 144),
    # Two staves of together 8 + 1/4 + 1/8, one after another, one glue line.
    ('[allowances]\nkeep_offcut = "23 3/4"\n', FRONT + "a,15,8,3/4,\n", (360 - 23.75 * 6) / 144 + 2),
    # Edges: 2 1/2 wide kept beside a strip at the near edge (6 - 1/8 - 3 1/4 - 1/8), 16 long, when that may be kept.
    ('[allowances]\nkeep_offcut = "16"\nkeep_width = "2"\n', FRONT + "a,15,3,3/4,\n", (360 - 39.875 * 6 - 16 * 2.5) / 144),
]


def by_hand():
    for toml, fronts, cost in BY_HAND:
        best = oracle.solve(jobs.read_text({"job.toml": toml, "boards.csv": BOARD, "fronts.csv": fronts}))
        if abs(best["cost"] - cost) > 1e-9:
            yield f"by hand: {best['cost']} instead of {cost}"


def spoiled(job, boards, rng):
    """A plan with one thing moved, and what."""
    boards = copy.deepcopy(boards)
    step = 1 if job.unit == "inch" else 20
    board = rng.choice(boards)
    section = rng.choice(board["sections"])
    strip = rng.choice(section["strips"])
    blank = rng.choice(strip["blanks"])
    what = rng.choice(["end", "strip", "blank", "face", "left", "width", "length"])
    sign = rng.choice([-1, 1]) * step
    if what == "end":
        section[rng.choice(["from", "to"])] += sign
    elif what == "strip":
        for thing in [strip, *strip["blanks"]]:
            thing["low"] += sign / 2
            thing["high"] += sign / 2
    elif what == "blank":
        blank["from"] += sign / 2
        blank["to"] += sign / 2
    elif what == "face":
        blank["face"] = "down" if blank["face"] == "up" else "up"
    elif what == "left":
        blank["left"] = "far" if blank["left"] == "hook" else "hook"
    else:
        blank["high" if what == "width" else "to"] += sign / 2
    return what, boards


def one(task):
    name, seed = task
    SPOILED.clear()
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
    rng = random.Random(f"{name}:{seed}")
    for _ in range(6 if best["boards"] else 0):
        what, boards = spoiled(job, best["boards"], rng)
        try:
            found = rules.Plan(job, boards).check()
        except rules.Broken:
            SPOILED[what, "broken"] += 1
            continue
        SPOILED[what, "stands"] += 1
        if "by" not in words and float(found["cost"]) < best["cost"] - 1e-9:
            said.append(f"a plan with a {what} moved is cheaper: {float(found['cost'])}")
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
    return name, seed, said, SPOILED


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
    for line in by_hand():
        print(line)
    with multiprocessing.Pool(options.processes, maxtasksperchild=50) as pool:
        for name, seed, said, spoilt in pool.imap(one, tasks):
            SPOILED.update(spoilt)
            bad += bool(said)
            for line in said:
                print(name, seed, line, flush=True)
    print(len(tasks), "jobs,", bad, "with faults")
    print("plans spoiled on purpose:", ", ".join(f"{what} moved, {how}: {n}" for (what, how), n in sorted(SPOILED.items())))


if __name__ == "__main__":
    main()
