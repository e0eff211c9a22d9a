package diary

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Link finds the planting that an entry speaks of, as ParseLine does, and its
// place where it names none. An entry that could speak of several is an error
// that says which.
func Link(e *Entry, c Context) error {
	r := &reading{context: c, entry: *e}
	err := r.link()
	*e = r.entry
	return err
}

// link finds the planting that the line speaks of, and its place where none
// was named.
func (r *reading) link() error {
	if r.entry.Kind == Rain || r.entry.Kind == Low {
		return nil
	}
	if r.entry.Crop == "" {
		return r.linkByPlace()
	}
	fit := r.fitting(func(s Standing) bool { return s.Crop == r.entry.Crop && r.here(s) })
	if len(fit) == 0 {
		return r.elsewhere()
	}
	open := slices.DeleteFunc(slices.Clone(fit), func(s Standing) bool { return s.Cleared.Known() && s.Cleared < r.entry.Day || s.LostAll })
	if len(open) == 0 {
		open = fit // Check tells that it was cleared
	}
	open = r.firstWaiting(open)
	if r.entry.Place == "" {
		if places := placesOf(open); len(places) > 1 {
			return fmt.Errorf("%s%s grows in %s: name the place", r.understood(), r.context.cropName(r.entry.Crop), strings.Join(places, " and "))
		}
	}
	s := r.closest(open)
	r.entry.Planting, r.entry.Place = s.Key, s.Place
	return nil
}

// firstWaiting is, for a line of planting out, the planting that waits for it
// indoors, the first sown; all where none waits. A row that nobody sowed yet
// may be planned for that very day, and is not meant.
func (r *reading) firstWaiting(list []Standing) []Standing {
	if r.entry.Kind != Planted {
		return list
	}
	waiting := slices.DeleteFunc(slices.Clone(list), func(s Standing) bool { return !s.Indoors || s.Begun > r.entry.Day })
	if len(waiting) == 0 {
		return list
	}
	return []Standing{slices.MinFunc(waiting, func(a, b Standing) int { return cmp.Compare(a.Begun, b.Begun) })}
}

func (r *reading) here(s Standing) bool { return r.entry.Place == "" || s.Place == r.entry.Place }

func (r *reading) fitting(fits func(Standing) bool) []Standing {
	var out []Standing
	for _, s := range r.context.Standing {
		if fits(s) && r.inReach(s) {
			out = append(out, s)
		}
	}
	return out
}

// ReachDays is how far from its planned day a sowing still counts as that
// planting's.
const ReachDays = 70

// inReach says whether an entry of this kind and day can speak of a planting.
func (r *reading) inReach(s Standing) bool {
	if s.Begun.Known() {
		return r.entry.Kind != Sown || r.entry.Day == s.Begun
	}
	return !s.Planned.Known() || abs(int(r.entry.Day-s.Planned)) <= ReachDays
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}

func placesOf(list []Standing) []string {
	var out []string
	for _, s := range list {
		if !slices.Contains(out, s.Place) {
			out = append(out, s.Place)
		}
	}
	return out
}

// closest is the planting that the day fits best: for what grows already the
// one begun last before it, for a beginning the one planned nearest.
func (r *reading) closest(list []Standing) Standing {
	best := list[0]
	for _, s := range list[1:] {
		if r.distance(s) < r.distance(best) {
			best = s
		}
	}
	return best
}

func (r *reading) distance(s Standing) int {
	const afterwards = 10_000
	if s.Begun.Known() {
		if s.Begun > r.entry.Day {
			return afterwards + int(s.Begun-r.entry.Day)
		}
		return int(r.entry.Day - s.Begun)
	}
	if !s.Planned.Known() {
		return afterwards
	}
	if needsBegun(r.entry.Kind) {
		return afterwards/2 + abs(int(r.entry.Day-s.Planned))
	}
	return abs(int(r.entry.Day - s.Planned))
}

// elsewhere says where a crop stands when it does not stand in the place
// named; a crop that stands nowhere is let be.
func (r *reading) elsewhere() error {
	if r.entry.Place == "" || !needsBegun(r.entry.Kind) {
		return nil
	}
	others := placesOf(slices.DeleteFunc(slices.Clone(r.context.Standing), func(s Standing) bool {
		return s.Crop != r.entry.Crop || !s.Begun.Known() || s.Cleared.Known()
	}))
	if len(others) == 0 {
		return nil
	}
	return fmt.Errorf("%sno %s grows in %s; it grows in %s: correct the place", r.understood(), r.context.cropName(r.entry.Crop), r.entry.Place, strings.Join(others, " and "))
}

// linkByPlace links an entry that names only a place with what grows there,
// where that is one planting.
func (r *reading) linkByPlace() error {
	if r.entry.Place == "" || r.entry.Kind == Note {
		return nil
	}
	growing := r.fitting(func(s Standing) bool {
		return s.Place == r.entry.Place && s.Begun.Known() && s.Begun <= r.entry.Day && !(s.Cleared.Known() && s.Cleared < r.entry.Day)
	})
	if len(growing) == 1 {
		r.entry.Crop, r.entry.Planting = growing[0].Crop, growing[0].Key
		return nil
	}
	if len(growing) > 1 && (r.entry.Kind == Picked || r.entry.Kind == Lost || r.entry.Kind == Up || r.entry.Kind == Flowering) {
		return fmt.Errorf("%sseveral crops grow in %s (%s): name the one", r.understood(), r.entry.Place, r.cropsOf(growing))
	}
	return nil
}

func (r *reading) cropsOf(list []Standing) string {
	var names []string
	for _, s := range list {
		if name := r.context.cropName(s.Crop); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return strings.Join(names, ", ")
}
