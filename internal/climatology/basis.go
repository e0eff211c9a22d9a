package climatology

import (
	"fmt"
	"math"
	"strings"

	"haulm/internal/weather"
)

// Basis says what an estimate rests on.
type Basis struct {
	Points      []BasisPoint // of the climatology, the weightiest first
	Period      string       // of the means: "1981–2010"
	ShiftC      float64      // mean shift of the minimum from the climatology's 1961–1990, °C
	HeightDropM float64      // height of the site less the weighted height of the points
	FarKM       float64      // distance of the nearest point
	Regional    bool         // a correction from measured freeze dates of the region is in
}

// BasisPoint is one point of the climatology, a box 10 minutes of arc wide.
type BasisPoint struct {
	LatDeg, LonDeg float64
	KM             float64 // from the site
	HeightM        float64 // mean height of the land of the box
	Share          float64 // of the weights, 0 to 1
}

func (b *Basis) add(n neighbour, share float64, site weather.Site) {
	b.Points = append(b.Points, BasisPoint{n.lat, n.lon, n.km, n.heightM, share})
	b.HeightDropM += share * (site.ElevM - n.heightM)
	if len(b.Points) == 1 {
		b.FarKM = n.km
	}
}

// From where on distance and height are told of as doubts (project choices).
const farKM, steepM = 60, 300

// Doubt says in words why an estimate may be worse than most; empty where
// nothing speaks against it.
func (b Basis) Doubt() string {
	var doubts []string
	if b.FarKM > farKM {
		doubts = append(doubts, fmt.Sprintf("the nearest point of the climatology is %.0f km away", b.FarKM))
	}
	if drop := math.Abs(b.HeightDropM); drop > steepM {
		word := "above"
		if b.HeightDropM < 0 {
			word = "below"
		}
		doubts = append(doubts, fmt.Sprintf("the place lies %.0f m %s the points around it", drop, word))
	}
	return strings.Join(doubts, "; ")
}

// String is one line for a page.
func (b Basis) String() string {
	if len(b.Points) == 0 {
		return "nothing"
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range b.Points {
		low, high = min(low, p.HeightM), max(high, p.HeightM)
	}
	text := fmt.Sprintf("monthly means of %d points of the CRU CL 2.0 climatology, %.0f to %.0f km away, %.0f to %.0f m high, brought to the place's height and to %s",
		len(b.Points), b.FarKM, b.farthest(), low, high, b.Period)
	if b.Regional {
		text += ", and to the region's measured freeze dates"
	}
	return text
}

func (b Basis) farthest() float64 {
	far := 0.0
	for _, p := range b.Points {
		far = max(far, p.KM)
	}
	return far
}
