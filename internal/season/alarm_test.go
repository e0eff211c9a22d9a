package season

import (
	"strings"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/diary"
	"haulm/internal/weather"
)

// courgettesOut is a garden with courgettes set out on 20 May, on 26 May.
func (w world) courgettesOut(place string) (Input, Planting) {
	g := bedsOf(1)
	p := w.planting(g, "courgette", "pot", place, 0, 100, "2022-04-18", "2022-05-20")
	in := w.input(g, "2022-05-26", p)
	in.Diary = []diary.Entry{entry(diary.Sown, "2022-04-18", p), entry(diary.Planted, "2022-05-20", p)}
	return in, p
}

// Frost by stage and cover, with what to do, until it is silenced.
func TestFrostAlarm(t *testing.T) {
	w := newWorld(t)
	for _, c := range []struct {
		name    string
		lowC    float64
		covered bool
		want    string // in what it says; "" for no frost alarm
	}{
		{"hard frost", -3, false, "kills"},
		{"near miss", 1.5, false, "may kill"},
		{"mild night", 9, false, ""},
		{"fleece that saves", -0.5, true, "may kill"},
		{"fleece that does not", -4, true, "kills"},
	} {
		in, p := w.courgettesOut("Bed 1")
		in.Forecast = expected("2022-05-26", 5, c.lowC, c.lowC+8, 0, 2)
		if c.covered {
			in.Diary = append(in.Diary, entry(diary.Covered, "2022-05-25", p))
		}
		s := look(t, in)
		a, told := s.alarm(Frost)
		if told != (c.want != "") || told && !strings.Contains(a.Says, c.want) {
			t.Errorf("%s: got %v %q, want %q", c.name, told, a.Says, c.want)
		}
		if told {
			if a.Rule == "" || a.Numbers == "" || a.Source == "" || a.Do == "" || a.Day != in.Today {
				t.Errorf("%s: the alarm is not whole: %+v", c.name, a)
			}
			if j, ok := s.job("cover"); ok == c.covered || ok && j.Until != in.Today {
				t.Errorf("%s: covered %v, job for tonight %v %+v", c.name, c.covered, ok, j)
			}
			if _, ok := s.job("uncover"); ok {
				t.Errorf("%s: the fleece is to come off", c.name)
			}
			in.Diary = append(in.Diary, diary.Entry{Kind: diary.Silenced, Day: in.Today, Text: a.ID})
			if _, still := look(t, in).alarm(Frost); still {
				t.Errorf("%s: told again after it was silenced", c.name)
			}
		}
	}
}

// What frost does to a crop is told by the crop's own figures of cold: within its
// damage it is checked, from its kill it is killed. A night that it stands is no
// alarm.
func TestFrostGoesByTheFiguresOfTheCrop(t *testing.T) {
	w := newWorld(t)
	for _, c := range []struct {
		crop, route string
		stage       Stage
		aboveKillC  float64 // of the coming night
		says        string  // "" for no alarm
	}{
		{"lettuce_leaf", "drilled", Growing, 1.5, "Frost checks lettuce (leaf): −2.5 °C is forecast for the night to 20 May, and 2 °C colder would kill it."},
		{"lettuce_leaf", "drilled", Growing, 0.5, "Frost checks lettuce (leaf): −3.5 °C is forecast for the night to 20 May, and 1 °C colder would kill it."},
		{"lettuce_leaf", "drilled", Growing, 0, "Frost kills lettuce (leaf): −4 °C is forecast for the night to 20 May, and it stands −4 °C."},
		{"carrot_main", "drilled", Growing, 2.5, ""}, // within its damage: it stands this
		{"carrot_main", "drilled", Growing, 1.5, "Frost checks carrot (maincrop): −6.5 °C is forecast for the night to 20 May, and 2 °C colder would kill it."},
		{"potato_maincrop", "tubers", Growing, 1, "Frost checks potato (maincrop): −0.5 °C is forecast for the night to 20 May, and 1 °C colder would cut it down."},
		{"potato_maincrop", "tubers", Growing, 1.9, "Frost may cut down potato (maincrop): 0.4 °C is forecast for the night to 20 May, and it stands −1.5 °C."},
		{"runner_bean", "station", Growing, 1, "Frost may kill runner bean: 0.5 °C is forecast for the night to 20 May, and it stands −0.5 °C."},
	} {
		g := bedsOf(1)
		p := w.planting(g, c.crop, c.route, "Bed 1", 0, 200, "2022-04-10", "")
		cold := p.Crop.ColdAt("growing")
		in := w.input(g, "2022-05-20", p)
		in.Forecast = expected("2022-05-20", 1, cold.KillC+c.aboveKillC, 12, 0, 2)
		told := (&grower{in: &in}).frost(&Standing{Planting: p, Name: p.name(), Stage: c.stage, deeds: newDeeds()})
		switch {
		case c.says == "" && len(told) > 0:
			t.Errorf("%s at %g °C above what kills it: %s", c.crop, c.aboveKillC, told[0].Says)
		case c.says != "" && (len(told) != 1 || told[0].Says != c.says || told[0].Task != "cover" || told[0].Do == ""):
			t.Errorf("%s: got %+v, want %q", c.crop, told, c.says)
		}
	}
}

func TestFrostOnPotsIsCarriedIn(t *testing.T) {
	in, _ := newWorld(t).courgettesOut("Pots")
	in.Forecast = expected("2022-05-26", 2, -2, 9, 0, 2)
	s := look(t, in)
	if a, ok := s.alarm(Frost); !ok || !strings.Contains(a.Do, "Carry the pots in") || len(a.Cautions) == 0 {
		t.Errorf("got %+v", a)
	}
}

// Without a forecast the past years speak, and say that they are all there is.
func TestFrostWatchWithoutForecast(t *testing.T) {
	w := newWorld(t)
	g := bedsOf(1)
	p := w.planting(g, "courgette", "pot", "Bed 1", 0, 100, "2022-03-01", "2022-04-02")
	in := w.input(g, "2022-04-04", p)
	in.Diary = []diary.Entry{entry(diary.Sown, "2022-03-01", p), entry(diary.Planted, "2022-04-02", p)}
	a, ok := look(t, in).alarm(Frost)
	if !ok || !a.Weak || !strings.Contains(a.Says, "there is no forecast") {
		t.Errorf("courgettes out in early April got %v %+v", ok, a)
	}
}

func TestHeatAndGale(t *testing.T) {
	w := newWorld(t)
	g := bedsOf(1)
	p := w.planting(g, "french_bean_climbing", "station", "Bed 1", 0, 200, "2022-05-16", "")
	in := w.input(g, "2022-08-01", p)
	in.Diary = []diary.Entry{entry(diary.Sown, "2022-05-16", p)}
	in.Forecast = expected("2022-08-01", 4, 18, 36, 0, 11)
	s := look(t, in)
	if a, ok := s.alarm(HeatStop); !ok || a.Day != in.Today.Add(1) {
		t.Errorf("heat: %v %+v", ok, a)
	}
	if a, ok := s.alarm(Gale); !ok || !strings.Contains(a.Do, "Tie in") {
		t.Errorf("gale: %v %+v", ok, a)
	}
	in.Forecast = expected("2022-08-01", 4, 12, 20, 0, 3)
	s = look(t, in)
	if len(s.Alarms) != 0 {
		t.Errorf("a mild week alarms: %+v", s.Alarms)
	}
}

// Blight by the hour where hours are known, by the stand-in where not; not on
// young plants, nor on other crops.
func TestBlightAlarm(t *testing.T) {
	w := newWorld(t)
	g := bedsOf(2)
	p := w.planting(g, "potato_maincrop", "tubers", "Bed 1", 0, 200, "2022-04-11", "")
	q := w.planting(g, "carrot_main", "drilled", "Bed 2", 0, 200, "2022-05-02", "")
	in := w.input(g, "2022-07-20", p, q)
	in.Diary = []diary.Entry{entry(diary.Planted, "2022-04-11", p), entry(diary.Sown, "2022-05-02", q)}
	in.Hourly = dampHours("2022-07-12", 8)
	a, ok := look(t, in).alarm(LateBlight)
	if !ok || a.Weak || !strings.HasPrefix(a.Crop, "potato") || !strings.Contains(a.Numbers, "13 July") || strings.Contains(a.Numbers, "12 July") {
		t.Errorf("by the hour: %v %+v", ok, a)
	}
	in.Hourly = nil
	in.Forecast = expected("2022-07-20", 4, 13, 18, 3, 2)
	if a, ok = look(t, in).alarm(LateBlight); !ok || !a.Weak || !strings.Contains(a.Rule, "stand-in") {
		t.Errorf("by the day: %v %+v", ok, a)
	}
	in.Today, in.Forecast = day("2022-05-12"), expected("2022-05-12", 4, 13, 18, 3, 2)
	if a, ok = look(t, in).alarm(LateBlight); ok {
		t.Errorf("on potatoes just up: %+v", a)
	}
}

// dampHours are days of 14 °C at 95 %.
func dampHours(from string, days int) *weather.Hourly {
	h := &weather.Hourly{Start: day(from)}
	for range days * 24 {
		h.TempC, h.HumidityPC, h.RainMM = append(h.TempC, 14), append(h.HumidityPC, 95), append(h.RainMM, 0)
	}
	return h
}

// Mildew on onions and chocolate spot on beans come from the same hours.
func TestMildewAndChocolateSpot(t *testing.T) {
	w := newWorld(t)
	g := bedsOf(2)
	p := w.planting(g, "onion_sets", "sets", "Bed 1", 0, 200, "2022-03-28", "")
	q := w.planting(g, "broad_bean", "drilled", "Bed 2", 0, 200, "2022-03-07", "")
	in := w.input(g, "2022-06-10", p, q)
	in.Diary = []diary.Entry{entry(diary.Planted, "2022-03-28", p), entry(diary.Sown, "2022-03-07", q)}
	in.Hourly = dampHours("2022-06-02", 8)
	for i := range in.Hourly.TempC {
		in.Hourly.TempC[i] = 17
	}
	s := look(t, in)
	if a, ok := s.alarm(Mildew); !ok || !strings.Contains(a.Says, day("2022-06-09").Add(10).Format("2 January")) {
		t.Errorf("mildew: %v %+v", ok, a)
	}
	if a, ok := s.alarm(Chocolate); !ok || !strings.HasPrefix(a.Crop, "broad bean") {
		t.Errorf("chocolate spot: %v %+v", ok, a)
	}
}

// A cold spring past its youth brings on bolting; a warm one does not.
func TestBoltingAlarm(t *testing.T) {
	w := newWorld(t)
	g := bedsOf(1)
	p := w.planting(g, "onion_sets", "sets", "Bed 1", 0, 200, "2022-01-24", "")
	in := w.input(g, "2022-05-10", p)
	in.Diary = []diary.Entry{entry(diary.Planted, "2022-01-24", p)}
	in.Record = w.withSpring(6)
	if _, ok := look(t, in).alarm(ColdBolt); !ok {
		t.Error("fifteen weeks at 6 °C do not tell")
	}
	in.Record = w.withSpring(17)
	if a, ok := look(t, in).alarm(ColdBolt); ok {
		t.Errorf("fifteen weeks at 17 °C tell: %+v", a)
	}
}

// withSpring is the record with every day of spring 2022 at one mean.
func (w world) withSpring(meanC float64) *weather.Record {
	r := *w.record
	r.TminC, r.TmaxC = append([]float64(nil), r.TminC...), append([]float64(nil), r.TmaxC...)
	for d := day("2022-01-24"); d < day("2022-05-10"); d++ {
		i, _ := r.Index(d)
		r.TminC[i], r.TmaxC[i] = meanC-4, meanC+4
	}
	return &r
}

// A flight is told once its warmth is nearly there, and for four weeks.
func TestCarrotFlyIsTold(t *testing.T) {
	w := newWorld(t)
	g := bedsOf(1)
	p := w.planting(g, "carrot_main", "drilled", "Bed 1", 0, 200, "2022-04-11", "")
	told := map[calendar.Date]bool{}
	for today := day("2022-05-01"); today < day("2022-08-01"); today += 7 {
		in := w.input(g, today.String(), p)
		in.Diary = []diary.Entry{entry(diary.Sown, "2022-04-11", p)}
		if _, ok := look(t, in).alarm(Flight); ok {
			told[today] = true
		}
	}
	if len(told) < 3 || len(told) > 8 || told[day("2022-07-31")] {
		t.Errorf("told on %v", told)
	}
}
