package reckoning

import (
	"cmp"
	"fmt"
	"slices"

	"haulm/internal/calendar"
	"haulm/internal/diary"
	"haulm/internal/ground"
)

// Review is one year's reckoning. It is plain data: written as JSON and read
// again it says the same.
type Review struct {
	Garden  string        `json:"garden"`
	Year    int           `json:"year"`
	From    calendar.Date `json:"from"`
	To      calendar.Date `json:"to"` // last day reckoned
	Whole   bool          `json:"whole_year"`
	Planned bool          `json:"planned"` // there was a plan to hold it against
	Lines   int           `json:"diary_lines"`

	GroundM2     float64 `json:"ground_m2"`
	LandPortions float64 `json:"land_portions_m2_week"` // what the plan meant a square metre to give a week; 0 = no plan
	Kg           float64 `json:"kg"`
	ForecastKg   Odds    `json:"forecast_kg"` // by the last day reckoned
	Portions     float64 `json:"portions"`
	NotedMinutes float64 `json:"minutes_noted"`
	BookMinutes  float64 `json:"minutes_by_the_book"`
	Unweighed    int     `json:"unweighed_pickings"`

	Crops    []Account   `json:"crops"` // most portions first
	Losses   []Loss      `json:"losses"`
	Changes  []Change    `json:"changes"`
	NotBegun []string    `json:"not_begun"` // planned, due, and never noted
	Weather  WeatherYear `json:"weather"`
}

// Reckon reckons a year as far as it has gone. It fails where the year has not
// begun.
func Reckon(in Input) (*Review, error) {
	if in.Today < in.from() {
		return nil, fmt.Errorf("%d has not begun: there is nothing to reckon yet", in.Year)
	}
	r := &Review{Garden: in.Garden.Name, Year: in.Year, From: in.from(), To: in.to(), Whole: in.whole(), GroundM2: ground.TotalAreaM2(in.Garden),
		Crops: []Account{}, Losses: []Loss{}, Changes: []Change{}, NotBegun: []string{}, Planned: in.PlannedPortions > 0}
	for _, e := range in.Diary {
		if in.within(e.Day) && e.Kind != diary.Skipped && e.Kind != diary.Silenced {
			r.Lines++
		}
	}
	if r.Planned && r.GroundM2 > 0 {
		const weeks = 52
		r.LandPortions = in.PlannedPortions / r.GroundM2 / weeks
	}
	r.Weather = in.weatherYear()
	if r.Lines == 0 {
		return r, nil
	}
	stories, loose := in.stories(), in.loose()
	r.accounts(&in, stories, loose)
	r.losses(stories, loose)
	r.changes(&in, stories)
	return r, nil
}

func (in *Input) within(d calendar.Date) bool { return d >= in.from() && d <= in.to() }

// accounts adds the plantings up by crop.
func (r *Review) accounts(in *Input, stories []*story, loose map[string]*story) {
	byCrop := map[string][]*story{}
	for _, s := range stories {
		if s.told() {
			byCrop[s.Crop.Key] = append(byCrop[s.Crop.Key], s)
		}
	}
	for key := range loose {
		if byCrop[key] == nil {
			byCrop[key] = []*story{}
		}
	}
	for key, of := range byCrop {
		if a, some := in.account(in.Catalogue.Crop(key), of, loose[key], r.LandPortions); some {
			r.Crops = append(r.Crops, a)
		}
	}
	slices.SortFunc(r.Crops, func(a, b Account) int {
		return cmp.Or(cmp.Compare(b.Portions, a.Portions), cmp.Compare(b.M2Weeks, a.M2Weeks), cmp.Compare(a.Key, b.Key))
	})
	r.addUp(in)
	r.ForecastKg, _ = forecast(stories)
	r.NotBegun = gathered(in.silent(stories))
}

// told says whether there is anything to account for.
func (s *story) told() bool { return s.onGround() || s.picks > 0 || len(s.lost) > 0 }

// addUp sums the crops, and the work that was noted of none.
func (r *Review) addUp(in *Input) {
	for i := range r.Crops {
		a := &r.Crops[i]
		r.Kg += a.Kg
		r.Portions += a.Portions
		r.NotedMinutes += a.NotedMinutes
		r.BookMinutes += a.BookMinutes
		r.Unweighed += a.Unweighed
	}
	for _, e := range in.Diary {
		if in.within(e.Day) && e.Crop == "" && e.Planting == "" {
			r.NotedMinutes += NotedMinutes(e)
		}
	}
}

// silent are the plantings planned and due of which nothing was noted, those
// that count as standing by the plan last.
func (in *Input) silent(stories []*story) []*story {
	var due, byPlan []*story
	for _, s := range stories {
		switch {
		case s.byPlan && s.onGround():
			byPlan = append(byPlan, s)
		case !s.told() && s.Planned && !s.begun.Known() && s.lines == 0 && s.Start <= in.to():
			due = append(due, s)
		}
	}
	return append(due, byPlan...)
}

// gathered tells of plantings crop by crop: "leek, Gate bed", "leek, 3 plantings".
func gathered(of []*story) []string {
	count, place := map[string]int{}, map[string]string{}
	for _, s := range of {
		count[s.Crop.Name]++
		place[s.Crop.Name] = s.Place.Name
	}
	out := []string{}
	for name, n := range count {
		if n == 1 {
			out = append(out, name+", "+place[name])
		} else {
			out = append(out, fmt.Sprintf("%s, %d plantings", name, n))
		}
	}
	slices.Sort(out)
	return out
}

// loose are the lines of the year that name a crop and no planting known here,
// read as one story a crop.
func (in *Input) loose() map[string]*story {
	known, began := map[string]bool{}, map[int64]bool{}
	for i := range in.Plantings {
		known[in.Plantings[i].Key], began[in.Plantings[i].BegunBy] = true, true
	}
	out := map[string]*story{}
	for _, e := range in.Diary {
		c := in.Catalogue.Crop(e.Crop)
		if !in.within(e.Day) || c == nil || known[e.Planting] || began[e.ID] || e.Kind != diary.Picked && e.Kind != diary.Lost && NotedMinutes(e) == 0 {
			continue
		}
		if out[c.Key] == nil {
			out[c.Key] = newStory(&Planting{Crop: c, Route: c.UsualRoute()})
		}
		out[c.Key].Place.Name = e.Place
		out[c.Key].read(e, in.from())
	}
	return out
}

// losses lists what was lost, in order of day.
func (r *Review) losses(stories []*story, loose map[string]*story) {
	for _, s := range stories {
		r.Losses = append(r.Losses, s.lost...)
	}
	for _, s := range loose {
		r.Losses = append(r.Losses, s.lost...)
	}
	slices.SortStableFunc(r.Losses, func(a, b Loss) int { return cmp.Or(cmp.Compare(a.Day, b.Day), cmp.Compare(a.Crop, b.Crop)) })
}
