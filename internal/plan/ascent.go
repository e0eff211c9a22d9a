package plan

import "math"

// ascent solves the linear relaxation by a first-order primal-dual method
// (primal-dual hybrid gradient with reflected Halpern steps and restarts; Chambolle
// and Pock 2011, Lu and Yang 2024), only for its prices: any of them prove a bound.
//
// Primal: areas x of every candidate on every kind of strip, grams eaten by tier,
// stocks. Dual: produce prices (grams balance), ground, families, wage, tray. The
// weights of the years follow the years' worths more slowly.
type ascent struct {
	*bounder
	eat     [][]half    // [crop][tier]
	stock   []half      // [crop]
	area    []half      // [soil], along its steps
	ahead   [][]float64 // the areas' reflections
	produce []half      // [crop]
	ground  []half      // [soil], by week
	family  []half      // [soil], by family
	wage    half
	tray    half
	years   []float64

	tierWorth [][]float64 // [crop][tier*Weeks+week], per gram
	sum       []float64   // per candidate: reflected area over all soils
	pull      []float64   // per candidate: earning at the present prices
	slope     []float64   // scratch: grams wanted less picked, [week*Years+year]
	run       []float64   // scratch by week
	live      []span      // per crop: the weeks in which its stock matters
	dearest   []float64   // per crop: the most a gram can be worth

	yields []block   // per candidate, a strip: what of its picking is of use (see linear)
	toll   []float64 // per candidate, a strip: its share of a setup, less what it earns in slots that are not full

	weight   float64 // primal against dual step
	since, n int     // steps since the restart, in all
	first    float64 // residual just after the restart
	last     float64
	movedX   float64 // squared lengths of the step, and from the anchor
	movedY   float64
	farX     float64
	farY     float64
}

// half is one family of variables, each from 0 to high, with its diagonal step.
type half struct {
	at, anchor, step []float64
	high             float64
}

func newHalf(n int, high float64) half {
	return half{at: make([]float64, n), anchor: make([]float64, n), step: make([]float64, n), high: high}
}

// move takes element i along slope by its step times scale, reflects and pulls
// towards the anchor. It returns the reflection, and the squared step and distance in
// the step's norm.
func (h *half) move(i int, slope, scale, w float64) (ahead, moved, far float64) {
	x := h.at[i]
	step := h.step[i]
	to := min(max(x+step*scale*slope, 0), h.high)
	ahead = to + to - x
	h.at[i] = w*ahead + (1-w)*h.anchor[i]
	d, f := to-x, to-h.anchor[i]
	return ahead, d * d / step, f * f / step
}

func (h *half) settle() { copy(h.anchor, h.at) }

// restart makes the present point the new anchor and rebalances the steps.
func (a *ascent) restart() {
	if a.farX > 0 && a.farY > 0 {
		// far is in units of the unscaled steps, so their ratio is the balance wanted.
		want := math.Sqrt(a.farX / a.farY)
		a.weight = min(max(math.Sqrt(a.weight*want), leastWeight), mostWeight)
	}
	each := func(h *half) { h.settle() }
	for c := range a.produce {
		for k := range a.eat[c] {
			each(&a.eat[c][k])
		}
		each(&a.stock[c])
		each(&a.produce[c])
	}
	for u := range a.soils {
		each(&a.area[u])
		each(&a.ground[u])
		each(&a.family[u])
	}
	each(&a.wage)
	each(&a.tray)
	a.since = 0
}

// The balance stays near what scale guessed: left free it drifts away while the
// years' weights still move, and the bound with it.
const leastWeight, mostWeight = 0.7, 3

// residual is the squared length of the last step in the norm of the method.
func (a *ascent) residual() float64 { return a.movedX/a.weight + a.movedY*a.weight }

// advance makes n steps, restarting when progress from the anchor slows.
func (a *ascent) advance(n int) {
	for range n {
		a.step()
		r := math.Sqrt(a.residual())
		if a.since == 1 {
			a.first, a.last = r, r
			continue
		}
		if r <= 0.2*a.first || r <= 0.8*a.first && r > a.last && a.since > 10 || float64(a.since) >= 0.36*float64(a.n) && a.since > 20 {
			a.restart()
		}
		a.last = r
	}
}

// duals copies the present prices.
func (a *ascent) duals() *Duals {
	d := &Duals{Years: append([]float64(nil), a.years...), Wage: positive(a.wage.at, a.p.OvertimeCost), Tray: positive(a.tray.at, math.Inf(1))}
	for c := range a.produce {
		price := positive(a.produce[c].at, math.Inf(1))
		for t := a.live[c].to; t < a.p.Weeks; t++ {
			for s, q := range a.years {
				price[t*a.p.Years+s] = q * a.dearest[c]
			}
		}
		d.Produce = append(d.Produce, price)
	}
	for u := range a.family {
		d.Family = append(d.Family, positive(a.family[u].at, math.Inf(1)))
	}
	return d
}

func positive(x []float64, high float64) []float64 {
	out := make([]float64, len(x))
	for i, v := range x {
		out[i] = min(max(v, 0), high)
	}
	return out
}
