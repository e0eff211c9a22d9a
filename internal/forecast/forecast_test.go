package forecast

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"haulm/internal/weather"
)

// metStepText is a step in the layout of MET Norway's "General forecast JSON
// format"; rain below 0 is not given.
func metStepText(at time.Time, tempC, oneMM, sixMM float64) string {
	text := fmt.Sprintf(`{"time":%q,"data":{"instant":{"details":{"air_temperature":%g,"relative_humidity":%g,"wind_speed":%g}}`, at.Format(time.RFC3339), tempC, 80.0, 3.2)
	if oneMM >= 0 {
		text += fmt.Sprintf(`,"next_1_hours":{"summary":{"symbol_code":"rain"},"details":{"precipitation_amount":%g}}`, oneMM)
	}
	if sixMM >= 0 {
		text += fmt.Sprintf(`,"next_6_hours":{"summary":{"symbol_code":"rain"},"details":{"precipitation_amount":%g}}`, sixMM)
	}
	return text + "}}"
}

func metText(steps ...string) string {
	return `{"type":"Feature","geometry":{"type":"Point","coordinates":[5.33,60.39,12]},"properties":{"meta":{"updated_at":"2026-11-25T11:30:00Z",` +
		`"units":{"air_temperature":"celsius","precipitation_amount":"mm","relative_humidity":"%","wind_speed":"m/s"}},"timeseries":[` + strings.Join(steps, ",") + `]}}`
}

func forecastOf(t *testing.T, zone *time.Location, steps ...string) *Forecast {
	t.Helper()
	f, err := Read(strings.NewReader(metText(steps...)), zone)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// TestForecastDays: by the hour from noon of the 25th to midnight before the
// 27th, then by six hours; by hand.
func TestForecastDays(t *testing.T) {
	noon := time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)
	var steps []string
	for i := range 36 { // to 23:00 on the 26th
		at := noon.Add(time.Duration(i) * time.Hour)
		steps = append(steps, metStepText(at, float64(at.Hour()), 0.5, 3))
	}
	for i := range 5 { // 00:00 on the 27th to 00:00 on the 28th
		at := noon.Add(time.Duration(36+6*i) * time.Hour)
		steps = append(steps, metStepText(at, -float64(i), -1, 1.2))
	}
	f := forecastOf(t, time.UTC, steps...)
	want := []struct {
		date                  string
		low, high, rain, span float64
		step                  float64
		whole                 bool
	}{
		{"2026-11-25", 0, 23, 6, 12, 1, false}, // midnight, 0 °C, ends the day
		{"2026-11-26", 0, 23, 12, 24, 1, true},
		{"2026-11-27", -4, 0, 4.8, 24, 6, true},
	}
	if len(f.Days) != len(want) {
		t.Fatalf("%d days: %+v", len(f.Days), f.Days)
	}
	for i, w := range want {
		d := f.Days[i]
		if d.Date.String() != w.date || d.TminC != w.low || d.TmaxC != w.high || math.Abs(d.RainMM-w.rain) > 1e-9 || d.Hours != w.span || d.StepHours != w.step || d.Whole() != w.whole {
			t.Errorf("%+v, want %+v", d, w)
		}
		if math.Abs(d.HumidityPC-80) > 1e-9 || math.Abs(d.WindMS-2.39) > 0.01 { // FAO-56 example 14: 3.2 m/s at 10 m
			t.Errorf("humidity %v, wind %v", d.HumidityPC, d.WindMS)
		}
	}
	if f.Site.LatDeg != 60.39 || f.Site.LonDeg != 5.33 || f.Site.ElevM != 12 || !f.Made.Equal(noon.Add(-30*time.Minute)) {
		t.Errorf("%+v", f)
	}
	// The hours: noon ends the 25th's 12th hour, midnight its 24th.
	if h := f.Hours; h.Start.String() != "2026-11-25" || h.TempC[11] != 12 || h.TempC[23] != 0 || h.TempC[24] != 1 || !math.IsNaN(h.TempC[10]) || h.RainMM[12] != 0.5 || !math.IsNaN(h.RainMM[11]) || h.HumidityPC[20] != 80 {
		t.Errorf("%v", f.Hours.TempC[:30])
	}
}

// TestForecastDaysOfAZone: days are the garden's, also where the clock changes.
func TestForecastDaysOfAZone(t *testing.T) {
	zone, err := time.LoadLocation("Europe/Dublin")
	if err != nil {
		t.Skip("needs the time zones of this system: " + err.Error())
	}
	start := time.Date(2027, 3, 26, 0, 0, 0, 0, time.UTC)
	var steps []string
	for i := range 97 {
		steps = append(steps, metStepText(start.Add(time.Duration(i)*time.Hour), 5, 1, 6))
	}
	f := forecastOf(t, zone, steps...)
	hours := []float64{24, 24, 23, 24, 1} // the clock goes forward on Sunday 28 March
	if len(f.Days) != len(hours) {
		t.Fatalf("%+v", f.Days)
	}
	for i, d := range f.Days {
		if d.Hours != hours[i] || math.Abs(d.RainMM-hours[i]) > 1e-9 {
			t.Errorf("%s: %v hours, %v mm", d.Date, d.Hours, d.RainMM)
		}
	}
	if f.Hours.Days() != 5 || !math.IsNaN(f.Hours.TempC[48]) || f.Hours.TempC[49] != 5 {
		t.Errorf("%d days, the missing hour %v", f.Hours.Days(), f.Hours.TempC[48:50])
	}
	west := time.FixedZone("", -8*3600)
	if f := forecastOf(t, west, steps...); f.Days[0].Date.String() != "2027-03-25" || f.Days[0].Hours != 8 {
		t.Errorf("%+v", f.Days[0])
	}
}

// TestForecastComplete: the complete form gives the extremes between steps.
func TestForecastComplete(t *testing.T) {
	at := time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)
	step := strings.Replace(metStepText(at, 5, -1, 1), `"precipitation_amount":1`, `"precipitation_amount":1,"air_temperature_min":-2,"air_temperature_max":9`, 1)
	f := forecastOf(t, time.UTC, step, metStepText(at.Add(6*time.Hour), 4, -1, 1))
	if d := f.Days[0]; d.TminC != -2 || d.TmaxC != 9 {
		t.Errorf("%+v", d)
	}
}

func TestForecastThatIsNone(t *testing.T) {
	at := time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)
	good := metText(metStepText(at, 5, 1, 1), metStepText(at.Add(time.Hour), 4, 1, 1))
	for text, want := range map[string]string{
		"":         "JSON",
		"[]":       "JSON",
		good[:200]: "JSON",
		"{}":       "place",
		metText():  "no times",
		strings.Replace(good, "5.33,60.39", "60.39,95", 1):                                "place",
		strings.Replace(good, "celsius", "K", 1):                                          `"K"`,
		strings.Replace(good, `"air_temperature":5`, `"air_temperature":500`, 1):          "cannot be",
		strings.Replace(good, `"air_temperature":5,`, ``, 1):                              "no temperature",
		strings.Replace(good, `"precipitation_amount":1`, `"precipitation_amount":-1`, 1): "cannot be",
		metText(metStepText(at, 5, 1, 1), metStepText(at, 4, 1, 1)):                       "jumps",
		metText(metStepText(at, 5, 1, 1), metStepText(at.Add(50*time.Hour), 4, 1, 1)):     "jumps",
		metText(metStepText(time.Date(1, 1, 1, 0, 0, 0, 0, time.UTC), 5, 1, 1)):           "year 1",
	} {
		if _, err := Read(strings.NewReader(text), time.UTC); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%.60s: %v, want %q", text, err, want)
		}
	}
}

func FuzzReadForecast(f *testing.F) {
	at := time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)
	f.Add(metText(metStepText(at, 5, 1, 1), metStepText(at.Add(6*time.Hour), 4, -1, 1)))
	f.Add("{}")
	f.Fuzz(func(t *testing.T, text string) {
		for _, zone := range []*time.Location{time.UTC, time.FixedZone("", 5*3600+1800)} {
			fc, err := Read(strings.NewReader(text), zone)
			if err != nil {
				continue
			}
			for i, d := range fc.Days {
				if i > 0 && d.Date != fc.Days[i-1].Date+1 || d.Hours > 25.01 || d.TminC > d.TmaxC || d.RainMM < 0 {
					t.Fatalf("%+v", fc.Days)
				}
			}
			if len(fc.Hours.TempC)%weather.DayHours != 0 {
				t.Fatal(len(fc.Hours.TempC))
			}
		}
	})
}

// BenchmarkReadForecast reads an answer of 90 steps.
func BenchmarkReadForecast(b *testing.B) {
	at := time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)
	var steps []string
	for i := range 90 {
		steps = append(steps, metStepText(at.Add(time.Duration(i)*time.Hour), 5, 1, 6))
	}
	text := metText(steps...)
	for b.Loop() {
		if _, err := Read(strings.NewReader(text), time.UTC); err != nil {
			b.Fatal(err)
		}
	}
}
