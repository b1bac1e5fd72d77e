"""Many drawn machines weighed on a cluster engine, each held against the single run.

    python tests/outside/batch_on_spark.py target/release/pinboss [--count 100000] [--seed 1] [--partitions 16]
        [--master local[2]] [--folder DIR]

Cases are drawn with `rules simulate`, every 997th of them cut in half so that faulty lines go the same way. One run
of `batch` weighs them all. Then Spark (`RDD.pipe`) splits the lines into partitions and sends each through a `batch`
of its own. Both must give the same bytes, line for line in the order of the input; only the number of a line is
counted from the start of its partition. Ends with 1 when anything differs, is missing, or nothing was compared.

Needs the libraries in tests/outside/requirements_spark.txt and a Java runtime that they run on.
"""

import argparse
import os
import re
import shlex
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from pyspark import SparkConf, SparkContext

FAULTY_EVERY = 997
NUMBER = re.compile(rb'^\{"line":(\d+),')
SHOWN = 5


def draw(pinboss, seed, count, path):
    """Writes the cases, a line each, and gives how many of them were cut in half."""
    command = [pinboss, "rules", "simulate", "--seed", str(seed), "--count", str(count)]
    cut = 0
    with subprocess.Popen(command, stdout=subprocess.PIPE) as drawing, open(path, "wb") as cases:
        for number, line in enumerate(drawing.stdout, 1):
            if number % FAULTY_EVERY == 0:
                line = line[: len(line) // 2] + b"\n"
                cut += 1
            cases.write(line)
    if drawing.returncode != 0:
        sys.exit(f"`{shlex.join(command)}` ended with {drawing.returncode}")
    return cut


def weigh_singly(pinboss, cases, results, cut):
    """One run over all cases; it ends with 1 when some of them are faulty."""
    with open(results.with_suffix(".err"), "wb") as said:
        done = subprocess.run([pinboss, "batch", str(cases), "-o", str(results)], stderr=said)
    if done.returncode != (1 if cut else 0):
        sys.exit(f"the single run ended with {done.returncode}: see {said.name}")


def weigh_on_spark(pinboss, cases, results, master, partitions):
    """The same cases by partitions, each through a run of its own; the engine is at hand before the clock starts."""
    conf = SparkConf().setMaster(master).setAppName("cases by the line")
    conf.set("spark.ui.enabled", "false")
    os.environ.setdefault("PYSPARK_PYTHON", sys.executable)
    context = SparkContext(conf=conf)
    context.setLogLevel("ERROR")
    try:
        start = time.monotonic()
        lines = context.textFile(cases.as_uri(), partitions)
        # The end of a run with faulty lines is 1; what is lost shows when the results are compared.
        lines.pipe(f"{shlex.quote(pinboss)} batch --threads 1").saveAsTextFile(results.as_uri())
        return lines.getNumPartitions(), time.monotonic() - start
    finally:
        context.stop()


def numbered(line):
    """The number of a result, and its bytes with the number put aside wherever it stands."""
    found = NUMBER.match(line)
    if not found:
        return None, line
    number = found.group(1)
    bare = line[found.end() :].replace(b'"file":"line ' + number + b'"', b'"file":"line"')
    return int(number), bare.rstrip(b"\n")


def piped(results):
    """Results of all partitions in their order, each with the number it must have there."""
    for part in sorted(results.glob("part-*")):
        with open(part, "rb") as lines:
            for place, line in enumerate(lines, 1):
                yield place, line


def compare(single, results):
    """Holds both against each other; gives how many were compared and how many differ."""
    compared = differ = 0
    with open(single, "rb") as lines:
        others = piped(results)
        for number, line in enumerate(lines, 1):
            place, other = next(others, (None, b""))
            if numbered(line)[0] == number and numbered(other) == (place, numbered(line)[1]):
                compared += 1
                continue
            differ += 1
            if differ <= SHOWN:
                print(f"line {number} differs:\n  single  {line[:200]!r}\n  cluster {other[:200]!r}")
        differ += sum(1 for _ in others)
    return compared, differ


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("pinboss", help="the built program")
    parser.add_argument("--count", type=int, default=100_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--partitions", type=int, default=16)
    parser.add_argument("--master", default="local[2]", help="also local-cluster[2,1,1024]")
    parser.add_argument("--folder", type=Path, help="where to write; must not hold results yet")
    asked = parser.parse_args()
    pinboss = str(Path(asked.pinboss).resolve())
    with tempfile.TemporaryDirectory() as temporary:
        folder = (asked.folder or Path(temporary)).resolve()
        folder.mkdir(parents=True, exist_ok=True)
        cases, single, results = folder / "cases.jsonl", folder / "single.jsonl", folder / "cluster"
        start = time.monotonic()
        cut = draw(pinboss, asked.seed, asked.count, cases)
        print(f"{asked.count} cases drawn in {time.monotonic() - start:.1f} s, {cut} of them cut in half", flush=True)
        start = time.monotonic()
        weigh_singly(pinboss, cases, single, cut)
        print(f"single run: {time.monotonic() - start:.1f} s", flush=True)
        partitions, seconds = weigh_on_spark(pinboss, cases, results, asked.master, asked.partitions)
        print(f"{partitions} partitions on {asked.master}: {seconds:.1f} s", flush=True)
        compared, differ = compare(single, results)
        print(f"{compared} results are the same byte for byte, {differ} differ")
        if differ or compared != asked.count:
            sys.exit(1)


if __name__ == "__main__":
    main()
