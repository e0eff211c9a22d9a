package trial

import (
	"io"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/grow"
	"haulm/internal/weather"
)

// Dates that truly scatter as the intervals say lie inside four times in five,
// with the right middling distance and scatter; dates that scatter twice as far
// do not.
func TestWidths(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	const sd = 0.1
	width := func(times float64) Width {
		var outcomes []Outcome
		for range 2000 {
			start := calendar.On(2001, 4, 1)
			o := Outcome{Start: start, Subject: Subject{Crop: &crop.Crop{Key: "beetroot"}}, Weather: Weather{Kind: AtTheTrial}}
			o.Ready = Days{int(math.Round(1000 * math.Exp(-zTenth*sd))), 1000, int(math.Round(1000 * math.Exp(zTenth*sd)))}
			o.Row = Row{Kind: "first pick", Sown: start, SetOut: calendar.None, First: start.Add(int(math.Round(1000 * math.Exp(times*sd*random.NormFloat64()))))}
			outcomes = append(outcomes, o)
		}
		return Widths(outcomes)[1]
	}
	right, wide := width(1), width(2)
	if share := float64(right.Inside) / float64(right.N); right.N != 2000 || math.Abs(share-0.8) > 0.03 || math.Abs(right.Middling-rightDistance) > 0.04 || math.Abs(right.Scatter-sd) > 0.01 || math.Abs(right.Allowed-sd) > 0.005 {
		t.Errorf("scatter as allowed: %+v", right)
	}
	if share := float64(wide.Inside) / float64(wide.N); share > 0.55 || math.Abs(wide.Scatter-2*sd) > 0.02 {
		t.Errorf("scatter twice as wide: %+v", wide)
	}
}

// A file that was cut off, or is another, is refused and not fallen over.
func TestTablesWithoutRowsAreRefused(t *testing.T) {
	for name, read := range map[string]func(io.Reader) error{
		"trials":   func(r io.Reader) error { _, err := ReadRows(r); return err },
		"maturity": func(r io.Reader) error { _, err := ReadMaturity(r); return err },
		"handbook": func(r io.Reader) error { _, err := ReadHandbook(r); return err },
		"stations": func(r io.Reader) error { _, err := ReadStations(r); return err },
	} {
		for _, text := range []string{"", "crop\n", "crop,early_d\nradish_summer,22\n", "\"crop"} {
			if read(strings.NewReader(text)) == nil {
				t.Errorf("%s: %q was taken", name, text)
			}
		}
	}
}

// The tests that the page of everything else names are there.
func TestOutsideNamesTestsThatExist(t *testing.T) {
	quoted := regexp.MustCompile("`([^`]+)`")
	named := 0
	for line := range strings.Lines(outsideText) {
		columns := strings.Split(line, "|")
		if len(columns) < 6 {
			continue
		}
		words := quoted.FindAllStringSubmatch(columns[3], -1)
		if len(words) == 0 {
			continue
		}
		source := testsOf(t, words[0][1])
		for _, test := range words[1:] { // an ellipsis stands for the beginning of the name before, or for its end
			pattern := `func (Test)?\w*` + strings.ReplaceAll(regexp.QuoteMeta(test[1]), "…", `\w*`) + `\w*\(t \*testing\.T\)`
			if !regexp.MustCompile(pattern).MatchString(source) {
				t.Errorf("package %s has no test %s", words[0][1], test[1])
			}
			named++
		}
	}
	if named < 15 {
		t.Errorf("only %d tests are named", named)
	}
}

// testsOf is the text of a package's tests.
func testsOf(t *testing.T, name string) string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join("..", name, "*_test.go"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no tests of package %s: %v", name, err)
	}
	var all strings.Builder
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		all.Write(text)
	}
	return all.String()
}

// A thermometer that reads two degrees above the model's own seedbed is found
// two degrees above it in every month.
func TestHoldThermometer(t *testing.T) {
	rec := &weather.Record{Site: weather.Site{LatDeg: 50}, Start: calendar.On(2000, 1, 1)}
	for i := range 3 * 365 {
		swing := 8 * math.Sin(2*math.Pi*float64(i-110)/365)
		rec.TminC, rec.TmaxC, rec.SunMJ = append(rec.TminC, 5+swing), append(rec.TmaxC, 15+swing), append(rec.SunMJ, 10+swing)
	}
	same := HoldThermometer("here", rec, make([]float64, rec.Days()), 10, 2001, 2002, false)
	measured := make([]float64, rec.Days())
	for i := range measured {
		measured[i] = math.NaN()
	}
	ours := same.Months
	for i := 366; i < len(measured); i++ {
		measured[i] = ours[rec.Start.Add(i).Month()-1].OursC + 2
	}
	got := HoldThermometer("here", rec, measured, 10, 2001, 2002, false)
	for m, month := range got.Months {
		if off := month.OursC - month.MeasuredC; math.Abs(off+2) > 0.3 {
			t.Errorf("%s: off by %.2f, want -2", time.Month(m+1), off)
		}
	}
	if got.Days < 700 || got.ScatterC < 1.5 {
		t.Errorf("%d days, scatter %.2f", got.Days, got.ScatterC)
	}
}

func TestReadHandbook(t *testing.T) {
	const table = "crop,dtm_direct_low_d,dtm_direct_high_d,dtm_transplant_low_d,dtm_transplant_high_d,knott_optimum_mean_c\n" +
		"radish_summer,22,30,,,17\ntomato_bush,,,60,80,22.5\nyacon,,,,,20\n"
	list, err := ReadHandbook(strings.NewReader(table))
	if err != nil || len(list) != 2 || list[0].Direct != [2]int{22, 30} || list[1].SetOut != [2]int{60, 80} || list[1].BestMeanC != 22.5 {
		t.Fatalf("%+v, %v", list, err)
	}
	if _, err := ReadHandbook(strings.NewReader("crop,days\nradish,22\n")); err == nil || !strings.Contains(err.Error(), "dtm_direct_low_d") {
		t.Errorf("a table without the columns: %v", err)
	}
	catalogue, err := crop.Load()
	if err != nil {
		t.Fatal(err)
	}
	framed, err := FrameHandbook(list, catalogue)
	if err != nil || len(framed) != 2 {
		t.Fatalf("%+v, %v", framed, err)
	}
	for _, f := range framed {
		if f.OurLow >= f.OurHigh || f.OurHigh == grow.Never {
			t.Errorf("%+v: early kinds are not before late ones", f)
		}
	}
}
