package place

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"haulm/internal/place/internal/spelling"
	"haulm/internal/sharedfolder"
)

// comparison gathers how far heights lie off a list of stations.
type comparison struct {
	g      *Gazetteer
	byName map[string][]int
	off    []float64
	apart  []float64
}

func newComparison(g *Gazetteer) *comparison {
	c := &comparison{g: g, byName: map[string][]int{}}
	for i := range g.Len() {
		for name := range strings.SplitSeq(g.table.Line(i), "\t") {
			folded := spelling.String(name)
			c.byName[folded] = append(c.byName[folded], i)
		}
	}
	return c
}

// compare looks a station up by its whole name among the places of its country
// (and region, by code, if given) within 10 km, and notes the height's difference.
func (c *comparison) compare(name, country, region string, lat, lon, elevM float64) {
	for _, i := range c.byName[spelling.String(name)] {
		p := c.g.place(i)
		code := c.g.table.Regions[c.g.table.Region[i]].Code
		if p.CountryCode == country && (region == "" || code == region) && KM(lat, lon, p.LatDeg, p.LonDeg) < 10 {
			c.off = append(c.off, p.ElevM-elevM)
			c.apart = append(c.apart, math.Abs(p.ElevM-elevM))
			return
		}
	}
}

func (c *comparison) check(t *testing.T, source string, atLeast int, bias, median, ninth float64) {
	t.Helper()
	slices.Sort(c.off)
	slices.Sort(c.apart)
	n := len(c.apart)
	if n < atLeast {
		t.Fatalf("%s: only %d stations share a place's name, expected %d", source, n, atLeast)
	}
	t.Logf("%s: %d stations; height off by %+.0f m (median), %.0f m (median size), %.0f m (nine in ten)", source, n, c.off[n/2], c.apart[n/2], c.apart[n*9/10])
	if math.Abs(c.off[n/2]) > bias || c.apart[n/2] > median || c.apart[n*9/10] > ninth {
		t.Errorf("%s: allowed %v, %v and %v m", source, bias, median, ninth)
	}
}

// TestHeights_NCEI: the heights of US towns against the stations of the NOAA
// 1981-2010 Climate Normals that bear just the town's name (most are town
// stations: airports and "3 NW" have more in their name). A station within
// 10 km lies some metres to some tens of metres off the centre.
func TestHeights_NCEI(t *testing.T) {
	all := newComparison(load(t))
	lines := bufio.NewScanner(bytes.NewReader(sharedfolder.Bytes(t, "data/weather/normals/1981-2010_allstations.txt.gz")))
	for lines.Scan() {
		line := lines.Text()
		if len(line) < 72 || !strings.HasPrefix(line, "US") {
			continue
		}
		var f [3]float64
		for i, span := range [][2]int{{11, 20}, {20, 30}, {30, 37}} {
			f[i], _ = strconv.ParseFloat(strings.TrimSpace(line[span[0]:span[1]]), 64)
		}
		if name := strings.TrimSpace(line[41:min(len(line), 72)]); f[2] > -400 {
			all.compare(name, "US", line[38:40], f[0], f[1], f[2])
		}
	}
	all.check(t, "NCEI", 2000, 3, 10, 50)
}

// TestHeights_ISD: the same for the world outside the United States with NOAA's
// ISD station list, where airports bear the town's name too.
func TestHeights_ISD(t *testing.T) {
	all := newComparison(load(t))
	rows := csv.NewReader(bytes.NewReader(sharedfolder.Bytes(t, "data/climatology/cru_cl2_at_stations.csv.gz")))
	for {
		row, err := rows.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		lat, _ := strconv.ParseFloat(row[3], 64)
		lon, _ := strconv.ParseFloat(row[4], 64)
		elevM, err := strconv.ParseFloat(row[5], 64)
		if err == nil && row[2] != "US" && len(row[2]) == 2 {
			all.compare(row[1], row[2], "", lat, lon, elevM)
		}
	}
	all.check(t, "ISD", 4000, 5, 20, 80)
}
