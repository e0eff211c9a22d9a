package climatology

import (
	_ "embed"
	"encoding/csv"
	"math"
	"slices"
	"strings"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/normals"
	"haulm/internal/weather"
)

// The goals: errors of the 50 % dates in days, and how far a spread may be off.
const (
	goalMedian, goalP90, goalBias = 4.0, 14.0, 1.0
	goalSpread                    = 0.25
)

// bar is what a group of stations reached, with a little room: half a day in
// the median, a day at 90 % and in the bias, and 5 stations of 100.
type bar struct {
	group, half       string
	median, p90, bias float64
	beyondQuarter     float64 // share of stations whose spread is more than 25 % off
}

// TestFreezeDates_NCEI1981to2010: last and first 32 °F freeze of the U.S.
// Climate Normals (NCEI, 1981–2010; prblst and prbfst at 50 and 90 %), at
// stations that the regional shifts had not seen: they are made anew without
// each tenth of the stations in turn. The regressions have some eighty
// coefficients fitted to all 2,778; in regions of 3° left out they do about as
// well (TestCalibrate, docs).
func TestFreezeDates_NCEI1981to2010(t *testing.T) {
	stations, got, placeOf := judged(t)
	if len(stations) < 2700 {
		t.Fatalf("only %d stations", len(stations))
	}
	t.Logf("stations left out:\n%s", tableOf(stations, got, placeOf))
	for _, c := range reached {
		for _, g := range groups(placeOf) {
			for _, h := range halves {
				if g.name == c.group && h.name == c.half {
					c.hold(t, scoreOf(h, stations, got, g.in))
				}
			}
		}
	}
}

func (c bar) hold(t *testing.T, s score) {
	t.Helper()
	if s.n == 0 {
		t.Errorf("%s, %s: no stations", c.group, c.half)
	}
	if s.median > c.median || s.p90 > c.p90 || math.Abs(s.bias) > c.bias {
		t.Errorf("%s, %s: median %.2f (bar %.1f, goal %.0f), 90 %% %.2f (%.1f, %.0f), bias %+.2f (±%.1f, ±%.0f)",
			c.group, c.half, s.median, c.median, goalMedian, s.p90, c.p90, goalP90, s.bias, c.bias, goalBias)
	}
	if math.Abs(s.spread-1) > goalSpread || s.spreadBad > c.beyondQuarter {
		t.Errorf("%s, %s: the spread is ×%.2f in the median (goal ±%.2f), and further off than that at %.0f %% of the stations (bar %.0f %%)",
			c.group, c.half, s.spread, goalSpread, 100*s.spreadBad, 100*c.beyondQuarter)
	}
}

// judgedOnce keeps what judged found: more than one test asks for it.
var judgedOnce struct {
	stations []freezeStation
	got      []freezes
	placeOf  func(s freezeStation) *place
}

// judged are the stations with their estimated dates, each left out.
func judged(t testing.TB) ([]freezeStation, []freezes, func(s freezeStation) *place) {
	t.Helper()
	j := &judgedOnce
	if j.stations == nil {
		j.stations = readFreezes(t)
		j.got, j.placeOf = leftOut(load(t), j.stations)
	}
	return j.stations, j.got, j.placeOf
}

// leftOut are dates with regional shifts that did not see the station.
func leftOut(w *World, stations []freezeStation) (got []freezes, placeOf func(s freezeStation) *place) {
	const folds = 10
	bare := *w
	bare.regions = nil
	n := len(stations)
	own, places := make([]minima, n), make([]*place, n)
	inParallel(n, func(i int) {
		years, _ := bare.Normals(stations[i].site)
		places[i] = bare.placeAt(stations[i].site)
		own[i] = minimaOf(years)
	})
	survey := newSurveyor(stations, own, places)
	type corner struct {
		fold int
		key  [2]int
	}
	drawn := map[corner]region{}
	for i, s := range stations {
		fold := foldOf(s, folds, false)
		there := regions{}
		eachCorner(s.site.LatDeg, s.site.LonDeg, func(key [2]int, _ float64) {
			c := corner{fold, key}
			if _, done := drawn[c]; !done {
				drawn[c] = survey.box(key, func(j int) bool { return foldOf(stations[j], folds, false) == fold })
			}
			there[key] = drawn[c]
		})
		places[i].region = there.at(s.site.LatDeg, s.site.LonDeg)
	}
	got = make([]freezes, n)
	inParallel(n, func(i int) { got[i] = own[i].in(places[i]).freezes() })
	at := map[string]*place{}
	for i, s := range stations {
		at[s.id] = places[i]
	}
	return got, func(s freezeStation) *place { return at[s.id] }
}

// in are the minima with the shifts of a place's region.
func (m minima) in(p *place) minima {
	for k := range 12 {
		m.mean[k] += p.regionShift(k)
		m.spread[k] *= math.Exp(p.regionSpread(k))
	}
	return m
}

// slope is how many days the middle dates move when the region is 1 °C warmer,
// and when the logarithm of its spread is 1 greater.
type slope struct{ perDegC, perLog [2]float64 }

func (m minima) slopes(p *place) (s slope) {
	with := func(c, log float64) minima {
		moved := *p
		moved.region = region{c, c, log, log}
		return m.in(&moved)
	}
	s.perDegC = apartBy(with(0.75, 0), with(-0.75, 0), 1.5)
	s.perLog = apartBy(with(0, 0.1), with(0, -0.1), 0.2)
	return s
}

func apartBy(a, b minima, step float64) (per [2]float64) {
	x := a.freezes()
	y := b.freezes()
	for h, half := range halves {
		per[h] = (half.mid(x) - half.mid(y)) / step
	}
	return per
}

// recordFreezes reads the dates from a record, winter by winter.
func recordFreezes(rec *weather.Record) freezes {
	var firsts, lasts []float64
	for y := rec.Start.Year(); y < rec.End().Year()-1; y++ {
		start := calendar.On(y, 8, 1)
		first, last := -1, -1
		for d := range 365 {
			i, ok := rec.Index(start.Add(d))
			if ok && rec.TminC[i] <= 0 {
				if first < 0 {
					first = d
				}
				last = d
			}
		}
		if first >= 0 {
			firsts, lasts = append(firsts, float64(first)), append(lasts, float64(last))
		}
	}
	return datesOf(firsts, lasts)
}

var crossingSites = []weather.Site{
	ithaca, {LatDeg: 33.3, LonDeg: -84.3, ElevM: 299}, {LatDeg: 45, LonDeg: -93.2, ElevM: 260}, {LatDeg: 39.7, LonDeg: -105, ElevM: 1600},
	{LatDeg: 30.3, LonDeg: -97.7, ElevM: 150}, {LatDeg: 38.6, LonDeg: -121.5, ElevM: 8}, {LatDeg: 47.6, LonDeg: -122.3, ElevM: 50},
	{LatDeg: 51.5, LonDeg: -0.4, ElevM: 25}, {LatDeg: 52.1, LonDeg: 5.2, ElevM: 2}, {LatDeg: 55.75, LonDeg: 37.6, ElevM: 150},
	{LatDeg: 41.4, LonDeg: 2.2, ElevM: 20}, {LatDeg: 35.7, LonDeg: 139.7, ElevM: 40},
}

// TestCrossing: the fast way to freeze dates agrees with long runs of the
// generator itself.
func TestCrossing(t *testing.T) {
	w := load(t)
	var off [2][]float64
	var bias [2]float64
	sites := crossingSites
	for i, site := range sites {
		n, _ := w.Normals(site)
		fast := minimaOf(n).freezes()
		long := recordFreezes(normals.Generate(n, site, 400, 1601, uint64(i)))
		for h, half := range halves {
			x := half.mid(fast) - half.mid(long)
			off[h] = append(off[h], math.Abs(x))
			bias[h] += x / float64(len(sites))
		}
		t.Logf("%v: fast %.1f, 400 years %.1f", site, fast, long)
	}
	for h, half := range halves {
		slices.Sort(off[h])
		// A median of 100 winters and of 400, each with a spread of some 12
		// days, differ by 1.7 days (one standard error).
		if quantile(off[h], 0.9) > 4 || math.Abs(bias[h]) > 1.5 {
			t.Errorf("%s: the fast way is off by %.1f days in the mean, %.1f at 90 %%", half.name, bias[h], quantile(off[h], 0.9))
		}
	}
}

// TestThirtyYears: the 30 years that a person gets say the same as a long run
// would, and choosing them helps.
func TestThirtyYears(t *testing.T) {
	w := load(t)
	var chosen, first []float64
	for i := range 25 {
		site := weather.Site{LatDeg: 32 + 0.6*float64(i), LonDeg: -95 + 0.7*float64(i%7), ElevM: 200}
		n, _ := w.Normals(site)
		long := recordFreezes(normals.Generate(n, site, 300, 1601, 99))
		with, without := recordFreezes(w.Estimate(site, 30, 1981)), recordFreezes(normals.Generate(n, site, 30, 1981, seed(site)))
		for _, h := range halves {
			chosen = append(chosen, math.Abs(h.mid(with)-h.mid(long)))
			first = append(first, math.Abs(h.mid(without)-h.mid(long)))
		}
	}
	slices.Sort(chosen)
	slices.Sort(first)
	t.Logf("30 chosen years are off a long run by %.1f days (median), %.1f (90 %%); a single draw by %.1f and %.1f",
		quantile(chosen, 0.5), quantile(chosen, 0.9), quantile(first, 0.5), quantile(first, 0.9))
	// The long run's own middle is known to about a day.
	if quantile(chosen, 0.5) > 2 || quantile(chosen, 0.9) > 4 || quantile(chosen, 0.5) > quantile(first, 0.5) {
		t.Error("the chosen years stray from the long run")
	}
}

//go:embed testdata/ncei_sample.csv
var nceiSample string

// TestFreezeDates_Sample holds the estimate against a small sample of the same
// NCEI figures that comes with the tests: 40 stations drawn without regard to
// how they come out.
func TestFreezeDates_Sample(t *testing.T) {
	w := load(t)
	table := csv.NewReader(strings.NewReader(nceiSample))
	table.Comment = '#'
	rows, err := table.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var stations []freezeStation
	var got []freezes
	for _, r := range rows[1:] {
		day := func(i int) float64 {
			month, date, _ := strings.Cut(r[i], "/")
			return float64(seasonDay(number(t, month), number(t, date)))
		}
		s := freezeStation{id: r[0], site: weather.Site{LatDeg: number(t, r[1]), LonDeg: number(t, r[2]), ElevM: number(t, r[3])},
			want: freezes{day(4), day(5), day(6), day(7)}}
		stations = append(stations, s)
		got = append(got, recordFreezes(w.Estimate(s.site, 30, 1981)))
	}
	for _, h := range halves {
		s := scoreOf(h, stations, got, func(freezeStation) bool { return true })
		t.Logf("%s: median %.1f days, 90 %% %.1f, bias %+.1f, spread ×%.2f", h.name, s.median, s.p90, s.bias, s.spread)
		if s.median > 7 || s.p90 > 22 || math.Abs(s.bias) > 4 {
			t.Errorf("%s: median %.1f days, 90 %% %.1f, bias %+.1f of %d stations", h.name, s.median, s.p90, s.bias, s.n)
		}
	}
}
