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
 J  Rule 10 (d), widths. No stave of a front is wider than it need be: none that is a multiple of `step`
    could be a step narrower with the others as they are, unless it were narrower than `least_stave`.
    (`ALL_WIDTHS` tries the wider ones too.) At most one stave is just what the others leave missing; any
    number may take all the width of a section that their strip has to itself; both may be in one front.
 K  Rule 7. A stave's width is the same for all fronts of its stretch. Each stave has its own face and
    direction. More staves than enough at `least_stave` are not tried: they only add glue lines.
 L  A strip that takes all the width is as wide as rule 1 allows in a section as long as its own; other
    blanks may lie in it, at its low or high edge.
 M  `--by money`. The mean price on offer is the price of all boards on offer over their wood (copies
    counted, boards that are not to be used left out). An offered board costs its whole wood.
 N  Limits. The greatest area is that without limits; when no plan of that area keeps them there is none.
"""

import argparse
import collections
import itertools
import json
import sys
import typing
from fractions import Fraction

import jobs
from board_area import Area, Piece, crook_at, forget
from board_plan import plan

ALL_WIDTHS = False


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

    def piece(self, stretch, width=None, fill=0):
        fronts, allow = self.fronts(stretch), self.job.allow
        most = None if fronts[0].alike else allow["longest_skip"] - allow["rough_length"]
        if len(fronts) == 1:
            most = 0
        return Piece(
            tuple(f.along + allow["rough_length"] for f in fronts),
            tuple(self.least(f) for f in fronts[:-1]), most,
            self.wide(stretch) if width is None else width,
            tuple(f.thickness + 2 * allow["plane"] for f in fronts),
            max(fill, 0), width is not None and width % (jobs.INCH // 64 if self.job.unit == "inch" else jobs.MM // 10) != 0)

    def from_board(self, stretch, board):
        return board.use and all(
            (not f.boards or board.name in f.boards) and board.name not in f.not_boards for f in self.fronts(stretch))


def wood(job, board, area):
    """What an area (half nanometres squared) of a board is in board feet, or litres."""
    if job.unit == "mm":
        return Fraction(area * board.thickness, jobs.MM ** 3 * 10 ** 6)
    return Fraction(area * max(board.thickness, jobs.INCH), jobs.INCH ** 3 * 144)


class Staves:
    """The widths of staves that each stretch may be glued from: (width, fill).

    `fill` is 0 for a stave like another, and otherwise tells that it takes all the width of a section its
    strip has to itself: of a straight board -1, of a crooked one how long the section is.
    """

    def __init__(self, job, stretches):
        self.job = job
        self.full = {fill for board in job.boards if board.use for fill in self.fills(board, stretches)}
        self.vectors = {s: self.of(stretches, s) for s in stretches.all}
        self.parts = {s: {part for v in vs for part in parts_of(v)} for s, vs in self.vectors.items()}
        # All there is to a front: no stave can be added any more.
        self.whole = {s: {v for v in vs if not any(v != w and v in parts_of(w) for w in vs)} for s, vs in self.vectors.items()}

    def fills(self, board, stretches):
        job = self.job
        full = board.width - 2 * job.allow["edge_trim"]
        if not board.crook:
            return {(full, -1)}
        if not any(self.may(stretches, s) for s in stretches.all):
            return set()
        # Without defects and warp a strip's length does not depend on widths, and a tight section is as long.
        assert not board.defects and not (board.bow or board.cup or board.twist), "all the width of such a board is not tried"
        area = Area(job, board, [stretches.piece(s) for s in stretches.all])
        steps = {steps for chosen in self.disjoint(stretches, stretches.all)
                 for steps in self.tight(area, tuple(stretches.piece(s, 1) for s in chosen))}
        return {(full - area.crook_at(n * area.g), n * area.g) for n in steps}

    def disjoint(self, stretches, rest, used=0):
        for number, s in enumerate(rest):
            if not stretches.mask(s) & used:
                yield (s,)
                for more in self.disjoint(stretches, rest[number + 1:], used | stretches.mask(s)):
                    yield (s,) + more

    def tight(self, area, strip):
        for order, turned in area.orders(strip):
            way = area.way(tuple((p, t, ()) for p, t in zip(order, turned)))
            if way is not None:
                end = area.ways[way][0]
                yield from {int(end[i]) - i for i in range(area.n) if end[i] < area.n and end[i + 1] > end[i]}

    def on(self, board, stave):
        """Whether a board has a stave so wide."""
        width, fill = stave
        full = board.width - 2 * self.job.allow["edge_trim"]
        if fill <= 0:
            return width <= full if fill == 0 else width == full and not board.crook
        return board.crook > 0 and width == full - crook_at(board, fill)

    def may(self, stretches, stretch):
        return all(self.glued(front) for front in stretches.fronts(stretch))

    def of(self, stretches, stretch):
        job, allow = self.job, self.job.allow
        if not self.may(stretches, stretch):
            return set()
        net, least, step = stretches.wide(stretch), allow["least_stave"], allow["step"]
        long = sum(stretches.piece(stretch).lens)
        most = max((b.width for b in job.boards), default=0) - 2 * allow["edge_trim"]
        normal = [(w, 0) for w in range(-(-least // step) * step, most + 1, step)]
        full = [f for f in self.full if f[0] >= least and (f[1] < 0 or f[1] >= long)]
        found = set()
        for k in range(2, 6):
            if k > 2 and (k - 1) * least >= net + (k - 2) * allow["joint"]:
                break
            need = net + (k - 1) * allow["joint"]
            for others in itertools.combinations_with_replacement(sorted(normal + full), k - 1):
                missing = need - sum(w for w, _ in others)
                lasts = [(missing, 0)] if missing >= least else []
                lasts += [last for last in normal + full if last[0] >= missing]
                for last in lasts:
                    vector = tuple(sorted(others + (last,)))
                    if self.sparing(vector, need):
                        found.add(vector)
        return found

    def sparing(self, vector, need):
        step, over = self.job.allow["step"], sum(w for w, _ in vector) - need
        return ALL_WIDTHS or over == 0 or all(full or w - step < self.job.allow["least_stave"] or over < step for w, full in vector)

    def glued(self, front):
        if front.glue is not None:
            return front.glue
        return self.job.glue["allow"] and front.across >= self.job.allow["from"]


def parts_of(vector):
    """Every part of a vector of staves, not empty."""
    return {part for size in range(1, len(vector) + 1) for part in itertools.combinations(vector, size)}


class BoardSets:
    """A board, and the least it costs to cut each set of stretches and staves from it.

    What is chosen is (stretch, staves): `staves` are widths, or nothing for a front in one piece.
    """

    def __init__(self, job, stretches, staves, board):
        self.job, self.board = job, board
        self.pieces = {}
        full = board.width - 2 * job.allow["edge_trim"]
        choices = []
        for s in stretches.all:
            if not stretches.from_board(s, board):
                continue
            if stretches.wide(s) <= full:
                choices.append((s, ()))
            for part in sorted(staves.parts[s], key=lambda part: (len(part), part)):
                if all(staves.on(board, stave) for stave in part):
                    choices.append((s, part))
        wide = lambda choice: max([w for w, _ in choice[1]] or [stretches.wide(choice[0])])
        choices = [c for c in choices if job.widest is None or wide(c) <= job.widest]
        for choice in choices:
            self.pieces[choice] = tuple(stretches.piece(choice[0], *stave) for stave in choice[1] or [()])
        self.area = Area(job, board, [p for ps in self.pieces.values() for p in ps])
        self.feet, self.keys = {}, {}
        self.extend((), 0, choices, stretches)

    def key(self, chosen):
        return tuple(sorted((p for c in chosen for p in self.pieces[c]), key=repr))

    def extend(self, chosen, used, rest, stretches):
        for number, choice in enumerate(rest):
            mask = stretches.mask(choice[0])
            if mask & used:
                continue
            more = chosen + (choice,)
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


class State(typing.NamedTuple):
    """All that the cost but for feet depends on."""

    made: int           # fronts, one bit each; those with staves missing too
    stretches: int
    lines: int          # of glue
    tones: tuple        # palest and darkest by run
    case: object        # of all boards
    logs: tuple
    cuts: tuple
    waiting: tuple      # (stretch, staves so far) of fronts with staves missing


def sum_over(job, stretches, staves, sets, pay):
    """All that boards can be chosen to: state -> (least wood, least to pay, the choice that gives it)."""
    runs = len(job.runs)
    none = (frozenset(),) * runs
    states = {State(0, 0, 0, (None,) * runs, None, none, none, ()): (Fraction(0), ())}
    options = []
    for board, of in sets:
        options.append([(chosen, pay(board, cost)) for chosen, cost in of.feet.items()])
    for number, (board, of) in enumerate(sets):
        grown = dict(states)
        for state, (feet, choice) in states.items():
            for chosen, cost in options[number]:
                after = add(stretches, staves, state, board, chosen)
                if after is None:
                    continue
                total = feet + cost
                if after not in grown or total < grown[after][0]:
                    grown[after] = (total, choice + ((number, chosen),))
        states = grown
    return {state: found for state, found in states.items() if all(part in staves.vectors[s] for s, part in state.waiting)}


def add(stretches, staves, state, board, chosen):
    """The state after cutting this from this board, or None when it does not go together."""
    made, waiting, count, lines = state.made, dict(state.waiting), state.stretches, state.lines
    for s, part in chosen:
        mask = stretches.mask(s)
        if not part or s not in waiting:
            if made & mask:
                return None
            made, count = made | mask, count + 1
        if part:
            # Every stave but the first makes a line in each front.
            lines += (len(part) - (s not in waiting)) * (s[2] - s[1] + 1)
            together = tuple(sorted(waiting.pop(s, ()) + part))
            if together not in staves.parts[s]:
                return None
            waiting[s] = together
    for s, _ in chosen:
        if s in waiting and waiting[s] in staves.whole[s]:
            del waiting[s]
    tones, logs, cuts = list(state.tones), list(state.logs), list(state.cuts)
    for r in {s[0] for s, _ in chosen}:
        tones[r] = widen(tones[r], board.tone)
        logs[r] = logs[r] | ({board.log} if board.log else set())
        cuts[r] = cuts[r] | ({board.cut} if board.cut else set())
    return State(made, count, lines, tuple(tones), widen(state.case, board.tone), tuple(logs), tuple(cuts),
                 tuple(sorted(waiting.items())))


def figures(job, state, feet, price=1):
    """The terms of the cost."""
    worth = job.worth
    found = {
        "feet_used": feet,
        "breaks": state.stretches - sum(pair is not None for pair in state.tones),
        "glue_lines": state.lines,
        "tone_run": sum((spread(pair) for pair in state.tones), Fraction(0)),
        "tone_case": spread(state.case),
        "mixed_logs": sum(max(0, len(names) - 1) for names in state.logs),
        "mixed_cuts": sum(max(0, len(names) - 1) for names in state.cuts),
    }
    looks = (worth["unbroken"] * found["breaks"] + worth["tone_run"] * found["tone_run"]
             + worth["glue_line"] * found["glue_lines"]
             + worth["tone_case"] * found["tone_case"] + worth["mixed_log"] * found["mixed_logs"]
             + worth["mixed_cut"] * found["mixed_cuts"])
    found["cost"] = feet + price * looks
    return found


def mean_price(job):
    """Price of all on offer over its wood."""
    offered = [(b.price, wood(job, b, b.length * b.width)) for b in job.boards if b.price is not None and b.use]
    return sum(p * w for p, w in offered) / sum(w for _, w in offered) if offered else 1


def payer(job, by):
    """What a board costs of which so much wood is used."""
    def money(board, feet):
        if board.price is None:
            return job.worth["owned"] * feet
        return board.price * wood(job, board, board.length * board.width)

    return money if by == "money" and any(b.price is not None for b in job.boards) else lambda board, feet: feet


def finished(job, stretches, mask):
    fronts = job.fronts()
    return sum(f.along * f.across for k, f in enumerate(fronts) if mask >> k & 1)


def solve(job, with_plan=True, by="feet", most_breaks=None, most_feet=None, tone_within=None):
    """The greatest finished area, the least cost among plans that make it, and one such plan.

    `cost` is None when no such plan keeps the limits.
    """
    forget()
    stretches = Stretches(job)
    staves = Staves(job, stretches)
    kinds, sets = {}, []
    for board in job.boards:
        if board.kind() not in kinds:
            kinds[board.kind()] = BoardSets(job, stretches, staves, board)
        sets.append((board, kinds[board.kind()]))
    pay = payer(job, by)
    money = by == "money" and any(b.price is not None for b in job.boards)
    price = mean_price(job) if money else 1
    limits = {"breaks": most_breaks, "feet_used": most_feet, "tone_case": tone_within}
    ends = sum_over(job, stretches, staves, sets, pay)
    area = max(finished(job, stretches, state.made) for state in ends)
    best = None
    for state, (feet, choice) in ends.items():
        found = figures(job, state, feet, price)
        if finished(job, stretches, state.made) < area or any(m is not None and found[k] > m for k, m in limits.items()):
            continue
        if best is None or found["cost"] < best[0]["cost"]:
            best = (found, state, choice)
    unit = jobs.INCH if job.unit == "inch" else jobs.MM
    answer = {"fronts": stretches.count, "area": float(Fraction(area, unit * unit)), "cost": None, "boards": [], "rich": False,
              "made": 0}
    if best is None:
        return answer
    found, state, choice = best
    answer.update({key: float(value) for key, value in found.items()}, made=bin(state.made).count("1"))
    if money:
        answer["feet_used"] = float(sum(sets[n][1].feet[chosen] for n, chosen in choice))
    if with_plan:
        answer["boards"] = [write_board(job, stretches, *sets[number], chosen, unit) for number, chosen in choice]
        number_staves(answer["boards"])
        answer["rich"] = any(len(b["sections"]) > 1 or any(len(s["strips"]) > 1 for s in b["sections"])
                             for b in answer["boards"])
    return answer


def number_staves(boards):
    """Staves are numbered as they come, blank by blank the same within a stretch."""
    count, last, all_blanks = collections.Counter(), {}, []
    for board in boards:
        for section in board["sections"]:
            for strip in section["strips"]:
                for blank in strip["blanks"]:
                    key = (tuple(blank["stretch"]), blank.pop("piece"), board["board"], board["copy"])
                    if key not in last:
                        count[key[0]] += 1
                        last[key] = count[key[0]]
                    blank["stave"] = last[key]
                    all_blanks.append(blank)
    for blank in all_blanks:
        blank["staves"] = count[tuple(blank["stretch"])]


def write_board(job, stretches, board, sets, chosen, unit):
    """A board of the plan as plan.json has it (without `kept`)."""
    say = lambda value: round(float(Fraction(value, unit)), 9)
    waiting, number = collections.defaultdict(list), 0
    for choice in sorted(chosen):
        for piece in sets.pieces[choice]:
            waiting[piece].append((choice[0], number))
            number += 1
    sections = []
    for start, to, shape, strips in plan(sets.area, sets.key(chosen)):
        written = []
        for low, high, pieces in strips:
            blanks = []
            for piece, face, turned, y, spans in pieces:
                stretch, number = waiting[piece].pop()
                fronts = stretches.fronts(stretch)
                for front, (a, b) in zip(fronts[::-1] if turned else fronts, spans):
                    blanks.append({"front": front.name, "stretch": list(stretch), "piece": number, "from": say(a), "to": say(b), "low": say(y),
                                   "high": say(y + piece.width), "left": "far" if turned else "hook", "face": face})
            written.append({"low": say(low), "high": say(high), "blanks": blanks})
        sections.append({"from": say(start), "to": say(to), "grown": shape, "strips": written})
    return {"board": board.name, "copy": board.copy, "sections": sections}


def options(words):
    """The oracle's options from those of `plan`."""
    found, words = {}, list(words)
    while words:
        word = words.pop(0)
        if word == "--unbroken":
            found["most_breaks"] = 0
        elif word == "--by":
            found["by"] = words.pop(0)
        else:
            name = {"--most-breaks": "most_breaks", "--most-feet": "most_feet", "--most-litres": "most_feet",
                    "--tone-within": "tone_within"}[word]
            found[name] = Fraction(words.pop(0))
    return found


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0], epilog="further options as for `plan`: limits, --by money")
    parser.add_argument("job")
    parser.add_argument("--no-plan", action="store_true")
    known, words = parser.parse_known_args()
    json.dump(solve(jobs.read(known.job), not known.no_plan, **options(words)), sys.stdout, indent=1)
    print()


if __name__ == "__main__":
    main()
