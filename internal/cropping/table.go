package cropping

import (
	"fmt"

	"haulm/internal/calendar"
	"haulm/internal/kitchen"
	"haulm/internal/plan"
)

// Week is one week of the table's year.
type Week struct {
	Monday   calendar.Date
	Portions Odds    // eaten, fresh and from store
	Need     float64 // what the household would eat
	Dishes   []Helping
}

// Helping is what one dish brings to the table in one week, on the mean of
// the years: the make-up of the week, not its odds.
type Helping struct {
	Dish      string
	Family    string
	Fresh     float64 // portions
	FromStore float64
}

// served is the whole table, every year kept apart.
type served struct {
	weeks    []Week
	eaten    [][]float64 // year, week: portions
	pickedKg []float64   // year
	yearKg   []float64   // of it, in the first year's weeks
	wastedKg []float64
}

// serve runs the kitchen through every weather year: what is picked is eaten,
// stored or wasted dish by dish.
func (l *Lay) serve(plantings []plan.Planting) (*served, error) {
	weeks := l.rules.weeks()
	s := &served{
		weeks: make([]Week, weeks), eaten: make([][]float64, len(l.years)),
		pickedKg: make([]float64, len(l.years)), yearKg: make([]float64, len(l.years)), wastedKg: make([]float64, len(l.years)),
	}
	need := kitchen.Need(l.question.Garden)
	for w := range s.weeks {
		s.weeks[w] = Week{Monday: l.Monday(w), Need: need}
	}
	picked := l.pickedByDish(plantings)
	for d, dish := range l.dishes {
		stored := l.storedKg(dish.Name)
		if picked[d] == nil && stored == 0 {
			continue
		}
		if picked[d] == nil {
			picked[d] = l.emptyYears()
		}
		if err := l.serveDish(s, dish, picked[d], stored); err != nil {
			return nil, err
		}
	}
	for w := range s.weeks {
		across := make([]float64, len(l.years))
		for y := range across {
			if s.eaten[y] != nil {
				across[y] = s.eaten[y][w]
			}
		}
		s.weeks[w].Portions = oddsOf(across)
	}
	return s, nil
}

// pickedByDish adds up what is picked: dish, year, week, in kg. Dishes never
// picked are nil.
func (l *Lay) pickedByDish(plantings []plan.Planting) [][][]float64 {
	picked := make([][][]float64, len(l.dishes))
	add := func(dish int, yields []plan.Yield, strips int) {
		if picked[dish] == nil {
			picked[dish] = l.emptyYears()
		}
		for y := range yields {
			for i, g := range yields[y].Grams {
				picked[dish][y][yields[y].First+i] += float64(g) * float64(strips) / 1000
			}
		}
	}
	for i := range l.standing {
		if _, eaten := l.dishIndex[l.standing[i].crop.Dish]; eaten {
			add(l.standing[i].numbers.Crop, l.standing[i].numbers.Yield, l.standing[i].strips)
		}
	}
	for dish, yields := range l.brought {
		add(dish, yields, 1)
	}
	for _, p := range plantings {
		c := &l.choices[p.Cand].numbers
		add(c.Crop, scaled(c.Yield, l.rowShare(p)), p.Strips)
	}
	return picked
}

// emptyYears is a year of nothing picked for every weather year.
func (l *Lay) emptyYears() [][]float64 {
	years := make([][]float64, len(l.years))
	for y := range years {
		years[y] = make([]float64, l.rules.weeks())
	}
	return years
}

// storedKg is what lies in store of a dish when the plan begins.
func (l *Lay) storedKg(dish string) float64 {
	for _, s := range l.question.Garden.InStore {
		if s.Dish == dish {
			return s.Kg
		}
	}
	return 0
}

func (l *Lay) serveDish(s *served, dish kitchen.Dish, picked [][]float64, stored float64) error {
	larder := kitchen.Larder{Tiers: dish.Tiers, WeeklyKeep: dish.WeeklyKeep, Bonus: l.Problem.Bonus, KeepSurplus: dish.Stored, StoreKg: stored}
	helpings := make([]Helping, l.rules.weeks())
	for y, kg := range picked {
		year, err := larder.Serve(kg)
		if err != nil {
			return fmt.Errorf("%s: %w", dish.Name, err)
		}
		if s.eaten[y] == nil {
			s.eaten[y] = make([]float64, len(kg))
		}
		for w := range kg {
			eaten := year.EatenKg[w] * dish.PortionsPerKg
			fresh := min(eaten, kg[w]*dish.PortionsPerKg)
			store := eaten - fresh
			s.eaten[y][w] += fresh + store
			helpings[w].Fresh += fresh / float64(len(picked))
			helpings[w].FromStore += store / float64(len(picked))
			s.pickedKg[y] += kg[w]
			if w < l.rules.sowingWeeks() {
				s.yearKg[y] += kg[w]
			}
			s.wastedKg[y] += year.WastedKg[w] + year.LostKg[w]
		}
	}
	for w, h := range helpings {
		if h.Fresh+h.FromStore > 0 {
			h.Dish, h.Family = dish.Name, dish.Crops[0].Family
			s.weeks[w].Dishes = append(s.weeks[w].Dishes, h)
		}
	}
	return nil
}
