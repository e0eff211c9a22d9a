package reckoning

import (
	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/diary"
	"haulm/internal/garden"
	"haulm/internal/weather"
)

// Input is what a year is reckoned from.
type Input struct {
	Garden    *garden.Garden
	Catalogue *crop.Catalogue
	Year      int // season year: January to December in the north, July to June in the south
	Today     calendar.Date
	Plantings []Planting      // planned, noted, and those that stood before
	Diary     []diary.Entry   // in order of day; other years' lines are passed over
	DiaryKept bool            // what it says nothing of was not begun, see diary.Kept; else the plan is taken as carried out
	Record    *weather.Record // mended; nil where there is none
	// PlannedPortions are those that the plan's first year brings in the
	// middling weather year; 0 where there was no plan.
	PlannedPortions float64
}

// from and to are the first day of the year and the last that is reckoned.
func (in *Input) from() calendar.Date {
	return calendar.SeasonStart(in.Year, in.Garden.Site.South())
}

func (in *Input) to() calendar.Date {
	return min(in.Today, calendar.SeasonStart(in.Year+1, in.Garden.Site.South()).Add(-1))
}

// Span is the first and the last day reckoned.
func (in *Input) Span() (from, to calendar.Date) { return in.from(), in.to() }

// whole says whether the year is over.
func (in *Input) whole() bool {
	return calendar.SeasonYear(in.Today.Add(1), in.Garden.Site.South()) > in.Year
}

// Planting is one planting of the year.
type Planting struct {
	Key    string // names it, see diary.Entry.Planting
	Crop   *crop.Crop
	Class  string
	Route  *crop.Route
	Place  garden.Place
	FromCM int // both 0 where nobody noted where along the place
	ToCM   int
	AreaM2 float64
	Plants int

	BegunBy int64         // the diary's line that began it, where nobody planned it; 0 otherwise
	Planned bool          // the plan has it
	Stood   bool          // it stood before the plan began: Start and SetOut are real
	Alive   bool          // it stands still, as far as the season can tell
	Start   calendar.Date // sowing or planting as planned; the real one where Stood
	SetOut  calendar.Date // None for what is not raised
	Clear   calendar.Date // as planned; None where nobody planned it

	FirstPick DateOdds  // as the plan had it
	Kg        []float64 // as the plan had it, by weather year, within the days reckoned; nil where nothing was forecast
}

// DateOdds are days by which something has come in 1, 5 and 9 years of 10;
// None where it does not come in that many.
type DateOdds struct {
	P10 calendar.Date `json:"p10"`
	P50 calendar.Date `json:"p50"`
	P90 calendar.Date `json:"p90"`
}

// Odds are values in 1, 5 and 9 years of 10, smallest first.
type Odds struct {
	P10 float64 `json:"p10"`
	P50 float64 `json:"p50"`
	P90 float64 `json:"p90"`
}
