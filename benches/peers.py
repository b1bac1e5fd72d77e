"""The engine beside general-purpose libraries: the same networks, the same findings, one machine, one run.

pyAgrum 3.3.1 (tests/outside/compare_networks.py names its paper): lazy propagation and the architecture of Shafer and
Shenoy, on one thread, the engine kept, findings erased and set anew for each case, then the posterior of every cause.
pgmpy 1.1.2 (A. Ankan, A. Panda, "pgmpy: probabilistic graphical models using Python", Proceedings of the 14th Python in
Science Conference, 2015; from memory): variable elimination, cause by cause. Ours: the bench `answer`. Every answer is
held against that of lazy propagation to 1e-9 before a time is told. The time of a case is the shortest of its repeats,
which other work on the machine disturbs least; what stands in the tables is the median over the cases.

Also: networks without local structure, where an exact answer may be refused; and cost against size.

Usage: peers.py [--no-structure-peer], in an environment with tests/outside/requirements.txt and with all pgmpy asks for
"""

import json
import math
import random
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

HOUSE = Path(__file__).resolve().parents[1]
DATA = HOUSE / "tests/outside/data"
sys.path.append(str(DATA.parent))

import library  # noqa: E402

SIZES = ("small", "medium", "large")
TOLERANCE = 1e-9
REPEATS = 5
STRENGTHS = (0.05, 0.1, 0.3, 0.6, 0.85, 0.98)
LIMIT_SECONDS = 60
HANDFUL = 3
LIMIT_BYTES = 8 << 30


def main(with_peer):
    ours = built_answer()
    with tempfile.TemporaryDirectory() as folder:
        bench = Bench(ours, Path(folder))
        beside_libraries(bench)
        without_structure(bench, with_peer)
        against_size(bench)


def built_answer():
    call = ["cargo", "bench", "--no-run", "--bench", "answer", "--message-format", "json"]
    told = subprocess.run(call, check=True, cwd=HOUSE, stdout=subprocess.PIPE, text=True).stdout
    messages = map(json.loads, told.splitlines())
    return next(m["executable"] for m in messages if m.get("executable") and m["target"]["name"] == "answer")


class Bench:
    """Runs each engine in a process of its own, within limits, on networks and cases in files."""

    def __init__(self, ours, folder):
        self.ours = ours
        self.folder = folder

    def run(self, engine, nodes, cases, repeats=REPEATS):
        """Answers and the time of the whole process in milliseconds; or why there are none."""
        network, asked = self.folder / "network.json", self.folder / "cases.json"
        network.write_text(json.dumps({"nodes": nodes}), encoding="utf-8")
        asked.write_text(json.dumps({"cases": cases}), encoding="utf-8")
        files = [network, asked, str(repeats)]
        call = [self.ours, *files] if engine == "ours" else [sys.executable, __file__, "--engine", engine, *files]
        began = time.perf_counter()
        try:
            done = subprocess.run(call, capture_output=True, text=True, timeout=LIMIT_SECONDS, preexec_fn=limit_memory)
        except subprocess.TimeoutExpired:
            return None, f"over {LIMIT_SECONDS} s"
        spent = (time.perf_counter() - began) * 1e3
        if done.returncode != 0:
            full = "MemoryError" in done.stderr or "bad_alloc" in done.stderr
            return None, f"over {LIMIT_BYTES >> 30} GB" if full else f"stopped: {done.stderr[-300:]}"
        return json.loads(done.stdout)["answers"], spent


def limit_memory():
    resource.setrlimit(resource.RLIMIT_AS, (LIMIT_BYTES, LIMIT_BYTES))


# --- What stands in the tables -------------------------------------------------------------------


def beside_libraries(bench):
    """Time a case, start to first answer, and one finding changed, ours in two rows."""
    rows = {}
    largest = 0.0
    for size in SIZES:
        nodes, cases = reference(size)
        told, _ = bench.run("ours", nodes, cases)
        keep(rows, "ours, the circuit compiled for each case", size, "case", compiled(told))
        keep(rows, "ours, the circuit of its pattern at hand", size, "case", again(told))
        after = [{"evidence": {**case["evidence"], **case["changed"]}} for case in cases]
        anew, _ = bench.run("ours", nodes, after)
        keep(rows, "ours, the circuit compiled for each case", size, "changed", compiled(anew))
        at_hand = [one["changed"]["evaluate_ms"] for one in told]
        keep(rows, "ours, the circuit of its pattern at hand", size, "changed", at_hand)
        keep(rows, "ours, the circuit compiled for each case", size, "first", firsts(bench, "ours", nodes, cases))
        reference_answers = None
        for engine, name, number in (
            ("LazyPropagation", "pyAgrum, lazy propagation", len(cases)),
            ("ShaferShenoyInference", "pyAgrum, Shafer-Shenoy", len(cases)),
            ("VariableElimination", "pgmpy, variable elimination", HANDFUL),
        ):
            peer, why = bench.run(engine, nodes, cases[:number], REPEATS if number > HANDFUL else 1)
            if peer is None:
                keep(rows, name, size, "case", why)
                continue
            reference_answers = reference_answers or peer
            keep(rows, name, size, "case", [one["evaluate_ms"] for one in peer])
            keep(rows, name, size, "changed", [one["changed"]["evaluate_ms"] for one in peer])
            keep(rows, name, size, "first", firsts(bench, engine, nodes, cases))
            largest = max(largest, farthest(peer, reference_answers))
        largest = max(largest, farthest(told, reference_answers), changed_apart(anew, told))
    assert largest <= TOLERANCE, f"answers differ by {largest}"
    print(f"All answers agree: largest difference {largest:.1e}.\n")
    for column, title in (
        ("case", "One case"),
        ("changed", "One finding changed in a dialogue"),
        ("first", "Start to first answer, whole process, median of 5 starts"),
    ):
        print_table(title, rows, column)


def reference(size):
    """A network of the reference files, and its cases with one finding of each turned over."""
    nodes = json.loads((DATA / f"net_local_{size}.json").read_text())["nodes"]
    cases = json.loads((DATA / f"cases_local_{size}.json").read_text())["cases"]
    return nodes, [turned(case["evidence"]) for case in cases]


def turned(seen):
    first = min(seen)
    return {"evidence": seen, "changed": {first: 1 - seen[first]}}


def compiled(told):
    return [one["compile_ms"] + one["evaluate_ms"] for one in told]


def again(told):
    return [one["again_ms"] + one["evaluate_ms"] for one in told]


def firsts(bench, engine, nodes, cases):
    """Times of the whole process with one case; or why there are none."""
    times = []
    while len(times) < REPEATS and sum(times) < LIMIT_SECONDS * 1e3:
        told, spent = bench.run(engine, nodes, [{"evidence": cases[0]["evidence"]}], 1)
        if told is None:
            return spent
        times.append(spent)
    return times


def keep(rows, name, size, column, times):
    """A median, or the words that stand in its place."""
    rows.setdefault(name, {})[size, column] = times if isinstance(times, str) else statistics.median(times)


def farthest(told, reference_answers):
    """Largest difference of evidence and posteriors, before and after the change, over as many cases as both have."""
    pairs = list(zip(told, reference_answers))
    return max(max(apart(a, b), apart(a["changed"], b["changed"])) for a, b in pairs)


def changed_apart(anew, told):
    """The changed case compiled anew against the change made on a circuit at hand."""
    return max(apart(a, b["changed"]) for a, b in zip(anew, told, strict=True))


def apart(a, b):
    # Only ours tells the state that is absent: the libraries are asked for the present one.
    posteriors = [abs(a["posteriors"][name][-1] - b["posteriors"][name][-1]) for name in b["posteriors"]]
    off = max(posteriors)
    if "log_evidence" in a and "log_evidence" in b:
        off = max(off, abs(a["log_evidence"] - b["log_evidence"]))
    return off


def print_table(title, rows, column):
    print(f"{title}, in ms; in brackets how many times ours compiled for each case\n")
    print("| engine | " + " | ".join(f"local_{size}" for size in SIZES) + " |")
    print("| --- |" + " ---: |" * len(SIZES))
    first = next(iter(rows.values()))
    for name, times in rows.items():
        cells = []
        for size in SIZES:
            time_ms = times.get((size, column), "")
            ratio = "" if isinstance(time_ms, str) else f" ({time_ms / first[size, column]:.3g})"
            cells.append(time_ms if isinstance(time_ms, str) else f"{time_ms:.3g}{ratio}")
        if any(cells):
            print(f"| {name} | " + " | ".join(cells) + " |")
    print()


def without_structure(bench, with_peer):
    """Parents drawn from anywhere: how many of fifty cases ours answers, and in what time."""
    drawings = {}
    for counts in ((60, 40, 150), (150, 100, 400)):
        name = "/".join(map(str, counts))
        drawings[name] = drawn(*counts, sections=1, dice=random.Random(name), number=50)
    print("Without local structure, 50 cases, ours, the circuit compiled for each case; times in ms, the width of bounds on")
    print("the causes' probabilities as the median over cases of each case's median and greatest\n")
    print("| causes/conditions/symptoms | exact | median | longest | bounded | median | longest | median width | greatest |")
    print("| --- |" + " ---: |" * 8)
    for name, (nodes, cases) in drawings.items():
        told, why = bench.run("ours", nodes, cases, 1)
        assert told is not None, why
        exact = compiled([one for one in told if "too_wide" not in one])
        bounded = [one for one in told if "too_wide" in one]
        spent = [one["compile_ms"] + one["bounds_ms"] for one in bounded]
        cells = [cell for times in (exact, spent) for cell in counted(times)] + widths(bounded)
        print(f"| {name} | " + " | ".join(cells) + " |")
    print()
    if with_peer:
        for name, (nodes, cases) in drawings.items():
            for number, case in enumerate(cases[:HANDFUL]):
                told, spent = bench.run("LazyPropagation", nodes, [case], 1)
                said = spent if told is None else f"exact, {told[0]['evaluate_ms']:.3g} ms"
                print(f"pyAgrum, lazy propagation, {name}, case {number}: {said}")
        print()


def widths(bounded):
    """Median over the cases of the median and the greatest width of their causes' bounds."""
    apart_by = [[bounds[-1][1] - bounds[-1][0] for bounds in one["bounds"].values()] for one in bounded]
    if not apart_by:
        return ["", ""]
    return [f"{statistics.median(of(widths) for widths in apart_by):.2g}" for of in (statistics.median, max)]


def counted(times):
    """How many, their median and the longest."""
    return [str(len(times))] + [f"{of(times):.3g}" if times else "" for of in (statistics.median, max)]


def against_size(bench):
    """Networks of local structure of 1, 4 and 16 machines' size; the exponent of a power fitted to the times."""
    print("Cost against size, local structure, ours, 25 cases: median ms\n")
    print("| causes/conditions/symptoms | findings | circuit compiled for each case | circuit at hand |")
    print("| --- | ---: | ---: | ---: |")
    points = []
    for times in (1, 4, 16):
        counts = [52 * times, 20 * times, 88 * times]
        dice = random.Random(f"size {times}")
        nodes, cases = drawn(*counts, sections=4 * times, dice=dice, number=25)
        told, why = bench.run("ours", nodes, cases)
        assert told is not None, why
        anew, at_hand = statistics.median(compiled(told)), statistics.median(again(told))
        points.append((times, anew, at_hand))
        print(f"| {'/'.join(map(str, counts))} | {len(cases[0]['evidence'])} | {anew:.3g} | {at_hand:.3g} |")
    anew, at_hand = ([(math.log(point[0]), math.log(point[place])) for point in points] for place in (1, 2))
    print(f"\nTime grows with size to the power of {slope(anew):.2f} and {slope(at_hand):.2f}.\n")


def slope(points):
    xs, ys = zip(*points)
    return statistics.linear_regression(xs, ys).slope


# --- Networks drawn from a seed ------------------------------------------------------------------


def drawn(causes, conditions, symptoms, sections, dice, number):
    """Noisy-ORs of two to four parents: nine in ten from the same section, the others from the next one.

    Priors, leaks and strengths are of the sort that the reference networks have; all are made up. Cases are drawn from
    the network, each with half of its symptoms looked at.
    """
    nodes = []
    groups = {section: {"cause": [], "condition": []} for section in range(sections)}
    for kind, count in (("cause", causes), ("condition", conditions), ("symptom", symptoms)):
        for place in range(count):
            section = place * sections // count
            node = {"id": f"{kind}{place:04}", "kind": kind}
            if kind == "cause":
                node["prior"] = round(math.exp(dice.uniform(math.log(0.005), math.log(0.1))), 4)
            else:
                add_parents(node, kind, section, groups, dice)
            if kind != "symptom":
                groups[section][kind].append(node["id"])
            nodes.append(node)
    looked_at = symptoms // 2
    cases = []
    for _ in range(number):
        states = library.draw_states(nodes, dice)
        names = dice.sample([node["id"] for node in nodes if node["kind"] == "symptom"], looked_at)
        cases.append({"evidence": {name: states[name] for name in sorted(names)}})
    return nodes, cases


def add_parents(node, kind, section, groups, dice):
    parents = []
    wanted = dice.randint(2, 4)
    while len(parents) < wanted:
        own = section if dice.random() < 0.93 else (section + 1) % len(groups)
        above = "cause" if kind == "condition" or dice.random() < 0.08 else "condition"
        parent = dice.choice(groups[own][above])
        if parent not in parents:
            parents.append(parent)
    node["parents"] = sorted(parents)
    node["strengths"] = [dice.choice(STRENGTHS) for _ in parents]
    node["leak"] = round(math.exp(dice.uniform(math.log(0.001), math.log(0.03))), 5)


# --- The libraries, each in a process of its own -------------------------------------------------


def answer(engine, network, cases, repeats):
    """What the bench `answer` does, by a library."""
    nodes = json.loads(Path(network).read_text())["nodes"]
    causes = [node["id"] for node in nodes if node["kind"] == "cause"]
    ask = pgmpy_engine(nodes, causes) if engine == "VariableElimination" else pyagrum_engine(engine, nodes, causes)
    answers = []
    for case in json.loads(Path(cases).read_text())["cases"]:
        told = timed(lambda: ask.set(case["evidence"]), int(repeats))
        if "changed" in case:
            ((name, state),) = case["changed"].items()
            times = []
            for _ in range(int(repeats)):
                ask.set(case["evidence"])
                told["changed"] = timed(lambda: ask.change(name, state), 1)
                times.append(told["changed"]["evaluate_ms"])
            told["changed"]["evaluate_ms"] = min(times)
        answers.append(told)
    print(json.dumps({"answers": answers}))


def timed(ask, repeats):
    times = []
    for _ in range(repeats):
        began = time.perf_counter()
        told = ask()
        times.append((time.perf_counter() - began) * 1e3)
    return {**told, "evaluate_ms": min(times)}


def pyagrum_engine(engine, nodes, causes):
    import pyagrum

    pyagrum.setNumberOfThreads(1)
    inference = getattr(pyagrum, engine)(library.network(nodes))
    inference.setNumberOfThreads(1)
    inference.setTargets(set(causes))

    class Ask:
        def set(self, seen):
            inference.eraseAllEvidence()
            inference.setEvidence(seen)
            return self.told()

        def change(self, name, state):
            inference.chgEvidence(name, state)
            return self.told()

        def told(self):
            inference.makeInference()
            posteriors = {cause: inference.posterior(cause).tolist() for cause in causes}
            return {"posteriors": posteriors, "log_evidence": math.log(inference.evidenceProbability())}

    return Ask()


def pgmpy_engine(nodes, causes):
    from pgmpy.factors.discrete import TabularCPD
    from pgmpy.inference import VariableElimination
    from pgmpy.models import DiscreteBayesianNetwork

    model = DiscreteBayesianNetwork()
    model.add_nodes_from(node["id"] for node in nodes)
    model.add_edges_from((parent, node["id"]) for node in nodes for parent in node.get("parents", []))
    for node in nodes:
        parents = node.get("parents", [])
        columns = list(zip(*library.table(node)))
        model.add_cpds(TabularCPD(node["id"], 2, columns, parents, [2] * len(parents)))
    elimination = VariableElimination(model)

    class Ask:
        def set(self, seen):
            self.seen = dict(seen)
            query = lambda cause: elimination.query([cause], evidence=self.seen, show_progress=False)  # noqa: E731
            return {"posteriors": {cause: query(cause).values.tolist() for cause in causes}}

        def change(self, name, state):
            return self.set({**self.seen, name: state})

    return Ask()


if __name__ == "__main__":
    if sys.argv[1:2] == ["--engine"]:
        answer(*sys.argv[2:])
    else:
        main("--no-structure-peer" in sys.argv)
