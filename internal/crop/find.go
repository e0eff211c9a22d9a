package crop

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
)

// nameIndex finds crops by any name.
type nameIndex struct {
	exact map[string]*Crop
	loose map[string]*Crop // words in any order
	list  []named          // every name, for prefixes and near misses
}

type named struct {
	normal string
	crop   *Crop
}

// newNameIndex refuses a name that two crops claim.
func newNameIndex(crops []*Crop) (nameIndex, error) {
	x := nameIndex{exact: map[string]*Crop{}, loose: map[string]*Crop{}}
	for _, c := range crops {
		for _, name := range slices.Concat([]string{c.Key, c.Name}, c.OtherNames, c.GenericNames) {
			normal := normalise(name)
			if normal == "" {
				return x, fmt.Errorf("crops.csv: %s has an empty name", c.Key)
			}
			for _, held := range []*Crop{x.exact[normal], x.loose[anyOrder(normal)]} {
				if held != nil && held != c {
					return x, fmt.Errorf("crops.csv: %q is a name of both %s and %s", name, held.Key, c.Key)
				}
			}
			if x.exact[normal] == nil {
				x.list = append(x.list, named{normal, c})
			}
			x.exact[normal], x.loose[anyOrder(normal)] = c, c
		}
	}
	return x, nil
}

// longestName is more than any name of a crop; more than it is not looked at.
const longestName = 80

// Find is the crop that a gardener means by name: a key, the usual name or
// any other, whatever its case, accents, hyphens or plural. Names split by a
// slash are tried in turn. What begins one crop's name only is enough. The
// error names the nearest crops in one line.
func (c *Catalogue) Find(name string) (*Crop, error) {
	if len(name) > longestName {
		name = strings.ToValidUTF8(name[:longestName], "")
		return nil, fmt.Errorf("crop name %q… is too long for a name", name)
	}
	if normalise(name) == "" {
		return nil, errors.New("crop name is empty; give a name such as courgette or broad bean")
	}
	for _, try := range spellings(name) {
		if found := c.names.find(try); found != nil {
			return found, nil
		}
	}
	normal := normalise(name)
	begins := c.names.beginning(normal)
	if len(begins) == 1 {
		return begins[0], nil
	}
	if len(begins) > 1 {
		return nil, fmt.Errorf("crop %q could be: %s", name, namesOf(begins))
	}
	return nil, fmt.Errorf("crop %q is not in the catalogue; the nearest are: %s", name, namesOf(c.names.nearest(normal)))
}

// PlainName is a crop's name without what tells it from its kin: "Potato" of
// "Potato (second early)".
func (c *Crop) PlainName() string {
	plain, _, _ := strings.Cut(c.Name, " (")
	return plain
}

// Meant are the crops that a name may stand for, the one usually meant first,
// then its kin: "potato" is the maincrop, but may be any.
func (c *Catalogue) Meant(name string) ([]*Crop, error) {
	usual, err := c.Find(name)
	if err != nil {
		return nil, err
	}
	out, said := []*Crop{usual}, anyOrder(normalise(name))
	loosely := slices.ContainsFunc(append([]string{usual.PlainName(), usual.Dish}, usual.GenericNames...), func(n string) bool { return anyOrder(normalise(n)) == said })
	for _, kin := range c.crops {
		if loosely && kin != usual && (kin.PlainName() == usual.PlainName() || kin.Dish == usual.Dish) {
			out = append(out, kin)
		}
	}
	return out, nil
}

// spellings are the readings of a name, the fullest first: all of it, each
// side of a slash, and each without what stands in brackets.
func spellings(name string) []string {
	tries := append([]string{name}, strings.Split(name, "/")...)
	for _, try := range tries {
		if open := strings.IndexByte(try, '('); open > 0 {
			tries = append(tries, try[:open])
		}
	}
	return tries
}

func (x nameIndex) find(name string) *Crop {
	normal := normalise(name)
	if c := x.exact[normal]; c != nil {
		return c
	}
	return x.loose[anyOrder(normal)]
}

func (x nameIndex) beginning(normal string) []*Crop {
	var found []*Crop
	for _, n := range x.list {
		if strings.HasPrefix(n.normal, normal) && !slices.Contains(found, n.crop) {
			found = append(found, n.crop)
		}
	}
	return found
}

// nearest are the three crops with a name most like normal.
func (x nameIndex) nearest(normal string) []*Crop {
	away := map[*Crop]int{}
	var crops []*Crop
	for _, n := range x.list {
		d := Distance(normal, n.normal)
		if best, ok := away[n.crop]; !ok {
			away[n.crop], crops = d, append(crops, n.crop)
		} else if d < best {
			away[n.crop] = d
		}
	}
	slices.SortStableFunc(crops, func(a, b *Crop) int { return cmp.Compare(away[a], away[b]) })
	return crops[:min(3, len(crops))]
}

func namesOf(crops []*Crop) string {
	names := make([]string, 0, len(crops))
	for _, c := range crops[:min(6, len(crops))] {
		names = append(names, c.Name)
	}
	return strings.Join(names, ", ")
}
