package cropping

import (
	"cmp"
	"slices"

	"haulm/internal/calendar"
)

// ChangeKind is what became of a planting from one plan to another.
type ChangeKind string

// The kinds of change.
const (
	New     ChangeKind = "new"
	Moved   ChangeKind = "moved"
	Dropped ChangeKind = "dropped"
)

// Change is one difference between two plans. Of a new planting Before is nil,
// of a dropped one After.
type Change struct {
	Kind          ChangeKind
	Before, After *Planting
	Why           string // why Before could not be, where it could not
}

// Overtaken is a planting of an old plan that could not stand as it was.
type Overtaken struct {
	Planting *Planting
	Why      string
}

// movedDays is how far apart the starts of one crop's planting may lie in two
// plans for it to be called the same, moved.
const movedDays = 42

// Changes tells what differs between two years, in order of day; overtaken are
// plantings of the old plan that could not be told with it. Plantings of one crop,
// kind and way of raising are paired, in one place first, then anywhere, the nearest
// starts first, and what is left by crop and place alone. What stands is left away.
func Changes(old, now *Year, overtaken []Overtaken) []Change {
	before, after := planned(old), planned(now)
	why := map[*Planting]string{}
	for _, o := range overtaken {
		before, why[o.Planting] = append(before, o.Planting), o.Why
	}
	var out []Change
	pair := func(alike func(a, b *Planting) bool, told bool) {
		for i := 0; i < len(before); i++ {
			best := -1
			for j := range after {
				if alike(before[i], after[j]) && (best < 0 || apart(before[i], after[j]) < apart(before[i], after[best])) {
					best = j
				}
			}
			if best < 0 {
				continue
			}
			if told {
				out = append(out, Change{Moved, before[i], after[best], why[before[i]]})
			}
			before, after = slices.Delete(before, i, i+1), slices.Delete(after, best, best+1)
			i--
		}
	}
	same := func(a, b *Planting) bool { return a.Crop == b.Crop && a.Class == b.Class && a.Route == b.Route }
	pair(func(a, b *Planting) bool {
		return same(a, b) && a.Place == b.Place && a.Start == b.Start && a.OnGround == b.OnGround && a.FromCM == b.FromCM && a.ToCM == b.ToCM
	}, false)
	pair(func(a, b *Planting) bool { return same(a, b) && a.Place == b.Place && apart(a, b) <= movedDays }, true)
	pair(func(a, b *Planting) bool { return same(a, b) && apart(a, b) <= movedDays }, true)
	pair(func(a, b *Planting) bool { return a.Crop == b.Crop && a.Place == b.Place && apart(a, b) <= movedDays }, true)
	for _, p := range before {
		out = append(out, Change{Dropped, p, nil, why[p]})
	}
	for _, p := range after {
		out = append(out, Change{New, nil, p, ""})
	}
	slices.SortStableFunc(out, func(a, b Change) int { return cmp.Compare(a.day(), b.day()) })
	return out
}

func planned(y *Year) []*Planting {
	var out []*Planting
	for i := range y.Plantings {
		if !y.Plantings[i].Stands {
			out = append(out, &y.Plantings[i])
		}
	}
	return out
}

func apart(a, b *Planting) int { return max(int(a.Start-b.Start), int(b.Start-a.Start)) }

// day is when the change is first felt.
func (c Change) day() calendar.Date {
	switch {
	case c.Before == nil:
		return c.After.Start
	case c.After == nil:
		return c.Before.Start
	}
	return min(c.Before.Start, c.After.Start)
}

// TableChange is what the table gets more or less from one plan to another,
// over the weeks to come.
type TableChange struct {
	Portions Odds   // by year: more, or less where negative
	Before   Odds   // portions of the old plan
	Closed   []Span // weeks in which the old plan left a middling year short and the new one does not
	Opened   []Span // the reverse
}

// Span is a run of weeks.
type Span struct {
	From  calendar.Date // a Monday
	Weeks int
}

// TableChanged sets the tables of two years told from one layout side by side
// from week now on. The odds are of the difference, weather year by weather year.
func TableChanged(old, after *Year, now int) TableChange {
	var differ, before []float64
	for y := range old.Eaten {
		sum, was := 0.0, 0.0
		for w := now; w < len(old.Eaten[y]); w++ {
			sum += after.Eaten[y][w] - old.Eaten[y][w]
			was += old.Eaten[y][w]
		}
		differ, before = append(differ, sum), append(before, was)
	}
	return TableChange{
		Portions: oddsOf(differ), Before: oddsOf(before),
		Closed: spans(old, after, now), Opened: spans(after, old, now),
	}
}

// ShortBy is how many portions may be missing before a week counts as short:
// half a portion is rounding.
const ShortBy = 0.5

// gapShare is the part of its need that a week must gain or lose for a gap to
// be called closed or opened.
const gapShare = 0.1

// spans are the runs of two weeks and more in which a goes short and b is
// clearly better.
func spans(a, b *Year, now int) []Span {
	var out []Span
	for w := now; w < len(a.Table); {
		end := w
		for end < len(a.Table) && closes(&a.Table[end], &b.Table[end]) {
			end++
		}
		if end-w >= 2 {
			out = append(out, Span{a.Table[w].Monday, end - w})
		}
		w = max(end, w+1)
	}
	return out
}

func closes(a, b *Week) bool {
	return a.Portions.P50 < a.Need-ShortBy && b.Portions.P50-a.Portions.P50 >= gapShare*a.Need
}
