package grow

import (
	"math"
	"slices"
	"sync"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/soil"
	"haulm/internal/sun"
	"haulm/internal/weather"
)

// Climate is one site's daily weather made ready for growing: air, soil and
// light for every day of a record. Index 0 is the record's first day. It
// keeps the tables that courses read; goroutines may share it.
type Climate struct {
	south bool
	start calendar.Date
	rules crop.Constants

	minC     []float64
	maxC     []float64
	meanC    []float64
	soilC    []float64
	lightM   []float64 // global radiation, MJ/m2/day, measured or estimated
	dayH     []float64
	longestH float64 // of any day of the year
	gaps     []int32 // gaps[i]: days without usable weather before day i

	water  func() (referenceMM, rainMM []float64) // ETo and rain by day, made when first asked for
	tables *tableCache
}

// NewClimate prepares rec. Days whose temperatures are still NaN (years left
// out for too many gaps) are not grown through.
func NewClimate(rec *weather.Record, rules crop.Constants) *Climate {
	n := rec.Days()
	c := &Climate{
		south: rec.Site.South(), start: rec.Start, rules: rules,
		minC: make([]float64, n), maxC: make([]float64, n), meanC: make([]float64, n),
		dayH: make([]float64, n), gaps: make([]int32, n+1),
		tables: newTableCache(),
	}
	daylight := sun.YearAt(rec.Site.LatDeg).DayLengthH
	c.longestH = slices.Max(daylight)
	c.lightM = soil.SolarMJ(rec)
	for i := range n {
		c.dayH[i] = daylight[rec.Start.Add(i).YearDay()-1]
		c.gaps[i+1] = c.gaps[i]
		low, high := rec.TminC[i], rec.TmaxC[i]
		if math.IsNaN(low) || math.IsNaN(high) {
			c.gaps[i+1]++
			low, high = 0, 0
		}
		c.minC[i], c.maxC[i], c.meanC[i] = low, high, (low+high)/2
		if math.IsNaN(c.lightM[i]) { // a day not grown through; the sums run on over it
			c.lightM[i] = 0
		}
	}
	c.water = sync.OnceValues(func() (referenceMM, rainMM []float64) { return waterOf(rec) })
	c.soilC = soil.SowingDepth(c.meanC, c.lightM, rules.SowingDepthCM)
	return c
}

// waterOf is what the weather draws from the ground and gives it. A day whose
// rain nobody measured leaves the ground as it was.
func waterOf(rec *weather.Record) (referenceMM, rainMM []float64) {
	referenceMM, rainMM = soil.Daily(rec), make([]float64, rec.Days())
	for i := range rainMM {
		if math.IsNaN(referenceMM[i]) {
			referenceMM[i] = 0
		}
		rainMM[i] = referenceMM[i]
		if i < len(rec.RainMM) && !math.IsNaN(rec.RainMM[i]) {
			rainMM[i] = rec.RainMM[i]
		}
	}
	return referenceMM, rainMM
}

// Start is the first day of the weather.
func (c *Climate) Start() calendar.Date { return c.start }

// End is the first day after it.
func (c *Climate) End() calendar.Date { return c.start.Add(len(c.minC)) }

// South says whether season years run July to June.
func (c *Climate) South() bool { return c.south }

// Whole says whether every day from from up to, not including, to is on
// record and usable.
func (c *Climate) Whole(from, to calendar.Date) bool {
	a, b := int(from-c.start), int(to-c.start)
	return a >= 0 && b <= len(c.minC) && a <= b && c.gaps[a] == c.gaps[b]
}

// date turns an index into a Date.
func (c *Climate) date(i int) calendar.Date { return c.start.Add(i) }

// SeedbedC is the middling temperature of the seedbed on a day of the year,
// over the years on record; NaN where the day is not on it.
func (c *Climate) SeedbedC(day calendar.MonthDay) float64 {
	var temps []float64
	for year := c.start.Year(); year <= c.End().Year(); year++ {
		if i := int(day.In(year) - c.start); i >= 0 && i < len(c.soilC) && c.gaps[i] == c.gaps[i+1] {
			temps = append(temps, c.soilC[i])
		}
	}
	return Quantile(temps, 0.5)
}
