package climatology

// equations are normal equations of weighted least squares.
type equations struct{ m [][]float64 }

func newEquations(n int) *equations {
	e := &equations{make([][]float64, n)}
	for i := range e.m {
		e.m[i] = make([]float64, n+1)
	}
	return e
}

// lean draws every unknown to 0 as one equation of that weight would.
func (e *equations) lean(weight float64) {
	for i := range e.m {
		e.m[i][i] += weight
	}
}

func (e *equations) add(x []float64, y, weight float64) {
	for i, xi := range x {
		if xi == 0 {
			continue
		}
		for j, xj := range x {
			e.m[i][j] += weight * xi * xj
		}
		e.m[i][len(x)] += weight * xi * y
	}
}

// solve eliminates (Gauss–Jordan; the lean keeps the pivots off 0).
func (e *equations) solve() []float64 {
	n := len(e.m)
	for i := range n {
		for j := range n {
			if j == i {
				continue
			}
			f := e.m[j][i] / e.m[i][i]
			for k := i; k <= n; k++ {
				e.m[j][k] -= f * e.m[i][k]
			}
		}
	}
	x := make([]float64, n)
	for i := range x {
		x[i] = e.m[i][n] / e.m[i][i]
	}
	return x
}
