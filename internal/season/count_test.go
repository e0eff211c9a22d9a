package season

import "testing"

// Seed, room and what is set out of multi-sown modules are told in modules and
// clumps; of others in cells and plants.
func TestMultiSownIsToldInModulesAndClumps(t *testing.T) {
	w := newWorld(t)
	g := bedsOf(1)
	// 1.2 m across holds four clumps 30 cm apart, 90 cm along three rows of them.
	beetroot := w.planting(g, "beetroot", "multisown", "Bed 1", 0, 90, "2022-03-07", "2022-04-04")
	for _, c := range []struct{ what, got, want string }{
		{"count", beetroot.count(), "12 clumps of 4 plants"},
		{"sown", beetroot.sowCount(53), "53 seeds, 4 or 5 in each of 12 modules, for 12 clumps of 4 plants (nine times in ten enough)"},
		{"to hand", beetroot.seedToHand(60), "60 seeds of beetroot, about 1.1 g, 5 to a module"},
		{"room", beetroot.roomToHand(), "room for 12 modules indoors"},
	} {
		if c.got != c.want {
			t.Errorf("%s: got %q, want %q", c.what, c.got, c.want)
		}
	}
	// Four lettuces 30 cm apart make a row.
	lettuce := w.planting(g, "lettuce_head", "module", "Bed 1", 0, 30, "2022-03-07", "2022-04-04")
	for _, c := range []struct{ what, got, want string }{
		{"count", lettuce.count(), "4 plants"},
		{"sown", lettuce.sowCount(7), "7 seeds for 4 plants (nine times in ten enough), in modules, room of 4 cells"},
		{"to hand", lettuce.seedToHand(7), "7 seeds of lettuce (head), less than 0.1 g"},
		{"room", lettuce.roomToHand(), "room for 4 cells indoors"},
	} {
		if c.got != c.want {
			t.Errorf("%s: got %q, want %q", c.what, c.got, c.want)
		}
	}
}
