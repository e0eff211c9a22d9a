package sun

import (
	"math"
	"strings"
	"testing"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/sharedfolder"
)

// TestReferenceVectors runs every row of the reference table sun.csv; each row
// names its own source (FAO-56 examples, NREL SPA, USNO, Meeus, geometry).
func TestReferenceVectors(t *testing.T) {
	rows := sharedfolder.Rows(t, "reference/models/sun.csv")
	if len(rows) < 80 {
		t.Fatalf("only %d rows", len(rows))
	}
	for _, row := range rows {
		t.Run(row["id"], func(t *testing.T) {
			got, want := vector(t, row)
			allowed := tolerance(t, row["tolerance"], len(got))
			for i := range got {
				if math.IsNaN(got[i]) || math.Abs(got[i]-want[i]) > allowed[i]*math.Max(1, relative(row, i)*want[i]) {
					t.Errorf("%s %s (%s)\n got %v want %v, allowed %v", row["function"], row["inputs"], row["source"], got, want, row["tolerance"])
				}
			}
		})
	}
}

// relative is 1 where the row's tolerance is a share of the value.
func relative(row map[string]string, i int) float64 {
	if row["function"] == "wall_shadow_at_time" && i >= 2 {
		return 1
	}
	return 0
}

func tolerance(t *testing.T, s string, n int) []float64 {
	t.Helper()
	switch {
	case s == "exact":
		return make([]float64, n)
	case s == "0.05 deg, 1 %":
		return []float64{0.05, 0.05, 0.01, 0.01}
	case strings.HasSuffix(s, " s"):
		return []float64{number(t, strings.TrimSuffix(s, " s"))}
	case strings.HasSuffix(s, " min"):
		return []float64{60 * number(t, strings.TrimSuffix(s, " min"))}
	}
	out := make([]float64, n)
	for i := range out {
		out[i] = number(t, s)
	}
	return out
}

// vector computes one row: what we get and what the source has.
func vector(t *testing.T, row map[string]string) (got, want []float64) {
	t.Helper()
	in := inputs(t, row["inputs"])
	num := func(name string) float64 { return number(t, in(name)) }
	switch f := row["function"]; {
	case strings.HasPrefix(f, "sunrise_sunset"):
		d := dayAt(date(t, in("date")), num("lat"), num("lon"))
		return []float64{float64(d.Light)}, []float64{float64(map[string]light{"up all day": upAllDay, "down all day": downAllDay}[row["expected"]])}
	case strings.HasPrefix(f, "sunrise_"), strings.HasPrefix(f, "transit_"), f != "sunset_hour_angle" && strings.HasPrefix(f, "sunset_"):
		d := dayAt(date(t, in("date")), num("lat"), num("lon"))
		event := map[string]time.Time{"sunrise": d.Rise, "transit": d.Noon, "sunset": d.Set}[strings.SplitN(f, "_", 2)[0]]
		wanted := clock(t, in("date"), row["expected"], zone(t, f))
		return []float64{event.Sub(wanted).Seconds()}, []float64{0}
	case f == "wall_shadow" || f == "wall_shadow_at_time":
		return wallVector(t, row["expected"], f, num, in)
	case f == "shadow_length_noon":
		return []float64{ShadowLengthM(num("obstacle_height"), NoonElevationDeg(num("lat"), num("decl")))}, []float64{number(t, row["expected"])}
	}
	return []float64{scalar(t, row, num, in)}, []float64{number(t, row["expected"])}
}

// wallVector takes of a wall's shadow its length alone; which way it points and
// how far it reaches square to the wall is not asked here.
func wallVector(t *testing.T, expected, function string, num func(string) float64, in func(string) string) (got, want []float64) {
	t.Helper()
	e := inputs(t, expected)
	wanted := func(name string) float64 { return number(t, e(name)) }
	if function == "wall_shadow" {
		return []float64{ShadowLengthM(num("H"), num("sun_alt"))}, []float64{wanted("L")}
	}
	p := positionAt(instant(t, in("utc")), num("lat"), num("lon"))
	return []float64{p.ElevationDeg, p.AzimuthDeg, ShadowLengthM(num("H"), p.ElevationDeg)},
		[]float64{wanted("alt"), wanted("az"), wanted("L")}
}

func scalar(t *testing.T, row map[string]string, num func(string) float64, in func(string) string) float64 {
	t.Helper()
	position := func() position { return positionAt(instant(t, in("utc")), num("lat"), num("lon")) }
	switch row["function"] {
	case "dr":
		return DistanceFactor(int(num("J")))
	case "declination":
		return DeclinationRad(int(num("J")))
	case "sunset_hour_angle":
		return SunsetAngleRad(num("lat"), int(num("J")))
	case "Ra":
		return ExtraterrestrialMJ(num("lat"), int(num("J")))
	case "daylight_N":
		return DayLengthH(num("lat"), int(num("J")))
	case "julian_day":
		return julianDay(instant(t, in("utc")))
	case "elevation_no_refraction":
		return position().ElevationDeg
	case "elevation_refracted":
		return position().ApparentDeg
	case "azimuth_from_N_clockwise":
		return position().AzimuthDeg
	case "hour_angle":
		return position().HourAngleDeg
	case "sun_true_longitude":
		return degrees(ephemerisAt(num("JDE")).trueLongitude)
	case "sun_apparent_longitude":
		return degrees(ephemerisAt(num("JDE")).apparentLongitude)
	case "sun_radius_vector":
		return ephemerisAt(num("JDE")).radiusAU
	case "sun_declination", "equation_of_time":
		return ofEphemeris(t, row, num, in)
	}
	t.Fatalf("the harness does not know %q: add it", row["function"])
	return 0
}

// ofEphemeris serves the rows that give a Julian day and those that give a time.
func ofEphemeris(t *testing.T, row map[string]string, num func(string) float64, in func(string) string) float64 {
	t.Helper()
	var e ephemeris
	if strings.HasPrefix(row["inputs"], "JDE=") {
		e = ephemerisAt(num("JDE"))
	} else {
		e = ephemerisAt(julianDay(instant(t, in("utc"))))
	}
	if row["function"] == "equation_of_time" {
		return e.equationOfTimeMin()
	}
	return degrees(e.declinationRad())
}

func date(t *testing.T, s string) calendar.Date {
	t.Helper()
	d, err := calendar.Parse(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// zone is the hours east of Greenwich that a function or quantity name ends in.
func zone(t *testing.T, name string) float64 {
	t.Helper()
	suffix := name[strings.LastIndexByte(name, '_')+1:]
	switch strings.ToUpper(suffix) {
	case "UTC":
		return 0
	case "MST", "UTC-7":
		return -7
	case "UTC-5":
		return -5
	case "NZDT":
		return 13
	}
	t.Fatalf("the harness does not know the zone %q: add it", suffix)
	return 0
}

func clock(t *testing.T, day, hms string, zoneH float64) time.Time {
	t.Helper()
	if len(hms) == len("15:04") {
		hms += ":00"
	}
	return instant(t, day+"T"+hms).Add(-time.Duration(zoneH * float64(time.Hour)))
}
