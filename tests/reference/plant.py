#!/usr/bin/env python3
"""Plants faults in the optimiser, one at a time, and counts how soon the oracle contradicts each.

    python3 tests/reference/plant.py --target-dir target/planted

The jobs are those written by hand and some of each family. Each fault is a place left out, a cut forgotten, an
edge or a turn not tried, or a bound that claims too much. A
copy of the sources is changed, never the sources themselves. Exit 1 when a fault is not caught.
"""

import argparse
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parents[2]

# What it is, file, text, text with the fault, families to look in.
FAULTS = [
    ("sections not made long enough to keep their edges", "geometry/place/options.rs",
     "segments.extend(grown.into_iter().map(|segment| (segment, nth)));", "drop(grown);", "wide_knots,narrow,sound,crook"),
    ("sections laid in one order only", "geometry/place/arrange.rs",
     "if !unused(section) || (0..section).any(alike) {", "if section != chosen.len() || !unused(section) || (0..section).any(alike) {", "slack,wide_knots,many,eighths"),
    ("the stretches of a strip in one order only", "geometry/place/strip.rs",
     "let spots = if count > MOST_ORDERED {", "let spots = if count > 1 {", "wide_knots,one_sided,many,eighths"),
    ("edge at the near side not kept", "geometry/place/across.rs",
     "edge: kept(first - cuts.rip) + kept(beyond - cuts.rip),", "edge: kept(beyond - cuts.rip),", "wide_knots,narrow,sound"),
    ("the strip's high edge not tried for a narrower blank", "geometry/place/strip.rs",
     ".chain((most > low).then_some(most))", ".chain(None::<i64>.filter(|_| most > low))", "wide_knots,narrow,many,one_sided"),
    ("a stretch not turned end for end", "geometry/place/strip.rs",
     "&[false, true]", "&[false]", "wide_knots,widened,short,skips"),
    ("a blank not turned face over", "geometry/place/strip.rs",
     "if stock.one_sided { &FACES } else { &FACES[..1] }", "&FACES[..1]", "one_sided"),
    ("sections of a clear board not made longer for their edges", "geometry/placed.rs",
     "for choice in 0..1_u32 << short.len() {", "for choice in 0..1_u32 {", "sound,tones,money,eighths"),
    ("what a whole board leaves missing left out of the widths of staves", "model/stave_widths.rs",
     "sums.extend(&last);", "", "glue_two,glue_width,glue_three,glue_scarce"),
    ("a break of a run forgotten where plans are walked", "search/list/cost.rs",
     "(stretches - runs().count()) as f64", "stretches as f64", "tones,many,sound"),
]


def contradicted(binary, names, seeds):
    """The first contradictions, and how many jobs were looked at."""
    done = subprocess.run([sys.executable, pathlib.Path(__file__).with_name("contradict.py"), "--binary", binary,
                           "--family", f"cases,{names}", "--seeds", f"0..{seeds}", "--time", "2", "--keep", tempfile.mkdtemp()],
                          capture_output=True, text=True, check=False)
    lines = done.stdout.splitlines()
    total = re.search(r"all: (\d+) jobs, (\d+) contradictions", done.stdout)
    if total is None:
        sys.exit(f"no count from contradict.py: {done.stdout[-300:]} {done.stderr[-300:]}")
    return int(total[1]), int(total[2]), lines[0]


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--target-dir", required=True)
    parser.add_argument("--seeds", type=int, default=40, help="jobs of each family")
    options = parser.parse_args()
    target = pathlib.Path(options.target_dir).resolve()
    copy = pathlib.Path(tempfile.mkdtemp(prefix="planted-"))
    shutil.copytree(ROOT, copy, dirs_exist_ok=True, ignore=shutil.ignore_patterns("target", ".git"))
    missed = 0
    for what, file, right, wrong, names in FAULTS:
        path = copy / "src" / "layout" / file
        text = path.read_text()
        if text.count(right) != 1:
            sys.exit(f"{what}: {file} has the text {text.count(right)} times")
        path.write_text(text.replace(right, wrong))
        subprocess.run(["cargo", "build", "--quiet", "--bin", "grainrow", "--target-dir", str(target)],
                       cwd=copy, check=True, stderr=subprocess.DEVNULL)
        path.write_text(text)
        jobs, found, first = contradicted(target / "debug" / "grainrow", names, options.seeds)
        missed += found == 0
        print(f"{what}: {found} of {jobs} jobs contradict, such as {first}" if found else f"{what}: NOT CAUGHT in {jobs} jobs", flush=True)
    shutil.rmtree(copy)
    sys.exit(missed > 0)


if __name__ == "__main__":
    main()
