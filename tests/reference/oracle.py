#!/usr/bin/env python3
"""The least cost of a tiny job, exactly, from the rules of cutting alone.

    pip install numpy
    python3 tests/reference/oracle.py JOB            # JSON: area made, cost, one best plan

It shares no code and no idea with the optimiser. board_area.py finds the greatest kept area of each
board for each set of stretches by trying every place of the data's own grid; here an exact program
over boards, breaks, tones, logs and cuts follows, state by state.

What the rules leave open, as it is decided here
------------------------------------------------
 A  Rule 5, groups. A stretch may be split in any way into consecutive groups that are each at least
    `shortest_safe` long, each measured over its gaps; a blank that is long enough may be in the group of
    a short neighbour. It is thick enough when some split serves every front. ("Each as short as can be":
    shorter groups only lose less.)
 B  Rule 5, length set aside. The piece of `shortest_safe` around a short stretch lies within its section,
    is crosscut as a piece of its own (no other blank or such piece in it, a kerf to the next), and may
    hold defects.
 C  Rule 5 and 10 (b). A gap is wider than needed only where rule 5 asks for it: a blank pushed towards
    its neighbour stops where the rest of its stretch can still be placed and milled.
 D  Rule 10 (a), tight. Neither end can move in with the other held, the blanks free to move along within
    their strips in the same order, faces and places across.
 E  Rule 10 (a), "grown over slack" means over all the slack at an end. A section grown to just
    `keep_offcut` has not "grown over slack": its length is fixed, so it needs no anchor of its own; its
    ends may touch a neighbour's and pass an anchor on. But it has grown into the slack beside it, and no
    other section grows into that.
 F  Rule 10 (a), "no slack between a blank and an end": the blank lies as far from that end as it would,
    pushed to it, if there were no defects (kerfs, `between`, lengths set aside and gaps of rule 5 are not
    slack). It "stands just clear" on either of its two ends.
 G  Rule 10 (a), an end that has not grown. A section grown at one end has one such end, one that has not
    grown has two: either will do. "Such an end of a section that is itself anchored" is any of its ends
    that has not grown over slack and lies a kerf away; anchors pass along such a chain from one section
    that has one of its own.
 H  Rule 8. A run of whose fronts some are not made: m stretches of it have m - 1 breaks, and fronts that
    are not neighbours in the job are not neighbours.
 I  Half a nanometre. `c` is rounded up to a nanometre and c/2 is not rounded.
"""

import argparse
import collections
import json
import sys
from fractions import Fraction

import jobs
from board_area import Area, Piece, forget
from board_plan import plan


class Stretches:
    """All stretches of a job and what geometry knows of them."""

    def __init__(self, job):
        self.job = job
        self.first, at = [], 0
        for run in job.runs:
            self.first.append(at)
            at += len(run)
        self.count = at
        self.all = []
        for r, run in enumerate(job.runs):
            for a in range(len(run)):
                for b in range(a, len(run)):
                    if self.joins(run, a, b):
                        self.all.append((r, a, b))

    def joins(self, run, a, b):
        job = self.job
        most = job.allow["longest_skip"] - job.allow["rough_length"]
        return run[a].alike or all(self.least(run[k]) <= most for k in range(a, b))

    def least(self, front):
        gap = self.job.allow["crosscut_kerf"]
        if self.job.between == "as_built":
            gap = max(gap, front.space_after - self.job.allow["rough_length"])
        return gap

    def fronts(self, stretch):
        r, a, b = stretch
        return self.job.runs[r][a:b + 1]

    def mask(self, stretch):
        r, a, b = stretch
        return ((1 << (b - a + 1)) - 1) << (self.first[r] + a)

    def wide(self, stretch):
        return max(f.across for f in self.fronts(stretch)) + self.job.allow["rough_width"]

    def piece(self, stretch, width=None):
        fronts, allow = self.fronts(stretch), self.job.allow
        most = None if fronts[0].alike else allow["longest_skip"] - allow["rough_length"]
        if len(fronts) == 1:
            most = 0
        return Piece(
            tuple(f.along + allow["rough_length"] for f in fronts),
            tuple(self.least(f) for f in fronts[:-1]), most,
            self.wide(stretch) if width is None else width,
            tuple(f.thickness + 2 * allow["plane"] for f in fronts))

    def from_board(self, stretch, board):
        return board.use and all(
            (not f.boards or board.name in f.boards) and board.name not in f.not_boards for f in self.fronts(stretch))


def wood(job, board, area):
    """What an area (half nanometres squared) of a board is in board feet, or litres."""
    if job.unit == "mm":
        return Fraction(area * board.thickness, jobs.MM ** 3 * 10 ** 6)
    return Fraction(area * max(board.thickness, jobs.INCH), jobs.INCH ** 3 * 144)


class BoardSets:
    """A board, and the least it costs to cut each set of stretches from it."""

    def __init__(self, job, stretches, board):
        self.job, self.board = job, board
        mine = [s for s in stretches.all if stretches.from_board(s, board)]
        mine = [s for s in mine if job.widest is None or stretches.wide(s) <= job.widest]
        self.pieces = {s: stretches.piece(s) for s in mine}
        self.area = Area(job, board, list(self.pieces.values()))
        self.feet = {}
        self.extend((), 0, mine, stretches)

    def key(self, chosen):
        return tuple(sorted((self.pieces[s] for s in chosen), key=repr))

    def extend(self, chosen, used, rest, stretches):
        for number, stretch in enumerate(rest):
            mask = stretches.mask(stretch)
            if mask & used:
                continue
            more = chosen + (stretch,)
            key = self.key(more)
            if not self.room(key):
                continue
            kept = self.area.kept(key)
            if kept is None:
                continue
            self.feet[more] = self.used(kept)
            self.extend(more, used | mask, rest[number + 1:], stretches)

    def room(self, key):
        board = self.board
        usable = (board.length - board.trim_hook - board.trim_far) * (board.width - 2 * self.job.allow["edge_trim"])
        return sum(sum(p.lens) * p.width for p in key) <= usable

    def used(self, kept):
        board = self.board
        return wood(self.job, board, board.length * board.width - kept * self.area.g)


def spread(pair):
    return pair[1] - pair[0] if pair else Fraction(0)


def widen(pair, tone):
    return (min(pair[0], tone), max(pair[1], tone)) if pair else (tone, tone)


def sum_over(job, stretches, sets):
    """All that boards can be chosen to: state -> (least feet, the choice that gives it).

    A state is all that the cost but for feet depends on: the fronts made, the number of stretches, and
    for each run the tones, logs and cuts of its boards, and the tones of all.
    """
    runs = len(job.runs)
    states = {(0, 0, (None,) * runs, None, (frozenset(),) * runs, (frozenset(),) * runs): (Fraction(0), ())}
    for number, (board, of) in enumerate(sets):
        grown = dict(states)
        for state, (feet, choice) in states.items():
            for chosen, cost in of.feet.items():
                made = 0
                for s in chosen:
                    made |= stretches.mask(s)
                if made & state[0]:
                    continue
                after = add(state, board, made, chosen)
                total = feet + cost
                if after not in grown or total < grown[after][0]:
                    grown[after] = (total, choice + ((number, chosen),))
        states = grown
    return states


def add(state, board, made, chosen):
    done, count, tones, case, logs, cuts = state
    tones, logs, cuts = list(tones), list(logs), list(cuts)
    for r in {s[0] for s in chosen}:
        tones[r] = widen(tones[r], board.tone)
        logs[r] = logs[r] | ({board.log} if board.log else set())
        cuts[r] = cuts[r] | ({board.cut} if board.cut else set())
    return (done | made, count + len(chosen), tuple(tones), widen(case, board.tone), tuple(logs), tuple(cuts))


def figures(job, state, feet):
    """The terms of the cost."""
    _, count, tones, case, logs, cuts = state
    worth = job.worth
    found = {
        "feet_used": feet,
        "breaks": count - sum(pair is not None for pair in tones),
        "tone_run": sum((spread(pair) for pair in tones), Fraction(0)),
        "tone_case": spread(case),
        "mixed_logs": sum(max(0, len(names) - 1) for names in logs),
        "mixed_cuts": sum(max(0, len(names) - 1) for names in cuts),
    }
    found["cost"] = (feet + worth["unbroken"] * found["breaks"] + worth["tone_run"] * found["tone_run"]
                     + worth["tone_case"] * found["tone_case"] + worth["mixed_log"] * found["mixed_logs"]
                     + worth["mixed_cut"] * found["mixed_cuts"])
    return found


def finished(job, stretches, mask):
    fronts = job.fronts()
    return sum(f.along * f.across for k, f in enumerate(fronts) if mask >> k & 1)


def solve(job, with_plan=True):
    """The greatest finished area, the least cost among plans that make it, and one such plan."""
    forget()
    stretches = Stretches(job)
    kinds, sets = {}, []
    for board in job.boards:
        if board.kind() not in kinds:
            kinds[board.kind()] = BoardSets(job, stretches, board)
        sets.append((board, kinds[board.kind()]))
    best = None
    for state, (feet, choice) in sum_over(job, stretches, sets).items():
        area, found = finished(job, stretches, state[0]), figures(job, state, feet)
        if best is None or (-area, found["cost"]) < best[0]:
            best = ((-area, found["cost"]), state, found, choice)
    (area, cost), state, found, choice = best
    unit = jobs.INCH if job.unit == "inch" else jobs.MM
    answer = {
        "fronts": stretches.count, "made": bin(state[0]).count("1"),
        "area": float(Fraction(-area, unit * unit)),
        **{key: float(value) for key, value in found.items()},
    }
    if with_plan:
        answer["boards"] = [write_board(job, stretches, *sets[number], chosen, unit) for number, chosen in choice]
        answer["sections"] = sum(len(b["sections"]) for b in answer["boards"])
        answer["rich"] = any(len(b["sections"]) > 1 or any(len(s["strips"]) > 1 for s in b["sections"])
                             for b in answer["boards"])
    return answer


def write_board(job, stretches, board, sets, chosen, unit):
    """A board of the plan as plan.json has it (without `kept`)."""
    say = lambda value: round(float(Fraction(value, unit)), 9)
    waiting = collections.defaultdict(list)
    for s in sorted(chosen):
        waiting[sets.pieces[s]].append(s)
    sections = []
    for start, to, shape, strips in plan(sets.area, sets.key(chosen)):
        written = []
        for low, high, pieces in strips:
            blanks = []
            for piece, face, turned, y, spans in pieces:
                stretch = waiting[piece].pop()
                fronts = stretches.fronts(stretch)
                for front, (a, b) in zip(fronts[::-1] if turned else fronts, spans):
                    blanks.append({"front": front.name, "stretch": list(stretch), "from": say(a), "to": say(b), "low": say(y),
                                   "high": say(y + piece.width), "left": "far" if turned else "hook", "face": face})
            written.append({"low": say(low), "high": say(high), "blanks": blanks})
        sections.append({"from": say(start), "to": say(to), "grown": shape, "strips": written})
    return {"board": board.name, "copy": board.copy, "sections": sections}


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("job")
    parser.add_argument("--no-plan", action="store_true")
    options = parser.parse_args()
    json.dump(solve(jobs.read(options.job), not options.no_plan), sys.stdout, indent=1)
    print()


if __name__ == "__main__":
    main()
