package main

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"haulm/internal/place/internal/packed"
)

// entry is a row with what orders it.
type entry struct {
	row
	countryAt    int
	region, code string
	tile         int // parts a region too wide for the form's 16 bits
	curve        uint64
}

// tileDegrees is below the 65.535° that a region may span.
const tileDegrees = 60

// makeTable lays the rows out by country, region and along a curve.
func makeTable(rows []row, divisions map[string]string, countries []packed.Country) (*packed.Table, error) {
	at := map[string]int{}
	for i, country := range countries {
		at[country.Code] = i
	}
	entries := make([]entry, len(rows))
	for i, r := range rows {
		countryAt, known := at[r.country]
		if !known {
			return nil, fmt.Errorf("country %q of %s is not in countries.tsv", r.country, r.name)
		}
		e := entry{row: r, countryAt: countryAt, curve: hilbert(r.lat, r.lon)}
		e.region, e.code = regionOf(r, divisions)
		e.tile = int((r.lon + 180) / tileDegrees)
		entries[i] = e
	}
	joinTiles(entries)
	slices.SortStableFunc(entries, func(a, b entry) int {
		return cmp.Or(compareRegion(a, b), cmp.Compare(a.curve, b.curve), strings.Compare(a.name, b.name))
	})
	return fill(entries, countries), nil
}

func compareRegion(a, b entry) int {
	return cmp.Or(cmp.Compare(a.countryAt, b.countryAt), strings.Compare(a.region, b.region),
		strings.Compare(a.code, b.code), cmp.Compare(a.tile, b.tile))
}

// joinTiles puts a region that fits the form into one tile.
func joinTiles(entries []entry) {
	type span struct{ west, east float64 }
	spans := map[string]span{}
	key := func(e entry) string { return fmt.Sprint(e.countryAt, e.region, e.code) }
	for _, e := range entries {
		s, seen := spans[key(e)]
		if !seen {
			s = span{e.lon, e.lon}
		}
		spans[key(e)] = span{min(s.west, e.lon), max(s.east, e.lon)}
	}
	for i, e := range entries {
		if s := spans[key(e)]; s.east-s.west < tileDegrees {
			entries[i].tile = 0
		}
	}
}

func fill(entries []entry, countries []packed.Country) *packed.Table {
	t := &packed.Table{Countries: countries}
	zones := map[string]uint16{}
	var text strings.Builder
	for i, e := range entries {
		if i == 0 || compareRegion(entries[i-1], e) != 0 {
			t.Regions = append(t.Regions, packed.Region{Country: e.countryAt, Name: e.region, Code: e.code, First: i})
		}
		region := len(t.Regions) - 1
		t.Regions[region].End = i + 1
		if _, known := zones[e.zone]; !known {
			zones[e.zone] = uint16(len(t.Zones))
			t.Zones = append(t.Zones, e.zone)
		}
		t.Lat = append(t.Lat, int32(math.Round(e.lat/packed.Step)))
		t.Lon = append(t.Lon, int32(math.Round(e.lon/packed.Step)))
		t.ElevM = append(t.ElevM, int16(e.elevM))
		t.Region = append(t.Region, uint16(region))
		t.Zone = append(t.Zone, zones[e.zone])
		t.Pop = append(t.Pop, packed.PeopleCode(e.people))
		t.Estimated = append(t.Estimated, e.estimated)
		text.WriteString(strings.Join(append([]string{e.name}, otherNames(e.row)...), "\t"))
		t.LineEnds = append(t.LineEnds, uint32(text.Len()))
		text.WriteByte('\n')
	}
	t.Text = text.String()
	return t
}

// hilbert is a place's rank along a Hilbert curve over the globe, 2^16 cells a
// side, so that neighbours in the list are neighbours on the ground.
func hilbert(lat, lon float64) (rank uint64) {
	const side = 1 << 16
	x := uint64((lon + 180) / 360.001 * side)
	y := uint64((lat + 90) / 180.001 * side)
	for s := uint64(side / 2); s > 0; s /= 2 {
		var right, up uint64
		if x&s > 0 {
			right = 1
		}
		if y&s > 0 {
			up = 1
		}
		rank += s * s * ((3 * right) ^ up)
		if up == 0 {
			if right == 1 {
				x, y = side-1-x, side-1-y
			}
			x, y = y, x
		}
	}
	return rank
}
