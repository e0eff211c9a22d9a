package web

import (
	"fmt"
	"net/url"
	"strconv"
	"strings"
)

// field is one thing to fill in, with what was typed and what is wrong with it.
type field struct {
	Name, ID   string // ID is Name, or Name with the line's number
	Label      string
	Kind       string // text, number, date, select, hidden
	Unit, Hint string
	Such       string // an answer that would do, for what is said of one that does not
	List       string // id of a list of suggestions
	Value      string
	Fault      string
	Options    []choice
	Groups     []choiceGroup // choices under headings, after those without
	Words      string        // shown in place of a hidden field
}

// choiceGroup is some choices under one heading.
type choiceGroup struct {
	Label   string
	Options []choice
}

// Describedby lists the ids of what is said about the field.
func (f field) Describedby() string {
	var ids []string
	if f.Hint != "" {
		ids = append(ids, f.ID+"-hint")
	}
	if f.Fault != "" {
		ids = append(ids, f.ID+"-fault")
	}
	return strings.Join(ids, " ")
}

// with is the field filled in.
func (f field) with(value string) field {
	f.Value = value
	f.Options = chosen(f.Options, value)
	groups := f.Groups
	f.Groups = nil
	for _, g := range groups {
		f.Groups = append(f.Groups, choiceGroup{g.Label, chosen(g.Options, value)})
	}
	return f
}

// chosen are some choices with one of them chosen.
func chosen(options []choice, value string) []choice {
	var out []choice
	for _, o := range options {
		o.Chosen = o.Value == value
		out = append(out, o)
	}
	return out
}

// group adds a choice under a heading.
func (f *field) group(label string, c choice) {
	for i := range f.Groups {
		if f.Groups[i].Label == label {
			f.Groups[i].Options = append(f.Groups[i].Options, c)
			return
		}
	}
	f.Groups = append(f.Groups, choiceGroup{label, []choice{c}})
}

// such gives the field's example in words with a %s for it; nothing where it has
// none.
func (f *field) such(words string) string {
	if f.Such == "" {
		return ""
	}
	return fmt.Sprintf(words, f.Such)
}

// number reads the field; a decimal comma is understood.
func (f *field) number() (float64, bool) {
	text := strings.ReplaceAll(strings.TrimSpace(f.Value), ",", ".")
	text = strings.ReplaceAll(text, "−", "-")
	if text == "" {
		f.Fault = "Write a number here" + f.such(", such as %s") + "."
		return 0, false
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		f.Fault = fmt.Sprintf("%q is not a number%s.", f.Value, f.such("; write one such as %s"))
		return 0, false
	}
	return v, true
}

// whole is number for things that are counted.
func (f *field) whole() (int, bool) {
	v, ok := f.number()
	if ok && v != float64(int(v)) {
		f.Fault = fmt.Sprintf("%s is not a whole number%s.", f.Value, f.such("; write one such as %s"))
		return 0, false
	}
	return int(v), ok
}

// lines are fields that come again and again: one line a place, a crop, a ban.
type lines struct {
	Key    string // place: fields are called place.name, …
	Legend string // of one line
	Add    string // the button
	Proto  []field
	Lines  []line
}

// line is one filling of the fields.
type line struct {
	Key, Legend string
	No          int // from 1
	Fields      []field
}

// Blank is a line with nothing in it, for the page's script to copy.
func (l lines) Blank() line { return l.line(0, nil) }

func (l lines) line(no int, values map[string]string) line {
	out := line{Key: l.Key, Legend: l.Legend, No: no}
	for _, f := range l.Proto {
		value := values[f.Name]
		if values == nil && len(f.Options) > 0 {
			value = f.Options[0].Value
		}
		f = f.with(value)
		f.ID = fmt.Sprintf("%s-%d-%s", l.Key, no, f.Name)
		f.Name = l.Key + "." + f.Name
		out.Fields = append(out.Fields, f)
	}
	return out
}

// add puts a line at the end.
func (l *lines) add(values map[string]string) {
	l.Lines = append(l.Lines, l.line(len(l.Lines)+1, values))
}

// read fills the lines from a form that was sent.
func (l *lines) read(form url.Values) {
	l.Lines = nil
	for i := range form[l.Key+"."+l.Proto[0].Name] {
		values := map[string]string{}
		for _, f := range l.Proto {
			if sent := form[l.Key+"."+f.Name]; i < len(sent) {
				values[f.Name] = sent[i]
			}
		}
		l.add(values)
	}
}

// drop takes the line of that number out.
func (l *lines) drop(no int) {
	kept := l.Lines
	l.Lines = nil
	for _, old := range kept {
		if old.No == no {
			continue
		}
		values := map[string]string{}
		for i, f := range l.Proto {
			values[f.Name] = old.Fields[i].Value
		}
		l.add(values)
	}
}

// at is the field of a name, to read it or to fault it.
func (l line) at(name string) *field {
	for i := range l.Fields {
		if l.Fields[i].Name == l.Key+"."+name {
			return &l.Fields[i]
		}
	}
	panic("web: a " + l.Key + " has no field " + name)
}

// blank says whether nothing was typed in the line.
func (l line) blank() bool {
	for _, f := range l.Fields {
		if f.Kind != "select" && f.Kind != "hidden" && strings.TrimSpace(f.Value) != "" {
			return false
		}
	}
	return true
}

func (l line) value(name string) string { return strings.TrimSpace(l.at(name).Value) }
