package climatology

import (
	"math"

	gazetteer "haulm/internal/place"
)

// settlement is a town or village: where it stands, how high, how big.
type settlement struct {
	lat, lon float32
	heightM  float32 // NaN where it is not known
	people   float32
}

// settlements are those of the gazetteer, by half degrees. The relief of 10
// minutes does not show the valley that a village stands in; the heights of
// the villages around do. And towns keep their nights warm.
type settlements struct {
	all   []settlement
	first []int32 // of each cell, and one more for the end
}

const (
	cellsPerDegree = 2
	cellRows       = 180 * cellsPerDegree
	cellCols       = 360 * cellsPerDegree
)

func cellOf(latDeg, lonDeg float64) int {
	row := min(cellRows-1, max(0, int((latDeg+90)*cellsPerDegree)))
	col := int(math.Floor((lonDeg+180)*cellsPerDegree))%cellCols + cellCols
	return row*cellCols + col%cellCols
}

// loadSettlements sorts them into their cells.
func loadSettlements() (*settlements, error) {
	s := &settlements{first: make([]int32, cellRows*cellCols+2)}
	var read []settlement
	err := gazetteer.EachSettlement(func(p gazetteer.Settlement) {
		height := float32(p.ElevM)
		if p.ElevEstimated {
			height = float32(math.NaN())
		}
		read = append(read, settlement{float32(p.LatDeg), float32(p.LonDeg), height, float32(min(mostPeople, p.Population))})
		s.first[cellOf(p.LatDeg, p.LonDeg)+2]++
	})
	if err != nil {
		return nil, err
	}
	for i := 2; i < len(s.first); i++ {
		s.first[i] += s.first[i-1]
	}
	s.all = make([]settlement, len(read))
	for _, p := range read {
		next := &s.first[cellOf(float64(p.lat), float64(p.lon))+1]
		s.all[*next] = p
		*next++
	}
	return s, nil
}

// How far settlements tell (project choices, by the errors at stations left
// out: 5 or 8 km of townKM do within 0.1 day as well, and heights within 15
// or 30 km tell less than those within 8).
const (
	aroundKM    = 20.0   // heights beyond do not count,
	closeKM     = 4.7    // and count by a bell of this spread
	enough      = 0.2    // so many villages' worth of belief in no difference
	townKM      = 3.0    // people count less by 1/e every so far
	townReachKM = 40.0   // and not beyond
	hamlet      = 1000.0 // so many people begin to be a town
	mostPeople  = 100000 // a larger city's live too far out to count at its middle
)

// neighbourhood is what the settlements around tell of a place.
type neighbourhood struct {
	knollKM float64 // how far it lies above them; below: negative
	town    float64 // logarithm of 1 and the thousands of people around
}

func (s *settlements) around(latDeg, lonDeg, heightM float64) (n neighbourhood) {
	if s == nil {
		return n
	}
	var weight, sum, people float64
	s.within(latDeg, lonDeg, func(p settlement, km float64) {
		people += float64(p.people) * math.Exp(-km/townKM)
		if km < aroundKM && !math.IsNaN(float64(p.heightM)) {
			w := math.Exp(-km * km / (2 * closeKM * closeKM))
			weight += w
			sum += w * (heightM - float64(p.heightM))
		}
	})
	return neighbourhood{bound(sum/(weight+enough)/1000, 0.5), math.Log1p(people / hamlet)}
}

// within shows the settlements within townReachKM.
func (s *settlements) within(latDeg, lonDeg float64, visit func(p settlement, km float64)) {
	tall := townReachKM / kmPerDegree
	wide := min(180, tall/max(0.01, math.Cos(radians(math.Min(89, math.Abs(latDeg)+tall)))))
	const step = 1.0 / cellsPerDegree
	rows, cols := int(math.Ceil(tall/step)), min(cellCols/2, int(math.Ceil(wide/step)))
	for dy := -rows; dy <= rows; dy++ {
		lat := latDeg + float64(dy)*step
		if lat < -90 || lat >= 90 {
			continue
		}
		for dx := -cols; dx <= cols && dx < cellCols-cols; dx++ {
			cell := cellOf(lat, lonDeg+float64(dx)*step)
			for _, p := range s.all[s.first[cell]:s.first[cell+1]] {
				if km := distanceKM(latDeg, lonDeg, float64(p.lat), float64(p.lon)); km < townReachKM {
					visit(p, km)
				}
			}
		}
	}
}
