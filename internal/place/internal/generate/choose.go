package main

import (
	"math"
	"slices"
	"strings"

	"haulm/internal/place/internal/spelling"
)

// gone are the feature codes of places where nobody gardens now: historical,
// abandoned, destroyed.
var gone = []string{"PPLH", "PPLCH", "PPLQ", "PPLW", "PPLR", ""}

// highestM is above where people live: La Rinconada in Peru, the highest town,
// lies at 5100 m. A place higher up has wrong coordinates.
const highestM = 5200

// dropUnfit leaves out places that are gone, nameless, without a time zone or
// higher than any settlement, and town quarters that are named only by a number or a double name
// ("Zürich (Kreis 3) / Alt-Wiedikon").
func dropUnfit(rows []row) []row {
	return slices.DeleteFunc(rows, func(r row) bool {
		return slices.Contains(gone, r.feature) || r.zone == "" || r.elevM > highestM || spelling.String(r.name) == "" ||
			r.feature == "PPLX" && strings.ContainsAny(r.name, "(/") || strings.ContainsAny(r.name, "\t\n،,;")
	})
}

// lendKM is how far a neighbour may be whose height is lent.
const lendKM = 20

// lendHeights gives the places where the height models see water (some two
// hundred, all on a shore) the height of the nearest place that has one, and
// where there is none near the median of what was so lent. Both are marked as
// estimates.
func lendHeights(rows []row) {
	cells := grid(rows)
	var lent []int
	var left []int
	for i, r := range rows {
		if r.hasHeight {
			continue
		}
		if k := neighbour(rows, cells, r); k >= 0 {
			rows[i].elevM = rows[k].elevM
			lent = append(lent, rows[k].elevM)
		} else {
			left = append(left, i)
		}
		rows[i].estimated = true
	}
	slices.Sort(lent)
	for _, i := range left {
		rows[i].elevM = lent[len(lent)/2]
	}
}

// neighbour is the nearest row with a height of its own within lendKM, or -1.
func neighbour(rows []row, cells map[cell][]int, r row) int {
	nearest, best := -1, float64(lendKM)
	for _, k := range near(cells, r) {
		if km := apartKM(r, rows[k]); rows[k].hasHeight && km < best {
			nearest, best = k, km
		}
	}
	return nearest
}

// doubleKM is within which two rows of one name are one place: a town and the
// commune that it is the seat of stand apart in GeoNames.
const doubleKM = 10

// dropDoubles keeps one of the rows that have the same folded name, country and
// first division and lie within doubleKM: the most populous, then the first.
func dropDoubles(rows []row) []row {
	order := make([]int, len(rows))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return rows[b].people - rows[a].people })
	kept := map[string][]int{}
	drop := make([]bool, len(rows))
	for _, i := range order {
		r := rows[i]
		key := spelling.String(r.name) + "|" + r.country + "|" + r.admin1
		drop[i] = slices.ContainsFunc(kept[key], func(k int) bool { return apartKM(r, rows[k]) < doubleKM })
		if !drop[i] {
			kept[key] = append(kept[key], i)
		}
	}
	left := rows[:0:0]
	for i, r := range rows {
		if !drop[i] {
			left = append(left, r)
		}
	}
	return left
}

type cell struct{ y, x int }

func cellOf(r row) cell { return cell{int(math.Floor(r.lat * 2)), int(math.Floor(r.lon * 2))} }

// grid sorts rows into boxes of half a degree.
func grid(rows []row) map[cell][]int {
	cells := map[cell][]int{}
	for i, r := range rows {
		cells[cellOf(r)] = append(cells[cellOf(r)], i)
	}
	return cells
}

// near lists the rows in a row's box and those around it.
func near(cells map[cell][]int, r row) (list []int) {
	at := cellOf(r)
	for y := at.y - 1; y <= at.y+1; y++ {
		for x := at.x - 1; x <= at.x+1; x++ {
			list = append(list, cells[cell{y, x}]...)
		}
	}
	return list
}

// apartKM is a flat-earth distance, good to a percent over the few kilometres asked.
func apartKM(a, b row) float64 {
	const kmPerDegree = 111.2
	north := a.lat - b.lat
	east := (a.lon - b.lon) * math.Cos(a.lat*math.Pi/180)
	return kmPerDegree * math.Hypot(north, east)
}
