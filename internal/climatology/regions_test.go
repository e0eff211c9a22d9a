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

// Smoothing of what the regressions leave (project choices, by the errors at
// stations left out: TestCalibrate prints them for others).
const (
	regionKM    = 45.0 // spread of the bell by which stations count
	regionShare = 0.5  // so many stations' worth of belief in no shift
	usualSlope  = 5.0  // days a freeze date moves for 1 °C
	usualDays   = 6.0  // errors beyond count less and less,
	mostDays    = 25.0 // and beyond this no more
)

// sample is an error of a station's date with how it moves.
type sample struct {
	site          freezeStation
	days, perDegC [2]float64
}

func samplesOf(stations []freezeStation, got []freezes, slopes [][2]float64) []sample {
	var out []sample
	for i, s := range stations {
		out = append(out, sample{s, [2]float64{got[i].last50 - s.want.last50, got[i].first50 - s.want.first50}, slopes[i]})
	}
	return out
}

// shiftAt is the shift that makes the errors around small: least squares with
// a lean to none.
func shiftAt(samples []sample, latDeg, lonDeg, km, share float64, leave func(i int) bool) (shift [2]float64, weight float64) {
	var by, squares [2]float64
	for i, s := range samples {
		if leave(i) || math.Abs(s.site.site.LatDeg-latDeg) > 4*km/111 {
			continue
		}
		d := distanceKM(latDeg, lonDeg, s.site.site.LatDeg, s.site.site.LonDeg)
		if d > 4*km {
			continue
		}
		w := math.Exp(-d * d / (2 * km * km))
		weight += w
		for h := range 2 {
			trust := w / max(1, math.Abs(s.days[h])/usualDays)
			by[h] -= trust * s.perDegC[h] * bound(s.days[h], mostDays)
			squares[h] += trust * s.perDegC[h] * s.perDegC[h]
		}
	}
	for h := range 2 {
		shift[h] = by[h] / (squares[h] + share*usualSlope*usualSlope)
	}
	return shift, weight
}

func nobody(int) bool { return false }

// smoothRegions makes the table of degrees from all stations.
func smoothRegions(samples []sample, leave func(i int) bool) regions {
	out := regions{}
	for _, s := range samples {
		key := degreeOf(s.site.site.LatDeg, s.site.site.LonDeg)
		for dy := -1; dy <= 1; dy++ {
			for dx := -1; dx <= 1; dx++ {
				k := [2]int{key[0] + dy, key[1] + dx}
				if _, done := out[k]; done {
					continue
				}
				shift, _ := shiftAt(samples, float64(k[0])+0.5, float64(k[1])+0.5, regionKM, regionShare, leave)
				out[k] = region{shift[0], shift[1]}
			}
		}
	}
	return out
}

func (r regions) text() string {
	var keys [][2]int
	for k, x := range r {
		if math.Abs(x.springC)+math.Abs(x.autumnC) >= 0.05 {
			keys = append(keys, k)
		}
	}
	slices.SortFunc(keys, func(a, b [2]int) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	var b strings.Builder
	b.WriteString("# Regional shifts of the minimum, smoothed; written by go test -run TestCalibrate -calibrate, see README.md.\nsouth,west,spring_c,autumn_c\n")
	for _, k := range keys {
		fmt.Fprintf(&b, "%d,%d,%.2f,%.2f\n", k[0], k[1], r[k].springC, r[k].autumnC)
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

// compareSmoothing shows what other widths and leans would give at stations
// left out, to first order.
func compareSmoothing(t testing.TB, samples []sample) {
	for _, km := range []float64{40, 60, 100} {
		for _, share := range []float64{0.5, 1} {
			var size [2][]float64
			for i, s := range samples {
				fold := foldOf(s.site, 10, false)
				shift, _ := shiftAt(samples, s.site.site.LatDeg, s.site.site.LonDeg, km, share, func(j int) bool {
					return j == i || foldOf(samples[j].site, 10, false) == fold
				})
				for h := range 2 {
					size[h] = append(size[h], math.Abs(s.days[h]+s.perDegC[h]*shift[h]))
				}
			}
			slices.Sort(size[0])
			slices.Sort(size[1])
			t.Logf("%3.0f km, lean %.1f: spring median %.2f, 90 %% %.1f; autumn median %.2f, 90 %% %.1f", km, share,
				quantile(size[0], 0.5), quantile(size[0], 0.9), quantile(size[1], 0.5), quantile(size[1], 0.9))
		}
	}
}
