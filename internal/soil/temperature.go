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
// seen in L. Menichetti's published code of that model.
func Topsoil(depthCM float64) Recurrence {
	share := 0.24 * math.Exp(-0.017*depthCM)
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

// The bare-soil offset is a straight line in the day's radiation through two
// points. Its heights are the middles of the ranges that growers' weather
// stations in Britain and the American Midwest are known for (from memory):
// bare soil at 10 cm is 1 to 3 °C warmer than the air from May to August and 0
// to 1 °C colder from November to January. Its places are the mean radiation of
// those months at De Bilt (KNMI record, 16.9 and 2.3 MJ) and at Chicago (NREL
// TMY3, 21.2 and 6.1 MJ), halfway between the two. It is not fitted to any crop.
const (
	sunnyMJ, sunnyOffsetC     = 19.1, 2.0
	dullMJ, dullOffsetC       = 4.2, -0.5
	leastOffsetC, mostOffsetC = -1.0, 3.0 // the ends of the known ranges
)

// BareSoilOffsetC is how much warmer than the air a bare, moist seedbed is kept
// by a day's global radiation, °C: about +2 in May to July, nought at 7 MJ, -0.5
// in midwinter, never beyond -1 or +3. NaN radiation gives 0.
func BareSoilOffsetC(solarMJ float64) float64 {
	if math.IsNaN(solarMJ) {
		return 0
	}
	slope := (sunnyOffsetC - dullOffsetC) / (sunnyMJ - dullMJ)
	offset := dullOffsetC + slope*(solarMJ-dullMJ)
	return math.Max(leastOffsetC, math.Min(mostOffsetC, offset))
}

// frozenShare is how much of a frost gets through freezing ground and snow
// (Kätterer & Andrén 2009, as Topsoil).
const frozenShare = 0.20

// seedbedTarget is the temperature that a day draws bare ground towards.
func seedbedTarget(meanAirC, solarMJ float64) float64 {
	target := meanAirC + BareSoilOffsetC(solarMJ)
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
	soil, step := seedbedStart(meanAirC, solarMJ), Topsoil(depthCM)
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
