#!/usr/bin/env python3
"""How few boards the larger items of a published instance can be cut from, by a general solver.

    python3 -m venv venv && venv/bin/pip install ortools
    venv/bin/python tests/reference/larger_items.py

No cutting of all items uses fewer boards than one of some of them. For each instance named below and so
many of its largest items, this lists every set of them that crosscut, rip and crosscut can take from one
board, and asks whether so many of those sets as stand beside hold all of them. grainrow ends with one
board more; "INFEASIBLE" says that nothing does with less, as it does for all five, within four minutes.

The sets. A strip holds items whose lengths add up to no more than the board's; a section strips whose
widths do; a board sections whose lengths do. Only sets that no other holds are kept. At prices for the
items at which no set is worth more than a board (from the linear program over all sets), each set of a
choice of so many boards falls short of a board by no more than the boards less all prices: only those
few are left to choose from.
"""

import json
import pathlib
import sys

from ortools.linear_solver import pywraplp

INSTANCES = pathlib.Path(__file__).parent.parent / "data/bench/two_dimensional.json"

# Instance, how many of its largest items, and boards that are not enough for them.
ASKED = [
    ("CLASS03_040_01", 28, 6),
    ("CLASS03_040_02", 29, 8),
    ("CLASS10_040_02", 21, 7),
    ("CLASS10_060_01", 39, 11),
    ("CLASS10_060_02", 41, 12),
]


def lowest(items):
    """The place of the lowest bit set."""
    return (items & -items).bit_length() - 1


def strips(board, items):
    """Every set of items one strip can hold, by its lowest item: the set, its length and width."""
    found = [[] for _ in items]

    def grow(first, held, long, wide):
        if held:
            found[lowest(held)].append((held, long, wide))
        for item in range(first, len(items)):
            longer = long + items[item][0]
            if longer <= board[0]:
                grow(item + 1, held | 1 << item, longer, max(wide, items[item][1]))

    grow(0, 0, 0, 0)
    return found


def sections(board, items):
    """How short a section can be that holds just a set, for every set one can hold."""
    of = strips(board, items)
    shortest = {}

    def rip(first, held, long, wide):
        for item in range(first, len(items)):
            if held >> item & 1:
                continue
            for strip, length, width in of[item]:
                if strip & held or wide + width > board[1]:
                    continue
                both, longer = held | strip, max(long, length)
                shortest[both] = min(longer, shortest.get(both, longer))
                rip(item + 1, both, longer, wide + width)

    rip(0, 0, 0, 0)
    return shortest


def boards(board, items):
    """Every set of items one board can hold and that is part of no other."""
    of = [[] for _ in items]
    for held, long in sections(board, items).items():
        of[lowest(held)].append((held, long))
    for those in of:
        those.sort(key=lambda section: section[1])
    found = set()

    def crosscut(first, held, long):
        for item in range(first, len(items)):
            if held >> item & 1:
                continue
            for section, length in of[item]:
                if long + length > board[0]:
                    break
                if not section & held:
                    found.add(held | section)
                    crosscut(item + 1, held | section, long + length)

    crosscut(0, 0, 0)
    bits = [1 << item for item in range(len(items))]
    return [held for held in found if not any(held | bit in found for bit in bits if not held & bit)]


def prices(found, count):
    """Prices of the items at which no set is worth more than one."""
    program = pywraplp.Solver.CreateSolver("GLOP")
    price = [program.NumVar(0, 1, "") for _ in range(count)]
    for held in found:
        row = program.Constraint(-program.infinity(), 1)
        for item in range(count):
            if held >> item & 1:
                row.SetCoefficient(price[item], 1)
    program.Maximize(sum(price))
    assert program.Solve() == pywraplp.Solver.OPTIMAL
    paid = [max(0.0, p.solution_value()) for p in price]
    dearest = max(worth(paid, held) for held in found)
    return [p / max(1.0, dearest) for p in paid]


def worth(paid, held):
    return sum(p for item, p in enumerate(paid) if held >> item & 1)


def enough(instance, count, most):
    """What the solver says of cutting so many of the largest items from so many boards."""
    items = sorted((tuple(item) for item in instance["items"]), key=lambda i: -i[0] * i[1])[:count]
    found = boards(instance["board"], items)
    paid = prices(found, count)
    room = most - sum(paid) + 1e-6
    near = [held for held in found if 1 - worth(paid, held) <= room]
    program = pywraplp.Solver.CreateSolver("SCIP")
    chosen = [program.BoolVar("") for _ in near]
    for item in range(count):
        program.Add(sum(cut for cut, held in zip(chosen, near) if held >> item & 1) >= 1)
    program.Add(sum(chosen) <= most)
    said = {program.INFEASIBLE: "INFEASIBLE", program.OPTIMAL: "enough"}.get(program.Solve(), "unknown")
    return f"{said} ({len(found)} sets, {len(near)} near, relaxation {sum(paid):.3f})"


def main():
    known = {instance["name"]: instance for instance in json.loads(INSTANCES.read_text())}
    for name, count, most in ASKED:
        if sys.argv[1:] and name not in sys.argv[1:]:
            continue
        print(f"{name}: {count} largest items from {most} boards: {enough(known[name], count, most)}", flush=True)


if __name__ == "__main__":
    main()
