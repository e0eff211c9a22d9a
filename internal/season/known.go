package season

import (
	"haulm/internal/calendar"
	"haulm/internal/diary"
)

// Plantings are all plantings of an input: those handed in, and those that the
// diary began and nobody planned.
func Plantings(in Input) []Planting {
	return append(append([]Planting(nil), in.Plantings...), noted(&in)...)
}

// Known lists the plantings that a line of the diary may speak of: planned,
// growing and over.
func Known(in Input) []diary.Standing {
	plantings := Plantings(in)
	all := readDeeds(&in, plantings)
	out := make([]diary.Standing, len(plantings))
	for i := range plantings {
		p, d := &plantings[i], &all[i]
		out[i] = diary.Standing{
			Key: p.Key, Crop: p.Crop.Key, Place: p.Place.Name, FromCM: p.FromCM, ToCM: p.ToCM,
			Planned: p.Start, Begun: d.begun, Cleared: d.cleared, LostAll: d.lost,
		}
		if p.Stands {
			out[i].Planned = calendar.None
		}
	}
	return out
}
