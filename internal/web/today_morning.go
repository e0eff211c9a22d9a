package web

import (
	"fmt"
	"hash/fnv"
	"sync"
	"time"

	"haulm/internal/app"
	"haulm/internal/calendar"
	"haulm/internal/garden"
	"haulm/internal/season"
	"haulm/internal/store"
)

// mornings keeps the latest look at the garden: it changes only with what it
// goes by.
type mornings struct {
	mu   sync.Mutex
	goes basis
	seen *season.State
}

// basis is what a morning goes by, to tell one from the next.
type basis struct {
	day     calendar.Date
	garden  *garden.Garden
	weather *app.Weather
	planned *app.Planned
	diary   uint64
	fetched time.Time // the forecast that is gone by
}

// morning is the garden as it stands today.
func (p *Pages) morning() (*season.State, error) {
	goes, err := p.basis()
	if err != nil {
		return nil, err
	}
	p.mornings.mu.Lock()
	defer p.mornings.mu.Unlock()
	if p.mornings.seen != nil && p.mornings.goes == goes {
		return p.mornings.seen, nil
	}
	seen, err := p.desk.Morning(app.TodayQuestion{})
	if err != nil {
		return nil, err
	}
	p.mornings.goes, p.mornings.seen = goes, seen
	return seen, nil
}

func (p *Pages) basis() (basis, error) {
	b := basis{day: p.desk.Today()}
	var err error
	if b.garden, err = p.desk.Garden(); err != nil {
		return b, err
	}
	if b.weather, err = p.desk.Weather(); err != nil {
		return b, err
	}
	b.planned, _ = p.desk.Planned() // none is a basis too
	lines, err := p.desk.Diary()
	if err != nil {
		return b, err
	}
	b.diary = diaryMark(lines)
	if f := p.desk.KeptForecast(); f != nil {
		b.fetched = f.Fetched
	}
	return b, nil
}

// diaryMark changes with the diary.
func diaryMark(lines []store.DiaryLine) uint64 {
	h := fnv.New64a()
	for i := range lines {
		fmt.Fprint(h, lines[i].ID, lines[i].Change, ";")
	}
	return h.Sum64()
}
