package soil

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"haulm/internal/weather"
)

// FAO-56 Example 36 (from memory, arithmetic verified): three crops on a silt.
func TestBucket_FAO56_Example36(t *testing.T) {
	for _, tc := range []struct {
		crop                     string
		rootM, share, taw, ready float64
	}{{"onion", 0.4, 0.3, 68, 20}, {"tomato", 0.8, 0.4, 136, 54}, {"maize", 1.2, 0.55, 204, 112}} {
		taw := TotalWaterMM(0.32, 0.15, tc.rootM)
		check(t, tc.crop+" TAW", taw, tc.taw, 0.5)
		check(t, tc.crop+" RAW", ReadyWaterMM(tc.share, taw), tc.ready, 0.5)
	}
}

// FAO-56 Example 37 (from memory): ten dry days, ETo 5, Kc 1.2, from 40 mm down
// with TAW 160 and RAW 64; the book prints one decimal.
func TestBucket_FAO56_Example37(t *testing.T) {
	b, depletion := Bucket{TotalMM: 160, ReadyMM: 64}, 40.0
	for i, want := range []float64{6, 6, 6, 6, 6, 5.6, 5.3, 4.9, 4.6, 4.3} {
		d := b.Step(depletion, 6, Supply{})
		check(t, "Example 37", d.CropETMM, want, 0.051)
		if d.DepletionMM <= depletion {
			t.Errorf("day %d: no drier", i+1)
		}
		depletion = d.DepletionMM
	}
}

// FAO-56 Examples 27 and 29 (from memory).
func TestKc_FAO56_Examples27And29(t *testing.T) {
	check(t, "maize at Taipei", KcByClimate(1.2, 1.3, 75, 2), 1.07, 0.005)
	check(t, "maize at Mocha", KcByClimate(1.2, 4.6, 44, 2), 1.30, 0.005)
	check(t, "dry bean", KcByClimate(1.10, 2.2, 30, 0.4), 1.14, 0.005)
}

// Bare sandy loam drying after a wetting, in the manner of FAO-56 Example 31.
func TestSurface_FAO56_Drydown(t *testing.T) {
	s, state := Surface{EvaporableMM: EvaporableMM(0.23, 0.10, 0.10), ReadyMM: 8}, Dryness{}
	for _, want := range []float64{5.4, 5.4, 3.9, 1.8, 0.8, 0.4, 0.2} {
		d := s.Step(state, Growing{ReferenceMM: 4.5, Most: 1.2, Wetted: 1, TotalMM: 100, DepletionShare: 0.5})
		check(t, "drydown", d.EvaporationMM, want, 0.05)
		state = d.Dryness
	}
}

// Three days of the Maricopa cotton season (pyfao56 test 01, CC0), with the
// state of the evening before: a full canopy drying, and late-season stress.
func TestDualKc_pyfao56_Days(t *testing.T) {
	for _, tc := range []struct {
		date                              string
		eto, wind3, humid, basal, height  float64
		wetted, taw, surface, root        float64
		evaporation, actual, endDe, endDr float64
	}{
		{"2013-212", 7.25, 2.0, 12.7, 1.2, 1.2, 0.2, 212.5, 11.593, 23.170, 0.394, 9.094, 15.552, 32.264},
		{"2013-213", 8.10, 2.8, 18.1, 1.2, 1.2, 0.2, 212.5, 15.552, 32.264, 0.306, 10.026, 17.953, 42.291},
		{"2013-312", 2.21, 0.7, 14.2, 0.573, 1.2, 1.0, 212.5, 19.769, 186.675, 0.032, 0.794, 19.810, 187.469},
	} {
		most := KcMost(tc.basal, weather.WindAt2M(tc.wind3, 3), tc.humid, tc.height)
		d := maricopa.surface.Step(Dryness{tc.surface, tc.root}, Growing{ReferenceMM: tc.eto, Basal: tc.basal, Most: most, HeightM: tc.height, Wetted: tc.wetted, TotalMM: tc.taw, DepletionShare: maricopa.share})
		check(t, tc.date+" E", d.EvaporationMM, tc.evaporation, 0.02)
		check(t, tc.date+" ETa", d.ActualMM, tc.actual, 0.02)
		check(t, tc.date+" De", d.SurfaceMM, tc.endDe, 0.02)
		check(t, tc.date+" Dr", d.RootMM, tc.endDr, 0.02)
	}
}

// Water neither comes nor goes but by the ways named, while the bucket is
// neither brim-full nor empty.
func TestSteps_WaterBalanceCloses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := Supply{RainMM: rapid.Float64Range(0, 80).Draw(t, "rain"), IrrigationMM: rapid.Float64Range(0, 30).Draw(t, "can")}
		in.RunoffMM = in.RainMM * rapid.Float64Range(0, 1).Draw(t, "runoff")
		total := rapid.Float64Range(10, 250).Draw(t, "total")
		before := Dryness{SurfaceMM: rapid.Float64Range(0, 18).Draw(t, "De"), RootMM: total * rapid.Float64Range(0, 1).Draw(t, "Dr")}
		basal := rapid.Float64Range(0, 1.2).Draw(t, "Kcb")
		day := Growing{ReferenceMM: rapid.Float64Range(0, 10).Draw(t, "ETo"), Basal: basal, Most: KcMost(basal, 2, 45, 0.4), HeightM: 0.4,
			Wetted: rapid.Float64Range(0.2, 1).Draw(t, "fw"), TotalMM: total, DepletionShare: 0.45, In: in}
		d := Surface{EvaporableMM: 18, ReadyMM: 8}.Step(before, day)
		net := before.RootMM - (in.RainMM - in.RunoffMM) - in.IrrigationMM + d.ActualMM + d.DrainMM
		if d.RootMM < total && math.Abs(net-d.RootMM) > 1e-9 || net < d.RootMM-1e-9 {
			t.Fatalf("balance %g, ended at %g", net, d.RootMM)
		}
		if d.SurfaceMM < 0 || d.SurfaceMM > 18 || d.RootMM < 0 || d.RootMM > total || d.Stress < 0 || d.Stress > 1 || d.Reduction < 0 || d.Reduction > 1 {
			t.Fatalf("out of bounds: %+v", d)
		}
		wetter := day
		wetter.In.IrrigationMM += 5
		if (Surface{EvaporableMM: 18, ReadyMM: 8}).Step(before, wetter).RootMM > d.RootMM {
			t.Fatal("watering dried the ground")
		}
	})
}

// FAO-33: bean Ky 1.15 at four fifths of its water (Ky from memory).
func TestRelativeYield(t *testing.T) {
	check(t, "bean", RelativeYield(1.15, 0.8, 1), 0.77, 1e-9)
	check(t, "no drought", RelativeYield(1.15, 300, 300), 1, 0)
	check(t, "parched", RelativeYield(1.25, 0, 300), 0, 0)
	check(t, "no demand", RelativeYield(1.25, 0, 0), 1, 0)
}

func BenchmarkDualKc_Year(b *testing.B) {
	s := Surface{EvaporableMM: 18, ReadyMM: 8}
	day := Growing{ReferenceMM: 3, Basal: 0.9, Most: 1.2, HeightM: 0.4, Wetted: 1, TotalMM: 90, DepletionShare: 0.45, In: Supply{RainMM: 2}}
	for b.Loop() {
		state := Dryness{}
		for range 365 {
			state = s.Step(state, day).Dryness
		}
	}
}
