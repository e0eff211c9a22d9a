package plan

import (
	"math"
	"math/rand/v2"
	"testing"
)

// lpYear is the worth of one year's pickings as the linear program it is:
// x[w][t][k] grams picked in w and eaten in t at tier k.
func lpYear(p *Problem, c *Crop, grams []int32) float64 {
	T, K := p.Weeks, len(c.TierKg)
	var value []float64
	type key struct{ w, t, k int }
	var keys []key
	for w := range T {
		for t := w; t < T; t++ {
			for k := range K {
				v := c.TierVal[k] / 1000
				if k == 0 {
					v *= p.Bonus[t]
				}
				value = append(value, v*math.Pow(c.Keep, float64(t-w)))
				keys = append(keys, key{w, t, k})
			}
		}
	}
	rows := make([][]float64, T+T*K)
	limit := make([]float64, T+T*K)
	for i := range rows {
		rows[i] = make([]float64, len(keys))
	}
	for w := range T {
		limit[w] = float64(grams[w])
		for k := range K {
			limit[T+w*K+k] = c.TierKg[k] * 1000
		}
	}
	for j, q := range keys {
		rows[q.w][j] = 1
		rows[T+q.t*K+q.k][j] = math.Pow(c.Keep, float64(q.t-q.w))
	}
	return simplexMax(value, rows, limit)
}

// TestLarder_AgainstLinearProgram: the greedy is exact, also where the bonus
// makes a later week dearer, tiers are out of order, and nothing or all keeps.
func TestLarder_AgainstLinearProgram(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	keeps := []float64{0, 1e-9, 0.3, 0.55, 0.9, 0.985, 1}
	for n := range 400 {
		p := &Problem{Weeks: 1 + rng.IntN(6)}
		for range p.Weeks {
			p.Bonus = append(p.Bonus, []float64{0, 0.4, 1, 1.25, 1.6, 3}[rng.IntN(6)])
		}
		c := Crop{Keep: keeps[rng.IntN(len(keeps))]}
		for range 1 + rng.IntN(3) {
			c.TierKg = append(c.TierKg, float64(rng.IntN(5))/10)
			c.TierVal = append(c.TierVal, float64(rng.IntN(8)))
		}
		grams, picked := make([]int32, p.Weeks), make([]uint64, 1)
		for w := range grams {
			if rng.IntN(2) == 0 {
				grams[w] = int32(rng.IntN(1500))
			}
			if grams[w] > 0 {
				picked[0] |= 1 << w
			}
		}
		got := newLarder(p, &c).value(newPlate(p), grams, picked)
		want := lpYear(p, &c, grams)
		if math.Abs(got-want) > 1e-6*max(1, want) {
			t.Fatalf("case %d: crop %+v bonus %v picked %v: greedy %.9f, linear program %.9f", n, c, p.Bonus, grams, got, want)
		}
	}
}

func TestRisk_FractionalTail(t *testing.T) {
	p := &Problem{Years: 4, Lambda: 0.5, Alpha: 0.375} // the worst year and a half
	r := newRisk(p)
	years := []float64{10, 2, 8, 4}
	want := 0.5*6 + 0.5*(2+0.5*4)/1.5
	if got := r.value(years, make([]float64, 4)); math.Abs(got-want) > 1e-12 {
		t.Errorf("risk measure of %v: got %g, want %g", years, got, want)
	}
	slope := 0.0
	for s, w := range r.weights(years) {
		slope += w * years[s]
	}
	if math.Abs(slope-want) > 1e-12 {
		t.Errorf("the weights give %g, want %g: the measure is linear between its kinks", slope, want)
	}
}
