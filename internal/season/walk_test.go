package season

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/diary"
	"haulm/internal/forecast"
	"haulm/internal/garden"
	"haulm/internal/weather"
)

var update = flag.Bool("update", false, "write the golden files anew")

// A whole invented season on the real record of Dublin Airport, day by day: a
// gardener with twenty minutes a day who does what fits and writes it down.
// 2018 had a hot dry summer, 2012 a wet one. Each morning's forecast is the
// record's own next five days.
func TestWalks(t *testing.T) {
	if testing.Short() {
		t.Skip("five hundred mornings take long under the race detector")
	}
	for _, year := range []int{2018, 2012} {
		t.Run(fmt.Sprint(year), func(t *testing.T) {
			w := newWorld(t)
			w.record = dublin(t)
			got := w.walk(t, year)
			path := filepath.Join("testdata", fmt.Sprintf("walk_%d.txt", year))
			if *update {
				if err := os.WriteFile(path, got, 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(got, want) {
				t.Errorf("%s: the walk has changed; read it, and if it is right run the test with -update", path)
			}
		})
	}
}

// allotment is the invented garden's plan of a year.
func (w world) allotment(year int) (*garden.Garden, []Planting) {
	g := bedsOf(7)
	y := func(md string) string {
		if md == "" {
			return ""
		}
		return fmt.Sprintf("%d-%s", year, md)
	}
	var out []Planting
	for _, k := range []struct {
		crop, route, place string
		from, to           int
		start, out         string
	}{
		{"broad_bean", "drilled", "Bed 1", 0, 200, "03-05", ""}, {"onion_sets", "sets", "Bed 1", 200, 400, "03-26", ""},
		{"potato_first_early", "chitted", "Bed 2", 0, 200, "03-26", ""}, {"potato_maincrop", "tubers", "Bed 2", 200, 400, "04-16", ""},
		{"pea_shelling", "drilled", "Bed 3", 0, 200, "04-02", ""}, {"lettuce_head", "module", "Bed 3", 200, 300, "04-02", "05-07"},
		{"carrot_main", "drilled", "Bed 4", 0, 200, "05-07", ""}, {"beetroot", "drilled", "Bed 4", 200, 400, "05-07", ""},
		{"courgette", "pot", "Bed 5", 0, 200, "04-23", "05-28"}, {"french_bean_bush", "drilled", "Bed 5", 200, 400, "05-21", ""},
		{"runner_bean", "station", "Bed 6", 0, 200, "05-21", ""}, {"cabbage_summer", "module", "Bed 6", 200, 400, "04-02", "05-21"},
		{"leek", "module", "Bed 7", 0, 200, "04-02", "06-11"}, {"kale", "module", "Bed 7", 200, 400, "05-07", "06-25"},
		{"tomato_bush", "pot", "Pots", 0, 200, "03-26", "06-04"},
	} {
		p := w.planting(g, k.crop, k.route, k.place, k.from, k.to, y(k.start), y(k.out))
		out = append(out, p)
	}
	return g, out
}

// walker is the gardener.
type walker struct {
	in      Input
	out     bytes.Buffer
	told    map[string]bool // alarms of this week
	deeds   []string
	picked  map[string]float64
	watered map[string]float64
	nextID  int64
	left    []string
	minutes float64
}

func (w world) walk(t *testing.T, year int) []byte {
	g, plantings := w.allotment(year)
	rec := w.record.Between(calendar.On(year-25, 1, 1), calendar.On(year+1, 1, 10))
	k := &walker{in: Input{Garden: g, Catalogue: w.catalogue, Plantings: plantings, Record: rec, Minutes: 20}}
	fmt.Fprintf(&k.out, "Dublin Airport %d, an invented garden of seven beds and four pots, twenty minutes a day.\n", year)
	for today := calendar.On(year, 3, 1).Monday(); today < calendar.On(year, 11, 5); today++ {
		if today.Weekday() == 1 {
			k.week(rec, today)
		}
		k.in.Today = today
		k.in.Forecast = nextDays(rec, today, 5)
		s, err := Look(k.in)
		if err != nil {
			t.Fatal(err)
		}
		k.morning(s)
	}
	k.week(rec, calendar.On(year, 11, 5))
	return k.out.Bytes()
}

// nextDays is the record's own next days as a forecast.
func nextDays(rec *weather.Record, from calendar.Date, days int) *forecast.Forecast {
	f := &forecast.Forecast{}
	for n := range days {
		i, ok := rec.Index(from.Add(n))
		if !ok {
			break
		}
		f.Days = append(f.Days, forecast.Day{
			Date: from.Add(n), TminC: rec.TminC[i], TmaxC: rec.TmaxC[i], RainMM: rec.RainMM[i], WindMS: at(rec.WindMS, i), HumidityPC: at(rec.HumidityPC, i), Hours: 24, StepHours: 1,
		})
	}
	return f
}

// morning does what fits and writes it down.
func (k *walker) morning(s *State) {
	for i := range s.Alarms {
		if a := &s.Alarms[i]; !k.told[a.ID] {
			k.told[a.ID] = true
			k.deeds = append(k.deeds, "! "+a.Says)
		}
	}
	k.left = nil
	for i := range s.Jobs {
		j := &s.Jobs[i]
		switch {
		case j.Fits:
			k.do(j)
		case j.Due <= s.Today:
			k.left = append(k.left, j.Title)
		}
	}
	if s.Today.Weekday() == 1 && firstWeek(s.Today) {
		for i := range s.Plantings {
			if p := &s.Plantings[i]; p.Stage != Waiting && p.Stage != Cleared {
				k.deeds = append(k.deeds, fmt.Sprintf("= %s: %s, %s", p.Name, p.Stage, p.Words))
			}
		}
	}
}

// do writes a job down as done.
func (k *walker) do(j *Job) {
	k.minutes += j.Minutes
	k.nextID++
	e := diary.Entry{ID: k.nextID, Kind: j.TicksOff, Day: k.in.Today, Planting: j.Key}
	if p := standingPlanting(k.in.Plantings, j.Key); p != nil {
		e.Crop, e.Place = p.Crop.Key, p.Place.Name
	}
	switch j.Kind {
	case "pick", "lift":
		e.Amount, e.Unit = j.Kg, diary.Kilogram
		k.picked[j.Crop] += j.Kg
	case "water":
		e.Amount, e.Unit = j.Litres, diary.Litre
		k.watered[j.Crop] += j.Litres
	}
	if j.TicksOff == "" {
		e.Kind, e.Text = diary.Skipped, j.ID
	}
	k.in.Diary = append(k.in.Diary, e)
	if j.Kind != "pick" && j.Kind != "water" && j.Kind != "weed" && j.Kind != "pinch out" {
		k.deeds = append(k.deeds, fmt.Sprintf("%s  %s (%s; %s)", k.in.Today.Format("Mon 2"), j.Title, j.Where, j.CostSays))
	}
}

func standingPlanting(list []Planting, key string) *Planting {
	for i := range list {
		if list[i].Key == key {
			return &list[i]
		}
	}
	return nil
}

// week writes the week before monday and begins a new one.
func (k *walker) week(rec *weather.Record, monday calendar.Date) {
	if k.told != nil {
		a, _ := rec.Index(monday.Add(-7))
		low, high, rain := math.Inf(1), math.Inf(-1), 0.0
		for i := a; i < a+7; i++ {
			low, high, rain = math.Min(low, rec.TminC[i]), math.Max(high, rec.TmaxC[i]), rain+rec.RainMM[i]
		}
		fmt.Fprintf(&k.out, "\nWeek of %s: %.1f to %.1f °C, %.0f mm of rain. %.0f minutes", monday.Add(-7).Format("2 January"), low, high, rain, k.minutes)
		fmt.Fprint(&k.out, ".\n")
		for _, d := range k.deeds {
			fmt.Fprintf(&k.out, "  %s\n", d)
		}
		if len(k.picked) > 0 {
			fmt.Fprintf(&k.out, "  picked: %s\n", amounts(k.picked, "%.1f kg"))
		}
		if len(k.watered) > 0 {
			fmt.Fprintf(&k.out, "  watered: %s\n", amounts(k.watered, "%.0f l"))
		}
		if len(k.left) > 0 {
			fmt.Fprintf(&k.out, "  left on Sunday: %s\n", strings.Join(k.left, "; "))
		}
	}
	k.told, k.picked, k.watered = map[string]bool{}, map[string]float64{}, map[string]float64{}
	k.deeds, k.left, k.minutes = nil, nil, 0
}

func amounts(picked map[string]float64, format string) string {
	var names []string
	for name := range picked {
		names = append(names, name)
	}
	slices.Sort(names)
	for i, name := range names {
		names[i] = name + " " + fmt.Sprintf(format, picked[name])
	}
	return strings.Join(names, ", ")
}

// firstWeek says whether a day lies in the first week of its month.
func firstWeek(d calendar.Date) bool {
	_, _, n := d.Civil()
	return n <= 7
}
