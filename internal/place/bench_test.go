package place

import "testing"

func BenchmarkLoad(b *testing.B) {
	for b.Loop() {
		if _, err := open(places); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFind(b *testing.B) {
	g, err := Load()
	if err != nil {
		b.Fatal(err)
	}
	for _, query := range []string{"Malmö", "s", "Springfield, IL", "Mancester", "Stratfrod upon Avno", "Portland OR", "Fredriksbrg"} {
		b.Run(query, func(b *testing.B) {
			for b.Loop() {
				g.Find(query, 10)
			}
		})
	}
}

func BenchmarkNearest(b *testing.B) {
	g, err := Load()
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		g.Nearest(53.4, -6.3, 5)
	}
}
