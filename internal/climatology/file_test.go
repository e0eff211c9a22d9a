package climatology

import (
	"math"
	"strings"
	"testing"

	"haulm/internal/sharedfolder"
)

// TestFile_ThereAndBack: what is encoded is read again, and the relief is that
// of the Earth.
func TestFile_ThereAndBack(t *testing.T) {
	w := load(t)
	back, err := decode(encode(w.points, w.relief))
	if err != nil {
		t.Fatal(err)
	}
	if len(back.points) != len(w.points) || back.points[777].terms[3] != w.points[777].terms[3] {
		t.Error("points changed on the way")
	}
	for _, c := range []struct {
		name      string
		lat, lon  float64
		low, high float64
		land      bool
	}{
		{"Denver", 39.74, -104.99, 1500, 1900, true},
		{"Lhasa", 29.65, 91.1, 3600, 5200, true},
		{"Paris", 48.85, 2.35, 20, 120, true},
		{"Alice Springs", -23.7, 133.9, 450, 750, true},
		{"La Paz", -16.5, -68.15, 3300, 4500, true},
		{"mid-Atlantic", 40, -40, 0, 0, false},
	} {
		metres, land := w.GroundM(c.lat, c.lon)
		if land != c.land || metres < c.low || metres > c.high {
			t.Errorf("%s: %.0f m, land %v", c.name, metres, land)
		}
	}
}

// TestFitted: how well a few waves keep the climatology's months.
func TestFitted(t *testing.T) {
	rows := readClimatology(t, sharedfolder.Path(t, "data", "climatology", "cru_cl2_at_stations.csv.gz"))
	allowed := [fields]float64{tmin: 0.2, tmax: 0.2, rainRoot: 0.35, wetDays: 0.45, humidity: 1, sunPercent: 1.5, wind10: 0.15}
	for f := range fields {
		squares, worst := 0.0, 0.0
		for _, r := range rows {
			back := f.months(f.coefficients(r.year[f]))
			for m := range 12 {
				off := math.Abs(back[m] - r.year[f][m])
				squares += off * off
				worst = max(worst, off)
			}
		}
		rms := math.Sqrt(squares / float64(12*len(rows)))
		t.Logf("field %d: rms %.3f, worst %.2f", f, rms, worst)
		if rms > allowed[f] {
			t.Errorf("field %d: off by %.3f (rms), allowed %.3f", f, rms, allowed[f])
		}
	}
}

// TestDamaged: a damaged file is an error, never a crash.
func TestDamaged(t *testing.T) {
	for _, n := range []int{0, 5, len(fileMark), len(fileMark) + 1, len(worldFile) / 2, len(worldFile) - 3} {
		if _, err := decode(worldFile[:n]); err == nil {
			t.Errorf("cut to %d bytes it was read", n)
		}
	}
}

// FuzzDecode looks for a crash in the reader.
func FuzzDecode(f *testing.F) {
	f.Add([]byte(fileMark))
	f.Add(encode([]point{{terms: make([]int16, fields.firstTerm())}}, relief{make([]uint8, reliefRows*reliefCols), make([]uint8, reliefRows*reliefCols)}))
	f.Fuzz(func(t *testing.T, file []byte) {
		if w, err := decode(file); err == nil {
			w.prepare()
		}
	})
}

// TestTables: lines that make no sense are named.
func TestTables(t *testing.T) {
	head := "quantity,predictor,coefficient\n"
	for _, text := range []string{head, head + "tmin_lag1,moon,1\n", head + "luck,one,1\n", head + "tmin_lag1,one,x\n", head + "a,b\n"} {
		if _, err := readModel(strings.NewReader(text)); err == nil {
			t.Errorf("read %q", text)
		}
	}
	if _, err := readRegions("south,west,spring_c,autumn_c,spring_spread,autumn_spread\n1,2,3,x,0,0\n"); err == nil || !strings.Contains(err.Error(), "1,2,3,x") {
		t.Errorf("regions: %v", err)
	}
}
