package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"haulm/internal/place/internal/packed"
)

// row is a line of the GeoNames "geoname" table, as far as it is used.
type row struct {
	name      string
	others    []string
	lat, lon  float64
	feature   string // GeoNames feature code: PPL, PPLC, PPLX …
	country   string
	admin1    string
	admin2    string
	people    int
	elevM     int
	hasHeight bool
	estimated bool
	zone      string
}

// noHeight is GeoNames's mark in the dem column where its height models have a gap.
const noHeight = -9999

// agreeM is how far the recorded height may lie from the height model's and
// still be taken. Past it the record is mostly a slip: of the 769 such rows many
// are feet, a digit too many or another place's height (Ordos 2149 m, on a
// plain at 1310 m).
const agreeM = 50

func readFile[T any](path string, read func(io.Reader) (T, error)) (T, error) {
	file, err := os.Open(path)
	if err != nil {
		var none T
		return none, err
	}
	defer file.Close()
	value, err := read(file)
	if err != nil {
		return value, fmt.Errorf("%s: %w", path, err)
	}
	return value, nil
}

// readPlaces reads the tab-separated GeoNames form (19 columns, see the readme
// of the GeoNames download).
func readPlaces(r io.Reader) (rows []row, err error) {
	lines := bufio.NewScanner(r)
	lines.Buffer(nil, 1<<20)
	for number := 1; lines.Scan(); number++ {
		if strings.TrimSpace(lines.Text()) == "" {
			continue
		}
		place, err := readPlace(strings.Split(lines.Text(), "\t"))
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", number, err)
		}
		rows = append(rows, place)
	}
	return rows, lines.Err()
}

func readPlace(f []string) (row, error) {
	if len(f) != 19 {
		return row{}, fmt.Errorf("%d columns, not 19", len(f))
	}
	place := row{name: strings.TrimSpace(f[1]), feature: f[7], country: f[8], admin1: f[10], admin2: f[11], zone: f[17]}
	if f[3] != "" {
		place.others = strings.Split(f[3], ",")
	}
	var faults [4]error
	place.lat, faults[0] = strconv.ParseFloat(f[4], 64)
	place.lon, faults[1] = strconv.ParseFloat(f[5], 64)
	place.people, faults[2] = strconv.Atoi(f[14])
	model, fault := strconv.Atoi(f[16])
	faults[3] = fault
	for _, fault := range faults {
		if fault != nil {
			return row{}, fmt.Errorf("%s: %w", place.name, fault)
		}
	}
	recorded, err := strconv.Atoi(f[15])
	place.elevM, place.hasHeight = height(recorded, err == nil, model)
	return place, nil
}

// height takes the surveyed height where the height model bears it out, else
// the model's (SRTM 3″ or GTOPO30, GeoNames column dem).
func height(recorded int, isRecorded bool, model int) (metres int, known bool) {
	off := recorded - model
	switch {
	case model == noHeight:
		return recorded, isRecorded
	case isRecorded && -agreeM <= off && off <= agreeM:
		return recorded, true
	}
	return model, true
}

// readDivisions maps GeoNames division codes ("US.IL", "GB.ENG.G5") to names.
func readDivisions(folder string) (map[string]string, error) {
	names := map[string]string{}
	for _, file := range []string{"admin1.json", "admin2.json"} {
		list, err := readFile(filepath.Join(folder, file), func(r io.Reader) (list []struct{ Code, Name string }, err error) {
			return list, json.NewDecoder(r).Decode(&list)
		})
		if err != nil {
			return nil, err
		}
		for _, division := range list {
			names[division.Code] = division.Name
		}
	}
	return names, nil
}

// readCountries reads countries.tsv in its own order.
func readCountries(r io.Reader) (countries []packed.Country, err error) {
	lines := bufio.NewScanner(r)
	for lines.Scan() {
		if strings.HasPrefix(lines.Text(), "#") {
			continue
		}
		f := strings.Split(lines.Text(), "\t")
		if len(f) != 3 || len(f[0]) != 2 || f[1] == "" {
			return nil, fmt.Errorf("not code, name, other names: %q", lines.Text())
		}
		country := packed.Country{Code: f[0], Name: f[1]}
		if f[2] != "" {
			country.Other = strings.Split(f[2], ";")
		}
		countries = append(countries, country)
	}
	return countries, lines.Err()
}
