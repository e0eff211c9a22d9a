package weather

import (
	"bytes"
	"encoding/csv"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/sharedfolder"
)

// invented is a record of made-up days: warm by day, tmin(d) by night.
func invented(from, to calendar.Date, tmin func(calendar.Date) float64) *Record {
	rec := &Record{Name: "invented", Start: from}
	for d := from; d < to; d++ {
		rec.TminC = append(rec.TminC, tmin(d))
		rec.TmaxC = append(rec.TmaxC, tmin(d)+10)
		rec.RainMM = append(rec.RainMM, 1)
	}
	return rec
}

// frostChecks are the rows of the reference check file, its header too.
func frostChecks(t *testing.T) [][]string {
	t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(sharedfolder.Bytes(t, "reference", "models", "frost.csv"))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// frostVector reads what one row of the reference check file expects.
func frostVector(t *testing.T, id string) (want, tolerance float64) {
	t.Helper()
	for _, row := range frostChecks(t) {
		if row[0] != id {
			continue
		}
		var err1, err2 error
		want, err1 = strconv.ParseFloat(row[3], 64)
		tolerance, err2 = strconv.ParseFloat(row[5], 64)
		if err1 != nil || err2 != nil {
			t.Fatalf("row %s expects %q within %q", id, row[3], row[5])
		}
		return want, tolerance
	}
	t.Fatalf("no row %s", id)
	return 0, 0
}

// frostSeries is the synthetic series fr-01, sorted.
func frostSeries(t *testing.T) []float64 {
	t.Helper()
	text := string(sharedfolder.Bytes(t, "reference", "models", "frost.csv"))
	_, after, _ := strings.Cut(text, "series: ")
	if !strings.HasPrefix(after, "1") {
		_, after, _ = strings.Cut(text, "DOY series: ")
	}
	list, _, _ := strings.Cut(after, ",")
	var days []float64
	for _, word := range strings.Fields(list) {
		day, err := strconv.ParseFloat(word, 64)
		if err != nil {
			t.Fatal(err)
		}
		days = append(days, day)
	}
	slices.Sort(days)
	return days
}

// TestFrostVectors runs fr-01 to fr-06 of the reference check file. fr-03 and
// fr-04 are other quantile rules for the same series: Haulm uses type 7, and
// those rows bound by how much a rule can matter (2 days at n = 29).
func TestFrostVectors(t *testing.T) {
	days := frostSeries(t)
	mean, sd := meanSD(days)
	if math.Abs(mean-115.2333) > 0.001 || math.Abs(sd-11.2883) > 0.001 {
		t.Errorf("fr-01: mean %.4f, sd %.4f of %d days", mean, sd, len(days))
	}
	for _, c := range []struct {
		id string
		p  float64
	}{{"fr-02-10", 0.1}, {"fr-02-50", 0.5}, {"fr-02-90", 0.9}} {
		want, tolerance := frostVector(t, c.id)
		if got := quantile7(days, c.p); math.Abs(got-want) > tolerance {
			t.Errorf("%s: got %v, want %v ± %v", c.id, got, want, tolerance)
		}
		for _, other := range []string{"fr-03", "fr-04"} {
			want, _ := frostVector(t, other+c.id[5:])
			if got := quantile7(days, c.p); math.Abs(got-want) > 2 {
				t.Errorf("%s: type 7 gives %v, that rule %v", other+c.id[5:], got, want)
			}
		}
	}
	want, tolerance := frostVector(t, "fr-05")
	if got := shareFrom(days, len(days))[126]; math.Abs(got-want) > tolerance {
		t.Errorf("fr-05: got %v, want %v", got, want)
	}
	// fr-06: of 30 years 20 have a frost; within them F = 0.30 stands for 0.20.
	want, _ = frostVector(t, "fr-06")
	if f, ok := mixed(want, 20, 30, 0); !ok || math.Abs(f-0.30) > 1e-9 {
		t.Errorf("fr-06: P = %v stands for F = %v, want 0.30", want, f)
	}
}

func meanSD(x []float64) (mean, sd float64) {
	for _, v := range x {
		mean += v / float64(len(x))
	}
	for _, v := range x {
		sd += (v - mean) * (v - mean) / float64(len(x)-1)
	}
	return mean, math.Sqrt(sd)
}

// TestFrostYears is arithmetic on invented winters.
func TestFrostYears(t *testing.T) {
	// Frost up to 10 January + the year's last digit in April, and from 1 November.
	cold := func(d calendar.Date) float64 {
		y, m, day := d.Civil()
		switch {
		case m == 4 && day <= 10+y%10, m < 4, m >= 11:
			return -1
		}
		return 5
	}
	odds := Frost(invented(calendar.On(2000, 1, 1), calendar.On(2010, 1, 1), cold), FrostOptions{})
	if odds.YearsCounted != 10 || odds.LastSpring.P50.String() != "04-15" && odds.LastSpring.P50.String() != "04-14" {
		t.Errorf("ten years from 04-10 to 04-19: %d years, median %v", odds.YearsCounted, odds.LastSpring.P50)
	}
	if odds.FirstAutumn.P10.String() != "11-01" || odds.Years[3].FreeDays != 201 {
		t.Errorf("first %v, %d free days from 13 April to 1 November", odds.FirstAutumn.P10, odds.Years[3].FreeDays)
	}
	if odds.StillToCome[0] != 1 || odds.StillToCome[150] != 0 || odds.HasCome[364] != 1 || odds.HasCome[300] != 0 {
		t.Error("the curves do not run from 1 to 0 and from 0 to 1")
	}
}

// TestFrostSouth: the same weather half a year on gives dates half a year on.
func TestFrostSouth(t *testing.T) {
	cold := func(d calendar.Date) float64 {
		if m := d.Month(); m >= 5 && m <= 9 {
			return -2
		}
		return 4
	}
	odds := Frost(invented(calendar.On(1990, 7, 1), calendar.On(2000, 7, 1), cold), FrostOptions{South: true})
	if odds.YearsCounted != 10 || odds.LastSpring.P90.String() != "09-30" || odds.FirstAutumn.P10.String() != "05-01" {
		t.Errorf("%d years, last %v, first %v; want 10, 09-30, 05-01", odds.YearsCounted, odds.LastSpring.P90, odds.FirstAutumn.P10)
	}
	if odds.Years[0].Year != 1990 || odds.Years[0].FreeDays != 212 {
		t.Errorf("season year %+v", odds.Years[0])
	}
}

// TestFrostMixed: 10 years, 6 with a spring frost. P(past by d) starts at 0.4:
// no 10 % date; the median is F = (0.5-0.4)/0.6 = 1/6 within the 6.
func TestFrostMixed(t *testing.T) {
	cold := func(d calendar.Date) float64 {
		y, m, day := d.Civil()
		if y < 2006 && m == 3 && day == 10+2*(y-2000) {
			return -3
		}
		return 6
	}
	odds := Frost(invented(calendar.On(2000, 1, 1), calendar.On(2010, 1, 1), cold), FrostOptions{})
	s := odds.LastSpring
	if s.P10 != nil || s.P50 == nil || s.P50.String() != "03-12" || s.YearsWithNone != 4 {
		t.Errorf("got %v %v, %d without; want none, 03-12 (10 + 5/6 · 2 days), 4", s.P10, s.P50, s.YearsWithNone)
	}
	if odds.YearsWithoutFrost != 4 || odds.FirstAutumn.P50 != nil {
		t.Errorf("%d years without frost, first autumn %v", odds.YearsWithoutFrost, odds.FirstAutumn.P50)
	}
}

// TestFrostMissingNights is the project rule for gaps near the date.
func TestFrostMissingNights(t *testing.T) {
	cold := func(d calendar.Date) float64 {
		if m := d.Month(); m <= 3 || m >= 11 {
			return -1
		}
		return 5
	}
	for _, c := range []struct {
		lost  int
		from  time.Month
		known bool
	}{{3, 4, true}, {4, 4, false}, {20, 7, true}} {
		rec := invented(calendar.On(2000, 1, 1), calendar.On(2010, 1, 1), cold)
		i, _ := rec.Index(calendar.On(2004, c.from, 5))
		for k := range c.lost {
			rec.TminC[i+k] = math.NaN()
		}
		odds := Frost(rec, FrostOptions{})
		if y := odds.Years[4]; y.SpringKnown != c.known {
			t.Errorf("%d nights missing from 5 %v: known is %v", c.lost, c.from, y.SpringKnown)
		}
	}
}

func TestFrostChance(t *testing.T) {
	cold := func(d calendar.Date) float64 {
		if d.Year()%2 == 0 && d.YearDay() <= 7 {
			return -1
		}
		return 5
	}
	chance := FrostChance(invented(calendar.On(2000, 1, 1), calendar.On(2010, 1, 1), cold), 52)
	if len(chance) != 52 || chance[0] != 0.5 || chance[1] != 0 || chance[51] != 0 {
		t.Errorf("got %v", chance)
	}
}
