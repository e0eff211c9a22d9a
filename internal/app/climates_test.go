package app

import (
	"bytes"
	"context"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/garden"
	"haulm/internal/plan"
	"haulm/internal/readings"
	"haulm/internal/season"
	"haulm/internal/sharedfolder"
	"haulm/internal/weather"
)

var update = flag.Bool("update", false, "write the golden files anew")

// climate is a real record on which the demonstration garden is planned.
type climate struct {
	name, file, header string // header replaces one that carries no units
	site               weather.Site
}

var climates = []climate{
	{"dublin", "IE_dly532_dublin-airport.csv.gz", "", weather.Site{LatDeg: 53.428, LonDeg: -6.241, ElevM: 71}},
	{"milwaukee", "USW00014839_milwaukee-wi.csv.gz", "year,month,day,date,day_of_year,rain_in,SNOW,SNWD,tmax_f,tmin_f", weather.Site{LatDeg: 42.955, LonDeg: -87.904, ElevM: 204}},
	{"de-bilt", "NL_etmgeg_260_de-bilt.txt.gz", "", weather.Site{LatDeg: 52.1, LonDeg: 5.18, ElevM: 2}},
	{"sydney", "AU_bom_sydney_2007-2026.csv.gz", "", weather.Site{LatDeg: -33.861, LonDeg: 151.205, ElevM: 40}},
	{"puno", "PE_qc00000708_puno.txt.gz", "", weather.Site{LatDeg: -15.826, LonDeg: -70.012, ElevM: 3812}},
	{"alice-springs", "AU_bom_alicesprings_2007-2026.csv.gz", "", weather.Site{LatDeg: -23.795, LonDeg: 133.889, ElevM: 546}},
}

// read reads a climate's record, its last 31 years.
func (c climate) read(t *testing.T) *weather.Record {
	t.Helper()
	text := sharedfolder.Bytes(t, "data", "weather", "daily", c.file)
	if c.header != "" {
		_, rest, _ := strings.Cut(string(text), "\n")
		text = []byte(c.header + "\n" + rest)
	}
	rec, _, err := readings.Read(bytes.NewReader(text), c.file, readings.Options{Today: calendar.On(2026, 11, 25)})
	if err != nil {
		t.Fatal(err)
	}
	rec.Site = c.site
	return rec.Between(max(rec.Start, rec.End().Add(-31*365)), rec.End())
}

// bareDemo is the demonstration garden's ground and table at another place:
// nothing stands and nothing lies in store.
func bareDemo(site weather.Site) *garden.Garden {
	g := garden.Demo()
	g.Site, g.Standing, g.InStore = site, nil, nil
	return g
}

// The same garden planned on six real records. The golden summaries are our
// own output, kept to be read by a person when they change.
func TestPlansInSixClimates(t *testing.T) {
	if testing.Short() {
		t.Skip("six plans take long under the race detector; they run without it")
	}
	catalogue := testCatalogue(t)
	for _, c := range climates {
		t.Run(c.name, func(t *testing.T) {
			rec := c.read(t)
			w, err := Prepare(rec, catalogue)
			if err != nil {
				t.Fatal(err)
			}
			planned, err := w.Plan(context.Background(), PlanQuestion{
				Garden: bareDemo(c.site), From: NextSeason(calendar.On(2026, 11, 25), c.site.South()), Iterations: goldenIterations, Seed: 1,
			}, catalogue)
			if err != nil {
				t.Fatal(err)
			}
			if broken := plan.Validate(planned.Lay.Problem, planned.Result.Plantings); len(broken) > 0 {
				t.Errorf("the plan breaks rules: %v", broken)
			}
			checkAgainstYardsticks(t, planned)
			expected, err := w.expected(season.Input{Garden: bareDemo(c.site), Catalogue: catalogue}, planned)
			if err != nil {
				t.Fatal(err)
			}
			var text bytes.Buffer
			WriteSummary(&text, planned, expected, false)
			checkGolden(t, filepath.Join("testdata", "climates", c.name+".txt"), text.Bytes())
		})
	}
}

// goldenIterations is a search that ends by count, so that its plan is the
// same on every machine.
const goldenIterations = 8000

// A plan that promises more than the best published whole garden (7.3 kg/m2,
// University of Minnesota home garden study) is wrong.
func checkAgainstYardsticks(t *testing.T, p *Planned) {
	t.Helper()
	best := 0.0
	for _, y := range p.Year.Totals.Yardsticks {
		if y.What == "yield" {
			best = max(best, y.Value)
		}
	}
	if got := p.Year.Totals.KgPerM2; got <= 0 || got > best {
		t.Errorf("the plan promises %.1f kg/m2; the best published whole garden gave %.1f", got, best)
	}
}

func checkGolden(t *testing.T, path string, got []byte) {
	t.Helper()
	if *update {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s has changed; read it and, if it is better, run: go test ./internal/app -update\ngot:\n%s", path, got)
	}
}

func testCatalogue(tb testing.TB) *crop.Catalogue {
	tb.Helper()
	catalogue, err := crop.Load()
	if err != nil {
		tb.Fatal(err)
	}
	return catalogue
}

func testNow() time.Time { return time.Date(2026, 11, 25, 8, 0, 0, 0, time.UTC) }
