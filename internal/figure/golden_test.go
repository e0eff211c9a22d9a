package figure

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"haulm/internal/calendar"
)

var update = flag.Bool("update", false, "write the golden files anew")

func monthOf(m int) time.Month { return time.Month(m) }

// drawn is a figure that can be looked into.
type drawn interface {
	Figure
	draw() (*canvas, sheet)
}

type named struct {
	name string
	fig  drawn
}

// gallery is every figure in every state, wide and narrow.
func gallery() []named {
	var list []named
	for _, size := range []struct {
		name string
		px   int
	}{{"wide", DefaultWidthPX}, {"narrow", PhoneWidthPX}} {
		frame := Frame{WidthPX: size.px}
		oneBed := madeGround(size.px)
		oneBed.ID, oneBed.Places, oneBed.Weeks, oneBed.Frost = "one-bed", oneBed.Places[1:2], 52, nil
		bare := madeGround(size.px)
		bare.ID, bare.Places, bare.Frost = "bare", []GroundPlace{{Name: "South bed", Extent: 4}}, make([]float64, 66)
		allLost := madeOdds(size.px)
		allLost.ID, allLost.Rows = "all-lost", allLost.Rows[5:]
		noFrost := madeFrost(size.px)
		noFrost.ID, noFrost.Spring, noFrost.Autumn = "no-frost", FrostDates{none, none, none}, FrostDates{none, none, none}
		for i := range noFrost.Years {
			noFrost.Years[i].LastSpring, noFrost.Years[i].FirstAutumn = none, none
		}
		bareBed := madeBed(size.px)
		bareBed.ID, bareBed.Crops = "bare-bed", nil
		for _, n := range []named{
			{"ground", madeGround(size.px)},
			{"ground-one-bed", oneBed},
			{"ground-dense", madeDense(size.px)},
			{"ground-bare", bare},
			{"ground-none", GroundThroughTime{Frame: frame, From: calendar.On(2027, 1, 4), Weeks: 52, Today: none}},
			{"table", madeTable(size.px)},
			{"table-none", TableYear{Frame: frame, From: calendar.On(2027, 1, 4)}},
			{"worth", madeWorth(size.px)},
			{"worth-none", GroundWorth{Frame: frame}},
			{"odds", madeOdds(size.px)},
			{"odds-all-lost", allLost},
			{"odds-none", OddsStrip{Frame: frame}},
			{"frost", madeFrost(size.px)},
			{"frost-none", noFrost},
			{"bed", madeBed(size.px)},
			{"bed-bare", bareBed},
			{"months", madeMonths(size.px)},
		} {
			list = append(list, named{n.name + "-" + size.name, n.fig})
		}
	}
	return list
}

func TestGolden(t *testing.T) {
	for _, n := range gallery() {
		t.Run(n.name, func(t *testing.T) { checkGolden(t, n.name+".svg", n.fig.SVG()) })
	}
	checkGolden(t, "spark.svg", Spark{Label: "value found", Values: []float64{3, 5, 6, 6.4, 6.9, 7}}.SVG())
	checkGolden(t, "figures.css", Stylesheet())
}

func checkGolden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v (run go test with -update to write it)", err)
	}
	if got != string(want) {
		t.Errorf("%s differs from its golden file; look at it and run with -update if it is meant\n%s", name, firstDifference(string(want), got))
	}
}

func firstDifference(want, got string) string {
	w, g := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := range min(len(w), len(g)) {
		if w[i] != g[i] {
			return "want " + w[i] + "\n got " + g[i]
		}
	}
	return "one is longer"
}

// TestGallery writes all figures into pages for a look: into the folder that
// FIGURE_GALLERY names, else into one that is thrown away.
func TestGallery(t *testing.T) {
	dir := os.Getenv("FIGURE_GALLERY")
	if dir == "" {
		dir = t.TempDir()
	}
	for _, size := range []string{"wide", "narrow"} {
		for look, attr := range map[string]string{"day": "day", "night": "night"} {
			var b strings.Builder
			b.WriteString("<!doctype html><html lang=\"en\" data-look=\"" + attr + "\"><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width\"><title>Figures</title><style>" +
				Stylesheet() + "body{margin:0;background:var(--paper);color:var(--ink);font:17px/1.45 var(--serif)}main{max-width:1120px;margin:0 auto;padding:12px}.f-frame-any{display:block}h2{font-size:21px;font-weight:600}</style><main>")
			for _, n := range gallery() {
				if strings.HasSuffix(n.name, size) {
					b.WriteString(Block(n.fig, nil, 2))
				}
			}
			b.WriteString("</main></html>")
			if err := os.WriteFile(filepath.Join(dir, size+"-"+look+".html"), []byte(b.String()), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
}
