package app

import (
	"testing"
	"time"
)

// The plan's own odds are of the weather alone; what is expected of each of its
// plantings is told wider, in days and in weight.
func TestExpectationsAreWiderThanThePlans(t *testing.T) {
	desk := keptDesk(t, time.Date(2027, 3, 1, 7, 0, 0, 0, time.UTC))
	planned, err := desk.Planned()
	if err != nil {
		t.Fatal(err)
	}
	expected, err := desk.Expected(planned)
	if err != nil {
		t.Fatal(err)
	}
	if len(expected) != len(planned.Year.Plantings) {
		t.Fatalf("%d plantings of %d are told", len(expected), len(planned.Year.Plantings))
	}
	later := 0
	for no := range planned.Year.Plantings {
		p := &planned.Year.Plantings[no]
		e := &expected[no]
		if p.Kg.P50 <= 0 {
			continue
		}
		if e.LowKg > p.Kg.P10 || e.HighKg < 1.5*p.Kg.P50 {
			t.Errorf("%s: %.2f to %.2f kg, where the weather alone makes it %.2f to %.2f", p.Crop.Name, e.LowKg, e.HighKg, p.Kg.P10, p.Kg.P90)
		}
		if p.FirstPick.P90.Known() && (!e.FirstPick.P90.Known() || e.FirstPick.P90 > p.FirstPick.P90) {
			later++
		}
	}
	if 2*later < len(planned.Year.Plantings) {
		t.Errorf("the latest first picking in ten is told later for %d plantings of %d only", later, len(planned.Year.Plantings))
	}
}
