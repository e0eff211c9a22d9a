package season

import "math"

// The published rules of disease, by the hour or by the day, apart from any
// garden. Hours are those of weather.Hourly.

// HuttonDay is a day as the Hutton criteria see it.
type HuttonDay struct {
	TminC float64
	Humid int // hours at or above 90 %
}

// Hutton lists the days on which the Hutton criteria for late blight are met:
// the second of two days running, each with a minimum of at least 10 °C and at
// least six hours at 90 % humidity or more. Agriculture and Horticulture
// Development Board, 2017. Unknown days are NaN.
func Hutton(days []HuttonDay) []int {
	return twoRunning(days, int(rule("blight.hutton_hours")))
}

// Smith is the older rule of the same form with eleven hours (Smith 1956; the
// hours from memory).
func Smith(days []HuttonDay) []int { return twoRunning(days, smithHours) }

const smithHours = 11

func twoRunning(days []HuttonDay, hours int) []int {
	met := func(d HuttonDay) bool { return d.TminC >= rule("blight.hutton_tmin_c") && d.Humid >= hours }
	var out []int
	for i := 1; i < len(days); i++ {
		if met(days[i-1]) && met(days[i]) {
			out = append(out, i)
		}
	}
	return out
}

// wallinBand is one row of Wallin's table: the hours from which the severity
// is 1, 2, 3 and 4 at a mean temperature of the wet spell.
type wallinBand struct {
	fromC, untilC float64
	hours         [4]int
}

// wallin is the table as printed by Michigan State University in bands of 45
// to 53, 54 to 59 and 60 to 80 °F; the 25 hours of the coolest from memory.
var wallin = []wallinBand{
	{7.2, 11.65, [4]int{16, 19, 22, 25}},
	{11.65, 15.05, [4]int{13, 16, 19, 22}},
	{15.05, 26.65, [4]int{10, 13, 16, 19}},
}

// WallinSeverity is the severity value, 0 to 4, of a spell of so many hours at
// 90 % humidity or more with a mean temperature. Wallin 1962, as in BLITECAST
// (Krause, Massie & Hyre 1975).
func WallinSeverity(hours int, meanC float64) int {
	for _, band := range wallin {
		if meanC < band.fromC || meanC >= band.untilC {
			continue
		}
		value := 0
		for i, from := range band.hours {
			if hours >= from {
				value = i + 1
			}
		}
		return value
	}
	return 0
}

// HuttonDays reads hours of temperature and humidity as days from midnight to
// midnight. A day with fewer than 21 known hours is not known: its minimum is
// NaN, and meets nothing.
func HuttonDays(tempC, humidityPC []float64) []HuttonDay {
	const hoursADay, fewest = 24, 21
	out := make([]HuttonDay, len(tempC)/hoursADay)
	for d := range out {
		low, known := math.Inf(1), 0
		for h := d * hoursADay; h < (d+1)*hoursADay; h++ {
			if math.IsNaN(tempC[h]) || math.IsNaN(humidityPC[h]) {
				continue
			}
			known++
			low = math.Min(low, tempC[h])
			if humidityPC[h] >= rule("blight.hutton_rh_pc") {
				out[d].Humid++
			}
		}
		if out[d].TminC = low; known < fewest {
			out[d].TminC = math.NaN()
		}
	}
	return out
}

// MildewNight is what the rule for onion downy mildew looks at.
type MildewNight struct {
	DayMeanC  float64   // 08 to 20 h of the day before
	NightC    float64   // mean from 20 to 06 h
	HumidPC   []float64 // hours from 02 to 06
	RainMM    float64   // from 01 to 06 h
	KnownRain bool
}

// MildewSpores says whether onion downy mildew can have shed spores in a
// night: a day before not too hot, a mild night, no rain after one o'clock and
// near saturation from two until dawn. Hildebrand & Sutton 1982, Jesperson &
// Sutton 1987 (DOWNCAST).
func MildewSpores(n MildewNight) bool {
	if !(n.DayMeanC <= rule("mildew.day_max_c")) || !(n.NightC >= rule("mildew.night_min_c")) || !(n.NightC <= rule("mildew.night_max_c")) {
		return false
	}
	if !n.KnownRain || n.RainMM > 0 || len(n.HumidPC) == 0 {
		return false
	}
	for _, rh := range n.HumidPC {
		if !(rh >= rule("mildew.rh_pc")) {
			return false
		}
	}
	return true
}

// BlightStandIn lists the days on which blight weather is likely by daily data
// alone: the second of two days running with a minimum of at least 10 °C and
// rain on both. It is no published rule; data/rules.csv says how far it may be
// trusted.
func BlightStandIn(tminC, rainMM []float64) []int {
	met := func(i int) bool {
		return tminC[i] >= rule("blight.hutton_tmin_c") && rainMM[i] >= rule("blight.standin_rain_mm")
	}
	var out []int
	for i := 1; i < len(tminC); i++ {
		if met(i-1) && met(i) {
			out = append(out, i)
		}
	}
	return out
}
