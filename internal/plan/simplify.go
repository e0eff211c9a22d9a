package plan

import (
	"cmp"
	"math"
	"slices"
)

// Simplify takes plantings out of a plan, one at a time, always the one that is
// missed least once its neighbours have spread over its strips, until fewer are
// gone. It tells the plans on the way: steps[k] has k+1 plantings fewer than the
// plan given, and its value is what a simpler year costs at most: a search may find
// a better plan as simple. Fixed plantings stay. It stops early when nothing more
// can go. p must have passed Check and the plan Validate.
func Simplify(p *Problem, plantings []Planting, fewer int) []Simpler {
	s := newSearcher(p, newTables(p), 1, 0)
	s.load(plantings)
	var steps []Simpler
	for len(steps) < fewer {
		if !s.dropCheapest() {
			break
		}
		steps = append(steps, Simpler{Plantings: s.plantings(), Value: s.total})
	}
	return steps
}

// Simpler is a plan with fewer plantings and what it is worth.
type Simpler struct {
	Plantings []Planting
	Value     float64
}

// dropCheapest takes out the planting that is missed least; false if there is none.
func (s *searcher) dropCheapest() bool {
	best, at := math.Inf(-1), Planting{}
	for bed := range s.beds {
		for _, pl := range slices.Clone(s.beds[bed]) {
			s.begin()
			s.dropFor(pl)
			if v := s.settle(); v > best {
				best, at = v, pl
			}
			s.undo()
		}
	}
	if math.IsInf(best, -1) {
		return false
	}
	s.begin()
	s.dropFor(at)
	s.settle()
	s.keep()
	return true
}

// dropFor lifts a planting and lets those beside it spread over its strips where
// that is worth more.
func (s *searcher) dropFor(pl Planting) {
	s.lift(pl.Bed, s.find(pl))
	at := s.settle()
	d := &s.p.Cands[pl.Cand]
	others := slices.Clone(s.beds[pl.Bed])
	// In an order of their own, since a move taken back leaves the bed's changed:
	// the same candidate first, so that pieces of one planting join.
	sortPlantings(s.p, others)
	slices.SortStableFunc(others, func(x, y Planting) int {
		return cmp.Compare(abs(x.Cand-pl.Cand), abs(y.Cand-pl.Cand))
	})
	for _, q := range others {
		c := &s.p.Cands[q.Cand]
		beside := q.Strip+q.Strips == pl.Strip || pl.Strip+pl.Strips == q.Strip
		if beside && c.Start < d.End && d.Start < c.End {
			at = s.spread(q, pl, at)
		}
	}
}

func abs(n int) int { return max(n, -n) }

// spread lengthens a planting over strips that came free beside it, as far as that
// pays, and returns the plan's value.
func (s *searcher) spread(q, free Planting, at float64) float64 {
	for range free.Strips {
		longer := Planting{q.Cand, q.Bed, q.Strip, q.Strips + 1}
		if free.Strip < q.Strip {
			longer.Strip--
		}
		s.lift(q.Bed, s.find(q))
		if s.fits(longer) {
			s.put(longer)
			if v := s.settle(); v > at {
				q, at = longer, v
				continue
			}
			s.lift(q.Bed, s.find(longer))
		}
		s.put(q)
		s.settle()
		break
	}
	return at
}
