package plan

import (
	"math"
	"math/rand/v2"
)

// searcher improves one plan by moves: it changes a piece of ground, values the
// whole plan exactly and keeps the change or takes it back, more boldly while hot.
type searcher struct {
	*market
	rng    *rand.Rand
	steps  [][]step
	stepAt [][]int // per bed and week: first step that ends later
	heat   float64 // money that a step down may cost, about
	near   bool    // stay near the plan loaded

	best  []float64 // scratch of fill
	used  []uint32
	last  []int
	weeks []uint64

	top      float64 // best value so far, less what its changes ask
	topAsked float64 // what those ask
	topPlan  []Planting
	kept     int
	strips   int
	stripBed []int
}

func newSearcher(p *Problem, shared *tables, seed int64, number int) *searcher {
	s := &searcher{market: newMarket(newAccount(p, shared)),
		rng:  rand.New(rand.NewPCG(uint64(seed), uint64(number)+0x9e3779b97f4a7c15)),
		best: make([]float64, p.Weeks+1), used: make([]uint32, p.Weeks+1), last: make([]int, p.Weeks+1),
		weeks: make([]uint64, (p.Weeks+63)/64)}
	beds := make([][]step, len(p.Beds))
	for b := range p.Beds {
		beds[b] = stepsOf(s.plot, b)
		for range p.Beds[b].Len {
			s.stripBed = append(s.stripBed, b)
		}
	}
	s.use(beds)
	s.strips = len(s.stripBed)
	return s
}

// use makes the moves choose from these steps only.
func (s *searcher) use(beds [][]step) {
	s.steps, s.stepAt = beds, make([][]int, len(beds))
	for b, steps := range beds {
		s.stepAt[b] = make([]int, s.p.Weeks+1)
		for w, k := 0, 0; w <= s.p.Weeks; w++ {
			for k < len(steps) && steps[k].end <= w {
				k++
			}
			s.stepAt[b][w] = k
		}
	}
}

// construct plants bare ground, a few strips at a time, best run first.
func (s *searcher) construct() {
	order := s.rng.Perm(len(s.p.Beds))
	for _, bed := range order {
		for strip := 0; strip < s.p.Beds[bed].Len; {
			n := min(1+s.rng.IntN(3), s.p.Beds[bed].Len-strip)
			before := s.total
			s.begin()
			s.fill(window{bed, strip, n, 0, s.p.Weeks}, 0)
			if s.settle() > before {
				s.keep()
			} else {
				s.undo()
			}
			strip += n
		}
	}
	s.note()
}

// note remembers the plan if it is the best so far.
func (s *searcher) note() bool {
	if s.topPlan != nil && s.total <= s.top+1e-9 {
		return false
	}
	s.top, s.topAsked, s.topPlan = s.total, s.asked(), s.plantings()
	return true
}

// load replaces the plan by another.
func (s *searcher) load(plan []Planting) {
	s.begin()
	for b := range s.beds {
		for len(s.beds[b]) > 0 {
			s.lift(b, len(s.beds[b])-1)
		}
	}
	for _, pl := range plan {
		if s.fits(pl) { // fixed ones stand already
			s.put(pl)
		}
	}
	s.settle()
	s.keep()
	s.reprice()
}

// The moves; see the searcher's methods of the same names.
const (
	recast = iota
	insert
	grow
	shrink
	shift
	replace
	swap
	moveKinds
)

// try makes one random move and keeps it or not.
func (s *searcher) try() bool {
	before := s.total
	s.begin()
	kind := s.draw()
	s.keen = s.rng.Float64() < keenShare
	ok := false
	switch kind {
	case recast:
		ok = s.recast()
	case insert:
		ok = s.insert()
	case grow:
		ok = s.grow()
	case shrink:
		ok = s.shrink()
	case shift:
		ok = s.shift()
	case replace:
		ok = s.replace()
	case swap:
		ok = s.swap()
	}
	if !ok || len(s.log) == 0 {
		s.undo()
		return false
	}
	least := before + s.heat*math.Log(s.rng.Float64())
	if !s.keen && before+s.hope() < least || !s.settleAbove(least) {
		s.undo()
		return false
	}
	s.keep()
	if s.kept++; s.kept%400 == 0 {
		s.reprice()
	}
	return s.note()
}

// moveWeights is how often each move is drawn, found by trial on the three
// made-up instances.
var moveWeights = [moveKinds]int{recast: 10, insert: 3, grow: 30, shrink: 45, shift: 15, replace: 10, swap: 15}

func (s *searcher) draw() int {
	sum := 0
	for _, w := range moveWeights {
		sum += w
	}
	n := s.rng.IntN(sum)
	for k, w := range moveWeights {
		if n -= w; n < 0 {
			return k
		}
	}
	return 0
}

// Tuning, found by trial on the made-up instances and on gardens: the share of moves
// that price anew what they have touched (they take three times as long, but only they
// see what a crop is worth in its own place), and the heat at the start and the end of a
// run as a share of what a strip earns or of what a planting costs to set up, whichever
// is more: colder than that no move gets over a setup.
const (
	keenShare = 0.1
	hotShare  = 0.08
	coldShare = 8e-4
	hotSetup  = 0.7
	coldSetup = 0.02
)

// cool sets the heat for a share of the run done, 0 to 1.
func (s *searcher) cool(done float64) {
	strip := (math.Abs(s.top) + 1) / float64(s.strips)
	bother := s.p.SetupCost
	if s.near { // half cold, so as not to melt the plan down nor to trade its setups
		done, bother = 0.5+done/2, s.asks
	}
	hot, cold := max(hotShare*strip, hotSetup*bother), max(coldShare*strip, coldSetup*bother)
	s.heat = hot * math.Pow(cold/hot, done)
}
