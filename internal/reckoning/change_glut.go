package reckoning

import (
	"cmp"
	"fmt"
	"slices"

	"haulm/internal/calendar"
)

// dishPick is one picking for a dish.
type dishPick struct {
	day      calendar.Date
	portions float64
	crop     string // its key
}

// glut tells of the month in which far more was picked than the table wants of
// a dish, of crops that do not keep; it is told of the one picked most.
func (in *Input) glut(a *Account, stories []*story) []Change {
	c := in.Catalogue.Crop(a.Key)
	want, weeks := in.wanted(c.Dish), rule("glut.weeks")
	if want <= 0 || c.Keeping.Stored {
		return nil
	}
	month := fullest(unkept(c.Dish, stories), int(7*weeks))
	all, own := portionsOf(month, ""), portionsOf(month, c.Key)
	if table := want * weeks; all < rule("glut.times")*table || !pickedMost(month, c.Key) {
		return nil
	}
	came := fmt.Sprintf("%.0f portions", all)
	if own < all {
		came = fmt.Sprintf("%.0f portions of %s, %.0f of them %s,", all, c.Dish, own, lower(a.Name))
	}
	return []Change{{Crop: a.Name, weight: all - want*weeks,
		Do:      fmt.Sprintf("Grow less %s at once, or spread it over two sowings", lower(a.Name)),
		Numbers: fmt.Sprintf("%s came in the %.0f weeks from %s; the table wants %.0f in that time.", came, weeks, short(month[0].day), want*weeks),
		Why:     fmt.Sprintf("it does not keep, so about %.0f portions had no eater", all-want*weeks)}}
}

// unkept are the pickings for a dish of crops that do not keep, in order of day.
func unkept(dish string, stories []*story) []dishPick {
	var out []dishPick
	for _, s := range stories {
		if s.Crop.Dish != dish || s.Crop.Keeping.Stored {
			continue
		}
		for _, p := range s.picked {
			out = append(out, dishPick{p.day, p.kg * portionsPerKg(s.Crop), s.Crop.Key})
		}
	}
	slices.SortStableFunc(out, func(x, y dishPick) int { return cmp.Compare(x.day, y.day) })
	return out
}

// fullest are the pickings of the most portions within so many days.
func fullest(picks []dishPick, days int) []dishPick {
	var best []dishPick
	for i := range picks {
		end := i
		for end < len(picks) && picks[end].day < picks[i].day.Add(days) {
			end++
		}
		if portionsOf(picks[i:end], "") > portionsOf(best, "") {
			best = picks[i:end]
		}
	}
	return best
}

// portionsOf adds up the pickings of a crop by its key, "" for all.
func portionsOf(picks []dishPick, key string) float64 {
	total := 0.0
	for _, p := range picks {
		if key == "" || p.crop == key {
			total += p.portions
		}
	}
	return total
}

// pickedMost says whether no other crop brought more of the pickings; of two
// that brought as much it is the first by key.
func pickedMost(picks []dishPick, key string) bool {
	own := portionsOf(picks, key)
	return own > 0 && !slices.ContainsFunc(picks, func(p dishPick) bool {
		other := portionsOf(picks, p.crop)
		return other > own || other == own && p.crop < key
	})
}

func (in *Input) wanted(dish string) float64 {
	for _, w := range in.Garden.Wants {
		if w.Dish == dish {
			return w.PortionsPerWeek
		}
	}
	return 0
}
