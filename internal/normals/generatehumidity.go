package normals

import "math"

// humidityCurves are what the generator needs for relative humidity.
type humidityCurves struct{ mean, wetter, spread, lag1, onTmax yearCurve }

func newHumidityCurves(n Year) humidityCurves {
	return humidityCurves{
		mean:   n.curve(func(m Month) float64 { return m.HumidityPC }),
		wetter: n.curve(func(m Month) float64 { return m.HumidityWetPC }),
		spread: n.curve(func(m Month) float64 { return m.HumiditySD }),
		lag1:   n.curve(func(m Month) float64 { return m.HumidityLag1 }),
		onTmax: n.curve(func(m Month) float64 { return m.HumidityOnTmax }),
	}
}

// driest is the least daily mean that is given, %; deserts come near it (from
// memory).
const driest = 5

// humidityPC draws a day's mean relative humidity: damper on wet days, drier
// on days hot for the season.
func (g *generator) humidityPC(d int, zMax float64) float64 {
	c := &g.damp
	a := min(max(c.lag1[d], 0), 0.95)
	g.dampness = a*g.dampness + math.Sqrt(1-a*a)*g.random.NormFloat64()
	b := min(max(c.onTmax[d], -0.95), 0.95)
	x := c.mean[d] - g.wetShare[d]*c.wetter[d] + c.spread[d]*(b*zMax+math.Sqrt(1-b*b)*g.dampness)
	if g.wet {
		x += c.wetter[d]
	}
	return math.Round(min(100, max(driest, x)))
}
