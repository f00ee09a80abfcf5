#!/usr/bin/env python3
"""Invented jobs of any size, equal for equal seeds: runs of fronts of one height, a pile of boards, some with a knot.

    python3 tests/reference/generated.py --runs 15 --fronts 4 --boards 40 --seed 1 FOLDER

Writes a job folder; `wishes.py --generated 20` makes wishes about such jobs.
"""

import argparse
import random

import jobs


def texts(seed, runs=(3, 5), fronts=(3, 4), boards=(8, 12)):
    """The files of a job, from the fewest to the most runs, fronts a run and boards."""
    draw = random.Random(5000 + seed)
    rows = ["front,width,height,thickness,run"]
    for run in range(1, draw.randint(*runs) + 1):
        height = draw.choice([4, 5, 6, 7, 8])
        for place in range(1, draw.randint(*fronts) + 1):
            rows.append(f"r{run}-{place},{draw.randint(10, 15)},{height},3/4,row {run}")
    pile = ["board,length,width,thickness,tone"]
    for board in range(1, draw.randint(*boards) + 1):
        pile.append(f"B{board},{draw.randint(60, 120)},{draw.randint(7, 11)},5/4,{draw.randint(1, 9)}")
    knots = ["board,kind,from,to,low,high,side"]
    for board in range(1, 7):
        along, across = draw.randint(5, 50), draw.randint(1, 5)
        knots.append(f"B{board},knot,{along},{along + draw.randint(1, 3)},{across},{across + 1},both")
    files = {"fronts.csv": rows, "boards.csv": pile, "defects.csv": knots, "job.toml": ['title = "Generated"', 'units = "inch"']}
    return {name: "\n".join(lines) + "\n" for name, lines in files.items()}


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("folder")
    parser.add_argument("--seed", type=int, default=0)
    for what, usual in (("runs", 4), ("fronts", 4), ("boards", 10)):
        parser.add_argument(f"--{what}", type=int, default=usual)
    asked = parser.parse_args()
    exact = {what: (count, count) for what, count in (("runs", asked.runs), ("fronts", asked.fronts), ("boards", asked.boards))}
    jobs.write(asked.folder, texts(asked.seed, **exact))


if __name__ == "__main__":
    main()
