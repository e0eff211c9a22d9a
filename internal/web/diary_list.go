package web

import (
	"fmt"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"haulm/internal/app"
	"haulm/internal/crop"
	"haulm/internal/diary"
	"haulm/internal/store"
)

// diaryPage is the diary, and the two ways to write in it.
type diaryPage struct {
	written
	Form    noteForm
	About   *aboutForm
	Stands  []aboutPlace // what an entry may be about
	Plans   []aboutPlace
	Days    []diaryDay
	Older   int // lines not shown
	CanUndo bool
}

// noteForm is the one line.
type noteForm struct {
	Line, Fault string
	From        string // the page to go back to
	ReadFault   string // what is wrong with a diary that was sent
	Kept        bool   // the garden is kept in a file, and can have a diary
}

// diaryDay is what was written of one day.
type diaryDay struct {
	Day   string
	Lines []diaryLine
}

type diaryLine struct {
	ID    int64
	Words string
	Photo string // address of the photo; "" = none is kept
	Small string // and of its small picture
	Waved bool   // a job or an alarm waved away: nothing that happened
}

// linesShown is how much of the diary one page shows, unless all is asked for.
const linesShown = 120

// diaryShow is the diary, newest first.
func (p *Pages) diaryShow(w http.ResponseWriter, r *http.Request) error {
	return p.showDiary(w, r, http.StatusOK, noteForm{})
}

func (p *Pages) showDiary(w http.ResponseWriter, r *http.Request, status int, form noteForm) error {
	if _, err := p.desk.Garden(); err != nil {
		return err
	}
	lines, err := p.desk.Diary()
	if err != nil {
		return err
	}
	shown := lines
	if r.FormValue("all") == "" && len(lines) > linesShown {
		shown = lines[len(lines)-linesShown:]
	}
	form.Kept = p.desk.Kept()
	page := diaryPage{Form: form, Days: diaryDays(shown, p.desk.Catalogue), Older: len(lines) - len(shown), CanUndo: p.desk.Kept()}
	page.written = p.written(r)
	if err := p.fillAbout(&page, r.FormValue("about")); err != nil {
		return err
	}
	return p.show(w, status, "diary.html", sheet{Title: "Diary", Nav: "diary", Body: page})
}

// diaryDays lays lines out by day, the newest first.
func diaryDays(lines []store.DiaryLine, catalogue *crop.Catalogue) []diaryDay {
	var out []diaryDay
	for i := len(lines) - 1; i >= 0; i-- {
		e := lines[i].Entry
		if i == len(lines)-1 || lines[i+1].Day != e.Day {
			out = append(out, diaryDay{Day: e.Day.Format("Monday 2 January 2006")})
		}
		day := &out[len(out)-1]
		line := diaryLine{ID: e.ID, Words: entryWords(e, catalogue), Waved: e.Kind == diary.Skipped || e.Kind == diary.Silenced}
		if e.Photo {
			line.Photo, line.Small = photoHref(e.ID, lines[i].Change, false), photoHref(e.ID, lines[i].Change, true)
		}
		day.Lines = append(day.Lines, line)
	}
	return out
}

// entryWords is an entry without its day: "picked 800 g courgette, South bed".
func entryWords(e diary.Entry, catalogue *crop.Catalogue) string {
	name := ""
	if c := catalogue.Crop(e.Crop); c != nil {
		name = crop.InSentence(c.Name)
	}
	words := string(e.Kind)
	if e.Given() {
		words += " " + e.AmountWords()
	}
	if name != "" {
		words += " " + name
	}
	if e.Place != "" {
		words += ", " + e.Place
	}
	if e.Cause != "" {
		words += ", to " + e.Cause
	}
	switch {
	case e.Kind == diary.Skipped:
		return "Waved away a job: " + jobWords(e.Text) + strings.TrimPrefix(words, string(e.Kind))
	case e.Kind == diary.Silenced:
		return "Silenced an alarm:" + strings.TrimPrefix(words, string(e.Kind))
	case e.Text != "":
		words += ": " + e.Text
	}
	return capital(words)
}

// jobWords is the job that an identifier names: the words before its planting.
func jobWords(id string) string {
	words, _, _ := strings.Cut(id, "/")
	if i := strings.LastIndexByte(words, ' '); i > 0 {
		words = words[:i]
	}
	return strings.TrimRight(words, " 0123456789")
}

func (p *Pages) diaryLine(id int64) (store.DiaryLine, error) {
	lines, err := p.desk.Diary()
	if err != nil {
		return store.DiaryLine{}, err
	}
	for _, line := range lines {
		if line.ID == id {
			return line, nil
		}
	}
	return store.DiaryLine{}, missing(fmt.Sprintf("the diary has no line %d; it may have been taken out", id), "Look at the diary.", "/diary")
}

// aboutHref is the diary with the taps for one planting.
func aboutHref(key string) string { return "/diary?" + url.Values{"about": {key}}.Encode() + "#taps" }

// wroteHref is a page that says what was written.
func wroteHref(page string, noted *app.Noted) string {
	q := url.Values{"wrote": {strconv.FormatInt(noted.Entry.ID, 10)}}
	for _, doubt := range noted.Doubts {
		q.Add("doubt", doubt)
	}
	return page + "?" + q.Encode()
}
