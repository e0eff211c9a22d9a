package app

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/fetch"
	"haulm/internal/garden"
	"haulm/internal/grow"
	"haulm/internal/normals"
	"haulm/internal/season"
	"haulm/internal/weather"
)

// measuredDesk is the demonstration garden in a file of its own, with the
// built-in record as if it had been measured there, and nothing standing.
func measuredDesk(t *testing.T, day time.Time) *Desk {
	t.Helper()
	desk := emptyDesk(t, day)
	rec, err := normals.BuiltIn(normals.MildMaritime)
	if err != nil {
		t.Fatal(err)
	}
	measured := *rec
	measured.Estimated = false
	g := garden.Demo()
	g.Standing, g.History, g.WeatherRef = nil, nil, "own"
	if err := desk.SaveRecord("own", &measured); err != nil {
		t.Fatal(err)
	}
	if err := desk.SaveGarden(g); err != nil {
		t.Fatal(err)
	}
	return desk
}

// A garden that is truly 8 % slower is recognised from the lines its gardener
// wrote over two seasons, and plans and mornings go by it.
func TestASlowGardenIsRecognisedFromItsDiary(t *testing.T) {
	desk := measuredDesk(t, time.Date(2022, 11, 20, 7, 0, 0, 0, time.UTC))
	const slower = 1.08
	w, err := desk.Weather()
	if err != nil {
		t.Fatal(err)
	}
	open, err := desk.Catalogue.Cover("")
	if err != nil {
		t.Fatal(err)
	}
	for _, year := range []int{2021, 2022} {
		for _, k := range []struct{ crop, place, start string }{
			{"beetroot", "Long bed", "20 April"}, {"turnip", "Middle bed", "20 April"}, {"pea_shelling", "Well bed", "5 April"},
			{"broad_bean", "Gate bed", "10 March"}, {"french_bean_bush", "Wall border", "25 May"}, {"radish_summer", "Ash tree bed", "15 April"},
		} {
			cr := desk.Catalogue.Crop(k.crop)
			line := func(words string, day calendar.Date) {
				t.Helper()
				if _, err := desk.Note(fmt.Sprintf("%s %s %s %s", words, cr.Name, k.place, day)); err != nil {
					t.Fatal(err)
				}
			}
			sown, err := time.Parse("2 January 2006", fmt.Sprintf("%s %d", k.start, year))
			if err != nil {
				t.Fatal(err)
			}
			start := calendar.FromTime(sown)
			track, err := w.Climate.Track(cr, "mid", routeSownInPlace(cr), open)
			if err != nil {
				t.Fatal(err)
			}
			truth := track.Paced(grow.Pace{Emergence: 1, Growth: slower}).Course(start, calendar.None)
			line("sown", start)
			line("picked a basin of", truth.FirstPick)
			line("cleared", truth.LastPick.Add(7))
		}
	}
	lessons, err := desk.Lessons()
	if err != nil {
		t.Fatal(err)
	}
	if g := lessons.Garden; g.Dates != 12 || math.Abs(g.Pace/slower-1) > 0.015 || !strings.Contains(g.Says, "% slower than the book (from 12 dates)") {
		t.Errorf("learnt %+v, %d unused", g, lessons.Unused)
	}
	beet, ok, err := desk.LessonOf("beetroot")
	if err != nil || !ok || beet.Days < 2 || beet.Dates != 2 || !strings.Contains(beet.Says, "days slower for beetroot (from 2 dates)") {
		t.Errorf("beetroot: %+v, %v", beet, err)
	}
	if leek, ok, _ := desk.LessonOf("leek"); !ok || !strings.Contains(leek.Says, "no results of this crop yet") {
		t.Errorf("leek: %+v", leek)
	}
	habit, err := desk.habit()
	if err != nil || habit == nil {
		t.Fatal(err)
	}
	if pace, yield := habit(desk.Catalogue.Crop("beetroot"), "mid"); math.Abs(pace.Growth/slower-1) > 0.02 || yield != 1 {
		t.Errorf("a plan would go by pace %v and yield %g", pace, yield)
	}
	state, err := desk.Morning(TodayQuestion{Day: calendar.None})
	if err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(state)
	if err != nil || !strings.Contains(string(text), `"learnt":{"garden":{"dates":12,`) {
		t.Errorf("the morning's JSON does not say what was learnt: %v", err)
	}
}

// routeSownInPlace is the way by which the season takes an unplanned sowing.
func routeSownInPlace(cr *crop.Crop) *crop.Route {
	if usual := cr.UsualRoute(); !usual.Raised && !usual.Vegetative {
		return usual
	}
	for i := range cr.Routes {
		if r := &cr.Routes[i]; !r.Raised && !r.Vegetative {
			return r
		}
	}
	return cr.UsualRoute()
}

// The forecast that was fetched last reaches the morning while it is fresh, and
// is named with its hour.
func TestTheKeptForecastIsGoneBy(t *testing.T) {
	now := time.Date(2022, 6, 20, 7, 30, 0, 0, time.UTC)
	desk := measuredDesk(t, now)
	desk.now = func() time.Time { return now }
	folder := t.TempDir()
	desk.UseForecasts(folder)
	if f := desk.KeptForecast(); f != nil {
		t.Fatalf("there is a forecast before any was fetched: %+v", f)
	}
	g, err := desk.Garden()
	if err != nil {
		t.Fatal(err)
	}
	writeForecast(t, folder, g.Site, now)
	state, err := desk.Morning(TodayQuestion{Day: calendar.None})
	if err != nil {
		t.Fatal(err)
	}
	if state.Forecast != calendar.On(2022, 6, 22) || state.MadeWords() != "the forecast of 06:00" || !state.Hours {
		t.Errorf("forecast to %s, %q, by the hour: %v", state.Forecast, state.MadeWords(), state.Hours)
	}
	var out strings.Builder
	WriteMorning(&out, state, false)
	if !strings.Contains(out.String(), "With the forecast of 06:00, to 22 June.") {
		t.Errorf("the morning does not say it:\n%s", out.String())
	}
	now = now.Add(26 * time.Hour)
	if f := desk.KeptForecast(); f != nil {
		t.Error("a forecast of the day before yesterday's morning is still gone by")
	}
}

// writeForecast puts a forecast of three days where fetch keeps its own: made
// at six, hourly, mild and damp.
func writeForecast(t *testing.T, folder string, site weather.Site, now time.Time) {
	t.Helper()
	from := time.Date(now.Year(), now.Month(), now.Day(), 0, 0, 0, 0, time.UTC)
	var steps []string
	for h := range 73 {
		steps = append(steps, fmt.Sprintf(`{"time":%q,"data":{"instant":{"details":{"air_temperature":12.5,"relative_humidity":96,"wind_speed":3}},"next_1_hours":{"details":{"precipitation_amount":0.1}}}}`,
			from.Add(time.Duration(h)*time.Hour).Format(time.RFC3339)))
	}
	body := fmt.Sprintf(`{"type":"Feature","geometry":{"type":"Point","coordinates":[%g,%g,%g]},"properties":{"meta":{"updated_at":%q,"units":{"air_temperature":"celsius","precipitation_amount":"mm","relative_humidity":"%%","wind_speed":"m/s"}},"timeseries":[%s]}}`,
		site.LonDeg, site.LatDeg, site.ElevM, from.Add(6*time.Hour).Format(time.RFC3339), strings.Join(steps, ","))
	note := fmt.Sprintf(`{"fetched":%q,"not_before":%q}`, from.Add(7*time.Hour).Format(time.RFC3339), now.Add(time.Hour).Format(time.RFC3339))
	name := fetch.ForecastName(site, true)
	for path, text := range map[string]string{name: body, fetch.NoteName(name): note} {
		if err := os.WriteFile(filepath.Join(folder, path), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// With measured hours the proper rule of late blight speaks, without them the
// declared stand-in.
func TestBlightGoesByKeptHours(t *testing.T) {
	desk := measuredDesk(t, time.Date(2022, 7, 10, 7, 0, 0, 0, time.UTC))
	if _, err := desk.Note("planted maincrop potatoes Long bed 2022-04-10"); err != nil {
		t.Fatal(err)
	}
	blight := func() *season.Alarm {
		t.Helper()
		state, err := desk.Morning(TodayQuestion{Day: calendar.None})
		if err != nil {
			t.Fatal(err)
		}
		for i := range state.Alarms {
			if state.Alarms[i].Kind == season.LateBlight {
				return &state.Alarms[i]
			}
		}
		return nil
	}
	damp := &weather.Hourly{Source: "own hut", Start: calendar.On(2022, 7, 1)}
	for range 9 * weather.DayHours {
		damp.TempC, damp.HumidityPC, damp.RainMM = append(damp.TempC, 13), append(damp.HumidityPC, 95), append(damp.RainMM, 0)
	}
	if err := desk.KeepHours(damp); err != nil {
		t.Fatal(err)
	}
	if a := blight(); a == nil || a.Weak || !strings.Contains(a.Rule, "Hutton") {
		t.Errorf("nine damp, mild days by the hour: %+v", a)
	}
	for i := range damp.HumidityPC {
		damp.HumidityPC[i] = 60
	}
	if err := desk.KeepHours(damp); err != nil {
		t.Fatal(err)
	}
	if a := blight(); a != nil {
		t.Errorf("nine dry days by the hour: %+v", a)
	}
}
