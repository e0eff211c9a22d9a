package plan

import "sort"

// risk is the measure of worth over equally likely years.
type risk struct {
	mean float64 // weight of the plain mean
	// tail[i] is the weight of the i-th worst year in the mean of the worst
	// share, the last one fractional; its sum is 1.
	tail []float64
	bad  float64 // weight of that mean
}

func newRisk(p *Problem) risk {
	r := risk{mean: 1 - p.Lambda, bad: p.Lambda}
	if p.Lambda == 0 {
		return r
	}
	share := p.Alpha * float64(p.Years) // years in the tail, perhaps fractional
	for left := share; left > 1e-12 && len(r.tail) < p.Years; left-- {
		r.tail = append(r.tail, min(left, 1)/share)
	}
	return r
}

// value is the measure of the years' worths; order is scratch of the same length.
func (r *risk) value(years, order []float64) float64 {
	sum := 0.0
	for _, v := range years {
		sum += v
	}
	return r.mean*sum/float64(len(years)) + r.bad*r.worst(years, order)
}

// worst is the mean of the worst share. order ends holding the worst years, sorted.
func (r *risk) worst(years, order []float64) float64 {
	n := len(r.tail)
	if n == 0 {
		return 0
	}
	low := order[:0]
	for _, v := range years {
		if len(low) == n {
			if v >= low[n-1] {
				continue
			}
			low = low[:n-1]
		}
		i := len(low)
		low = low[:i+1]
		for ; i > 0 && low[i-1] > v; i-- {
			low[i] = low[i-1]
		}
		low[i] = v
	}
	sum := 0.0
	for i, v := range low {
		sum += r.tail[i] * v
	}
	return sum
}

// weights gives each year's share in the measure at these worths: its slope.
func (r *risk) weights(years []float64) []float64 {
	w := make([]float64, len(years))
	at := make([]int, len(years))
	for s := range years {
		w[s] = r.mean / float64(len(years))
		at[s] = s
	}
	sort.SliceStable(at, func(i, j int) bool { return years[at[i]] < years[at[j]] })
	for i, share := range r.tail {
		w[at[i]] += r.bad * share
	}
	return w
}

// project brings weights of years to the nearest that the measure can take: sum 1,
// each between the mean's share and that plus the most the tail can add.
func (r *risk) project(w []float64) {
	n := float64(len(w))
	low := r.mean / n
	high := low
	if len(r.tail) > 0 {
		high += r.bad * r.tail[0]
	}
	sum := func(shift float64) float64 {
		total := 0.0
		for _, x := range w {
			total += min(max(x+shift, low), high)
		}
		return total
	}
	a, b := -2.0, 2.0
	for _, x := range w {
		a, b = min(a, low-x), max(b, high-x)
	}
	for range 60 {
		if mid := (a + b) / 2; sum(mid) < 1 {
			a = mid
		} else {
			b = mid
		}
	}
	for i, x := range w {
		w[i] = min(max(x+b, low), high)
	}
}
