package grow

import (
	"math"

	"haulm/internal/crop"
)

// Learning from the grower's own results. A result's factor against the book
// (thermal time taken, or weight) is taken as log-normal: its logarithm is the
// sum of what the whole garden is off by, what the crop is off by in it, and
// what is peculiar to one planting:
//
//	y = g + a + e,  g ~ N(0, garden²),  a ~ N(0, crop²),  e ~ N(0, planting²)
//
// With n results of mean ȳ for a crop, ȳ given g is normal around g with variance
// v = crop² + planting²/n. So g has precision 1/garden² + Σ 1/v and the mean
// Σ(ȳ/v)/precision; and of the crop's own part the share k = crop²/v of ȳ - g
// is believed. All of it is closed: normal priors and normal results (Gelman
// et al., Bayesian Data Analysis, on hierarchical normal models; from memory).

// Result is one planting's outcome against the book.
type Result struct {
	Crop   string
	Log    float64 // ln(found / book)
	CropSD float64 // published spread of the crop's logarithm
}

// Scatter is how far gardens and single plantings lie from the book: standard
// deviations of the logarithm.
type Scatter struct{ Garden, Planting float64 }

// PaceScatter and YieldScatter are the catalogue's.
func PaceScatter(rules crop.Constants) Scatter {
	return Scatter{rules.GardenPaceLogSD, rules.PlantingPaceLogSD}
}

// YieldScatter is the scatter of weights.
func YieldScatter(rules crop.Constants) Scatter {
	return Scatter{rules.GardenYieldLogSD, rules.PlantingYieldLogSD}
}

// YieldLogSD is the published spread of a crop's yield: its low and high are
// taken as the ends of the middle 80 %.
func YieldLogSD(cr *crop.Crop) float64 {
	return crop.LogSD(cr.Yield.LowKgM2, cr.Yield.HighKgM2)
}

// Factor is what is believed of a crop's factor in this garden: a log-normal.
type Factor struct {
	Log, SD float64 // mean and standard deviation of the logarithm
	Results int     // of the crop itself
}

// Middle is the factor that is as likely too low as too high.
func (f Factor) Middle() float64 { return math.Exp(f.Log) }

// At is the factor at z standard deviations.
func (f Factor) At(z float64) float64 { return math.Exp(f.Log + z*f.SD) }

// Range holds the middle 80 %.
func (f Factor) Range() (low, high float64) { return f.At(-crop.ZTenth), f.At(crop.ZTenth) }

// Garden is what has been learnt of one garden's pace or yield.
type Garden struct {
	scatter   Scatter
	mean, sd2 float64 // of g
	crops     map[string]*cropResults
}

type cropResults struct {
	n      int
	sum    float64
	cropSD float64
}

func (r *cropResults) mean() float64 { return r.sum / float64(r.n) }

// variance is that of the crop's mean around the garden's part.
func (r *cropResults) variance(s Scatter) float64 {
	return r.cropSD*r.cropSD + s.Planting*s.Planting/float64(r.n)
}

// Learn draws what results can tell. No results leave the book as it is.
func Learn(scatter Scatter, results []Result) Garden {
	g := Garden{scatter: scatter, crops: map[string]*cropResults{}}
	var order []string
	for _, r := range results {
		if math.IsNaN(r.Log) || math.IsInf(r.Log, 0) {
			continue
		}
		of := g.crops[r.Crop]
		if of == nil {
			of = &cropResults{}
			g.crops[r.Crop], order = of, append(order, r.Crop)
		}
		of.n++
		of.sum += r.Log
		of.cropSD = math.Max(of.cropSD, r.CropSD)
	}
	precision, pull := 1/(scatter.Garden*scatter.Garden), 0.0
	for _, key := range order {
		of := g.crops[key]
		v := of.variance(scatter)
		precision += 1 / v
		pull += of.mean() / v
	}
	g.mean, g.sd2 = pull/precision, 1/precision
	return g
}

// Whole is what is believed of the whole garden's part.
func (g Garden) Whole() Factor { return Factor{Log: g.mean, SD: math.Sqrt(g.sd2)} }

// Crop is what is believed of a crop, given its published spread. For a crop
// without results it is the garden's part and that spread.
func (g Garden) Crop(key string, cropSD float64) Factor {
	of := g.crops[key]
	if of == nil {
		return Factor{Log: g.mean, SD: math.Sqrt(g.sd2 + cropSD*cropSD)}
	}
	believed := of.cropSD * of.cropSD / of.variance(g.scatter)
	left := (1-believed)*(1-believed)*g.sd2 + of.cropSD*of.cropSD*(1-believed)
	return Factor{Log: g.mean + believed*(of.mean()-g.mean), SD: math.Sqrt(left), Results: of.n}
}

// Next is the factor of a single coming planting: the crop's, and what is
// peculiar to one.
func (g Garden) Next(key string, cropSD float64) Factor {
	f := g.Crop(key, cropSD)
	f.SD = math.Hypot(f.SD, g.scatter.Planting)
	return f
}
