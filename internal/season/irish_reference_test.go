package season

import (
	"bytes"
	"encoding/csv"
	"math"
	"sort"
	"strconv"
	"testing"

	"haulm/internal/sharedfolder"
)

// irishHours is the hourly year 2017 of Met Éireann's stations (CC BY 4.0), by
// station: temperature, humidity and rain, 24 entries a day, NaN unknown.
func irishHours(t *testing.T) (names []string, hours map[string][3][]float64) {
	t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(sharedfolder.Bytes(t, "data/weather/hourly/IE_2017_25stations_hourly.csv.gz"))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	hours = map[string][3][]float64{}
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			return math.NaN()
		}
		return v
	}
	for _, row := range rows[1:] {
		h, known := hours[row[0]]
		if !known {
			names = append(names, row[0])
		}
		h[0], h[1], h[2] = append(h[0], number(row[3])), append(h[1], number(row[4])), append(h[2], number(row[2]))
		hours[row[0]] = h
	}
	sort.Strings(names)
	return names, hours
}

// recount counts days that meet the Hutton criteria from the raw hours by
// another way: one pass over hours, with a count of good days in a row.
func recount(tempC, humid []float64) int {
	alerts, run := 0, 0
	for midnight := 0; midnight+24 <= len(tempC); midnight += 24 {
		cold, damp, gaps := false, 0, 0
		for k := midnight; k < midnight+24; k++ {
			switch {
			case math.IsNaN(tempC[k]) || math.IsNaN(humid[k]):
				gaps++
			default:
				if tempC[k] < 10 {
					cold = true
				}
				if humid[k] >= 90 {
					damp++
				}
			}
		}
		if cold || damp < 6 || gaps > 3 {
			run = 0
			continue
		}
		if run++; run >= 2 {
			alerts++
		}
	}
	return alerts
}

// Hutton days of 25 Irish stations in 2017, against an independent count, and
// how far the daily stand-in agrees with them.
func TestHuttonOnTheIrishYear(t *testing.T) {
	names, hours := irishHours(t)
	if len(names) != 25 {
		t.Fatalf("%d stations", len(names))
	}
	hits, misses, wolf, total, all := 0, 0, 0, 0, 0
	for _, name := range names {
		h := hours[name]
		alerts := Hutton(HuttonDays(h[0], h[1]))
		if want := recount(h[0], h[1]); len(alerts) != want {
			t.Errorf("%s: %d alert days, counted again %d", name, len(alerts), want)
		}
		total += len(alerts)
		low, rain := dailyOf(h)
		told := map[int]bool{}
		for _, d := range BlightStandIn(low, rain) {
			told[d] = true
		}
		met := map[int]bool{}
		for _, d := range alerts {
			met[d] = true
			if told[d] || told[d-1] || told[d+1] {
				hits++
			} else {
				misses++
			}
		}
		all += len(told)
		for d := range told {
			if !met[d] && !met[d-1] && !met[d+1] {
				wolf++
			}
		}
		t.Logf("%-20s %3d Hutton days, %3d by the stand-in", name, len(alerts), len(told))
	}
	t.Logf("%d Hutton days in all; the stand-in was within a day of %d of them (%.0f %%) and cried wolf %d times", total, hits, 100*float64(hits)/float64(hits+misses), wolf)
	if total == 0 || float64(hits)/float64(hits+misses) < 0.75 || float64(wolf) > 0.3*float64(all) {
		t.Errorf("the stand-in finds %d of %d Hutton days and is wrong on %d of its own %d: data/rules.csv says 78 and 27 %%", hits, hits+misses, wolf, all)
	}
}

// dailyOf is the low and the rain of each day.
func dailyOf(h [3][]float64) (low, rain []float64) {
	for m := 0; m+24 <= len(h[0]); m += 24 {
		l, r := math.Inf(1), 0.0
		for k := m; k < m+24; k++ {
			if h[0][k] < l {
				l = h[0][k]
			}
			if !math.IsNaN(h[2][k]) {
				r += h[2][k]
			}
		}
		low, rain = append(low, l), append(rain, r)
	}
	return low, rain
}
