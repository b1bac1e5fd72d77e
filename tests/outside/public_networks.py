"""Every posterior of four public networks, worked out once more by a general-purpose library.

The networks, with general tables of two to five states (sources from memory):

- win95pts, 76 nodes, why a printer does not print: Microsoft Research; J. S. Breese, D. Heckerman, "Decision-theoretic
  troubleshooting: a framework for repair and experiment", 12th Conference on Uncertainty in Artificial Intelligence (1996)
- alarm, 37 nodes, watching over patients: I. A. Beinlich, H. J. Suermondt, R. M. Chavez, G. F. Cooper, "The ALARM
  monitoring system", 2nd European Conference on Artificial Intelligence in Medicine (1989), pages 247-256
- hepar2, 70 nodes, disorders of the liver: A. Onisko, "Probabilistic causal models in medicine: application to diagnosis
  of liver disorders", doctoral thesis, Warsaw (2003)
- insurance, 27 nodes, what a driver will cost: J. Binder, D. Koller, S. Russell, K. Kanazawa, "Adaptive probabilistic
  networks with hidden variables", Machine Learning 29 (1997), pages 213-244

They are read out of the package pgmpy 1.1.2 as it comes from PyPI, and none of them is kept here. The library they are
held against is pyAgrum 3.3.1 (see compare_networks.py), on lazy propagation.

The same for single tables of theirs moved a little, one at a time: how much likelier that makes the findings comes out of the
derivatives of the circuit on our side, and of a network with the other table, weighed anew, on the library's.

Findings are drawn from fixed seeds: a state of all nodes is drawn from the network, so that the findings can be, and of
some nodes it is told for certain, of others doubtfully.

Usage: public_networks.py ANSWER..., how to run the bench `answer` (benches/answer.rs), in one word or several
"""

import gzip
import itertools
import json
import math
import random
import re
import subprocess
import sys
import tempfile
import time
from importlib.metadata import distribution
from pathlib import Path

import library
import pyagrum

NETWORKS = ("win95pts", "alarm", "hepar2", "insurance")
CASES = 25
# Tables moved in each case
MOVED = 4
TOLERANCE = 1e-9


def main(answer):
    values = 0
    largest = 0.0
    misses = []
    for name in NETWORKS:
        began = time.monotonic()
        nodes = read_bif(packaged(name))
        cases = draw_cases(nodes, random.Random(name))
        differences = list(compare(nodes, cases, ask(answer, nodes, cases)))
        worst = max((difference for _, difference in differences), default=0.0)
        # Not `>`: what is no number is a miss.
        misses += [f"{name}, {what}: {off}" for what, off in differences if not off <= TOLERANCE]
        if len(differences) < CASES * (len(nodes) + MOVED):
            misses.append(f"{name}: only {len(differences)} values were compared")
        print(
            f"{name}: {len(nodes)} nodes, {len(cases)} cases, {len(differences)} values,"
            f" largest difference {worst:.1e}, {time.monotonic() - began:.1f} s"
        )
        values += len(differences)
        largest = max(largest, worst)
    for miss in misses:
        print(f"    {miss}")
    print(
        f"{values} values of {len(NETWORKS)} public networks held against pyAgrum {pyagrum.__version__},"
        f" largest difference {largest:.1e}, tolerance {TOLERANCE}, {len(misses)} off"
    )
    return 0 if values and not misses else 1


def packaged(name):
    """The BIF text of a network that pgmpy brings along; pgmpy itself is not run."""
    path = distribution("pgmpy").locate_file(f"pgmpy/utils/example_models/{name}.bif.gz")
    return gzip.decompress(Path(path).read_bytes()).decode()


def read_bif(text):
    """Nodes in an order with parents first: id, states, parents, table with the last parent fastest."""
    states = {
        name: [word.strip() for word in words.split(",")]
        for name, words in re.findall(r"variable\s+(\S+)\s*\{\s*type\s+discrete\s*\[\s*\d+\s*\]\s*\{([^}]*)\}", text)
    }
    found = {}
    for name, parents, body in re.findall(r"probability\s*\(\s*(\S+)\s*(?:\|([^)]*))?\)\s*\{([^}]*)\}", text):
        parents = [parent.strip() for parent in parents.split(",")] if parents.strip() else []
        rows = {
            tuple(word.strip() for word in given.split(",")) if given else (): numbers.split(",")
            for given, numbers in re.findall(r"(?:table|\(([^)]*)\))\s*([^;]*);", body)
        }
        table = [exact_row(rows[given]) for given in itertools.product(*(states[parent] for parent in parents))]
        found[name] = {"id": name, "states": len(states[name]), "parents": parents, "table": table}
    assert states and found.keys() == states.keys(), "a node without its table, or a table without its node"
    ordered = {}
    while len(ordered) < len(found):
        ready = [name for name in found if name not in ordered and ordered.keys() >= set(found[name]["parents"])]
        assert ready, "the nodes go round in a ring"
        ordered.update((name, found[name]) for name in ready)
    return list(ordered.values())


def exact_row(numbers):
    """Printed numbers are rounded: they are made to add up to 1 before both engines get them."""
    row = [float(number) for number in numbers]
    total = math.fsum(row)
    assert abs(total - 1.0) < 1e-2, f"{row} adds up to {total}"
    return [number / total for number in row]


def draw_cases(nodes, dice):
    sizes = {node["id"]: node["states"] for node in nodes}
    cases = []
    for _ in range(CASES):
        drawn = library.draw_states(nodes, dice)
        seen = dice.sample(list(sizes), dice.randint(2, len(sizes) // 2))
        hard = [name for name in seen if dice.random() < 0.6]
        soft = [name for name in seen if name not in hard]
        moved = dice.sample(nodes, MOVED)
        cases.append(
            {
                "moved": {node["id"]: [moved_row(row, dice) for row in node["table"]] for node in moved},
                "evidence": {name: drawn[name] for name in hard},
                "likelihoods": {name: [dice.uniform(0.01, 1.0) for _ in range(sizes[name])] for name in soft},
            }
        )
    return cases


def moved_row(row, dice):
    """Another row with nought where there was nought."""
    weights = [number * dice.uniform(0.5, 1.5) for number in row]
    total = math.fsum(weights)
    return [weight / total for weight in weights]


def ask(answer, nodes, cases):
    with tempfile.TemporaryDirectory() as folder:
        network, asked = Path(folder, "network.json"), Path(folder, "cases.json")
        network.write_text(json.dumps({"nodes": nodes}), encoding="utf-8")
        asked.write_text(json.dumps({"cases": cases}), encoding="utf-8")
        told = subprocess.run([*answer, network, asked], check=True, stdout=subprocess.PIPE, text=True).stdout
    return json.loads(told)["answers"]


def compare(nodes, cases, answers):
    """What was compared, and by how much the two differ."""
    inference = pyagrum.LazyPropagation(library.network(nodes))
    for number, (case, told) in enumerate(zip(cases, answers, strict=True)):
        inference.setEvidence(library.evidence(case))
        inference.makeInference()
        log_evidence = math.log(inference.evidenceProbability())
        yield f"case {number}, log evidence", abs(told["log_evidence"] - log_evidence)
        yield from compare_moved(number, nodes, case, told, log_evidence)
        for node in nodes:
            reference = inference.posterior(node["id"]).tolist()
            ours = told["posteriors"][node["id"]]
            difference = max(abs(a - b) for a, b in zip(ours, reference, strict=True))
            yield f"case {number}, {node['id']}", difference


def compare_moved(number, nodes, case, told, log_evidence):
    """Each moved table in a network of its own, weighed anew."""
    for name, table in case["moved"].items():
        other = library.network([{**node, "table": table} if node["id"] == name else node for node in nodes])
        inference = pyagrum.LazyPropagation(other)
        inference.setEvidence(library.evidence(case))
        inference.setTargets({name})
        inference.makeInference()
        ratio = inference.evidenceProbability() / math.exp(log_evidence)
        yield f"case {number}, {name} moved", abs(told["moved"][name] - ratio) / max(ratio, 1.0)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
