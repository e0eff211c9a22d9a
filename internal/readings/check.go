package readings

import (
	"fmt"
	"math"

	"haulm/internal/sun"
	"haulm/internal/weather"
)

// radiationSlackMJ is how far a day's radiation may stand above what reaches
// the top of the air before it is called impossible: the zero offset of a
// pyranometer, up to some 7 W/m2 (ISO 9060, class B), is 0.6 MJ a day.
const radiationSlackMJ = 0.6

// checkDays leaves out values that cannot stand beside each other.
func (b *builder) checkDays() {
	b.each(func(at day) {
		low, high := at.value(weather.Tmin), at.value(weather.Tmax)
		if low > high {
			b.report.reject(int(at.block.line[weather.Tmin][at.index]), at.date,
				fmt.Sprintf("minimum %.1f °C is above maximum %.1f °C: both left out", low, high))
			at.drop(weather.Tmin)
			at.drop(weather.Tmax)
		}
		if !b.report.HasSite {
			return
		}
		top := sun.ExtraterrestrialMJ(b.rec.Site.LatDeg, at.date.YearDay()) + radiationSlackMJ
		if mj := at.value(weather.Sunshine); mj > top {
			b.report.reject(int(at.block.line[weather.Sunshine][at.index]), at.date,
				fmt.Sprintf("radiation %.1f MJ/m² is more than the %.1f that the sun can send at this latitude on this day: left out", mj, top))
			at.drop(weather.Sunshine)
		}
	})
}

// Too many impossible values are not slips but a wrong unit.
const (
	slipShare     = 0.05 // of at least minForUnits values
	minForUnits   = 10
	wetterThanAny = 15000 // mm a year; the wettest places known have about 12,000
)

// checkUnits refuses a file whose values plainly are in another unit than its
// columns say.
func (b *builder) checkUnits() error {
	for v := range weather.Variables {
		if b.seen[v] < minForUnits || float64(b.beyond[v]) <= slipShare*float64(b.seen[v]) {
			continue
		}
		share := 100 * b.beyond[v] / b.seen[v]
		advice := "mend the unit in the header"
		if v <= weather.Tmax {
			advice = "if they are °F, name the columns tmin_f and tmax_f; if they are tenths of a degree, divide them by ten"
		}
		return fmt.Errorf("%d %% of the %s values cannot be %s, so the unit is wrong; %s", share, weather.Limits[v].Name, weather.Limits[v].Unit, advice)
	}
	return nil
}

// checkMeans catches a wrong unit that only a year's values together betray.
func (b *builder) checkMeans() error {
	if n, mean := known(b.rec.RainMM); n >= 360 && mean*365 > wetterThanAny {
		return fmt.Errorf("rain adds up to %.0f mm a year, more than falls anywhere; if the values are mm, name the column rain_mm", mean*365)
	}
	n, mean := known(b.rec.TmaxC)
	top := math.Inf(-1)
	for _, x := range b.rec.TmaxC {
		if x > top {
			top = x
		}
	}
	if b.fahrenheit && n >= 360 && top < 12 && mean < 5 {
		return fmt.Errorf("no day of the record is above %.0f °F; if the values are °C, name the columns tmin_c and tmax_c", top*9/5+32)
	}
	return nil
}

// known is how many days have a value, and their mean.
func known(days []float64) (n int, mean float64) {
	for _, x := range days {
		if !math.IsNaN(x) {
			n++
			mean += x
		}
	}
	return n, mean / math.Max(1, float64(n))
}
