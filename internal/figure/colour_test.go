package figure

import (
	"math"
	"regexp"
	"strings"
	"testing"
)

// textContrast is WCAG 2.2 success criterion 1.4.3 (AA) for text; shapes need
// 3:1 by 1.4.11.
const (
	textContrast  = 4.5
	shapeContrast = 3.0
)

type theme struct {
	name   string
	colour func(token) string
	tone   func(family) tones
}

var themes = []theme{
	{"light", func(t token) string { return t.light }, family.light},
	{"night", func(t token) string { return t.night }, family.night},
	{"print", func(t token) string { return t.print }, family.print},
}

func TestContrastFormula(t *testing.T) {
	// WCAG 2.2, definition of contrast ratio: black on white is 21:1; #767676
	// on white is the well-known greyscale limit of 4.54:1.
	for _, c := range []struct {
		a, b string
		want float64
	}{{"#000000", "#ffffff", 21}, {"#767676", "#ffffff", 4.54}, {"#22241e", "#22241e", 1}} {
		if got := contrast(c.a, c.b); math.Abs(got-c.want) > 0.005 {
			t.Errorf("contrast of %s on %s is %.3f, want %.2f", c.a, c.b, got, c.want)
		}
	}
}

func TestOKLCHAgainstPublishedColours(t *testing.T) {
	// CSS Color Module Level 4, the sRGB primaries in OKLCH (rounded to three
	// places there, hence one step of 255 allowed).
	for _, c := range []struct {
		l, c, h float64
		want    rgb
	}{{0.628, 0.258, 29.23, rgb{1, 0, 0}}, {1, 0, 0, rgb{1, 1, 1}}, {0, 0, 0, rgb{0, 0, 0}}} {
		got, _ := oklchOnce(c.l, c.c, c.h)
		for _, d := range []float64{got.r - c.want.r, got.g - c.want.g, got.b - c.want.b} {
			if math.Abs(d) > 0.02 {
				t.Errorf("oklch(%v %v %v) = %s, want %s", c.l, c.c, c.h, got.hex(), c.want.hex())
			}
		}
	}
}

func TestTextContrastOnEveryFill(t *testing.T) {
	for _, th := range themes {
		colour := func(name string) string { return th.colour(tokenOf(name)) }
		grounds := map[string]string{}
		for _, g := range []string{"paper", "ground", "path", "frost-1", "frost-2", "frost-3"} {
			grounds[g] = colour(g)
		}
		for _, text := range []string{"ink", "muted", "rust", "slate"} {
			for name, ground := range grounds {
				if got := contrast(colour(text), ground); got < textContrast {
					t.Errorf("%s: %s on %s is %.2f:1", th.name, text, name, got)
				}
			}
		}
		for _, f := range families {
			tone := th.tone(f)
			for name, fill := range map[string]string{"pale": tone.pale, "full": tone.full} {
				if got := contrast(colour("ink"), fill); got < textContrast {
					t.Errorf("%s: ink on %s %s is %.2f:1", th.name, f.name, name, got)
				}
			}
			for _, ground := range grounds {
				if got := contrast(tone.line, ground); got < shapeContrast {
					t.Errorf("%s: line of %s on %s is %.2f:1", th.name, f.name, ground, got)
				}
			}
		}
	}
}

// TestColourIsNeverTheOnlyCarrier: growing and picking differ in lightness and
// by a line; every block, band and strip is named; what is short or lost says
// so in words.
func TestColourIsNeverTheOnlyCarrier(t *testing.T) {
	for _, th := range themes {
		for _, f := range families {
			tone := th.tone(f)
			if got := contrast(tone.pale, tone.full); got < 1.15 {
				t.Errorf("%s: %s pale and full differ only %.2f:1 in lightness", th.name, f.name, got)
			}
		}
	}
	for _, n := range gallery() {
		c, _ := n.fig.draw()
		written := ""
		for _, l := range c.labels {
			written += l.text + "\n"
		}
		switch f := n.fig.(type) {
		case GroundThroughTime:
			for _, p := range f.Places {
				for _, b := range p.Blocks {
					first := strings.Fields(b.Label)[0]
					if !strings.Contains(written, first) && (b.Short == "" || !strings.Contains(written, b.Short)) {
						t.Errorf("%s: block %s is not named", n.name, b.Label)
					}
				}
			}
			if got, want := strings.Count(f.SVG(), `class="f-slant"`), 1; len(f.Places) > 1 && got < want {
				t.Errorf("%s: no slanted line drawn", n.name)
			}
		case TableYear:
			for _, b := range f.Bands {
				if !strings.Contains(written, b.Label) && (b.Short == "" || !strings.Contains(written, b.Short)) {
					t.Errorf("%s: band %s is not named", n.name, b.Label)
				}
			}
		case OddsStrip:
			for _, r := range f.Rows {
				if len(r.lost()) > 0 && !strings.Contains(written, "lost") {
					t.Errorf("%s: lost years of %s are not written out", n.name, r.Label)
				}
			}
		}
	}
}

func TestFamiliesAreAlikeEverywhere(t *testing.T) {
	if len(families) < 9 || families[len(families)-1].name != otherFamily {
		t.Fatalf("the table must hold the common families and end with %s", otherFamily)
	}
	seen := map[string]string{}
	for _, f := range families {
		full := f.light().full
		if other, twice := seen[full]; twice {
			t.Errorf("%s and %s share the colour %s", f.name, other, full)
		}
		seen[full] = f.name
		if f.name != otherFamily && f.hueDeg > 225 && f.hueDeg < 275 {
			t.Errorf("%s has hue %v, which is kept for frost and water", f.name, f.hueDeg)
		}
	}
	if familyOf("fabaceae").name != "Fabaceae" || familyOf("Nonsuchaceae").name != otherFamily {
		t.Error("families are found by name, unknown ones are Other")
	}
}

// TestStylesheetCoversEveryClass: each class drawn has a rule, each token used
// is defined in all three themes.
func TestStylesheetCoversEveryClass(t *testing.T) {
	css := Stylesheet()
	for _, m := range regexp.MustCompile(`var\(--([a-z0-9-]+)`).FindAllStringSubmatch(css, -1) {
		if got := strings.Count(css, "--"+m[1]+":"); got == 0 {
			t.Errorf("--%s is used and never set", m[1])
		}
	}
	for _, tk := range tokens {
		// Light, night by system, night by choice, print.
		if got := strings.Count(css, "--"+tk.name+":#"); got != 4 {
			t.Errorf("--%s is set %d times, want 4", tk.name, got)
		}
	}
	if strings.Count(css, "{") != strings.Count(css, "}") {
		t.Error("braces do not match")
	}
}
