package web

import (
	"fmt"
	"hash/fnv"
	"net/http"
	"net/url"
	"strconv"

	"haulm/internal/reckoning"
	"haulm/internal/unit"
)

// yearBegin closes a year and begins the next with the lines that were left
// ticked. The lines are made anew: a form sends only which of them hold.
func (p *Pages) yearBegin(w http.ResponseWriter, r *http.Request) error {
	year, err := yearAsked(r)
	if err != nil {
		return err
	}
	next, err := p.desk.NextYear(year)
	if err != nil {
		return &trouble{http.StatusConflict, err.Error(), "Look at the year’s end.", "/year"}
	}
	g, err := p.desk.Garden()
	if err != nil {
		return err
	}
	if err := r.ParseForm(); err != nil {
		return invalid("the form did not arrive whole", "Open the page again.", "/year/next")
	}
	if r.PostForm.Get("lines") != lineMark(next) {
		return p.showNext(w, http.StatusConflict, next, "The diary or the garden changed meanwhile: look at the lines again. Nothing was changed.")
	}
	shown := *next
	next.Grown = ticked(r.PostForm["grown"], next.Grown)
	next.Stands = ticked(r.PostForm["stands"], next.Stands)
	if next.Stores, err = storesOf(r.PostForm, next.Stores, units(g)); err == nil {
		err = p.desk.StartNextYear(next)
	}
	if err != nil {
		return p.showNext(w, http.StatusUnprocessableEntity, &shown, capital(sentence(err.Error()))+" Nothing was changed.")
	}
	return seeOther(w, r, "/year/"+strconv.Itoa(next.Year-1)+"?begun=yes")
}

// lineMark tells one proposal from another, so that a tick is for the line
// that was seen.
func lineMark(next *reckoning.Next) string {
	mark := fnv.New64a()
	for _, g := range next.Grown {
		fmt.Fprint(mark, g.Grown, ";")
	}
	for _, s := range next.Stands {
		fmt.Fprint(mark, s.Standing, ";")
	}
	for _, s := range next.Stores {
		fmt.Fprint(mark, s.Dish, ";")
	}
	return strconv.FormatUint(mark.Sum64(), 36)
}

// ticked are the lines whose numbers were sent.
func ticked[T any](numbers []string, lines []T) []T {
	kept := []T{}
	for i, line := range lines {
		for _, n := range numbers {
			if n == strconv.Itoa(i) {
				kept = append(kept, line)
			}
		}
	}
	return kept
}

// storesOf reads what lies in store as corrected; nothing or 0 is none.
func storesOf(form url.Values, lines []reckoning.NextStore, u unit.System) ([]reckoning.NextStore, error) {
	kept := []reckoning.NextStore{}
	for i, line := range lines {
		f := field{Value: form.Get("store-" + strconv.Itoa(i)), Such: "2.5"}
		if f.Value == "" {
			continue
		}
		amount, ok := f.number()
		if !ok {
			return nil, fmt.Errorf("%s in store: %s", dishWords(line.Dish), f.Fault)
		}
		line.Kg = amount
		if u == unit.Imperial {
			line.Kg = float64(unit.Pound(amount).Kilograms())
		}
		if line.Kg != 0 {
			kept = append(kept, line)
		}
	}
	return kept, nil
}

// yearReopen takes the closing of a year back.
func (p *Pages) yearReopen(w http.ResponseWriter, r *http.Request) error {
	year, err := p.desk.UndoOpensYear()
	if err != nil {
		return err
	}
	if year == 0 {
		return &trouble{http.StatusConflict, "the garden was changed since the year was closed", "Undo those changes on the Garden page first.", "/garden"}
	}
	if err := p.desk.UndoGarden(); err != nil {
		return err
	}
	return seeOther(w, r, "/year/"+strconv.Itoa(year)+"?undone=yes")
}
