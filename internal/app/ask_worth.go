package app

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"haulm/internal/calendar"
	"haulm/internal/garden"
	"haulm/internal/plan"
)

// WorthAnswer tells what ground more would be worth, where and in which month. These
// are the prices by which the plan's bound is proven: what a small piece more would
// add to the bound, in first portions. What a search finds for a piece more stands
// beside them.
type WorthAnswer struct {
	Months []calendar.Date `json:"months"` // first day of each; the plan begins within the first
	Places []PlaceWorth    `json:"places"` // dearest first
	Value  float64         `json:"value"`
	Bound  float64         `json:"bound"`
	Tried  *TriedWorth     `json:"tried,omitempty"`
	Words  []string        `json:"words"`
}

// PlaceWorth is the price of one more m² beside a place, or one more of its pots.
type PlaceWorth struct {
	Place string    `json:"place"`
	Pots  bool      `json:"pots"`
	Month []float64 `json:"by_month"`
	All   float64   `json:"over_the_plan"`
}

// TriedWorth is what planning again with more ground in one place found.
type TriedWorth struct {
	Place string  `json:"place"`
	M2    float64 `json:"m2"`
	Worth float64 `json:"worth"` // an estimate
}

// AskWorth tells what one more square metre is worth.
func (d *Desk) AskWorth(ctx context.Context, q AskQuestion) (*WorthAnswer, error) {
	a, err := d.asking(q)
	if err != nil {
		return nil, err
	}
	p := a.lay.Problem
	o := a.options()
	o.Keep, o.Seconds = a.kept, o.Seconds*pricePart
	base := plan.Solve(ctx, p, o, nil)
	if base.Duals == nil {
		return nil, errors.New("the search ended before the ground had a price: give it more seconds")
	}
	months, starts := monthsOf(a.lay.Monday, p.Weeks)
	answer := &WorthAnswer{Months: months, Value: base.Value, Bound: base.Bound}
	best, dearest := -1, 0.0
	for bed, worth := range plan.PeriodWorth(p, base.Duals, starts) {
		place, strip, ok := a.lay.PlaceOf(bed)
		if !ok {
			continue
		}
		w := PlaceWorth{Place: place.Name, Pots: place.Kind == garden.Pots}
		for _, x := range worth {
			w.Month = append(w.Month, x/strip)
			w.All += x / strip
		}
		if !w.Pots && w.All > dearest {
			best, dearest = bed, w.All
		}
		answer.Places = append(answer.Places, w)
	}
	slices.SortStableFunc(answer.Places, func(x, y PlaceWorth) int { return cmp.Compare(y.All, x.All) })
	if best >= 0 && ctx.Err() == nil {
		answer.Tried = a.tryLonger(ctx, best, base.Plantings)
	}
	answer.Words = answer.words()
	return answer, nil
}

// The part of the time for the prices, and the strips that are tried, about 1 m².
const (
	pricePart   = 0.5
	triedStrips = 3
)

func (a *asking) tryLonger(ctx context.Context, bed int, kept []plan.Planting) *TriedWorth {
	place, strip, _ := a.lay.PlaceOf(bed)
	o := a.options()
	o.Seconds *= 1 - pricePart
	p := a.lay.Problem
	pair := plan.Compare(ctx, p.WithLonger(bed, triedStrips), p, kept, o, math.Inf(1), nil)
	return &TriedWorth{place.Name, triedStrips * strip, pair.Found}
}

// monthsOf are the months in a plan and the week with which each begins.
func monthsOf(monday func(int) calendar.Date, weeks int) (months []calendar.Date, starts []int) {
	for w := range weeks {
		year, month, _ := monday(w).Civil()
		first := calendar.On(year, month, 1)
		if len(months) == 0 || months[len(months)-1] != first {
			months, starts = append(months, first), append(starts, w)
		}
	}
	return months, starts
}

func (w *WorthAnswer) words() []string {
	var words []string
	for _, p := range w.Places {
		if !p.Pots {
			words = append(words, fmt.Sprintf("One more m² beside %s has a price of %.1f first portions over this plan%s.", p.Place, p.All, dearMonths(w.Months, p)))
			break
		}
	}
	if w.Tried != nil {
		words = append(words, fmt.Sprintf("Planned again with %.1f m² more in %s, the best plan found is worth %s more (by search, so about).", w.Tried.M2, w.Tried.Place, count(w.Tried.Worth)))
	}
	for _, p := range w.Places {
		if p.Pots {
			words = append(words, fmt.Sprintf("One more pot in %s has a price of %.1f%s.", p.Place, p.All, dearMonths(w.Months, p)))
			break
		}
	}
	return append(words, fmt.Sprintf("Prices come from the proof that no plan is worth more than %.0f (the best found: %.0f). They say where ground is short; for a large piece more they promise too much.", math.Ceil(w.Bound), w.Value))
}

// dearMonths are the fewest neighbouring months that make up half of a price.
func dearMonths(months []calendar.Date, p PlaceWorth) string {
	if !(p.All > 0) {
		return ""
	}
	from, to := 0, len(p.Month)
	for i := range p.Month {
		sum := 0.0
		for j := i; j < len(p.Month); j++ {
			if sum += p.Month[j]; sum >= p.All/2 {
				if j+1-i < to-from {
					from, to = i, j+1
				}
				break
			}
		}
	}
	if to-from == 1 {
		return ", half of it in " + months[from].Format("January")
	}
	return ", half of it from " + months[from].Format("January") + " to " + months[to-1].Format("January")
}
