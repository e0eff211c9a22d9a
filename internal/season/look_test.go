package season

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/diary"
)

// The strands hold this year's weather so far, then a past year's, day for day.
func TestSpliceJoinsThisYearAndThePast(t *testing.T) {
	w := newWorld(t)
	in := w.input(bedsOf(1), "2022-07-01")
	in.Forecast = expected("2022-07-01", 3, 11, 19, 4, 2)
	s, err := newSplice(&in, day("2022-03-20"))
	if err != nil {
		t.Fatal(err)
	}
	if s.years() < 25 {
		t.Fatalf("%d strands", s.years())
	}
	for _, n := range []int{0, 7, s.years() - 1} {
		for _, c := range []struct {
			on   string
			want func(i int) float64
		}{
			{"2022-03-20", nil}, {"2022-06-30", nil}, {"2022-07-02", func(int) float64 { return 11 }},
			{"2022-07-20", nil}, {"2022-12-24", nil},
		} {
			i, ok := s.index(n, day(c.on))
			if !ok {
				t.Fatalf("strand %d has no %s", n, c.on)
			}
			want := 0.0
			switch real := day(c.on); {
			case c.want != nil:
				want = c.want(i)
			case real < in.Today:
				k, _ := w.record.Index(real)
				want = w.record.TminC[k]
			default:
				k, _ := w.record.Index(calendar.MonthDayOf(s.lead).In(2021 - n).Add(int(real - s.lead)))
				want = w.record.TminC[k]
			}
			if got := s.record.TminC[i]; got != want {
				t.Errorf("strand %d, %s: low %g, want %g", n, c.on, got, want)
			}
			pseudo := s.record.Start.Add(i)
			if off := int(math.Abs(float64(pseudo.YearDay() - day(c.on).YearDay()))); off > 1 {
				t.Errorf("strand %d puts %s on day %d of the year", n, c.on, pseudo.YearDay())
			}
			if s.real(n, s.on(n, day(c.on))) != day(c.on) {
				t.Errorf("%s does not come back", c.on)
			}
		}
	}
}

// A sowing that nobody made is a job for as long as something would come of it.
func TestALostSowingIsNoJobForEver(t *testing.T) {
	w := newWorld(t)
	g := bedsOf(1)
	p := w.planting(g, "carrot_early", "drilled", "Bed 1", 0, 200, "2022-04-10", "")
	for _, c := range []struct {
		on   string
		told bool
	}{{"2022-04-10", true}, {"2022-07-20", true}, {"2022-09-01", false}, {"2022-11-27", false}} {
		told := false
		for _, job := range look(t, w.input(g, c.on, p)).Jobs {
			told = told || job.Kind == "begin"
		}
		if told != c.told {
			t.Errorf("on %s the sowing of 10 April is told: %v", c.on, told)
		}
	}
}

// A late sowing is told only while it is first picked before the plan clears its
// ground: what would come of it a year on is another plan's.
func TestALateSowingIsToldForItsOwnYear(t *testing.T) {
	w := newWorld(t)
	for _, c := range []struct {
		crop, route, start, clear, on string
		told                          bool
	}{
		{"cabbage_winter", "module", "2022-05-10", "2023-03-01", "2022-05-24", true},
		{"cabbage_winter", "module", "2022-05-10", "2023-03-01", "2022-12-20", false},
		{"spinach", "multisown", "2022-05-10", "2022-08-08", "2022-05-24", true},
		{"spinach", "multisown", "2022-05-10", "2022-08-08", "2022-12-20", false},
		{"spinach", "multisown", "2022-05-10", "", "2022-12-20", true}, // nobody has said when its ground is wanted
	} {
		g := bedsOf(1)
		p := w.planting(g, c.crop, c.route, "Bed 1", 0, 200, c.start, day(c.start).Add(42).String())
		p.Clear = day(c.clear)
		if _, told := look(t, w.input(g, c.on, p)).job("begin"); told != c.told {
			t.Errorf("%s of %s, cleared %q, is told on %s: %v", c.crop, c.start, c.clear, c.on, told)
		}
	}
}

// What the record holds from today on is not looked at.
func TestLookKnowsNoFuture(t *testing.T) {
	w := newWorld(t)
	g := bedsOf(2)
	p := w.planting(g, "french_bean_bush", "drilled", "Bed 1", 0, 200, "2022-05-20", "")
	in := w.input(g, "2022-07-01", p)
	in.Diary = []diary.Entry{entry(diary.Sown, "2022-05-20", p)}
	before := look(t, in)
	spoiled := *w.record
	spoiled.TminC, spoiled.TmaxC = append([]float64(nil), spoiled.TminC...), append([]float64(nil), spoiled.TmaxC...)
	from, _ := w.record.Index(in.Today)
	for i := from; i < spoiled.Days(); i++ {
		spoiled.TminC[i], spoiled.TmaxC[i] = -20, -10
	}
	in.Record = &spoiled
	if a, b := asJSON(t, before), asJSON(t, look(t, in)); a != b {
		t.Error("the look changed with weather that had not come yet")
	}
}

func asJSON(t *testing.T, s *State) string {
	t.Helper()
	text, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// Observed stages pin the model to the day.
func TestSightingsPinTheModel(t *testing.T) {
	w := newWorld(t)
	g := bedsOf(2)
	p := w.planting(g, "french_bean_bush", "drilled", "Bed 1", 0, 200, "2022-05-20", "")
	in := w.input(g, "2022-08-25", p)
	in.Diary = []diary.Entry{entry(diary.Sown, "2022-05-20", p)}
	free := look(t, in).Plantings[0]
	for _, days := range []int{-2, 3, 6} {
		seen := free.Up.Add(days)
		up := entry(diary.Up, seen.String(), p)
		in.Diary = []diary.Entry{entry(diary.Sown, "2022-05-20", p), up}
		pinned := look(t, in).Plantings[0]
		if got := pinned.courses[pinned.middle].course.Emergence; got != seen {
			t.Errorf("seen up on %s, modelled %s", seen, got)
		}
		if days > 0 && pinned.FirstPick.P50 < free.FirstPick.P50 || days < 0 && pinned.FirstPick.P50 > free.FirstPick.P50 {
			t.Errorf("up %d days later put the first picking from %s to %s", days, free.FirstPick.P50, pinned.FirstPick.P50)
		}
		first := pinned.FirstPick.P50.Add(-4)
		if first >= in.Today {
			continue
		}
		in.Diary = append(in.Diary, entry(diary.Picked, first.String(), p))
		picked := look(t, in).Plantings[0]
		if got := picked.courses[picked.middle].course.FirstPick; got != first {
			t.Errorf("picked on %s, modelled %s", first, got)
		}
	}
}

// A planting through its year: each thing is asked until it is noted, and not
// twice.
func TestNothingIsAskedTwice(t *testing.T) {
	w := newWorld(t)
	g := bedsOf(2)
	p := w.planting(g, "courgette", "pot", "Bed 1", 0, 200, "2022-04-18", "2022-05-23")
	in := w.input(g, "2022-04-18", p)
	step := func(today, wantJob, goneJob string, notes ...diary.Entry) {
		t.Helper()
		in.Today = day(today)
		in.Diary = append(in.Diary, notes...)
		s := look(t, in)
		if _, ok := s.job(wantJob); wantJob != "" && !ok {
			t.Errorf("%s: no job %q among %v", today, wantJob, titles(s))
		}
		if _, ok := s.job(goneJob); goneJob != "" && ok {
			t.Errorf("%s: job %q is asked again", today, goneJob)
		}
	}
	step("2022-04-18", "begin", "set out")
	step("2022-04-19", "", "begin", entry(diary.Sown, "2022-04-18", p))
	step("2022-05-18", "harden off", "begin")
	step("2022-05-25", "set out", "harden off", entry(diary.HardenedOff, "2022-05-18", p))
	step("2022-06-04", "", "set out", entry(diary.Planted, "2022-06-03", p))
	step("2022-06-20", "mulch", "set out")
	step("2022-06-21", "", "mulch", entry(diary.Mulched, "2022-06-20", p))
	step("2022-08-01", "pick", "begin")
	step("2022-11-10", "", "pick", entry(diary.Cleared, "2022-11-01", p))
}

func titles(s *State) []string {
	var out []string
	for _, j := range s.Jobs {
		out = append(out, j.Title)
	}
	return out
}

// Jobs that fit stay within the minutes, and what is dearest comes first.
func TestJobsFitTheMinutes(t *testing.T) {
	w := newWorld(t)
	in := w.busy(t, "2022-06-15")
	for _, minutes := range []float64{0.5, 10, 45, 600} {
		in.Minutes = minutes
		s := look(t, in)
		total := 0.0
		for i, j := range s.Jobs {
			if j.Fits {
				if !j.Overlong {
					total += j.Minutes
				}
				if j.Due > s.Today {
					t.Errorf("%s is due on %s and told for today", j.Title, j.Due)
				}
			}
			if j.Minutes <= 0 || j.Why == "" || j.CostSays == "" || !j.Due.Known() || j.Until < j.Due || j.Title == "" || strings.Contains(j.Title, "{") {
				t.Errorf("job is not whole: %+v", j)
			}
			if i > 0 && s.Jobs[i-1].Due > s.Today && j.Due <= s.Today {
				t.Errorf("%s comes after work that is not due yet", j.Title)
			}
		}
		if total > minutes {
			t.Errorf("%g minutes of work in %g", total, minutes)
		}
	}
}

func TestIDsAreEachTheirOwn(t *testing.T) {
	s := look(t, newWorld(t).busy(t, "2022-06-15"))
	seen := map[string]bool{}
	for _, j := range s.Jobs {
		if seen[j.ID] {
			t.Errorf("two jobs are called %q", j.ID)
		}
		seen[j.ID] = true
	}
	for _, a := range s.Alarms {
		if seen[a.ID] {
			t.Errorf("two alarms are called %q", a.ID)
		}
		seen[a.ID] = true
	}
}

func TestLookSaysWhatIsMissing(t *testing.T) {
	w := newWorld(t)
	good := w.input(bedsOf(1), "2022-06-15")
	for want, spoil := range map[string]func(*Input){
		"no garden":         func(in *Input) { in.Garden = nil },
		"no weather record": func(in *Input) { in.Record = nil },
		"the day":           func(in *Input) { in.Today = calendar.None },
		"past years":        func(in *Input) { in.Today = day("1993-06-15") },
	} {
		in := good
		spoil(&in)
		if _, err := Look(in); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got %v, want a word on %q", err, want)
		}
	}
}

// An entry that nobody planned makes a planting of its own, and later ones
// link to it.
func TestUnplannedSowingsAreGrown(t *testing.T) {
	w := newWorld(t)
	in := w.input(bedsOf(2), "2022-06-15")
	in.Diary = []diary.Entry{
		{ID: 7, Kind: diary.Sown, Day: day("2022-05-01"), Place: "Bed 2", Crop: "radish_summer"},
		{ID: 8, Kind: diary.Picked, Day: day("2022-06-12"), Place: "Bed 2", Crop: "radish_summer", Planting: NotedKey(7), Amount: 300, Unit: diary.Gram},
	}
	s := look(t, in)
	if len(s.Plantings) != 1 || s.Plantings[0].PickedKg != 0.3 || s.Plantings[0].Stage != Picking {
		t.Fatalf("got %+v", s.Plantings)
	}
	if known := Known(in); len(known) != 1 || known[0].Key != NotedKey(7) || known[0].Begun != day("2022-05-01") {
		t.Errorf("known: %+v", known)
	}
}
