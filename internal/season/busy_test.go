package season

import (
	"fmt"
	"testing"

	"haulm/internal/diary"
	"haulm/internal/garden"
)

// busy is a garden of twenty places and forty plantings in all stages.
func (w world) busy(tb testing.TB, today string) Input {
	tb.Helper()
	g := bedsOf(19)
	kinds := []struct{ crop, route, start, setOut string }{
		{"potato_maincrop", "tubers", "2022-04-11", ""}, {"carrot_main", "drilled", "2022-05-02", ""},
		{"french_bean_bush", "drilled", "2022-05-23", ""}, {"courgette", "pot", "2022-04-25", "2022-05-30"},
		{"onion_sets", "sets", "2022-03-28", ""}, {"lettuce_head", "module", "2022-04-04", "2022-05-02"},
		{"kale", "module", "2022-05-09", "2022-06-20"}, {"broad_bean", "drilled", "2022-03-07", ""},
		{"pea_shelling", "drilled", "2022-04-04", ""}, {"leek", "module", "2022-04-04", "2022-06-13"},
		{"beetroot", "drilled", "2022-05-09", ""}, {"calabrese", "module", "2022-06-13", "2022-07-18"},
		{"tomato_cordon", "pot", "2022-03-21", "2022-06-01"}, {"garlic", "cloves", "2021-10-18", ""},
	}
	var plantings []Planting
	var entries []diary.Entry
	for i := range 38 {
		k := kinds[i%len(kinds)]
		from := 200 * (i % 2)
		p := w.planting(g, k.crop, k.route, fmt.Sprintf("Bed %d", i/2+1), from, from+200, k.start, k.setOut)
		plantings = append(plantings, p)
		if p.Start < day(today) {
			entries = append(entries, entry(diary.Sown, k.start, p))
			if p.SetOut.Known() && p.SetOut < day(today) {
				entries = append(entries, entry(diary.Planted, k.setOut, p))
			}
		}
	}
	for i := range 2 {
		p := w.planting(g, "tomato_bush", "pot", "Pots", 100*i, 100*i+2*garden.PotPitchCM, "2022-03-21", "2022-06-01")
		plantings = append(plantings, p)
		entries = append(entries, entry(diary.Sown, "2022-03-21", p), entry(diary.Planted, "2022-06-01", p))
	}
	in := w.input(g, today, plantings...)
	in.Diary = entries
	return in
}

// BenchmarkLook is a whole morning: twenty places, forty plantings, about
// thirty past years. It is to stay below 200 ms.
func BenchmarkLook(b *testing.B) {
	in := newWorld(b).busy(b, "2022-06-15")
	in.Forecast = expected("2022-06-15", 7, 9, 18, 1, 3)
	for b.Loop() {
		if _, err := Look(in); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkFill is to stay below 300 ms.
func BenchmarkFill(b *testing.B) {
	w := newWorld(b)
	in := w.input(garden.Demo(), "2022-06-15")
	for b.Loop() {
		if _, _, err := Fill(in, FillQuestion{Place: "Long bed"}); err != nil {
			b.Fatal(err)
		}
	}
}
