#!/usr/bin/env python3
"""Whether all items of a published instance can be cut from one board, by a general solver.

    python3 -m venv venv && venv/bin/pip install ortools
    venv/bin/python tests/reference/one_board.py CLASS02_040_01 CLASS06_040_02

The two named fill 99 % of a board, so that their area rules nothing out, and grainrow ends with two boards
and a bound of one. This says that crosscut, rip and crosscut cannot do with one: both are infeasible,
within a minute or two.

The model. So little may be wasted that the strips which may be in such a board are few: they are listed,
each a set of items as wide as its widest. Then so many of each length of section, and of each strip in
sections of that length, are chosen that every item is cut once. What it leaves out, that strips of two
equally long sections must be as wide as the board in each of them, only makes more feasible; so
"INFEASIBLE" is a proof, and "OPTIMAL", that it has found some choice, is none.
"""

import collections
import json
import pathlib
import sys

from ortools.sat.python import cp_model

INSTANCES = pathlib.Path(__file__).parent.parent / "data/bench/two_dimensional.json"


def strips(kinds, board_length, spare):
    """Width, length, waste and content (kind, how often) of every strip that wastes no more than is spare.

    `kinds` are ((length, width), count), the widest first; the waste is that beside narrower items.
    """
    found = []

    def grow(first, width, length, waste, content):
        if content:
            found.append((width, length, waste, tuple(content)))
        for kind in range(first, len(kinds)):
            (long, wide), count = kinds[kind]
            for times in range(1, count + 1):
                longer = length + times * long
                more = waste + times * long * ((width or wide) - wide)
                if longer > board_length or more > spare:
                    break
                grow(kind + 1, width or wide, longer, more, content + [(kind, times)])

    grow(0, 0, 0, 0, [])
    return found


def one_board(instance):
    """What the solver says of cutting all items of the instance from one board."""
    board_length, board_width = instance["board"]
    items = [tuple(item) for item in instance["items"]]
    board = board_length * board_width
    spare = board - sum(long * wide for long, wide in items)
    kinds = sorted(collections.Counter(items).items(), key=lambda k: (-k[0][1], -k[0][0]))
    listed = strips(kinds, board_length, spare)
    # A section is as long as its longest strip.
    lengths = sorted({length for _, length, _, _ in listed})

    model = cp_model.CpModel()
    sections = {s: model.new_int_var(0, board_length // s, f"sections {s}") for s in lengths}
    cut = [[] for _ in kinds]
    wide = collections.defaultdict(list)
    for width, length, waste, content in listed:
        most = min(kinds[kind][1] // times for kind, times in content)
        for section in lengths:
            if section < length or waste + (section - length) * width > spare:
                continue
            chosen = model.new_int_var(0, most, "strip")
            wide[section].append(width * chosen)
            for kind, times in content:
                cut[kind].append(times * chosen)
    for (_, count), times in zip(kinds, cut):
        model.add(sum(times) == count)
    for section, count in sections.items():
        ripped = sum(wide[section])
        model.add(ripped <= board_width * count)
        model.add(section * ripped >= section * board_width * count - spare)
    used = sum(section * count for section, count in sections.items())
    model.add(used <= board_length)
    model.add(used * board_width >= board - spare)

    solver = cp_model.CpSolver()
    return solver.status_name(solver.solve(model)), solver.wall_time


def main():
    instances = {instance["name"]: instance for instance in json.loads(INSTANCES.read_text())}
    for name in sys.argv[1:]:
        status, seconds = one_board(instances[name])
        print(f"{name}: all from one board: {status} ({seconds:.0f} s)")


if __name__ == "__main__":
    main()
