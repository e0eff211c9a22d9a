package plan

import (
	"bytes"
	"compress/gzip"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
)

const plain = `{"name":"one","T":3,"S":2,"lambda":0.5,"alpha":0.5,"labCap":2,"labPen":0.5,"labCost":0.1,"trayCap":1,
"bonus":[1,2,1],"beds":[{"len":2,"sun":6,"ban":[0,0],"stand":[{"Crop":0,"Strip":0,"N":1,"End":1,"Y":[[0,500],[]]}]}],
"crops":[{"name":"leek","fam":1,"rot":true,"rho":0.5,"sun":5,"tierKg":[1],"tierV":[4]}],
"cands":[{"c":0,"m":"d","a":1,"e":3,"min":1,"cost":0.25,"l0":1,"lab":[30],"tray":[0,1,50],"y":[[1,1000,200],[]]}]}`

func TestRead_Plain(t *testing.T) {
	p, err := Read(strings.NewReader(plain))
	if err != nil {
		t.Fatal(err)
	}
	want := Candidate{Crop: 0, Route: "d", Start: 1, End: 3, MinStrips: 1, Cost: 0.25, LabourAt: 1, Labour: []int32{30},
		Tray: Tray{0, 1, 50}, Yield: []Yield{{1, []int32{1000, 200}}, {}}}
	if !reflect.DeepEqual(p.Cands[0], want) {
		t.Errorf("candidate %+v, want %+v", p.Cands[0], want)
	}
	if p.Beds[0].Standing[0].Yield[0].Grams[0] != 500 || p.Crops[0].Keep != 0.5 {
		t.Errorf("bed %+v crop %+v", p.Beds[0], p.Crops[0])
	}
}

// TestEvaluate_ByHand: worked out on paper.
// Year 0: the standing leek's 500 g are eaten in week 0 (2.00); of the 1000 g of
// week 1 all are eaten at double worth (8.00), the 200 g of week 2 too (0.80): 10.80.
// Year 1: nothing. Mean 5.40, worst half 0: table 0.5 x 5.40 + 0.5 x 0 = 2.70.
// Seed 0.25; labour 3 min x 0.1 = 0.30; overtime 1 min x 0.5 = 0.50.
func TestEvaluate_ByHand(t *testing.T) {
	p, err := Read(strings.NewReader(plain))
	if err != nil {
		t.Fatal(err)
	}
	v, err := Evaluate(p, []Planting{{0, 0, 1, 1}})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name      string
		got, want float64
	}{{"year 0", v.Years[0], 10.8}, {"year 1", v.Years[1], 0}, {"mean", v.Mean, 5.4}, {"bad years", v.BadYears, 0},
		{"table", v.Table, 2.7}, {"seed", v.Seed, 0.25}, {"labour", v.Labour, 0.3}, {"overtime", v.Overtime, 0.5},
		{"total", v.Total, 1.65}} {
		if d := c.got - c.want; d > 1e-12 || d < -1e-12 {
			t.Errorf("%s: got %g, want %g", c.name, c.got, c.want)
		}
	}
}

func TestRead_BadInput(t *testing.T) {
	for _, c := range []struct{ name, from, to, says string }{
		{"empty", plain, "", "empty"},
		{"not JSON", plain, "\x00\x01\x02", "invalid character"},
		{"cut short", `,"y":[[1,1000,200],[]]}]}`, "", "unexpected end"},
		{"damaged gzip", plain, "\x1f\x8bgarbage", "gzip"},
		{"no weeks", `"T":3`, `"T":0`, "T: 0 weeks"},
		{"years", `"S":2`, `"S":-1`, "S: -1"},
		{"lambda", `"lambda":0.5`, `"lambda":1.5`, "lambda: 1.5"},
		{"alpha", `"alpha":0.5`, `"alpha":0`, "alpha: 0"},
		{"bonus", `[1,2,1]`, `[1,2]`, "bonus: 2 weeks"},
		{"negative cap", `"labCap":2`, `"labCap":-2`, "labCap: -2"},
		{"no beds", `"beds":[{`, `"bends":[{`, "no bed"},
		{"bed length", `"len":2`, `"len":0`, "beds[0]: len 0"},
		{"ban", `"ban":[0,0]`, `"ban":[0]`, "beds[0]: ban has 1"},
		{"stand crop", `"Crop":0`, `"Crop":7`, "beds[0].stand[0]: Crop 7"},
		{"stand strips", `"N":1`, `"N":3`, "beds[0].stand[0]: strips 0 to 2"},
		{"stand end", `"End":1`, `"End":9`, "End week 9"},
		{"family", `"fam":1`, `"fam":16`, `crops[0] "leek": fam 16`},
		{"keep", `"rho":0.5`, `"rho":1.01`, "rho 1.01"},
		{"tiers", `"tierV":[4]`, `"tierV":[4,3]`, "1 tierKg and 2 tierV"},
		{"crop index", `"c":0`, `"c":1`, "cands[0]: crop 1"},
		{"span", `"e":3`, `"e":4`, "cands[0]: weeks 1 to 4"},
		{"labour", `"lab":[30]`, `"lab":[30,1,1]`, "cands[0]: labour in weeks 1 to 3"},
		{"tray", `"tray":[0,1,50]`, `"tray":[0,1]`, "tray has 2 numbers"},
		{"tray weeks", `"tray":[0,1,50]`, `"tray":[0,9,50]`, "tray [0,9,50]"},
		{"years of yield", `[[1,1000,200],[]]`, `[[1,1000,200]]`, "yields for 1 years"},
		{"late yield", `[1,1000,200]`, `[2,1000,200]`, "year 0: picked in weeks 2 to 3"},
		{"negative grams", `1000`, `-1`, "-1 grams"},
		{"part of a gram", `1000`, `1000.5`, "whole grams"},
		{"lone week", `[1,1000,200]`, `[1]`, "no grams"},
		{"list", `"cands":[`, `"cands":4,"x":[`, "cands: want a list"},
	} {
		_, err := Read(strings.NewReader(strings.Replace(plain, c.from, c.to, 1)))
		if err == nil || !strings.Contains(err.Error(), c.says) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: error %v, want one line with %q", c.name, err, c.says)
		}
	}
}

func TestRead_BoundedMemory(t *testing.T) {
	bomb := `{"T":3,"S":2,"alpha":1,"bonus":[1,1,1],"cands":[` + strings.Repeat("{},", 5_000_000) + `{}]}`
	var packed bytes.Buffer
	w := gzip.NewWriter(&packed)
	if _, err := w.Write([]byte(bomb)); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := Read(&packed); err == nil || !strings.Contains(err.Error(), "cands[0]") {
		t.Errorf("five million empty candidates: %v, want the first refused", err)
	}
	if _, err := Read(strings.NewReader(strings.Repeat(" ", maxText+1))); err == nil || !strings.Contains(err.Error(), "MiB") {
		t.Errorf("too much text: %v", err)
	}
}

func TestProblem_RoundTrip(t *testing.T) {
	for seed := range uint64(50) {
		p := randomProblem(rand.New(rand.NewPCG(seed, 17)), medium)
		var text bytes.Buffer
		if err := p.Write(&text); err != nil {
			t.Fatal(err)
		}
		q, err := Read(bytes.NewReader(text.Bytes()))
		if err != nil {
			t.Fatalf("problem %d: %v", seed, err)
		}
		var again bytes.Buffer
		if err := q.Write(&again); err != nil {
			t.Fatal(err)
		}
		if text.String() != again.String() {
			t.Fatalf("problem %d changed in writing and reading", seed)
		}
	}
}

func TestResult_RoundTrip(t *testing.T) {
	r := Result{Value: 3, Bound: 4, Gap: 0.25, Plantings: []Planting{{1, 2, 3, 4}}, Seconds: 1.5, Seed: 9, Improvements: []Improvement{{0.5, 2, 5}}}
	var text bytes.Buffer
	if err := r.Write(&text); err != nil {
		t.Fatal(err)
	}
	const want = `{"value":3,"bound":4,"gap":0.25,"plantings":[{"cand":1,"bed":2,"strip":3,"strips":4}],"seconds":1.5,"seed":9,"improvements":[[0.5,2,5]]}`
	if got := strings.TrimSpace(text.String()); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	q, err := ReadResult(&text)
	if err != nil || !reflect.DeepEqual(*q, r) {
		t.Errorf("read back %+v (%v), want %+v", q, err, r)
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(plain))
	f.Add([]byte(`{"T":1,"S":1,"alpha":1,"bonus":[1],"beds":[{"len":1,"ban":[0]}],"crops":[],"cands":null}`))
	f.Add([]byte("\x1f\x8b"))
	f.Fuzz(func(t *testing.T, text []byte) {
		p, err := Read(bytes.NewReader(text))
		if err != nil {
			if strings.Contains(err.Error(), "\n") {
				t.Errorf("error of more than one line: %q", err)
			}
			return
		}
		// Whatever is accepted can be valued and written.
		if _, err := Evaluate(p, nil); err != nil {
			t.Error(err)
		}
		if err := p.Write(new(bytes.Buffer)); err != nil {
			t.Error(err)
		}
	})
}
