package trial

import (
	"fmt"
	"io"
	"math"
	"strconv"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/grow"
	"haulm/internal/weather"
)

// Handbook is a crop's days to maturity as a handbook has them, early kinds to
// late, and the monthly mean temperature at which it says the crop does best.
type Handbook struct {
	Key            string
	Direct, SetOut [2]int // days from sowing in place, from setting out; 0 = not given
	BestMeanC      float64
}

var handbookColumns = []string{"crop", "dtm_direct_low_d", "dtm_direct_high_d", "dtm_transplant_low_d", "dtm_transplant_high_d", "knott_optimum_mean_c"}

// ReadHandbook reads the days from a table that has them beside other columns.
func ReadHandbook(from io.Reader) ([]Handbook, error) {
	lines, err := linesOf(from, handbookColumns)
	if err != nil {
		return nil, fmt.Errorf("handbook's days: %w", err)
	}
	var list []Handbook
	for _, l := range lines {
		days := func(name string) int {
			d, _ := strconv.Atoi(l.cell(name)) // an empty cell is not given
			return d
		}
		h := Handbook{Key: l.cell("crop"), Direct: [2]int{days("dtm_direct_low_d"), days("dtm_direct_high_d")}, SetOut: [2]int{days("dtm_transplant_low_d"), days("dtm_transplant_high_d")}}
		if h.BestMeanC, err = strconv.ParseFloat(l.cell("knott_optimum_mean_c"), 64); err == nil && h.Direct[1]+h.SetOut[1] > 0 {
			list = append(list, h)
		}
	}
	return list, nil
}

// The even weather at which a handbook's days are looked at: clear summer days
// at 40 degrees, 12 °C wide.
const (
	evenLatDeg  = 40.0
	evenSunMJ   = 20.0
	evenRangeC  = 12.0
	evenYears   = 3
	leadInYears = 1
)

// Even is weather of one temperature throughout.
func Even(meanC float64, rules crop.Constants) Weather {
	rec := &weather.Record{Name: "even weather", Site: weather.Site{LatDeg: evenLatDeg}, Start: calendar.On(2000, 1, 1)}
	for range evenYears * 365 {
		rec.TminC, rec.TmaxC = append(rec.TminC, meanC-evenRangeC/2), append(rec.TmaxC, meanC+evenRangeC/2)
		rec.SunMJ, rec.RainMM = append(rec.SunMJ, evenSunMJ), append(rec.RainMM, math.NaN())
	}
	return Weather{Climate: grow.NewClimate(rec, rules), Kind: AtTheTrial, Words: fmt.Sprintf("%.0f °C", meanC)}
}

// FrameHandbook grows each crop on the first of May in even weather of its best
// temperature and holds the days against the handbook's. Crops that the
// catalogue does not have, or does not raise so, are left out.
func FrameHandbook(list []Handbook, catalogue *crop.Catalogue) ([]Framed, error) {
	climates := map[float64]Weather{}
	var framed []Framed
	for _, h := range list {
		cr := catalogue.Crop(h.Key)
		if cr == nil || cr.Perennial {
			continue
		}
		if _, ok := climates[h.BestMeanC]; !ok {
			climates[h.BestMeanC] = Even(h.BestMeanC, catalogue.Constants)
		}
		day := calendar.On(2000+leadInYears, 5, 1)
		for _, way := range []struct {
			words string
			days  [2]int
			row   Row
		}{
			{"sown", h.Direct, Row{ID: h.Key, Sown: day, SetOut: calendar.None}},
			{"set out", h.SetOut, Row{ID: h.Key, Sown: calendar.None, SetOut: day}},
		} {
			route, err := routeOf(cr, "", way.row)
			if err != nil || way.days[1] == 0 {
				continue
			}
			f := Framed{Name: fmt.Sprintf("%s, %s, at %.0f °C", cr.Name, way.words, h.BestMeanC), Low: way.days[0], High: way.days[1]}
			if f.OurLow, f.OurHigh, err = earlyToLate(cr, route, way.row, climates[h.BestMeanC], catalogue); err != nil {
				return nil, err
			}
			framed = append(framed, f)
		}
	}
	return framed, nil
}

// earlyToLate are the days to the first picking of early and of late kinds in
// open ground.
func earlyToLate(cr *crop.Crop, route *crop.Route, row Row, w Weather, catalogue *crop.Catalogue) (early, late int, err error) {
	subject := Subject{Crop: cr, Class: "early", Route: route}
	if subject.Cover, err = catalogue.Cover(""); err != nil {
		return 0, 0, err
	}
	if _, early, err = Middle(row, subject, w, grow.ByTheBook); err != nil {
		return 0, 0, err
	}
	subject.Class = "late"
	_, late, err = Middle(row, subject, w, grow.ByTheBook)
	return early, late, err
}
