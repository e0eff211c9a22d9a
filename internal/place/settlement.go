package place

import "haulm/internal/place/internal/packed"

// Settlement is where a place lies, how high, and how many people live there,
// without its name.
type Settlement struct {
	LatDeg, LonDeg float64
	ElevM          float64 // ground height
	ElevEstimated  bool    // as in Place
	Population     int     // to 4 %; 0 where it is not known
}

// EachSettlement shows every place of the gazetteer to visit, in no order that
// means anything. It unpacks the figures alone, in a fraction of what Load
// takes, and keeps nothing. It fails only if the program's file is damaged.
func EachSettlement(visit func(Settlement)) error {
	table, err := packed.DecodeFigures(places)
	if err != nil {
		return err
	}
	var people [256]int
	for code := range people {
		people[code] = packed.People(uint8(code))
	}
	for i := range table.Lat {
		visit(Settlement{
			LatDeg: degrees(table.Lat[i]), LonDeg: degrees(table.Lon[i]),
			ElevM: float64(table.ElevM[i]), ElevEstimated: table.Estimated[i], Population: people[table.Pop[i]],
		})
	}
	return nil
}
