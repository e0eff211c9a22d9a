package place

import (
	"cmp"
	"math"
	"slices"
)

// earthKM is the mean radius of the Earth (IUGG).
const earthKM = 6371.0088

// Near is a place and how far it is off.
type Near struct {
	Place
	KM float64 // along the great circle, on a sphere
}

// Nearest lists the n places closest to a point, the closest first. A point off
// the globe (or not a number) has none.
func (g *Gazetteer) Nearest(latDeg, lonDeg float64, n int) []Near {
	if !onGlobe(latDeg, lonDeg) || n <= 0 {
		return nil
	}
	closest := g.closest(latDeg, lonDeg, min(n, g.Len()))
	list := make([]Near, len(closest))
	for i, c := range closest {
		list[i].Place = g.place(c.place)
		list[i].KM = KM(latDeg, lonDeg, list[i].LatDeg, list[i].LonDeg)
	}
	slices.SortStableFunc(list, func(a, b Near) int { return cmp.Compare(a.KM, b.KM) }) // the chord is coarse below some metres
	return list
}

// candidate is a place and how far it is off.
type candidate struct {
	place int
	far   float64 // half of the squared chord, in radii: grows with the distance
}

// closest are the n places with the shortest chords, the shortest first.
func (g *Gazetteer) closest(latDeg, lonDeg float64, n int) []candidate {
	at := unit(latDeg, lonDeg)
	closest := make([]candidate, 0, n+1)
	for i := range g.table.Lat {
		// A place further north or south alone than the worst kept is passed over
		// without trigonometry.
		lat := degrees(g.table.Lat[i])
		if len(closest) == n {
			apart := (lat - latDeg) * math.Pi / 180
			if apart*apart/2*(1-apart*apart/12) > closest[n-1].far {
				continue
			}
		}
		far := 1 - dot(at, unit(lat, degrees(g.table.Lon[i])))
		if len(closest) == n && far >= closest[n-1].far {
			continue
		}
		to, _ := slices.BinarySearchFunc(closest, far, func(c candidate, far float64) int {
			if c.far <= far {
				return -1
			}
			return 1
		})
		closest = slices.Insert(closest, to, candidate{i, far})
		closest = closest[:min(n, len(closest))]
	}
	return closest
}

// KM is the great-circle distance of two points in kilometres, on a sphere of
// the Earth's mean radius (within 0.6 % of the ellipsoid's).
func KM(latDeg1, lonDeg1, latDeg2, lonDeg2 float64) float64 {
	const rad = math.Pi / 180
	half := func(degrees float64) float64 { s := math.Sin(degrees * rad / 2); return s * s }
	h := half(latDeg2-latDeg1) + math.Cos(latDeg1*rad)*math.Cos(latDeg2*rad)*half(lonDeg2-lonDeg1)
	return 2 * earthKM * math.Asin(min(1, math.Sqrt(h)))
}

func onGlobe(latDeg, lonDeg float64) bool {
	return latDeg >= -90 && latDeg <= 90 && lonDeg >= -180 && lonDeg <= 180
}

// unit is a point on the unit sphere.
func unit(latDeg, lonDeg float64) [3]float64 {
	sinLat, cosLat := math.Sincos(latDeg * math.Pi / 180)
	sinLon, cosLon := math.Sincos(lonDeg * math.Pi / 180)
	return [3]float64{cosLat * cosLon, cosLat * sinLon, sinLat}
}

func dot(a, b [3]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
