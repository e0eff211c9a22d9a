package figure

import (
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"haulm/internal/calendar"

	"pgregory.net/rapid"
)

// fataler is what *testing.T and *rapid.T share.
type fataler interface {
	Helper()
	Fatalf(format string, args ...any)
}

// checkDrawing holds every promise that all figures make.
func checkDrawing(t fataler, f drawn) {
	t.Helper()
	c, s := f.draw()
	checkXML(t, c.finish(s))
	frame := box{0, 0, s.w, s.h}
	for i, a := range c.labels {
		if !frame.holds(a.box) {
			t.Fatalf("label %q at %v stands outside the frame %v", a.text, a.box, frame)
		}
		for _, b := range c.labels[i+1:] {
			if a.box.overlaps(b.box) {
				t.Fatalf("labels %q %v and %q %v overlap", a.text, a.box, b.text, b.box)
			}
		}
	}
	head, rows := f.Table()
	for _, r := range rows {
		if len(r) != len(head) {
			t.Fatalf("table row %v has %d cells under %d heads", r, len(r), len(head))
		}
	}
	if f.Heading() == "" || f.Reading() == "" || f.Says() == "" {
		t.Fatalf("a figure must have a heading, a reading and a summary")
	}
}

var reference = regexp.MustCompile(`url\(#([^)]+)\)`)

// checkXML: well formed, every id once, every reference kept, named for a
// screen reader, no script, no number that is none.
func checkXML(t fataler, svg string) {
	t.Helper()
	ids := make(map[string]bool)
	var title, desc, role bool
	d := xml.NewDecoder(strings.NewReader(svg))
	d.Strict = true
	for {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatalf("not well formed: %v", err)
		}
		e, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		title, desc = title || e.Name.Local == "title", desc || e.Name.Local == "desc"
		if e.Name.Local == "script" || e.Name.Local == "style" {
			t.Fatalf("<%s> in a figure", e.Name.Local)
		}
		for _, a := range e.Attr {
			switch {
			case a.Name.Local == "id" && ids[a.Value]:
				t.Fatalf("id %q stands twice", a.Value)
			case a.Name.Local == "id":
				ids[a.Value] = true
			case a.Name.Local == "role":
				role = true
			case strings.HasPrefix(a.Name.Local, "on"):
				t.Fatalf("handler %s in a figure", a.Name.Local)
			}
		}
	}
	if !title || !desc || !role {
		t.Fatalf("svg lacks title, desc or role")
	}
	for _, m := range reference.FindAllStringSubmatch(svg, -1) {
		if !ids[m[1]] {
			t.Fatalf("reference to missing id %q", m[1])
		}
	}
	if strings.Contains(svg, "NaN") || strings.Contains(svg, "Inf\"") {
		t.Fatalf("a number in the svg is none")
	}
}

func TestGalleryKeepsPromises(t *testing.T) {
	for _, n := range gallery() {
		t.Run(n.name, func(t *testing.T) { checkDrawing(t, n.fig) })
	}
}

var (
	someNames = []string{"leeks", "purple sprouting broccoli", "first early potatoes in pots", "kale", "Möhren", "calabrese & kale", "<beet>", "chard", "x", "winter squash, storing"}
	someShort = []string{"", "pots", "spuds"}
)

func someName(t *rapid.T, what string) string { return rapid.SampledFrom(someNames).Draw(t, what) }

func someFamily(t *rapid.T) string {
	return rapid.SampledFrom([]string{"Fabaceae", "Brassicaceae", "Solanaceae", "Apiaceae", "Nonsuchaceae", ""}).Draw(t, "family")
}

func someWidth(t *rapid.T) int {
	return rapid.SampledFrom([]int{0, 300, PhoneWidthPX, 639, 640, 900, 1400}).Draw(t, "width")
}

// someGround fills places with blocks that never share ground and time.
func someGround(t *rapid.T) GroundThroughTime {
	from := calendar.On(2027, 1, 4).Add(rapid.IntRange(0, 365).Draw(t, "from"))
	g := GroundThroughTime{Frame: Frame{ID: "g", WidthPX: someWidth(t)}, From: from, Weeks: rapid.IntRange(8, 80).Draw(t, "weeks")}
	g.Today = from.Add(rapid.IntRange(-30, 600).Draw(t, "today"))
	for range rapid.IntRange(0, 90).Draw(t, "frost weeks") {
		g.Frost = append(g.Frost, rapid.Float64Range(0, 1).Draw(t, "frost"))
	}
	for range rapid.IntRange(0, 4).Draw(t, "places") {
		g.Places = append(g.Places, somePlace(t, g))
	}
	return g
}

func somePlace(t *rapid.T, g GroundThroughTime) GroundPlace {
	p := GroundPlace{Name: someName(t, "place"), Note: rapid.SampledFrom([]string{"", "6 h sun, fleece", "a very long note about the soil, the hedge and the wall"}).Draw(t, "note")}
	p.Pots = rapid.Bool().Draw(t, "pots")
	step := 0.1
	if p.Pots {
		step = 1
	}
	for range rapid.IntRange(1, 6).Draw(t, "strips") {
		width := step * float64(rapid.IntRange(1, 12).Draw(t, "strip"))
		day := g.From.Add(rapid.IntRange(-120, 60).Draw(t, "first"))
		for range rapid.IntRange(0, 4).Draw(t, "blocks") {
			b := GroundBlock{Label: someName(t, "label"), Short: rapid.SampledFrom(someShort).Draw(t, "short"), Family: someFamily(t),
				From: p.Extent, To: p.Extent + width, Start: day, Raised: none, FirstP10: none, FirstP50: none, FirstP90: none}
			if rapid.Bool().Draw(t, "raised") {
				b.Raised = day.Add(-rapid.IntRange(1, 90).Draw(t, "weeks raised"))
			}
			ready := day.Add(rapid.IntRange(1, 200).Draw(t, "grows"))
			doubt := rapid.IntRange(0, 40).Draw(t, "doubt")
			b.Clear = ready.Add(rapid.IntRange(-20, 120).Draw(t, "picks"))
			b.Clear = max(b.Clear, day.Add(1))
			if rapid.Bool().Draw(t, "ever ready") {
				b.FirstP10, b.FirstP50, b.FirstP90 = ready, ready.Add(doubt/2), ready.Add(doubt)
				if rapid.Bool().Draw(t, "not in every year") {
					b.FirstP90 = none
				}
			}
			day = b.Clear.Add(rapid.IntRange(0, 60).Draw(t, "idle"))
			p.Blocks = append(p.Blocks, b)
		}
		p.Extent += width
	}
	return p
}

func TestGroundKeepsPromises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := someGround(t)
		checkDrawing(t, g)
		checkGroundAreas(t, g)
	})
}

func TestGroundAreasToScale(t *testing.T) {
	for _, px := range []int{DefaultWidthPX, PhoneWidthPX} {
		checkGroundAreas(t, madeGround(px))
	}
}

var (
	blockStart = regexp.MustCompile(`class="f-block [^>]*`)
	blockPaths = regexp.MustCompile(`<path class="f-(pale|full)"[^>]* d="([^"]*)"`)
	numbers    = regexp.MustCompile(`-?[0-9.]+`)
)

// checkGroundAreas reads the polygons back from the SVG: pale and full of each
// block together must cover metres × days × scale, and lie inside the frame.
func checkGroundAreas(t fataler, g GroundThroughTime) {
	t.Helper()
	g = g.shown()
	l := newGroundLayout(g)
	svg := g.SVG()
	starts := blockStart.FindAllStringIndex(svg, -1)
	n := 0
	for _, p := range g.Places {
		for _, b := range p.Blocks {
			end := len(svg)
			if n+1 < len(starts) {
				end = starts[n+1][0]
			}
			from, to := g.stay(b)
			days := float64(to - from)
			height := (b.To - b.From) * l.unitPX(p)
			want := height * days * l.s.perDay()
			got := 0.0
			for _, m := range blockPaths.FindAllStringSubmatch(svg[starts[n][0]:end], -1) {
				points := readPoints(m[2])
				got += area(points)
				for _, q := range points {
					if q.x < l.s.x-0.01 || q.x > l.s.x+l.s.w+0.01 {
						t.Fatalf("block %s reaches x=%.2f outside the frame", b.Label, q.x)
					}
				}
			}
			// Corners are written to 0.01 px, so each side may be off by that.
			allowed := 0.02*(height+days*l.s.perDay()) + 0.05
			if math.Abs(got-want) > allowed {
				t.Fatalf("block %s covers %.2f px², want %.2f (± %.2f)", b.Label, got, want, allowed)
			}
			n++
		}
	}
	if n != len(starts) {
		t.Fatalf("%d blocks drawn for %d plantings", len(starts), n)
	}
}

func readPoints(d string) []point {
	var points []point
	all := numbers.FindAllString(d, -1)
	for i := 0; i+1 < len(all); i += 2 {
		x, _ := strconv.ParseFloat(all[i], 64)
		y, _ := strconv.ParseFloat(all[i+1], 64)
		points = append(points, point{x, y})
	}
	return points
}

func TestTableKeepsPromises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := TableYear{Frame: Frame{ID: "t", WidthPX: someWidth(t)}, From: calendar.On(2027, 1, 4)}
		weeks := rapid.IntRange(0, 80).Draw(t, "weeks")
		series := func(most float64) []float64 {
			return rapid.SliceOfN(rapid.Float64Range(0, most), weeks, weeks).Draw(t, "series")
		}
		for range rapid.IntRange(0, 7).Draw(t, "bands") {
			table.Bands = append(table.Bands, TableBand{Label: someName(t, "band"), Short: rapid.SampledFrom(someShort).Draw(t, "short"),
				Family: someFamily(t), Stored: rapid.Bool().Draw(t, "stored"), Portions: series(30)})
		}
		table.Need = series(60)
		if rapid.Bool().Draw(t, "band of doubt") {
			table.Poor, table.Good = series(50), series(100)
		}
		checkDrawing(t, table)
	})
}

func TestOddsKeepPromises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := OddsStrip{Frame: Frame{ID: "o", WidthPX: someWidth(t)}}
		for range rapid.IntRange(0, 5).Draw(t, "rows") {
			r := OddsRow{Label: someName(t, "label"), Note: rapid.SampledFrom([]string{"", "drilled 4 May", "in modules from the end of April, out in May"}).Draw(t, "note"),
				Family: someFamily(t), Start: calendar.On(2027, 1, 1).Add(rapid.IntRange(0, 364).Draw(t, "start")), P10: none, P50: none, P90: none}
			for i := range rapid.IntRange(0, 60).Draw(t, "years") {
				started := calendar.MonthDayOf(r.Start).In(1960 + i)
				y := OddsYear{Year: 1960 + i, Started: started, Ready: none, Mishap: "frost & slugs"}
				if rapid.IntRange(0, 3).Draw(t, "made it") > 0 {
					y.Ready = started.Add(rapid.IntRange(30, 300).Draw(t, "days"))
				}
				r.Years = append(r.Years, y)
			}
			o.Rows = append(o.Rows, r)
		}
		checkDrawing(t, o)
		want := 0
		for _, r := range o.Rows {
			want += len(r.Years)
		}
		if got := strings.Count(o.SVG(), "data-year="); got != want {
			t.Fatalf("%d years drawn of %d", got, want)
		}
	})
}

func TestBedKeepsPromises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := BedOnDay{Frame: Frame{ID: "b", WidthPX: someWidth(t)}, Place: someName(t, "place"), Day: calendar.On(2027, 6, 24),
			WidthM: rapid.Float64Range(0.3, 2).Draw(t, "width"), PathM: rapid.SampledFrom([]float64{0, 0.3, 0.6}).Draw(t, "path"),
			BearingDeg: rapid.Float64Range(0, 360).Draw(t, "bearing")}
		for range rapid.IntRange(0, 9).Draw(t, "crops") {
			length := 0.1 * float64(rapid.IntRange(1, 20).Draw(t, "length"))
			crop := BedCrop{Label: someName(t, "crop"), Note: rapid.SampledFrom([]string{"", "pick", "two cans of water each at the base tonight"}).Draw(t, "note"),
				Family: someFamily(t), FromM: b.LengthM, ToM: b.LengthM + length, SpreadM: rapid.Float64Range(0, 0.9).Draw(t, "spread")}
			crop.Plants = stations(crop.FromM, crop.ToM, b.WidthM, 0.3, 0.2)
			b.Crops = append(b.Crops, crop)
			b.LengthM += length
		}
		b.LengthM += rapid.SampledFrom([]float64{0, 0.5, 8}).Draw(t, "bare")
		checkDrawing(t, b)
	})
}

func TestBedCirclesToScale(t *testing.T) {
	circles := regexp.MustCompile(`class="f-plant"[^>]* r="([0-9.]+)"`)
	for _, px := range []int{DefaultWidthPX, PhoneWidthPX} {
		b := madeBed(px)
		b.Crops = b.Crops[:1]
		l := newBedLayout(b)
		found := circles.FindAllStringSubmatch(b.SVG(), -1)
		if len(found) != len(b.Crops[0].Plants) {
			t.Fatalf("%d circles for %d plants", len(found), len(b.Crops[0].Plants))
		}
		for _, m := range found {
			r, _ := strconv.ParseFloat(m[1], 64)
			if want := b.Crops[0].SpreadM / 2 * l.scale; math.Abs(r-want) > 0.006 {
				t.Errorf("at %d px: radius %v, want %v", px, r, want)
			}
		}
	}
}

func TestFrostKeepsPromises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := FrostOdds{Frame: Frame{ID: "f", WidthPX: someWidth(t)}, From: calendar.On(2027, 1, 1)}
		f.Spring, f.Autumn = FrostDates{none, none, none}, FrostDates{none, none, none}
		south := rapid.Bool().Draw(t, "south")
		f.From = calendar.SeasonStart(2027, south)
		for i := range rapid.IntRange(0, 40).Draw(t, "years") {
			y := FrostYear{Year: 1980 + i, Start: calendar.SeasonStart(1980+i, south), LastSpring: none, FirstAutumn: none}
			if rapid.Bool().Draw(t, "spring frost") {
				y.LastSpring = y.Start.Add(rapid.IntRange(0, 180).Draw(t, "last"))
			}
			if rapid.Bool().Draw(t, "autumn frost") {
				y.FirstAutumn = y.Start.Add(rapid.IntRange(181, 364).Draw(t, "first"))
			}
			f.Years = append(f.Years, y)
		}
		mark := func(lo, hi int) calendar.Date {
			return f.From.Add(rapid.IntRange(lo, hi).Draw(t, "mark"))
		}
		if rapid.Bool().Draw(t, "marked") {
			d := mark(20, 100)
			f.Spring = FrostDates{d, d.Add(20), d.Add(40)}
			d = mark(250, 310)
			f.Autumn = FrostDates{d, d.Add(20), d.Add(40)}
		}
		checkDrawing(t, f)
	})
}

func TestMonthsKeepPromises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := MonthBars{Frame: Frame{ID: "m", WidthPX: someWidth(t)}}
		for i := range rapid.IntRange(0, 15).Draw(t, "months") {
			v := func(what string) float64 { return rapid.Float64Range(0, 900).Draw(t, what) }
			m.Months = append(m.Months, MonthPortions{calendar.On(2027, monthOf(1+i), 1), v("picked"), v("stored"), v("need"), v("poor"), v("good")})
		}
		checkDrawing(t, m)
	})
}

func TestNotANumberNeverReachesThePaper(t *testing.T) {
	table := madeTable(0)
	table.Bands[1].Portions[3], table.Need[4], table.Good[5] = math.NaN(), math.Inf(1), -4
	checkXML(t, table.SVG())
	ground := madeGround(0)
	ground.Frost[3] = math.NaN()
	ground.Places[0].Name = "a\x00b\xffc <&\"'> "
	checkXML(t, ground.SVG())
}

func ExampleGroundThroughTime_Says() {
	fmt.Println(madeGround(0).Says())
	// Output: 22 plantings in 5 places, from 4 January 2027 over 66 weeks. The beds stand idle 47 % of the time.
}
