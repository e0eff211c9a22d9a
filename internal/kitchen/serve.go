package kitchen

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// Larder is one dish's appetite and store.
type Larder struct {
	Tiers      []Tier
	WeeklyKeep float64   // share of the store still good a week later, 0 to 1
	Bonus      []float64 // by week, multiplies the first tier's value; nil = 1
	StoreKg    float64   // good in store when the first week begins
	// KeepSurplus leaves what nobody will eat within the year in the store
	// (onions, squash), for next year; else it is wasted in the week that it
	// is picked.
	KeepSurplus bool
}

// Year is what became of a year's picking of one dish, week by week, in kg of
// harvested weight. Picked and the store at the start = eaten + wasted + lost
// + the store at the end.
type Year struct {
	EatenKg  []float64
	StoreKg  []float64 // at the end of the week
	LostKg   []float64 // spoilt in store since the week before
	WastedKg []float64 // thrown away unstored
	Value    float64   // of what was eaten, in portions (see the package comment)
}

// Serve eats, stores and wastes pickedKg, one figure a week, so that the year
// is worth most: the best use that a cook who knew the year could make of it.
// It is the same rule by which a plan is valued, so that what is shown and
// what was planned for agree; a real cook does a little worse.
//
// The weeks' wishes are met dearest first, a wish w weeks on counting at its
// value times WeeklyKeep^w, since that is what is left of the kilogram that
// goes there. Wishes draw on nested stores (all that was picked so far), for
// which taking the best first is exact. Among equals the earlier week eats.
func (l Larder) Serve(pickedKg []float64) (Year, error) {
	if err := l.check(pickedKg); err != nil {
		return Year{}, err
	}
	weeks := len(pickedKg)
	y := Year{EatenKg: make([]float64, weeks), StoreKg: make([]float64, weeks),
		LostKg: make([]float64, weeks), WastedKg: make([]float64, weeks)}
	spareKg := l.keepEverything(pickedKg)
	for _, wish := range l.wishes(weeks) {
		kg := min(wish.kg, l.available(spareKg, wish.week))
		if kg <= 0 {
			continue
		}
		y.EatenKg[wish.week] += kg
		y.Value += kg * wish.value
		for w, left := wish.week, kg; w < weeks && left > 0; w++ {
			spareKg[w] -= left
			left *= l.WeeklyKeep
		}
	}
	l.settle(&y, pickedKg)
	return y, nil
}

func (l Larder) check(pickedKg []float64) error {
	if !(l.WeeklyKeep >= 0 && l.WeeklyKeep <= 1) {
		return fmt.Errorf("serving: a weekly keep of %g is no share; it must lie from 0 to 1", l.WeeklyKeep)
	}
	if l.Bonus != nil && len(l.Bonus) != len(pickedKg) {
		return fmt.Errorf("serving: %d weekly bonuses for %d weeks of picking; give one a week", len(l.Bonus), len(pickedKg))
	}
	if !weight(l.StoreKg) {
		return fmt.Errorf("serving: %g kg in store at the start is no weight", l.StoreKg)
	}
	for w, kg := range pickedKg {
		if !weight(kg) {
			return fmt.Errorf("serving: week %d: %g kg picked is no weight", w+1, kg)
		}
	}
	return nil
}

func weight(kg float64) bool { return kg >= 0 && !math.IsInf(kg, 1) }

// keepEverything is the store at the end of each week if nobody ate.
func (l Larder) keepEverything(pickedKg []float64) []float64 {
	stock := make([]float64, len(pickedKg))
	kept := l.StoreKg
	for w, kg := range pickedKg {
		if w > 0 {
			kept *= l.WeeklyKeep
		}
		kept += kg
		stock[w] = kept
	}
	return stock
}

// available is how much can be eaten in week without taking from anyone who
// already eats later.
func (l Larder) available(spareKg []float64, week int) float64 {
	least, left := math.Inf(1), 1.0
	for w := week; w < len(spareKg) && left > 0; w++ {
		least = min(least, spareKg[w]/left)
		left *= l.WeeklyKeep
	}
	return max(0, least)
}

type wish struct {
	week  int
	kg    float64
	value float64 // per kg on the plate
	rank  float64 // log of the value per kg put by in the first week
}

// wishes lists every week's tiers, dearest first. Ranks are logarithms so
// that a year of a crop that hardly keeps does not vanish; where nothing
// keeps weeks do not compete and only the value within the week counts.
func (l Larder) wishes(weeks int) []wish {
	var all []wish
	for w := range weeks {
		for k, t := range l.Tiers {
			value := t.ValuePerKg
			if k == 0 && l.Bonus != nil {
				value *= l.Bonus[w]
			}
			if !(value > 0) || !(t.KgPerWeek > 0) {
				continue
			}
			rank := math.Log(value)
			if l.WeeklyKeep > 0 {
				rank += float64(w) * math.Log(l.WeeklyKeep)
			}
			all = append(all, wish{w, t.KgPerWeek, value, rank})
		}
	}
	slices.SortStableFunc(all, func(a, b wish) int { return cmp.Compare(b.rank, a.rank) })
	return all
}

// settle fills in store, loss and waste once it is known what is eaten.
func (l Larder) settle(y *Year, pickedKg []float64) {
	weeks := len(pickedKg)
	wantedLater := make([]float64, weeks) // store at the week's end that later weeks eat
	for w := weeks - 2; w >= 0; w-- {
		short := y.EatenKg[w+1] + wantedLater[w+1] - pickedKg[w+1]
		if short > 0 && l.WeeklyKeep > 0 {
			wantedLater[w] = short / l.WeeklyKeep
		}
	}
	before := l.StoreKg
	for w := range weeks {
		if w > 0 {
			y.LostKg[w] = before * (1 - l.WeeklyKeep)
		}
		// Rounding can leave a store a hair below nothing.
		rest := max(0, before-y.LostKg[w]+pickedKg[w]-y.EatenKg[w])
		if !l.KeepSurplus {
			y.WastedKg[w] = max(0, rest-wantedLater[w])
		}
		y.StoreKg[w] = rest - y.WastedKg[w]
		before = y.StoreKg[w]
	}
}
