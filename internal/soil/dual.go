package soil

import "math"

// bareKc is the basal coefficient of dry bare ground, Kc min of FAO-56 eq 76.
const bareKc = 0.15

// mostCover keeps a sliver of ground open to the sky under the fullest canopy,
// so that eq 77 never divides by nought.
const mostCover = 0.99

// EvaporableMM is the water that the sun can draw from the top layer, TEW, over
// a depth of 0.10 to 0.15 m. FAO-56 eq 73.
func EvaporableMM(fieldCapacity, wiltingPoint, layerM float64) float64 {
	return 1000 * (fieldCapacity - 0.5*wiltingPoint) * layerM
}

// KcByClimate brings a tabled mid-season or end coefficient to a climate: mean
// wind at 2 m, mean lowest humidity and crop height, held to 1–6 m/s and
// 20–80 %. FAO-56 eq 62 and 70. It is not meant for end values below 0.45, which
// FAO-56 leaves as tabled.
func KcByClimate(tabled, windMS, humidMinPC, heightM float64) float64 {
	wind, humid := held(windMS, 1, 6), held(humidMinPC, 20, 80)
	return tabled + (0.04*(wind-2)-0.004*(humid-45))*math.Pow(heightM/3, 0.3)
}

// KcMost is the most that any surface can evaporate, Kc max. FAO-56 eq 72.
func KcMost(basal, windMS, humidMinPC, heightM float64) float64 {
	return math.Max(KcByClimate(1.2, windMS, humidMinPC, heightM), basal+0.05)
}

// Cover is the share of ground under leaves, fc. FAO-56 eq 76.
func Cover(basal, most, heightM float64) float64 {
	share := math.Max(0, (basal-bareKc)/(most-bareKc))
	return math.Min(mostCover, math.Pow(share, 1+0.5*heightM))
}

// OpenWet is the share of ground both wet and in the sun, few. FAO-56 eq 75.
func OpenWet(cover, wetted float64) float64 { return math.Min(1-cover, wetted) }

// EvaporationReduction is Kr, how freely the drying top layer still gives up
// water, 0 to 1. FAO-56 eq 74.
func EvaporationReduction(surfaceMM float64, s Surface) float64 {
	if surfaceMM <= s.ReadyMM {
		return 1
	}
	return math.Max(0, (s.EvaporableMM-surfaceMM)/(s.EvaporableMM-s.ReadyMM))
}

// EvaporationKc is Ke, the soil's own coefficient. FAO-56 eq 71.
func EvaporationKc(reduction, basal, most, openWet float64) float64 {
	return math.Min(reduction*(most-basal), openWet*most)
}

// Surface is the top layer that the sun dries.
type Surface struct {
	EvaporableMM float64 // TEW
	ReadyMM      float64 // REW, drawn before evaporation slows
}

// Dryness is the state of the ground at nightfall: how far the top layer and
// the root zone lie below field capacity, mm.
type Dryness struct {
	SurfaceMM float64 // De
	RootMM    float64 // Dr
}

// Growing is the crop and the weather of a day for the dual coefficient.
type Growing struct {
	ReferenceMM    float64 // ETo
	Basal          float64 // Kcb
	Most           float64 // Kc max
	HeightM        float64
	Wetted         float64 // share of ground last wetted, fw; 1 after rain
	TotalMM        float64 // TAW at the day's rooting depth
	DepletionShare float64 // p as tabled
	In             Supply
}

// DualDay is what a day did, with the coefficients it went by.
type DualDay struct {
	Dryness
	Cover, OpenWet    float64
	Reduction         float64 // Kr
	EvaporationKc     float64 // Ke
	EvaporationMM     float64
	SurfaceDrainMM    float64 // DPe
	CropETMM          float64 // at full supply
	DepletionShare    float64 // p of the day
	ReadyMM           float64 // RAW of the day
	Stress            float64 // Ks
	ActualMM          float64 // evapotranspiration that took place
	DrainMM           float64 // below the roots
	TranspirationMM   float64 // of ActualMM, through the crop
	FullTranspiration float64 // mm, had water been free
}

// Step carries ground and crop through a day by the dual crop coefficient.
// FAO-56 eq 69 and 71 to 79, 82 to 88. Kr and Ks go by the evening before, p by
// the day's own evapotranspiration.
func (s Surface) Step(before Dryness, day Growing) DualDay {
	var out DualDay
	out.Cover = Cover(day.Basal, day.Most, day.HeightM)
	out.OpenWet = OpenWet(out.Cover, day.Wetted)
	out.Reduction = EvaporationReduction(before.SurfaceMM, s)
	out.EvaporationKc = EvaporationKc(out.Reduction, day.Basal, day.Most, out.OpenWet)
	out.EvaporationMM = out.EvaporationKc * day.ReferenceMM
	out.SurfaceMM, out.SurfaceDrainMM = s.close(before.SurfaceMM, out.EvaporationMM/out.OpenWet, day)

	out.CropETMM = (day.Basal + out.EvaporationKc) * day.ReferenceMM
	out.DepletionShare = DepletionShare(day.DepletionShare, out.CropETMM)
	out.ReadyMM = ReadyWaterMM(out.DepletionShare, day.TotalMM)
	out.Stress = Stress(before.RootMM, day.TotalMM, out.ReadyMM)
	out.FullTranspiration = day.Basal * day.ReferenceMM
	out.TranspirationMM = out.Stress * out.FullTranspiration
	out.ActualMM = out.TranspirationMM + out.EvaporationMM

	bucket := Bucket{TotalMM: day.TotalMM, ReadyMM: out.ReadyMM}
	root := bucket.close(before.RootMM, out.Stress, out.ActualMM, day.In)
	out.RootMM, out.DrainMM = root.DepletionMM, root.DrainMM
	return out
}

// close is eq 77 and 79: irrigation falls on the wetted share alone, and only
// the open wet share evaporates.
func (s Surface) close(surfaceMM, evaporatedMM float64, day Growing) (endMM, drainMM float64) {
	wetting := day.In.RainMM - day.In.RunoffMM
	if day.In.IrrigationMM > 0 {
		wetting += day.In.IrrigationMM / day.Wetted
	}
	drainMM = math.Max(0, wetting-surfaceMM)
	return held(surfaceMM-wetting+evaporatedMM+drainMM, 0, s.EvaporableMM), drainMM
}

func held(x, low, high float64) float64 { return math.Max(low, math.Min(high, x)) }
