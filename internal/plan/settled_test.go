package plan

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// settle gives a random problem fixed plantings, closed ground and a crop ruled out.
func settle(t *testing.T, p *Problem, seed uint64) {
	t.Helper()
	rng := rand.New(rand.NewPCG(seed, 31))
	for range rng.IntN(3) {
		b := rng.IntN(len(p.Beds))
		from := rng.IntN(p.Weeks)
		p.Closed = append(p.Closed, Closure{b, rng.IntN(p.Beds[b].Len), 1, from, from + 1 + rng.IntN(p.Weeks-from)})
	}
	if rng.IntN(3) == 0 {
		p.Without = []int{rng.IntN(len(p.Crops))}
	}
	if rng.IntN(3) == 0 {
		for range p.Weeks {
			p.TrayTaken = append(p.TrayTaken, rng.IntN(1+int(120*p.TrayCap)))
		}
	}
	for range 40 {
		b := rng.IntN(len(p.Beds))
		pl := Planting{rng.IntN(len(p.Cands)), b, rng.IntN(p.Beds[b].Len), 1 + rng.IntN(2)}
		if more := append(slices.Clone(p.Fixed), pl); len(p.Fixed) < 3 && len(brokenBut(p, more)) == 0 {
			p.Fixed = more
		}
	}
	if err := p.Check(); err != nil {
		t.Fatal(err)
	}
}

// brokenBut is Validate without what is fixed so far being asked for.
func brokenBut(p *Problem, plantings []Planting) []Violation {
	q := *p
	q.Fixed = nil
	return Validate(&q, plantings)
}

// TestSolve_Settled: what the grower has settled stays, the bound holds for what is
// left, and on tiny problems the best of all such plans is found.
func TestSolve_Settled(t *testing.T) {
	fixed := 0
	for seed := range uint64(60) {
		p := randomProblem(rand.New(rand.NewPCG(seed, 29)), tiny)
		settle(t, p, seed)
		want := bestOfAll(t, p)
		if math.IsNaN(want) || math.IsInf(want, 0) {
			continue
		}
		fixed += len(p.Fixed)
		res := Solve(context.Background(), p, Options{Seed: 1, Iterations: 3000}, nil)
		if broken := Validate(p, res.Plantings); len(broken) > 0 {
			t.Errorf("problem %d: %v", seed, broken)
		}
		if math.Abs(res.Value-want) > 1e-6*(1+math.Abs(want)) {
			t.Errorf("problem %d: found %.6f, best of all %.6f", seed, res.Value, want)
		}
		if res.Bound < want-1e-9 {
			t.Errorf("problem %d: bound %.6f below the best plan %.6f", seed, res.Bound, want)
		}
	}
	if fixed < 20 {
		t.Errorf("only %d plantings were fixed", fixed)
	}
}

// TestSolve_Keep: going on from a plan never ends below it, and a plan that no
// longer fits is taken as far as it does.
func TestSolve_Keep(t *testing.T) {
	p := randomProblem(rand.New(rand.NewPCG(4, 23)), medium)
	first := Solve(context.Background(), p, Options{Seed: 1, Iterations: 3000}, nil)
	next := Solve(context.Background(), p, Options{Seed: 2, Iterations: 1, Keep: first.Plantings}, nil)
	if next.Value < first.Value-1e-9 {
		t.Errorf("kept a plan of %.6f, ended at %.6f", first.Value, next.Value)
	}
	p.Without = []int{p.Cands[first.Plantings[0].Cand].Crop}
	res := Solve(context.Background(), p, Options{Seed: 2, Iterations: 200, Keep: first.Plantings}, nil)
	if broken := Validate(p, res.Plantings); len(broken) > 0 {
		t.Errorf("a crop ruled out stays: %v", broken)
	}
}

func TestCheck_Settled(t *testing.T) {
	for _, c := range []struct {
		name string
		do   func(*Problem)
		says string
	}{
		{"fixed beyond the bed", func(p *Problem) { p.Fixed = []Planting{{3, 0, 3, 2}} }, "fixed: "},
		{"fixed twice", func(p *Problem) { p.Fixed = []Planting{{3, 0, 0, 1}, {3, 0, 0, 1}} }, "overlap"},
		{"fixed on closed ground", func(p *Problem) {
			p.Fixed, p.Closed = []Planting{{3, 0, 0, 1}}, []Closure{{0, 0, 1, 8, 9}}
		}, "closed"},
		{"fixed but ruled out", func(p *Problem) { p.Fixed, p.Without = []Planting{{3, 0, 0, 1}}, []int{1} }, "without"},
		{"trays of another season", func(p *Problem) { p.TrayTaken = []int{1} }, "trayTaken: 1 weeks"},
		{"trays given back", func(p *Problem) { p.TrayTaken = make([]int, p.Weeks); p.TrayTaken[2] = -1 }, "trayTaken[2]"},
		{"no such crop", func(p *Problem) { p.Without = []int{2} }, "without[0]"},
		{"closed nowhere", func(p *Problem) { p.Closed = []Closure{{2, 0, 1, 0, 1}} }, "closed[0]: bed 2"},
		{"closed beyond the bed", func(p *Problem) { p.Closed = []Closure{{0, 3, 2, 0, 1}} }, "closed[0]: strips"},
		{"closed for no time", func(p *Problem) { p.Closed = []Closure{{0, 0, 1, 4, 4}} }, "closed[0]: weeks"},
	} {
		p := rules()
		c.do(p)
		if err := p.Check(); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want %q", c.name, err, c.says)
		}
	}
	p := rules()
	p.Fixed = []Planting{{3, 0, 0, 1}}
	if found := join(Validate(p, nil)); !strings.Contains(found, "fixed:") {
		t.Errorf("a fixed planting left out: %q", found)
	}
}
