package weather_test

import (
	"math"
	"testing"

	"haulm/internal/weather"
)

// TestFillHiddenDays hides days of a real record and looks how well they come
// back: better than the climatology alone, which is the least a fill must do.
func TestFillHiddenDays_DeBilt(t *testing.T) {
	rec := record(t, "NL_etmgeg_260_de-bilt.txt.gz")
	holed := *rec
	holed.TmaxC = append([]float64(nil), rec.TmaxC...)
	for i := 10; i+2 < rec.Days(); i += 29 {
		holed.TmaxC[i], holed.TmaxC[i+1] = math.NaN(), math.NaN()
	}
	filled, gaps := weather.Fill(&holed, weather.WMORules())
	if len(gaps.LeftOut()) != 0 {
		t.Fatalf("left out %v", gaps.LeftOut())
	}
	usual := weather.UsualDays(rec.Start, holed.TmaxC)
	var fill, clim, n float64
	for i := range rec.TmaxC {
		if math.IsNaN(holed.TmaxC[i]) {
			fill += math.Pow(filled.TmaxC[i]-rec.TmaxC[i], 2)
			clim += math.Pow(usual[rec.Start.Add(i).YearDay()]-rec.TmaxC[i], 2)
			n++
		}
	}
	fill, clim = math.Sqrt(fill/n), math.Sqrt(clim/n)
	t.Logf("root mean square error of %v hidden days: filled %.2f °C, climatology %.2f °C", n, fill, clim)
	if fill > 0.7*clim {
		t.Errorf("filled %.2f °C, climatology %.2f °C", fill, clim)
	}
}
