package soil

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"haulm/internal/calendar"
	"haulm/internal/sun"
	"haulm/internal/weather"
)

// uccle is FAO-56 Example 18, part by part: 50.8 N, 100 m, 6 July.
func uccle(t *testing.T) map[string]float64 {
	t.Helper()
	ra := sun.ExtraterrestrialMJ(50.8, 187)
	ea := VapourFromHumiditiesKPa(12.3, 21.5, 63, 84)
	rs := SolarFromSunshineMJ(9.25, sun.DayLengthH(50.8, 187), ra)
	rns, rnl := NetShortwaveMJ(rs), NetLongwaveMJ(12.3, 21.5, ea, rs, ClearSkyMJ(100, ra))
	return map[string]float64{
		"ra": ra, "ea": ea, "rs": rs, "rns": rns, "rnl": rnl, "rn": NetRadiationMJ(rns, rnl), "rso": ClearSkyMJ(100, ra),
		"es": MeanSaturationKPa(12.3, 21.5), "delta": SaturationSlopeKPa(16.9), "gamma": PsychrometricKPa(PressureKPa(100)),
	}
}

// FAO-56 Example 18; the parts and 3.9 mm seen in the pyet and PyETo tests.
func TestReferenceET_FAO56_Example18(t *testing.T) {
	for part, want := range map[string]struct{ value, allowed float64 }{
		"ra": {41.09, 0.005}, "rso": {30.90, 0.005}, "rs": {22.07, 0.01}, "rns": {17.0, 0.05}, "rnl": {3.71, 0.005}, "rn": {13.28, 0.005},
		"es": {1.997, 0.001}, "ea": {1.409, 0.0005}, "delta": {0.122, 0.0005}, "gamma": {0.0666, 0.0001},
	} {
		check(t, "Example 18, "+part, uccle(t)[part], want.value, want.allowed)
	}
	d := Unmeasured(187)
	d.MinC, d.MaxC, d.HumidMinPC, d.HumidMaxPC = 12.3, 21.5, 63, 84
	d.SunshineH, d.WindMS = 9.25, weather.WindAt2M(2.78, 10)
	mm, method := referenceOn(d, Setting{LatDeg: 50.8, ElevM: 100})
	check(t, "Example 18", mm, 3.88, 0.005)
	if method != PenmanMonteith {
		t.Errorf("method %q", method)
	}
}

// FAO-56 Example 17, Bangkok in April: a monthly mean with heat going into the
// ground; 5.72 mm seen in the PyETo tests.
func TestReferenceET_FAO56_Example17(t *testing.T) {
	d := Unmeasured(105)
	d.MinC, d.MaxC, d.SunshineH, d.WindMS = 25.6, 34.8, 8.5, 2
	d.DewC = 23.16 // 2.85 kPa
	check(t, "Example 17, vapour pressure", d.vapourKPa(), 2.85, 0.015)
	d.DewC = dewOf(2.85)
	d.GroundStoreMJ = 0.14 * (30.2 - 29.2) // eq 44, by the months' means
	mm, _ := referenceOn(d, Setting{LatDeg: 13.7333, ElevM: 2})
	check(t, "Example 17", mm, 5.72, 0.01)
}

// dewOf turns eq 11 round.
func dewOf(vapourKPa float64) float64 {
	l := math.Log(vapourKPa / 0.6108)
	return 237.3 * l / (17.27 - l)
}

// FAO-56 Example 20, Lyon in July from temperature alone: both ways. 4.56 is
// from memory, 1.68 kPa and 5.0 mm seen in the PyETo and pyet tests.
func TestReferenceET_FAO56_Example20(t *testing.T) {
	d := Unmeasured(196)
	d.MinC, d.MaxC = 14.8, 26.6
	s := Setting{LatDeg: 45.7167, ElevM: 200}
	check(t, "Example 20, vapour pressure", d.vapourKPa(), 1.68, 0.005)
	check(t, "Example 20, Penman–Monteith", penmanMonteithOn(d, s), 4.56, 0.005)
	mm, method := referenceOn(d, s)
	check(t, "Example 20, Hargreaves", mm, 5.0, 0.05)
	if method != Hargreaves {
		t.Errorf("method %q", method)
	}
}

func TestReferenceET_ChoosesByWhatIsMeasured(t *testing.T) {
	s := Setting{LatDeg: 52, ElevM: 20}
	full := DayWeather{YearDay: 180, MinC: 11, MaxC: 22, SolarMJ: 20, HumidMeanPC: 70, WindMS: 2.5}
	nan := math.NaN()
	full.SunshineH, full.DewC, full.HumidMinPC, full.HumidMaxPC = nan, nan, nan, nan
	for _, tc := range []struct {
		name   string
		lose   func(*DayWeather)
		method Method
	}{
		{"all measured", func(*DayWeather) {}, PenmanMonteith},
		{"no wind", func(d *DayWeather) { d.WindMS = nan }, PenmanStandIn},
		{"no humidity", func(d *DayWeather) { d.HumidMeanPC = nan }, PenmanStandIn},
		{"radiation alone", func(d *DayWeather) { d.HumidMeanPC, d.WindMS = nan, nan }, PenmanStandIn},
		{"no radiation", func(d *DayWeather) { d.SolarMJ = nan }, PenmanStandIn},
		{"wind alone", func(d *DayWeather) { d.SolarMJ, d.HumidMeanPC = nan, nan }, Hargreaves},
		{"temperature alone", func(d *DayWeather) { d.SolarMJ, d.HumidMeanPC, d.WindMS = nan, nan, nan }, Hargreaves},
		{"no maximum", func(d *DayWeather) { d.MaxC = nan }, NoMethod},
		{"min above max", func(d *DayWeather) { d.MinC = 23 }, NoMethod},
	} {
		d := full
		tc.lose(&d)
		mm, method := referenceOn(d, s)
		if method != tc.method {
			t.Errorf("%s: method %q, want %q", tc.name, method, tc.method)
		}
		if (method == NoMethod) != math.IsNaN(mm) || method != NoMethod && math.Abs(mm-4) > 1.2 {
			t.Errorf("%s: %g mm", tc.name, mm)
		}
	}
}

func TestReferenceET_PropertiesEverywhere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := Unmeasured(rapid.IntRange(1, 366).Draw(t, "day"))
		d.MinC = rapid.Float64Range(-50, 35).Draw(t, "min")
		d.MaxC = d.MinC + rapid.Float64Range(0, 25).Draw(t, "range")
		s := Setting{LatDeg: rapid.Float64Range(-85, 85).Draw(t, "lat"), ElevM: rapid.Float64Range(-100, 4500).Draw(t, "elev")}
		if rapid.Bool().Draw(t, "measured") {
			d.SolarMJ = rapid.Float64Range(0, 1).Draw(t, "clear") * ClearSkyMJ(s.ElevM, sun.ExtraterrestrialMJ(s.LatDeg, d.YearDay))
			d.HumidMeanPC = rapid.Float64Range(5, 100).Draw(t, "humidity")
			d.WindMS = rapid.Float64Range(0, 12).Draw(t, "wind")
		}
		mm, method := referenceOn(d, s)
		if method == NoMethod || !(mm >= 0 && mm < 40) {
			t.Fatalf("%g mm by %q", mm, method)
		}
	})
}

// record makes n days of weather with a season and changeable days.
func record(n int) *weather.Record {
	r := &weather.Record{Site: weather.Site{LatDeg: 52.1, LonDeg: 5.2, ElevM: 2}, Start: calendar.On(1991, 3, 1)}
	for i := range n {
		mean := 10 + 8*math.Sin(2*math.Pi*float64(r.Start.Add(i).YearDay()-110)/365) + 3*math.Sin(float64(i))
		r.TminC = append(r.TminC, mean-4-math.Cos(float64(i)))
		r.TmaxC = append(r.TmaxC, mean+4+math.Cos(float64(i)))
		r.RainMM = append(r.RainMM, 0)
	}
	return r
}

// Daily steps its own calendar; it must agree with asking day by day, across
// leap years and a record that starts in March.
func TestDaily_AgreesWithSingleDays(t *testing.T) {
	r := record(1500)
	r.TminC[77] = math.NaN()
	r.SunMJ = make([]float64, r.Days())
	for i := range r.SunMJ {
		r.SunMJ[i] = math.NaN()
	}
	r.SunMJ[200] = 12
	got := Daily(r)
	for i, mm := range got {
		d := Unmeasured(r.Start.Add(i).YearDay())
		d.MinC, d.MaxC, d.SolarMJ = r.TminC[i], r.TmaxC[i], r.SunMJ[i]
		want, _ := referenceOn(d, SettingOf(r))
		if mm != want && !(math.IsNaN(mm) && i == 77) {
			t.Fatalf("%s: %g, by itself %g", r.Start.Add(i), mm, want)
		}
	}
}

func BenchmarkDaily_30Years(b *testing.B) {
	r := record(30 * 365)
	for b.Loop() {
		Daily(r)
	}
}

func BenchmarkDaily_30Years_AllMeasured(b *testing.B) {
	r := record(30 * 365)
	for range r.Days() {
		r.SunMJ, r.HumidityPC, r.WindMS = append(r.SunMJ, 15), append(r.HumidityPC, 75), append(r.WindMS, 3)
	}
	for b.Loop() {
		Daily(r)
	}
}
