package calendar

import (
	"encoding/json"
	"testing"
	"time"
)

func TestDateRoundTrips(t *testing.T) {
	for d := On(1895, 1, 1); d < On(2105, 1, 1); d++ {
		y, m, day := d.Civil()
		if On(y, m, day) != d {
			t.Fatalf("day %d became %d", d, On(y, m, day))
		}
		back, err := Parse(d.String())
		if err != nil || back != d {
			t.Fatalf("%v read back as %v (%v)", d, back, err)
		}
	}
}

// Known weekdays: 1 January 1970 was a Thursday, 4 January 2027 is a Monday.
func TestWeeksStartOnMonday(t *testing.T) {
	for _, c := range []struct{ day, monday string }{
		{"1970-01-01", "1969-12-29"}, {"2027-01-04", "2027-01-04"}, {"2027-01-10", "2027-01-04"}, {"2028-02-29", "2028-02-28"},
	} {
		d, _ := Parse(c.day)
		if got := d.Monday().String(); got != c.monday {
			t.Errorf("Monday of %s = %s, want %s", c.day, got, c.monday)
		}
	}
}

func TestLeapDayStaysInFebruary(t *testing.T) {
	leap := MonthDay{time.February, 29}
	if got := leap.In(2027).String(); got != "2027-02-28" {
		t.Errorf("29 February of 2027 = %s", got)
	}
	if got := leap.In(2028).String(); got != "2028-02-29" {
		t.Errorf("29 February of 2028 = %s", got)
	}
}

func TestSeasonYears(t *testing.T) {
	for _, c := range []struct {
		day   string
		south bool
		want  int
	}{
		{"2020-06-30", false, 2020}, {"2020-06-30", true, 2019}, {"2020-07-01", true, 2020}, {"2021-01-15", true, 2020},
	} {
		d, _ := Parse(c.day)
		if got := SeasonYear(d, c.south); got != c.want {
			t.Errorf("season of %s south=%v is %d, want %d", c.day, c.south, got, c.want)
		}
		if start := SeasonStart(c.want, c.south); d < start || d >= SeasonStart(c.want+1, c.south) {
			t.Errorf("%s lies outside its own season", c.day)
		}
	}
}

func TestJSONDates(t *testing.T) {
	type stages struct{ A, B Date }
	text, err := json.Marshal(stages{On(2027, 3, 20), None})
	if err != nil || string(text) != `{"A":"2027-03-20","B":null}` {
		t.Fatalf("%s %v", text, err)
	}
	var back stages
	if err := json.Unmarshal(text, &back); err != nil || back.A != On(2027, 3, 20) || back.B != None {
		t.Fatalf("%+v %v", back, err)
	}
	for _, bad := range []string{`"2027-13-01"`, `"spring"`, `3`} {
		var d Date
		if json.Unmarshal([]byte(bad), &d) == nil {
			t.Errorf("%s was taken for a date", bad)
		}
	}
}

func FuzzParse(f *testing.F) {
	f.Add("2027-03-20")
	f.Add("")
	f.Fuzz(func(t *testing.T, s string) {
		d, err := Parse(s)
		if err == nil && d.String() != s {
			t.Errorf("%q read as %v", s, d)
		}
	})
}

// A day that no calendar has is told from what is no date at all.
func TestParseTellsASlipFromAnotherWriting(t *testing.T) {
	for text, want := range map[string]string{
		"2027-02-29": `"2027-02-29" is no day of the calendar; write one such as 2027-03-20`,
		"2027-13-01": `"2027-13-01" is no day of the calendar; write one such as 2027-03-20`,
		"32 May":     `"32 May" is not a date like 2027-03-20`,
		"":           `"" is not a date like 2027-03-20`,
	} {
		if _, err := Parse(text); err == nil || err.Error() != want {
			t.Errorf("%q: got %v, want %s", text, err, want)
		}
	}
	if d, err := Parse("2028-02-29"); err != nil || d != On(2028, 2, 29) {
		t.Errorf("a leap day: %v, %v", d, err)
	}
}
