// Package reckoning holds the year's end: what the plan forecast, what came of
// it by the diary, crop by crop and for each square metre; which crops earned
// their room, what was lost and to what, what to change with its figures, how
// the year's weather ranks among the others; and the garden with which the
// next year begins.
//
// It goes by what it is handed and keeps nothing. It does not grow crops: what
// was forecast comes with each planting. What the diary does not say it does
// not guess, except where a sentence says so.
//
// Read input.go first, then reckon.go, account.go, change.go and next.go.
package reckoning
