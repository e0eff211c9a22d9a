package climatology

import (
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var calibrate = flag.Bool("calibrate", false, "fit data/coefficients.csv and data/regions.csv anew")

var cross = flag.Bool("cross", false, "with -calibrate: also look at regions left out, minutes more")

var regionsOnly = flag.Bool("regions", false, "with -calibrate: keep the coefficients that there are, and draw the regions anew")

var afresh = flag.Bool("afresh", false, "with -calibrate: start from the daily records, not from the coefficients that there are")

// Spread and shift of the minimum are fitted together: to the freeze dates, on
// which both tell, and to the spreads of the daily records.
const (
	spreadBy = "one range tiny_range phase phase2 phase.range turn turn2 turn.range rise rise.phase humid wind wet frosty warm sunny latitude height gradient eastward poleward colder warmer sea_west sea_east sea_poleward sea_west.phase sea_east.phase sea_pole.phase sea_west.turn rough rough.phase gradient.phase eastward.phase height.phase latitude.phase coast coast.phase"
	shiftBy  = "one phase turn rise wind height valley hollow rough shore coast valley.rise rough.rise drop drop.phase drop.rise sea_west humid sunny frosty knoll town town.phase"

	dateScale       = 3.0   // days: beyond it an error counts linearly, not squared
	spreadScale     = 0.15  // of the logarithm of a spread
	recordLoad      = 8.0   // how much a record's month weighs against a station
	coefficientLoad = 30.0  // and a coefficient of the spread, for each 1 that it is off 0
	shiftLoad       = 100.0 // and one of the shift
	meanLoad        = 8.0   // and its mean minimum, for each °C that it is off: the rest of the world has no regional shifts to mend it
)

// TestCalibrate is a maintainer's tool more than a test: with -calibrate it fits
// the regressions, which takes minutes, writes them, and shows how well they do
// where they were not fitted. Without it there is nothing to do.
func TestCalibrate(t *testing.T) {
	if !*calibrate {
		return
	}
	w, err := unpack()
	if err != nil {
		t.Fatal(err)
	}
	c := newCalibration(t, w)
	rounds := 6
	if *regionsOnly {
		rounds = 0
	}
	all := c.fit(c.every(), rounds)
	if err := os.WriteFile(filepath.Join("data", "coefficients.csv"), []byte(all.text()), 0o644); err != nil {
		t.Fatal(err)
	}
	got := c.dates(all, c.every())
	t.Logf("fitted to all:\n%s", tableOf(c.stations, got, nil))
	if *cross {
		c.crossValidate(t, all)
	}
	own := make([]minima, len(c.stations))
	inParallel(len(own), func(i int) { own[i] = c.minima(&all, i) })
	survey := newSurveyor(c.stations, own, c.places)
	if *cross {
		compareKriging(t, survey)
	}
	if err := os.WriteFile(filepath.Join("data", "regions.csv"), []byte(survey.table().text()), 0o644); err != nil {
		t.Fatal(err)
	}
}

// crossValidate fits to all regions but a third of them and looks there.
func (c *calibration) crossValidate(t testing.TB, all model) {
	const folds = 3
	got := make([]freezes, len(c.stations))
	for fold := range folds {
		var in, out []int
		for i, s := range c.stations {
			if foldOf(s, folds, true) == fold {
				out = append(out, i)
			} else {
				in = append(in, i)
			}
		}
		m := model{all.simple, append([]float64(nil), all.spread...), append([]float64(nil), all.shift...)}
		for range 3 {
			c.step(&m, in)
		}
		for k, f := range c.dates(m, out) {
			got[out[k]] = f
		}
	}
	t.Logf("in boxes of 3 degrees that were left out, without regional shifts:\n%s", tableOf(c.stations, got, nil))
}

// model is a set of regressions as text and numbers.
type model struct {
	simple        map[quantity][]float64
	spread, shift []float64
}

func (m model) text() string {
	var b strings.Builder
	b.WriteString("# How daily weather differs from place to place; written by go test -run TestCalibrate -calibrate, see README.md.\nquantity,predictor,coefficient\n")
	write := func(of quantity, by string, values []float64) {
		for i, name := range strings.Fields(by) {
			fmt.Fprintf(&b, "%s,%s,%.4f\n", of, name, values[i])
		}
	}
	write(tminSpread, spreadBy, m.spread)
	write(tminShift, shiftBy, m.shift)
	for _, s := range simple {
		write(s.of, s.by, m.simple[s.of])
	}
	fmt.Fprintf(&b, "%s,south,%.4f\n", tminShift, southernWarming)
	for i, name := range strings.Fields("one phase") {
		fmt.Fprintf(&b, "%s,%s,%.4f\n", tmaxShift, name, warming[i])
	}
	return b.String()
}

// warming of the maximum from 1961–1990 to 1981–2010, mean and by phase, °C:
// the mean over the records that have both (New York, Albany, Milwaukee, Swift
// Current, Dublin, Stockholm, Peio, Cavalese, Rovereto, Puno) is 0.6, more in
// winter than in summer.
var warming = []float64{0.55, -0.15}

// southernWarming is how much more the minimum warmed south of the equator, °C:
// Puno's by 0.1 where the northern records' warmed by 0.6; hemispheres' land
// differed by some 0.3 (from memory).
const southernWarming = -0.3

// matrix is the values of predictors at a place in each month.
type matrix [12][]float64

func matrixOf(p *place, by string) (x matrix) {
	for m := range 12 {
		for _, name := range strings.Fields(by) {
			x[m] = append(x[m], predictors[name](p, m))
		}
	}
	return x
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

// calibration holds what is fitted to.
type calibration struct {
	stations      []freezeStation
	places        []*place
	spread, shift []matrix
	records       []fitted
	recordSpread  []matrix
	recordShift   []matrix
	simple        map[quantity][]float64
	daily         dailyModel
}

func newCalibration(t testing.TB, w *World) *calibration {
	c := &calibration{stations: readFreezes(t), records: fitRecords(t, w), simple: map[quantity][]float64{}, daily: dailyModel{}}
	n := len(c.stations)
	c.places, c.spread, c.shift = make([]*place, n), make([]matrix, n), make([]matrix, n)
	inParallel(n, func(i int) {
		c.places[i] = w.placeAt(c.stations[i].site)
		c.spread[i], c.shift[i] = matrixOf(c.places[i], spreadBy), matrixOf(c.places[i], shiftBy)
	})
	for i := range c.records {
		c.recordSpread = append(c.recordSpread, matrixOf(c.records[i].place, spreadBy))
		c.recordShift = append(c.recordShift, matrixOf(c.records[i].place, shiftBy))
	}
	for _, s := range simple {
		c.plain(t, s.of, s.by, s.from)
	}
	return c
}

func (c *calibration) every() []int {
	all := make([]int, len(c.stations))
	for i := range all {
		all[i] = i
	}
	return all
}

// plain fits one quantity to the records.
func (c *calibration) plain(t testing.TB, of quantity, by string, from func(*fitted, int) float64) {
	e := newEquations(len(strings.Fields(by)))
	e.lean(0.5)
	var n, sum, squares float64
	each := func(visit func(x []float64, y float64)) {
		for i := range c.records {
			x := matrixOf(c.records[i].place, by)
			for m := range 12 {
				if y := from(&c.records[i], m); !math.IsNaN(y) && !math.IsInf(y, 0) {
					visit(x[m], y)
				}
			}
		}
	}
	each(func(x []float64, y float64) { e.add(x, y, 1); n++; sum += y; squares += y * y })
	b := e.solve()
	c.simple[of] = b
	for i, name := range strings.Fields(by) {
		c.daily[of] = append(c.daily[of], term{name, predictors[name], b[i]})
	}
	rest := 0.0
	each(func(x []float64, y float64) { rest += (y - dot(x, b)) * (y - dot(x, b)) })
	t.Logf("%-18s n %3.0f mean %7.3f sd %.3f left %.3f: %s %.3f", of, n, sum/n, math.Sqrt(squares/n-sum*sum/n/n), math.Sqrt(rest/n), by, b)
}

// minima are a station's under a model.
func (c *calibration) minima(m *model, i int) (x minima) {
	p := c.places[i]
	for k := range 12 {
		x.mean[k] = p.year[tmin][k] + clampTo(tminShift, dot(m.shift, c.shift[i][k]))
		x.spread[k] = math.Exp(clampTo(tminSpread, dot(m.spread, c.spread[i][k])))
		x.lag1[k] = c.daily.at(tminLag1, p, k)
	}
	x.slow = c.daily.overYear(slowTmin, p)
	return x
}

func clampTo(q quantity, x float64) float64 { return min(bounds[q][1], max(bounds[q][0], x)) }

func (c *calibration) dates(m model, of []int) []freezes {
	out := make([]freezes, len(of))
	inParallel(len(of), func(k int) { out[k] = c.minima(&m, of[k]).freezes() })
	return out
}

// errors are what the fit makes small: the middle dates, and the spreads at
// somewhat less weight.
func (got freezes) errors(want freezes) [4]float64 {
	return [4]float64{
		got.last50 - want.last50, got.first50 - want.first50,
		0.7 * ((got.last90 - got.last50) - (want.last90 - want.last50)),
		0.7 * ((got.first90 - got.first50) - (want.first90 - want.first50)),
	}
}

// fit is a Gauss–Newton search with Huber's weights over spread and shift, on
// from the coefficients that there are; from the records alone it wants some 15
// rounds.
func (c *calibration) fit(of []int, rounds int) model {
	m := model{c.simple, builtIn(tminSpread, spreadBy), builtIn(tminShift, shiftBy)}
	if *afresh {
		m.spread, m.shift = c.recordFit(), make([]float64, len(m.shift))
		m.shift[0] = warming[0]
	}
	for range rounds {
		c.step(&m, of)
	}
	return m
}

// builtIn are the coefficients that there are, 0 for new ones.
func builtIn(of quantity, by string) (values []float64) {
	there, _ := builtInModel()
	for _, name := range strings.Fields(by) {
		value := 0.0
		for _, t := range there[of] {
			if t.name == name {
				value = t.by
			}
		}
		values = append(values, value)
	}
	return values
}

// recordFit starts from the records alone.
func (c *calibration) recordFit() []float64 {
	e := newEquations(len(strings.Fields(spreadBy)))
	e.lean(0.5)
	for i, x := range c.recordSpread {
		for k := range 12 {
			e.add(x[k], math.Log(c.records[i].spread[0][k]), 1)
		}
	}
	return e.solve()
}

// tells are how a station's errors change with the mean (per °C) and the
// logarithm of the spread of each month.
type tells [2][12][4]float64

func (c *calibration) tells(m *model, i int) (now [4]float64, by tells) {
	const step = 0.4 // °C, and a quarter of it for the logarithm
	want := c.stations[i].want
	x := c.minima(m, i)
	f := x.freezes()
	now = f.errors(want)
	for k := range 12 {
		if x.mean[k] > 22 || (x.mean[k] < -14 && x.mean[(k+1)%12] < -14 && x.mean[(k+11)%12] < -14) {
			continue // never freezes, or always
		}
		for part := range 2 {
			up, down := x, x
			if part == 0 {
				up.mean[k] += step
				down.mean[k] -= step
			} else {
				up.spread[k] *= math.Exp(step / 4)
				down.spread[k] *= math.Exp(-step / 4)
			}
			high := up.freezes()
			low := down.freezes()
			a, b := high.errors(want), low.errors(want)
			for q := range 4 {
				by[part][k][q] = (a[q] - b[q]) / (2 * step)
				if part == 1 {
					by[part][k][q] *= 4
				}
			}
		}
	}
	return now, by
}

func (c *calibration) step(m *model, of []int) {
	nSpread := len(m.spread)
	n := nSpread + len(m.shift)
	now, by := make([][4]float64, len(of)), make([]tells, len(of))
	inParallel(len(of), func(k int) { now[k], by[k] = c.tells(m, of[k]) })
	e := newEquations(n)
	e.lean(3)
	x := make([]float64, n)
	for k, i := range of {
		for q, off := range now[k] {
			clear(x)
			for month := range 12 {
				for j, v := range c.spread[i][month] {
					x[j] += by[k][1][month][q] * v
				}
				for j, v := range c.shift[i][month] {
					x[nSpread+j] += by[k][0][month][q] * v
				}
			}
			e.add(x, -off, 1/max(1, math.Abs(off)/dateScale)/(dateScale*dateScale))
		}
	}
	for i, r := range c.recordSpread {
		for k := range 12 {
			clear(x)
			copy(x, r[k])
			e.add(x, math.Log(c.records[i].spread[0][k])-dot(m.spread, r[k]), recordLoad/(spreadScale*spreadScale))
		}
	}
	for i, r := range c.recordShift {
		for k := range 12 {
			clear(x)
			copy(x[nSpread:], r[k])
			south := southernWarming * predictors["south"](c.records[i].place, k)
			off := c.records[i].n.Months[k].TminC - south - c.records[i].place.year[tmin][k] - dot(m.shift, r[k])
			e.add(x, off, meanLoad/max(1, math.Abs(off)))
		}
	}
	for j, s := range m.spread[1:] { // small coefficients carry better to places unlike all fitted to
		clear(x)
		x[1+j] = 1
		e.add(x, -s, coefficientLoad)
	}
	for j, s := range m.shift { // and so do shifts that are the warming and little else
		clear(x)
		x[nSpread+j] = 1
		usual := 0.0
		if j == 0 {
			usual = warming[0]
		}
		e.add(x, usual-s, shiftLoad)
	}
	for j, by := range e.solve() {
		by = 0.9 * bound(by, 0.6)
		if j < nSpread {
			m.spread[j] += by
		} else {
			m.shift[j-nSpread] += by
		}
	}
}
