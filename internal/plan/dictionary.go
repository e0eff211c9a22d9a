package plan

import "math"

// dictionary is a small linear programme in bounded variables, kept solved by the
// dual simplex method while rows are added and bounds move: the most of
// cost x strips + t, t no more than any plane says. Variables are numbered: strips by
// place, then t, then a slack for every plane in turn.
type dictionary struct {
	n         int         // kinds of strips; t is variable n
	low, high []float64   // by variable
	basis     []int       // by row: the variable that it gives
	out       []int       // by column: the variable at a bound
	row       [][]float64 // x(basis[r]) = con[r] + sum of row[r][c] x(out[c])
	con       []float64
	gain      []float64 // by column: what a unit more of it adds
	held      []float64 // by column: its value, the bound that the gain asks for
	x         []float64 // by row
}

// far is a bound for variables that have none.
const far = 1e7

func newDictionary(n int) *dictionary {
	d := &dictionary{n: n, low: make([]float64, n+1), high: make([]float64, n+1), gain: make([]float64, n+1), held: make([]float64, n+1)}
	for j := range n + 1 {
		d.out = append(d.out, j)
	}
	d.low[n], d.high[n] = -far, far
	return d
}

// add adds the plane t <= base + slope x strips.
func (d *dictionary) add(p *plane) {
	row, con := make([]float64, d.n+1), p.base
	for c, v := range d.out {
		row[c] = d.in(v, p.slope, -1)
	}
	for r, v := range d.basis {
		if f := d.in(v, p.slope, -1); f != 0 {
			con += f * d.con[r]
			addTimes(row, f, d.row[r])
		}
	}
	d.basis = append(d.basis, len(d.low))
	d.low, d.high = append(d.low, 0), append(d.high, far)
	d.row, d.con, d.x = append(d.row, row), append(d.con, con), append(d.x, 0)
	if len(d.row) == 1 {
		d.pivot(0, d.n) // t is what the first plane says
	}
}

// in is a variable's factor in a row of strips and t.
func (d *dictionary) in(v int, strips []float64, t float64) float64 {
	switch {
	case v < d.n:
		return strips[v]
	case v == d.n:
		return t
	}
	return 0
}

func addTimes(to []float64, f float64, from []float64) {
	to = to[:len(from)] // so that the loop needs no checks of bounds
	for k, x := range from {
		to[k] += f * x
	}
}

// solve makes the programme's best within the present bounds. It may give up (false):
// the mixture then proves a bound all the same, if a worse one.
func (d *dictionary) solve(cost []float64) (pivots int, ok bool) {
	for c, v := range d.out {
		d.gain[c] = d.in(v, cost, 1)
	}
	for r, v := range d.basis {
		if f := d.in(v, cost, 1); f != 0 {
			addTimes(d.gain, f, d.row[r])
		}
	}
	d.value()
	for fresh := true; pivots < 100+10*len(d.basis); {
		r, up := d.worst()
		if r < 0 && fresh {
			return pivots, true
		}
		if r < 0 { // make sure that no rounding has crept in
			d.value()
			fresh = true
			continue
		}
		c := d.enter(r, up)
		if c < 0 {
			return pivots, false
		}
		d.exchange(r, c, up)
		fresh = false
		pivots++
	}
	d.value()
	return pivots, false
}

// value works out every column's and row's value afresh.
func (d *dictionary) value() {
	for c := range d.out {
		d.held[c] = d.at(c)
	}
	for r, row := range d.row {
		x, held := d.con[r], d.held[:len(row)]
		for c, a := range row {
			x += a * held[c]
		}
		d.x[r] = x
	}
}

// exchange lets row r's variable go to the bound that it is beyond, and column c's
// take its place.
func (d *dictionary) exchange(r, c int, up bool) {
	goal := d.high[d.basis[r]]
	if up {
		goal = d.low[d.basis[r]]
	}
	by := (goal - d.x[r]) / d.row[r][c]
	came := d.held[c] + by
	d.nudge(c, by)
	d.pivot(r, c)
	d.x[r], d.held[c] = came, goal
	for c := range d.out {
		if to := d.at(c); to != d.held[c] {
			d.nudge(c, to-d.held[c])
			d.held[c] = to
		}
	}
}

// nudge lets the rows follow a change of a column's value.
func (d *dictionary) nudge(c int, by float64) {
	for r, row := range d.row {
		d.x[r] += row[c] * by
	}
}

// at is the bound that a column's gain asks for.
func (d *dictionary) at(c int) float64 {
	if d.gain[c] > 0 {
		return d.high[d.out[c]]
	}
	return d.low[d.out[c]]
}

// worst finds the row farthest outside its bounds, and whether it must rise; -1 if
// there is none.
func (d *dictionary) worst() (row int, up bool) {
	row = -1
	most := 1e-7
	for r, v := range d.basis {
		x := d.x[r]
		if under := d.low[v] - x; under > most {
			row, up, most = r, true, under
		}
		if over := x - d.high[v]; over > most {
			row, up, most = r, false, over
		}
	}
	return row, up
}

// enter picks the column whose gain keeps its sign longest; -1 if none can move r.
func (d *dictionary) enter(r int, up bool) int {
	best, at, size := math.Inf(1), -1, 0.0
	for c, a := range d.row[r] {
		if math.Abs(a) < 1e-9 || d.low[d.out[c]] == d.high[d.out[c]] {
			continue
		}
		if lifts := (a > 0) != (d.gain[c] > 0); lifts != up {
			continue
		}
		ratio := math.Abs(d.gain[c] / a)
		if ratio < best-1e-12 || ratio < best+1e-12 && math.Abs(a) > size {
			best, at, size = ratio, c, math.Abs(a)
		}
	}
	return at
}

// pivot lets row r's variable and column c's change places.
func (d *dictionary) pivot(r, c int) {
	row := d.row[r]
	a := row[c]
	for k := range row {
		row[k] /= -a
	}
	row[c] = 1 / a
	d.con[r] /= -a
	for q, other := range d.row {
		if f := other[c]; q != r && f != 0 {
			other[c] = 0
			addTimes(other, f, row)
			d.con[q] += f * d.con[r]
		}
	}
	if f := d.gain[c]; f != 0 {
		d.gain[c] = 0
		addTimes(d.gain, f, row)
	}
	d.basis[r], d.out[c] = d.out[c], d.basis[r]
}

// strips writes the strips of the answer.
func (d *dictionary) strips(into []float64) {
	for c, v := range d.out {
		if v < d.n {
			into[v] = d.at(c)
		}
	}
	for r, v := range d.basis {
		if v < d.n {
			into[v] = min(max(d.x[r], d.low[v]), d.high[v])
		}
	}
}

// level is t in the answer.
func (d *dictionary) level() float64 {
	for r, v := range d.basis {
		if v == d.n {
			return d.x[r]
		}
	}
	return far
}

// mix tells the planes' shares: what their slacks would cost. Nothing if t is not
// held by planes alone.
func (d *dictionary) mix() []Weight {
	var all []Weight
	sum := 0.0
	for c, v := range d.out {
		if share := -d.gain[c]; v > d.n && share > 1e-9 {
			all = append(all, Weight{v - d.n - 1, share})
			sum += share
		}
	}
	if !(math.Abs(sum-1) < 1e-3) {
		return nil
	}
	for i := range all {
		all[i].Share /= sum
	}
	return all
}
