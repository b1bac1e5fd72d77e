"""Rates, errors, intervals and hours left of many drawn histories, worked out once more by statsmodels and scipy.

Histories of one link height are drawn from fixed seeds: how many visits, at what hours, how often read, how the wear goes
(steady, speeding up, or with more scatter than the gauge has). Each becomes case files, and `pinboss wear --format json`
tells its lines. From the readings alone, by rules of this script's own, the same is worked out here:

- per cent worn from the sizes;
- slope, intercept and their standard errors by weighted least squares (statsmodels WLS, weights 1/sigma^2), with the errors
  of the readings (`fixed scale`) or of the scatter, whichever the chi square test (scipy) calls for;
- intervals of a reading ahead by the normal law or Student's t (scipy), and the hours at which they meet the limit by
  bisection (scipy.optimize.brentq).

Usage: compare_regression.py PINBOSS
"""

import json
import math
import random
import subprocess
import sys
import tempfile
from pathlib import Path

import numpy
import scipy
import statsmodels
import statsmodels.api as api
from scipy import optimize, stats

HISTORIES = 300
TOLERANCE = 1e-7
NEW, LIMIT, ERROR, MADE_TO = 105.5, 96.5, 0.25, 0.3
RULES = f"""\
kind upkeep: "upkeep put off" counts against owner
part chain, each side: "chain"
symptom bright, each side: "bright spots"
    without 1%
measure link_height, each side, of chain: "link height"
    unit    mm   range 20 to 160   error {ERROR}
dimensions medium: "invented"
    link_height  {NEW} mm 0%, {LIMIT} mm 100%  tolerance {MADE_TO} mm
"""


def main(pinboss):
    values, largest, misses = 0, 0.0, []
    kinds = {"readings": 0, "scatter": 0, "no upper end": 0}
    with tempfile.TemporaryDirectory() as folder:
        folder = Path(folder)
        (folder / "rules").mkdir()
        (folder / "rules" / "all.rules").write_text(RULES)
        for seed in range(HISTORIES):
            history = draw(random.Random(seed))
            part = ask(pinboss, folder, history)
            for what, ours, theirs in compare(history, part, kinds):
                values += 1
                off = difference(ours, theirs)
                largest = max(largest, off)
                # Not `>`: what is no number is a miss.
                if not off <= TOLERANCE:
                    misses.append(f"history {seed}, {what}: {ours} against {theirs}")
    for miss in misses[:20]:
        print(f"    {miss}")
    told = ", ".join(f"{count} by {kind}" if kind != "no upper end" else f"{count} without an upper end" for kind, count in kinds.items())
    print(
        f"{values} values of {HISTORIES} histories ({told}) held against statsmodels {statsmodels.__version__} and scipy"
        f" {scipy.__version__}, largest difference {largest:.1e}, tolerance {TOLERANCE}, {len(misses)} off"
    )
    return 0 if values >= 10 * HISTORIES and all(kinds.values()) and not misses else 1


def difference(ours, theirs):
    """How far two figures lie apart, against the larger; 0 where neither is told."""
    if ours is None or theirs is None:
        return 0.0 if ours is None and theirs is None else math.inf
    return abs(ours - theirs) / max(abs(ours), abs(theirs), 1e-3)


def draw(rng):
    """Visits as (hours of the machine, sizes read), and the hours at which the chain went on."""
    on = rng.choice([0, rng.randint(1, 4000)])
    life = rng.uniform(2500, 9000)
    bend = rng.choice([1.0, 1.0, rng.uniform(1.1, 1.8)])
    scatter = rng.choice([0.3, 1.0, rng.uniform(2, 6)])
    hours = sorted(rng.sample(range(200, int(life * 0.85)), rng.randint(2, 6)))
    visits = []
    for own in hours:
        gone = (NEW - LIMIT) * (own / life) ** bend
        there = NEW - gone + rng.gauss(0, ERROR * scatter)
        visits.append((on + own, [round(there + rng.gauss(0, ERROR / 4), 2) for _ in range(rng.randint(1, 4))]))
    return on, visits


def ask(pinboss, folder, history):
    """What the program says of the one part of a history."""
    on, visits = history
    files = []
    for number, (hours, sizes) in enumerate(visits):
        files.append(folder / f"{number}.yaml")
        read = ", ".join(f"{size} mm" for size in sizes)
        files[-1].write_text(
            f"case: visit {number}\nmachine: {{tag: T, hours: {hours}, size: medium}}\nparts: [{{part: chain, on: {on} h}}]\n"
            f"seen: {{left: {{read: {{link_height: [{read}]}}}}}}\n"
        )
    call = [pinboss, "wear", "--format", "json", "--rules", str(folder / "rules"), *map(str, files)]
    report = json.loads(subprocess.run(call, check=True, capture_output=True).stdout)
    (part,) = report["parts"]
    return part


def compare(history, part, kinds):
    """(what, ours, theirs) for every figure of one history."""
    on, visits = history
    per_mm = 100 / (NEW - LIMIT)
    hours = numpy.array([at - on for at, _ in visits], dtype=float)
    percent = numpy.array([(NEW - sum(sizes) / len(sizes)) * per_mm for _, sizes in visits])
    sigma = numpy.array([ERROR / math.sqrt(len(sizes)) * per_mm for _, sizes in visits])
    made_to = MADE_TO * per_mm
    yield from (
        (f"{what} {number}", point[what], theirs[number])
        for number, point in enumerate(part["points"])
        for what, theirs in (("hours", hours), ("percent", percent), ("sigma", sigma))
    )
    if part["doubts"]:
        # What is asked about has no pace: a later reading lies clearly under an earlier one.
        drops = [
            percent[i] - percent[j] > 2 * math.hypot(sigma[i], sigma[j]) for j in range(len(hours)) for i in range(j)
        ]
        yield "a reading goes back", 1.0, float(any(drops))
        yield "and no pace is told", None, part["rates"]["all"]
        return
    # With as many points as figures of a line, only the errors of the readings tell.
    ends = (
        ("from_new", [0.0, hours[-1]], [0.0, percent[-1]], [made_to, sigma[-1]]),
        ("last_two", hours[-2:], percent[-2:], sigma[-2:]),
        ("all", [0.0, *hours], [0.0, *percent], [max(made_to, sigma.min()), *sigma]),
    )
    for name, x, y, errors in ends:
        yield from line(name, part["rates"][name], numpy.array(x), numpy.array(y), numpy.array(errors), sigma[-1], kinds)


def line(name, ours, x, y, errors, next_error, kinds):
    fit = api.WLS(y, api.add_constant(x), weights=1 / errors**2).fit(cov_type="fixed scale")
    freedom = len(x) - 2
    chi_square = float(numpy.sum(((y - fit.fittedvalues) / errors) ** 2))
    scattered = freedom > 0 and chi_square > stats.chi2.ppf(0.95, freedom)
    if scattered:
        fit = api.WLS(y, api.add_constant(x), weights=1 / errors**2).fit()
    scale = fit.scale if scattered else 1.0
    quantile = stats.t.ppf(0.95, freedom) if scattered else stats.norm.ppf(0.95)
    kinds["scatter" if scattered else "readings"] += 1
    (zero, slope), (zero_sigma, slope_sigma) = fit.params, fit.bse
    yield f"{name}: per hour", ours["per_hour"], slope
    yield f"{name}: its error", ours["per_hour_sigma"], slope_sigma
    yield f"{name}: at zero", ours["at_zero"], zero
    yield f"{name}: its error", ours["at_zero_sigma"], zero_sigma
    yield f"{name}: scatter", ours["scatter"], scale if scattered else None
    yield f"{name}: quantile", ours["quantile"], quantile
    if slope <= 0:
        yield f"{name}: left", None, ours["left"]
        return
    covariance = fit.cov_params()

    def edge(hours, sign):
        row = numpy.array([1.0, hours])
        own = row @ covariance @ row + scale * next_error**2
        return row @ fit.params + sign * quantile * math.sqrt(own) - 100

    now, there = x[-1], y[-1] >= 100
    left = 0.0 if there else max((100 - zero) / slope - now, 0.0)
    # What lies before now is told as now.
    lower = 0.0 if edge(now, 1) >= 0 else optimize.brentq(edge, now, 1e7, args=(1,), xtol=1e-9, rtol=1e-14) - now
    yield f"{name}: left", ours["left"]["hours"], left
    yield f"{name}: lower", ours["left"]["lower"], min(lower, left)
    # The lower edge rises to the limit in the end only where the slope is surely over nothing.
    if slope <= quantile * slope_sigma:
        kinds["no upper end"] += 1
        yield f"{name}: upper", ours["left"]["upper"], None
    else:
        far = 1e4
        while edge(far, -1) < 0:
            far *= 10
        upper = 0.0 if edge(now, -1) >= 0 else optimize.brentq(edge, now, far, args=(-1,), xtol=1e-9, rtol=1e-14) - now
        yield f"{name}: upper", ours["left"]["upper"], max(upper, left)


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    sys.exit(main(sys.argv[1]))
