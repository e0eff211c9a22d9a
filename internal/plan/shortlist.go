package plan

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"time"
)

// Choice is the best set of so many crops: the best plan that plants nothing else.
type Choice struct {
	Crops  []int // ascending
	Result Result
	// Others bounds every plan of any other set of as many crops.
	Others float64
	// Joined and Left are the crops that come in and drop out against the best set
	// with one crop fewer. Nothing says that the sets lie within each other.
	Joined, Left []int
}

// Proven says that no other set of as many crops is worth more than the plan found.
// Which set is best can be proven though its value is not known to the last digit.
func (c *Choice) Proven() bool { return c.Others <= c.Result.Value+1e-9*math.Abs(c.Result.Value) }

// Shortlist looks for the sets of 0, 1, 2, … up to most crops that are worth most
// and proves how good each is; the index is the number of crops. What stands or is
// fixed counts in every set, whoever's it is. It ends earlier where there are no
// more crops. o.Seconds is for the whole answer, o.Iterations for each of its many
// short searches; with Iterations alone it comes out the same everywhere. tell may
// be nil; it is handed the list as it grows and gets better. p must have passed
// Check.
//
// It is a branch and bound over sets. Rents from the duals of a few sets bound all
// others, crop by crop (see rent); sets that these do not rule out are solved, the
// most promising first, as long as there is time. What is then still open is told
// in Others.
func Shortlist(ctx context.Context, p *Problem, most int, o Options, tell func([]Choice)) []Choice {
	l := &lister{ctx: ctx, p: p, o: o, sets: map[string]*set{}}
	for c := range p.Crops {
		if !slices.Contains(p.Without, c) && slices.ContainsFunc(p.Cands, func(k Candidate) bool { return k.Crop == c }) {
			l.crops = append(l.crops, c)
		}
	}
	if o.Clock != nil {
		l.began = o.Clock()
	}
	if l.o.Seconds == 0 && l.o.Iterations == 0 {
		l.o.Iterations = listIterations
	}
	l.most = max(0, min(most, len(l.crops)))
	told := func() {
		if tell != nil {
			tell(l.choices())
		}
	}
	l.full = l.solve(l.crops, o.Keep, fullPart)
	for i, share := range listShares {
		if l.estimate(l.full, share); i == 0 {
			l.cost = 0 // the second is wanted even on a slow machine
		}
	}
	l.offer(l.solve(nil, nil, 0.01))
	for k := 1; k <= l.most; k++ {
		l.forward(k)
		told()
	}
	for k := l.most - 1; k > 0; k-- {
		l.backward(k)
	}
	l.polish()
	told()
	l.prove(told)
	return l.choices()
}

// listIterations is how many moves each search makes when nothing else is said.
const listIterations = 400

// set is a set of crops that has been looked into.
type set struct {
	crops  []int
	part   *part
	result Result // numbered as the part
}

// lister is the course of one Shortlist.
type lister struct {
	ctx       context.Context
	p         *Problem
	o         Options
	began     time.Time
	crops     []int
	most      int
	sets      map[string]*set
	full      *set   // with all crops
	best      []*set // by number of crops
	estimates []estimate
	cost      float64 // the part of the time that an estimate took last
}

// estimate is what one choice of rents proves: base for no crop, and what each adds.
type estimate struct {
	base float64
	adds []float64
}

// of is what is proven of a set of crops.
func (e *estimate) of(crops []int) float64 {
	total := e.base
	for _, c := range crops {
		total += e.adds[c]
	}
	return total
}

func key(crops []int) string { return fmt.Sprint(crops) }

// spent is the part of the time that is gone; 0 where only iterations count.
func (l *lister) spent() float64 {
	if l.ctx.Err() != nil {
		return 1
	}
	if l.o.Clock == nil || l.o.Seconds == 0 {
		return 0
	}
	return l.o.Clock().Sub(l.began).Seconds() / l.o.Seconds
}

// The parts of the time: for the plan with all crops; by when forward, backward and
// polish are to be through; and for one search, all sizes together.
const (
	fullPart   = 0.12
	forwardBy  = 0.65
	backwardBy = 0.72
	polishBy   = 0.92
	searchPart = 0.2
	polishPart = 0.12
)

// listShares are the parts of the rents of all crops together that are tried: few
// crops do not fill the ground.
var listShares = []float64{1, 0, 0.35}

// Sets of so few crops are searched for so many moves, whatever the time: it is short.
const (
	fewCrops = 2
	fewMoves = 1500
)

// search solves a part, going on from plantings numbered as the whole problem.
func (l *lister) search(q *part, kept []Planting, share float64) Result {
	o := l.o
	o.Keep = q.narrow(kept)
	o.Seconds *= share
	if len(q.Without) >= len(q.Crops)-fewCrops && o.Iterations == 0 && share >= searchPart/float64(l.most) {
		o.Seconds, o.Iterations = 0, fewMoves // a busy machine shall not spoil the first lists
	}
	if l.ctx.Err() != nil {
		o.Seconds, o.Iterations = 0, 1
	}
	return Solve(l.ctx, q.Problem, o, nil)
}

// solve looks into a set, unless that has been done.
func (l *lister) solve(crops []int, kept []Planting, share float64) *set {
	if s, ok := l.sets[key(crops)]; ok {
		return s
	}
	s := &set{crops: crops, part: partOf(l.p, crops)}
	s.result = l.search(s.part, kept, share)
	l.sets[key(crops)] = s
	return s
}

// offer takes a set for its size's best if it is.
func (l *lister) offer(s *set) {
	k := len(s.crops)
	if k == len(l.best) {
		l.best = append(l.best, s)
	} else if s.result.Value > l.best[k].result.Value {
		l.best[k] = s
	}
}

// estimate has a share of a set's rents prove what they can of all sets.
func (l *lister) estimate(s *set, share float64) {
	began := l.spent()
	if s.result.Duals == nil || began+l.cost > polishBy {
		return
	}
	r := newRent(s.part, s.result.Duals, share)
	var given []int
	if share == 1 {
		given = s.crops
	}
	adds := r.adds(l.ctx, l.p, s.result.Duals, given, l.o.Threads)
	if l.ctx.Err() == nil {
		l.estimates = append(l.estimates, estimate{r.base(), adds})
		l.cost = l.spent() - began
	}
}

// forward looks for k crops: those that the rents think best, and the best k-1 with
// each of the most promising others.
func (l *lister) forward(k int) {
	from := l.best[k-1]
	order := l.ranked(k)
	tries := [][]int{with(nil, order[:k]...)}
	for _, c := range missing(order, from.crops) {
		if crops := with(from.crops, c); key(crops) != key(tries[0]) {
			tries = append(tries, crops)
		}
		if len(tries) > listTries {
			break
		}
	}
	kept := from.part.widen(from.result.Plantings)
	for i, crops := range tries {
		if i < 2 || k == 1 || l.spent() < l.due(k) {
			l.offer(l.solve(crops, append(slices.Clone(kept), l.plantingsOf(missing(crops, from.crops))...), searchPart/float64(l.most)))
		}
	}
	if l.spent()+l.cost < l.due(k) {
		l.estimate(l.best[k], 1)
	}
}

// due is the part of the time by which forward is to be through with k crops.
func (l *lister) due(k int) float64 {
	return fullPart + (forwardBy-fullPart)*float64(k)/float64(l.most)
}

// plantingsOf are some crops' plantings in the plan with all of them.
func (l *lister) plantingsOf(crops []int) []Planting {
	return slices.DeleteFunc(l.full.part.widen(l.full.result.Plantings), func(pl Planting) bool {
		return !slices.Contains(crops, l.p.Cands[pl.Cand].Crop)
	})
}

// listTries is how many crops are tried to join.
const listTries = 3

// ranked are the crops, best first by what they add at the rents that prove most
// of sets of k.
func (l *lister) ranked(k int) []int {
	order, least := l.crops, math.Inf(1)
	for _, e := range l.estimates {
		own := slices.Clone(l.crops)
		slices.SortStableFunc(own, func(a, b int) int { return cmp.Compare(e.adds[b], e.adds[a]) })
		if total := e.of(own[:k]); total < least {
			order, least = own, total
		}
	}
	return slices.Clone(order)
}

// with is a set with crops more.
func with(crops []int, more ...int) []int {
	all := append(slices.Clone(crops), more...)
	slices.Sort(all)
	return all
}

// backward looks for k crops among the best k+1: each of the least is left out.
func (l *lister) backward(k int) {
	from := l.best[k+1]
	kept := from.part.widen(from.result.Plantings)
	order := l.ranked(k)
	slices.Reverse(order)
	tried := 0
	for _, c := range order {
		if !slices.Contains(from.crops, c) || tried == 2 {
			continue
		}
		if tried++; l.spent() >= backwardBy {
			return
		}
		l.offer(l.solve(slices.DeleteFunc(slices.Clone(from.crops), func(x int) bool { return x == c }), kept, searchPart/float64(l.most)))
	}
}

// polish looks longer at the best sets: each from its own plan or from that of one
// crop fewer, which it may not be worse than.
func (l *lister) polish() {
	for k := 1; k <= l.most; k++ {
		l.improve(l.best[k], l.best[k-1], polishPart/float64(l.most))
		if l.spent()+l.cost < backwardBy+(polishBy-backwardBy)*float64(k)/float64(l.most) {
			l.estimate(l.best[k], 1)
		}
	}
}

func (l *lister) improve(s, fewer *set, share float64) {
	kept := s.part.widen(s.result.Plantings)
	if fewer != nil && fewer.result.Value > s.result.Value {
		kept = fewer.part.widen(fewer.result.Plantings)
	}
	s.result = better(s.result, l.search(s.part, kept, share))
}

// choices tells what is known.
func (l *lister) choices() []Choice {
	all := make([]Choice, len(l.best))
	most := l.full.result.Bound // of any set of so many crops, for they are among those of one more
	for k := len(l.best) - 1; k >= 0; k-- {
		s := l.best[k]
		c := &all[k]
		*c = Choice{Crops: s.crops, Result: s.result, Others: min(l.others(k), most)}
		c.Result.Plantings = s.part.widen(s.result.Plantings)
		c.Result.Bound = min(c.Result.Bound, l.proven(s.crops), most)
		c.Result.gap()
		most = min(most, max(c.Result.Bound, c.Others))
		if k > 0 {
			before := l.best[k-1].crops
			c.Joined, c.Left = missing(s.crops, before), missing(before, s.crops)
		}
	}
	return all
}

// missing are the members of a that b has not.
func missing(a, b []int) []int {
	var out []int
	for _, c := range a {
		if !slices.Contains(b, c) {
			out = append(out, c)
		}
	}
	return out
}
