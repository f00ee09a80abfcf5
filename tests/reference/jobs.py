"""Reads a job's folder (or the four texts of one) into plain numbers, for the oracle and its checker.

Every length is an integer number of half nanometres: half, because crook is set aside half at each
edge. Only what tiny jobs need is read: decimal numbers and fractions, `inch` or `mm`, commas.
"""

import csv
import io
import pathlib
import tomllib
from dataclasses import dataclass, field
from fractions import Fraction

INCH = 50_800_000  # half nanometres
MM = 2_000_000

INCH_DEFAULTS = {
    "crosscut_kerf": "1/8", "rip_kerf": "1/8", "end_trim": "2", "edge_trim": "1/8", "rough_length": "1",
    "rough_width": "1/4", "plane": "1/32", "clear": "1/4", "longest_skip": "2", "shortest_safe": "12",
    "keep_offcut": "24", "keep_width": "4", "least_stave": "2", "step": "1/8", "joint": "1/8", "from": "8",
}
MM_DEFAULTS = {
    "crosscut_kerf": "3", "rip_kerf": "3", "end_trim": "50", "edge_trim": "3", "rough_length": "25",
    "rough_width": "6", "plane": "1", "clear": "6", "longest_skip": "50", "shortest_safe": "300",
    "keep_offcut": "600", "keep_width": "100", "least_stave": "50", "step": "2", "joint": "3", "from": "200",
}
INCH_WORTH = {"unbroken": 4, "tone_run": 1, "tone_case": 0.5, "glue_line": 2, "mixed_log": 0.5, "mixed_cut": 1, "owned": 0}
MM_WORTH = {"unbroken": 10, "tone_run": 2.5, "tone_case": 1.25, "glue_line": 5, "mixed_log": 1.25, "mixed_cut": 2.5, "owned": 0}
TONES = {"very pale": 1, "pale": 2, "light": 3, "medium light": 4, "medium": 5, "medium dark": 6, "dark": 7, "very dark": 9}
FILES = ("job.toml", "boards.csv", "fronts.csv", "defects.csv")


@dataclass(frozen=True)
class Defect:
    start: int
    to: int
    low: int
    high: int
    side: str


@dataclass(frozen=True)
class Board:
    name: str
    copy: int
    length: int
    width: int
    thickness: int
    tone: Fraction
    bow: int
    cup: int
    twist: int
    crook: int
    trim_hook: int
    trim_far: int
    log: str
    cut: str
    price: object
    use: bool
    defects: tuple

    def kind(self):
        """What two copies share: all but the copy's number."""
        return (self.name,) + tuple(getattr(self, k) for k in (
            "length", "width", "thickness", "tone", "bow", "cup", "twist", "crook", "trim_hook", "trim_far", "log",
            "cut", "price", "use", "defects"))


@dataclass(frozen=True)
class Front:
    name: str
    run: str
    along: int      # finished, along the grain
    across: int
    thickness: int
    space_after: int
    boards: tuple   # must come from one of these; empty: any
    not_boards: tuple
    glue: object    # True, False or None: as the job says
    alike: bool


@dataclass
class Job:
    unit: str
    allow: dict
    worth: dict
    glue: dict
    between: str
    boards: list
    runs: list      # lists of fronts, in order
    widest: object = None
    keep: object = None     # shortest kept piece; None keeps nothing
    texts: dict = field(default_factory=dict)

    def fronts(self):
        return [front for run in self.runs for front in run]


def number(text):
    """A length as it is written: 11.375, 11 3/8, 3/8."""
    total = Fraction(0)
    for part in str(text).replace("-", " ").split():
        total += Fraction(part)
    return total


def length(text, unit):
    whole = number(text) * (INCH if unit == "inch" else MM)
    assert whole.denominator == 1, text
    return int(whole)


def rows(text):
    lines = [line for line in (text or "").splitlines() if line.strip() and not line.startswith("#")]
    for row in csv.DictReader(io.StringIO("\n".join(lines))):
        yield {k.strip(): (v or "").strip() for k, v in row.items()}


def thickness(text, unit):
    if "/4" in text and " " not in text.strip():
        return int(Fraction(text) * INCH)
    return length(text, unit)


def names(text):
    return tuple(name.strip() for name in (text or "").split("|") if name.strip())


def read_text(texts):
    """A job out of the texts of its files."""
    toml = tomllib.loads(texts.get("job.toml") or "")
    unit = toml.get("units", "inch")
    allow = dict(INCH_DEFAULTS if unit == "inch" else MM_DEFAULTS)
    allow.update(toml.get("allowances", {}))
    glue = toml.get("glue", {})
    allow.update({k: v for k, v in glue.items() if k in ("least_stave", "step", "joint", "from")})
    between = allow.pop("between", "tight")
    keep = allow.pop("keep_offcut")
    keep = None if keep == "none" else length(keep, unit)
    allow = {k: length(v, unit) for k, v in allow.items()}
    worth = dict(INCH_WORTH if unit == "inch" else MM_WORTH)
    worth.update(toml.get("worth", {}))
    worth = {k: Fraction(str(v)) for k, v in worth.items()}
    widest = toml.get("machines", {}).get("widest", "none")
    boards = read_boards(texts, unit, allow)
    runs = read_runs(texts, unit)
    return Job(unit, allow, worth, {"allow": glue.get("allow", True)}, between, boards, runs,
               None if widest == "none" else length(widest, unit), keep, texts)


def read_boards(texts, unit, allow):
    defects = list(rows(texts.get("defects.csv")))
    boards = []
    for row in rows(texts["boards.csv"]):
        size = lambda key, default=0: length(row[key], unit) if row.get(key) else default
        for copy in range(1, int(row.get("count") or 1) + 1):
            mine = tuple(Defect(*(length(d[k], unit) for k in ("from", "to", "low", "high")), d.get("side") or "both")
                         for d in defects if d["board"] == row["board"] and (d.get("copy") or str(copy)) == str(copy))
            tone = TONES.get(row["tone"].replace("-", " "), None)
            boards.append(Board(
                row["board"], copy, size("length"), size("width"), thickness(row["thickness"], unit),
                Fraction(tone) if tone is not None else Fraction(row["tone"]), size("bow"), size("cup"), size("twist"),
                size("crook"), size("trim_hook", allow["end_trim"]), size("trim_far", allow["end_trim"]),
                row.get("log", ""), row.get("cut", ""), Fraction(row["price"]) if row.get("price") else None,
                (row.get("use") or "yes") == "yes", mine))
    return boards


def read_runs(texts, unit):
    runs, order = {}, []
    for row in rows(texts["fronts.csv"]):
        count = int(row.get("count") or 1)
        for copy in range(1, count + 1):
            name = row["front"] if not row.get("count") or count == 1 else f"{row['front']}.{copy}"
            run = row.get("run") or f"\0{len(order)}"
            wide, high = length(row["width"], unit), length(row["height"], unit)
            along, across = (wide, high) if (row.get("grain") or "horizontal") == "horizontal" else (high, wide)
            front = Front(name, run, along, across, thickness(row["thickness"], unit),
                          length(row["space_after"], unit) if row.get("space_after") else 0,
                          names(row.get("board")), names(row.get("not_board")),
                          {"yes": True, "no": False}.get(row.get("glue", "")), row.get("reads") == "alike")
            place = (number(row["place"]) if row.get("place") else Fraction(0), len(order))
            if run not in runs:
                runs[run] = []
            runs[run].append((place, front))
            order.append(name)
    return [[front for _, front in sorted(members, key=lambda m: m[0])] for members in runs.values()]


def read(folder):
    folder = pathlib.Path(folder)
    texts = {name: (folder / name).read_text() for name in FILES if (folder / name).exists()}
    return read_text(texts)


def write(folder, texts):
    folder = pathlib.Path(folder)
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in texts.items():
        if text:
            (folder / name).write_text(text)
        else:
            (folder / name).unlink(missing_ok=True)
