package crop

import (
	"fmt"
	"slices"
)

var cautionAreas = []string{"food", "manure", "work", "preserving", "plant health"}

func (l *loader) readCautions() error {
	heading := []string{"area", "crops", "situation", "precaution", "source", "grade"}
	return l.read("cautions.csv", heading, func(r row) error {
		area := r.cells[0]
		caution := Caution{Situation: r.cells[2], Precaution: r.cells[3], Source: r.cells[4], Grade: Grade(r.cells[5])}
		switch {
		case !slices.Contains(cautionAreas, area):
			return r.fault("area %q is none of %v", area, cautionAreas)
		case caution.Situation == "" || caution.Precaution == "":
			return r.fault("a caution needs a situation and a precaution")
		case !l.sources[caution.Source]:
			return r.fault("source %q is not in sources.csv", caution.Source)
		case !slices.Contains(grades, caution.Grade):
			return r.fault("grade %q is none of %v", caution.Grade, grades)
		}
		if r.cells[1] == "" {
			l.cat.general = append(l.cat.general, AreaCaution{area, caution})
			return nil
		}
		for _, key := range list(r.cells[1]) {
			c := l.cat.byKey[key]
			if c == nil {
				return r.fault("crop %q is not in crops.csv", key)
			}
			c.Cautions = append(c.Cautions, caution)
		}
		return nil
	})
}

func (l *loader) readCovers() error {
	book := bookOf(coverRules)
	seen := map[string]*uint64{}
	heading := []string{"cover", "name", "fact", "low", "value", "high", "source", "grade", "note"}
	err := l.read("covers.csv", heading, func(r row) error {
		if r.cells[0] == "" || r.cells[1] == "" {
			return r.fault("a cover needs a key and a name")
		}
		cover := l.cover(r.cells[0], r.cells[1])
		if seen[cover.Key] == nil {
			seen[cover.Key] = new(uint64)
		}
		fact, err := r.fact(withoutText(r.cells[2:]), l.sources)
		if err != nil {
			return err
		}
		if err := book.apply(cover, &fact, seen[cover.Key], r); err != nil {
			return err
		}
		cover.Facts = append(cover.Facts, fact)
		return nil
	})
	if err != nil {
		return err
	}
	for _, cover := range l.cat.covers {
		if name := book.missing(*seen[cover.Key]); name != "" {
			return fmt.Errorf("covers.csv: %s has no %s", cover.Key, name)
		}
	}
	return nil
}

func (l *loader) cover(key, name string) *Cover {
	for i := range l.cat.covers {
		if l.cat.covers[i].Key == key {
			return &l.cat.covers[i]
		}
	}
	l.cat.covers = append(l.cat.covers, Cover{Key: key, Name: name})
	return &l.cat.covers[len(l.cat.covers)-1]
}

func (l *loader) readConstants() error {
	book := bookOf(constantRules)
	var seen uint64
	heading := []string{"constant", "low", "value", "high", "source", "grade", "note"}
	k := &l.cat.Constants
	err := l.read("constants.csv", heading, func(r row) error {
		fact, err := r.fact(withoutText(r.cells), l.sources)
		if err != nil {
			return err
		}
		if err := book.apply(k, &fact, &seen, r); err != nil {
			return err
		}
		k.Facts = append(k.Facts, fact)
		return nil
	})
	if err != nil {
		return err
	}
	if name := book.missing(seen); name != "" {
		return fmt.Errorf("constants.csv: has no %s", name)
	}
	return nil
}

// withoutText puts an empty text into fact columns that have none.
func withoutText(cells []string) []string {
	return []string{cells[0], cells[1], cells[2], cells[3], "", cells[4], cells[5], cells[6]}
}
