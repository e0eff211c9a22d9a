package climatology

import "math"

// The lie of the land on a grid of 10 minutes of arc from 60° S to 84° N:
// mean height of the land of each box and how much of it is land.
const (
	perDegree  = 6
	southEdge  = -60 * perDegree
	reliefRows = 144 * perDegree
	reliefCols = 360 * perDegree
	boxKM      = kmPerDegree / perDegree
	fullLand   = 4 // quarters
)

// relief has a row for each 10 minutes north from 60° S, each row from 180° W
// eastwards.
type relief struct {
	height   []uint8 // see heightCode
	quarters []uint8 // of the box that are land, 0 to 4
}

// heightCode keeps heights to about 1 m near the sea and 20 m at 1,000 m.
func heightCode(metres float64) uint8 {
	return uint8(math.Round(min(255, 255*math.Sqrt(max(0, metres)/highest))))
}

func heightOf(code uint8) float64 { return heights[code] }

const highest = 7000

var heights = func() (h [256]float64) {
	for i := range h {
		h[i] = highest * float64(i) / 255 * float64(i) / 255
	}
	return h
}()

// box is a place on the grid of the whole world.
type box struct{ row, col int }

func boxAt(latDeg, lonDeg float64) box {
	return box{int(math.Floor(latDeg * perDegree)), wrapCol(int(math.Floor(lonDeg * perDegree)))}
}

func wrapCol(col int) int {
	return ((col+reliefCols/2)%reliefCols+reliefCols)%reliefCols - reliefCols/2
}

func (b box) middle() (latDeg, lonDeg float64) {
	return (float64(b.row) + 0.5) / perDegree, (float64(b.col) + 0.5) / perDegree
}

// at is the height of the land of a box and the share of it that is land.
func (r *relief) at(b box) (metres, land float64) {
	row := b.row - southEdge
	if row < 0 || row >= reliefRows || r.height == nil {
		return 0, 0
	}
	i := row*reliefCols + wrapCol(b.col) + reliefCols/2
	return heightOf(r.height[i]), float64(r.quarters[i]) / fullLand
}

// surroundings are what the land is like within some distance.
type surroundings struct {
	meanM, spreadM float64 // height of the land
	sea            float64 // share of the area
}

// around looks at the boxes within km.
func (r *relief) around(latDeg, lonDeg, km float64) surroundings {
	var sum, squares, weight, area float64
	reach := km / boxKM
	narrow := max(0.1, math.Cos(radians(latDeg)))
	y, x := latDeg*perDegree-0.5, lonDeg*perDegree-0.5
	for row := int(math.Floor(y - reach)); row <= int(math.Ceil(y+reach)); row++ {
		for col := int(math.Floor(x - reach/narrow)); col <= int(math.Ceil(x+reach/narrow)); col++ {
			away := math.Hypot(float64(row)-y, (float64(col)-x)*narrow)
			share := min(1, max(0, reach-away+0.5))
			if share == 0 {
				continue
			}
			metres, land := r.at(box{row, wrapCol(col)})
			area += share
			weight += share * land
			sum += share * land * metres
			squares += share * land * metres * metres
		}
	}
	if weight == 0 {
		return surroundings{sea: 1}
	}
	mean := sum / weight
	return surroundings{mean, math.Sqrt(max(0, squares/weight-mean*mean)), 1 - weight/area}
}

// sideKM is how far the sides are looked at for sea: about what the air
// travels in a day (project choice).
const sideKM = 700

// seaSides are the shares of sea to the west, to the east and poleward, near
// boxes counting more.
func (r *relief) seaSides(latDeg, lonDeg float64) (west, east, pole float64) {
	const step = 37.0        // km
	var area, sea [4]float64 // west, east, north, south
	for dy := -sideKM + 3.0; dy <= sideKM; dy += step {
		lat := latDeg + dy/kmPerDegree
		if math.Abs(lat) > 89 {
			continue
		}
		kmEast := kmPerDegree * max(0.1, math.Cos(radians(lat)))
		for dx := -sideKM + 3.0; dx <= sideKM; dx += step {
			if dx*dx+dy*dy > sideKM*sideKM {
				continue
			}
			_, land := r.at(boxAt(lat, lonDeg+dx/kmEast))
			weight := math.Exp(-2 * (dx*dx + dy*dy) / (sideKM * sideKM))
			add := func(side int) {
				area[side] += weight
				sea[side] += weight * (1 - land)
			}
			if math.Abs(dy) <= 1.2*math.Abs(dx) {
				if dx < 0 {
					add(0)
				} else {
					add(1)
				}
			}
			if math.Abs(dx) < math.Abs(dy) {
				if dy > 0 {
					add(2)
				} else {
					add(3)
				}
			}
		}
	}
	share := func(side int) float64 {
		if area[side] == 0 {
			return 1
		}
		return sea[side] / area[side]
	}
	north := northness(latDeg)
	return share(0), share(1), north*share(2) + (1-north)*share(3)
}

// northness is 1 from 10° N on and 0 from 10° S on, so that what is told from
// the pole's side does not jump at the equator.
func northness(latDeg float64) float64 { return (1 + bound(latDeg/10, 1)) / 2 }

func radians(degrees float64) float64 { return degrees * math.Pi / 180 }

// kmPerDegree is how long a degree of latitude is on a round Earth.
const kmPerDegree = 111.2

// distanceKM is the distance of two places not far apart.
func distanceKM(lat1, lon1, lat2, lon2 float64) float64 {
	return kmPerDegree * math.Hypot(lat2-lat1, eastward(lon1, lon2)*math.Cos(radians((lat1+lat2)/2)))
}

// eastward is how many degrees east of the first longitude the second lies the
// short way round; west: negative.
func eastward(fromDeg, toDeg float64) float64 { return math.Mod(toDeg-fromDeg+540, 360) - 180 }
