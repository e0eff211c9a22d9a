package web

import (
	"cmp"
	"fmt"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"

	"haulm/internal/app"
	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/unit"
)

// cropPage is one crop: its odds here, its routes, its figures.
type cropPage struct {
	Key, Name, Botanical, Family, Dish string
	Others                             string
	Learnt                             string // how it does in this garden against the book
	Routes                             []routeLine
	Cautions                           []caution
	Facts                              []factGroup
	Standing                           bool // a perennial: not sown each year
	StandsSays                         string

	Ask    oddsForm
	Answer *oddsAnswer
	NoOdds string // why there are none
}

type routeLine struct {
	Name, Usual, Room, When, Raised string
}

// oddsForm is "sown on this day by this route under this cover".
type oddsForm struct {
	Day             int
	Months, Routes  []choice
	Classes, Covers []choice
	DayFault        string
	Route           string // its name
	month           time.Month
	class, routeKey string
	coverKey        string
}

// choice is one line of a list to choose from.
type choice struct {
	Value, Name string
	Chosen      bool
}

// cropShow is one crop's page.
func (p *Pages) cropShow(w http.ResponseWriter, r *http.Request) error {
	c := p.desk.Catalogue.Crop(r.PathValue("key"))
	if c == nil {
		found, err := p.desk.Catalogue.Find(r.PathValue("key"))
		if err != nil {
			return missing(err.Error(), "Look it up in the list of crops.", "/crops")
		}
		return seeOther(w, r, cropHref(found))
	}
	page := cropPage{
		Key: c.Key, Name: c.Name, Botanical: c.Botanical, Family: c.Family, Dish: dishName(c.Dish),
		Others: strings.Join(append(append([]string(nil), c.OtherNames...), c.GenericNames...), ", "),
		Routes: routeLines(c, p.system()), Cautions: cautionsOf(c), Facts: factGroups(c, ""), Standing: c.Perennial,
	}
	if c.Perennial {
		page.StandsSays = p.standsSays(c)
	} else {
		page.Ask = p.oddsForm(c, r)
		if err := p.answerOdds(&page, c); err != nil {
			page.NoOdds = capital(sentence(err.Error()))
		}
	}
	if lesson, ok, err := p.desk.LessonOf(c.Key); err == nil && ok {
		page.Learnt = capital(sentence(lesson.Says))
	}
	return p.show(w, http.StatusOK, "crop.html", sheet{Title: c.Name, Nav: "crops", Body: page})
}

func (p *Pages) system() unit.System {
	if g, err := p.desk.Garden(); err == nil {
		return units(g)
	}
	return unit.Metric
}

func routeLines(c *crop.Crop, u unit.System) []routeLine {
	var out []routeLine
	for _, route := range c.Routes {
		line := routeLine{
			Name: capital(route.Name),
			Room: fmt.Sprintf("%s in the row, rows %s apart", u.Spacing(unit.Centimetre(route.InRowCM)), u.Spacing(unit.Centimetre(route.BetweenRowCM))),
			When: "any time", Raised: "in place",
		}
		if route.Usual {
			line.Usual = "the usual way"
		}
		if route.Raised {
			line.Raised = fmt.Sprintf("under cover, %s–%s weeks", unit.Number(route.RaiseWeeksMin, 0), unit.Number(route.RaiseWeeksMax, 0))
		}
		if from, to, ok := route.Window(); ok {
			line.When = monthDay(&from) + " to " + monthDay(&to)
		}
		out = append(out, line)
	}
	return out
}

// oddsForm reads the question from the address; what cannot be read falls
// back to the usual and is said.
func (p *Pages) oddsForm(c *crop.Crop, r *http.Request) oddsForm {
	usual := c.UsualRoute()
	if by, err := c.Route(r.FormValue("route")); err == nil {
		usual = by
	}
	day := usualStart(usual, p.south())
	f := oddsForm{Day: day.Day, month: day.Month, routeKey: usual.Key, class: cmp.Or(r.FormValue("class"), "mid"), coverKey: r.FormValue("cover")}
	if text := r.FormValue("month"); text != "" {
		if m, err := strconv.Atoi(text); err == nil && m >= 1 && m <= 12 {
			f.month = time.Month(m)
		}
	}
	if text := r.FormValue("day"); text != "" {
		n, err := strconv.Atoi(strings.TrimSpace(text))
		last := calendar.MonthDay{Month: f.month, Day: 31}.In(2000)
		for last.Month() != f.month {
			last--
		}
		if _, _, end := last.Civil(); err != nil || n < 1 || n > end {
			f.DayFault = fmt.Sprintf("%q is no day of %s; write 1 to %d.", text, f.month, end)
		} else {
			f.Day = n
		}
	}
	f.fill(c, p.desk.Catalogue)
	return f
}

func (p *Pages) south() bool {
	g, err := p.desk.Garden()
	return err == nil && g.Site.South()
}

// usualStart is the middle of a route's usual time, half a year on in the
// south; the middle of spring where it has none.
func usualStart(route *crop.Route, south bool) calendar.MonthDay {
	day := calendar.MonthDay{Month: time.April, Day: 15}
	if from, to, ok := route.Window(); ok {
		first, last := from.In(drawnYear), to.In(drawnYear)
		if last < first {
			last = to.In(drawnYear + 1)
		}
		day = calendar.MonthDayOf(first.Add(int(last-first) / 2))
	}
	if south {
		day.Month = (day.Month+5)%12 + 1
	}
	return day
}

// fill lists what can be chosen.
func (f *oddsForm) fill(c *crop.Crop, catalogue *crop.Catalogue) {
	for m := time.January; m <= time.December; m++ {
		f.Months = append(f.Months, choice{strconv.Itoa(int(m)), m.String(), m == f.month})
	}
	for _, route := range c.Routes {
		f.Routes = append(f.Routes, choice{route.Key, route.Name, route.Key == f.routeKey})
		if route.Key == f.routeKey {
			f.Route = route.Name
		}
	}
	if _, ok := c.Class(f.class); !ok {
		f.class = "mid"
	}
	for _, class := range c.Classes {
		f.Classes = append(f.Classes, choice{class.Name, strings.Replace(class.Name, "mid", "middling", 1), class.Name == f.class})
	}
	f.Covers = []choice{{"", "in the open", f.coverKey == ""}}
	for _, cover := range catalogue.Covers() {
		f.Covers = append(f.Covers, choice{cover.Key, "under " + cover.Name, cover.Key == f.coverKey})
	}
}

func (f oddsForm) question(c *crop.Crop) app.GrowQuestion {
	return app.GrowQuestion{
		Crop: c.Key, Route: f.routeKey, Class: f.class, Cover: f.coverKey,
		Start: calendar.MonthDay{Month: f.month, Day: f.Day},
	}
}

func (f oddsForm) href(key string, day calendar.MonthDay) string {
	q := url.Values{"day": {strconv.Itoa(day.Day)}, "month": {strconv.Itoa(int(day.Month))}, "route": {f.routeKey}, "class": {f.class}}
	if f.coverKey != "" {
		q.Set("cover", f.coverKey)
	}
	return "/crops/" + key + "?" + q.Encode() + "#odds"
}
