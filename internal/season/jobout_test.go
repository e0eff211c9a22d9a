package season

import (
	"strings"
	"testing"

	"haulm/internal/diary"
	"haulm/internal/forecast"
)

// tomatoesIndoors is a garden whose tomatoes were sown on 7 March and wait
// indoors.
func (w world) tomatoesIndoors(today string) (Input, Planting) {
	g := bedsOf(1)
	p := w.planting(g, "tomato_bush", "pot", "Bed 1", 0, 200, "2022-03-07", "2022-05-14")
	in := w.input(g, today, p)
	in.Diary = []diary.Entry{entry(diary.Sown, "2022-03-07", p)}
	return in, p
}

// withNight is a mild week of forecast with one night of another low.
func withNight(from string, days int, on string, lowC float64) *forecast.Forecast {
	f := expected(from, days, 9, 19, 0, 2)
	for i := range f.Days {
		if f.Days[i].Date == day(on) {
			f.Days[i].TminC = lowC
		}
	}
	return f
}

// A forecast night that tomatoes do not stand keeps them in until it is past:
// the job, its reason, the odds and the worth all go by that.
func TestAForecastFrostKeepsPlantsIn(t *testing.T) {
	w := newWorld(t)
	in, _ := w.tomatoesIndoors("2022-05-14")
	in.Forecast = expected("2022-05-14", 7, 9, 19, 0, 2)
	mild := look(t, in)
	free, ok := mild.job("set out")
	if !ok || free.Due != in.Today || !strings.Contains(free.Why, "nights are mild") {
		t.Fatalf("in a mild week: %v %+v", ok, free)
	}
	for _, c := range []struct {
		on   string
		lowC float64
		due  string
		why  string
	}{
		{"2022-05-17", -2.5, "2022-05-18", "−2.5 °C is forecast for the night to 17 May and it stands −1.2 °C"},
		{"2022-05-20", -2.5, "2022-05-21", "for the night to 20 May"},
		{"2022-05-17", 0.5, "2022-05-18", "0.5 °C is forecast for the night to 17 May and it stands −1.2 °C (a forecast errs by up to 2 °C)"}, // within the forecast's error: an alarm would tell of it
		{"2022-05-17", 4, "2022-05-14", "nights are mild"},
	} {
		in.Forecast = withNight("2022-05-14", 7, c.on, c.lowC)
		s := look(t, in)
		j, ok := s.job("set out")
		if !ok || j.Due != day(c.due) || !strings.Contains(j.Why, c.why) {
			t.Errorf("%g °C on %s: told %v for %s: %s", c.lowC, c.on, ok, j.Due, j.Why)
		}
		// A week later costs something; plants killed would leave next to nothing.
		if was, now := mild.Plantings[0].Success, s.Plantings[0].Success; now < 0.75*was || j.Cost < 0.75*free.Cost {
			t.Errorf("%g °C on %s: the chance falls from %.2f to %.2f, the worth from %.1f to %.1f portions", c.lowC, c.on, was, now, free.Cost, j.Cost)
		}
	}
}

// Under glass a night is as cold as the cover leaves it.
func TestACoverLetsPlantsOut(t *testing.T) {
	w := newWorld(t)
	in, p := w.tomatoesIndoors("2022-05-14")
	in.Forecast = withNight("2022-05-14", 7, "2022-05-17", 0)
	bare, _ := look(t, in).job("set out")
	in.Garden.Places[0].Cover = "greenhouse"
	in.Plantings[0].Place.Cover = "greenhouse"
	covered, ok := look(t, in).job("set out")
	if !ok || bare.Due != day("2022-05-18") || covered.Due != in.Today {
		t.Errorf("%s: bare due %s, under glass due %s", p.name(), bare.Due, covered.Due)
	}
}

// Plants of which nothing would come are not asked to be planted out, and the
// line of the planting says why.
func TestWhatIsWorthNothingIsNotPressed(t *testing.T) {
	w := newWorld(t)
	in, _ := w.tomatoesIndoors("2022-05-20")
	if s := look(t, in); s.Plantings[0].ToComeKg <= 0 {
		t.Fatalf("in May they are worth nothing: %+v", s.Plantings[0])
	} else if _, ok := s.job("set out"); !ok {
		t.Fatal("in May they are not to go out")
	}
	in.Today = day("2022-09-20")
	s := look(t, in)
	if j, ok := s.job("set out"); ok {
		t.Errorf("in late September it is told: %+v", j)
	}
	if words := s.Plantings[0].Words; !strings.HasSuffix(words, "next to nothing in a middling year") {
		t.Errorf("says %q", words)
	}
}

// No job is pressed with a worth of nothing, in any month.
func TestNoJobIsWorthZeroPortions(t *testing.T) {
	w := newWorld(t)
	for _, today := range []string{"2022-03-20", "2022-05-25", "2022-07-10", "2022-09-15", "2022-11-15"} {
		for _, j := range look(t, w.busy(t, today)).Jobs {
			if strings.Contains(j.CostSays, " 0 portions") || strings.Contains(j.CostSays, " 1 portions") {
				t.Errorf("%s: %s: %s", today, j.Title, j.CostSays)
			}
		}
	}
}
