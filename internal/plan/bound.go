package plan

import (
	"fmt"
	"math"
	"slices"
)

// Duals are prices that prove an upper bound: whatever they are, no plan is worth
// more than Duals.Bound says. Good ones make it tight and tell what ground, work
// and indoor space are worth.
type Duals struct {
	Years []float64 `json:"years"` // weight of each weather year, sum 1
	// Produce is the worth of a gram in stock, year's weight included:
	// [crop][week*years+year].
	Produce [][]float64 `json:"produce"`
	Wage    []float64   `json:"wage"` // per minute and week above LabourCost, 0 to OvertimeCost
	Tray    []float64   `json:"tray"` // per tray unit and week
	// Family is the price of a rotating family's one turn on a strip, by kind of strip: [soil][family].
	Family [][]float64 `json:"family"`
	// Whole tells, by crop and span of weeks, in order, what whole plantings leave of a
	// table's gain; none of a crop where that was not looked into.
	Whole [][]Whole `json:"whole,omitempty"`
}

// Bound proves that no plan of p is worth more than the value returned, whatever
// produced the prices. The error tells of a list of the wrong length, a price that
// is negative or not a number, or years' weights that the risk measure cannot take.
func Bound(p *Problem, d *Duals) (float64, error) {
	b := newBounder(p, newTables(p))
	if err := b.check(d); err != nil {
		return 0, fmt.Errorf("prices: %w", err)
	}
	return b.bound(d.clone()), nil
}

// GroundWorth tells what a strip more of the same kind is worth by week, at prices
// d: [bed][strip][week]. Like strips share one list. A candidate is worth its room
// if it earns what its weeks cost. d must have passed Bound.
func GroundWorth(p *Problem, d *Duals) [][][]float64 {
	b := newBounder(p, newTables(p))
	byKind := b.groundWorth(d)
	worth := make([][][]float64, len(p.Beds))
	for bed, kinds := range b.soilOf {
		for _, u := range kinds {
			worth[bed] = append(worth[bed], byKind[u])
		}
	}
	return worth
}

// groundWorth is GroundWorth by kind of strip: [soil][week].
func (b *bounder) groundWorth(d *Duals) [][]float64 {
	own := d.clone()
	own.Whole = nil // trees tell of tables, not of ground
	b.bound(own)
	worth := make([][]float64, len(b.soils))
	for u := range b.soils {
		b.strip(&b.soils[u], d.Family[u])
		for w := range b.p.Weeks {
			worth[u] = append(worth[u], b.best[w+1]-b.best[w])
		}
	}
	return worth
}

// clone copies what bound mends.
func (d *Duals) clone() *Duals {
	own := *d
	own.Produce = nil
	for _, price := range d.Produce {
		own.Produce = append(own.Produce, slices.Clone(price))
	}
	return &own
}

func (b *bounder) check(d *Duals) error {
	p := b.p
	if len(d.Years) != p.Years || len(d.Produce) != len(p.Crops) || len(d.Wage) != p.Weeks ||
		len(d.Tray) != p.Weeks || len(d.Family) != len(b.soils) {
		return fmt.Errorf("lists for %d years, %d crops, %d and %d weeks, %d kinds of strip do not fit the problem",
			len(d.Years), len(d.Produce), len(d.Wage), len(d.Tray), len(d.Family))
	}
	fits := slices.Clone(d.Years)
	b.shared.risk.project(fits)
	for s := range fits {
		if !(math.Abs(fits[s]-d.Years[s]) < 1e-9) {
			return fmt.Errorf("years[%d]: weight %g is none that the risk measure gives", s, d.Years[s])
		}
	}
	for c, price := range d.Produce {
		if len(price) != p.Weeks*p.Years {
			return fmt.Errorf("produce[%d]: %d prices, want %d", c, len(price), p.Weeks*p.Years)
		}
		if i := bad(price, math.MaxFloat64); i >= 0 {
			return fmt.Errorf("produce[%d][%d]: %g, want 0 or more", c, i, price[i])
		}
	}
	if i := bad(d.Wage, p.OvertimeCost); i >= 0 {
		return fmt.Errorf("wage[%d]: %g, want 0 to %g", i, d.Wage[i], p.OvertimeCost)
	}
	if i := bad(d.Tray, math.MaxFloat64); i >= 0 {
		return fmt.Errorf("tray[%d]: %g, want 0 or more", i, d.Tray[i])
	}
	for u, family := range d.Family {
		if len(family) != families {
			return fmt.Errorf("family[%d]: %d prices, want %d", u, len(family), families)
		}
		if i := bad(family, math.MaxFloat64); i >= 0 {
			return fmt.Errorf("family[%d][%d]: %g, want 0 or more", u, i, family[i])
		}
	}
	return p.checkWhole(d.Whole)
}

// bad is the index of the first price outside 0 to high, or -1.
func bad(prices []float64, high float64) int {
	return slices.IndexFunc(prices, func(x float64) bool { return !within(x, 0, high) })
}

// bounder evaluates bounds for one problem.
type bounder struct {
	p      *Problem
	shared *tables
	soils  []soil
	soilOf [][]int   // by bed and strip
	score  []float64 // per candidate: what a strip earns, ground and setup unpaid
	best   []float64
	paid   *setups   // nil where plantings cost nothing
	lives  []span    // per crop: the weeks in which its stock matters
	dears  []float64 // per crop: the most a gram can be worth
	ledger *ledger   // for whole strips; nil until it is wanted
	rents  []float64 // for whole strips, per candidate; see ask
	worths []float64 // the like: of a strip's pickings at the duals' prices
}

func newBounder(p *Problem, shared *tables) *bounder {
	kinds, where := soils(p)
	b := &bounder{p: p, shared: shared, soils: kinds, soilOf: where, score: make([]float64, len(p.Cands)), best: make([]float64, p.Weeks+1)}
	b.lives, b.dears = b.live()
	if p.SetupCost > 0 {
		b.paid = newSetups(b)
	}
	return b
}

// bound is the proven upper bound that d gives. It first mends the produce prices
// so that a kept gram is never worth less than what is left of it next week.
//
// Why it holds. Price every gram picked, every minute and tray unit used and every
// family's turn. At these prices the table can gain at most what table counts, and
// a strip at most its longest path through time; what a real plan is worth is no
// more than the sum, since each limit it keeps is paid for at a price that is not
// negative. For setups see setups.share.
func (b *bounder) bound(d *Duals) float64 {
	total := 0.0
	for c := range b.p.Crops {
		b.mend(c, d.Produce[c])
		total += b.table(c, d)
	}
	for i := range b.p.Beds {
		for k := range b.p.Beds[i].Standing {
			st := &b.p.Beds[i].Standing[k]
			for s, y := range st.Yield {
				for j, g := range y.Grams {
					total += float64(st.Strips) * float64(g) * d.Produce[st.Crop][(y.First+j)*b.p.Years+s]
				}
			}
		}
	}
	for w := range b.p.Weeks {
		total += d.Wage[w]*b.p.LabourCap + d.Tray[w]*b.p.trayRoom(w)
	}
	b.scores(d)
	for _, pl := range b.p.Fixed {
		total += b.score[pl.Cand]*float64(pl.Strips) - b.p.SetupCost
	}
	if b.paid != nil {
		b.paid.share(d)
	}
	for u := range b.soils {
		total += float64(b.soils[u].strips) * b.strip(&b.soils[u], d.Family[u])
	}
	return total - b.whole(d)
}

// mend lifts prices so that price(w) >= Keep x price(w+1).
func (b *bounder) mend(c int, price []float64) {
	rho, n := b.p.Crops[c].Keep, b.p.Years
	for i := len(price) - n - 1; i >= 0; i-- {
		price[i] = max(price[i], rho*price[i+n])
	}
}

// live tells for each crop from which week its stock can be more than nothing, and
// from which it is too small to matter (then it is priced at the most it could be
// worth, which costs the bound next to nothing), and that most.
func (b *bounder) live() ([]span, []float64) {
	var weeks []span
	var most []float64
	for c := range b.p.Crops {
		l, dear := b.shared.crops[c], 0.0
		for _, sl := range b.shared.larders[c].slots {
			dear = max(dear, sl.worth)
		}
		left := 1.0
		for l.to < b.p.Weeks && left > 1e-4 {
			left *= b.p.Crops[c].Keep
			l.to++
		}
		if l.from > l.to {
			l = span{}
		}
		weeks, most = append(weeks, l), append(most, dear)
	}
	return weeks, most
}

// table is what the household could gain by buying a crop at these prices, tableAt
// the like in a span of weeks at prices of one crop.
func (b *bounder) table(c int, d *Duals) float64 {
	return b.tableAt(c, d.Years, d.Produce[c], span{0, b.p.Weeks})
}

func (b *bounder) tableAt(c int, years, prices []float64, weeks span) float64 {
	total := 0.0
	from := max(weeks.from, b.shared.crops[c].from) // nothing to eat before
	for _, sl := range b.shared.larders[c].slots {
		if int(sl.week) < from || int(sl.week) >= weeks.to {
			continue
		}
		price := prices[int(sl.week)*b.p.Years:]
		for s, q := range years {
			if gain := q*sl.worth - price[s]; gain > 0 {
				total += gain * sl.room
			}
		}
	}
	return total
}

// scores works out what a strip of each candidate earns at the prices, ground unpaid.
func (b *bounder) scores(d *Duals) {
	for i := range b.p.Cands {
		c := &b.p.Cands[i]
		s := b.shared.yields[i].dot(d.Produce[c.Crop], b.p.Years) - c.Cost
		for k, tenths := range c.Labour {
			s -= float64(tenths) / 10 * (b.p.LabourCost + d.Wage[c.LabourAt+k])
		}
		for w := c.Tray.From; w < c.Tray.To; w++ {
			s -= float64(c.Tray.Hundredths) / 100 * d.Tray[w]
		}
		b.score[i] = s
	}
}

// strip is the most that one strip can earn: its longest path through time, each
// candidate paying its family's turn and its share of a planting's setup, plus the
// turns themselves.
func (b *bounder) strip(u *soil, family []float64) float64 {
	var share []float64
	if b.paid != nil {
		share = b.paid.shares[u.length]
	}
	best := b.best
	k := 0
	best[0] = 0
	for w := 1; w <= b.p.Weeks; w++ {
		best[w] = best[w-1]
		for ; k < len(u.steps) && u.steps[k].end == w; k++ {
			st := &u.steps[k]
			v := b.score[st.cand]
			if share != nil {
				v -= share[st.cand]
			}
			if st.family != 0 {
				v -= family[b.p.Crops[b.p.Cands[st.cand].Crop].Family]
			}
			best[w] = max(best[w], v+best[st.start])
		}
	}
	total := best[b.p.Weeks]
	for _, price := range family {
		total += price
	}
	return total
}
