package climatology

import (
	"bufio"
	"encoding/csv"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/normals"
	"haulm/internal/readings"
	"haulm/internal/sharedfolder"
	"haulm/internal/weather"
)

// measured is a daily record of the reference folder. Sites are those of
// ../shared/data/weather/README.md, or, where that has none, from memory.
type measured struct {
	name, file string
	site       weather.Site
	read       func(t testing.TB, file string) *weather.Record // nil: readings.ReadFile
}

// records leave out Haines Junction, which is mostly gaps, and what stands
// twice (three of the eighteen European stations).
var records = []measured{
	{"Alice Springs", "AU_bom_alicesprings_2007-2026.csv.gz", weather.Site{LatDeg: -23.795, LonDeg: 133.889, ElevM: 546}, nil},
	{"Cairns", "AU_bom_cairns_2007-2026.csv.gz", weather.Site{LatDeg: -16.874, LonDeg: 145.746, ElevM: 2}, nil},
	{"Hobart", "AU_bom_hobart_2007-2026.csv.gz", weather.Site{LatDeg: -42.89, LonDeg: 147.328, ElevM: 51}, nil},
	{"Launceston", "AU_bom_launceston_2007-2026.csv.gz", weather.Site{LatDeg: -41.419, LonDeg: 147.122, ElevM: 5}, nil},
	{"Melbourne Airport", "AU_bom_melbourneairport_2007-2026.csv.gz", weather.Site{LatDeg: -37.666, LonDeg: 144.832, ElevM: 113}, nil},
	{"Perth Airport", "AU_bom_perthairport_2007-2026.csv.gz", weather.Site{LatDeg: -31.928, LonDeg: 115.976, ElevM: 15}, nil},
	{"Sydney", "AU_bom_sydney_2007-2026.csv.gz", weather.Site{LatDeg: -33.861, LonDeg: 151.205, ElevM: 40}, nil},
	{"Prince George", "CA_1096450_prince-george-bc.csv.gz", weather.Site{LatDeg: 53.891, LonDeg: -122.679, ElevM: 691}, nil},
	{"Vancouver", "CA_1108447_vancouver-intl-bc.csv.gz", weather.Site{LatDeg: 49.195, LonDeg: -123.182, ElevM: 4}, nil},
	{"Swift Current", "CA_SWIF6752_swift-current-sk.wth.gz", weather.Site{LatDeg: 50.299, LonDeg: -107.299, ElevM: 817}, nil},
	{"Tudela", "ES_tudela.csv.gz", weather.Site{LatDeg: 42.06, LonDeg: -1.61, ElevM: 244}, nil},
	{"Dublin Airport", "IE_dly532_dublin-airport.csv.gz", weather.Site{LatDeg: 53.428, LonDeg: -6.241, ElevM: 71}, nil},
	{"Peio", "IT_T0064_peio.csv.gz", weather.Site{LatDeg: 46.36, LonDeg: 10.68, ElevM: 1580}, nil},
	{"Trento", "IT_T0129_trento-laste.csv.gz", weather.Site{LatDeg: 46.072, LonDeg: 11.136, ElevM: 312}, nil},
	{"Rovereto", "IT_T0147_rovereto.csv.gz", weather.Site{LatDeg: 45.895, LonDeg: 11.044, ElevM: 203}, nil},
	{"Cavalese", "IT_T0367_cavalese.csv.gz", weather.Site{LatDeg: 46.286, LonDeg: 11.463, ElevM: 1000}, nil},
	{"De Bilt", "NL_etmgeg_260_de-bilt.txt.gz", weather.Site{LatDeg: 52.1, LonDeg: 5.18, ElevM: 2}, nil},
	{"Puno", "PE_qc00000708_puno.txt.gz", weather.Site{LatDeg: -15.826, LonDeg: -70.012, ElevM: 3812}, nil},
	{"New York", "USW00094728_new-york-central-park.dly.gz", weather.Site{LatDeg: 40.779, LonDeg: -73.969, ElevM: 43}, nil},
	{"Albany", "USW00014735_albany-ny.csv.gz", weather.Site{LatDeg: 42.748, LonDeg: -73.803, ElevM: 85}, readColumns("", 4, 3, 5, metric)},
	{"Milwaukee", "USW00014839_milwaukee-wi.csv.gz", weather.Site{LatDeg: 42.955, LonDeg: -87.904, ElevM: 204}, readColumns("", 9, 8, 5, imperial)},
	{"Maricopa", "US_AZMC8832_maricopa-az.wth.gz", weather.Site{LatDeg: 33.069, LonDeg: -111.972, ElevM: 361}, nil},
	{"Griffin", "US_GAGR9626_griffin-ga.wth.gz", weather.Site{LatDeg: 33.262, LonDeg: -84.284, ElevM: 299}, nil},
	{"Tifton", "US_GATI9626_tifton-ga.wth.gz", weather.Site{LatDeg: 31.483, LonDeg: -83.533, ElevM: 116}, nil},
	{"Jay", "US_UFJA0219_jay-fl.wth.gz", weather.Site{LatDeg: 30.776, LonDeg: -87.138, ElevM: 60}, nil},
	{"Heathrow", "UK_heathrow_ecad_london_weather.csv.gz", weather.Site{LatDeg: 51.479, LonDeg: -0.449, ElevM: 25}, readColumns("", 6, 4, 7, metric)},
	{"Stockholm", "SE_stockholm_1961_2012_t1t2t3txtntm.txt.gz", weather.Site{LatDeg: 59.35, LonDeg: 18.05, ElevM: 44}, readColumns(" ", 7, 6, -1, metric)},
	{"Basel", european, weather.Site{LatDeg: 47.54, LonDeg: 7.58, ElevM: 316}, readEuropean("BASEL")},
	{"Dresden", european, weather.Site{LatDeg: 51.13, LonDeg: 13.75, ElevM: 227}, readEuropean("DRESDEN")},
	{"Düsseldorf", european, weather.Site{LatDeg: 51.3, LonDeg: 6.77, ElevM: 37}, readEuropean("DUSSELDORF")},
	{"Kassel", european, weather.Site{LatDeg: 51.3, LonDeg: 9.44, ElevM: 231}, readEuropean("KASSEL")},
	{"Ljubljana", european, weather.Site{LatDeg: 46.07, LonDeg: 14.52, ElevM: 299}, readEuropean("LJUBLJANA")},
	{"Maastricht", european, weather.Site{LatDeg: 50.91, LonDeg: 5.76, ElevM: 114}, readEuropean("MAASTRICHT")},
	{"Malmö", european, weather.Site{LatDeg: 55.6, LonDeg: 13.02, ElevM: 10}, readEuropean("MALMO")},
	{"Montélimar", european, weather.Site{LatDeg: 44.58, LonDeg: 4.73, ElevM: 73}, readEuropean("MONTELIMAR")},
	{"München", european, weather.Site{LatDeg: 48.16, LonDeg: 11.54, ElevM: 515}, readEuropean("MUENCHEN")},
	{"Oslo", european, weather.Site{LatDeg: 59.94, LonDeg: 10.72, ElevM: 94}, readEuropean("OSLO")},
	{"Perpignan", european, weather.Site{LatDeg: 42.74, LonDeg: 2.87, ElevM: 42}, readEuropean("PERPIGNAN")},
	{"Roma", european, weather.Site{LatDeg: 41.8, LonDeg: 12.58, ElevM: 130}, readEuropean("ROMA")},
	{"Sonnblick", european, weather.Site{LatDeg: 47.05, LonDeg: 12.96, ElevM: 3109}, readEuropean("SONNBLICK")},
	{"Tours", european, weather.Site{LatDeg: 47.44, LonDeg: 0.73, ElevM: 108}, readEuropean("TOURS")},
}

const european = "EU_ecad_18stations_2000-2010.csv.gz"

// load reads a record, from 1961 on.
func (s measured) load(t testing.TB) *weather.Record {
	t.Helper()
	path := sharedfolder.Path(t, "data", "weather", "daily", s.file)
	var rec *weather.Record
	if s.read != nil {
		rec = s.read(t, path)
	} else {
		var err error
		if rec, _, err = readings.ReadFile(path, readings.Options{Today: calendar.On(2026, 12, 31)}); err != nil {
			t.Fatal(err)
		}
	}
	rec.Site, rec.Name = s.site, s.name
	if from := calendar.On(1961, 1, 1); rec.Start < from {
		rec = rec.Between(from, rec.End())
	}
	return rec
}

// units are those of a table that does not name them in its header.
type units func(lowC, highC, rainMM float64) (float64, float64, float64)

func metric(low, high, rain float64) (float64, float64, float64) { return low, high, rain }
func imperial(low, high, rain float64) (float64, float64, float64) {
	return (low - 32) / 1.8, (high - 32) / 1.8, rain * 25.4
}

// readColumns reads a table with year, month and day, or a date like 19790101,
// in its first columns and figures in others (rain -1: none). What is not a
// number, or -99 and below, is missing. Days on which the minimum lies above
// the maximum are dropped (Heathrow has 230).
func readColumns(separator string, low, high, rain int, in units) func(testing.TB, string) *weather.Record {
	return func(t testing.TB, path string) *weather.Record {
		var b recordBuilder
		lines := bufio.NewScanner(gunzip(t, path))
		for lines.Scan() {
			fields := strings.Split(lines.Text(), ",")
			if separator == " " {
				fields = strings.Fields(lines.Text())
			}
			d, ok := dateOf(fields)
			if !ok {
				continue
			}
			wet := math.NaN()
			if rain >= 0 {
				wet = numberOf(fields[rain])
			}
			l, h, r := in(numberOf(fields[low]), numberOf(fields[high]), wet)
			b.add(d, l, h, r)
		}
		return &b.rec
	}
}

func dateOf(fields []string) (calendar.Date, bool) {
	year, err := strconv.Atoi(strings.TrimSpace(fields[0]))
	if err != nil || len(fields) < 4 {
		return 0, false
	}
	if year > 9999 {
		return calendar.On(year/10000, time.Month(year/100%100), year%100), true
	}
	month, err1 := strconv.Atoi(strings.TrimSpace(fields[1]))
	day, err2 := strconv.Atoi(strings.TrimSpace(fields[2]))
	return calendar.On(year, time.Month(month), day), err1 == nil && err2 == nil
}

func numberOf(text string) float64 {
	x, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil || x <= -99 {
		return math.NaN()
	}
	return x
}

type recordBuilder struct{ rec weather.Record }

func (b *recordBuilder) add(d calendar.Date, low, high, rain float64) {
	r := &b.rec
	if r.Days() == 0 {
		r.Start = d
	}
	for r.End() < d {
		r.TminC, r.TmaxC, r.RainMM = append(r.TminC, math.NaN()), append(r.TmaxC, math.NaN()), append(r.RainMM, math.NaN())
	}
	if low > high {
		low, high = math.NaN(), math.NaN()
	}
	r.TminC, r.TmaxC, r.RainMM = append(r.TminC, low), append(r.TmaxC, high), append(r.RainMM, rain)
}

// readEuropean reads one station of the eighteen. Units: °C, cm, fractions,
// 100 W/m², and 10 m wind in m/s, as the file's metadata says.
func readEuropean(station string) func(testing.TB, string) *weather.Record {
	return func(t testing.TB, path string) *weather.Record {
		table := csv.NewReader(gunzip(t, path))
		header, err := table.Read()
		if err != nil {
			t.Fatal(err)
		}
		column := map[string]int{}
		for i, name := range header {
			column[name] = i
		}
		var b recordBuilder
		for {
			line, err := table.Read()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatal(err)
			}
			at := func(name string, scale float64) float64 {
				i, ok := column[station+"_"+name]
				if !ok {
					return math.NaN()
				}
				return scale * numberOf(line[i])
			}
			d, _ := dateOf(line)
			b.add(d, at("temp_min", 1), at("temp_max", 1), at("precipitation", 10))
			b.rec.SunMJ = append(b.rec.SunMJ, at("global_radiation", 8.64))
			b.rec.HumidityPC = append(b.rec.HumidityPC, at("humidity", 100))
			b.rec.WindMS = append(b.rec.WindMS, at("wind_speed", at2M))
		}
		return &b.rec
	}
}

// fitted are the figures of a record, kept by name.
type fitted struct {
	measured
	rec     *weather.Record
	n       normals.Year
	place   *place
	spread  [2]year // of all days about the season, Tmin and Tmax
	hasRain bool
}

// fitRecords fits every record behind the regressions.
func fitRecords(t testing.TB, w *World) []fitted {
	t.Helper()
	var out []fitted
	for _, s := range records {
		rec := s.load(t)
		f := fitted{measured: s, rec: rec, n: normals.Fit(rec), place: w.placeAt(s.site)}
		f.spread = [2]year{spreads(rec, rec.TminC), spreads(rec, rec.TmaxC)}
		for _, mm := range rec.RainMM {
			f.hasRain = f.hasRain || mm > 0
		}
		out = append(out, f)
	}
	return out
}

// spreads are the spreads of the days about the mean of the month around them,
// by month.
func spreads(rec *weather.Record, days []float64) year {
	var sum, n [366]float64
	for i, x := range days {
		if d := rec.Start.Add(i).YearDay() - 1; !math.IsNaN(x) {
			sum[d] += x
			n[d]++
		}
	}
	var usual [366]float64
	for d := range usual {
		s, k := 0.0, 0.0
		for off := -15; off <= 15; off++ {
			s += sum[(d+off+366)%366]
			k += n[(d+off+366)%366]
		}
		usual[d] = s / k
	}
	var squares, count year
	for i, x := range days {
		if d := rec.Start.Add(i); !math.IsNaN(x) {
			off := x - usual[d.YearDay()-1]
			squares[d.Month()-1] += off * off
			count[d.Month()-1]++
		}
	}
	for m := range squares {
		squares[m] = math.Sqrt(squares[m] / count[m])
	}
	return squares
}
