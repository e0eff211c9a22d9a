package plan

import (
	"fmt"
	"math"
)

// Whole proves how little a crop's table can gain in a span of weeks from whole
// plantings: no split strips, none shorter than its least, each with its setup. Areas may
// be split at will; this is what the relaxation does not see.
//
// A strip pays the table all that the ground lets it: its costs and what the best run
// through time earns in its weeks, never less than the duals' prices leave of its worth.
// Then no run earns more, and of the plantings that are not in the best runs each costs the
// table what it would cost the ground.
//
// The table's worth is concave in the strips, so prices at the margin of any harvest
// bound it from above by a plane. Nodes is a tree in preorder: an inner node splits
// by a candidate's strips, and its two parts follow, fewer first; a leaf mixes planes,
// and their mixture is largest at a corner of the leaf's box. The worst leaf counts.
//
// A setup is paid by the first strip alone, and so the fewer a candidate's strips can be
// the tighter the planes are. Limits says beyond how many of its own strips a candidate
// is not worth its rent even if nothing else of the crop grows. With more picked, of
// whatever, no week's produce is worth more, since each can stand in for another's; so
// that holds whatever else grows, and there is a best choice that keeps to the limits.
//
// What is kept crosses from span to span, and a tree for the whole season would have to
// split every week's strips against every other's. So each span proves its part by
// itself: within it prices are free, without it they are the duals' own, and where it
// begins and ends they are held to a price between those of the two weeks that meet
// there (see counter.edge), so that spans' prices go together whichever each takes. A
// planting picked in several spans pays each the share that its pickings there have in
// its worth at the duals' own prices. A crop's spans cover the season.
type Whole struct {
	From   int      `json:"from"`
	To     int      `json:"to"` // the week after the last
	Limits []Limit  `json:"limits,omitempty"`
	Points [][]Part `json:"points,omitempty"` // harvests: strips by candidate
	Nodes  []Node   `json:"nodes"`
}

// Limit is how many strips of a candidate can be worth their rent.
type Limit struct {
	Cand int `json:"cand"`
	Most int `json:"most"`
}

// Part is strips of a candidate, not always whole.
type Part struct {
	Cand   int     `json:"cand"`
	Strips float64 `json:"strips"`
}

// Node splits at Most strips of Cand, or is a leaf, and then has a Mix.
type Node struct {
	Cand int      `json:"cand,omitempty"`
	Most int      `json:"most,omitempty"`
	Mix  []Weight `json:"mix,omitempty"`
}

// Weight is a plane's share in a leaf: plane 0 has the duals' own prices, plane k
// the prices at the margin of Points[k-1].
type Weight struct {
	Plane int     `json:"plane"`
	Share float64 `json:"share"`
}

// checkWhole refuses trees that do not fit the crops.
func (p *Problem) checkWhole(all [][]Whole) error {
	if len(all) != 0 && len(all) != len(p.Crops) {
		return fmt.Errorf("whole: trees for %d crops, want %d or none", len(all), len(p.Crops))
	}
	for c := range all {
		from := 0
		for i := range all[c] {
			w := &all[c][i]
			if w.From != from || w.To <= w.From || w.To > p.Weeks {
				return fmt.Errorf("whole[%d]: weeks %d to %d are no span from week %d on", c, w.From, w.To, from)
			}
			from = w.To
			if err := w.check(p, c); err != nil {
				return fmt.Errorf("whole[%d][%d]: %w", c, i, err)
			}
		}
		if len(all[c]) > 0 && from != p.Weeks {
			return fmt.Errorf("whole[%d]: the spans end at week %d, the season at week %d", c, from, p.Weeks)
		}
	}
	return nil
}

// check refuses a tree that does not fit its crop.
func (w *Whole) check(p *Problem, crop int) error {
	at := func(what string) error { return fmt.Errorf("%s does not fit the crop", what) }
	own := func(cand int) bool {
		return cand >= 0 && cand < len(p.Cands) && p.Cands[cand].Crop == crop && pickedIn(&p.Cands[cand], span{w.From, w.To})
	}
	for _, l := range w.Limits {
		if !own(l.Cand) || l.Most < 1 || l.Most > maxGround {
			return at("a limit")
		}
	}
	for _, point := range w.Points {
		for _, part := range point {
			if !own(part.Cand) || !within(part.Strips, 0, maxGround) {
				return at("a point")
			}
		}
	}
	owed := 1 // nodes still to come
	for _, n := range w.Nodes {
		owed--
		if owed < 0 {
			return at("the tree's end")
		}
		if len(n.Mix) == 0 {
			owed += 2
			if !own(n.Cand) || n.Most < 0 || n.Most > maxGround {
				return at("a split")
			}
			continue
		}
		sum := 0.0
		for _, m := range n.Mix {
			if m.Plane < 0 || m.Plane > len(w.Points) || !within(m.Share, 0, 2) {
				return at("a leaf")
			}
			sum += m.Share
		}
		if !(math.Abs(sum-1) < 1e-6) {
			return at("the sum of a leaf's shares")
		}
	}
	if owed != 0 {
		return at("the tree's end")
	}
	return nil
}
