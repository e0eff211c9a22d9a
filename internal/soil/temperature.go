package soil

import (
	"math"

	"haulm/internal/weather"
)

// TemperatureErrorC is how far a day's soil temperature from this package may
// be from a thermometer's: ±2 °C, the spread that the published daily models
// report (1.3 to 2.9 °C by site, Zheng, Hunt & Running 1993; from memory).
const TemperatureErrorC = 2.0

// Recurrence draws the soil each day some of the way to what warms or cools it:
// T += (target - T)·share·exp(-K·LAI), after Zheng, Hunt & Running 1993, Climate
// Research 2:183.
type Recurrence struct {
	RiseShare float64 // of the gap closed in a day when the target is warmer
	FallShare float64 // … and when it is colder
}

// canopyK is how fast a leaf canopy shuts the soil off (K of Zheng et al.;
// from memory).
const canopyK = 0.5

// Zheng10CM is the recurrence at 10 cm as its authors are remembered to have
// fitted it to daily air temperature in North America (from memory). It falls
// faster than it rises, so in changeable weather it runs a degree and more
// below the air: SowingDepth does not use it.
func Zheng10CM() Recurrence { return Recurrence{RiseShare: 0.1, FallShare: 0.25} }

// Topsoil is the recurrence of Kätterer & Andrén 2009 (Acta Agriculturae
// Scandinavica B 59:77) for arable soils of cold temperate regions, in which
// warming and cooling go alike and the share falls with depth; coefficients
// seen in L. Menichetti's published code of that model. Under Dublin's bare plot
// it is too slow: SowingDepth uses Seedbed.
func Topsoil(depthCM float64) Recurrence {
	share := 0.24 * math.Exp(-depthFade*depthCM)
	return Recurrence{RiseShare: share, FallShare: share}
}

// depthFade is how fast the share falls with depth, 1/cm (Kätterer & Andrén).
const depthFade = 0.017

// Seedbed is Topsoil's form with the share that the 10 cm thermometer of Dublin
// Airport shows in 1977 to 2000 (see BareSoilOffsetC): 0.40 at its depth.
func Seedbed(depthCM float64) Recurrence {
	share := 0.40 * math.Exp(-depthFade*(depthCM-10))
	return Recurrence{RiseShare: share, FallShare: share}
}

// Step is the soil temperature a day on, °C, under a leaf area index (0 = bare).
func (r Recurrence) Step(soilC, targetC, leafArea float64) float64 {
	share := r.FallShare
	if targetC > soilC {
		share = r.RiseShare
	}
	return soilC + (targetC-soilC)*share*math.Exp(-canopyK*leafArea)
}

// What the sun leaves in bare, moist ground above what the ground radiates, MJ/m2
// a day, is shared between evaporation and warming as over any wet surface: the
// warming's part is γ/(Δ+γ), less in warm air than in cold (equilibrium
// evaporation, Slatyer & McIlroy 1961; from memory). The degrees that a MJ so
// left is worth, and the heat radiated away, were fitted with the share of
// Seedbed to the daily 10 cm thermometer of Dublin Airport (Met Éireann, CC BY
// 4.0) over 1977 to 2000; 2001 to 2025 judge them (TestSeedbed_DublinAirport).
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
// (Kätterer & Andrén 2009, as Topsoil).
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
// (MJ/m2), one entry a day each. True to TemperatureErrorC. A day without air
// temperature keeps the soil as it was; before the first known day it is NaN.
func SowingDepth(meanAirC, solarMJ []float64, depthCM float64) []float64 {
	out := make([]float64, len(meanAirC))
	soil, step := seedbedStart(meanAirC, solarMJ), Seedbed(depthCM)
	begun := false
	for i, air := range meanAirC {
		if known(air) {
			begun = true
			soil = step.bareStep(soil, seedbedTarget(air, solarMJ[i]))
		}
		out[i] = soil
		if !begun {
			out[i] = math.NaN()
		}
	}
	return out
}

// bareStep is Step without a canopy, for the loop over a long record.
func (r Recurrence) bareStep(soilC, targetC float64) float64 {
	if targetC > soilC {
		return soilC + (targetC-soilC)*r.RiseShare
	}
	return soilC + (targetC-soilC)*r.FallShare
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
