"""Problems in SARIF, held against the published schema.

The standard is OASIS, "Static Analysis Results Interchange Format (SARIF) Version 2.1.0", OASIS Standard, 27 March 2020. Its
schema, `sarif-schema-2.1.0.json`, lies in `tests/outside/data` as the crate `serde-sarif` 0.8.0 carries it. The validator
is the Python library jsonschema 4.26.0. Besides the schema, each region is looked up in its file: line and column must
lie in it, and a rule index must lead to the rule of that name.

Usage: check_sarif.py PINBOSS FOLDER...
"""

import json
import subprocess
import sys
from pathlib import Path
from urllib.parse import unquote

import jsonschema

SCHEMA = Path(__file__).parent / "data" / "sarif-schema-2.1.0.json"


def places(result):
    """The locations of a result, those related to it among them."""
    return [*result["locations"], *result.get("relatedLocations", [])]


def misses(log):
    """What the schema cannot say: places outside their file, and indices that lead elsewhere."""
    for run in log["runs"]:
        rules = run["tool"]["driver"]["rules"]
        for result in run["results"]:
            if rules[result["ruleIndex"]]["id"] != result["ruleId"]:
                yield f"{result['ruleId']}: index {result['ruleIndex']} is another rule"
            for place in places(result):
                physical = place["physicalLocation"]
                path = Path(unquote(physical["artifactLocation"]["uri"]))
                lines = path.read_text(encoding="utf-8").split("\n")
                region = physical["region"]
                start = (region["startLine"], region["startColumn"])
                end = (region["endLine"], region["endColumn"])
                inside = all(column <= len(lines[line - 1]) + 1 for line, column in (start, end))
                if not inside or start > end:
                    yield f"{path}: {region} lies outside"


def main(pinboss, folders):
    schema = json.loads(SCHEMA.read_text(encoding="utf-8"))
    validator = jsonschema.validators.validator_for(schema)(schema)
    faults, results = [], 0
    for folder in folders:
        run = subprocess.run(
            [pinboss, "rules", "check", folder, "--format", "sarif"], capture_output=True, check=False
        )
        log = json.loads(run.stdout)
        faults += [f"{folder}: {'/'.join(map(str, fault.path))}: {fault.message}" for fault in validator.iter_errors(log)]
        faults += [f"{folder}: {miss}" for miss in misses(log)]
        results += sum(len(run["results"]) for run in log["runs"])
    print(f"SARIF 2.1.0: {len(folders)} logs, {results} results, {len(faults)} faults")
    for fault in faults:
        print(fault)
    # A log without a result would prove little.
    return 1 if faults or results == 0 else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], sys.argv[2:]))
