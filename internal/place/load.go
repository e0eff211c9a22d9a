package place

import (
	_ "embed"
	"sync"

	"haulm/internal/place/internal/packed"
)

//go:embed data/places.bin
var places []byte

// Gazetteer is the unpacked list of places. It never changes, so that any
// number of goroutines may search it.
type Gazetteer struct {
	table *packed.Table

	shards     []shard
	qualifiers map[string][]qualifier // folded country and region names and codes
}

// Load unpacks the gazetteer, which takes about a tenth of a second the first
// time (BenchmarkLoad) and nothing after. It fails only if the program's file is
// damaged.
func Load() (*Gazetteer, error) { return loadOnce() }

// loadOnce keeps the unpacked list: it is made from constants, so that all who
// ask may share it.
var loadOnce = sync.OnceValues(func() (*Gazetteer, error) { return open(places) })

func open(data []byte) (*Gazetteer, error) {
	table, err := packed.Decode(data)
	if err != nil {
		return nil, err
	}
	g := &Gazetteer{table: table, shards: foldNames(table)}
	g.qualifiers = readQualifiers(table)
	return g, nil
}

// Len is the number of places.
func (g *Gazetteer) Len() int { return g.table.Len() }

// place tells a row of the table.
func (g *Gazetteer) place(i int) Place {
	t := g.table
	region := t.Regions[t.Region[i]]
	country := t.Countries[region.Country]
	return Place{
		Name: t.Name(i), Region: region.Name, Country: country.Name, CountryCode: country.Code,
		LatDeg: degrees(t.Lat[i]), LonDeg: degrees(t.Lon[i]),
		ElevM: float64(t.ElevM[i]), ElevEstimated: t.Estimated[i],
		Zone: t.Zones[t.Zone[i]], Population: packed.People(t.Pop[i]),
	}
}

// degrees undoes the grid by a division, which gives the nearest float to the
// decimal figure where a product would show 53.330000000000005.
func degrees(steps int32) float64 { return float64(steps) / 1000 }
