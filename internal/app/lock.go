package app

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/cropping"
	"haulm/internal/garden"
)

// KeepOf is what would keep a planting of a plan, with all of its ground: on its
// day, or every year.
func KeepOf(p *cropping.Planting, always bool) garden.Keep {
	k := garden.Keep{Place: p.Place, FromCM: p.FromCM, ToCM: p.EndCM, Crop: p.Crop.Key, Route: p.Route.Key, Class: p.Class, Start: p.Start}
	if always {
		k.Route, k.Class, k.Start = "", "", calendar.None
	}
	return k
}

// Kept finds what keeps a planting; false where nothing does.
func Kept(g *garden.Garden, p *cropping.Planting) (garden.Keep, bool) {
	for _, always := range []bool{false, true} {
		k, byRows := KeepOf(p, always), KeepOf(p, always)
		byRows.ToCM = p.ToCM // as written into the garden by hand, or by an earlier Haulm
		for _, k := range []garden.Keep{k, byRows} {
			if slices.Contains(g.Keeps, k) {
				return k, true
			}
		}
	}
	return garden.Keep{}, false
}

// Keep makes every plan from now on have a planting. UndoGarden takes it back.
func (d *Desk) Keep(k garden.Keep) error {
	return d.lock(func(g *garden.Garden) error {
		if slices.Contains(g.Keeps, k) {
			return fmt.Errorf("%s is kept there already", d.cropName(k.Crop))
		}
		for _, l := range g.Locks {
			if cr := d.Catalogue.Crop(k.Crop); cr != nil && l.Dish == cr.Dish && (l.Place == "" || l.Place == k.Place) {
				return fmt.Errorf("%s are locked out there: free that first", l.Dish)
			}
		}
		g.Keeps = append(slices.Clone(g.Keeps), k)
		return nil
	})
}

// LetGo leaves it to the plan again whether a planting is there.
func (d *Desk) LetGo(k garden.Keep) error {
	return d.lock(func(g *garden.Garden) error {
		i := slices.Index(g.Keeps, k)
		if i < 0 {
			return errors.New("that planting is not kept")
		}
		g.Keeps = slices.Delete(slices.Clone(g.Keeps), i, i+1)
		return nil
	})
}

// Ban keeps a dish out of a place, or of all ("").
func (d *Desk) Ban(l garden.Lock) error {
	return d.lock(func(g *garden.Garden) error {
		if slices.Contains(g.Locks, l) {
			return fmt.Errorf("%s are locked out there already", l.Dish)
		}
		for _, k := range g.Keeps {
			if cr := d.Catalogue.Crop(k.Crop); cr != nil && cr.Dish == l.Dish && (l.Place == "" || l.Place == k.Place) {
				return fmt.Errorf("you keep %s in %s: let that go first", crop.InSentence(cr.Name), k.Place)
			}
		}
		g.Locks = append(slices.Clone(g.Locks), l)
		return nil
	})
}

// Unban lets a dish in again.
func (d *Desk) Unban(l garden.Lock) error {
	return d.lock(func(g *garden.Garden) error {
		i := slices.Index(g.Locks, l)
		if i < 0 {
			return errors.New("that dish is not locked out there")
		}
		g.Locks = slices.Delete(slices.Clone(g.Locks), i, i+1)
		return nil
	})
}

// lock keeps the garden with its locks changed.
func (d *Desk) lock(change func(*garden.Garden) error) error {
	g, err := d.Garden()
	if err != nil {
		return err
	}
	own := *g
	if err := change(&own); err != nil {
		return err
	}
	return d.SaveGarden(&own)
}

// LockWords lists in words what a garden keeps, then what it bans, in the order
// in which haulm lock free counts them.
func (d *Desk) LockWords(g *garden.Garden) []string {
	var out []string
	for _, k := range g.Keeps {
		when := "every year"
		if !k.Always() {
			when = "from " + k.Start.Format("2 January 2006")
		}
		out = append(out, fmt.Sprintf("keep %s in %s, %s, %s", crop.InSentence(d.cropName(k.Crop)), k.Place, alongWords(g, k), when))
	}
	for _, l := range g.Locks {
		where := "anywhere"
		if l.Place != "" {
			where = "in " + l.Place
		}
		out = append(out, fmt.Sprintf("no %s %s", l.Dish, where))
	}
	return out
}

func alongWords(g *garden.Garden, k garden.Keep) string {
	if place, ok := g.Place(k.Place); ok && place.Kind == garden.Pots {
		return fmt.Sprintf("%d pots", (k.ToCM-k.FromCM)/garden.PotPitchCM)
	}
	return alongM(k.FromCM, k.ToCM)
}

// PlantingsOf are the plan's own plantings of a crop in a place, named as a
// person would.
func (d *Desk) PlantingsOf(place, cropName string) ([]*cropping.Planting, error) {
	planned, err := d.Planned()
	if err != nil {
		return nil, err
	}
	g, err := d.Garden()
	if err != nil {
		return nil, err
	}
	name, err := placeNamed(g, place)
	if err != nil {
		return nil, err
	}
	meant, err := d.Catalogue.Meant(cropName)
	if err != nil {
		return nil, err
	}
	own := slices.DeleteFunc(plantingsIn(planned.Year, name), func(p *cropping.Planting) bool { return p.Stands })
	for _, usual := range [][]*crop.Crop{meant[:1], meant[1:]} { // the crop usually meant, where the plan has it
		if out := slices.DeleteFunc(slices.Clone(own), func(p *cropping.Planting) bool { return !slices.Contains(usual, p.Crop) }); len(out) > 0 {
			return out, nil
		}
	}
	return nil, fmt.Errorf("the plan has no %s in %s: %s", crop.InSentence(meant[0].Name), name, plannedThere(own))
}

func plantingsIn(y *cropping.Year, place string) []*cropping.Planting {
	var out []*cropping.Planting
	for i := range y.Plantings {
		if p := &y.Plantings[i]; p.Place == place {
			out = append(out, p)
		}
	}
	return out
}

// plannedThere says what may be named instead.
func plannedThere(own []*cropping.Planting) string {
	var names []string
	for _, p := range own {
		if name := crop.InSentence(p.Crop.Name); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	if len(names) == 0 {
		return "it has nothing there"
	}
	return "it has " + strings.Join(names, ", ")
}

// BanNamed is a ban of a dish or crop, in a place or anywhere, as a person
// names them.
func (d *Desk) BanNamed(dish, place string) (garden.Lock, error) {
	g, err := d.Garden()
	if err != nil {
		return garden.Lock{}, err
	}
	l := garden.Lock{}
	for _, cr := range d.Catalogue.Crops() {
		if strings.EqualFold(cr.Dish, dish) {
			l.Dish = cr.Dish
		}
	}
	if l.Dish == "" {
		cr, err := d.Catalogue.Find(dish)
		if err != nil {
			return l, err
		}
		l.Dish = cr.Dish
	}
	if place != "" {
		if l.Place, err = placeNamed(g, place); err != nil {
			return l, err
		}
	}
	return l, nil
}
