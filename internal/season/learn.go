package season

import (
	"errors"
	"math"
	"slices"
	"strings"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/grow"
)

// Learn draws from the diary of this year and of past ones how the garden's
// plants keep time, and what they weigh, against what the model gives for the
// weather that they really had. Of the input it needs garden, catalogue,
// record, diary, plantings and the day. Where the record holds no measured
// weather of those days nothing is learnt from them: the year could not be told
// from the garden.
//
// A day of flowering is knowingly not learnt from. The model has no thermal
// time to the flower: its stage "in flower" is a share of the way to the first
// picking, one estimate for all crops (stage.growing_until_share), so a flower
// held against it would teach of that estimate and not of the garden. The first
// picking that follows teaches.
func Learn(in Input) (*Lessons, error) {
	if in.Garden == nil || in.Catalogue == nil || in.Record == nil {
		return nil, errors.New("there is no garden with weather to learn from")
	}
	plantings := Plantings(in)
	l := &learner{grower: &grower{in: &in, tracks: map[trackKey]*grow.Track{}}}
	all := readDeeds(&in, plantings)
	first := in.Today
	for i := range plantings {
		if all[i].teaches() {
			first = min(first, all[i].begun)
		}
	}
	if first >= in.Today {
		return l.lessons(), nil // what was begun today has grown in no weather yet
	}
	past := in.Record.Between(first.Add(-soilSettlesDays), in.Today)
	if past.Days() == 0 {
		return l.lessons(), nil // none of the days is on record
	}
	l.climate = grow.NewClimate(past, in.Catalogue.Constants)
	for i := range plantings {
		if all[i].teaches() {
			l.take(&plantings[i], &all[i])
		}
	}
	return l.lessons(), nil
}

// soilSettlesDays of weather before a sowing bring the soil to its temperature.
const soilSettlesDays = 60

// teaches says whether the diary tells anything of a planting that can be held
// against the book.
func (d *deeds) teaches() bool {
	return d.begun.Known() && !d.newYear.Known() && (d.up.Known() || d.firstPick.Known() || d.kg > 0)
}

// learner gathers results.
type learner struct {
	*grower                  // over the record as measured; it has no splice
	emergence, growth, yield []grow.Result
	dated                    []dated
	unused                   int
}

// dated is one first picking that taught, to tell what it comes to in days.
type dated struct {
	crop, class   string
	track         *grow.Track // at the pace at which it came up
	start, setOut calendar.Date
}

// take reads one planting's results.
func (l *learner) take(p *Planting, d *deeds) {
	until := max(d.begun, d.up, d.firstPick, d.lastPick)
	track, err := l.track(p)
	if err != nil || !l.measured(d.begun, until) {
		l.unused++
		return
	}
	class, _ := p.Crop.Class(p.Class)
	pace := grow.ByTheBook
	if d.up.Known() && !p.Route.Raised {
		factor := match(d.up, func(f float64) calendar.Date {
			return track.Paced(grow.Pace{Emergence: f, Growth: 1}).Course(d.begun, calendar.None).Emergence
		}, 0)
		if factor > 0 {
			pace.Emergence = factor
			l.emergence = append(l.emergence, grow.Result{Crop: p.Crop.Key, Log: math.Log(factor), CropSD: track.Doubt().EmergenceLog})
		}
	}
	if d.firstPick.Known() {
		pace.Growth = l.takePace(p, d, track.Paced(pace), class.LogSD)
	}
	l.takeWeight(p, d, track.Paced(pace))
}

// takePace reads the growth pace behind a first picking, and gives it; 1 where
// the date tells nothing.
func (l *learner) takePace(p *Planting, d *deeds, track *grow.Track, cropSD float64) float64 {
	book := track.Course(d.begun, d.out)
	if p.Crop.Picking.Stands && (book.Failed() || float64(d.firstPick-book.FirstPick) > rule("learn.standing_days")) {
		l.unused++ // it was wanted then; it may have been ready long before
		return 1
	}
	factor, ok := track.PaceBehind(d.begun, d.out, d.firstPick)
	if !ok {
		l.unused++
		return 1
	}
	l.growth = append(l.growth, grow.Result{Crop: p.Crop.Key, Log: math.Log(factor), CropSD: cropSD})
	l.dated = append(l.dated, dated{p.Crop.Key, p.Class, track, d.begun, d.out})
	return factor
}

// takeWeight holds what was weighed against what the course gives on the same
// ground up to the day of clearing. It takes only plantings that are over, of
// a known size, of which every picking was weighed and few were missed.
func (l *learner) takeWeight(p *Planting, d *deeds, track *grow.Track) {
	if d.kg <= 0 || d.unweighed > 0 || p.ScaleM2 <= 0 || strings.HasPrefix(p.Key, notedPrefix) {
		return
	}
	course := track.Course(d.begun, d.out)
	end := course.LastPick.Add(overDays)
	if d.cleared.Known() {
		end = d.cleared
	}
	if course.Failed() || end > l.in.Today {
		return
	}
	kg, weeks := 0.0, 0
	for _, week := range course.Pickings {
		if week.Monday <= end && week.KgPerM2 > 0 {
			kg += week.KgPerM2
			weeks++
		}
	}
	if p.Crop.Picking.Pattern != "single" && float64(weeksOf(d.picks)) < rule("learn.weighed_share")*float64(weeks) {
		return
	}
	log, ok := grow.YieldBehind(kg, d.kg/(p.ScaleM2*math.Max(d.left(), 1e-9)))
	if !ok {
		return
	}
	l.yield = append(l.yield, grow.Result{Crop: p.Crop.Key, Log: log, CropSD: grow.YieldLogSD(p.Crop)})
}

// overDays after the last picking of the model a planting counts as over.
const overDays = 14

// weeksOf counts the weeks in which something was picked.
func weeksOf(days []calendar.Date) int {
	weeks := map[calendar.Date]bool{}
	for _, day := range days {
		weeks[day.Monday()] = true
	}
	return len(weeks)
}

// measured says whether the record holds the garden's own weather of the days.
func (l *learner) measured(from, until calendar.Date) bool {
	r := l.in.Record
	a, okA := r.Index(from)
	b, okB := r.Index(until)
	return okA && okB && !r.Estimated && whole(r, a, b)
}

// lessons draws what the results come to.
func (l *learner) lessons() *Lessons {
	rules := l.in.Catalogue.Constants
	out := &Lessons{
		Unused:    l.unused,
		emergence: grow.Learn(grow.PaceScatter(rules), l.emergence),
		growth:    grow.Learn(grow.PaceScatter(rules), l.growth),
		yield:     grow.Learn(grow.YieldScatter(rules), l.yield),
		bookPace:  grow.Learn(grow.PaceScatter(rules), nil),
	}
	out.Garden = lessonOf(out.growth.Whole(), out.yield.Whole())
	out.Garden.Dates, out.Garden.Weights = len(l.growth), len(l.yield)
	out.Garden.Says = out.Garden.words("")
	for _, cr := range l.in.Catalogue.Crops() {
		taught := func(r grow.Result) bool { return r.Crop == cr.Key }
		if !slices.ContainsFunc(l.growth, taught) && !slices.ContainsFunc(l.yield, taught) {
			continue
		}
		lesson := out.crop(cr, "mid")
		lesson.Days = l.days(cr, out)
		lesson.Says = lesson.words(crop.InSentence(cr.Name))
		out.Crops = append(out.Crops, lesson)
	}
	return out
}

// days is what the learnt pace comes to for the plantings that taught it.
func (l *learner) days(cr *crop.Crop, out *Lessons) int {
	total, n := 0.0, 0
	for _, d := range l.dated {
		if d.crop != cr.Key {
			continue
		}
		class, _ := cr.Class(d.class)
		book := d.track.Course(d.start, d.setOut)
		own := d.track.Paced(grow.Pace{Emergence: 1, Growth: out.growth.Crop(cr.Key, class.LogSD).Middle()}).Course(d.start, d.setOut)
		if book.Failed() || own.Failed() {
			continue
		}
		total += float64(own.FirstPick - book.FirstPick)
		n++
	}
	if n == 0 {
		return 0
	}
	return int(math.Round(total / float64(n)))
}
