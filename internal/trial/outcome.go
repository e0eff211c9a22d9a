package trial

import (
	"math"
	"slices"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/grow"
)

// Weather is what a row is grown through.
type Weather struct {
	Climate *grow.Climate
	Words   string // what it is, for the report
	Kind    WeatherKind
}

// WeatherKind says how near the weather is to the trial's own.
type WeatherKind string

// The kinds, best first.
const (
	AtTheTrial WeatherKind = "trial's own"
	Nearby     WeatherKind = "nearby record"
	Estimated  WeatherKind = "first estimate" // made-up years: the middle of many
)

// Days are odds of a day, counted from the row's start. Never is
// grow.Never.
type Days struct{ Low, Mid, High int }

// Outcome is a row grown.
type Outcome struct {
	Row     Row
	Subject Subject
	Weather Weather
	Start   calendar.Date
	Up      Days    // emergence
	Ready   Days    // first picking
	Lost    float64 // share of the courses that gave nothing
}

// Through grows a row through weather at a pace (grow.ByTheBook as a rule).
// In measured weather there is one course; in estimated weather one a year. The
// ends of the 80 % interval come from the doubt in thermal time, and where the
// weather is estimated from its years as well: those that gave a crop, where
// one was harvested, since its year was such a one. Lost counts them all.
func Through(row Row, subject Subject, w Weather, pace grow.Pace) (Outcome, error) {
	track, err := w.Climate.Track(subject.Crop, subject.Class, subject.Route, subject.Cover)
	if err != nil {
		return Outcome{}, err
	}
	out := Outcome{Row: row, Subject: subject, Weather: w, Start: row.start()}
	starts := startsIn(row, w)
	bare := sample(track.Paced(pace), row, subject, starts)
	out.Lost = bare.lostShare()
	doubt := track.Doubt()
	var up, ready []float64
	if w.Kind != Estimated {
		for _, z := range []float64{-zTenth, 0, zTenth} {
			s := sample(track.Paced(times(pace, doubt.At(z))), row, subject, starts)
			up, ready = append(up, s.up...), append(ready, s.ready...)
		}
		out.Up, out.Ready = three(up), three(ready)
		return out, nil
	}
	for _, z := range tenths {
		s := sample(track.Paced(times(pace, doubt.At(z))), row, subject, starts)
		up, ready = append(up, s.up...), append(ready, s.ready...)
	}
	out.Up, out.Ready = spreadOf(up), spreadOf(told(row, w, ready))
	out.Up.Mid, out.Ready.Mid = spreadOf(bare.up).Mid, spreadOf(told(row, w, bare.ready)).Mid
	return out, nil
}

// Middle is the middling day of the first picking and of emergence alone, which
// is all that fitting needs.
func Middle(row Row, subject Subject, w Weather, pace grow.Pace) (up, ready int, err error) {
	track, err := w.Climate.Track(subject.Crop, subject.Class, subject.Route, subject.Cover)
	if err != nil {
		return 0, 0, err
	}
	s := sample(track.Paced(pace), row, subject, startsIn(row, w))
	return spreadOf(s.up).Mid, spreadOf(told(row, w, s.ready)).Mid, nil
}

// told are the days of first picking that a row can be held against: in
// estimated weather, of a crop that was harvested, those of the years that gave
// one, if any did.
func told(row Row, w Weather, ready []float64) []float64 {
	if bound := row.Bound(); w.Kind != Estimated || bound == Unknown || bound == Killed {
		return ready
	}
	alive := slices.DeleteFunc(slices.Clone(ready), func(day float64) bool { return math.IsInf(day, 1) })
	if len(alive) == 0 {
		return ready
	}
	return alive
}

func times(a, b grow.Pace) grow.Pace {
	return grow.Pace{Emergence: a.Emergence * b.Emergence, Growth: a.Growth * b.Growth}
}

// zTenth is how far out the ends of the middle 80 % lie.
const zTenth = crop.ZTenth

// zQuarter is that which one in four lies beyond: half lie within it on either
// side.
const zQuarter = 0.6745

// tenths are the middles of ten equal parts of a normal distribution.
var tenths = []float64{-1.6449, -1.0364, -0.6745, -0.3853, -0.1257, 0.1257, 0.3853, 0.6745, 1.0364, 1.6449}

// start is the day from which a row's days are counted: sowing where it was
// sown in place or the day is told, else setting out.
func (r Row) start() calendar.Date {
	if r.SetOut.Known() {
		return r.SetOut
	}
	return r.Sown
}

// startsIn are the days on which the row begins in the weather: its own day, or
// where the weather is estimated that day of every year.
func startsIn(row Row, w Weather) []calendar.Date {
	day := row.start()
	if w.Kind != Estimated {
		return []calendar.Date{day}
	}
	var days []calendar.Date
	for year := w.Climate.Start().Year() + 1; year <= w.Climate.End().Year()-3; year++ {
		days = append(days, calendar.MonthDayOf(day).In(year))
	}
	return days
}

type samples struct{ up, ready []float64 }

func (s samples) lostShare() float64 {
	lost := 0.0
	for _, day := range s.ready {
		if math.IsInf(day, 1) {
			lost++
		}
	}
	return lost / float64(len(s.ready))
}

// sample grows the row from each start. Plants set out were sown so many days
// before as the row tells, or else as many as is usual.
func sample(track *grow.Track, row Row, subject Subject, starts []calendar.Date) samples {
	var s samples
	for _, start := range starts {
		sown, out := start, calendar.None
		if row.SetOut.Known() {
			sown, out = start.Add(-raisedDays(row, subject)), start
		}
		c := track.Course(sown, out)
		s.up = append(s.up, since(start, c.Emergence, false))
		s.ready = append(s.ready, since(start, c.FirstPick, c.Failed()))
	}
	return s
}

func raisedDays(row Row, subject Subject) int {
	switch {
	case row.Sown.Known():
		return int(row.SetOut - row.Sown)
	case row.SeedlingDays > 0:
		return row.SeedlingDays
	case subject.seedlingDays > 0:
		return subject.seedlingDays
	}
	route := subject.Route
	return int(math.Round((route.RaiseWeeksMin + route.RaiseWeeksMax) / 2 * 7))
}

func since(start, day calendar.Date, lost bool) float64 {
	if lost || !day.Known() {
		return math.Inf(1)
	}
	return float64(day - start)
}

func three(days []float64) Days { return Days{whole(days[0]), whole(days[1]), whole(days[2])} }

// spreadOf is the middle 80 % of days, by Hazen's rule, which suits values that
// stand for equal parts.
func spreadOf(days []float64) Days {
	slices.Sort(days)
	return Days{whole(hazen(days, 0.1)), whole(hazen(days, 0.5)), whole(hazen(days, 0.9))}
}

func hazen(sorted []float64, share float64) float64 {
	at := math.Max(0, math.Min(share*float64(len(sorted))-0.5, float64(len(sorted)-1)))
	low := int(at)
	high := min(low+1, len(sorted)-1)
	if part := at - float64(low); part > 0 && sorted[low] != sorted[high] {
		return sorted[low]*(1-part) + sorted[high]*part
	}
	return sorted[low]
}

func whole(day float64) int {
	if math.IsInf(day, 0) || math.IsNaN(day) {
		return grow.Never
	}
	return int(math.Round(day))
}
