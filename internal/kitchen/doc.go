// Package kitchen is what a household eats: how many portions a week it
// needs, what the first and the last portion of a dish are worth to it, in
// which weeks fresh food is scarce, how produce keeps, and what one year's
// picking of one dish comes to at table.
//
// Value is counted in portions: the first portion of a week of a dish of
// usual liking is worth 1. It knows nothing of money, nourishment or how a
// crop grows.
//
// Read appetite.go first, then hungry.go and serve.go. Every figure stands in
// data/ beside its source and grade.
package kitchen
