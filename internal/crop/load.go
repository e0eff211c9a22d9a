package crop

import (
	"fmt"
	"io/fs"
	"math"
	"strconv"
	"strings"
)

// loader builds a Catalogue table by table.
type loader struct {
	from    fs.FS
	cat     *Catalogue
	sources map[string]bool
}

// loadFrom reads a set of tables and checks them against each other.
func loadFrom(from fs.FS) (*Catalogue, error) {
	l := &loader{from: from, cat: &Catalogue{byKey: map[string]*Crop{}}, sources: map[string]bool{}}
	steps := []func() error{l.readSources, l.readCrops}
	for _, table := range factTables {
		steps = append(steps, func() error { return l.readFacts(table) })
	}
	steps = append(steps, l.readRoutes, l.readCautions, l.readCovers, l.readConstants, l.finish)
	for _, step := range steps {
		if err := step(); err != nil {
			return nil, err
		}
	}
	return l.cat, nil
}

func (l *loader) read(file string, heading []string, each func(row) error) error {
	f, err := l.from.Open(file)
	if err != nil {
		return fmt.Errorf("%s: the table is missing: %w", file, err)
	}
	defer f.Close()
	return readTable(file, f, heading, each)
}

func (l *loader) readSources() error {
	return l.read("sources.csv", []string{"key", "citation", "where_seen", "status"}, func(r row) error {
		key := r.cells[0]
		if key == "" || r.cells[1] == "" {
			return r.fault("a source needs a key and a citation")
		}
		if l.sources[key] {
			return r.fault("source %q stands twice", key)
		}
		l.sources[key] = true
		l.cat.sources = append(l.cat.sources, Source{key, r.cells[1], r.cells[2], r.cells[3]})
		return nil
	})
}

// factsPerCrop is room for the facts of most crops.
const factsPerCrop = 96

var cropHeading = []string{"key", "name", "other_names", "generic_of", "botanical", "family", "rotation_group", "dish", "first_crop_year"}

func (l *loader) readCrops() error {
	return l.read("crops.csv", cropHeading, func(r row) error {
		for _, i := range []int{0, 1, 4, 5, 6, 7} {
			if r.cells[i] == "" {
				return r.fault("%s is empty", cropHeading[i])
			}
		}
		c := &Crop{
			Key: r.cells[0], Name: r.cells[1], OtherNames: list(r.cells[2]), GenericNames: list(r.cells[3]),
			Facts:     make([]Fact, 0, factsPerCrop),
			Botanical: r.cells[4], Family: r.cells[5], RotationGroup: r.cells[6], Dish: r.cells[7],
		}
		if r.cells[8] != "" {
			year, err := strconv.Atoi(r.cells[8])
			if err != nil || year < 1 || year > 6 {
				return r.fault("first_crop_year is %q, should be 1 to 6, or empty for crops of one year", r.cells[8])
			}
			c.Perennial, c.FirstCropYear = true, year
		}
		if l.cat.byKey[c.Key] != nil {
			return r.fault("crop %q stands twice", c.Key)
		}
		l.cat.byKey[c.Key] = c
		l.cat.crops = append(l.cat.crops, c)
		return nil
	})
}

func list(cell string) []string {
	if cell == "" {
		return nil
	}
	return strings.Split(cell, "|")
}

// factColumns are the columns that every table of facts ends with.
var factColumns = []string{"fact", "low", "value", "high", "text", "source", "grade", "note"}

func (l *loader) readFacts(table factTable) error {
	book := bookOf(table.rules)
	seen := make(map[*Crop]*uint64, len(l.cat.crops))
	for _, c := range l.cat.crops {
		seen[c] = new(uint64)
	}
	heading := append([]string{"crop"}, factColumns...)
	err := l.read(table.file, heading, func(r row) error {
		c := l.cat.byKey[r.cells[0]]
		if c == nil {
			return r.fault("crop %q is not in crops.csv", r.cells[0])
		}
		fact, err := r.fact(r.cells[1:], l.sources)
		if err != nil {
			return err
		}
		if err := book.apply(c, &fact, seen[c], r); err != nil {
			return err
		}
		c.Facts = append(c.Facts, fact)
		return nil
	})
	if err != nil {
		return err
	}
	for _, c := range l.cat.crops {
		if name := book.missing(*seen[c]); name != "" {
			return fmt.Errorf("%s: %s has no %s", table.file, c.Key, name)
		}
	}
	return nil
}

// routeOf is a place for what has been read of a crop's route.
type routeOf struct {
	crop *Crop
	at   int
}

func (l *loader) readRoutes() error {
	book := bookOf(routeRules)
	seen := map[routeOf]*uint64{}
	heading := append([]string{"crop", "route"}, factColumns...)
	err := l.read("routes.csv", heading, func(r row) error {
		c := l.cat.byKey[r.cells[0]]
		if c == nil {
			return r.fault("crop %q is not in crops.csv", r.cells[0])
		}
		if routeNames[r.cells[1]] == "" {
			return r.fault("%q is no way of raising a crop", r.cells[1])
		}
		fact, err := r.fact(r.cells[2:], l.sources)
		if err != nil {
			return err
		}
		place := routeOf{c, c.routeAt(r.cells[1])}
		if seen[place] == nil {
			seen[place] = new(uint64)
		}
		route := &c.Routes[place.at]
		if err := book.apply(route, &fact, seen[place], r); err != nil {
			return err
		}
		fact.Name = route.Key + "/" + fact.Name
		c.Facts = append(c.Facts, fact)
		return nil
	})
	if err != nil {
		return err
	}
	for _, c := range l.cat.crops {
		for i := range c.Routes {
			if name := book.missing(*seen[routeOf{c, i}]); name != "" {
				return fmt.Errorf("routes.csv: %s, %s has no %s", c.Key, c.Routes[i].Key, name)
			}
		}
	}
	return nil
}

// routeAt is where a route stands in Routes; it is put there when first asked
// for.
func (c *Crop) routeAt(key string) int {
	for i := range c.Routes {
		if c.Routes[i].Key == key {
			return i
		}
	}
	c.Routes = append(c.Routes, Route{Key: strings.Clone(key)})
	return len(c.Routes) - 1
}

// finish fills what follows from the facts, indexes the names and checks each
// crop as a whole.
func (l *loader) finish() error {
	for _, c := range l.cat.crops {
		c.Tall = c.HeightM >= l.cat.Constants.TallFromM
		if c.Growth.HotC == 0 {
			c.Growth.HotC = c.Growth.PlateauC
		}
		for i := range c.Routes {
			c.Routes[i].finish(c)
			if c.Routes[i].EmergeLogSD == 0 {
				c.Routes[i].EmergeLogSD = math.Hypot(l.cat.Constants.EmergeLogSD, l.cat.Constants.SiteEmergeLogSD)
			}
		}
		for i := range c.Hardiness {
			if math.IsNaN(c.Hardiness[i].KillC) || math.IsNaN(c.Hardiness[i].DamageC) {
				return fmt.Errorf("cold.csv: %s, %s needs both damage_c and kill_c", c.Key, c.Hardiness[i].Stage)
			}
		}
		if err := c.check(); err != nil {
			return fmt.Errorf("crop %s: %w", c.Key, err)
		}
		c.spreadClasses(l.cat.Constants.KindShare)
	}
	var err error
	l.cat.names, err = newNameIndex(l.cat.crops)
	return err
}
