package cropping

import (
	"fmt"
	"math"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/ground"
	"haulm/internal/grow"
)

// choice is one crop raised by one route from one week in one kind of place,
// grown through every weather year.
type choice struct {
	crop    *crop.Crop
	class   string
	route   *crop.Route
	kind    int
	sowWeek int
	outWeek int // week on the ground; sowWeek where it is sown in place
	courses []grow.Course
	lost    int // years that gave nothing

	plantsPerStrip float64
	numbers        planCandidate

	// Of a saved planting that the season overtook.
	moved bool // outWeek is given
	cut   bool // its ground is free from week until
	until int
}

// layChoices grows everything the table wants, by every route, from every
// week, and keeps what makes it in enough of the years.
func (l *Lay) layChoices() error {
	for _, cr := range l.question.Catalogue.Crops() {
		if cr.Perennial || !l.wanted(cr) {
			continue
		}
		for i := range cr.Routes {
			l.grown = map[grownKey][]grow.Course{}
			for k := range l.kinds {
				if err := l.layRoute(cr, &cr.Routes[i], k); err != nil {
					return fmt.Errorf("%s, %s: %w", cr.Name, cr.Routes[i].Name, err)
				}
			}
		}
	}
	l.grown = nil
	return nil
}

// grownKey is what the courses of one route hang on: places of one cover, soil
// and water grow alike, whatever their shape.
type grownKey struct {
	class, cover, texture string
	litres                float64
	rainFed               bool
	sowWeek, outWeek      int
}

// wanted says whether the table takes the crop's dish and nobody banned it.
func (l *Lay) wanted(cr *crop.Crop) bool {
	if _, ok := l.dishIndex[cr.Dish]; !ok {
		return false
	}
	for _, lock := range l.question.Garden.Locks {
		if lock.Dish == cr.Dish && lock.Place == "" {
			return false
		}
	}
	return true
}

// layRoute grows one route in one kind of place: the middling kinds of the
// crop, and early ones of long crops and from weeks where the middling too
// often fail.
func (l *Lay) layRoute(cr *crop.Crop, route *crop.Route, kindIndex int) error {
	perStrip := l.plantsPerStrip(route, l.kinds[kindIndex])
	if perStrip <= 0 || l.kinds[kindIndex].locks(cr.Dish) || !l.sunny(cr, kindIndex) {
		return nil
	}
	usual, err := l.track(cr, "mid", route, kindIndex)
	if err != nil {
		return err
	}
	var early *grow.Track
	if _, ok := cr.Class("early"); ok {
		if early, err = l.track(cr, "early", route, kindIndex); err != nil {
			return err
		}
	}
	for week := 0; week < l.rules.sowingWeeks(); week += l.step(cr) {
		if week < l.sowFrom || !l.inSeason(route, week) {
			continue
		}
		c := choice{crop: cr, class: "mid", route: route, kind: kindIndex, sowWeek: week, plantsPerStrip: perStrip}
		l.growChoice(&c, usual)
		if !l.sensible(&c, usual) {
			continue
		}
		worth := l.worthOffering(&c)
		if early != nil && (!worth || long(cr) || c.lost*5 > len(c.courses)) { // fails more than one year in five
			quick := c
			quick.class = "early"
			l.growChoice(&quick, early)
			if l.worthOffering(&quick) && (!worth || long(cr) || quick.lost < c.lost) {
				l.choices = append(l.choices, quick)
				worth = worth && long(cr)
			}
		}
		if worth {
			l.choices = append(l.choices, c)
		}
	}
	return nil
}

func (l *Lay) track(cr *crop.Crop, class string, route *crop.Route, kindIndex int) (*grow.Track, error) {
	track, err := l.question.Climate.TrackIn(cr, class, route, l.kinds[kindIndex].ground(route))
	if err != nil {
		return nil, err
	}
	return l.question.Habit.paced(track, cr, class), nil
}

// sunny says whether any place of the kind has the sun that the crop needs.
func (l *Lay) sunny(cr *crop.Crop, kindIndex int) bool {
	for _, b := range l.beds {
		if b.numbers.Kind == kindIndex && b.numbers.SunHours >= cr.SunHours {
			return true
		}
	}
	return false
}

// step is how many weeks lie between the starts that are tried: what takes
// half a year gains nothing from a week.
func (l *Lay) step(cr *crop.Crop) int {
	if long(cr) {
		return 2
	}
	return 1
}

// long says whether a crop holds its ground so long that early kinds of it are
// worth offering beside the middling ones.
func long(cr *crop.Crop) bool {
	class, _ := cr.Class("mid")
	return class.ToFirstPickCDay >= longCropCDay
}

// longCropCDay is about 120 days at the 10 °C above base of a fair season.
const longCropCDay = 1200

// inSeason says whether the route is ever begun in the week.
func (l *Lay) inSeason(route *crop.Route, week int) bool {
	return route.InSeason(l.Monday(week), l.question.Climate.South())
}

// plantsPerStrip is how many plants stand on one strip, or in one pot.
func (l *Lay) plantsPerStrip(route *crop.Route, k kind) float64 {
	if k.litres > 0 {
		return grow.PotOf(k.litres, route).Plants
	}
	return route.PlantsPerM2 * ground.StripM2
}

// growChoice grows a choice through every weather year.
func (l *Lay) growChoice(c *choice, track *grow.Track) {
	if !c.moved {
		c.outWeek = c.sowWeek
		if c.route.Raised {
			c.outWeek += int(math.Round((c.route.RaiseWeeksMin + c.route.RaiseWeeksMax) / 2))
		}
	}
	c.courses, c.lost = l.coursesOf(c, track), 0
	for y := range c.courses {
		if c.courses[y].Failed() {
			c.lost++
		}
	}
}

// coursesOf grows a choice, unless one that grows alike has been.
func (l *Lay) coursesOf(c *choice, track *grow.Track) []grow.Course {
	k := &l.kinds[c.kind]
	key := grownKey{c.class, k.cover.Key, k.texture, k.litres, k.rainFed, c.sowWeek, c.outWeek}
	if courses, ok := l.grown[key]; ok {
		return courses
	}
	courses := make([]grow.Course, len(l.years))
	if l.grown != nil {
		l.grown[key] = courses
	}
	for y, monday := range l.years {
		setOut := calendar.None
		if c.route.Raised {
			setOut = monday.Add(7 * c.outWeek)
		}
		track.CourseInto(&courses[y], monday.Add(7*c.sowWeek), setOut)
		l.question.Habit.weigh(&courses[y], c.crop, c.class)
	}
	return courses
}

// sensible says whether a gardener would begin then: seed comes up within
// weeks and not into the dark of winter, unless the crop stands that, and
// plants go out into a month in which they grow.
func (l *Lay) sensible(c *choice, track *grow.Track) bool {
	late := 0
	for y := range c.courses {
		course := &c.courses[y]
		switch {
		case c.route.Raised:
			if track.Pace(l.years[y].Add(7*c.outWeek), settleDays) < l.rules.PaceAfterSetOut {
				late++
			}
		case !c.route.Vegetative:
			if !course.Emergence.Known() || float64(course.Emergence-course.Start) > l.rules.LongestInSoil ||
				!c.crop.Winters() && track.TooDark(course.Emergence) {
				late++
			}
		}
	}
	return late*2 < len(c.courses)
}

// settleDays is the month in which a plant set out finds its feet.
const settleDays = 28

// worthOffering turns the courses into the planner's numbers, and says whether
// the choice makes it in enough of the years within the plan.
func (l *Lay) worthOffering(c *choice) bool {
	if float64(len(c.courses)-c.lost) < l.rules.LeastSuccessShare*float64(len(c.courses)) {
		return false
	}
	if c.outWeek >= l.rules.weeks()-1 {
		return false
	}
	return l.number(c)
}
