package season

import (
	"bytes"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/diary"
	"haulm/internal/grow"
	"haulm/internal/readings"
	"haulm/internal/sharedfolder"
	"haulm/internal/weather"
)

// realRecord reads and mends a record of the folder beside the repository.
func realRecord(t *testing.T, file string, site weather.Site) *weather.Record {
	t.Helper()
	rec, _, err := readings.Read(bytes.NewReader(sharedfolder.Bytes(t, "data/weather/daily/"+file+".gz")), file)
	if err != nil {
		t.Fatal(err)
	}
	rec.Site = site
	mended, _ := weather.Fill(rec, weather.WMORules())
	return mended
}

func dublin(t *testing.T) *weather.Record {
	return realRecord(t, "IE_dly532_dublin-airport.csv", weather.Site{LatDeg: 53.428, LonDeg: -6.241, ElevM: 71})
}

// skill gathers forecasts issued when so many months were left.
type skill struct {
	n, inside int
	weighed   int // of them, those with the weight inside its span
	errorDays float64
	planDays  float64
	widthDays float64
}

// hindcastKinds are sowings whose first picking the plan is asked for.
var hindcastKinds = []struct {
	crop, route string
	month, day  int
	out         int // days from sowing to setting out; 0 = sown in place
}{
	{"potato_second_early", "chitted", 4, 5, 0}, {"pea_shelling", "drilled", 4, 5, 0}, {"carrot_main", "drilled", 5, 3, 0},
	{"french_bean_bush", "drilled", 5, 24, 0}, {"beetroot", "drilled", 5, 3, 0}, {"broad_bean", "drilled", 3, 8, 0},
	{"cabbage_summer", "module", 4, 5, 42}, {"courgette", "pot", 4, 26, 30}, {"onion_sets", "sets", 3, 29, 0},
}

// Forecasts issued on the first of each month through twenty years of Dublin
// Airport, with only earlier years and no weather forecast known, against what
// the model gives on the year's real weather: the skill of the splice, and
// with a kind and a yield drawn at random within the doubt, that of the whole
// interval.
func TestHindcastDublin(t *testing.T) {
	hindcast(t, dublin)
}

// The same at Milwaukee, in a continental climate.
func TestHindcastMilwaukee(t *testing.T) {
	hindcast(t, milwaukee)
}

// milwaukee is a record whose header names no units: they are those of NCEI's
// own files.
func milwaukee(t *testing.T) *weather.Record {
	t.Helper()
	const file = "USW00014839_milwaukee-wi.csv"
	_, rows, _ := strings.Cut(string(sharedfolder.Bytes(t, "data/weather/daily/"+file+".gz")), "\n")
	rec, _, err := readings.Read(strings.NewReader("year,month,day,date,day_of_year,rain_in,SNOW,SNWD,tmax_f,tmin_f\n"+rows), file)
	if err != nil {
		t.Fatal(err)
	}
	rec.Site = weather.Site{LatDeg: 42.955, LonDeg: -87.904, ElevM: 204}
	mended, _ := weather.Fill(rec, weather.WMORules())
	return mended
}

func hindcast(t *testing.T, record func(*testing.T) *weather.Record) {
	if testing.Short() {
		t.Skip("twenty years of forecasts take long under the race detector")
	}
	w := newWorld(t)
	w.record = record(t)
	for name, doubt := range map[string]bool{"weather alone": false, "weather and kind": true} {
		byMonth := map[int]*skill{}
		all := &skill{}
		dice := luck{kind: rand.New(rand.NewPCG(1, 2)), yield: rand.New(rand.NewPCG(3, 4))}
		for year := 1999; year <= 2018; year++ {
			w.hindcastYear(t, year, doubt, dice, byMonth, all)
		}
		for left := 6; left >= 0; left-- {
			if s := byMonth[left]; s != nil {
				t.Logf("%s, %d months before: %4d forecasts, mean error %4.1f days (plan %4.1f), 80 %% interval %4.1f days wide holds %.0f %%", name, left, s.n,
					s.errorDays/float64(s.n), s.planDays/float64(s.n), s.widthDays/float64(s.n), 100*float64(s.inside)/float64(s.n))
			}
		}
		held := float64(all.inside) / float64(all.n)
		t.Logf("%s: %d forecasts, mean error %.1f days, the plan's own %.1f, 80 %% intervals hold %.1f %%", name, all.n, all.errorDays/float64(all.n), all.planDays/float64(all.n), 100*held)
		if held < 0.75 || held > 0.85 {
			t.Errorf("%s: 80 %% intervals hold %.1f %%, want 75 to 85", name, 100*held)
		}
		if weighed := float64(all.weighed) / float64(all.n); doubt {
			t.Logf("%s: 80 %% spans of the weight hold %.1f %%", name, 100*weighed)
			if weighed < 0.75 || weighed > 0.85 {
				t.Errorf("%s: 80 %% spans of the weight hold %.1f %%, want 75 to 85", name, 100*weighed)
			}
		}
		if all.errorDays > all.planDays {
			t.Errorf("%s: forecasts err by %.2f days, the plan's own date by %.2f", name, all.errorDays/float64(all.n), all.planDays/float64(all.n))
		}
		if !doubt && byMonth[0].errorDays/float64(byMonth[0].n) > 0.6*byMonth[3].errorDays/float64(byMonth[3].n) {
			t.Errorf("the error does not shrink: %.1f days three months before, %.1f in the last", byMonth[3].errorDays/float64(byMonth[3].n), byMonth[0].errorDays/float64(byMonth[0].n))
		}
	}
}

// luck draws kinds and yields.
type luck struct{ kind, yield *rand.Rand }

// outcome is what came of a planting in truth.
type outcome struct {
	first calendar.Date
	kg    float64 // by a middling yield
}

func (w world) hindcastYear(t *testing.T, year int, doubt bool, dice luck, byMonth map[int]*skill, all *skill) {
	g := bedsOf(10)
	truthClimate := grow.NewClimate(w.record.Between(calendar.On(year, 1, 1), calendar.On(year+1, 3, 1)), w.catalogue.Constants)
	recent := *w.record
	recent = *recent.Between(calendar.On(year-30, 1, 1), calendar.On(year+1, 3, 1))
	in := Input{Garden: g, Catalogue: w.catalogue, Record: &recent}
	truths := map[string]outcome{}
	for i, k := range hindcastKinds {
		start := calendar.On(year, time.Month(k.month), k.day)
		setOut := ""
		if k.out > 0 {
			setOut = start.Add(k.out).String()
		}
		p := w.planting(g, k.crop, k.route, g.Places[i].Name, 0, 200, start.String(), setOut)
		in.Plantings = append(in.Plantings, p)
		in.Diary = append(in.Diary, entry(diary.Sown, start.String(), p))
		if k.out > 0 {
			in.Diary = append(in.Diary, entry(diary.Planted, setOut, p))
		}
		cover, _ := w.catalogue.Cover("")
		track, err := truthClimate.Track(p.Crop, p.Class, p.Route, cover)
		if err != nil {
			t.Fatal(err)
		}
		if doubt {
			track = track.Paced(track.Doubt().At(dice.kind.NormFloat64()))
		}
		if c := track.Course(start, p.SetOut); !c.Failed() {
			truths[p.Key] = outcome{c.FirstPick, c.KgPerM2 * p.ScaleM2}
		}
	}
	plans := map[string]calendar.Date{}
	for month := 3; month <= 11; month++ {
		in.Today = calendar.On(year, time.Month(month), 1)
		in.Diary = append(in.Diary, diary.Entry{Kind: diary.Note, Day: in.Today, Text: "looked round"})
		_, standing, err := growAll(&in)
		if err != nil {
			t.Fatal(err)
		}
		for i := range standing {
			s := &standing[i]
			truth, ok := truths[s.Key]
			odds := s.FirstPick
			if !doubt {
				odds = weatherOdds(s)
			}
			if !ok || truth.first <= in.Today || !odds.P90.Known() {
				continue
			}
			if _, planned := plans[s.Key]; !planned {
				plans[s.Key] = odds.P50 // before it is begun, or a few days after: the plan's own date
				if s.Start > in.Today {
					continue
				}
			}
			score(byMonth, all, int(truth.first-in.Today)/30, odds, truth.first, plans[s.Key])
			if kg := truth.kg * math.Exp(dice.yield.NormFloat64()*s.weightLogSD); kg >= s.ToComeLowKg && kg <= s.ToComeHighKg {
				all.weighed++
			}
		}
	}
}

// weatherOdds are the odds over the weather years alone.
func weatherOdds(s *Standing) Odds {
	var firsts []float64
	for i := range s.courses {
		c := &s.courses[i].course
		if c.Failed() {
			firsts = append(firsts, math.Inf(1))
		} else {
			firsts = append(firsts, float64(c.FirstPick))
		}
	}
	return oddsOf(firsts)
}

func score(byMonth map[int]*skill, all *skill, left int, odds Odds, truth, plan calendar.Date) {
	if byMonth[left] == nil {
		byMonth[left] = &skill{}
	}
	for _, s := range []*skill{byMonth[left], all} {
		s.n++
		if truth >= odds.P10 && truth <= odds.P90 {
			s.inside++
		}
		s.errorDays += math.Abs(float64(truth - odds.P50))
		s.planDays += math.Abs(float64(truth - plan))
		s.widthDays += float64(odds.P90 - odds.P10)
	}
}
