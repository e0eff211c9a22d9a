package plan

import (
	"cmp"
	"container/heap"
	"math"
	"slices"
)

// proven is the least that any rents prove of a set.
func (l *lister) proven(crops []int) float64 {
	least := math.Inf(1)
	for _, e := range l.estimates {
		least = min(least, e.of(crops))
	}
	return least
}

// node is a set in the making: the crops chosen so far, and which of the ranked
// ones are still to be decided, those from at on.
type node struct {
	chosen []int
	at     int
	bound  float64
}

// front is a heap of nodes, the highest bound first.
type front []node

func (f front) Len() int           { return len(f) }
func (f front) Less(i, j int) bool { return f[i].bound > f[j].bound }
func (f front) Swap(i, j int)      { f[i], f[j] = f[j], f[i] }
func (f *front) Push(x any)        { *f = append(*f, x.(node)) }
func (f *front) Pop() any {
	old := *f
	last := old[len(old)-1]
	*f = old[:len(old)-1]
	return last
}

// hunt is the branch and bound over the sets of one size.
type hunt struct {
	*lister
	size  int
	order []int   // the crops as they are decided, most promising first
	rank  [][]int // by estimate: the same crops' places in order, best first
	open  front
	shut  float64 // the highest bound of another set that was looked into
	left  int     // nodes that may still be opened
}

// huntNodes is how many nodes a hunt may open: beyond that its bound hardly falls.
const huntNodes = 20000

func (l *lister) newHunt(size int) *hunt {
	h := &hunt{lister: l, size: size, order: l.ranked(size), shut: math.Inf(-1), left: huntNodes}
	for _, e := range l.estimates {
		places := make([]int, len(h.order))
		for i := range places {
			places[i] = i
		}
		slices.SortStableFunc(places, func(a, b int) int { return cmp.Compare(e.adds[h.order[b]], e.adds[h.order[a]]) })
		h.rank = append(h.rank, places)
	}
	root := node{bound: h.bound(nil, 0)}
	heap.Push(&h.open, root)
	return h
}

// bound is what is proven of every set that begins so: the chosen crops and the
// best of the undecided ones. -Inf where too few are left.
func (h *hunt) bound(chosen []int, at int) float64 {
	need := h.size - len(chosen)
	if need < 0 || len(h.order)-at < need {
		return math.Inf(-1)
	}
	least := math.Inf(1)
	for i, e := range h.estimates[:len(h.rank)] {
		total, left := e.of(chosen), need
		for _, place := range h.rank[i] {
			if left == 0 {
				break
			}
			if place >= at {
				total += e.adds[h.order[place]]
				left--
			}
		}
		least = min(least, total)
	}
	return least
}

// next opens nodes until it comes to a set that the rents do not rule out and that
// has not been looked into; nil where there is none.
func (h *hunt) next() []int {
	for len(h.open) > 0 && h.left > 0 && h.open[0].bound > h.best[h.size].result.Value {
		h.left--
		n := heap.Pop(&h.open).(node)
		if len(n.chosen) < h.size {
			h.branch(n)
			continue
		}
		crops := with(nil, n.chosen...)
		if s, ok := h.sets[key(crops)]; ok {
			h.close(s)
			continue
		}
		return crops
	}
	return nil
}

func (h *hunt) branch(n node) {
	in := append(slices.Clone(n.chosen), h.order[n.at])
	for _, child := range []node{{in, n.at + 1, 0}, {n.chosen, n.at + 1, 0}} {
		if child.bound = min(n.bound, h.bound(child.chosen, child.at)); !math.IsInf(child.bound, -1) {
			heap.Push(&h.open, child)
		}
	}
}

// close counts a set that was looked into among the others, unless it is the best:
// that one is counted when another takes its place.
func (h *hunt) close(s *set) {
	before := h.best[h.size]
	h.offer(s)
	if now := h.best[h.size]; now == s && before != s {
		s = before
	} else if now == s {
		return
	}
	h.shut = max(h.shut, min(s.result.Bound, h.proven(s.crops)))
}

// rest bounds all sets but the best.
func (h *hunt) rest() float64 {
	if len(h.open) > 0 {
		return max(h.shut, h.open[0].bound)
	}
	return h.shut
}

// others bounds all sets of so many crops but the best found: by rents, those that
// were looked into by their own bounds too.
func (l *lister) others(size int) float64 {
	if size == 0 || size == len(l.crops) {
		return math.Inf(-1) // there are no others
	}
	h := l.newHunt(size)
	for len(h.open) > 0 && h.left > 0 && h.open[0].bound > h.best[size].result.Value {
		if h.open[0].bound <= h.shut {
			break // opening more does not lower the bound
		}
		crops := h.next()
		if crops == nil {
			break
		}
		h.shut = max(h.shut, h.proven(crops)) // as far as is known without looking
	}
	return h.rest()
}

// prove looks into sets that are not ruled out, size by size in turns, until none
// is left or the time is spent.
func (l *lister) prove(told func()) {
	if len(l.estimates) == 0 {
		return
	}
	hunts := map[int]*hunt{}
	for k := 1; k <= l.most && k < len(l.crops); k++ {
		hunts[k] = l.newHunt(k)
	}
	for turn := 0; len(hunts) > 0 && (l.o.Clock != nil && l.o.Seconds > 0 || turn < proveTurns); turn++ {
		for k := 1; k <= l.most; k++ {
			h := hunts[k]
			if h == nil {
				continue
			}
			if l.spent() >= 1 {
				return
			}
			crops := h.next()
			if crops == nil {
				delete(hunts, k)
				continue
			}
			best := l.best[k]
			h.close(l.solve(crops, best.part.widen(best.result.Plantings), searchPart/float64(l.most)))
			if l.best[k] != best {
				told()
			}
		}
	}
}

// proveTurns is how many sets of each size are looked into when iterations count.
const proveTurns = 4
