#!/usr/bin/env bash
# Runs Haulm's planner beside a general solver (Debian's coinor-cbc) on one of the
# made-up instances: time to a first bound within 1 % of the optimum of the
# relaxation, and the value of the best plan after the same seconds.
#
#   scripts/bench_solver.sh small1 60
#
# cbc is given the planner's problem made easier: strips need not lie together, a
# planting may be of any length, so its plans are worth more than any real one. It
# is installed if it is missing; nothing in Haulm depends on it.
set -euo pipefail
instance=${1:-small1}
seconds=${2:-60}
cd "$(dirname "$0")/.."
shared=${HAULM_SHARED:-$PWD/../shared}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

if ! command -v cbc >/dev/null; then
	echo "installing coinor-cbc (Debian)" >&2
	apt-get install -y -qq coinor-cbc >/dev/null
fi
go build -o "$work/haulm" ./cmd/haulm
for whole in "" 1; do
	HAULM_SHARED=$shared HAULM_LP=$work/p$whole.lp HAULM_INSTANCE=$instance HAULM_WHOLE=$whole \
		go test -count=1 -run '^TestWriteLP$' ./internal/plan >/dev/null
done

echo "machine: $(nproc) processors, load $(cut -d' ' -f1-3 /proc/loadavg)"
echo "== haulm, $seconds s, two threads"
time "$work/haulm" solve "$shared/reference/plan_problem/$instance.json.gz" --seconds "$seconds" --json >"$work/r.json"
python3 - "$work/r.json" <<'PY'
import json, sys
r = json.load(open(sys.argv[1]))
first = next((t for t, _, b in r["improvements"] if b <= 1.01 * r["bound"]), None)
print(f'value {r["value"]:.2f}  bound {r["bound"]:.2f}  gap {100 * r["gap"]:.2f} %')
print(f'first bound within 1 % of the last: {first:.2f} s')
PY
echo "== cbc, relaxation (any areas): no bound before it ends"
time timeout $((4 * seconds)) cbc "$work/p.lp" -sec "$seconds" -solve -quit | grep -E "objective|Stopped|Total time" || true
echo "== cbc, whole strips, $seconds s (ended after four times that: it does not look at the clock in its first relaxation)"
time timeout $((4 * seconds)) cbc "$work/p1.lp" -sec "$seconds" -solve -quit | grep -E "Objective value|Upper bound|Lower bound|Result|No feasible|Total time" || true
