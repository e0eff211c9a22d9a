package climatology

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"haulm/internal/normals"
	"haulm/internal/weather"
)

// traits of a record that the generated years are held against.
type likeness struct {
	low, high            year    // monthly means, °C
	spreadLow, spreadHi  year    // about the season
	lagLow, lagHigh      float64 // mean over the months
	together             float64
	wetShare, rainMM     year // share of days, mm a day
	frosts               float64
	sunMJ, humid, windMS year
}

func likenessOf(rec *weather.Record, hasRain bool) (l likeness) {
	n := normals.Fit(rec)
	l.spreadLow, l.spreadHi = spreads(rec, rec.TminC), spreads(rec, rec.TmaxC)
	nights, frosts := 0.0, 0.0
	for _, x := range rec.TminC {
		if !math.IsNaN(x) {
			nights++
			if x <= 0 {
				frosts++
			}
		}
	}
	l.frosts = frosts / nights * 365.25
	for m, month := range n.Months {
		l.low[m], l.high[m] = month.TminC, month.TmaxC
		l.lagLow += month.TminLag1 / 12
		l.lagHigh += month.TmaxLag1 / 12
		l.together += month.TminTmax / 12
		share := month.WetShare()
		l.wetShare[m], l.rainMM[m] = when(hasRain, share), when(hasRain, share*month.WetMeanMM)
	}
	known := func(days []float64) year {
		if days == nil {
			return year{math.NaN()}
		}
		return knownYear(rec, days)
	}
	l.sunMJ, l.humid, l.windMS = known(rec.SunMJ), known(rec.HumidityPC), known(rec.WindMS)
	return l
}

func knownYear(rec *weather.Record, days []float64) (mean year) {
	var n year
	for i, x := range days {
		if m := rec.Start.Add(i).Month() - 1; !math.IsNaN(x) {
			mean[m] += x
			n[m]++
		}
	}
	for m := range mean {
		mean[m] /= n[m]
	}
	return mean
}

// apart12 is the mean absolute difference of two years, and the mean one.
func apart12(got, want year) (size, mean float64) {
	for m := range 12 {
		size += math.Abs(got[m]-want[m]) / 12
		mean += (got[m] - want[m]) / 12
	}
	return size, mean
}

func ratio12(got, want year) float64 { return got.mean() / want.mean() }

// comparison is a record beside the estimate for its place.
type comparison struct {
	got, want likeness
	hasRain   bool
}

// compared keeps the comparisons: more than one test asks for them.
var compared = map[string]comparison{}

func compare(t testing.TB, w *World, s measured) comparison {
	t.Helper()
	if c, done := compared[s.name]; done {
		return c
	}
	rec := s.load(t)
	c := comparison{}
	for _, mm := range rec.RainMM {
		c.hasRain = c.hasRain || mm > 0
	}
	c.want = likenessOf(rec, c.hasRain)
	c.got = likenessOf(w.Estimate(s.site, 30, 1981), true)
	compared[s.name] = c
	return c
}

// TestGeneratedYears_DailyRecords: 30 estimated years at each place that has a
// daily record (from 1961 on), against that record. The climatology does not
// know these records' means; their spreads, persistence and wet days are among
// those that the regressions were fitted to, so what is judged here is the fit
// and the generator, and, in the means, the interpolation.
func TestGeneratedYears_DailyRecords(t *testing.T) {
	w := load(t)
	var low, high, spreadLow, spreadHigh, lag, wet, rain, frost, sun, humid, wind []float64
	for _, s := range records {
		c := compare(t, w, s)
		got, want, hasRain := c.got, c.want, c.hasRain
		offLow, meanLow := apart12(got.low, want.low)
		offHigh, meanHigh := apart12(got.high, want.high)
		line := fmt.Sprintf("%-17s Tmin off %.1f (%+.1f) Tmax %.1f (%+.1f) °C; spread ×%.2f ×%.2f; lag-1 %+.2f %+.2f; Tmin–Tmax %+.2f; frosts %.0f for %.0f",
			s.name, offLow, meanLow, offHigh, meanHigh, ratio12(got.spreadLow, want.spreadLow), ratio12(got.spreadHi, want.spreadHi),
			got.lagLow-want.lagLow, got.lagHigh-want.lagHigh, got.together-want.together, got.frosts, want.frosts)
		low, high = append(low, offLow), append(high, offHigh)
		spreadLow = append(spreadLow, math.Abs(ratio12(got.spreadLow, want.spreadLow)-1))
		spreadHigh = append(spreadHigh, math.Abs(ratio12(got.spreadHi, want.spreadHi)-1))
		lag = append(lag, math.Abs(got.lagLow-want.lagLow), math.Abs(got.lagHigh-want.lagHigh))
		frost = append(frost, math.Abs(got.frosts-want.frosts))
		if hasRain {
			offWet, meanWet := apart12(got.wetShare, want.wetShare)
			line += fmt.Sprintf("; wet days %+.3f, rain ×%.2f", meanWet, ratio12(got.rainMM, want.rainMM))
			wet, rain = append(wet, offWet), append(rain, math.Abs(ratio12(got.rainMM, want.rainMM)-1))
		}
		if !math.IsNaN(want.sunMJ.mean()) && s.name != "Swift Current" {
			line += fmt.Sprintf("; sun ×%.2f", ratio12(got.sunMJ, want.sunMJ))
			sun = append(sun, math.Abs(ratio12(got.sunMJ, want.sunMJ)-1))
		}
		if !math.IsNaN(want.humid.mean()) {
			_, mean := apart12(got.humid, want.humid)
			line += fmt.Sprintf("; humidity %+.0f", mean)
			humid = append(humid, math.Abs(mean))
		}
		if !math.IsNaN(want.windMS.mean()) {
			line += fmt.Sprintf("; wind ×%.2f", ratio12(got.windMS, want.windMS))
			wind = append(wind, math.Abs(ratio12(got.windMS, want.windMS)-1))
		}
		t.Log(line)
	}
	for _, c := range []struct {
		what          string
		off           []float64
		median, worst float64
	}{
		{"monthly mean Tmin, °C", low, 1.2, 5},
		{"monthly mean Tmax, °C", high, 1.2, 5},
		{"spread of Tmin, share", spreadLow, 0.10, 0.40},
		{"spread of Tmax, share", spreadHigh, 0.10, 0.40},
		{"lag-1", lag, 0.08, 0.35},
		{"frosts a year", frost, 12, 90},
		{"wet share", wet, 0.06, 0.25},
		{"rain, share", rain, 0.15, 0.9},
		{"radiation, share", sun, 0.08, 0.25},
		{"humidity, %", humid, 6, 20},
		{"wind, share", wind, 0.3, 1},
	} {
		slices.Sort(c.off)
		t.Logf("%s: off by %.2f in the median of %d, %.2f at worst", c.what, quantile(c.off, 0.5), len(c.off), c.off[len(c.off)-1])
		if quantile(c.off, 0.5) > c.median || c.off[len(c.off)-1] > c.worst {
			t.Errorf("%s: off by %.2f in the median (allowed %.2f), %.2f at worst (allowed %.2f)", c.what, quantile(c.off, 0.5), c.median, c.off[len(c.off)-1], c.worst)
		}
	}
}
