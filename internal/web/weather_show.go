package web

import (
	"fmt"
	"html/template"
	"net/http"
	"strconv"

	"haulm/internal/app"
	"haulm/internal/calendar"
	"haulm/internal/figure"
	"haulm/internal/unit"
	"haulm/internal/weather"
)

// weatherPage is the record and what it says of frost.
type weatherPage struct {
	Estimated  bool
	Name       string
	Source     string
	Site       string
	Span, Days string
	Gaps       []string
	LeftOut    string
	Report     *recordReport
	Ahead      forecastForm
	Hours      hoursForm
	Frost      template.HTML
	AtC        string
	Sentence   string
	Thresholds []frostLine
}

// frostLine is the odds of one temperature.
type frostLine struct {
	AtC, Href               string
	Chosen                  bool
	Spring10, Spring50, S90 string
	Autumn10, Autumn50, A90 string
	Free                    string
	Without                 string
}

// thresholdsC are the temperatures told of, with what they mean outdoors
// (common practice): touch of frost on the grass, air frost, hard frost.
var thresholdsC = []float64{2, 0, -2, -4, -6, -8}

// weatherShow is the weather page.
func (p *Pages) weatherShow(w http.ResponseWriter, r *http.Request) error {
	return p.showWeather(w, r, http.StatusOK, "")
}

// showWeather is the weather page, with what was wrong with hours sent to it.
func (p *Pages) showWeather(w http.ResponseWriter, r *http.Request, status int, hoursFault string) error {
	g, err := p.desk.Garden()
	if err != nil {
		return err
	}
	record, err := p.desk.Weather()
	if err != nil {
		return err
	}
	atC := 0.0
	if text := r.FormValue("at"); text != "" {
		if atC, err = strconv.ParseFloat(text, 64); err != nil || !(atC >= -40 && atC <= 20) {
			return invalid(fmt.Sprintf("%q is no temperature to ask for", text), "Ask for one from −40 to 20 °C.", "/weather")
		}
	}
	page := p.weatherPage(record, atC, units(g))
	page.Ahead = p.forecastForm(g, "/weather")
	if page.Hours, err = p.hoursForm(r); err != nil {
		return err
	}
	page.Hours.Fault = hoursFault
	return p.show(w, status, "weather.html", sheet{Title: "Weather", Nav: "weather", Body: page})
}

func (p *Pages) weatherPage(record *app.Weather, atC float64, u unit.System) weatherPage {
	rec := record.Measured
	frost := record.Frost(app.FrostQuestion{AtC: atC})
	page := weatherPage{
		Estimated: rec.Estimated, Name: rec.Name, Source: capital(sentence(rec.Source)), AtC: u.Temp(unit.Celsius(atC)),
		Site: siteWords(rec.Site), Span: dayLong(rec.Start) + " to " + dayLong(rec.End().Add(-1)), Days: count(float64(rec.Days())),
		Gaps: gapWords(app.DescribeRecord(rec, nil, record.Gaps)), LeftOut: yearWords(record.Gaps.LeftOut()),
		Sentence: frostSentence(frost, u), Report: p.lastReport(),
	}
	wide := frostFigure(frost)
	narrow := wide
	narrow.WidthPX = phonePX
	page.Frost = block(wide, narrow, 2)
	for _, at := range thresholdsC {
		page.Thresholds = append(page.Thresholds, frostLineOf(record.Frost(app.FrostQuestion{AtC: at}), at == atC, u))
	}
	return page
}

func siteWords(s weather.Site) string {
	ns, ew, lat, lon := "N", "E", s.LatDeg, s.LonDeg
	if lat < 0 {
		ns, lat = "S", -lat
	}
	if lon < 0 {
		ew, lon = "W", -lon
	}
	return fmt.Sprintf("%.2f° %s, %.2f° %s, %s m above the sea", lat, ns, lon, ew, unit.Number(s.ElevM, 0))
}

func gapWords(a app.RecordAnswer) []string {
	var out []string
	for _, gap := range []struct {
		days int
		what string
	}{{a.MissingTmin, "lack a night minimum"}, {a.MissingTmax, "lack a day maximum"}, {a.MissingRain, "lack rain"}} {
		if gap.days > 0 {
			out = append(out, counted(gap.days, "day", "days")+" "+gap.what)
		}
	}
	return out
}

func yearWords(years []int) string {
	var words []string
	for _, y := range years {
		words = append(words, strconv.Itoa(y))
	}
	return unit.Listed(words)
}

func frostSentence(f app.FrostAnswer, u unit.System) string {
	at := u.Temp(unit.Celsius(f.AtC))
	switch {
	case f.Years == 0:
		return "No year on record is whole enough to tell of frost."
	case f.LastSpring.P50 == nil && f.FirstAutumn.P50 == nil:
		return fmt.Sprintf("%s or below came in too few of %d years to tell odds.", at, f.Years)
	}
	say := ""
	if f.LastSpring.P50 != nil {
		say = fmt.Sprintf("The last night at %s or below is past by %s in half the years", at, monthDay(f.LastSpring.P50))
		if f.LastSpring.P90 != nil {
			say += " and by " + monthDay(f.LastSpring.P90) + " in nine of ten"
		}
		say += ". "
	}
	if f.FirstAutumn.P50 != nil {
		say += "The first of autumn has come by " + monthDay(f.FirstAutumn.P50) + " in half"
		if f.FirstAutumn.P10 != nil {
			say += ", by " + monthDay(f.FirstAutumn.P10) + " in one year of ten"
		}
		say += "."
	}
	return say
}

func frostLineOf(f app.FrostAnswer, chosen bool, u unit.System) frostLine {
	line := frostLine{
		AtC: u.Temp(unit.Celsius(f.AtC)), Href: "/weather?at=" + strconv.FormatFloat(f.AtC, 'f', -1, 64) + "#frost", Chosen: chosen,
		Spring10: monthDay(f.LastSpring.P10), Spring50: monthDay(f.LastSpring.P50), S90: monthDay(f.LastSpring.P90),
		Autumn10: monthDay(f.FirstAutumn.P10), Autumn50: monthDay(f.FirstAutumn.P50), A90: monthDay(f.FirstAutumn.P90),
		Free: "–", Without: fmt.Sprintf("%d of %d", f.YearsWithoutFrost, f.Years),
	}
	if f.FrostFreeDays != nil {
		line.Free = fmt.Sprintf("%d–%d", f.FrostFreeDays.P10, f.FrostFreeDays.P90)
	}
	return line
}

// frostFigure lays the years on one season year.
func frostFigure(f app.FrostAnswer) figure.FrostOdds {
	south := f.Odds.South
	from := calendar.SeasonStart(drawnYear, south)
	out := figure.FrostOdds{
		Frame: figure.Frame{ID: "frost"}, From: from, ThresholdC: f.AtC, Estimated: f.Estimated,
		Spring: frostDates(f.LastSpring, from), Autumn: frostDates(f.FirstAutumn, from),
	}
	for _, y := range f.Odds.Years {
		if !y.SpringKnown || !y.AutumnKnown {
			continue
		}
		out.Years = append(out.Years, figure.FrostYear{
			Year: y.Year, Start: calendar.SeasonStart(y.Year, south), LastSpring: y.LastSpring, FirstAutumn: y.FirstAutumn,
		})
	}
	return out
}

func frostDates(o app.MonthDayOdds, from calendar.Date) figure.FrostDates {
	day := func(md *calendar.MonthDay) calendar.Date {
		if md == nil {
			return noDay
		}
		d := md.In(from.Year())
		if d < from {
			d = md.In(from.Year() + 1)
		}
		return d
	}
	return figure.FrostDates{P10: day(o.P10), P50: day(o.P50), P90: day(o.P90)}
}
