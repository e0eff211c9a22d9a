package climatology

import "math"

// field is one of the monthly figures kept of a point.
type field int

const (
	tmin       field = iota // mean minimum, °C
	tmax                    // mean maximum, °C
	rainRoot                // square root of the month's rain, √mm
	wetDays                 // days with more than 0.1 mm
	humidity                // relative humidity, %
	sunPercent              // sunshine, % of the possible
	wind10                  // wind at 10 m, m/s
	fields
)

// kept says how a field's year is kept: the mean and the first waves of a
// Fourier series through its twelve months, as whole multiples of step.
var kept = [fields]struct {
	step  float64
	waves int
}{
	tmin:       {0.05, 4},
	tmax:       {0.05, 4},
	rainRoot:   {0.1, 4},
	wetDays:    {0.1, 4},
	humidity:   {0.5, 3},
	sunPercent: {0.5, 3},
	wind10:     {0.05, 2},
}

// terms is the number of coefficients of a field.
func (f field) terms() int { return 1 + 2*kept[f].waves }

// firstTerm is the place of a field's coefficients among those of a point.
func (f field) firstTerm() int {
	at := 0
	for g := range f {
		at += g.terms()
	}
	return at
}

// year is twelve monthly figures, January first.
type year [12]float64

// waves are the cosine and sine of wave k at each month.
var waves = func() (w [4][2]year) {
	for k := range w {
		for m := range 12 {
			angle := 2 * math.Pi * float64((k+1)*m) / 12
			w[k][0][m], w[k][1][m] = math.Cos(angle), math.Sin(angle)
		}
	}
	return w
}()

// coefficients fits a field's series to twelve months, in steps: on equally
// spaced months least squares are plain sums.
func (f field) coefficients(months year) []int16 {
	round := func(x float64) int16 { return int16(math.Round(x / kept[f].step)) }
	out := make([]int16, f.terms())
	mean := 0.0
	for _, x := range months {
		mean += x / 12
	}
	out[0] = round(mean)
	for k := range kept[f].waves {
		for part := range 2 {
			sum := 0.0
			for m, x := range months {
				sum += x * waves[k][part][m] / 6
			}
			out[1+2*k+part] = round(sum)
		}
	}
	return out
}

// months are the figures that coefficients stand for.
func (f field) months(coefficients []int16) (y year) {
	step := kept[f].step
	for m := range y {
		y[m] = step * float64(coefficients[0])
		for k := range kept[f].waves {
			y[m] += step * (float64(coefficients[1+2*k])*waves[k][0][m] + float64(coefficients[2+2*k])*waves[k][1][m])
		}
	}
	return y
}

func (y year) mean() float64 {
	sum := 0.0
	for _, x := range y {
		sum += x / 12
	}
	return sum
}

// span is the warmest month less the coldest.
func (y year) span() float64 {
	low, high := y[0], y[0]
	for _, x := range y {
		low, high = min(low, x), max(high, x)
	}
	return high - low
}
