package readings

import (
	"errors"
	"strings"
)

// format is one way in which daily weather is written down.
type format struct {
	name  string
	sniff func(head string) bool // does a file that starts like this claim to be it
	read  func(*lines, *builder) error
}

// formats lists what can be read, most telling first; the plain CSV takes
// what has a header and claims to be nothing else.
func formats() []format {
	return []format{
		{"GHCN-Daily .dly", dlyHead.MatchString, readDly},
		{"NCEI by-station CSV", nceiLongHead.MatchString, readNCEILong},
		{"NCEI daily summaries CSV", nceiWideHead.MatchString, readNCEIWide},
		{"KNMI daily text", knmiHead.MatchString, readKNMI},
		{"Met Éireann daily CSV", metEireannHead.MatchString, readMetEireann},
		{"DSSAT weather file", dssatHead.MatchString, readDSSAT},
		{"BoM single-element CSV", bomHead.MatchString, refusePart},
		{"ECA&D single-element text", ecadHead.MatchString, refusePart},
		{"ECA&D sheet (°C, mm, W/m²)", londonHead.MatchString, readLondon},
		{"ECA&D sheet of several stations", sheetHead.MatchString, refuseSheet},
		{"EPW hourly", epwHead.MatchString, readEPW},
		{"Met Éireann hourly CSV", irishHourHead.MatchString, readHours(irishHours)},
		{"hourly CSV", hourCSVHead.MatchString, readHours(csvHours)},
		{"Met Office monthly text", monthlyHead.MatchString, refuseMonthly},
		{"SENAMHI daily text", senamhiHead.MatchString, readSENAMHI},
		{"plain CSV", plainHead, readPlain},
	}
}

var (
	dlyHead        = newPattern(`^[A-Z]{2}[A-Z0-9_-]{9}\d{6}[A-Z0-9]{4}[ 0-9-]{5}`)
	nceiLongHead   = newPattern(`^(ID,DATE,ELEMENT,|"?[A-Z]{2}[A-Z0-9_-]{9}"?,"?\d{8}"?,"?[A-Z0-9]{4}"?,)`)
	nceiWideHead   = newPattern(`^"?STATION"?,"?DATE"?,"?LATITUDE"?,"?LONGITUDE"?,"?ELEVATION"?,"?NAME"?,`)
	knmiHead       = newPattern(`(?s)(KNMI|(?i:Koninklijk Nederlands)).*YYYYMMDD`)
	metEireannHead = newPattern(`(?im)^date,.*\bmaxtp,.*\bmintp,`)
	dssatHead      = newPattern(`(?m)^[*$]WEATHER`)
	bomHead        = newPattern(`^Product code,.*Bureau of Meteorology station number,`)
	senamhiHead    = newPattern(`^\s*(1[89]|20)\d\d\s+\d{1,2}\s+\d{1,2}(\s+-?\d+(\.\d+)?){3}\s*[\r\n]`)
)

// plainHead: a first line that is not a comment and holds letters.
func plainHead(head string) bool {
	for line := range strings.Lines(head) {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		return strings.ContainsFunc(line, func(r rune) bool { return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' })
	}
	return true
}

func formatOf(head string) (format, error) {
	text := strings.TrimLeft(head, " \t\r\n")
	for _, f := range formats() {
		if f.sniff(text) {
			return f, nil
		}
	}
	return format{}, errors.New("the file has no header that names its columns and is in no known format; " + rightHeader)
}

// rightHeader tells how to make any table readable.
const rightHeader = "start it with the line date,tmin_c,tmax_c,rain_mm (°C and mm) or date,tmin_f,tmax_f,rain_in (°F and inches), or say what stands in which column with haulm weather convert FILE --columns"
