package reckoning

import (
	"fmt"
	"math"
	"slices"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/grow"
)

// WeatherYear is how the year's weather ranks among the others on record.
type WeatherYear struct {
	Known     bool     `json:"known"` // some of the year is on record
	Estimated bool     `json:"estimated"`
	Years     int      `json:"years"` // compared, this one counted
	Notable   []string `json:"notable"`
	Months    []Month  `json:"months"` // those of the year that are whole
}

// Month is one month of the year among the same months of all years.
type Month struct {
	First    calendar.Date `json:"first"`
	MeanC    float64       `json:"mean_c"`
	MiddleC  float64       `json:"middling_mean_c"`
	WarmRank int           `json:"warm_rank"` // 1 = the warmest
	RainMM   float64       `json:"rain_mm"`
	MiddleMM float64       `json:"middling_rain_mm"`
	WetRank  int           `json:"wet_rank"` // 1 = the wettest
	Of       int           `json:"of_years"`
}

// weatherYear ranks the months and the frosts of the year. A month counts
// where the record, its short gaps mended, has every day of it.
func (in *Input) weatherYear() WeatherYear {
	w := WeatherYear{Notable: []string{}, Months: []Month{}}
	if in.Record == nil {
		return w
	}
	w.Estimated = in.Record.Estimated
	i, there := in.Record.Index(in.from())
	if w.Estimated || !there || math.IsNaN(in.Record.TmaxC[i]) {
		return w
	}
	w.Known = true
	for k := range 12 {
		first := addMonths(in.from(), k)
		if addMonths(first, 1) > in.to().Add(1) {
			break
		}
		if m, ok := in.month(first); ok {
			w.Months = append(w.Months, m)
			w.Years = max(w.Years, m.Of)
			w.Notable = append(w.Notable, m.notable()...)
		}
	}
	w.Notable = append(w.Notable, in.lastFrost()...)
	return w
}

// addMonths is the first day of the month k months on.
func addMonths(first calendar.Date, k int) calendar.Date {
	year, month, _ := first.Civil()
	n := int(month) - 1 + k
	return calendar.On(year+n/12, time.Month(n%12+1), 1)
}

// month ranks the month that begins on first among its like.
func (in *Input) month(first calendar.Date) (Month, bool) {
	var means, rains []float64
	own := -1
	for year := in.Record.Start.Year(); year <= in.Record.End().Year(); year++ {
		from := calendar.On(year, first.Month(), 1)
		mean, rain, ok := in.monthOf(from)
		if !ok || from >= in.Today {
			continue
		}
		if from == first {
			own = len(means)
		}
		means, rains = append(means, mean), append(rains, rain)
	}
	if own < 0 || len(means) < int(rule("weather.least_years")) {
		return Month{}, false
	}
	return Month{First: first, MeanC: means[own], MiddleC: grow.Quantile(means, 0.5), WarmRank: rank(means, own),
		RainMM: rains[own], MiddleMM: grow.Quantile(rains, 0.5), WetRank: rank(rains, own), Of: len(means)}, true
}

// monthOf is the mean temperature and the rain of one month, where every day
// of it is on record.
func (in *Input) monthOf(from calendar.Date) (meanC, rainMM float64, ok bool) {
	rec := in.Record
	to := addMonths(from, 1)
	start, okStart := rec.Index(from)
	_, okEnd := rec.Index(to.Add(-1))
	if !okStart || !okEnd {
		return 0, 0, false
	}
	for i := start; i < start+int(to-from); i++ {
		meanC += (rec.TminC[i] + rec.TmaxC[i]) / 2
		rainMM += rec.RainMM[i]
	}
	return meanC / float64(to-from), rainMM, !math.IsNaN(meanC)
}

// rank is 1 for the largest.
func rank(values []float64, own int) int {
	n := 1
	for _, v := range values {
		if v > values[own] {
			n++
		}
	}
	return n
}

// notable tells of a month near either end of its like.
func (m Month) notable() []string {
	var out []string
	name := m.First.Format("January")
	if words := ranked(m.WarmRank, m.Of, "warmest", "coldest"); words != "" {
		out = append(out, fmt.Sprintf("%s %s of %d: %.1f °C, against %.1f in the middling year", words, name, m.Of, m.MeanC, m.MiddleC))
	}
	if words := ranked(m.WetRank, m.Of, "wettest", "driest"); words != "" && !math.IsNaN(m.RainMM) {
		out = append(out, fmt.Sprintf("%s %s of %d: %.0f mm, against %.0f in the middling year", words, name, m.Of, m.RainMM, m.MiddleMM))
	}
	return out
}

// ranked names a place near either end, "" in between.
func ranked(rank, of int, top, bottom string) string {
	places := []string{"The ", "The second ", "The third "}
	told := min(int(rule("weather.told_ranks")), len(places))
	switch {
	case rank <= told:
		return places[rank-1] + top
	case of-rank < told:
		return places[of-rank] + bottom
	}
	return ""
}

// lastFrost sets the year's last frost of spring among the others.
func (in *Input) lastFrost() []string {
	springs := in.lastFrosts()
	own, mine := springs[in.Year]
	if !mine || own < 0 || in.to() < in.from().Add(springDays) {
		return nil
	}
	delete(springs, in.Year)
	earlier, years := 0, len(springs)
	for _, day := range springs {
		if day < own {
			earlier++
		}
	}
	if years < int(rule("weather.least_years")) {
		return nil
	}
	return []string{fmt.Sprintf("The last spring night at or below %.0f °C came on %s, later than in %d of the %d other years",
		rule("frost.at_c"), short(in.from().Add(own)), earlier, years)}
}

func (in *Input) south() bool { return in.Garden.Site.South() }

// springDays is how long spring can last into the season year: its first
// seven months, as in package weather.
const springDays = 212

// lastFrostOf is how many days into a season year its last frost of spring
// came, -1 for none; false where the record has not all of that spring.
func (in *Input) lastFrostOf(year int) (int, bool) {
	start, ok := in.Record.Index(calendar.SeasonStart(year, in.south()))
	if !ok || start+springDays > in.Record.Days() {
		return 0, false
	}
	last := -1
	for i, low := range in.Record.TminC[start : start+springDays] {
		if math.IsNaN(low) {
			return 0, false
		}
		if low <= rule("frost.at_c") {
			last = i
		}
	}
	return last, true
}

// lastFrosts are those of the season years whose spring is known, as
// lastFrostOf has them.
func (in *Input) lastFrosts() map[int]int {
	out := map[int]int{}
	for year := in.Record.Start.Year(); year <= in.Record.End().Year(); year++ {
		if last, ok := in.lastFrostOf(year); ok {
			out[year] = last
		}
	}
	return out
}

// frostsAfter counts the springs in which a frost came after a day so many days
// into the season year.
func frostsAfter(springs map[int]int, day int) int {
	after := 0
	for _, last := range springs {
		if last > day {
			after++
		}
	}
	return after
}

// safeFrom is the first day of the year's spring after which a frost is left
// in as few years as the rule allows.
func (in *Input) safeFrom(springs map[int]int) calendar.Date {
	for day := range springDays {
		if float64(frostsAfter(springs, day)) <= rule("frost.risk")*float64(len(springs)) {
			return in.from().Add(day + 1)
		}
	}
	return calendar.None
}

// autumnStart is the first day of a season year's colder half: 1 August, in the
// south 1 February, as in package weather.
func (in *Input) autumnStart(year int) calendar.Date {
	const springMonths = 7
	return addMonths(calendar.SeasonStart(year, in.south()), springMonths)
}

// firstFrosts are the dates on which each year on record had the first night at
// or below a temperature of its colder half, up to the date of a day within
// that half or the spring after it; None for none by then. They are told in the
// half that the day itself belongs to.
func (in *Input) firstFrosts(day calendar.Date, atC float64) []calendar.Date {
	own := calendar.SeasonYear(day, in.south())
	if day < in.autumnStart(own) {
		own--
	}
	var firsts []calendar.Date
	for year := in.Record.Start.Year() - 1; year <= in.Record.End().Year(); year++ {
		first := in.autumnStart(year)
		from, begun := in.Record.Index(first)
		to, ended := in.Record.Index(yearsOn(day, year-own))
		if !begun || !ended || slices.ContainsFunc(in.Record.TminC[from:to+1], math.IsNaN) {
			continue
		}
		at := slices.IndexFunc(in.Record.TminC[from:to+1], func(low float64) bool { return low <= atC })
		if at < 0 {
			firsts = append(firsts, calendar.None)
			continue
		}
		firsts = append(firsts, yearsOn(first.Add(at), own-year))
	}
	return firsts
}

// yearsOn is the same date so many years on.
func yearsOn(d calendar.Date, years int) calendar.Date {
	return calendar.MonthDayOf(d).In(d.Year() + years)
}
