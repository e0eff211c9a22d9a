package web

import (
	"html/template"
	"net/http"
	"slices"
	"strconv"

	"haulm/internal/app"
	"haulm/internal/crop"
	"haulm/internal/figure"
	"haulm/internal/unit"
)

// askPage is the page of questions, with the latest answer.
type askPage struct {
	Form     askForm
	Dishes   []choice // to do without
	Crops    []choice // to have
	Minutes  []choice
	Seconds  []choice
	Most     int
	Question string // "" = none was asked
	Busy     bool
	Elapsed  string
	Of       int
	Share    int
	Fault    string
	Stale    bool // it was asked of another plan
	Drawing  template.HTML
	Words    []string
	Figures  []askFigure
	Short    []askShortLine
}

// askFigure is one figure of an answer.
type askFigure struct{ Name, Value string }

// askShortLine is one line of the shortlist.
type askShortLine struct {
	K                  int
	Joined, Left       string
	Value, Adds, Proof string
	Portions           string
	Share              int
}

// askShow is the page of questions.
func (p *Pages) askShow(w http.ResponseWriter, _ *http.Request) error {
	planned, err := p.desk.Planned()
	if err != nil {
		return err
	}
	page := askPage{Form: newAskForm(), Most: app.MostShortlisted}
	s := sheet{Title: "Questions", Nav: "plan"}
	if a, ok := p.asker.now(); ok {
		page.Form, page.Question = a.form, a.words
		page.Busy, page.Elapsed, page.Of = !a.over, unit.Number(a.elapsed, 0), int(a.seconds)
		page.Share = min(100, int(100*a.elapsed/max(a.seconds, 1)))
		if a.err != nil {
			page.Fault = capital(sentence(a.err.Error()))
		}
		page.Stale = a.of != planned.Year
		page.answer(&a.answer)
		if page.Busy {
			s.Refresh, s.Scripts = 2, []string{"ask.js"}
		}
	}
	for _, d := range planned.Lay.Dishes() {
		page.Dishes = append(page.Dishes, choice{Value: d.Name, Name: dishName(d.Name), Chosen: slices.Contains(page.Form.Without, d.Name)})
	}
	page.Crops = p.askCrops(page.Form.With)
	page.Seconds = numbers(askSeconds, page.Form.Seconds, func(n int) string { return strconv.Itoa(n) + " seconds" })
	page.Minutes = numbers(askMinutes, int(page.Form.Minutes), func(n int) string { return minutesWords(float64(n)) })
	s.Body = page
	return p.show(w, http.StatusOK, "ask.html", s)
}

// askCrops are the dishes of the crops that are sown each year, as choices.
func (p *Pages) askCrops(chosen string) []choice {
	sown := slices.DeleteFunc(slices.Clone(p.desk.Catalogue.Crops()), func(c *crop.Crop) bool { return c.Perennial })
	out := dishChoices(sown)
	for i := range out {
		out[i].Chosen = out[i].Value == chosen
	}
	return out
}

func numbers(offered []int, chosen int, words func(int) string) []choice {
	var out []choice
	for _, n := range offered {
		out = append(out, choice{Value: strconv.Itoa(n), Name: words(n), Chosen: n == chosen})
	}
	return out
}

// answer fills in what the question's answer has to show.
func (page *askPage) answer(a *askAnswer) {
	switch {
	case a.Difference != nil:
		d := a.Difference
		page.Words = d.Words
		page.Figures = []askFigure{
			{"Found", count(d.Worth)}, {"Proven, at least", count(d.AtLeast)}, {"Proven, at most", count(d.AtMost)},
			{"Worth with", count(d.With.Value)}, {"Worth without", count(d.Without.Value)},
		}
	case a.Worth != nil:
		page.Words, page.Drawing = a.Worth.Words, worthDrawing(a.Worth)
	case a.Years != nil:
		page.Words = a.Years.Words
	case a.Shortlist != nil:
		page.Words, page.Short = a.Shortlist.Words, shortLines(a.Shortlist)
	}
}

func worthDrawing(w *app.WorthAnswer) template.HTML {
	f := figure.GroundWorth{Frame: figure.Frame{ID: "worth"}, Months: w.Months}
	for _, p := range w.Places {
		name := p.Place
		if p.Pots {
			name += ", a pot"
		}
		f.Places = append(f.Places, figure.PlaceWorth{Name: name, Month: p.Month, All: p.All})
	}
	narrow := f
	narrow.WidthPX = figure.PhoneWidthPX
	return block(f, narrow, 3)
}

func shortLines(s *app.ShortlistAnswer) []askShortLine {
	var out []askShortLine
	if len(s.Lines) == 0 {
		return nil
	}
	base, most := s.Lines[0].Value, s.Lines[len(s.Lines)-1].Value
	for k := range s.Lines {
		l := &s.Lines[k]
		if k == 0 {
			continue
		}
		out = append(out, askShortLine{
			K: k, Joined: unit.Listed(l.Joined), Left: unit.Listed(l.Left), Value: count(l.Value), Adds: count(l.Adds), Proof: l.ProofWords(),
			Portions: count(l.Portions.P50), Share: int(100 * (l.Value - base) / max(most-base, 1e-9)),
		})
	}
	return out
}

// askPut asks a question.
func (p *Pages) askPut(w http.ResponseWriter, r *http.Request) error {
	planned, err := p.desk.Planned()
	if err != nil {
		return err
	}
	form, err := readAsk(r)
	if err != nil {
		return err
	}
	p.asker.put(form, planned.Year)
	return seeOther(w, r, askHref+"#answer")
}

// askStop ends the search for an answer; what was found by then is shown.
func (p *Pages) askStop(w http.ResponseWriter, r *http.Request) error {
	p.asker.halt(r.Context())
	return seeOther(w, r, askHref+"#answer")
}
