package season

import (
	"cmp"
	"slices"

	"haulm/internal/calendar"
	"haulm/internal/diary"
)

// AlarmKind is what threatens.
type AlarmKind string

// The alarms.
const (
	Frost      AlarmKind = "frost"
	Chilling   AlarmKind = "chilling"
	ColdBolt   AlarmKind = "cold that brings on bolting"
	HeatStop   AlarmKind = "heat that stops fruit"
	LateBlight AlarmKind = "late blight"
	Mildew     AlarmKind = "onion downy mildew"
	Chocolate  AlarmKind = "chocolate spot"
	Flight     AlarmKind = "flight"
	Gale       AlarmKind = "gale"
)

// Alarm is a threat to one planting.
type Alarm struct {
	ID        string        `json:"id"` // the same while it lasts; an entry "silenced" with it keeps it quiet
	Kind      AlarmKind     `json:"alarm"`
	Key       string        `json:"planting"`
	Crop      string        `json:"crop"`
	Where     string        `json:"where"`
	Day       calendar.Date `json:"day"` // on which it strikes, or struck
	Rule      string        `json:"rule"`
	Numbers   string        `json:"numbers"`
	Source    string        `json:"source"`
	Do        string        `json:"do"`
	Says      string        `json:"says"`
	Weak      bool          `json:"weak,omitempty"` // by a stand-in for the proper rule
	Risk      float64       `json:"-"`              // share of what is to come that is at stake
	Task      string        `json:"-"`              // the job that it asks for, "" for none
	TaskTitle string        `json:"-"`
	Cautions  []string      `json:"cautions,omitempty"`
}

// alarms tells what threatens what stands.
func (g *grower) alarms(standing []Standing) []Alarm {
	var out []Alarm
	disease := g.diseases()
	for i := range standing {
		s := &standing[i]
		if !s.inGround() {
			continue
		}
		for _, tell := range []func(*Standing) []Alarm{g.frost, g.chilling, g.bolting, g.heat, g.gale, g.flights, disease.tell} {
			out = append(out, tell(s)...)
		}
	}
	silenced := map[string]bool{}
	for _, e := range g.in.Diary {
		if e.Kind == diary.Silenced && e.Day <= g.in.Today {
			silenced[e.Text] = true
		}
	}
	out = slices.DeleteFunc(out, func(a Alarm) bool { return silenced[a.ID] })
	slices.SortStableFunc(out, func(a, b Alarm) int {
		return cmp.Or(cmp.Compare(b.Risk, a.Risk), cmp.Compare(a.Day, b.Day), cmp.Compare(a.Where, b.Where), cmp.Compare(a.ID, b.ID))
	})
	return out
}

// alarm fills in what every alarm on a planting has.
func (s *Standing) alarm(kind AlarmKind, day calendar.Date, a Alarm) Alarm {
	a.Says = capital(a.Says)
	a.Kind, a.Key, a.Crop, a.Where, a.Day = kind, s.Key, s.Name, s.Where, day
	if a.ID == "" {
		a.ID = string(kind) + " " + s.Key
	}
	return a
}
