package normals

import (
	"math"

	"haulm/internal/weather"
)

// humidity fits mean, the difference of wet and dry days, and the rest's
// spread, persistence and hang on the maximum. Without a measured humidity, or
// with a month of it missing, its figures stay 0.
func (f *fitter) humidity() {
	if f.rec.HumidityPC == nil {
		return
	}
	value := func(i int) float64 { return f.rec.HumidityPC[i] }
	rest := weather.MissingDays(f.rec.Days())
	n := f.n
	for m := range n.Months {
		month := &n.Months[m]
		month.HumidityPC, _, _ = f.mean(m, value, always)
		dry, _, _ := f.mean(m, value, f.isDry)
		wet, _, wetDays := f.mean(m, value, f.isWet)
		if wetDays >= 20 {
			month.HumidityWetPC = wet - dry
		}
		f.humidityRest(m, rest, month)
	}
	if n.knowsHumidity() {
		f.n = n
	}
}

func (f *fitter) humidityRest(m int, rest []float64, month *Month) {
	for i, of := range f.month {
		if of != m || f.wet[i] < 0 {
			continue
		}
		rest[i] = f.rec.HumidityPC[i] - month.HumidityPC - month.HumidityWetPC*(float64(f.wet[i])-month.WetShare())
	}
	_, month.HumiditySD, _ = f.mean(m, func(i int) float64 { return rest[i] }, always)
	month.HumidityOnTmax = f.correlation(m, rest, f.zMax, 0)
	own := make([]float64, len(rest)) // what does not hang on the maximum
	for i := range rest {
		own[i] = rest[i]/math.Max(0.1, month.HumiditySD) - month.HumidityOnTmax*f.zMax[i]
	}
	month.HumidityLag1 = f.correlation(m, own, own, 1)
}
