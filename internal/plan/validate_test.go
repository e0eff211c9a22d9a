package plan

import (
	"strings"
	"testing"
)

// rules is a bed of four strips (strip 3 carries a rotating family 1 crop until
// week 4, strip 2 bans family 1) with one candidate to try each rule on.
func rules() *Problem {
	none := []Yield{{}}
	return &Problem{Weeks: 10, Years: 1, Alpha: 1, TrayCap: 1, Bonus: make([]float64, 10),
		Beds: []Bed{{Len: 4, SunHours: 6, Ban: []uint32{0, 0, 2, 0},
			Standing: []Standing{{Crop: 0, Strip: 3, Strips: 1, End: 4, Yield: none}}}, {Len: 2, SunHours: 3, Ban: []uint32{0, 0}, Kind: 1}},
		Crops: []Crop{{Family: 1, Rotate: true, SunHours: 5, TierKg: []float64{1}, TierVal: []float64{1}},
			{Family: 2, SunHours: 2, TierKg: []float64{1}, TierVal: []float64{1}}},
		Cands: []Candidate{
			{Crop: 0, Start: 0, End: 3, MinStrips: 1, Yield: none},
			{Crop: 0, Start: 5, End: 8, MinStrips: 1, Yield: none},
			{Crop: 1, Start: 2, End: 5, MinStrips: 2, Yield: none},
			{Crop: 1, Start: 6, End: 9, Tray: Tray{0, 6, 40}, MaxStrips: 3, Yield: none},
			{Crop: 1, Start: 6, End: 9, Kinds: 1, Yield: none},
		}}
}

func TestValidate_EveryRule(t *testing.T) {
	p := rules()
	if err := p.Check(); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name string
		plan []Planting
		rule string // "" = may be
	}{
		{"nothing", nil, ""},
		{"one after another", []Planting{{0, 0, 0, 2}, {3, 0, 0, 2}}, ""},
		{"a family that need not rotate", []Planting{{2, 0, 0, 2}, {3, 0, 0, 2}}, ""},
		{"beside each other", []Planting{{0, 0, 0, 1}, {1, 0, 1, 1}}, ""},
		{"no such candidate", []Planting{{9, 0, 0, 1}}, "index"},
		{"no such bed", []Planting{{0, 2, 0, 1}}, "index"},
		{"too short", []Planting{{2, 0, 0, 1}}, "length"},
		{"no strips", []Planting{{3, 0, 0, 0}}, "length"},
		{"beyond the bed", []Planting{{3, 0, 3, 2}}, "bed"},
		{"before the bed", []Planting{{3, 0, -1, 2}}, "bed"},
		{"too dark", []Planting{{0, 1, 0, 1}}, "sun"},
		{"wrong kind of bed", []Planting{{4, 1, 0, 1}}, "kind"},
		{"banned", []Planting{{0, 0, 2, 1}}, "ban"},
		{"family twice", []Planting{{0, 0, 0, 1}, {1, 0, 0, 1}}, "family"},
		{"family after the standing crop's", []Planting{{1, 0, 3, 1}}, "family"},
		{"two at once", []Planting{{0, 0, 0, 2}, {2, 0, 1, 2}}, "overlap"},
		{"on a standing crop", []Planting{{2, 0, 2, 2}}, "overlap"},
		{"indoor space", []Planting{{3, 0, 0, 3}}, "tray"},
		{"indoor space in two beds", []Planting{{3, 0, 0, 1}, {3, 1, 0, 2}}, "tray"},
		{"most strips", []Planting{{3, 0, 0, 2}, {3, 1, 0, 2}}, "max"},
	} {
		found := Validate(p, c.plan)
		if c.rule == "" && len(found) > 0 {
			t.Errorf("%s: %v, want none", c.name, found)
		}
		if c.rule != "" && !strings.Contains(join(found), c.rule+":") {
			t.Errorf("%s: %v, want rule %q", c.name, found, c.rule)
		}
	}
}

func join(found []Violation) string {
	var all strings.Builder
	for _, v := range found {
		all.WriteString(v.String() + "\n")
	}
	return all.String()
}
