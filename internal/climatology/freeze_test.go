package climatology

import (
	"bufio"
	"slices"
	"strconv"
	"strings"
	"testing"

	"haulm/internal/sharedfolder"
	"haulm/internal/weather"
)

// freezes are the dates of a cold season (1 August to 31 July) that NCEI gives
// for 32 °F, as days after 1 August.
type freezes struct {
	last50, last90   float64 // later in 50 and in 90 years of 100
	first50, first90 float64 // earlier in 50 and in 90 years of 100
}

// freezeStation is a station of the U.S. Climate Normals 1981–2010.
type freezeStation struct {
	id, state string
	site      weather.Site
	want      freezes
}

// readFreezes gives the stations that have all four dates. Those that freeze
// in every month have none (-4444), nor have those that never do (-6666).
// Rarely freezing places have dates too: they are those of the winters with
// frost (the dates at the 50 and 90 % of Berkeley and Key West could not be
// otherwise).
func readFreezes(t testing.TB) []freezeStation {
	t.Helper()
	file := func(name string) string {
		return sharedfolder.Path(t, "data", "weather", "normals", "1981-2010_"+name+".txt.gz")
	}
	stations := map[string]*freezeStation{}
	lines := bufio.NewScanner(gunzip(t, file("allstations")))
	for lines.Scan() {
		f := strings.Fields(lines.Text())
		stations[f[0]] = &freezeStation{id: f[0], state: f[4], site: weather.Site{LatDeg: number(t, f[1]), LonDeg: number(t, f[2]), ElevM: number(t, f[3])}}
	}
	known := map[string]int{}
	read := func(name string, at func(*freezes) *float64) {
		lines := bufio.NewScanner(gunzip(t, file("ann-tmin-"+name)))
		for lines.Scan() {
			f := strings.Fields(lines.Text())
			if strings.HasPrefix(f[1], "-") {
				continue
			}
			*at(&stations[f[0]].want) = float64(seasonDay(number(t, f[1][:2]), number(t, f[1][3:5])))
			known[f[0]]++
		}
	}
	read("prblst-t32Fp50", func(f *freezes) *float64 { return &f.last50 })
	read("prblst-t32Fp90", func(f *freezes) *float64 { return &f.last90 })
	read("prbfst-t32Fp50", func(f *freezes) *float64 { return &f.first50 })
	read("prbfst-t32Fp90", func(f *freezes) *float64 { return &f.first90 })
	var out []freezeStation
	for id, n := range known {
		if s := stations[id]; n == 4 && s.site.ElevM > -500 {
			out = append(out, *s)
		}
	}
	slices.SortFunc(out, func(a, b freezeStation) int { return strings.Compare(a.id, b.id) })
	return out
}

func number(t testing.TB, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// seasonDay is the day of the cold season, 0 on 1 August, of a common year.
func seasonDay(month, day float64) int {
	d := int(day) - 1
	for m := range int(month) - 1 {
		d += seasonMonth[m]
	}
	return (d - firstOfAugust + 365) % 365
}

var seasonMonth = [12]int{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}

const firstOfAugust = 212
