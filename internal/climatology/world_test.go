package climatology

import (
	"bytes"
	"cmp"
	"compress/gzip"
	"encoding/binary"
	"encoding/csv"
	"flag"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"haulm/internal/sharedfolder"
)

var (
	update     = flag.Bool("update", false, "write the built-in data anew")
	reliefFile = flag.String("relief", "", "path of etopo5.cdf, to take the relief anew too")
)

func gunzip(t testing.TB, path string) *gzip.Reader {
	t.Helper()
	file, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { file.Close() })
	unpacked, err := gzip.NewReader(file)
	if err != nil {
		t.Fatal(err)
	}
	return unpacked
}

// TestWorldFile makes the built-in file from the climatology and, with
// -update, writes it. The relief is kept from the file there is, unless
// -relief names the netCDF file of ETOPO5 (data/README.md says where from).
func TestWorldFile(t *testing.T) {
	months := readClimatology(t, sharedfolder.Path(t, "data", "climatology", "cru_cl2_at_stations.csv.gz"))
	var land relief
	if *reliefFile != "" {
		land = readETOPO5(t, *reliefFile)
	} else {
		w, err := decode(worldFile)
		if err != nil {
			t.Fatal(err)
		}
		land = w.relief
	}
	file := encode(fit(months, land), land)
	if *update {
		if err := os.WriteFile(filepath.Join("data", "world.bin"), file, 0o644); err != nil {
			t.Fatal(err)
		}
		t.Logf("%d bytes", len(file))
		return
	}
	if !bytes.Equal(file, worldFile) {
		t.Error("data/world.bin is not what its source gives; run go generate")
	}
	if len(worldFile) > 2<<20 {
		t.Errorf("the file has %d bytes, more than 2 MiB", len(worldFile))
	}
}

// row is a station of the climatology with its monthly figures.
type row struct {
	box     box
	heightM float64 // of the station
	year    [fields]year
}

func readClimatology(t testing.TB, path string) []row {
	t.Helper()
	lines, err := csv.NewReader(gunzip(t, path)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := map[string]int{}
	for i, name := range lines[0] {
		column[name] = i
	}
	number := func(line []string, name string) float64 {
		x, err := strconv.ParseFloat(line[column[name]], 64)
		if err != nil {
			return math.NaN()
		}
		return x
	}
	names := [fields]string{tmin: "tmn", tmax: "tmx", rainRoot: "pre", wetDays: "rd0", humidity: "reh", sunPercent: "sun", wind10: "wnd"}
	var rows []row
	for _, line := range lines[1:] {
		r := row{box: boxAt(number(line, "lat"), number(line, "lon")), heightM: number(line, "elev_m")}
		for f, name := range names {
			for m := range 12 {
				r.year[f][m] = number(line, name+"_"+twoDigits(m+1))
			}
		}
		for m, mm := range r.year[rainRoot] {
			r.year[rainRoot][m] = math.Sqrt(mm)
		}
		rows = append(rows, r)
	}
	return rows
}

func twoDigits(n int) string { return string([]byte{'0' + byte(n/10), '0' + byte(n%10)}) }

// fit makes a point of each box: its stations carry the same figures (but for
// a few on a border, where the first stands).
func fit(rows []row, land relief) []point {
	var points []point
	seen := map[box]bool{}
	for _, r := range rows {
		metres, share := land.at(r.box)
		if share == 0 {
			metres = r.heightM // an islet
		}
		if seen[r.box] || math.IsNaN(metres) {
			continue
		}
		seen[r.box] = true
		p := point{box: r.box, heightM: math.Round(metres)}
		for f := range fields {
			p.terms = append(p.terms, f.coefficients(r.year[f])...)
		}
		points = append(points, p)
	}
	floor := func(x int) int { return int(math.Floor(float64(x) / perDegree)) }
	slices.SortFunc(points, func(a, b point) int {
		return cmp.Or(cmp.Compare(floor(a.box.row), floor(b.box.row)), cmp.Compare(floor(a.box.col), floor(b.box.col)),
			cmp.Compare(a.box.row, b.box.row), cmp.Compare(a.box.col, b.box.col))
	})
	return points
}

// readETOPO5 takes the relief from heights at every 5 minutes of arc, which
// stand as 4-byte numbers at the end of the file, rows from the south pole,
// each from 0° E. A point on a box's edge counts half.
func readETOPO5(t testing.TB, path string) relief {
	t.Helper()
	file, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	const rows, cols = 2161, 4320
	file = file[len(file)-4*rows*cols:]
	at := func(row, col int) float64 {
		i := row*cols + ((col+cols)%cols+cols)%cols
		return float64(math.Float32frombits(binary.BigEndian.Uint32(file[4*i:])))
	}
	var r relief
	for row := range reliefRows {
		for col := range reliefCols {
			var sum, land float64
			for dy := range 3 {
				for dx := range 3 {
					weight := float64((1+dy%2)*(1+dx%2)) / 16
					metres := at(2*(row+southEdge+90*perDegree)+dy, 2*(col-reliefCols/2)+dx)
					if metres > 0 {
						sum += weight * metres
						land += weight
					}
				}
			}
			quarters := uint8(math.Round(fullLand * land))
			code := uint8(0)
			if quarters > 0 {
				code = heightCode(sum / land)
			}
			r.height, r.quarters = append(r.height, code), append(r.quarters, quarters)
		}
	}
	return r
}
