package normals

import (
	"math"
	"math/rand/v2"

	"haulm/internal/calendar"
	"haulm/internal/sun"
	"haulm/internal/weather"
)

// Generate makes years of daily weather from monthly figures, from 1 January
// of startYear on: wet and dry days by a two-state chain, rain by a gamma
// distribution, temperatures and radiation by autoregressive residuals around
// means that depend on wet and dry (Richardson 1981, Water Resources Research
// 17), plus a slow anomaly that makes years differ. The same seed gives the
// same years.
//
// With ten years or more the slow anomaly is centred, so that the mean of the
// years is that of the figures and not of one draw of luck.
func Generate(n Year, site weather.Site, years int, startYear int, seed uint64) *weather.Record {
	return NewGenerator(n, site).Years(years, startYear, seed)
}

// Generator makes years from one place's figures, as often as it is asked; any
// number of goroutines may ask it.
type Generator struct {
	figures Year
	site    weather.Site
	curves  curves
}

// NewGenerator lays the monthly figures out as smooth years.
func NewGenerator(n Year, site weather.Site) *Generator {
	return &Generator{n, site, newCurves(n, site)}
}

// Years are those that Generate describes.
func (m *Generator) Years(years, startYear int, seed uint64) *weather.Record {
	g := &generator{curves: &m.curves, random: rand.New(rand.NewPCG(seed, 0))}
	rec := roomFor(years)
	rec.Name, rec.Source, rec.Site, rec.Estimated = m.figures.Name, m.figures.Source, m.site, true
	rec.Start = calendar.On(startYear, 1, 1)
	slow := g.slowYears(years)
	for y := range years {
		for d := range 366 {
			if d == leapDay && calendar.DaysIn(startYear+y) == 365 {
				continue
			}
			g.day(rec, d, slow[y][d])
		}
	}
	if !weather.AnyKnown(rec.SunMJ) {
		rec.SunMJ = nil
	}
	if !weather.AnyKnown(rec.WindMS) {
		rec.WindMS = nil
	}
	if !m.curves.knowHumidity {
		rec.HumidityPC = nil
	}
	return rec
}

// roomFor is an empty record with room for that many years.
func roomFor(years int) *weather.Record {
	column := func() []float64 { return make([]float64, 0, 366*max(0, years)) }
	return &weather.Record{TminC: column(), TmaxC: column(), RainMM: column(), SunMJ: column(), WindMS: column(), HumidityPC: column()}
}

// leapDay is the place of 29 February in a 366-day year.
const leapDay = 31 + 28

// curves are the figures as smooth years.
type curves struct {
	tmin, tmax                   residualCurves
	tminTmax                     yearCurve
	wetAfterDry, wetAfterWet     yearCurve
	wetShare                     yearCurve
	wetMean, wetShape            yearCurve
	clear, clearSD               [2]yearCurve // dry, wet
	clearOnTmin, clearOnTmax     yearCurve
	windMean, windSpread, windL1 yearCurve
	aboveAirMJ                   yearCurve
	slowDays                     float64
	knowHumidity                 bool
	damp                         humidityCurves
}

// generator holds the figures, and yesterday.
type generator struct {
	*curves
	random *rand.Rand

	wet              bool
	fastMin, fastMax float64 // yesterday's fast residuals, standardised
	gust             float64 // yesterday's wind residual, standardised
	dampness         float64 // yesterday's rest of the humidity, standardised
}

// residualCurves are what one temperature needs.
type residualCurves struct {
	mean, wetter, spread, lag1 yearCurve
	slowShare                  float64
}

func newCurves(n Year, site weather.Site) curves {
	share := func(figure func(Month) float64, low, top float64) yearCurve {
		c := n.curve(figure)
		for d := range c {
			c[d] = min(max(c[d], low), top)
		}
		return c
	}
	g := curves{
		tmin: residualCurves{
			n.curve(func(m Month) float64 { return m.TminC }), n.curve(func(m Month) float64 { return m.TminWetC }),
			share(func(m Month) float64 { return m.TminSDC }, 0.1, 30), share(func(m Month) float64 { return m.TminLag1 }, 0, 0.97), n.SlowTminVar,
		},
		tmax: residualCurves{
			n.curve(func(m Month) float64 { return m.TmaxC }), n.curve(func(m Month) float64 { return m.TmaxWetC }),
			share(func(m Month) float64 { return m.TmaxSDC }, 0.1, 30), share(func(m Month) float64 { return m.TmaxLag1 }, 0, 0.97), n.SlowTmaxVar,
		},
		tminTmax:    share(func(m Month) float64 { return m.TminTmax }, -0.98, 0.98),
		wetAfterDry: share(func(m Month) float64 { return m.WetAfterDry }, 0, 1),
		wetAfterWet: share(func(m Month) float64 { return m.WetAfterWet }, 0, 1),
		wetMean:     share(func(m Month) float64 { return m.WetMeanMM }, WetMM+0.1, 500),
		wetShape:    share(func(m Month) float64 { return m.WetShape }, 0.2, 10),
		clear: [2]yearCurve{
			n.curve(func(m Month) float64 { return m.ClearDry }), n.curve(func(m Month) float64 { return m.ClearWet }),
		},
		clearSD: [2]yearCurve{
			n.curve(func(m Month) float64 { return m.ClearDrySD }), n.curve(func(m Month) float64 { return m.ClearWetSD }),
		},
		clearOnTmin: n.curve(func(m Month) float64 { return m.ClearOnTmin }),
		clearOnTmax: n.curve(func(m Month) float64 { return m.ClearOnTmax }),
		windMean:    n.curve(func(m Month) float64 { return m.WindMS }),
		windSpread:  n.curve(func(m Month) float64 { return m.WindSD }),
		windL1:      share(func(m Month) float64 { return m.WindLag1 }, 0, 0.95),
		slowDays:    n.SlowDays,
	}
	if g.knowHumidity = n.knowsHumidity(); g.knowHumidity {
		g.damp = newHumidityCurves(n)
	}
	for d := range g.wetShare {
		g.wetShare[d] = wetShare(g.wetAfterDry[d], g.wetAfterWet[d])
	}
	for d := range g.aboveAirMJ {
		g.aboveAirMJ[d] = sun.ExtraterrestrialMJ(site.LatDeg, d+1)
	}
	return g
}

// slowYears draws the slow anomaly, standardised, by year and day, running on
// from each year into the next.
func (g *generator) slowYears(years int) [][366]float64 {
	slow := make([][366]float64, years)
	keep := math.Exp(-1 / math.Max(1, g.slowDays))
	z := g.random.NormFloat64()
	for y := range slow {
		for d := range slow[y] {
			z = keep*z + math.Sqrt(1-keep*keep)*g.random.NormFloat64()
			slow[y][d] = z
		}
	}
	if years < 10 {
		return slow
	}
	restore := math.Sqrt(float64(years) / float64(years-1))
	for d := range 366 {
		mean := 0.0
		for y := range slow {
			mean += slow[y][d] / float64(years)
		}
		for y := range slow {
			slow[y][d] = (slow[y][d] - mean) * restore
		}
	}
	return slow
}

// day adds one day to rec.
func (g *generator) day(rec *weather.Record, d int, slow float64) {
	rain := g.rainMM(d)
	zMin, zMax := g.residuals(d, slow)
	low, high := g.temperature(&g.tmin, d, zMin), g.temperature(&g.tmax, d, zMax)
	if low > high-leastSpreadC {
		middle := (low + high) / 2
		low, high = middle-leastSpreadC/2, middle+leastSpreadC/2
	}
	rec.TminC = append(rec.TminC, weather.Round1(low))
	rec.TmaxC = append(rec.TmaxC, weather.Round1(high))
	rec.RainMM = append(rec.RainMM, rain)
	rec.SunMJ = append(rec.SunMJ, g.sunMJ(d, zMin, zMax))
	rec.WindMS = append(rec.WindMS, g.windMS(d))
	if g.knowHumidity {
		rec.HumidityPC = append(rec.HumidityPC, g.humidityPC(d, zMax))
	}
}

// leastSpreadC is the least that a generated maximum lies above its minimum;
// a whole day of fog or rain has about that (from memory).
const leastSpreadC = 0.6

func (g *generator) temperature(r *residualCurves, d int, z float64) float64 {
	x := r.mean[d] - g.wetShare[d]*r.wetter[d] + r.spread[d]*z
	if g.wet {
		x += r.wetter[d]
	}
	return x
}

// rainMM steps the wet-dry chain and draws the day's rain.
func (g *generator) rainMM(d int) float64 {
	chance := g.wetAfterDry[d]
	if g.wet {
		chance = g.wetAfterWet[d]
	}
	g.wet = g.random.Float64() < chance
	if !g.wet {
		return 0
	}
	shape := g.wetShape[d]
	scale := (g.wetMean[d] - WetMM) / shape
	return math.Max(WetMM, weather.Round1(WetMM+scale*gamma(g.random, shape)))
}

// residuals steps the two fast residuals and adds the slow one, so that the
// sums have variance 1 and the correlations asked for.
func (g *generator) residuals(d int, slow float64) (zMin, zMax float64) {
	keep := math.Exp(-1 / math.Max(1, g.slowDays))
	fMin, fMax := g.tmin.slowShare, g.tmax.slowShare
	aMin := fastLag(g.tmin.lag1[d], fMin, keep)
	aMax := fastLag(g.tmax.lag1[d], fMax, keep)
	together := (g.tminTmax[d] - math.Sqrt(fMin*fMax)) / math.Sqrt((1-fMin)*(1-fMax))
	sMin, sMax := math.Sqrt(1-aMin*aMin), math.Sqrt(1-aMax*aMax)
	r := min(max(together*(1-aMin*aMax)/(sMin*sMax), -0.99), 0.99)
	e1, e2 := g.random.NormFloat64(), g.random.NormFloat64()
	g.fastMin = aMin*g.fastMin + sMin*e1
	g.fastMax = aMax*g.fastMax + sMax*(r*e1+math.Sqrt(1-r*r)*e2)
	return math.Sqrt(fMin)*slow + math.Sqrt(1-fMin)*g.fastMin, math.Sqrt(fMax)*slow + math.Sqrt(1-fMax)*g.fastMax
}

// fastLag is the lag-1 correlation of the fast part of a residual whose whole
// has lag1 and of whose variance a share is slow and keeps keep a day.
func fastLag(lag1, share, keep float64) float64 {
	return min(max((lag1-share*keep)/(1-share), 0), 0.98)
}

// Clearness of a day lies between a black sky and the clearest air (0.82 of Ra
// is about the most at sea level in winter, from memory).
const (
	darkest  = 0.02
	clearest = 0.82
)

func (g *generator) sunMJ(d int, zMin, zMax float64) float64 {
	b1, b2, r := g.clearOnTmin[d], g.clearOnTmax[d], g.tminTmax[d]
	explained := b1*b1 + b2*b2 + 2*b1*b2*r
	u := b1*zMin + b2*zMax + math.Sqrt(math.Max(0, 1-explained))*g.random.NormFloat64()
	state := 0
	if g.wet {
		state = 1
	}
	share := g.clear[state][d] + g.clearSD[state][d]*u
	return math.Round(100*min(max(share, darkest), clearest)*g.aboveAirMJ[d]) / 100
}

// windMS draws a log-normal wind.
func (g *generator) windMS(d int) float64 {
	a := g.windL1[d]
	g.gust = a*g.gust + math.Sqrt(1-a*a)*g.random.NormFloat64()
	spread := g.windSpread[d] / g.windMean[d]
	variance := math.Log1p(spread * spread)
	return weather.Round1(g.windMean[d] * math.Exp(math.Sqrt(variance)*g.gust-variance/2))
}

// gamma draws from a gamma distribution of scale 1: Marsaglia & Tsang (2000,
// ACM Transactions on Mathematical Software 26).
func gamma(random *rand.Rand, shape float64) float64 {
	if shape < 1 {
		return gamma(random, shape+1) * math.Pow(1-random.Float64(), 1/shape)
	}
	d := shape - 1.0/3
	c := 1 / math.Sqrt(9*d)
	for {
		x := random.NormFloat64()
		v := 1 + c*x
		if v <= 0 {
			continue
		}
		v = v * v * v
		if u := 1 - random.Float64(); math.Log(u) < 0.5*x*x+d-d*v+d*math.Log(v) {
			return d * v
		}
	}
}
