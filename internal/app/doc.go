// Package app holds the use cases: what a person can ask of Haulm, answered by
// joining the garden's file with the science. It is the only package that
// knows both. Answers are plain structs whose JSON keys are relied on; the
// command line and the pages only show them.
//
// Read climate.go first, then plan.go and season_input.go. What a household takes
// away stands in everything*.go, how its diary comes back in diary_*.go.
package app
