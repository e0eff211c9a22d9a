package weather

import (
	"bufio"
	"compress/gzip"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/sharedfolder"
	"haulm/internal/unit"
)

// invented is a record of made-up days: warm by day, tmin(d) by night.
func invented(from, to calendar.Date, tmin func(calendar.Date) float64) *Record {
	rec := &Record{Name: "invented", Start: from}
	for d := from; d < to; d++ {
		rec.TminC = append(rec.TminC, tmin(d))
		rec.TmaxC = append(rec.TmaxC, tmin(d)+10)
		rec.RainMM = append(rec.RainMM, 1)
	}
	return rec
}

// frostVector reads one row of the reference check file: inputs and expected.
func frostVector(t *testing.T, id string) (inputs string, want, tolerance float64) {
	t.Helper()
	f, err := os.Open(sharedfolder.Path(t, "reference", "models", "frost.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows {
		if row[0] == id {
			want, _ = strconv.ParseFloat(row[3], 64)
			tolerance, _ = strconv.ParseFloat(row[5], 64)
			return row[2], want, tolerance
		}
	}
	t.Fatalf("no row %s", id)
	return "", 0, 0
}

// frostSeries is the synthetic series fr-01, sorted.
func frostSeries(t *testing.T) []float64 {
	t.Helper()
	f, err := os.ReadFile(sharedfolder.Path(t, "reference", "models", "frost.csv"))
	if err != nil {
		t.Fatal(err)
	}
	_, after, _ := strings.Cut(string(f), "series: ")
	if !strings.HasPrefix(after, "1") {
		_, after, _ = strings.Cut(string(f), "DOY series: ")
	}
	list, _, _ := strings.Cut(after, ",")
	var days []float64
	for _, word := range strings.Fields(list) {
		day, err := strconv.ParseFloat(word, 64)
		if err != nil {
			t.Fatal(err)
		}
		days = append(days, day)
	}
	slices.Sort(days)
	return days
}

// TestFrostVectors runs fr-01 to fr-06 of the reference check file. fr-03 and
// fr-04 are other quantile rules for the same series: Haulm uses type 7, and
// those rows bound by how much a rule can matter (2 days at n = 29).
func TestFrostVectors(t *testing.T) {
	days := frostSeries(t)
	mean, sd := meanSD(days)
	if math.Abs(mean-115.2333) > 0.001 || math.Abs(sd-11.2883) > 0.001 {
		t.Errorf("fr-01: mean %.4f, sd %.4f of %d days", mean, sd, len(days))
	}
	for _, c := range []struct {
		id string
		p  float64
	}{{"fr-02-10", 0.1}, {"fr-02-50", 0.5}, {"fr-02-90", 0.9}} {
		_, want, tolerance := frostVector(t, c.id)
		if got := quantile7(days, c.p); math.Abs(got-want) > tolerance {
			t.Errorf("%s: got %v, want %v ± %v", c.id, got, want, tolerance)
		}
		for _, other := range []string{"fr-03", "fr-04"} {
			_, want, _ := frostVector(t, other+c.id[5:])
			if got := quantile7(days, c.p); math.Abs(got-want) > 2 {
				t.Errorf("%s: type 7 gives %v, that rule %v", other+c.id[5:], got, want)
			}
		}
	}
	_, want, tolerance := frostVector(t, "fr-05")
	if got := shareFrom(days, len(days))[126]; math.Abs(got-want) > tolerance {
		t.Errorf("fr-05: got %v, want %v", got, want)
	}
	// fr-06: of 30 years 20 have a frost; within them F = 0.30 stands for 0.20.
	_, want, _ = frostVector(t, "fr-06")
	if f, ok := mixed(want, 20, 30, 0); !ok || math.Abs(f-0.30) > 1e-9 {
		t.Errorf("fr-06: P = %v stands for F = %v, want 0.30", want, f)
	}
}

func meanSD(x []float64) (mean, sd float64) {
	for _, v := range x {
		mean += v / float64(len(x))
	}
	for _, v := range x {
		sd += (v - mean) * (v - mean) / float64(len(x)-1)
	}
	return mean, math.Sqrt(sd)
}

// nceiCheck is one row of normals/check_empirical_vs_ncei.csv.
type nceiCheck struct {
	station, stat string
	earlier       calendar.MonthDay // a quick computation from the same record
	ncei          calendar.MonthDay // NOAA's 1981-2010 product
}

func nceiChecks(t *testing.T) []nceiCheck {
	t.Helper()
	f, err := os.Open(sharedfolder.Path(t, "data", "weather", "normals", "check_empirical_vs_ncei.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	day := func(text string) calendar.MonthDay {
		md, err := calendar.ParseMonthDay(strings.ReplaceAll(text[:5], "/", "-"))
		if err != nil {
			t.Fatal(err)
		}
		return md
	}
	var checks []nceiCheck
	for _, row := range rows[1:] {
		c := nceiCheck{row[0], row[3], day(row[4]), day(row[5])}
		inProduct(t, c)
		checks = append(checks, c)
	}
	return checks
}

// products are the by-variable files behind each statistic.
var products = map[string]string{
	"last50": "1981-2010_ann-tmin-prblst-t32Fp50.txt.gz", "last90(=P(later)=0.9)": "1981-2010_ann-tmin-prblst-t32Fp90.txt.gz",
	"first50": "1981-2010_ann-tmin-prbfst-t32Fp50.txt.gz", "first90(=P(earlier)=0.9)": "1981-2010_ann-tmin-prbfst-t32Fp90.txt.gz",
}

// inProduct holds the check file's NCEI date against the product file where
// that has the station: the copies kept have 2,981 of NCEI's 5,800 or so.
func inProduct(t *testing.T, c nceiCheck) {
	t.Helper()
	f, err := os.Open(sharedfolder.Path(t, "data", "weather", "normals", products[c.stat]))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	rows := bufio.NewScanner(z)
	for rows.Scan() {
		if id, rest, _ := strings.Cut(rows.Text(), " "); id == c.station {
			if got := strings.TrimSpace(rest)[:5]; strings.ReplaceAll(got, "/", "-") != c.ncei.String() {
				t.Errorf("%s %s: the check file says %v, the product %s", c.station, c.stat, c.ncei, got)
			}
		}
	}
}

// withHeader reads a daily record whose own header lacks the units, with one
// that has them.
func withHeader(t *testing.T, name, header string) *Record {
	t.Helper()
	f, err := os.Open(daily(t, name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	body := bufio.NewReader(z)
	if _, err := body.ReadString('\n'); err != nil {
		t.Fatal(err)
	}
	rec, _, err := Read(io.MultiReader(strings.NewReader(header+"\n"), body), name, Options{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	return rec
}

// checkedStations are those of normals/check_empirical_vs_ncei.csv.
func checkedStations(t *testing.T) map[string]*Record {
	park, _ := record(t, "USW00094728_new-york-central-park.dly.gz")
	return map[string]*Record{
		"USW00094728": park,
		"USW00014735": withHeader(t, "USW00014735_albany-ny.csv.gz", "YYYY,MM,DD,tmax_c,tmin_c,rain_mm,SNOW,SNWD"),
		"USW00014839": withHeader(t, "USW00014839_milwaukee-wi.csv.gz", "year,month,day,date,day_of_year,rain_in,SNOW,SNWD,tmax_f,tmin_f"),
	}
}

// TestFrostDates_NCEI1981to2010 holds our quantiles against NOAA's 1981-2010
// normals (prblst, prbfst at 32 °F). NCEI rounds Tmin to whole °F and does not
// take the plain quantile of 30 dates: it draws dates across years and from
// neighbouring days and smooths them, and closes gaps from neighbouring
// stations. So the two differ by sampling. The standard error of a 10 or 90 %
// date of 30 years is about 1.7 sd/√30, that of the median 1.25 sd/√30
// (asymptotic, normal dates): 2 to 4 days, so a week's difference can remain.
//
// Of 12 comparisons one beyond 2 standard errors is to be expected and none
// beyond 2.9 (5 % shared out over 12); and there must be no lean to one side:
// the mean difference stays within 2 of its own standard errors, 2/√12.
// The one beyond 2 is Albany's 10 % date in spring (23 April, NCEI 16 April):
// its fourth earliest last frost is on 23 April, the third on the 19th, and
// type 7 falls next to the fourth where drawing from neighbouring days
// fills that hole.
func TestFrostDates_NCEI1981to2010(t *testing.T) {
	stations := checkedStations(t)
	beyond, lean := 0, 0.0
	checks := nceiChecks(t)
	for _, c := range checks {
		rec := stations[c.station]
		if rec == nil {
			t.Fatalf("%s has no record", c.station)
		}
		odds := Frost(wholeFahrenheit(rec), FrostOptions{From: 1981, To: 2010, AtC: 1e-9})
		if odds.YearsCounted != 30 || odds.YearsWithoutFrost != 0 {
			t.Errorf("%s: %d years counted, %d without frost; want 30, 0", c.station, odds.YearsCounted, odds.YearsWithoutFrost)
		}
		got, dates := statistic(&odds, c.stat)
		_, sd := meanSD(dates)
		factor := 1.7
		if strings.Contains(c.stat, "50") {
			factor = 1.25
		}
		off := float64(got.In(overlayYear) - c.ncei.In(overlayYear))
		ses := off / (factor * sd / math.Sqrt(30))
		lean += ses / float64(len(checks))
		count(&beyond, math.Abs(ses) > 2)
		t.Logf("%s %s: %v, NCEI %v (%+.0f d, %+.1f standard errors)", c.station, c.stat, got, c.ncei, off, ses)
		if math.Abs(ses) > 2.9 {
			t.Errorf("%s %s: got %v, NCEI says %v: %.1f standard errors", c.station, c.stat, got, c.ncei, ses)
		}
	}
	if beyond > 1 || math.Abs(lean) > 2/math.Sqrt(12) {
		t.Errorf("%d of %d beyond 2 standard errors, mean %.2f", beyond, len(checks), lean)
	}
}

// wholeFahrenheit is rec with its minima rounded as NCEI does.
func wholeFahrenheit(rec *Record) *Record {
	whole := *rec
	whole.TminC = make([]float64, rec.Days())
	for i, c := range rec.TminC {
		whole.TminC[i] = float64(unit.Fahrenheit(math.Round(float64(unit.Celsius(c).Fahrenheit()))).Celsius())
	}
	return &whole
}

// statistic is our date for one of NCEI's labels, and the sorted places in the
// year of all the dates behind it. NCEI's spring 90 % is the date after which
// a frost still comes in 90 % of the years: our P10.
func statistic(odds *FrostOdds, stat string) (*calendar.MonthDay, []float64) {
	last := offsets(odds, func(y FrostYear) calendar.Date { return y.LastSpring })
	first := offsets(odds, func(y FrostYear) calendar.Date { return y.FirstAutumn })
	switch stat {
	case "last50":
		return odds.LastSpring.P50, last
	case "last90(=P(later)=0.9)":
		return odds.LastSpring.P10, last
	case "first50":
		return odds.FirstAutumn.P50, first
	}
	return odds.FirstAutumn.P90, first
}

// TestFrostDates_EarlierCheck: the quick computation of the check file took a
// single year's date for each quantile (the lower or the higher neighbour)
// where type 7 interpolates between the two. So its date must be one of our
// dates on either side, exactly, a day more where 29 February shifts it.
func TestFrostDates_EarlierCheck(t *testing.T) {
	stations := checkedStations(t)
	for _, c := range nceiChecks(t) {
		odds := Frost(wholeFahrenheit(stations[c.station]), FrostOptions{From: 1981, To: 2010, AtC: 1e-9})
		_, dates := statistic(&odds, c.stat)
		h := map[string]float64{"last50": 14.5, "first50": 14.5, "last90(=P(later)=0.9)": 2.9, "first90(=P(earlier)=0.9)": 26.1}[c.stat]
		want := float64(odds.offset(c.earlier.In(overlayYear)))
		low, high := dates[int(h)], dates[int(h)+1]
		if want < low-1 || want > high+1 {
			t.Errorf("%s %s: the earlier computation has %v, ours lies from %v to %v", c.station, c.stat, c.earlier, odds.monthDay(low), odds.monthDay(high))
		}
	}
}

func offsets(o *FrostOdds, date func(FrostYear) calendar.Date) []float64 {
	var days []float64
	for _, y := range o.Years {
		if d := date(y); d.Known() {
			days = append(days, float64(o.offset(d)))
		}
	}
	slices.Sort(days)
	return days
}

// TestFrostYears is arithmetic on invented winters.
func TestFrostYears(t *testing.T) {
	// Frost up to 10 January + the year's last digit in April, and from 1 November.
	cold := func(d calendar.Date) float64 {
		y, m, day := d.Civil()
		switch {
		case m == 4 && day <= 10+y%10, m < 4, m >= 11:
			return -1
		}
		return 5
	}
	odds := Frost(invented(calendar.On(2000, 1, 1), calendar.On(2010, 1, 1), cold), FrostOptions{})
	if odds.YearsCounted != 10 || odds.LastSpring.P50.String() != "04-15" && odds.LastSpring.P50.String() != "04-14" {
		t.Errorf("ten years from 04-10 to 04-19: %d years, median %v", odds.YearsCounted, odds.LastSpring.P50)
	}
	if odds.FirstAutumn.P10.String() != "11-01" || odds.Years[3].FreeDays != 201 {
		t.Errorf("first %v, %d free days from 13 April to 1 November", odds.FirstAutumn.P10, odds.Years[3].FreeDays)
	}
	if odds.StillToCome[0] != 1 || odds.StillToCome[150] != 0 || odds.HasCome[364] != 1 || odds.HasCome[300] != 0 {
		t.Error("the curves do not run from 1 to 0 and from 0 to 1")
	}
}

// TestFrostSouth: the same weather half a year on gives dates half a year on.
func TestFrostSouth(t *testing.T) {
	cold := func(d calendar.Date) float64 {
		if m := d.Month(); m >= 5 && m <= 9 {
			return -2
		}
		return 4
	}
	odds := Frost(invented(calendar.On(1990, 7, 1), calendar.On(2000, 7, 1), cold), FrostOptions{South: true})
	if odds.YearsCounted != 10 || odds.LastSpring.P90.String() != "09-30" || odds.FirstAutumn.P10.String() != "05-01" {
		t.Errorf("%d years, last %v, first %v; want 10, 09-30, 05-01", odds.YearsCounted, odds.LastSpring.P90, odds.FirstAutumn.P10)
	}
	if odds.Years[0].Year != 1990 || odds.Years[0].FreeDays != 212 {
		t.Errorf("season year %+v", odds.Years[0])
	}
}

// TestFrostMixed: 10 years, 6 with a spring frost. P(past by d) starts at 0.4:
// no 10 % date; the median is F = (0.5-0.4)/0.6 = 1/6 within the 6.
func TestFrostMixed(t *testing.T) {
	cold := func(d calendar.Date) float64 {
		y, m, day := d.Civil()
		if y < 2006 && m == 3 && day == 10+2*(y-2000) {
			return -3
		}
		return 6
	}
	odds := Frost(invented(calendar.On(2000, 1, 1), calendar.On(2010, 1, 1), cold), FrostOptions{})
	s := odds.LastSpring
	if s.P10 != nil || s.P50 == nil || s.P50.String() != "03-12" || s.YearsWithNone != 4 {
		t.Errorf("got %v %v, %d without; want none, 03-12 (10 + 5/6 · 2 days), 4", s.P10, s.P50, s.YearsWithNone)
	}
	if odds.YearsWithoutFrost != 4 || odds.FirstAutumn.P50 != nil {
		t.Errorf("%d years without frost, first autumn %v", odds.YearsWithoutFrost, odds.FirstAutumn.P50)
	}
}

// TestFrostMissingNights is the project rule for gaps near the date.
func TestFrostMissingNights(t *testing.T) {
	cold := func(d calendar.Date) float64 {
		if m := d.Month(); m <= 3 || m >= 11 {
			return -1
		}
		return 5
	}
	for _, c := range []struct {
		lost  int
		from  time.Month
		known bool
	}{{3, 4, true}, {4, 4, false}, {20, 7, true}} {
		rec := invented(calendar.On(2000, 1, 1), calendar.On(2010, 1, 1), cold)
		i, _ := rec.Index(calendar.On(2004, c.from, 5))
		for k := range c.lost {
			rec.TminC[i+k] = math.NaN()
		}
		odds := Frost(rec, FrostOptions{})
		if y := odds.Years[4]; y.SpringKnown != c.known {
			t.Errorf("%d nights missing from 5 %v: known is %v", c.lost, c.from, y.SpringKnown)
		}
	}
}

func TestFrostChance(t *testing.T) {
	cold := func(d calendar.Date) float64 {
		if d.Year()%2 == 0 && d.YearDay() <= 7 {
			return -1
		}
		return 5
	}
	chance := FrostChance(invented(calendar.On(2000, 1, 1), calendar.On(2010, 1, 1), cold), 52)
	if len(chance) != 52 || chance[0] != 0.5 || chance[1] != 0 || chance[51] != 0 {
		t.Errorf("got %v", chance)
	}
}

// TestFrostOnRealPlaces prints and bounds the odds of places that a grower
// would know: frost at Dublin Airport and De Bilt in every year, none in Cairns.
func TestFrostOnRealPlaces(t *testing.T) {
	for name, frosty := range map[string]bool{
		"IE_dly532_dublin-airport.csv.gz": true, "NL_etmgeg_260_de-bilt.txt.gz": true,
		"PE_qc00000708_puno.txt.gz": true, "AU_bom_cairns_2007-2026.csv.gz": false,
	} {
		rec, _ := record(t, name)
		south := name[:2] == "PE" || name[:2] == "AU"
		odds := Frost(rec, FrostOptions{South: south})
		t.Log(name, odds.YearsCounted, odds.YearsWithoutFrost, show(odds.LastSpring), show(odds.FirstAutumn), odds.FreeDays)
		if has := odds.YearsWithoutFrost == 0 && odds.LastSpring.P90 != nil; has != frosty {
			t.Errorf("%s: frost every year is %v", name, has)
		}
	}
}

func show(q Quantiles) string {
	return fmt.Sprintf("%v %v %v (%d of %d without)", q.P10, q.P50, q.P90, q.YearsWithNone, q.Years)
}
