package grow

import (
	"testing"

	"haulm/internal/calendar"
)

// Under cover the sun of a hot summer stops fruit that sets in the open: the
// air under glass and film is hotter by day than its mean tells. In a mild
// summer it is not.
func TestHeatUnderCoverStopsFruit(t *testing.T) {
	catalogue := loadCatalogue(t)
	cr := catalogue.Crop("tomato_cordon")
	house, err := catalogue.Cover("greenhouse")
	if err != nil {
		t.Fatal(err)
	}
	limit := cr.Heat.SetStopsMaxC
	for _, c := range []struct {
		what        string
		highC       float64
		stopsInside bool
	}{{"a mild summer", limit - house.MaxC - 5, false}, {"a hot one", limit - house.MaxC + 1, true}} {
		climate := steadyClimate(45, 14, c.highC, catalogue.Constants)
		start := calendar.On(2002, 3, 1)
		open, err1 := climate.Track(cr, "mid", cr.UsualRoute(), open(t, catalogue))
		inside, err2 := climate.Track(cr, "mid", cr.UsualRoute(), house)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		if course := open.Course(start, calendar.None); course.Mishap.Kind == HeatStopped {
			t.Errorf("%s of %g °C stops tomatoes in the open: %+v", c.what, c.highC, course.Mishap)
		}
		if course := inside.Course(start, calendar.None); (course.Mishap.Kind == HeatStopped) != c.stopsInside {
			t.Errorf("%s of %g °C: under glass %+v", c.what, c.highC, course.Mishap)
		}
	}
}

// Every cover is hotter by day than on the mean, as the sun makes it.
func TestCoversAreHottestByDay(t *testing.T) {
	for _, cover := range loadCatalogue(t).Covers() {
		if cover.MaxC < cover.MeanC {
			t.Errorf("%s: %g °C warmer by day, %g on the mean", cover.Key, cover.MaxC, cover.MeanC)
		}
	}
}
