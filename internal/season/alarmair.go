package season

import (
	_ "embed"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"haulm/internal/calendar"
	"haulm/internal/garden"
	"haulm/internal/graded"
)

// heat tells days too hot to set fruit, in flower.
func (g *grower) heat(s *Standing) []Alarm {
	limit := s.Crop.Heat.SetStopsMaxC
	if limit <= 0 || s.Stage != Flowering && s.Stage != Picking || g.in.Forecast == nil {
		return nil
	}
	cover, _ := g.in.Catalogue.Cover(s.Place.Cover)
	need, run := int(rule("alarm.heat_days")), 0
	for _, d := range g.in.Forecast.Days {
		if d.Date < g.in.Today || !(d.TmaxC+cover.MeanC > limit) {
			run = 0
			continue
		}
		if run++; run < need {
			continue
		}
		do := "Water in the evening, shade at noon with fleece or netting, and pick small: flowers opening now drop."
		if cover.Key != "" {
			do = "Open every door and light, damp the floor, shade the glass: flowers opening now drop."
		}
		return []Alarm{s.alarm(HeatStop, d.Date, Alarm{
			Rule:    fmt.Sprintf("flowers do not set above %s by day", g.say().temp(limit)),
			Numbers: fmt.Sprintf("%d days in a row above it, %s on %s%s", run, g.say().temp(d.TmaxC), d.Date.Format("2 January"), g.underCover(cover.Key, cover.MeanC)),
			Source:  factSource(s, "heat.set_stops_max_c", "catalogue"), Risk: 0.1, Do: do,
			Says: fmt.Sprintf("It gets too hot for %s to set: a gap in the picking follows in two to three weeks.", s.Name),
		})}
	}
	return nil
}

func (g *grower) underCover(key string, meanC float64) string {
	if key == "" {
		return ""
	}
	return fmt.Sprintf(", and about %s more under %s", g.say().warmth(meanC), key)
}

// factSource is where a fact of the crop comes from; otherwise where the crop
// has none of the name.
func factSource(s *Standing, name, otherwise string) string {
	if f, ok := s.Crop.Fact(name); ok {
		return fmt.Sprintf("%s, grade %s", f.Source, f.Grade)
	}
	return otherwise
}

// gale tells wind that fells tall crops.
func (g *grower) gale(s *Standing) []Alarm {
	if !s.Crop.Tall || g.in.Forecast == nil || s.Share < 0.3 || sheltered(s.Place.Cover) {
		return nil
	}
	for _, d := range g.in.Forecast.Days {
		if d.Date < g.in.Today || !(d.WindMS >= rule("alarm.gale_ms")) {
			continue
		}
		return []Alarm{s.alarm(Gale, d.Date, Alarm{
			Rule:    fmt.Sprintf("crops over %.1f m lean or break when the day's mean wind reaches %.0f m/s at 2 m", g.in.Catalogue.Constants.TallFromM, rule("alarm.gale_ms")),
			Numbers: fmt.Sprintf("forecast mean %.0f m/s on %s; gusts may be three times that", d.WindMS, d.Date.Format("2 January")),
			Source:  Rules()["alarm.gale_ms"].Basis(), Risk: 0.25, Task: "support",
			TaskTitle: "Tie in " + s.name() + " and check the canes",
			Do:        "Tie in, push stakes home, pick what is ready; take down loose netting.",
			Says:      fmt.Sprintf("A gale on %s can fell %s.", d.Date.Format("2 January"), s.Name),
			Cautions:  []string{"Cap canes at eye height."},
		})}
	}
	return nil
}

// sheltered says whether a cover keeps the wind off.
func sheltered(cover string) bool {
	return slices.Contains([]string{"frame", "tunnel", "greenhouse"}, cover)
}

//go:embed data/flights.csv
var flightsCSV string

// flight is a pest whose flight is told by day-degrees.
type flight struct {
	pest                    string
	baseC, capC, needCDay   float64
	from                    calendar.MonthDay
	crops, rotation         []string
	do, rule, source, grade string
	beforeCDay              float64
}

var flights = sync.OnceValue(func() []flight {
	var out []flight
	for i, row := range graded.MustRows("season: flights", flightsCSV) {
		is := row.Cells
		f := flight{pest: is[0], crops: split(is[5]), rotation: split(is[6]), do: is[8], source: is[9], grade: is[10], rule: is[7]}
		row.Numbers(1, &f.baseC, &f.capC, &f.needCDay, &f.beforeCDay)
		md, err := calendar.ParseMonthDay(is[11])
		if err != nil {
			panic(fmt.Sprintf("season: flights row %d: %v", i+1, err))
		}
		f.from = md
		out = append(out, f)
	}
	return out
})

func split(s string) []string {
	if s == "" {
		return nil
	}
	return strings.Split(s, "|")
}

// flights tells the degree-day flights that reach a planting about now.
func (g *grower) flights(s *Standing) []Alarm {
	if s.Place.Kind == garden.Pots || sheltered(s.Place.Cover) || s.deeds.covered || g.in.Garden.Site.South() {
		return nil // the published dates of counting are northern
	}
	var out []Alarm
	for i := range flights() {
		f := &flights()[i]
		if !slices.Contains(f.crops, s.Crop.Key) && !slices.Contains(f.rotation, s.Crop.RotationGroup) {
			continue
		}
		sum, reached, ok := g.dayDegrees(f)
		if !ok || sum < f.beforeCDay || reached.Known() && float64(g.in.Today-reached) > rule("alarm.flight_days") {
			continue
		}
		out = append(out, s.alarm(Flight, g.in.Today, Alarm{
			ID: fmt.Sprintf("%s %d %s", f.pest, g.in.Today.Year(), s.Key), Rule: f.rule,
			Numbers: fmt.Sprintf("%.0f of %.0f day-degrees (°C) above %s so far", sum, f.needCDay, g.say().temp(f.baseC)), Source: f.source + ", grade " + f.grade,
			Risk: 0.2, Do: f.do, Says: flightSays(f, s, sum, reached),
		}))
	}
	return out
}

func flightSays(f *flight, s *Standing, sum float64, reached calendar.Date) string {
	if reached.Known() {
		return fmt.Sprintf("%s should be flying since about %s: %s is at risk.", f.pest, reached.Format("2 January"), s.Name)
	}
	return fmt.Sprintf("%s will fly soon (%.0f %% of its warmth is there): %s is at risk.", f.pest, 100*sum/f.needCDay, s.Name)
}

// dayDegrees sums a pest's day-degrees by the mean method from its own day of
// this year until yesterday, and tells when they were enough.
func (g *grower) dayDegrees(f *flight) (sum float64, reached calendar.Date, ok bool) {
	reached = calendar.None
	from := f.from.In(g.in.Today.Year())
	if from > g.in.Today {
		return 0, reached, false
	}
	for day := from; day < g.in.Today; day++ {
		i, known := g.in.Record.Index(day)
		if !known || math.IsNaN(g.in.Record.TminC[i]) {
			return 0, reached, false // no day-degrees without this year's own weather
		}
		sum += dayDegrees(g.in.Record.TminC[i], g.in.Record.TmaxC[i], f.baseC, f.capC)
		if sum >= f.needCDay && !reached.Known() {
			reached = day
		}
	}
	return sum, reached, true
}
