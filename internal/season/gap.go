package season

import (
	"fmt"
	"slices"

	"haulm/internal/calendar"
	"haulm/internal/garden"
	"haulm/internal/ground"
)

// taken is a stretch of a place that something stands on or is planned for.
type taken struct {
	fromCM, toCM int
	endCM        int           // where the ground that is kept for it ends, beyond its last row
	from         calendar.Date // planned day; None where it stands now
	name         string
}

// takenIn lists what stands in a place today and what is planned there.
func takenIn(in *Input, place garden.Place) []taken {
	var out []taken
	all := readDeeds(in, in.Plantings)
	for i := range in.Plantings {
		p, d := &in.Plantings[i], &all[i]
		if p.Place.Name != place.Name || d.cleared.Known() {
			continue
		}
		t := taken{p.FromCM, p.ToCM, max(p.ToCM, p.EndCM), calendar.None, p.name()}
		switch {
		case d.begun.Known() && (!p.Route.Raised || d.out.Known()):
		case p.Route.Raised && p.SetOut.Known():
			t.from = max(p.SetOut, in.Today)
		default:
			if p.Start < in.Today.Add(-missedDays) && !d.begun.Known() {
				continue // its day went by and nothing was noted
			}
			t.from = max(p.Start, in.Today)
		}
		if p.Route.Raised && !d.begun.Known() && p.Start < in.Today.Add(-missedDays) {
			continue
		}
		out = append(out, t)
	}
	return out
}

// missedDays is how long after its day a planned sowing still counts as coming.
const missedDays = 28

// findGap is the stretch asked for, or the longest free today, and until when
// it is free.
func findGap(in *Input, place garden.Place, q FillQuestion) (Gap, error) {
	all := takenIn(in, place)
	gap := Gap{Place: place.Name, FromCM: q.FromCM, ToCM: q.ToCM, Until: calendar.None}
	if q.ToCM == 0 {
		gap.FromCM, gap.ToCM = wholeStrips(place, all, in.Today)
	}
	if gap.ToCM <= gap.FromCM {
		return gap, fmt.Errorf("%s: nothing is free there today: clear something first, or note what was cleared", place.Name)
	}
	for _, t := range all {
		if t.fromCM >= gap.ToCM || gap.FromCM >= t.endCM {
			continue
		}
		if !t.from.Known() && gap.FromCM >= t.toCM && gap.ToCM > t.endCM {
			gap.FromCM = t.endCM // beyond the bare end of its ground
			continue
		}
		if !t.from.Known() {
			return gap, fmt.Errorf("%s from %d to %d cm: %s stands there; note it as cleared first", place.Name, gap.FromCM, gap.ToCM, t.name)
		}
		if !gap.Until.Known() || t.from < gap.Until {
			gap.Until, gap.Next = t.from, t.name
		}
	}
	if least := int(rule("fill.least_days")); gap.Until.Known() && int(gap.Until-in.Today) < least {
		return gap, fmt.Errorf("%s from %d to %d cm is wanted for %s on %s: fewer than %d days are too short for a crop", place.Name, gap.FromCM, gap.ToCM,
			gap.Next, gap.Until.Format("2 January"), least)
	}
	return gap, nil
}

// wholeStrips is the longest free stretch in whole strips, the grain in which
// ground is planned; nothing where less than one is free.
func wholeStrips(place garden.Place, all []taken, today calendar.Date) (fromCM, toCM int) {
	const almostCM = 2 // strips end at whole centimetres
	from, to := longestFree(all, ground.StripCM(place, ground.Strips(place)), today)
	first, end := ground.StripsOver(place, from, to)
	if ground.StripCM(place, first) < from-almostCM {
		first++
	}
	if ground.StripCM(place, end) > to+almostCM {
		end--
	}
	if end <= first || to <= from {
		return 0, 0
	}
	return ground.StripCM(place, first), ground.StripCM(place, end)
}

// longestFree is the longest stretch on which nothing stands and nothing is
// wanted soon, cut where plans begin and end.
func longestFree(all []taken, lengthCM int, today calendar.Date) (fromCM, toCM int) {
	soon := today.Add(int(rule("fill.least_days")))
	blocks := slices.DeleteFunc(slices.Clone(all), func(t taken) bool { return t.from.Known() && t.from >= soon })
	slices.SortFunc(blocks, func(a, b taken) int { return a.fromCM - b.fromCM })
	at := 0
	for _, b := range append(blocks, taken{fromCM: lengthCM, endCM: lengthCM}) {
		if b.fromCM-at > toCM-fromCM {
			fromCM, toCM = at, b.fromCM
		}
		at = max(at, b.endCM)
	}
	return fromCM, toCM
}
