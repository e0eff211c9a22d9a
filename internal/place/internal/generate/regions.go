package main

import (
	"slices"
	"strings"
)

// english mends names that GeoNames gives in another language, and those with
// an office's title in them.
var english = map[string]string{
	"Uíbh Fhailí": "County Offaly", "An Longfort": "County Longford", "An Cabhán": "County Cavan",
	"Dublin City": "County Dublin", "South Dublin": "County Dublin", "Fingal County": "County Dublin", "Dún Laoghaire-Rathdown": "County Dublin",
	"Cork City": "County Cork", "Galway City": "County Galway", "Limerick City and County Council": "County Limerick",
	"Sir Powys": "Powys",
}

// typed are the short codes that people write after a comma, for countries
// where GeoNames numbers its divisions. Postal codes of Canada (Canada Post) and
// Australia (Australia Post), from memory.
var typed = map[string]string{
	"CA.01": "AB", "CA.02": "BC", "CA.03": "MB", "CA.04": "NB", "CA.05": "NL", "CA.07": "NS", "CA.08": "ON",
	"CA.09": "PE", "CA.10": "QC", "CA.11": "SK", "CA.12": "YT", "CA.13": "NT", "CA.14": "NU",
	"AU.01": "ACT", "AU.02": "NSW", "AU.03": "NT", "AU.04": "QLD", "AU.05": "SA", "AU.06": "TAS", "AU.07": "VIC", "AU.08": "WA",
}

// regionOf is the division that a place is told and searched by.
func regionOf(r row, divisions map[string]string) (name, code string) {
	first := r.country + "." + r.admin1
	name = tidy(divisions[first], r.country)
	if code = typed[first]; code == "" && strings.IndexFunc(r.admin1, isDigit) < 0 && len(r.admin1) > 1 {
		code = r.admin1
	}
	county := tidy(divisions[first+"."+r.admin2], r.country)
	switch {
	case county == "" || county == r.name:
	case r.country == "IE":
		name = county
	case r.country == "GB":
		name = county + ", " + name
	}
	return name, code
}

func isDigit(letter rune) bool { return '0' <= letter && letter <= '9' }

// tidy takes an office's title off a division's name. In Great Britain and
// Ireland places are told by their county too, since England alone has nine
// Newports.
func tidy(name, country string) string {
	if better := english[name]; better != "" {
		return better
	}
	switch country {
	case "GB":
		for _, title := range []string{"City and ", "Royal ", "Metropolitan ", "County ", "Borough of ", "City of ", "District of ", "County of ", "of "} {
			if name != "County Durham" {
				name = strings.TrimPrefix(name, title)
			}
		}
		for _, title := range []string{" County Borough", " county borough", " City"} {
			name = strings.TrimSuffix(name, title)
		}
	case "IE":
		name = strings.TrimSuffix(name, " County")
		if name != "" && !slices.Contains(provinces, name) && !strings.HasPrefix(name, "County ") {
			name = "County " + name
		}
	}
	return name
}

var provinces = []string{"Leinster", "Munster", "Connacht", "Ulster"}
