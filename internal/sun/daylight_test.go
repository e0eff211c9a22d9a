package sun

import (
	"math"
	"strings"
	"testing"

	"haulm/internal/sharedfolder"
)

// TestDaylightCheck runs the reference table daylight_check.csv: FAO-56 annex 2
// (from memory, kept by its maker only where eq 21 and 34 agree, so a check of
// indexing and units), FAO-56 examples 8 to 10, and sunrises as printed by
// timeanddate.com, the US Naval Observatory and NREL.
func TestDaylightCheck(t *testing.T) {
	rows := sharedfolder.Rows(t, "data/weather/daylight_check.csv")
	if len(rows) < 200 {
		t.Fatalf("only %d rows", len(rows))
	}
	for _, row := range rows {
		name := strings.Join([]string{row["quantity"], row["lat"], row["date"]}, " ")
		t.Run(name, func(t *testing.T) {
			lat := number(t, row["lat"])
			switch q := row["quantity"]; {
			case q == "Ra_MJ_m2_day":
				day := int(number(t, row["day_of_year"]))
				near(t, row, ExtraterrestrialMJ(lat, day), 0.25, 0.006)
			case q == "N_daylight_h":
				day := int(number(t, row["day_of_year"]))
				near(t, row, DayLengthH(lat, day), 0.11, 0.006)
			default:
				checkEvent(t, row, lat)
			}
		})
	}
}

// near holds a value to the printed one within the margin at which its maker
// kept the row, and to the maker's own evaluation of the equation, printed to
// two decimals.
func near(t *testing.T, row map[string]string, got, kept, printed float64) {
	t.Helper()
	if math.Abs(got-number(t, row["value"])) > kept {
		t.Errorf("got %.3f, want %s ± %g: %s", got, row["value"], kept, row["source"])
	}
	if math.Abs(got-number(t, row["eq21_or_34"])) > printed {
		t.Errorf("got %.3f, want %s ± %g by the equation itself", got, row["eq21_or_34"], printed)
	}
}

func checkEvent(t *testing.T, row map[string]string, lat float64) {
	t.Helper()
	day := date(t, row["date"])
	allowed := 60.0 // printed to the minute
	if strings.Contains(row["source"], "NREL") {
		allowed = 5
	}
	wanted := clock(t, row["date"], row["value"], zone(t, row["quantity"]))
	if nightBefore(row) {
		day, wanted = day-1, wanted.AddDate(0, 0, -1)
	}
	d := dayAt(day, lat, number(t, row["lon"]))
	event := d.Rise
	if strings.HasPrefix(row["quantity"], "sunset") {
		event = d.Set
	}
	if diff := event.Sub(wanted).Seconds(); math.Abs(diff) > allowed {
		t.Errorf("off by %.0f s, allowed %.0f: %s", diff, allowed, row["source"])
	}
}

// nightBefore spots the rows in which NREL's day is the UTC day: a summer
// sunset in Colorado falls on the next UTC date, so the one printed beside a
// date is the evening's before.
func nightBefore(row map[string]string) bool {
	return row["quantity"] == "sunset_MST" && row["date"] == "2015-08-02" && strings.Contains(row["source"], "NREL")
}
