package ical

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	parser "github.com/arran4/golang-ical"
	"pgregory.net/rapid"

	"haulm/internal/calendar"
)

var stamp = time.Date(2027, 4, 12, 6, 30, 0, 0, time.UTC)

func written(t interface{ Fatal(...any) }, c Calendar) string {
	var b bytes.Buffer
	if err := Write(&b, c); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// strict reads the text line by line by the letter of RFC 5545 sections 3.1
// and 3.6, knowing nothing of the writer, and returns each component's
// properties.
func strict(text string) ([]map[string]string, error) {
	if !strings.HasSuffix(text, "\r\n") {
		return nil, fmt.Errorf("does not end with CRLF")
	}
	lines := strings.Split(strings.TrimSuffix(text, "\r\n"), "\r\n")
	for i, line := range lines {
		if strings.ContainsAny(line, "\r\n") {
			return nil, fmt.Errorf("line %d holds a bare line end", i+1)
		}
		if len(line) > 75 {
			return nil, fmt.Errorf("line %d is %d octets long", i+1, len(line))
		}
		if !utf8.ValidString(line) {
			return nil, fmt.Errorf("line %d is cut within a letter", i+1)
		}
	}
	var whole []string
	for _, line := range lines {
		if strings.HasPrefix(line, " ") {
			whole[len(whole)-1] += line[1:]
		} else {
			whole = append(whole, line)
		}
	}
	return components(whole)
}

func components(lines []string) ([]map[string]string, error) {
	var out []map[string]string
	var open []string
	for _, line := range lines {
		name, value, ok := strings.Cut(line, ":")
		if !ok {
			return nil, fmt.Errorf("%q has no colon", line)
		}
		switch name {
		case "BEGIN":
			open = append(open, value)
			if len(open) == 2 {
				out = append(out, map[string]string{"component": value})
			}
			continue
		case "END":
			if len(open) == 0 || open[len(open)-1] != value {
				return nil, fmt.Errorf("END:%s closes nothing", value)
			}
			open = open[:len(open)-1]
			continue
		}
		if len(open) == 2 {
			here := out[len(out)-1]
			if _, twice := here[name]; twice {
				return nil, fmt.Errorf("%s stands twice", name)
			}
			here[name] = value
		}
	}
	if len(open) != 0 {
		return nil, fmt.Errorf("%v not closed", open)
	}
	return out, nil
}

func unescape(s string) string {
	return strings.NewReplacer(`\\`, `\`, `\;`, ";", `\,`, ",", `\n`, "\n").Replace(s)
}

func TestCalendarReadsBackLetterByLetter(t *testing.T) {
	entry := Entry{
		UID: "sow-carrots@haulm", Sequence: 3, Day: calendar.On(2027, 4, 12), Until: calendar.On(2027, 4, 25),
		Summary: "Sow carrots; thinly, 1 cm deep", Location: "Bed 2, 0–1.2 m",
		Description: "Ready 8–20 July (8 of 10 years).\nWhy: the soil is at 8 °C\\more\r\nand a very long line of reasons follows so that it has to be folded, more than once, with Umlauts äöü äöü äöü äöü äöü äöü",
	}
	todo := entry
	todo.UID, todo.Todo, todo.Until = "todo@haulm", true, todo.Day
	gone := entry
	gone.UID, gone.Cancelled = "gone@haulm", true
	text := written(t, Calendar{Name: "Lowmoor, garden", Stamp: stamp, Entries: []Entry{entry, todo, gone}})
	found, err := strict(text)
	if err != nil {
		t.Fatalf("%v in\n%s", err, text)
	}
	if len(found) != 3 {
		t.Fatalf("%d components", len(found))
	}
	by := map[string]map[string]string{}
	for _, c := range found {
		by[c["UID"]] = c
	}
	e := by["sow-carrots@haulm"]
	for name, want := range map[string]string{
		"component": "VEVENT", "SEQUENCE": "3", "DTSTART;VALUE=DATE": "20270412", "DTEND;VALUE=DATE": "20270426", "DTSTAMP": "20270412T063000Z",
	} {
		if e[name] != want {
			t.Errorf("%s: got %q, want %q", name, e[name], want)
		}
	}
	if got, want := unescape(e["DESCRIPTION"]), strings.ReplaceAll(entry.Description, "\r\n", "\n"); got != want {
		t.Errorf("description came back as %q, want %q", got, want)
	}
	if by["todo@haulm"]["component"] != "VTODO" || by["todo@haulm"]["DUE;VALUE=DATE"] != "20270413" || by["todo@haulm"]["STATUS"] != "NEEDS-ACTION" {
		t.Errorf("to-do: %v", by["todo@haulm"])
	}
	if by["gone@haulm"]["STATUS"] != "CANCELLED" {
		t.Errorf("cancelled: %v", by["gone@haulm"])
	}
}

// A third-party parser takes it without complaint (github.com/arran4/golang-ical).
func TestCalendarOpensInAThirdPartyParser(t *testing.T) {
	entries := []Entry{
		{UID: "a@haulm", Day: calendar.On(2028, 2, 29), Until: calendar.On(2028, 2, 29), Summary: "Plant out, “early”; mind frost"},
		{UID: "b@haulm", Day: calendar.On(2027, 12, 31), Until: calendar.On(2028, 1, 2), Summary: strings.Repeat("Lift leeks · ", 20), Description: "one\ntwo"},
	}
	parsed, err := parser.ParseCalendar(strings.NewReader(written(t, Calendar{Name: "G", Stamp: stamp, Entries: entries})))
	if err != nil {
		t.Fatal(err)
	}
	events := parsed.Events()
	if len(events) != 2 {
		t.Fatalf("%d events", len(events))
	}
	for i, want := range []Entry{entries[1], entries[0]} {
		start, err := events[i].GetAllDayStartAt()
		if err != nil || calendar.FromTime(start) != want.Day {
			t.Errorf("event %d begins %v, %v; want %s", i, start, err, want.Day)
		}
		end, err := events[i].GetAllDayEndAt()
		if err != nil || calendar.FromTime(end) != want.Until.Add(1) {
			t.Errorf("event %d ends %v, %v; want the day after %s", i, end, err, want.Until)
		}
		if got := events[i].GetProperty(parser.ComponentPropertySummary).Value; got != want.Summary {
			t.Errorf("summary %q, want %q", got, want.Summary)
		}
	}
}

func TestCalendarRefusesWhatCannotBe(t *testing.T) {
	good := Entry{UID: "x", Day: calendar.On(2027, 1, 1), Until: calendar.On(2027, 1, 1)}
	for name, spoil := range map[string]func(*Calendar){
		"no stamp":       func(c *Calendar) { c.Stamp = time.Time{} },
		"no uid":         func(c *Calendar) { c.Entries[0].UID = " " },
		"no day":         func(c *Calendar) { c.Entries[0].Day = calendar.None },
		"ends before":    func(c *Calendar) { c.Entries[0].Until-- },
		"the same twice": func(c *Calendar) { c.Entries = append(c.Entries, good) },
	} {
		c := Calendar{Stamp: stamp, Entries: []Entry{good}}
		spoil(&c)
		if err := Write(&bytes.Buffer{}, c); err == nil {
			t.Errorf("%s was written", name)
		}
	}
}

// Any text whatever comes back, but for control signs, in lines of 75 octets.
func TestCalendarAnyText(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		words := rapid.String().Draw(r, "words")
		text := written(r, Calendar{Name: "n", Stamp: stamp, Entries: []Entry{{UID: "u", Day: 20000, Until: 20003, Summary: "s" + words}}})
		found, err := strict(text)
		if err != nil {
			r.Fatal(err)
		}
		clean := strings.Map(func(c rune) rune {
			if c < ' ' && c != '\t' && c != '\n' || c == 0x7f {
				return -1
			}
			return c
		}, strings.ReplaceAll(strings.ReplaceAll(words, "\r\n", "\n"), "\r", "\n"))
		if got := unescape(found[0]["SUMMARY"]); got != "s"+clean {
			r.Fatalf("%q came back as %q", words, got)
		}
	})
}
