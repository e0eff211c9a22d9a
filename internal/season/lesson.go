package season

import (
	"fmt"
	"math"
	"slices"

	"haulm/internal/crop"
	"haulm/internal/grow"
	"haulm/internal/unit"
)

// Lessons is what the diary has taught of one garden. Nil is nothing taught:
// everything goes by the book.
type Lessons struct {
	Garden Lesson   `json:"garden"` // of all its crops together
	Crops  []Lesson `json:"crops"`  // those with results of their own
	Unused int      `json:"unused"` // results that tell nothing: weather not measured, a crop that stood ripe, or a date beyond any pace

	emergence, growth, yield, bookPace grow.Garden
}

// Lesson is how a crop does in this garden. Factors are 1 as the book says;
// low and high hold four chances of five. What little is known is drawn towards
// the book, so that one odd date moves little.
type Lesson struct {
	Crop      string  `json:"crop,omitempty"`
	Dates     int     `json:"dates"`      // first pickings that taught it
	Days      int     `json:"days_later"` // that the pace came to for them; negative is earlier
	Pace      float64 `json:"pace"`       // of the heat from coming up to the first picking
	PaceLow   float64 `json:"pace_low"`
	PaceHigh  float64 `json:"pace_high"`
	Weights   int     `json:"weights"` // plantings weighed to the end
	Yield     float64 `json:"yield"`
	YieldLow  float64 `json:"yield_low"`
	YieldHigh float64 `json:"yield_high"`
	Says      string  `json:"says"`
}

// Habit is how a planting is grown here against the book.
type Habit struct {
	Pace  grow.Pace
	Doubt float64 // of the book's doubt about the growth pace, the share that is left
	Yield float64 // factor on its weight
}

// byTheBook is a garden of which nothing is known.
var byTheBook = Habit{Pace: grow.ByTheBook, Doubt: 1, Yield: 1}

// Habit is how a crop of a class does here.
func (l *Lessons) Habit(cr *crop.Crop, class string) Habit {
	if l == nil || l.Garden.Dates+l.Garden.Weights == 0 && l.emergence.Whole().Log == 0 {
		return byTheBook
	}
	kind, _ := cr.Class(class)
	h := Habit{
		Pace: grow.Pace{
			Emergence: l.emergence.Crop(cr.Key, cr.UsualRoute().EmergeLogSD).Middle(),
			Growth:    l.growth.Crop(cr.Key, kind.LogSD).Middle(),
		},
		Doubt: 1, Yield: l.yield.Crop(cr.Key, grow.YieldLogSD(cr)).Middle(),
	}
	if book := l.bookPace.Next(cr.Key, kind.LogSD).SD; book > 0 {
		h.Doubt = math.Min(1, l.growth.Next(cr.Key, kind.LogSD).SD/book)
	}
	return h
}

// Of is what is known of a crop here: its own results where it has some, else
// what the garden as a whole has taught; ok is false where nothing is known.
func (l *Lessons) Of(cr *crop.Crop) (lesson Lesson, ok bool) {
	if l == nil || l.Garden.Dates+l.Garden.Weights == 0 {
		return Lesson{}, false
	}
	if i := slices.IndexFunc(l.Crops, func(x Lesson) bool { return x.Crop == cr.Key }); i >= 0 {
		return l.Crops[i], true
	}
	lesson = l.crop(cr, "mid")
	lesson.Says = "no results of this crop yet; " + l.Garden.Says
	return lesson, true
}

func (l *Lessons) crop(cr *crop.Crop, class string) Lesson {
	kind, _ := cr.Class(class)
	pace, yield := l.growth.Crop(cr.Key, kind.LogSD), l.yield.Crop(cr.Key, grow.YieldLogSD(cr))
	out := lessonOf(pace, yield)
	out.Crop, out.Dates, out.Weights = cr.Key, pace.Results, yield.Results
	return out
}

func lessonOf(pace, yield grow.Factor) Lesson {
	l := Lesson{Pace: pace.Middle(), Yield: yield.Middle()}
	l.PaceLow, l.PaceHigh = pace.Range()
	l.YieldLow, l.YieldHigh = yield.Range()
	return l
}

// words put a lesson into one clause; name is "" for the garden as a whole.
func (l *Lesson) words(name string) string {
	forCrop := ""
	if name != "" {
		forCrop = " for " + name
	}
	var out string
	switch {
	case l.Dates == 0:
	case name == "" && math.Abs(l.Pace-1) < 0.005, name != "" && l.Days == 0:
		out = fmt.Sprintf("your garden keeps to the book’s time%s (from %s)", forCrop, unit.Counted(l.Dates, "date", "dates"))
	case name == "":
		out = fmt.Sprintf("your garden runs %.0f %% %s than the book (from %s)", 100*math.Abs(l.Pace-1), slowerWord(l.Pace > 1), unit.Counted(l.Dates, "date", "dates"))
	default:
		days := l.Days
		if days < 0 {
			days = -days
		}
		out = fmt.Sprintf("your garden runs %s %s%s (from %s)", unit.Counted(days, "day", "days"), slowerWord(l.Days > 0), forCrop, unit.Counted(l.Dates, "date", "dates"))
	}
	if l.Weights == 0 {
		return out
	}
	weight := fmt.Sprintf("it gives %.0f %% %s than the book (from %s)", 100*math.Abs(l.Yield-1), moreWord(l.Yield > 1), unit.Counted(l.Weights, "weight", "weights"))
	if math.Abs(l.Yield-1) < 0.005 {
		weight = fmt.Sprintf("it gives what the book says (from %s)", unit.Counted(l.Weights, "weight", "weights"))
	}
	if out == "" {
		return "your garden’s " + nameOr(name, "ground") + ": " + weight
	}
	return out + "; " + weight
}

func nameOr(name, other string) string {
	if name == "" {
		return other
	}
	return name
}

func slowerWord(slower bool) string {
	if slower {
		return "slower"
	}
	return "quicker"
}

func moreWord(more bool) string {
	if more {
		return "more"
	}
	return "less"
}
