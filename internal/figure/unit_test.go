package figure

import (
	"go/parser"
	gotoken "go/token"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"haulm/internal/calendar"
)

// A figure knows dates and words, and nothing of what it draws.
func TestImportsOnlyDatesAndWords(t *testing.T) {
	allowed := []string{"haulm/internal/calendar", "haulm/internal/unit"}
	files, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if !strings.HasSuffix(f.Name(), ".go") || strings.HasSuffix(f.Name(), "_test.go") {
			continue
		}
		parsed, err := parser.ParseFile(gotoken.NewFileSet(), f.Name(), nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, imp := range parsed.Imports {
			path := strings.Trim(imp.Path.Value, `"`)
			if strings.HasPrefix(path, "haulm/") && !slices.Contains(allowed, path) || strings.Contains(path, ".") {
				t.Errorf("%s imports %s", f.Name(), path)
			}
		}
	}
}

func TestTextWidth(t *testing.T) {
	// Measured in Chromium, DejaVu Serif 2.37: digits are 0.636 em wide.
	if got := textWidth("2027", 10, false); math.Abs(got-25.44) > 0.01 {
		t.Errorf("2027 at 10 px is %.2f px wide, want 25.44", got)
	}
	if got := shorten("leeks", 66, 13, false, 3); got != "leeks" {
		t.Errorf("what fits stays whole, got %q", got)
	}
	got := shorten("overwintered", 66, 13, false, 3)
	kept := strings.TrimSuffix(got, "…")
	longer := "overwintered"[:len(kept)+1] + "…"
	if !strings.HasPrefix("overwintered", kept) || textWidth(got, 13, false) > 66 || textWidth(longer, 13, false) <= 66 {
		t.Errorf("%q is not the longest cut that fits", got)
	}
	if got := shorten("overwintered", 10, 13, false, 4); got != "" {
		t.Errorf("too narrow for four letters, got %q", got)
	}
}

func TestDodge(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 8).Draw(t, "n")
		centres := rapid.SliceOfN(rapid.Float64Range(0, 100), n, n).Draw(t, "centres")
		sizes := rapid.SliceOfN(rapid.Float64Range(1, 30), n, n).Draw(t, "sizes")
		moved, ok := dodge(centres, sizes, 0, 100, 2)
		total := -2.0
		for _, s := range sizes {
			total += s + 2
		}
		if ok != (total <= 100+1e-6) && n > 0 {
			t.Fatalf("ok=%v for a total of %.1f in 100", ok, total)
		}
		if !ok {
			return
		}
		order := make([]int, n)
		for i := range order {
			order[i] = i
		}
		slices.SortFunc(order, func(a, b int) int { return int(math.Copysign(1, moved[a]-moved[b])) })
		for k, i := range order {
			if moved[i]-sizes[i]/2 < -1e-6 || moved[i]+sizes[i]/2 > 100+1e-6 {
				t.Fatalf("interval %d leaves the line", i)
			}
			if k > 0 && moved[order[k-1]]+sizes[order[k-1]]/2 > moved[i]-sizes[i]/2-2+1e-6 {
				t.Fatalf("intervals %d and %d overlap", order[k-1], i)
			}
		}
	})
}

func TestSmoothNeverOvershoots(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		weekly := rapid.SliceOfN(rapid.Float64Range(0, 50), 1, 60).Draw(t, "weekly")
		curve := smooth(weekly)
		if len(curve) != len(weekly)*perWeek+1 {
			t.Fatalf("%d points for %d weeks", len(curve), len(weekly))
		}
		least, most := slices.Min(weekly), slices.Max(weekly)
		for _, v := range curve {
			if v < least-1e-9 || v > most+1e-9 {
				t.Fatalf("curve reaches %v outside %v to %v", v, least, most)
			}
		}
	})
}

func TestNarrowFiguresKeepLegibleType(t *testing.T) {
	// Common practice: nothing a person must read on a phone below 9.5 px.
	for _, n := range gallery() {
		c, _ := n.fig.draw()
		for _, l := range c.labels {
			if l.size < 9.5 {
				t.Errorf("%s: %q is set at %.1f px", n.name, l.text, l.size)
			}
		}
	}
}

func TestSlug(t *testing.T) {
	for in, want := range map[string]string{"South bed": "south-bed", "6 pots": "f-6-pots", "": "f-", "Möhren": "m-hren"} {
		if got := slug(in); got != want {
			t.Errorf("slug(%q) = %q, want %q", in, got, want)
		}
	}
}

func BenchmarkGround(b *testing.B) {
	g := madeGround(0)
	for b.Loop() {
		_ = g.SVG()
	}
}

// The range of a month is drawn and said; where all years are alike there is
// none to draw.
func TestMonthsTellHowYearsDiffer(t *testing.T) {
	m := MonthBars{Months: []MonthPortions{
		{Month: calendar.On(2027, 1, 4), Picked: 2, Stored: 16, Need: 35, Poor: 18, Good: 18},
		{Month: calendar.On(2027, 6, 7), Picked: 18, Stored: 2, Need: 35, Poor: 11, Good: 29},
	}}
	if says := m.Says(); !strings.Contains(says, "Years differ most in June 2027: 11 portions a week in a poor year in ten, 20 in a middling one, 29 in a good one.") {
		t.Error(says)
	}
	if n := strings.Count(m.SVG(), `class="f-range"`); n != 1 {
		t.Errorf("%d ranges are drawn, want 1", n)
	}
	if says := (MonthBars{Months: m.Months[:1]}).Says(); strings.Contains(says, "differ") {
		t.Error(says)
	}
	year := TableYear{From: calendar.On(2027, 1, 4), Need: []float64{35, 35}, Bands: []TableBand{{Label: "store", Portions: []float64{18, 18}}}, Poor: []float64{18, 11}, Good: []float64{18, 29}}
	if says := year.Says(); !strings.Contains(says, "Years differ most in the week from 11 January: 11 portions in a poor year in ten, 29 in a good one.") {
		t.Error(says)
	}
}
