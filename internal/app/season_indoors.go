package app

import (
	"slices"

	"haulm/internal/diary"
	"haulm/internal/season"
)

// standingIn is what a line of the diary may speak of, with what waits indoors
// to be set out.
func standingIn(in season.Input) []diary.Standing {
	known, plantings := season.Known(in), season.Plantings(in)
	for i := range known {
		s, p := &known[i], &plantings[i] // Known lists the plantings in their order
		s.Indoors = p.Route.Raised && s.Begun.Known() && !s.Cleared.Known() && !s.LostAll && !wentOut(in, s.Key) && !(p.Stands && p.SetOut.Known())
	}
	return known
}

// wentOut says whether a line of the diary set a planting out.
func wentOut(in season.Input, key string) bool {
	return slices.ContainsFunc(in.Diary, func(e diary.Entry) bool { return e.Kind == diary.Planted && e.Planting == key })
}
