package season

import (
	"haulm/internal/calendar"
	"haulm/internal/diary"
)

// readDeeds reads the diary for every planting. Each reads only what may speak
// of it, so that a long diary of many plantings takes no longer a line.
func readDeeds(in *Input, plantings []Planting) []deeds {
	sorted := sortDiary(in)
	all := make([]deeds, len(plantings))
	for i := range plantings {
		all[i] = sorted.deedsOf(&plantings[i], newYearOf(in, &plantings[i]))
	}
	shareWater(plantings, all)
	return all
}

// sortedDiary is the diary up to today by what its entries speak of: where each
// stands among entries, in their order.
type sortedDiary struct {
	entries    []diary.Entry
	ofPlanting map[string][]int
	ofPlace    map[string][]int // those that name only the place
}

func sortDiary(in *Input) sortedDiary {
	s := sortedDiary{in.Diary, map[string][]int{}, map[string][]int{}}
	for i := range s.entries {
		switch e := &s.entries[i]; {
		case e.Day > in.Today:
		case e.Planting != "":
			s.ofPlanting[e.Planting] = append(s.ofPlanting[e.Planting], i)
		case e.Crop == "" && e.Place != "":
			s.ofPlace[e.Place] = append(s.ofPlace[e.Place], i)
		}
	}
	return s
}

// deedsOf reads the diary for a planting. An entry that names only the place
// speaks of all that stood there on its day; of its water the planting has yet
// to be given its share.
func (s *sortedDiary) deedsOf(p *Planting, newYear calendar.Date) deeds {
	d := newDeeds()
	d.newYear = newYear
	if p.Stands {
		d.begun, d.out = p.Start, p.SetOut
	}
	own, place := s.ofPlanting[p.Key], s.ofPlace[p.Place.Name]
	for len(own) > 0 || len(place) > 0 {
		next := &own
		if len(own) == 0 || len(place) > 0 && place[0] < own[0] {
			next = &place
		}
		e := &s.entries[(*next)[0]]
		*next = (*next)[1:]
		if d.ofSeason(e) && (e.Planting != "" || d.standsOn(p, e.Day)) {
			d.take(p, e)
		}
	}
	return d
}

// spell is when a planting took its ground, for sharing out water.
type spell struct {
	from, cleared calendar.Date
	areaM2        float64
}

func (s *spell) holds(day calendar.Date) bool {
	return s.from.Known() && s.from <= day && !(s.cleared.Known() && s.cleared < day)
}

// shareWater gives every planting its share, by its ground, of the water that
// was noted for a place.
func shareWater(plantings []Planting, all []deeds) {
	spells := map[string][]spell{} // by place
	for i := range plantings {
		p, d := &plantings[i], &all[i]
		spells[p.Place.Name] = append(spells[p.Place.Name], spell{d.groundFrom(p), d.cleared, p.AreaM2})
	}
	type placeDay struct {
		place string
		day   calendar.Date
	}
	watered := map[placeDay]float64{} // m² that stood there
	for i := range all {
		p := &plantings[i]
		for k := range all[i].water {
			w := &all[i].water[k]
			if !w.shared {
				continue
			}
			at := placeDay{p.Place.Name, w.day}
			total, counted := watered[at]
			if !counted {
				total = heldM2(spells[at.place], at.day)
				watered[at] = total
			}
			if total > 0 {
				w.litres *= p.AreaM2 / total
			}
		}
	}
}

// heldM2 is the ground that was held on a day.
func heldM2(spells []spell, day calendar.Date) float64 {
	total := 0.0
	for i := range spells {
		if spells[i].holds(day) {
			total += spells[i].areaM2
		}
	}
	return total
}
