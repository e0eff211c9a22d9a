package season

import (
	"math"
	"regexp"
	"strconv"
	"testing"

	"haulm/internal/crop"
	"haulm/internal/diary"
	"haulm/internal/grow"
	"haulm/internal/unit"
)

// The farms that the catalogue names beside its yields (RB209's, of the UK, and
// good ones of New England) are the only weights at hand that did not make the
// doubt. They are means of fields: their scatter about the typical figure is to
// be that which gardens and crops are given, without what is peculiar to one
// planting, and the span of one planting is to hold more than 8 of 10 of them.
func TestWeightSpansHoldPublishedFarms(t *testing.T) {
	w := newWorld(t)
	g := &grower{in: &Input{Catalogue: w.catalogue}}
	farm := regexp.MustCompile(`(?:UK|New England) farm ([0-9.]+) kg/m2`)
	n, ofGardens, ofPlantings := 0, 0, 0
	for _, cr := range w.catalogue.Crops() {
		fact, _ := cr.Fact("yield.typical_kg_m2")
		for _, match := range farm.FindAllStringSubmatch(fact.Note, -1) {
			kg, err := strconv.ParseFloat(match[1], 64)
			if err != nil {
				t.Fatal(err)
			}
			off := math.Abs(math.Log(kg / cr.Yield.TypicalKgM2))
			n++
			if off <= crop.ZTenth*math.Hypot(w.catalogue.Constants.GardenYieldLogSD, grow.YieldLogSD(cr)) {
				ofGardens++
			}
			if off <= crop.ZTenth*g.weightLogSD(cr) {
				ofPlantings++
			}
		}
	}
	t.Logf("%d farms: %d within the spans of gardens, %d within those of plantings", n, ofGardens, ofPlantings)
	share := func(k int) float64 { return float64(k) / float64(n) }
	if n < 30 || share(ofGardens) < 0.75 || share(ofGardens) > 0.9 || share(ofPlantings) <= 0.8 || share(ofPlantings) > 0.95 {
		t.Errorf("of %d published farms the spans of gardens hold %.2f, want 0.75 to 0.9; those of plantings %.2f, want 0.8 to 0.95", n, share(ofGardens), share(ofPlantings))
	}
}

// A weight is never told as one figure, and what the diary weighed narrows it.
func TestWeightsAreToldWithTheirDoubt(t *testing.T) {
	w := newWorld(t)
	g := bedsOf(1)
	p := w.planting(g, "beetroot", "drilled", "Bed 1", 0, 200, "2022-05-01", "")
	in := w.input(g, "2022-08-20", p)
	picked := entry(diary.Picked, "2022-08-10", p)
	picked.Amount, picked.Unit = 0.5, diary.Kilogram
	in.Diary = []diary.Entry{entry(diary.Sown, "2022-05-01", p), picked}
	st := look(t, in).Plantings[0]
	width := func(s *Standing) float64 { return math.Log(s.ToComeHighKg / s.ToComeLowKg) }
	if st.ToComeLowKg <= 0 || st.ToComeLowKg >= st.ToComeKg || st.ToComeKg >= st.ToComeHighKg || width(&st) < 2*crop.ZTenth*w.catalogue.Constants.PlantingYieldLogSD {
		t.Errorf("%.2f kg to come between %.2f and %.2f", st.ToComeKg, st.ToComeLowKg, st.ToComeHighKg)
	}
	if want := "picked since 10 August, 500 g so far, " + (measures{unit.Metric}).weightSpan(st.ToComeLowKg, st.ToComeHighKg) + " to come"; st.Words != want {
		t.Errorf("says %q, want %q", st.Words, want)
	}
	lessons, err := Learn(w.slowGarden(t, 1, 1, 2019, 2020))
	if err != nil {
		t.Fatal(err)
	}
	in.Lessons = lessons
	if taught := look(t, in).Plantings[0]; width(&taught) >= width(&st) {
		t.Errorf("two seasons of weights leave ×%.2f of doubt where there was ×%.2f", math.Exp(width(&taught)), math.Exp(width(&st)))
	}
}

func TestChancesAreNeverCertain(t *testing.T) {
	for chance, want := range map[float64]string{
		0: "less than once in 10", 0.04: "less than once in 10", 0.1: "once in 10", 0.43: "4 times in 10", 0.94: "9 times in 10", 1: "more than 9 times in 10",
	} {
		if got := TimesInTen(chance); got != want {
			t.Errorf("%g is %q, want %q", chance, got, want)
		}
	}
}

func TestSpansOfWeight(t *testing.T) {
	metric, imperial := measures{unit.Metric}, measures{unit.Imperial}
	for _, c := range []struct{ got, want string }{
		{metric.weightSpan(0, 0.02), "a handful"}, {metric.weightSpan(0, 0.08), "under 100 g"}, {metric.weightSpan(0, 0.3), "up to about 300 g"},
		{metric.weightSpan(0.06, 2), "up to about 2 kg"}, {metric.weightSpan(0.34, 0.36), "about 350 g"}, {metric.weightSpan(0.3, 0.9), "about 300–900 g"},
		{metric.weightSpan(0.4, 1.44), "about 400 g to 1.4 kg"}, {metric.weightSpan(2.2, 2.24), "about 2.2 kg"}, {metric.weightSpan(2, 12.3), "about 2–12 kg"},
		{imperial.weightSpan(0.2, 2), "about 8 oz to 4.4 lb"}, {imperial.weightSpan(1, 2), "about 2.2–4.4 lb"}, {imperial.weightSpan(0.1, 0.23), "up to about 8 oz"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}
