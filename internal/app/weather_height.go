package app

import (
	"fmt"
	"math"
	"time"

	"haulm/internal/climatology"
	"haulm/internal/weather"
)

// asMeasured ends the reference of a fetched record that is to stay as the
// station measured it, whatever the garden's height.
const asMeasured = " as measured"

// leastRiseM is the least difference in height that is looked at: 10 m change
// the temperature by less than a thermometer tells.
const leastRiseM = 10.0

// KeepFetched keeps a fetched record with the garden and lets the garden grow
// in it, brought to the garden's height unless it is to be left as measured, or
// nobody knows how high the station stands.
func (d *Desk) KeepFetched(f *Fetched, leave bool) error {
	ref := f.Station.ID
	if leave || f.Station.ElevM == nil {
		ref += asMeasured
	}
	return d.KeepRecord(ref, f.Record)
}

// toGarden puts a record in the garden: sun, day length and air pressure are
// those of the garden's own site. A fetched record, which is kept under its
// station's identifier, is also brought to the garden's height; the record's
// source then says so. Any other is taken to be of the garden itself.
func toGarden(rec *weather.Record, ref string, garden weather.Site) {
	from := rec.Site
	rec.Site = garden
	up := garden.ElevM - from.ElevM
	if rec.Station == "" || rec.Station != ref || math.Abs(up) < leastRiseM {
		return
	}
	sum := 0.0
	var colder [12]float64
	for m := range colder {
		colder[m] = up / 1000 * climatology.LapseCPerKM(garden.LatDeg, time.Month(m+1))
		sum += colder[m]
	}
	for i := range rec.Days() {
		c := colder[rec.Start.Add(i).Month()-1]
		rec.TminC[i] -= c
		rec.TmaxC[i] -= c
	}
	rec.Source = heightWords(rec.Source, up, sum/12)
}

func heightWords(source string, up, colder float64) string {
	side, change := "above", "colder"
	if up < 0 {
		side, change = "below", "warmer"
	}
	words := fmt.Sprintf("the garden lies %.0f m %s the station, so every temperature was made %.1f °C %s on average, by month after Kunkel (1989); a cold hollow or a warm slope it can not know",
		math.Abs(up), side, math.Abs(colder), change)
	if source == "" {
		return words
	}
	return source + "; " + words
}
