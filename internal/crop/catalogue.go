package crop

import (
	"embed"
	"fmt"
	"io/fs"
	"slices"
	"strings"
)

//go:embed data/*.csv
var tables embed.FS

// Catalogue is all the crops, covers and constants, checked. It does not
// change once loaded, and may be read by many goroutines.
type Catalogue struct {
	Constants Constants

	crops   []*Crop
	byKey   map[string]*Crop
	names   nameIndex
	covers  []Cover
	sources []Source
	general []AreaCaution
}

// Source is where figures come from.
type Source struct {
	Key       string
	Citation  string
	WhereSeen string
	Status    string // seen, seen in part, memory, ours, none
}

// AreaCaution is a caution that belongs to no one crop.
type AreaCaution struct {
	Area string // food, manure, work, preserving, plant health
	Caution
}

// Load reads the embedded tables. An error names the file and line that is
// wrong.
func Load() (*Catalogue, error) {
	sub, err := fs.Sub(tables, "data")
	if err != nil {
		return nil, fmt.Errorf("crop tables: %w", err)
	}
	return loadFrom(sub)
}

// Crops lists the crops in the order of the table; not to be changed.
func (c *Catalogue) Crops() []*Crop { return c.crops }

// Crop is the crop of a catalogue key, or nil.
func (c *Catalogue) Crop(key string) *Crop { return c.byKey[key] }

// Sources lists where the figures come from.
func (c *Catalogue) Sources() []Source { return c.sources }

// Cite is what a source is, in words; the key itself where it is none of the
// catalogue's.
func (c *Catalogue) Cite(key string) string {
	for _, s := range c.sources {
		if s.Key == key {
			return s.Citation
		}
	}
	return key
}

// GeneralCautions lists the cautions that belong to no one crop, by area.
func (c *Catalogue) GeneralCautions() []AreaCaution { return c.general }

// Covers lists the covers, lightest first, without the open sky.
func (c *Catalogue) Covers() []Cover { return c.covers }

// Cover is the cover of a key or name; "" and "open" are the open sky, which
// changes nothing. The error lists the covers there are.
func (c *Catalogue) Cover(name string) (Cover, error) {
	wanted := normalise(name)
	if wanted == "" || wanted == "open" || wanted == "none" {
		return Cover{Name: "open ground", LightShare: 1, RainShare: 1}, nil
	}
	keys := make([]string, 0, len(c.covers))
	for _, cover := range c.covers {
		if normalise(cover.Key) == wanted || normalise(cover.Name) == wanted {
			return cover, nil
		}
		keys = append(keys, cover.Key)
	}
	return Cover{}, fmt.Errorf("cover %q is not known; use one of: %s", name, strings.Join(keys, ", "))
}

// UsualRoute is the way the crop is raised when nobody says.
func (c *Crop) UsualRoute() *Route {
	if usual := c.FirstRoute(func(r *Route) bool { return r.Usual }); usual != nil {
		return usual
	}
	return &c.Routes[0]
}

// RaisedRoute is the first way of raising plants to set out; nil where the crop
// has none.
func (c *Crop) RaisedRoute() *Route { return c.FirstRoute(func(r *Route) bool { return r.Raised }) }

// FirstRoute is the first of the crop's routes that fits; nil where none does.
func (c *Crop) FirstRoute(fits func(*Route) bool) *Route {
	for i := range c.Routes {
		if fits(&c.Routes[i]) {
			return &c.Routes[i]
		}
	}
	return nil
}

// Route is the route of a key or name, the usual one for "". The error lists
// the routes the crop has.
func (c *Crop) Route(name string) (*Route, error) {
	wanted := normalise(name)
	if wanted == "" {
		return c.UsualRoute(), nil
	}
	keys := make([]string, 0, len(c.Routes))
	for i := range c.Routes {
		r := &c.Routes[i]
		if normalise(r.Key) == wanted || normalise(r.Name) == wanted || "in "+wanted == r.Name {
			return r, nil
		}
		keys = append(keys, r.Key)
	}
	return nil, fmt.Errorf("%s is not raised by %q; use one of: %s", c.Name, name, strings.Join(keys, ", "))
}

// Class is the class of a name (early, mid, late), mid for "".
func (c *Crop) Class(name string) (Class, bool) {
	if name == "" {
		name = "mid"
	}
	for _, class := range c.Classes {
		if class.Name == name {
			return class, true
		}
	}
	return Class{}, false
}

// ColdAt is what cold does at a stage; a stage the catalogue does not name
// stands what the nearest named stage before it stands.
func (c *Crop) ColdAt(stage string) Hardiness {
	last := c.Hardiness[0]
	for _, name := range hardinessStages {
		for _, h := range c.Hardiness {
			if h.Stage == name && name != "wintering" || h.Stage == name && stage == "wintering" {
				last = h
			}
		}
		if name == stage {
			break
		}
	}
	return last
}

// Fact is the figure behind a name such as growth.base_c; route facts are
// asked for as module/route.in_row_cm.
func (c *Crop) Fact(name string) (Fact, bool) {
	for _, f := range c.Facts {
		if f.Name == name {
			return f, true
		}
	}
	return Fact{}, false
}

// Fruits says whether the crop is what its flowers set: the catalogue knows how
// they take cold or heat, or names flowering as the stage that minds drought.
func (c *Crop) Fruits() bool {
	if c.Heat.SetStopsMaxC > 0 {
		return true
	}
	for _, h := range c.Hardiness {
		if h.Stage == "flowering" {
			return true
		}
	}
	minds, _ := c.Fact("water.critical_text")
	return strings.HasPrefix(minds.Text, "flowering")
}

// Swells says whether the crop is a bulb, a tuber, a root or a head: the
// catalogue names its forming or filling as the stage that minds drought.
func (c *Crop) Swells() bool {
	minds, _ := c.Fact("water.critical_text")
	return slices.ContainsFunc([]string{"bulb formation", "tuber initiation", "root enlargement", "head"}, func(part string) bool {
		return strings.Contains(minds.Text, part)
	})
}

// Winters says whether the crop is grown through winters: the catalogue knows
// what it stands then.
func (c *Crop) Winters() bool {
	for _, h := range c.Hardiness {
		if h.Stage == "wintering" {
			return true
		}
	}
	return false
}
