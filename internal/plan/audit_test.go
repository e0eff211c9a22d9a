package plan

import (
	"bytes"
	"context"
	"math/rand/v2"
	"strings"
	"testing"
)

// stored solves a random problem and reads the result back from its text.
func stored(t *testing.T, p *Problem, o Options) *Result {
	t.Helper()
	res := Solve(context.Background(), p, o, nil)
	var text bytes.Buffer
	if err := res.WriteProof(&text); err != nil {
		t.Fatal(err)
	}
	back, err := ReadResult(&text)
	if err != nil {
		t.Fatal(err)
	}
	return back
}

// TestResult_Check_Honest: over problems with every feature, code that shares
// nothing with search and prover finds the same value and the same bound.
func TestResult_Check_Honest(t *testing.T) {
	for seed := range uint64(80) {
		p := randomProblem(rand.New(rand.NewPCG(seed, 23)), medium)
		settle(t, p, seed)
		a := stored(t, p, Options{Seed: 1, Iterations: 200}).Check(p)
		if len(a.Wrong) > 0 || !a.Proven {
			t.Errorf("problem %d: %v (proven: %v)", seed, a.Wrong, a.Proven)
		}
	}
}

// TestResult_Check_Doctored: whatever is changed in a stored result is noticed.
func TestResult_Check_Doctored(t *testing.T) {
	p := randomProblem(rand.New(rand.NewPCG(4, 23)), medium)
	for _, c := range []struct {
		name string
		do   func(*Result)
		says string
	}{
		{"nothing", func(*Result) {}, ""},
		{"value", func(r *Result) { r.Value *= 1.001 }, "value told"},
		{"bound", func(r *Result) { r.Bound *= 0.999 }, "bound told"},
		{"gap", func(r *Result) { r.Gap += 0.01 }, "gap told"},
		{"bound without its proof", func(r *Result) { r.Duals, r.Bound = nil, r.Value-1 }, "below the value"},
		{"a planting taken out", func(r *Result) { r.Plantings = r.Plantings[1:] }, "value told"},
		{"a planting doubled", func(r *Result) { r.Plantings = append(r.Plantings, r.Plantings[0]) }, "overlap"},
		{"no such bed", func(r *Result) { r.Plantings[0].Bed = 99 }, "index"},
		{"dearer produce", func(r *Result) { r.Duals.Produce[0][0] += 100 }, "bound told"},
		{"a price below nothing", func(r *Result) { r.Duals.Wage[0] = -1 }, "0 or more"},
		{"overtime overpriced", func(r *Result) { r.Duals.Wage[0] = p.OvertimeCost + 1 }, "above overtime"},
		{"years overweighted", func(r *Result) { r.Duals.Years[0] += 0.1 }, "weight"},
		{"prices missing", func(r *Result) { r.Duals.Produce = r.Duals.Produce[1:] }, "do not fit"},
	} {
		r := stored(t, p, Options{Seed: 1, Iterations: 200})
		if len(r.Plantings) == 0 || r.Value <= 0 {
			t.Fatal("the problem has no plan worth doctoring")
		}
		c.do(r)
		a := r.Check(p)
		if all := strings.Join(a.Wrong, "; "); c.says == "" && all != "" || !strings.Contains(all, c.says) {
			t.Errorf("%s: found %q, want %q", c.name, all, c.says)
		}
	}
}

// TestStockWorth_AgainstLinearProgram: the second recourse against the same linear
// programme as the first.
func TestStockWorth_AgainstLinearProgram(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 2))
	for n := range 300 {
		p := &Problem{Weeks: 1 + rng.IntN(6)}
		for range p.Weeks {
			p.Bonus = append(p.Bonus, []float64{0, 0.4, 1, 1.6}[rng.IntN(4)])
		}
		c := Crop{Keep: []float64{0, 0.3, 0.9, 1}[rng.IntN(4)]}
		for range 1 + rng.IntN(3) {
			c.TierKg = append(c.TierKg, float64(rng.IntN(5))/10)
			c.TierVal = append(c.TierVal, float64(rng.IntN(8)))
		}
		whole, grams := make([]int32, p.Weeks), make([]float64, p.Weeks)
		for w := range whole {
			whole[w] = int32(rng.IntN(2) * rng.IntN(1500))
			grams[w] = float64(whole[w])
		}
		got, want := auditYear(p, &c, grams), lpYear(p, &c, whole)
		if !(got-want < 1e-6*max(1, want) && want-got < 1e-6*max(1, want)) {
			t.Fatalf("case %d: %.9f, linear programme %.9f", n, got, want)
		}
	}
}

// TestStockMargin: what a gram more is worth, found by going back and forth over
// stocks, is what the larder's prices say.
func TestStockMargin(t *testing.T) {
	rng := rand.New(rand.NewPCG(18, 2))
	for n := range 400 {
		p := &Problem{Weeks: 2 + rng.IntN(12), Years: 1}
		for range p.Weeks {
			p.Bonus = append(p.Bonus, 0.4+rng.Float64())
		}
		c := Crop{Keep: []float64{0, 0.35, 0.9, 0.97}[rng.IntN(4)]}
		for k := range 1 + rng.IntN(3) {
			c.TierKg = append(c.TierKg, 0.1+rng.Float64())
			c.TierVal = append(c.TierVal, 8/float64(k+1)*rng.Float64())
		}
		whole, grams, picked := make([]int32, p.Weeks), make([]float64, p.Weeks), make([]uint64, 1)
		for w := range whole {
			if whole[w] = int32(rng.IntN(2) * rng.IntN(3000)); whole[w] > 0 {
				picked[0] |= 1 << w
			}
			grams[w] = float64(whole[w])
		}
		want := make([]float64, p.Weeks)
		newLarder(p, &c).prices(newPlate(p), whole, picked, 0, p.Weeks, 1, want, 1)
		for w, got := range stockMargin(c.Keep, grams, auditEats(p, &c)) {
			if !near(got, want[w]) {
				t.Fatalf("case %d week %d of %v: %.9f, larder %.9f", n, w, whole, got, want[w])
			}
		}
	}
}
