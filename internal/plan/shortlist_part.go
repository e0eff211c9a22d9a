package plan

import "slices"

// part is a problem in which only some crops may be planted, with the candidates
// of the others left out, so that it is quick to solve. Crops keep their numbers.
type part struct {
	*Problem
	whole []int // candidate of part -> of the whole problem
	local []int // and back; -1 where it is left out
}

// partOf keeps the crops of a set. What stands or is fixed stays, whoever's it is.
func partOf(p *Problem, crops []int) *part {
	var others []int
	for c := range p.Crops {
		if !slices.Contains(crops, c) {
			others = append(others, c)
		}
	}
	own := p.WithoutCrops(others)
	own.Cands = nil
	q := &part{Problem: own, local: make([]int, len(p.Cands))}
	for i := range p.Cands {
		fixed := slices.ContainsFunc(p.Fixed, func(pl Planting) bool { return pl.Cand == i })
		if q.local[i] = -1; fixed || slices.Contains(crops, p.Cands[i].Crop) {
			q.local[i] = len(q.whole)
			q.whole = append(q.whole, i)
			own.Cands = append(own.Cands, p.Cands[i])
		}
	}
	own.Fixed = q.narrow(p.Fixed)
	return q
}

// narrow numbers plantings as the part does, leaving out those that it has not.
func (q *part) narrow(plantings []Planting) []Planting {
	var out []Planting
	for _, pl := range plantings {
		if at := q.local[pl.Cand]; at >= 0 {
			pl.Cand = at
			out = append(out, pl)
		}
	}
	return out
}

// widen numbers plantings as the whole problem does.
func (q *part) widen(plantings []Planting) []Planting {
	out := make([]Planting, 0, len(plantings))
	for _, pl := range plantings {
		pl.Cand = q.whole[pl.Cand]
		out = append(out, pl)
	}
	return out
}
