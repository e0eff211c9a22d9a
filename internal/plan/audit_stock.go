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

// stockMargin is what a gram more, picked in a week, would be worth, for every week.
// It works back as stockWorth does, then forth with what is really carried over.
func stockMargin(keep float64, picked []float64, table func(week int) []piece) []float64 {
	all := 1.0 // a gram more than there ever is
	for _, grams := range picked {
		all += grams
	}
	weeks := make([][]piece, len(picked)) // what each week's stock can be put to, dearest first
	for w := len(picked) - 1; w >= 0; w-- {
		var later []piece
		if w+1 < len(picked) {
			left := picked[w+1]
			for _, q := range weeks[w+1] {
				used := min(left, q.grams)
				left -= used
				if q.grams > used {
					later = append(later, piece{q.worth, q.grams - used})
				}
			}
		}
		weeks[w] = mergePieces(nil, table(w), later, keep, all)
	}
	return marginForth(keep, picked, table, weeks)
}

// marginForth carries the stock through the weeks: of what a week has, the pieces of
// its own table are eaten and the rest is kept.
func marginForth(keep float64, picked []float64, table func(week int) []piece, weeks [][]piece) []float64 {
	const crumb = 1e-6 // grams; what was kept for a slot fills it but for rounding
	margin := make([]float64, len(picked))
	carried := 0.0
	for w := range picked {
		left := carried + picked[w]
		for _, q := range weeks[w] {
			if left < q.grams-crumb {
				margin[w] = q.worth
				break
			}
			left = max(0, left-q.grams)
		}
		// Where some was carried in, a gram more lets as much be eaten before.
		if carried > crumb && keep > 0 {
			margin[w] = max(margin[w], margin[w-1]/keep)
		}
		carried = keep * kept(carried+picked[w], weeks[w], table(w))
	}
	return margin
}

// kept is what of a stock goes to later weeks: what its pieces take, less those that
// are the week's own table.
func kept(stock float64, pieces, own []piece) float64 {
	own = append([]piece(nil), own...)
	total := 0.0
	for _, q := range pieces {
		used := min(stock, q.grams)
		stock -= used
		mine := -1
		for i := range own {
			if own[i] == q {
				mine = i
				break
			}
		}
		if mine < 0 {
			total += used
			continue
		}
		own[mine] = piece{-1, 0}
	}
	return total
}
