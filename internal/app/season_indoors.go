package app

import (
	"slices"

	"haulm/internal/calendar"
	"haulm/internal/cropping"
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

// goneIndoors is a planting that was gone by its Until, in the plan's words: gone
// in the week in which it went out, it holds its ground for that week; gone before,
// it held none and no longer any room indoors, and it is false. plannedOut is when
// the plan had it go out, None where it is not raised.
func goneIndoors(in season.Input, p cropping.Saved, plannedOut calendar.Date) (cropping.Saved, bool) {
	if !plannedOut.Known() || plannedOut < p.Until {
		return p, true
	}
	p.SetOut = p.Until.Add(-7)
	return p, p.SetOut > p.Start && wentOut(in, savedKey(p))
}
