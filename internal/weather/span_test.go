package weather

import (
	"testing"

	"haulm/internal/calendar"
)

func TestBetween(t *testing.T) {
	rec := invented(calendar.On(2000, 3, 1), calendar.On(2003, 1, 1), seasonal)
	rec.WindMS = make([]float64, rec.Days())
	for _, c := range []struct {
		from, to, wantFrom, wantEnd string
	}{
		{"2001-01-01", "2002-01-01", "2001-01-01", "2002-01-01"},
		{"1990-01-01", "2001-01-01", "2000-03-01", "2001-01-01"},
		{"2002-12-31", "2020-01-01", "2002-12-31", "2003-01-01"},
		{"2010-01-01", "2020-01-01", "2003-01-01", "2003-01-01"},
	} {
		from, _ := calendar.Parse(c.from)
		to, _ := calendar.Parse(c.to)
		cut := rec.Between(from, to)
		if cut.Start.String() != c.wantFrom || cut.End().String() != c.wantEnd || len(cut.WindMS) != cut.Days() || cut.SunMJ != nil {
			t.Errorf("%s to %s: got %s to %s", c.from, c.to, cut.Start, cut.End())
		}
	}
	if empty := rec.Between(calendar.On(2050, 1, 1), calendar.On(2051, 1, 1)); empty.Days() != 0 || Frost(empty, FrostOptions{}).YearsCounted != 0 {
		t.Error("a span outside the record is empty, and its odds too")
	}
}
