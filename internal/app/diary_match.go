package app

import (
	"cmp"
	"fmt"
	"slices"

	"haulm/internal/calendar"
	"haulm/internal/diary"
	"haulm/internal/garden"
	"haulm/internal/season"
	"haulm/internal/store"
)

// plainEntry is what two lines have in common that say the same: all but their
// numbers and the planting, which has another name in another diary.
func plainEntry(e diary.Entry) diary.Entry {
	e.ID, e.Planting, e.Photo = 0, "", false
	e.Cause, e.Text, e.Place = diary.AsRead(e.Cause), diary.AsRead(e.Text), diary.AsRead(e.Place)
	return e
}

// knownLines are the plantings of the diary's lines by what they say, with the
// line's own name as a planting where it begins one.
func knownLines(lines []store.DiaryLine) map[diary.Entry][]string {
	out := map[diary.Entry][]string{}
	for _, line := range lines {
		planting := line.Planting
		if beginsUnplanned(line.Entry) {
			planting = season.NotedKey(line.ID)
		}
		key := plainEntry(line.Entry)
		out[key] = append(out[key], planting)
	}
	return out
}

// beginsUnplanned says whether a line begins a planting that nobody planned.
func beginsUnplanned(e diary.Entry) bool {
	return e.Planting == "" && e.Crop != "" && e.Place != "" && (e.Kind == diary.Sown || e.Kind == diary.Planted)
}

// take sorts out which rows are new. Those that begin a planting come first, so
// that others can speak of it.
func (in *readingIn) take(rows []diary.Row) error {
	rows = slices.Clone(rows)
	slices.SortStableFunc(rows, func(a, b diary.Row) int { return cmp.Compare(order(a), order(b)) })
	in.number(rows)
	if len(rows) > 0 && !rows[0].Linked {
		slices.SortStableFunc(rows, func(a, b diary.Row) int { return cmp.Compare(a.Day, b.Day) })
	}
	for _, r := range rows {
		if err := in.takeRow(r); err != nil {
			return diary.Fault{Line: r.Line, What: err.Error()}
		}
	}
	return nil
}

func order(r diary.Row) int {
	if beginsUnplanned(r.Entry) {
		return 0
	}
	return 1
}

// number gives rows without a number one that is neither the file's nor the
// diary's, so that others of the file can be linked to them; and all rows of a
// file that names no plantings, where numbers mean nothing.
func (in *readingIn) number(rows []diary.Row) {
	next := in.last
	for _, r := range rows {
		next = max(next, r.ID)
	}
	for i := range rows {
		if rows[i].ID == 0 || !rows[i].Linked {
			next++
			rows[i].ID = next
		}
	}
}

func (in *readingIn) takeRow(r diary.Row) error {
	if !r.Linked {
		if err := in.link(&r); err != nil {
			return err
		}
	}
	if planting, there := in.find(r); there {
		if beginsUnplanned(r.Entry) {
			in.became[r.ID] = planting
			in.stands(r)
		}
		return nil
	}
	if r.PhotoFile != "" {
		if err := in.photoThere(r.PhotoFile); err != nil {
			return err
		}
		in.photos++
	}
	if beginsUnplanned(r.Entry) {
		in.became[r.ID], in.begins[r.ID] = "", len(in.fresh)
		in.stands(r)
	}
	number := season.NotedBy(r.Planting)
	if _, inFile := in.became[number]; r.Linked && number != 0 && !inFile {
		in.unlinked(&r, fmt.Sprintf("it speaks of what line number %d began, and the file has no such line", number))
	}
	in.fresh = append(in.fresh, r)
	return nil
}

// link finds the planting of a row whose file names none, among the garden's
// and those that the file began. A row that names its place can do without.
func (in *readingIn) link(r *diary.Row) error {
	if !in.placeStands(r.Place) {
		return nil
	}
	if err := diary.Link(&r.Entry, in.context); err != nil && r.Place == "" {
		return err
	} else if err != nil {
		in.unlinked(r, err.Error())
		return nil
	}
	for i := range in.context.Standing {
		if s := &in.context.Standing[i]; s.Key == r.Planting && r.Planting != "" {
			switch {
			case r.Kind == diary.Cleared:
				s.Cleared = r.Day
			case (r.Kind == diary.Sown || r.Kind == diary.Planted) && !s.Begun.Known():
				s.Begun = r.Day
			}
		}
	}
	return nil
}

// unlinked keeps a row without a planting, and says why.
func (in *readingIn) unlinked(r *diary.Row, why string) {
	r.Planting = ""
	in.doubts = append(in.doubts, fmt.Sprintf("%s, %v; kept without a link to a planting", in.name, diary.Fault{Line: r.Line, What: why}))
}

func (in *readingIn) placeStands(name string) bool {
	return name == "" || slices.ContainsFunc(in.context.Places, func(p garden.Place) bool { return p.Name == name })
}

// stands lets later rows be linked to what a row of the file began.
func (in *readingIn) stands(r diary.Row) {
	key := season.NotedKey(r.ID)
	in.context.Standing = append(in.context.Standing, diary.Standing{
		Key: key, Crop: r.Crop, Place: r.Place, Planned: calendar.None, Begun: r.Day, Cleared: calendar.None,
	})
}

// find looks for a line of the diary that says what the row says, and takes it
// out of those that others can be found as.
func (in *readingIn) find(r diary.Row) (planting string, there bool) {
	key := plainEntry(r.Entry)
	mapped := in.became[season.NotedBy(r.Planting)]
	i := slices.IndexFunc(in.known[key], func(p string) bool {
		if beginsUnplanned(r.Entry) {
			return !r.Linked || season.NotedBy(p) != 0
		}
		return !r.Linked || p == r.Planting || mapped != "" && p == mapped
	})
	if i < 0 {
		return "", false
	}
	planting = in.known[key][i]
	if i == 0 { // mostly, and then nothing needs to be moved
		in.known[key] = in.known[key][1:]
	} else {
		in.known[key] = slices.Delete(in.known[key], i, i+1)
	}
	return planting, true
}
