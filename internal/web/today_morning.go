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

// look keeps the latest look at the garden: it changes only with what it goes by.
type look[T any] struct {
	mu   sync.Mutex
	goes basis
	seen T
	done bool
}

// by is the look that goes by a basis: the one kept, or a new one.
func (l *look[T]) by(goes basis, anew func() (T, error)) (T, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.done && l.goes == goes {
		return l.seen, nil
	}
	seen, err := anew()
	if err == nil {
		l.goes, l.seen, l.done = goes, seen, true
	}
	return seen, err
}

// basis is what a look goes by, to tell one from the next.
type basis struct {
	day     calendar.Date
	garden  *garden.Garden
	weather *app.Weather
	planned *app.Planned
	diary   uint64
	fetched time.Time // the forecast that is gone by
	hours   string    // the measured hours that are gone by
}

// morning is the garden as it stands today.
func (p *Pages) morning() (*season.State, error) {
	goes, err := p.basis()
	if err != nil {
		return nil, err
	}
	return p.mornings.by(goes, func() (*season.State, error) { return p.desk.Morning(app.TodayQuestion{}) })
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
	b.hours, err = p.desk.HoursMark()
	return b, err
}

// diaryMark changes with the diary.
func diaryMark(lines []store.DiaryLine) uint64 {
	h := fnv.New64a()
	for i := range lines {
		fmt.Fprint(h, lines[i].ID, lines[i].Change, ";")
	}
	return h.Sum64()
}
