package fetch

import (
	"bufio"
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"

	"haulm/internal/place"
	"haulm/internal/readings"
	"haulm/internal/weather"
)

// Station is a station of GHCN-Daily that measures both temperatures.
type Station struct {
	ID        string
	Name      string
	Site      weather.Site // height 0 where HasHeight is false
	HasHeight bool

	DistanceKM          float64
	First, Last         int // years between which minima and maxima both stand
	RainFirst, RainLast int // the same for rain; 0 where there is none
}

// Years is how many years its temperatures span, gaps included.
func (s Station) Years() int { return s.Last - s.First + 1 }

// Wanted is what stations are looked for.
type Wanted struct {
	Site      weather.Site
	HasHeight bool // Site.ElevM is known
	Year      int  // this year: records that ended long ago count less
	Count     int  // how many to give
}

// farthestKM is where a station stops being of use for a garden. Project rule.
const farthestKM = 300

// The fixed columns of NCEI's two lists, GHCN-Daily readme, sections IV and
// VII; here as offsets.
const (
	idEnd                  = 11
	latAt, latEnd          = 12, 20
	lonAt, lonEnd          = 21, 30
	elevAt, elevEnd        = 31, 37
	stateAt, stateEnd      = 38, 40
	nameAt, nameEnd        = 41, 71
	elementAt, elementEnd  = 31, 35
	firstYearAt, firstYear = 36, 40
	lastYearAt, lastYear   = 41, 45
	noHeightM              = -999.9
	maxListLine            = 4096
	maxStations            = 2_000_000 // lines; the list has 130 thousand, the inventory 770
)

// readInventory finds in NCEI's ghcnd-inventory.txt the stations within reach
// that measure both temperatures, the most useful first. Their names and
// heights are not in it: see addNames.
func readInventory(r io.Reader, w Wanted) ([]Station, error) {
	found := map[string]*span{}
	err := listLines(r, func(line []byte) error {
		if len(line) < lastYear {
			return errors.New("the line is too short")
		}
		element, ok := readings.GHCNElement(string(line[elementAt:elementEnd]))
		if !ok {
			return nil
		}
		at, err := position(line)
		if err != nil {
			return err
		}
		km := DistanceKM(w.Site, at)
		if km > farthestKM {
			return nil
		}
		first, err1 := strconv.Atoi(string(line[firstYearAt:firstYear]))
		last, err2 := strconv.Atoi(string(line[lastYearAt:lastYear]))
		if err1 != nil || err2 != nil {
			return errors.New("its years are no numbers")
		}
		s := found[string(line[:idEnd])]
		if s == nil {
			s = &span{station: Station{ID: string(line[:idEnd]), Site: at, DistanceKM: km}}
			found[s.station.ID] = s
		}
		s.years[element] = [2]int{first, last}
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("the inventory of stations: %w", err)
	}
	var stations []Station
	for _, s := range found {
		if s.settle() {
			stations = append(stations, s.station)
		}
	}
	return w.best(stations), nil
}

// span gathers the first and last years of what a station measures.
type span struct {
	station Station
	years   [weather.Variables][2]int
}

// settle says whether both temperatures share a year.
func (s *span) settle() bool {
	low, high, rain := s.years[weather.Tmin], s.years[weather.Tmax], s.years[weather.Rain]
	if low[0] == 0 || high[0] == 0 {
		return false
	}
	s.station.First, s.station.Last = max(low[0], high[0]), min(low[1], high[1])
	s.station.RainFirst, s.station.RainLast = rain[0], rain[1]
	return s.station.First <= s.station.Last
}

// What makes one station less useful than another, in kilometres of distance
// that would be as bad. Project rules: they only order a list that is shown.
const (
	kmPerMetreUp    = 0.1 // 100 m of height cost 10 km
	kmPerYearShort  = 1.5 // each year short of the 30 of a normal
	kmPerYearStale  = 0.5 // each year since it stopped
	kmWithoutRain   = 10
	yearsOfNormal   = 30
	staleAfterYears = 2 // lists lag behind
)

func (w Wanted) cost(s Station) float64 {
	cost := s.DistanceKM + kmPerYearShort*float64(max(0, yearsOfNormal-s.Years()))
	if w.HasHeight && s.HasHeight {
		cost += kmPerMetreUp * math.Abs(s.Site.ElevM-w.Site.ElevM)
	}
	if w.Year > 0 {
		cost += kmPerYearStale * float64(max(0, w.Year-s.Last-staleAfterYears))
	}
	if s.RainFirst == 0 {
		cost += kmWithoutRain
	}
	return cost
}

// shortlist is how many stations are kept for their heights to be looked up.
const shortlist = 200

// best puts the most useful first and cuts the rest off.
func (w Wanted) best(stations []Station) []Station {
	w.sort(stations)
	return stations[:min(len(stations), max(w.Count, shortlist))]
}

func (w Wanted) sort(stations []Station) {
	slices.SortFunc(stations, func(a, b Station) int {
		return cmp.Or(cmp.Compare(w.cost(a), w.cost(b)), cmp.Compare(a.ID, b.ID))
	})
}

// addNames looks up names and heights in NCEI's ghcnd-stations.txt, and gives
// the w.Count most useful stations now that their heights are known.
func addNames(r io.Reader, stations []Station, w Wanted) ([]Station, error) {
	at := map[string]int{}
	for i, s := range stations {
		at[s.ID] = i
	}
	err := listLines(r, func(line []byte) error {
		if len(line) < elevEnd {
			return errors.New("the line is too short")
		}
		i, ok := at[string(line[:idEnd])]
		if !ok {
			return nil
		}
		return stations[i].describe(line)
	})
	if err != nil {
		return nil, fmt.Errorf("the list of stations: %w", err)
	}
	w.sort(stations)
	return stations[:min(len(stations), w.Count)], nil
}

// findStation looks one station up in NCEI's ghcnd-stations.txt.
func findStation(r io.Reader, id string) (Station, bool, error) {
	s := Station{ID: id}
	found := false
	err := listLines(r, func(line []byte) error {
		if len(line) < elevEnd || string(line[:idEnd]) != id {
			return nil
		}
		found = true
		return s.describe(line)
	})
	return s, found, err
}

// describe takes name and place from a line of the list of stations.
func (s *Station) describe(line []byte) error {
	at, err := position(line)
	if err != nil {
		return err
	}
	s.Site.LatDeg, s.Site.LonDeg = at.LatDeg, at.LonDeg
	elev, err := strconv.ParseFloat(field(line, elevAt, elevEnd), 64)
	if err != nil {
		return errors.New("its height is no number")
	}
	if s.HasHeight = elev > noHeightM && math.Abs(elev) < weather.HighestM; s.HasHeight {
		s.Site.ElevM = elev
	}
	s.Name = field(line, nameAt, nameEnd)
	if state := field(line, stateAt, stateEnd); state != "" {
		s.Name += ", " + state
	}
	return nil
}

// position is the place of a line of either list, without its height.
func position(line []byte) (at weather.Site, err error) {
	var err1, err2 error
	at.LatDeg, err1 = strconv.ParseFloat(field(line, latAt, latEnd), 64)
	at.LonDeg, err2 = strconv.ParseFloat(field(line, lonAt, lonEnd), 64)
	if err1 != nil || err2 != nil || !at.OnEarth() {
		return weather.Site{}, errors.New("its place is no latitude and longitude")
	}
	return at, nil
}

// field cuts fixed columns, as far as the line goes.
func field(line []byte, from, to int) string {
	if from >= len(line) {
		return ""
	}
	return string(bytes.TrimSpace(line[from:min(to, len(line))]))
}

// listLines visits every line of a list in bounded memory.
func listLines(r io.Reader, visit func(line []byte) error) error {
	in := bufio.NewScanner(r)
	in.Buffer(make([]byte, maxListLine), maxListLine)
	n := 0
	for in.Scan() {
		n++
		if n > maxStations {
			return fmt.Errorf("it has more than %d lines; it is not NCEI's", maxStations)
		}
		if len(bytes.TrimSpace(in.Bytes())) == 0 {
			continue
		}
		if err := visit(in.Bytes()); err != nil {
			return fmt.Errorf("line %d: %w; it is damaged or no list of NCEI's", n, err)
		}
	}
	if errors.Is(in.Err(), bufio.ErrTooLong) {
		return fmt.Errorf("line %d is too long; it is no list of NCEI's", n+1)
	}
	if n == 0 && in.Err() == nil {
		return errors.New("it is empty")
	}
	return in.Err()
}

// DistanceKM is the way between two sites along the ground, as place.KM says.
func DistanceKM(a, b weather.Site) float64 {
	return place.KM(a.LatDeg, a.LonDeg, b.LatDeg, b.LonDeg)
}
