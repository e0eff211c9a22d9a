package web

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"haulm/internal/diary"
	"haulm/internal/season"
)

// todayDone writes down that a job is done.
func (p *Pages) todayDone(w http.ResponseWriter, r *http.Request) error {
	morning, j, err := p.job(r.FormValue("job"))
	if err != nil {
		return err
	}
	e := diary.Entry{Kind: j.TicksOff, Day: morning.Today, Planting: j.Key}
	if e.Kind == "" {
		e.Kind, e.Text = diary.Skipped, j.ID
	}
	for i := range morning.Plantings {
		if s := &morning.Plantings[i]; s.Key == j.Key {
			e.Crop, e.Place = s.Crop.Key, s.Place.Name
		}
	}
	if err := amountInto(&e, r.FormValue("amount"), r.FormValue("unit")); err != nil {
		return invalid(err.Error(), "Go back to the morning and write it again.", "/today")
	}
	return p.writeAndReturn(w, r, e, "/today")
}

// todaySkip waves a job away.
func (p *Pages) todaySkip(w http.ResponseWriter, r *http.Request) error {
	morning, j, err := p.job(r.FormValue("job"))
	if err != nil {
		return err
	}
	return p.writeAndReturn(w, r, diary.Entry{Kind: diary.Skipped, Day: morning.Today, Planting: j.Key, Text: j.ID}, "/today")
}

// todayQuiet silences an alarm.
func (p *Pages) todayQuiet(w http.ResponseWriter, r *http.Request) error {
	morning, err := p.morning()
	if err != nil {
		return err
	}
	for i := range morning.Alarms {
		if a := &morning.Alarms[i]; a.ID == r.FormValue("alarm") {
			return p.writeAndReturn(w, r, diary.Entry{Kind: diary.Silenced, Day: morning.Today, Planting: a.Key, Text: a.ID}, "/today")
		}
	}
	return missing("that alarm is over", "Look at the morning as it is now.", "/today")
}

// job finds a job of this morning.
func (p *Pages) job(id string) (*season.State, *season.Job, error) {
	morning, err := p.morning()
	if err != nil {
		return nil, nil, err
	}
	for i := range morning.Jobs {
		if morning.Jobs[i].ID == id {
			return morning, &morning.Jobs[i], nil
		}
	}
	return nil, nil, missing("that job is no longer on the list: it may be ticked off already", "Look at the morning as it is now.", "/today")
}

// writeAndReturn keeps an entry and goes back to a page that says so.
func (p *Pages) writeAndReturn(w http.ResponseWriter, r *http.Request, e diary.Entry, page string) error {
	noted, err := p.desk.NoteEntry(e)
	if err != nil {
		return invalid(err.Error(), "Go back and write it again.", page)
	}
	return seeOther(w, r, wroteHref(page, noted))
}

// amountInto reads an amount as typed; nothing typed is no amount.
func amountInto(e *diary.Entry, amount, unit string) error {
	amount = strings.TrimSpace(strings.NewReplacer(",", ".", "−", "-").Replace(amount))
	if amount == "" {
		return nil
	}
	v, err := strconv.ParseFloat(amount, 64)
	if err != nil {
		return fmt.Errorf("%q is not a number; write how much as one, such as 12 or 0.8", amount)
	}
	if unit == "" {
		return fmt.Errorf("%s of what? choose what it is counted in", amount)
	}
	e.Amount, e.Unit = v, diary.Unit(unit)
	return nil
}
