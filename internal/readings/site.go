package readings

import (
	"math"
	"strconv"

	"haulm/internal/weather"
)

// placeOf reads a latitude and a longitude, degrees, north and east positive.
func placeOf(latDeg, lonDeg string) (site weather.Site, ok bool) {
	var err1, err2 error
	site.LatDeg, err1 = strconv.ParseFloat(latDeg, 64)
	site.LonDeg, err2 = strconv.ParseFloat(lonDeg, 64)
	if err1 != nil || err2 != nil || !site.OnEarth() {
		return weather.Site{}, false
	}
	return site, true
}

// heightOf reads a height in metres; 0 where it is none.
func heightOf(text string) (metres float64, ok bool) {
	metres, err := strconv.ParseFloat(text, 64)
	if err != nil || !isHeight(metres) {
		return 0, false
	}
	return metres, true
}

func isHeight(metres float64) bool { return math.Abs(metres) < weather.HighestM }
