package soil

import (
	"math"

	"haulm/internal/weather"
)

// seedbedShare is the share of the gap between the seedbed and what warms or
// cools it that is closed in a day. It falls with depth as in the model of
// Kätterer & Andrén 2009 (Acta Agriculturae Scandinavica B 59:77; coefficient
// seen in L. Menichetti's published code of it), whose own share is too slow
// under Dublin's bare plot: at 10 cm it is what the thermometer of Dublin Airport
// shows in 1977 to 2000 (see BareSoilOffsetC).
func seedbedShare(depthCM float64) float64 {
	const fadePerCM, at10CM = 0.017, 0.40
	return at10CM * math.Exp(-fadePerCM*(depthCM-10))
}

// What the sun leaves in bare, moist ground above what the ground radiates, MJ/m2
// a day, is shared between evaporation and warming as over any wet surface: the
// warming's part is γ/(Δ+γ), less in warm air than in cold (equilibrium
// evaporation, Slatyer & McIlroy 1961; from memory). The degrees that a MJ so
// left is worth, and the heat radiated away, were fitted with seedbedShare to the
// daily 10 cm thermometer of Dublin Airport (Met Éireann, CC BY 4.0) over 1977 to
// 2000; 2001 to 2025 judge them (TestSeedbed_DublinAirport).
// The worth of a MJ is that of a resistance of 67 s/m between ground and air,
// which is what smooth bare ground has in a wind of 4 m/s. They were not fitted
// to any crop.
const (
	darkSoilAlbedo   = 0.13 // DSSAT's usual soil
	radiatedMJ       = 5.4
	warmingCPerMJ    = 0.65
	seaLevelPsychKPa = 0.067 // γ: mountains have less of it, and thinner air to carry the heat off
)

// The ends between which a day's offset is held: growers' stations know no
// colder a month than -1 (from memory); the upper end only stops a faulty reading.
const leastOffsetC, mostOffsetC = -1.0, 6.0

// BareSoilOffsetC is how much warmer than air of a daily mean temperature a bare,
// moist seedbed is kept by a day's global radiation, °C: in a maritime climate
// +2 to +3 in May to July, about nought at 6 MJ, -1 at midwinter. NaN radiation
// gives 0.
func BareSoilOffsetC(meanAirC, solarMJ float64) float64 {
	if math.IsNaN(solarMJ) {
		return 0
	}
	warming := seaLevelPsychKPa / (SaturationSlopeKPa(meanAirC) + seaLevelPsychKPa)
	offset := warmingCPerMJ * warming * ((1-darkSoilAlbedo)*solarMJ - radiatedMJ)
	return math.Max(leastOffsetC, math.Min(mostOffsetC, offset))
}

// frozenShare is how much of a frost gets through freezing ground and snow
// (Kätterer & Andrén 2009).
const frozenShare = 0.20

// seedbedTarget is the temperature that a day draws bare ground towards.
func seedbedTarget(meanAirC, solarMJ float64) float64 {
	target := meanAirC + BareSoilOffsetC(meanAirC, solarMJ)
	if target < 0 {
		return frozenShare * target
	}
	return target
}

// startDays is the run-in whose mean is the first day's temperature.
const startDays = 11

// SowingDepth is the daily mean temperature of a bare, moist seedbed at a depth
// in cm (0 to 15), °C, from daily mean air temperature and global radiation
// (MJ/m2), one entry a day each; true to about ±2 °C. A day without air
// temperature keeps the soil as it was; before the first known day it is NaN.
func SowingDepth(meanAirC, solarMJ []float64, depthCM float64) []float64 {
	out := make([]float64, len(meanAirC))
	soil, share := seedbedStart(meanAirC, solarMJ), seedbedShare(depthCM)
	begun := false
	for i, air := range meanAirC {
		if known(air) {
			begun = true
			soil += (seedbedTarget(air, solarMJ[i]) - soil) * share
		}
		out[i] = soil
		if !begun {
			out[i] = math.NaN()
		}
	}
	return out
}

func seedbedStart(meanAirC, solarMJ []float64) float64 {
	sum, n := 0.0, 0
	for i := 0; i < len(meanAirC) && n < startDays; i++ {
		if known(meanAirC[i]) {
			sum += seedbedTarget(meanAirC[i], solarMJ[i])
			n++
		}
	}
	return sum / float64(n) // NaN where nothing is known
}

// Temperature is SowingDepth for every day of a record, with radiation as
// measured or else by the range of temperature.
func Temperature(r *weather.Record, depthCM float64) []float64 {
	mean := make([]float64, r.Days())
	for i := range mean {
		mean[i] = (r.TminC[i] + r.TmaxC[i]) / 2
	}
	return SowingDepth(mean, SolarMJ(r), depthCM)
}
