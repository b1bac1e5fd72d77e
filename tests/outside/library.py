"""A network as the bench `answer` takes it (tests/support/network_file.rs), handed over to pyAgrum.

The library is handed doubles node by node, because its reader of BIF keeps single precision.
"""

import itertools
import math


def network(nodes):
    """The nodes with plain tables."""
    import pyagrum  # Here, so that who only wants tables need not wait for the library.

    built = pyagrum.BayesNet()
    for node in nodes:
        labels = [str(state) for state in range(node.get("states", 2))]
        built.add(pyagrum.LabelizedVariable(node["id"], node["id"], labels))
        # In the library's tables the parent named first changes fastest, in ours the last one.
        for parent in reversed(node.get("parents", [])):
            built.addArc(parent, node["id"])
        built.cpt(node["id"]).fillWith([entry for row in table(node) for entry in row])
    return built


def table(node):
    """One row for each configuration of the parents, the last parent fastest."""
    if "table" in node:
        return node["table"]
    if "prior" in node:
        return [[1.0 - node["prior"], node["prior"]]]
    rows = []
    for states in itertools.product((0, 1), repeat=len(node["parents"])):
        held_back = [1.0 - strength for strength, state in zip(node["strengths"], states) if state]
        normal = (1.0 - node["leak"]) * math.prod(held_back)
        rows.append([normal, 1.0 - normal])
    return rows


def evidence(case):
    """Hard and soft findings of a case, as the library takes both."""
    return {**case.get("evidence", {}), **case.get("likelihoods", {})}


def draw_states(nodes, dice):
    """A state for each node, drawn from the network with nothing seen."""
    sizes, drawn = {}, {}
    for node in nodes:
        rows = table(node)
        row = 0
        for parent in node.get("parents", []):
            row = row * sizes[parent] + drawn[parent]
        sizes[node["id"]] = len(rows[row])
        drawn[node["id"]] = dice.choices(range(len(rows[row])), weights=rows[row])[0]
    return drawn
