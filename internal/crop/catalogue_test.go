package crop

import (
	"encoding/csv"
	"flag"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write docs/sources.md anew")

func TestCropsAreWhole(t *testing.T) {
	cat := loaded(t)
	if n := len(cat.Crops()); n < 80 {
		t.Errorf("%d crops, want the whole list", n)
	}
	for _, c := range cat.Crops() {
		if cat.Crop(c.Key) != c {
			t.Errorf("%s: not found by its key", c.Key)
		}
		usual, err := c.Route("")
		if err != nil || !usual.Usual {
			t.Errorf("%s: usual route is %v, %v", c.Key, usual, err)
		}
		for i := range c.Routes {
			r := &c.Routes[i]
			for _, name := range []string{r.Key, r.Name, strings.ToUpper(r.Name)} {
				if got, err := c.Route(name); err != nil || got != r {
					t.Errorf("%s: Route(%q) = %v, %v", c.Key, name, got, err)
				}
			}
			if r.PlantsPerM2 <= 0 || r.PlantsPerM2 > 500 {
				t.Errorf("%s %s: %g plants a square metre", c.Key, r.Key, r.PlantsPerM2)
			}
		}
		if mid, ok := c.Class(""); !ok || mid.Name != "mid" {
			t.Errorf("%s: Class(\"\") = %v, %v", c.Key, mid, ok)
		}
		if c.Keeping.WeeklyKeep <= 0 || c.Keeping.WeeklyKeep >= 1 {
			t.Errorf("%s: weekly keep %g", c.Key, c.Keeping.WeeklyKeep)
		}
	}
}

// The usual route stands at the density that the yield speaks for, within a
// tenth, or is a clump or a wider bed spacing that the table explains.
func TestYieldSpeaksForTheUsualDensity(t *testing.T) {
	cat := loaded(t)
	for _, c := range cat.Crops() {
		r := c.UsualRoute()
		if r.PerStation > 1 {
			continue
		}
		if ratio := r.PlantsPerM2 / c.Yield.RefPlantsM2; ratio < 0.9 || ratio > 1.1 {
			t.Errorf("%s %s: %.1f plants a square metre, but the yield is for %.1f", c.Key, r.Key, r.PlantsPerM2, c.Yield.RefPlantsM2)
		}
	}
}

// Figures seen in the sources named, as a guard on the tables.
func TestPublishedFigures(t *testing.T) {
	cat := loaded(t)
	get := func(key string) *Crop {
		c := cat.Crop(key)
		if c == nil {
			t.Fatalf("no crop %s", key)
		}
		return c
	}
	for _, c := range []struct {
		what, source string
		got, want    float64
	}{
		{"onion bulbing day length, h", "Lancaster et al. 1996", get("onion_seed").DayLength.BulbsAboveH, 13.75},
		{"onion bulbing thermal time", "Lancaster et al. 1996", get("onion_seed").DayLength.BulbsAfterCDay, 600},
		{"onion normal seedlings at 0 °C", "Harrington & Minges 1954", get("onion_seed").Germination.PercentAt[0], 90},
		{"lettuce normal seedlings at 30 °C", "Harrington & Minges 1954", get("lettuce_head").Germination.PercentAt[6], 12},
		{"spinach normal seedlings at 25 °C", "Harrington & Minges 1954", get("spinach").Germination.PercentAt[5], 28},
		{"potato Kc mid", "FAO-56 table 12", get("potato_maincrop").Water.KcMid, 1.15},
		{"sweetcorn edible share", "USDA SR28", get("sweetcorn").Portion.EdiblePC, 36},
		{"carrot days of cold: 336/(6.5+1)", "Atherton et al. 1990", get("carrot_main").Bolting.ColdDays, 45},
		{"dry onion, best store, days", "UC Davis", fact(t, get("onion_seed"), "keeping.best_life_d").High, 240},
	} {
		if math.Abs(c.got-c.want) > 0.2 {
			t.Errorf("%s (%s) = %g, want %g", c.what, c.source, c.got, c.want)
		}
	}
}

func fact(t *testing.T, c *Crop, name string) Fact {
	t.Helper()
	f, ok := c.Fact(name)
	if !ok {
		t.Fatalf("%s has no fact %s", c.Key, name)
	}
	return f
}

func TestOverwinteredOnionsComeFromSeedToo(t *testing.T) {
	c, err := loaded(t).Find("onion (overwintered)")
	if err != nil {
		t.Fatal(err)
	}
	r := c.UsualRoute()
	if r.Vegetative || r.FromMonthDay < "07-20" || r.ToMonthDay > "09-20" {
		t.Errorf("usual route is %+v, want late-summer seed", r)
	}
	if got := c.ColdAt("wintering").KillC; got != -11 {
		t.Errorf("killed at %g °C, want -11 (Brewster)", got)
	}
}

func TestColdAtFallsBack(t *testing.T) {
	c := &Crop{Hardiness: []Hardiness{{Stage: "growing", KillC: -3}, {Stage: "standing", KillC: -8}, {Stage: "wintering", KillC: -10}}}
	for stage, want := range map[string]float64{"young": -3, "growing": -3, "flowering": -3, "standing": -8, "wintering": -10} {
		if got := c.ColdAt(stage).KillC; got != want {
			t.Errorf("%s: %g, want %g", stage, got, want)
		}
	}
}

func TestCautionsReachTheirCrops(t *testing.T) {
	cat := loaded(t)
	for key, word := range map[string]string{
		"potato_maincrop": "green", "dry_bean": "raw", "courgette": "bitter", "runner_bean": "raw", "rhubarb": "leaf", "parsnip": "sap", "taro": "raw",
	} {
		found := false
		for _, caution := range cat.Crop(key).Cautions {
			found = found || strings.Contains(caution.Situation, word)
		}
		if !found {
			t.Errorf("%s has no caution about %q", key, word)
		}
	}
	areas := map[string]int{}
	for _, caution := range cat.GeneralCautions() {
		areas[caution.Area]++
	}
	for _, area := range cautionAreas {
		if areas[area] == 0 {
			t.Errorf("no general caution about %s", area)
		}
	}
}

func TestCovers(t *testing.T) {
	cat := loaded(t)
	for _, name := range []string{"", "open", "None"} {
		open, err := cat.Cover(name)
		if err != nil || open.LightShare != 1 || open.MinC != 0 || open.MeanC != 0 || open.Key != "" {
			t.Errorf("Cover(%q) = %+v, %v", name, open, err)
		}
	}
	for _, key := range []string{"fleece", "double_fleece", "cloche", "frame", "tunnel", "greenhouse"} {
		cover, err := cat.Cover(strings.ToUpper(key))
		if err != nil || cover.Key != key || cover.LightShare >= 1 {
			t.Errorf("Cover(%q) = %+v, %v", key, cover, err)
		}
	}
	if _, err := cat.Cover("umbrella"); err == nil || !strings.Contains(err.Error(), "fleece") {
		t.Errorf("Cover(umbrella): %v", err)
	}
}

// Constants that only make sense in order.
func TestConstantsAgree(t *testing.T) {
	k := loaded(t).Constants
	switch {
	case k.LightNoneMJ >= k.LightFullMJ:
		t.Error("light: none is not below full")
	case k.YoungUntilShare >= k.GrowingUntilShare || k.GrowingUntilShare >= 1:
		t.Error("stages are not in order")
	case k.FieldFactorLow > k.FieldFactor || k.FieldFactor > k.FieldFactorHigh:
		t.Error("field factors are not in order")
	case k.StandstillBelowH > k.HardenedBelowH:
		t.Error("plants stand still before they are hardened")
	}
}

func TestSourcesPage(t *testing.T) {
	const page = "../../docs/sources.md"
	want := sourcesPage(t, loaded(t))
	if *update {
		if err := os.WriteFile(page, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != want {
		t.Error("docs/sources.md is not what the tables say; run: go test ./internal/crop -run Sources -update")
	}
}

// sourcesPage lists the sources with how many figures each carries.
func sourcesPage(t *testing.T, cat *Catalogue) string {
	t.Helper()
	bySource, byGrade := map[string]int{}, map[Grade]int{}
	count := func(facts []Fact) {
		for _, f := range facts {
			bySource[f.Source]++
			byGrade[f.Grade]++
		}
	}
	for _, c := range cat.Crops() {
		count(c.Facts)
		for _, caution := range c.Cautions {
			bySource[caution.Source]++
		}
	}
	for _, caution := range cat.GeneralCautions() {
		bySource[caution.Source]++
	}
	for _, cover := range cat.Covers() {
		count(cover.Facts)
	}
	count(cat.Constants.Facts)
	countPublishedGardens(t, bySource, byGrade)

	var b strings.Builder
	b.WriteString("# Sources of the crop catalogue\n\n")
	b.WriteString("Weather, climate, relief and places are not of the catalogue: their makers and terms stand in [NOTICE](../NOTICE) and in `internal/climatology/data/README.md`.\n\n")
	b.WriteString("Made from the tables under `internal/crop/data` and, for the published gardens that a plan is set beside, `internal/cropping/data/yardsticks.csv`; run `go test ./internal/crop -run Sources -update` after changing them.\n\n")
	b.WriteString("## How far a figure can be trusted\n\n| grade | meaning | figures |\n|---|---|---:|\n")
	for _, g := range []struct {
		grade   Grade
		meaning string
	}{
		{Seen, "seen in the cited source"}, {SeenPart, "one part seen, one from memory"}, {Derived, "arithmetic on seen figures"},
		{FromMemory, "from memory of the source named; not looked up"}, {Practice, "common practice, no source"},
		{Estimate, "our estimate, proxy crop or model choice"},
	} {
		fmt.Fprintf(&b, "| %s | %s | %d |\n", g.grade, g.meaning, byGrade[g.grade])
	}
	b.WriteString("\n## The sources\n\nMany were read as reprints, abstracts or copies, not as originals; the third column says where.\n\n")
	b.WriteString("| key | source | where | status | figures |\n|---|---|---|---|---:|\n")
	for _, s := range cat.Sources() {
		fmt.Fprintf(&b, "| %s | %s | %s | %s | %d |\n", s.Key, s.Citation, s.WhereSeen, s.Status, bySource[s.Key])
	}
	return b.String()
}

// countPublishedGardens adds the figures that package cropping keeps by itself
// and cites from the same list.
func countPublishedGardens(t *testing.T, bySource map[string]int, byGrade map[Grade]int) {
	t.Helper()
	file, err := os.Open("../cropping/data/yardsticks.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil || len(rows) < 2 || rows[0][4] != "source" || rows[0][5] != "grade" {
		t.Fatalf("the published gardens cannot be counted: %v", err)
	}
	for _, row := range rows[1:] {
		bySource[row[4]]++
		byGrade[Grade(row[5])]++
	}
}
