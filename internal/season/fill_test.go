package season

import (
	"os"
	"slices"
	"strings"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/diary"
	"haulm/internal/garden"
	"haulm/internal/graded"
)

// What is offered fits the gap, the season, the rotation and the locks, and
// makes it before the ground is wanted.
func TestFillOffersWhatMakesIt(t *testing.T) {
	w := newWorld(t)
	g := bedsOf(2)
	g.History = []garden.Grown{{Place: "Bed 1", FromCM: 0, ToCM: 400, Crop: "carrot_main", Year: 2021}}
	g.Locks = []garden.Lock{{Dish: "French beans"}}
	standing := w.planting(g, "kale", "module", "Bed 1", 0, 120, "2022-05-09", "2022-06-20")
	next := w.planting(g, "garlic", "cloves", "Bed 1", 120, 400, "2022-10-17", "")
	in := w.input(g, "2022-07-04", standing, next)
	in.Diary = []diary.Entry{entry(diary.Sown, "2022-05-09", standing), entry(diary.Planted, "2022-06-20", standing)}
	gap, offers, err := Fill(in, FillQuestion{Place: "Bed 1"})
	if err != nil {
		t.Fatal(err)
	}
	if gap.FromCM != 125 || gap.ToCM != 400 || gap.Until != day("2022-10-17") || gap.Next != "garlic" {
		t.Errorf("gap %+v", gap)
	}
	if len(offers) < 3 {
		t.Fatalf("only %d offers", len(offers))
	}
	for i, o := range offers {
		cr := w.catalogue.Crop(o.CropKey)
		switch {
		case o.Chance < 0.7 || o.Chance > 1 || o.Kg <= 0 || o.Portions <= 0 || o.Plants < 1 || len(o.Needs) == 0 || o.How == "":
			t.Errorf("%+v is not whole", o)
		case o.LowKg >= o.Kg || o.Kg >= o.HighKg || o.LowPortions > o.Portions || o.Portions > o.HighPortions:
			t.Errorf("%s: %.1f kg of %.1f to %.1f, %.0f portions of %.0f to %.0f", o.Name, o.Kg, o.LowKg, o.HighKg, o.Portions, o.LowPortions, o.HighPortions)
		case strings.HasPrefix(o.How, "sow") && !strings.Contains(o.Needs[0], " seeds of "+o.Name):
			t.Errorf("%s: %q does not say what to have by", o.Name, o.Needs)
		case o.FirstPick.P50 >= gap.Until:
			t.Errorf("%s is first picked %s, and the ground is wanted on %s", o.Name, o.FirstPick.P50, gap.Until)
		case cr.RotationGroup == "carrot family":
			t.Errorf("%s follows carrots of last year", o.Name)
		case cr.Dish == "French beans":
			t.Error("a locked dish is offered")
		case i > 0 && o.Value > offers[i-1].Value:
			t.Errorf("%s is worth more than the one above it", o.Name)
		}
	}
}

// A table that is short in one month only puts what it brings then first.
func TestFillMindsWhatTheTableLacks(t *testing.T) {
	w := newWorld(t)
	in := w.input(bedsOf(1), "2022-07-04")
	best := func(short func(calendar.Date) float64) []string {
		_, offers, err := Fill(in, FillQuestion{Place: "Bed 1", Short: short})
		if err != nil {
			t.Fatal(err)
		}
		var keys []string
		for _, o := range offers {
			keys = append(keys, o.CropKey)
		}
		return keys
	}
	summer := best(func(d calendar.Date) float64 { return share01(d < day("2022-10-01")) })
	winter := best(func(d calendar.Date) float64 { return share01(d >= day("2023-01-01")) })
	if slices.Equal(summer, winter) {
		t.Errorf("the same is offered for a lean summer and a lean winter: %v", summer)
	}
}

func share01(yes bool) float64 {
	if yes {
		return 1
	}
	return 0
}

func TestFillSaysWhyNot(t *testing.T) {
	w := newWorld(t)
	g := bedsOf(1)
	standing := w.planting(g, "leek", "module", "Bed 1", 0, 400, "2022-04-04", "2022-06-13")
	soon := w.planting(g, "leek", "module", "Pots", 0, 200, "2022-04-04", "2022-07-13")
	in := w.input(g, "2022-07-04", standing, soon)
	in.Diary = []diary.Entry{entry(diary.Sown, "2022-04-04", standing), entry(diary.Planted, "2022-06-13", standing), entry(diary.Sown, "2022-04-04", soon)}
	for want, q := range map[string]FillQuestion{
		"no place is called": {Place: "Bed 9"},
		"nothing is free":    {Place: "Bed 1"},
		"stands there":       {Place: "Bed 1", FromCM: 10, ToCM: 100},
		"does not lie":       {Place: "Bed 1", FromCM: 300, ToCM: 500},
		"too short":          {Place: "Pots", FromCM: 0, ToCM: 200},
	} {
		if _, _, err := Fill(in, q); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%+v: got %v, want a word on %q", q, err, want)
		}
	}
}

// Every figure lies within its own range and says where it comes from; every
// crop that a table names is in the catalogue.
func TestTablesAreSound(t *testing.T) {
	w := newWorld(t)
	if len(Rules()) < 50 {
		t.Errorf("%d rules", len(Rules()))
	}
	for name, r := range Rules() {
		if r.Value < r.Low || r.Value > r.High || r.Source == "" || !strings.Contains("S SM D M P E", r.Grade) {
			t.Errorf("%s: %+v", name, r)
		}
	}
	known := func(table string, crops []string) {
		for _, key := range crops {
			if key != "*" && w.catalogue.Crop(key) == nil {
				t.Errorf("%s: no crop is called %q", table, key)
			}
		}
	}
	for _, job := range tendings() {
		known("jobs", job.crops)
		if job.kindOf() == "" || job.title == "" || job.why == "" || job.until < job.from {
			t.Errorf("job %+v is not whole", job)
		}
	}
	for _, f := range flights() {
		known("flights", f.crops)
	}
}

// Every source that a table names stands in data/sources.csv.
func TestSourcesAreNamed(t *testing.T) {
	text, err := os.ReadFile("data/sources.csv")
	if err != nil {
		t.Fatal(err)
	}
	named := map[string]bool{}
	for _, row := range graded.MustRows("sources", string(text)) {
		named[row.Cells[0]] = true
	}
	check := func(where, source string) {
		if !named[source] {
			t.Errorf("%s names the source %q, which is not listed", where, source)
		}
	}
	for name, r := range Rules() {
		check(name, r.Source)
	}
	for _, f := range flights() {
		check(f.pest, f.source)
	}
	for _, row := range graded.MustRows("jobs", jobsCSV) {
		check(row.Cells[0], row.Cells[12])
	}
}

// Of the crops offered some can be sown: not everybody has plants.
func TestSomeOffersAreSown(t *testing.T) {
	o := func(key string, ready bool) Offer { return Offer{CropKey: key, Ready: ready} }
	all := []Offer{o("a", true), o("b", true), o("c", true), o("d", false), o("e", true), o("f", false)}
	keys := func(list []Offer) string {
		out := ""
		for _, x := range list {
			out += x.CropKey
		}
		return out
	}
	for _, c := range []struct {
		most, sown int
		want       string
	}{{6, 2, "abcdef"}, {3, 0, "abc"}, {3, 1, "abd"}, {3, 2, "adf"}, {3, 3, "adf"}, {4, 2, "abdf"}, {2, 1, "ad"}} {
		if got := keys(withSown(all, c.most, c.sown)); got != c.want {
			t.Errorf("most %d, sown %d: %s, want %s", c.most, c.sown, got, c.want)
		}
	}
}

// A crop is called by a name that does not say the same twice.
func TestNamesSayNothingTwice(t *testing.T) {
	w := newWorld(t)
	for _, c := range []struct{ crop, class, want string }{
		{"leek", "early", "early leek"}, {"leek", "mid", "leek"}, {"carrot_early", "early", "carrot (early)"}, {"carrot_main", "early", "carrot (maincrop, early kind)"},
		{"carrot_early", "late", "carrot (early, late kind)"}, {"french_bean_bush", "early", "French bean (bush, early kind)"},
	} {
		p := Planting{Crop: w.catalogue.Crop(c.crop), Class: c.class}
		if got := p.name(); got != c.want {
			t.Errorf("%s of class %s is called %q, want %q", c.crop, c.class, got, c.want)
		}
	}
}
