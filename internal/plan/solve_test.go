package plan

import (
	"context"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// best looks at every plan of a tiny problem, planting by planting.
func bestOfAll(t *testing.T, p *Problem) float64 {
	var all []Planting
	for c := range p.Cands {
		for b := range p.Beds {
			for j := range p.Beds[b].Len {
				for n := 1; j+n <= p.Beds[b].Len; n++ {
					if pl := (Planting{c, b, j, n}); len(brokenBut(p, append(slices.Clone(p.Fixed), pl))) == 0 {
						all = append(all, pl)
					}
				}
			}
		}
	}
	best, plan, looked := math.Inf(-1), slices.Clone(p.Fixed), 0
	var extend func(from int)
	extend = func(from int) {
		if looked++; looked > 30000 {
			return
		}
		v, err := Evaluate(p, plan)
		if err != nil {
			t.Fatal(err)
		}
		best = max(best, v.Total)
		for i := from; i < len(all); i++ {
			plan = append(plan, all[i])
			if len(Validate(p, plan)) == 0 {
				extend(i + 1)
			}
			plan = plan[:len(plan)-1]
		}
	}
	extend(0)
	if looked > 30000 {
		return math.NaN() // too many to enumerate
	}
	return best
}

// TestSolve_AgainstEnumeration: on tiny problems the search finds the best of all
// plans, and the proven bound is not below it.
func TestSolve_AgainstEnumeration(t *testing.T) {
	checked := 0
	for seed := range uint64(150) {
		p := randomProblem(rand.New(rand.NewPCG(seed, 7)), tiny)
		if err := p.Check(); err != nil {
			t.Fatal(err)
		}
		want := bestOfAll(t, p)
		if math.IsNaN(want) {
			continue
		}
		checked++
		res := Solve(context.Background(), p, Options{Seed: 1, Iterations: 4000, Threads: 2}, nil)
		if math.Abs(res.Value-want) > 1e-6*(1+math.Abs(want)) {
			t.Errorf("problem %d: found %.6f, best of all %.6f", seed, res.Value, want)
		}
		if res.Bound < want-1e-9 {
			t.Errorf("problem %d: bound %.6f below the best plan %.6f", seed, res.Bound, want)
		}
	}
	if checked < 80 {
		t.Errorf("only %d of 150 problems were small enough to enumerate", checked)
	}
}

// TestSolve_SeldomMissesTheBest: a few crops and candidates more, where the search has
// been led past the best by candidates that promise more than they keep. It is a search:
// the misses are counted, and none is large.
func TestSolve_SeldomMissesTheBest(t *testing.T) {
	checked, missed := 0, 0
	for seed := range uint64(400) {
		p := randomProblem(rand.New(rand.NewPCG(seed, 43)), size{8, 3, 2, 3, 3, 6})
		want := bestOfAll(t, p)
		if math.IsNaN(want) || want < 1e-9 {
			continue
		}
		checked++
		res := Solve(context.Background(), p, Options{Seed: 1, Iterations: 3000, Threads: 2}, nil)
		if res.Value > want*(1+1e-6) || res.Bound < want*(1-1e-9) {
			t.Errorf("problem %d: found %.6f under %.6f, best of all %.6f", seed, res.Value, res.Bound, want)
		}
		if res.Value < want*(1-1e-6) {
			missed++
		}
		if res.Value < 0.9*want {
			t.Errorf("problem %d: found %.6f, best of all %.6f", seed, res.Value, want)
		}
	}
	if checked < 150 || missed > checked/100 {
		t.Errorf("%d of %d missed", missed, checked)
	}
}

// TestSolve_Properties: over random problems every plan keeps the rules, the value
// told is the exact one, the bound holds and can be checked from its prices, and
// neither threads nor a second run change anything.
func TestSolve_Properties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seed := rapid.Uint64().Draw(t, "problem")
		p := randomProblem(rand.New(rand.NewPCG(seed, 11)), medium)
		if err := p.Check(); err != nil {
			t.Fatal(err)
		}
		o := Options{Seed: int64(seed), Iterations: 150, Threads: 1}
		res := Solve(context.Background(), p, o, nil)
		if broken := Validate(p, res.Plantings); len(broken) > 0 {
			t.Fatalf("rules broken: %v", broken)
		}
		v, err := Evaluate(p, res.Plantings)
		if err != nil || v.Total != res.Value {
			t.Fatalf("value told %g, exact %g (%v)", res.Value, v.Total, err)
		}
		bound, err := Bound(p, res.Duals)
		if err != nil || bound > res.Bound || bound < res.Bound-1e-6*(1+math.Abs(bound)) || res.Bound < res.Value-1e-9 {
			t.Fatalf("bound told %g, from its prices %g, value %g (%v)", res.Bound, bound, res.Value, err)
		}
		o.Threads = 2
		again := Solve(context.Background(), p, o, nil)
		if !reflect.DeepEqual(again.Plantings, res.Plantings) || again.Bound != res.Bound {
			t.Fatalf("two threads found %g (bound %g), one found %g (bound %g)", again.Value, again.Bound, res.Value, res.Bound)
		}
	})
}

// TestSearcher_IncrementalValue: after every move the running value is the exact
// one of the plan on the ground, and the plan keeps the rules.
func TestSearcher_IncrementalValue(t *testing.T) {
	for seed := range uint64(40) {
		p := randomProblem(rand.New(rand.NewPCG(seed, 13)), medium)
		s := newSearcher(p, newTables(p), int64(seed), 0)
		s.construct()
		for n := range 150 {
			s.cool(0.1)
			s.try()
			plantings := s.plantings()
			v, err := Evaluate(p, plantings)
			if err != nil || math.Abs(v.Total-s.total) > 1e-8*(1+math.Abs(v.Total)) {
				t.Fatalf("problem %d, move %d: running value %.12g, exact %.12g (%v)", seed, n, s.total, v.Total, err)
			}
			if broken := Validate(p, plantings); len(broken) > 0 {
				t.Fatalf("problem %d, move %d: %v", seed, n, broken)
			}
		}
	}
}

// TestMarket_ScoresAreSlopes: a candidate's score is what a small share of a strip
// more adds, where the worth has no kink: checked through the table's prices.
func TestMarket_ScoresAreSlopes(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 5))
	for n := range 200 {
		p := randomProblem(rng, medium)
		c := &p.Crops[0]
		grams, picked := make([]int32, p.Weeks), make([]uint64, 1)
		for w := range grams {
			if rng.IntN(3) == 0 {
				grams[w] = int32(1 + rng.IntN(900))
				picked[0] |= 1 << w
			}
		}
		l, pt := newLarder(p, c), newPlate(p)
		prices := make([]float64, p.Weeks)
		l.prices(pt, grams, picked, 0, p.Weeks, 1, prices, 1)
		base := l.value(pt, grams, picked)
		for w := range grams {
			grams[w]++
			more := []uint64{picked[0] | 1<<w}
			gain := l.value(pt, grams, more) - base
			grams[w]--
			// One gram may cross a kink; it can then only be worth less.
			if gain > prices[w]+1e-9 {
				t.Fatalf("case %d week %d: a gram more gains %.9g, priced %.9g", n, w, gain, prices[w])
			}
		}
	}
}

// TestSolve_KnownFigures: the optima of the linear relaxation, found by a general
// solver, stand in the instances' README; no plan is worth more and no bound is less.
func TestSolve_KnownFigures(t *testing.T) {
	for _, c := range []struct {
		name  string
		lp    float64
		best  float64 // of the best plan known, from a search of a minute: no bound can be below
		floor float64 // share of lp that a short run must reach
	}{
		{"small1", 655.050, 644.7, 0.93},
		{"medium1", 1206.754, 1183.7, 0.92},
		{"large1", 4281.6, 4208.9, 0.92},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := instance(t, c.name)
			o := Options{Seed: 1, Iterations: 1500, Threads: 2}
			if underRace {
				o.Iterations = 100
			}
			res := Solve(context.Background(), p, o, nil)
			if broken := Validate(p, res.Plantings); len(broken) > 0 {
				t.Fatalf("rules broken: %v", broken)
			}
			if res.Value > c.lp {
				t.Errorf("value %.3f is above the relaxation's %.3f", res.Value, c.lp)
			}
			if res.Bound < c.best { // below lp it may be: it knows that strips are whole
				t.Errorf("bound %.4f is below a plan worth %.1f: false proof", res.Bound, c.best)
			}
			if res.Value < c.floor*c.lp && !underRace {
				t.Errorf("value %.2f after a short run, want at least %.2f", res.Value, c.floor*c.lp)
			}
		})
	}
}

// TestBound_ReachesRelaxation: the first-order method comes close to the optimum
// that a general solver proved.
func TestBound_ReachesRelaxation(t *testing.T) {
	if testing.Short() || underRace {
		t.Skip("takes seconds, and has one thread only")
	}
	const lp = 655.050 // README of the instances
	p := instance(t, "small1")
	shared := newTables(p)
	s := newSearcher(p, shared, 1, 0)
	s.construct()
	pr := newProver(p, shared, s.topPlan, s.top)
	for pr.n < 1500 {
		pr.work(0)
	}
	if pr.bound < lp-0.0005 || pr.bound > lp*1.005 {
		t.Errorf("bound %.3f after %d steps, optimum %.3f: want within 0.5 %% above", pr.bound, pr.n, lp)
	}
}

func TestSolve_StopsWhenTold(t *testing.T) {
	p := randomProblem(rand.New(rand.NewPCG(1, 1)), medium)
	ctx, cancel := context.WithCancel(context.Background())
	calls := 0
	go func() { time.Sleep(50 * time.Millisecond); cancel() }()
	began := time.Now()
	res := Solve(ctx, p, Options{Seed: 1, Seconds: 60, Threads: 2, Clock: time.Now}, func(pr Progress) {
		if broken := Validate(p, pr.Plantings); len(broken) > 0 {
			t.Errorf("progress shows a broken plan: %v", broken)
		}
		calls++
	})
	if time.Since(began) > 20*time.Second {
		t.Error("went on after it was cancelled")
	}
	if calls == 0 || len(Validate(p, res.Plantings)) > 0 || res.Bound < res.Value {
		t.Errorf("cancelled early: %d reports, value %g, bound %g", calls, res.Value, res.Bound)
	}
}

func TestSolve_NothingCanGrow(t *testing.T) {
	p := &Problem{Weeks: 1, Years: 1, Alpha: 1, Bonus: []float64{1}, Beds: []Bed{{Len: 1, Ban: []uint32{0}}}}
	if err := p.Check(); err != nil {
		t.Fatal(err)
	}
	res := Solve(context.Background(), p, Options{Seconds: 3, Clock: time.Now}, nil)
	if res.Value != 0 || res.Bound > 1e-6 || len(res.Plantings) != 0 || res.Seconds > 2 {
		t.Errorf("bare ground: %+v", res)
	}
}

func BenchmarkEvaluate(b *testing.B) {
	p := instance(b, "medium1")
	s := newSearcher(p, newTables(p), 1, 0)
	s.construct()
	for b.Loop() {
		if _, err := Evaluate(p, s.topPlan); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkMove(b *testing.B) {
	p := instance(b, "medium1")
	s := newSearcher(p, newTables(p), 1, 0)
	s.construct()
	s.cool(0.5)
	for b.Loop() {
		s.try()
	}
}

func BenchmarkProverStep(b *testing.B) {
	p := instance(b, "medium1")
	shared := newTables(p)
	s := newSearcher(p, shared, 1, 0)
	s.construct()
	pr := newProver(p, shared, s.topPlan, s.top)
	for b.Loop() {
		pr.step()
	}
}

func BenchmarkSolve(b *testing.B) {
	p := instance(b, "small1")
	for b.Loop() {
		res := Solve(context.Background(), p, Options{Seed: 1, Iterations: 5000, Threads: 2}, nil)
		b.ReportMetric(100*res.Gap, "gap%")
	}
}

// TestMarket_SettleAbove: giving up early gives up no move that would have reached what
// was asked, as the whole plan valued anew tells.
func TestMarket_SettleAbove(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 3))
	gaveUp, reached := 0, 0
	for n := range 150 {
		p := randomProblem(rng, medium)
		s := newSearcher(p, newTables(p), int64(n), 0)
		s.construct()
		for range 60 {
			before := s.total
			s.begin()
			if ok := s.insert() || s.shrink(); !ok {
				s.undo()
				continue
			}
			v, err := Evaluate(p, s.plantings())
			if err != nil {
				t.Fatal(err)
			}
			least := v.Total + (rng.Float64()-0.5)*(1+math.Abs(v.Total-before))
			got := s.settleAbove(least)
			if got != (v.Total >= least) {
				t.Fatalf("problem %d: from %.9g to %.9g, reaches %.9g: %v", n, before, v.Total, least, got)
			}
			if !got {
				gaveUp++
				s.undo()
				continue
			}
			reached++
			s.keep()
		}
	}
	if gaveUp < 1000 || reached < 1000 {
		t.Errorf("%d moves fell short and %d reached: too few to tell", gaveUp, reached)
	}
}
