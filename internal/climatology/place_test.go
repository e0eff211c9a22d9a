package climatology

import (
	"bytes"
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"haulm/internal/calendar"
	"haulm/internal/normals"
	"haulm/internal/readings"
	"haulm/internal/weather"
)

// yearOf is the mean of a record's days by month.
func yearOf(rec *weather.Record, days []float64) (mean year) {
	var n year
	for i, x := range days {
		m := rec.Start.Add(i).Month() - 1
		mean[m] += x
		n[m]++
	}
	for m := range mean {
		mean[m] /= n[m]
	}
	return mean
}

func frostsAYear(rec *weather.Record) float64 {
	frosts := 0.0
	for _, x := range rec.TminC {
		if x <= 0 {
			frosts++
		}
	}
	return frosts / (float64(rec.Days()) / 365.25)
}

// TestKnownClimates: what everyone knows of a few places, from sea level to the
// mountains and from pole to pole (from memory, with wide room). Quito comes out
// some 3 °C too warm: the boxes around lie 700 m above it, and the climatology's
// own idea of their height is not known.
func TestKnownClimates(t *testing.T) {
	w := load(t)
	missed := map[string]bool{}
	for _, c := range []struct {
		name            string
		site            weather.Site
		frosts          [2]float64 // nights of frost a year
		janC, julC      [2]float64 // mean of day and night
		rainMM          [2]float64 // a year
		driest, wettest time.Month // 0: no matter
	}{
		{"Singapore", weather.Site{LatDeg: 1.35, LonDeg: 103.8, ElevM: 15}, [2]float64{0, 0}, [2]float64{25, 28}, [2]float64{26, 29.5}, [2]float64{1900, 2900}, 0, 0},
		{"Quito", weather.Site{LatDeg: -0.2, LonDeg: -78.5, ElevM: 2810}, [2]float64{0, 20}, [2]float64{11, 18.5}, [2]float64{11, 18.5}, [2]float64{700, 1700}, 0, 0},
		{"Cairo", weather.Site{LatDeg: 30.1, LonDeg: 31.4, ElevM: 60}, [2]float64{0, 3}, [2]float64{11, 16}, [2]float64{26, 31}, [2]float64{5, 60}, 0, 0},
		{"Christchurch", weather.Site{LatDeg: -43.5, LonDeg: 172.6, ElevM: 10}, [2]float64{15, 90}, [2]float64{15, 19.5}, [2]float64{4, 8}, [2]float64{500, 900}, 0, 0},
		{"Utqiagvik", weather.Site{LatDeg: 71.29, LonDeg: -156.77, ElevM: 10}, [2]float64{260, 340}, [2]float64{-29, -21}, [2]float64{2, 8}, [2]float64{80, 300}, 0, 0},
		{"Tokyo", weather.Site{LatDeg: 35.7, LonDeg: 139.7, ElevM: 40}, [2]float64{10, 75}, [2]float64{2, 7.5}, [2]float64{23.5, 28}, [2]float64{1200, 1900}, 0, 0},
		{"Sapporo", weather.Site{LatDeg: 43.06, LonDeg: 141.35, ElevM: 17}, [2]float64{100, 160}, [2]float64{-7, -2}, [2]float64{18, 23}, [2]float64{800, 1400}, 0, 0},
		{"Yakutsk", weather.Site{LatDeg: 62, LonDeg: 129.7, ElevM: 100}, [2]float64{190, 270}, [2]float64{-46, -34}, [2]float64{16, 22}, [2]float64{150, 350}, time.March, time.July},
		{"Mumbai", weather.Site{LatDeg: 19.1, LonDeg: 72.9, ElevM: 14}, [2]float64{0, 0}, [2]float64{21, 27}, [2]float64{25, 30}, [2]float64{1500, 3200}, 0, time.July},
		{"Perth", weather.Site{LatDeg: -31.95, LonDeg: 115.9, ElevM: 20}, [2]float64{0, 8}, [2]float64{21, 27}, [2]float64{10, 15}, [2]float64{500, 1100}, 0, 0},
		{"Punta Arenas", weather.Site{LatDeg: -53.1, LonDeg: -70.9, ElevM: 30}, [2]float64{40, 170}, [2]float64{8, 13}, [2]float64{-1, 5}, [2]float64{250, 800}, 0, 0},
		{"Scilly", weather.Site{LatDeg: 49.92, LonDeg: -6.3, ElevM: 20}, [2]float64{0, 25}, [2]float64{5, 10}, [2]float64{14, 19}, [2]float64{600, 1300}, 0, 0},
	} {
		rec := w.Estimate(c.site, 30, 1991)
		low, high := yearOf(rec, rec.TminC), yearOf(rec, rec.TmaxC)
		rain := yearOf(rec, rec.RainMM)
		in := func(what string, x float64, b [2]float64) {
			outside := x < b[0] || x > b[1]
			if why, known := knownMisses[c.name+", "+what]; known {
				missed[c.name+", "+what] = outside
				t.Logf("%s: %s %.1f, should lie in %v: %s", c.name, what, x, b, why)
			} else if outside {
				t.Errorf("%s: %s %.1f, outside %v", c.name, what, x, b)
			}
		}
		in("frosts a year", frostsAYear(rec), c.frosts)
		in("January °C", (low[0]+high[0])/2, c.janC)
		in("July °C", (low[6]+high[6])/2, c.julC)
		in("rain mm", rain.mean()*365.25, c.rainMM)
		if c.wettest != 0 {
			for m, mm := range rain {
				if mm > rain[c.wettest-1]*1.1 {
					t.Errorf("%s: rains more in %v than in %v", c.name, time.Month(m+1), c.wettest)
				}
			}
		}
	}
	for what := range knownMisses {
		if !missed[what] {
			t.Errorf("%s is right now: take it off the known misses, here and in first_estimate.md", what)
		}
	}
}

// knownMisses are where the estimate disagrees with what is known, and why.
var knownMisses = map[string]string{
	"Christchurch, frosts a year": "some 8 where some 35 are remembered; 27 without its town, whose heat was fitted mostly inland, and its minima spread too little",
}

// TestHeight: the same spot higher up is colder, about as the published lapse
// rates say (4 to 8 °C/km), less where the nights of valleys are cold.
func TestHeight(t *testing.T) {
	w := load(t)
	for _, s := range []weather.Site{{LatDeg: 46.5, LonDeg: 8}, {LatDeg: 39.5, LonDeg: -106}, {LatDeg: -33, LonDeg: -70}, {LatDeg: -1, LonDeg: 37}} {
		low, high := s, s
		low.ElevM, high.ElevM = 1200, 2200
		a, _ := w.Normals(low)
		b, _ := w.Normals(high)
		for m := range 12 {
			drop := (a.Months[m].TminC + a.Months[m].TmaxC - b.Months[m].TminC - b.Months[m].TmaxC) / 2
			if drop < 2 || drop > 10 {
				t.Errorf("%v, month %d: 1,000 m up it is %.1f °C colder", s, m+1, drop)
			}
		}
	}
}

// TestSouth: seasons are half a year round.
func TestSouth(t *testing.T) {
	w := load(t)
	rec := w.Estimate(weather.Site{LatDeg: -37.8, LonDeg: 145, ElevM: 30}, 30, 1991)
	sun, high := yearOf(rec, rec.SunMJ), yearOf(rec, rec.TmaxC)
	if sun[0] < 2*sun[5] || high[0] < high[6]+8 {
		t.Errorf("Melbourne: radiation %.1f in January, %.1f in June; maxima %.1f and %.1f", sun[0], sun[5], high[0], high[6])
	}
	odds := weather.Frost(normals.Generate(mustNormals(w, -45.0, 169.2, 180), weather.Site{LatDeg: -45, LonDeg: 169.2, ElevM: 180}, 30, 1991, 1), weather.FrostOptions{South: true})
	if p := odds.LastSpring.P50; p == nil || p.Month < time.September || p.Month > time.December {
		t.Errorf("Central Otago: last frost of spring %v", p)
	}
}

func mustNormals(w *World, lat, lon, elev float64) normals.Year {
	n, _ := w.Normals(weather.Site{LatDeg: lat, LonDeg: lon, ElevM: elev})
	return n
}

// TestNewYear: there is no step and no loss of persistence over the turn of
// the year, and no drift over the years.
func TestNewYear(t *testing.T) {
	w := load(t)
	for _, s := range []weather.Site{ithaca, {LatDeg: -37.8, LonDeg: 145, ElevM: 30}} {
		n, _ := w.Normals(s)
		rec := normals.Generate(n, s, 400, 1601, 4)
		step, lag := aroundDay(rec, 1, 1)
		_, before := aroundDay(rec, 12, 18)
		_, after := aroundDay(rec, 1, 15)
		// A mean difference of neighbouring days with a spread of 5 °C over
		// 398 years is known to 0.2 °C, a correlation to 0.03.
		if math.Abs(step) > 0.8 || math.Abs(lag-(before+after)/2) > 0.1 {
			t.Errorf("%v: over New Year a step of %.2f °C, lag-1 %.2f (%.2f before, %.2f after)", s, step, lag, before, after)
		}
		half := halfMeans(rec)
		if math.Abs(half[0]-half[1]) > 0.3 {
			t.Errorf("%v: drifts from %.2f to %.2f °C", s, half[0], half[1])
		}
	}
}

// aroundDay is the mean step of the minimum from the day before to a day of the
// year, and how the two hang together.
func aroundDay(rec *weather.Record, month time.Month, day int) (step, lag float64) {
	var x, y, xx, yy, xy, k float64
	for year := 1602; year < 2000; year++ {
		i, _ := rec.Index(calendar.On(year, month, day))
		a, b := rec.TminC[i-1], rec.TminC[i]
		x, y, xx, yy, xy, k = x+a, y+b, xx+a*a, yy+b*b, xy+a*b, k+1
	}
	return (y - x) / k, (xy/k - x*y/k/k) / math.Sqrt((xx/k-x*x/k/k)*(yy/k-y*y/k/k))
}

// halfMeans are the mean minima of the first and the second half of a record.
func halfMeans(rec *weather.Record) (half [2]float64) {
	for i, x := range rec.TminC {
		half[2*i/rec.Days()] += x / float64(rec.Days()) * 2
	}
	return half
}

// TestSamePlaceSameYears: and another place other years, and it says what it is.
func TestSamePlaceSameYears(t *testing.T) {
	w, again := load(t), load(t)
	text := func(w *World, s weather.Site) string {
		var b bytes.Buffer
		if err := readings.WriteCSV(&b, w.Estimate(s, 12, 2000)); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	near := ithaca
	near.LatDeg += 0.03
	first := text(w, ithaca)
	if first != text(again, ithaca) {
		t.Error("the same place gave other years")
	}
	if first == text(w, near) {
		t.Error("a place 3 km on gave the same years")
	}
	rec := w.Estimate(ithaca, 30, 1996)
	if !rec.Estimated || !strings.HasPrefix(rec.Source, "estimated, not measured: 30 years generated from monthly means of 12 points of the CRU CL 2.0 climatology, ") {
		t.Errorf("estimated %v, source %q", rec.Estimated, rec.Source)
	}
	if rec.Start.String() != "1996-01-01" || rec.End().String() != "2026-01-01" {
		t.Errorf("runs from %s to %s", rec.Start, rec.End())
	}
	if rec.SunMJ == nil || rec.HumidityPC == nil || rec.WindMS == nil {
		t.Error("radiation, humidity or wind is lacking")
	}
}

// TestBasis: it names the points and owns to doubt.
func TestBasis(t *testing.T) {
	w := load(t)
	_, b := w.Normals(ithaca)
	total := 0.0
	for _, p := range b.Points {
		total += p.Share
	}
	if len(b.Points) != pointsUsed || math.Abs(total-1) > 1e-9 || b.FarKM > 20 || b.Doubt() != "" {
		t.Errorf("Ithaca: %d points with weights %v in all, nearest %v km, doubt %q", len(b.Points), total, b.FarKM, b.Doubt())
	}
	high := weather.Site{LatDeg: 46.55, LonDeg: 8, ElevM: 3900}
	if _, b := w.Normals(high); !strings.Contains(b.Doubt(), "above the points") {
		t.Errorf("a peak: doubt %q", b.Doubt())
	}
	if _, b := w.Normals(weather.Site{LatDeg: 0, LonDeg: -140}); !strings.Contains(b.Doubt(), "km away") {
		t.Errorf("mid-Pacific: doubt %q", b.Doubt())
	}
}

// TestAnywhere: whatever the place, every day is whole and possible.
func TestAnywhere(t *testing.T) {
	w := load(t)
	rapid.Check(t, func(t *rapid.T) {
		site := weather.Site{
			LatDeg: rapid.Float64Range(-90, 90).Draw(t, "lat"),
			LonDeg: rapid.Float64Range(-180, 180).Draw(t, "lon"),
			ElevM:  rapid.Float64Range(-400, 5500).Draw(t, "elev"),
		}
		rec := w.Estimate(site, 2, 2019)
		if rec.Days() != 366+365 {
			t.Fatalf("%d days", rec.Days())
		}
		for i := range rec.Days() {
			low, high := rec.TminC[i], rec.TmaxC[i]
			if !(low >= -95 && low <= high && high <= 65) || !(rec.RainMM[i] >= 0 && rec.RainMM[i] < 1500) ||
				!(rec.SunMJ[i] >= 0 && rec.SunMJ[i] < 45) || !(rec.HumidityPC[i] >= 0 && rec.HumidityPC[i] <= 100) || !(rec.WindMS[i] >= 0 && rec.WindMS[i] < 60) {
				t.Fatalf("day %d: %v to %v °C, %v mm, %v MJ, %v %%, %v m/s", i, low, high, rec.RainMM[i], rec.SunMJ[i], rec.HumidityPC[i], rec.WindMS[i])
			}
		}
	})
}

// TestAcrossTheDateLine: a step over the date line or the equator changes little.
func TestAcrossTheDateLine(t *testing.T) {
	w := load(t)
	for _, pair := range [][2]weather.Site{
		{{LatDeg: 66.5, LonDeg: 179.99, ElevM: 50}, {LatDeg: 66.5, LonDeg: -179.99, ElevM: 50}},
		{{LatDeg: 0.01, LonDeg: 36.9, ElevM: 1900}, {LatDeg: -0.01, LonDeg: 36.9, ElevM: 1900}},
	} {
		a, _ := w.Normals(pair[0])
		b, _ := w.Normals(pair[1])
		for m := range 12 {
			if math.Abs(a.Months[m].TminC-b.Months[m].TminC) > 0.7 || math.Abs(a.Months[m].TminSDC-b.Months[m].TminSDC) > 0.5 {
				t.Errorf("%v and %v, month %d: %.2f ± %.2f and %.2f ± %.2f °C", pair[0], pair[1], m+1, a.Months[m].TminC, a.Months[m].TminSDC, b.Months[m].TminC, b.Months[m].TminSDC)
			}
		}
	}
}
