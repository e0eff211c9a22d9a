package web

import (
	"fmt"
	"math"
	"net/http"
	"strconv"
	"strings"

	"haulm/internal/app"
	"haulm/internal/crop"
	"haulm/internal/reckoning"
	"haulm/internal/unit"
)

// yearPage is a year's end.
type yearPage struct {
	Year, Span, Total string
	Wrote             string // what was done just now
	CanReopen         bool   // the last change to the garden closed this year
	Closed, Whole     bool
	Kept              bool
	Lines             int
	Land              string // the hurdle, in words
	Crops             []yearCrop
	Waiting           string // crops of which nothing was picked yet
	MassUnit          string // kg/m², or lb/sq ft
	AreaUnit          string
	ByTheBook         bool // some minutes are the catalogue's
	Losses            []string
	NotBegun          string
	Changes           []reckoning.Change
	Notable           []string
	WeatherDoubt      string
	Others            []yearLink
	NextHref          string
	Next              int
}

// yearCrop is one crop's account in words.
type yearCrop struct {
	Href, Name                       string
	Area, Came, Forecast             string
	PerM2, PortionsPerM2             string
	MinutesPerM2, PerHour            string
	Picked, Verdict, Why             string
	Earned, NotEarned, MinutesByBook bool
}

type yearLink struct {
	Href string
	Year int
}

// yearShow is a year's end, or how far the year has come.
func (p *Pages) yearShow(w http.ResponseWriter, r *http.Request) error {
	year, err := yearAsked(r)
	if err != nil {
		return err
	}
	g, err := p.desk.Garden()
	if err != nil {
		return err
	}
	answer, err := p.desk.Reckon(year)
	if err != nil {
		return missing(err.Error(), "Choose a year that has begun.", "/year")
	}
	page := newYearPage(answer, units(g))
	page.Kept = p.desk.Kept()
	if err := p.yearLinks(&page, answer.Year); err != nil {
		return err
	}
	switch {
	case r.FormValue("begun") != "" && page.Closed:
		page.Wrote = fmt.Sprintf("%d is closed and %d begins: the rotation’s history is filled in.", answer.Year, answer.Year+1)
	case r.FormValue("undone") != "":
		page.Wrote = fmt.Sprintf("%d is open again, with its garden and its plan.", answer.Year)
	}
	return p.show(w, http.StatusOK, "year.html", sheet{Title: "The year " + page.Year, Nav: "diary", Body: page})
}

// yearAsked is the year in the address; 0 where it names none.
func yearAsked(r *http.Request) (int, error) {
	text := r.PathValue("year")
	if text == "" {
		text = r.FormValue("year")
	}
	if text == "" {
		return 0, nil
	}
	year, err := strconv.Atoi(text)
	if err != nil || year < 1900 || year > 2200 {
		return 0, missing(fmt.Sprintf("%q is no year of a garden", text), "Look at this year’s end.", "/year")
	}
	return year, nil
}

// yearLinks are the other years, and whether closing this one can be undone.
func (p *Pages) yearLinks(page *yearPage, year int) error {
	years, err := p.desk.Years()
	if err != nil {
		return err
	}
	for _, y := range years {
		if y != year {
			page.Others = append(page.Others, yearLink{"/year/" + strconv.Itoa(y), y})
		}
	}
	opens, err := p.desk.UndoOpensYear()
	page.CanReopen = err == nil && opens == year
	return err
}

func newYearPage(a *app.YearAnswer, u unit.System) yearPage {
	page := yearPage{
		Year: strconv.Itoa(a.Year), Span: capital(app.YearSpan(a)), Total: yearTotal(a, u), Closed: a.ClosedOn.Known(), Whole: a.Whole, Lines: a.Lines,
		NotBegun: unit.Listed(a.NotBegun), Changes: a.Changes, Losses: app.LossWords(a.Losses), Notable: a.Weather.Notable,
		WeatherDoubt: capital(strings.ReplaceAll(app.YearWeatherDoubt(&a.Weather), "'", "’")), NextHref: "/year/next?year=" + strconv.Itoa(a.Year), Next: a.Year + 1,
	}
	if a.LandPortions > 0 {
		page.Land = fmt.Sprintf("The plan meant each square metre to give %s portions a week on the mean, idle ground counted. A crop that gave as much for the ground and the weeks that it took earned its room; below half of that it did not. A mean is no marginal worth: a favourite may be worth more than its portions.",
			unit.Number(a.LandPortions, 2))
	}
	page.MassUnit, page.AreaUnit = "kg/m²", "m²"
	if u == unit.Imperial {
		page.MassUnit, page.AreaUnit = "lb/sq ft", "sq ft"
	}
	var waiting []string
	for i := range a.Crops {
		if c := &a.Crops[i]; c.Verdict == reckoning.TooEarly && c.Picks == 0 {
			waiting = append(waiting, crop.InSentence(c.Name)+" ("+areaWords(c.AreaM2, u)+")")
			continue
		}
		c := newYearCrop(&a.Crops[i], u)
		page.ByTheBook = page.ByTheBook || c.MinutesByBook
		page.Crops = append(page.Crops, c)
	}
	page.Waiting = unit.Listed(waiting)
	return page
}

func yearTotal(a *app.YearAnswer, u unit.System) string {
	if u == unit.Metric {
		return strings.ReplaceAll(app.YearTotal(a), "'", "’")
	}
	s := fmt.Sprintf("%s came from %s, %s portions.", u.Mass(unit.Kilogram(a.Kg)), areaWords(a.GroundM2, u), count(a.Portions))
	if f := a.ForecastKg; f.P50 > 0 {
		s += fmt.Sprintf(" Forecast by then of what was begun: %s, in eight years of ten.", massOdds(f, u))
	}
	return s
}

// squareFeet are in one square metre.
var squareFeet = math.Pow(float64(unit.Metre(1).Feet()), 2)

// areaWords is an area in the household's units.
func areaWords(m2 float64, u unit.System) string {
	if u == unit.Imperial {
		return unit.Number(m2*squareFeet, 0) + " sq ft"
	}
	return unit.Number(m2, 1) + " m²"
}

// perArea is an amount a square metre in the household's units.
func perArea(perM2 float64, u unit.System) float64 {
	if u == unit.Imperial {
		return perM2 / squareFeet
	}
	return perM2
}

func newYearCrop(a *reckoning.Account, u unit.System) yearCrop {
	c := yearCrop{
		Href: "/crops/" + a.Key, Name: a.Name, Area: "–", Came: u.Mass(unit.Kilogram(a.Kg)), Forecast: "–", PerM2: "–", PortionsPerM2: "–", MinutesPerM2: "–", PerHour: "–",
		Verdict: string(a.Verdict), Why: capital(sentence(a.Why)), Earned: a.Verdict == reckoning.Earned, NotEarned: a.Verdict == reckoning.NotEarned || a.Verdict == reckoning.Nothing,
	}
	if a.AreaM2 > 0 {
		c.Area = areaWords(a.AreaM2, u)
		mass := a.KgPerM2
		if u == unit.Imperial {
			mass = float64(unit.Kilogram(a.KgPerM2).Pounds())
		}
		c.PerM2, c.PortionsPerM2 = unit.Number(perArea(mass, u), 2), unit.Number(perArea(a.PortionsPerM2, u), 1)
		c.MinutesPerM2 = unit.Number(perArea(a.MinutesPerM2, u), 1)
		c.MinutesByBook = a.NotedMinutes == 0
	}
	if a.PortionsPerH > 0 {
		c.PerHour = unit.Number(a.PortionsPerH, 0)
	}
	if f := a.Forecast; f != nil {
		c.Forecast = massOdds(*f, u)
	}
	c.Picked = pickedWords(a)
	return c
}

// massOdds is a weight in the middling year, with eight years of ten.
func massOdds(f reckoning.Odds, u unit.System) string {
	const nothing = 0.05 // kg; shown as 0
	if f.P90 < nothing {
		return "none by then"
	}
	name, of := "kg", func(kg float64) string { return unit.Number(kg, 1) }
	if u == unit.Imperial {
		name, of = "lb", func(kg float64) string { return unit.Number(float64(unit.Kilogram(kg).Pounds()), 1) }
	}
	return fmt.Sprintf("%s %s (%s–%s)", of(f.P50), name, of(f.P10), of(f.P90))
}

// pickedWords is when it was picked, and when that was forecast.
func pickedWords(a *reckoning.Account) string {
	var words []string
	switch {
	case !a.FirstPick.Known():
	case a.FirstPick == a.LastPick:
		words = append(words, "picked "+dayShort(a.FirstPick))
	default:
		words = append(words, "picked "+dayShort(a.FirstPick)+" to "+dayShort(a.LastPick))
	}
	if o := a.FirstOdds; o.P10.Known() && o.P90.Known() {
		words = append(words, "first forecast for "+dayShort(o.P10)+"–"+dayShort(o.P90))
	}
	if a.Unweighed > 0 {
		words = append(words, counted(a.Unweighed, "picking", "pickings")+" without a weight")
	}
	return capital(strings.Join(words, "; "))
}
