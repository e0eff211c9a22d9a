package season

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/diary"
	"haulm/internal/forecast"
	"haulm/internal/garden"
	"haulm/internal/weather"
)

// Input is all that a morning's look goes by.
type Input struct {
	Garden    *garden.Garden
	Catalogue *crop.Catalogue
	Plantings []Planting      // of the plan, and those that stood before it
	Diary     []diary.Entry   // in order of day
	Record    *weather.Record // mended; past years, and this year as far as it was measured. Days from Today on are not looked at
	Forecast  *forecast.Forecast
	Hourly    *weather.Hourly // measured hours, for the rules of disease; nil where there are none
	Today     calendar.Date
	Minutes   float64  // that the person has today; 0 = their week's, shared out
	AheadDays int      // how far ahead jobs are told; 0 = the rule's
	Lessons   *Lessons // what this garden has taught; nil = by the book
}

// Planting is one planting of the plan, or one that stands already.
type Planting struct {
	Key   string // names it for good, see Key
	Crop  *crop.Crop
	Class string
	Route *crop.Route
	Place garden.Place

	FromCM, ToCM int
	EndCM        int // where the ground that the plan keeps for it ends, beyond its last row; 0 = at ToCM
	AreaM2       float64
	Plants       int
	Seeds        int     // to sow for those plants; 0 for sets, tubers and cloves
	ScaleM2      float64 // kg it counts for at 1 kg/m2: its ground by the hand that tends it

	Start   calendar.Date // planned sowing or planting; the real one where Stands
	SetOut  calendar.Date // planned, for raised plants; None otherwise
	Planned Odds          // first picking as the plan had it
	Clear   calendar.Date // planned
	Stands  bool          // begun before the plan: Start and SetOut are real
}

// Odds are days: something comes before P10 in one year of 10, by P50 in 5 and
// by P90 in 9; None where it does not come in that many.
type Odds struct {
	P10 calendar.Date `json:"p10"`
	P50 calendar.Date `json:"p50"`
	P90 calendar.Date `json:"p90"`
}

// noOdds are odds of something that does not come.
var noOdds = Odds{calendar.None, calendar.None, calendar.None}

// Key names a planting by what does not change once it is planned.
func Key(cropKey, routeKey, place string, fromCM int, start calendar.Date) string {
	return fmt.Sprintf("%s/%s/%s/%d/%s", cropKey, routeKey, place, fromCM, start)
}

// SplitKey reads a key made by Key; ok is false for any other.
func SplitKey(key string) (cropKey, routeKey, place string, fromCM int, start calendar.Date, ok bool) {
	parts := strings.Split(key, "/")
	last := len(parts) - 1
	if last < 4 {
		return "", "", "", 0, calendar.None, false
	}
	fromCM, err := strconv.Atoi(parts[last-1])
	if err != nil {
		return "", "", "", 0, calendar.None, false
	}
	start, err = calendar.Parse(parts[last])
	return parts[0], parts[1], strings.Join(parts[2:last-1], "/"), fromCM, start, err == nil
}

// name is what a person calls it within a sentence: "courgette", "early leek",
// "carrot (maincrop, early kind)".
func (p *Planting) name() string {
	name := crop.InSentence(p.Crop.Name)
	if p.Class != "early" && p.Class != "late" {
		return name
	}
	body, ending, bracketed := strings.Cut(name, " (")
	switch ending = strings.TrimSuffix(ending, ")"); {
	case !bracketed:
		return p.Class + " " + name
	case ending == p.Class:
		return name // the name says it already
	}
	return fmt.Sprintf("%s (%s, %s kind)", body, ending, p.Class)
}

// where is the place with the stretch.
func (p *Planting) where(say measures) string {
	if p.Place.Kind == garden.Pots || p.ToCM <= p.FromCM {
		return p.Place.Name
	}
	return p.Place.Name + ", " + say.stretch(p.FromCM, p.ToCM)
}

// capital begins a sentence.
func capital(s string) string {
	if s == "" {
		return s
	}
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}
