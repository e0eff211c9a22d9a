package plan

import "math"

// simplexMax maximises c.x over A.x <= b, x >= 0 with b >= 0 by a dense tableau
// and Bland's rule: slow, plain and independent of everything it checks.
func simplexMax(c []float64, a [][]float64, b []float64) float64 {
	m, n := len(a), len(c)
	t := make([][]float64, m+1)
	for i := range t {
		t[i] = make([]float64, n+m+1)
		if i < m {
			copy(t[i], a[i])
			t[i][n+i] = 1
			t[i][n+m] = b[i]
		}
	}
	for j := range c {
		t[m][j] = -c[j]
	}
	for {
		enter := -1
		for j := 0; j < n+m; j++ {
			if t[m][j] < -1e-11 {
				enter = j
				break
			}
		}
		if enter < 0 {
			return t[m][n+m]
		}
		leave, best := -1, math.Inf(1)
		for i := 0; i < m; i++ {
			if t[i][enter] > 1e-11 {
				if r := t[i][n+m] / t[i][enter]; r < best-1e-13 {
					leave, best = i, r
				}
			}
		}
		if leave < 0 {
			return math.Inf(1)
		}
		pivot := t[leave][enter]
		for j := range t[leave] {
			t[leave][j] /= pivot
		}
		for i := range t {
			if f := t[i][enter]; i != leave && f != 0 {
				for j := range t[i] {
					t[i][j] -= f * t[leave][j]
				}
			}
		}
	}
}
