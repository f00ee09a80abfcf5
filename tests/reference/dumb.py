#!/usr/bin/env python3
"""Every plan of the tiniest jobs, one by one: is any cheaper than the oracle's, and by the rules?

    python3 tests/reference/dumb.py --seeds 0..50

One board and two fronts, or a run of two and a front, on whole inches. All sections, strips, orders, faces and places
across are gone through; those whose figure is below the oracle's are laid out and judged by rules.py.
"""

import argparse
import itertools
import random

import families
import jobs
import oracle
import rules


def draw(seed):
    d = families.Draw("dumb", seed)
    d.allow(crosscut_kerf=1, rip_kerf=1, end_trim=d.pick(0, 1), edge_trim=d.pick(0, 1), rough_length=1, rough_width=1,
            clear=d.pick(0, 1), longest_skip=d.pick(2, 3), shortest_safe=d.pick(0, 0, 5, 7), keep_offcut=d.pick(3, 4, 5, 6, 8),
            keep_width=d.pick(1, 2))
    d.worth(unbroken=d.pick(0.01, 0.05, 1))
    board = d.board(d.within(14, 20, 1), d.within(5, 9, 1), thickness="4/4")
    for _ in range(d.pick(0, 1, 1, 2)):
        d.defect(board, most=2, step=1, tall=2, side=d.pick("both", "both", "up"))
    if d.chance(0.3):
        d.front(d.within(2, 4, 1), 1, run="r")
        d.front(d.within(2, 4, 1), 1, run="r")
    else:
        d.front(d.within(2, 6, 1), d.within(1, 2, 1))
        d.front(d.within(2, 6, 1), d.within(1, 3, 1))
    return d.texts()


class Every:
    """All plans of a job of one board."""

    def __init__(self, job):
        self.job, self.board = job, job.boards[0]
        self.one = jobs.INCH
        self.stretches = oracle.Stretches(job)
        allow = job.allow
        self.kerf, self.rip = allow["crosscut_kerf"], allow["rip_kerf"]
        self.low, self.high = self.board.trim_hook, self.board.length - self.board.trim_far

    def below(self, kept_least):
        """Plans (as rules.py reads them) that keep more than so much."""
        names = [f.name for f in self.job.fronts()]
        for cover in self.covers():
            for chunks in partitions(cover):
                for order in itertools.permutations(chunks):
                    yield from self.along(list(order), self.low, 0, kept_least, [])

    def covers(self):
        whole = (1 << self.stretches.count) - 1
        for size in range(1, self.stretches.count + 1):
            for chosen in itertools.combinations(self.stretches.all, size):
                masks = [self.stretches.mask(s) for s in chosen]
                if sum(masks) == whole and all(a & b == 0 for a, b in itertools.combinations(masks, 2)):
                    yield chosen

    def along(self, chunks, at, kept, least, made):
        if not chunks:
            last = made[-1][1]
            kept += self.end(self.high - last - self.kerf)
            if kept > least:
                yield kept, made
            return
        for start in range(at, self.high, self.one):
            begun = kept + (0 if made else self.end(start - self.kerf - self.low))
            for to in range(start + self.one, self.high + 1, self.one):
                for strips in strip_orders(chunks[0]):
                    for lows, edge in self.across(strips, to - start):
                        yield from self.along(chunks[1:], to + self.kerf, begun + edge, least, made + [(start, to, strips, lows)])

    def end(self, long):
        if self.job.keep is None or long < self.job.keep or self.board.width < self.job.allow["keep_width"]:
            return 0
        return long * self.board.width

    def across(self, strips, long):
        trim, keep = self.job.allow["edge_trim"], self.job.allow["keep_width"]
        wide = [max(self.stretches.wide(s) for s in strip) for strip in strips]

        def go(k, at):
            if k == len(strips):
                yield []
                return
            for y in range(at, self.board.width - trim - wide[k] + 1, self.one):
                for rest in go(k + 1, y + wide[k] + self.rip):
                    yield [y] + rest

        for lows in go(0, trim):
            edges = [lows[0] - self.rip, self.board.width - lows[-1] - wide[-1] - self.rip]
            edge = sum(e for e in edges if e >= keep) * long if self.job.keep is not None and long >= self.job.keep else 0
            yield lows, edge

    def laid(self, made):
        """All ways to lay the blanks of such a plan."""
        sections = [list(self.section(*section)) for section in made]
        for chosen in itertools.product(*sections):
            yield [{"board": self.board.name, "copy": 1, "sections": list(chosen)}]

    def section(self, start, to, strips, lows):
        every = [list(self.strip(strip, low, start, to)) for strip, low in zip(strips, lows)]
        for chosen in itertools.product(*every):
            yield {"from": self.say(start), "to": self.say(to), "strips": list(chosen)}

    def strip(self, strip, low, start, to):
        wide = max(self.stretches.wide(s) for s in strip)
        for turned in itertools.product((False, True), repeat=len(strip)):
            for faces in itertools.product(("up", "down"), repeat=len(strip)):
                for ups in itertools.product((False, True), repeat=len(strip)):
                    blanks = []
                    for s, t, face, up in zip(strip, turned, faces, ups):
                        width = self.stretches.wide(s)
                        y = low + wide - width if up else low
                        fronts = self.stretches.fronts(s)
                        for front in fronts[::-1] if t else fronts:
                            blanks.append((front, s, "far" if t else "hook", face, y, y + width))
                    for places in self.places(blanks, start, to):
                        yield {"low": self.say(low), "high": self.say(low + wide), "blanks": [
                            {"front": f.name, "stretch": list(s), "from": self.say(a),
                             "to": self.say(a + f.along + self.job.allow["rough_length"]), "low": self.say(y), "high": self.say(z),
                             "left": left, "face": face} for (f, s, left, face, y, z), a in zip(blanks, places)]}

    def places(self, blanks, at, to):
        if not blanks:
            yield []
            return
        long = blanks[0][0].along + self.job.allow["rough_length"]
        for a in range(at, to - long + 1, self.one):
            for rest in self.places(blanks[1:], a + long + self.kerf, to):
                yield [a] + rest

    def say(self, value):
        return value / self.one


def partitions(items):
    if not items:
        yield []
        return
    for rest in partitions(items[1:]):
        yield [[items[0]]] + rest
        for k in range(len(rest)):
            yield rest[:k] + [[items[0]] + rest[k]] + rest[k + 1:]


def strip_orders(chunk):
    for parts in partitions(chunk):
        for order in itertools.permutations(parts):
            for inner in itertools.product(*(itertools.permutations(p) for p in order)):
                yield [list(p) for p in inner]


def one(seed):
    job = jobs.read_text(draw(seed))
    best = oracle.solve(job)
    if best["made"] < best["fronts"]:
        return None
    every, board = Every(job), job.boards[0]
    worth = job.worth
    least = None
    tried = judged = 0
    for kept, made in every.below(-1):
        tried += 1
        stretches = {tuple(s) for section in made for strip in section[2] for s in strip}
        runs = {s[0] for s in stretches}
        cost = float(oracle.wood(job, board, board.length * board.width - kept) + worth["unbroken"] * (len(stretches) - len(runs)))
        if cost > best["cost"] - 1e-9 or (least is not None and cost >= least - 1e-9):
            continue
        for plan in every.laid(made):
            judged += 1
            try:
                rules.Plan(job, plan).check()
                least = cost
                break
            except rules.Broken:
                continue
    return best["cost"], least, tried, judged


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seeds", default="0..20")
    first, last = map(int, parser.parse_args().seeds.split(".."))
    done = bad = 0
    for seed in range(first, last):
        found = one(seed)
        if found is None:
            continue
        cost, least, tried, judged = found
        done += 1
        if least is not None:
            bad += 1
            print(f"seed {seed}: {least} by the rules, {cost} by the oracle", flush=True)
        print(f"seed {seed}: {tried} plans, {judged} judged", flush=True)
    print(done, "jobs,", bad, "with a cheaper plan")


if __name__ == "__main__":
    main()
