package fetch

import (
	"context"
	"fmt"
	"math"
	"net/http"
	"strings"
	"testing"
	"time"

	"haulm/internal/weather"
)

// inventoryLine and stationLine write the fixed columns of NCEI's lists
// (GHCN-Daily readme, sections IV and VII).
func inventoryLine(id string, lat, lon float64, element string, first, last int) string {
	return fmt.Sprintf("%-11s %8.4f %9.4f %-4s %4d %4d\n", id, lat, lon, element, first, last)
}

func stationLine(id string, lat, lon, elev float64, state, name string) string {
	return fmt.Sprintf("%-11s %8.4f %9.4f %6.1f %-2s %-30s %3s %3s %5s\n", id, lat, lon, elev, state, name, "", "", "")
}

// lists are made-up stations around 40 N, 75 W.
func lists() (inventory, stations string) {
	for _, s := range []struct {
		id          string
		lat, lon    float64
		elev        float64
		first, last int
		elements    string
	}{
		{"USW00000001", 40.0, -75.1, 50, 1950, 2026, "TMAX TMIN PRCP"}, // near, long, running
		{"USW00000002", 40.0, -75.01, 50, 2020, 2026, "TMAX TMIN PRCP"},
		{"USC00000003", 40.0, -75.02, 50, 1900, 1950, "TMAX TMIN PRCP"},
		{"US1PAXX0004", 40.0, -75.0, 50, 1990, 2026, "PRCP"}, // rain only
		{"USC00000005", 40.1, -75.1, 1050, 1950, 2026, "TMAX TMIN PRCP"},
		{"USC00000006", 40.2, -75.1, -999.9, 1950, 2026, "TMAX TMIN"},
		{"USC00000007", 40.0, -75.0, 50, 1950, 2026, "TMAX"},
		{"GME00000008", 51.0, 7.0, 50, 1950, 2026, "TMAX TMIN PRCP"}, // far
	} {
		for _, e := range strings.Fields(s.elements) {
			inventory += inventoryLine(s.id, s.lat, s.lon, e, s.first, s.last)
		}
		inventory += inventoryLine(s.id, s.lat, s.lon, "WT01", s.first, s.last)
		stations += stationLine(s.id, s.lat, s.lon, s.elev, "PA", "STATION "+s.id[10:])
	}
	return inventory, stations
}

// byStation is a small packed by_station file.
func byStation(id string, from time.Time, days int) []byte {
	var text strings.Builder
	for i := range days {
		d := from.AddDate(0, 0, i).Format("20060102")
		fmt.Fprintf(&text, "%s,%s,TMAX,%d,,,W,2400\n%s,%s,TMIN,%d,,,W,2400\n%s,%s,PRCP,0,,,W,2400\n", id, d, 120+i%10, id, d, 20+i%10, id, d)
	}
	return zipped(text.String())
}

func serveNCEI(w http.ResponseWriter, r *http.Request) {
	inventory, stations := lists()
	switch r.URL.Path {
	case "/ghcnd-inventory.txt":
		serveFile([]byte(inventory), `"i1"`, 0)(w, r)
	case "/ghcnd-stations.txt":
		serveFile([]byte(stations), `"s1"`, 0)(w, r)
	case "/by_station/USW00000001.csv.gz":
		serveFile(byStation("USW00000001", noon.AddDate(-1, 0, 0), 366), `"r1"`, 0)(w, r)
	case "/by_station/USW00000002.csv.gz": // the record of another
		serveFile(byStation("USW00000009", noon.AddDate(-1, 0, 0), 3), `"r2"`, 0)(w, r)
	case "/by_station/USC00000003.csv.gz": // damaged on the way
		body := byStation("USC00000003", noon.AddDate(-1, 0, 0), 300)
		body[len(body)/2] ^= 0xff
		serveFile(body, `"r3"`, 0)(w, r)
	default:
		http.NotFound(w, r)
	}
}

func here(elev float64) Wanted {
	return Wanted{Site: weather.Site{LatDeg: 40, LonDeg: -75, ElevM: elev}, HasHeight: true, Year: 2026, Count: 3}
}

func ids(stations []Station) string {
	var out []string
	for _, s := range stations {
		out = append(out, s.ID)
	}
	return strings.Join(out, " ")
}

func TestNearestStations(t *testing.T) {
	b := newBench(t, serveNCEI)
	got, err := b.Nearest(context.Background(), here(50))
	if err != nil {
		t.Fatal(err)
	}
	// The near, long, running one; then one farther off without rain or height;
	// then the one that runs since 2020. Rain only, maxima only: not at all.
	if ids(got) != "USW00000001 USC00000006 USW00000002" {
		t.Errorf("%s", ids(got))
	}
	if s := got[0]; s.Name != "STATION 1, PA" || s.Site.ElevM != 50 || !s.HasHeight || s.Years() != 77 || s.RainFirst != 1950 || math.Abs(s.DistanceKM-8.5) > 0.1 {
		t.Errorf("%+v", s)
	}
	if got[1].HasHeight || got[1].RainFirst != 0 {
		t.Errorf("%+v", got[1])
	}
	// A garden on the hill has the hill's station first.
	up, err := b.Nearest(context.Background(), here(1000))
	if err != nil || up[0].ID != "USC00000005" {
		t.Errorf("%s, %v", ids(up), err)
	}
	if b.requests() != 2 {
		t.Errorf("the lists were fetched %d times", b.requests())
	}
	nowhere := here(0)
	nowhere.Site = weather.Site{LatDeg: -60, LonDeg: 100}
	_, err = b.Nearest(context.Background(), nowhere)
	wantError(t, err, Missing, "first estimate")
}

// Distance: Sydney to Hobart along a great circle is 1,057 km (Hobart 42.89 S
// 147.33 E, Sydney 33.86 S 151.21 E; spherical, worked by the law of cosines).
func TestDistance(t *testing.T) {
	a, b := weather.Site{LatDeg: -33.86, LonDeg: 151.21}, weather.Site{LatDeg: -42.89, LonDeg: 147.33}
	const rad, earthKM = math.Pi / 180, 6371.0
	cosines := earthKM * math.Acos(math.Sin(a.LatDeg*rad)*math.Sin(b.LatDeg*rad)+math.Cos(a.LatDeg*rad)*math.Cos(b.LatDeg*rad)*math.Cos((a.LonDeg-b.LonDeg)*rad))
	if got := DistanceKM(a, b); math.Abs(got-cosines) > 0.01 || math.Abs(got-1057) > 5 {
		t.Errorf("%.1f km, by the law of cosines %.1f", got, cosines)
	}
	if got := DistanceKM(weather.Site{LonDeg: 179.5}, weather.Site{LonDeg: -179.5}); math.Abs(got-111.2) > 0.1 {
		t.Errorf("a degree across the date line is %.1f km", got)
	}
}

func TestRecordOfAStation(t *testing.T) {
	b := newBench(t, serveNCEI)
	s, err := b.Station(context.Background(), "USW00000001")
	if err != nil {
		t.Fatal(err)
	}
	rec, report, held, err := b.Record(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	if rec.Days() != 366 || rec.TmaxC[0] != 12 || rec.Station != "USW00000001" || rec.Name != "STATION 1, PA" || rec.Site.ElevM != 50 || !report.HasSite || held.Stale != nil {
		t.Errorf("%d days, %+v, %+v", rec.Days(), rec.Site, held)
	}
	n := b.requests()
	if _, _, _, err := b.Record(context.Background(), s); err != nil || b.requests() != n {
		t.Errorf("%v, asked again at once: %d", err, b.requests()-n)
	}
}

func TestRecordThatCannotBeUsed(t *testing.T) {
	b := newBench(t, serveNCEI)
	ctx := context.Background()
	_, _, _, err := b.Record(ctx, Station{ID: "USW00000002"})
	wantError(t, err, BadAnswer, "USW00000009")
	_, _, _, err = b.Record(ctx, Station{ID: "USC00000003"})
	wantError(t, err, BadAnswer, "cannot be used")
	n := b.requests()
	if _, _, _, err = b.Record(ctx, Station{ID: "USC00000003"}); err == nil || b.requests() != n+1 {
		t.Errorf("a damaged copy was kept: %v", err)
	}
	_, _, _, err = b.Record(ctx, Station{ID: "USC00000004"})
	wantError(t, err, Missing, "404")
	_, err = b.Station(ctx, "USC00000044")
	wantError(t, err, Missing, "USC00000044")
	for _, id := range []string{"", "usw00094728", "../../etc/passwd", "USW0009472/", "USW00094728x"} {
		if _, _, _, err := b.Record(ctx, Station{ID: id}); err == nil || !strings.Contains(err.Error(), "eleven characters") {
			t.Errorf("%q: %v", id, err)
		}
		if _, err := b.Station(ctx, id); err == nil {
			t.Errorf("%q: no error", id)
		}
	}
}

// A list that is none is named as such and not kept.
func TestListsThatAreNone(t *testing.T) {
	for _, text := range []string{"not a list\n", "", strings.Repeat("x", 10_000), inventoryLine("USW00000001", 400, 0, "TMIN", 1, 2),
		strings.Replace(inventoryLine("USW00000001", 40, -75, "TMIN", 1950, 2026), "1950", "19x0", 1)} {
		b := newBench(t, serveFile([]byte(text), `"i1"`, 0))
		_, err := b.Nearest(context.Background(), here(50))
		wantError(t, err, BadAnswer, "inventory")
		_, err = b.Nearest(context.Background(), here(50))
		if err == nil || b.requests() != 2 {
			t.Errorf("%.20q was kept", text)
		}
	}
}

func FuzzReadInventory(f *testing.F) {
	inventory, stations := lists()
	f.Add(inventory, stations)
	f.Add("", "")
	f.Fuzz(func(t *testing.T, inventory, list string) {
		found, err := readInventory(strings.NewReader(inventory), here(50))
		if err != nil {
			return
		}
		for _, s := range found {
			if s.Last < s.First || !(s.DistanceKM <= farthestKM) {
				t.Fatalf("%+v", s)
			}
		}
		if named, err := addNames(strings.NewReader(list), found, here(50)); err == nil && len(named) > 3 {
			t.Fatalf("%d stations", len(named))
		}
		_, _, _ = findStation(strings.NewReader(list), "USW00000001")
	})
}

// BenchmarkNearest reads an inventory as long as NCEI's, 770 thousand lines.
func BenchmarkReadInventory(b *testing.B) {
	var text strings.Builder
	for i := range 770_000 {
		e := []string{"TMAX", "TMIN", "PRCP", "SNOW", "SNWD", "WT01"}[i%6]
		text.WriteString(inventoryLine(fmt.Sprintf("USC%08d", i/6), float64(i/6%180)-90, float64(i/6/180%360)-180, e, 1950, 2026))
	}
	b.SetBytes(int64(text.Len()))
	for b.Loop() {
		if _, err := readInventory(strings.NewReader(text.String()), here(50)); err != nil {
			b.Fatal(err)
		}
	}
}
