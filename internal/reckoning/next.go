package reckoning

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"haulm/internal/calendar"
	"haulm/internal/diary"
	"haulm/internal/garden"
)

// Next is the garden with which the next year begins, line by line, so that it
// can be looked at and corrected before it is taken.
type Next struct {
	Year   int         `json:"year"` // the one that begins
	Grown  []NextGrown `json:"grown"`
	Stands []NextStand `json:"stands"`
	Stores []NextStore `json:"stores"`
	Notes  []string    `json:"notes"` // what could not be told
}

// NextGrown is a line for the rotation's history.
type NextGrown struct {
	garden.Grown
	Name string `json:"name"`
	From string `json:"from"` // by what it is known: the diary, the plan, the garden
	// Unnoted is of what was planned and is not in a diary that is kept: it is
	// left out unless somebody knows better.
	Unnoted bool `json:"unnoted,omitempty"`
}

// NextStand is a crop that stands into the next year.
type NextStand struct {
	garden.Standing
	Name    string `json:"name"`
	From    string `json:"from"`
	Unnoted bool   `json:"unnoted,omitempty"` // as NextGrown has it
}

// NextStore is what lies in store, as far as it is known.
type NextStore struct {
	garden.InStore
	Why string `json:"why"`
}

// NextYear makes the lines of the next year's garden: the rotation's history
// from what really had its ground, by the diary first, by the plan where no
// diary is kept; what still stands; and what was noted as stored. What a diary
// that is kept says nothing of has its line as well, marked as unnoted.
func NextYear(in Input) (*Next, error) {
	if in.Today < in.from() {
		return nil, fmt.Errorf("%d has not begun: it cannot be closed yet", in.Year)
	}
	n := &Next{Year: in.Year + 1, Grown: []NextGrown{}, Stands: []NextStand{}, Stores: []NextStore{}, Notes: []string{}}
	stories := in.stories()
	slices.SortStableFunc(stories, func(a, b *story) int { // what the diary knows, and what was begun last, stands
		return cmp.Or(cmp.Compare(boolInt(a.byPlan), boolInt(b.byPlan)), cmp.Compare(b.heldFrom, a.heldFrom))
	})
	for _, s := range stories {
		if s.onGround() {
			n.add(&in, s)
		}
	}
	n.stored(&in)
	n.order()
	return n, nil
}

func boolInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

// add puts a planting that had its ground with what stands or with what stood.
func (n *Next) add(in *Input, s *story) {
	from, unnoted := "the diary", s.byPlan && in.DiaryKept
	switch {
	case s.byPlan:
		from = "the plan; the diary says nothing of it"
	case s.Stood && s.BegunBy == 0 && s.lines == 0:
		from = "the garden, where it stood already"
	}
	stands := !s.cleared.Known() && !s.lostAll && (s.Alive || s.byPlan && s.Clear > in.Today || s.Crop.Perennial)
	if stands && s.ToCM > s.FromCM {
		stand := NextStand{garden.Standing{Place: s.Place.Name, FromCM: s.FromCM, ToCM: s.ToCM, Crop: s.Crop.Key, Route: s.Route.Key,
			Class: s.Class, Started: s.started(), SetOut: s.setOut()}, s.Crop.Name, from, unnoted}
		on := n.standsOn(stand)
		if on == "" {
			n.Stands = append(n.Stands, stand)
			return
		}
		if !unnoted {
			n.Notes = append(n.Notes, fmt.Sprintf("%s in %s is counted as over: %s stands on the same ground", s.Crop.Name, s.Place.Name, lower(on)))
		}
	}
	grown := garden.Grown{Place: s.Place.Name, FromCM: s.FromCM, ToCM: s.ToCM, Crop: s.Crop.Key, Year: in.Year}
	if s.ToCM <= s.FromCM {
		grown.FromCM, grown.ToCM = 0, s.Place.LengthCM()
		n.Notes = append(n.Notes, fmt.Sprintf("Where in %s the %s stood was not noted: it counts for the whole of it", s.Place.Name, lower(s.Crop.Name)))
		if stands {
			n.Notes = append(n.Notes, fmt.Sprintf("If the %s in %s stands still, write its stretch on the Garden page", lower(s.Crop.Name), s.Place.Name))
		}
	}
	n.Grown = append(n.Grown, NextGrown{grown, s.Crop.Name, from, unnoted})
}

// started is the real day of sowing or planting, the planned one where nothing
// was noted.
func (s *story) started() calendar.Date {
	if s.begun.Known() {
		return s.begun
	}
	return s.Start
}

func (s *story) setOut() calendar.Date {
	switch {
	case !s.Route.Raised:
		return calendar.None
	case s.out.Known():
		return s.out
	}
	return max(s.SetOut, s.started())
}

// standsOn names what stands already on a stretch, or nothing.
func (n *Next) standsOn(s NextStand) string {
	for _, other := range n.Stands {
		if other.Place == s.Place && other.FromCM < s.ToCM && s.FromCM < other.ToCM {
			return other.Name
		}
	}
	return ""
}

// stored adds up what was noted as stored in the year, less what storing
// spoils. What was eaten since is not in the diary.
func (n *Next) stored(in *Input) {
	kg := map[string]float64{}
	put := map[string]float64{}
	for _, e := range in.Diary {
		c := in.Catalogue.Crop(e.Crop)
		if e.Kind != diary.Stored || !in.within(e.Day) || c == nil {
			continue
		}
		if math.IsNaN(e.Kg()) {
			n.Notes = append(n.Notes, fmt.Sprintf("%s stored on %s has no weight: write what lies in store on the Garden page", c.Name, short(e.Day)))
			continue
		}
		keep := c.Keeping.WeeklyKeep
		if keep <= 0 {
			keep = 1
		}
		put[c.Dish] += e.Kg()
		kg[c.Dish] += e.Kg() * math.Pow(keep, float64(in.Today-e.Day)/7)
	}
	for dish, left := range kg {
		left = math.Round(left*10) / 10
		if left > 0 {
			n.Stores = append(n.Stores, NextStore{garden.InStore{Dish: dish, Kg: left},
				fmt.Sprintf("%.1f kg were stored; so much is left by the usual loss in store, less what was eaten since", put[dish])})
		}
	}
	for _, old := range in.Garden.InStore {
		if _, ok := kg[old.Dish]; !ok {
			n.Notes = append(n.Notes, fmt.Sprintf("%.1f kg of %s lay in store when the plan was made and nothing was stored since: taken as eaten", old.Kg, old.Dish))
		}
	}
}

func (n *Next) order() {
	slices.SortStableFunc(n.Grown, func(a, b NextGrown) int {
		return cmp.Or(cmp.Compare(a.Place, b.Place), cmp.Compare(a.FromCM, b.FromCM), cmp.Compare(a.Crop, b.Crop))
	})
	n.Grown = slices.CompactFunc(n.Grown, func(a, b NextGrown) bool { return a.Grown == b.Grown })
	slices.SortStableFunc(n.Stands, func(a, b NextStand) int {
		return cmp.Or(cmp.Compare(a.Place, b.Place), cmp.Compare(a.FromCM, b.FromCM))
	})
	slices.SortFunc(n.Stores, func(a, b NextStore) int { return cmp.Compare(a.Dish, b.Dish) })
	slices.Sort(n.Notes)
	n.Notes = slices.Compact(n.Notes)
}

// Noted are the lines without those of what was planned and is not in a diary
// that is kept.
func (n *Next) Noted() *Next {
	out := *n
	out.Grown = slices.DeleteFunc(slices.Clone(n.Grown), func(g NextGrown) bool { return g.Unnoted })
	out.Stands = slices.DeleteFunc(slices.Clone(n.Stands), func(s NextStand) bool { return s.Unnoted })
	return &out
}

// Apply makes the next year's garden of a garden and these lines: same site,
// ground, household and table; history added to, what stands and what lies in
// store as the lines say.
func (n *Next) Apply(g *garden.Garden) *garden.Garden {
	out := *g
	out.History = slices.Clone(g.History)
	for _, line := range n.Grown {
		if !slices.Contains(out.History, line.Grown) {
			out.History = append(out.History, line.Grown)
		}
	}
	out.Standing, out.InStore = nil, nil
	for _, line := range n.Stands {
		out.Standing = append(out.Standing, line.Standing)
	}
	for _, line := range n.Stores {
		out.InStore = append(out.InStore, line.InStore)
	}
	return &out
}
