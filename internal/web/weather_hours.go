package web

import (
	"fmt"
	"net/http"
	"strconv"

	"haulm/internal/season"
)

// hoursForm is the form that takes measured hours, and what is kept of them.
type hoursForm struct {
	Kept  bool   // the garden is kept in a file, and can keep hours
	Says  string // of the hours that are kept; "" = none
	Idle  bool   // they do not reach the days that are looked at
	Note  string // what was left out of the file sent last
	Fault string
	Looks int // days behind today that the rules look at
}

func (p *Pages) hoursForm(r *http.Request) (hoursForm, error) {
	form := hoursForm{Kept: p.desk.Kept(), Looks: season.DampBehindDays}
	told, err := p.desk.Hours()
	if err != nil || told == nil {
		return form, err
	}
	form.Idle = !told.Late
	form.Says = fmt.Sprintf("%s with temperature and humidity are kept, of %s to %s, from %s.", counted(told.Known, "hour", "hours"), dayLong(told.From), dayLong(told.To), told.Source)
	if out, err := strconv.Atoi(r.FormValue("left-out")); err == nil && out > 0 {
		form.Note = counted(out, "value of the file cannot be and was", "values of the file cannot be and were") + " left out."
	}
	return form, nil
}

// hoursKeep keeps the measured hours of a file sent with the form.
func (p *Pages) hoursKeep(w http.ResponseWriter, r *http.Request) error {
	if _, err := p.desk.Garden(); err != nil {
		return err
	}
	if !p.desk.Kept() {
		return onlyShown("/weather")
	}
	if err := readForm(r); err != nil {
		return err
	}
	rejected, err := p.takeHours(r)
	if err != nil {
		return p.showWeather(w, r, http.StatusUnprocessableEntity, fileFault(err))
	}
	return seeOther(w, r, fmt.Sprintf("/weather?left-out=%d#hours", rejected))
}

func (p *Pages) takeHours(r *http.Request) (rejected int, err error) {
	file, err := takeFile(r, "hours", "one with a line an hour")
	if err != nil {
		return 0, err
	}
	defer file.Close()
	report, err := p.desk.ReadHours(file, file.name)
	if err != nil {
		return 0, err
	}
	return report.RejectedCount, nil
}

// hoursDrop takes the kept hours away.
func (p *Pages) hoursDrop(w http.ResponseWriter, r *http.Request) error {
	if err := p.desk.DropHours(); err != nil {
		return &trouble{http.StatusConflict, err.Error(), "The weather is as it was.", "/weather#hours"}
	}
	return seeOther(w, r, "/weather#hours")
}
