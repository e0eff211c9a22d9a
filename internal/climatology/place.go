package climatology

import (
	"cmp"
	"math"
	"slices"
	"time"

	"haulm/internal/weather"
)

// How points are weighed for a place. The figures belong to boxes 18 km wide,
// so points nearer than blurKM do not count more; a point 100 m higher or
// lower counts as heightKM further off, and one on another kind of coast as
// coastKM further, which keeps a valley from its ridges and a shore from its
// hinterland. The weights of the closest set fall with the square of that
// distance (project choices; halving or doubling any of them moved the check
// against freeze dates by less than half a day).
const (
	pointsUsed = 12
	blurKM     = 10.0
	heightKM   = 10.0
	coastKM    = 60.0
)

// lapseC is how much colder it is 1 km higher, by month of the northern year:
// Kunkel (1989, J. Climate 2), as tabled by Liston & Elder (2006, J.
// Hydrometeorology 7, table 1).
var lapseC = year{4.4, 5.9, 7.1, 7.8, 8.1, 8.2, 8.1, 8.1, 7.7, 6.8, 5.5, 4.7}

// lapse is that of a month at a place: the south's is half a year off, and
// near the equator it is the year's mean.
func lapse(latDeg float64, month int) float64 {
	mean := lapseC.mean()
	seasonal := min(1, math.Abs(latDeg)/25)
	if latDeg < 0 {
		month = (month + 6) % 12
	}
	return mean + seasonal*(lapseC[month]-mean)
}

// LapseCPerKM is how much colder it is 1 km higher in a month, on average over
// days and nights, °C: Kunkel (1989), as lapseC says.
func LapseCPerKM(latDeg float64, month time.Month) float64 { return lapse(latDeg, int(month)-1) }

// place is a site with what the climatology says of it.
type place struct {
	site weather.Site
	year [fields]year
	land landscape
	mean year // of day and night, °C

	range_, meanC  float64 // of mean: warmest less coldest month, °C; the year's
	east, pole     year    // gradient of mean at sea level, °C per 1,000 km
	colder, warmer year    // how much colder or warmer the air around is, °C

	near neighbourhood

	region region // shift that the regressions leave

	basis Basis
}

// landscape is the land around a place.
type landscape struct {
	valleyKM             float64 // above the land within 15 km; below it: negative
	hollowKM             float64 // and within 40 km
	roughKM              float64 // spread of heights within 40 km
	shore, coast         float64 // share of sea within 20 and 80 km
	west, east, poleward float64 // share of sea to the sides
}

func (r *relief) landscape(site weather.Site) landscape {
	close, wide := r.around(site.LatDeg, site.LonDeg, 15), r.around(site.LatDeg, site.LonDeg, 40)
	l := landscape{
		valleyKM: (site.ElevM - close.meanM) / 1000,
		hollowKM: (site.ElevM - wide.meanM) / 1000,
		roughKM:  wide.spreadM / 1000,
		shore:    r.around(site.LatDeg, site.LonDeg, 20).sea,
		coast:    r.around(site.LatDeg, site.LonDeg, 80).sea,
	}
	if close.sea == 1 { // an islet too small for the grid
		l.valleyKM, l.hollowKM = 0, 0
	}
	l.west, l.east, l.poleward = r.seaSides(site.LatDeg, site.LonDeg)
	return l
}

// placeAt works out a place.
func (w *World) placeAt(site weather.Site) *place {
	p := &place{site: site, land: w.relief.landscape(site)}
	near := w.near(site.LatDeg, site.LonDeg, pointsUsed)
	weights := make([]float64, len(near))
	total := 0.0
	for i, n := range near {
		weights[i] = 1 / w.apart(p, n)
		total += weights[i]
	}
	for i, n := range near {
		share := weights[i] / total
		up := (n.heightM - site.ElevM) / 1000
		for f := range fields {
			figures := n.year(f)
			for m := range 12 {
				if f == tmin || f == tmax {
					figures[m] += up * lapse(site.LatDeg, m)
				}
				p.year[f][m] += share * figures[m]
			}
		}
		p.basis.add(n, share, site)
	}
	p.season()
	p.around(w.degrees, &w.relief)
	p.near = w.settled.around(site.LatDeg, site.LonDeg, site.ElevM)
	p.region = w.regions.at(site.LatDeg, site.LonDeg)
	return p
}

// apart is the square of a point's distance with the height and the coast put
// in, km².
func (w *World) apart(p *place, n neighbour) float64 {
	up := (n.heightM - p.site.ElevM) / 100 * heightKM
	coast := (w.relief.around(n.lat, n.lon, 20).sea - p.land.shore) * coastKM
	return n.km*n.km + up*up + coast*coast + blurKM*blurKM
}

func sortByDistance(found []neighbour) {
	slices.SortStableFunc(found, func(a, b neighbour) int { return cmp.Compare(a.km, b.km) })
}

// season works out the mean of day and night.
func (p *place) season() {
	for m := range 12 {
		p.mean[m] = (p.year[tmin][m] + p.year[tmax][m]) / 2
	}
	p.range_, p.meanC = p.mean.span(), p.mean.mean()
}

// phase is where in its year a month stands: about -1 in the coldest, 1 in the
// warmest.
func (p *place) phase(m int) float64 { return (p.mean[m] - p.meanC) / (p.range_/2 + 1) }

// turn is how fast the year turns in a month: positive in spring.
func (p *place) turn(m int) float64 {
	return (p.mean[(m+1)%12] - p.mean[(m+11)%12]) / (p.range_/2 + 1)
}

// rise is the daily range, °C.
func (p *place) rise(m int) float64 { return p.year[tmax][m] - p.year[tmin][m] }
