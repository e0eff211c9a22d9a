package season

import (
	"time"

	"haulm/internal/calendar"
	"haulm/internal/grow"
)

// State is the garden on one morning.
type State struct {
	Today     calendar.Date `json:"today"`
	Years     int           `json:"weather_years"`
	Estimated bool          `json:"weather_estimated"` // those years are made from a climatology, not measured
	Measured  calendar.Date `json:"measured_to"`       // last day of this year's own weather; None where there is none
	Forecast  calendar.Date `json:"forecast_to"`       // last day of the forecast; None where there is none
	Made      time.Time     `json:"forecast_made,omitzero"`
	Plantings []Standing    `json:"plantings"`
	Jobs      []Job         `json:"jobs"` // what matters most first
	Minutes   float64       `json:"minutes"`
	Water     []Water       `json:"water"` // the driest first
	Alarms    []Alarm       `json:"alarms"`
	Learnt    *Lessons      `json:"learnt,omitempty"` // what this garden has taught; all of the above goes by it
	Hours     bool          `json:"hourly"`           // the rules of disease went by measured or forecast hours
}

// Stage is how far a planting has come.
type Stage string

// The stages, in order.
const (
	Waiting     Stage = "to be begun"
	Raising     Stage = "raised indoors"
	Sown        Stage = "sown, not up yet"
	Young       Stage = "young"
	Growing     Stage = "in leaf"
	Flowering   Stage = "in flower or filling" // crops that fruit
	Swelling    Stage = "filling out"          // bulbs, tubers, roots and heads
	NearlyGrown Stage = "nearly grown"         // leaves, stalks and shoots
	Picking     Stage = "being picked"
	Over        Stage = "over"
	Cleared     Stage = "cleared"
	LostAll     Stage = "lost"
)

// Standing is one planting re-grown from what really happened.
type Standing struct {
	Planting `json:"-"`

	Key   string `json:"key"`
	Name  string `json:"crop"`
	Where string `json:"where"`
	Stage Stage  `json:"stage"`

	Begun     calendar.Date `json:"begun"` // by the diary; None while it is not begun
	Up        calendar.Date `json:"up"`    // seen by the gardener, else as modelled
	UpSeen    bool          `json:"up_seen"`
	Out       calendar.Date `json:"set_out"`
	FirstPick Odds          `json:"first_pick"`
	LastPick  Odds          `json:"last_pick"`
	Later     int           `json:"days_later"`   // first picking against the plan; negative is earlier
	LaterOK   bool          `json:"-"`            // both are known
	Success   float64       `json:"years_picked"` // share of the weather years, and of the kinds within the doubt, that still give
	Share     float64       `json:"growth"`       // of the way to the first picking, 0 to 1
	PickedKg  float64       `json:"picked_kg"`
	ToComeKg  float64       `json:"to_come_kg"` // in a middling year

	// Less than the low and more than the high comes one time in 10 each, over
	// the weather years and over what the book leaves in doubt.
	ToComeLowKg  float64 `json:"to_come_low_kg"`
	ToComeHighKg float64 `json:"to_come_high_kg"`

	Words  string `json:"says"`
	Learnt string `json:"learnt,omitempty"` // how this crop does here against the book, "" where it has no results of its own

	Pace    grow.Pace `json:"-"`
	deeds   deeds
	track   *grow.Track
	courses []scenario
	rest    []Rest
	middle  int // of courses: the one with the middling first picking; -1 where none gives

	weightLogSD float64 // doubt about its weight beside the weather's, see grower.weightLogSD
}

// scenario is one year's course in real dates, from the book's pace pinned to
// what was seen.
type scenario struct {
	year   int // index of the spliced year
	course grow.Course
}
