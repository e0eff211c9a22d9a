package grow

import (
	"testing"

	"haulm/internal/calendar"
)

// Picking kept up costs nothing; the longer a crop that minds is left, the less
// it bears, down to the catalogue's share of what follows the first flush. Crops
// that do not mind bear alike.
func TestNeglectedPickingStopsThePlants(t *testing.T) {
	catalogue := loadCatalogue(t)
	climate := builtInClimate(t, catalogue)
	minding := 0
	for _, cr := range catalogue.Crops() {
		if cr.Perennial {
			continue
		}
		track, err := climate.Track(cr, "mid", cr.UsualRoute(), open(t, catalogue))
		if err != nil {
			t.Fatal(err)
		}
		start := climate.Start().Add(365 + 130)
		kept := track.Course(start, calendar.None)
		last := kept.KgPerM2
		for _, days := range []float64{1, cr.Picking.EveryDays, 1.5 * cr.Picking.EveryDays, 2 * cr.Picking.EveryDays, 30} {
			left := track.PickedEvery(days)
			course := left.Course(start, calendar.None)
			compareCourses(t, cr.Key+" neglected", left, start, calendar.None)
			if course.KgPerM2 > last+1e-9 {
				t.Errorf("%s picked every %g days bears %.3f kg, more often %.3f", cr.Key, days, course.KgPerM2, last)
			}
			last = course.KgPerM2
		}
		switch {
		case cr.Picking.NeglectedShare == 0 && last != kept.KgPerM2:
			t.Errorf("%s minds being left, but the catalogue does not say so", cr.Key)
		case cr.Picking.NeglectedShare > 0 && len(kept.Pickings) > 2:
			minding++
			first := kept.Pickings[0].KgPerM2
			if want := first + (kept.KgPerM2-first)*cr.Picking.NeglectedShare; last < want-1e-9 || last > want+1e-9 {
				t.Errorf("%s left a month between pickings bears %.3f kg, want %.3f", cr.Key, last, want)
			}
		}
	}
	if minding < 5 {
		t.Errorf("only %d crops that mind were picked over some weeks", minding)
	}
}
