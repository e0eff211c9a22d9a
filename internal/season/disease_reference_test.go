package season

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"haulm/internal/sharedfolder"
)

var numbers = regexp.MustCompile(`-?[0-9]+(\.[0-9]+)?`)

func numbersIn(s string) []float64 {
	var out []float64
	for _, word := range numbers.FindAllString(s, -1) {
		v, _ := strconv.ParseFloat(word, 64)
		out = append(out, v)
	}
	return out
}

// The reference folder's vectors for Hutton, Smith, Wallin, DOWNCAST and the
// day-degrees of the carrot fly (disease_pest_weather.csv, ids di-01 to di-10).
func TestDiseaseVectors(t *testing.T) {
	done := map[string]int{}
	severity := 0
	for _, row := range sharedfolder.Rows(t, "reference/models/disease_pest_weather.csv") {
		in, want := row["inputs"], row["expected"]
		switch fn := row["function"]; fn {
		case "Hutton", "Smith":
			values := numbersIn(in[strings.Index(in, "["):])
			var days []HuttonDay
			for i := 0; i+1 < len(values); i += 2 {
				days = append(days, HuttonDay{values[i], int(values[i+1])})
			}
			got := Hutton(days)
			if fn == "Smith" {
				got = Smith(days)
			}
			var expect []int
			for _, v := range numbersIn(want[strings.Index(want, "["):]) {
				expect = append(expect, int(v))
			}
			if strings.HasPrefix(want, "trigger on") || strings.HasPrefix(want, "trigger:") {
				if !slices.Equal(got, expect) {
					t.Errorf("%s %s: got %v, want %v", row["id"], in, got, expect)
				}
				done[fn]++
			}
		case "Wallin_severity":
			hours, _ := strconv.Atoi(in[strings.Index(in, "=9")+len("=90=") : strings.Index(in, ";")])
			tempC := numbersIn(in[strings.Index(in, ";"):])[0]
			if got := WallinSeverity(hours, tempC); fmt.Sprint(got) != want {
				t.Errorf("%s %s: got %d, want %s", row["id"], in, got, want)
			}
			done[fn]++
		case "Wallin_cumulative":
			upTo := int(numbersIn(in[strings.Index(in, "index"):])[0])
			events := numbersIn(in[strings.Index(in, "["):strings.Index(in, "]")])
			severity = 0
			for i := 0; i <= upTo; i++ {
				severity += WallinSeverity(int(events[2*i]), events[2*i+1])
			}
			if fmt.Sprint(severity) != want {
				t.Errorf("%s up to %d: got %d, want %s", row["id"], upTo, severity, want)
			}
			done[fn]++
		case "DOWNCAST_sporulation":
			night := MildewNight{DayMeanC: 22, NightC: 15, HumidPC: []float64{95, 96, 97, 96}, KnownRain: true}
			switch {
			case strings.HasPrefix(in, "day mean 25"):
				night.DayMeanC = 25
			case strings.HasPrefix(in, "night T 3"):
				night.NightC = 3
			case strings.HasPrefix(in, "rain at"):
				night.RainMM = 0.2
			case strings.HasPrefix(in, "RH 93"):
				night.HumidPC[2] = 93
			}
			if got := MildewSpores(night); got != (want == "True") {
				t.Errorf("%s %s: got %v, want %s", row["id"], in, got, want)
			}
			done[fn]++
		}
	}
	for fn, least := range map[string]int{"Hutton": 7, "Smith": 7, "Wallin_severity": 17, "Wallin_cumulative": 8, "DOWNCAST_sporulation": 5} {
		if done[fn] < least {
			t.Errorf("only %d vectors of %s were read, want %d", done[fn], fn, least)
		}
	}
}

// Day-degrees of the carrot fly by the definition of NIBIO (di-10).
func TestCarrotFlyDayDegrees(t *testing.T) {
	sum, read := 0.0, 0
	for _, row := range sharedfolder.Rows(t, "reference/models/disease_pest_weather.csv") {
		if row["function"] != "carrot_fly_DD5_mean_method" {
			continue
		}
		in := row["inputs"][strings.Index(row["inputs"], "Tmin"):]
		v := numbersIn(in)
		sum += dayDegrees(v[0], v[1], 5, 0)
		want, _ := strconv.ParseFloat(row["expected"], 64)
		if math.Abs(sum-want) > 1e-6 {
			t.Errorf("%s: got %g, want %g", row["id"], sum, want)
		}
		read++
	}
	if read != 7 {
		t.Errorf("%d vectors read", read)
	}
}

// The flights' totals are those of the reference table.
func TestFlightsAreThoseOfTheReference(t *testing.T) {
	rows := sharedfolder.Rows(t, "reference/models/pest_degree_days.csv")
	for pest, event := range map[string]string{
		"Carrot fly": "carrot fly OWG first trap", "Cabbage root fly": "cabbage maggot gen1 adults", "Onion fly": "onion fly gen1 adults",
	} {
		i := slices.IndexFunc(flights(), func(f flight) bool { return f.pest == pest })
		j := slices.IndexFunc(rows, func(r map[string]string) bool { return r["event"] == event })
		if i < 0 || j < 0 {
			t.Errorf("%s or %s is missing", pest, event)
			continue
		}
		f := flights()[i]
		if fmt.Sprint(f.needCDay) != strings.TrimSuffix(rows[j]["degree_days_C"], ".0") || fmt.Sprint(f.baseC) != rows[j]["base_C"] {
			t.Errorf("%s: %g above %g, the reference has %s above %s", pest, f.needCDay, f.baseC, rows[j]["degree_days_C"], rows[j]["base_C"])
		}
	}
}
