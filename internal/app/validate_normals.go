package app

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"time"

	"haulm/internal/climatology"
	"haulm/internal/fetch"
	"haulm/internal/grow"
	"haulm/internal/weather"
)

// normalsAt are a station's published means of 1961 to 1990 by month.
type normalsAt struct {
	name       string
	site       weather.Site
	minC, maxC [12]float64
}

// stationNormals reads the stations' means of the world climatology.
func stationNormals(shared string) ([]normalsAt, error) {
	const name = "data/climatology/cru_cl2_at_stations.csv.gz"
	text, err := readShared(shared, name, unpacked)
	if err != nil {
		return nil, err
	}
	table, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	at := map[string]int{}
	for i, name := range table[0] {
		at[name] = i
	}
	var all []normalsAt
	for _, cells := range table[1:] {
		number := func(name string) float64 {
			x, err := strconv.ParseFloat(cells[at[name]], 64)
			if err != nil {
				return math.NaN()
			}
			return x
		}
		n := normalsAt{name: cells[at["name"]], site: weather.Site{LatDeg: number("lat"), LonDeg: number("lon"), ElevM: number("elev_m")}}
		whole := n.site.ElevM
		for m := range 12 {
			n.minC[m], n.maxC[m] = number(fmt.Sprintf("tmn_%02d", m+1)), number(fmt.Sprintf("tmx_%02d", m+1))
			whole += n.minC[m] + n.maxC[m]
		}
		if !math.IsNaN(whole) {
			all = append(all, n)
		}
	}
	return all, nil
}

// nearestNormals is the station that speaks for a site, 100 m of height
// counting as 10 km; nil where none lies near enough.
func (w *trialWeather) nearestNormals(site weather.Site) (best *normalsAt, km float64) {
	least := math.Inf(1)
	for i := range w.normals {
		n := &w.normals[i]
		far, high := fetch.DistanceKM(n.site, site), math.Abs(n.site.ElevM-site.ElevM)
		if far > nearKM || high > nearHeightM {
			continue
		}
		if cost := far + high/10; cost < least {
			best, km, least = n, far, cost
		}
	}
	return best, km
}

// anchored is an estimate whose months are moved to the normals of the nearest
// station, shifted for height, so that a trial of the crop model is not a trial
// of the climatology as well. Its coldest nights, which are what the climatology
// was set by, stay as cold as they were. The words tell of it; they are empty
// where no station lies near.
func (w *trialWeather) anchored(estimate *weather.Record, site weather.Site) (rec *weather.Record, words string) {
	near, km := w.nearestNormals(site)
	if near == nil {
		return estimate, ""
	}
	moved := *estimate
	var lowTo, wider, highBy [12]float64
	lows, highs := monthMeans(estimate, estimate.TminC), monthMeans(estimate, estimate.TmaxC)
	coldest := monthQuantiles(estimate, estimate.TminC, coldNights)
	for m := range 12 {
		higherC := (near.site.ElevM - site.ElevM) / 1000 * climatology.LapseCPerKM(site.LatDeg, time.Month(m+1))
		lowTo[m], highBy[m] = near.minC[m]+higherC, near.maxC[m]+higherC-highs[m]
		wider[m] = math.Max(leastWider, (lowTo[m]-coldest[m])/(lows[m]-coldest[m]))
	}
	moved.TminC, moved.TmaxC = make([]float64, estimate.Days()), make([]float64, estimate.Days())
	for i := range moved.TminC {
		day := estimate.Start.Add(i).YearDay()
		low := onDay(lowTo, day) + onDay(wider, day)*(estimate.TminC[i]-onDay(lows, day))
		high := estimate.TmaxC[i] + onDay(highBy, day)
		moved.TminC[i], moved.TmaxC[i] = math.Min(low, high), math.Max(low, high)
	}
	return &moved, fmt.Sprintf(", its months moved to the normals of %s, %.0f km", near.name, km)
}

// The coldest nights of a month are its coldest hundredth; nights are never
// drawn closer together than by half.
const (
	coldNights = 0.01
	leastWider = 0.5
)

// monthQuantiles are the values of each month below which a share of its days
// lies.
func monthQuantiles(rec *weather.Record, values []float64, share float64) (at [12]float64) {
	var days [12][]float64
	for i, x := range values {
		m := rec.Start.Add(i).Month() - 1
		days[m] = append(days[m], x)
	}
	for m := range at {
		at[m] = grow.Quantile(days[m], share)
	}
	return at
}

// monthMeans are a record's means of each month over its years.
func monthMeans(rec *weather.Record, values []float64) (means [12]float64) {
	var counts [12]float64
	for i, x := range values {
		if m := rec.Start.Add(i).Month() - 1; !math.IsNaN(x) {
			means[m] += x
			counts[m]++
		}
	}
	for m := range means {
		means[m] /= counts[m]
	}
	return means
}

// onDay reads monthly figures on a day of the year, straight between mid-months.
func onDay(months [12]float64, day int) float64 {
	const month = 365.25 / 12
	at := float64(day)/month - 0.5
	if at < 0 {
		at += 12
	}
	m := int(at) % 12
	part := at - math.Floor(at)
	return months[m]*(1-part) + months[(m+1)%12]*part
}
