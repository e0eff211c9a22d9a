package web

import (
	"fmt"
	"net/http"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/diary"
	"haulm/internal/season"
	"haulm/internal/soil"
	"haulm/internal/unit"
)

// waterJob is the kind of a job that is done with the can. A page gathers
// them into one round, place by place.
const waterJob = "water"

// waterLine is what one place holds and needs.
type waterLine struct {
	Place  string
	Cans   int // to give now
	litres float64
	Short  bool
	Says   string
	Share  int // of what it holds when full, per cent: its driest
	Holds  string
	Guess  bool
	Crops  []string // in words, one planting each
}

// CansWords is "3 cans".
func (l waterLine) CansWords() string { return counted(l.Cans, "can", "cans") }

// waterLines gather the plantings' water by place, the driest place first, as
// the morning lists them.
func waterLines(m *season.State) []waterLine {
	var out []waterLine
	due, soon := waterDue(m), map[string]calendar.Date{}
	places, at := map[string]string{}, map[string]int{}
	for i := range m.Plantings {
		places[m.Plantings[i].Key] = m.Plantings[i].Place.Name
	}
	for i := range m.Water {
		w := &m.Water[i]
		place := places[w.Key]
		n, ok := at[place]
		if !ok {
			n = len(out)
			at[place] = n
			out = append(out, waterLine{Place: place, Share: percentOf(w.Share), Holds: holdsWords(w), Guess: w.Guess})
		}
		line := &out[n]
		line.Crops = append(line.Crops, capital(sentence(w.Words)))
		if due[w.Key] != nil {
			line.litres += w.Litres
			line.Cans = soil.Cans(line.litres, diary.Measures()["can_l"].Value)
		}
		line.Short = line.Short || w.Short
		if first, known := soon[place]; w.ShortBy.Known() && (!known || w.ShortBy < first) {
			soon[place] = w.ShortBy
		}
	}
	for i := range out {
		by, known := soon[out[i].Place]
		out[i].Says = shortWords(&out[i], by, known, m.Today)
	}
	return out
}

// waterDue are the watering jobs of today, by planting.
func waterDue(m *season.State) map[string]*season.Job {
	due := map[string]*season.Job{}
	for i := range m.Jobs {
		if j := &m.Jobs[i]; j.Kind == waterJob && j.Due <= m.Today {
			due[j.Key] = j
		}
	}
	return due
}

func shortWords(line *waterLine, by calendar.Date, known bool, today calendar.Date) string {
	switch {
	case line.Short && line.Cans == 0:
		return "dry, but nothing there would feel it yet"
	case line.Short:
		return "short now"
	case known:
		return "short by " + whenWords(by, today)
	}
	return "enough for the days ahead"
}

func percentOf(share float64) int { return max(0, min(100, int(100*share+0.5))) }

func holdsWords(w *season.Water) string {
	if w.Pot {
		return unit.Number(w.LeftL, 0) + " l, " + percent(w.Share) + " of full"
	}
	return fmt.Sprintf("%s of %s mm", unit.Number(w.LeftMM, 0), unit.Number(w.HoldsMM, 0))
}

// round is all of today's watering as one thing to do.
type round struct {
	jobLine
	minutes float64
}

// newRound tells of the watering as a whole; which place needs how much stands
// with the places.
func newRound(m *season.State, places []waterLine) round {
	r := round{jobLine: jobLine{Href: "#water"}}
	cans, beds, portions := 0, 0, 0.0
	for _, line := range places {
		if line.Cans > 0 {
			cans += line.Cans
			beds++
		}
	}
	told := map[string]bool{}
	first := ""
	for i := range m.Jobs {
		j := &m.Jobs[i]
		if j.Kind != waterJob || j.Due > m.Today {
			continue
		}
		if first == "" {
			first = fmt.Sprintf("First the %s, %s: %s", crop.InSentence(j.Crop), j.Where, sentence(j.Why))
		}
		r.minutes += j.Minutes
		portions += j.Cost
		for _, caution := range j.Cautions {
			if !told[caution] {
				told[caution] = true
				r.Cautions = append(r.Cautions, caution)
			}
		}
	}
	r.Title = fmt.Sprintf("Water: %s", counted(cans, "can", "cans"))
	r.Where = counted(beds, "place", "places")
	r.Why = first
	r.Cost = fmt.Sprintf("Left undone it all costs about %s portions.", count(portions))
	r.Minutes = minuteWords(r.minutes)
	return r
}

// todayWater writes down that a place was watered.
func (p *Pages) todayWater(w http.ResponseWriter, r *http.Request) error {
	e := diary.Entry{Kind: diary.Watered, Day: p.desk.Today(), Place: r.FormValue("place")}
	if err := amountInto(&e, r.FormValue("amount"), r.FormValue("unit")); err != nil {
		return invalid(err.Error(), "Go back to the morning and write it again.", "/today")
	}
	if !e.Given() {
		return invalid("how much water was it?", "Go back to the morning and write the number of cans.", "/today")
	}
	return p.writeAndReturn(w, r, e, "/today")
}
