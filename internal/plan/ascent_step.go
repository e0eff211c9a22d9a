package plan

import "math"

// step makes one primal and one dual step.
func (a *ascent) step() {
	up, down := a.weight, 1/a.weight
	w := float64(a.since+1) / float64(a.since+2)
	a.movedX, a.movedY, a.farX, a.farY = 0, 0, 0, 0
	worth := make([]float64, a.p.Years)
	a.pulls()
	clear(a.sum)
	for u := range a.soils {
		a.stepArea(u, up, w)
	}
	// Crop by crop, so that what a crop's table read is still at hand for its prices.
	for c := range a.p.Crops {
		a.stepTable(c, up, w, worth)
		a.stepProduce(c, down, w)
	}
	for u := range a.soils {
		a.stepGround(u, down, w)
	}
	a.stepLimits(down, w)
	a.stepYears(worth)
	a.since++
	a.n++
}

// stepTable moves what is eaten and kept of a crop, and leaves in slope what it takes
// of each week's produce.
func (a *ascent) stepTable(c int, up, w float64, worth []float64) {
	n := a.p.Years
	live, price, slope := a.live[c], a.produce[c].at, a.slope
	clear(slope[live.from*n : live.to*n])
	for k := range a.eat[c] {
		h := &a.eat[c][k]
		step, high := up*h.step[0], h.high
		var moved, far float64
		for t := live.from; t < live.to; t++ {
			v := a.tierWorth[c][k*a.p.Weeks+t]
			// Cut to the years' length, so that the loop needs no checks of bounds.
			years := a.years
			at, anchor := h.at[t*n:][:len(years)], h.anchor[t*n:][:len(years)]
			slope, price, worth := slope[t*n:][:len(years)], price[t*n:][:len(years)], worth[:len(years)]
			for s, q := range years {
				x, o := at[s], anchor[s]
				to := x + step*(q*v-price[s])
				if to < 0 {
					to = 0
				} else if to > high {
					to = high
				}
				r := to + to - x
				y := w*r + (1-w)*o
				at[s] = y
				slope[s] += r
				moved += (to - x) * (to - x)
				far += (to - o) * (to - o)
				worth[s] += v * y
			}
		}
		a.movedX += moved / h.step[0]
		a.farX += far / h.step[0]
	}
	a.stepStock(c, up, w)
}

// stepStock moves what is kept of a crop.
func (a *ascent) stepStock(c int, up, w float64) {
	n := a.p.Years
	live, price, slope := a.live[c], a.produce[c].at, a.slope
	rho, h := a.p.Crops[c].Keep, &a.stock[c]
	step := up * h.step[0]
	var moved, far float64
	end := live.to * n
	for i := live.from * n; i < end; i++ {
		var next float64
		if i+n < end {
			next = price[i+n]
		} else if live.to < a.p.Weeks {
			next = a.years[i+n-end] * a.dearest[c]
		}
		x, o := h.at[i], h.anchor[i]
		to := max(x+step*(rho*next-price[i]), 0)
		r := to + to - x
		h.at[i] = w*r + (1-w)*o
		slope[i] += r
		if i+n < end {
			slope[i+n] -= rho * r
		}
		moved += (to - x) * (to - x)
		far += (to - o) * (to - o)
	}
	a.movedX += moved / h.step[0]
	a.farX += far / h.step[0]
}

// pulls works out what a strip of each candidate earns at the present prices.
func (a *ascent) pulls() {
	for i := range a.p.Cands {
		c := &a.p.Cands[i]
		v := a.yields[i].dot(a.produce[c.Crop].at, a.p.Years) - c.Cost - a.toll[i]
		for k, tenths := range c.Labour {
			v -= float64(tenths) / 10 * (a.p.LabourCost + a.wage.at[c.LabourAt+k])
		}
		for w := c.Tray.From; w < c.Tray.To; w++ {
			v -= float64(c.Tray.Hundredths) / 100 * a.tray.at[w]
		}
		a.pull[i] = v
	}
}

func (a *ascent) stepArea(u int, up, w float64) {
	for t, price := range a.ground[u].at {
		a.run[t+1] = a.run[t] + price
	}
	h := &a.area[u]
	for i := range a.soils[u].steps {
		st := &a.soils[u].steps[i]
		slope := a.pull[st.cand] - (a.run[st.end] - a.run[st.start])
		if st.family != 0 {
			slope -= a.family[u].at[a.p.Crops[a.p.Cands[st.cand].Crop].Family]
		}
		if slope <= 0 && h.at[i] == 0 && h.anchor[i] == 0 {
			a.ahead[u][i] = 0
			continue
		}
		ahead, m, f := h.move(i, slope, up, w)
		a.movedX += m
		a.farX += f
		a.ahead[u][i] = ahead
		a.sum[st.cand] += ahead
	}
}

// stepProduce moves the prices of a crop's produce by what stepTable left in slope,
// less what is picked.
func (a *ascent) stepProduce(c int, down, w float64) {
	n := a.p.Years
	for _, i := range a.shared.byCrop[c] {
		if x := a.sum[i]; x != 0 {
			y := &a.yields[i]
			slope := a.slope[y.from*n:][:len(y.grams)]
			for j, g := range y.grams {
				slope[j] -= x * g
			}
		}
	}
	for b := range a.p.Beds {
		for k := range a.p.Beds[b].Standing {
			if st := &a.p.Beds[b].Standing[k]; st.Crop == c {
				for s, y := range st.Yield {
					for j, g := range y.Grams {
						a.slope[(y.First+j)*n+s] -= float64(st.Strips) * float64(g)
					}
				}
			}
		}
	}
	for _, pl := range a.p.Fixed {
		if a.p.Cands[pl.Cand].Crop == c {
			y := &a.shared.yields[pl.Cand]
			for j, g := range y.grams {
				a.slope[y.from*n+j] -= float64(pl.Strips) * g
			}
		}
	}
	a.balance(c, down, w)
}

// balance moves the produce prices by what is eaten and kept less what is there.
func (a *ascent) balance(c int, down, w float64) {
	h := &a.produce[c]
	from, slope := a.live[c].from*a.p.Years, a.slope[:a.live[c].to*a.p.Years]
	var moved, far float64
	at, anchor, steps := h.at[:len(slope)], h.anchor[:len(slope)], h.step[:len(slope)]
	for i := from; i < len(slope); i++ {
		x, o, step := at[i], anchor[i], steps[i]
		to := x + step*down*slope[i]
		if to < 0 {
			to = 0
		}
		r := to + to - x
		at[i] = w*r + (1-w)*o
		moved += (to - x) * (to - x) / step
		far += (to - o) * (to - o) / step
	}
	a.movedY += moved
	a.farY += far
}

func (a *ascent) stepGround(u int, down, w float64) {
	clear(a.run)
	var turns [families]float64
	for i, x := range a.ahead[u] {
		if x == 0 {
			continue
		}
		st := &a.soils[u].steps[i]
		a.run[st.start] += x
		a.run[st.end] -= x
		if st.family != 0 {
			turns[a.p.Crops[a.p.Cands[st.cand].Crop].Family] += x
		}
	}
	strips, held := float64(a.soils[u].strips), 0.0
	for t := range a.p.Weeks {
		held += a.run[t]
		_, m, f := a.ground[u].move(t, held-strips, down, w)
		a.movedY += m
		a.farY += f
	}
	for k := range turns {
		_, m, f := a.family[u].move(k, turns[k]-strips, down, w)
		a.movedY += m
		a.farY += f
	}
}

// stepLimits moves the prices of overtime and indoor space.
func (a *ascent) stepLimits(down, w float64) {
	for _, pl := range a.p.Fixed {
		a.sum[pl.Cand] += float64(pl.Strips)
	}
	work, space := make([]float64, a.p.Weeks), make([]float64, a.p.Weeks)
	for i, x := range a.sum {
		if x == 0 {
			continue
		}
		c := &a.p.Cands[i]
		for k, tenths := range c.Labour {
			work[c.LabourAt+k] += x * float64(tenths) / 10
		}
		for t := c.Tray.From; t < c.Tray.To; t++ {
			space[t] += x * float64(c.Tray.Hundredths) / 100
		}
	}
	for t := range work {
		_, m, f := a.wage.move(t, work[t]-a.p.LabourCap, down, w)
		a.movedY += m
		a.farY += f
		_, m, f = a.tray.move(t, space[t]-a.p.trayRoom(t), down, w)
		a.movedY += m
		a.farY += f
	}
}

// stepYears lets the years' weights lean towards the worse years.
func (a *ascent) stepYears(worth []float64) {
	if a.p.Lambda == 0 {
		return
	}
	mean, spread := 0.0, 0.0
	for _, v := range worth {
		mean += v / float64(len(worth))
	}
	for _, v := range worth {
		spread += math.Abs(v-mean) / float64(len(worth))
	}
	if spread == 0 {
		return
	}
	pace := yearPace / (1 + float64(a.n)/1000) / float64(len(worth)) / spread
	for s, v := range worth {
		a.years[s] -= pace * (v - mean)
	}
	a.shared.risk.project(a.years)
}

// yearPace is how far the years' weights move in a step, as a share of their mean
// when worths lie about their spread from the mean's; found by trial.
const yearPace = 0.01
