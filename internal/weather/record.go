package weather

import (
	"math"

	"haulm/internal/calendar"
)

// Site is where a record was kept or a garden lies.
type Site struct {
	LatDeg float64 // north positive
	LonDeg float64 // east positive
	ElevM  float64
}

// OnEarth says whether latitude and longitude are such, and numbers.
func (s Site) OnEarth() bool { return math.Abs(s.LatDeg) <= 90 && math.Abs(s.LonDeg) <= 180 }

// HighestM is a height, m, that no ground on Earth reaches.
const HighestM = 9000

// South says whether the site's season year runs July to June.
func (s Site) South() bool { return s.LatDeg < 0 }

// Record is a run of daily weather at one site. The slices have one entry a
// day from Start on and are equally long; NaN is a day without a value. A nil
// optional slice means the station never measured it.
type Record struct {
	Station   string // the station's own identifier, where it has one
	Name      string // what a person calls it
	Site      Site
	Source    string // who made it and under which terms
	Estimated bool   // made from normals, not measured

	Start  calendar.Date
	TminC  []float64
	TmaxC  []float64
	RainMM []float64

	SunMJ      []float64 // global radiation, MJ/m2/day
	HumidityPC []float64 // mean relative humidity
	WindMS     []float64 // mean wind at 2 m
}

// Days is the length of the record.
func (r *Record) Days() int { return len(r.TminC) }

// End is the first day after the record.
func (r *Record) End() calendar.Date { return r.Start.Add(r.Days()) }

// Index is the position of d in the slices, and whether it lies in them.
func (r *Record) Index(d calendar.Date) (int, bool) {
	i := int(d - r.Start)
	return i, i >= 0 && i < r.Days()
}

// MaxYears bounds what a damaged date can make a reader hold; the oldest
// thermometer records go back 367 years (Central England, 1659).
const MaxYears = 400
