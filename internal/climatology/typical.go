package climatology

import (
	"math"
	"slices"

	"haulm/internal/calendar"
	"haulm/internal/weather"
)

// trait is what is held against each other of two runs of years.
type trait struct {
	last, first []float64 // frost of each season half that has one, days
	halves      float64   // season halves looked at
	rainMM      float64   // sums over all days
	meanC       float64
	days        float64
}

// traitOf looks through a record of whole calendar years.
func traitOf(rec *weather.Record) (t trait) {
	south := rec.Site.South()
	for y := rec.Start.Year(); y < rec.End().Year(); y++ {
		summer, winter := calendar.On(y, 7, 20), calendar.On(y+1, 1, 1)
		if south {
			summer, winter = calendar.On(y, 1, 20), calendar.On(y, 7, 1)
		}
		t.half(rec, summer-1, summer-181, -1, &t.last)
		t.half(rec, summer, winter, 1, &t.first)
	}
	for i, low := range rec.TminC {
		t.rainMM += rec.RainMM[i]
		t.meanC += (low + rec.TmaxC[i]) / 2
	}
	t.days = float64(rec.Days())
	return t
}

// half walks away from midsummer to the first frost.
func (t *trait) half(rec *weather.Record, from, to calendar.Date, step int, dates *[]float64) {
	i, ok := rec.Index(from)
	j, within := rec.Index(to - 1)
	if step < 0 {
		j, within = rec.Index(to)
	}
	if !ok || !within {
		return
	}
	t.halves++
	for n := 0; i != j+step; i, n = i+step, n+1 {
		if rec.TminC[i] <= 0 {
			*dates = append(*dates, float64(n))
			return
		}
	}
}

func (t *trait) join(other trait) {
	t.last, t.first = append(t.last, other.last...), append(t.first, other.first...)
	t.halves += other.halves
	t.rainMM += other.rainMM
	t.meanC += other.meanC
	t.days += other.days
}

// from is how far t is from all, in days: a tenth of the rain or 0.5 °C count as
// 3 days (project choice).
func (t *trait) from(all *trait) float64 {
	off := apartDays(t.last, all.last) + apartDays(t.first, all.first)
	off += 30 * math.Abs(share(float64(len(t.last)+len(t.first)), t.halves)-share(float64(len(all.last)+len(all.first)), all.halves))
	off += 30 * math.Abs(share(t.rainMM, t.days)/max(0.01, share(all.rainMM, all.days))-1)
	return off + 6*math.Abs(share(t.meanC, t.days)-share(all.meanC, all.days))
}

func share(part, whole float64) float64 { return part / max(1, whole) }

// apartDays is how far the 10, 50 and 90 % dates lie apart, the middle one
// counting fourfold.
func apartDays(a, b []float64) float64 {
	if len(a) < 5 || len(b) < 5 {
		return 0
	}
	slices.Sort(a)
	slices.Sort(b)
	at := func(x []float64, p float64) float64 { return x[int(math.Round(p*float64(len(x)-1)))] }
	off := 4 * math.Abs(at(a, 0.5)-at(b, 0.5))
	return off + math.Abs(at(a, 0.1)-at(b, 0.1)) + math.Abs(at(a, 0.9)-at(b, 0.9))
}
