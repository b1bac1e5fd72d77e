"""Every probability of every demo case, worked out once more by a general-purpose library.

The library is pyAgrum 3.3.1, an interface to aGrUM. G. Ducamp, C. Gonzales, P.-H. Wuillemin: "aGrUM/pyAgrum: a toolbox
to build models and algorithms for Probabilistic Graphical Models in Python", Proceedings of the 10th International
Conference on Probabilistic Graphical Models, PMLR 138 (2020), pages 609-612.

For each case, `pinboss rules export` writes the network as BIF 0.15 and as XMLBIF 0.3, which the library reads by its own
readers, and the findings as JSON. The library's lazy propagation, exact on a junction tree, then gives the prior and the posterior of
each cause and condition, the probability of the findings, and their conflict. They are held against `pinboss diagnose --format json`.

Usage: compare_networks.py PINBOSS CASE...
"""

import functools
import itertools
import json
import math
import subprocess
import sys
import tempfile
import time
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

import numpy
import pyagrum

TOLERANCE = 1e-9


class Comparison:
    """The values of one case that were held against each other."""

    def __init__(self):
        self.values = 0
        self.largest = 0.0
        self.misses = []

    def near(self, what, told, reference):
        difference = abs(told - reference)
        self.values += 1
        self.largest = max(self.largest, difference)
        # Not `>`: what is no number is a miss.
        if not difference <= TOLERANCE:
            self.misses.append(f"{what}: pinboss says {told!r}, the library {reference!r}")

    def same(self, what, told, reference):
        if told != reference:
            self.misses.append(f"{what}: {told!r} is not {reference!r}")


def main(pinboss, cases):
    passed = 0
    values = 0
    with ProcessPoolExecutor() as pool:
        for case, (comparison, seconds) in zip(cases, pool.map(functools.partial(compared, pinboss), cases)):
            print(
                f"{Path(case).stem}: {comparison.values} values, largest difference {comparison.largest:.1e},"
                f" {seconds:.1f} s"
            )
            for miss in comparison.misses:
                print(f"    {miss}")
            passed += not comparison.misses
            values += comparison.values
    print(f"{values} values of {len(cases)} cases held against pyAgrum {pyagrum.__version__}, tolerance {TOLERANCE}")
    print(f"cases: {passed} passed, {len(cases) - passed} failed")
    return 0 if cases and passed == len(cases) else 1


def compared(pinboss, case):
    """What the comparison of one case comes to, and the seconds that it took."""
    began = time.monotonic()
    comparison = Comparison()
    try:
        compare(pinboss, case, comparison)
    except Exception as fault:  # Whatever stops a case makes it a miss, and the others are still looked at.
        said = getattr(fault, "stderr", None) or getattr(fault, "stdout", None) or ""
        comparison.misses.append(f"not compared to the end: {fault!r} {said}")
    if comparison.values == 0:
        comparison.misses.append("nothing was compared")
    return comparison, time.monotonic() - began


def compare(pinboss, case, comparison):
    told = json.loads(run(pinboss, "diagnose", case, "--format", "json"))
    export = json.loads(run(pinboss, "rules", "export", case, "--to", "json"))
    nodes = {node["name"]: node for node in export["nodes"]}
    # The library's reader of BIF keeps single precision, that of XMLBIF every digit.
    for form, ending, kept in (("bif", "bif", 2.0**-24), ("xmlbif", "bifxml", 0.0)):
        network = read_network(run(pinboss, "rules", "export", case, "--to", form), ending)
        same_network(network, nodes, kept, comparison)
    hidden = {(n["sort"], n["id"], n["place"]): n for n in nodes.values() if n["sort"] in ("cause", "condition")}
    likelihoods = likelihoods_by_node(export["findings"])
    comparison.same("number of findings", told["abnormal"] + told["normal"], len(export["findings"]))

    found = [nodes[name] for name in likelihoods]
    before, _ = propagate(network, [*hidden.values(), *found], {})
    after, log_evidence = propagate(network, hidden.values(), likelihoods)
    comparison.near("log_evidence", told["log_evidence"], log_evidence)
    # Jensen, Chamberlain, Nordahl, Jensen (1990): how much less likely the findings are together than apart.
    singly = sum(math.log2(chance_of(finding, before)) for finding in export["findings"])
    comparison.near("conflict", told["conflict"], singly - log_evidence / math.log(2.0))
    told_of = {(sort, one["id"], one["place"]): one for sort in ("cause", "condition") for one in told[sort + "s"]}
    comparison.same("causes and conditions told by one of both", sorted(told_of.keys() ^ hidden.keys()), [])
    for key in told_of.keys() & hidden.keys():
        compare_node(told_of[key], hidden[key], before, after, comparison)


def compare_node(told, node, before, after, comparison):
    """Prior, probability, and the probability of each grade, or of the likeliest form."""
    name = node["name"]
    comparison.near(f"{name} prior", told["prior"], sum(before[name][1:]))
    comparison.near(f"{name} probability", told["probability"], sum(after[name][1:]))

    def shown(word):
        return sum(chance for state, chance in zip(node["states"], after[name]) if word in state["shows"])

    for grade in told.get("grades", []):
        comparison.near(f"{name} {grade['name']}", grade["probability"], shown(grade["name"]))
    if "form" in told:
        comparison.near(f"{name} {told['form']['name']}", told["form"]["probability"], shown(told["form"]["name"]))
        comparison.near(f"{name} likeliest form", told["form"]["probability"], max(after[name][1:]))


def chance_of(finding, before):
    """Probability of one finding with nothing else seen."""
    return sum(chance * weight for chance, weight in zip(before[finding["node"]], finding["likelihood"], strict=True))


def run(*call):
    return subprocess.run(call, check=True, capture_output=True, text=True).stdout


def read_network(text, ending):
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, f"network.{ending}")  # The library tells forms by the ending.
        path.write_text(text, encoding="utf-8")
        return pyagrum.loadBN(str(path))


def same_network(network, nodes, kept, comparison):
    """The form read tells the same network as the JSON, each number to the share `kept` of one."""
    comparison.same("nodes known to one of both", sorted(network.names() ^ nodes.keys()), [])
    for name, node in nodes.items():
        comparison.same(f"states of {name}", list(network.variable(name).labels()), [s["name"] for s in node["states"]])
        table = network.cpt(name)
        comparison.same(f"parents of {name}", sorted(table.names), sorted([name, *node["parents"]]))
        # The library's last axis is the first name.
        axes = list(reversed(table.names))
        read = table.toarray().transpose([axes.index(axis) for axis in [*node["parents"], name]])
        rows = numpy.array(node["table"])
        read = read.reshape(-1, len(node["states"]))
        comparison.same(f"rows of {name}", read.shape, rows.shape)
        if read.shape == rows.shape:
            for row in numpy.flatnonzero((abs(read - rows) > kept).any(axis=1)):
                comparison.same(f"row {row} of {name}", read[row].tolist(), rows[row].tolist())


def likelihoods_by_node(findings):
    """Findings on one node are independent given its state, so their likelihoods multiply."""
    by_node = {}
    for finding in findings:
        known = by_node.get(finding["node"], itertools.repeat(1.0))
        by_node[finding["node"]] = [a * b for a, b in zip(known, finding["likelihood"])]
    return by_node


def propagate(network, hidden, likelihoods):
    """Distribution of each hidden node, and the natural logarithm of the probability of the findings."""
    inference = pyagrum.LazyPropagation(network)
    inference.setEvidence(likelihoods)
    names = [node["name"] for node in hidden]
    inference.setTargets(set(names))
    inference.makeInference()
    marginals = {name: inference.posterior(name).tolist() for name in names}
    return marginals, math.log(inference.evidenceProbability())


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], sys.argv[2:]))
