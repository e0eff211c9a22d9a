package climatology

import (
	"cmp"
	"fmt"
	"hash/fnv"
	"math"
	"slices"
	"strings"
	"testing"
)

// How what the regressions leave is drawn together from the stations around:
// kriging with a mean of 0 (project choices, by the errors at stations left
// out). Errors hang together over some 70 km and, less, over 300; the rest is
// the station's own, and chance: 30 years leave a median unsure by some 3 days.
var (
	shiftKriging  = kriging{near: 0.7, nearKM: 70, wide: 0.2, wideKM: 300} // °C²
	spreadKriging = kriging{near: 0.008, nearKM: 120, wide: 0.008, wideKM: 400}
)

const (
	neighbours   = 28
	farthestKM   = 500.0
	ownDays      = 3.5  // of a station's own, days
	ownC         = 0.15 // and °C
	ownSpread    = 0.2  // of the logarithm of a spread
	usualDays    = 8.0  // errors beyond count less and less
	mostC        = 6.0  // and none for more
	mostSpread   = 0.6
	leastPerDegC = 1.0 // days a date moves for 1 °C
)

// kriging holds the variances that are shared within two distances.
type kriging struct{ near, nearKM, wide, wideKM float64 }

func (k kriging) shared(km float64) float64 {
	return k.near*math.Exp(-km/k.nearKM) + k.wide*math.Exp(-km/k.wideKM)
}

// sample is a station's errors with some shift in, in spring and in autumn, and
// how they move.
type sample struct {
	site    freezeStation
	with    region     // the shift
	days    [2]float64 // got less wanted middle date
	perDegC [2]float64 // how the middle date moves
	perLog  [2]float64 // and how by the logarithm of the spread
	spread  [2]float64 // logarithm of got over wanted spread of dates; NaN where there is none
	doubt   [2]float64 // factor on the variance of its own
}

// sampleOf looks at a station whose minima have the shift in.
func sampleOf(s freezeStation, m minima, p *place, with region) sample {
	got := m.freezes()
	per := m.slopes(p)
	x := sample{site: s, with: with, perDegC: per.perDegC, perLog: per.perLog, doubt: [2]float64{1, 1}}
	for h, half := range halves {
		x.days[h] = half.mid(got) - half.mid(s.want)
		g, w := math.Abs(half.far(got)-half.mid(got)), math.Abs(half.far(s.want)-half.mid(s.want))
		x.spread[h] = math.NaN()
		if g > 2 && w > 2 {
			x.spread[h] = bound(math.Log(g/w), mostSpread)
		}
	}
	return x
}

// surveyor draws the regions' shifts from samples.
type surveyor struct {
	samples []sample
	around  map[[2]int][]int // candidates for a box, nearest first
}

// newSurveyor samples the stations without shifts, then with those that their
// neighbours give them: where it rarely freezes dates do not move in proportion.
func newSurveyor(stations []freezeStation, own []minima, places []*place) *surveyor {
	s := &surveyor{make([]sample, len(stations)), map[[2]int][]int{}}
	inParallel(len(stations), func(i int) { s.samples[i] = sampleOf(stations[i], own[i], places[i], region{}) })
	s.judge()
	fields := s.leftOut()
	inParallel(len(stations), func(i int) {
		p := *places[i]
		p.region = fields[i]
		s.samples[i] = sampleOf(stations[i], own[i].in(&p), places[i], fields[i])
	})
	s.judge()
	return s
}

// leftOut are the shifts that the others give each station.
func (s *surveyor) leftOut() []region {
	fields := make([]region, len(s.samples))
	inParallel(len(s.samples), func(i int) {
		at := s.samples[i].site.site
		fields[i] = s.draw(at.LatDeg, at.LonDeg, s.nearest(at.LatDeg, at.LonDeg), func(j int) bool { return j == i })
	})
	return fields
}

// judge doubts the stations that their neighbours do not bear out.
func (s *surveyor) judge() {
	for i, f := range s.leftOut() {
		for h, left := range s.samples[i].left(f) {
			s.samples[i].doubt[h] = max(1, math.Abs(left)/usualDays)
		}
	}
}

// left are a sample's errors with a shift, to first order.
func (x *sample) left(f region) [2]float64 {
	return [2]float64{
		x.days[0] + x.perDegC[0]*(f.springC-x.with.springC) + x.perLog[0]*(f.springSpread-x.with.springSpread),
		x.days[1] + x.perDegC[1]*(f.autumnC-x.with.autumnC) + x.perLog[1]*(f.autumnSpread-x.with.autumnSpread),
	}
}

// nearest are the samples that may count at a place, nearest first.
func (s *surveyor) nearest(latDeg, lonDeg float64) []int {
	type far struct {
		i  int
		km float64
	}
	var found []far
	for i := range s.samples {
		at := s.samples[i].site.site
		if math.Abs(at.LatDeg-latDeg) > farthestKM/111 {
			continue
		}
		if km := distanceKM(latDeg, lonDeg, at.LatDeg, at.LonDeg); km < farthestKM {
			found = append(found, far{i, km})
		}
	}
	slices.SortFunc(found, func(a, b far) int { return cmp.Compare(a.km, b.km) })
	var out []int
	for _, f := range found[:min(len(found), 2*neighbours)] {
		out = append(out, f.i)
	}
	return out
}

// box draws the shift at the middle of a box.
func (s *surveyor) box(key [2]int, leave func(i int) bool) region {
	lat, lon := (float64(key[0])+0.5)/regionsPerDegree, (float64(key[1])+0.5)/regionsPerDegree
	near, known := s.around[key]
	if !known {
		near = s.nearest(lat, lon)
		s.around[key] = near
	}
	return s.draw(lat, lon, near, leave)
}

// draw draws the shift at a place: first of the spread, then, with that in, of
// the mean.
func (s *surveyor) draw(latDeg, lonDeg float64, near []int, leave func(i int) bool) (f region) {
	var used []int
	for _, i := range near {
		if !leave(i) && len(used) < neighbours {
			used = append(used, i)
		}
	}
	f.springSpread, f.autumnSpread = s.krigeSpread(latDeg, lonDeg, used, 0), s.krigeSpread(latDeg, lonDeg, used, 1)
	f.springC, f.autumnC = s.krigeShift(latDeg, lonDeg, used, 0, f.springSpread), s.krigeShift(latDeg, lonDeg, used, 1, f.autumnSpread)
	return f
}

func (s *surveyor) krigeSpread(latDeg, lonDeg float64, used []int, h int) float64 {
	return s.krige(latDeg, lonDeg, used, spreadKriging, func(x *sample) (float64, float64) {
		with := [2]float64{x.with.springSpread, x.with.autumnSpread}
		return with[h] - x.spread[h], ownSpread * ownSpread * x.doubt[h]
	})
}

// krigeShift is the shift of the mean, given that of the spread.
func (s *surveyor) krigeShift(latDeg, lonDeg float64, used []int, h int, spread float64) float64 {
	return s.krige(latDeg, lonDeg, used, shiftKriging, func(x *sample) (float64, float64) {
		per := max(leastPerDegC, x.perDegC[h])
		with, wide := x.with.autumnC, x.with.autumnSpread
		if h == 0 {
			per = min(-leastPerDegC, x.perDegC[h])
			with, wide = x.with.springC, x.with.springSpread
		}
		own := ownDays / per
		return bound(with-(x.days[h]+x.perLog[h]*(spread-wide))/per, mostC), (own*own + ownC*ownC) * x.doubt[h]
	})
}

// krige is the value at a place that the samples' values and their own
// variances make likeliest. A value that is not a number is left out.
func (s *surveyor) krige(latDeg, lonDeg float64, used []int, k kriging, value func(*sample) (y, own float64)) float64 {
	var at []*sample
	var y, own []float64
	for _, i := range used {
		if v, variance := value(&s.samples[i]); !math.IsNaN(v) {
			at, y, own = append(at, &s.samples[i]), append(y, v), append(own, variance)
		}
	}
	e := newEquations(len(at))
	apart := func(lat, lon float64, b *sample) float64 {
		return k.shared(distanceKM(lat, lon, b.site.site.LatDeg, b.site.site.LonDeg))
	}
	for i, a := range at {
		for j, b := range at[:i] {
			v := apart(a.site.site.LatDeg, a.site.site.LonDeg, b)
			e.m[i][j], e.m[j][i] = v, v
		}
		e.m[i][i] = k.near + k.wide + own[i]
		e.m[i][len(at)] = y[i]
	}
	sum := 0.0
	for i, weight := range e.solve() {
		sum += weight * apart(latDeg, lonDeg, at[i])
	}
	return sum
}

func nobody(int) bool { return false }

// table makes the table of boxes from all stations.
func (s *surveyor) table() regions {
	out := regions{}
	for _, x := range s.samples {
		own := regionOf(x.site.site.LatDeg, x.site.site.LonDeg)
		for dy := -2; dy <= 2; dy++ {
			for dx := -2; dx <= 2; dx++ {
				key := [2]int{own[0] + dy, own[1] + dx}
				if _, done := out[key]; !done {
					out[key] = s.box(key, nobody)
				}
			}
		}
	}
	return out
}

func (r regions) text() string {
	var keys [][2]int
	for k := range r {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(a, b [2]int) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	var b strings.Builder
	b.WriteString("# Regional shifts of the minimum and of its spread; written by go test -run TestCalibrate -calibrate, see README.md.\nsouth,west,spring_c,autumn_c,spring_spread,autumn_spread\n")
	for _, k := range keys {
		x := r[k]
		fmt.Fprintf(&b, "%.1f,%.1f,%.2f,%.2f,%.3f,%.3f\n", float64(k[0])/regionsPerDegree, float64(k[1])/regionsPerDegree, x.springC, x.autumnC, x.springSpread, x.autumnSpread)
	}
	return b.String()
}

// foldOf deals stations to folds, or, by region, boxes of 3 degrees.
func foldOf(s freezeStation, folds int, byRegion bool) int {
	h := fnv.New32a()
	if byRegion {
		fmt.Fprintf(h, "%.0f/%.0f", math.Floor(s.site.LatDeg/3), math.Floor(s.site.LonDeg/3))
	} else {
		fmt.Fprint(h, s.id)
	}
	return int(h.Sum32()>>5) % folds
}

// compareKriging shows what other distances and variances would give at
// stations left out, to first order.
func compareKriging(t testing.TB, s *surveyor) {
	kept, keptSpread := shiftKriging, spreadKriging
	defer func() { shiftKriging, spreadKriging = kept, keptSpread }()
	for _, k := range []kriging{kept, {0.35, 70, 0.2, 300}, {1.2, 70, 0.2, 300}, {0.7, 40, 0.2, 300}, {0.7, 120, 0.2, 300}} {
		for _, ks := range []kriging{{}, keptSpread, {0.02, 150, 0.01, 500}} {
			shiftKriging, spreadKriging = k, ks
			var size, wide [2][]float64
			for i, f := range s.leftOut() {
				x := &s.samples[i]
				left := x.left(f)
				for h, by := range [2]float64{f.springSpread - x.with.springSpread, f.autumnSpread - x.with.autumnSpread} {
					size[h] = append(size[h], math.Abs(left[h]))
					if !math.IsNaN(x.spread[h]) {
						wide[h] = append(wide[h], math.Abs(x.spread[h]+by))
					}
				}
			}
			for h := range 2 {
				slices.Sort(size[h])
				slices.Sort(wide[h])
			}
			t.Logf("%v %v: spring median %.2f, 90 %% %.1f; autumn median %.2f, 90 %% %.1f; spreads' logarithms off by %.3f and %.3f", k, ks,
				quantile(size[0], 0.5), quantile(size[0], 0.9), quantile(size[1], 0.5), quantile(size[1], 0.9), quantile(wide[0], 0.5), quantile(wide[1], 0.5))
		}
	}
}
