package weather

import (
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"haulm/internal/calendar"
)

// seasonal is a plain invented climate: warm in July, cold in January.
func seasonal(d calendar.Date) float64 {
	return 5 - 8*math.Cos(2*math.Pi*float64(d.YearDay()-15)/365)
}

func lose(rec *Record, days []float64, from calendar.Date, n int) {
	i, _ := rec.Index(from)
	for k := range n {
		days[i+k] = math.NaN()
	}
}

// TestMonthRule runs fr-08 of the reference check file (WMO-No. 1203).
func TestMonthRule(t *testing.T) {
	rows := frostChecks(t)
	seen := 0
	for _, row := range rows {
		if !strings.HasPrefix(row[0], "fr-08") {
			continue
		}
		seen++
		days := make([]float64, 31)
		missing, run := 0, 0
		for part := range strings.SplitSeq(row[2], ";") {
			key, n, _ := strings.Cut(part, "=")
			value := int(n[0] - '0')
			if len(n) == 2 {
				value = value*10 + int(n[1]-'0')
			}
			if key == "missing" {
				missing = value
			} else {
				run = value
			}
		}
		for i := range run {
			days[i] = math.NaN()
		}
		for i, left := run+1, missing-run; left > 0; i, left = i+2, left-1 {
			days[i] = math.NaN()
		}
		void := voidMonths(calendar.On(2001, 1, 1), days, WMORules())[0]
		if want := row[3] == "True"; void == want {
			t.Errorf("%s (%s): usable %v, want %v", row[0], row[2], !void, want)
		}
	}
	if seen != 5 {
		t.Errorf("%d rows fr-08, want 5", seen)
	}
}

func TestFillShortGap(t *testing.T) {
	warm := func(d calendar.Date) float64 { return seasonal(d) + 4*math.Sin(float64(d)/6) }
	rec := invented(calendar.On(2000, 1, 1), calendar.On(2010, 1, 1), warm)
	gap := calendar.On(2004, 5, 10)
	lose(rec, rec.TminC, gap, 3)
	lose(rec, rec.RainMM, gap, 40)
	filled, gaps := Fill(rec, WMORules())
	i, _ := rec.Index(gap)
	for k := range 3 {
		if got, want := filled.TminC[i+k], warm(gap.Add(k)); math.Abs(got-want) > 1 {
			t.Errorf("day %d of the gap filled with %.1f, was %.1f", k, got, want)
		}
	}
	if !math.IsNaN(rec.TminC[i]) {
		t.Error("Fill changed the record it was given")
	}
	if filled.RainMM[i+20] != 1 {
		t.Errorf("missing rain became %v where it always rains 1 mm", filled.RainMM[i+20])
	}
	y := gaps.Years[4]
	if y != (YearGaps{Year: 2004, Days: 366, MissingTmin: 3, MissingRain: 40}) {
		t.Errorf("counted %+v", y)
	}
	if left := gaps.LeftOut(); left != nil {
		t.Errorf("left out %v of a record that could be mended", left)
	}
}

func TestFillLongGap(t *testing.T) {
	rec := invented(calendar.On(1950, 3, 10), calendar.On(2010, 6, 20), seasonal)
	lose(rec, rec.TmaxC, calendar.On(1980, 8, 3), 9)
	lose(rec, rec.TminC, calendar.On(1960, 1, 1), 40)
	filled, gaps := Fill(rec, WMORules())
	if got := gaps.LeftOut(); len(got) != 2 || got[0] != 1960 || got[1] != 1980 {
		t.Errorf("left out %v, want 1960 and 1980; the half years at the ends are no gaps", got)
	}
	if lost, _, _ := gaps.Missing(); lost != 40 {
		t.Errorf("%d minima missing, want 40", lost)
	}
	i, _ := rec.Index(calendar.On(1980, 8, 5))
	if !math.IsNaN(filled.TmaxC[i]) || math.IsNaN(filled.TminC[i]) {
		t.Error("a broken month must keep what it has and gain nothing")
	}
	for i, x := range filled.TmaxC {
		d := rec.Start.Add(i)
		if lost := d >= calendar.On(1980, 8, 3) && d < calendar.On(1980, 8, 12); math.IsNaN(x) != lost {
			t.Errorf("%s: missing is %v, want %v", d, math.IsNaN(x), lost)
		}
	}
}

func TestFillSouthCountsSeasonYears(t *testing.T) {
	rec := invented(calendar.On(2000, 7, 1), calendar.On(2003, 7, 1), seasonal)
	rec.Site.LatDeg = -33
	lose(rec, rec.TminC, calendar.On(2002, 2, 1), 2)
	_, gaps := Fill(rec, WMORules())
	if len(gaps.Years) != 3 || gaps.Years[1].Year != 2001 || gaps.Years[1].MissingTmin != 2 {
		t.Errorf("got %+v", gaps.Years)
	}
}

// TestFillRainNeverMeasured: nothing is made of nothing.
func TestFillRainNeverMeasured(t *testing.T) {
	rec := invented(calendar.On(2000, 1, 1), calendar.On(2002, 1, 1), seasonal)
	rec.RainMM = MissingDays(rec.Days())
	filled, _ := Fill(rec, WMORules())
	if rec.HasRain() || filled.HasRain() {
		t.Error("rain appeared from nowhere")
	}
}

// TestFillKeepsWhatIsKnown: whatever is missing, known days stay as they are,
// filled ones are possible and in order, and years not left out have no gap.
func TestFillKeepsWhatIsKnown(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 800).Draw(t, "days")
		rec := &Record{Start: calendar.On(2000, time.Month(rapid.IntRange(1, 12).Draw(t, "month")), 1)}
		for range n {
			low := rapid.Float64Range(-30, 30).Draw(t, "low")
			high := low + rapid.Float64Range(0, 20).Draw(t, "spread")
			keep := rapid.IntRange(0, 9).Draw(t, "keep")
			rec.TminC = append(rec.TminC, maybe(low, keep != 0))
			rec.TmaxC = append(rec.TmaxC, maybe(high, keep != 1))
			rec.RainMM = append(rec.RainMM, maybe(low*low/90, keep != 2))
		}
		filled, gaps := Fill(rec, WMORules())
		for i := range n {
			for v := Tmin; v <= Rain; v++ {
				before, after := rec.Series(v)[i], filled.Series(v)[i]
				if !math.IsNaN(before) && before != after || !Limits[v].Possible(after) {
					t.Fatalf("day %d: %s %v became %v", i, Limits[v].Name, before, after)
				}
			}
			if filled.TminC[i] > filled.TmaxC[i] {
				t.Fatalf("day %d: %v above %v", i, filled.TminC[i], filled.TmaxC[i])
			}
			year := gaps.Years[rec.Start.Add(i).Year()-rec.Start.Year()]
			if !year.LeftOut && math.IsNaN(filled.TminC[i]+filled.TmaxC[i]) && AnyKnown(rec.TminC) && AnyKnown(rec.TmaxC) {
				t.Fatalf("day %d is missing, and %d is not left out", i, year.Year)
			}
		}
	})
}

func maybe(x float64, keep bool) float64 {
	if keep {
		return x
	}
	return math.NaN()
}
