package soil

import "math"

// leafRainShare is the rain, as a share of the day's ETo, that never gets past
// the surface (FAO-56 ch. 8).
const leafRainShare = 0.2

// TotalWaterMM is the water that roots can draw from full soil, TAW, from field
// capacity to wilting point (m3/m3) over a rooting depth. FAO-56 eq 82.
func TotalWaterMM(fieldCapacity, wiltingPoint, rootM float64) float64 {
	return 1000 * (fieldCapacity - wiltingPoint) * rootM
}

// ReadyWaterMM is the part of it drawn without a check to growth, RAW. FAO-56
// eq 83.
func ReadyWaterMM(depletionShare, totalMM float64) float64 { return depletionShare * totalMM }

// DepletionShare is p, the share that may be drawn without a check, from its
// tabled value and the day's crop evapotranspiration. FAO-56 table 22, note.
func DepletionShare(tabled, cropETMM float64) float64 {
	return max(0.1, min(0.8, tabled+0.04*(5-cropETMM)))
}

// Stress is Ks, how much of its water a crop can still draw, 0 to 1. FAO-56
// eq 84.
func Stress(depletionMM, totalMM, readyMM float64) float64 {
	if depletionMM <= readyMM {
		return 1
	}
	return max(0, (totalMM-depletionMM)/(totalMM-readyMM))
}

// EffectiveRainMM is the rain that counts: none where it is less than a fifth
// of the day's reference evapotranspiration. FAO-56 ch. 8.
func EffectiveRainMM(rainMM, referenceMM float64) float64 {
	if rainMM < leafRainShare*referenceMM {
		return 0
	}
	return rainMM
}

// Bucket is the rooted soil.
type Bucket struct {
	TotalMM float64 // TAW
	ReadyMM float64 // RAW of the day
}

// Supply is a day's water in.
type Supply struct {
	RainMM       float64
	RunoffMM     float64
	IrrigationMM float64
	RiseMM       float64 // capillary rise; nought where ground water is deeper than a metre below the roots
}

// BucketDay is what a day did to the bucket.
type BucketDay struct {
	Stress      float64 // Ks
	CropETMM    float64 // what the crop drew
	DrainMM     float64 // what ran out below
	DepletionMM float64 // how far from full it ends, 0 to TotalMM
}

// Step carries the root zone through a day, from the depletion in which the
// day begins and the crop's evapotranspiration at full supply, Kc·ETo. FAO-56
// eq 81, 85 and 88; stress goes by the morning's depletion.
func (b Bucket) Step(depletionMM, cropETMM float64, in Supply) BucketDay {
	stress := Stress(depletionMM, b.TotalMM, b.ReadyMM)
	drawn := stress * cropETMM
	return b.close(depletionMM, stress, drawn, in)
}

func (b Bucket) close(depletionMM, stress, drawnMM float64, in Supply) BucketDay {
	balance := depletionMM - (in.RainMM - in.RunoffMM) - in.IrrigationMM - in.RiseMM + drawnMM
	return BucketDay{
		Stress:      stress,
		CropETMM:    drawnMM,
		DrainMM:     math.Max(0, -balance),
		DepletionMM: math.Max(0, math.Min(b.TotalMM, balance)),
	}
}
