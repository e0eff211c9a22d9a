// Package plan holds the cropping problem as pure numbers: which candidate
// planting goes on which strips of which bed, so that the table's year is worth
// most over all weather years, good and bad alike.
//
// It knows weeks, strips, yields, eating tiers, labour and indoor space. It does
// not know vegetables, weather, gardens or files: a caller turns those into a
// Problem and turns the Plan back into jobs.
//
// Read problem.go first (the data), then evaluate.go (what a plan is worth),
// validate.go (what a plan may not do) and solve.go (how a good plan is found).
package plan
