package season

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"haulm/internal/calendar"
	"haulm/internal/weather"
)

// diseases is the damp weather of the last days and the next, looked at once
// for all plantings.
type diseases struct {
	g         *grower
	blight    []calendar.Date // days that met the criteria
	weak      bool            // by the stand-in
	mildew    []calendar.Date // mornings after a night fit for spores
	chocolate []calendar.Date
	weakChoc  bool
}

// Days behind and ahead that are looked at.
const (
	DampBehindDays = 10
	dampAhead      = 5
)

func (g *grower) diseases() *diseases {
	d := &diseases{g: g}
	hours := g.hours()
	if hours == nil {
		d.byDay()
		return d
	}
	d.byHour(hours)
	return d
}

// hours joins measured and forecast hours, nil where neither reaches the days
// looked at.
func (g *grower) hours() *weather.Hourly {
	from, until := g.in.Today.Add(-DampBehindDays), g.in.Today.Add(dampAhead)
	out := &weather.Hourly{Start: from}
	n := int(until-from) * 24
	out.TempC, out.HumidityPC, out.RainMM = unknown(n), unknown(n), unknown(n)
	some := false
	take := func(h *weather.Hourly, first, end calendar.Date) {
		if h == nil || h.TempC == nil || h.HumidityPC == nil {
			return
		}
		for day := max(first, from); day < min(end, until); day++ {
			a, b, ok := h.Day(day)
			if !ok {
				continue
			}
			some = true
			to := int(day-from) * 24
			copy(out.TempC[to:to+24], h.TempC[a:b])
			copy(out.HumidityPC[to:to+24], h.HumidityPC[a:b])
			if h.RainMM != nil {
				copy(out.RainMM[to:to+24], h.RainMM[a:b])
			}
		}
	}
	take(g.in.Hourly, from, g.in.Today)
	if g.in.Forecast != nil {
		take(g.in.Forecast.Hours, g.in.Today, until)
	}
	if !some {
		return nil
	}
	return out
}

func unknown(n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = math.NaN()
	}
	return out
}

// byHour applies the hourly rules.
func (d *diseases) byHour(h *weather.Hourly) {
	for _, i := range Hutton(HuttonDays(h.TempC, h.HumidityPC)) {
		d.blight = append(d.blight, h.Start.Add(i))
	}
	for i := 1; i < len(h.TempC)/24; i++ {
		if MildewSpores(nightBefore(h, i)) {
			d.mildew = append(d.mildew, h.Start.Add(i))
		}
		if chocolateHours(h, i) > int(rule("chocolate.hours")) {
			d.chocolate = append(d.chocolate, h.Start.Add(i))
		}
	}
}

// nightBefore gathers the night that ends on day i.
func nightBefore(h *weather.Hourly, i int) MildewNight {
	midnight := i * 24
	n := MildewNight{DayMeanC: mean(h.TempC[midnight-16 : midnight-4]), NightC: mean(h.TempC[midnight-4 : midnight+6]), HumidPC: h.HumidityPC[midnight+2 : midnight+6], KnownRain: true}
	for _, mm := range h.RainMM[midnight+1 : midnight+6] {
		if math.IsNaN(mm) {
			n.KnownRain = false
		}
		n.RainMM += mm
	}
	return n
}

func mean(values []float64) float64 {
	sum := 0.0
	for _, v := range values {
		sum += v
	}
	return sum / float64(len(values))
}

func chocolateHours(h *weather.Hourly, i int) int {
	hours := 0
	for k := i * 24; k < (i+1)*24; k++ {
		if h.TempC[k] >= rule("chocolate.low_c") && h.TempC[k] <= rule("chocolate.high_c") && h.HumidityPC[k] >= rule("chocolate.rh_pc") {
			hours++
		}
	}
	return hours
}

// byDay applies the weaker stand-ins.
func (d *diseases) byDay() {
	d.weak, d.weakChoc = true, true
	g := d.g
	from := g.in.Today.Add(-DampBehindDays)
	var low, rain []float64
	for k := range DampBehindDays + dampAhead {
		day := from.Add(k)
		i, ok := g.splice.index(0, day)
		own := g.splice.measured.Known() && day <= g.splice.measured || g.splice.forecast.Known() && day <= g.splice.forecast && day >= g.in.Today
		if !ok || !own {
			low, rain = append(low, math.NaN()), append(rain, math.NaN())
			continue
		}
		r := g.splice.record
		low, rain = append(low, r.TminC[i]), append(rain, r.RainMM[i])
		middle := (r.TminC[i] + r.TmaxC[i]) / 2
		if r.HumidityPC[i] >= rule("chocolate.daily_rh_pc") && middle >= rule("chocolate.low_c") && middle <= rule("chocolate.high_c") {
			d.chocolate = append(d.chocolate, day)
		}
	}
	for _, i := range BlightStandIn(low, rain) {
		d.blight = append(d.blight, from.Add(i))
	}
}

// blighted says whether late blight takes a crop.
func blighted(key string) bool {
	return strings.HasPrefix(key, "potato") || strings.HasPrefix(key, "tomato")
}

// tell gives the diseases that threaten one planting.
func (d *diseases) tell(s *Standing) []Alarm {
	var out []Alarm
	if blighted(s.Crop.Key) && s.Share >= rule("blight.from_share") && len(d.blight) > 0 && !sheltered(s.Place.Cover) && s.ToComeKg > 0 {
		out = append(out, d.blightAlarm(s))
	}
	if s.Crop.RotationGroup == "onion family" && s.Crop.Key != "garlic" && s.Crop.Key != "leek" && len(d.mildew) > 0 {
		out = append(out, d.mildewAlarm(s))
	}
	if s.Crop.Key == "broad_bean" && s.Share >= 0.3 && len(d.chocolate) > 0 {
		out = append(out, d.chocolateAlarm(s))
	}
	return out
}

func listDays(days []calendar.Date) string {
	var words []string
	for _, d := range days {
		words = append(words, d.Format("2 January"))
	}
	return strings.Join(words, ", ")
}

func (d *diseases) blightAlarm(s *Standing) Alarm {
	a := Alarm{
		Rule:    "Hutton criteria: two days running, each with a minimum of 10 °C or more and six hours or more at 90 % humidity",
		Numbers: "met on " + listDays(d.blight), Source: "AHDB 2017, grade S", Weak: d.weak, Risk: 0.3,
		Do:   "Look under the leaves every other day. Keep water off the leaves, take off and bin leaves with brown, white-edged spots; when it takes hold cut potato tops to the ground and leave the tubers three weeks.",
		Says: fmt.Sprintf("Blight weather on %s: %s is at risk.", listDays(d.blight), s.Name),
	}
	if d.weak {
		a.Rule = fmt.Sprintf("stand-in on daily data: two days running with a minimum of 10 °C or more and %g mm of rain or more; humidity by the hour is not known here: at 25 Irish stations it caught 8 of 10 true days and was wrong one day in four", rule("blight.standin_rain_mm"))
		a.Source, a.Risk = Rules()["blight.standin_rain_mm"].Basis(), 0.15
	}
	if strings.HasPrefix(s.Crop.Key, "potato_first") || strings.HasPrefix(s.Crop.Key, "potato_second") {
		a.Do += " Earlies can be lifted before it matters."
	}
	a.Cautions = []string{"Which kinds resist changes with the strains of blight: ask locally. Sprays only by label and local law."}
	return s.alarm(LateBlight, slices.Max(d.blight), a)
}

func (d *diseases) mildewAlarm(s *Standing) Alarm {
	last := slices.Max(d.mildew)
	return s.alarm(Mildew, last, Alarm{
		Rule:    "a day not above 24 °C, a night of 4 to 24 °C, no rain after one o'clock, 95 % humidity from two until dawn: spores are shed",
		Numbers: "met in the nights to " + listDays(d.mildew), Source: "Hildebrand & Sutton 1982, grade S", Risk: 0.1,
		Do: "Hoe so that air gets through, water only the ground and only in the morning, take out grey leaves.",
		Says: fmt.Sprintf("Nights fit for onion downy mildew: spots would show on %s about %s to %s.", s.Name,
			last.Add(int(rule("mildew.latent_low_d"))).Format("2 January"), last.Add(int(rule("mildew.latent_high_d"))).Format("2 January")),
	})
}

func (d *diseases) chocolateAlarm(s *Standing) Alarm {
	a := Alarm{
		Rule:    "12 hours or more at 15 to 22 °C and 90 % humidity (no published hourly rule was found; from memory)",
		Numbers: "met on " + listDays(d.chocolate), Source: "from memory, grade M", Weak: d.weakChoc, Risk: 0.1,
		Do:   "Thin the row of weeds, pick what is fit; nothing else helps now. Space wider next year.",
		Says: fmt.Sprintf("Weather for chocolate spot on %s: %s.", listDays(d.chocolate), s.Name),
	}
	return s.alarm(Chocolate, slices.Max(d.chocolate), a)
}
