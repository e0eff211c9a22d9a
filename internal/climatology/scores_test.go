package climatology

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// score is how a group of stations comes out.
type score struct {
	n                    int
	median, p90, bias    float64 // of the errors of the 50 % date, days: absolute, absolute, signed mean
	middle               float64 // signed median
	spread               float64 // median of got over wanted 50 % to 90 % spread
	spreadOff, spreadBad float64 // median of |ratio-1|, share beyond 25 %
}

// half is spring or autumn.
type half struct {
	name     string
	mid, far func(f freezes) float64
}

var halves = []half{
	{"spring", func(f freezes) float64 { return f.last50 }, func(f freezes) float64 { return f.last90 }},
	{"autumn", func(f freezes) float64 { return f.first50 }, func(f freezes) float64 { return f.first90 }},
}

func scoreOf(h half, stations []freezeStation, got []freezes, in func(s freezeStation) bool) (s score) {
	var off, size, ratio, ratioOff []float64
	var sumGot, sumWant float64
	for i, station := range stations {
		if !in(station) {
			continue
		}
		x := h.mid(got[i]) - h.mid(station.want)
		off, size = append(off, x), append(size, math.Abs(x))
		s.bias += x
		g, w := h.far(got[i])-h.mid(got[i]), h.far(station.want)-h.mid(station.want)
		if w == 0 {
			continue
		}
		sumGot, sumWant = sumGot+g, sumWant+w
		ratio, ratioOff = append(ratio, g/w), append(ratioOff, math.Abs(g/w-1))
		if math.Abs(g/w-1) > 0.25 {
			s.spreadBad++
		}
	}
	s.n = len(off)
	if s.n == 0 {
		return s
	}
	for _, x := range [][]float64{off, size, ratio, ratioOff} {
		slices.Sort(x)
	}
	s.median, s.p90, s.middle = quantile(size, 0.5), quantile(size, 0.9), quantile(off, 0.5)
	s.bias /= float64(s.n)
	s.spread, s.spreadOff, s.spreadBad = quantile(ratio, 0.5), quantile(ratioOff, 0.5), s.spreadBad/float64(len(ratio))
	return s
}

// group is a kind of station.
type group struct {
	name string
	in   func(s freezeStation) bool
}

// mildC is the mean minimum of the coldest month above which winters are mild,
// by the climatology. The measured dates must not say it: stations chosen for
// early dates are those whose 30 winters happened to be mild, and any estimate
// is then late for them (by 6 days, where those chosen here are late by 3).
const mildC = 2.0

func (p *place) mild() bool { return slices.Min(p.year[tmin][:]) > mildC }

func groups(placeOf func(s freezeStation) *place) []group {
	g := []group{{"all", func(freezeStation) bool { return true }}}
	for _, b := range []struct{ low, high float64 }{{-100, 300}, {300, 1000}, {1000, 1800}, {1800, 9000}} {
		g = append(g, group{fmt.Sprintf("%.0f to %.0f m", max(0, b.low), b.high), func(s freezeStation) bool { return s.site.ElevM >= b.low && s.site.ElevM < b.high }})
	}
	g = append(g,
		group{"west of 104° W", func(s freezeStation) bool { return s.site.LonDeg < -104 && s.site.LatDeg < 50 }},
		group{"east of 104° W", func(s freezeStation) bool { return s.site.LonDeg >= -104 }},
		group{"Alaska", func(s freezeStation) bool { return s.site.LatDeg >= 50 }})
	if placeOf == nil {
		return g
	}
	return append(g,
		group{"coast", func(s freezeStation) bool { return placeOf(s).land.coast >= 0.1 }},
		group{"inland", func(s freezeStation) bool { return placeOf(s).land.coast < 0.1 }},
		group{"mild winters", func(s freezeStation) bool { return placeOf(s).mild() }},
		group{"winters with frost", func(s freezeStation) bool { return !placeOf(s).mild() }})
}

func tableOf(stations []freezeStation, got []freezes, placeOf func(s freezeStation) *place) string {
	var b strings.Builder
	for _, g := range groups(placeOf) {
		for _, h := range halves {
			s := scoreOf(h, stations, got, g.in)
			fmt.Fprintf(&b, "%-18s %s n %4d: median %4.1f, 90 %% %4.1f, bias %+5.1f (median %+5.1f); spread ×%.2f, off %.2f, beyond 25 %%: %.0f %%\n",
				g.name, h.name, s.n, s.median, s.p90, s.bias, s.middle, s.spread, s.spreadOff, 100*s.spreadBad)
		}
	}
	return b.String()
}
