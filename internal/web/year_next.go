package web

import (
	"fmt"
	"net/http"

	"haulm/internal/calendar"
	"haulm/internal/garden"
	"haulm/internal/reckoning"
	"haulm/internal/unit"
)

// nextPage is the garden with which the next year would begin.
type nextPage struct {
	Year, Next int
	Whole      bool
	Unnoted    bool // of some line
	Grown      []nextLine
	Stands     []nextLine
	Stores     []nextStore
	Notes      []string
	Kept       bool
	Fault      string
	Mark       string // of the lines, to tell them from others
}

type nextLine struct {
	Name, Words string
	No          int
	Unnoted     bool // of a diary that is kept: its tick is off
}

type nextStore struct {
	nextLine
	Amount, Unit string
}

// yearNext shows with what the next year would begin, before it is done.
func (p *Pages) yearNext(w http.ResponseWriter, r *http.Request) error {
	year, err := yearAsked(r)
	if err != nil {
		return err
	}
	next, err := p.desk.NextYear(year)
	if err != nil {
		return &trouble{http.StatusConflict, err.Error(), "Look at the year’s end.", "/year"}
	}
	return p.showNext(w, http.StatusOK, next, "")
}

func (p *Pages) showNext(w http.ResponseWriter, status int, next *reckoning.Next, fault string) error {
	g, err := p.desk.Garden()
	if err != nil {
		return err
	}
	u := units(g)
	page := nextPage{Year: next.Year - 1, Next: next.Year, Notes: next.Notes, Kept: p.desk.Kept(), Fault: fault, Mark: lineMark(next),
		Whole: calendar.SeasonYear(p.desk.Today().Add(1), g.Site.South()) >= next.Year}
	for i, line := range next.Grown {
		page.Grown = append(page.Grown, nextLine{line.Name, whereOf(g, line.Place, line.FromCM, line.ToCM, u) + "; by " + line.From, i, line.Unnoted})
		page.Unnoted = page.Unnoted || line.Unnoted
	}
	for i, line := range next.Stands {
		page.Stands = append(page.Stands, nextLine{line.Name, whereOf(g, line.Place, line.FromCM, line.ToCM, u) + ", since " + dayLong(line.Started) + "; by " + line.From, i, line.Unnoted})
		page.Unnoted = page.Unnoted || line.Unnoted
	}
	for i, line := range next.Stores {
		s := nextStore{nextLine{dishName(line.Dish), sentence(capital(line.Why)), i, false}, plain(line.Kg), "kg"}
		if u == unit.Imperial {
			s.Amount, s.Unit = unit.Number(float64(unit.Kilogram(line.Kg).Pounds()), 1), "lb"
		}
		page.Stores = append(page.Stores, s)
	}
	return p.show(w, status, "year_next.html", sheet{Title: fmt.Sprintf("Begin %d", next.Year), Nav: "diary", Body: page})
}

func whereOf(g *garden.Garden, place string, fromCM, toCM int, u unit.System) string {
	p, _ := g.Place(place)
	return place + ", " + stretch(fromCM, toCM, p.Kind == garden.Pots, u)
}
