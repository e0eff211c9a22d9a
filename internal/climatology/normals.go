package climatology

import (
	"math"

	"haulm/internal/normals"
	"haulm/internal/soil"
	"haulm/internal/weather"
)

// monthDays are the mean lengths of the months.
var monthDays = year{31, 28.25, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}

// period is that of the means of temperature.
const period = "1981–2010"

// Normals are the monthly figures of a site, ready for normals.Generate, and
// what they rest on. A site far from land gets those of the nearest land.
func (w *World) Normals(site weather.Site) (normals.Year, Basis) {
	p := w.placeAt(site)
	n := normals.Year{
		Name: "First estimate", Source: sourceText, Site: site, SlowDays: normals.SlowAnomalyDays,
		SlowTminVar: w.daily.overYear(slowTmin, p), SlowTmaxVar: w.daily.overYear(slowTmax, p),
	}
	for m := range n.Months {
		month := &n.Months[m]
		w.rain(p, m, month)
		w.temperature(p, m, month)
		w.sunshine(p, m, month)
		w.airAndWind(p, m, month)
	}
	p.basis.Period = period
	p.basis.ShiftC = w.daily.overYear(tminShift, p)
	p.basis.Regional = p.region != region{}
	return n, p.basis
}

const sourceText = "estimated from CRU CL 2.0 monthly means (New, Lister, Hulme & Makin 2002, Climatic Research Unit, University of East Anglia), as fitted coefficients"

// rain fits the two-state chain to the share of wet days and its persistence.
func (w *World) rain(p *place, m int, month *normals.Month) {
	share := p.year[wetDays][m] / monthDays[m] * w.daily.at(wetRatio, p, m)
	share = min(0.97, max(0.002, share))
	persists := w.daily.at(wetPersists, p, m)
	month.WetAfterDry = share * (1 - persists)
	month.WetAfterWet = month.WetAfterDry + persists
	root := max(0, p.year[rainRoot][m])
	month.WetMeanMM = min(60, max(normals.WetMM+0.3, root*root/(share*monthDays[m])))
	month.WetShape = w.daily.at(wetShape, p, m)
}

// temperature puts means and spreads together. The regressions give the spread
// of all days; a part of it is the difference of wet and dry ones.
func (w *World) temperature(p *place, m int, month *normals.Month) {
	month.TminC = p.year[tmin][m] + w.daily.at(tminShift, p, m) + p.regionShift(m)
	month.TmaxC = max(month.TminC+leastRiseC, p.year[tmax][m]+w.daily.at(tmaxShift, p, m))
	month.TminWetC, month.TmaxWetC = w.daily.at(tminWet, p, m), w.daily.at(tmaxWet, p, m)
	share := month.WetShare()
	rest := func(spread, wetter float64) float64 {
		ofRain := share * (1 - share) * wetter * wetter
		return math.Sqrt(max(0.5*spread*spread, spread*spread-ofRain))
	}
	month.TminSDC = rest(math.Exp(w.daily.at(tminSpread, p, m)+p.regionSpread(m)), month.TminWetC)
	month.TmaxSDC = rest(math.Exp(w.daily.at(tmaxSpread, p, m)), month.TmaxWetC)
	month.TminLag1, month.TmaxLag1 = w.daily.at(tminLag1, p, m), w.daily.at(tmaxLag1, p, m)
	month.TminTmax = w.daily.at(together, p, m)
}

// leastRiseC keeps a polar night's mean maximum above its minimum; the least
// mean daily range of the climatology is 1.6 °C.
const leastRiseC = 1.5

// sunshine turns the share of possible sunshine into the share of the
// radiation above the air by Ångström's formula, and shares that out to dry and
// wet days.
func (w *World) sunshine(p *place, m int, month *normals.Month) {
	const wholeDay, aboveAir = 100, 1 // sunshine in per cent, radiation as a share
	clear := soil.SolarFromSunshineMJ(min(wholeDay, max(0, p.year[sunPercent][m])), wholeDay, aboveAir)
	share := month.WetShare()
	ratio := w.daily.at(clearWet, p, m)
	month.ClearDry = min(0.78, clear/(1-share*(1-ratio)))
	month.ClearWet = month.ClearDry * ratio
	month.ClearDrySD, month.ClearWetSD = w.daily.at(clearDrySD, p, m), w.daily.at(clearWetSD, p, m)
	month.ClearOnTmin, month.ClearOnTmax = w.daily.at(clearOnTmin, p, m), w.daily.at(clearOnTmax, p, m)
}

// at2M brings wind from 10 m to 2 m.
var at2M = weather.WindAt2M(1, weather.SynopticWindM)

func (w *World) airAndWind(p *place, m int, month *normals.Month) {
	month.WindMS = max(0.3, p.year[wind10][m]*at2M)
	month.WindSD = month.WindMS * w.daily.at(windSpread, p, m)
	month.WindLag1 = w.daily.at(windLag1, p, m)
	month.HumidityPC = min(98, max(10, p.year[humidity][m]))
	month.HumidityWetPC = w.daily.at(humidWet, p, m)
	month.HumiditySD = w.daily.at(humidSpread, p, m)
	month.HumidityOnTmax = w.daily.at(humidOnTmax, p, m)
	month.HumidityLag1 = w.daily.at(humidLag1, p, m)
}
