#!/usr/bin/env python3
"""Writes oracle.json: jobs of every family with the oracle's optimum, for the tests.

    python3 tests/reference/store.py --each 105 --test 20

The file holds whole jobs: nothing but it is needed to plan them again.
  lines   every line of any of the jobs' files, each once
  jobs    name    family and seed (or the name of a case written by hand)
          files   the lines, by number, of job.toml, boards.csv, fronts.csv and defects.csv (none: no such file);
                  a file is its lines, each ended by a newline
          words   what to say to `plan` beside the job's folder
          made    how many fronts are in one best plan
          area    the greatest finished area, in the job's unit squared
          cost    the least cost among plans that make it; null: no such plan keeps the limits
          several whether that plan has several sections on a board or several strips in a section
          test    whether `cargo test` plans it
"""

import argparse
import itertools
import json
import multiprocessing
import pathlib
import signal

import families
import jobs
import oracle


# Jobs the program once contradicted; `cargo test` plans them all.
REFUTED = [("glue_scarce", 7123), ("glue_crook", 7127), ("limits", 7113), ("limits", 7132), ("trims", 106), ("glue_three", 9032)]


def one(task):
    name, seed = task
    texts = families.job(name, seed)
    words = families.options(name, seed)
    # A job that takes longer is no tiny one. Processor time, so that a busy machine drops none.
    signal.setitimer(signal.ITIMER_PROF, 20)
    try:
        best = oracle.solve(jobs.read_text(texts), **oracle.options(words))
    except TimeoutError:
        return None
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
    label = name if name in families.CASES else f"{name}:{seed}"
    return {"name": label, "texts": texts, "words": list(words), "made": best["made"], "area": best["area"],
            "cost": best["cost"], "several": best["rich"]}


def late(*_):
    raise TimeoutError


def begin():
    signal.signal(signal.SIGPROF, late)


def number_lines(found):
    lines = {}
    for job in found:
        texts = job.pop("texts")
        job["files"] = [[lines.setdefault(line, len(lines)) for line in texts[name].splitlines()] for name in jobs.FILES]
    return list(lines)


def mark(found, test):
    """The tests' share: of each family first those with several sections or strips, up to three quarters."""
    by_family = {}
    for job in found:
        by_family.setdefault(job["name"].split(":")[0], []).append(job)
    for members in by_family.values():
        several = [job for job in members if job["several"]][: test * 3 // 4]
        rest = [job for job in members if job not in several]
        chosen = several + rest[: test - len(several)]
        for job in members:
            refuted = tuple(job["name"].split(":")) in [(name, str(seed)) for name, seed in REFUTED]
            job["test"] = refuted or any(job is one for one in chosen)


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--each", type=int, default=105, help="jobs of a family")
    parser.add_argument("--test", type=int, default=20, help="of them for `cargo test`")
    parser.add_argument("--processes", type=int, default=2)
    parser.add_argument("--out", default=str(pathlib.Path(__file__).with_name("oracle.json")))
    options = parser.parse_args()
    found = []
    with multiprocessing.Pool(options.processes, begin, maxtasksperchild=40) as pool:
        for name in [*families.CASES, *families.FAMILIES]:
            seeds = iter([0] if name in families.CASES else range(options.each * 3))
            kept = 0
            while kept < options.each and (batch := [(name, seed) for seed in itertools.islice(seeds, min(24, options.each - kept))]):
                for job in pool.imap(one, batch, chunksize=2):
                    # Where nothing can be made there is little to find.
                    if job is not None and (job["made"] or job["cost"] is None):
                        found.append(job)
                        kept += 1
            for task in [task for task in REFUTED if task[0] == name]:
                found.append(one(task))
            print(name, kept, sum(job["several"] for job in found[len(found) - kept:]), flush=True)
    mark(found, options.test)
    lines = number_lines(found)
    order = ("name", "files", "words", "made", "area", "cost", "several", "test")
    rows = [json.dumps({key: job[key] for key in order}, separators=(",", ":")) for job in found]
    about = "written by store.py, which says what stands here; jobs invented; costs in board feet (litres, money)"
    text = ('{"about":%s,\n"lines":[\n%s\n],\n"jobs":[\n%s\n]}\n' % (
        json.dumps(about), ",\n".join(json.dumps(line) for line in lines), ",\n".join(rows)))
    pathlib.Path(options.out).write_text(text)
    print(len(found), "jobs,", sum(job["several"] for job in found), "with several sections or strips,",
          sum(job["test"] for job in found), "for the tests,", len(text), "bytes")


if __name__ == "__main__":
    main()
