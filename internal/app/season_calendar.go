package app

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"haulm/internal/calendar"
	"haulm/internal/ical"
	"haulm/internal/season"
)

// calendarAheadDays is how far ahead jobs go into the calendar: most of a
// season, so that a week's work can be seen coming.
const calendarAheadDays = 120

// calendarSetting is where the file keeps what was last published, so that an
// entry that changes is an update and one that is done is taken back.
const calendarSetting = "calendar"

// published is one entry as it was last written.
type published struct {
	Sequence int           `json:"sequence"`
	Hash     string        `json:"hash"`
	Day      calendar.Date `json:"day"`
	Summary  string        `json:"summary"`
	Gone     bool          `json:"gone,omitempty"`
}

// keepGoneDays is how long a cancelled entry is still told.
const keepGoneDays = 30

// WriteCalendar writes the jobs ahead as an iCalendar file. The same job keeps
// its UID from one writing to the next; one that changed counts up, and one
// that is done is cancelled.
func (d *Desk) WriteCalendar(w io.Writer, todo bool) error {
	state, err := d.Morning(TodayQuestion{Day: calendar.None, AheadDays: calendarAheadDays})
	if err != nil {
		return err
	}
	g, err := d.Garden()
	if err != nil {
		return err
	}
	before, err := d.lastPublished()
	if err != nil {
		return err
	}
	entries, now := calendarEntries(state, before, todo)
	if err := ical.Write(w, ical.Calendar{Name: g.Name + ": garden jobs", Stamp: d.now(), Entries: entries}); err != nil {
		return err
	}
	return d.keepPublished(now)
}

// calendarEntries turns jobs into entries, counting up what changed and
// cancelling what is gone.
func calendarEntries(state *season.State, before map[string]published, todo bool) ([]ical.Entry, map[string]published) {
	now := map[string]published{}
	var entries []ical.Entry
	for i := range state.Jobs {
		j := &state.Jobs[i]
		e := ical.Entry{
			UID: uid(j.ID), Day: j.Due, Until: max(j.Due, j.Until), Summary: capitalTitle(j), Location: j.Where, Description: describe(j), Todo: todo,
		}
		if !todo {
			e.Until = e.Day // an event a day long; how long it can wait stands in its text
		}
		if _, twice := now[e.UID]; twice {
			continue
		}
		hash := digest(e.Day.String(), e.Until.String(), e.Summary, e.Location, e.Description)
		was, known := before[e.UID]
		switch {
		case !known:
		case was.Hash != hash || was.Gone:
			e.Sequence = was.Sequence + 1
		default:
			e.Sequence = was.Sequence
		}
		now[e.UID] = published{Sequence: e.Sequence, Hash: hash, Day: e.Day, Summary: e.Summary}
		entries = append(entries, e)
	}
	for id, was := range before {
		if _, still := now[id]; still || was.Day < state.Today.Add(-keepGoneDays) {
			continue
		}
		if !was.Gone {
			was.Gone = true
			was.Sequence++
		}
		now[id] = was
		entries = append(entries, ical.Entry{UID: id, Sequence: was.Sequence, Day: was.Day, Until: was.Day, Summary: was.Summary, Cancelled: true, Todo: todo})
	}
	return entries, now
}

func capitalTitle(j *season.Job) string {
	if j.Amount == "" || j.Kind != "water" {
		return j.Title
	}
	return j.Title + ": " + j.Amount
}

// describe is the text of an entry.
func describe(j *season.Job) string {
	var b strings.Builder
	if j.Amount != "" {
		fmt.Fprintf(&b, "%s.\n", j.Amount)
	}
	fmt.Fprintf(&b, "%.0f minutes.\n%s.\n", j.Minutes, j.Why)
	if j.Until > j.Due {
		fmt.Fprintf(&b, "It can wait until %s: %s.\n", j.Until.Format("2 January"), j.CostSays)
	} else {
		fmt.Fprintf(&b, "%s.\n", j.CostSays)
	}
	for _, c := range j.Cautions {
		fmt.Fprintf(&b, "Care: %s\n", c)
	}
	return strings.TrimSpace(b.String())
}

// uid makes a UID of a job's ID: opaque, and safe in every calendar.
func uid(id string) string { return digest(id)[:24] + "@haulm" }

func digest(parts ...string) string {
	sum := sha256.Sum256([]byte(strings.Join(parts, "\x00")))
	return hex.EncodeToString(sum[:])
}

func (d *Desk) lastPublished() (map[string]published, error) {
	out := map[string]published{}
	if d.file == nil {
		return out, nil
	}
	text, err := d.file.Setting(context.Background(), calendarSetting)
	if err != nil || text == "" {
		return out, err
	}
	if err := json.Unmarshal([]byte(text), &out); err != nil {
		return map[string]published{}, nil // unreadable: every entry begins anew
	}
	return out, nil
}

func (d *Desk) keepPublished(now map[string]published) error {
	if d.file == nil {
		return nil
	}
	text, err := json.Marshal(now)
	if err != nil {
		return fmt.Errorf("keeping the calendar's state: %w", err)
	}
	return d.file.SetSetting(context.Background(), calendarSetting, string(text))
}
