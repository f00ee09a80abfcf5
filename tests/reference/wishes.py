#!/usr/bin/env python3
"""Prices random wishes about tiny jobs with the program and with the oracle, and tells where they differ.

    python3 tests/reference/wishes.py --binary target/release/grainrow --family sound,pins,tones --seeds 0..50
    python3 tests/reference/wishes.py --binary target/release/grainrow --folder sample-boards/chest --seeds 0..50
    python3 tests/reference/wishes.py --binary target/release/grainrow --generated 20
    python3 tests/reference/wishes.py --store 6

The oracle knows no wishes: it solves the job with the wish written into its tables (or, for neighbours that stay
together, without the stretches that part them), and without. A wish can be met when as much area is made; its price
is the difference in cost. With --folder, wishes about a whole job: the price is to be the difference of two plans
made from scratch where both are proved. --store writes wishes.json for the tests: `job` and `wish`, `price` (null: it can't be met).
"""

import argparse
import csv
import io
import json
import multiprocessing
import os
import pathlib
import random
import shutil
import subprocess
import sys
import tempfile

import families
import generated
import jobs
import oracle

FAMILIES = "sound,pins,tones,wide_knots,counts,scarce,glue_two,slack,one_sided,trims"


class Together(oracle.Stretches):
    """Stretches none of which parts two fronts that are to stay together."""

    pair = ()

    def __init__(self, job):
        super().__init__(job)
        parts = lambda stretch: sum(f.name in self.pair for f in self.fronts(stretch)) == 1
        self.all = [stretch for stretch in self.all if not parts(stretch)]


oracle.Stretches = Together


def read(text):
    lines = [line for line in text.splitlines() if line.strip() and not line.startswith("#")]
    return [{k.strip(): (v or "").strip() for k, v in row.items()} for row in csv.DictReader(io.StringIO("\n".join(lines)))]


def write(rows):
    keys = list(dict.fromkeys(key for row in rows for key in row))
    text = io.StringIO()
    writer = csv.DictWriter(text, keys, lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return text.getvalue()


def draw(texts, name, seed, kinds=("=", "!=", "out", "+", "run")):
    """A random wish about a job: its words, the job's files with it, and the pair it keeps together."""
    rng = random.Random(f"{name}:{seed}:wish")
    boards, fronts = read(texts["boards.csv"]), read(texts["fronts.csv"])
    board, front = rng.choice(boards), rng.choice(fronts)
    kind = rng.choice(kinds)
    with_it = dict(texts)
    if kind == "out":
        board["use"] = "no"
        with_it["boards.csv"] = write(boards)
        return f"{board['board']}=out", with_it, ()
    if kind == "+":
        runs = [run for run in jobs.read_text(texts).runs if len(run) > 1]
        if runs:
            run = rng.choice(runs)
            k = rng.randrange(len(run) - 1)
            return f"{run[k].name}+{run[k + 1].name}", with_it, (run[k].name, run[k + 1].name)
        kind = "="
    named = [front]
    what = front["front"]
    if kind == "run" and front.get("run"):
        what, named = front["run"], [f for f in fronts if f.get("run") == front["run"]]
    column = "not_board" if kind == "!=" else "board"
    for one in named:
        one[column] = board["board"]
    with_it["fronts.csv"] = write(fronts)
    return what + ("!=" if kind == "!=" else "=") + board["board"], with_it, ()


def solve(texts, pair=()):
    Together.pair = pair
    return oracle.solve(jobs.read_text(texts), with_plan=False)


def expected(name, seed):
    wish, with_it, pair = draw(families.job(name, seed), name, seed)
    without, best = solve(families.job(name, seed)), solve(with_it, pair)
    possible = best["cost"] is not None and best["area"] > without["area"] - 1e-9
    return wish, best["cost"] - without["cost"] if possible else None


def compare(task):
    name, seed, binary = task
    wish, price = expected(name, seed)
    folder = tempfile.mkdtemp(prefix=f"wish-{name}-{seed}-")
    jobs.write(folder, families.job(name, seed))
    done = subprocess.run([binary, "wish", folder, wish, "--json", "--time", "10", "--threads", "1"],
                          capture_output=True, text=True, timeout=200)
    shutil.rmtree(folder)
    try:
        told = json.loads(done.stdout)["wishes"][0]
    except (ValueError, KeyError):
        # What the job says already is told instead of priced, and so is what goes against it.
        said = ("nothing new", "can't be together", "expected")
        refused = any(words in done.stderr for words in said) and (price is None or abs(price) < 1e-6 or "together" in done.stderr)
        return name, seed, wish, "" if refused else f"no price: {' '.join(done.stderr.split())[:200]}", refused
    if told["possible"] != (price is not None):
        return name, seed, wish, f"possible {told['possible']}, oracle {price}", False
    if price is not None and (abs(told["cost"] - price) > 1e-6 or not told["proved"]):
        return name, seed, wish, f"costs {told['cost']}, oracle {price}, proved {told['proved']}", False
    return name, seed, wish, "", False


def planned(binary, folder):
    done = subprocess.run([binary, "plan", folder, "--json", "--force", "--quiet", "--time", "60"], capture_output=True, text=True)
    return json.loads(done.stdout)["totals"]


def files_of(folder):
    return {path.name: path.read_text() for path in pathlib.Path(folder).glob("*.*") if path.suffix in (".csv", ".toml")}


def of_a_job(binary, texts, folder, seeds):
    """Wishes about a job of any size, each against two plans made from scratch."""
    bad = unproved = free = impossible = 0
    for seed in seeds:
        wish, with_it, _ = draw(texts, folder, seed, ("=", "!=", "out", "run"))
        totals = []
        for files in (texts, with_it):
            with tempfile.TemporaryDirectory() as at:
                jobs.write(at, {name: text for name, text in files.items() if text})
                totals.append(planned(binary, at))
                if files is texts:
                    done = subprocess.run([binary, "wish", at, wish, "--json", "--time", "60"], capture_output=True, text=True)
        try:
            told = json.loads(done.stdout)["wishes"][0]
        except KeyError:
            free += "nothing new" in done.stderr
            continue
        without, best = totals
        if not (without["proved"] and best["proved"]):
            unproved += 1
        elif told["possible"] != (best["made"] == without["made"]):
            bad += 1
            print(f"{wish}: possible {told['possible']}, {best['made']} of {without['made']} made")
        elif told["possible"] and (told["cost"] < 0 or abs(told["cost"] - best["cost"] + without["cost"]) > 1e-6):
            bad += 1
            print(f"{wish}: costs {told['cost']}, {best['cost'] - without['cost']} from scratch")
        impossible += not told["possible"]
    print(f"{len(seeds)} wishes, {bad} contradictions, {unproved} not proved, {free} so already, {impossible} impossible")
    return bad


def store(each):
    rows = []
    for name in FAMILIES.split(","):
        for seed in range(each):
            wish, price = expected(name, seed)
            rows.append({"job": families.job(name, seed), "wish": wish, "price": price})
    text = ",\n".join(json.dumps(row) for row in rows)
    pathlib.Path(__file__).with_name("wishes.json").write_text(f"[\n{text}\n]\n")


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--binary")
    parser.add_argument("--family", default=FAMILIES)
    parser.add_argument("--seeds", default="0..20", help="A..B, B not included")
    parser.add_argument("--folder", help="wishes about this job, against plans made from scratch")
    parser.add_argument("--generated", type=int, help="three wishes about each of so many generated jobs, the same way")
    parser.add_argument("--store", type=int, help="jobs of each family to write to wishes.json")
    options = parser.parse_args()
    if options.store:
        return store(options.store)
    first, last = map(int, options.seeds.split(".."))
    if options.folder:
        binary = os.path.abspath(options.binary)
        sys.exit(bool(of_a_job(binary, files_of(options.folder), options.folder, range(first, last))))
    if options.generated:
        binary = os.path.abspath(options.binary)
        each = [(generated.texts(n), f"job {n}", range(3 * n, 3 * n + 3)) for n in range(options.generated)]
        sys.exit(any([of_a_job(binary, *job) for job in each]))
    tasks = [(n, s, os.path.abspath(options.binary)) for n in options.family.split(",") for s in range(first, last)]
    bad = refused = 0
    with multiprocessing.Pool(2, maxtasksperchild=50) as pool:
        for name, seed, wish, said, told in pool.imap(compare, tasks):
            refused += told
            if said:
                bad += 1
                print(f"{name} {seed} {wish}: {said}", flush=True)
    print(f"{len(tasks)} wishes, {bad} contradictions, {refused} told to be so already or against the job")
    sys.exit(bool(bad))


if __name__ == "__main__":
    main()
