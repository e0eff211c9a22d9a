package normals

import (
	"math"

	"haulm/internal/sun"
	"haulm/internal/weather"
)

// sunshine fits the clearness of dry and wet days.
func (f *fitter) sunshine() {
	clear := func(i int) float64 {
		if f.rec.SunMJ == nil {
			return math.NaN()
		}
		return f.rec.SunMJ[i] / sun.ExtraterrestrialMJ(f.rec.Site.LatDeg, f.place[i]+1)
	}
	u := weather.MissingDays(f.rec.Days())
	for m := range f.n.Months {
		month := &f.n.Months[m]
		month.ClearDry, month.ClearDrySD, _ = f.mean(m, clear, f.isDry)
		month.ClearWet, month.ClearWetSD, _ = f.mean(m, clear, f.isWet)
		for i := range u {
			switch {
			case f.month[i] != m:
			case f.isDry(i):
				u[i] = (clear(i) - month.ClearDry) / month.ClearDrySD
			case f.isWet(i):
				u[i] = (clear(i) - month.ClearWet) / month.ClearWetSD
			}
		}
		r1, r2, r12 := f.correlation(m, u, f.zMin, 0), f.correlation(m, u, f.zMax, 0), month.TminTmax
		month.ClearOnTmin = (r1 - r2*r12) / (1 - r12*r12)
		month.ClearOnTmax = (r2 - r1*r12) / (1 - r12*r12)
	}
}

// wind fits mean, spread and persistence.
func (f *fitter) wind() {
	speed := func(i int) float64 {
		if f.rec.WindMS == nil {
			return math.NaN()
		}
		return f.rec.WindMS[i]
	}
	z := weather.MissingDays(f.rec.Days())
	for m := range f.n.Months {
		month := &f.n.Months[m]
		month.WindMS, month.WindSD, _ = f.mean(m, speed, always)
		for i := range z {
			if f.month[i] == m {
				z[i] = (speed(i) - month.WindMS) / month.WindSD
			}
		}
	}
	for m := range f.n.Months {
		f.n.Months[m].WindLag1 = f.correlation(m, z, z, 1)
	}
}
