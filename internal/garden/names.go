package garden

import (
	"fmt"
	"slices"

	"haulm/internal/crop"
)

// Names tells which dishes and crops there are. A nil list is not checked.
type Names struct {
	Dishes []string // crop.Crop.Dish
	Crops  []string // crop.Crop.Key
}

// NamesOf is the names of a catalogue's crops and of the dishes they make.
func NamesOf(crops []*crop.Crop) Names {
	names := Names{Dishes: []string{}, Crops: []string{}}
	for _, c := range crops {
		names.Crops = append(names.Crops, c.Key)
		if !slices.Contains(names.Dishes, c.Dish) {
			names.Dishes = append(names.Dishes, c.Dish)
		}
	}
	return names
}

// CheckNames says which dish or crop of the garden nobody has heard of, with
// the nearest one that is known, or nil.
func CheckNames(g *Garden, names Names) error {
	for _, w := range g.Wants {
		if err := known("want", "dish", w.Dish, names.Dishes); err != nil {
			return err
		}
	}
	for _, h := range g.History {
		if err := known(fmt.Sprintf("grown in %q", h.Place), "crop", h.Crop, names.Crops); err != nil {
			return err
		}
	}
	for _, s := range g.Standing {
		if err := known(fmt.Sprintf("standing in %q", s.Place), "crop", s.Crop, names.Crops); err != nil {
			return err
		}
	}
	for _, stored := range g.InStore {
		if err := known("in store", "dish", stored.Dish, names.Dishes); err != nil {
			return err
		}
	}
	for _, k := range g.Keeps {
		if err := known(fmt.Sprintf("kept in %q", k.Place), "crop", k.Crop, names.Crops); err != nil {
			return err
		}
	}
	for _, l := range g.Locks {
		if err := known("lock", "dish", l.Dish, names.Dishes); err != nil {
			return err
		}
	}
	return nil
}

func known(subject, what, name string, names []string) error {
	if names == nil || slices.Contains(names, name) {
		return nil
	}
	return fmt.Errorf("%s: no %s is called %q; %s", subject, what, name, hint(name, names))
}
