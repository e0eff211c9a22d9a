package ical

import (
	"bufio"
	"cmp"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"haulm/internal/calendar"
)

// Calendar is a set of entries that is published together.
type Calendar struct {
	Name    string
	Stamp   time.Time // when it was made; to the second, in UTC
	Entries []Entry
}

// Entry is one whole-day piece of work, shown as an event on its first day, or
// on all its days, or kept as a to-do.
type Entry struct {
	UID         string        // the same for the same work from one writing to the next
	Sequence    int           // one more whenever anything but the stamp has changed
	Day         calendar.Date // first day
	Until       calendar.Date // last day on which it can be done; Day or later
	Summary     string
	Description string
	Location    string
	Cancelled   bool // no longer to be done: tells a calendar that took it in to drop it
	Todo        bool // written as VTODO
}

// lineOctets is how long a line may be, without its end (RFC 5545 section 3.1).
const lineOctets = 75

// Write writes the calendar. It refuses entries without UID or day, with an
// end before their beginning, and two with one UID.
func Write(w io.Writer, c Calendar) error {
	if c.Stamp.IsZero() {
		return errors.New("calendar: it has no time of writing")
	}
	entries := slices.Clone(c.Entries)
	slices.SortStableFunc(entries, func(a, b Entry) int { return cmp.Or(cmp.Compare(a.Day, b.Day), cmp.Compare(a.UID, b.UID)) })
	seen := map[string]bool{}
	for _, e := range entries {
		if err := e.check(); err != nil {
			return err
		}
		if seen[e.UID] {
			return fmt.Errorf("calendar: two entries have the UID %q", e.UID)
		}
		seen[e.UID] = true
	}
	out := &writer{to: bufio.NewWriter(w)}
	out.line("BEGIN", "VCALENDAR")
	out.line("VERSION", "2.0")
	out.line("PRODID", "-//Haulm//Haulm//EN")
	out.line("CALSCALE", "GREGORIAN")
	out.line("METHOD", "PUBLISH")
	out.text("NAME", c.Name)
	out.text("X-WR-CALNAME", c.Name)
	out.line("REFRESH-INTERVAL;VALUE=DURATION", "PT12H")
	out.line("X-PUBLISHED-TTL", "PT12H")
	for i := range entries {
		out.entry(&entries[i], c.Stamp)
	}
	out.line("END", "VCALENDAR")
	if out.err != nil {
		return fmt.Errorf("writing the calendar: %w", out.err)
	}
	return out.to.Flush()
}

func (e *Entry) check() error {
	switch {
	case strings.TrimSpace(e.UID) == "":
		return fmt.Errorf("calendar: the entry %q has no UID", e.Summary)
	case !e.Day.Known() || !e.Until.Known():
		return fmt.Errorf("calendar: the entry %q has no day", e.Summary)
	case e.Until < e.Day:
		return fmt.Errorf("calendar: the entry %q ends on %s, before it begins on %s", e.Summary, e.Until, e.Day)
	case e.Day.Year() < 1 || e.Until.Year() > 9998:
		return fmt.Errorf("calendar: the entry %q lies in the year %d", e.Summary, e.Day.Year())
	}
	return nil
}

// writer writes content lines and keeps the first error.
type writer struct {
	to  *bufio.Writer
	err error
}

func (w *writer) entry(e *Entry, stamp time.Time) {
	component := "VEVENT"
	if e.Todo {
		component = "VTODO"
	}
	w.line("BEGIN", component)
	w.text("UID", e.UID)
	w.line("DTSTAMP", stamp.UTC().Format("20060102T150405Z"))
	w.line("SEQUENCE", fmt.Sprint(e.Sequence))
	w.line("DTSTART;VALUE=DATE", date(e.Day))
	w.end(e)
	w.text("SUMMARY", e.Summary)
	w.text("DESCRIPTION", e.Description)
	w.text("LOCATION", e.Location)
	if e.Cancelled {
		w.line("STATUS", "CANCELLED")
	} else if e.Todo {
		w.line("STATUS", "NEEDS-ACTION")
	}
	w.line("END", component)
}

// end writes the day after the last: DTEND and DUE are both exclusive, and
// must lie after the beginning. An event does not fill the day of whoever
// looks at it.
func (w *writer) end(e *Entry) {
	if e.Todo {
		w.line("DUE;VALUE=DATE", date(e.Until.Add(1)))
		return
	}
	w.line("DTEND;VALUE=DATE", date(e.Until.Add(1)))
	w.line("TRANSP", "TRANSPARENT")
}

func date(d calendar.Date) string { return d.Format("20060102") }

// text writes a property of free text; nothing where there is none.
func (w *writer) text(name, value string) {
	if value != "" {
		w.line(name, escape(value))
	}
}

// escape makes text safe within a line (RFC 5545 section 3.3.11): control
// signs other than line ends are dropped.
func escape(s string) string {
	var b strings.Builder
	s = strings.ReplaceAll(strings.ReplaceAll(strings.ToValidUTF8(s, "\uFFFD"), "\r\n", "\n"), "\r", "\n")
	for _, r := range s {
		switch {
		case r == '\\' || r == ';' || r == ',':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r < ' ' && r != '\t' || r == 0x7f:
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// line writes one content line, folded at 75 octets and never within a letter.
func (w *writer) line(name, value string) {
	rest, room := name+":"+value, lineOctets
	for len(rest) > room {
		cut := room
		for cut > 0 && !utf8.RuneStart(rest[cut]) {
			cut--
		}
		w.put(rest[:cut] + "\r\n ")
		rest, room = rest[cut:], lineOctets-1
	}
	w.put(rest + "\r\n")
}

func (w *writer) put(s string) {
	if w.err == nil {
		_, w.err = w.to.WriteString(s)
	}
}
