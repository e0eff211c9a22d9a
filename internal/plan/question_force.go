package plan

import (
	"cmp"
	"errors"
	"math"
	"slices"
)

// Openings are places for a planting of so many strips of a crop that a plan does
// not have, each candidate and bed once, the least costly first as far as the
// prices d tell: what the planting earns at them less what its ground is worth. Of
// a bed's stretches it takes that where least of the plan is in its way. There is
// none where nothing of the crop can grow on so many strips. d must have passed Bound.
func Openings(p *Problem, crop, strips int, plantings []Planting, d *Duals) []Planting {
	bound, g := newBounder(p, newTables(p)), newPlot(p)
	worth := bound.groundWorth(d)
	s := newSolo(g, bound.rent(worth, d, 1), crop)
	s.at(s.mended(d.Produce[crop]), 1)
	type opening struct {
		Planting
		gain float64
	}
	var all []opening
	for i := range p.Cands {
		if p.Cands[i].Crop != crop {
			continue
		}
		earns := s.earned(&p.Cands[i])
		for b := range p.Beds {
			at := bestStretch(p, g, i, b, max(strips, p.Cands[i].MinStrips), plantings)
			if at.Strips == 0 {
				continue
			}
			gain := earns * float64(at.Strips)
			for j := at.Strip; j < at.Strip+at.Strips; j++ {
				for w := p.Cands[i].Start; w < p.Cands[i].End; w++ {
					gain -= worth[bound.soilOf[b][j]][w]
				}
			}
			all = append(all, opening{at, gain})
		}
	}
	slices.SortStableFunc(all, func(a, b opening) int { return cmp.Compare(b.gain, a.gain) })
	var out []Planting
	for _, o := range all {
		out = append(out, o.Planting)
	}
	return out
}

// earned is a candidate's score as last worked out.
func (s *solo) earned(c *Candidate) float64 {
	for _, k := range s.cands {
		if k.Candidate == c {
			return k.score
		}
	}
	return 0
}

// bestStretch is where on a bed a planting fits on what stands and is fixed, and
// fewest plantings of the plan are in its way; no strips if nowhere.
func bestStretch(p *Problem, g *plot, cand, bed, strips int, plantings []Planting) Planting {
	best, least := Planting{}, 0
	for j := 0; j+strips <= p.Beds[bed].Len; j++ {
		pl := Planting{cand, bed, j, strips}
		if !g.fits(pl) {
			continue
		}
		inWay := 0
		for _, other := range plantings {
			o := &p.Cands[other.Cand]
			if other.Bed == bed && other.Strip < j+strips && j < other.Strip+other.Strips && o.Start < p.Cands[cand].End && p.Cands[cand].Start < o.End {
				inWay++
			}
		}
		if best.Strips == 0 || inWay < least {
			best, least = pl, inWay
		}
	}
	return best
}

// WithFixed is the problem in which a planting is settled beforehand.
func (p *Problem) WithFixed(pl Planting) *Problem {
	own := *p
	own.Fixed = append(slices.Clone(p.Fixed), pl)
	return &own
}

// WithoutCrops is the problem in which some crops may not be planted. What stands
// or is fixed of them stays.
func (p *Problem) WithoutCrops(crops []int) *Problem {
	own := *p
	own.Without = slices.Clone(p.Without)
	for _, c := range crops {
		if !slices.Contains(own.Without, c) {
			own.Without = append(own.Without, c)
		}
	}
	return &own
}

// WithLabour is the problem with other hours: minutes a week before overtime.
func (p *Problem) WithLabour(minutes float64) *Problem {
	own := *p
	own.LabourCap = minutes
	return &own
}

// WithLonger is the problem in which a bed is so many strips longer: fresh ground,
// barred to no family.
func (p *Problem) WithLonger(bed, strips int) *Problem {
	own := *p
	own.Beds = slices.Clone(p.Beds)
	b := &own.Beds[bed]
	b.Ban = slices.Clone(b.Ban)
	for range strips {
		b.Ban = append(b.Ban, 0)
	}
	b.Len += strips
	return &own
}

// WithoutCandidates is the problem in which some candidates are offered no bed. What
// is fixed stays. It fails when the beds use all kinds there can be.
func (p *Problem) WithoutCandidates(cands []int) (*Problem, error) {
	var used uint32
	for b := range p.Beds {
		used |= 1 << uint(p.Beds[b].Kind)
	}
	if used == math.MaxUint32 {
		return nil, errors.New("the beds are of too many kinds to leave single candidates out")
	}
	own := *p
	own.Cands = slices.Clone(p.Cands)
	for _, i := range cands {
		if !slices.ContainsFunc(p.Fixed, func(pl Planting) bool { return pl.Cand == i }) {
			own.Cands[i].Kinds = ^used & -^used // the lowest kind that no bed is of
		}
	}
	return &own, nil
}
