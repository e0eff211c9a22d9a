package plan

import "math"

// newAscent sets the method up. value is any plan's worth, used only to guess scales.
func newAscent(b *bounder, value float64) *ascent {
	p := b.p
	n := p.Weeks * p.Years
	a := &ascent{bounder: b, sum: make([]float64, len(p.Cands)), pull: make([]float64, len(p.Cands)),
		slope: make([]float64, n), run: make([]float64, p.Weeks+1), weight: 1,
		wage: newHalf(p.Weeks, p.OvertimeCost), tray: newHalf(p.Weeks, math.Inf(1)),
		yields: b.shared.yields, toll: make([]float64, len(p.Cands))}
	if b.paid != nil {
		a.yields = b.paid.useful
	}
	for range p.Years {
		a.years = append(a.years, 1/float64(p.Years))
	}
	for c := range p.Crops {
		crop := &p.Crops[c]
		var tiers []half
		worth := make([]float64, 0, len(crop.TierKg)*p.Weeks)
		for k := range crop.TierKg {
			tiers = append(tiers, newHalf(n, crop.TierKg[k]*1000))
			for w := range p.Weeks {
				v := crop.TierVal[k] / 1000
				if k == 0 {
					v *= p.Bonus[w]
				}
				worth = append(worth, v)
			}
		}
		a.eat, a.tierWorth = append(a.eat, tiers), append(a.tierWorth, worth)
		a.stock = append(a.stock, newHalf(n, math.Inf(1)))
		a.produce = append(a.produce, newHalf(n, math.Inf(1)))
	}
	for u := range b.soils {
		a.ahead = append(a.ahead, make([]float64, len(b.soils[u].steps)))
		a.area = append(a.area, newHalf(len(b.soils[u].steps), float64(b.soils[u].strips)))
		a.ground = append(a.ground, newHalf(p.Weeks, math.Inf(1)))
		a.family = append(a.family, newHalf(families, math.Inf(1)))
	}
	a.live, a.dearest = b.lives, b.dears
	a.scale(value)
	return a
}

// start sets out from a plan instead of from nothing: its areas, how it is eaten
// and kept, and the prices at its margin.
func (a *ascent) start(plantings []Planting, ground float64) {
	n := a.p.Years
	h := newHarvest(a.p, plantings)
	v, _ := Evaluate(a.p, plantings)
	a.years = a.shared.risk.weights(v.Years)
	pt, eaten := newPlate(a.p), make([]float64, a.p.Weeks)
	for c := range a.produce {
		l, live := a.shared.larders[c], a.live[c]
		for s, q := range a.years {
			grams, picked := h.year(c, s)
			l.prices(pt, grams, picked, live.from, live.to, q, a.produce[c].at[s:], n)
			clear(eaten)
			for r := range l.slots {
				ate, week := l.room[r]-pt.left[r], int(l.slots[r].week)
				if pt.full[r>>6]>>(r&63)&1 == 1 {
					ate = l.room[r]
				}
				a.eat[c][l.slots[r].tier].at[week*n+s] = ate
				eaten[week] += ate
			}
			stock := 0.0
			for w := live.from; w < live.to; w++ {
				stock = max(0, stock*a.p.Crops[c].Keep+float64(grams[w])-eaten[w])
				a.stock[c].at[w*n+s] = stock
			}
		}
	}
	for u, areas := range a.areasOf(plantings) {
		copy(a.area[u].at, areas)
		for w := a.soils[u].from; w < a.p.Weeks; w++ {
			a.ground[u].at[w] = ground
		}
	}
	a.restart()
}

// areasOf is how many strips of each soil each of its steps has in a plan.
func (a *ascent) areasOf(plantings []Planting) [][]float64 {
	index := make([]map[int]int, len(a.soils))
	areas := make([][]float64, len(a.soils))
	for u := range a.soils {
		index[u] = map[int]int{}
		areas[u] = make([]float64, len(a.soils[u].steps))
		for i := range a.soils[u].steps {
			index[u][a.soils[u].steps[i].cand] = i
		}
	}
	for _, pl := range plantings {
		for j := pl.Strip; j < pl.Strip+pl.Strips; j++ {
			u := a.soilOf[pl.Bed][j]
			if i, ok := index[u][pl.Cand]; ok {
				areas[u][i]++
			}
		}
	}
	return areas
}

// scale sets the diagonal steps from guessed sizes of every variable: Pock and
// Chambolle's rule, step = own size over what the rows or columns it meets could move.
func (a *ascent) scale(value float64) {
	p := a.p
	strips := 0
	for u := range a.soils {
		strips += a.soils[u].strips
	}
	ground := max(value, 1) / float64(strips*p.Weeks)
	family, wage, tray := 10*ground, max(p.OvertimeCost, 1e-6), 0.3
	size := make([]float64, len(p.Cands)) // areas over all soils
	for u := range a.soils {
		for i := range a.soils[u].steps {
			size[a.soils[u].steps[i].cand] += a.areaSize(u)
		}
	}
	weeks, trays := make([]float64, p.Weeks), make([]float64, p.Weeks)
	load := make([]float64, len(p.Cands)) // what a strip meets, ground left out
	gram := make([]float64, len(p.Crops)) // guessed price of a gram
	pick := make([]float64, p.Weeks*p.Years)
	for c := range p.Crops {
		crop := &p.Crops[c]
		for k := range crop.TierKg {
			gram[c] += crop.TierVal[k] / 1000 / float64(len(crop.TierKg)*p.Years)
		}
		gram[c] = max(gram[c], 1e-9)
		clear(pick)
		for _, i := range a.shared.byCrop[c] {
			y := &a.shared.yields[i]
			for j, g := range y.grams {
				pick[y.from*p.Years+j] += g * size[i]
				load[i] += g * gram[c]
			}
		}
		store := 0.0
		for k := range crop.TierKg {
			store += crop.TierKg[k] * 1000
		}
		room, keep := store, 1+crop.Keep
		store = max(1, store*min(4, 1/(1.001-crop.Keep)))
		for i := range pick {
			for k := range a.eat[c] {
				a.eat[c][k].step[i] = max(1e-3, crop.TierKg[k]*1000) / gram[c]
			}
			a.stock[c].step[i] = store / (keep * gram[c])
			a.produce[c].step[i] = gram[c] / (room + keep*store + pick[i])
		}
	}
	for i := range p.Cands {
		c := &p.Cands[i]
		for k, tenths := range c.Labour {
			weeks[c.LabourAt+k] += float64(tenths) / 10 * size[i]
			load[i] += float64(tenths) / 10 * wage
		}
		for w := c.Tray.From; w < c.Tray.To; w++ {
			trays[w] += float64(c.Tray.Hundredths) / 100 * size[i]
			load[i] += float64(c.Tray.Hundredths) / 100 * tray
		}
	}
	for w := range p.Weeks {
		a.wage.step[w] = wage / max(1e-3, weeks[w])
		a.tray.step[w] = tray / max(1e-3, trays[w])
	}
	for u := range a.soils {
		a.scaleSoil(u, ground, family, load)
	}
}

func (a *ascent) areaSize(u int) float64 { return float64(a.soils[u].strips) / 20 }

func (a *ascent) scaleSoil(u int, ground, family float64, load []float64) {
	size := a.areaSize(u)
	for i := range a.ground[u].step {
		a.ground[u].step[i] = 1
	}
	held, turns := make([]float64, a.p.Weeks), make([]float64, families)
	for i := range a.soils[u].steps {
		st := &a.soils[u].steps[i]
		a.area[u].step[i] = size / (load[st.cand] + family + ground*float64(st.end-st.start))
		for w := st.start; w < st.end; w++ {
			held[w] += size
		}
		turns[a.p.Crops[a.p.Cands[st.cand].Crop].Family] += size
	}
	for w := range held {
		a.ground[u].step[w] = ground / max(size, held[w])
	}
	for f := range turns {
		a.family[u].step[f] = family / max(size, turns[f])
	}
}
