package web

import (
	"net/http"

	"haulm/internal/diary"
)

// diaryWrite keeps one line as it was typed. A line that is not understood is
// shown again, with what was understood of it.
func (p *Pages) diaryWrite(w http.ResponseWriter, r *http.Request) error {
	form := noteForm{Line: r.FormValue("line"), From: backTo(r, "/diary", "/today")}
	if _, err := p.desk.Garden(); err != nil {
		return err
	}
	noted, err := p.desk.Note(form.Line)
	if err != nil {
		form.Fault = capital(sentence(err.Error()))
		return p.showDiary(w, r, http.StatusUnprocessableEntity, form)
	}
	return seeOther(w, r, wroteHref(form.From, noted))
}

// diaryTap keeps what was tapped for one planting.
func (p *Pages) diaryTap(w http.ResponseWriter, r *http.Request) error {
	c, err := p.desk.DiaryContext()
	if err != nil {
		return err
	}
	e := diary.Entry{Kind: diary.Kind(r.FormValue("do")), Day: c.Today, Planting: r.FormValue("about")}
	s, there := c.Planting(e.Planting)
	if !there {
		return missing("that planting is no longer in the garden", "Choose another in the diary.", "/diary")
	}
	e.Crop, e.Place = s.Crop, s.Place
	if err := amountInto(&e, r.FormValue("amount"), r.FormValue("unit")); err != nil {
		return invalid(err.Error(), "Go back and write it again.", aboutHref(e.Planting))
	}
	return p.writeAndReturn(w, r, e, "/diary")
}

// diaryUndo takes back the last thing done to the diary.
func (p *Pages) diaryUndo(w http.ResponseWriter, r *http.Request) error {
	page := backTo(r, "/diary", "/today")
	if _, err := p.desk.UndoNote(); err != nil {
		return &trouble{http.StatusConflict, err.Error(), "The diary is as it was.", page}
	}
	return seeOther(w, r, page+"?undone=yes")
}
