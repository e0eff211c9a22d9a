package climatology

import (
	_ "embed"
	"errors"
	"math"
	"sync"
)

//go:generate go test -run TestWorldFile -update .

//go:embed data/world.bin
var worldFile []byte

// World is the climatology, ready to be asked.
type World struct {
	points  []point
	index   map[[2]int][]int // points by whole degrees
	relief  relief
	settled *settlements
	degrees []degree
	daily   dailyModel
	regions regions
}

// point is one box of the 10-minute grid with its monthly figures.
type point struct {
	box     box
	lat     float64
	lon     float64
	heightM float64 // of the land of the box
	terms   []int16
}

func (p *point) year(f field) year {
	at := f.firstTerm()
	return f.months(p.terms[at : at+f.terms()])
}

// Load unpacks the climatology that is built in. It takes some tens of
// milliseconds; keep what it gives, which never changes, so that any number of
// goroutines may ask it.
func Load() (*World, error) {
	w, err := unpack()
	if err != nil {
		return nil, err
	}
	if w.daily, err = builtInModel(); err != nil {
		return nil, err
	}
	if w.regions, err = readRegions(regionFile); err != nil {
		return nil, err
	}
	return w, nil
}

// unpack makes ready all but the regressions. The settlements need nothing of
// the rest, so they unpack beside it.
func unpack() (*World, error) {
	var settled *settlements
	var missing error
	var beside sync.WaitGroup
	beside.Go(func() { settled, missing = loadSettlements() })
	w, err := decode(worldFile)
	if err == nil {
		w.prepare()
	}
	beside.Wait()
	if err = errors.Join(err, missing); err != nil {
		return nil, err
	}
	w.settled = settled
	return w, nil
}

// GroundM is the mean height of the land in the 10-minute box of a place, for
// where a person does not know theirs; ok is false at sea.
func (w *World) GroundM(latDeg, lonDeg float64) (metres float64, ok bool) {
	metres, land := w.relief.at(boxAt(latDeg, lonDeg))
	return math.Round(metres), land > 0
}

// prepare makes what is looked up for every place.
func (w *World) prepare() {
	w.index = map[[2]int][]int{}
	for i := range w.points {
		p := &w.points[i]
		p.lat, p.lon = p.box.middle()
		key := degreeOf(p.lat, p.lon)
		w.index[key] = append(w.index[key], i)
	}
	w.degrees = w.oneDegree()
}

func degreeOf(latDeg, lonDeg float64) [2]int {
	return [2]int{int(math.Floor(latDeg)), int(math.Floor(lonDeg))}
}

// neighbour is a point at a distance.
type neighbour struct {
	*point
	km float64
}

// near are the n nearest points (or all there are), nearest first.
func (w *World) near(latDeg, lonDeg float64, n int) []neighbour {
	var found []neighbour
	for reach := 1; reach <= 64; reach *= 2 {
		found = w.within(latDeg, lonDeg, reach)
		if len(found) >= n {
			break
		}
	}
	if len(found) == 0 { // the middle of an ocean, an ice cap
		for i := range w.points {
			p := &w.points[i]
			found = append(found, neighbour{p, distanceKM(latDeg, lonDeg, p.lat, p.lon)})
		}
	}
	sortByDistance(found)
	return found[:min(n, len(found))]
}

// within are the points at most reach degrees of latitude away.
func (w *World) within(latDeg, lonDeg float64, reach int) []neighbour {
	var found []neighbour
	wide := min(180, int(math.Ceil(float64(reach)/max(0.1, math.Cos(radians(latDeg))))))
	row, col := int(math.Floor(latDeg)), int(math.Floor(lonDeg))
	for dy := -reach; dy <= reach; dy++ {
		for dx := -wide; dx <= wide; dx++ {
			if dx == wide && wide == 180 {
				continue // the same meridian as -180
			}
			c := ((col+dx+180)%360+360)%360 - 180
			for _, i := range w.index[[2]int{row + dy, c}] {
				p := &w.points[i]
				if km := distanceKM(latDeg, lonDeg, p.lat, p.lon); km < kmPerDegree*float64(reach) {
					found = append(found, neighbour{p, km})
				}
			}
		}
	}
	return found
}
