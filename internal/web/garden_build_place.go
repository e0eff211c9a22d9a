package web

import (
	"fmt"
	"strings"

	"haulm/internal/garden"
)

func (f *gardenForm) buildPlaces(g *garden.Garden) {
	seen := map[string]bool{}
	for _, l := range f.Places.Lines {
		if l.blank() {
			continue
		}
		p := f.buildPlace(l)
		name := l.at("name")
		if key := strings.ToLower(p.Name); seen[key] && name.Fault == "" {
			name.Fault = fmt.Sprintf("Another place is called %q too; give each its own name.", p.Name)
		} else {
			seen[key] = true
		}
		g.Places = append(g.Places, p)
	}
	if len(g.Places) == 0 && len(f.Places.Lines) > 0 {
		f.Places.Lines[0].at("name").Fault = "Describe at least one bed, border or set of pots."
	} else if len(g.Places) == 0 {
		f.Places.add(nil)
		f.Places.Lines[0].at("name").Fault = "Describe at least one bed, border or set of pots."
	}
}

func (f *gardenForm) buildPlace(l line) garden.Place {
	p := garden.Place{Name: l.value("name"), Kind: l.value("kind"), Cover: l.value("cover"), RunsTo: l.value("runs"), RainFed: l.value("water") == rainOnly}
	try := func(name string, set func(*garden.Place)) {
		if err := probe(func(s *garden.Garden) { s.Places[0] = soundPlace(p.Kind); set(&s.Places[0]) }); err != nil {
			l.at(name).Fault = tail(err)
		}
	}
	figure := func(name string, set func(*garden.Place, float64)) {
		if v, ok := l.at(name).number(); ok {
			set(&p, v)
			try(name, func(s *garden.Place) { set(s, v) })
		}
	}
	try("name", func(s *garden.Place) { s.Name = p.Name })
	try("kind", func(*garden.Place) {})
	if l.at("kind").Fault != "" {
		return p
	}
	try("runs", func(s *garden.Place) { s.RunsTo = p.RunsTo })
	try("cover", func(s *garden.Place) { s.Cover = p.Cover })
	figure("sun", func(p *garden.Place, v float64) { p.SunHours = v })
	if p.Kind != garden.Pots {
		p.Soil = l.value("soil")
		try("soil", func(s *garden.Place) { s.Soil = p.Soil })
		figure("length", func(p *garden.Place, v float64) { p.LengthM = v })
		figure("width", func(p *garden.Place, v float64) { p.WidthM = v })
		return p
	}
	if n, ok := l.at("pots").whole(); ok {
		p.Pots = n
		try("pots", func(s *garden.Place) { s.Pots = n })
	}
	figure("litres", func(p *garden.Place, v float64) { p.Litres = v })
	return p
}

// soundPlace is a place of the kind that nothing is wrong with.
func soundPlace(kind string) garden.Place {
	p := garden.Place{Name: "B", Kind: kind, LengthM: 1, WidthM: 1}
	switch kind {
	case garden.Pots:
		p = garden.Place{Name: "B", Kind: kind, Pots: 1, Litres: 10}
	case garden.Covered:
		p.Cover = "frame"
	}
	return p
}

func (f *gardenForm) buildWants(g *garden.Garden) {
	for _, l := range f.Wants.Lines {
		want := garden.Want{Dish: l.value("dish")}
		read := func(name string, set func(*garden.Want, float64)) {
			fl := l.at(name)
			if strings.TrimSpace(fl.Value) == "" {
				return // nothing wanted
			}
			v, ok := fl.number()
			if !ok {
				return
			}
			set(&want, v)
			try := garden.Want{Dish: "x"}
			set(&try, v)
			if err := probe(func(s *garden.Garden) { s.Wants = []garden.Want{try} }); err != nil {
				fl.Fault = tail(err)
			}
		}
		read("portions", func(w *garden.Want, v float64) { w.PortionsPerWeek = v })
		read("liking", func(w *garden.Want, v float64) { w.Liking = v })
		if want.PortionsPerWeek > 0 {
			g.Wants = append(g.Wants, want)
		}
	}
}
