package soil

import (
	"math"
	"slices"
	"strings"
	"testing"

	"haulm/internal/sharedfolder"
	"haulm/internal/sun"
	"haulm/internal/weather"
)

// notHere are equations of FAO-56 in the reference table that no record of ours
// calls for: wet bulbs, monthly heat into the ground, radiation by the sea.
var notHere = []string{"ea_psychrometer", "G_monthly", "Rs_from_T_coastal", "Rs_island"}

// TestReferenceVectors_ETo runs the rows of eto.csv; each names its source.
func TestReferenceVectors_ETo(t *testing.T) {
	rows := sharedfolder.Rows(t, "reference/models/eto.csv")
	if len(rows) < 50 {
		t.Fatalf("only %d rows", len(rows))
	}
	for _, row := range rows {
		if slices.Contains(notHere, row["function"]) {
			continue
		}
		t.Run(row["id"], func(t *testing.T) {
			got := etoVector(t, row)
			check(t, row["function"]+" "+row["inputs"]+" ("+row["source"]+")", got, number(t, row["expected"]), number(t, row["tolerance"]))
		})
	}
}

func etoVector(t *testing.T, row map[string]string) float64 {
	t.Helper()
	in := inputs(row["inputs"])
	switch f := row["function"]; {
	case strings.HasPrefix(f, "PM_intermediate_"):
		return uccle(t)[strings.TrimPrefix(f, "PM_intermediate_")]
	case strings.HasPrefix(f, "ETo_PM"), f == "ETo_ASCE_daily":
		return penmanMonteithOn(etoDay(in), Setting{LatDeg: in("lat"), ElevM: firstKnown(in("z"), in("elev"))})
	case f == "ETo_Hargreaves":
		ra := firstKnown(in("Ra"), in("Ra (lat 45.7167"), sun.ExtraterrestrialMJ(in("lat"), int(firstKnown(in("J"), 1))))
		return HargreavesMM(in("Tmin"), in("Tmax"), firstKnown(in("Tmean"), (in("Tmin")+in("Tmax"))/2), ra)
	}
	return etoPart(t, row["function"], in)
}

// etoDay reads a day out of a row; Tdew=Tmin leaves the dew point unmeasured,
// which is what stands in for it.
func etoDay(in func(string) float64) DayWeather {
	d := Unmeasured(int(in("J")))
	d.MinC, d.MaxC, d.DewC = in("Tmin"), in("Tmax"), in("Tdew")
	d.HumidMinPC, d.HumidMaxPC = in("RHmin"), in("RHmax")
	d.SolarMJ = in("Rs")
	d.GroundStoreMJ = firstKnown(in("G"), 0)
	d.WindMS = in("u2")
	switch {
	case known(in("u10")):
		d.WindMS = weather.WindAt2M(in("u10"), 10)
	case known(in("uz")):
		d.WindMS = weather.WindAt2M(in("uz"), 3)
	}
	if ea := in("ea"); known(ea) { // the dew point that gives this vapour pressure, eq 11 turned round
		d.DewC = 237.3 * math.Log(ea/0.6108) / (17.27 - math.Log(ea/0.6108))
	}
	return d
}

func firstKnown(values ...float64) float64 {
	for _, v := range values {
		if known(v) {
			return v
		}
	}
	return math.NaN()
}

func etoPart(t *testing.T, function string, in func(string) float64) float64 {
	t.Helper()
	switch function {
	case "pressure":
		return PressureKPa(in("z"))
	case "gamma":
		return PsychrometricKPa(in("P"))
	case "e0":
		return SaturationKPa(in("T"))
	case "es_mean":
		return MeanSaturationKPa(in("Tmin"), in("Tmax"))
	case "slope_vpc":
		return SaturationSlopeKPa(in("T"))
	case "ea_rhmax_rhmin":
		return VapourFromHumiditiesKPa(in("Tmin"), in("Tmax"), in("RHmin"), in("RHmax"))
	case "ea_rhmean":
		return VapourFromMeanHumidityKPa(in("Tmin"), in("Tmax"), in("RHmean"))
	case "ea_rhmax":
		return VapourFromMaxHumidityKPa(in("Tmin"), in("RHmax"))
	case "Rs_from_sunshine":
		return SolarFromSunshineMJ(in("n"), in("N"), in("Ra"))
	case "Rnl":
		return NetLongwaveMJ(in("Tmin"), in("Tmax"), in("ea"), in("Rs"), in("Rso"))
	case "Rso":
		return ClearSkyMJ(in("z"), in("Ra"))
	case "u2":
		return weather.WindAt2M(in("uz"), in("z"))
	case "Rs_from_T_interior":
		return SolarFromRangeMJ(in("Tmin"), in("Tmax"), in("Ra"))
	case "mm_from_MJ":
		return EvaporationMM(in("E"))
	}
	t.Fatalf("the harness does not know %q: add it", function)
	return 0
}

// TestWorkedExamples runs fao56_worked_examples.csv, whose values were seen in
// the PyETo tests. A value is held to half its last printed digit.
func TestWorkedExamples(t *testing.T) {
	rows := sharedfolder.Rows(t, "data/weather/fao56_worked_examples.csv")
	if len(rows) != 9 {
		t.Fatalf("%d rows, want 9", len(rows))
	}
	for _, row := range rows {
		in := inputs(strings.ReplaceAll(row["inputs"], " ", ";"))
		got := map[string]func() float64{
			"psychrometric_const_kPa_per_C": func() float64 { return PsychrometricKPa(in("P")) },
			"mean_svp_kPa":                  func() float64 { return MeanSaturationKPa(in("Tmin"), in("Tmax")) },
			"inverse_rel_distance":          func() float64 { return sun.DistanceFactor(int(in("day"))) },
			"net_radiation_MJ":              func() float64 { return NetRadiationMJ(in("Rns"), in("Rnl")) },
			"energy_to_evap_mm":             func() float64 { return EvaporationMM(0.33) },
			"slope_svp_kPa_per_C":           func() float64 { return SaturationSlopeKPa(in("T")) },
			"avp_from_tmin_kPa":             func() float64 { return VapourFromMinKPa(in("Tmin")) },
			"ETo_mm_day_monthly":            func() float64 { return combination(in) },
			"ETo_mm_day_daily":              func() float64 { return combination(in) },
		}[row["quantity"]]
		if got == nil {
			t.Fatalf("the harness does not know %q: add it", row["quantity"])
		}
		_, decimals, _ := strings.Cut(row["value"], ".")
		allowed := 0.5 * math.Pow(10, -float64(len(decimals)))
		if strings.HasPrefix(row["quantity"], "ETo") {
			allowed += 0.005 // the row's own inputs are rounded to three digits
		}
		check(t, row["quantity"]+" "+row["source"], got(), number(t, row["value"]), allowed)
	}
}

func combination(in func(string) float64) float64 {
	return CombinationMM(Combination{MeanC: in("T"), SlopeKPa: in("delta"), PsychrometricK: in("gamma"), NetMJ: in("Rn"),
		GroundMJ: firstKnown(in("G"), 0), WindMS: in("u2"), SaturationKPa: in("es"), ActualVapourKPa: in("ea")})
}
