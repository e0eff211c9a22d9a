package trial

import (
	"math"
	"strings"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/grow"
	"haulm/internal/weather"
)

const heading = "id,crop,cultivar_class,place,lat,lon,elev_m,sow_date,transplant_date,emergence_date,flowering_date,other_stage,first_harvest,last_harvest,harvest_kind,yield,protection,precision_days,notes,source,site_weather_in_source\n"

func rowsOf(t *testing.T, lines string) []Row {
	t.Helper()
	rows, err := ReadRows(strings.NewReader(heading + lines))
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

func TestReadRows(t *testing.T) {
	rows := rowsOf(t, `a,tomato,determinate X,Here,27.6,-82.6,10,,1994-03-01,,,,,1994-06-09,final pick / end of crop,,open,3,24-29 d old transplants,S,UFBR9401.WTH
b,spinach,mixed,There,45,-122,45,1981-10-03,,,,,1982-04,1982-04,cut,,open,15,,S,
c,bean,mixed,There,44,-123,70,1961-04-25/1968-07-21,,,,,,,"range: 64-84 d sow-harvest; earliest 11 Jul",,open,5,,S,
d,tomato,determinate X,Here,29,-82,10,,2007-04-07,,,,,2007-07-05,end of crop,,open,3,,S,UFCI/UFGA0701.WTH
e,kale,Red Russian,There,36,-106,1740,2013-10-16,,,,,2013-12-11,2014-04-23,first cut (treatment D last),,high tunnel,14,cuts scheduled at 8-14 wk; year 2 gave very low yield,S,
`)
	if e := rows[4]; e.Bound() != Ranged || e.HarvestDays != [2]int{56, 98} {
		t.Errorf("row e: %+v", e)
	}
	if a := rows[0]; a.SeedlingDays != 27 || a.Bound() != FromOver || a.Harvest() != calendar.On(1994, 6, 9) || a.Stations[0] != "UFBR" {
		t.Errorf("row a: %+v", a)
	}
	if b := rows[1]; b.Bound() != Dated || b.First != calendar.On(1982, 4, 15) {
		t.Errorf("row b: %+v", b)
	}
	if c := rows[2]; c.Bound() != Ranged || c.HarvestDays != [2]int{64, 84} || c.Sown != calendar.On(1961, 4, 25) {
		t.Errorf("row c: %+v", c)
	}
	if d := rows[3]; len(d.Stations) != 2 || d.Stations[1] != "UFGA" {
		t.Errorf("row d: %v", d.Stations)
	}
	for _, bad := range []string{
		"e,bean,,There,x,0,0,2001-01-01,,,,,,,,,,1,,S,\n", "e,bean,,There,1,0,0,2001-13-01,,,,,,,,,,1,,S,\n", "e,bean,,There,1,0,0,,,,,,,,,,,1,,S,\n",
	} {
		if _, err := ReadRows(strings.NewReader(heading + bad)); err == nil || !strings.Contains(err.Error(), "e:") {
			t.Errorf("%s: got %v", bad, err)
		}
	}
}

func TestBounds(t *testing.T) {
	day := calendar.On(2001, 7, 1)
	for kind, want := range map[string]Bound{
		"dig": FromOver, "dry maturity": FromOver, "dry harvest": FromOver, "end of crop": FromOver, "bulb; some over-mature": FromOver, "final pick / end of crop": FromOver,
		"first pick": Dated, "fresh ear": Dated, "head": Dated, "none: winter-killed": Killed,
	} {
		if got := (Row{Kind: kind, First: day}).Bound(); got != want {
			t.Errorf("%s: bound %d, want %d", kind, got, want)
		}
	}
	o := Outcome{Row: Row{Kind: "dig", First: day}, Start: day.Add(-100), Ready: Days{80, 90, 100}}
	if kept, ok := o.Kept(); !ok || !kept {
		t.Error("ready ten days before it was dug, and not kept")
	}
	o.Ready.Mid = 101
	if kept, _ := o.Kept(); kept {
		t.Error("ready a day after it was dug, and kept")
	}
	if _, ok := o.HarvestError(); ok {
		t.Error("a bound counted as a date")
	}
}

func TestScore(t *testing.T) {
	s := ScoreOf([]Error{{-3, true}, {1, true}, {8, false}, {math.Inf(1), false}})
	if s.N != 4 || s.Bias != 4.5 || s.MedianAbs != 5.5 || s.Inside != 2 {
		t.Errorf("%+v", s)
	}
}

func TestStationsMendAndPad(t *testing.T) {
	stations, err := ReadStations(strings.NewReader("station,date,tmax_C,tmin_C,srad_MJ_m2,rain_mm\n" +
		"AAAA,2001-01-01,41.0a,10,20,0\nAAAA,2001-01-02,9,11,0,1\nAAAA,2001-01-03,,,,\nAAAA,2001-01-04,20,10,15,0\n"))
	if err != nil {
		t.Fatal(err)
	}
	runs := stations["AAAA"]
	if len(runs) != 2 || runs[0].Days() != 2 || runs[0].TmaxC[0] != 41 || runs[0].TminC[1] != 9 || !math.IsNaN(runs[0].SunMJ[1]) {
		t.Fatalf("%+v", runs)
	}
	rec := stations.For(Row{Sown: calendar.On(2001, 1, 2), SetOut: calendar.None, Stations: []string{"ZZZZ", "AAAA"}})
	if rec == nil || rec.Days() != 2+daysBefore+daysAfter || rec.TmaxC[0] != 26 {
		t.Errorf("%+v", rec)
	}
}

// steady is a made-up climate of one temperature.
func steady(t *testing.T, catalogue *crop.Catalogue) Weather {
	t.Helper()
	rec := &weather.Record{Site: weather.Site{LatDeg: 40}, Start: calendar.On(2000, 1, 1)}
	for range 800 {
		rec.TminC, rec.TmaxC, rec.SunMJ, rec.RainMM = append(rec.TminC, 13), append(rec.TmaxC, 23), append(rec.SunMJ, 20), append(rec.RainMM, 0)
	}
	return Weather{Climate: grow.NewClimate(rec, catalogue.Constants), Kind: AtTheTrial}
}

// made is a set of trials of bush beans whose crops truly take factor times the
// book's thermal time, in different squares.
func made(t *testing.T, catalogue *crop.Catalogue, factor float64, n int) []Case {
	t.Helper()
	w := steady(t, catalogue)
	cr := catalogue.Crop("french_bean_bush")
	subject := Subject{Crop: cr, Class: "mid", Route: cr.UsualRoute()}
	subject.Cover, _ = catalogue.Cover("")
	var cases []Case
	for i := range n {
		row := Row{ID: string(rune('a' + i)), Sown: calendar.On(2000, 3, 1+i), SetOut: calendar.None, Kind: "first pick", Site: weather.Site{LatDeg: float64(30 + i)}}
		_, ready, err := Middle(row, subject, w, grow.Pace{Emergence: 1, Growth: factor})
		if err != nil {
			t.Fatal(err)
		}
		row.First = row.Sown.Add(ready)
		cases = append(cases, Case{row, subject, w})
	}
	return cases
}

var beans = Group{Name: "beans", Crops: []string{"french_bean_bush"}, Factor: 1, PriorLogSD: 0.15}

// Trials made with a factor give it back, shrunk a little by the prior; one
// trial alone moves it less.
func TestFitFindsTheFactor(t *testing.T) {
	catalogue, err := crop.Load()
	if err != nil {
		t.Fatal(err)
	}
	one, err := beans.Fit(made(t, catalogue, 1.2, 1))
	if err != nil {
		t.Fatal(err)
	}
	many, err := beans.Fit(made(t, catalogue, 1.2, 8))
	if err != nil {
		t.Fatal(err)
	}
	if many < 1.16 || many > 1.21 {
		t.Errorf("eight trials give %.3f, want near 1.2", many)
	}
	if one >= many || one <= 1 {
		t.Errorf("one trial gives %.3f, eight %.3f", one, many)
	}
}

// A row is judged by a fit that has not seen its square: changing its own date
// does not change what is said of it.
func TestNoRowIsJudgedByItsOwnFit(t *testing.T) {
	catalogue, err := crop.Load()
	if err != nil {
		t.Fatal(err)
	}
	cases := made(t, catalogue, 1.1, 4)
	before, err := OutOfFold(cases, []Group{beans})
	if err != nil {
		t.Fatal(err)
	}
	cases[0].Row.First += 9
	after, err := OutOfFold(cases, []Group{beans})
	if err != nil {
		t.Fatal(err)
	}
	if before[0].Ready != after[0].Ready {
		t.Errorf("the row's own date moved its forecast: %v to %v", before[0].Ready, after[0].Ready)
	}
	if before[1].Ready == after[1].Ready {
		t.Error("another row's date moved nothing: nothing is fitted")
	}
}

// Every published crop of the table of subjects is one of ours, with a route
// for plants sown or set out.
func TestSubjectsAreInTheCatalogue(t *testing.T) {
	catalogue, err := crop.Load()
	if err != nil {
		t.Fatal(err)
	}
	list, err := readings()
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range list {
		cr := catalogue.Crop(r.key)
		if cr == nil {
			t.Errorf("%s: no crop %s", r.published, r.key)
			continue
		}
		if _, ok := cr.Class(r.class); !ok {
			t.Errorf("%s: no class %s", r.published, r.class)
		}
		if _, err := cr.Route(r.route); err != nil {
			t.Errorf("%s: %v", r.published, err)
		}
	}
	if groups, err := Groups(); err != nil || len(groups) == 0 {
		t.Errorf("%d groups, %v", len(groups), err)
	}
	if stages, err := Stages(); err != nil || len(stages) == 0 {
		t.Errorf("%d stage lengths, %v", len(stages), err)
	}
}
