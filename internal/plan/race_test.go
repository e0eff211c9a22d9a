//go:build race

package plan

// underRace shortens the long runs: the race detector makes them ten times slower.
const underRace = true
