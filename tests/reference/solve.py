#!/usr/bin/env python3
"""Small jobs as a plain model for a general solver, and the optimum it finds.

Writes `expected.json` beside itself: the jobs, the least cost of each in board feet, and the
seconds the solver took. `tests/planning/reference.rs` reads it and plans the same jobs.

    python3 -m venv venv && venv/bin/pip install ortools
    venv/bin/python tests/reference/solve.py            # all jobs, some minutes
    venv/bin/python tests/reference/solve.py --jobs 4   # fewer

The jobs are drawn from a fixed seed, so that a second run writes the same jobs and optima; only
the seconds differ. They are invented.

The model is a person's first idea, not a copy of the optimiser: every front has a board, a
section, a strip and two coordinates, all of them integer variables in eighths of an inch; the
rules of cutting are constraints between them, and OR-Tools CP-SAT does the rest. There are no
patterns and no columns.

What the jobs leave out, so that the model stays plain: fronts in one piece, no crook (so that
the best cuts lie on whole eighths), `shortest_safe = 0` (so that each front is flattened by
itself), and equal heights within a run. What is in: breaks, both tone spreads, skips, either
direction, defects on one face or through, warp, several sections and strips, blanks narrower
than their strip, kept ends and kept edges.

At most two strips of a section and four sections of a board are modelled; the narrowest blank
is 4 1/4 in and the shortest 19 in, no board is wider than 9 in or longer than 96 in, so that
more never fit.
"""

import argparse
import json
import pathlib
import random

from ortools.sat.python import cp_model

EIGHTH = 8
ALLOW = {  # inches, all whole eighths
    "crosscut_kerf": 0.125,
    "rip_kerf": 0.125,
    "end_trim": 2.0,
    "edge_trim": 0.125,
    "rough_length": 1.0,
    "rough_width": 0.25,
    "plane": 0.03125,
    "clear": 0.25,
    "longest_skip": 2.0,
    "shortest_safe": 0.0,
    "keep_offcut": 24.0,
    "keep_width": 4.0,
}
# One board foot in the objective: eighth x eighth x quarter inch.
FOOT = 144 * EIGHTH * EIGHTH * 4


def eighths(inches):
    whole = round(inches * EIGHTH)
    assert abs(whole / EIGHTH - inches) < 1e-9, inches
    return whole


def draw_job(rng, name, fronts, boards):
    """An invented job whose sizes are whole eighths (of the rough blanks: quarters)."""
    runs = []
    left = fronts
    while left:
        count = min(left, rng.randint(1, 4))
        runs.append(count)
        left -= count
    rows = []
    for run, count in enumerate(runs, 1):
        height = rng.randint(16, 22) / 4
        thickness = rng.choice([0.75, 0.75, 0.875])
        for place in range(1, count + 1):
            rows.append({
                "front": f"R{run}.{place}",
                "run": f"R{run}",
                "width": rng.randint(36, 60) / 2,
                "height": height,
                "thickness": thickness,
            })
    pile = []
    for index in range(1, boards + 1):
        length, width = rng.randint(120, 192) / 2, rng.randint(20, 36) / 4
        defects = []
        for _ in range(rng.choice([0, 0, 1, 1, 2])):
            size = rng.randint(4, 12) / 8
            start = rng.randint(16, int(length * 8) - 32) / 8
            low = rng.randint(0, int((width - size) * 8)) / 8
            defects.append({
                "from": start, "to": start + size, "low": low, "high": low + size,
                "side": rng.choice(["both", "up", "down"]),
            })
        pile.append({
            "board": f"B{index}",
            "length": length,
            "width": width,
            "quarters": rng.choice([4, 4, 4, 5, 5, 8]),
            "tone": rng.randint(4, 14) / 2,
            "bow": rng.randint(0, 12) / 32,
            "cup": rng.randint(0, 4) / 32,
            "twist": rng.randint(0, 4) / 32,
            "defects": defects,
        })
    worth = {
        "unbroken": rng.choice([1.0, 2.0, 4.0]),
        "tone_run": rng.choice([0.25, 0.5, 1.0]),
        "tone_case": rng.choice([0.0, 0.25, 0.5]),
        "glue_line": 2.0,
    }
    return {"name": name, "allowances": ALLOW, "worth": worth, "boards": pile, "fronts": rows}


def thick_enough(front, board):
    """Rule 5 for a blank milled by itself."""
    along = (front["width"] + ALLOW["rough_length"]) / board["length"]
    across = (front["height"] + ALLOW["rough_width"]) / board["width"]
    loss = board["bow"] * along**2 + board["cup"] * across**2 + board["twist"] * along * across
    return board["quarters"] / 4 - loss >= front["thickness"] + 2 * ALLOW["plane"] - 1e-9


class Model:
    """All variables and constraints of one job."""

    def __init__(self, job):
        self.job, self.m = job, cp_model.CpModel()
        self.allow = {key: eighths(value) for key, value in ALLOW.items() if key != "plane"}
        self.long = [eighths(f["width"] + ALLOW["rough_length"]) for f in job["fronts"]]
        self.wide = [eighths(f["height"] + ALLOW["rough_width"]) for f in job["fronts"]]
        self.length = [eighths(b["length"]) for b in job["boards"]]
        self.width = [eighths(b["width"]) for b in job["boards"]]
        self.used = [self.m.new_bool_var(f"used{b}") for b in range(len(job["boards"]))]
        self.slots = {}
        self.kept = []
        for b in range(len(job["boards"])):
            self.sections(b)
        self.fronts()
        self.runs()
        self.cost()

    def sections(self, b):
        """Sections in order along a board, strips in order across a section, what is kept."""
        m, allow = self.m, self.allow
        usable = self.length[b] - 2 * allow["end_trim"]
        kerf = allow["crosscut_kerf"]
        most = (usable + kerf) // (min(self.long) + kerf)
        trim, end = allow["end_trim"], self.length[b] - allow["end_trim"]
        before = None
        last = m.new_int_var(trim, end, f"last{b}")
        for s in range(most):
            used = m.new_bool_var(f"section{b},{s}")
            start = m.new_int_var(trim, end, f"from{b},{s}")
            to = m.new_int_var(trim, end, f"to{b},{s}")
            m.add(start <= to)
            m.add(last >= to).only_enforce_if(used)
            if before is None:
                m.add(used == self.used[b])
                self.end_kept(b, self.used[b], start - kerf - trim)
            else:
                m.add_implication(used, before[0])
                m.add(start >= before[1] + kerf).only_enforce_if(used)
            before = (used, to)
            self.strips(b, s, used, start, to)
        self.end_kept(b, self.used[b], end - last - kerf)

    def end_kept(self, b, used, long):
        if self.width[b] < self.allow["keep_width"]:
            return
        keep = self.m.new_bool_var("")
        kept = self.m.new_int_var(0, self.length[b], "")
        self.m.add_implication(keep, used)
        self.m.add(long >= self.allow["keep_offcut"]).only_enforce_if(keep)
        self.m.add(kept <= long).only_enforce_if(keep)
        self.m.add(kept == 0).only_enforce_if(keep.negated())
        self.kept.append((b, kept * self.width[b]))

    def strips(self, b, s, used, start, to):
        m, allow = self.m, self.allow
        low_most, high_most = allow["edge_trim"], self.width[b] - allow["edge_trim"]
        strips = []
        for r in range(2):
            strip_used = used if r == 0 else m.new_bool_var(f"strip{b},{s},{r}")
            low = m.new_int_var(low_most, high_most, "")
            high = m.new_int_var(low_most, high_most, "")
            m.add(low <= high)
            if r == 1:
                m.add_implication(strip_used, used)
                m.add(low >= strips[0][2] + allow["rip_kerf"]).only_enforce_if(strip_used)
                # An unused second strip lies at the first's far edge.
                m.add(high == strips[0][2]).only_enforce_if(strip_used.negated())
            strips.append((strip_used, low, high))
            self.slots[b, s, r] = (strip_used, start, to, low, high)
        rip = allow["rip_kerf"]
        self.edge_kept(b, used, to - start, strips[0][1] - rip)
        self.edge_kept(b, used, to - start, self.width[b] - strips[1][2] - rip)

    def edge_kept(self, b, used, long, wide):
        """All of an edge at least so long and so wide, or nothing of it."""
        m, allow = self.m, self.allow
        if self.width[b] - min(self.wide) < allow["keep_width"]:
            return
        keep = m.new_bool_var("")
        kept_long = m.new_int_var(0, self.length[b], "")
        kept_wide = m.new_int_var(0, self.width[b], "")
        area = m.new_int_var(0, self.length[b] * self.width[b], "")
        m.add_implication(keep, used)
        m.add(long >= allow["keep_offcut"]).only_enforce_if(keep)
        m.add(wide >= allow["keep_width"]).only_enforce_if(keep)
        m.add(kept_long <= long).only_enforce_if(keep)
        m.add(kept_wide <= wide).only_enforce_if(keep)
        m.add(kept_long == 0).only_enforce_if(keep.negated())
        m.add(kept_wide == 0).only_enforce_if(keep.negated())
        m.add_multiplication_equality(area, [kept_long, kept_wide])
        self.kept.append((b, area))

    def fronts(self):
        """Each front in one slot, within it, a kerf from others and clear of defects."""
        m, job = self.m, self.job
        self.at, self.x, self.y, self.face, self.far = {}, [], [], [], []
        intervals = {slot: [] for slot in self.slots}
        for f, front in enumerate(job["fronts"]):
            self.x.append(m.new_int_var(0, max(self.length), f"x{f}"))
            self.y.append(m.new_int_var(0, max(self.width), f"y{f}"))
            self.face.append(m.new_bool_var(f"down{f}"))
            self.far.append(m.new_bool_var(f"far{f}"))
            for slot, (used, start, to, low, high) in self.slots.items():
                if not thick_enough(front, job["boards"][slot[0]]):
                    continue
                here = self.at[f, slot] = m.new_bool_var("")
                m.add_implication(here, used)
                m.add(self.x[f] >= start).only_enforce_if(here)
                m.add(self.x[f] + self.long[f] <= to).only_enforce_if(here)
                m.add(self.y[f] >= low).only_enforce_if(here)
                m.add(self.y[f] + self.wide[f] <= high).only_enforce_if(here)
                size = self.long[f] + self.allow["crosscut_kerf"]
                intervals[slot].append(m.new_optional_fixed_size_interval_var(self.x[f], size, here, ""))
            m.add_exactly_one(var for (g, _), var in self.at.items() if g == f)
        for slot, (used, *_) in self.slots.items():
            m.add_no_overlap(intervals[slot])
            m.add_bool_or([v for (_, s), v in self.at.items() if s == slot] + [used.negated()])
        self.on = {
            (f, b): self.any_of([v for (g, slot), v in self.at.items() if g == f and slot[0] == b])
            for f in range(len(job["fronts"])) for b in range(len(job["boards"]))
        }
        for (f, b), on in self.on.items():
            for defect in job["boards"][b]["defects"]:
                self.clear_of(f, on, defect)

    def any_of(self, variables):
        """A variable that is true when one of these, at most one of which is, is."""
        either = self.m.new_bool_var("")
        self.m.add(sum(variables) == either)
        return either

    def clear_of(self, f, on, defect):
        m, clear = self.m, self.allow["clear"]
        ways = [m.new_bool_var("") for _ in range(4)]
        m.add(self.x[f] + self.long[f] <= eighths(defect["from"]) - clear).only_enforce_if(ways[0])
        m.add(self.x[f] >= eighths(defect["to"]) + clear).only_enforce_if(ways[1])
        m.add(self.y[f] + self.wide[f] <= eighths(defect["low"]) - clear).only_enforce_if(ways[2])
        m.add(self.y[f] >= eighths(defect["high"]) + clear).only_enforce_if(ways[3])
        if defect["side"] == "up":
            ways.append(self.face[f])
        if defect["side"] == "down":
            ways.append(self.face[f].negated())
        m.add_bool_or(ways + [on.negated()])

    def runs(self):
        """Neighbours are joined or broken; joined ones lie in one slot, a small gap apart."""
        m, job, allow = self.m, self.job, self.allow
        self.breaks = []
        least, most = allow["crosscut_kerf"], allow["longest_skip"] - allow["rough_length"]
        # No foreign blank fits into the widest gap.
        assert most < min(self.long)
        for g in range(1, len(job["fronts"])):
            f = g - 1
            if job["fronts"][f]["run"] != job["fronts"][g]["run"]:
                continue
            joined = m.new_bool_var(f"joined{f},{g}")
            self.breaks.append(joined.negated())
            for slot in self.slots:
                pair = [self.at.get((h, slot)) for h in (f, g)]
                if any(var is None for var in pair):
                    for var in pair:
                        if var is not None:
                            m.add_implication(joined, var.negated())
                else:
                    m.add(pair[0] == pair[1]).only_enforce_if(joined)
            m.add(self.face[f] == self.face[g]).only_enforce_if(joined)
            m.add(self.far[f] == self.far[g]).only_enforce_if(joined)
            m.add(self.y[f] == self.y[g]).only_enforce_if(joined)
            for first, second, when in ((f, g, self.far[f].negated()), (g, f, self.far[f])):
                gap = self.x[second] - self.x[first] - self.long[first]
                m.add(gap >= least).only_enforce_if([joined, when])
                m.add(gap <= most).only_enforce_if([joined, when])

    def spread(self, uses):
        """Darkest less palest of the boards used, in half steps."""
        dark, pale = self.m.new_int_var(0, 20, ""), self.m.new_int_var(0, 20, "")
        for b, use in enumerate(uses):
            tone = round(2 * self.job["boards"][b]["tone"])
            self.m.add(dark >= tone).only_enforce_if(use)
            self.m.add(pale <= tone).only_enforce_if(use)
        wide = self.m.new_int_var(0, 20, "")
        self.m.add(wide >= dark - pale)
        return wide

    def cost(self):
        m, job, worth = self.m, self.job, self.job["worth"]
        quarters = [board["quarters"] for board in job["boards"]]
        terms = [
            self.used[b] * self.length[b] * self.width[b] * quarters[b]
            for b in range(len(job["boards"]))
        ]
        terms += [-quarters[b] * area for b, area in self.kept]
        terms += [round(worth["unbroken"] * FOOT) * broken for broken in self.breaks]
        for run in sorted({front["run"] for front in job["fronts"]}):
            uses = []
            for b in range(len(job["boards"])):
                use = m.new_bool_var("")
                for f, front in enumerate(job["fronts"]):
                    if front["run"] == run:
                        m.add_implication(self.on[f, b], use)
                uses.append(use)
            terms.append(round(worth["tone_run"] * FOOT / 2) * self.spread(uses))
        terms.append(round(worth["tone_case"] * FOOT / 2) * self.spread(self.used))
        m.minimize(sum(terms))


def solve(job, limit):
    """The optimum in board feet and the solver's seconds, or nothing when not all fronts fit."""
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = limit
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    status = solver.solve(Model(job).m)
    if status == cp_model.INFEASIBLE:
        return None
    proved = status == cp_model.OPTIMAL
    found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    return {
        "proved": proved,
        "cost": solver.objective_value / FOOT if found else None,
        "bound": solver.best_objective_bound / FOOT,
        "seconds": round(solver.wall_time, 2),
    }


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--jobs", type=int, default=16, help="how many jobs")
    parser.add_argument("--limit", type=float, default=60, help="seconds for each")
    options = parser.parse_args()
    rng = random.Random(20)
    jobs = []
    while len(jobs) < options.jobs:
        size = 4 + len(jobs) * 5 // options.jobs
        job = draw_job(rng, f"reference {len(jobs) + 1}", size, (size + 1) // 2 + 1)
        found = solve(job, options.limit)
        if found is None:
            continue
        job["expected"] = found
        jobs.append(job)
        print(job["name"], size, "fronts", found, flush=True)
    about = "written by solve.py; jobs invented; costs in board feet; lengths in inches"
    text = {"about": about, "solver": "OR-Tools CP-SAT, one worker", "jobs": jobs}
    path = pathlib.Path(__file__).with_name("expected.json")
    path.write_text(json.dumps(text, indent=1) + "\n")


if __name__ == "__main__":
    main()
