"""One arrangement that keeps the greatest area: the search of board_area.py walked back."""

import itertools

import numpy as np

from board_area import NO, splits


def plan(area, pieces):
    """Sections from the hook end on: (from, to, [(low, high, [(piece, face, turned, low, [blank from, to])])])."""
    best = area.last(pieces)
    if best is None:
        return None
    value, far, flag, at = best
    value = int(area.states(pieces)[far, flag][at])
    sections = []
    while pieces:
        pieces, (content, i, j, inner), (value, far, flag, at) = step(area, pieces, value, far, flag, at)
        sections.append(section(area, content, i, j, inner))
    return sections[::-1]


def step(area, pieces, value, far, flag, at):
    """The last section of a state of this value, and the state before it."""
    for content, rest in splits(pieces):
        for (shape, anchored), table in area.sections(content).items():
            for key, row, whence in area.before(rest, shape, anchored):
                if key != (far, flag):
                    continue
                total = row + table[:, at]
                for i in np.flatnonzero((total == value) & (row > NO // 2) & (table[:, at] > NO // 2)):
                    i = int(i)
                    inner = (shape, anchored, int(table[i, at]))
                    if whence is None:
                        return (), (content, i, at, inner), (0, None, None, None)
                    was, before, touching = whence
                    values = area.states(rest)[was, before]
                    reach = [i - area.kerf] if touching else range(i - area.kerf, -1, -1)
                    k = next(k for k in reach if values[k] == row[i])
                    return rest, (content, i, at, inner), (int(row[i]), was, before, k)
    raise AssertionError("no way back")


def section(area, content, i, j, inner):
    shape, anchored, value = inner
    for name, kept in area.names(content).items():
        end, hook, far = area.together(name)
        kept = np.array(kept)
        wide = int(kept[j - i]) if kept.ndim else int(kept)
        if wide < 0 or (wide * (j - i) if area.keep is not None and j - i >= area.keep else 0) != value:
            continue
        for s, a, rows, columns in area.grow(end, hook, far, kept):
            if (s, a) == (shape, anchored) and ((rows == i) & (columns == j)).any():
                _, strips, ways, lows = area.content(content, j - i)[name]
                made = [strip(area, s, w, y, i, j) for s, w, y in zip(strips, ways, lows)]
                return place(area, i), place(area, j), shape, made
    raise AssertionError("no such section")


def strip(area, pieces, way, low, i, j):
    wide = max(p.width for p in pieces)
    faces = ("up", "down") if area.one_sided else ("up",)
    for order, turned in area.orders(pieces):
        options = []
        for piece in order:
            lows = sorted({low, low + wide - piece.width})
            options.append([(y, face) for y in lows for face in faces])
        for choice in itertools.product(*options):
            hits = [area.hits(p.width, y, face) for p, (y, face) in zip(order, choice)]
            if area.way(tuple(zip(order, turned, hits))) == way:
                blanks = push(area, list(zip(order, turned, hits)), i, j)
                return low, low + wide, [
                    (p, face, t, y, [(place(area, a), place(area, b)) for a, b in spans])
                    for (p, t, _), (y, face), spans in zip(zip(order, turned, hits), choice, blanks)]
    raise AssertionError("no such strip")


def place(area, i):
    return int(area.trim + i * area.g)


def push(area, sequence, i, j):
    """The blanks of each piece, pushed to the hook end."""
    at, found = i, []
    for number, (piece, turned, hit) in enumerate(sequence):
        if number:
            at += area.kerf
        lens, combos = area.gaps(piece, turned)
        spans = [area.spans[d] for d in hit]
        got = None
        for p in range(at, j + 1):
            for gaps in combos:
                q, blanks = p, []
                for k, long in enumerate(lens):
                    blanks.append((q, q + long))
                    q += long + (gaps[k] if k < len(gaps) else 0)
                if blanks[-1][1] <= j and all(a >= d or b <= c for a, b in blanks for c, d in spans):
                    got = blanks
                    break
            if got:
                break
        found.append(got)
        at = max(got[-1][1], at + area.safe if got[-1][1] - got[0][0] < area.safe else 0)
    return found
