package season

import (
	"fmt"
	"math"

	"haulm/internal/calendar"
	"haulm/internal/diary"
	"haulm/internal/soil"
	"haulm/internal/weather"
)

// splice is this year's weather once for every past year: the same days so
// far and the same forecast, then the rest of that year. All of them stand one
// after another in one record, so that each table of package grow is made once
// and not once a year.
//
// Each strand begins on the same day of the year and is some whole years
// long, so that day lengths come out right to a day, and ends in a day without
// weather, over which no course runs.
type splice struct {
	record *weather.Record
	lead   calendar.Date // the real day on which every strand begins
	bases  []calendar.Date
	past   []calendar.Date // of each strand, the real day on which its own past begins
	etMM   []float64

	measured calendar.Date // last day that is this year's own; None
	forecast calendar.Date // last day of the forecast; None
	todayAt  int           // days from the start of a strand
	days     int           // usable in every strand
}

// runInDays lets the soil's temperature settle before anything is sown.
const runInDays = 14

// reachDays is how far beyond today a strand reaches at least.
const reachDays = 351

// fewestYears is how many past years odds are made of at least.
const fewestYears = 5

// newSplice joins the weather for plantings of which the first was begun on
// from.
func newSplice(in *Input, from calendar.Date) (*splice, error) {
	s := &splice{lead: from.Add(-runInDays), measured: calendar.None, forecast: calendar.None}
	md := calendar.MonthDayOf(s.lead)
	if md.Month == 2 && md.Day == 29 {
		s.lead, md.Day = s.lead.Add(-1), 28
	}
	s.todayAt = int(in.Today - s.lead)
	span := (s.todayAt + reachDays + 364) / 365 // whole years
	own := ownDays(in, s, span)
	past := s.pastYears(in, md, span)
	if len(past) < fewestYears {
		return nil, fmt.Errorf("the weather record has %d past years that reach from %s on for most of a year; at least %d are needed: give the garden a longer record",
			len(past), in.Today.Format("2 January"), fewestYears)
	}
	s.lay(in, md, span, own, past)
	return s, nil
}

// pastYears are the real days on which the strands' own past begins: years of
// which the record has most of the rest.
func (s *splice) pastYears(in *Input, md calendar.MonthDay, span int) []calendar.Date {
	const mostOfAYear = 300
	var out []calendar.Date
	for year := s.lead.Year() - 1; year >= in.Record.Start.Year(); year-- {
		base := md.In(year)
		a, okA := in.Record.Index(base)
		b, okB := in.Record.Index(base.Add(s.todayAt + mostOfAYear))
		if !okA || !okB || base.Add(s.todayAt+mostOfAYear) >= in.Today {
			continue
		}
		if whole(in.Record, a, b) {
			out = append(out, base)
		}
	}
	return out
}

// whole says whether the days of a record from a until b all have a low and a
// high.
func whole(r *weather.Record, a, b int) bool {
	for i := a; i < b; i++ {
		if math.IsNaN(r.TminC[i]) || math.IsNaN(r.TmaxC[i]) {
			return false
		}
	}
	return true
}

// dayWeather is one day's weather; NaN is what is not known.
type dayWeather struct {
	low, high, rain, sun, humidity, wind float64
	known                                bool
}

func dayOf(r *weather.Record, i int) dayWeather {
	d := dayWeather{low: r.TminC[i], high: r.TmaxC[i], rain: r.RainMM[i], sun: at(r.SunMJ, i), humidity: at(r.HumidityPC, i), wind: at(r.WindMS, i)}
	d.known = !math.IsNaN(d.low) && !math.IsNaN(d.high)
	return d
}

func at(days []float64, i int) float64 {
	if days == nil {
		return math.NaN()
	}
	return days[i]
}

// ownDays is this year's own weather by days from lead: measured, forecast,
// and what the gardener read off gauge and thermometer.
func ownDays(in *Input, s *splice, span int) []dayWeather {
	own := make([]dayWeather, span*366)
	for k := range own {
		d := s.lead.Add(k)
		if i, ok := in.Record.Index(d); ok && d < in.Today {
			own[k] = dayOf(in.Record, i)
			if own[k].known {
				s.measured = d
			}
		}
	}
	if in.Forecast != nil {
		for _, f := range in.Forecast.Days {
			k := int(f.Date - s.lead)
			if k < 0 || k >= len(own) || f.Date < in.Today || !f.Whole() && f.Date > in.Today {
				continue
			}
			own[k] = dayWeather{low: f.TminC, high: f.TmaxC, rain: f.RainMM, sun: math.NaN(), humidity: f.HumidityPC, wind: f.WindMS, known: true}
			s.forecast = f.Date
		}
	}
	readGauges(in.Diary, s.lead, in.Today, own)
	return own
}

// readGauges puts the gardener's own readings over the station's.
func readGauges(entries []diary.Entry, lead, today calendar.Date, own []dayWeather) {
	gauged := map[int]bool{}
	for _, e := range entries {
		k := int(e.Day - lead)
		if k < 0 || k >= len(own) || e.Day > today || !own[k].known {
			continue
		}
		switch e.Kind {
		case diary.Rain:
			if !gauged[k] {
				own[k].rain = 0
			}
			gauged[k] = true
			own[k].rain += e.RainMM()
		case diary.Low:
			own[k].low = e.TempC()
			own[k].high = math.Max(own[k].high, own[k].low)
		}
	}
}

// lay writes the strands one after another.
func (s *splice) lay(in *Input, md calendar.MonthDay, span int, own []dayWeather, past []calendar.Date) {
	first := s.lead.Year()
	s.bases, s.past = make([]calendar.Date, len(past)), past
	start, end := md.In(first), md.In(first+span*len(past))
	r := blank(in.Record, start, int(end-start))
	s.days = math.MaxInt
	for n, from := range past {
		s.bases[n] = md.In(first + n*span)
		days := int(md.In(first+(n+1)*span) - s.bases[n])
		s.days = min(s.days, days)
		offset := int(s.bases[n] - start)
		for k := range days - 1 { // the last day stays unknown, so that nothing grows on into the next strand
			d := dayWeather{}
			if k < len(own) {
				d = own[k]
			}
			if !d.known {
				if i, ok := in.Record.Index(from.Add(k)); ok && from.Add(k) < in.Today {
					d = dayOf(in.Record, i)
				}
			}
			if d.known {
				put(r, offset+k, d)
			}
		}
	}
	s.record = r
	s.etMM = soil.Daily(r)
}

// blank is a record of missing days with the site of r.
func blank(r *weather.Record, start calendar.Date, days int) *weather.Record {
	out := &weather.Record{
		Name: r.Name, Site: r.Site, Start: start, TminC: unknown(days), TmaxC: unknown(days), RainMM: unknown(days),
		HumidityPC: unknown(days), WindMS: unknown(days),
	}
	if r.SunMJ != nil {
		out.SunMJ = unknown(days)
	}
	return out
}

func put(r *weather.Record, i int, d dayWeather) {
	r.TminC[i], r.TmaxC[i], r.RainMM[i], r.HumidityPC[i], r.WindMS[i] = d.low, d.high, d.rain, d.humidity, d.wind
	if r.SunMJ != nil {
		r.SunMJ[i] = d.sun
	}
}

// years is the number of strands.
func (s *splice) years() int { return len(s.bases) }

// on is the day of strand n that stands for a real day.
func (s *splice) on(n int, real calendar.Date) calendar.Date { return s.bases[n] + (real - s.lead) }

// real is the real day that a day of strand n stands for.
func (s *splice) real(n int, day calendar.Date) calendar.Date {
	if !day.Known() {
		return calendar.None
	}
	return s.lead + (day - s.bases[n])
}

// index is where a real day of strand n stands in the record, and whether it
// has weather.
func (s *splice) index(n int, real calendar.Date) (int, bool) {
	k := int(real - s.lead)
	i := int(s.bases[n]-s.record.Start) + k
	return i, k >= 0 && k < s.days && !math.IsNaN(s.record.TminC[i])
}
