package soil

import (
	"math"

	"haulm/internal/calendar"
	"haulm/internal/sun"
	"haulm/internal/weather"
)

// Daily is the reference evapotranspiration of every day of a record, mm, by
// the best method each day allows (see referenceET); NaN where the day's
// temperatures are missing.
func Daily(r *weather.Record) []float64 {
	out := make([]float64, r.Days())
	eachDay(r, func(i int, d DayWeather, s Setting, extraterrestrialMJ, dayLengthH float64) {
		out[i], _ = referenceET(d, s, extraterrestrialMJ, dayLengthH)
	})
	return out
}

// SolarMJ is the global radiation of every day of a record, MJ/m2: as measured
// where it was, else by the range of temperature (eq 50, never above the clear
// sky); NaN where neither is there.
func SolarMJ(r *weather.Record) []float64 {
	out := make([]float64, r.Days())
	eachDay(r, func(i int, d DayWeather, s Setting, extraterrestrialMJ, dayLengthH float64) {
		out[i] = d.solarMJ(s, extraterrestrialMJ, dayLengthH)
	})
	return out
}

func eachDay(r *weather.Record, visit func(i int, d DayWeather, s Setting, extraterrestrialMJ, dayLengthH float64)) {
	setting, year := SettingOf(r), sun.YearAt(r.Site.LatDeg)
	left, yearDay := 0, 0
	for i := range r.Days() {
		if left == 0 { // the calendar is asked once a year
			date := r.Start.Add(i)
			yearDay = date.YearDay()
			left = calendar.DaysIn(date.Year()) + 1 - yearDay
		}
		d := Unmeasured(yearDay)
		d.MinC, d.MaxC = r.TminC[i], r.TmaxC[i]
		d.SolarMJ, d.HumidMeanPC, d.WindMS = at(r.SunMJ, i), at(r.HumidityPC, i), at(r.WindMS, i)
		visit(i, d, setting, year.ExtraterrestrialMJ[yearDay-1], year.DayLengthH[yearDay-1])
		yearDay++
		left--
	}
}

func at(optional []float64, i int) float64 {
	if optional == nil {
		return math.NaN()
	}
	return optional[i]
}
