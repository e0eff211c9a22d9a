package plan

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// asked is how the questions' tests search: long enough for such small problems.
var asked = Options{Seed: 1, Iterations: 6000, Threads: 2}

// eachSmall calls test with random problems small enough to enumerate and the worth
// of their best plan.
func eachSmall(t *testing.T, stream uint64, test func(seed uint64, p *Problem, best float64)) {
	t.Helper()
	checked := 0
	for seed := range uint64(120) {
		p := randomProblem(rand.New(rand.NewPCG(seed, stream)), few)
		if best := bestOfAll(t, p); !math.IsNaN(best) {
			checked++
			test(seed, p, best)
		}
	}
	if checked < 50 {
		t.Errorf("only %d problems were small enough", checked)
	}
}

// TestCompare_AgainstEnumeration: the true difference lies within the proven limits,
// and what is found is never outside them.
func TestCompare_AgainstEnumeration(t *testing.T) {
	exact, all := 0, 0
	eachSmall(t, 53, func(seed uint64, p *Problem, best float64) {
		more := p.LabourCap + 20
		for name, c := range map[string]struct {
			wide, narrow *Problem
			ceiling      float64
		}{
			"without": {p, p.WithoutCrops([]int{0}), Ceiling(p, []int{0})},
			"hours":   {p.WithLabour(more), p, LabourCeiling(p, 20)},
			"longer":  {p.WithLonger(0, 1), p, math.Inf(1)},
		} {
			wide, narrow := bestOfAll(t, c.wide), bestOfAll(t, c.narrow)
			if math.IsNaN(wide) || math.IsNaN(narrow) {
				continue
			}
			d := Compare(context.Background(), c.wide, c.narrow, nil, asked, c.ceiling, nil)
			if truth := wide - narrow; truth < d.Low-1e-6 || truth > d.High+1e-6 {
				t.Errorf("problem %d, %s: %.6f, said to be between %.6f and %.6f", seed, name, truth, d.Low, d.High)
			} else if all++; math.Abs(truth-d.Found) < 1e-6 {
				exact++
			}
			if d.Found < d.Low-1e-9 || d.Found > d.High+1e-9 {
				t.Errorf("problem %d, %s: found %.6f outside %.6f to %.6f", seed, name, d.Found, d.Low, d.High)
			}
			if len(Validate(c.wide, d.Wide.Plantings)) > 0 || len(Validate(c.narrow, d.Narrow.Plantings)) > 0 {
				t.Errorf("problem %d, %s: a plan breaks rules", seed, name)
			}
		}
	})
	if exact < all*9/10 {
		t.Errorf("found the true difference in %d of %d", exact, all)
	}
}

// TestCeiling_AgainstEnumeration: no crops, one or several, add more to the best
// plan than is said.
func TestCeiling_AgainstEnumeration(t *testing.T) {
	eachSmall(t, 59, func(seed uint64, p *Problem, best float64) {
		for k := range len(p.Crops) + 1 {
			for _, crops := range setsOf(len(p.Crops), k) {
				loss := best - bestOfAll(t, p.WithoutCrops(crops))
				if ceiling := Ceiling(p, crops); loss > ceiling+1e-6 {
					t.Errorf("problem %d: without %v the best plan loses %.6f, said to be at most %.6f", seed, crops, loss, ceiling)
				}
			}
		}
	})
}

// TestWithoutCandidates_AgainstEnumeration: leaving out candidates is leaving out
// their plantings, and costs no more than is said.
func TestWithoutCandidates_AgainstEnumeration(t *testing.T) {
	eachSmall(t, 71, func(seed uint64, p *Problem, best float64) {
		out := []int{0, len(p.Cands) / 2}
		narrow, err := p.WithoutCandidates(out)
		if err != nil {
			t.Fatal(err)
		}
		bare := *p
		bare.Cands = slices.Clone(p.Cands)
		for _, i := range out {
			bare.Cands[i].MinStrips = 1000 // nobody has such a bed
		}
		want, got := bestOfAll(t, &bare), bestOfAll(t, narrow)
		if math.Abs(want-got) > 1e-9 {
			t.Errorf("problem %d: best without %v %.6f, want %.6f", seed, out, got, want)
		}
		if ceiling := CandidatesCeiling(p, out); best-want > ceiling+1e-6 {
			t.Errorf("problem %d: costs %.6f, said to be at most %.6f", seed, best-want, ceiling)
		}
	})
}

// TestOpenings: every opening can be had, and one is there whenever a planting is.
func TestOpenings(t *testing.T) {
	eachSmall(t, 61, func(seed uint64, p *Problem, best float64) {
		res := Solve(context.Background(), p, Options{Seed: 1, Iterations: 200}, nil)
		for strips := 1; strips <= 2; strips++ {
			got := Openings(p, 0, strips, res.Plantings, res.Duals)
			for _, pl := range got {
				if pl.Strips < strips || p.Cands[pl.Cand].Crop != 0 {
					t.Errorf("problem %d: opening %+v, want %d strips of crop 0", seed, pl, strips)
				}
				if broken := Validate(p.WithFixed(pl), []Planting{pl}); len(broken) > 0 {
					t.Errorf("problem %d: opening %+v: %v", seed, pl, broken)
				}
			}
			any := false
			for i := range p.Cands {
				for b := range p.Beds {
					for j := range p.Beds[b].Len {
						for n := strips; j+n <= p.Beds[b].Len && p.Cands[i].Crop == 0; n++ {
							any = any || len(Validate(p, []Planting{{i, b, j, n}})) == 0
						}
					}
				}
			}
			if any != (len(got) > 0) {
				t.Errorf("problem %d, %d strips: %d openings, but a planting is there: %v", seed, strips, len(got), any)
			}
		}
	})
}

// TestLean_AgainstEnumeration: each plan is the best by its own measure.
func TestLean_AgainstEnumeration(t *testing.T) {
	missed, all := 0, 0
	eachSmall(t, 67, func(seed uint64, p *Problem, _ float64) {
		forMean, forBad := *p, *p
		forMean.Lambda, forBad.Lambda = 0, 1
		mean, bad := Lean(context.Background(), p, nil, asked)
		for _, c := range []struct {
			name        string
			found, told float64
			best, bound float64
		}{
			{"mean", mean.Mean, mean.Result.Value, bestOfAll(t, &forMean), mean.Result.Bound},
			{"bad years", bad.BadYear, bad.Result.Value, bestOfAll(t, &forBad), bad.Result.Bound},
		} {
			if math.Abs(c.found-c.told) > 1e-9 || c.found > c.best+1e-6 || c.bound < c.best-1e-6 {
				t.Errorf("problem %d, %s: found %.6f, told %.6f, best of all %.6f, bound %.6f", seed, c.name, c.found, c.told, c.best, c.bound)
			}
			if all++; c.found < c.best-1e-6 {
				missed++
			}
		}
		if mean.Mean < bad.Mean-1e-9 || bad.BadYear < mean.BadYear-1e-9 {
			t.Errorf("problem %d: a plan is worse by its own measure than the other: %+v, %+v", seed, mean, bad)
		}
	})
	if missed > all/50 {
		t.Errorf("missed the best plan in %d of %d", missed, all)
	}
}
