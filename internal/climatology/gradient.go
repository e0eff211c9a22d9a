package climatology

import "math"

// Days differ most where air of very different warmth lies within a day's or
// two's travel. What the monthly figures tell of it is how the mean
// temperature, brought to sea level, changes over the land around.

// degree is the mean temperature of the points of one degree by one, brought
// to sea level.
type degree struct {
	lat, lon float64
	mean     year
}

// seaLevelC is the lapse rate for that, °C/km: the mean of lapseC is 6.9; over
// plateaus less, and 5.5 left the least step at the edge of the Rockies and the
// Alps (project choice).
const seaLevelC = 5.5

// oneDegree thins the points out to one a degree.
func (w *World) oneDegree() []degree {
	var out []degree
	var last [2]int
	n := 0.0
	finish := func() {
		if n > 0 {
			d := &out[len(out)-1]
			d.lat, d.lon = d.lat/n, d.lon/n
			for m := range 12 {
				d.mean[m] /= n
			}
		}
	}
	for i := range w.points { // in order of degrees, see encode
		p := &w.points[i]
		if key := degreeOf(p.lat, p.lon); i == 0 || key != last {
			finish()
			last, n = key, 0
			out = append(out, degree{})
		}
		d := &out[len(out)-1]
		n++
		d.lat += p.lat
		d.lon += p.lon
		low, high := p.year(tmin), p.year(tmax)
		for m := range 12 {
			d.mean[m] += (low[m]+high[m])/2 + p.heightM/1000*seaLevelC
		}
	}
	finish()
	return out
}

// Degrees around count by a bell of spread reachKM, and less where sea lies
// between, over which air takes the sea's warmth within a few hundred
// kilometres (project choices).
const (
	reachKM = 500
	overSea = 200 // km of sea that take all but 1/e of a degree's weight
)

// seaBetween is how much of the way is over sea, km.
func (r *relief) seaBetween(lat, lon float64, d *degree, km float64) float64 {
	const looks = 8
	dlon := eastward(lon, d.lon)
	sea := 0.0
	for i := range looks {
		along := (float64(i) + 0.5) / looks
		_, land := r.at(boxAt(lat+along*(d.lat-lat), lon+along*dlon))
		sea += (1 - land) * km / looks
	}
	return sea
}

// around fits a plane to the mean temperatures around the place, month by
// month, and measures how much colder and warmer than here they are.
func (p *place) around(degrees []degree, land *relief) {
	type seen struct {
		*degree
		x, y, weight float64 // 1,000 km east and poleward
	}
	var near []seen
	poleward := 2*northness(p.site.LatDeg) - 1
	for i := range degrees {
		d := &degrees[i]
		if math.Abs(d.lat-p.site.LatDeg) > 3*reachKM/kmPerDegree {
			continue
		}
		km := distanceKM(p.site.LatDeg, p.site.LonDeg, d.lat, d.lon)
		if km > 3*reachKM {
			continue
		}
		weight := math.Exp(-km*km/(2*reachKM*reachKM)-land.seaBetween(p.site.LatDeg, p.site.LonDeg, d, km)/overSea) * math.Cos(radians(d.lat))
		near = append(near, seen{d,
			eastward(p.site.LonDeg, d.lon) * (kmPerDegree / 1000) * math.Cos(radians((d.lat+p.site.LatDeg)/2)),
			poleward * (d.lat - p.site.LatDeg) * (kmPerDegree / 1000),
			weight})
	}
	for m := range 12 {
		here := p.mean[m] + p.site.ElevM/1000*seaLevelC
		plane := newPlane()
		var colder, warmer, total float64
		for _, s := range near {
			off := s.mean[m] - here
			plane.add(s.x, s.y, off, s.weight)
			total += s.weight
			if off < 0 {
				colder += s.weight * off * off
			} else {
				warmer += s.weight * off * off
			}
		}
		p.east[m], p.pole[m] = plane.slopes()
		p.colder[m], p.warmer[m] = math.Sqrt(colder/(total+0.1)), math.Sqrt(warmer/(total+0.1))
	}
}

// plane is the normal equations of z = a + bx + cy by weighted least squares.
type plane struct{ n, x, y, xx, xy, yy, z, xz, yz float64 }

// newPlane leans to a level plane as a little weight far out would, so that
// one lone point does not tilt it.
func newPlane() plane { return plane{n: 1e-3, xx: 0.3, yy: 0.3} }

func (p *plane) add(x, y, z, w float64) {
	p.n += w
	p.x += w * x
	p.y += w * y
	p.xx += w * x * x
	p.xy += w * x * y
	p.yy += w * y * y
	p.z += w * z
	p.xz += w * x * z
	p.yz += w * y * z
}

// slopes are b and c.
func (p *plane) slopes() (b, c float64) {
	xx, xy, yy := p.xx-p.x*p.x/p.n, p.xy-p.x*p.y/p.n, p.yy-p.y*p.y/p.n
	xz, yz := p.xz-p.x*p.z/p.n, p.yz-p.y*p.z/p.n
	det := xx*yy - xy*xy
	return (xz*yy - yz*xy) / det, (yz*xx - xz*xy) / det
}
