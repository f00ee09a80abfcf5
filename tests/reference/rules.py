"""The rules of cutting read the other way: is this finished plan one of them, and what does it cost?

Checks the oracle's plans (the shape of plan.json's `boards`) by their coordinates alone. It shares
with the oracle the reading of the job's files and nothing else.
"""

import dataclasses
import itertools
import math
from fractions import Fraction

import jobs

NEAR = 4  # half nanometres: coordinates are written to 1e-9 of a unit


class Broken(Exception):
    pass


def demand(true, *said):
    if not true:
        raise Broken(" ".join(map(str, said)))


class Plan:
    def __init__(self, job, boards):
        self.job, self.written = job, boards
        self.unit = jobs.INCH if job.unit == "inch" else jobs.MM
        self.fronts = {f.name: f for f in job.fronts()}
        self.place = {f.name: (r, k) for r, run in enumerate(job.runs) for k, f in enumerate(run)}
        self.boards = {(b.name, b.copy): b for b in job.boards}
        self.alone = {}     # (stretch, stave): whether its strip takes all the width of its section

    def at(self, value):
        return round(Fraction(str(value)) * self.unit)

    def check(self):
        """The plan's figures, or Broken."""
        seen, stretches, used = [], {}, []
        feet = Fraction(0)
        for written in self.written:
            board = self.boards[written["board"], written["copy"]]
            demand(board.use and board not in used, "board", board.name)
            used.append(board)
            feet += self.board(board, written, seen, stretches)
        self.gluing(seen, stretches)
        return self.figures(feet, seen, stretches, used)

    # rule 1, 2, 3, 6
    def board(self, board, written, seen, stretches):
        allow, area = self.job.allow, board.length * board.width
        low_end, high_end = board.trim_hook, board.length - board.trim_far
        sections, kept = [], 0
        wide = board.width if board.width >= allow["keep_width"] else 0
        last = None
        for section in written["sections"]:
            start, to = self.at(section["from"]), self.at(section["to"])
            demand(start >= low_end - NEAR and to <= high_end + NEAR, "section outside", start, to)
            demand(last is None or start >= last + allow["crosscut_kerf"] - NEAR, "sections too near")
            if last is None:
                kept += self.end(start - allow["crosscut_kerf"] - low_end) * wide
            last = to
            kept += self.section(board, section, start, to, seen, stretches)
            sections.append((start, to, self.strips(board, section)))
        kept += self.end(high_end - last - allow["crosscut_kerf"]) * wide
        self.plain(board, sections, written)
        thick = board.thickness if self.job.unit == "mm" else max(board.thickness, jobs.INCH)
        whole = jobs.MM ** 3 * 10 ** 6 if self.job.unit == "mm" else jobs.INCH ** 3 * 144
        return Fraction((area - kept) * thick, whole)

    def end(self, long):
        return long if self.job.keep is not None and long >= self.job.keep - NEAR else 0

    def section(self, board, section, start, to, seen, stretches):
        allow = self.job.allow
        exact = Fraction(board.crook * (to - start) ** 2, board.length ** 2) / 2
        c = -(-exact.numerator // exact.denominator) * 2
        near = allow["edge_trim"] + Fraction(c, 2)
        last, strips = None, section["strips"]
        self.limits = (near, board.width - near) if len(strips) == 1 else None
        for strip in strips:
            low, high = self.at(strip["low"]), self.at(strip["high"])
            demand(low >= near - NEAR and high <= board.width - near + NEAR, "strip outside", low, high, near)
            demand(last is None or low >= last + allow["rip_kerf"] - NEAR, "strips too near")
            last = high
            self.strip(board, strip, start, to, low, high, seen, stretches)
        kept = 0
        for wide in (self.at(strips[0]["low"]), board.width - self.at(strips[-1]["high"])):
            wide -= allow["rip_kerf"]
            if wide >= allow["keep_width"] - NEAR:
                kept += self.end(to - start) * wide
        return kept

    def strip(self, board, strip, start, to, low, high, seen, stretches):
        allow, before, widest = self.job.allow, None, 0
        groups = []
        alone = self.limits is not None and abs(low - self.limits[0]) <= NEAR and abs(high - self.limits[1]) <= NEAR
        for blank in strip["blanks"]:
            a, b, y, z = (self.at(blank[k]) for k in ("from", "to", "low", "high"))
            front = self.fronts[blank["front"]]
            demand(abs(b - a - front.along - allow["rough_length"]) <= NEAR, "length of", front.name)
            demand(a >= start - NEAR and b <= to + NEAR, "blank outside its section", front.name)
            demand(before is None or a >= before + allow["crosscut_kerf"] - NEAR, "blanks too near")
            demand(abs(y - low) <= NEAR or abs(z - high) <= NEAR, "blank at neither edge of its strip", front.name)
            demand(y >= low - NEAR and z <= high + NEAR, "blank outside its strip", front.name)
            demand(not front.boards or board.name in front.boards, "board of", front.name)
            demand(board.name not in front.not_boards, "not board of", front.name)
            self.clear(board, blank, a, b, y, z)
            before, widest = b, max(widest, z - y)
            key = (tuple(blank["stretch"]), blank.get("stave", 1))
            seen.append((front.name, key, board))
            if not groups or groups[-1][0] != key:
                demand(key not in stretches, "stretch in two places", key)
                groups.append((key, []))
                stretches[key] = groups[-1][1]
            groups[-1][1].append((front, a, b, y, z, blank["left"], blank["face"]))
            self.alone[key] = alone
        demand(abs(widest - (high - low)) <= NEAR, "strip wider than its widest blank")
        pieces = [self.stretch(board, members) for _, members in groups]
        self.set_aside(pieces, start, to)

    def clear(self, board, blank, a, b, y, z):
        gap = self.job.allow["clear"]
        for d in board.defects:
            if d.side in ("both", blank["face"]):
                demand(b <= d.start - gap + NEAR or a >= d.to + gap - NEAR or z <= d.low - gap + NEAR or y >= d.high + gap - NEAR,
                       "too near a defect", blank["front"], d)

    # rules 4 and 5
    def stretch(self, board, members):
        allow = self.job.allow
        lefts, faces = {m[5] for m in members}, {m[6] for m in members}
        demand(len(lefts) == len(faces) == 1, "a stretch turned two ways")
        demand(len({(m[3], m[4]) for m in members}) == 1, "a stretch's blanks not level")
        order = [self.place[m[0].name] for m in members]
        if lefts == {"far"}:
            order = order[::-1]
        demand(all(q == (p[0], p[1] + 1) for p, q in zip(order, order[1:])), "order of a stretch")
        for first, second in zip(members, members[1:]):
            lost = second[1] - first[2] + allow["rough_length"]
            demand(first[0].alike or lost <= allow["longest_skip"] + NEAR, "skip")
            earlier = first if lefts == {"hook"} else second
            if self.job.between == "as_built":
                demand(lost >= earlier[0].space_after - NEAR, "nearer than built")
        wide = members[0][4] - members[0][3]
        long = members[-1][2] - members[0][1]
        safe = allow["shortest_safe"]
        if long < safe - NEAR:
            demand(all(self.thick(board, m[0], safe, wide) for m in members), "thickness")
            return members[0][1], members[-1][2], safe
        demand(self.grouped(board, members, wide), "thickness")
        return members[0][1], members[-1][2], long

    def grouped(self, board, members, wide):
        if not members:
            return True
        for count in range(1, len(members) + 1):
            part = members[:count]
            long = part[-1][2] - part[0][1]
            if long >= self.job.allow["shortest_safe"] - NEAR and all(self.thick(board, m[0], long, wide) for m in part):
                if self.grouped(board, members[count:], wide):
                    return True
        return False

    def thick(self, board, front, long, wide):
        l, w = Fraction(long, board.length), Fraction(wide, board.width)
        left = board.thickness - board.bow * l * l - board.cup * w * w - board.twist * l * w
        return left >= front.thickness + 2 * self.job.allow["plane"] - NEAR

    def set_aside(self, pieces, start, to):
        at = start
        for a, b, long in pieces:
            at = max(at, b - long)
            demand(at <= a + NEAR, "no room for a short stretch")
            at = max(at, a - long) if long > b - a else at
            at = at + long + self.job.allow["crosscut_kerf"] if long > b - a else b + self.job.allow["crosscut_kerf"]
        demand(at - self.job.allow["crosscut_kerf"] <= to + NEAR, "no room at the far end")

    # rule 10 (a): which sections are tight, which have grown, what holds them
    def strips(self, board, section):
        return [[(tuple(blank["stretch"]), blank.get("stave", 1), blank["left"], blank["face"], self.at(blank["low"]),
                  self.at(blank["high"]), self.fronts[blank["front"]]) for blank in strip["blanks"]] for strip in section["strips"]]

    def plain(self, board, sections, written):
        steps = Steps(self.job, board, sections)
        labels = [steps.labels(k) for k in range(len(sections))]
        demand(all(labels), "a section neither tight nor grown", [(float(Fraction(a, self.unit)), float(Fraction(b, self.unit)))
                                                                   for a, b, _ in sections])
        for (start, to, strips), section in zip(sections, written["sections"]):
            for strip, as_written in zip(strips, section["strips"]):
                lies = [self.at(blank["from"]) for blank in as_written["blanks"]]
                demand(any(len(p) == len(lies) and all(abs(a - b) <= NEAR for a, b in zip(p, lies))
                           for p in (steps.pushed(strip, start, to), steps.pushed_far(strip, start, to))),
                       "blanks not pushed to one side", as_written["blanks"][0]["front"])
        demand(any(steps.held(choice) for choice in itertools.product(*labels)), "a section that is not anchored")

    # rules 2, 7 and 10 (d)
    def gluing(self, seen, stretches):
        made, lines = {}, 0
        for (stretch, stave), members in stretches.items():
            made.setdefault(stretch, {})[stave] = members
        names = []
        for stretch, staves in made.items():
            fronts = {tuple(sorted(m[0].name for m in members)) for members in staves.values()}
            demand(len(fronts) == 1, "staves of different fronts")
            fronts = [self.fronts[name] for name in next(iter(fronts))]
            names += [front.name for front in fronts]
            demand(sorted(staves) == list(range(1, len(staves) + 1)), "numbers of staves")
            widths = {stave: members[0][4] - members[0][3] for stave, members in staves.items()}
            self.widths(stretch, fronts, widths)
            lines += (len(staves) - 1) * len(fronts)
        demand(len(names) == len(set(names)), "a front made twice")
        self.lines = lines

    def widths(self, stretch, fronts, widths):
        allow, count = self.job.allow, len(widths)
        net = max(f.across for f in fronts) + allow["rough_width"]
        if count == 1:
            demand(abs(widths[1] - net) <= NEAR, "width of", stretch)
            return
        for front in fronts:
            may = front.glue if front.glue is not None else self.job.glue["allow"] and front.across >= allow["from"]
            demand(may, "glued", front.name)
        need = net + (count - 1) * allow["joint"]
        demand(sum(widths.values()) >= need - NEAR * count, "staves too narrow", stretch)
        odd = 0
        for stave, width in widths.items():
            demand(width >= allow["least_stave"] - NEAR, "least stave", stretch)
            off = width % allow["step"]
            if min(off, allow["step"] - off) > NEAR and not self.alone[stretch, stave]:
                demand(abs(sum(widths.values()) - need) <= NEAR * count, "odd width", stretch)
                odd += 1
        demand(odd <= 1, "two odd widths", stretch)

    def figures(self, feet, seen, stretches, used):
        worth, runs = self.job.worth, {}
        for name, key, board in seen:
            run = runs.setdefault(self.place[name][0], {"stretches": set(), "boards": set()})
            run["stretches"].add(key[0])
            run["boards"].add(board)
        span = lambda boards: max(b.tone for b in boards) - min(b.tone for b in boards) if boards else Fraction(0)
        kinds = lambda of: sum(max(0, len({getattr(b, of) for b in r["boards"]} - {""}) - 1) for r in runs.values())
        found = {
            "feet_used": feet, "breaks": sum(len(r["stretches"]) - 1 for r in runs.values()),
            "glue_lines": self.lines, "tone_run": sum((span(r["boards"]) for r in runs.values()), Fraction(0)), "tone_case": span(used),
            "mixed_logs": kinds("log"), "mixed_cuts": kinds("cut")}
        found["cost"] = (feet + worth["unbroken"] * found["breaks"] + worth["tone_run"] * found["tone_run"]
                         + worth["tone_case"] * found["tone_case"] + worth["mixed_log"] * found["mixed_logs"]
                         + worth["mixed_cut"] * found["mixed_cuts"])
        found["cost"] += worth["glue_line"] * self.lines
        found["made"] = len({name for name, _, _ in seen})
        return found


class Steps:
    """Whether sections of a board can be shorter, tried by moving their ends by a step."""

    def __init__(self, job, board, sections):
        self.job, self.board, self.sections = job, board, sections
        self.memo = {}
        self.step = self.unit_step()

    def unit_step(self):
        allow, board = self.job.allow, self.board
        values = [board.trim_hook, board.length - board.trim_far, allow["crosscut_kerf"], allow["rough_length"],
                  allow["shortest_safe"], self.job.keep or 0, allow["longest_skip"]]
        values += [f.along for f in self.job.fronts()] + [f.space_after for f in self.job.fronts()]
        values += [v for d in board.defects for v in (d.start - allow["clear"], d.to + allow["clear"])]
        return math.gcd(*values)

    def round(self, value):
        return round(Fraction(value, self.step)) * self.step

    def fits(self, k, start, to):
        return all(self.strip_fits(tuple(strip), self.round(start), self.round(to)) for strip in self.sections[k][2])

    def strip_fits(self, strip, start, to):
        """Whether a strip's blanks can lie anywhere between these ends, tried place by place."""
        key = (strip, start, to)
        if key in self.memo:
            return self.memo[key]
        answer = start <= to and self.pieces_fit(self.by_piece(strip), start, to)
        self.memo[key] = answer
        return answer

    def by_piece(self, strip):
        return [list(members) for _, members in itertools.groupby(strip, key=lambda blank: blank[:2])]

    def pieces_fit(self, pieces, start, to):
        if not pieces:
            return True
        best = None
        for spans in self.placings(pieces[0], start, to):
            end = spans[-1][1]
            if end - spans[0][0] < self.job.allow["shortest_safe"]:
                end = max(end, start + self.job.allow["shortest_safe"])
            best = end if best is None else min(best, end)
        if best is None or best > to:
            return False
        return self.pieces_fit(pieces[1:], best + self.job.allow["crosscut_kerf"], to)

    def placings(self, piece, start, to):
        """All places of a piece's blanks between two ends, its first blank as near the start as any."""
        check = Plan(self.job, [])

        def go(number, at, most):
            if number == len(piece):
                yield []
                return
            _, _, left, face, low, high, front = piece[number]
            long = front.along + self.job.allow["rough_length"]
            for a in range(at, min(to - long, most) + 1, self.step):
                if all(d.side not in ("both", face) or a + long <= d.start - self.job.allow["clear"]
                       or a >= d.to + self.job.allow["clear"] or high <= d.low - self.job.allow["clear"] + NEAR
                       or low >= d.high + self.job.allow["clear"] - NEAR for d in self.board.defects):
                    gap, skip = self.job.allow["crosscut_kerf"], to
                    if number + 1 < len(piece):
                        earlier = front if left == "hook" else piece[number + 1][6]
                        if self.job.between == "as_built":
                            gap = max(gap, earlier.space_after - self.job.allow["rough_length"])
                        if not front.alike:
                            skip = a + long + self.job.allow["longest_skip"] - self.job.allow["rough_length"]
                    for rest in go(number + 1, a + long + gap, skip):
                        yield [(a, a + long, front, low, high, left, face)] + rest

        for spans in go(0, start, to):
            members = [(f, a, b, low, high, left, face) for a, b, f, low, high, left, face in spans]
            try:
                check.stretch(self.board, members)
            except Broken:
                continue
            yield spans

    # rule 10 (b)
    def pushed(self, strip, start, to):
        """Where blanks begin when each lies as near the one before as its stretch allows."""
        at, found = self.round(start), []
        for piece in self.by_piece(tuple(strip)):
            spans = next(self.placings(piece, at, self.round(to)), None)
            if spans is None:
                return []
            found += [span[0] for span in spans]
            end = spans[-1][1]
            if end - spans[0][0] < self.job.allow["shortest_safe"]:
                end = max(end, at + self.job.allow["shortest_safe"])
            at = end + self.job.allow["crosscut_kerf"]
        return found

    def pushed_far(self, strip, start, to):
        """The same from the far end: the board is turned end for end, and the strip with it."""
        long = self.board.length
        board = dataclasses.replace(self.board, defects=tuple(
            dataclasses.replace(d, start=long - d.to, to=long - d.start) for d in self.board.defects))
        turned = Steps(self.job, board, [])
        turned.step = self.step
        strip = [b[:2] + ({"hook": "far", "far": "hook"}[b[2]],) + b[3:] for b in strip[::-1]]
        places = turned.pushed(strip, long - to, long - start)
        sizes = [b[6].along + self.job.allow["rough_length"] for b in strip]
        return [long - a - size for a, size in zip(places, sizes)][::-1]

    # what each section can be called: (hook end, far end), N not grown, G grown over all, K to keep_offcut
    def labels(self, k):
        start, to, _ = self.sections[k]
        slack_hook, slack_far = self.fits(k, start + self.step, to), self.fits(k, start, to - self.step)
        if not slack_hook and not slack_far:
            return [("N", "N")]
        found = []
        reaches = (self.grown_hook(k), self.grown_far(k))
        ends = [to - n * self.step for n in range(1, (to - start) // self.step + 1)]
        starts = [start + n * self.step for n in range(1, (to - start) // self.step + 1)]
        alone_far = any(self.tight(k, start, e) for e in ends)
        alone_hook = any(self.tight(k, s, to) for s in starts)
        if alone_far and reaches[1]:
            found.append(("N", "G"))
        if alone_hook and reaches[0]:
            found.append(("G", "N"))
        if reaches == (True, True) and self.fits(k, start + self.step, to - self.step):
            found.append(("G", "G"))
        if self.job.keep is not None and abs(to - start - self.job.keep) <= NEAR:
            found += [("N", "K")] * alone_far + [("K", "N")] * alone_hook
        return found

    def tight(self, k, start, to):
        return self.fits(k, start, to) and not self.fits(k, start + self.step, to) and not self.fits(k, start, to - self.step)

    def grown_hook(self, k):
        start = self.sections[k][0]
        if k == 0:
            return abs(start - self.board.trim_hook) <= NEAR
        return self.touch(k - 1)

    def grown_far(self, k):
        if k == len(self.sections) - 1:
            return abs(self.sections[k][1] - self.board.length + self.board.trim_far) <= NEAR
        return self.touch(k)

    def touch(self, k):
        return abs(self.sections[k + 1][0] - self.sections[k][1] - self.job.allow["crosscut_kerf"]) <= NEAR

    def held(self, labels):
        last = len(labels) - 1
        for k in range(last):
            if labels[k][1] != "N" and labels[k + 1][0] != "N":
                if "G" in (labels[k][1], labels[k + 1][0]):
                    return False
        anchored = set()
        for k, (hook, far) in enumerate(labels):
            start, to, _ = self.sections[k]
            if hook != "G" and (k == 0 and abs(start - self.board.trim_hook) <= NEAR or hook == "N" and self.stands(k, True)):
                anchored.add(k)
            if far != "G" and (k == last and abs(to - self.board.length + self.board.trim_far) <= NEAR
                               or far == "N" and self.stands(k, False)):
                anchored.add(k)
        for _ in labels:
            for k in range(last):
                if labels[k][1] != "G" and labels[k + 1][0] != "G" and self.touch(k) and {k, k + 1} & anchored:
                    anchored |= {k, k + 1}
        need = {k for k, label in enumerate(labels) if sorted(label) == ["G", "N"]}
        need |= {k + 1 for k in range(last) if labels[k][1] == "G"} | {k for k in range(last) if labels[k + 1][0] == "G"}
        return need <= anchored

    def stands(self, k, hook):
        """Whether a blank with no slack between it and an end stands just clear of a defect it must clear."""
        start, to, strips = self.sections[k]
        gap = self.job.allow["clear"]
        for strip in strips:
            spans = self.ideal(strip if hook else strip[::-1], hook)
            for (low, high, face), (a, b) in spans:
                a, b = (start + a, start + b) if hook else (to - b, to - a)
                near = [d for d in self.board.defects if d.side in ("both", face) and low < d.high + gap - NEAR and high > d.low - gap + NEAR]
                if a < start - NEAR or b > to + NEAR or any(a < d.to + gap - NEAR and b > d.start - gap + NEAR for d in near):
                    break
                if any(abs(a - d.to - gap) <= NEAR or abs(b - d.start + gap) <= NEAR for d in near):
                    return True
        return False

    def ideal(self, strip, hook):
        """Where blanks lie, measured from an end, on a board without defects."""
        bare = Steps(self.job, dataclasses.replace(self.board, defects=()), [])
        bare.step = self.step
        at, found = 0, []
        for piece in self.by_piece(tuple(strip)):
            if not hook:
                piece = [b[:2] + ({"hook": "far", "far": "hook"}[b[2]],) + b[3:] for b in piece]
            spans = next(bare.placings(piece, at, at + 2 * self.board.length))
            found += [((b[4], b[5], b[3]), span[:2]) for b, span in zip(piece, spans)]
            end = spans[-1][1]
            if end - spans[0][0] < self.job.allow["shortest_safe"]:
                end = max(end, at + self.job.allow["shortest_safe"])
            at = end + self.job.allow["crosscut_kerf"]
        return found
