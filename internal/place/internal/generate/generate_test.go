package main

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"haulm/internal/place/internal/packed"
)

// line makes a row of the GeoNames form with the columns that matter.
func line(name, others, lat, lon, feature, country, admin1, people, elevation, dem string) string {
	return strings.Join([]string{"1", name, name, others, lat, lon, "P", feature, country, "", admin1, "", "", "", people, elevation, dem, "Europe/Oslo", "2023-01-01"}, "\t")
}

var sample = strings.Join([]string{
	line("Ås", "As,Aas", "59.66", "10.79", "PPL", "NO", "30", "9000", "", "95"),
	line("Ås", "", "59.67", "10.79", "PPLA2", "NO", "30", "0", "", "97"),
	line("Vik", "", "61.08", "6.58", "PPL", "NO", "46", "1100", "", "-9999"),
	line("Naustdal", "", "61.10", "6.60", "PPL", "NO", "46", "1200", "40", "52"),
	line("Skjer", "", "70.0", "25.0", "PPL", "NO", "54", "10", "", "-9999"),
	line("Gone", "", "59.0", "10.0", "PPLQ", "NO", "30", "10", "", "95"),
	line("Sky", "", "59.0", "10.0", "PPL", "NO", "30", "10", "", "9500"),
	line("Bydel (3) / To", "", "59.0", "10.0", "PPLX", "NO", "30", "10", "", "5"),
}, "\n")

func TestChoosing(t *testing.T) {
	rows, err := readPlaces(strings.NewReader(sample))
	if err != nil {
		t.Fatal(err)
	}
	rows = dropUnfit(rows)
	lendHeights(rows)
	rows = dropDoubles(rows)
	want := []row{
		{name: "Ås", elevM: 95, people: 9000},
		{name: "Vik", elevM: 40, estimated: true, people: 1100},
		{name: "Naustdal", elevM: 40, people: 1200},
		{name: "Skjer", elevM: 40, estimated: true, people: 10},
	}
	if len(rows) != len(want) {
		t.Fatalf("%d rows left, want %d: %v", len(rows), len(want), rows)
	}
	for i, w := range want {
		if r := rows[i]; r.name != w.name || r.elevM != w.elevM || r.estimated != w.estimated || r.people != w.people {
			t.Errorf("row %d: %+v, want %+v", i, r, w)
		}
	}
}

func TestMakeTableIsDeterministic(t *testing.T) {
	countries := []packed.Country{{Code: "NO", Name: "Norway"}}
	var before []byte
	for range 5 {
		rows, err := readPlaces(strings.NewReader(sample))
		if err != nil {
			t.Fatal(err)
		}
		lendHeights(rows)
		table, err := makeTable(rows, map[string]string{"NO.30": "Viken", "NO.46": "Vestland"}, countries)
		if err != nil {
			t.Fatal(err)
		}
		var out bytes.Buffer
		if err := packed.Encode(&out, table); err != nil {
			t.Fatal(err)
		}
		if before != nil && !bytes.Equal(before, out.Bytes()) {
			t.Fatal("the same rows give other bytes")
		}
		before = out.Bytes()
	}
	if _, err := makeTable([]row{{name: "X", country: "QQ"}}, nil, countries); err == nil {
		t.Error("an unknown country is taken")
	}
}

func TestReadPlacesRefuses(t *testing.T) {
	for _, bad := range []string{"one\ttwo", strings.Replace(sample, "59.66", "north", 1), strings.Replace(sample, "9000", "many", 1)} {
		if _, err := readPlaces(strings.NewReader(bad)); err == nil || !strings.Contains(err.Error(), "line 1") {
			t.Errorf("got %v, want line 1 named", err)
		}
	}
}

func TestHeight(t *testing.T) {
	for _, c := range []struct {
		recorded int
		has      bool
		model    int
		want     int
		known    bool
	}{
		{0, false, 120, 120, true},
		{115, true, 120, 115, true},
		{2149, true, 1310, 1310, true}, // Ordos
		{9, true, -7, 9, true},         // Newport, Rhode Island
		{10, true, noHeight, 10, true},
		{0, false, noHeight, 0, false},
	} {
		if got, known := height(c.recorded, c.has, c.model); got != c.want && c.known || known != c.known {
			t.Errorf("%+v: %d %v", c, got, known)
		}
	}
}

func TestUsable(t *testing.T) {
	for text, want := range map[string]bool{
		"München": true, "Monaco di Baviera": true, "L'Aquila": true, "'s-Gravenhage": false, "Xi'an": true,
		"MUC": false, "mi'unikha": false, "Kel'n": false, "Мюнхен": false, "Newport (Wales)": false, "City of Newport": false, "Ab": false,
	} {
		if usable(text) != want {
			t.Errorf("%q: usable is %v", text, !want)
		}
	}
}

func TestOtherNames(t *testing.T) {
	munich := row{name: "Munich", people: 1_260_391, others: strings.Split("MUC,Minga,Monaco di Baviera,Muenchen,Munchen,Munich,München,Münih,Munih,Мюнхен,mi wnik", ",")}
	got := otherNames(munich)
	for _, want := range []string{"Muenchen", "Munchen", "Monaco di Baviera"} {
		if !slices.Contains(got, want) {
			t.Errorf("Munich: %v lacks %s", got, want)
		}
	}
	small := otherNames(row{name: "Dingle", people: 2050, others: strings.Split("An Daingean,Daingean Uí Chuis,Dingl,Dingle,Dinglis,Yn Dein", ",")})
	if len(small) != 2 || slices.Contains(small, "Dingl") {
		t.Errorf("Dingle: %v", small)
	}
}

func TestRegionOf(t *testing.T) {
	divisions := map[string]string{
		"GB.ENG": "England", "GB.ENG.G5": "Kent", "GB.ENG.XX": "City and Borough of Leeds", "GB.WLS": "Wales", "GB.WLS.Y6": "Newport",
		"IE.M": "Munster", "IE.M.04": "County Cork", "IE.C": "Connacht", "IE.C.20": "Mayo County", "US.IL": "Illinois", "CA.08": "Ontario", "DE.02": "Bavaria",
	}
	for _, c := range []struct {
		r          row
		name, code string
	}{
		{row{name: "Deal", country: "GB", admin1: "ENG", admin2: "G5"}, "Kent, England", "ENG"},
		{row{name: "Leeds", country: "GB", admin1: "ENG", admin2: "XX"}, "England", "ENG"},
		{row{name: "Newport", country: "GB", admin1: "WLS", admin2: "Y6"}, "Wales", "WLS"},
		{row{name: "Cork", country: "IE", admin1: "M", admin2: "04"}, "County Cork", ""},
		{row{name: "Newport", country: "IE", admin1: "C", admin2: "20"}, "County Mayo", ""},
		{row{name: "Nowhere", country: "IE", admin1: "C"}, "Connacht", ""},
		{row{name: "Springfield", country: "US", admin1: "IL", admin2: "167"}, "Illinois", "IL"},
		{row{name: "London", country: "CA", admin1: "08"}, "Ontario", "ON"},
		{row{name: "Munich", country: "DE", admin1: "02"}, "Bavaria", ""},
	} {
		if name, code := regionOf(c.r, divisions); name != c.name || code != c.code {
			t.Errorf("%s: %q %q, want %q %q", c.r.name, name, code, c.name, c.code)
		}
	}
}

// TestHilbert: the curve's defining property, that steps of one along it are
// steps to a neighbouring cell, held on the small square of its first cells.
func TestHilbert(t *testing.T) {
	const n = 8
	at := map[uint64][2]int{}
	for y := range n {
		for x := range n {
			// The middle of cell x, y of 2^16 a side.
			rank := hilbert((float64(y)+0.5)*180.001/65536-90, (float64(x)+0.5)*360.001/65536-180)
			if _, taken := at[rank]; taken || rank >= n*n {
				t.Fatalf("cell %d %d has rank %d", x, y, rank)
			}
			at[rank] = [2]int{x, y}
		}
	}
	for rank := range uint64(n*n - 1) {
		a, b := at[rank], at[rank+1]
		if dx, dy := a[0]-b[0], a[1]-b[1]; dx*dx+dy*dy != 1 {
			t.Errorf("ranks %d and %d lie at %v and %v", rank, rank+1, a, b)
		}
	}
}
