package cropping

import (
	"cmp"
	"errors"
	"fmt"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/garden"
	"haulm/internal/ground"
	"haulm/internal/grow"
	"haulm/internal/plan"
)

// stood is a planting already in the ground when the plan begins.
type stood struct {
	garden.Standing
	crop    *crop.Crop
	route   *crop.Route
	bed     int
	strip   int
	strips  int
	courses []grow.Course
	numbers plan.Standing
}

// layStanding grows what already stands through every weather year, as if each
// had begun when it really was begun.
func (l *Lay) layStanding() error {
	for _, s := range l.question.Garden.Standing {
		st, err := l.stand(s)
		if err != nil {
			return fmt.Errorf("standing %s in %s: %w", s.Crop, s.Place, err)
		}
		if st == nil {
			continue
		}
		l.standing = append(l.standing, *st)
		b := &l.beds[st.bed].numbers
		b.Standing = append(b.Standing, st.numbers)
	}
	return nil
}

// stand lays one standing planting on its strips; nil when it is over by now
// in every year.
func (l *Lay) stand(s garden.Standing) (*stood, error) {
	cr, err := l.question.Catalogue.Find(s.Crop)
	if err != nil {
		return nil, err
	}
	route, err := cr.Route(s.Route)
	if err != nil {
		return nil, err
	}
	st := &stood{Standing: s, crop: cr, route: route}
	if st.bed = l.bedNamed(s.Place); st.bed < 0 {
		return nil, errors.New("there is no place of that name")
	}
	st.strip, st.strips = l.beds[st.bed].strips(s.FromCM, s.ToCM)
	track, err := l.track(cr, cmp.Or(s.Class, "mid"), route, l.beds[st.bed].numbers.Kind)
	if err != nil {
		return nil, err
	}
	l.growStanding(st, track)
	if st.numbers.End <= 0 {
		return nil, nil
	}
	return st, nil
}

func (l *Lay) growStanding(st *stood, track *grow.Track) {
	dish, eaten := l.dishIndex[st.crop.Dish]
	n := plan.Standing{Crop: max(0, dish), Strip: st.strip, Strips: st.strips, Yield: make([]plan.Yield, len(l.years))}
	st.courses = make([]grow.Course, len(l.years))
	stripM2 := ground.StripM2
	hand := l.rules.handShare(l.question.Garden.Household.Experience)
	for y, monday := range l.years {
		shift := int(monday - l.from)
		setOut := calendar.None
		if st.SetOut.Known() {
			setOut = st.SetOut.Add(shift)
		}
		if st.crop.Perennial {
			st.courses[y] = l.oldPlant(st, track, y)
		} else {
			track.CourseInto(&st.courses[y], st.Started.Add(shift), setOut)
		}
		l.question.Habit.weigh(&st.courses[y], st.crop, st.Class)
		course := &st.courses[y]
		if course.Failed() || !eaten {
			continue
		}
		n.Yield[y] = l.weekly(course, y, 1000*stripM2*hand, 0, l.rules.weeks())
	}
	end := l.clearWeek(&choice{courses: st.courses, outWeek: -1})
	if st.crop.Perennial {
		end = l.rules.weeks()
	}
	if until := l.endedBy(st.Standing); until.Known() {
		end = min(end, max(0, l.weekOf(until)))
	}
	for y := range n.Yield {
		n.Yield[y] = clip(n.Yield[y], end)
	}
	n.End = end
	st.numbers = n
}

// endedBy is when the season ended what stood; None where it did not.
func (l *Lay) endedBy(s garden.Standing) calendar.Date {
	for _, e := range l.question.Ended {
		if e.Crop == s.Crop && e.Place == s.Place && e.FromCM == s.FromCM && e.Start == s.Started {
			return e.Until
		}
	}
	return calendar.None
}

// clip drops pickings from week end on: the ground has been cleared.
func clip(y plan.Yield, end int) plan.Yield {
	if keep := end - y.First; len(y.Grams) > max(0, keep) {
		y.Grams = y.Grams[:max(0, keep)]
	}
	return y
}

func (l *Lay) bedNamed(name string) int {
	for i := range l.beds {
		if l.beds[i].place.Name == name {
			return i
		}
	}
	return -1
}

// strips is which strips a stretch along the bed covers.
func (b bed) strips(fromCM, toCM int) (first, count int) {
	first, end := ground.StripsOver(b.place, fromCM, toCM)
	return first, end - first
}
