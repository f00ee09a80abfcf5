#!/usr/bin/env python3
"""Random tiny jobs by family and seed, and a few written by hand. All invented.

    python3 tests/reference/families.py                     # the names
    python3 tests/reference/families.py FAMILY SEED FOLDER  # writes a job's folder
"""

import json
import random
import sys

import jobs

CASES = {}


def case(name, toml, boards, fronts, defects=()):
    CASES[name] = {
        "job.toml": "\n".join(toml) + "\n",
        "boards.csv": "\n".join(boards) + "\n",
        "fronts.csv": "\n".join(fronts) + "\n",
        "defects.csv": "\n".join(["board,kind,from,to,low,high", *defects]) + "\n" if defects else "",
    }


NO_GLUE = ["[glue]", "allow = false"]
case("case1", ["[allowances]", 'keep_offcut = "18"', *NO_GLUE],
     ["board,length,width,thickness,tone", "B1,46,14,4/4,8"],
     ["front,width,height,thickness", "a,4,3,3/4", "b,15,3.5,3/4"],
     ["B1,knot,12,13,6.5,8.5", "B1,knot,29.5,31.5,6,7"])
case("case2", ["[allowances]", 'keep_offcut = "18"', "[worth]", "unbroken = 0.5", *NO_GLUE],
     ["board,length,width,thickness,tone", "B3,68,21,4/4,6", "B4,76,15,4/4,6"],
     ["front,width,height,thickness,run", "a1,7,4,3/4,a", "a2,11,4,3/4,a", "a3,7,4,3/4,a", "a4,11,4,3/4,a", "b,17.25,6,3/4,b"])
case("case3", ["[allowances]", 'keep_width = "3.5"', 'rip_kerf = "1/4"', *NO_GLUE],
     ["board,length,width,thickness,tone,crook", "B4,72.5,11,4/4,5,2"],
     ["front,width,height,thickness,run", "a1,17.25,4,7/8,a", "a2,11,6,3/4,a", "a3,17.25,6,7/8,a"])
case("case4", ["[allowances]", 'crosscut_kerf = "1/2"', 'rip_kerf = "1/2"', 'edge_trim = "1"', 'rough_width = "1/2"',
               'clear = "1"', 'keep_offcut = "12"', 'keep_width = "2"', *NO_GLUE],
     ["board,length,width,thickness,tone", "B2,44,9.5,4/4,5"],
     ["front,width,height,thickness", "a,15,3.5,3/4", "b,7,4,3/4"],
     ["B2,knot,30,31.5,4.5,5.5"])


class Draw:
    """A random job of a family, grown column by column."""

    def __init__(self, family, seed):
        self.rng = random.Random(f"{family}:{seed}")
        self.toml = {"allowances": {}, "worth": {}, "glue": {"allow": False}}
        self.top = {}
        self.boards, self.fronts, self.defects = [], [], []

    def pick(self, *values):
        return self.rng.choice(values)

    def chance(self, share):
        return self.rng.random() < share

    def within(self, low, high, step=0.5):
        return low + step * self.rng.randint(0, int(round((high - low) / step)))

    def allow(self, **values):
        self.toml["allowances"].update({k: str(v) for k, v in values.items()})

    def halves(self):
        """Allowances that are whole halves of an inch, so that the grid is small."""
        self.allow(crosscut_kerf=0.5, rip_kerf=self.pick(0.5, 0.5, 1), end_trim=self.pick(1, 2, 2), edge_trim=self.pick(0.5, 1),
                   rough_length=1, rough_width=0.5, clear=self.pick(0, 0.5, 0.5, 1), longest_skip=self.pick(1.5, 2, 2, 3),
                   shortest_safe=self.pick(0, 8, 12, 12), keep_offcut=self.pick(8, 12, 12, 16, 20, 24),
                   keep_width=self.pick(1, 2, 2, 3, 4))
        self.worth(unbroken=self.pick(0.25, 0.5, 1, 2, 4), tone_run=self.pick(0.25, 1), tone_case=self.pick(0, 0.5))

    def worth(self, **values):
        self.toml["worth"].update(values)

    def board(self, length, width, thickness=None, tone=None, **more):
        name = f"B{len(self.boards) + 1}"
        row = {"board": name, "length": length, "width": width, "thickness": thickness or self.pick("4/4", "4/4", "4/4", "5/4"),
               "tone": self.pick(3, 4, 5, 5, 5, 6, 7) if tone is None else tone, **more}
        self.boards.append(row)
        return row

    def defect(self, board, most=4, side="both", step=0.5, tall=3):
        length, width = board["length"], board["width"]
        start = self.within(0, length - 1, step)
        low = self.within(0, width - 0.5, step)
        self.defects.append({
            "board": board["board"], "kind": self.pick("knot", "check", "stain"),
            "from": start, "to": min(length, start + self.within(0.5, most, step)),
            "low": low, "high": min(width, low + self.within(0.5, tall, step)), "side": side})

    def front(self, width, height, thickness="3/4", **more):
        self.fronts.append({"front": f"F{len(self.fronts) + 1}", "width": width, "height": height, "thickness": thickness, **more})

    def run(self, count, widths, height, alike=0.5, **more):
        name = f"r{len(self.fronts) + 1}"
        wide = self.within(*widths)
        for _ in range(count):
            self.front(wide, height, run=name, **more)
            if not self.chance(alike):
                wide = self.within(*widths)

    def singles(self, count, widths, heights):
        for _ in range(count):
            self.front(self.within(*widths), self.within(*heights))

    def texts(self):
        lines = [f"{k} = {toml(v)}" for k, v in self.top.items()]
        for section, values in self.toml.items():
            if values:
                lines.append(f"[{section}]")
                lines += [f"{k} = {toml(v)}" for k, v in values.items()]
        return {"job.toml": "\n".join(lines) + "\n", "boards.csv": table(self.boards), "fronts.csv": table(self.fronts),
                "defects.csv": table(self.defects) if self.defects else ""}


def toml(value):
    return json.dumps(value)


def table(rows):
    keys = list(dict.fromkeys(key for row in rows for key in row))
    say = lambda v: f"{v:g}" if isinstance(v, (int, float)) else str(v)
    return "\n".join([",".join(keys)] + [",".join(say(row.get(k, "")) for k in keys) for row in rows]) + "\n"


FAMILIES = {}


def family(draw):
    FAMILIES[draw.__name__] = draw
    return draw


@family
def wide_knots(d):
    """Wide boards with several defects right through."""
    d.halves()
    d.allow(keep_offcut=d.pick(8, 12, 12, 16), shortest_safe=d.pick(0, 8))
    for _ in range(d.pick(1, 1, 2)):
        board = d.board(d.within(30, 60), d.within(9, 18))
        for _ in range(d.pick(1, 2, 2, 3)):
            d.defect(board)
    d.singles(d.pick(2, 3, 3), (4, 16), (2, 5))


@family
def sound(d):
    """Straight, sound, wide boards; runs and single fronts."""
    d.halves()
    for _ in range(d.pick(1, 2, 2)):
        d.board(d.within(36, 70), d.within(7, 20))
    d.run(d.pick(2, 2, 3), (4, 12), d.within(2, 5))
    d.singles(d.pick(1, 1, 2), (4, 18), (2, 6))


@family
def crook(d):
    """Crooked boards, some with a knot."""
    d.halves()
    for _ in range(d.pick(1, 1, 2)):
        board = d.board(d.within(36, 64), d.within(7, 14), crook=d.pick(0.25, 0.5, 1, 1.5, 2))
        if d.chance(0.5):
            d.defect(board)
    d.singles(d.pick(1, 1, 2), (4, 16), (2, 5))
    if d.chance(0.6):
        d.run(2, (4, 12), d.within(2, 5))


@family
def warp(d):
    """Bow, cup and twist, so that short pieces do and long ones do not hold their thickness."""
    d.halves()
    d.allow(shortest_safe=d.pick(6, 8, 12), plane="1/32")
    for _ in range(d.pick(1, 2, 2)):
        board = d.board(d.within(36, 70), d.within(7, 15), bow=d.pick(0, 0.25, 0.5, 1), cup=d.pick(0, 0.0625, 0.125, 0.25),
                        twist=d.pick(0, 0.125, 0.25, 0.5))
        if d.chance(0.4):
            d.defect(board)
    d.run(d.pick(2, 3), (3, 10), d.within(2, 5), thickness=d.pick("3/4", "3/4", "13/16", "7/8"))
    d.singles(d.pick(1, 2), (3, 16), (2, 5))


@family
def one_sided(d):
    """Defects that show on one face only."""
    d.halves()
    for _ in range(d.pick(1, 1, 2)):
        board = d.board(d.within(30, 56), d.within(6, 14))
        for _ in range(d.pick(2, 3, 3)):
            d.defect(board, most=8, side=d.pick("up", "down", "both"))
    d.singles(d.pick(1, 1, 2), (4, 14), (2, 5))
    if d.chance(0.5):
        d.run(2, (4, 10), d.within(2, 5))


@family
def skips(d):
    """Runs of two to four past knots, with room for a skip."""
    d.halves()
    d.allow(longest_skip=d.pick(2, 3, 4), shortest_safe=d.pick(0, 8, 12))
    for _ in range(d.pick(1, 2)):
        board = d.board(d.within(40, 70), d.within(5, 10))
        for _ in range(d.pick(1, 2, 3)):
            d.defect(board, most=1.5)
    d.run(d.pick(2, 3, 4), (4, 10), d.within(2, 4))
    if d.chance(0.7):
        d.singles(1, (4, 14), (2, 4))


@family
def short(d):
    """Fronts shorter than what may go through a planer alone."""
    d.halves()
    d.allow(shortest_safe=d.pick(10, 12, 14, 16))
    for _ in range(d.pick(1, 2)):
        board = d.board(d.within(30, 56), d.within(6, 14), bow=d.pick(0, 0, 0.5))
        if d.chance(0.6):
            d.defect(board)
    d.run(d.pick(2, 3), (3, 7), d.within(2, 4))
    d.singles(d.pick(1, 2), (3, 8), (2, 4))


@family
def slack(d):
    """Several sections with kept edges and slack between them: low `keep_offcut` and `keep_width`, one board."""
    d.halves()
    d.allow(keep_offcut=d.pick(8, 10, 12), keep_width=d.pick(1, 2), shortest_safe=d.pick(0, 0, 12))
    board = d.board(d.within(36, 64), d.within(6, 11))
    for _ in range(d.pick(1, 2, 2, 3)):
        d.defect(board)
    d.singles(d.pick(2, 2, 3), (5, 16), (3, 5))


@family
def narrow(d):
    """Long narrow boards with several defects."""
    d.halves()
    for _ in range(d.pick(2, 2, 3)):
        board = d.board(d.within(40, 80), d.within(4, 7))
        for _ in range(d.pick(1, 2, 3)):
            d.defect(board)
    d.run(d.pick(2, 3), (5, 12), d.within(2, 4))
    d.run(d.pick(1, 2), (5, 16), d.within(2, 4))


@family
def tones(d):
    """Three or four boards of different tones; where a run breaks and where it does not."""
    d.halves()
    d.worth(unbroken=d.pick(0.25, 1, 2), tone_run=d.pick(0.25, 0.5, 1), tone_case=d.pick(0, 0.25, 0.5))
    for _ in range(d.pick(3, 4)):
        board = d.board(d.within(24, 48), d.within(5, 9), tone=d.within(2, 8))
        if d.chance(0.4):
            d.defect(board)
    d.run(d.pick(2, 3), (5, 12), d.within(2, 4))
    d.run(2, (5, 12), d.within(2, 4))


@family
def many(d):
    """Four or five fronts on a board or two, several to a strip."""
    d.halves()
    for _ in range(d.pick(1, 2)):
        board = d.board(d.within(40, 70), d.within(9, 15))
        if d.chance(0.5):
            d.defect(board)
    high = d.within(2, 4)
    wide = d.within(6, 12)
    for _ in range(d.pick(4, 4, 5)):
        d.front(wide if d.chance(0.4) else d.within(5, 14), high if d.chance(0.6) else d.within(2, 4))


@family
def eighths(d):
    """The allowances as they are by default: kerfs of an eighth."""
    d.allow(keep_offcut=d.pick(12, 18, 24), keep_width=d.pick(2, 4))
    d.worth(unbroken=d.pick(0.5, 4))
    board = d.board(d.within(30, 48, 1), d.within(7, 14, 0.5))
    for _ in range(d.pick(0, 1, 2)):
        d.defect(board)
    d.singles(d.pick(1, 2), (4, 15), (2.5, 4))
    if d.chance(0.4):
        d.run(2, (4, 9), 3)


@family
def trims(d):
    """Boards whose own ends are sawn clean, and fronts whose grain stands upright."""
    d.halves()
    for _ in range(d.pick(1, 2)):
        board = d.board(d.within(30, 56), d.within(7, 14), trim_hook=d.pick(0, 1, ""), trim_far=d.pick(0, 0.5, ""))
        for _ in range(d.pick(0, 1, 2)):
            d.defect(board)
    for _ in range(d.pick(1, 2)):
        d.front(d.within(2, 5), d.within(5, 14), grain="vertical")
    d.run(2, (4, 10), d.within(2, 5))


@family
def logs(d):
    """Boards of several logs and ways of sawing."""
    tones(d)
    d.worth(mixed_log=d.pick(0.25, 1), mixed_cut=d.pick(0.25, 1))
    for board in d.boards:
        board.update(log=d.pick("L1", "L2", ""), cut=d.pick("flat", "rift", "quarter", ""))


@family
def logs_glued(d):
    """Staves from boards of several logs and ways of sawing."""
    glue_two(d)
    d.worth(mixed_log=d.pick(0.25, 1), mixed_cut=d.pick(0.25, 1))
    for board in d.boards:
        board.update(log=d.pick("L1", "L2", ""), cut=d.pick("flat", "rift", ""))


@family
def alike(d):
    """Runs of two or three that need only look alike, past knots."""
    skips(d)
    for front in d.fronts:
        front["reads"] = "alike"


@family
def built(d):
    """Neighbours at least as far apart as they stand on the case."""
    d.halves()
    d.allow(between="as_built", longest_skip=d.pick(2, 3, 4))
    for _ in range(d.pick(1, 2)):
        board = d.board(d.within(36, 64), d.within(6, 12))
        for _ in range(d.pick(0, 1, 2)):
            d.defect(board)
    d.run(d.pick(2, 3), (4, 10), d.within(2, 4), space_after=d.pick(0.5, 1.5, 2, 2.5, 3))
    d.singles(1, (4, 14), (2, 5))


@family
def metric(d):
    """The same in millimetres: halves of an inch become 10 mm."""
    d.top["units"] = "mm"
    d.allow(crosscut_kerf=10, rip_kerf=10, end_trim=d.pick(20, 40), edge_trim=10, rough_length=20, rough_width=10,
            clear=d.pick(0, 10), longest_skip=d.pick(30, 40, 60), shortest_safe=d.pick(0, 200, 240), plane=1,
            keep_offcut=d.pick(200, 300, 400), keep_width=d.pick(30, 50, 80))
    d.worth(unbroken=d.pick(1, 4, 10), tone_run=d.pick(1, 2.5))
    for _ in range(d.pick(1, 2)):
        board = d.board(d.within(700, 1300, 10), d.within(150, 300, 10), thickness=d.pick(22, 27, 34), tone=d.pick(4, 5, 6),
                        bow=d.pick(0, 0, 6))
        for _ in range(d.pick(0, 1, 2)):
            low, start = d.within(0, 140, 10), d.within(0, 680, 10)
            d.defects.append({"board": board["board"], "kind": "knot", "from": start, "to": start + d.pick(10, 20, 50),
                              "low": low, "high": low + d.pick(10, 30), "side": "both"})
    name = d.pick("r", "")
    for _ in range(d.pick(2, 3)):
        d.front(d.within(80, 260, 10), d.within(40, 100, 10) if not name else 60, thickness=18, run=name)
    d.front(d.within(80, 300, 10), d.within(40, 100, 10), thickness=18, run="")


def plain_glue(d, **more):
    """Settings for gluing: two or three staves, and never more."""
    d.toml["glue"] = {"allow": True, "from": "4", "least_stave": "3", "step": d.pick("1/2", "1/2", "1", "1.5"),
                      "joint": d.pick("1/2", "1/2", "0"), **more}
    d.worth(glue_line=d.pick(0.25, 0.5, 1, 2))


@family
def glue_two(d):
    """One front or two wider than the boards: two staves."""
    d.halves()
    plain_glue(d)
    for _ in range(d.pick(1, 2, 2)):
        board = d.board(d.within(24, 46), d.within(5, 8))
        for _ in range(d.pick(0, 0, 1, 2)):
            d.defect(board)
    d.front(d.within(5, 14), d.within(5.5, 8))
    if d.chance(0.5):
        d.front(d.within(4, 10), d.within(2, 4))


@family
def glue_three(d):
    """A front so wide that three staves may be needed."""
    d.halves()
    plain_glue(d)
    d.toml["glue"]["step"] = d.pick("1", "1", "2", "1.5")
    d.worth(glue_line=d.pick(0.25, 0.5))
    for _ in range(d.pick(1, 2)):
        board = d.board(d.within(24, 44), d.within(4.5, 6))
        for _ in range(d.pick(0, 0, 1)):
            d.defect(board)
    d.front(d.within(4, 10), d.within(8, 10))
    if d.chance(0.4):
        d.front(d.within(4, 8), d.within(2, 3.5))


@family
def glue_run(d):
    """A run glued as one stretch, or in part."""
    d.halves()
    plain_glue(d)
    d.toml["glue"]["step"] = d.pick("1", "1", "2")
    for _ in range(d.pick(1, 2)):
        board = d.board(d.within(28, 46), d.within(5, 8))
        if d.chance(0.4):
            d.defect(board)
    d.run(2, (4, 8), d.within(4.5, 7))


@family
def glue_width(d):
    """Boards of odd widths, coarse steps: what is missing, and strips that take all the width."""
    d.halves()
    plain_glue(d)
    d.toml["glue"].update(step=d.pick("2", "2", "1.5", "3"), joint=d.pick("0", "1/2"))
    for _ in range(d.pick(2, 2, 3)):
        board = d.board(d.within(20, 40), d.within(4.5, 8))
        if d.chance(0.3):
            d.defect(board)
    d.front(d.within(6, 14), d.within(5.5, 9))
    if d.chance(0.3):
        d.front(d.within(4, 10), d.within(2, 4))


@family
def glue_from(d):
    """Fronts about as wide as `from`; rows that say yes or no."""
    d.halves()
    plain_glue(d)
    d.toml["glue"]["from"] = d.pick("4", "5", "6")
    for _ in range(d.pick(1, 2)):
        board = d.board(d.within(24, 44), d.within(5, 8))
        if d.chance(0.4):
            d.defect(board)
    for _ in range(2):
        d.front(d.within(4, 12), d.within(3.5, 7), glue=d.pick("", "", "yes", "no"))


@family
def glue_scarce(d):
    """Little wood: the greatest area first, glued where it must be."""
    d.halves()
    plain_glue(d)
    d.toml["glue"]["step"] = d.pick("1/2", "1", "2")
    for _ in range(d.pick(1, 2)):
        board = d.board(d.within(18, 32), d.within(4, 7))
        if d.chance(0.4):
            d.defect(board)
    d.front(d.within(5, 12), d.within(5, 7))
    d.singles(d.pick(1, 2), (5, 12), (2, 4))


@family
def counts(d):
    """Boards that there are two or three of, one of them with a knot of its own."""
    d.halves()
    board = d.board(d.within(24, 44), d.within(5, 9), count=d.pick(2, 2, 3))
    d.defect(board)
    d.defects[-1]["copy"] = d.pick("", 1, 2)
    if d.chance(0.4):
        d.board(d.within(24, 44), d.within(5, 9))
    d.run(d.pick(2, 3), (5, 12), d.within(2, 4))
    d.singles(d.pick(1, 2), (5, 12), (2, 4))


@family
def pins(d):
    """Fronts that must come from a board."""
    d.halves()
    for _ in range(d.pick(2, 3)):
        board = d.board(d.within(28, 48), d.within(6, 10))
        if d.chance(0.5):
            d.defect(board)
    d.run(2, (5, 10), d.within(2, 4))
    d.singles(d.pick(1, 2), (5, 12), (2, 4))
    for front in d.fronts:
        front["board"] = d.pick("", "", "B1", "B2")


@family
def wishes(d):
    """Boards that are left out, fronts that may come from several or must not come from one."""
    pins(d)
    for front in d.fronts:
        front["board"] = d.pick("", "", "B1", "B1|B2")
        front["not_board"] = "" if front["board"] else d.pick("", "", "B1", "B2")
    for board in d.boards[1:]:
        board["use"] = d.pick("yes", "yes", "no")


@family
def scarce(d):
    """Not all fronts can be made: the greatest area first."""
    d.halves()
    for _ in range(d.pick(1, 1, 2)):
        board = d.board(d.within(18, 34), d.within(5, 8))
        if d.chance(0.6):
            d.defect(board)
    d.run(d.pick(2, 3), (5, 10), d.within(2, 4))
    d.singles(d.pick(2, 3), (5, 14), (2, 5))


@family
def money(d):
    """Boards on offer and boards owned, planned by money."""
    d.halves()
    d.worth(owned=d.pick(0, 1, 3))
    for _ in range(3):
        board = d.board(d.within(24, 48), d.within(5, 10), price=d.pick("", 4, 6, 7.5), count=d.pick(1, 1, 1, 2))
        if d.chance(0.4):
            d.defect(board)
    d.boards[0]["price"] = 5
    d.run(d.pick(2, 3), (5, 10), d.within(2, 4))
    d.singles(d.pick(1, 2), (5, 12), (2, 4))


@family
def limits(d):
    """Most breaks, no break, most feet, or tone within some steps."""
    tones(d)
    d.worth(unbroken=d.pick(0, 0.25), tone_case=0)


@family
def widened(d):
    """Short fronts that only together are long enough, a gap widened for it."""
    d.halves()
    d.allow(shortest_safe=d.pick(10, 11, 12), longest_skip=d.pick(3, 4))
    for _ in range(d.pick(1, 1, 2)):
        board = d.board(d.within(30, 50), d.within(5, 10), bow=d.pick(0.5, 0.75, 1, 1.5))
        if d.chance(0.4):
            d.defect(board)
    d.run(d.pick(3, 4), (3, 6), d.within(2, 3), thickness=d.pick("3/4", "13/16", "7/8"))
    if d.chance(0.4):
        d.singles(1, (4, 12), (2, 3))


@family
def planer(d):
    """A planer that takes no wide piece: what is wider is glued or not made."""
    glue_two(d)
    d.toml["machines"] = {"widest": d.pick("4", "5", "6")}


@family
def glue_crook(d):
    """A front glued from crooked boards, where a strip that takes all the width is as wide as crook leaves it."""
    d.halves()
    plain_glue(d)
    d.toml["glue"].update(step=d.pick("2", "3", "2.5"), joint=d.pick("0", "1/2"))
    for _ in range(d.pick(1, 2, 2)):
        d.board(d.within(16, 28), d.within(4.5, 7), crook=d.pick(0.25, 0.5, 1))
    d.front(d.within(4, 9), d.within(5, 8))
    if d.chance(0.3):
        d.front(d.within(4, 8), d.within(2, 3))


WORDS = {
    "money": lambda rng: ("--by", "money"),
    "limits": lambda rng: rng.choice([("--unbroken",), ("--most-breaks", "1"), ("--most-breaks", "1", "--tone-within", "2"),
                                      ("--tone-within", "1"), ("--tone-within", "2"), ("--most-feet", "3"),
                                      ("--most-feet", "2.5", "--most-breaks", "1")]),
}


def options(name, seed):
    """What to say to `plan` beside the job's folder."""
    return WORDS[name](random.Random(f"{name}:{seed}:words")) if name in WORDS else ()


def job(name, seed):
    if name in CASES:
        return CASES[name]
    d = Draw(name, seed)
    FAMILIES[name](d)
    return d.texts()


def read(name, seed):
    return jobs.read_text(job(name, seed))


def main():
    if len(sys.argv) == 4:
        jobs.write(sys.argv[3], job(sys.argv[1], int(sys.argv[2])))
    else:
        for name in CASES:
            print(name, "(by hand)")
        for name, draw in FAMILIES.items():
            print(name, draw.__doc__, sep="\t")


if __name__ == "__main__":
    main()
