package figure

import (
	"math"
	"strings"
	"testing"

	"haulm/internal/calendar"
)

// madeWorth is a made-up price list: a covered bed dear in spring, a long bed with a
// summer peak, pots that are worth little, and a place worth nothing.
func madeWorth(px int) GroundWorth {
	g := GroundWorth{Frame: Frame{ID: "worth", WidthPX: px}}
	for m := range 19 {
		g.Months = append(g.Months, calendar.On(2027+m/12, monthOf(m%12+1), 1))
	}
	for _, p := range []struct {
		name string
		peak int
		most float64
	}{{"Cold frame", 4, 5.4}, {"Long bed by the wall", 7, 3.7}, {"Yard pots, a pot", 9, 1.2}, {"Under the ash", 0, 0}} {
		row := PlaceWorth{Name: p.name}
		for m := range g.Months {
			x := p.most * math.Exp(-math.Abs(float64(m-p.peak))/2)
			row.Month = append(row.Month, x)
			row.All += x
		}
		g.Places = append(g.Places, row)
	}
	return g
}

func TestGroundWorthSaysWhereAndWhenGroundIsDearest(t *testing.T) {
	g := madeWorth(DefaultWidthPX)
	if got := g.Says(); got != "Dearest: Cold frame in May 2027, 5.4." {
		t.Errorf("says %q", got)
	}
	head, rows := g.Table()
	if len(rows) != 4 || len(head) != 21 || len(rows[0]) != 21 || rows[0][5] != "5.4" || rows[3][20] != "0" {
		t.Errorf("table: %v %v", head, rows)
	}
	short := GroundWorth{Months: g.Months, Places: []PlaceWorth{{Name: "Bed", Month: []float64{1, math.NaN()}}}}
	if svg := short.SVG(); strings.Contains(svg, "NaN") {
		t.Error("a price that is no number, or missing, is drawn")
	}
}
