package ground

import (
	"cmp"
	"fmt"
	"slices"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/garden"
)

// Lookup finds a crop by its key; nil when there is none (crop.Catalogue.Crop).
type Lookup func(key string) *crop.Crop

// Ban keeps one rotation group off one strip for a while.
type Ban struct {
	Group    string
	FreeFrom int    // the first season year in which the group may stand there again
	Crop     string // key of the crop that it is because of
	Year     int    // the season year in which that crop last stood there
	Why      string // one sentence
}

// Bans lists, for each strip of the named place, which rotation groups may
// not stand there in season year: those of which a crop stood there, or
// stands there now, less than that crop's own interval ago. A crop that last
// stood in 2024 with an interval of 3 years frees its group in 2027. Within a
// strip bans are ordered by group, one to a group: the longest.
//
// An unknown place or crop is an error, since leaving it out would plant on
// infected ground.
func Bans(g *garden.Garden, place string, crops Lookup, year int) ([][]Ban, error) {
	p, ok := g.Place(place)
	if !ok {
		return nil, fmt.Errorf("rotation: the garden has no place %q; name one of its places", place)
	}
	bans := make([][]Ban, Strips(p))
	for _, stood := range past(g, place, year) {
		c := crops(stood.Crop)
		if c == nil {
			return nil, fmt.Errorf("rotation in %q: no crop is called %q; correct its name in the garden's history", place, stood.Crop)
		}
		ban := banFor(c, stood.Year, year)
		if ban.FreeFrom <= year {
			continue
		}
		first, end := StripsOver(p, stood.FromCM, stood.ToCM)
		for i := first; i < end; i++ {
			bans[i] = withBan(bans[i], ban)
		}
	}
	return bans, nil
}

// past is what stood or stands in place, standing crops counted in the year asked for.
func past(g *garden.Garden, place string, year int) []garden.Grown {
	var out []garden.Grown
	for _, h := range g.History {
		if h.Place == place && h.Year <= year {
			out = append(out, h)
		}
	}
	for _, s := range g.Standing {
		startYear := calendar.SeasonYear(s.Started, g.Site.South())
		if s.Place == place && startYear <= year {
			out = append(out, garden.Grown{Place: place, FromCM: s.FromCM, ToCM: s.ToCM, Crop: s.Crop, Year: year})
		}
	}
	return out
}

func banFor(c *crop.Crop, stood, year int) Ban {
	b := Ban{Group: c.RotationGroup, FreeFrom: stood + c.RotationYears, Crop: c.Key, Year: stood}
	when := fmt.Sprintf("%s stood here in %d", c.Name, stood)
	if stood == year {
		when = fmt.Sprintf("%s stands here this season", c.Name)
	}
	b.Why = fmt.Sprintf("%s, and its group (%s) should stay off the same ground for %d years: free again from %d.",
		when, c.RotationGroup, c.RotationYears, b.FreeFrom)
	return b
}

// withBan adds b, keeping the longer of two bans on one group.
func withBan(bans []Ban, b Ban) []Ban {
	i, found := slices.BinarySearchFunc(bans, b, func(a, b Ban) int { return cmp.Compare(a.Group, b.Group) })
	switch {
	case !found:
		return slices.Insert(bans, i, b)
	case bans[i].FreeFrom < b.FreeFrom:
		bans[i] = b
	}
	return bans
}

// Banned finds the ban on group among a strip's bans.
func Banned(bans []Ban, group string) (Ban, bool) {
	for _, b := range bans {
		if b.Group == group {
			return b, true
		}
	}
	return Ban{}, false
}
