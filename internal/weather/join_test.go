package weather

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/graded"
)

// station is ten made-up years with clear and dull days; garden is the same
// place colder by the month's offset, with noise of its own.
func stationAndGarden(rng *rand.Rand, low func(d calendar.Date, clear float64) float64, high, noise float64, from calendar.Date, days int) (station, garden *Record) {
	start := calendar.On(2010, 1, 1)
	n := int(calendar.On(2020, 1, 1) - start)
	station = &Record{Name: "Station", Source: "service", Site: Site{50, 5, 10}, Start: start, TminC: MissingDays(n), TmaxC: MissingDays(n), RainMM: MissingDays(n)}
	garden = &Record{Name: "Garden", Source: "own", Start: from, TminC: MissingDays(days), TmaxC: MissingDays(days), RainMM: MissingDays(days)}
	for i := range n {
		d := start.Add(i)
		clear := rng.Float64()
		mid := seasonal(d)
		station.TminC[i], station.TmaxC[i], station.RainMM[i] = mid-2-6*clear, mid+2+6*clear, 1
		if j, ok := garden.Index(d); ok {
			garden.TminC[j] = station.TminC[i] + low(d, clear) + noise*rng.NormFloat64()
			garden.TmaxC[j] = station.TmaxC[i] + high + noise*rng.NormFloat64()
		}
	}
	return station, garden
}

// TestJoinFindsTheOffset: two years of an own thermometer, colder by 1 °C in
// winter and 2 °C in summer nights.
func TestJoinFindsTheOffset(t *testing.T) {
	low := func(d calendar.Date, _ float64) float64 {
		if m := d.Month(); m >= 5 && m <= 9 {
			return -2
		}
		return -1
	}
	rng := rand.New(rand.NewPCG(1, 2))
	station, garden := stationAndGarden(rng, low, 0.5, 1, calendar.On(2018, 1, 1), 730)
	f, err := FitJoin(garden, station, Priors())
	if err != nil {
		t.Fatal(err)
	}
	for m, o := range f.Tmin {
		want := low(calendar.On(2018, 1, 1).Add(m*31), 0)
		if math.Abs(o.C-want) > 3*o.Error || o.Error > 0.25 || o.Days < 56 {
			t.Errorf("month %d: %+v, want %v", m+1, o, want)
		}
		if x := f.Tmax[m]; math.Abs(x.C-0.5) > 3*x.Error {
			t.Errorf("month %d: %+v", m+1, x)
		}
	}
	joined, err := Join(garden, station, f)
	if err != nil {
		t.Fatal(err)
	}
	if joined.Start != station.Start || joined.Days() != station.Days() || joined.Name != "Garden" || !strings.Contains(joined.Source, "shifted by") {
		t.Errorf("%+v", joined.Source)
	}
	// Before the garden's own days, the station's shifted; on them, its own.
	if got := joined.TminC[0]; math.Abs(got-(station.TminC[0]+f.Tmin[0].C)) > 0.006 {
		t.Errorf("first day %v from %v", got, station.TminC[0])
	}
	j, _ := joined.Index(garden.Start)
	if joined.TminC[j] != garden.TminC[0] || joined.RainMM[j] != 1 {
		t.Errorf("the garden's first day is %v, rain %v", joined.TminC[j], joined.RainMM[j])
	}
	for i := range joined.TminC {
		if joined.TminC[i] > joined.TmaxC[i] {
			t.Fatalf("day %d upside down", i)
		}
	}
}

// TestJoinErrorsAreHonest: over many gardens the offset lies within one
// standard error two times in three, also in months never measured.
func TestJoinErrorsAreHonest(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	priors := Priors()
	var measured, unmeasured, inMeasured, inUnmeasured float64
	for range 60 {
		year := priors.YearSDC * rng.NormFloat64()
		var months [12]float64
		for m := range months {
			months[m] = year + priors.MonthSDC*rng.NormFloat64()
		}
		station, garden := stationAndGarden(rng, func(d calendar.Date, _ float64) float64 { return months[monthOf(d)] }, 0, 1.2, calendar.On(2018, 4, 10), 70)
		f, err := FitJoin(garden, station, priors)
		if err != nil {
			t.Fatal(err)
		}
		for m, o := range f.Tmin {
			within := 0.0
			if math.Abs(o.C-months[m]) < o.Error {
				within = 1
			}
			if o.Days > 0 {
				measured++
				inMeasured += within
			} else {
				unmeasured++
				inUnmeasured += within
			}
		}
	}
	// 0.683 of a normal; 180 and 540 draws, the latter in 60 groups: three
	// standard errors are 0.10 and 0.12.
	if share := inMeasured / measured; math.Abs(share-0.683) > 0.11 {
		t.Errorf("measured months: %.2f within one standard error", share)
	}
	if share := inUnmeasured / unmeasured; math.Abs(share-0.683) > 0.12 {
		t.Errorf("months not measured: %.2f within one standard error", share)
	}
}

func TestJoinRefuses(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	station, garden := stationAndGarden(rng, func(calendar.Date, float64) float64 { return 0 }, 0, 1, calendar.On(2018, 1, 1), 10)
	if _, err := FitJoin(garden, station, Priors()); err == nil || !strings.Contains(err.Error(), "share 10 days") {
		t.Errorf("%v", err)
	}
	if _, err := Join(&Record{}, station, &JoinFit{}); err == nil {
		t.Error("no error for an empty record")
	}
}

// TestThreeNights: a garden 3 °C colder on clear nights and no colder on dull
// ones. Three clear nights move the offset most of the way, dull nights hardly.
func TestThreeNights(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	station, garden := stationAndGarden(rng, func(_ calendar.Date, clear float64) float64 { return -3 * min(max((clear-0.3)/0.4, 0), 1) }, 0, 0.3, calendar.On(2019, 3, 1), 60)
	clarity := ClearNights(station, Priors())
	pick := func(clear bool, n int) (nights []Night) {
		for i := range garden.Days() {
			d := garden.Start.Add(i)
			j, _ := station.Index(d)
			if c := clarity[j]; len(nights) < n && (clear && c >= 1 || !clear && c <= 0) {
				nights = append(nights, Night{d, garden.TminC[i]})
			}
		}
		return nights
	}
	open, err := FindMicroPlace("open")
	if err != nil {
		t.Fatal(err)
	}
	vague := Offset{C: 0, Error: 2}
	fit := func(nights []Night, before Offset) *NightFit {
		f, err := FitNights(nights, station, before, Priors())
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	clear := fit(pick(true, 3), vague)
	if clear.Days != 3 || clear.C > -1.8 || clear.C < -3.3 || clear.Error > 1 || clear.Error >= vague.Error {
		t.Errorf("three clear nights: %+v", clear.Offset)
	}
	if dull := fit(pick(false, 3), vague); math.Abs(dull.C) > 0.3 || dull.Error < 1.8 {
		t.Errorf("three dull nights: %+v", dull.Offset)
	}
	if firm := fit(pick(true, 3), open.ClearTmin); firm.C < clear.C || firm.C >= 0 {
		t.Errorf("a firmer prior gives way more: %+v than %+v", firm.Offset, clear.Offset)
	}
	if many := fit(pick(true, 15), vague); many.Error >= clear.Error || math.Abs(many.C+3) > 0.8 {
		t.Errorf("fifteen clear nights: %+v", many.Offset)
	}
	for name, nights := range map[string][]Night{
		"no night":      nil,
		"cannot both":   {{garden.Start, 40}},
		"on any of the": {{calendar.On(2025, 1, 1), 0}},
	} {
		if _, err := FitNights(nights, station, vague, Priors()); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestShiftNights: clear nights move whole, dull ones not, and nothing turns
// upside down.
func TestShiftNights(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	station, _ := stationAndGarden(rng, func(calendar.Date, float64) float64 { return 0 }, 0, 1, calendar.On(2018, 1, 1), 20)
	clarity := ClearNights(station, Priors())
	for _, by := range []float64{-3, 2, 12} {
		out := ShiftNights(station, by, -1, Priors(), "a hollow")
		for i := range out.TminC {
			if out.TminC[i] > out.TmaxC[i] {
				t.Fatalf("%+g: day %d upside down", by, i)
			}
			want := math.Min(station.TminC[i]+clarity[i]*by, station.TmaxC[i]-1)
			if math.Abs(out.TminC[i]-want) > 0.006 {
				t.Fatalf("%+g: day %d is %v, want %v", by, i, out.TminC[i], want)
			}
		}
	}
	if station.TminC[0] == ShiftNights(station, -3, 0, Priors(), "").TminC[0] && clarity[0] > 0.1 {
		t.Error("nothing was shifted")
	}
}

// TestJoinTables reads every row of the two tables.
func TestJoinTables(t *testing.T) {
	grades := map[string]bool{"S": true, "SM": true, "D": true, "M": true, "P": true, "E": true}
	for _, p := range MicroPlaces() {
		if p.Name == "" || p.Is == "" || p.Source == "" || !grades[p.Grade] || !(p.ClearTmin.Error > 0) || math.Abs(p.ClearTmin.C) > 5 || math.Abs(p.TmaxC) > 3 {
			t.Errorf("%+v", p)
		}
	}
	for _, row := range graded.MustRows("priors", joinPriorTable) {
		if cells := row.Cells; len(cells) != 5 || !grades[cells[3]] || cells[2] == "" || cells[4] == "" {
			t.Errorf("%v", cells)
		}
	}
	if p := Priors(); !(p.YearSDC > 0 && p.MonthSDC > 0 && p.NightSDC > 0 && p.ClearLow > 0 && p.ClearLow < p.ClearHigh && p.ClearHigh < 1) {
		t.Errorf("%+v", p)
	}
	if _, err := FindMicroPlace("swamp"); err == nil || !strings.Contains(err.Error(), "frost_pocket") {
		t.Errorf("%v", err)
	}
}
