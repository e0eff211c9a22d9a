package soil

import (
	"math"

	"haulm/internal/sun"
)

// Other published models of the ground, to hold ours against.

// temperatureErrorC is how far two daily models may lie apart: the spread that
// the published ones report against thermometers (1.3 to 2.9 °C by site, Zheng,
// Hunt & Running 1993; from memory).
const temperatureErrorC = 2.0

// recurrence draws the soil each day some of the way to what warms or cools it,
// in the form of Zheng, Hunt & Running 1993, Climate Research 2:183, under bare
// ground.
type recurrence struct {
	riseShare float64 // of the gap closed in a day when the target is warmer
	fallShare float64 // … and when it is colder
}

func (r recurrence) step(soilC, targetC float64) float64 {
	if targetC > soilC {
		return soilC + (targetC-soilC)*r.riseShare
	}
	return soilC + (targetC-soilC)*r.fallShare
}

// zheng10CM is the recurrence at 10 cm as its authors are remembered to have
// fitted it to daily air temperature in North America (from memory). It falls
// faster than it rises, so in changeable weather it runs a degree and more
// below the air: SowingDepth does not use it.
var zheng10CM = recurrence{riseShare: 0.1, fallShare: 0.25}

// topsoil is that of Kätterer & Andrén 2009 for arable soils of cold temperate
// regions, in which warming and cooling go alike and the share falls with depth.
func topsoil(depthCM float64) recurrence {
	share := 0.24 * math.Exp(-0.017*depthCM)
	return recurrence{riseShare: share, fallShare: share}
}

// referenceOn and penmanMonteithOn are a single day's, as the published examples
// give them; Daily works the sun out once for all years.
func referenceOn(d DayWeather, s Setting) (mm float64, method Method) {
	return referenceET(d, s, sun.ExtraterrestrialMJ(s.LatDeg, d.YearDay), sun.DayLengthH(s.LatDeg, d.YearDay))
}

func penmanMonteithOn(d DayWeather, s Setting) float64 {
	return penmanMonteith(d, s, sun.ExtraterrestrialMJ(s.LatDeg, d.YearDay), sun.DayLengthH(s.LatDeg, d.YearDay))
}
