package normals

import (
	"math"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/weather"
)

// SlowAnomalyDays is the e-folding time of the slow anomaly that Fit
// looks for: a month (project choice; its share of the variance is fitted).
const SlowAnomalyDays = 30

// Fit takes from a record the figures by which Generate makes days like
// it. It wants ten years or more; a figure that the record cannot give (sun,
// wind) is NaN.
func Fit(rec *weather.Record) Year {
	f := &fitter{rec: rec, n: Year{Name: rec.Name, Source: rec.Source, Site: rec.Site, SlowDays: SlowAnomalyDays}}
	f.places()
	f.rain()
	f.n.SlowTminVar = f.temperature(&f.zMin, rec.TminC, func(m *Month) temperatureFigures {
		return temperatureFigures{&m.TminC, &m.TminWetC, &m.TminSDC, &m.TminLag1}
	})
	f.n.SlowTmaxVar = f.temperature(&f.zMax, rec.TmaxC, func(m *Month) temperatureFigures {
		return temperatureFigures{&m.TmaxC, &m.TmaxWetC, &m.TmaxSDC, &m.TmaxLag1}
	})
	for m := range f.n.Months {
		f.n.Months[m].TminTmax = f.correlation(m, f.zMin, f.zMax, 0)
	}
	f.sunshine()
	f.wind()
	f.humidity()
	return f.n
}

// fitter is a record on its way to a Year.
type fitter struct {
	rec        *weather.Record
	n          Year
	month      []int // of each day, 0 to 11
	place      []int // of each day in a 366-day year
	wet        []int // 1, 0, or -1 where rain is missing
	zMin, zMax []float64
}

func (f *fitter) places() {
	for i := range f.rec.Days() {
		d := f.rec.Start.Add(i)
		f.month = append(f.month, int(d.Month()-time.January))
		f.place = append(f.place, leapPlace(d))
	}
}

// leapPlace is a day's place in a 366-day year, from 0.
func leapPlace(d calendar.Date) int {
	p := d.YearDay() - 1
	if p >= leapDay && calendar.DaysIn(d.Year()) == 365 {
		p++
	}
	return p
}

// mean is the mean of a month's known values for which keep holds, and how
// many there are.
func (f *fitter) mean(m int, value func(i int) float64, keep func(i int) bool) (mean, sd float64, n int) {
	var s, ss float64
	for i, month := range f.month {
		if month != m || !keep(i) {
			continue
		}
		if x := value(i); !math.IsNaN(x) {
			s += x
			ss += x * x
			n++
		}
	}
	if n == 0 {
		return math.NaN(), math.NaN(), 0
	}
	mean = s / float64(n)
	return mean, math.Sqrt(math.Max(0, ss/float64(n)-mean*mean)), n
}

func always(int) bool { return true }

func (f *fitter) isDry(i int) bool { return f.wet[i] == 0 }

func (f *fitter) isWet(i int) bool { return f.wet[i] == 1 }

// rain fits the chain and the amounts.
func (f *fitter) rain() {
	var days, wets [12][2]float64 // by yesterday's state
	for i, mm := range f.rec.RainMM {
		state := -1
		switch {
		case mm >= WetMM-1e-9:
			state = 1
		case mm < WetMM:
			state = 0
		}
		f.wet = append(f.wet, state)
		if i > 0 && state >= 0 && f.wet[i-1] >= 0 {
			days[f.month[i]][f.wet[i-1]]++
			wets[f.month[i]][f.wet[i-1]] += float64(state)
		}
	}
	for m := range f.n.Months {
		month := &f.n.Months[m]
		// Half a wet and half a dry day more than seen, so that a month never
		// seen to turn wet can.
		month.WetAfterDry = (wets[m][0] + 0.5) / (days[m][0] + 1)
		month.WetAfterWet = (wets[m][1] + 0.5) / (days[m][1] + 1)
		f.amounts(m, month)
	}
}

// amounts fits the gamma distribution of a month's wet days: Thom's (1958,
// Monthly Weather Review 86) approximation of the likeliest shape.
func (f *fitter) amounts(m int, month *Month) {
	mean, _, n := f.mean(m, func(i int) float64 { return f.rec.RainMM[i] }, f.isWet)
	if n < 5 {
		month.WetMeanMM, month.WetShape = 5, 0.7 // too rare to matter
		return
	}
	const halfStep = 0.05 // keeps the logarithm off the least amount
	excess := func(i int) float64 { return f.rec.RainMM[i] - WetMM + halfStep }
	meanExcess, _, _ := f.mean(m, excess, f.isWet)
	meanLog, _, _ := f.mean(m, func(i int) float64 { return math.Log(excess(i)) }, f.isWet)
	a := math.Max(0.01, math.Log(meanExcess)-meanLog)
	month.WetMeanMM = mean
	month.WetShape = (1 + math.Sqrt(1+4*a/3)) / (4 * a)
}

// temperatureFigures are the places of one temperature's figures in a month.
type temperatureFigures struct{ mean, wetter, sd, lag1 *float64 }

// temperature fits one temperature, leaves its standardised residuals in z and
// gives the slow share of their variance.
func (f *fitter) temperature(z *[]float64, days []float64, at func(*Month) temperatureFigures) (slowShare float64) {
	value := func(i int) float64 { return days[i] }
	var wetter [12]float64
	for m := range f.n.Months {
		*at(&f.n.Months[m]).mean, _, _ = f.mean(m, value, always)
	}
	usual := f.n.curve(func(m Month) float64 { return *at(&m).mean })
	anomaly := func(i int) float64 { return days[i] - usual[f.place[i]] }
	for m := range f.n.Months {
		dry, _, dryDays := f.mean(m, anomaly, f.isDry)
		wet, _, wetDays := f.mean(m, anomaly, f.isWet)
		if min(dryDays, wetDays) >= 20 {
			wetter[m] = wet - dry
		}
		*at(&f.n.Months[m]).wetter = wetter[m]
	}
	wetterCurve := smoothYear(wetter)
	residual := func(i int) float64 {
		share := f.n.Months[f.month[i]].WetShare()
		if f.wet[i] < 0 {
			return anomaly(i)
		}
		return anomaly(i) - wetterCurve[f.place[i]]*(float64(f.wet[i])-share)
	}
	for m := range f.n.Months {
		_, *at(&f.n.Months[m]).sd, _ = f.mean(m, residual, always)
	}
	spread := f.n.curve(func(m Month) float64 { return *at(&m).sd })
	for i := range days {
		*z = append(*z, residual(i)/spread[f.place[i]])
	}
	var lag1 float64
	for m := range f.n.Months {
		r := f.correlation(m, *z, *z, 1)
		*at(&f.n.Months[m]).lag1 = r
		lag1 += r / 12
	}
	return f.slowShare(*z, lag1)
}

// correlation of a days later than b, over the days of a month.
func (f *fitter) correlation(m int, a, b []float64, later int) float64 {
	var ab, aa, bb float64
	for i := later; i < len(a); i++ {
		x, y := a[i], b[i-later]
		if f.month[i] != m || math.IsNaN(x) || math.IsNaN(y) {
			continue
		}
		ab += x * y
		aa += x * x
		bb += y * y
	}
	if aa*bb == 0 {
		return 0
	}
	return ab / math.Sqrt(aa*bb)
}

// slowShare is the share of slow variance with which monthly means vary from
// year to year as much as they do in z: by halving.
func (f *fitter) slowShare(z []float64, lag1 float64) float64 {
	want := f.monthlyVariance(z)
	keep := math.Exp(-1.0 / SlowAnomalyDays)
	low, high := 0.0, 0.7
	for range 40 {
		share := (low + high) / 2
		got := share*meanVariance(keep) + (1-share)*meanVariance(fastLag(lag1, share, keep))
		if got < want {
			low = share
		} else {
			high = share
		}
	}
	return low
}

// monthlyVariance is the variance of the means of whole calendar months.
func (f *fitter) monthlyVariance(z []float64) float64 {
	var sum, squares, months float64
	var s float64
	n := 0
	for i, x := range z {
		if !math.IsNaN(x) {
			s += x
			n++
		}
		if i+1 == len(z) || f.month[i+1] != f.month[i] {
			if n >= 25 {
				mean := s / float64(n)
				sum += mean
				squares += mean * mean
				months++
			}
			s, n = 0, 0
		}
	}
	if months < 24 {
		return 0
	}
	return squares/months - sum*sum/months/months
}

// meanVariance is the variance of the mean of 30 days of an AR(1) run of
// variance 1.
func meanVariance(a float64) float64 {
	const n = 30
	sum, power := 1.0, 1.0
	for k := 1; k < n; k++ {
		power *= a
		sum += 2 * (1 - float64(k)/n) * power
	}
	return sum / n
}
