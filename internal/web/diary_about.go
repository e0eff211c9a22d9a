package web

import (
	"cmp"
	"slices"

	"haulm/internal/diary"
	"haulm/internal/garden"
	"haulm/internal/unit"
)

// aboutForm is the second tap: what happened to one planting.
type aboutForm struct {
	Key, Crop, Where string
	Kinds            []diary.Kind
	Units            []choice
}

// aboutLink is the first tap: which planting.
type aboutLink struct {
	Href, Crop, Strip string
	Chosen            bool
}

// aboutPlace is the plantings of one place.
type aboutPlace struct {
	Place string
	Label string // tells the list from every other of the page
	Links []aboutLink
}

// soonPlanned is how far ahead of its day a planned planting is offered.
const soonPlanned = 28

// fillAbout lists what an entry may be about, and the taps for the one chosen.
func (p *Pages) fillAbout(page *diaryPage, chosen string) error {
	c, err := p.desk.DiaryContext()
	if err != nil {
		return err
	}
	u := unit.SystemOf(c.Imperial)
	for _, s := range c.Standing {
		if s.Cleared.Known() || s.LostAll {
			continue
		}
		link := aboutLink{aboutHref(s.Key), p.cropName(s.Crop), standingStrip(s, c.Places, u), s.Key == chosen}
		switch {
		case s.Begun.Known():
			page.Stands = addAbout(page.Stands, aboutPlace{Place: s.Place, Label: s.Place}, link)
		case s.Planned.Known() && s.Planned <= c.Today.Add(soonPlanned) || s.Key == chosen:
			page.Plans = addAbout(page.Plans, aboutPlace{Place: s.Place, Label: s.Place + ", planned about now"}, link)
		}
		if s.Key == chosen {
			page.About = &aboutForm{s.Key, link.Crop, standingWhere(s, c.Places, u), tapKinds(s, p.fruits(s.Crop)), tapUnits(u)}
		}
	}
	return nil
}

// addAbout puts a planting with those of its place.
func addAbout(places []aboutPlace, place aboutPlace, link aboutLink) []aboutPlace {
	i := slices.IndexFunc(places, func(p aboutPlace) bool { return p.Place == place.Place })
	if i < 0 {
		i = len(places)
		places = append(places, place)
	}
	places[i].Links = append(places[i].Links, link)
	slices.SortStableFunc(places[i].Links, func(a, b aboutLink) int { return cmp.Or(cmp.Compare(a.Crop, b.Crop), cmp.Compare(a.Strip, b.Strip)) })
	return places
}

// standingStrip is where along its place a planting stands, "" where it is not
// said.
func standingStrip(s diary.Standing, places []garden.Place, u unit.System) string {
	for _, place := range places {
		if place.Name == s.Place && s.ToCM > s.FromCM {
			return stretch(s.FromCM, s.ToCM, place.Kind == garden.Pots, u)
		}
	}
	return ""
}

func standingWhere(s diary.Standing, places []garden.Place, u unit.System) string {
	if strip := standingStrip(s, places, u); strip != "" {
		return s.Place + ", " + strip
	}
	return s.Place
}

func (p *Pages) fruits(key string) bool {
	c := p.desk.Catalogue.Crop(key)
	return c != nil && c.Fruits()
}

func (p *Pages) cropName(key string) string {
	if c := p.desk.Catalogue.Crop(key); c != nil {
		return c.Name
	}
	return key
}

// tapKinds are what may happen next to a planting, of a crop that fruits or not.
func tapKinds(s diary.Standing, fruits bool) []diary.Kind {
	if !s.Begun.Known() {
		return []diary.Kind{diary.Sown, diary.Planted}
	}
	kinds := []diary.Kind{
		diary.Picked, diary.Watered, diary.Weeded, diary.Up, diary.Fed, diary.Lost, diary.Cleared, diary.Stored,
		diary.PrickedOut, diary.PottedOn, diary.HardenedOff, diary.Planted, diary.Thinned, diary.Mulched, diary.EarthedUp,
		diary.Supported, diary.PinchedOut, diary.Covered, diary.Uncovered,
	}
	if fruits {
		kinds = slices.Insert(kinds, slices.Index(kinds, diary.Up)+1, diary.Flowering)
	}
	return kinds
}

// tapUnits are what an amount may be counted in.
func tapUnits(u unit.System) []choice {
	units := append([]choice{{"", "–", true}}, pickUnits(u)...)
	units[1].Chosen = false
	return append(units, choice{string(diary.Can), "cans", false}, choice{string(diary.Litre), "litres", false}, choice{string(diary.HoseMinute), "min of hose", false})
}
