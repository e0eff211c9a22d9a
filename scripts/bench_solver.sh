#!/usr/bin/env bash
# Runs Haulm's planner beside a general solver on one of the made-up instances: time to
# a first bound within 1 % of the optimum of the relaxation, and the value of the best
# plan after the same seconds.
#
#   scripts/bench_solver.sh small1 60        HiGHS (Debian's python3-scipy)
#   scripts/bench_solver.sh small1 60 cbc    Debian's coinor-cbc
#
# The general solver is given the planner's problem made easier: strips need not lie
# together and a planting may be of any length, so its plans are worth more than any
# real one. It is installed if it is missing; nothing in Haulm depends on it. Processor
# seconds are told beside those on the wall, since other work may share the machine.
set -euo pipefail
instance=${1:-small1}
seconds=${2:-60}
solver=${3:-highs}
cd "$(dirname "$0")/.."
shared=${HAULM_SHARED:-$PWD/../shared}
problem=$shared/reference/plan_problem/$instance.json.gz
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
TIMEFORMAT='  wall %R s, processor %U s'

install() { # what is missing, from Debian
	echo "installing $1 (Debian)" >&2
	apt-get update -qq && apt-get install -y -qq "$1" >/dev/null
}
case $solver in
highs) /usr/bin/python3 -c 'import scipy.optimize' 2>/dev/null || install python3-scipy ;;
cbc) command -v cbc >/dev/null || install coinor-cbc ;;
*) echo "solver $solver: want highs or cbc" >&2 && exit 2 ;;
esac
go build -o "$work/haulm" ./cmd/haulm
echo "machine: $(nproc) processors, load $(cut -d' ' -f1-3 /proc/loadavg)"

echo "== haulm, $seconds s, two threads"
time "$work/haulm" solve "$problem" --seconds "$seconds" --json >"$work/r.json"
python3 - "$work/r.json" <<'PY'
import json, sys
r = json.load(open(sys.argv[1]))
first = next((t for t, _, b in r["improvements"] if b <= 1.01 * r["bound"]), None)
print(f'  value {r["value"]:.2f}  bound {r["bound"]:.2f}  gap {100 * r["gap"]:.2f} %')
print(f'  first bound within 1 % of the last: {first:.2f} s')
PY

if [ "$solver" = cbc ]; then
	for whole in "" 1; do
		HAULM_SHARED=$shared HAULM_LP=$work/p$whole.lp HAULM_INSTANCE=$instance HAULM_WHOLE=$whole \
			go test -count=1 -run '^TestWriteLP$' ./internal/plan >/dev/null
	done
	# It does not look at the clock in its first relaxation: ended from outside.
	echo "== cbc, relaxation (any areas): no bound before it ends"
	time timeout $((4 * seconds)) cbc "$work/p.lp" -sec "$seconds" -solve -quit | grep -E "objective|Stopped|Total time" || true
	echo "== cbc, whole strips, $seconds s"
	time timeout $((4 * seconds)) cbc "$work/p1.lp" -sec "$seconds" -solve -quit | grep -E "Objective value|Upper bound|Lower bound|Result|No feasible|Total time" || true
	exit
fi

cat >"$work/lp.py" <<'PY'
"""The relaxation over areas, built from the instance alone, and whole strips of it."""
import gzip, json, sys
import numpy as np
from scipy.optimize import Bounds, LinearConstraint, linprog, milp
from scipy.sparse import coo_matrix

p = json.load(gzip.open(sys.argv[1]))
how, limit = sys.argv[2], float(sys.argv[3])
weeks, years, lam, alpha = p["T"], p["S"], p["lambda"], p["alpha"]
crops, cands = p["crops"], p["cands"]
worth, low, high, whole = [], [], [], []
row, col, val, most = [], [], [], []


def var(w, lo=0.0, hi=np.inf, integer=0):
    worth.append(w), low.append(lo), high.append(hi), whole.append(integer)
    return len(worth) - 1


def at_most(terms, b):
    for j, v in terms:
        row.append(len(most)), col.append(j), val.append(v)
    most.append(b)


kinds = {}  # strips that may carry the same
for b in p["beds"]:
    for j in range(b["len"]):
        until, ban = 0, b["ban"][j]
        for s in b["stand"] or []:
            if s["Strip"] <= j < s["Strip"] + s["N"]:
                until = max(until, s["End"])
                if crops[s["Crop"]]["rot"]:
                    ban |= 1 << crops[s["Crop"]]["fam"]
        key = (b["sun"], b.get("kind", 0), ban, until)
        kinds[key] = kinds.get(key, 0) + 1
areas = [[] for _ in cands]
for (sun, kind, ban, until), strips in kinds.items():
    fits = []
    for i, c in enumerate(cands):
        k, bits = crops[c["c"]], c.get("kinds", 0)
        if k["sun"] > sun or c["a"] < until or k["rot"] and ban >> k["fam"] & 1 or bits and not bits >> kind & 1:
            continue
        x = var(0, 0, strips, 1)
        areas[i].append(x)
        fits.append((c, k, x))
    for t in range(weeks):
        at_most([(x, 1) for c, _, x in fits if c["a"] <= t < c["e"]], strips)
    for f in range(16):
        at_most([(x, 1) for _, k, x in fits if k["rot"] and k["fam"] == f], strips)
# A candidate's area over all kinds of strip, so that its yields stand once: the solver
# is several times slower without.
for i, c in enumerate(cands):
    total = var(-c["cost"] - sum(c.get("lab") or []) / 10 * p["labCost"])
    at_most([(total, 1)] + [(x, -1) for x in areas[i]], 0)
    at_most([(total, -1)] + [(x, 1) for x in areas[i]], 0)
    areas[i] = [total]
work, tray = [[] for _ in range(weeks)], [[] for _ in range(weeks)]
for c, xs in zip(cands, areas):
    for k, tenths in enumerate(c.get("lab") or []):
        work[c["l0"] + k] += [(x, tenths / 10) for x in xs]
    if c.get("tray"):
        for t in range(*c["tray"][:2]):
            tray[t] += [(x, c["tray"][2] / 100) for x in xs]
    if c.get("max", 0) > 0:
        at_most([(x, 1) for x in xs], c["max"])
for t in range(weeks):
    at_most(work[t] + [(var(-p["labPen"]), -1)], p["labCap"])
    at_most(tray[t], p["trayCap"])
year = [[(var((1 - lam) / years, -np.inf), 1)] for _ in range(years)]
if lam > 0:
    eta = var(lam, -np.inf)
    for s in range(years):
        at_most([(eta, 1), (year[s][0][0], -1), (var(-lam / (alpha * years)), -1)], 0)
given = {}
for b in p["beds"]:
    for st in b["stand"] or []:
        for s, y in enumerate(st["Y"]):
            for k, g in enumerate(y[1:] if y else []):
                at = st["Crop"], s, y[0] + k
                given[at] = given.get(at, 0) + g * st["N"]
for i, k in enumerate(crops):
    own = [(c, xs) for c, xs in zip(cands, areas) if c["c"] == i]
    for s in range(years):
        stock = [[] for _ in range(weeks)]
        for t in range(weeks):
            keep = var(0)
            stock[t].append((keep, 1))
            if t + 1 < weeks:
                stock[t + 1].append((keep, -k["rho"]))
            for tier, (kg, v) in enumerate(zip(k["tierKg"], k["tierV"])):
                eat = var(0, 0, kg * 1000)
                stock[t].append((eat, 1))
                year[s].append((eat, -v / 1000 * (p["bonus"][t] if tier == 0 else 1)))
        for c, xs in own:
            y = c["y"][s]
            for n, g in enumerate(y[1:] if y else []):
                stock[y[0] + n] += [(x, -g) for x in xs]
        for t in range(weeks):
            at_most(stock[t], given.get((i, s, t), 0))
for s in range(years):
    at_most(year[s], 0)

a = coo_matrix((val, (row, col)), (len(most), len(worth))).tocsr()
cost = -np.array(worth)
print(f"  {a.shape[0]} rows, {a.shape[1]} columns")
if how == "whole":
    r = milp(cost, constraints=LinearConstraint(a, ub=np.array(most)), integrality=np.array(whole),
             bounds=Bounds(low, high), options={"time_limit": limit})
    value = "none" if r.x is None else f"{-r.fun:.2f}"
    bound = getattr(r, "mip_dual_bound", None)
    print(f"  plan {value}, bound {'none' if bound is None else f'{-bound:.2f}'}: {r.message.strip()}")
else:
    r = linprog(cost, A_ub=a, b_ub=most, bounds=list(zip(low, high)), method=how, options={"time_limit": limit})
    value = "none" if r.fun is None else f"{-r.fun:.3f}"
    print(f"  optimum {value}: {r.message.strip()}")
PY
echo "== HiGHS, relaxation by its interior-point method: no bound before it ends (stopped after $((4 * seconds)) s)"
time /usr/bin/python3 "$work/lp.py" "$problem" highs-ipm $((4 * seconds))
echo "== HiGHS, relaxation by its dual simplex method (stopped after $((4 * seconds)) s)"
time /usr/bin/python3 "$work/lp.py" "$problem" highs-ds $((4 * seconds))
echo "== HiGHS, whole strips, $seconds s"
time timeout $((4 * seconds)) /usr/bin/python3 "$work/lp.py" "$problem" whole "$seconds" || echo "  ended from outside: it had not looked at the clock"
