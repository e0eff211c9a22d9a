package soil

import (
	"testing"

	"haulm/internal/sharedfolder"
	"haulm/internal/weather"
)

// maricopa is the ground and crop of a cotton season at Maricopa, Arizona, 2013:
// pyfao56 test 01 (US Department of Agriculture, CC0). Top layer 0.1143 m.
var maricopa = struct {
	surface Surface
	share   float64
}{Surface{EvaporableMM: EvaporableMM(0.225, 0.10, 0.1143), ReadyMM: 9}, 0.65}

// TestDualKc_Season_pyfao56 steps every day of the 200-day season from the
// state that the table prints for the evening before. States are printed to
// 0.001 mm from inputs to 0.01, so 0.02 mm on states and 0.002 on coefficients.
func TestDualKc_Season_pyfao56(t *testing.T) {
	rows := sharedfolder.Rows(t, "reference/models/soil_water_dualkc_season.csv")
	if len(rows) < 190 {
		t.Fatalf("only %d days", len(rows))
	}
	worst := map[string]float64{}
	before := seasonStart()
	for _, row := range rows {
		num := func(name string) float64 { return number(t, row[name]) }
		d := maricopa.surface.Step(before, seasonDay(num))
		for name, got := range map[string]float64{
			"exp_De": d.SurfaceMM, "exp_E": d.EvaporationMM, "exp_DPe": d.SurfaceDrainMM, "exp_ETc": d.CropETMM,
			"exp_ETa": d.ActualMM, "exp_DP": d.DrainMM, "exp_Dr": d.RootMM,
		} {
			note(worst, name, got, num(name))
			check(t, row["date"]+" "+name, got, num(name), 0.02)
		}
		for name, got := range map[string]float64{
			"exp_Kcmax": KcMost(num("exp_Kcb"), weather.WindAt2M(num("u2_at3m"), 3), num("RHmin"), num("exp_h")),
			"exp_fc":    d.Cover, "exp_few": d.OpenWet, "exp_Kr": d.Reduction, "exp_Ke": d.EvaporationKc, "exp_p": d.DepletionShare, "exp_Ks": d.Stress,
		} {
			note(worst, name, got, num(name))
			check(t, row["date"]+" "+name, got, num(name), 0.002)
		}
		// RAW is the coefficient p times TAW: ETo, printed to 0.01, moves p by
		// 0.04·0.005·Kc (1.3 at most) and RAW by that times TAW.
		check(t, row["date"]+" RAW", d.ReadyMM, num("exp_RAW"), 0.04*0.005*1.3*num("exp_TAW")+0.0005)
		before = Dryness{SurfaceMM: num("exp_De"), RootMM: num("exp_Dr")}
	}
	t.Logf("worst differences: %v", worst)
}

// TestDualKc_Season_FreeRunning carries our own state through the season, so
// that rounding may add up: 0.1 mm.
func TestDualKc_Season_FreeRunning(t *testing.T) {
	state := seasonStart()
	for _, row := range sharedfolder.Rows(t, "reference/models/soil_water_dualkc_season.csv") {
		num := func(name string) float64 { return number(t, row[name]) }
		state = maricopa.surface.Step(state, seasonDay(num)).Dryness
		check(t, row["date"]+" De", state.SurfaceMM, num("exp_De"), 0.1)
		check(t, row["date"]+" Dr", state.RootMM, num("exp_Dr"), 0.1)
	}
}

// seasonStart is ground at wilting point throughout, roots to 0.6 m.
func seasonStart() Dryness {
	return Dryness{SurfaceMM: maricopa.surface.EvaporableMM, RootMM: TotalWaterMM(0.225, 0.10, 0.6)}
}

func seasonDay(num func(string) float64) Growing {
	return Growing{
		ReferenceMM: num("ETo"), Basal: num("exp_Kcb"), HeightM: num("exp_h"), Wetted: num("exp_fw"),
		Most:    KcMost(num("exp_Kcb"), weather.WindAt2M(num("u2_at3m"), 3), num("RHmin"), num("exp_h")),
		TotalMM: num("exp_TAW"), DepletionShare: maricopa.share,
		In: Supply{RainMM: num("rain"), IrrigationMM: num("irrigation")},
	}
}

func note(worst map[string]float64, name string, got, want float64) {
	worst[name] = max(worst[name], got-want, want-got)
}
