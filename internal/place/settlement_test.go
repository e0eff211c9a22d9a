package place

import "testing"

// TestEachSettlement: they are the gazetteer's own places in its own order.
func TestEachSettlement(t *testing.T) {
	g, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	i := 0
	if err := EachSettlement(func(s Settlement) {
		p := g.place(i)
		if want := (Settlement{p.LatDeg, p.LonDeg, p.ElevM, p.ElevEstimated, p.Population}); s != want {
			t.Fatalf("place %d, %s: %+v, not %+v", i, p.Name, s, want)
		}
		i++
	}); err != nil {
		t.Fatal(err)
	}
	if i != g.Len() {
		t.Errorf("%d of %d places", i, g.Len())
	}
}

func BenchmarkEachSettlement(b *testing.B) {
	for b.Loop() {
		if err := EachSettlement(func(Settlement) {}); err != nil {
			b.Fatal(err)
		}
	}
}
