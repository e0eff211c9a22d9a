package plan

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// withTrees proves a bound with a tree for every crop.
func withTrees(p *Problem, plan []Planting, value float64) *prover {
	pr := newProver(p, newTables(p), plan, value)
	for range 6 {
		pr.advance(portion)
		pr.look()
	}
	pr.trees, pr.ground = true, pr.bound
	for range p.Crops {
		pr.plantTrees()
	}
	for n := 0; n < 25 && !pr.done; n++ {
		pr.growTrees()
	}
	pr.finish()
	return pr
}

// TestWhole_AgainstEnumeration: no plan of whole plantings is above the bound with
// trees, the same bound follows from the duals by either code, and it is lower than
// without trees often enough for this to mean something.
func TestWhole_AgainstEnumeration(t *testing.T) {
	checked, lowered := 0, 0
	for seed := range uint64(400) {
		z := tiny
		if seed%2 == 0 {
			z = medium
		}
		p := randomProblem(rand.New(rand.NewPCG(seed, 31)), z)
		settle(t, p, seed)
		res := Solve(context.Background(), p, Options{Seed: 1, Iterations: 150}, nil)
		best := res.Value
		if seed%2 == 1 {
			if v := bestOfAll(t, p); !math.IsNaN(v) {
				best = max(best, v)
				checked++
			}
		}
		pr := withTrees(p, res.Plantings, res.Value)
		if pr.bound < best-1e-9*(1+math.Abs(best)) {
			t.Errorf("problem %d: bound %.9f below a plan worth %.9f", seed, pr.bound, best)
		}
		if pr.ground-pr.bound > 1e-6*(1+math.Abs(best)) {
			lowered++
		}
		again, err := Bound(p, pr.best)
		if err != nil || !near(again, pr.bound) {
			t.Errorf("problem %d: bound %.9f, from its duals %.9f (%v)", seed, pr.bound, again, err)
		}
		audited, err := auditBound(p, pr.best)
		if err != nil || !near(audited, pr.bound) {
			t.Errorf("problem %d: bound %.9f, audited %.9f (%v)", seed, pr.bound, audited, err)
		}
	}
	if checked < 100 || lowered < 100 {
		t.Errorf("%d problems enumerated, %d bounds lowered by trees: too few to tell", checked, lowered)
	}
}

// bySpans proves a crop's table with trees over spans that begin where rng says.
func bySpans(rng *rand.Rand, b *bounder, crop int, d *Duals) []Whole {
	var all []Whole
	for from := 0; from < b.p.Weeks; {
		to := min(from+1+rng.IntN(4), b.p.Weeks)
		s := newSplitter(b, crop, span{from, to}, d)
		for n := 0; n < 10 && !s.ended(); n++ {
			s.split()
		}
		all = append(all, s.tree())
		from = to
	}
	return all
}

// TestWhole_BySpans: spans of any lengths prove no less than the best of
// all plans, and either code finds the same; often enough they meet where something is
// kept and prove something.
func TestWhole_BySpans(t *testing.T) {
	checked, lowered, kept := 0, 0, 0
	for seed := range uint64(900) {
		rng := rand.New(rand.NewPCG(seed, 43))
		p := randomProblem(rng, size{10, 3, 2, 3, 2, 4})
		settle(t, p, seed)
		best := bestOfAll(t, p)
		if math.IsNaN(best) {
			continue
		}
		checked++
		b := newBounder(p, newTables(p))
		pr := newProver(p, b.shared, nil, 0)
		for range 4 {
			pr.advance(portion)
			pr.look()
		}
		d := pr.best.clone()
		plain := b.bound(d)
		b.ask(d)
		for c := range p.Crops {
			d.Whole = append(d.Whole, bySpans(rng, b, c, d))
			if len(d.Whole[c]) > 1 && p.Crops[c].Keep > 0 {
				kept++
			}
		}
		v, err := Bound(p, d)
		if err != nil || v < best-1e-7*(1+math.Abs(best)) {
			t.Errorf("problem %d: bound %.9f (%v), a plan is worth %.9f", seed, v, err, best)
		}
		if audited, err := auditBound(p, d); err != nil || !near(audited, v) {
			t.Errorf("problem %d: bound %.9f, audited %.9f (%v)", seed, v, audited, err)
		}
		if plain-v > 1e-6*(1+math.Abs(best)) {
			lowered++
		}
	}
	if checked < 200 || lowered < 100 || kept < 100 {
		t.Errorf("%d problems enumerated, %d bounds lowered, %d crops kept over spans: too few to tell", checked, lowered, kept)
	}
}

// TestWhole_Refused: trees that prove nothing are refused by either code, whatever is
// wrong with them.
func TestWhole_Refused(t *testing.T) {
	var p *Problem
	var pr *prover
	crop := -1
	for seed := uint64(0); crop < 0; seed++ {
		p = randomProblem(rand.New(rand.NewPCG(seed, 37)), medium)
		pr = withTrees(p, nil, 0)
		for c, all := range pr.best.Whole {
			if len(p.Crops) > 1 && len(all) > 0 && len(all[0].Nodes) > 2 && len(all[0].Points) > 0 {
				crop = c
			}
		}
	}
	other := 0
	for p.Cands[other].Crop == crop {
		other++
	}
	for name, spoil := range map[string]func(*Whole){
		"cut short":       func(w *Whole) { w.Nodes = w.Nodes[:len(w.Nodes)-1] },
		"a leaf too many": func(w *Whole) { w.Nodes = append(w.Nodes, w.Nodes[len(w.Nodes)-1]) },
		"another's crop":  func(w *Whole) { w.Nodes[0].Cand = other },
		"no such crop":    func(w *Whole) { w.Nodes[0].Cand = len(p.Cands) },
		"a strange point": func(w *Whole) { w.Points[0] = []Part{{other, 1}} },
		"less than none":  func(w *Whole) { w.Points[0] = []Part{{p.candOf(crop), -1}} },
		"half a mixture":  func(w *Whole) { w.Nodes[len(w.Nodes)-1].Mix = []Weight{{0, 0.5}} },
		"no weeks":        func(w *Whole) { w.To = w.From },
		"a week left out": func(w *Whole) { w.From++ },
		"past the season": func(w *Whole) { w.To = p.Weeks + 1 },
		"no such plane":   func(w *Whole) { w.Nodes[len(w.Nodes)-1].Mix = []Weight{{len(w.Points) + 1, 1}} },
	} {
		d := pr.best.clone()
		d.Whole = slices.Clone(pr.best.Whole)
		d.Whole[crop] = slices.Clone(pr.best.Whole[crop])
		w := &d.Whole[crop][0]
		w.Nodes, w.Points = append([]Node(nil), w.Nodes...), append([][]Part(nil), w.Points...)
		spoil(w)
		if _, err := Bound(p, d); err == nil {
			t.Errorf("%s: taken for a proof", name)
		}
		if _, err := auditBound(p, d); err == nil {
			t.Errorf("%s: passes the audit", name)
		}
	}
}

// candOf is some candidate of a crop.
func (p *Problem) candOf(crop int) int {
	for i := range p.Cands {
		if p.Cands[i].Crop == crop {
			return i
		}
	}
	return -1
}

// TestDictionary_AgainstSimplex: the most under planes and within boxes, held against
// a plain simplex, while planes are added and boxes move.
func TestDictionary_AgainstSimplex(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 41))
	for n := range 150 {
		kinds := 1 + rng.IntN(5)
		d := newDictionary(kinds)
		cost, high := make([]float64, kinds), make([]float64, kinds)
		for j := range cost {
			cost[j] = -4 * rng.Float64()
		}
		var planes []plane
		for range 6 {
			p := plane{5 * rng.Float64(), make([]float64, kinds)}
			for j := range p.slope {
				p.slope[j] = 6 * rng.Float64()
			}
			planes = append(planes, p)
			d.add(&p)
			for j := range high {
				high[j] = float64(rng.IntN(5))
				d.low[j], d.high[j] = 0, high[j]
			}
			if _, ok := d.solve(cost); !ok {
				t.Fatalf("case %d: gave up", n)
			}
			got, strips := d.level(), make([]float64, kinds)
			d.strips(strips)
			for j, x := range strips {
				got += cost[j] * x
			}
			// t is never below 0 here, so it may be a variable from 0 on.
			var a [][]float64
			var b []float64
			for _, q := range planes {
				row := append([]float64(nil), q.slope...)
				for j := range row {
					row[j] = -row[j]
				}
				a, b = append(a, append(row, 1)), append(b, q.base)
			}
			for j := range high {
				row := make([]float64, kinds+1)
				row[j] = 1
				a, b = append(a, row), append(b, high[j])
			}
			if want := simplexMax(append(append([]float64(nil), cost...), 1), a, b); math.Abs(got-want) > 1e-6*(1+want) {
				t.Fatalf("case %d, %d planes: %.9f, simplex %.9f", n, len(planes), got, want)
			}
		}
	}
}
