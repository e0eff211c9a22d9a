package climatology

import "math"

// simple are the quantities that plain least squares give from the daily
// records, each with its predictors.
var simple = []struct {
	of   quantity
	by   string
	from func(f *fitted, m int) float64 // NaN where the record cannot tell
}{
	{tminLag1, "one range phase rise phase.range sea_west", func(f *fitted, m int) float64 { return f.n.Months[m].TminLag1 }},
	{tmaxLag1, "one range phase rise phase.range sea_west", func(f *fitted, m int) float64 { return f.n.Months[m].TmaxLag1 }},
	{together, "one range phase rise frosty sunny latitude", func(f *fitted, m int) float64 { return f.n.Months[m].TminTmax }},
	{tminWet, "one phase range rise frosty warm latitude", func(f *fitted, m int) float64 { return f.rained(f.n.Months[m].TminWetC) }},
	{tmaxWet, "one phase range rise frosty sunny latitude", func(f *fitted, m int) float64 { return f.rained(f.n.Months[m].TmaxWetC) }},
	{slowTmin, "one", func(f *fitted, m int) float64 { return f.n.SlowTminVar }},
	{slowTmax, "one", func(f *fitted, m int) float64 { return f.n.SlowTmaxVar }},
	{tmaxSpread, "one range tiny_range phase phase.range phase2 turn rise humid wet sunny latitude gradient colder warmer sea_west sea_east sea_west.phase sea_east.phase rise.phase", func(f *fitted, m int) float64 { return math.Log(f.spread[1][m]) }},
	{wetRatio, "one wet phase", (*fitted).wetRatio},
	{wetPersists, "one wet warm", func(f *fitted, m int) float64 {
		return f.rained(f.n.Months[m].WetAfterWet - f.n.Months[m].WetAfterDry)
	}},
	{wetShape, "one wet warm", func(f *fitted, m int) float64 { return f.rained(f.n.Months[m].WetShape) }},
	{clearWet, "one sunny", func(f *fitted, m int) float64 { return f.shone(f.n.Months[m].ClearWet / f.n.Months[m].ClearDry) }},
	{clearDrySD, "one sunny", func(f *fitted, m int) float64 { return f.shone(f.n.Months[m].ClearDrySD) }},
	{clearWetSD, "one sunny", func(f *fitted, m int) float64 { return f.shone(f.n.Months[m].ClearWetSD) }},
	{clearOnTmin, "one phase", func(f *fitted, m int) float64 { return f.shone(f.n.Months[m].ClearOnTmin) }},
	{clearOnTmax, "one phase", func(f *fitted, m int) float64 { return f.shone(f.n.Months[m].ClearOnTmax) }},
	{windSpread, "one phase", func(f *fitted, m int) float64 { return f.n.Months[m].WindSD / f.n.Months[m].WindMS }},
	{windLag1, "one phase", func(f *fitted, m int) float64 { return f.blew(f.n.Months[m].WindLag1) }},
	{humidWet, "one sunny", func(f *fitted, m int) float64 { return f.damp(f.n.Months[m].HumidityWetPC) }},
	{humidSpread, "one sunny phase", func(f *fitted, m int) float64 { return f.damp(f.n.Months[m].HumiditySD) }},
	{humidOnTmax, "one phase", func(f *fitted, m int) float64 { return f.damp(f.n.Months[m].HumidityOnTmax) }},
	{humidLag1, "one phase", func(f *fitted, m int) float64 { return f.damp(f.n.Months[m].HumidityLag1) }},
}

func (f *fitted) rained(x float64) float64 { return when(f.hasRain, x) }
func (f *fitted) shone(x float64) float64 {
	return when(f.hasRain && f.rec.SunMJ != nil && f.name != "Swift Current", x) // up to 160 MJ a day there
}
func (f *fitted) blew(x float64) float64 { return when(!math.IsNaN(f.n.Months[0].WindMS), x) }
func (f *fitted) damp(x float64) float64 { return when(f.n.Months[0].HumidityPC > 0, x) }

func when(known bool, x float64) float64 {
	if !known {
		return math.NaN()
	}
	return x
}

// wetRatio is measured wet days for one of the climatology.
func (f *fitted) wetRatio(m int) float64 {
	month := f.n.Months[m]
	share := month.WetShare()
	if days := f.place.year[wetDays][m]; days > 4 {
		return f.rained(share * monthDays[m] / days)
	}
	return math.NaN()
}
