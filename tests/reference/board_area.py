"""The greatest kept area of one board for every set of pieces, by exhaustive search over its own grid.

Part of the oracle; oracle.py says what is decided where the rules leave a choice. Positions along the
board are multiples of the greatest common divisor of all its lengths, counted from the hook end's
trim; positions across are multiples of that of all its widths, from the near edge, and where crook
sets something aside from its limits as well. All are tried.

A *piece* is a stretch, or one stave of it: blanks that follow one another in one strip.
A *way* of a strip is three arrays over the places x along the board:
  end[x]    where the strip's pieces end at the soonest when nothing of them lies before x,
  hook[x]   whether a blank with no slack between it and an end at x stands just clear of a defect,
  far[x]    the same, for pieces that end at x.
"""

import functools
import itertools
import math
from dataclasses import dataclass
from bisect import bisect_left
from fractions import Fraction

import numpy as np

NO = -(1 << 60)
SHAPES = ["NN", "NG", "GN", "GG", "NK", "KN"]  # how the hook and the far end stand, see Area.grow


@dataclass(frozen=True)
class Piece:
    """What geometry knows of a stretch or stave: pieces of equal shape are interchangeable."""

    lens: tuple     # of its blanks, in run order
    least: tuple    # gaps between them
    most: object    # widest gap, None: no limit
    width: int
    needs: tuple    # least thickness after flattening, of each blank
    steps: int = 0  # a stave that takes all the width of a crooked section: how long that is
    odd: bool = False   # its width is off the grid, being what crook leaves or what such a stave leaves missing


def ceil_nm(value):
    """Rounded up to a nanometre, in half nanometres."""
    return 2 * math.ceil(value / 2)


def crook_at(board, long):
    """What crook takes of the width of a section so long, half at each edge."""
    return ceil_nm(Fraction(board.crook * long * long, board.length ** 2))


def partitions_hold(lens, gaps, shortest, fits):
    """Whether the blanks fall into consecutive groups, each at least `shortest`, that all stay thick enough."""
    count = len(lens)
    starts = [0]
    for length, gap in zip(lens, gaps):
        starts.append(starts[-1] + length + gap)
    ends = [start + length for start, length in zip(starts, lens)]
    if ends[-1] < shortest:
        return all(fits(i, shortest) for i in range(count))
    good = [True] + [False] * count
    for last in range(count):
        for first in range(last + 1):
            long = ends[last] - starts[first]
            if good[first] and long >= shortest and all(fits(i, long) for i in range(first, last + 1)):
                good[last + 1] = True
    return good[count]


class Area:
    """One board of a job, and what can be kept of it."""

    finer = 1   # how many times finer than need be the grid is, to see that it changes nothing

    def __init__(self, job, board, pieces):
        self.job, self.board = job, board
        allow = job.allow
        self.trim = board.trim_hook
        usable = board.length - board.trim_hook - board.trim_far
        along = [usable, allow["crosscut_kerf"], allow["shortest_safe"]]
        along += [job.keep or 0]
        for piece in pieces:
            along += [*piece.lens, *piece.least] + ([piece.most] if piece.most is not None else [])
        for d in board.defects:
            along += [d.start - allow["clear"] - self.trim, d.to + allow["clear"] - self.trim]
        self.g = math.gcd(*along) // self.finer
        across = [board.width, allow["edge_trim"], allow["rip_kerf"], allow["keep_width"]]
        across += [piece.width for piece in pieces if not piece.odd]
        for d in board.defects:
            across += [d.low - allow["clear"], d.high + allow["clear"]]
        self.h = math.gcd(*across) // self.finer
        self.n = usable // self.g + 1 if usable >= 0 else 0
        self.kerf = allow["crosscut_kerf"] // self.g
        self.safe = allow["shortest_safe"] // self.g
        self.keep = None if job.keep is None else job.keep // self.g
        self.crook = board.crook > 0
        self.one_sided = any(d.side != "both" for d in board.defects)
        self.spans = [((d.start - allow["clear"] - self.trim) // self.g, (d.to + allow["clear"] - self.trim) // self.g)
                      for d in board.defects]
        self.ways, self.way_index, self.runs_memo, self.strip_memo = [], {}, {}, {}
        self.content_memo, self.slots_memo, self.set_memo = {}, {}, {}

    # -- along ---------------------------------------------------------------------------------

    @functools.cache
    def gaps(self, piece, turned):
        """All sets of gaps that rules 4 and 5 allow, in grid steps, in lexical order from the first blank on."""
        lens, least, needs = piece.lens, piece.least, piece.needs
        if turned:
            lens, least, needs = lens[::-1], least[::-1], needs[::-1]
        board, width = self.board, piece.width

        def fits(i, long):
            l, w = Fraction(long, board.length), Fraction(width, board.width)
            loss = board.bow * l * l + board.cup * w * w + board.twist * l * w
            return board.thickness - loss >= needs[i]

        most = piece.most if piece.most is not None else (self.n - 1) * self.g
        ranges = [range(gap, most + 1, self.g) for gap in least]
        found = [tuple(gap // self.g for gap in gaps) for gaps in itertools.product(*ranges)
                 if partitions_hold(lens, gaps, self.job.allow["shortest_safe"], fits)]
        return tuple(l // self.g for l in lens), found

    @functools.cache
    def placed(self, piece, turned, hit, mirrored):
        """A piece pushed to the hook end from every place: (end, clean, touch) arrays of n + 1.

        `hit` are the defects it must clear. `clean`: every blank lies where it would without defects.
        `touch`: a blank that does, with all before it, stands just clear of one of them.
        Mirrored, the board is looked at from its far end.
        """
        n, big = self.n, self.n
        lens, combos = self.gaps(piece, turned != mirrored)
        end = np.full(n + 1, big)
        clean, touch = np.zeros(n + 1, bool), np.zeros(n + 1, bool)
        if not combos:
            return end, clean, touch
        spans = [self.spans[d] for d in hit]
        if mirrored:
            spans = [(n - 1 - b, n - 1 - a) for a, b in spans]
        free = []
        for long in lens:
            p = np.arange(n)
            ok = p + long <= n - 1
            for a, b in spans:
                ok &= (p >= b) | (p + long <= a)
            free.append(np.concatenate([ok, np.zeros(n + 1, bool)]))
        best = {}
        ideal = None
        # For every place of the first blank: the first set of gaps in lexical order, and the soonest end.
        soonest = np.full(n + 1, big)
        chosen = np.full(n + 1, -1)
        offsets = []
        for number, gaps in enumerate(combos):
            offs, at = [0], 0
            for long, gap in zip(lens, gaps):
                at += long + gap
                offs.append(at)
            offsets.append(offs)
            if offs[-1] > n:
                continue
            ok = np.ones(n, bool)
            for flags, off in zip(free, offs):
                ok &= flags[off:off + n]
            total = offs[-1] + lens[-1]
            where = np.flatnonzero(ok)
            fresh = where[chosen[where] < 0]
            chosen[fresh] = number
            soonest[where] = np.minimum(soonest[where], where + total)
        ideal = offsets[0]
        whole = max(ideal[-1] + lens[-1], self.safe if self.short_at(lens, ideal) else 0)
        following = big
        for s in range(n - 1, -1, -1):
            if chosen[s] >= 0:
                following = min(following, soonest[s])
                first = s
            if following >= big:
                continue
            # Where the pushed piece lies: `first` is the nearest place of its first blank.
            offs = offsets[chosen[first]]
            last = following
            if self.short_at(lens, offs):
                last = max(last, s + self.safe)
            if last > n - 1:
                continue
            end[s] = last
            pure = True
            for off, dream, long in zip(offs, ideal, lens):
                pure &= first + off == s + dream
                if pure and any(first + off == b or first + off + long == a for a, b in spans):
                    touch[s] = True
            clean[s] = pure and last == s + whole
        return end, clean, touch

    def short_at(self, lens, offs):
        return offs[-1] + lens[-1] < self.safe

    def way(self, sequence):
        """The way of a strip: its pieces from the hook end on, each (piece, turned, defects hit)."""
        if sequence in self.runs_memo:
            return self.runs_memo[sequence]
        end, hook = self.chain([self.placed(p, t, hit, False) for p, t, hit in sequence])
        back, far = self.chain([self.placed(p, t, hit, True) for p, t, hit in reversed(sequence)])
        far = np.concatenate([far[:self.n][::-1], [False]])
        answer = None
        if (end[:self.n] < self.n).any():
            key = (end.tobytes(), hook.tobytes(), far.tobytes())
            if key not in self.way_index:
                self.way_index[key] = len(self.ways)
                self.ways.append((end, hook, far))
            answer = self.way_index[key]
        self.runs_memo[sequence] = answer
        return answer

    def chain(self, parts):
        n = self.n
        at = np.arange(n + 1)
        pure, hooked = np.ones(n + 1, bool), np.zeros(n + 1, bool)
        for number, (end, clean, touch) in enumerate(parts):
            if number:
                at = np.minimum(at + self.kerf, n)
            hooked |= pure & touch[at]
            pure &= clean[at]
            at = end[at]
        return at, hooked

    # -- across --------------------------------------------------------------------------------

    def hits(self, piece_width, low, face):
        """The defects a blank of this width must clear, its low edge here and this face showing."""
        clear = self.job.allow["clear"]
        return tuple(i for i, d in enumerate(self.board.defects)
                     if (d.side == "both" or d.side == face)
                     and low < d.high + clear and low + piece_width > d.low - clear)

    def orders(self, strip):
        """Every order and direction of a strip's pieces."""
        seen = set()
        for order in itertools.permutations(strip):
            if order in seen:
                continue
            seen.add(order)
            turns = [(False, True) if (p.lens, p.needs, p.least) != (p.lens[::-1], p.needs[::-1], p.least[::-1])
                     else (False,) for p in order]
            for turned in itertools.product(*turns):
                yield order, turned

    def strip_ways(self, strip, low):
        """All ways of a strip with these pieces and its low edge here."""
        wide = max(piece.width for piece in strip)
        faces = ("up", "down") if self.one_sided else ("up",)
        choices = []
        for piece in strip:
            lows = {low, low + wide - piece.width}
            choices.append(tuple(sorted({self.hits(piece.width, y, face) for y in lows for face in faces})))
        key = (strip, tuple(choices))
        if key not in self.strip_memo:
            found = set()
            indices = range(len(strip))
            by_piece = {}
            for piece, choice in zip(strip, choices):
                by_piece[piece] = choice
            for order, turned in self.orders(strip):
                for hit in itertools.product(*(by_piece[p] for p in order)):
                    found.add(self.way(tuple(zip(order, turned, hit))))
            found.discard(None)
            self.strip_memo[key] = frozenset(found)
        return self.strip_memo[key]

    def crook_at(self, long):
        """What crook takes of the width of a section so long, half at each edge."""
        return crook_at(self.board, long)

    @functools.cache
    def limits(self, steps):
        """The lowest and highest place across in a section of so many grid steps."""
        half = self.crook_at(steps * self.g) // 2
        trim = self.job.allow["edge_trim"] + half
        return trim, self.board.width - trim

    def places(self, strip, steps, odd=()):
        """way -> sorted places of the strip's low edge, in a section of so many steps.

        Strips of odd widths may lie between it and what it is pushed against.
        """
        key = (strip, steps if self.crook else None, odd)
        if key in self.slots_memo:
            return self.slots_memo[key]
        wide = max(piece.width for piece in strip)
        low, high = self.limits(steps)
        anchors = {0}
        if self.crook:
            anchors |= {low, high - wide}
        if odd:
            anchors |= {high - wide, -wide}
            for width in odd:
                anchors |= {a + sign * width for a in anchors for sign in (1, -1)}
        tried = set()
        for anchor in anchors:
            tried |= set(range(low + (anchor - low) % self.h, high - wide + 1, self.h))
        found = {}
        for y in sorted(tried):
            for way in self.strip_ways(strip, y):
                found.setdefault(way, []).append(y)
        self.slots_memo[key] = found
        return found

    def edge(self, wide):
        """How much of an edge so wide is kept, across."""
        wide -= self.job.allow["rip_kerf"]
        return wide if wide >= self.job.allow["keep_width"] else 0

    def content(self, pieces, steps):
        """Sorted ways of a section's strips -> greatest width kept at its two edges, in a section of so many steps."""
        key = (pieces, steps if self.crook else None)
        if key in self.content_memo:
            return self.content_memo[key]
        found = {}
        if any(piece.steps and piece.steps != steps * self.g for piece in pieces):
            return found
        odd = tuple(sorted(piece.width for piece in pieces if piece.odd))
        low, high = self.limits(steps)
        rip = self.job.allow["rip_kerf"]
        for strips in ordered_partitions(pieces):
            wide = [max(p.width for p in strip) for strip in strips]
            if sum(wide) + rip * (len(wide) - 1) > high - low:
                continue
            slots = [self.places(strip, steps, odd) for strip in strips]
            for ways in itertools.product(*slots):
                kept = self.stack([slot[way] for slot, way in zip(slots, ways)], wide)
                if kept is None:
                    continue
                name = tuple(sorted(set(ways)))
                if kept[0] > found.get(name, (-1,))[0]:
                    found[name] = (kept[0], strips, ways, kept[1])
        self.content_memo[key] = found
        return found

    def stack(self, lows, wide):
        """The greatest width kept beside strips stacked from the near edge on, and their low edges."""
        rip, best = self.job.allow["rip_kerf"], None
        for y in lows[0]:
            at = [y]
            for k in range(1, len(lows)):
                i = bisect_left(lows[k], at[-1] + wide[k - 1] + rip)
                if i == len(lows[k]):
                    break
                at.append(lows[k][i])
            else:
                kept = self.edge(y) + self.edge(self.board.width - at[-1] - wide[-1])
                if best is None or kept > best[0]:
                    best = (kept, at)
        return best

    # -- sections ------------------------------------------------------------------------------

    @functools.cache
    def names(self, pieces):
        """Names of sections with these pieces -> width kept by number of steps (or one number)."""
        if not self.crook:
            return {name: best[0] for name, best in self.content(pieces, 0).items()}
        found = {}
        least = max(sum(p.lens) + sum(p.least) for p in pieces) // self.g
        fixed = {piece.steps // self.g for piece in pieces if piece.steps}
        for steps in fixed if len(fixed) == 1 else () if fixed else range(least, self.n):
            for name, best in self.content(pieces, steps).items():
                found.setdefault(name, np.full(self.n, -1, dtype=np.int64))[steps] = best[0]
        return found

    def together(self, name):
        parts = [self.ways[w] for w in name]
        end, hook, far = parts[0]
        for more in parts[1:]:
            end = np.maximum(end, more[0])
            hook, far = hook | more[1], far | more[2]
        return end, hook, far

    @functools.cache
    def sections(self, pieces):
        """(shape, anchored) -> kept edge area of a section with these pieces, by its two ends."""
        n = self.n
        merged = {}
        for name, kept in self.names(pieces).items():
            end, hook, far = self.together(name)
            if not (end[:n] < n).any():
                continue
            key = (end.tobytes(), hook.tobytes(), far.tobytes())
            if key in merged:
                merged[key][3] = np.maximum(merged[key][3], kept)
            else:
                merged[key] = [end, hook, far, np.array(kept)]
        tables = {}
        for end, hook, far, kept in merged.values():
            for shape, anchored, i, j in self.grow(end, hook, far, kept):
                self.enter(tables, (shape, anchored), i, j, kept)
        return tables

    def enter(self, tables, key, i, j, kept):
        if len(i) == 0:
            return
        if key not in tables:
            tables[key] = np.full((self.n, self.n), NO, dtype=np.int64)
        steps = j - i
        wide = kept[steps] if kept.ndim else np.full(len(i), kept)
        value = np.where(wide < 0, NO, wide * steps)
        if self.keep is None:
            value = np.where(wide < 0, NO, 0)
        else:
            value = np.where((wide >= 0) & (steps < self.keep), 0, value)
        np.maximum.at(tables[key], (i, j), value)

    def grow(self, end, hook, far, kept):
        """Every section of rule 10 (a): its shape, whether its own ends anchor it, its two ends.

        Shapes name the hook end and the far end: N has not grown, G has grown over all the slack there,
        K has grown until the section is just `keep_offcut` long.
        """
        n = self.n
        x = np.arange(n)
        end, after = end[:n], end[1:]
        tight = (end < n) & (after > end)
        i, j = x[tight], end[tight]
        hooked = hook[:n] | (x == 0)
        farred = far[:n] | (x == n - 1)
        yield from split("NN", i, j, hooked[i] | farred[j])
        if self.keep is None or not (kept > 0).any():
            return
        keep = self.keep
        rows, columns = np.meshgrid(x, x, indexing="ij")
        long = columns - rows >= keep
        starts = np.full(n, n)   # tight sections by their hook end
        starts[i] = j
        ends = np.full(n, -1)    # and by their far end
        ends[j] = i
        r, c = np.nonzero(long & (columns > starts[:, None]))
        yield from split("NG", r, c, hooked[r])
        r, c = np.nonzero(long & (rows < ends[None, :]))
        yield from split("GN", r, c, farred[c])
        r, c = np.nonzero(long & (columns > after[:, None]))
        yield "GG", False, r, c
        m = (j - i < keep) & (i + keep <= n - 1)
        yield from split("NK", i[m], i[m] + keep, hooked[i[m]] | (i[m] + keep == n - 1))
        m = (j - i < keep) & (j - keep >= 0)
        yield from split("KN", j[m] - keep, j[m], farred[j[m]] | (j[m] == keep))

    # -- the board -----------------------------------------------------------------------------

    def end_area(self, steps):
        steps = steps - self.kerf
        if self.keep is None or steps < self.keep or self.board.width < self.job.allow["keep_width"]:
            return 0
        return steps * self.board.width

    def kept(self, pieces):
        """The greatest kept area of the board when just these pieces come from it, or None; in grid step x half nm."""
        best = self.last(pieces)
        return None if best is None else best[0]

    def last(self, pieces):
        best = None
        ends = np.array([self.end_area(self.n - 1 - j) for j in range(self.n)], dtype=np.int64)
        for (far, flag), values in self.states(pieces).items():
            if flag == "needs":
                continue
            total = np.where(values > NO // 2, values + ends, NO)
            if far == "G":
                total[:self.n - 1] = NO
            at = int(total.argmax())
            if total[at] > NO // 2 and (best is None or total[at] > best[0]):
                best = (int(total[at]), far, flag, at)
        return best

    @functools.cache
    def states(self, pieces):
        """(far end's shape, flag) -> greatest kept area so far by the place of the last section's far end.

        The flag tells of the sections that lie a kerf from one another, up to the last: `free` (nothing asks
        them to be anchored, nothing anchors them), `needs` (asked, not anchored yet), `held` (anchored).
        """
        found = {}
        if self.n == 0:
            return found
        for content, rest in splits(pieces):
            for (shape, anchored), table in self.sections(content).items():
                for key, row, _ in self.before(rest, shape, anchored):
                    values = (row[:, None] + table).max(axis=0)
                    values = np.where(values > NO // 2, values, NO)
                    found[key] = np.maximum(found[key], values) if key in found else values
        return found

    def before(self, rest, shape, anchored):
        """What may stand before a section of this shape: the state it leads to, value by its hook end, whence."""
        n = self.n
        hook, far = shape
        asks = shape in ("NG", "GN")
        own = "held" if anchored else "needs" if asks else "free"
        if not rest:
            row = np.array([self.end_area(i) for i in range(n)], dtype=np.int64)
            if hook == "G":
                row[1:] = NO
            yield from close(far, own, row, None)
            return
        for (was, flag), values in self.states(rest).items():
            touching = np.full(n, NO, dtype=np.int64)
            touching[self.kerf:] = values[:n - self.kerf]
            if hook == "G":
                # This section has grown to a kerf from the one before, which must be anchored.
                if was == "N" and flag == "held":
                    yield from close(far, own, touching, (was, flag, True))
                continue
            if was == "G":
                # The one before has grown to a kerf from this one, which must be anchored.
                if hook == "N":
                    yield from close(far, "held" if own == "held" else "needs", touching, (was, flag, True))
                continue
            if flag != "needs":
                apart = np.maximum.accumulate(touching)
                yield from close(far, own, apart, (was, flag, False))
            joined = "held" if "held" in (own, flag) else "needs" if "needs" in (own, flag) else "free"
            yield from close(far, joined, touching, (was, flag, True))


def close(far, flag, row, whence):
    """A far end that has grown ends the sections a kerf from one another: what asks must be held by then."""
    if far == "G":
        if flag != "needs":
            yield ("G", "held"), row, whence
    else:
        yield (far, flag), row, whence


def split(shape, i, j, anchored):
    yield shape, False, i[~anchored], j[~anchored]
    yield shape, True, i[anchored], j[anchored]


@functools.cache
def splits(pieces):
    """Every (section, rest) of a sorted tuple of pieces; the section not empty."""
    found = set()
    count = len(pieces)
    for bits in range(1, 1 << count):
        found.add((tuple(pieces[i] for i in range(count) if bits >> i & 1),
                   tuple(pieces[i] for i in range(count) if not bits >> i & 1)))
    return sorted(found, key=repr)


@functools.cache
def ordered_partitions(pieces):
    """Every way to deal sorted pieces to strips, the strips in order across."""
    if not pieces:
        return [()]
    found = set()
    for strip, rest in splits(pieces):
        for others in ordered_partitions(rest):
            found.add((strip,) + others)
    return sorted(found, key=repr)


def forget():
    """Drops what is remembered of earlier boards."""
    for method in (Area.gaps, Area.placed, Area.limits, Area.names, Area.sections, Area.states, splits, ordered_partitions):
        method.cache_clear()
