package reckoning

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"haulm/internal/calendar"
	"haulm/internal/diary"
)

// story is what the diary says of one planting.
type story struct {
	*Planting
	lines               int // of the diary that speak of it
	begun, out, cleared calendar.Date
	firstPick, lastPick calendar.Date
	kg                  float64
	picks, unweighed    int
	picked              []dayKg
	minutes             float64 // noted
	lost                []Loss
	lostCount           float64
	lostAll             bool
	on                  calendar.Date // came onto its ground, in whichever year
	heldFrom, heldTo    calendar.Date // on its ground within the year, heldTo exclusive
	byPlan              bool          // nothing was noted of it: it stood as planned
}

type dayKg struct {
	day calendar.Date
	kg  float64
}

// Loss is what the diary says was lost.
type Loss struct {
	Day   calendar.Date `json:"day"`
	Crop  string        `json:"crop"`
	Where string        `json:"where"`
	What  string        `json:"what"`            // how much, in words
	Cause string        `json:"cause,omitempty"` // "" = not noted
	All   bool          `json:"all"`
}

// newStory is that of a planting of which nothing has been read yet.
func newStory(p *Planting) *story {
	none := calendar.None
	return &story{Planting: p, begun: none, out: none, cleared: none, firstPick: none, lastPick: none, on: none, heldFrom: none, heldTo: none}
}

// stories reads the diary for every planting, up to the last day reckoned.
func (in *Input) stories() []*story {
	out := make([]*story, len(in.Plantings))
	byKey, byLine := map[string]*story{}, map[int64]*story{}
	for i := range in.Plantings {
		p := &in.Plantings[i]
		s := newStory(p)
		if p.Stood {
			s.begun, s.out = p.Start, p.SetOut
		}
		out[i], byKey[p.Key] = s, s
		if p.BegunBy != 0 {
			byLine[p.BegunBy] = s
		}
	}
	for _, e := range in.Diary {
		s := byKey[e.Planting]
		if e.Planting == "" {
			s = byLine[e.ID]
		}
		if s != nil && e.Day <= in.to() {
			s.read(e, in.from())
		}
	}
	for _, s := range out {
		s.hold(in)
	}
	return out
}

// read takes one line; what was picked or done before the year counts for the
// year before.
func (s *story) read(e diary.Entry, from calendar.Date) {
	if e.Kind != diary.Skipped && e.Kind != diary.Silenced {
		s.lines++
	}
	switch e.Kind {
	case diary.Sown:
		s.begun = e.Day
	case diary.Planted:
		if s.Route.Raised {
			s.out = e.Day
		}
		if !s.Route.Raised || !s.begun.Known() {
			s.begun = e.Day
		}
	case diary.Cleared:
		s.cleared = e.Day
	}
	if e.Day < from {
		return
	}
	s.minutes += NotedMinutes(e)
	switch e.Kind {
	case diary.Picked:
		s.pick(e)
	case diary.Lost:
		s.lose(e)
	}
}

func (s *story) pick(e diary.Entry) {
	if !s.firstPick.Known() {
		s.firstPick = e.Day
	}
	s.lastPick = e.Day
	s.picks++
	kg := e.Kg()
	if math.IsNaN(kg) {
		s.unweighed++
		return
	}
	s.kg += kg
	s.picked = append(s.picked, dayKg{e.Day, kg})
}

func (s *story) lose(e diary.Entry) {
	loss := Loss{Day: e.Day, Crop: s.Crop.Name, Where: s.Place.Name, Cause: e.Cause}
	if loss.Cause == "" {
		loss.Cause = e.Text
	}
	switch {
	case e.Unit == diary.Count:
		s.lostCount += e.Amount
		loss.What = e.AmountWords()
		if s.Plants > 0 {
			loss.What += " of " + strconv.Itoa(s.Plants)
		}
		loss.All = s.Plants > 0 && s.lostCount >= float64(s.Plants)
	case e.Given():
		loss.What = e.AmountWords()
	default:
		loss.What, loss.All = "all of it", true
	}
	if loss.All {
		s.lostAll, s.cleared = true, e.Day
	}
	s.lost = append(s.lost, loss)
}

// hold works out from when to when the planting held its ground: by the diary,
// by the plan where the diary is silent.
func (s *story) hold(in *Input) {
	on := s.begun
	switch {
	case s.Stood && s.SetOut.Known():
		on = s.SetOut
	case s.Route.Raised && s.out.Known():
		on = s.out
	case s.Route.Raised && s.begun.Known():
		on = s.SetOut // sown and never noted as planted out: as planned
	case !s.begun.Known() && s.lines == 0 && s.Planned:
		s.byPlan = true
		if on = s.Start; s.SetOut.Known() {
			on = s.SetOut
		}
	}
	if s.on = on; !on.Known() {
		return
	}
	end := in.to().Add(1)
	switch {
	case s.cleared.Known():
		end = min(end, s.cleared)
	case !s.Alive && s.Clear.Known():
		end = min(end, s.Clear)
	}
	if from := max(on, in.from()); from < end {
		s.heldFrom, s.heldTo = from, end
	}
}

// held is for how many weeks it held its ground.
func (s *story) held() float64 {
	if !s.heldFrom.Known() {
		return 0
	}
	return float64(s.heldTo-s.heldFrom) / 7
}

// onGround says whether it had its ground on any day of the year.
func (s *story) onGround() bool { return s.heldFrom.Known() }

var (
	hoursNoted   = regexp.MustCompile(`(\d+(?:[.,]\d+)?)\s*(?:h|hr|hrs|hour|hours)\b`)
	minutesNoted = regexp.MustCompile(`(\d+(?:[.,]\d+)?)\s*(?:min|mins|minute|minutes)\b`)
)

// NotedMinutes is the work that a line's free words tell of: "25 min",
// "1 h 20 min". 0 where they tell of none.
func NotedMinutes(e diary.Entry) float64 {
	if e.Kind == diary.Skipped || e.Kind == diary.Silenced {
		return 0 // their text names a job
	}
	return 60*firstNumber(hoursNoted, e.Text) + firstNumber(minutesNoted, e.Text)
}

func firstNumber(pattern *regexp.Regexp, text string) float64 {
	found := pattern.FindStringSubmatch(strings.ToLower(text))
	if found == nil {
		return 0
	}
	v, err := strconv.ParseFloat(strings.Replace(found[1], ",", ".", 1), 64)
	if err != nil {
		return 0
	}
	return v
}
