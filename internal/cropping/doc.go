// Package cropping turns a garden, the catalogue and a climate into a cropping
// problem in pure numbers, and the answer back into plantings with their
// dates, odds and reasons. It does not search (package plan does), store or
// draw.
//
// Read lay.go first, then candidate.go and year.go; tidy.go and simpler.go make
// what a search found fit for a person to carry out.
package cropping
