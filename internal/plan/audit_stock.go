package plan

import "slices"

// piece is a stretch of a concave function through 0: so much worth a gram, for so
// many grams.
type piece struct{ worth, grams float64 }

// stockWorth is the most that pickings (grams by week) can be worth, where table
// tells what eating is worth in a week and keep is the share that lasts a week.
//
// V(w, x), the worth from week w on of x grams carried into it, is concave in x and
// made of pieces: what the week can eat and what the next week makes of a stock,
// merged by worth, less what the week's own pickings already use up. So it is
// worked out from the last week to the first, without deciding anything ahead.
func stockWorth(keep float64, picked []float64, table func(week int) []piece) float64 {
	all := 0.0 // no stock is ever more
	for _, grams := range picked {
		all += grams
	}
	sum := 0.0             // V(w, 0)
	var later, use []piece // V(w, x) - V(w, 0), dearest piece first
	for w := len(picked) - 1; w >= 0; w-- {
		use = mergePieces(use[:0], table(w), later, keep, all)
		left := picked[w]
		later = later[:0]
		for _, q := range use {
			eaten := min(left, q.grams)
			sum += eaten * q.worth
			left -= eaten
			if rest := q.grams - eaten; rest > 0 {
				later = append(later, piece{q.worth, rest})
			}
		}
	}
	return sum
}

// mergePieces puts what a week eats and what the next week makes of what is kept
// into one list by worth, as far as so many grams in all reach into it.
func mergePieces(into, eat, later []piece, keep, all float64) []piece {
	slices.SortFunc(eat, func(a, b piece) int {
		switch {
		case a.worth > b.worth:
			return -1
		case a.worth < b.worth:
			return 1
		}
		return 0
	})
	if keep == 0 {
		later = nil
	}
	for all > 0 && len(eat)+len(later) > 0 {
		var q piece
		if len(later) == 0 || len(eat) > 0 && eat[0].worth >= later[0].worth*keep {
			q, eat = eat[0], eat[1:]
		} else {
			q, later = piece{later[0].worth * keep, later[0].grams / keep}, later[1:]
		}
		if q.worth <= 0 {
			break
		}
		into = append(into, q)
		all -= q.grams
	}
	return into
}
